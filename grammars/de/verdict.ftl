# Was ein Urteil sagt: der Satz vorn, Gründe, was nicht ausgeschlossen ist, nächste Prüfungen, wie es gerechnet ist.

## Namen von Stromkreisen

named-circuits-one = { $it }
named-circuits-all = { $it }
named-circuits-more = { $first }, { $second }, { $third } und { $more } weitere

## Was ein Stromkreis tut, nach seinem Namen

does-shorted = Kurzschluss
does-leaks-to-case = Schluss zum Gehäuse
does-open = offen, an seinem Kontakt oder dahinter
does-over-range = Überlauf, Kontakt nicht geprüft
does-beside-others = { $ohms } Ohm, die anderen { $others }
does-beside-other = { $ohms } Ohm, der andere { $other }
does-beside-limits = { $ohms } Ohm, Grenzen { $low } bis { $high }
does-reads = { $ohms } Ohm
does-class = { $it }

## Was nicht stimmen mag, in einem Satz

suspicion-nothing = kein Fehler
suspicion-other = etwas anderes
suspicion-off = { $circuit } weicht ab, { $does }
suspicion-several-off = { $circuits } weichen ab
suspicion-family-off = { $circuits-is ->
    [one] { $circuits } außerhalb der Grenzen, und diese können die falschen sein
   *[other] { $circuits } weichen alle gleich ab: falsche Grenzen, oder eine gemeinsame Ursache
}
suspicion-disagree = { $circuits } widersprechen sich
suspicion-all-shorted = { $circuits } zeigen fast null: ein Kurzschluss, oder die Messspitzen berühren sich
suspicion-pin-loose = Wackelkontakt am gemeinsamen Pin { $pin }
suspicion-pin-open = gemeinsamer Pin { $pin } offen: die Klemme, sein Kontakt, oder dahinter
suspicion-pin-adds = gemeinsamer Pin { $pin } mit { $ohms } Ohm zu viel: die Klemme, sein Kontakt, oder dahinter
suspicion-leads-broken = eine Messleitung oder das Messgerät ist unterbrochen
suspicion-lead-zero-low = der Nullwert der Messleitungen ist falsch, um etwa { $ohms } Ohm zu klein
suspicion-lead-zero-high = der Nullwert der Messleitungen ist falsch, um etwa { $ohms } Ohm zu groß
suspicion-temperature = das Bauteil hat etwa { $celsius } °C, anders als angegeben
suspicion-joined = { $circuits } sind miteinander verbunden
suspicion-pair-contradicts = der Messwert zwischen { $circuits } widerspricht ihren eigenen: noch einmal messen
suspicion-swapped = { $circuits } sind vertauscht
suspicion-slip = Einheit oder Komma von { $circuits } stimmt nicht: noch einmal ansagen
suspicion-to-case = { $circuits } { $circuits-is ->
    [one] hat
   *[other] haben
} Schluss zum Gehäuse
suspicion-pin-to-case = gemeinsamer Pin { $pin } hat Schluss zum Gehäuse
suspicion-cured = schlechter Kontakt an { $circuits }, durch Reinigen behoben
suspicion-wire = die Leitungen von { $circuits }: am Bauteil in Ordnung, durch den Kabelbaum nicht
suspicion-wire-adds = eine gemeinsame Leitung des Kabelbaums gibt allen { $ohms } Ohm dazu
suspicion-wire-open = eine gemeinsame Leitung des Kabelbaums ist unterbrochen
suspicion-load = die Leitungen von { $circuits } verlieren unter Last zu viel
suspicion-elsewhere = { $circuits } { $circuits-is ->
    [one] ist
   *[other] sind
} in Ordnung, und die Ursache des Fehlercodes liegt anderswo
suspicion-and = { $first }, und { $then }
suspicion-or = { $first }, oder { $then }

## Der Satz vorn

