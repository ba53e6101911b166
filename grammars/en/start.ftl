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
