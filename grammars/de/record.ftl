# Was von Aufzeichnungen gesagt wird: ihr Nachweis, wer geurteilt hat, was aus einer beschädigten zu holen war.

proof-whole = Alle { $lines } Zeilen sind, wie sie geschrieben wurden, in ihrer Reihenfolge.
proof-unprotected = { $lines } Zeilen sind lesbar. Ein älteres Programm hat dieses Protokoll begonnen: es hat keine Prüfsummen, eine spätere Änderung fiele nicht auf.
proof-torn = Die letzte Zeile wurde beim Schreiben abgeschnitten ({ $bytes } Bytes sind davon übrig). Sie wurde nie bestätigt.
proof-mark = Marke: { $hash }
proof-mark-fits = Die angegebene Marke ist die dieses Protokolls: nichts wurde seither abgeschnitten oder angefügt.
proof-mark-earlier = Die angegebene Marke ist die der Zeile { $line }: bis dorthin ist alles, wie es war. { $since } Zeilen kamen danach.
proof-mark-other = Keine Zeile dieses Protokolls hat die angegebene Marke: es ist ein anderes, oder am Ende fehlen Zeilen.
proof-mark-unknown = Die angegebene Marke lässt sich nicht suchen: dieses Protokoll hat keine Prüfsummen.
proof-clips = { $count } Tonstücke sind, wie sie gehört wurden.
proof-clip-missing = Zeile { $line }: das Tonstück { $clip } ist nicht da.
proof-clip-changed = Zeile { $line }: das Tonstück { $clip } ist ein anderes, als gehört wurde.
proof-clips-forgotten = { $count } Tonstücke wurden mit Absicht entfernt; das Protokoll sagt es.
proof-clips-unproved = { $count } Tonstücke sind genannt, von denen das Protokoll keine Prüfsumme hat.
proof-fingerprints-fit = Profil und Messgerätedatei im Protokoll sind die, die ihre Fingerabdrücke nennen.
proof-profile-other = Das Profil im Protokoll ist ein anderes, als sein Fingerabdruck nennt.
proof-meter-other = Die Messgerätedatei im Protokoll ist eine andere, als ihr Fingerabdruck nennt.
proof-said-fits = { $readings } Messwerte wurden so zurückgesagt, wie sie im Protokoll stehen.
proof-said-other = Zeile { $line }: im Protokoll steht { $now ->
    [none] kein Messwert
   *[other] { $now }
}, gesagt wurde dazu aber: { $said }
proof-salvaged = Dieses Protokoll wurde aus dem gemacht, was in { $from } heil war; { $lost } Zeilen davon sind verloren.
proof-concluded = Der Befund ist darin aufgehoben, vom Urteilswerk { $engine }, Fassung { $version }.
proof-not-concluded = Kein Befund ist darin aufgehoben.

judged-line-kept = Geurteilt beim Abschluss, { $at }, vom Urteilswerk { $engine }, Fassung { $version }.
judged-line-not-concluded = Noch kein Befund. Geurteilt jetzt, vom Urteilswerk { $engine }, Fassung { $version }.
judged-line-not-kept = Das Programm von damals hat keinen Befund aufgehoben. Geurteilt jetzt, vom Urteilswerk { $engine }, Fassung { $version }: es muss nicht sein, was damals gesagt wurde.
judged-line-other-form = Geurteilt beim Abschluss, vom Urteilswerk { $then }, Fassung { $then-version }: { $headline } Was oben steht, ist jetzt geurteilt, vom Urteilswerk { $engine }, Fassung { $version }.
judged-line-again-same = Noch einmal geurteilt, vom Urteilswerk { $engine }, Fassung { $version }: dasselbe.
judged-line-again-other = Noch einmal geurteilt, vom Urteilswerk { $engine }, Fassung { $version }: { $count } Unterschiede.