headline-nothing-measured = Noch nichts gemessen.
headline-nothing-found = Kein Fehler in den Messwerten gefunden.{ $smallest ->
    [none] {""}
   *[other] {" "}Eine Abweichung unter { $smallest } % fiele nicht auf.
}
headline-nothing-so-far = Bisher kein Fehler: { $taken } von { $askable } gemessen.
headline-not-all-judged = Kein Fehler gefunden; { $unjudged } nicht zu beurteilen.
headline-cured = Reinigen hat { $circuits } in Ordnung gebracht: ein schlechter Kontakt.
headline-failed = { CAPITAL($circuits) } defekt{ $does ->
    [none] .
   *[other] : { $does }.
}
headline-probably-off = { CAPITAL($circuits) } wahrscheinlich nicht in Ordnung{ $does ->
    [none] .
   *[other] : { $does }.
}
headline-surely = { CAPITAL($what) }.
headline-probably = Wahrscheinlich: { $what }.
headline-elsewhere = Die Stromkreise sind in Ordnung, aber ein Fehlercode ist gespeichert: nach Versorgung, Steuergerät und Mechanik sehen.
headline-load = Die Stromkreise sind in Ordnung, aber die Leitungen verlieren unter Last zu viel.
headline-then = { $first } { $then }
headline-one-of = Eines davon: { $what }.
headline-disagree = { CAPITAL($circuits) } widersprechen sich, und nichts sagt, wer recht hat.
headline-perhaps = Noch nicht zu sagen, vielleicht: { $what }.
headline-cannot-tell = Mit diesen Messwerten nicht zu sagen.
headline-too-close = Nicht zu sagen: { $circuits } näher an einer Grenze, als dieses Messgerät unterscheiden kann.
headline-in-doubt = Noch nicht zu sagen: { $circuits } zweifelhaft.

## Gründe, und was mehrere zusammen zeigen

grounds-none-off = { $readings } Messwerte, keiner weicht ab{ $percent ->
    [none] {""}
   *[other] {" "}({ $percent } %)
}
grounds-not-judged = Stromkreise, die nicht gemessen wurden oder nicht zu beurteilen sind{ $percent ->
    [none] {""}
   *[other] {" "}({ $percent } %)
}
grounds-suspected = { $what }{ $percent ->
    [none] {""}
   *[other] {" "}({ $percent } %)
}
grounds-stayed-so = { $circuit } blieb so, nachdem der Kontakt gereinigt und neu gemessen war

together-suspected = { $it }
together-drift = { $circuit } zeigte zuerst { $from } Ω und später { $to } Ω: Messleitungen, Temperatur oder Kontakt haben sich dazwischen verändert

## Was nicht ausgeschlossen ist

not-excluded-bad-contact = Ein schlechter Kontakt an { $circuit }: er wurde nicht gereinigt und neu gemessen.
not-excluded-terminal-or-inside = { $circuit }: der Kontakt selbst, oder ein Draht dahinter im Bauteil.
not-excluded-contact-unchecked = Ein schlechter Kontakt an { $circuit }: die Kontaktprüfung ist nicht fertig.
not-excluded-not-measured = Nicht gemessen: { $circuits }.
not-excluded-nothing-to-judge-by = Gemessen, aber ohne Maßstab: { $circuits }.
not-excluded-no-ohmmeter = Kein Ohmmeter darf daran: { $circuits }.
not-excluded-harness = Der Kabelbaum: durch ihn wurde nichts gemessen.
not-excluded-leakage = Schluss zum Gehäuse: nicht gemessen.
not-excluded-insulation = Isolation bei Betriebsspannung: die wenigen Volt eines Messgeräts beweisen sie nicht.
not-excluded-intermittent = Ein Wackelkontakt: ein Stromkreis war unruhig, bevor eine Zahl kam.
not-excluded-may-fail-again = { $circuit } zeigte anderes, bevor der Kontakt gereinigt war: der Kontakt kann wieder ausfallen.

## Was zu bedenken ist

