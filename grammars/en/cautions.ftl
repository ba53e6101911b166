# The program's own cautions, and waiting times at gates. Said once a session, where each belongs. Common practice of the trade, no source.

message-own-caution = { $it }
own-caution-first-of-all = The vehicle maker's information, local codes and licensed practice come before anything said here. Stop rather than guess.
own-caution-never-ohmmeter = No ohmmeter on airbag, belt tensioner or other pyrotechnic circuits. High voltage is for people qualified for it.
own-caution-around-you = A raised vehicle is on stands. Hot and moving parts have cooled and stopped. No sparks near fuel vapour or battery gas.
own-caution-battery-off = Taking a battery off can lose codes, radio locks and learned values. Airbag systems keep their charge for minutes: wait as long as the maker says.
own-caution-stored-charge = Drivers of injectors and lamps can hold a charge after key off. Take nothing for dead until it is measured.
own-caution-static = Touch bare metal of the vehicle before you touch terminals: static discharge destroys control units.
own-caution-meter-and-leads = Only a meter and fused leads whose category covers the circuit, undamaged, and the probes in the right sockets.
own-caution-one-gate = This profile makes one thing safe only. Key, supply, stored charge and a circuit proven dead are for you to see to.
own-caution-power-is-on = For this check the power is on again: meter on volts, never on ohms. Hands and tools clear of moving parts, no shorts with the probe tips.

prompt-timed-gate = { $instruction } I keep the time: { $minutes } { $minutes ->
    [one] minute
   *[other] minutes
}. If it has passed already, say: { $confirm }.
    .keyed = { $instruction } I keep the time: { $minutes } { $minutes ->
        [one] minute
       *[other] minutes
    }. If it has passed already ({ $confirm }), type its number.
info-minutes-left = { $left } { $left ->
    [one] minute
   *[other] minutes
} left.
info-time-passed = { $minutes } { $minutes ->
    [one] minute is
   *[other] minutes are
} over. Say: { $confirm }.
    .keyed = { $minutes } { $minutes ->
        [one] minute is
       *[other] minutes are
    } over. Type the number.
prepared-passed-by-word = { CAPITAL($confirm) }: by your word, { $timed } of { $of } minutes timed here.

own-gate-meter-proven = Meter on volts, leads in common and volts. Measure a battery that you know.
own-gate-meter-proven-again = Measure the known battery once more.
own-gate-back-on-ohms = Meter back on ohms. Leads in common and ohms.

profile-doubt-one-gate = there is one gate only ("{ $confirm }"). Key, supply, waiting, meter proven, circuit dead, meter proven again: say which of them it needs
profile-doubt-dead-unproven = gate { $gate } states that something is dead. Put a gate before it that proves the meter on a known source (id ending in meter-proven), and one after it (meter-proven-again)
concluded-power-is-on = { own-caution-power-is-on }
