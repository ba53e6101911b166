# The screen's own labels, what is told of the devices, and how signs are spoken.

# The word in front of a line: at most eight letters. The large view shows it in capitals.
who-careful = careful
who-asks = asks
who-says = says
who-result = result
who-heard = heard
who-typed = typed
who-meter = meter
who-notice = notice

label-journal = Journal: { $path }
label-report = Report:  { $path }
label-mark = Mark:    { $hash }
label-passed-over = notice   A damaged journal was passed over. { $why } To get out of it what is sound: bothhands salvage { $path }
label-heard-unsure = { $second ->
    [none] "{ $first }", not sure
   *[other] "{ $first }" or "{ $second }", not sure
}
label-heard-nothing = "{ $words }", which says nothing here

# Where the session stands, at the top.
label-stage-paused = paused
label-stage-codes = stored codes
label-stage-station = another station
label-stage-make-safe = make safe { $place } of { $of }
label-stage-temperature = temperature of the part
label-stage-leads = zero of the leads
label-stage-reading = reading { $place } of { $of }
label-stage-all-read = all read
label-stage-ended = ended

# Read from two metres: capitals without accents, as few as will do.
label-large-paused = PAUSED
label-large-at-plug = AT PLUG
label-large-to-case = TO CASE
label-large-make-safe = MAKE SAFE
label-large-codes = CODES
label-large-go-there = GO THERE?
label-large-temperature = TEMPERATURE
label-large-leads = LEADS
label-large-all-read = ALL READ
label-large-ended = ENDED
# A capital M could be taken for milli.
label-large-number = { $number }{ $prefix-is ->
    [mega] { " MEG" }
   *[other] { $prefix }
}
label-large-over-range = OVER
label-large-unstable = MOVES
label-large-not-taken = -
label-large-verdict = { $class-is ->
    [within] IN
    [within-doubtful] IN ?
    [outside-doubtful] OUT ?
    [outside] OUT
    [unlike-peers] UNLIKE
    [like-peers] LIKE
    [over-range-unchecked] OVER
    [open] OPEN
    [shorted] SHORT
    [unstable] MOVES
    [leakage] LEAKS
    [not-judged] NOTED
   *[not-taken] LEFT OUT
}

label-progress = { $done } of { $planned } read
label-invented = INVENTED
label-pin = PIN
label-against = to pin { $against }: { $circuit }
label-probe = PIN { $pin } to { $against }, { $circuit }
label-last = LAST  pin { $pin }: { $reading }, { $verdict }
label-last-short = LAST  { $reading }, { $verdict }
label-last-none = LAST  nothing read yet
label-keys = Enter takes it   Tab talk   ? help   Ctrl-C stop
label-hears = HEARS
label-ears-none = nothing: keys alone
label-ears-own-voice = shut while the voice speaks; a key stops it
label-ears-shut = shut: press Tab or hold the pedal to talk
label-ears-open = listening
label-ears-levels = { $speech ->
    [true] speech
   *[false] listening
}, { $level } dB in a room of { $room } dB{ $lost ->
    [0] { "" }
   *[other] , { $lost } samples lost
}
label-place-of-pin =
    { $place ->
        [none] Pin { $pin }: its place is not in the profile
       *[other] Pin { $pin }: { $place }
    }
label-seen-from = seen { $from }
label-legend = [ ] probe here   ( ) other probe   + read   ! suspect

## Devices

device-no-microphone = There is no microphone: keys alone.
device-microphone-on-pressing = The microphone listens while the talk key or the pedal is pressed.
device-microphone-open = The microphone is open.
device-microphone-gone = The microphone is gone. Use the keys.
device-microphone-back = The microphone is back.
device-told = { $it }

# The meter on a line.
meter-trouble-not-named = No meter is on a line: start with --meter-port. Say what the display shows.
meter-trouble-gone = The meter's line { $port } cannot be used: { $why }. Plug it in and take it again, or say the reading.
meter-trouble-silent = The meter does not answer. Check its cable and that it is set to send, or say the reading.
meter-trouble-refuses = The meter refuses: { $error }. Say the reading.
meter-trouble-no-reading = The meter sent "{ $sent }", which is no reading. Check the speed of its line, or say the reading.
meter-trouble-no-number = The meter shows no number. Take it again, or say what the display shows.
meter-trouble-not-ohms = The meter is not on ohms. Set it to ohms and take it again.
meter-trouble-restless = The display does not stand still. Hold the probes and take it again, or say unstable.

voice-trouble-lost = The voice was lost ({ $why }) and is started again.
voice-trouble-none = No voice: { $why }
voice-trouble-unchanged = The voice cannot be changed: { $why }
voice-trouble-loudspeaker-gone = The loudspeaker is gone ({ $why }). It is looked for.
voice-trouble-loudspeaker-back = The loudspeaker is back.
voice-trouble-ran-dry = The loudspeaker had to wait for sound { $times } times, the machine was too slow.
voice-trouble-not-spoken = A line could not be spoken: { $why }

## How signs are spoken

symbol-milliohms = milliohms
symbol-kilohms = kilohms
symbol-megohms = megohms
symbol-ohms = ohms
symbol-degrees = degrees
symbol-plus-or-minus = plus or minus
symbol-minus = minus
symbol-percent = percent
symbol-at-most = at most
symbol-at-least = at least
symbol-to = to
symbol-times = times
