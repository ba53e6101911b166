# What the practice bench says.

bench-line-hello = SIMULATED: { $part }, on the bench. It is at { $degrees } °C. The bench shows the meter; you type what it shows. Also: where (are the probes), display, verdict.
bench-line-lesson = { $number }  { $about } ({ $profile })
bench-line-display = meter    { $it }
bench-line-nothing-shown = The probes lie on the bench.
bench-line-probes = { $it }
bench-line-your-verdict = Your verdict first. Which circuits would you replace or mend? Pins or names with commas between; Enter: none.
bench-line-no-circuit = There is no circuit “{ $typed }”.
bench-line-truth = { $faults-count ->
    [0] Nothing was wrong with it.
   *[other] What was wrong: { $faults }.
}
bench-line-score = { $it }

lesson-about-one-open = One coil is open
lesson-about-too-few = One coil has too few ohms
lesson-about-dirt = Too many ohms may be dirt
lesson-about-sound-or-not = Part or terminal?
lesson-about-two = Two faults at once
lesson-about-sensors = Sensors that change with temperature

probes-nowhere = The probes lie on the bench.
probes-together = The probes are held together.
probes-on = One probe is on pin { $pin }, the other one on pin { $against }.
probes-to-case = One probe is on pin { $pin }, the other one on the case.

truth = { $circuit }, { $fault }
bench-fault-open = open
bench-fault-shorted = shorted
bench-fault-shorted-turns = shorted turns
bench-fault-bad-joint = a bad joint inside
bench-fault-dirty-terminal = a dirty terminal
bench-fault-leak = leaks to the case

score = Score: { $found-count } found, { $missed-count } missed, { $wrongly-count } replaced for nothing, { $misread } misread, { $needless } needless readings.{ $missed-count ->
    [0] { "" }
   *[other] { " " }Missed: { $missed }.
}{ $wrongly-count ->
    [0] { "" }
   *[other] { " " }Sound: { $wrongly }.
}
