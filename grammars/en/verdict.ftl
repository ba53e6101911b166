# What a judgement says: the sentence in front, reasons, what is not excluded, next checks, how it was worked out.

## Names of circuits

named-circuits-one = { $it }
named-circuits-all = { $it }
named-circuits-more = { $first }, { $second }, { $third } and { $more } more

## What a circuit does, after its name

does-shorted = shorted
does-leaks-to-case = leaks to case
does-open = open at its terminal or behind it
does-over-range = over range, contact not checked
does-beside-others = { $ohms } ohms, the others { $others }
does-beside-other = { $ohms } ohms, the other { $other }
does-beside-limits = { $ohms } ohms, limits { $low } to { $high }
does-reads = { $ohms } ohms
does-class = { $it }

## What may be wrong, inside a sentence

suspicion-nothing = nothing is wrong
suspicion-other = something else
suspicion-off = { $circuit } is off, { $does }
suspicion-several-off = { $circuits } are off
suspicion-family-off = { $circuits-is ->
    [one] { $circuits } is off its limits, and they may be the wrong ones
   *[other] { $circuits } are all off alike: the wrong limits, or a cause that they share
}
suspicion-disagree = { $circuits } disagree
suspicion-all-shorted = { $circuits } read as nothing: one short, or the probes on each other
suspicion-pin-loose = the contact at common pin { $pin } comes and goes
suspicion-pin-open = common pin { $pin } is open: the clip, its terminal, or behind it
suspicion-pin-adds = common pin { $pin } adds { $ohms } ohms: the clip, its terminal, or behind it
suspicion-leads-broken = a lead or the meter is open
suspicion-lead-zero-low = the lead zero is wrong, by about { $ohms } ohms too little
suspicion-lead-zero-high = the lead zero is wrong, by about { $ohms } ohms too much
suspicion-temperature = the part is at about { $celsius } °C, not as said
suspicion-joined = { $circuits } are joined
suspicion-pair-contradicts = the reading between { $circuits } contradicts theirs: probe it again
suspicion-swapped = { $circuits } are swapped
suspicion-slip = the unit or the point of { $circuits } is wrong: say it again
suspicion-to-case = { $circuits } { $circuits-is ->
    [one] leads
   *[other] lead
} to the case
suspicion-pin-to-case = common pin { $pin } leads to the case
suspicion-cured = a bad contact at { $circuits }, cured by cleaning
suspicion-wire = the wiring of { $circuits }: sound at the part, off through the harness
suspicion-wire-adds = a shared wire of the harness adds { $ohms } ohms to all
suspicion-wire-open = a shared wire of the harness is open
suspicion-load = the wiring of { $circuits } loses too much under load
suspicion-elsewhere = { $circuits } { $circuits-is ->
    [one] is
   *[other] are
} sound, and the code's cause lies elsewhere
suspicion-and = { $first }, and { $then }
suspicion-or = { $first }, or { $then }

## The sentence in front

headline-nothing-measured = Nothing measured yet.
headline-nothing-found = No fault found in the readings.{ $smallest ->
    [none] {""}
   *[other] {" "}A deviation below { $smallest } % would not show.
}
headline-nothing-so-far = No fault so far: { $taken } of { $askable } read.
headline-not-all-judged = No fault found; { $unjudged } could not be judged.
headline-cured = Cleaning cured { $circuits }: a bad contact at the terminal.
headline-failed = { CAPITAL($circuits) } failed{ $does ->
    [none] .
   *[other] : { $does }.
}
headline-probably-off = { CAPITAL($circuits) } { $circuits-is ->
    [one] is
   *[other] are
} probably off{ $does ->
    [none] .
   *[other] : { $does }.
}
headline-surely = { CAPITAL($what) }.
headline-probably = Probably { $what }.
headline-elsewhere = The circuits read sound, but a code is stored: look at supply, control unit and mechanics.
headline-load = The circuits read sound, but the wiring loses too much under load.
headline-then = { $first } { $then }
headline-one-of = One of these: { $what }.
headline-disagree = { CAPITAL($circuits) } disagree, and nothing says which is right.
headline-perhaps = Cannot tell yet: perhaps { $what }.
headline-cannot-tell = Cannot tell with these readings.
headline-too-close = Cannot tell: { $circuits } closer to a limit than this meter can tell.
headline-in-doubt = Cannot tell yet: { $circuits } in doubt.