caveat-sound-ohms = Gute Ohmwerte beweisen nicht, dass das Bauteil arbeitet: ein Ventil kann klemmen, eine Verbindung unter Last versagen.
caveat-an-aid = Dies hilft einer Fachkraft und ist keine Freigabe. Die Unterlagen des Herstellers gehen vor.
caveat-no-meter-file = Keine Messgerätedatei: als Genauigkeit wurde ±({ $percent } % + { $digits } Digits) angenommen.
caveat-no-temperature = Die Temperatur des Bauteils ist nicht bekannt; die Grenzen wurden dafür erweitert.
caveat-no-leads = Die Messleitungen wurden nicht gemessen.
caveat-high-leads = Die Messleitungen haben { $ohms } Ω: sie können beschädigt sein.
caveat-unsteady-leads = Die Messleitungen zeigten bis zu { $ohms } Ω Unterschied: sie können beschädigt sein.
caveat-diode = Eine Löschdiode liegt über einem Stromkreis: welche Messspitze wo liegt, ändert den Messwert.

## Nächste Prüfungen

next-step-higher-range = { CAPITAL($circuit) } in einem höheren Bereich noch einmal messen.
next-step-known-good = { CAPITAL($circuit) } mit denselben Messleitungen noch einmal messen.
next-step-clean = Den Kontakt von { $circuit } ansehen, reinigen und neu messen.
next-step-clean-more = Den Kontakt von { $circuit } noch einmal reinigen, nach seiner Feder sehen und neu messen.
next-step-probe-once-more = { CAPITAL($circuit) } noch einmal messen.
next-step-at-the-part = { CAPITAL($circuit) } am Bauteil selbst messen.
next-step-wiggle = { CAPITAL($circuit) } messen und dabei Leitung und Stecker bewegen.
next-step-same-pin = { CAPITAL($circuit) } messen, mit demselben gemeinsamen Pin.
next-step-zero-leads = Messspitzen zusammenhalten und sagen, was das Messgerät zeigt.
next-step-other-leads = Andere Messleitungen nehmen: ihre Spitzen zusammenhalten und sagen, was das Messgerät zeigt.
next-step-read = { CAPITAL($circuit) } messen.
next-step-say-unit = { CAPITAL($circuit) } noch einmal messen und die Einheit der Anzeige mit ansagen.
next-step-reseat = Messspitze vom gemeinsamen Pin { $pin } abnehmen, reinigen, wieder ansetzen und { $circuit } messen.
next-step-in-a-row = Von Pin { $from } nach Pin { $to } messen: { $first } und { $second } in Reihe.
next-step-between = Von Pin { $from } nach Pin { $to } messen, { $first } gegen { $second }.
next-step-temperature = Die Temperatur des Bauteils selbst messen.
next-step-through-harness = { CAPITAL($circuit) } durch den Kabelbaum messen, am Ende des Steuergeräts.
next-step-to-case = { CAPITAL($circuit) } am Bauteil vom Pin gegen das Gehäuse messen, Stecker getrennt.
next-step-wires-under-load = Beide Enden getrennt: die Leitungen von { $circuit } gegen Gehäuse, Versorgung und Nachbarn; dann Speisung und Masse unter Last.

