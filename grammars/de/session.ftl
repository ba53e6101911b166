# What a session says. Short: it is heard with a probe in each hand. In the order that is needed: what was understood, what it
# means, what is next. Nothing here may sound like approval. What stands in quotation marks or after "sagen" has to be a
# command, or a phrase of the profile. Nobody is addressed: neither "Sie" nor "du".

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

prompt-codes = Hat das Diagnosegerät einen Fehlercode gezeigt? Ja oder nein.
prompt-code-number = Welche Nummer? Oder nein sagen.
prompt-another-code = Noch einer? Die Nummer, oder nein.
prompt-gate = { $instruction } Dann sagen: { $confirm }.
    .keyed = { $instruction } Wenn es getan ist ({ $confirm }), die Zahl tippen.
prompt-say-what-was-done = Sagen, was getan wurde: { $confirm }.
    .keyed = Die Zahl dessen tippen, was getan wurde ({ $confirm }).
prompt-temperature = Temperatur des Bauteils in Grad? Oder kalt, warm, heiß, nicht sicher.
    .keyed = Temperatur des Bauteils in Grad?
prompt-leads = Prüfspitzen zusammenhalten. Was zeigt das Messgerät?
prompt-leads-in-full = Mit Komma sagen, wie es dort steht.
prompt-take = { CAPITAL($probed) }, { $circuit }.
prompt-once-more = { CAPITAL($probed) } noch einmal, { $circuit }.
prompt-once-more-cleaned = { CAPITAL($probed) } noch einmal, { $circuit }. Kontakt reinigen, neu ansetzen.
prompt-same-leads = Mit denselben Messleitungen an { $probed }, { $circuit }.
prompt-for-comparison = { CAPITAL($probed) }, { $circuit }, zum Vergleich.
prompt-place = { CAPITAL($place) }. Was zeigt das Messgerät?
prompt-offer = Als Nächstes { $circuit } { $station-is ->
    [component] am Bauteil
    [harness] am Stecker des Steuergeräts
   *[case] am Bauteil, gegen das Gehäuse
}. Dorthin? Ja oder nein.
prompt-all-read = Alles gemessen. Fertig sagen für die Auswertung.
    .keyed = Alles gemessen. Enter für die Auswertung.

instruction-written = { $it }
instruction-own = { $it }
own-gate-part-connected = Zündung und Versorgung bleiben aus. Bauteil wieder anstecken.
own-gate-control-unit-unplugged = Steuergerät abstecken. Nur am Stecker des Kabelbaums messen, nie am Steuergerät.
own-gate-plug-dead = Die Pins dieses Steckers gegen das Gehäuse: keine Spannung.
own-gate-part-apart = Zündung und Versorgung bleiben aus. Stecker des Bauteils getrennt, Steuergerät abgesteckt.
own-gate-highest-range = Messgerät auf Ohm, höchster Bereich. Finger weg von den Spitzen.
own-gate-part-apart-again = Zündung und Versorgung bleiben aus. Stecker des Bauteils wieder trennen. Messgerät auf Ohm, kleinster Bereich.

probed-pins = Pin { $pin } gegen Pin { $against }
probed-pin = Pin { $pin }
probed-plug-pins = Steckerpin { $pin } gegen Steckerpin { $against }
probed-plug = Stecker des Steuergeräts
probed-to-case = Pin { $pin } gegen das Gehäuse

# Shown beside the prompt, not spoken.
aside-type-code = oder { $code } tippen
    .keyed = { $code } tippen
aside-not-sure-by-key = nicht sicher: ** tippen
aside-finish-by-key = oder Eingabetaste
    .keyed = Enter drücken

## Before measuring

prepared-no-code = Kein Code.
prepared-codes-left-out = Codes ausgelassen.
prepared-not-a-code = Das ist kein gültiger Code.
prepared-code-names = { $number }, { $circuit }.
prepared-code-names-nothing = { $number }, benennt hier keinen Stromkreis.
prepared-gate-done = { CAPITAL($confirm) }.
prepared-not-that-gate = Das war es nicht.
prepared-never-left-out = Das wird nie ausgelassen.
prepared-never-left-out-say-no = Das wird nie ausgelassen. Nein sagen, um { $circuit } dort auszulassen.
prepared-degrees = { $degrees } °C.
prepared-guessed = { CAPITAL($guess) }.
prepared-temperature-unknown = Temperatur unbekannt.
prepared-no-temperature = Das ist keine Temperatur. Bitte Grad Celsius.
prepared-not-believed = { $degrees } Grad ist für ein Bauteil nicht glaubhaft. Noch einmal sagen.
prepared-leads-taken = Messleitungen { $leads }.
prepared-leads-high = Messleitungen { $leads }. Das ist viel; es kommt in den Bericht.
prepared-leads-open = Die Messleitungen sind unterbrochen oder nicht eingesteckt. Stecker und Spitzen ansehen, dann wieder zusammenhalten.
prepared-leads-doubted = { CAPITAL($reading) } zeigen gute Messleitungen nicht. Stecker und Spitzen ansehen, dann wieder zusammenhalten.
prepared-leads-refused = { CAPITAL($reading) } ist für jede Messleitung zu viel. Spitzen fest zusammenhalten und die Anzeige sagen, oder auslassen sagen.
prepared-leads-unknown = Die Messleitungen kommen nicht zur Ruhe. Sie gelten als unbekannt.
prepared-leads-not-measured = Widerstand der Messleitungen nicht abgezogen.

