"""Owns what happens to a clip on its way to the network: speed, room, noise, band, overdrive, level.

Everything is drawn anew at each step, so no clip is heard twice alike.
"""

import math
import random

import torch
import torch.nn.functional as F

SHARES = {"room": 0.35, "band": 0.4, "tight_band": 0.5, "companded": 0.4, "overdriven": 0.15, "clean": 0.3}


def made(count, length, device):
    """Generated noise, (count, length): coloured hiss, sometimes an engine's harmonics, sometimes bangs."""
    draw = lambda *shape: torch.rand(*shape, device=device)
    unit = lambda v: v / v.std(1, keepdim=True).clamp_min(1e-6)
    spectrum = torch.fft.rfft(torch.randn(count, length, device=device))
    bins = torch.arange(spectrum.shape[1], device=device).clamp_min(1).float()
    hiss = torch.fft.irfft(spectrum * bins.pow(-1.2 * draw(count, 1)), length)
    time = torch.arange(length, device=device) / 16000
    base = 25 * 8 ** draw(count, 1)
    hum = torch.zeros(count, length, device=device)
    for k in range(1, 13):
        hum += draw(count, 1) * torch.sin(2 * math.pi * (base * k * time + draw(count, 1)))
    hits = torch.zeros(count, length, device=device).scatter_(1, torch.randint(0, length, (count, 4), device=device), 1.0)
    ring = torch.exp(-torch.arange(4000, device=device) / random.uniform(100, 900)) * torch.randn(4000, device=device)
    size = length + 4096
    bangs = torch.fft.irfft(torch.fft.rfft(hits, size) * torch.fft.rfft(ring, size), size)[:, :length]
    share = draw(count, 3) ** 2
    return (
        share[:, :1] * unit(hiss)
        + share[:, 1:2] * unit(hum) * (draw(count, 1) < 0.5)
        + share[:, 2:] * unit(bangs) * (draw(count, 1) < 0.3)
    )


def companded(x):
    """At 8 kHz, 8 bits a sample with the mu law of telephone lines (ITU-T G.711's curve without its piecewise form)."""
    n = x.shape[1]
    half = torch.fft.irfft(torch.fft.rfft(x)[:, : n // 4 + 1], n // 2) / 2
    y = (half / 32768).clamp(-1, 1)
    y = torch.sign(y) * torch.log1p(255 * y.abs()) / math.log(256)
    y = torch.round(y * 127) / 127
    y = torch.sign(y) * (torch.exp(y.abs() * math.log(256)) - 1) / 255 * 32768
    return torch.fft.irfft(F.pad(torch.fft.rfft(y), (0, n // 2 + 1 - (n // 4 + 1))), n) * 2


class Spoiler:
    """Makes a batch of what a bad microphone would hear; `clips` are the recorded noises."""

    def __init__(self, clips, device, loudest=-3.0, shares=SHARES):
        self.clips, self.device, self.loudest, self.shares = clips, device, loudest, shares

    def _room(self, y):
        n = y.shape[1]
        k = torch.arange(8000, device=self.device)
        decay = torch.exp(-6.9 * k / (16000 * random.uniform(0.05, 0.6)))
        echo = torch.randn(8000, device=self.device) * decay * random.uniform(0, 0.3)
        echo[0] = 1
        return torch.fft.irfft(torch.fft.rfft(y, n + 8192) * torch.fft.rfft(echo, n + 8192), n + 8192)[:, :n]

    def _noise(self, y):
        count, n = y.shape
        z = made(count, n, self.device)
        for i in range(count):
            kind = random.random()
            if kind < 0.35:
                v = random.choice(self.clips)
                v = torch.roll(v, random.randrange(len(v))).float()
                v = v.repeat(n // len(v) + 1)[:n]
                z[i] = v / v.std().clamp_min(1.0)
            elif kind < 0.5:  # three others talking at once
                v = sum(torch.roll(y[random.randrange(count)], random.randrange(n)) for _ in range(3))
                z[i] = v / v.std().clamp_min(1.0)
        return z

    def _band(self, y):
        n = y.shape[1]
        spectrum = torch.fft.rfft(y)
        hertz = torch.linspace(0, 8000, spectrum.shape[1], device=self.device)
        tight = random.random() < self.shares["tight_band"]
        low, high = (300, 3400) if tight else (random.uniform(60, 350), random.uniform(3200, 4000))
        keep = torch.sigmoid((high - hertz) / 60) * torch.sigmoid((hertz - low) / 30)
        return torch.fft.irfft(spectrum * keep, n)

    def __call__(self, clips):
        """List of sounds -> (B, samples) in 16-bit range, rounded as a sound card does."""
        device, count = self.device, len(clips)
        draw = lambda: torch.rand(count, 1, device=device)
        chance = lambda name: random.random() < self.shares[name]
        lead = [random.randint(800, 8000) for _ in clips]
        length = max(len(v) + k for v, k in zip(clips, lead)) + random.randint(3000, 7000)
        y = torch.zeros(count, length, device=device)
        for i, v in enumerate(clips):
            y[i, lead[i] : lead[i] + len(v)] = v
        y = F.interpolate(y[:, None], size=int(length / random.uniform(0.87, 1.15)), mode="linear", align_corners=False)[:, 0]
        level = torch.stack([v.square().mean().sqrt() for v in clips]).clamp_min(20)[:, None]
        if chance("room"):
            y = self._room(y)
        ratio = self.loudest + (32 - self.loudest) * draw()
        ratio = torch.where(draw() < self.shares["clean"], torch.full_like(ratio, 40.0), ratio)
        y = y + self._noise(y) * level * 10 ** (-ratio / 20)
        telephone = chance("band")
        if telephone:
            y = self._band(y)
        over = y.abs().amax(1, keepdim=True) * (0.12 + 0.6 * draw())
        y = torch.where(draw() < self.shares["overdriven"], torch.minimum(torch.maximum(y, -over), over), y)
        y = (y * 8000 / level * 10 ** ((30 * draw() - 28) / 20)).clamp(-32767, 32767)
        if telephone and chance("companded"):
            y = companded(y)
        hiss = 0.3 + 6 * draw() * (draw() < 0.8)
        return (y + torch.randn_like(y) * hiss).round()