next-why-only-more = Überlauf in diesem Bereich sagt nur, dass es mehr ist
next-why-leads-whole-and-open = kommt noch eine Zahl, sind Messleitungen und gemeinsamer Pin in Ordnung, und { $circuit } ist offen
next-why-may-be-contact = Überlauf kann allein vom Kontakt kommen
next-why-twice-is-open = einmal Überlauf mit gereinigtem Kontakt; zweimal heißt offen
next-why-cleaning-helped = Reinigen hat es verringert: der Rest kann auch der Kontakt sein
next-why-contact-reads-like-part = ein schlechter Kontakt zeigt dasselbe wie ein schlechtes Bauteil; bleibt der Wert, ist es das Bauteil oder seine Leitung
next-why-part-from-wires = es unterscheidet das Bauteil von seinen Leitungen
next-why-moved-is-intermittent = eine Zahl, die sich beim Bewegen ändert, ist ein Wackelkontakt
next-why-leads-whole = kommt eine Zahl, sind Messleitungen und gemeinsamer Pin in Ordnung
next-why-nothing-shows-leads = nichts anderes Gemessenes zeigt, dass die Messleitungen in Ordnung sind
next-why-not-read-yet = noch nicht gemessen
next-why-other-point = mit anderer Vorsilbe oder anderem Komma wäre der Wert wie die anderen
next-why-common-pin-not-circuits = kommt jetzt eine Zahl, war es der Kontakt am gemeinsamen Pin und nicht die Stromkreise
next-why-sum-is-whole = die Summe beider ohne den gemeinsamen Pin zeigt, dass die Stromkreise in Ordnung sind
next-why-nothing-is-joined = fast null dazwischen heißt: verbunden
next-why-leads-never-that = so viel haben Messleitungen nie: der Nullwert stimmt nicht, oder eine Messleitung ist beschädigt
next-why-less-than-nothing = ohne die Messleitungen bleibt weniger als null: ihr Messwert war zu hoch
next-why-leads-unsteady = die Messleitungen zeigen jedes Mal anderes: sie können beschädigt sein
next-why-moved = ein noch einmal gemessener Stromkreis weicht ab: Messleitungen, Temperatur oder Kontakt haben sich verändert
next-why-leads-unknown = die Messleitungen wurden nicht gemessen, kleine Widerstände sind so nicht gegen ihre Grenzen zu beurteilen
next-why-nothing-reads = gar nichts zeigt eine Zahl: so zeigt sich, ob Messleitungen und Messgerät in Ordnung sind
next-why-all-nothing = alle zeigen fast null: so zeigt sich, ob sich die Messspitzen berührten
next-why-lead-from-circuits = es unterscheidet Messleitung und Nullwert von den Stromkreisen
next-why-window-too-wide = ohne sie sind die Grenzen zum Beurteilen zu weit
next-why-like-temperature = viele weichen gemeinsam ab, wie durch Temperatur
next-why-code-not-read = der gespeicherte Fehlercode nennt diesen Stromkreis, und er wurde noch nicht gemessen
next-why-code-wires-next = der Fehlercode nennt diesen Stromkreis, und am Bauteil ist er in Ordnung: als Nächstes die Leitungen
next-why-case-is-left = an beiden Enden in Ordnung: es bleibt ein Schluss zum Gehäuse, dann die Leitungen für sich
next-why-before-control-unit = das Steuergerät wird erst danach genannt
next-why-by-profile = vom Profil genannt

## Ein Urteil mit seinen Herleitungen

explained-check = { $step } Warum: { $why }.{ $bits ->
    [none] {""}
   *[other] {" "}({ $bits } Bit)
}
explained-cross-check = Gegenprobe, die nicht entscheidet: { $text }
explained-remark = Hinweis: { $text }
explained-off-under = Wahrscheinlichkeit einer Abweichung: unter { $least }
explained-off-over = Wahrscheinlichkeit einer Abweichung: über { $most }
explained-off = Wahrscheinlichkeit einer Abweichung: { $probability }
explained-source = Quelle
explained-kind = Art
explained-standard-ohms = u in Ohm
explained-how = wie
explained-shared = (allen Stromkreisen gemeinsam)
explained-combined = zusammen
explained-root-of-squares = Wurzel der Quadratsumme
explained-expanded = erweitert

## Wie es gerechnet ist

step-name-readings = Messwerte
step-name-range = Bereich
step-name-contact-check = Kontaktprüfung
step-name-wander = Unruhe
step-name-mean = Mittel
step-name-leads-off = ohne Messleitungen
step-name-standard-uncertainties = Standardunsicherheiten in Ω
step-name-uncertainty = Unsicherheit
step-name-limits = Grenzen
step-name-against-the-window = gegen die Grenzen
step-name-expectation = was die anderen erwarten lassen
step-name-against-the-family = gegen die Familie
step-name-verdict = Urteil

