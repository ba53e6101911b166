# Die eigenen Warnungen des Programms und Wartezeiten. Einmal je Sitzung gesagt, wo jede hingehört. Übliche Praxis, keine Quelle.

message-own-caution = { $it }
own-caution-first-of-all = Herstellerangaben, örtliche Vorschriften und fachkundige Praxis gehen allem vor, was hier gesagt wird. Lieber aufhören als raten.
own-caution-never-ohmmeter = Kein Ohmmeter an Airbag, Gurtstraffer oder anderen pyrotechnischen Kreisen. Hochvolt nur durch dafür Befähigte.
own-caution-around-you = Ein angehobenes Fahrzeug steht auf Böcken. Heißes ist abgekühlt, Bewegtes steht. Keine Funken bei Kraftstoffdampf oder Batteriegas.
own-caution-battery-off = Die Batterie abzuklemmen kann Fehlercodes, Radiosperren und gelernte Werte löschen. Airbagsysteme bleiben minutenlang geladen: so lange warten, wie der Hersteller sagt.
own-caution-stored-charge = Ansteuerungen von Einspritzventilen und Lampen können nach dem Ausschalten geladen sein. Nichts gilt als spannungsfrei, bevor es gemessen ist.
own-caution-static = Blankes Metall des Fahrzeugs anfassen, bevor Kontakte angefasst werden: Entladungen zerstören Steuergeräte.
own-caution-meter-and-leads = Nur ein Messgerät und abgesicherte Leitungen, deren Kategorie zum Kreis passt, unbeschädigt und in den richtigen Buchsen.
own-caution-one-gate = Dieses Profil sichert nur eines ab. Zündung, Versorgung, gespeicherte Ladung und ein nachweislich spannungsfreier Kreis sind Sache der Person am Fahrzeug.
own-caution-power-is-on = Für diese Prüfung ist der Strom wieder an: Messgerät auf Volt, nie auf Ohm. Hände und Werkzeug weg von Bewegtem, kein Kurzschluss mit den Spitzen.

prompt-timed-gate = { $instruction } Ich nehme die Zeit: { $minutes } { $minutes ->
    [one] Minute
   *[other] Minuten
}. Ist sie schon um, sagen: { $confirm }.
    .keyed = { $instruction } Ich nehme die Zeit: { $minutes } { $minutes ->
        [one] Minute
       *[other] Minuten
    }. Ist sie schon um ({ $confirm }), die Zahl tippen.
info-minutes-left = Noch { $left } { $left ->
    [one] Minute
   *[other] Minuten
}.
info-time-passed = { $minutes } { $minutes ->
    [one] Minute ist
   *[other] Minuten sind
} um. Sagen: { $confirm }.
    .keyed = { $minutes } { $minutes ->
        [one] Minute ist
       *[other] Minuten sind
    } um. Die Zahl tippen.
prepared-passed-by-word = { CAPITAL($confirm) }: nach eigener Angabe, { $timed } von { $of } Minuten hier gemessen.

own-gate-meter-proven = Messgerät auf Gleichspannung, Leitungen in COM und V. Eine bekannte Batterie messen.
own-gate-meter-proven-again = Die bekannte Batterie noch einmal messen.
own-gate-back-on-ohms = Messgerät wieder auf Ohm. Leitungen in COM und Ohm.

profile-doubt-one-gate = es gibt nur eine Freigabe ("{ $confirm }"). Zündung, Versorgung, Wartezeit, Messgerät geprüft, Kreis spannungsfrei, Messgerät noch einmal geprüft: hinschreiben, was davon nötig ist
profile-doubt-dead-unproven = Freigabe { $gate } nennt etwas spannungsfrei. Davor gehört eine, die das Messgerät an einer bekannten Quelle prüft (id endet auf meter-proven), und eine danach (meter-proven-again)
concluded-power-is-on = { own-caution-power-is-on }
