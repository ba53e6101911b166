# What a session says. Short: it is heard with a probe in each hand. In the order that is needed: what was understood, what it
# means, what is next. Nothing here may sound like approval. What stands in quotation marks or after "say" has to be a command, or
# a phrase of the profile.

# Several lines in one breath.
message-prompt = { $it }
message-prepared = { $it }
message-read-back = { $it }
message-question = { $it }
message-info = { $it }
message-help = { $it }
message-concluded = { $it }
message-caution = { $it }
message-then = { $first } { $then }

## Prompts

prompt-codes = Did the scan tool show a stored code? Yes or no.
prompt-code-number = Which number? Or say no.
prompt-another-code = Another one? Its number, or no.
prompt-gate = { $instruction } Then say: { $confirm }.
    .keyed = { $instruction } When it is done ({ $confirm }), type its number.
prompt-say-what-was-done = Say what was done: { $confirm }.
    .keyed = Type the number of what was done ({ $confirm }).
prompt-temperature = Temperature of the part in degrees? Or say cold, warm, hot, or not sure.
    .keyed = Temperature of the part in degrees?
prompt-leads = Hold the probes together. What does the meter show?
prompt-leads-in-full = Say it with its point, as it stands there.
prompt-take = { CAPITAL($probed) }, { $circuit }.
prompt-once-more = { CAPITAL($probed) } once more, { $circuit }.
prompt-once-more-cleaned = { CAPITAL($probed) } once more, { $circuit }. Clean the terminal, probe again.
prompt-same-leads = Same leads on { $probed }, { $circuit }.
prompt-for-comparison = { CAPITAL($probed) }, { $circuit }, for comparison.
prompt-place = { CAPITAL($place) }. What does the meter show?
prompt-offer = Next, { $circuit } { $station-is ->
    [component] at the part
    [harness] at the control unit's plug
   *[case] at the part, to the case
}. Go there? Yes or no.
prompt-all-read = All read. Say finish for the conclusion.
    .keyed = All read. Enter for the conclusion.

instruction-written = { $it }
instruction-own = { $it }
own-gate-part-connected = Key and supply stay off. Reconnect the part.
own-gate-control-unit-unplugged = Unplug the control unit. Probe the harness plug alone, never the control unit.
own-gate-plug-dead = The pins of that plug against the case: no voltage.
own-gate-part-apart = Key and supply stay off. Connector of the part apart, control unit unplugged.
own-gate-highest-range = Meter on ohms, highest range. Fingers off the tips.
own-gate-part-apart-again = Key and supply stay off. Take the connector of the part apart again. Meter on ohms, lowest range.

probed-pins = pin { $pin } to pin { $against }
probed-pin = pin { $pin }
probed-plug-pins = plug pin { $pin } to plug pin { $against }
probed-plug = control unit's plug
probed-to-case = pin { $pin } to the case

# Shown beside the prompt, not spoken.
aside-type-code = or type { $code }
    .keyed = type { $code }
aside-not-sure-by-key = not sure: type **
aside-finish-by-key = or press Enter
    .keyed = press Enter

## Before measuring

prepared-no-code = No code.
prepared-codes-left-out = Codes left out.
prepared-not-a-code = That is not a valid code.
prepared-code-names = { $number }, { $circuit }.
prepared-code-names-nothing = { $number }, names no circuit here.
prepared-gate-done = { CAPITAL($confirm) }.
prepared-not-that-gate = Not that one.
prepared-never-left-out = This is never left out.
prepared-never-left-out-say-no = This is never left out. Say no to leave out { $circuit } there.
prepared-degrees = { $degrees } °C.
prepared-guessed = { CAPITAL($guess) }.
prepared-temperature-unknown = Temperature unknown.
prepared-no-temperature = That is no temperature. Degrees Celsius, please.
prepared-not-believed = { $degrees } degrees is not believed for a part. Say it again.
prepared-leads-taken = Leads { $leads }.
prepared-leads-high = Leads { $leads }. That is high; it goes into the record.
prepared-leads-open = The leads are open or not plugged in. Look at plugs and tips, then hold the probes together again.
prepared-leads-doubted = { CAPITAL($reading) } is not what sound leads read. Look at plugs and tips, then hold the probes together again.
prepared-leads-refused = { CAPITAL($reading) } is too much for any leads. Hold the tips hard together and say what it shows, or say skip to leave the leads out.
prepared-leads-unknown = The leads do not settle. They count as unknown.
prepared-leads-not-measured = Lead resistance not subtracted.

