"""Synthetic voices: draws sentences, then has the Kokoro-82M network speak them with its voices and mixtures of them.

usage: voices.py rows VOICES OUT.json COUNT [--seed N] [--what sentences|drill|readings|strings] [--held]   (needs espeak-ng for the phonemes)
       voices.py texts VOICES OUT.json FILE VOICE [--speed N]                (the lines of FILE by one voice)
       voices.py speak FOLDER OUT SECONDS PROCESSES [--opus] [--named] [--gpu] [--rows FILE]   (needs onnxruntime; about as fast as speech on one core)
       voices.py transcripts OUT                                             (writes transcripts.tsv beside the clips)

VOICES: a folder of style vectors (*.bin, 510 rows of 256 floats). FOLDER: kokoro.onnx, vocab.json, the rows and voices.npz,
which `rows` writes beside them. The voices in HELD speak only with --held: they are for measuring, never for training.
"""

import argparse
import json
import multiprocessing
import pathlib
import random
import subprocess
import time

import numpy as np

import readings as r
import vocabulary as v

KINDS = {"sentences": v.sentence, "drill": r.drill, "readings": r.readings, "strings": r.strings}
HELD = ("af_bella", "am_michael", "bf_emma", "bm_george")
SQUEEZE = 0.86  # of the Opus coder: about 44 kbit/s on such short clips
LONGEST = 118  # phonemes; style vectors are kept up to this length


def draw_voice(rng, english, other):
    kind = rng.random()
    if kind < 0.4:
        return [[rng.choice(english), 1.0]]
    share = round(rng.uniform(0.3, 0.7), 2)
    if kind < 0.8:
        a, b = rng.sample(english, 2)
    elif kind < 0.9:
        return [[rng.choice(other), 1.0]]
    else:
        a, b = rng.choice(english), rng.choice(other)
    return [[a, share], [b, 1 - share]]


def phonemes(texts, british):
    """espeak-ng's phonemes of each text; it prints one line for each clause."""
    command = ["espeak-ng", "-q", "--ipa", "-v", "en-gb" if british else "en-us"]
    spoken = "\n\n".join(t + "." for t in texts)
    lines = subprocess.run(command, input=spoken, capture_output=True, text=True, check=True).stdout.split("\n")
    lines = [line.strip() for line in lines if line.strip()]
    clauses = [t.count(",") + 1 for t in texts]
    if len(lines) != sum(clauses):
        if len(texts) == 1:
            return [", ".join(lines)]
        half = len(texts) // 2
        return phonemes(texts[:half], british) + phonemes(texts[half:], british)
    return [", ".join(lines.pop(0) for _ in range(n)) for n in clauses]


def rows(options):
    rng = random.Random(options.seed)
    names = sorted(p.stem for p in options.voices.glob("*.bin"))
    english = [n for n in names if n[0] in "ab" and n not in HELD]
    other = [n for n in names if n[0] not in "ab"]
    out = []
    for _ in range(options.count):
        words = KINDS[options.what](rng)
        voice = [[rng.choice(HELD), 1.0]] if options.held else draw_voice(rng, english, other)
        text = list(words)
        if options.what == "sentences" and len(words) > 2 and rng.random() < 0.15:
            text[rng.randrange(len(words) - 1)] += ","
        british = voice[0][0].startswith("b")
        out.append({"words": words, "text": " ".join(text), "british": british, "voice": voice, "speed": round(rng.uniform(0.75, 1.35), 2)})

    for british in (False, True):
        mine = [row for row in out if row["british"] == british]
        for k in range(0, len(mine), 200):
            for row, ipa in zip(mine[k : k + 200], phonemes([r["text"] for r in mine[k : k + 200]], british)):
                row["ipa"] = ipa
    for row in out:
        row["phones"] = [[v.PHONE[p] for p in rng.choice(v.pronunciations(w)[:2])] for w in row["words"]]
        row["garbage"] = [int(v.may_be_garbage(w)) for w in row["words"]]
    write(options, out, names)


def write(options, out, names):
    options.out.write_text(json.dumps(out))
    styles = {n: np.fromfile(options.voices / f"{n}.bin", "<f4").reshape(-1, 256)[: LONGEST + 2].astype("f2") for n in names}
    np.savez(options.out.with_name("voices.npz"), **styles)
    print(len(out), "rows")


def texts(options):
    british = options.voice.startswith("b")
    row = {"british": british, "voice": [[options.voice, 1.0]], "speed": options.speed, "phones": [], "garbage": []}
    lines = [line.strip() for line in options.file.read_text().splitlines() if line.strip()]
    out = [{"words": t.split(), "text": t, "ipa": phonemes([t], british)[0], **row} for t in lines]
    write(options, out, [options.voice])


