# Was gefragt und gesagt wird, während ein Profil entsteht.

new-part-hello = Ein paar Fragen ergeben ein Profil. Enter nimmt, was in Klammern steht; - geht um eine zurück.
new-part-asked = { $it }
new-part-added = Aufgenommen: { $circuits }.
new-part-at-the-beginning = Das ist die erste Frage.
new-part-needed = Hier muss etwas stehen.
new-part-no-such-choice = Eine der Zahlen tippen.
new-part-no-pins = „{ $typed }“ nennt keine Pins. Zum Beispiel 4, oder 1-8, oder 1 2 5.
new-part-no-ohms = „{ $typed }“ ist kein Widerstand. Zum Beispiel 1000, oder 1 kohm.
new-part-no-points = „{ $typed }“ ist keine Tabelle. Temperatur und Ohm, mindestens zweimal: 0 5900, 20 2,5k; mit Komma darin durch Semikolon getrennt
new-part-refused = { CAPITAL($what) }. So wird es geschrieben: { $advice }.
new-part-written = Geschrieben und geprüft: { $path }
new-part-start-with = Damit messen: bothhands --profile { $profile } --meter NAME
new-part-own-measurements = eigene Messungen, keine Herstellerangaben
new-part-learned-title = Gelerntes Teil mit { $pins } Pins
new-part-learned-source = an einem Teil gelernt, Sitzung { $session }; keine Herstellerangaben
new-part-learned-comment = GELERNT an einem Teil in der Sitzung { $session }: nichts darin kommt vom Hersteller, und niemand weiß, ob das Teil gut war.
new-part-learned = An diesem Teil gelernt, geprüft, zum Messen bereit: { $path }
new-part-unfinished = Die Fragen wurden nicht zu Ende beantwortet: es wurde nichts geschrieben.
new-part-exists = { $path } gibt es schon und bleibt, wie es ist. Mit --to eine andere Datei nennen.

asked-title = Wie heißt das Teil?
asked-source = Woher kommen die Angaben? [eigene Messungen, keine Herstellerangaben]
asked-common = Auf welchem Pin bleibt eine Spitze? [keiner: jeder Kreis hat seinen eigenen]
asked-first-pins = Welcher Pin kommt zuerst? Mehrere gleiche auf einmal: 1-8
asked-next-pins = Der nächste Pin, oder mehrere gleiche? [das war alles]
asked-against = Gegen welchen Pin wird { $pins } gemessen?
asked-name = Was liegt an Pin { $pin }? Es wird vor jeder Messung gesagt: Heizung, Spule A
asked-names = Was sind die { $count }? Jeder bekommt einen Buchstaben: aus Spule wird Spule A, Spule B
asked-made-of = Woraus besteht es? { $choices }
asked-made-of-or-like = Woraus besteht es? { $choices } [wie { $like }]
asked-platinum = Wie viel Ohm bei 0 °C? Meist 100 oder 1000.
asked-points = Temperaturen und Ohm, mindestens zwei: 0 5900, 20 2500, 60 600
asked-reason = Warum darf niemand messen? (Airbag, Hochvolt, Elektronik)
asked-reads = Wie viel hat ein gutes? 5.2 ohm +- 8 %, oder 4.9 to 5.5 ohm [weiß niemand]

choice = { $number } { $made-of }
made-of-coil = Spule
made-of-resistor = Widerstand oder Schalter
made-of-wire = einfache Leitung
made-of-data-bus = Datenbus
made-of-platinum = Platinfühler
made-of-thermistor = Heißleiter
made-of-never = kein Ohmmeter darf daran

table-fault-empty = Die Tabelle ist leer: ihre erste Zeile nennt die Spalten, mindestens pin und name.
table-fault-no-table = Zeile { $line }: das ist keine Tabelle. Als CSV in UTF-8 speichern.
table-fault-too-long = Die Tabelle hat mehr als { $most } Zeilen.
table-fault-column-missing = Die Spalte { $column } fehlt. Es gibt: { $there }.
table-fault-column-unknown = Zeile 1, Spalte { $column }: „{ $name }“ kennt niemand. Bekannt sind pin, name, gegen, art, soll, toleranz, wie, stecker.
table-fault-column-twice = Zeile 1, Spalte { $column }: „{ $name }“ steht mit anderen Worten zweimal da.
table-fault-field =
    { $column ->
        [0] Zeile { $line }, ohne Spalte { $name }: { $what }. So wird es geschrieben: { $advice }.
       *[other] Zeile { $line }, Spalte { $column } ({ $name }): { $what }. So wird es geschrieben: { $advice }.
    }
table-fault-whole = { CAPITAL($what) }. So wird es geschrieben: { $advice }.
