# Page, summary and sheet: what is handed over after the job. Names of circuits, gates and the like come from the profile.

heading-record = Measuring record
heading-sheet = Measuring sheet
heading-filled-sheet = Measuring sheet, filled in
heading-conclusion = Conclusion
heading-pins = Pins
heading-circuits = Circuits
heading-alike = Like circuits side by side
heading-readings = Readings, in the order taken
heading-further = Further observations
heading-preparation = Before and between
heading-codes = Stored codes
heading-cautions-given = Cautions given
heading-derivations = How it was worked out
heading-patterns = Seen over several circuits
heading-observed = Also observed
heading-next-checks = Next checks
heading-not-excluded = Not excluded
heading-cautions = Cautions
heading-less-likely = Less likely
heading-before-measuring = Before measuring
heading-further-checks = Further checks
heading-other-sound = Other sound

name-job = Job
name-part = Part
name-when = When
name-meter = Meter
name-taken-by = Taken by
name-session = Session
name-profile = Profile
name-fingerprint = Profile fingerprint
name-meter-figures = Meter figures
name-program = Program
name-technician = Technician
name-customer = Customer
name-vehicle = Vehicle
name-order = Order
name-part-serial = Serial number of the part
name-meter-serial = Serial number of the meter
name-meter-calibrated = Meter calibrated
name-journal-mark = Mark of the journal
name-figures-from = Figures from
name-mark = Mark
name-circuit = Circuit
name-verdict = Verdict
name-pins = Pins
name-where = Where
name-resistance = Resistance
name-limits = Limits
name-against-limits = Against limits
name-readings = Readings
name-number = No.
name-time = Time
name-shown = Shown
name-came-in = Came in
name-listen = Listen
name-what = What
name-why = Why
name-sound = Sound
name-range = Range
name-at-the-part = At the part
name-again = Again
name-harness = Through the harness
name-case = To case
name-confirmed = Confirmed by the technician
name-leads = Leads
name-part-temperature = Part temperature
name-note = Note
name-order-and-vehicle = Order, vehicle
name-who-and-when = Date, name
name-stored-codes = Stored codes
name-temperature-of-the-part = Temperature of the part
name-probes-together = Probes together show
name-first-again = First circuit, read again at the end

stamp-simulated = Simulated technician: nobody measured this
stamp-invented-part = Invented part: its figures are examples
stamp-invented-meter = Invented meter: its accuracy is an example
stamp-broken-off = Broken off: not all was measured or concluded
stamp-stopped = Stopped before a conclusion: to be resumed

share-not-known = not known
share-over = over 99 %
share-under = under 1 %
share-about = { $it } %

sort-copper-coil = copper coil
sort-linear = metal conductor
sort-resistor = resistor
sort-platinum = platinum sensor
sort-thermistor = thermistor
sort-data-bus = data bus
sort-wire = plain connection

# Two short words at most: they stand under a pin.
pin-word-class = { $it-is ->
    [within] in
    [within-doubtful] in, near limit
    [outside-doubtful] out, near limit
    [outside] out
    [unlike-peers] unlike others
    [like-peers] alike
    [over-range-unchecked] over range
    [open] open
    [shorted] shorted
    [unstable] unstable
    [leakage] leakage
    [not-judged] noted
   *[not-taken] not taken
}
pin-word-common = common
pin-word-common-pin = common pin
pin-word-return = return
pin-word-no-ohmmeter = no ohmmeter
pin-word-unused = unused

way-voice = spoken
way-keys = typed
way-meter = from the meter
way-file = from a file

correction-wrong = wrong
correction-change = change

leads-shown = { $it } with the probes together, taken off every reading
leads-relative = taken off by the meter's relative mode
leads-unknown = not measured: carried as unknown

cause-component = The part itself
cause-wiring = The wiring
cause-connection = A terminal or contact
cause-shared-return = A return or feed that circuits share
cause-control-or-mechanical = Control unit, mechanical or intermittent
cause-measurement = The measurement
cause-nothing-found = Nothing found wrong
cause-undetermined = Not enough measured to say

