# Seite, Zusammenfassung und Messblatt: was nach der Arbeit übergeben wird. Namen von Stromkreisen, Sicherungsschritten und
# dergleichen kommen aus dem Profil.

heading-record = Messprotokoll
heading-sheet = Messblatt
heading-filled-sheet = Messblatt, ausgefüllt
heading-conclusion = Ergebnis
heading-pins = Pins
heading-circuits = Stromkreise
heading-alike = Gleiche Stromkreise nebeneinander
heading-readings = Ablesungen in ihrer Reihenfolge
heading-further = Weitere Beobachtungen
heading-preparation = Davor und dazwischen
heading-codes = Gespeicherte Fehlercodes
heading-cautions-given = Gegebene Warnhinweise
heading-derivations = Wie gerechnet wurde
heading-patterns = Über mehrere Stromkreise gesehen
heading-observed = Außerdem beobachtet
heading-next-checks = Nächste Prüfungen
heading-not-excluded = Nicht ausgeschlossen
heading-cautions = Vorsicht
heading-less-likely = Weniger wahrscheinlich
heading-before-measuring = Vor dem Messen
heading-further-checks = Weitere Prüfungen
heading-other-sound = Weitere Aufnahmen

name-job = Auftrag
name-part = Bauteil
name-when = Wann
name-meter = Messgerät
name-taken-by = Aufgenommen mit
name-session = Sitzung
name-profile = Profil
name-fingerprint = Fingerabdruck des Profils
name-meter-figures = Angaben zum Messgerät
name-program = Programm
name-technician = Techniker
name-customer = Kunde
name-vehicle = Fahrzeug
name-order = Auftragsnummer
name-part-serial = Seriennummer des Bauteils
name-meter-serial = Seriennummer des Messgeräts
name-meter-calibrated = Messgerät kalibriert
name-journal-mark = Marke des Journals
name-figures-from = Werte aus
name-mark = Zeichen
name-circuit = Stromkreis
name-verdict = Urteil
name-pins = Pins
name-where = Wo
name-resistance = Widerstand
name-limits = Grenzen
name-against-limits = Lage zu den Grenzen
name-readings = Ablesungen
name-number = Nr.
name-time = Zeit
name-shown = Anzeige
name-came-in = Eingabe
name-listen = Anhören
name-what = Was
name-why = Warum
name-sound = Gut
name-range = Messbereich
name-at-the-part = Am Bauteil
name-again = Nochmals
name-harness = Durch den Kabelbaum
name-case = Gegen das Gehäuse
name-confirmed = Vom Techniker bestätigt
name-leads = Messleitungen
name-part-temperature = Temperatur des Bauteils
name-note = Bemerkung
name-order-and-vehicle = Auftrag, Fahrzeug
name-who-and-when = Datum, Name
name-stored-codes = Gespeicherte Fehlercodes
name-temperature-of-the-part = Temperatur des Bauteils
name-probes-together = Prüfspitzen zusammen zeigen
name-first-again = Erster Stromkreis, am Ende nochmals

stamp-simulated = Simulierter Techniker: niemand hat das gemessen
stamp-invented-part = Erfundenes Bauteil: seine Werte sind Beispiele
stamp-invented-meter = Erfundenes Messgerät: seine Genauigkeit ist ein Beispiel
stamp-broken-off = Abgebrochen: nicht alles wurde gemessen oder ausgewertet
stamp-stopped = Vor der Auswertung beendet: kann fortgesetzt werden

share-not-known = nicht bekannt
share-over = über 99 %
share-under = unter 1 %
share-about = { $it } %

sort-copper-coil = Kupferspule
sort-linear = Metallleiter
sort-resistor = Festwiderstand
sort-platinum = Platinfühler
sort-thermistor = Thermistor
sort-data-bus = Datenbus
sort-wire = einfache Verbindung