guess-cold = cold
guess-warm = warm
guess-hot = hot

## Readings said back

read-back-judged = { $reading }. { CAPITAL($class) }.
read-back-cannot-tell = { $reading }. { $class-is ->
    [outside-doubtful] Out, but this meter cannot tell.
   *[other] In, but this meter cannot tell.
}
read-back-alone = { $reading }.
read-back-left-out = Left out.
read-back-marked-digits = { $reading }, if { $digits } is right. { CAPITAL($class) }.
read-back-marked = { $reading }, not heard clearly. { CAPITAL($class) }.
read-back-differs = It read differently before.
read-back-meaning = { $class-is ->
    [within] That is well inside its window.
    [within-doubtful] Inside its window, but this meter cannot tell it from the limit.
    [outside-doubtful] Outside its window, but this meter cannot tell it from the limit.
    [outside] That is outside the expected range. It comes again at the end, with the terminal cleaned.
    [unlike-peers] It differs clearly from the others. It comes again at the end.
    [like-peers] It reads like the circuits that it should read like.
    [over-range-unchecked] Leads and contact are checked before it counts as open.
    [open] Leads and contact were checked: it is open.
    [shorted] Near zero after subtracting the leads.
    [unstable] Press the probes on firmly; it comes again at the end.
    [leakage] The resistance to case is too low.
    [not-judged] There is nothing yet to judge it by.
   *[not-taken] It was left out.
}

readout-plain = { $it }
readout-full = { $it }
readout-over-range = Over range
readout-unstable = Unstable
readout-not-taken = Not taken

## Questions

question-confirm = { CAPITAL($meant) }?
question-yes-or-no = Yes or no?
question-which = { CAPITAL($first) }, or { $second }?
question-say-which = Say which. { CAPITAL($first) }, or { $second }?
question-digit-by-digit = Say it digit by digit, with its point.
question-other-words = Not heard clearly. Say it in other words.
question-use-keys = Not heard clearly. Type it, or wait until it is quieter.
question-yes-no-by-keys = Not heard clearly. Enter is yes, minus twice is no.
question-finish-now = { $left } left. Finish now?
question-finish-all-read = All read. Finish now?
question-stop-now = Stop now, to go on another time?
question-phrase-again = Say it again: { $confirm }.
question-phrase-or-keys = Not heard clearly. Once more: { $confirm }. Or type { $code }.
question-type-code = Not heard clearly. Type { $code } when it is done.
question-again = Say it again.
question-again-or-keys = Not understood. Say it again, or use the keys.
question-not-ohms = That is not in ohms. Is the meter on ohms? Say it again.
question-below-zero = Below zero is no resistance: there is voltage on it. Take the probes off, check the supply.
question-more-than-meter-shows = { $shown } is more than this meter shows. Say it again.
question-more-places-than-meter-shows = { $number } has more places than this meter shows. Say it again.
question-less-than-leads = The leads alone read { $leads }. Zero the leads again? Yes or no.

## Answers

info-going-on-all-read = Going on. All was read. Safety and leads once more.
info-going-on = Going on. { $left } left. Safety, temperature and leads once more.
info-preparation-is-old = More than 30 minutes have passed. Safety, temperature and leads once more.
info-still-here = Still here.
info-not-understood = "{ $typed }" is not understood.
info-paused = Paused. Say back to work to go on.
    .keyed = Paused. Type g to go on.