reading-used-usual = #{ $id } { $reading }
reading-used-cleaned = #{ $id } { $reading } (Kontakt gereinigt)
reading-used-moved = #{ $id } { $reading } (bewegt)

wander-why-display = die Anzeige kam nicht zur Ruhe
wander-why-repeats = Wiederholungen liegen weiter auseinander als zweimal die Kontaktgrenze und ein Schritt
wander-why-moved = sie änderte sich, als Leitung oder Stecker bewegt wurde

limits-at-unknown = unbekannter Temperatur, { $low } bis { $high } °C
limits-at-exactly = { $celsius } °C
limits-at-between = { $low } bis { $high } °C

warmth-rule-copper = nach (234,5 + t₂)/(234,5 + t₁)
warmth-rule-coefficient = nach seinem Koeffizienten bei 20 °C
warmth-rule-platinum = nach IEC 60751
warmth-rule-b-equation = nach der B-Gleichung
warmth-rule-table = nach seiner Tabelle
warmth-rule-none = ohne Änderung mit der Temperatur

window-stand-within = innerhalb, um mehr als U
window-stand-within-doubtful = innerhalb, oder bei einer möglichen Temperatur innerhalb, aber nicht um mehr als U
window-stand-outside-doubtful = außerhalb, aber um weniger als U
window-stand-outside = außerhalb, um mehr als U

family-stand-like = wie die anderen
family-stand-unlike = anders als die anderen
family-stand-undecided = sie widersprechen sich, und keine Mehrheit sagt, wer recht hat
family-stand-alone = keine anderen

likelihood-under = unter { $it }
likelihood-over = über { $it }
likelihood-about = { $it }

member-differs-as-seen = eigene Streuung der Familie, größer als ihre Toleranz: { $own }
member-differs-by-tolerance = √(({ $percent } % × { $mean })²/3 + { $random }²) = { $own }

window-weighed = ; gewichtet mit der Mitte der Grenzen { $middle } ± { $standard } (1/u²): { $expected } ± { $of-expected }

class-reason-not-known-well = : Temperatur oder Messleitungen sind dafür nicht genau genug bekannt
class-reason-nothing-yet = : noch nichts, woran es zu messen wäre
class-reason-nothing-left = : ohne die Messleitungen bleibt nichts
class-reason-still-so = , und auch mit gereinigtem und neu gemessenem Kontakt so

derived-none-taken = keine
derived-readings = { $station }: { $readings }
derived-range-too-low = er endet bei { $ends } Ω, und ein guter Stromkreis kann mehr haben: ein höherer ist nötig
derived-contact-check = { $over ->
    [one] einmal
   *[other] { $over } Mal
} Überlauf seit dem Reinigen des Kontakts (2 sind nötig); ein anderer Stromkreis zeigte danach mit denselben Messleitungen eine Zahl: { $proven ->
    [true] ja
   *[false] noch nicht
}
derived-wander = { $why }{ $low ->
    [none] {""}
   *[other] {" "}von { $low } bis { $high } Ω
}
derived-mean = { $ohms } Ω aus { $count } Messwerten
derived-leads-off = { $shown } − { $leads } = { $left } Ω
derived-leads-relative = { $left } Ω, das Messgerät hat sie abgezogen
derived-leads-unknown = nicht gemessen: der Stromkreis hat zwischen { $low } und { $high } Ω (Messleitungen mit 0 bis { $most } Ω angenommen: übliche Praxis)
derived-budget = { $source } { $ohms } ({ $how })
derived-then = { $first }; { $then }
derived-uncertainty = U = 2 × √(Quadratsumme) = 2 × { $standard } = { $expanded } Ω
derived-limits = { $low } bis { $high } Ω bei { $at } °C ({ $source }) werden { $low-now } bis { $high-now } Ω bei { $now }, { $rule }
derived-against-the-window = { $stand }; Wahrscheinlichkeit der Konformität { $conforming }
derived-expectation = Mittel der { $agreeing } anderen, die übereinstimmen, { $mean } Ω{ $window ->
    [none] {""}
   *[other] { $window }
}; ein gutes Mitglied weicht ab um u = { $member }; zusammen √({ $own }² + { $of-expected }²) = { $scale }
derived-against-the-family = |{ $value } − { $expected }| / { $scale } = { $score }, Grenze { $limit }: { $stand }
derived-verdict = { $class }{ $because ->
    [none] {""}
   *[other] { $because }
}