difference-headline = damals: { $then } jetzt: { $now }
difference-cause = wahrscheinlichste Ursache damals: { $then }{ $of-then ->
    [none] {""}
   *[other] {" "}({ $of-then })
}; jetzt: { $now }{ $of-now ->
    [none] {""}
   *[other] {" "}({ $of-now })
}
difference-class = { $circuit } ({ $station }): damals { $then ->
    [none] nicht beurteilt
   *[other] { $then }
}, jetzt { $now ->
    [none] nicht beurteilt
   *[other] { $now }
}

told-verified = Nichts spricht gegen dieses Protokoll.
told-not-verified = { $faults ->
    [1] Eines spricht
   *[other] { $faults } Dinge sprechen
} gegen dieses Protokoll.
told-fault = NICHT WIE ES WAR: { $what }
told-salvaged-to = Neues Protokoll: { $path } ({ $kept } Zeilen, { $clips } Tonstücke übernommen)
told-nothing-lost = Keine Zeile ist verloren.
told-lines-lost = Verloren: { $count ->
    [1] Zeile
   *[other] Zeilen
} { $lines } der alten Datei.
told-lines-mended = Ein falsches Byte wurde berichtigt, durch die Prüfsumme bewiesen, in Zeile { $lines } der alten Datei.
told-end-lost = Verloren: { $bytes } Bytes am Ende, die keine ganze Zeile sind.
told-old-untouched = Das alte Protokoll liegt, wo es war: { $path }

told-history-session = { $begun }  { $part }  { $ending ->
    [concluded] abgeschlossen
    [stopped] angehalten, offen
   *[other] abgebrochen, offen
}{ $serial ->
    [none] {""}
   *[other] , Seriennummer { $serial }
}{ $vehicle ->
    [none] {""}
   *[other] , Fahrzeug { $vehicle }
}{ $order ->
    [none] {""}
   *[other] , Auftrag { $order }
}{ $job ->
    [none] {""}
   *[other] , { $job }
}{ $simulated ->
    [true] , simuliert
   *[other] {""}
}
told-history-count = { $shown } von { $all } Sitzungen.
told-one-file = Seite mit Ton: { $page } ({ $kilobytes } kB, { $clips ->
    [one] eine Aufnahme
   *[other] { $clips } Aufnahmen
} darin)
told-not-enclosed = Nicht darin: { $clip }. { $why }
told-history-without = Fehlt in der Geschichte: { $path }. { $why }
told-last-time = Dasselbe Teil beim letzten Mal, { $begun }: { $headline }
    { $path }
told-first-time = Keine frühere Sitzung desselben Teils ({ $identity }).
told-beside = { $circuit } ({ $station }): { $now } Ω bei 20 °C{ $last ->
    [none] {""}
   *[other] ; letztes Mal { $last } Ω
}{ $median ->
    [none] ; noch keine anderen
   *[other] ; gelernt von { $parts } anderen: { $median }{ $spread ->
        [none] {""}
       *[other] {" "}± { $spread }
    } Ω{ $off ->
        [none] {""}
       *[other] , um das { $off }-Fache ihrer Streuung daneben
    }
}
told-nothing-to-compare = Nichts zu vergleichen: kein Messwert dieser Sitzung lässt sich auf 20 °C umrechnen (Temperatur unbekannt, oder keine Zahl).
told-learned = { $circuit } ({ $station-is }): gelernt von { $parts } { $parts ->
    [1] Teil
   *[other] Teilen
}: { $median }{ $spread ->
    [none] {""}
   *[other] {" "}± { $spread }
} bei 20 °C
told-learned-nothing = Von { $part } ist noch nichts gelernt: dazu braucht es abgeschlossene Sitzungen an wirklichen Teilen, mit ihrer Temperatur.

told-forgot = { $clips } Tonstücke sind fort: { $path }
told-forgot-nothing = Es war kein Ton zu entfernen.
told-forgot-remains = Was abgelesen, als Wörter gehört und gesagt wurde, bleibt, mit Namen und Nummern des Auftrags. Das Protokoll sagt, dass sein Ton fort ist.