info-resumed = Going on.
info-short-lines = Short lines.
info-full-lines = Full lines.
info-taken-back = Taken back.
info-nothing-to-take-back = Nothing more to take back.
info-say-again = Say it again.
info-say-wrong = Say wrong to take the last one back.
info-back = Back.
info-left-out = Left out.
info-not-yet = Not yet.
info-not-read-yet = Not read yet; say skip to leave it out.
info-nothing-read-yet = Nothing was read yet.
info-named = Pin { $pin } is { $name }.
info-name-not-taken = “{ $name }” is no name here: another one has it, or it is longer than 40 letters.
info-no-circuit-at = No circuit is measured at pin { $pin }.
info-like-this = Like this.
info-at-limit = That is as far as it goes.
info-stopped = Stopped. It can be resumed.
info-status = { $read } read, { $left } left.
info-why = { CAPITAL($circuit) }: { $class }{ $resistance ->
    [none] { "" }
   *[other] , { $resistance } after subtracting the leads
}{ $window ->
    [none] { "" }
   *[other] , window { $window }
}{ $unlike ->
    [true] , differs clearly from the others
   *[false] { "" }
}.
info-why-not-judged = { CAPITAL($circuit) }: not judged.
info-refused = { $why }
info-offer-why = { CAPITAL($why) }.
info-what-was = Pin { $pin }, { $circuit }:
info-pin-not-read = Pin { $pin } was not read.
info-last-time = In another session, on { $day } { $month ->
    [1] January
    [2] February
    [3] March
    [4] April
    [5] May
    [6] June
    [7] July
    [8] August
    [9] September
    [10] October
    [11] November
   *[12] December
} { $year }, { $circuit } read { $reading } { $same-part ->
    [true] at this part
   *[false] at a part of this kind, not known to be this one
}.
info-not-read-last-time = In the last session { $same-part ->
    [true] at this part
   *[false] at a part of this kind
}, on { $day } { $month ->
    [1] January
    [2] February
    [3] March
    [4] April
    [5] May
    [6] June
    [7] July
    [8] August
    [9] September
    [10] October
    [11] November
   *[12] December
} { $year }, { $circuit } was not read here.
info-first-time = The history has no earlier session of this part.
info-no-history = There is no history yet. It is made by the command history.
info-history-trouble = The history cannot be used: { $why }. The command history makes it anew with rebuild. This session goes on without it.
info-none-stands-out = None stands out so far.
info-nothing-to-compare = Nothing to compare yet.
info-where-is =
    { $place ->
        [none] Pin { $pin }: its place is not in the profile.
       *[other] Pin { $pin }: { $place }.
    }
info-no-pin-is-waiting = No pin is waiting.

# What may be said now, each with the commands that are always there.
help-gate = Say "{ $confirm }". { help-also }
help-temperature = Say degrees, or cold, warm, hot, not sure. { help-also }
help-station-gate = Say what was done, or no to leave it out. { help-also }
help-yes-or-no = Say yes or no. { help-also }
help-code-number = Say the number of the code, or no. { help-also }
help-all-read = Say finish, or change and a pin. { help-also }
help-reading = Say the reading, over range, or unstable. { help-also }
help-also = Also: repeat, wrong, back, skip, change pin, status, why, pause, stop.

## The conclusion

concluded-headline = { $it }
concluded-reason = { CAPITAL($it) }
concluded-not-excluded = Not excluded: { $it }
concluded-next = Next: { $it }
concluded-caution = { $it }
concluded-none = No conclusion: { $it }

## A profile that cannot be used

phrase-clash = gate { $gate }: "{ $phrase }" is a command or a reading already

## Verdicts, in one or two words

class-within = in
class-within-doubtful = in, close to the limit
class-outside-doubtful = out, close to the limit
class-outside = out
class-unlike-peers = unlike the others
class-like-peers = like the others
class-over-range-unchecked = over range
class-open = open
class-shorted = shorted
class-unstable = unstable
class-leakage = leakage to case
class-not-judged = noted
class-not-taken = not taken

station-component = at the part
station-harness = at the control unit's plug
station-case = to the case