pin-word-class = { $it-is ->
    [within] gut
    [within-doubtful] gut, knapp
    [outside-doubtful] außen, knapp
    [outside] außerhalb
    [unlike-peers] weicht ab
    [like-peers] wie die and.
    [over-range-unchecked] Überlauf
    [open] offen
    [shorted] Kurzschluss
    [unstable] schwankt
    [leakage] Gehäuse
    [not-judged] notiert
   *[not-taken] fehlt
}
pin-word-common = gemeinsam
pin-word-common-pin = gemeinsam
pin-word-return = Rückleitung
pin-word-no-ohmmeter = kein Ohmmeter
pin-word-unused = unbelegt

way-voice = gesprochen
way-keys = getippt
way-meter = vom Messgerät
way-file = aus einer Datei

correction-wrong = falsch
correction-change = ändern

leads-shown = { $it } bei zusammengehaltenen Prüfspitzen, von jeder Ablesung abgezogen
leads-relative = vom Messgerät selbst abgezogen (Relativmessung)
leads-unknown = nicht gemessen: als unbekannt mitgeführt

cause-component = Das Bauteil selbst
cause-wiring = Die Leitungen
cause-connection = Ein Kontakt oder Anschluss
cause-shared-return = Eine gemeinsame Rückleitung oder Speisung
cause-control-or-mechanical = Steuergerät, Mechanik oder zeitweiliger Fehler
cause-measurement = Die Messung
cause-nothing-found = Kein Fehler gefunden
cause-undetermined = Zu wenig gemessen

pattern-kind-one-outlier = Einer gegen viele
pattern-kind-shared-offset = Alle um denselben Betrag daneben
pattern-kind-shared-factor = Alle um denselben Faktor daneben
pattern-kind-joined = Stromkreise verbunden
pattern-kind-swapped = Pins vertauscht
pattern-kind-everything-open = Alles offen
pattern-kind-undecided = Zwei sind verschieden
pattern-kind-drift = Drift

about-load = Leitung unter Last
about-voltage-drop = Spannungsfall
about-relation = Zwischen zwei Pins
about-loop = Kabelbaum
about-stored-code = Gespeicherter Fehlercode
about-learned = Von früheren Bauteilen gelernt
about-meter = Messgerät
about-temperature = Temperatur