uncertainty-source-meter = Messgerät
uncertainty-source-leads = Messleitungen
uncertainty-source-repeats = Wiederholung
uncertainty-source-contact = Kontakt
uncertainty-source-last-digit = letzte Stelle

meter-accuracy = ±({ $percent } % + { $digits } × { $step }){ $widened ->
    [none] {""}
   *[other] {" "}× { $widened } außerhalb seiner Temperaturen
} = ±{ $half } ({ $from-file ->
    [true] Messgerätedatei
   *[false] keine Messgerätedatei: angenommen
})
evaluated-meter = { $accuracy }, rechteckig, /√3
evaluated-leads = { $ohms } abgezogen, aus Messgerät, Kontakt und Wiederholung
evaluated-repeats = Standardabweichung { $deviation } von { $count } Messwerten, /√n
evaluated-contact = 0 bis { $bound } rechteckig, /√12{ $count ->
    [1] {""}
   *[other] , Mittel von { $count }: /√{ $count }
}
evaluated-last-digit = ein Schritt { $step } rechteckig, /√12{ $count ->
    [1] {""}
   *[other] , Mittel von { $count }: /√{ $count }
}

finding-note-unsteady-before = Vor der ruhigen Zahl war es Überlauf oder Unruhe.
finding-note-cleaning-changed = Der Messwert änderte sich, als der Kontakt gereinigt wurde.
finding-note-family-only = Dieses Messgerät kann die Grenzen nicht unterscheiden; der Stromkreis wurde gegen seine Familie gehalten.
finding-note-bus-joined = Die Leitungen des Busses sind verbunden.
finding-note-bus-more = Mehr als zwei Abschlusswiderstände, oder etwas anderes liegt über dem Bus.
finding-note-bus-one-missing = Einer der beiden Abschlusswiderstände des Busses fehlt, oder eine Leitung ist unterbrochen.
finding-note-bus-both-missing = Beide Abschlusswiderstände des Busses fehlen, oder seine Leitungen sind unterbrochen.
finding-note-bus-neither = Das zeigen weder ein noch zwei Abschlusswiderstände: nach einem schlechten Kontakt am Bus suchen.
finding-note-draws = Bei { $volts } V fließen { $amperes } A (I = U/R, direkt geschaltet).
finding-note-resistor-alone = Gemessen ist, was der Löschwiderstand von { $ohms } Ω allein hat: die Spule ist unterbrochen.
finding-note-diode-both-ways = Eine Diode liegt darüber: in beiden Richtungen messen, der höhere Messwert ist der der Spule.

outlier-test-grubbs = Grubbs, zweiseitig, 5 %: G = { $g }, kritisch { $critical }: { $outlier ->
    [true] ein Ausreißer
   *[false] kein Ausreißer
}
outlier-test-esd = verallgemeinerter ESD-Test, 5 %: einer von { $outliers } Ausreißern

## Weitere Beobachtungen

code-stand-agrees = die Messwerte stimmen damit überein
code-stand-sound = die Messwerte dieses Stromkreises sind bisher in Ordnung
code-stand-not-read = noch nicht gemessen, oder nicht zu beurteilen
code-stand-names-none = damit ist nicht gesagt, welcher Stromkreis anzusehen ist

limit-by-given = mit der Beobachtung angegeben
limit-by-profile = nach dem Profil: { $source }
limit-by-practice = übliche Praxis, ohne Quelle

