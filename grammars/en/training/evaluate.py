"""Measures model folders on clips that never train, alone and in pairs.

usage: evaluate.py decode MODEL CLIPS.tsv OUT.jsonl [--condition clean|white10|noise10|noise5|narrow] [--noises FOLDER]
       evaluate.py table FIRST.jsonl SECOND.jsonl

CLIPS.tsv: set, file, words (tab between; no words: nothing was said). Each clip is decoded twice: with 600 phrases of numbers,
and with the words of numbers and [unk]; five hypotheses each. `table` takes a value only where two decodings of one clip have
the same value, no [unk] among the words, and nothing else as close as --lead in the phrases.
"""

import argparse
import json
import pathlib
import random
import time

import numpy as np
import soundfile

import vocabulary as v

NUMBERS = v.DIGITS + v.TEENS + v.TENS + ["oh", "hundred", "thousand", "and", "point"]
SAME = {"oh": "zero", "o": "zero"}


def phrase_list():
    rng, out = random.Random(9), set()
    while len(out) < 600:
        words = v.number(rng)
        if all(w in NUMBERS for w in words):
            out.add(" ".join(words))
    return sorted(out)


def spoiled(x, rate, condition, rng, noises):
    """The clip as it is given to the recogniser: level, silence around, condition."""
    quiet = np.zeros(rate * 4 // 10, "f4")
    x = np.concatenate([quiet, x / max(1e-6, np.abs(x).max()) * 0.3, quiet])
    power = (x**2).mean()
    if condition == "white10":
        x = x + rng.standard_normal(len(x)).astype("f4") * np.sqrt(power / 10)
    elif condition.startswith("noise"):
        z = noises[rng.integers(len(noises))]
        z = np.resize(np.roll(z, -rng.integers(len(z))), len(x))
        x = x + z * np.sqrt(power / max((z**2).mean(), 1e-9) / 10 ** (float(condition[5:]) / 10))
    elif condition == "narrow":
        spectrum = np.fft.rfft(x)
        hertz = np.fft.rfftfreq(len(x), 1 / rate)
        spectrum[(hertz < 300) | (hertz > 3400)] = 0
        x = np.fft.irfft(spectrum, len(x))
    return (np.clip(x, -1, 1) * 32767).astype("<i2")


def hypotheses(model, rate, grammar, sound):
    """Best words of each stretch joined, and how far the best hypothesis of another value is behind (None: there is none)."""
    import vosk

    recogniser = vosk.KaldiRecognizer(model, rate, json.dumps(grammar))
    recogniser.SetMaxAlternatives(5)
    data, results = sound.tobytes(), []
    for i in range(0, len(data), 8000):
        if recogniser.AcceptWaveform(data[i : i + 8000]):
            results.append(json.loads(recogniser.Result()))
    results.append(json.loads(recogniser.FinalResult()))
    words, leads = [], []
    for result in results:
        found = result["alternatives"]
        words += found[0]["text"].split()
        other = [a for a in found[1:] if value(a["text"].split()) != value(found[0]["text"].split())]
        if other:
            leads.append(found[0]["confidence"] - other[0]["confidence"])
    return words, min(leads, default=None)


def value(words):
    return [SAME.get(w, w) for w in words if w not in ("uh", "um", "er", "[unk]")]


def decode(options):
    import vosk

    vosk.SetLogLevel(-1)
    model, rng = vosk.Model(str(options.model)), np.random.default_rng(1)
    noises = []
    if options.noises:  # the fold that is kept from training
        noises = [soundfile.read(p, dtype="float32")[0] for p in sorted(options.noises.rglob("5-*"))]
    grammars = {"phrases": phrase_list(), "words": [*NUMBERS, "[unk]"]}
    heard = spent = 0.0
    with open(options.out, "w") as out:
        for line in options.clips.read_text().splitlines():
            kind, name, text = line.split("\t")
            try:
                if name.endswith(".raw"):
                    x, rate = np.fromfile(name, "<i2").astype("f4") / 32768, 16000
                else:
                    x, rate = soundfile.read(name, dtype="float32")
            except soundfile.LibsndfileError:  # a few clips are too short for the library
                continue
            sound = spoiled(x, rate, options.condition, rng, noises)
            row = {"set": kind, "file": name, "said": text.split()}
            for grammar, listed in grammars.items():
                begin = time.process_time()
                row[grammar], row[grammar + "_lead"] = hypotheses(model, rate, listed, sound)
                spent += time.process_time() - begin
            heard += len(sound) / rate
            out.write(json.dumps(row) + "\n")
    print(f"{options.out}: real-time factor of both decodings {spent / heard:.3f}")


def distance(a, b):
    row = list(range(len(b) + 1))
    for i, x in enumerate(a, 1):
        before, row[0] = row[0], i
        for j, y in enumerate(b, 1):
            before, row[j] = row[j], min(row[j] + 1, row[j - 1] + 1, before + (x != y))
    return row[-1]


def table(options):
    first, second = ({(r["set"], r["file"]): r for r in map(json.loads, open(p))} for p in (options.first, options.second))
    sets = {}
    for key in first:
        if key in second:
            sets.setdefault(key[0], []).append((first[key], second[key]))
    print("set: clips; words right % / whole value right % of each decoding; pairs: taken %, wrong of all %, wrong of taken %")
    for kind, rows in sets.items():
        spoken = [r for r in rows if r[0]["said"]]
        parts = []
        for label, which, grammar in (("1 phrases", 0, "phrases"), ("1 words", 0, "words"), ("2 phrases", 1, "phrases"), ("2 words", 1, "words")):
            if spoken:
                wrong = sum(distance(value(r[0]["said"]), value(r[which][grammar])) for r in spoken)
                count = sum(len(value(r[0]["said"])) for r in spoken)
                whole = sum(value(r[0]["said"]) == value(r[which][grammar]) for r in spoken)
                parts.append(f"{label} {100 - 100 * wrong / count:.1f}/{100 * whole / len(spoken):.1f}")
            else:
                parts.append(f"{label} {sum(bool(value(r[which][grammar])) for r in rows)} heard")
        print(f"{kind}: {len(rows)};", ", ".join(parts))
        pairs = (("1 phrases = 1 words", 0, "words"), ("1 phrases = 2 phrases", 1, "phrases"), ("1 phrases = 2 words", 1, "words"))
        for label, which, grammar in pairs:
            for lead in options.lead:
                taken = wrong = 0
                for r in rows:
                    a, b = r[0]["phrases"], r[which][grammar]
                    near = r[0]["phrases_lead"] is not None and r[0]["phrases_lead"] < lead
                    if value(a) and value(a) == value(b) and "[unk]" not in b and not near:
                        taken += 1
                        wrong += value(a) != value(r[0]["said"])
                share = f"{100 * taken / len(rows):.1f}, {100 * wrong / len(rows):.2f}, {100 * wrong / max(1, taken):.2f}"
                print(f"    {label}, lead {lead}: {share} ({wrong})")


def main():
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    commands = parser.add_subparsers(required=True)
    one = commands.add_parser("decode")
    for name in ("model", "clips", "out"):
        one.add_argument(name, type=pathlib.Path)
    one.add_argument("--condition", default="clean")
    one.add_argument("--noises", type=pathlib.Path)
    one.set_defaults(run=decode)
    two = commands.add_parser("table")
    for name in ("first", "second"):
        two.add_argument(name, type=pathlib.Path)
    two.add_argument("--lead", type=float, nargs="+", default=[0.0, 1.5])
    two.set_defaults(run=table)
    options = parser.parse_args()
    options.run(options)


if __name__ == "__main__":
    main()
