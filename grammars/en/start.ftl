# What is said and shown before a session: where the program's own files lie.

own-files-model = speech model
own-files-grammars = languages
own-files-profiles = profiles
own-files-meters = meters
own-files-demo = demo
place-kind-personal = your own folder
place-kind-beside = beside the program
place-kind-share = installed
place-kind-source = source tree
place-kind-system = the system's folder
located-found = { $path } ({ $place })
located-built-in = built into the program
located-missing = missing. Looked in { $looked }. Install bothhands again, or unpack its archive whole.

## The first screen

start-note-headline = bothhands: an extra pair of hands while yours hold the probes.
ready-microphone = microphone  works: { $name }
ready-no-microphone = microphone  NONE: { $why }. The keys do everything meanwhile.
ready-no-model = microphone  NOT USED, the speech model is at fault: { $why }
ready-voice = voice       works
ready-no-voice = voice       NONE ({ $why }). Install speech-dispatcher and espeak-ng; until then read the screen.
ready-no-sound-in-build = sound       not in this build: keys and screen alone
ready-keys-alone = sound       switched off in the settings: keys and screen alone
ready-keys = keys        work{ $device ->
    [none] { "" }
   *[other] , and { $device }
}: the numeric keypad alone does everything

start-question-offer = What would you like to do?
    .spoken = What would you like to do? Say the number.
start-question-part = Which part?
    .spoken = Which part? Say its number on the screen.
start-question-pins = How many pins does the part have?
start-question-common = Which pin does one probe stay on? 0: none, pins are read in pairs.
    .spoken = Which pin does one probe stay on? Zero for none.
start-question-meter = Which meter?
    .spoken = Which meter? Say its number on the screen.
offer-demo = demo: watch and hear a whole job, 3 minutes, everything invented
    .spoken = demo
offer-with-profile = measure a part that has a profile
offer-without-profile = measure a part without a profile: its pins are enough
    .spoken = measure a part without a profile
offer-new-profile = make a profile of a part, by typed questions
    .spoken = make a profile
offer-sound-check = sound check: room, microphone, ten numbers, 1 minute
    .spoken = sound check
offer-practise = practise: a bench with an invented part, by keys
    .spoken = practise
start-line-offered = { $number }  { $offer }
    .spoken = { $number }: { $offer }.
start-line-named = { $number }  { $title }
start-note-answer-by-key = Press the number; 0 leaves.
start-note-answer-by-key-or-voice = Press the number or say it; 0 leaves.
start-note-answer-and-enter = Several digits: end with Enter.
start-note-heard = heard { $number }
start-note-heard-in-doubt = Not heard clearly. Say it again, or press it.
start-note-no-such-number = That number is not there. From 1 to { $most }.
start-note-no-terminal = Here nothing can be asked: name part and meter. For example:
    bothhands --profile sweeper-valve-block --meter handheld-60000
    bothhands --help lists the rest.