## Reasons, and what several show together

grounds-none-off = { $readings } readings, none of them off{ $percent ->
    [none] {""}
   *[other] {" "}({ $percent } %)
}
grounds-not-judged = circuits that were not read, or could not be judged{ $percent ->
    [none] {""}
   *[other] {" "}({ $percent } %)
}
grounds-suspected = { $what }{ $percent ->
    [none] {""}
   *[other] {" "}({ $percent } %)
}
grounds-stayed-so = { $circuit } stayed so with the terminal cleaned and probed again

together-suspected = { $it }
together-drift = { $circuit } read { $from } Ω first and { $to } Ω when read again: leads, temperature or contact moved in between

## What is not excluded

not-excluded-bad-contact = A bad contact at { $circuit }: its terminal was not cleaned and probed again.
not-excluded-terminal-or-inside = { $circuit }: the terminal itself, or a wire behind it inside the part.
not-excluded-contact-unchecked = A bad contact at { $circuit }: the contact check is not finished.
not-excluded-not-measured = Not measured: { $circuits }.
not-excluded-nothing-to-judge-by = Measured, but nothing to judge by: { $circuits }.
not-excluded-no-ohmmeter = No ohmmeter may touch: { $circuits }.
not-excluded-harness = The harness: nothing was measured through it.
not-excluded-leakage = Leakage to case: not measured.
not-excluded-insulation = Insulation at working voltage: a meter's few volts do not prove it.
not-excluded-intermittent = An intermittent contact: a circuit was unsteady before it read a number.
not-excluded-may-fail-again = { $circuit } read otherwise before its terminal was cleaned: the contact may fail again.

## What is to be minded

caveat-sound-ohms = Sound ohms do not prove that the part works: a valve may stick and a joint may fail under load.
caveat-an-aid = This is an aid to a skilled person, not an approval. The maker's service information comes first.
caveat-no-meter-file = No meter file: its accuracy was taken for ±({ $percent } % + { $digits } digits).
caveat-no-temperature = The temperature of the part is not known; windows were widened for it.
caveat-no-leads = The leads were not measured.
caveat-high-leads = The leads read { $ohms } Ω: they may be damaged.
caveat-unsteady-leads = The leads read up to { $ohms } Ω apart: they may be damaged.
caveat-diode = A suppression diode lies across a circuit: which probe is where changes what it reads.

## Next checks

next-step-higher-range = Read { $circuit } again in a higher range.
next-step-known-good = Read { $circuit } again with the same leads.
next-step-clean = Look at the terminal of { $circuit }, clean it, probe and read again.
next-step-clean-more = Clean the terminal of { $circuit } once more, look at its spring, and read again.
next-step-probe-once-more = Probe { $circuit } once more.
next-step-at-the-part = Measure { $circuit } at the part itself.
next-step-wiggle = Read { $circuit } while the wire and the connector are moved.
next-step-same-pin = Read { $circuit }, which has the same common pin.
next-step-zero-leads = Hold the probes together and say what the meter shows.
next-step-other-leads = Try other leads: hold their probes together and say what the meter shows.
next-step-read = Read { $circuit }.
next-step-say-unit = Read { $circuit } again, and say the unit that the display shows.
next-step-reseat = Take the probe off common pin { $pin }, clean it, put it on again, and read { $circuit }.
next-step-in-a-row = Read from pin { $from } to pin { $to }: { $first } and { $second } in a row.
next-step-between = Read from pin { $from } to pin { $to }, { $first } to { $second }.
next-step-temperature = Measure the temperature of the part itself.
next-step-through-harness = Measure { $circuit } through the harness, at the control unit's end.
next-step-to-case = Measure { $circuit } at the part from its pin to the case, connector apart.
next-step-wires-under-load = Both ends apart: the wires of { $circuit } against case, supply and neighbours; then its feeds and earths under load.

