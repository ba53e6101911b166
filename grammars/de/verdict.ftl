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
suspicion-family-off = alle von { $circuits } weichen gleich ab: falsche Grenzen, oder eine gemeinsame Ursache
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
not-excluded-intermittent = Ein Wackelkontakt: ein Stromkreis war unruhig, bevor er eine Zahl zeigte.
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
next-why-leads-whole-and-open = zeigt er noch eine Zahl, sind Messleitungen und gemeinsamer Pin in Ordnung, und { $circuit } ist offen
next-why-may-be-contact = Überlauf kann allein vom Kontakt kommen
next-why-twice-is-open = einmal Überlauf mit gereinigtem Kontakt; zweimal heißt offen
next-why-cleaning-helped = Reinigen hat es verringert: der Rest kann auch der Kontakt sein
next-why-contact-reads-like-part = ein schlechter Kontakt zeigt dasselbe wie ein schlechtes Bauteil; bleibt der Wert, ist es das Bauteil oder seine Leitung
next-why-part-from-wires = es unterscheidet das Bauteil von seinen Leitungen
next-why-moved-is-intermittent = eine Zahl, die sich beim Bewegen ändert, ist ein Wackelkontakt
next-why-leads-whole = zeigt er eine Zahl, sind Messleitungen und gemeinsamer Pin in Ordnung
next-why-nothing-shows-leads = nichts anderes Gemessenes zeigt, dass die Messleitungen in Ordnung sind
next-why-not-read-yet = er wurde noch nicht gemessen
next-why-other-point = mit anderer Vorsilbe oder anderem Komma wäre er wie die anderen
next-why-common-pin-not-circuits = zeigt er jetzt eine Zahl, war es der Kontakt am gemeinsamen Pin und nicht die Stromkreise
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
next-why-code-not-read = der gespeicherte Fehlercode nennt ihn, und er wurde noch nicht gemessen
next-why-code-wires-next = der Fehlercode nennt ihn, und am Bauteil ist er in Ordnung: als Nächstes die Leitungen
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
explained-off-under = Wahrscheinlichkeit, dass er abweicht: unter { $least }
explained-off-over = Wahrscheinlichkeit, dass er abweicht: über { $most }
explained-off = Wahrscheinlichkeit, dass er abweicht: { $probability }
explained-source = Quelle
explained-kind = Art
explained-standard-ohms = u in Ohm
explained-how = wie
explained-shared = (allen Stromkreisen gemeinsam)
explained-combined = zusammen
explained-root-of-squares = Wurzel der Quadratsumme
explained-expanded = erweitert
