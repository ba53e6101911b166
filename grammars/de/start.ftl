# Was vor einer Sitzung gesagt und gezeigt wird: wo die Dateien des Programms liegen.

own-files-model = Sprachmodell
own-files-grammars = Sprachen
own-files-profiles = Profile
own-files-meters = Messgeräte
own-files-demo = Vorführung
place-kind-personal = eigener Ordner
place-kind-beside = neben dem Programm
place-kind-share = installiert
place-kind-source = Quelltext
place-kind-system = Ordner des Systems
located-found = { $path } ({ $place })
located-built-in = im Programm enthalten
located-missing = fehlt. Gesucht in { $looked }. bothhands neu installieren oder das Archiv ganz entpacken.

## Der erste Bildschirm

start-note-headline = bothhands: ein zweites Paar Hände, solange die eigenen die Messspitzen halten.
ready-microphone = Mikrofon    geht: { $name }
ready-no-microphone = Mikrofon    KEINES: { $why }. Die Tasten können solange alles.
ready-no-model = Mikrofon    UNBENUTZT, das Sprachmodell ist fehlerhaft: { $why }
ready-voice = Stimme      geht
ready-no-voice = Stimme      KEINE ({ $why }). speech-dispatcher und espeak-ng installieren; bis dahin den Bildschirm lesen.
ready-no-sound-in-build = Ton         nicht in diesem Programm: nur Tasten und Bildschirm
ready-keys-alone = Ton         in den Einstellungen abgeschaltet: nur Tasten und Bildschirm
ready-keys = Tasten      gehen{ $device ->
    [none] { "" }
   *[other] , und { $device }
}: der Ziffernblock allein kann alles

start-question-offer = Was soll getan werden?
    .spoken = Was soll getan werden? Die Nummer sagen.
start-question-part = Welches Bauteil?
    .spoken = Welches Bauteil? Seine Nummer auf dem Bildschirm sagen.
start-question-pins = Wie viele Pins hat das Bauteil?
start-question-common = Auf welchem Pin bleibt eine Messspitze? 0: auf keinem, es wird paarweise gemessen.
    .spoken = Auf welchem Pin bleibt eine Messspitze? Null für keinen.
start-question-meter = Welches Messgerät?
    .spoken = Welches Messgerät? Seine Nummer auf dem Bildschirm sagen.
offer-demo = Vorführung: eine ganze Prüfung sehen und hören, 3 Minuten, alles erfunden
    .spoken = Vorführung
offer-with-profile = ein Bauteil mit Profil messen
offer-without-profile = ein Bauteil ohne Profil messen: die Zahl der Pins genügt
    .spoken = ein Bauteil ohne Profil messen
offer-new-profile = ein Profil anlegen, mit getippten Fragen
    .spoken = ein Profil anlegen
offer-sound-check = Tonprobe: Raum, Mikrofon, zehn Zahlen, 1 Minute
    .spoken = Tonprobe
offer-practise = üben: ein Prüfplatz mit erfundenem Bauteil, mit Tasten
    .spoken = üben
start-line-offered = { $number }  { $offer }
    .spoken = { $number }: { $offer }.
start-line-named = { $number }  { $title }
start-note-answer-by-key = Die Nummer drücken; 0 beendet.
start-note-answer-by-key-or-voice = Die Nummer drücken oder sagen; 0 beendet.
start-note-answer-and-enter = Mehrere Ziffern: mit Enter abschließen.
start-note-heard = gehört { $number }
start-note-heard-in-doubt = Nicht deutlich gehört. Noch einmal sagen oder drücken.
start-note-no-such-number = Diese Nummer gibt es nicht. Von 1 bis { $most }.
start-note-no-terminal = Hier kann nichts gefragt werden: Bauteil und Messgerät nennen. Zum Beispiel:
    bothhands --profile sweeper-valve-block --meter handheld-60000
    bothhands --help nennt den Rest.
