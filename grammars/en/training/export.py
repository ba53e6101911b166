"""Writes a model folder that the recogniser library reads, from trained weights.

usage: export.py WEIGHTS.npz FOLDER [--unknown garbage|loop|both] [--enter COST]

Needs OpenFst's fstcompile, fstarcsort and fstconvert with the arc look-ahead types (Debian: libfst-tools and
libfst22-plugins-base). The folder gets am/, conf/, graph/ and SHA256SUMS.
"""

import argparse
import hashlib
import math
import os
import pathlib
import struct
import subprocess
import sysconfig

import numpy as np

import vocabulary as v

SPACING = {2: 1, 3: 1, 4: 1, 5: 0} | {k: 3 for k in range(6, 16)}  # as in network.py, which needs torch
PLUGINS = f"/usr/lib/{sysconfig.get_config_var('MULTIARCH') or 'x86_64-linux-gnu'}/fst/22"
STAY = 0.6931  # one half, the cost of a self-loop and of leaving it

token = lambda text: text.encode() + b" "
integer = lambda n: b"\x04" + struct.pack("<i", n)
single = lambda x: b"\x04" + struct.pack("<f", x)
double = lambda x: b"\x08" + struct.pack("<d", x)
integers = lambda a: b"\x04" + struct.pack("<i", len(a)) + struct.pack(f"<{len(a)}i", *a)
vector = lambda a: b"FV " + integer(len(a)) + np.asarray(a, "<f4").tobytes()


def matrix(m):
    """Sixteen bits a value between the smallest and the largest (Kaldi's "CM2" form)."""
    low, span = float(m.min()), max(float(m.max() - m.min()), 1e-9)
    levels = np.round((m - low) / span * 65535).astype("<u2")
    return b"CM2 " + struct.pack("<ffii", low, span, *m.shape) + levels.tobytes()


def transition_model():
    """One emitting state a phone: a forward class, a self-loop class, both of probability one half."""
    n = len(v.PHONES)
    out = token("<TransitionModel>") + token("<Topology>")
    out += integers(range(1, n + 1)) + integers([-1] + [0] * n) + integer(-1) + integer(1) + integer(2)
    out += integer(0) + integer(1) + integer(2) + integer(0) + single(0.5) + integer(1) + single(0.5)
    out += integer(-1) + integer(-1) + integer(0) + token("</Topology>")
    out += token("<Tuples>") + integer(n)
    for p in range(n):
        out += integer(p + 1) + integer(0) + integer(2 * p) + integer(2 * p + 1)
    out += token("</Tuples>") + token("<LogProbs>") + vector([0.0] + [math.log(0.5)] * (2 * n))
    return out + token("</LogProbs>") + token("</TransitionModel>")


