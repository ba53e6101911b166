"""Cuts single words out of longer clips, so that every digit is heard alone and in telephone-like strings of one person.

usage: cuts.py DATA SOUND WEIGHTS.npz [--device cuda] [--clips N]

Lays the known phones of each clip over its frames (best path of the network in WEIGHTS) and writes DATA/cuts.jsonl, one cut a
line: file, first sample, end, words as phones, which words may become SPN, speaker, kind. Kind `digit`: a run of number words
(in AN4 each word by itself), and whole clips of one number word; kind `foreign`: a word that the tool does not listen for.
"""

import argparse
import concurrent.futures
import json
import pathlib
import random

import numpy as np
import torch

from network import Features, Network, load
from train import sound_of
from vocabulary import DIGITS, PHONE, TEENS, TENS, pronunciations

NUMBER = {p for w in [*DIGITS, *TEENS, *TENS, "oh", "hundred", "thousand", "point"] for p in pronunciations(w)}
FRAME, PAD = 480, 640  # samples: three frames of 10 ms; 40 ms more on either side


def best_path(scores, words):
    """For each word its first frame and the one after its last, or None where the sound is too short."""
    phone, optional, owner = [0], [True], [-1]
    for k, word in enumerate(words):
        phone += [*word, 0]
        optional += [False] * len(word) + [True]
        owner += [k] * len(word) + [-1]
    phone, optional = np.array(phone), np.array(optional)
    n = len(phone)
    skip = np.zeros(n, bool)
    skip[2:] = optional[1:-1]
    now = np.full(n, -1e30)
    now[:2] = scores[0, 2 * phone[:2]]
    back = np.zeros((len(scores), n), np.int8)
    for t in range(1, len(scores)):
        stay = now + scores[t, 2 * phone + 1]
        one, two = np.full(n, -1e30), np.full(n, -1e30)
        one[1:] = now[:-1]
        two[2:] = now[:-2]
        two[~skip] = -1e30
        enter = np.maximum(one, two) + scores[t, 2 * phone]
        back[t] = np.where(stay >= enter, 0, np.where(one >= two, 1, 2))
        now = np.maximum(stay, enter)
    at = n - 1 if now[n - 1] >= now[n - 2] else n - 2
    if now[at] < -1e20:
        return None
    spans = {}
    for t in range(len(scores) - 1, -1, -1):
        if owner[at] >= 0:
            begin, end = spans.get(owner[at], (t, t + 1))
            spans[owner[at]] = (t, end)
        at -= int(back[t, at])
    return [spans[k] for k in range(len(words))]


def speaker_of(name):
    stem = pathlib.Path(name).stem
    if name.startswith("speech-commands"):
        return stem.split("_")[0]
    return stem.split("-")[1] if name.startswith("an4") else stem.split("-")[0]


def cut(row, scores, length, rng):
    """The cuts of one clip."""
    name, kind, words, outside = row[:4]
    spans = best_path(scores, words)
    if spans is None:
        return
    number = [tuple(map(NAMES_OF.__getitem__, w)) in NUMBER for w in words]
    k, foreign = 0, []
    while k < len(words):
        end = k + 1
        if number[k] and kind == "book":
            while end < len(words) and number[end]:
                end += 1
        first, last = spans[k][0] * FRAME - PAD + 200, spans[end - 1][1] * FRAME + PAD + 200
        duration = (spans[end - 1][1] - spans[k][0]) * 0.03
        if 0.12 * (end - k) <= duration <= 1.1 * (end - k):
            out = [name, max(0, first), min(length, last), words[k:end], outside[k:end], speaker_of(name)]
            if number[k]:
                yield [*out, "digit"]
            elif len(words[k]) >= 3 and duration >= 0.24 and (outside[k] or kind == "an4"):
                foreign.append([*out, "foreign"])
        k = end
    yield from rng.sample(foreign, min(len(foreign), 2))


NAMES_OF = list(PHONE)


def main():
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("data", type=pathlib.Path)
    parser.add_argument("sound", type=pathlib.Path)
    parser.add_argument("weights", type=pathlib.Path)
    parser.add_argument("--device", default="cuda")
    parser.add_argument("--clips", type=int, default=10**9)
    options = parser.parse_args()
    rng = random.Random(12)
    listed = [json.loads(line) for line in open(options.data / "manifest.jsonl")]
    rows = [r for r in listed if r[1] in ("an4", "book") and r[2]][: options.clips]
    features, network = Features(options.device), Network(load(options.weights)).to(options.device).eval()
    found = []
    with concurrent.futures.ThreadPoolExecutor(8) as pool, torch.no_grad():
        for row, x in zip(rows, pool.map(lambda r: sound_of(options.sound / r[0]), rows)):
            if x is None:
                continue
            y = torch.tensor(x, dtype=torch.float32, device=options.device)[None]
            scores = network(features.cepstra(features.log_mel(y + torch.randn_like(y))))[0][0].cpu().numpy()
            found += cut(row, scores, len(x), rng)
    for name, kind, words, outside, who in listed:  # these are single words already
        if kind == "real" or (kind == "word" and tuple(map(NAMES_OF.__getitem__, words[0])) in NUMBER):
            found.append([name, 0, 10**9, words, outside, who or speaker_of(name), "digit"])
    (options.data / "cuts.jsonl").write_text("".join(json.dumps(c) + "\n" for c in found))
    print(len(found), "cuts,", sum(c[6] == "digit" for c in found), "of numbers")


if __name__ == "__main__":
    main()
