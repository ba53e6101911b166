# Was der Übungsplatz sagt.

bench-line-hello = SIMULIERT: { $part }, auf der Werkbank. Es hat { $degrees } °C. Der Platz zeigt das Messgerät; du tippst, was es zeigt. Außerdem: where (wo sind die Spitzen), display (Anzeige), verdict (Urteil).
bench-line-lesson = { $number }  { $about } ({ $profile })
bench-line-display = anzeige  { $it }
bench-line-nothing-shown = Die Spitzen liegen auf der Bank.
bench-line-probes = { $it }
bench-line-your-verdict = Erst dein Urteil. Welche Kreise würdest du ersetzen oder instand setzen? Pins oder Namen mit Komma dazwischen; Enter: keinen.
bench-line-no-circuit = Einen Kreis „{ $typed }“ gibt es nicht.
bench-line-truth = { $faults-count ->
    [0] Es hatte nichts.
   *[other] Das hatte es: { $faults }.
}
bench-line-score = { $it }

lesson-about-one-open = Eine Spule ist unterbrochen
lesson-about-too-few = Eine Spule hat zu wenig Ohm
lesson-about-dirt = Zu viel Ohm kann Schmutz sein
lesson-about-sound-or-not = Teil oder Kontakt?
lesson-about-two = Zwei Fehler auf einmal
lesson-about-sensors = Fühler, die sich mit der Temperatur ändern

probes-nowhere = Die Spitzen liegen auf der Bank.
probes-together = Die Spitzen liegen aneinander.
probes-on = Eine Spitze ist auf Pin { $pin }, die andere auf Pin { $against }.
probes-to-case = Eine Spitze ist auf Pin { $pin }, die andere am Gehäuse.

truth = { $circuit }, { $fault }
bench-fault-open = unterbrochen
bench-fault-shorted = kurzgeschlossen
bench-fault-shorted-turns = Windungsschluss
bench-fault-bad-joint = schlechte Verbindung innen
bench-fault-dirty-terminal = schmutziger Kontakt
bench-fault-leak = Schluss zum Gehäuse

score = Ergebnis: { $found-count } gefunden, { $missed-count } übersehen, { $wrongly-count } umsonst ersetzt, { $misread } falsch abgelesen, { $needless } unnötige Messungen.{ $missed-count ->
    [0] { "" }
   *[other] { " " }Übersehen: { $missed }.
}{ $wrongly-count ->
    [0] { "" }
   *[other] { " " }Gut waren: { $wrongly }.
}