pattern-kind-one-outlier = One against many
pattern-kind-shared-offset = All off by one amount
pattern-kind-shared-factor = All off by one factor
pattern-kind-joined = Circuits joined
pattern-kind-swapped = Pins swapped
pattern-kind-everything-open = Everything open
pattern-kind-undecided = Two disagree
pattern-kind-drift = Drift

about-load = Wire under load
about-voltage-drop = Voltage drop
about-relation = Between two pins
about-loop = Harness
about-stored-code = Stored code
about-learned = Learned from earlier parts
about-meter = Meter
about-temperature = Temperature

sentence-an-aid = This record and its conclusion are an aid to the person who decides, not an approval. The vehicle maker's service information, local codes and licensed practice come first.
sentence-nothing = None.
sentence-in-order = { $it ->
    [true] as it should be
    [false] not as it should be
   *[none] cannot be told
}
sentence-span-of = { $low } to { $high }
sentence-unstable = unstable, { $low } to { $high }
sentence-reading = { $it }
sentence-place = { $station-is ->
    [component] part
    [harness] harness
   *[case] case
}
sentence-confirmed = confirmed
sentence-verdict = { $class }{ $confirmed ->
    [true] , confirmed
   *[false] { "" }
}
sentence-cleaned = terminal cleaned
sentence-wiggled = wire moved while reading
sentence-to-case = { $pin } / case
sentence-at-plug = plug { $pin } / { $against }
sentence-period = { $from } to { $to } ({ $zone })
sentence-day = { $year }-{ $month }-{ $day }
sentence-day-and-time = { $day } { $time }
sentence-rests-on = { $readings-count ->
    [one] reading { $readings }
   *[other] readings { $readings }
}
sentence-rests-on-links = { $readings-count ->
    [one] reading { $links }
   *[other] readings { $links }
}
sentence-for = for
sentence-against = against
sentence-alternatively-heard = { $first } or { $second }
sentence-correction = correction { $words }
sentence-withdrawn = withdrawn { $at } by “{ $by }” ({ $way }), { $replaced-by ->
    [none] not replaced
   *[other] replaced by reading { $replaced-by }
}
sentence-quoted = “{ $text }”
sentence-not-known = not known
sentence-code-names = { $circuit ->
    [none] { $code }: names no circuit of this part
   *[other] { $code }: names { $circuit }
}
sentence-conforms = { $least ->
    [none] conforms: { $share }
   *[other] conforms: { $share } ({ $least } to { $most } over the temperatures it may have)
}
sentence-peer-score = differs from the others by { $score } times their spread{ $limit ->
    [none] { "" }
   *[other] , limit { $limit }
}{ $expected ->
    [none] { "" }
   *[other] ; the others lead to expect { $expected }
}
sentence-means = means { $temperature }
sentence-learned-score = { $score } standard uncertainties from what was learned on other parts
sentence-cleaning-changed-it = cleaning the terminal changed the reading
sentence-outcome = { $sound } of { $circuits } circuits sound{ $off-count ->
    [0] { "" }
   *[other] ; not sound: { $off }
}{ $doubtful-count ->
    [0] { "" }
   *[other] ; not settled: { $doubtful }
}{ $not-taken ->
    [0] { "" }
   *[other] ; not judged: { $not-taken }
}.
sentence-what-to-do = What to do: { $what }. If that is wrong: { $if-wrong }.
to-do-repair-terminal = clean and tighten the terminal of { $it }, or replace it
to-do-repair-wire = repair the wire of { $it } or its splice
to-do-replace-part = replace the part, for { $it }
to-do-look-at-control-side = look at supply, control unit and mechanics of { $it }
to-do-measure-again = measure before anything is bought{ $it-count ->
    [0] { "" }
   *[other] : { $it }
}
if-wrong-part-wasted = a part is paid for that does not cure it
if-wrong-time-lost = time is lost
if-wrong-fault-stays = the fault stays and is met again on the road
if-wrong-fault-returns = it comes back when the contact fails again
sentence-leads-again = probes together again
sentence-between = pin { $from } against pin { $to }
sentence-load-of = load test of the wires of { $circuit }{ $limit ->
    [none] { "" }
   *[other] , limit { $limit }
}
sentence-load-shown = { $at-load } of { $supply } at the load{ $current ->
    [none] { "" }
   *[other] { " " }at { $current }
}
sentence-drop-over = voltage drop over { $joint }{ $circuit ->
    [none] { "" }
   *[other] { " " }({ $circuit })
}{ $limit ->
    [none] { "" }
   *[other] , limit { $limit }
}
sentence-drop-shown = { $reading }{ $current ->
    [none] { "" }
   *[other] { " " }at { $current }
}
sentence-learned-from = learned from { $parts ->
    [one] one part
   *[other] { $parts } parts
}, not published: { $circuit }, { $station-is ->
    [component] at the part
    [harness] through the harness
   *[case] to case
}
sentence-learned-value = { $median } at { $at }{ $spread ->
    [none] { "" }
   *[other] , spread { $spread }
}
sentence-title = Measuring record: { $name }
sentence-sheet-title = Sheet: { $name }
sentence-resistance-hint = Resistance is without the leads, ± its expanded uncertainty (k = 2). Limits hold at the temperature of the part.
sentence-heard-hint = Each phrase was decoded more than once. Where one wording is quoted, all decodings heard the same; where several are, they differed. Withdrawn readings are struck through and were not judged.
sentence-other-sound-hint = All that was heard besides: commands, answers to questions, talk and noise.
no-sound-missing = The clip is missing.
no-sound-changed = The clip is not the one that was heard then, so it is not here.
no-sound-damaged = The clip is damaged and cannot be played.
no-sound-forgotten = The sound was taken away on purpose; the log says so.
sentence-alike-hint = Each mark is a circuit, with its uncertainty. The band is what the limits allow at this temperature.
sentence-map-label = Pins of the connector; the same is in the table of circuits
sentence-map-key = Disc: sound. Triangle: doubtful, cannot be told with this meter or is to be checked. Octagon: speaks against the circuit. Thin ring: measured, not judged. Dashed: not taken. Square: common pin or return. Barred square: no ohmmeter here.
sentence-blank-map-key = Circle: probed. Square: common pin or return. Barred square: no ohmmeter here.
sentence-alike-label = { $family }, side by side; the same figures are in the table of circuits
sentence-write-hint = Write what the display shows, with its prefix; OL for over range; both ends for a number that wanders. An open circuit counts only after the terminal was cleaned and read again.
sentence-copper-hint = Copper, to compare at 20 °C: take off the leads, then multiply by 254.5 and divide by (234.5 + temperature of the part in °C) (after IEC 60028).
sentence-should-read-alike = Should read alike, within ± { $percent } % of what most of them read: { $family }.
sentence-no-ohmmeter-here = No ohmmeter here: { $why }
sentence-no-figure = no figure known
sentence-at = at { $temperature }
sentence-up-to = to { $end }
sentence-steps = steps { $step }
sentence-drop-limit-joint = Voltage drop under load over one joint: at most { $limit } ({ $source }).
sentence-drop-limit-wire = Voltage drop under load over a wire with its joints: at most { $limit } ({ $source }).
sentence-known-code = Stored code { $number }{ $meaning ->
    [none] { "" }
   *[other] { " " }({ $meaning })
} names { $circuit }, never the part.
sentence-profile-fingerprint = Profile { $profile }, fingerprint { $fingerprint }

reading-remark-first-again = first circuit once more
reading-remark-read-again = read again
reading-remark-leads-whole = to show that the leads are whole
reading-remark-for-comparison = a sound circuit for comparison
reading-remark-other-station = at another station, as proposed
reading-remark-left-out = left out

noted-gone-on = gone on with after a break: safety, temperature and leads taken anew
noted-clock-back = the clock was set by { $seconds } s back
noted-clock-ahead = the clock was set by { $seconds } s ahead, or the machine slept
noted-clips-forgotten = { $clips } sound clips were taken away on purpose
noted-lines-lost = { $lines } lines of { $journal } are lost here: salvaged from a damaged journal
noted-no-codes = said that no code is stored, or left out
noted-cut-off = the last line was cut off and never acknowledged