guess-cold = kalt
guess-warm = warm
guess-hot = heiß

## Readings said back

read-back-judged = { $reading }. { CAPITAL($class) }.
read-back-cannot-tell = { $reading }. { $class-is ->
    [outside-doubtful] Außerhalb, aber dieses Messgerät kann es nicht entscheiden.
   *[other] Innerhalb, aber dieses Messgerät kann es nicht entscheiden.
}
read-back-alone = { $reading }.
read-back-left-out = Ausgelassen.
read-back-marked-digits = { $reading }, wenn { $digits } stimmt. { CAPITAL($class) }.
read-back-marked = { $reading }, nicht deutlich gehört. { CAPITAL($class) }.
read-back-differs = Vorher war der Wert anders.
read-back-meaning = { $class-is ->
    [within] Das liegt gut in seinem Fenster.
    [within-doubtful] Im Fenster, aber dieses Messgerät kann es von der Grenze nicht unterscheiden.
    [outside-doubtful] Außerhalb des Fensters, aber dieses Messgerät kann es von der Grenze nicht unterscheiden.
    [outside] Das liegt außerhalb des erwarteten Bereichs. Es kommt am Ende noch einmal, mit gereinigtem Kontakt.
    [unlike-peers] Das weicht deutlich von den anderen ab. Es kommt am Ende noch einmal.
    [like-peers] Das ist wie bei den gleichartigen Stromkreisen.
    [over-range-unchecked] Messleitungen und Kontakt werden geprüft, bevor es als Unterbrechung gilt.
    [open] Messleitungen und Kontakt sind geprüft: Unterbrechung.
    [shorted] Nahe null nach Abzug der Messleitungen.
    [unstable] Spitzen fest andrücken; es kommt am Ende noch einmal.
    [leakage] Der Widerstand zum Gehäuse ist zu klein.
    [not-judged] Noch gibt es nichts, womit es verglichen werden kann.
   *[not-taken] Es wurde ausgelassen.
}

readout-plain = { $it }
readout-full = { $it }
readout-over-range = Überlauf
readout-unstable = Unruhig
readout-not-taken = Nicht gemessen

## Questions

question-confirm = { CAPITAL($meant) }?
question-yes-or-no = Ja oder nein?
question-which = { CAPITAL($first) }, oder { $second }?
question-say-which = Welcher Wert? { CAPITAL($first) }, oder { $second }?
question-digit-by-digit = Ziffer für Ziffer sagen, mit Komma.
question-other-words = Nicht deutlich gehört. Mit anderen Worten sagen.
question-use-keys = Nicht deutlich gehört. Tippen, oder warten, bis es leiser ist.
question-yes-no-by-keys = Nicht deutlich gehört. Eingabetaste ist ja, zweimal Minus ist nein.
question-finish-now = Noch { $left }. Jetzt auswerten?
question-finish-all-read = Alles gemessen. Jetzt auswerten?
question-stop-now = Jetzt anhalten und ein andermal weitermachen?
question-phrase-again = Noch einmal sagen: { $confirm }.
question-phrase-or-keys = Nicht deutlich gehört. Noch einmal: { $confirm }. Oder { $code } tippen.
question-type-code = Nicht deutlich gehört. { $code } tippen, wenn es getan ist.
question-again = Noch einmal sagen.
question-again-or-keys = Nicht verstanden. Noch einmal sagen, oder die Tasten nehmen.
question-not-ohms = Das sind keine Ohm. Steht das Messgerät auf Ohm? Noch einmal sagen.
question-below-zero = Unter null ist kein Widerstand: Da liegt Spannung an. Spitzen wegnehmen, Versorgung prüfen.
question-more-than-meter-shows = { $shown } ist mehr, als dieses Messgerät anzeigt. Noch einmal sagen.
question-more-places-than-meter-shows = { $number } hat mehr Stellen, als dieses Messgerät anzeigt. Noch einmal sagen.
question-less-than-leads = Allein die Messleitungen haben { $leads }. Messleitungen noch einmal nullen? Ja oder nein.

## Answers

info-going-on-all-read = Es geht weiter. Alles war gemessen. Sicherheit und Messleitungen noch einmal.
info-going-on = Es geht weiter. Noch { $left }. Sicherheit, Temperatur und Messleitungen noch einmal.
info-preparation-is-old = Mehr als 30 Minuten sind vergangen. Sicherheit, Temperatur und Messleitungen noch einmal.
info-still-here = Noch da.
info-not-understood = „{ $typed }“ wird nicht verstanden.
info-paused = Pause. Zum Weitermachen sagen: zurück zur Arbeit.
    .keyed = Pause. Weiter mit g.
