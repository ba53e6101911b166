"""Owns the features and the network: the same sums as the recogniser library does, so that what is trained is what runs.

The network is a factored TDNN: a layer of 120 inputs (three frames of 40 cepstra), then factored layers with a bypass; the
first five see every frame of 10 ms, the others every third. How many layers there are follows from the weights' names.
"""

import math

import numpy as np
import torch
import torch.nn.functional as F
from torch import nn

from vocabulary import OUTPUTS

RATE = 16000
# Layer number -> distance of its two inputs in frames; 0: one input only. From layer 6 on every third frame is computed.
SPACING = {2: 1, 3: 1, 4: 1, 5: 0} | {k: 3 for k in range(6, 16)}
BYPASS = 0.66
NORM_EPSILON = 1e-3


def layers_of(names):
    """The factored layers for which there are weights, lowest first."""
    return [k for k in SPACING if f"l{k}.lin" in names]


def context(layers):
    """How many frames the network sees on either side."""
    return 1 + sum(SPACING[k] for k in layers)


def warped(hertz, factor, knee=4800.0, top=8000.0):
    """Frequencies times the factor up to a knee, from there straight to the top, which stays."""
    knee = knee * min(1.0, 1.0 / factor)
    above = factor * knee + (top - factor * knee) * (hertz - knee) / (top - knee)
    return np.where(hertz <= knee, factor * hertz, above)


WARPS = (1.0, 0.85, 0.9, 0.94, 1.06, 1.1, 1.15)  # other vocal tracts: all frequencies times this


def mel_weights(bands=40, low=20.0, high=7600.0, size=512, warp=1.0):
    """Triangular mel filters over the power spectrum, (size/2+1, bands)."""
    mel = lambda hertz: 1127.0 * np.log1p(hertz / 700.0)
    edges = np.linspace(mel(low), mel(high), bands + 2)
    bins = mel(warped(RATE / size * np.arange(size // 2 + 1), warp))[:, None]
    rise = (bins - edges[:-2]) / (edges[1:-1] - edges[:-2])
    fall = (edges[2:] - bins) / (edges[2:] - edges[1:-1])
    out = np.clip(np.minimum(rise, fall), 0.0, None)
    out[-1] = 0.0  # the last bin is left out, as the library does
    return out


class Features:
    """Log mel energies and cepstra of a batch of sound in 16-bit range: (B, samples) -> (B, frames, 40)."""

    def __init__(self, device):
        as_tensor = lambda a: torch.tensor(np.ascontiguousarray(a), dtype=torch.float32, device=device)
        k = np.arange(40)
        dct = np.sqrt(2.0 / 40) * np.cos(np.pi / 40 * (k[None, :] + 0.5) * k[:, None])
        dct[0] = np.sqrt(1.0 / 40)
        lifter = 1 + 11 * np.sin(np.pi * k / 22)
        self.mels = [as_tensor(mel_weights(warp=w)) for w in WARPS]
        self.dct = as_tensor((dct * lifter[:, None]).T)
        self.window = as_tensor((0.5 - 0.5 * np.cos(2 * np.pi * np.arange(400) / 399)) ** 0.85)

    def log_mel(self, sound, warp=0):
        """`warp`: which of WARPS; for training."""
        f = sound.unfold(1, 400, 160)
        f = f - f.mean(-1, keepdim=True)
        f = f - 0.97 * torch.cat([f[..., :1], f[..., :-1]], -1)
        power = torch.fft.rfft(f * self.window, 512).abs().square()
        return (power @ self.mels[warp]).clamp_min(1.1920929e-7).log()

    def cepstra(self, log_mel):
        return log_mel @ self.dct


class Network(nn.Module):
    """Weights as float arrays by name -> a trainable network with the chain output and a plain classifier beside it."""

    def __init__(self, weights):
        super().__init__()
        self.layers = layers_of(weights)
        self.context = context(self.layers)
        self.weights = nn.ParameterDict()
        self.norms = nn.ModuleDict()
        for name, value in weights.items():
            stem, kind = name.split(".")
            if kind == "mean":
                norm = nn.BatchNorm1d(len(value), eps=NORM_EPSILON, momentum=0.05, affine=False)
                norm.running_mean.copy_(torch.tensor(value))
                norm.running_var.copy_(torch.tensor(weights[stem + ".var"]))
                self.norms[stem] = norm
            elif kind != "var":
                self.weights[name.replace(".", "_")] = nn.Parameter(torch.tensor(value))
        self.classifier = nn.Linear(64, OUTPUTS)

    def _norm(self, stem, x):
        return self.norms[stem](x.reshape(-1, x.shape[-1])).view(x.shape)

    def forward(self, x, drop=0.0):
        """Cepstra (B, frames, 40) -> two (B, frames/3, outputs): chain scores and classifier scores."""
        w, pad = self.weights, self.context
        x = torch.cat([x[:, :1].expand(-1, pad, -1), x, x[:, -1:].expand(-1, pad, -1)], 1)
        x = torch.cat([x[:, :-2], x[:, 1:-1], x[:, 2:]], -1)
        x = self._norm("l1", F.relu(F.linear(x, w["l1_w"], w["l1_b"])))
        for k in self.layers:
            name = f"l{k}"
            if k == 6:
                x = x[:, ::3]
            two = SPACING[k] > 0
            pair = lambda v: torch.cat([v[:, :-1], v[:, 1:]], -1) if two else v
            h = pair(F.linear(pair(x), w[name + "_lin"]))
            h = self._norm(name, F.relu(F.linear(h, w[name + "_w"], w[name + "_b"])))
            if drop and self.training:
                h = h * (1 + drop * (2 * torch.rand(h.shape[0], 1, h.shape[2], device=h.device, dtype=h.dtype) - 1))
            x = BYPASS * (x[:, 1:-1] if two else x) + h
        x = F.linear(x, w["pre_w"])
        x = self._norm("pc", F.relu(F.linear(x, w["pc_w"], w["pc_b"])))
        x = self._norm("pl", F.linear(x, w["pl_w"]))
        return F.linear(x, w["out_w"], w["out_b"]), self.classifier(x)

    def head(self):
        """The parameters that belong to the outputs alone."""
        return [self.weights["out_w"], self.weights["out_b"], *self.classifier.parameters()]

    def arrays(self):
        """The weights by name, as the constructor takes them."""
        out = {k[::-1].replace("_", ".", 1)[::-1]: v.detach().cpu().numpy() for k, v in self.weights.items()}
        for stem, norm in self.norms.items():
            out[stem + ".mean"] = norm.running_mean.cpu().numpy()
            out[stem + ".var"] = norm.running_var.cpu().numpy()
        return out


def load(path, drop_above=99):
    """Weights from a file, without the factored layers above the given one."""
    with np.load(path) as z:
        found = {k: z[k].astype("f4") for k in z.files}
    keep = lambda name: not (name[0] == "l" and name.split(".")[0][1:].isdigit()) or int(name.split(".")[0][1:]) <= drop_above
    return {k: v for k, v in found.items() if keep(k)}


def save(path, network):
    """Half precision is enough to go on from and to export."""
    np.savez(path, **{k: v.astype("f2") for k, v in network.arrays().items()})


HALF = math.log(0.5)
