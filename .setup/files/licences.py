"""Writes the licences of everything that a package holds: the crates that are built in, libvosk, networks and recordings.

usage: licences.py FEATURES > FILE

The crates are those that `cargo metadata` resolves for this machine with the default features; the texts are the files in
their packages. A text that many crates share is printed once. A crate without a text is listed with what it declares.
"""

import json
import pathlib
import re
import subprocess
import sys

TEXTS = re.compile(r"^(licen[cs]e|copying|notice|unlicense|copyright)", re.IGNORECASE)
RULE = "=" * 100


def metadata(features):
    host = re.search(r"^host: (.*)$", subprocess.run(["rustc", "-vV"], capture_output=True, text=True, check=True).stdout, re.M)
    command = ["cargo", "metadata", "--locked", "--format-version", "1", "--filter-platform", host[1], "--features", features]
    return json.loads(subprocess.run(command, capture_output=True, text=True, check=True).stdout)


def built_in(data):
    """What ends up in the program: dependencies of the ordinary kind, not those of tests and build scripts."""
    nodes = {node["id"]: node for node in data["resolve"]["nodes"]}
    found, waiting = set(), [data["resolve"]["root"]]
    while waiting:
        one = waiting.pop()
        if one in found:
            continue
        found.add(one)
        for dependency in nodes[one]["deps"]:
            if any(kind["kind"] is None for kind in dependency["dep_kinds"]):
                waiting.append(dependency["pkg"])
    found.discard(data["resolve"]["root"])
    packages = {package["id"]: package for package in data["packages"]}
    return sorted((packages[one] for one in found), key=lambda package: (package["name"], package["version"]))


def texts(package):
    folder = pathlib.Path(package["manifest_path"]).parent
    paths = [path for path in sorted(folder.iterdir()) if path.is_file() and TEXTS.match(path.name)]
    # Some keep several in a folder.
    paths += [path for sub in sorted(folder.iterdir()) if sub.is_dir() and TEXTS.match(sub.name) for path in sorted(sub.iterdir()) if path.is_file()]
    # Names that begin so and are no licence.
    return [path.read_text(errors="replace").strip() for path in paths if path.suffix not in {".rs", ".py", ".png"}]


def main():
    packages = built_in(metadata(sys.argv[1]))
    project = pathlib.Path(__file__).resolve().parents[2]
    print("Licences of everything in this package of bothhands.\n")
    print("bothhands itself, its profiles, its speech networks' weights and its synthetic recordings: Apache-2.0, the text")
    print("with the file LICENSE. What stands below belongs to others.\n")
    for name in ["grammars/en/NOTICES.md", "grammars/en/ears/CARD.md", "grammars/en/ears-second/CARD.md", "demo/voice/README.md"]:
        print(f"{RULE}\n{name}\n{RULE}\n{(project / name).read_text().strip()}\n")
    print(f"{RULE}\nlibvosk.so, out of the Python package vosk 0.3.45: Apache-2.0\n{RULE}")
    print((project / ".setup/files/libvosk-notice.txt").read_text().strip() + "\n")
    shared, without = {}, []
    print(f"{RULE}\nThe Rust crates that are built in: {len(packages)}\n{RULE}")
    for package in packages:
        declared = package["license"] or f"see {package['license_file']}"
        print(f"{package['name']} {package['version']}: {declared}")
        found = texts(package)
        for text in found:
            shared.setdefault(re.sub(r"\s+", " ", text), (text, []))[1].append(f"{package['name']} {package['version']}")
        if not found:
            authors = ", ".join(package["authors"]) or "the authors named at " + (package["repository"] or "its package page")
            without.append(f"{package['name']} {package['version']}: {declared}; {authors}")
    print("\nThese packages bring no text of their licence; it is the one that they declare:")
    print("\n".join(without))
    for text, names in shared.values():
        print(f"\n{RULE}\n{', '.join(names)}\n{RULE}\n{text}")


if __name__ == "__main__":
    main()
