"""Trains a network with lattice-free MMI, from weights of an earlier one or (with --teacher) from a foreign language's.

usage: train.py DATA START.npz OUT.npz --seconds N [options]     one GPU; `--device cpu` for a try of a few steps

DATA is what prepare.py wrote, with the clips beside or under --sound. --spoken names a folder that voices.py fills, now or
while training runs: new clips are taken up at each round through the data. With --teacher the new outputs first learn the
teacher's alignment (trunk still), since a trunk trained on bad alignments is lost; then everything learns by MMI.
Steps whose loss or gradient is not finite are skipped and counted.
"""

import argparse
import concurrent.futures
import json
import math
import pathlib
import random
import time

import numpy as np
import soundfile
import torch
from torch import nn

import chain
from makers import at_16000
from network import Features, Network, load, save
from noise import SHARES, Spoiler
from prepare import GARBAGE
from vocabulary import OUTPUTS, PHONE

SPN = PHONE["SPN"]
FOREIGN = 0.6  # how often a word cut out alone, that the tool does not listen for, is trained as SPN


def sound_of(path):
    """16 kHz mono samples as 16-bit integers, or None where the file cannot be read."""
    try:
        x, rate = soundfile.read(path, dtype="int16")
    except Exception:  # some of the shortest Opus files are too short for the library
        return None
    x = x if x.ndim == 1 else x[:, 0]
    if rate == 48000:
        x = x[: len(x) // 3 * 3].astype("f4").reshape(-1, 3).mean(1).astype("i2")
    return x if len(x) > 1600 else None


def room_of(path):
    """A room's response at 16 kHz from its direct sound on, which is 1, or None where it cannot be read."""
    try:
        x, rate = soundfile.read(path, dtype="float32")
    except Exception:
        return None
    x = at_16000(x if x.ndim == 1 else x[:, 0], rate)
    x = x[np.abs(x).argmax() :][:8000] / np.abs(x).max()
    return np.pad(x, (0, 8000 - len(x))) * np.linspace(1, 0, 8000) ** 0.3


def edges(x):
    """The first and the last sample that are loud."""
    loud = np.flatnonzero(np.abs(x.astype("i4")) > 0.02 * np.abs(x.astype("i4")).max())
    return (int(loud[0]), int(loud[-1])) if len(loud) else (0, len(x))


def cut_short(x, first, last):
    """Up to 120 ms of the beginning and 80 ms of the end are missing, as where a switch or a gate is late; never more than a third."""
    most = (last - first) // 6
    begin = first + min(most, random.randint(-800, 1920))
    end = last - min(most, random.randint(-800, 1280))
    return x[max(0, begin) : max(end, begin + 800)]


class Clips:
    """The clips by kind, on the device: (sound, words as phones, which words may become SPN)."""

    def __init__(self, options):
        self.options, self.by_kind, self.read, self.by_name = options, {}, {}, {}
        rows = [json.loads(line) for line in open(options.data / "manifest.jsonl")]
        random.shuffle(rows)
        rooms = [room_of(options.sound / r[0]) for r in rows if r[1] == "room"]
        self.rooms = [torch.tensor(x, dtype=torch.float32, device=options.device) for x in rooms if x is not None]
        rows = [r for r in rows if r[1] != "room"]
        self._take([(options.sound / r[0], r) for r in rows[: options.clips]])
        self.cuts = {"digit": {}, "foreign": {}}
        if (options.data / "cuts.jsonl").is_file():
            self._cut([json.loads(line) for line in open(options.data / "cuts.jsonl")])
        self.more()

    def _take(self, pairs):
        with concurrent.futures.ThreadPoolExecutor(8) as pool:
            for (_, row), x in zip(pairs, pool.map(lambda p: sound_of(p[0]), pairs)):
                if x is not None:
                    clip = (torch.from_numpy(x).to(self.options.device), row[2], row[3], edges(x))
                    self.by_kind.setdefault(row[1], []).append(clip)
                    self.by_name[row[0]] = clip[0]

    def _cut(self, rows):
        """Words cut from longer clips, and whole clips of one word, by speaker."""
        for name, begin, end, words, outside, speaker, kind in rows:
            if name in self.by_name:
                x = self.by_name[name][begin:end].clone()
                ramp = torch.linspace(0, 1, 160, device=x.device)
                x[:160] = (x[:160] * ramp).to(x.dtype)
                x[-160:] = (x[-160:] * ramp.flip(0)).to(x.dtype)
                self.cuts[kind].setdefault(speaker, []).append((x, words, outside))

    def more(self):
        """Takes up what the synthetic voices have spoken meanwhile."""
        for listing in [p for folder in self.options.spoken for p in sorted(folder.glob("*.jsonl"))]:
            lines = listing.read_text().split("\n")[:-1]
            seen = self.read.get(listing, 0)
            self.read[listing] = len(lines)
            self._take([(listing.parent / r[0], r) for r in map(json.loads, lines[seen:])])

    def hours(self):
        return {k: round(sum(len(c[0]) for c in v) / 16000 / 3600, 2) for k, v in self.by_kind.items()}

    def strung(self, kind, count, lengths):
        """So many strings of cuts, each of one speaker, with short pauses between some of them."""
        names = [name for name, clips in self.cuts[kind].items() if len(clips) >= 3]
        people = [self.cuts[kind][name] for name in names]
        # Readers of books (named by numbers) say few digits, most of them "one", "two" and "four".
        # Of those with eight letters there are four of the ten digits.
        few = lambda name: name.isdigit() or len(name) == 8
        weights = [math.sqrt(len(self.cuts[kind][name])) * (0.4 if few(name) else 1) for name in names]
        for clips in random.choices(people, weights, k=count) if people else []:
            parts, words = [], []
            pause = random.choice([0, 800, 2400, 5000])
            for clip in random.choices(clips, k=random.choice(lengths)):
                level = clip[0].float().square().mean().sqrt().clamp_min(30)
                parts += [(clip[0].float() * (1500 / level)).clamp(-32000, 32000).short()]
                parts += [torch.zeros(random.randint(0, pause), dtype=torch.int16, device=self.options.device)]
                words += with_garbage(clip, FOREIGN if kind == "foreign" else GARBAGE)
            whole = torch.cat(parts)
            if random.random() < 0.5:  # the cuts have 40 ms around the words
                whole = whole[random.randint(0, 1920) : len(whole) - random.randint(0, 1280)]
            yield whole, words

    def round(self):
        """One round's utterances: (sound, words), each kind as often as its share says, single words strung together."""
        out = []
        for kind, clips in self.by_kind.items():
            if kind in ("noise", "word", "test"):
                continue
            share = self.options.shares.get(kind, 1.0)
            for clip in clips:
                for _ in range(int(share) + (random.random() < share % 1)):
                    short = random.random() < self.options.short and (kind == "real" or len(clip[1]) == 1)
                    out.append((cut_short(clip[0], *clip[3]) if short else clip[0], with_garbage(clip)))
        words = [c for c in self.by_kind.get("word", []) if random.random() < self.options.shares.get("word", 1.0)]
        random.shuffle(words)
        while words:
            group = [words.pop() for _ in range(min(len(words), random.choice([1, 2, 3, 3, 4, 5, 6])))]
            if len(group) == 1 and random.random() < self.options.short:
                out.append((cut_short(group[0][0], *group[0][3]), with_garbage(group[0])))
                continue
            trim = lambda x: x[random.randint(0, 2400) : len(x) - random.randint(0, 2400)] if len(x) > 12000 else x
            out.append((torch.cat([trim(c[0]) for c in group]), [w for c in group for w in with_garbage(c)]))
        out += self.strung("digit", int(self.options.shares.get("digit", 0)), [1, 1, 1, 2, 3, 3, 4, 5, 7, 10])
        out += self.strung("foreign", int(self.options.shares.get("foreign", 0)), [1, 1, 1, 2])
        for _ in range(int(len(out) * self.options.shares.get("silent", 0.06))):
            length = random.randint(8000, 80000)
            if random.random() < 0.5 and self.by_kind.get("noise"):
                x = random.choice(self.by_kind["noise"])[0]
                begin = random.randrange(max(1, len(x) - length))
                out.append((x[begin : begin + length], []))
            else:
                out.append((torch.zeros(length, dtype=torch.int16, device=self.options.device), []))
        return out


def with_garbage(clip, share=GARBAGE):
    """The clip's words, some of those that the tool does not listen for replaced by SPN."""
    return [[SPN] if outside and random.random() < share else word for word, outside in zip(clip[1], clip[2])]


def batches(utterances, seconds):
    """Batches of like length, at most so many seconds of sound and 160 utterances each."""
    utterances = sorted(utterances, key=lambda u: len(u[0]) * random.uniform(0.95, 1.05))
    out, now, longest = [], [], 0
    for u in utterances:
        longest = max(longest, len(u[0]))
        if now and (longest * (len(now) + 1) > 16000 * seconds or len(now) >= 160):
            out.append(now)
            now, longest = [], len(u[0])
        now.append(u)
    out.append(now)
    random.shuffle(out)
    return out


class Trainer:
    def __init__(self, options):
        self.options = options
        self.features = Features(options.device)
        self.clips = Clips(options)
        print("hours", self.clips.hours(), flush=True)
        self.spoil = Spoiler([c[0] for c in self.clips.by_kind["noise"]], options.device, options.loudest, SHARES | options.noise, self.clips.rooms)
        bigram = torch.tensor(np.load(options.data / "bigram.npy"), dtype=torch.float32)
        self.move, self.start = chain.any_phones(bigram, options.device)
        self.network = Network(load(options.start, options.layers)).to(options.device)
        self.teacher = None
        if options.teacher:
            self.teacher = Network(load(options.teacher)).to(options.device).eval()
        head = self.network.head()
        known = {id(p) for p in head}
        self.trunk = [p for p in self.network.parameters() if id(p) not in known]
        groups = [{"params": head, "share": 1.0}, {"params": self.trunk, "share": options.trunk}]
        self.optimiser = torch.optim.AdamW(groups, lr=options.rate, weight_decay=1e-3)
        self.average, self.step, self.skipped = {}, 0, 0

    def cepstra(self, clips):
        log_mel = self.features.log_mel(self.spoil([c.float() for c in clips]), random.choice([0, 0, *range(len(self.features.mels))]))
        if random.random() < 0.6:  # one band of up to 8 filters is hidden
            width = random.randint(1, 8)
            low = random.randint(0, 40 - width)
            log_mel[:, :, low : low + width] = log_mel.mean()
        for _ in range(random.choice([0, 1, 2])):  # and up to 80 ms
            begin = random.randrange(log_mel.shape[1])
            log_mel[:, begin : begin + random.randint(1, 8)] = log_mel.mean()
        return self.features.cepstra(log_mel)

    def alignment_loss(self, x, words):
        """Outputs learn how the teacher lays the known phones over the frames."""
        phone, optional, length = chain.strings(words, self.options.device)
        with torch.no_grad():
            scores = self.teacher(x)[0]
        scores = scores.detach().requires_grad_()
        total = chain.numerator(scores, phone, optional, length)
        good = total > -1e20
        where = torch.autograd.grad(total[good].sum(), scores)[0]
        e, other = self.network(x)
        frames = good.sum() * e.shape[1]
        loss = -(where * e.log_softmax(-1)).sum() / frames
        plain = -(where * other.log_softmax(-1)).sum() / frames
        return loss + 0.1 * plain, loss, plain

    def mmi_loss(self, x, words, drop):
        phone, optional, length = chain.strings(words, self.options.device)
        with torch.autocast("cuda", torch.bfloat16, enabled=self.options.half):
            e, other = self.network(x, drop)
        e, other = e.float(), other.float()
        right = chain.numerator(e, phone, optional, length)
        good = right > -1e20
        where = torch.autograd.grad(right[good].sum(), e, retain_graph=True)[0].detach()
        frames = good.sum() * e.shape[1]
        loss = -(right - chain.denominator(e, self.move, self.start))[good].sum() / frames
        plain = -(where * other.log_softmax(-1)).sum() / frames
        return loss + 0.1 * plain + 5e-4 * e.square().mean(), loss, plain

    def run(self):
        options, began, saved, recent = self.options, time.time(), time.time(), []
        while True:
            self.clips.more()
            for batch in batches(self.clips.round(), options.batch):
                done = (time.time() - began) / options.seconds
                if done >= 1 or self.step >= options.steps:
                    return self.finish(began)
                aligning = self.teacher is not None and time.time() - began < options.align
                self.network.train()
                for norm in self.network.norms.values():
                    norm.eval()  # the statistics stay as the first weights have them
                for p in self.trunk:
                    p.requires_grad_(not aligning)
                rate = options.rate * min(1, (self.step + 1) / 300) * 0.5 * (1 + math.cos(math.pi * done)) + 2e-6
                for group in self.optimiser.param_groups:
                    group["lr"] = rate * group["share"] * (3 if aligning else 1)
                with torch.no_grad():
                    x = self.cepstra([c for c, _ in batch])
                words = [w for _, w in batch]
                loss, main, plain = self.alignment_loss(x, words) if aligning else self.mmi_loss(x, words, options.drop)
                self.optimiser.zero_grad()
                loss.backward()
                size = nn.utils.clip_grad_norm_(self.network.parameters(), 0.5)
                self.step += 1
                if not (torch.isfinite(size) and torch.isfinite(loss)):
                    self.skipped += 1
                    continue
                self.optimiser.step()
                recent.append((main.item(), plain.item(), size.item()))
                if done > 0.3:
                    with torch.no_grad():
                        for name, p in self.network.named_parameters():
                            self.average[name] = self.average[name].lerp_(p, 0.002) if name in self.average else p.clone()
                if self.step % options.every == 0:
                    numbers = " ".join("%.4f" % v for v in np.mean(recent[-options.every :], 0))
                    kind = "align" if aligning else "mmi"
                    print(f"{self.step} {time.time() - began:.0f} s {kind} {numbers} skipped {self.skipped} {self.clips.hours()}", flush=True)
                if time.time() - saved > 100:
                    saved = time.time()
                    save(options.out, self.network)
                    print(f"watched {self.watched():.4f}", flush=True)

    def watched(self):
        """The objective on clips of kind `test`, without noise; never trained on."""
        self.network.eval()
        values = []
        clips = self.clips.by_kind.get("test", [])
        with torch.no_grad():
            for i in range(0, len(clips), 16):
                batch = clips[i : i + 16]
                y = torch.zeros(len(batch), max(len(c[0]) for c in batch) + 4000, device=self.options.device)
                for j, c in enumerate(batch):
                    y[j, 1000 : 1000 + len(c[0])] = c[0]
                e, _ = self.network(self.features.cepstra(self.features.log_mel(y + torch.randn_like(y))))
                phone, optional, length = chain.strings([c[1] for c in batch], self.options.device)
                gain = chain.numerator(e, phone, optional, length) - chain.denominator(e, self.move, self.start)
                values += (gain / e.shape[1]).tolist()
        return float(np.mean(values)) if values else math.nan

    def finish(self, began):
        print(f"last weights: watched {self.watched():.4f}", flush=True)
        save(self.options.out, self.network)
        if self.average:
            with torch.no_grad():
                for name, p in self.network.named_parameters():
                    p.copy_(self.average[name])
            print(f"averaged weights: watched {self.watched():.4f}", flush=True)
            save(self.options.out.with_name(self.options.out.stem + "-averaged.npz"), self.network)
        print(f"done {self.step} steps, {self.skipped} skipped, {time.time() - began:.0f} s", flush=True)


def shares(text):
    return {k: float(n) for k, n in (p.split("=") for p in text.split(",") if p)}


def main():
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    add = parser.add_argument
    add("data", type=pathlib.Path)
    add("start", type=pathlib.Path)
    add("out", type=pathlib.Path)
    add("--seconds", type=float, required=True, help="how long to train, the reading of the clips not counted")
    add("--steps", type=int, default=10**9)
    add("--sound", type=pathlib.Path, help="folder of the clips; DATA by default")
    add("--spoken", type=pathlib.Path, action="append", default=[], help="folder of voices.py speak; may be given more than once")
    add("--teacher", type=pathlib.Path, help="weights whose alignment the new outputs learn first")
    add("--align", type=float, default=60, help="seconds of that")
    add("--layers", type=int, default=99, help="leave out the factored layers above this one")
    add("--seed", type=int, default=1)
    add("--rate", type=float, default=6e-4)
    add("--trunk", type=float, default=0.3, help="the trunk's share of the rate")
    add("--drop", type=float, default=0.15)
    add("--shares", type=shares, default={}, help="how often each kind comes in a round, as an4=4,book=1,word=1,voice=0.5,silent=0.06; of digit and foreign a count of strings")
    add("--noise", type=shares, default={}, help="as room=0.35,band=0.4,tight_band=0.5,companded=0.4,coded=0.15,overdriven=0.15,clean=0.3")
    add("--short", type=float, default=0.5, help="share of the single words whose beginning and end are cut short")
    add("--loudest", type=float, default=-3.0, help="lowest signal to noise ratio, dB")
    add("--half", action="store_true", help="sums of the network in bfloat16, a third faster")
    add("--batch", type=float, default=1100, help="seconds of sound a step")
    add("--every", type=int, default=100, help="print every so many steps")
    add("--clips", type=int, default=10**9, help="use only so many clips (for a try)")
    add("--memory", type=float, default=1.0, help="share of the GPU's memory, where several trainings share it")
    add("--device", default="cuda")
    options = parser.parse_args()
    options.sound = options.sound or options.data
    assert OUTPUTS == 82
    random.seed(options.seed)
    np.random.seed(options.seed)
    torch.manual_seed(options.seed)
    torch.backends.cuda.matmul.allow_tf32 = torch.backends.cudnn.allow_tf32 = True
    if options.device == "cuda":
        torch.backends.cuda.cufft_plan_cache.max_size = 16  # their work space lies outside of the memory that torch counts
    if options.memory < 1:
        torch.cuda.set_per_process_memory_fraction(options.memory)
    Trainer(options).run()


if __name__ == "__main__":
    main()