next-why-only-more = over the range that was set says only that it is more than that
next-why-leads-whole-and-open = if it still reads a number, leads and common pin are whole and { $circuit } is open
next-why-may-be-contact = over range may be the contact alone
next-why-twice-is-open = over range once with the terminal cleaned; twice makes it open
next-why-cleaning-helped = cleaning made it less: more of it may be the contact
next-why-contact-reads-like-part = a bad contact reads like a bad part; a reading that stays is the part or its wire
next-why-part-from-wires = it tells the part from its wires
next-why-moved-is-intermittent = a number that changes as it is moved is an intermittent contact
next-why-leads-whole = if it reads a number, leads and common pin are whole
next-why-nothing-shows-leads = nothing else that was read shows that the leads are whole
next-why-not-read-yet = it was not read yet
next-why-other-point = with another prefix or point it would be as the others
next-why-common-pin-not-circuits = if it reads now, the contact at the common pin was it, and not the circuits
next-why-sum-is-whole = the sum of both without the common pin shows that the circuits are whole
next-why-nothing-is-joined = next to nothing between them: they are joined
next-why-leads-never-that = leads never have that much: the zero cannot be right, or a lead is damaged
next-why-less-than-nothing = less than nothing is left with the leads off: the lead reading was too high
next-why-leads-unsteady = the leads read otherwise each time: they may be damaged
next-why-moved = a circuit read again differs: leads, temperature or contact moved
next-why-leads-unknown = the leads were not measured, so low resistances cannot be judged against their window
next-why-nothing-reads = nothing at all reads: it shows whether leads and meter are whole
next-why-all-nothing = all read as nothing: it shows whether the probes touched
next-why-lead-from-circuits = it tells a lead or its zero from the circuits
next-why-window-too-wide = without it the window is too wide to judge by
next-why-like-temperature = many are off together, as temperature would do
next-why-code-not-read = the stored code names it, and it was not read yet
next-why-code-wires-next = the code names it and it reads sound at the part: the wires come next
next-why-case-is-left = sound at both ends: a short to case is left, then the wires by themselves
next-why-before-control-unit = the control unit is named only after these
next-why-by-profile = named by the profile

## A judgement with its derivations

explained-check = { $step } Why: { $why }.{ $bits ->
    [none] {""}
   *[other] {" "}({ $bits } bits)
}
explained-cross-check = cross-check, not deciding: { $text }
explained-remark = note: { $text }
explained-off-under = probability that it is off: under { $least }
explained-off-over = probability that it is off: over { $most }
explained-off = probability that it is off: { $probability }
explained-source = source
explained-kind = type
explained-standard-ohms = u in ohms
explained-how = how
explained-shared = (shared by all circuits)
explained-combined = combined
explained-root-of-squares = root of the sum of squares
explained-expanded = expanded

## How it was worked out

step-name-readings = readings
step-name-range = range
step-name-contact-check = contact check
step-name-wander = wander
step-name-mean = mean
step-name-leads-off = leads off
step-name-standard-uncertainties = standard uncertainties in Ω
step-name-uncertainty = uncertainty
step-name-limits = limits
step-name-against-the-window = against the window
step-name-expectation = what the others lead to expect
step-name-against-the-family = against the family
step-name-verdict = verdict

reading-used-usual = #{ $id } { $reading }
reading-used-cleaned = #{ $id } { $reading } (terminal cleaned)
reading-used-moved = #{ $id } { $reading } (moved)

wander-why-display = the display did not settle
wander-why-repeats = repeats lie further apart than twice the contact bound and one step
wander-why-moved = it changed when the wire or connector was moved

limits-at-unknown = temperature unknown, { $low } to { $high } °C
limits-at-exactly = { $celsius } °C
limits-at-between = { $low } to { $high } °C

warmth-rule-copper = by (234.5 + t₂)/(234.5 + t₁)
warmth-rule-coefficient = by its coefficient at 20 °C
warmth-rule-platinum = by IEC 60751
warmth-rule-b-equation = by the B-equation
warmth-rule-table = by its table
warmth-rule-none = no change with temperature

window-stand-within = inside by more than U
window-stand-within-doubtful = inside, or inside at some possible temperature, but not by more than U
window-stand-outside-doubtful = outside, but by less than U
window-stand-outside = outside by more than U

