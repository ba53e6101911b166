"""Lists the clips with their phones and counts the phone bigram of the denominator.

usage: prepare.py SPEECH OUT [--part FOLDER=CLIPS_PER_SPEAKER]...

SPEECH holds the folders named in SETS, each with transcripts.tsv (file, tab, words, and perhaps tab, speaker); NOISES and ROOMS have none. OUT
gets manifest.jsonl (one clip a line: file, kind, words as phones, which words may become SPN, speaker) and bigram.npy. Clips of `test/` are
listed as kind `test` (AN4, watched while training, never trained on) or not at all; fold 5 of the noises is kept for measuring, and so
is every folder that is not named here.
"""

import argparse
import collections
import json
import pathlib
import random

import numpy as np

import vocabulary as v

SETS = {
    "an4": "an4",
    "speech-commands": "word",
    "librispeech-train-clean-5": "book",
    "librispeech-dev-clean-half": "book",
    "noise-esc10": "noise",
    "more/speech-commands-digits": "real",
    "more/numbers-cs566-sai": "real",
    "more/numbers-inspektral": "real",
    "more/numbers-nato-spell": "real",
}
NOISES = "more/NOISE"
ROOMS = "more/RIRS"
HELD_FOLD = "5"
RARE = {*v.DIGITS, *v.TEENS, *v.TENS} - {"one"}  # clips of books with these words are always listed
GARBAGE = 1 / 3  # how often a word that the tool does not listen for is trained as SPN


def phones(word, rng):
    """One of the two usual ways to say the word, or SPN for a word that no dictionary knows."""
    ways = v.pronunciations(word)
    return [v.PHONE[p] for p in rng.choice(ways[:2])] if ways else [v.PHONE["SPN"]]


def clips(speech, part, rng):
    """Every clip to list: (file, kind, words, speaker where the list tells)."""
    for folder, kind in SETS.items():
        path = speech / folder / "transcripts.tsv"
        taken = collections.Counter()
        for line in path.read_text().splitlines():
            name, text, who = (line.split("\t") + ["", ""])[:3]
            words, this = text.lower().split(), kind
            if name.startswith("test/"):
                if folder != "an4":
                    continue
                this = "test"
            if kind == "noise" and name.split("/")[-1].startswith(HELD_FOLD + "-"):
                continue
            if kind != "noise" and not words:
                continue
            speaker = name.split("-")[0]
            taken[speaker] += 1
            if folder in part and taken[speaker] > part[folder] and not RARE & set(words):
                continue
            yield f"{folder}/{name}", this, words, who
    for folder, kind in ((NOISES, "noise"), (ROOMS, "room")):
        for path in sorted(p for p in (speech / folder).glob("*.*") if p.suffix in (".opus", ".wav")):
            yield f"{folder}/{path.name}", kind, [], ""


def bigram(sentences, rng):
    """Phone bigram with silence between some of the words and SPN for a share of the garbage words."""
    n = len(v.PHONES)
    counts = np.zeros((n + 1, n + 1))
    for words in sentences:
        string = [0] if rng.random() < 0.8 else []
        for word in words:
            string += [v.PHONE["SPN"]] if v.may_be_garbage(word) and rng.random() < GARBAGE else phones(word, rng)
            if rng.random() < 0.25:
                string.append(0)
        if string and string[-1] != 0 and rng.random() < 0.8:
            string.append(0)
        for before, after in zip([-1, *string], [*string, n]):
            counts[before + 1, after] += 1
    usual = counts[1:, :n].sum(0) / counts[1:, :n].sum()
    counts[:, :n] += 0.02 * usual * counts.sum(1, keepdims=True) + 1e-3
    return counts / counts.sum(1, keepdims=True)


def main():
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("speech", type=pathlib.Path)
    parser.add_argument("out", type=pathlib.Path)
    parser.add_argument("--part", action="append", default=[], metavar="FOLDER=N")
    options = parser.parse_args()
    part = {k: int(n) for k, n in (p.split("=") for p in options.part)}
    rng = random.Random(11)
    options.out.mkdir(parents=True, exist_ok=True)
    kinds, sentences = collections.Counter(), []
    with open(options.out / "manifest.jsonl", "w") as out:
        for name, kind, words, who in clips(options.speech, part, rng):
            row = [name, kind, [phones(w, rng) for w in words], [int(v.may_be_garbage(w)) for w in words], who]
            out.write(json.dumps(row) + "\n")
            kinds[kind] += 1
            if kind in ("book", "an4"):
                sentences.append(words)
    sentences += [[]] * (len(sentences) // 12)
    sentences += [v.sentence(rng) for _ in range(12000)]
    np.save(options.out / "bigram.npy", bigram(sentences, rng))
    print(dict(kinds))


if __name__ == "__main__":
    main()
