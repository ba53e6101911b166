# What is asked and told while a profile is made.

new-part-hello = A few questions make a profile. Enter takes what stands in brackets; - goes back by one.
new-part-asked = { $it }
new-part-added = Taken: { $circuits }.
new-part-at-the-beginning = This is the first question.
new-part-needed = Something is needed here.
new-part-no-such-choice = Type one of the numbers.
new-part-no-pins = “{ $typed }” names no pins. Write 4, or 1-8, or 1 2 5.
new-part-no-ohms = “{ $typed }” is no resistance. Write 1000, or 1 kohm.
new-part-no-points = “{ $typed }” is no table. Write temperature and ohms, at least twice: 0 5900, 20 2.5k, 60 600
new-part-refused = { CAPITAL($what) }. What to write: { $advice }.
new-part-written = Written and checked: { $path }
new-part-start-with = Measure with it: bothhands --profile { $profile } --meter NAME
new-part-own-measurements = own measurements, no maker's figures
new-part-learned-title = Learned part with { $pins } pins
new-part-learned-source = learned from one part in session { $session }; no maker's figures
new-part-learned-comment = LEARNED from one part in session { $session }: nothing in it comes from a maker, and nobody knows that the part was sound.
new-part-learned = Learned from this part, checked, ready to be measured with: { $path }
new-part-unfinished = The questions were not answered to the end: nothing was written.
new-part-exists = { $path } is there already and was left alone. Name another file with --to.

asked-title = What is the part called?
asked-source = Where do the figures come from? [own measurements, no maker's figures]
asked-common = Which pin does one probe stay on? [none: each circuit has its own]
asked-first-pins = Which pin is probed first? Several like ones at once: 1-8
asked-next-pins = The next pin, or several like ones? [that is all]
asked-against = Against which pin is { $pins } measured?
asked-name = What is at pin { $pin }? It is said before every reading: heater, coil A
asked-names = What are the { $count }? Each gets a letter: coil becomes coil A, coil B
asked-made-of = What is it made of? { $choices }
asked-made-of-or-like = What is it made of? { $choices } [made as { $like }]
asked-platinum = How many ohms at 0 °C? Mostly 100 or 1000.
asked-points = Temperatures and ohms, at least two: 0 5900, 20 2.5k, 60 600
asked-reason = Why may nobody measure it? (airbag, high voltage, electronics)
asked-reads = What does a sound one read? 5.2 ohm +- 8 %, or 4.9 to 5.5 ohm [nobody knows]

choice = { $number } { $made-of }
made-of-coil = coil
made-of-resistor = resistor or switch
made-of-wire = plain wire
made-of-data-bus = data bus
made-of-platinum = platinum sensor
made-of-thermistor = thermistor
made-of-never = no ohmmeter may touch it

table-fault-empty = The table is empty: its first line names the columns, at least pin and name.
table-fault-no-table = Line { $line }: this is no table. Save it as CSV, UTF-8.
table-fault-too-long = The table has more than { $most } lines.
table-fault-column-missing = The column { $column } is missing. There are: { $there }.
table-fault-column-unknown = Line 1, column { $column }: nobody knows “{ $name }”. Known are pin, name, against, kind, reads, tolerance, like, connector.
table-fault-column-twice = Line 1, column { $column }: “{ $name }” is there twice in other words.
table-fault-field =
    { $column ->
        [0] Line { $line }, no column { $name }: { $what }. What to write: { $advice }.
       *[other] Line { $line }, column { $column } ({ $name }): { $what }. What to write: { $advice }.
    }
table-fault-whole = { CAPITAL($what) }. What to write: { $advice }.