def network(weights):
    """The network in the library's text and binary form, batch norms kept as such."""
    lines, parts = ["input-node name=input dim=40"], []

    def node(name, source, body):
        lines.append(f"component-node name={name} component={name} input={source}")
        parts.append(token("<ComponentName>") + token(name) + body)

    def affine(name, source, w, b=None):
        b = np.zeros(len(w), "f4") if b is None else b
        body = token("<FixedAffineComponent>") + token("<LinearParams>") + matrix(w)
        node(name, source, body + token("<BiasParams>") + vector(b) + token("</FixedAffineComponent>"))

    def rectified(name, source, size):
        body = token("<RectifiedLinearComponent>") + token("<Dim>") + integer(size)
        body += token("<ValueAvg>") + vector([]) + token("<DerivAvg>") + vector([]) + token("<Count>") + double(0)
        body += token("<NumDimsSelfRepaired>") + double(0) + token("<NumDimsProcessed>") + double(0)
        node(name, source, body + token("</RectifiedLinearComponent>"))

    def norm(name, source, stem):
        mean, var = weights[stem + ".mean"], weights[stem + ".var"]
        body = token("<BatchNormComponent>") + token("<Dim>") + integer(len(mean)) + token("<BlockDim>") + integer(len(mean))
        body += token("<Epsilon>") + single(1e-3) + token("<TargetRms>") + single(1.0) + token("<TestMode>") + b"F"
        body += token("<Count>") + double(1000.0) + token("<StatsMean>") + vector(mean) + token("<StatsVar>") + vector(var)
        node(name, source, body + token("</BatchNormComponent>"))

    def block(stem, source):
        rectified(stem + ".relu", source, len(weights[stem + ".mean"]))
        norm(stem + ".bn", stem + ".relu", stem)
        return stem + ".bn"

    def spread(source, offsets):
        at = [source if o == 0 else f"Offset({source}, {o})" for o in offsets]
        return at[0] if len(at) == 1 else f"Append({', '.join(at)})"

    layers = [k for k in SPACING if f"l{k}.lin" in weights]
    affine("l1", spread("input", [-1, 0, 1]), weights["l1.w"], weights["l1.b"])
    x = block("l1", "l1")
    for k in layers:
        name, o = f"l{k}", SPACING[k]
        affine(name + "a", spread(x, [-o, 0] if o else [0]), weights[name + ".lin"])
        affine(name, spread(name + "a", [0, o] if o else [0]), weights[name + ".w"], weights[name + ".b"])
        y = block(name, name)
        size = integer(len(weights[name + ".mean"]))
        body = token("<NoOpComponent>") + token("<Dim>") + size + token("<BackpropScale>") + single(1.0)
        node(name + ".sum", f"Sum(Scale(0.66, {x}), {y})", body + token("</NoOpComponent>"))
        x = name + ".sum"
    affine("pre", x, weights["pre.w"])
    affine("pc", "pre", weights["pc.w"], weights["pc.b"])
    affine("pl", block("pc", "pc"), weights["pl.w"])
    norm("pl.bn", "pl", "pl")
    affine("out", "pl.bn", weights["out.w"], weights["out.b"])
    lines.append("output-node name=output input=out objective=linear")
    sight = 1 + sum(SPACING[k] for k in layers)
    out = b"<Nnet3> \n" + "\n".join(lines).encode() + b"\n\n" + token("<NumComponents>") + integer(len(parts))
    out += b"".join(parts) + token("</Nnet3>") + token("<LeftContext>") + integer(sight)
    return out + token("<RightContext>") + integer(sight) + token("<Priors>") + vector([])


class Graph:
    """Words as chains of phones around one hub, as an FST in text; the grammar is put in by the library at run time."""

    def __init__(self):
        self.lines, self.states = [], 1

    def state(self):
        self.states += 1
        return self.states - 1

    def arc(self, a, b, label=0, word=0, cost=0.0):
        self.lines.append(f"{a} {b} {label} {word} {cost:.4f}")

    def phone(self, source, phone, word=0, cost=0.0):
        """One phone from a state on; gives the state after it."""
        after = self.state()
        self.arc(source, after, 2 * phone + 2, word, cost)
        self.arc(after, after, 2 * phone + 1, 0, STAY)
        return after


def decoding_graph(words, unknown, enter):
    """Words and `[unk]`: the SPN phone ("garbage"), any three or more phones ("loop"), or whichever fits ("both")."""
    number = {w: i + 1 for i, w in enumerate(["[unk]", *words])}
    graph, hub = Graph(), 0
    graph.arc(graph.phone(hub, v.PHONE["SIL"], cost=0.7), hub, cost=0.69)
    for word in words:
        ways = v.pronunciations(word)
        for way in ways:
            at = hub
            for i, name in enumerate(way):
                first = i == 0
                at = graph.phone(at, v.PHONE[name], number[word] if first else 0, math.log(len(ways)) * 0.5 if first else 0.0)
            graph.arc(at, hub)
    if unknown in ("garbage", "both"):
        graph.arc(graph.phone(hub, v.PHONE["SPN"], number["[unk]"], enter), hub)
    if unknown in ("loop", "both"):
        speech = [i for i, name in enumerate(v.PHONES) if name != "SIL"]
        stops = [graph.state() for _ in range(3)]
        for depth, source in enumerate([hub, *stops[:2]]):
            for p in speech:
                after = graph.phone(source, p, 0 if depth else number["[unk]"], 1.5 + (0 if depth else 7.0))
                graph.arc(after, stops[depth])
                if depth == 2:
                    graph.arc(stops[2], after, 2 * p + 2, 0, 1.5)
        graph.arc(stops[2], hub)
    return number, "\n".join(graph.lines) + f"\n{hub} 0.0\n"


