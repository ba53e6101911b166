# Was vor einer Sitzung gesagt und gezeigt wird: wo die Dateien des Programms liegen.

own-files-model = Sprachmodell
own-files-grammars = Sprachen
own-files-profiles = Profile
own-files-meters = Messgeräte
own-files-demo = Vorführung
place-kind-personal = dein eigener Ordner
place-kind-beside = neben dem Programm
place-kind-share = installiert
place-kind-source = Quelltext
place-kind-system = Ordner des Systems
located-found = { $path } ({ $place })
located-built-in = im Programm enthalten
located-missing = fehlt. Gesucht in { $looked }. Installiere bothhands neu oder entpacke das Archiv ganz.

## Der erste Bildschirm

start-note-headline = bothhands: ein zweites Paar Hände, solange deine die Messspitzen halten.
ready-microphone = Mikrofon    geht: { $name }
ready-no-microphone = Mikrofon    KEINES ({ $why }). Schließ eines an; bis dahin können die Tasten alles.
ready-no-model = Mikrofon    UNBENUTZT, das Sprachmodell ist fehlerhaft: { $why }
ready-voice = Stimme      geht
ready-no-voice = Stimme      KEINE ({ $why }). Installiere speech-dispatcher und espeak-ng; bis dahin lies den Bildschirm.
ready-no-sound-in-build = Ton         nicht in diesem Programm: nur Tasten und Bildschirm
ready-keys-alone = Ton         in den Einstellungen abgeschaltet: nur Tasten und Bildschirm
ready-keys = Tasten      gehen{ $device ->
    [none] { "" }
   *[other] , und { $device }
}: der Ziffernblock allein kann alles

start-question-offer = Was möchtest du tun?
    .spoken = Was möchtest du tun? Sag die Nummer.
start-question-part = Welches Bauteil?
    .spoken = Welches Bauteil? Sag seine Nummer auf dem Bildschirm.
start-question-pins = Wie viele Pins hat das Bauteil?
start-question-common = Auf welchem Pin bleibt eine Messspitze? 0: auf keinem, es wird paarweise gemessen.
    .spoken = Auf welchem Pin bleibt eine Messspitze? Null für keinen.
start-question-meter = Welches Messgerät?
    .spoken = Welches Messgerät? Sag seine Nummer auf dem Bildschirm.
offer-demo = Vorführung: eine ganze Prüfung sehen und hören, 3 Minuten, alles erfunden
    .spoken = Vorführung
offer-with-profile = ein Bauteil mit Profil messen
offer-without-profile = ein Bauteil ohne Profil messen: die Zahl der Pins genügt
    .spoken = ein Bauteil ohne Profil messen
offer-sound-check = Tonprobe: Raum, Mikrofon, zehn Zahlen, 1 Minute
    .spoken = Tonprobe
start-line-offered = { $number }  { $offer }
    .spoken = { $number }: { $offer }.
start-line-named = { $number }  { $title }
start-note-answer-by-key = Drück die Nummer; 0 beendet.
start-note-answer-by-key-or-voice = Drück die Nummer oder sag sie; 0 beendet.
start-note-answer-and-enter = Mehrere Ziffern: mit Enter abschließen.
start-note-heard = gehört { $number }
start-note-heard-in-doubt = Nicht deutlich gehört. Sag es noch einmal oder drück es.
start-note-no-such-number = Diese Nummer gibt es nicht. Von 1 bis { $most }.
start-note-no-terminal = Hier kann nichts gefragt werden: nenne Bauteil und Messgerät. Zum Beispiel:
    bothhands --profile sweeper-valve-block --meter handheld-60000
    bothhands --help nennt den Rest.