def two_thirds(sound):
    """24 kHz to 16 kHz, through the spectrum."""
    n = len(sound) // 3 * 3
    spectrum = np.fft.rfft(sound[:n])
    m = n * 2 // 3
    return np.fft.irfft(spectrum[: m // 2 + 1] * (m / n), m)


def speaker(path, gpu):
    """What speaks: tokens, style and speed -> sound."""
    if gpu:
        import graph
        import torch

        torch.set_num_threads(1)
        return graph.Graph(path, "cuda")
    import onnxruntime

    setting = onnxruntime.SessionOptions()
    setting.intra_op_num_threads = setting.inter_op_num_threads = 1
    session = onnxruntime.InferenceSession(str(path), sess_options=setting, providers=["CPUExecutionProvider"])
    return lambda feed: session.run(None, feed)[0]


def feeds(folder):
    """What makes of a row what the network takes; None where it has too many phonemes or none."""
    symbols = json.loads((folder / "vocab.json").read_text())["vocab"]
    styles = np.load(folder / "voices.npz")

    def feed_of(row):
        tokens = [symbols[c] for c in row["ipa"] if c in symbols]
        if not 0 < len(tokens) <= LONGEST:
            return None
        style = sum(styles[name][len(tokens)].astype("f4") * share for name, share in row["voice"]).reshape(1, 256)
        return {"tokens": np.array([[0, *tokens, 0]], "i8"), "style": style, "speed": np.array([row["speed"]], "f4")}

    return feed_of


def worker(folder, out, seconds, k, of, rows, suffix, named, gpu):
    import soundfile

    until = time.time() + seconds
    say = speaker(folder / "kokoro.onnx", gpu)
    feed_of = feeds(folder)
    with open(out / f"{k:02d}.jsonl", "a") as listing:
        for i, row in enumerate(json.loads((folder / rows).read_text())):
            if i % of != k:
                continue
            if time.time() > until:
                break
            feed = feed_of(row)
            if feed is None:
                continue
            sound = two_thirds(say(feed).ravel())
            loud = np.flatnonzero(np.abs(sound) > 0.01)
            if len(loud) < 1000:
                continue
            sound = sound[max(0, loud[0] - 1600) : loud[-1] + 2400]
            who = "+".join(name for name, _ in row["voice"])
            name = "-".join(row["words"]) + f".{suffix}" if named else f"{who}-{i:05d}.{suffix}"
            sound = (sound / np.abs(sound).max() * 19000).astype("i2")
            if suffix == "opus":
                soundfile.write(out / name, sound, 16000, format="OGG", subtype="OPUS", compression_level=SQUEEZE)
            else:
                soundfile.write(out / name, sound, 16000)
            listing.write(json.dumps([name, "voice", row["phones"], row["garbage"], row["words"]]) + "\n")
            listing.flush()


def speak(options):
    options.out.mkdir(parents=True, exist_ok=True)
    fixed = options.folder, options.out, options.seconds
    arguments = [(*fixed, k, options.processes, options.rows, "opus" if options.opus else "flac", options.named, options.gpu) for k in range(options.processes)]
    running = [multiprocessing.Process(target=worker, args=a) for a in arguments]
    for process in running:
        process.start()
    for process in running:
        process.join()
    print(sum(1 for p in options.out.iterdir() if p.suffix in (".flac", ".opus")), "clips")


def transcripts(options):
    rows = [json.loads(line) for p in sorted(options.out.glob("*.jsonl")) for line in p.read_text().splitlines()]
    lines = sorted(f"{row[0]}\t{' '.join(row[4])}\n" for row in rows)
    (options.out / "transcripts.tsv").write_text("".join(lines))
    print(len(lines), "clips")


def main():
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    commands = parser.add_subparsers(required=True)
    one = commands.add_parser("rows")
    one.add_argument("voices", type=pathlib.Path)
    one.add_argument("out", type=pathlib.Path)
    one.add_argument("count", type=int)
    one.add_argument("--seed", type=int, default=77)
    one.add_argument("--what", choices=KINDS, default="sentences")
    one.add_argument("--held", action="store_true")
    one.set_defaults(run=rows)
    lines = commands.add_parser("texts")
    lines.add_argument("voices", type=pathlib.Path)
    lines.add_argument("out", type=pathlib.Path)
    lines.add_argument("file", type=pathlib.Path)
    lines.add_argument("voice")
    lines.add_argument("--speed", type=float, default=1.0)
    lines.set_defaults(run=texts)
    two = commands.add_parser("speak")
    two.add_argument("folder", type=pathlib.Path)
    two.add_argument("out", type=pathlib.Path)
    two.add_argument("seconds", type=float)
    two.add_argument("processes", type=int)
    two.add_argument("--opus", action="store_true", help="Ogg Opus instead of FLAC")
    two.add_argument("--gpu", action="store_true", help="speak on the GPU (graph.py, needs torch and onnx)")
    two.add_argument("--named", action="store_true", help="name each clip by its words")
    two.add_argument("--rows", default="rows.json", help="the rows' file in FOLDER")
    two.set_defaults(run=speak)
    three = commands.add_parser("transcripts")
    three.add_argument("out", type=pathlib.Path)
    three.set_defaults(run=transcripts)
    options = parser.parse_args()
    options.run(options)


if __name__ == "__main__":
    main()
