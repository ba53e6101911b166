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