MFCC = """use-energy=false num-mel-bins=40 num-ceps=40 low-freq=20 high-freq=7600 dither=1.0 allow-upsample=true allow-downsample=true"""
# phone-determinize=false: with it lattices with [unk] take seconds. dither: exact zeros in the sound swallow the first word.
MODEL = """min-active=200 max-active=3000 beam=12.0 lattice-beam=3.0 phone-determinize=false acoustic-scale=1.0
frame-subsampling-factor=3 endpoint.silence-phones=1 endpoint.rule2.min-trailing-silence=0.5
endpoint.rule3.min-trailing-silence=1.0 endpoint.rule4.min-trailing-silence=2.0"""


def write(folder, weights, words, unknown, enter):
    for part in ("am", "conf", "graph"):
        (folder / part).mkdir(parents=True, exist_ok=True)
    (folder / "am/final.mdl").write_bytes(b"\x00B" + transition_model() + network(weights))
    for name, text in (("mfcc", MFCC), ("model", MODEL)):
        (folder / f"conf/{name}.conf").write_text("".join(f"--{s}\n" for s in text.split()))
    out = folder / "graph"
    number, text = decoding_graph(words, unknown, enter)

    def run(command, given):
        env = os.environ | {"LD_LIBRARY_PATH": PLUGINS}
        return subprocess.run(command, shell=True, check=True, cwd=out, env=env, input=given).stdout

    run("fstcompile | fstarcsort --sort_type=olabel > hcl.fst", text.encode())
    run("fstconvert --fst_type=olabel_lookahead --save_relabel_opairs=relabel.txt hcl.fst HCLr.fst", None)
    moved = dict(map(int, line.split()) for line in (out / "relabel.txt").read_text().splitlines() if line.strip())
    number = {word: moved.get(i, i) for word, i in number.items()}
    by_number = sorted(number.items(), key=lambda item: item[1])
    (out / "words.txt").write_text("<eps> 0\n" + "".join(f"{w} {i}\n" for w, i in by_number))
    cost = math.log(len(words))
    run("fstcompile | fstarcsort --sort_type=ilabel > Gr.fst",
        ("".join(f"0 0 {i} {i} {cost:.4f}\n" for _, i in by_number) + "0 0.0\n").encode())
    (out / "phones.txt").write_text("<eps> 0\n" + "".join(f"{p} {i + 1}\n" for i, p in enumerate(v.PHONES)))
    (out / "disambig_tid.int").write_text(f"{2 * len(v.PHONES) + 1}\n")
    for name in ("hcl.fst", "relabel.txt"):
        (out / name).unlink()
    files = sorted(p for p in folder.rglob("*") if p.is_file() and p.parent != folder)
    sums = [f"{hashlib.sha256(p.read_bytes()).hexdigest()}  {p.relative_to(folder)}\n" for p in files]
    (folder / "SHA256SUMS").write_text("".join(sums))


def main():
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("weights", type=pathlib.Path)
    parser.add_argument("folder", type=pathlib.Path)
    parser.add_argument("--unknown", choices=("garbage", "loop", "both"), default="garbage")
    parser.add_argument("--enter", type=float, default=-2.5, help="cost of an [unk] by the SPN phone")
    options = parser.parse_args()
    with np.load(options.weights) as z:
        weights = {k: z[k].astype("f4") for k in z.files}
    write(options.folder, weights, v.shipped_words(), options.unknown, options.enter)


if __name__ == "__main__":
    main()
