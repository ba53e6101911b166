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
suspicion-family-off = all of { $circuits } are off alike: the wrong window, or a cause that they share
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