family-stand-like = like the others
family-stand-unlike = unlike the others
family-stand-undecided = they disagree and no majority says which is right
family-stand-alone = no others

likelihood-under = under { $it }
likelihood-over = over { $it }
likelihood-about = { $it }

member-differs-as-seen = the family's own spread, wider than its tolerance: { $own }
member-differs-by-tolerance = √(({ $percent } % × { $mean })²/3 + { $random }²) = { $own }

window-weighed = ; weighed with the window's middle { $middle } ± { $standard } (1/u²): { $expected } ± { $of-expected }

class-reason-not-known-well = : temperature or leads are not known well enough to judge it
class-reason-nothing-yet = : nothing to judge it by yet
class-reason-nothing-left = : nothing is left with the leads off
class-reason-still-so = , and still so with the terminal cleaned and probed again

derived-none-taken = none taken
derived-readings = { $station }: { $readings }
derived-range-too-low = it ends at { $ends } Ω, and a sound circuit may read more: a higher one is needed
derived-contact-check = over range { $over ->
    [one] once
   *[other] { $over } times
} since the terminal was cleaned (2 are needed); another circuit read a number with the same leads afterwards: { $proven ->
    [true] yes
   *[false] not yet
}
derived-wander = { $why }{ $low ->
    [none] {""}
   *[other] {" "}from { $low } to { $high } Ω
}
derived-mean = { $ohms } Ω from { $count } readings
derived-leads-off = { $shown } − { $leads } = { $left } Ω
derived-leads-relative = { $left } Ω, the meter took them off
derived-leads-unknown = not measured: the circuit has between { $low } and { $high } Ω (leads taken for 0 to { $most } Ω: common practice)
derived-budget = { $source } { $ohms } ({ $how })
derived-then = { $first }; { $then }
derived-uncertainty = U = 2 × √(sum of squares) = 2 × { $standard } = { $expanded } Ω
derived-limits = { $low } to { $high } Ω at { $at } °C ({ $source }) become { $low-now } to { $high-now } Ω at { $now }, { $rule }
derived-against-the-window = { $stand }; probability of conformity { $conforming }
derived-expectation = mean of the { $agreeing } others that agree { $mean } Ω{ $window ->
    [none] {""}
   *[other] { $window }
}; a sound member differs by u = { $member }; together √({ $own }² + { $of-expected }²) = { $scale }
derived-against-the-family = |{ $value } − { $expected }| / { $scale } = { $score }, limit { $limit }: { $stand }
derived-verdict = { $class }{ $because ->
    [none] {""}
   *[other] { $because }
}

uncertainty-source-meter = meter
uncertainty-source-leads = leads
uncertainty-source-repeats = repeats
uncertainty-source-contact = contact
uncertainty-source-last-digit = last digit

meter-accuracy = ±({ $percent } % + { $digits } × { $step }){ $widened ->
    [none] {""}
   *[other] {" "}× { $widened } outside of its temperatures
} = ±{ $half } ({ $from-file ->
    [true] meter file
   *[false] no meter file: assumed
})
evaluated-meter = { $accuracy }, rectangular, /√3
evaluated-leads = { $ohms } taken off, from meter, contact and repeats
evaluated-repeats = standard deviation { $deviation } of { $count } readings, /√n
evaluated-contact = 0 to { $bound } rectangular, /√12{ $count ->
    [1] {""}
   *[other] , mean of { $count }: /√{ $count }
}
evaluated-last-digit = one step { $step } rectangular, /√12{ $count ->
    [1] {""}
   *[other] , mean of { $count }: /√{ $count }
}

finding-note-unsteady-before = It was over range or wandering before it read a steady number.
finding-note-cleaning-changed = The reading changed when the terminal was cleaned.
finding-note-family-only = This meter cannot tell the window; the circuit was held against its family.
finding-note-bus-joined = The wires of the bus are joined.
finding-note-bus-more = More than two terminators, or something else across the bus.
finding-note-bus-one-missing = One of the two terminators of the bus is missing, or a wire is open.
finding-note-bus-both-missing = Both terminators of the bus are missing, or its wires are open.
finding-note-bus-neither = Neither one nor two terminators read that: look for a bad contact on the bus.
finding-note-draws = At { $volts } V it draws { $amperes } A (I = V/R, directly switched).
finding-note-resistor-alone = It reads what the suppression resistor of { $ohms } Ω alone has: the coil is open.
finding-note-diode-both-ways = A diode lies across it: read it both ways round, the higher reading is the coil's.