info-resumed = Es geht weiter.
info-short-lines = Kurze Sätze.
info-full-lines = Ganze Sätze.
info-taken-back = Zurückgenommen.
info-nothing-to-take-back = Nichts mehr zurückzunehmen.
info-say-again = Noch einmal sagen.
info-say-wrong = Falsch sagen nimmt den letzten Wert zurück.
info-back = Zurück.
info-left-out = Ausgelassen.
info-not-yet = Noch nicht.
info-not-read-yet = Noch nicht gemessen; auslassen sagen, um ihn zu übergehen.
info-nothing-read-yet = Noch nichts gemessen.
info-named = Pin { $pin } ist { $name }.
info-name-not-taken = „{ $name }“ geht hier nicht: ein anderer heißt so, oder es sind mehr als 40 Zeichen.
info-no-circuit-at = An Pin { $pin } wird kein Stromkreis gemessen.
info-like-this = So.
info-at-limit = Weiter geht es nicht.
info-stopped = Angehalten. Kann fortgesetzt werden.
info-status = { $read } gemessen, noch { $left }.
info-why = { CAPITAL($circuit) }: { $class }{ $resistance ->
    [none] { "" }
   *[other] , { $resistance } nach Abzug der Messleitungen
}{ $window ->
    [none] { "" }
   *[other] , Fenster { $window }
}{ $unlike ->
    [true] , weicht deutlich von den anderen ab
   *[false] { "" }
}.
info-why-not-judged = { CAPITAL($circuit) }: nicht beurteilt.
info-refused = { $why }
info-offer-why = { CAPITAL($why) }.
info-what-was = Pin { $pin }, { $circuit }:
info-pin-not-read = Pin { $pin } wurde nicht gemessen.
info-last-time = In einer anderen Sitzung, am { $day }. { $month ->
    [1] Januar
    [2] Februar
    [3] März
    [4] April
    [5] Mai
    [6] Juni
    [7] Juli
    [8] August
    [9] September
    [10] Oktober
    [11] November
   *[12] Dezember
} { $year }: { $circuit } { $reading }, { $same-part ->
    [true] an diesem Teil
   *[false] an einem Teil dieser Art, das vielleicht ein anderes war
}.
info-not-read-last-time = In der letzten Sitzung { $same-part ->
    [true] an diesem Teil
   *[false] an einem Teil dieser Art
}, am { $day }. { $month ->
    [1] Januar
    [2] Februar
    [3] März
    [4] April
    [5] Mai
    [6] Juni
    [7] Juli
    [8] August
    [9] September
    [10] Oktober
    [11] November
   *[12] Dezember
} { $year }, wurde { $circuit } hier nicht gemessen.
info-first-time = Die Geschichte hat keine frühere Sitzung an diesem Teil.
info-no-history = Es gibt noch keine Geschichte. Der Befehl history legt sie an.
info-history-trouble = Die Geschichte ist nicht benutzbar: { $why }. Der Befehl history macht sie mit rebuild neu. Diese Sitzung geht ohne sie weiter.
info-none-stands-out = Bisher fällt keiner auf.
info-nothing-to-compare = Noch nichts zu vergleichen.
info-where-is =
    { $place ->
        [none] Pin { $pin }: wo er sitzt, steht nicht im Profil.
       *[other] Pin { $pin }: { $place }.
    }
info-no-pin-is-waiting = Kein Pin ist an der Reihe.

# What may be said now, each with the commands that are always there.
help-gate = Sagen: „{ $confirm }“. { help-also }
help-temperature = Grad sagen, oder kalt, warm, heiß, nicht sicher. { help-also }
help-station-gate = Sagen, was getan wurde, oder nein, um es auszulassen. { help-also }
help-yes-or-no = Ja oder nein sagen. { help-also }
help-code-number = Die Nummer des Codes sagen, oder nein. { help-also }
help-all-read = Fertig sagen, oder ändere und einen Pin. { help-also }
help-reading = Den Wert sagen, Überlauf oder unruhig. { help-also }
help-also = Außerdem: wiederholen, falsch, zurück, auslassen, ändere Pin, Stand, warum, Pause, anhalten.

## The conclusion

concluded-headline = { $it }
concluded-reason = { CAPITAL($it) }
concluded-not-excluded = Nicht ausgeschlossen: { $it }
concluded-next = Als Nächstes: { $it }
concluded-caution = { $it }
concluded-none = Kein Ergebnis: { $it }

## A profile that cannot be used

phrase-clash = Sicherheitsschritt { $gate }: „{ $phrase }“ ist schon ein Befehl oder ein Messwert

## Verdicts, in one or two words

class-within = innerhalb
class-within-doubtful = innerhalb, nahe der Grenze
class-outside-doubtful = außerhalb, nahe der Grenze
class-outside = außerhalb
class-unlike-peers = anders als die anderen
class-like-peers = wie die anderen
class-over-range-unchecked = Überlauf
class-open = Unterbrechung
class-shorted = Kurzschluss
class-unstable = unruhig
class-leakage = Schluss zum Gehäuse
class-not-judged = notiert
class-not-taken = nicht gemessen

station-component = am Bauteil
station-harness = am Stecker des Steuergeräts
station-case = gegen das Gehäuse