under-load = { $ohms } Ω bei { $amperes } A
wires-add = ; zwei Leitungen von { $mm2 } mm² und { $metres } m mit ihren Kontakten geben höchstens { $most } Ω dazu (ISO 6722-1)

observation-code = der gespeicherte Fehlercode { $code } nennt { $circuit ->
    [none] keinen Stromkreis dieses Bauteils
   *[other] { $circuit }
} (den Stromkreis, nicht das Bauteil): { $stand }
observation-learned = gelernt, nicht veröffentlicht: { $circuit } hatte an { $parts ->
    [one] einem früheren Bauteil
   *[other] { $parts } früheren Bauteilen
} etwa { $expected } Ω; { $ohms } Ω jetzt { $far ->
    [none] passen dazu
   *[other] passen nicht dazu ({ $far } Standardunsicherheiten)
}
observation-too-coarse = dieses Messgerät kann die Grenzen { $low } bis { $high } Ω nicht unterscheiden: im Bereich bis { $full-scale } Ω ist es auf ± { $expanded } Ω sicher, die Grenzen liegen bei ± { $half-width } Ω; gleiche Stromkreise lassen sich trotzdem vergleichen
observation-pins = Pin { $from } gegen Pin { $to }: { $reading }
observation-pair = { $first } gegen { $second }: { $reading }
observation-joined = { $first } gegen { $second } zeigt { $ohms } Ω: verbunden
observation-joined-apart = { $first } gegen { $second } zeigt { $ohms } Ω, obwohl sie keinen Pin gemeinsam haben: verbunden
observation-sum-pin-open = { $first } gegen { $second } zeigt { $ohms } Ω, die Summe beider, während jeder gegen Pin { $pin } Überlauf zeigt: dieser Pin oder was daran hängt ist offen, nicht die Stromkreise
observation-sum = { $first } gegen { $second } zeigt { $ohms } Ω, die Summe beider über ihre Rückleitung
observation-not-sum = { $first } gegen { $second } zeigt { $ohms } Ω, nicht die Summe beider über ihre Rückleitung ({ $sum } Ω)
observation-open-though-shared = { $first } gegen { $second } zeigt Überlauf, obwohl beide Pin { $pin } gemeinsam haben
observation-apart = { $first } gegen { $second } zeigt Überlauf, wie es getrennte Stromkreise tun
observation-family-temperature = { $family }: { $ohms } Ω gemeinsam heißt etwa { $likely } °C, wenn sie in Ordnung sind ({ $low } bis { $high } °C nach den Grenzen){ $agrees ->
    [true] , wie angegeben
    [false] ; die angegebene Temperatur passt nicht dazu
   *[none] {""}
}
observation-sensor-temperature = { $circuit } zeigt { $ohms } Ω: { $celsius } °C nach seiner Kennlinie
observation-sensor-nowhere = { $circuit } zeigt { $ohms } Ω, die seine Kennlinie bei keiner Temperatur von −200 bis 850 °C hat
observation-load = Leitung von { $circuit } unter Last: { $lost } V ± { $expanded } von { $supply } V gehen unterwegs verloren, Grenze { $limit } V ({ $by }){ $at ->
    [none] {""}
   *[other] : { $at }
}
observation-drop = { $joint } verliert { $lost } V ± { $expanded }{ $at ->
    [none] {""}
   *[other] , { $at }
}, Grenze { $limit } V ({ $by })
observation-drop-wanders = { $joint } verliert eine unruhige Spannung, Grenze { $limit } V ({ $by })
observation-drop-over-range = { $joint } zeigt Überlauf: höheren Bereich wählen, Grenze { $limit } V ({ $by })
observation-drop-not-measured = { $joint } wurde nicht gemessen, Grenze { $limit } V ({ $by })
observation-loop = der Kabelbaum von { $circuit } gibt { $added } Ω ± { $expanded } dazu{ $wires ->
    [none] {""}
   *[other] { $wires }
}{ $less ->
    [true] ; weniger als nichts kann nicht sein: einer der beiden Messwerte stimmt nicht
   *[false] {""}
}
