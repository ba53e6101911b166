# What is told of records: their proof, who judged, what was got out of a damaged one.

proof-whole = All { $lines } lines are as they were written, in their order.
proof-unprotected = { $lines } lines can be read. An older program began this journal: it has no hashes, a later change of it would not show.
proof-torn = The last line was cut off while it was written ({ $bytes } bytes are left of it). It was never acknowledged.
proof-mark = Mark: { $hash }
proof-mark-fits = The mark that you gave is the mark of this journal: nothing was cut off or added since.
proof-mark-earlier = The mark that you gave is that of line { $line }: up to there all is as it was. { $since } lines came after it.
proof-mark-other = No line of this journal has the mark that you gave: it is another journal, or lines at its end are missing.
proof-mark-unknown = The mark that you gave cannot be looked for: this journal has no hashes.
proof-clips = { $count } sound clips are as they were heard.
proof-clip-missing = Line { $line }: the sound clip { $clip } is not there.
proof-clip-changed = Line { $line }: the sound clip { $clip } is another one than was heard.
proof-clips-forgotten = { $count } sound clips were taken away on purpose; the journal says so.
proof-clips-unproved = { $count } sound clips are named of which the journal has no hash.
proof-fingerprints-fit = Profile and meter file in the journal are those that their fingerprints name.
proof-profile-other = The profile in the journal is another one than its fingerprint names.
proof-meter-other = The meter file in the journal is another one than its fingerprint names.
proof-said-fits = { $readings } readings were said back as they stand in the journal.
proof-said-other = Line { $line }: the journal has { $now ->
    [none] no reading
   *[other] { $now }
}, but what was said to it was: { $said }
proof-salvaged = This journal was made of what was sound in { $from }; { $lost } of its lines are lost.
proof-concluded = Its conclusion is kept in it, by the engine { $engine }, version { $version }.
proof-not-concluded = No conclusion is kept in it.

judged-line-kept = Judged when the session was concluded, { $at }, by the engine { $engine }, version { $version }.
judged-line-not-concluded = No conclusion yet. Judged now, by the engine { $engine }, version { $version }.
judged-line-not-kept = The program of then kept no conclusion. Judged now, by the engine { $engine }, version { $version }: it need not be what was said then.
judged-line-other-form = Judged when the session was concluded, by the engine { $then }, version { $then-version }: { $headline } What stands above is judged now, by the engine { $engine }, version { $version }.
judged-line-again-same = Judged again, by the engine { $engine }, version { $version }: the same.
judged-line-again-other = Judged again, by the engine { $engine }, version { $version }: { $count } differences.

difference-headline = then: { $then } now: { $now }
difference-cause = likeliest cause then: { $then }{ $of-then ->
    [none] {""}
   *[other] {" "}({ $of-then })
}; now: { $now }{ $of-now ->
    [none] {""}
   *[other] {" "}({ $of-now })
}
difference-class = { $circuit } ({ $station }): then { $then ->
    [none] not judged
   *[other] { $then }
}, now { $now ->
    [none] not judged
   *[other] { $now }
}

told-verified = Nothing speaks against this journal.
told-not-verified = { $faults ->
    [1] One thing speaks
   *[other] { $faults } things speak
} against this journal.
told-fault = NOT AS IT WAS: { $what }
told-salvaged-to = New journal: { $path } ({ $kept } lines, { $clips } clips taken over)
told-nothing-lost = No line is lost.
told-lines-lost = Lost: { $count ->
    [1] line
   *[other] lines
} { $lines } of the old file.
told-lines-mended = One wrong byte was put right, proved by its hash, in line { $lines } of the old file.
told-end-lost = Lost: { $bytes } bytes at the end, which are no whole line.
told-old-untouched = The old journal is where it was: { $path }

told-history-session = { $begun }  { $part }  { $ending ->
    [concluded] concluded
    [stopped] stopped, open
   *[other] broken off, open
}{ $serial ->
    [none] {""}
   *[other] , serial { $serial }
}{ $vehicle ->
    [none] {""}
   *[other] , vehicle { $vehicle }
}{ $order ->
    [none] {""}
   *[other] , order { $order }
}{ $job ->
    [none] {""}
   *[other] , { $job }
}{ $simulated ->
    [true] , simulated
   *[other] {""}
}
told-history-count = { $shown } of { $all } sessions.
told-one-file = Page with sound: { $page } ({ $kilobytes } kB, { $clips ->
    [one] one clip
   *[other] { $clips } clips
} in it)
told-not-enclosed = Not in it: { $clip }. { $why }
told-history-without = Missing in the history: { $path }. { $why }
told-last-time = The same part the last time, { $begun }: { $headline }
    { $path }
told-first-time = No earlier session of the same part ({ $identity }).
told-beside = { $circuit } ({ $station }): { $now } Ω at 20 °C{ $last ->
    [none] {""}
   *[other] ; last time { $last } Ω
}{ $median ->
    [none] ; no others yet
   *[other] ; learned from { $parts } others: { $median }{ $spread ->
        [none] {""}
       *[other] {" "}± { $spread }
    } Ω{ $off ->
        [none] {""}
       *[other] , off by { $off } of their spread
    }
}
told-nothing-to-compare = Nothing to compare: no reading of this session can be brought to 20 °C (temperature not known, or no number).
told-learned = { $circuit } ({ $station-is }): learned from { $parts } { $parts ->
    [1] part
   *[other] parts
}: { $median }{ $spread ->
    [none] {""}
   *[other] {" "}± { $spread }
} at 20 °C
told-learned-nothing = Nothing is learned of { $part } yet: it takes concluded sessions on real parts, with their temperature.

told-forgot = { $clips } sound clips are gone: { $path }
told-forgot-nothing = There was no sound to take away.
told-forgot-remains = What was read, heard as words and said remains, with names and numbers of the job. The journal says that its sound is gone.