sentence-an-aid = Dieses Protokoll und sein Ergebnis helfen der Person, die entscheidet; sie sind keine Freigabe. Die Unterlagen des Fahrzeugherstellers, örtliche Vorschriften und die Regeln des Fachs gehen vor.
sentence-nothing = Keine.
sentence-in-order = { $it ->
    [true] wie es sein soll
    [false] nicht wie es sein soll
   *[none] nicht zu sagen
}
sentence-span-of = { $low } bis { $high }
sentence-unstable = schwankt, { $low } bis { $high }
sentence-reading = { $it }
sentence-place = { $station-is ->
    [component] Teil
    [harness] Kabel
   *[case] Geh.
}
sentence-confirmed = bestätigt
sentence-verdict = { $class }{ $confirmed ->
    [true] , bestätigt
   *[false] { "" }
}
sentence-cleaned = Kontakt gereinigt
sentence-wiggled = Leitung beim Ablesen bewegt
sentence-to-case = { $pin } / Geh.
sentence-at-plug = Stecker { $pin } / { $against }
sentence-period = { $from } bis { $to } ({ $zone })
sentence-day = { $day }.{ $month }.{ $year }
sentence-day-and-time = { $day } { $time }
sentence-rests-on = { $readings-count ->
    [one] Ablesung { $readings }
   *[other] Ablesungen { $readings }
}
sentence-rests-on-links = { $readings-count ->
    [one] Ablesung { $links }
   *[other] Ablesungen { $links }
}
sentence-for = dafür
sentence-against = dagegen
sentence-alternatively-heard = { $first } oder { $second }
sentence-correction = Berichtigung { $words }
sentence-withdrawn = zurückgenommen { $at } durch „{ $by }“ ({ $way }), { $replaced-by ->
    [none] nicht ersetzt
   *[other] ersetzt durch Ablesung { $replaced-by }
}
sentence-quoted = „{ $text }“
sentence-not-known = nicht bekannt
sentence-code-names = { $circuit ->
    [none] { $code }: nennt keinen Stromkreis dieses Bauteils
   *[other] { $code }: nennt { $circuit }
}
sentence-conforms = { $least ->
    [none] innerhalb: { $share }
   *[other] innerhalb: { $share } ({ $least } bis { $most } über die möglichen Temperaturen)
}
sentence-peer-score = weicht um das { $score }-Fache der üblichen Streuung von den anderen ab{ $limit ->
    [none] { "" }
   *[other] , Grenze { $limit }
}{ $expected ->
    [none] { "" }
   *[other] ; nach den anderen wären { $expected } zu erwarten
}
sentence-means = bedeutet { $temperature }
sentence-learned-score = { $score } Standardunsicherheiten neben dem, was von anderen Bauteilen gelernt wurde
sentence-cleaning-changed-it = das Reinigen des Kontakts hat die Ablesung geändert
sentence-outcome = { $sound } von { $circuits } Stromkreisen gut{ $off-count ->
    [0] { "" }
   *[other] ; nicht gut: { $off }
}{ $doubtful-count ->
    [0] { "" }
   *[other] ; offen geblieben: { $doubtful }
}{ $not-taken ->
    [0] { "" }
   *[other] ; nicht beurteilt: { $not-taken }
}.
sentence-what-to-do = Zu tun: { $what }. Wenn das falsch ist: { $if-wrong }.
to-do-repair-terminal = den Kontakt von { $it } reinigen und nachbiegen, oder ersetzen
to-do-repair-wire = die Leitung von { $it } oder ihre Verbindung instand setzen
to-do-replace-part = das Bauteil ersetzen, wegen { $it }
to-do-look-at-control-side = nach Versorgung, Steuergerät und Mechanik von { $it } sehen
to-do-measure-again = messen, bevor etwas gekauft wird{ $it-count ->
    [0] { "" }
   *[other] : { $it }
}
if-wrong-part-wasted = ein bezahltes Bauteil behebt den Fehler nicht
if-wrong-time-lost = Zeit ist verloren
if-wrong-fault-stays = der Fehler bleibt und zeigt sich unterwegs wieder
if-wrong-fault-returns = der Fehler kommt wieder, wenn der Kontakt wieder ausfällt
sentence-leads-again = Prüfspitzen nochmals zusammen
sentence-between = Pin { $from } gegen Pin { $to }
sentence-load-of = Belastungsprobe der Leitungen von { $circuit }{ $limit ->
    [none] { "" }
   *[other] , Grenze { $limit }
}
sentence-load-shown = { $at-load } von { $supply } an der Last{ $current ->
    [none] { "" }
   *[other] { " " }bei { $current }
}
sentence-drop-over = Spannungsfall über { $joint }{ $circuit ->
    [none] { "" }
   *[other] { " " }({ $circuit })
}{ $limit ->
    [none] { "" }
   *[other] , Grenze { $limit }
}
sentence-drop-shown = { $reading }{ $current ->
    [none] { "" }
   *[other] { " " }bei { $current }
}
sentence-learned-from = gelernt von { $parts ->
    [one] einem Bauteil
   *[other] { $parts } Bauteilen
}, nicht veröffentlicht: { $circuit }, { $station-is ->
    [component] am Bauteil
    [harness] durch den Kabelbaum
   *[case] gegen das Gehäuse
}
sentence-learned-value = { $median } bei { $at }{ $spread ->
    [none] { "" }
   *[other] , Streuung { $spread }
}
sentence-title = Messprotokoll: { $name }
sentence-sheet-title = Messblatt: { $name }
sentence-resistance-hint = Widerstand ohne die Messleitungen, ± erweiterte Unsicherheit (k = 2). Die Grenzen gelten bei der Temperatur des Bauteils.
sentence-heard-hint = Jede Äußerung wurde mehr als einmal ausgewertet. Steht ein Wortlaut da, so haben alle dasselbe gehört; stehen mehrere da, so waren sie verschieden. Zurückgenommene Ablesungen sind durchgestrichen und wurden nicht beurteilt.
sentence-other-sound-hint = Was sonst gehört wurde: Befehle, Antworten auf Fragen, Gespräche und Geräusche.
no-sound-missing = Die Aufnahme fehlt.
no-sound-changed = Die Aufnahme ist nicht die, die damals gehört wurde; sie steht darum nicht hier.
no-sound-damaged = Die Aufnahme ist beschädigt und lässt sich nicht abspielen.
no-sound-forgotten = Die Aufnahme wurde mit Absicht gelöscht; das Protokoll sagt es.
sentence-alike-hint = Jede Marke ist ein Stromkreis mit seiner Unsicherheit. Das Band ist, was die Grenzen bei dieser Temperatur zulassen.
sentence-map-label = Pins des Steckers; dasselbe steht in der Tabelle der Stromkreise
sentence-map-key = Scheibe: gut. Dreieck: fraglich, mit diesem Messgerät nicht zu sagen oder noch zu prüfen. Achteck: spricht gegen den Stromkreis. Dünner Ring: gemessen, nicht beurteilt. Gestrichelt: nicht abgelesen. Quadrat: gemeinsamer Pin oder Rückleitung. Durchgestrichenes Quadrat: hier kein Ohmmeter.
sentence-blank-map-key = Kreis: wird gemessen. Quadrat: gemeinsamer Pin oder Rückleitung. Durchgestrichenes Quadrat: hier kein Ohmmeter.
sentence-alike-label = { $family }, nebeneinander; dieselben Werte stehen in der Tabelle der Stromkreise
sentence-write-hint = Hinschreiben, was die Anzeige zeigt, mit Vorsatz; OL bei Überlauf; beide Enden, wenn die Zahl wandert. Ein offener Stromkreis zählt erst, wenn der Kontakt gereinigt und nochmals gemessen wurde.
sentence-copper-hint = Kupfer, zum Vergleich bei 20 °C: Messleitungen abziehen, dann mal 254,5 durch (234,5 + Temperatur des Bauteils in °C) (nach IEC 60028).
sentence-should-read-alike = Sollen gleich sein, innerhalb ± { $percent } % von dem, was die meisten zeigen: { $family }.
sentence-no-ohmmeter-here = Hier kein Ohmmeter: { $why }
sentence-no-figure = kein Wert bekannt
sentence-at = bei { $temperature }
sentence-up-to = bis { $end }
sentence-steps = Schritte { $step }
sentence-drop-limit-joint = Spannungsfall unter Last über eine Verbindungsstelle: höchstens { $limit } ({ $source }).
sentence-drop-limit-wire = Spannungsfall unter Last über eine Leitung mit ihren Verbindungsstellen: höchstens { $limit } ({ $source }).
sentence-known-code = Fehlercode { $number }{ $meaning ->
    [none] { "" }
   *[other] { " " }({ $meaning })
} nennt { $circuit }, nie das Bauteil.
sentence-profile-fingerprint = Profil { $profile }, Fingerabdruck { $fingerprint }

reading-remark-first-again = erster Stromkreis noch einmal
reading-remark-read-again = noch einmal gemessen
reading-remark-leads-whole = zum Nachweis, dass die Messleitungen in Ordnung sind
reading-remark-for-comparison = ein guter Stromkreis zum Vergleich
reading-remark-other-station = an anderer Stelle, wie vorgeschlagen
reading-remark-left-out = ausgelassen

noted-gone-on = nach einer Unterbrechung fortgesetzt: Sicherheit, Temperatur und Messleitungen neu aufgenommen
noted-clock-back = die Uhr wurde um { $seconds } s zurückgestellt
noted-clock-ahead = die Uhr wurde um { $seconds } s vorgestellt, oder der Rechner schlief
noted-clips-forgotten = { $clips } Tonstücke wurden mit Absicht entfernt
noted-lines-lost = { $lines } Zeilen von { $journal } fehlen hier: gerettet aus einem beschädigten Protokoll
noted-no-codes = angesagt, dass kein Fehlercode gespeichert ist, oder ausgelassen
noted-cut-off = die letzte Zeile wurde abgeschnitten und nie bestätigt
