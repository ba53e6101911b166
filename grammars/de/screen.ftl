# The screen's own labels, what is told of the devices, and how signs are spoken.

# The word in front of a line: at most eight letters. The large view shows it in capitals.
who-careful = achtung
who-asks = fragt
who-says = sagt
who-result = ergebnis
who-heard = gehört
who-typed = getippt
who-meter = Gerät
who-notice = hinweis

label-journal = Journal: { $path }
label-report = Bericht: { $path }
label-mark = Marke:   { $hash }
label-passed-over = hinweis  Ein beschädigtes Protokoll wurde übergangen. { $why } Was heil ist, holt heraus: bothhands salvage { $path }
label-heard-unsure = { $second ->
    [none] „{ $first }“, nicht sicher
   *[other] „{ $first }“ oder „{ $second }“, nicht sicher
}
label-heard-nothing = „{ $words }“, hat hier keine Bedeutung

# Where the session stands, at the top.
label-stage-paused = Pause
label-stage-codes = Fehlercodes
label-stage-station = andere Messstelle
label-stage-make-safe = Absichern { $place } von { $of }
label-stage-temperature = Temperatur des Bauteils
label-stage-leads = Nullwert der Messleitungen
label-stage-reading = Messung { $place } von { $of }
label-stage-all-read = alles gemessen
label-stage-ended = beendet

# Read from two metres: capitals without accents, as few as will do.
label-large-paused = PAUSE
label-large-at-plug = AM STECKER
label-large-to-case = ZUM GEHAEUSE
label-large-make-safe = ABSICHERN
label-large-codes = CODES
label-large-go-there = DORTHIN?
label-large-temperature = TEMPERATUR
label-large-leads = LEITUNGEN
label-large-all-read = FERTIG?
label-large-ended = ENDE
# A capital M could be taken for milli.
label-large-number = { $number }{ $prefix-is ->
    [mega] { " MEG" }
   *[other] { $prefix }
}
label-large-over-range = UEBER
label-large-unstable = UNRUHIG
label-large-not-taken = -
label-large-verdict = { $class-is ->
    [within] IN
    [within-doubtful] IN ?
    [outside-doubtful] AUSSEN ?
    [outside] AUSSEN
    [unlike-peers] ANDERS
    [like-peers] GLEICH
    [over-range-unchecked] UEBER
    [open] OFFEN
    [shorted] KURZ
    [unstable] UNRUHIG
    [leakage] SCHLUSS
    [not-judged] NOTIERT
   *[not-taken] OHNE
}

label-progress = { $done } von { $planned } gemessen
label-invented = ERFUNDEN
label-pin = PIN
label-against = gegen Pin { $against }: { $circuit }
label-probe = PIN { $pin } gegen { $against }, { $circuit }
label-last = ZULETZT  Pin { $pin }: { $reading }, { $verdict }
label-last-short = ZULETZT  { $reading }, { $verdict }
label-last-none = ZULETZT  noch nichts gemessen
label-keys = Eingabe nimmt an   Tab sprechen   ? Hilfe   Strg-C Ende
label-hears = HOERT
label-ears-none = nichts: nur Tasten
label-ears-own-voice = zu, solange die Stimme spricht; eine Taste hält sie an
label-ears-shut = zu: zum Sprechen Tab oder das Pedal drücken
label-ears-open = hört zu
label-ears-levels = { $speech ->
    [true] Sprache
   *[false] hört zu
}, { $level } dB bei { $room } dB im Raum{ $lost ->
    [0] { "" }
   *[other] , { $lost } Abtastwerte verloren
}
label-place-of-pin =
    { $place ->
        [none] Pin { $pin }: wo er sitzt, steht nicht im Profil
       *[other] Pin { $pin }: { $place }
    }
label-seen-from = gesehen von: { $from }
label-legend = [ ] hier messen   ( ) andere Spitze   + gemessen   ! Verdacht

## Devices

device-no-microphone = Kein Mikrofon: nur Tasten.
device-microphone-on-pressing = Das Mikrofon hört, solange die Sprechtaste oder das Pedal gedrückt ist.
device-microphone-open = Das Mikrofon ist offen.
device-microphone-gone = Das Mikrofon ist weg. Tasten nehmen.
device-microphone-back = Das Mikrofon ist wieder da.
device-told = { $it }

# The meter on a line.
meter-trouble-not-named = Kein Messgerät an einer Leitung: mit --meter-port starten. Den Wert ansagen.
meter-trouble-gone = Die Leitung des Messgeräts { $port } geht nicht: { $why }. Einstecken und noch einmal nehmen, oder den Wert ansagen.
meter-trouble-silent = Das Messgerät antwortet nicht. Kabel prüfen und ob es sendet, oder den Wert ansagen.
meter-trouble-refuses = Das Messgerät lehnt ab: { $error }. Den Wert ansagen.
meter-trouble-no-reading = Das Messgerät hat „{ $sent }“ gesendet, das ist kein Messwert. Tempo der Leitung prüfen, oder den Wert ansagen.
meter-trouble-no-number = Das Messgerät zeigt keine Zahl. Noch einmal nehmen, oder ansagen, was es anzeigt.
meter-trouble-not-ohms = Das Messgerät steht nicht auf Ohm. Auf Ohm stellen und noch einmal nehmen.
meter-trouble-restless = Die Anzeige steht nicht still. Prüfspitzen ruhig halten und noch einmal nehmen, oder „unruhig“ sagen.

voice-trouble-lost = Die Stimme ging verloren ({ $why }) und wird neu gestartet.
voice-trouble-none = Keine Stimme: { $why }
voice-trouble-unchanged = Die Stimme lässt sich nicht ändern: { $why }
voice-trouble-loudspeaker-gone = Der Lautsprecher ist weg ({ $why }). Er wird gesucht.
voice-trouble-loudspeaker-back = Der Lautsprecher ist wieder da.
voice-trouble-ran-dry = Der Lautsprecher musste { $times } Mal auf Ton warten, der Rechner war zu langsam.
voice-trouble-not-spoken = Eine Zeile konnte nicht gesprochen werden: { $why }

## How signs are spoken

symbol-milliohms = Milliohm
symbol-kilohms = Kiloohm
symbol-megohms = Megaohm
symbol-ohms = Ohm
symbol-degrees = Grad
symbol-plus-or-minus = plus minus
symbol-minus = minus
symbol-percent = Prozent
symbol-at-most = höchstens
symbol-at-least = mindestens
symbol-to = bis
symbol-times = mal