outlier-test-grubbs = Grubbs, two-sided, 5 %: G = { $g }, critical { $critical }: { $outlier ->
    [true] an outlier
   *[false] no outlier
}
outlier-test-esd = generalised ESD, 5 %: one of { $outliers } outliers

## Further observations

code-stand-agrees = the readings agree
code-stand-sound = the readings at that circuit are sound so far
code-stand-not-read = it was not read yet, or could not be judged
code-stand-names-none = it does not say which circuit to look at

limit-by-given = given with the observation
limit-by-profile = by the profile: { $source }
limit-by-practice = common practice, no source

under-load = { $ohms } Ω at { $amperes } A
wires-add = ; two wires of { $mm2 } mm² and { $metres } m with their contacts add at most { $most } Ω (ISO 6722-1)

observation-code = the stored code { $code } names { $circuit ->
    [none] no circuit of this part
   *[other] { $circuit }
} (the circuit, not the part): { $stand }
observation-learned = learned, not published: { $circuit } read about { $expected } Ω on { $parts ->
    [one] one earlier part
   *[other] { $parts } earlier parts
}; { $ohms } Ω now is { $far ->
    [none] like that
   *[other] unlike that ({ $far } standard uncertainties)
}
observation-too-coarse = this meter cannot tell the window { $low } to { $high } Ω: in its { $full-scale } Ω range it is sure to ± { $expanded } Ω, the window is ± { $half-width } Ω; like circuits can still be held against each other
observation-pins = pin { $from } against pin { $to }: { $reading }
observation-pair = { $first } to { $second }: { $reading }
observation-joined = { $first } to { $second } reads { $ohms } Ω: joined
observation-joined-apart = { $first } to { $second } reads { $ohms } Ω though they share no pin: joined
observation-sum-pin-open = { $first } to { $second } reads { $ohms } Ω, the sum of both, while each is over range against pin { $pin }: that pin or what it leads to is open, not the circuits
observation-sum = { $first } to { $second } reads { $ohms } Ω, the sum of both through their return
observation-not-sum = { $first } to { $second } reads { $ohms } Ω, not the sum of both through their return ({ $sum } Ω)
observation-open-though-shared = { $first } to { $second } is over range though both share pin { $pin }
observation-apart = { $first } to { $second } is over range, as circuits apart from each other are
observation-family-temperature = { $family }: { $ohms } Ω in common means about { $likely } °C, if sound ({ $low } to { $high } °C by the window){ $agrees ->
    [true] , as said
    [false] ; the temperature said does not go with that
   *[none] {""}
}
observation-sensor-temperature = { $circuit } reads { $ohms } Ω: { $celsius } °C by its curve
observation-sensor-nowhere = { $circuit } reads { $ohms } Ω, which its curve has at no temperature from −200 to 850 °C
observation-load = wire of { $circuit } under load: { $lost } V ± { $expanded } of { $supply } V are lost on the way, limit { $limit } V ({ $by }){ $at ->
    [none] {""}
   *[other] : { $at }
}
observation-drop = { $joint } loses { $lost } V ± { $expanded }{ $at ->
    [none] {""}
   *[other] , { $at }
}, limit { $limit } V ({ $by })
observation-drop-wanders = { $joint } loses a voltage that wanders, limit { $limit } V ({ $by })
observation-drop-over-range = { $joint } is over range: choose a higher range, limit { $limit } V ({ $by })
observation-drop-not-measured = { $joint } was not measured, limit { $limit } V ({ $by })
observation-loop = the harness of { $circuit } adds { $added } Ω ± { $expanded }{ $wires ->
    [none] {""}
   *[other] { $wires }
}{ $less ->
    [true] ; less than nothing cannot be: one of both readings is off
   *[false] {""}
}
