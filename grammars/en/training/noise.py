"""Owns what happens to a clip on its way to the network: speed, room, noise, band, overdrive, level.

Everything is drawn anew at each step, so no clip is heard twice alike.
"""

import math
import random

import torch
import torch.nn.functional as F

SHARES = {"room": 0.35, "band": 0.4, "tight_band": 0.5, "companded": 0.4, "coded": 0.15, "overdriven": 0.15, "clean": 0.3}


def unit(x):
    """Each line with the standard deviation 1; silence stays."""
    return x / x.std(1, keepdim=True).clamp_min(1e-6)


def made(count, length, device):
    """Generated noise, (count, length): coloured hiss, sometimes an engine's harmonics, sometimes bangs."""
    draw = lambda *shape: torch.rand(*shape, device=device)
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


def machine(count, length, device):
    """Noise of machines, (count, length): strokes of 6 to 48 a second that thump and rattle, air that rushes, hum of the mains.

    Wider than any one machine, so that it covers those that `bothhands measure` generates among others.
    """
    draw = lambda *shape: torch.rand(*shape, device=device)
    size = length + 4096
    through = lambda x, response: torch.fft.irfft(torch.fft.rfft(x, size) * response, size)[:, :length]
    hertz = torch.linspace(0, 8000, size // 2 + 1, device=device)
    period = 16000 / (6 * 8 ** draw(count, 1))
    strokes = int(length / 16000 * 50) + 2
    steps = period * (1 + 0.04 * draw(count, 1) * torch.randn(count, strokes, device=device)).clamp_min(0.5)
    at = (steps.cumsum(1) - period * draw(count, 1)).long()
    strength = (1 + 0.5 * draw(count, 1) * torch.randn(count, strokes, device=device)) * (at >= 0) * (at < length)
    hits = torch.zeros(count, length, device=device).scatter_add_(1, at.clamp(0, length - 1), strength)
    time = torch.arange(4000, device=device) / 16000
    tone, narrow = 40 * 18 ** draw(count, 3, 1), 1 + 4 * draw(count, 3, 1)
    body = (draw(count, 3, 1) * torch.exp(-math.pi * tone / narrow * time) * torch.sin(2 * math.pi * tone * time)).sum(1)
    thump = through(hits, torch.fft.rfft(body, size))
    slap = torch.exp(-time / (0.002 + 0.006 * draw(count, 1)))
    rattle = through(hits, torch.fft.rfft(slap, size)) * torch.randn(count, length, device=device)
    centre, wide = 600 * 6 ** draw(count, 3, 1), 0.15 + 0.4 * draw(count, 3, 1)
    rattle = through(rattle, (draw(count, 3, 1) * torch.exp(-(((hertz / centre).clamp_min(1e-3).log() / wide) ** 2))).sum(1))
    low = 30 * 130 ** draw(count, 1)
    high = low * 2 + (8000 - low * 2).clamp_min(500) * draw(count, 1)
    shape = (hertz / low).square().clamp(max=1) * (high / hertz.clamp_min(1)).square().clamp(max=1) * (hertz + 100) ** -(0.5 * draw(count, 1))
    rush = through(torch.randn(count, length, device=device), shape)
    more = F.interpolate(draw(count, 1, length // 8000 + 2), size=length, mode="linear")[:, 0]  # now more, now less
    mains = torch.where(draw(count, 1) < 0.5, 50.0, 60.0) * (1 + (draw(count, 1) < 0.5))
    hum = torch.zeros(count, length, device=device)
    for k in range(1, 9):
        hum += draw(count, 1) / k * torch.sin(2 * math.pi * (mains * k * torch.arange(length, device=device) / 16000 + draw(count, 1)))
    share = draw(count, 4) ** 2
    parts = (unit(thump), unit(rattle), unit(rush * (0.15 + more)), unit(hum))
    return sum(share[:, k : k + 1] * part for k, part in enumerate(parts))


def companded(x):
    """At 8 kHz, 8 bits a sample with the mu law or the A law of telephone lines (ITU-T G.711's curves without their piecewise form)."""
    n = x.shape[1]
    half = torch.fft.irfft(torch.fft.rfft(x)[:, : n // 4 + 1], n // 2) / 2
    y = (half / 32768).clamp(-1, 1)
    size = y.abs()
    if random.random() < 0.5:
        size = torch.round(torch.log1p(255 * size) / math.log(256) * 127) / 127
        size = (torch.exp(size * math.log(256)) - 1) / 255
    else:
        low, whole = 87.6, 1 + math.log(87.6)
        size = torch.where(size < 1 / low, low * size, 1 + (low * size).clamp_min(1).log()) / whole
        size = torch.round(size * 127) / 127 * whole
        size = torch.where(size < 1, size, (size - 1).exp()) / low
    y = torch.sign(y) * size * 32768
    return torch.fft.irfft(F.pad(torch.fft.rfft(y), (0, n // 2 + 1 - (n // 4 + 1))), n) * 2


def coded(x):
    """As a wireless headset's low-rate code leaves it, roughly: every 8 ms, bands of 500 Hz, each in a few steps of its own loudest."""
    window = torch.hann_window(256, device=x.device)
    spectrum = torch.stft(x, 256, 128, window=window, return_complex=True)
    parts = torch.view_as_real(spectrum[:, :128]).reshape(x.shape[0], 16, 8, -1, 2)
    steps = torch.linspace(random.uniform(3, 12), random.uniform(0.8, 4), 16, device=x.device)[None, :, None, None, None]
    largest = parts.abs().amax((2, 4), keepdim=True).clamp_min(1e-3)
    parts = torch.round(parts / largest * steps) / steps * largest
    spectrum = torch.cat([torch.view_as_complex(parts.reshape(x.shape[0], 128, -1, 2).contiguous()), spectrum[:, 128:] * 0], 1)
    return torch.istft(spectrum, 256, 128, window=window, length=x.shape[1])


class Spoiler:
    """Makes a batch of what a bad microphone would hear; `clips` are the recorded noises, `rooms` responses of rooms at 16 kHz."""

    def __init__(self, clips, device, loudest=-3.0, shares=SHARES, rooms=()):
        self.device, self.loudest, self.shares, self.rooms = device, loudest, shares, list(rooms)
        level = lambda v: v.float() / v.float().std().clamp_min(1.0)
        self.recorded = torch.cat([level(v) for v in clips]).half()

    def _room(self, y):
        n = y.shape[1]
        k = torch.arange(8000, device=self.device)
        decay = torch.exp(-6.9 * k / (16000 * random.uniform(0.05, 0.6)))
        echo = torch.randn(8000, device=self.device) * decay * random.uniform(0, 0.3)
        echo[0] = 1
        if self.rooms and random.random() < 0.5:
            echo = random.choice(self.rooms)[:8000] * random.uniform(0.2, 1)
            echo[0] = 1
        return torch.fft.irfft(torch.fft.rfft(y, n + 8192) * torch.fft.rfft(echo, n + 8192), n + 8192)[:, :n]

    def _noise(self, y):
        count, n = y.shape
        device = self.device
        pick = torch.rand(count, 1, device=device)
        made_up = torch.where(pick < 0.75, unit(machine(count, n, device)), unit(made(count, n, device)))
        along = torch.arange(n, device=device)
        begin = torch.randint(0, len(self.recorded), (count, 1), device=device)
        recorded = unit(self.recorded[(begin + along) % len(self.recorded)].float())
        others = torch.zeros_like(y)
        for _ in range(3):  # three others talking at once
            shift = torch.randint(0, n, (count, 1), device=device)
            others += y[torch.randint(0, count, (count, 1), device=device), (shift + along) % n]
        return torch.where(pick < 0.3, recorded, torch.where(pick < 0.42, unit(others), made_up))

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
        lengths = torch.tensor([float(len(v)) for v in clips], device=device)
        level = (y.square().sum(1) / lengths).sqrt().clamp_min(20)[:, None]
        y = F.interpolate(y[:, None], size=int(length / random.uniform(0.87, 1.15)), mode="linear", align_corners=False)[:, 0]
        if chance("room"):
            y = self._room(y)
        ratio = self.loudest + (32 - self.loudest) * draw()
        ratio = torch.where(draw() < 0.4, 3 + 12 * draw(), ratio)  # mostly as loud as a workshop
        ratio = torch.where(draw() < self.shares["clean"], torch.full_like(ratio, 40.0), ratio)
        y = y + self._noise(y) * level * 10 ** (-ratio / 20)
        telephone = chance("band")
        if telephone:
            y = self._band(y)
        over = y.abs().amax(1, keepdim=True) * (0.12 + 0.6 * draw())
        y = torch.where(draw() < self.shares["overdriven"], torch.minimum(torch.maximum(y, -over), over), y)
        y = (y * 8000 / level * 10 ** ((42 * draw() - 38) / 20)).clamp(-32767, 32767)  # speech of about -50 to -8 dB
        if telephone and chance("companded"):
            y = companded(y)
        elif chance("coded"):
            y = coded(y)
        hiss = 0.3 + 6 * draw() * (draw() < 0.8)
        return (y + torch.randn_like(y) * hiss).round()
