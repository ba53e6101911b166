//! Owns the machines: engine, compressor, blows, hum, white noise. The figures are common sense for such machines, no source.

use super::dsp::{Biquad, FS, normal};
use crate::random::Random;
use std::f64::consts::TAU;

/// As strong at every frequency, normally distributed.
pub(super) fn white(length: usize, random: &mut Random) -> Vec<f64> {
    (0..length).map(|_| normal(random)).collect()
}

/// A short push that starts again with every stroke: rises at once and falls off exponentially.
struct Push {
    size: f64,
    fall: f64,
}

impl Push {
    fn lasting(seconds: f64) -> Self {
        Self { size: 0.0, fall: (-1.0 / (seconds * FS)).exp() }
    }

    fn start(&mut self, size: f64) {
        self.size = size;
    }

    fn next(&mut self) -> f64 {
        self.size *= self.fall;
        self.size
    }
}

/// Four cylinders, four strokes: two firings a turn, each cylinder with its own strength, each firing a little early or late.
pub(super) fn engine(length: usize, random: &mut Random) -> Vec<f64> {
    let firing = random.between(680.0, 850.0) / 60.0 * 2.0;
    let cylinders: Vec<f64> = (0..4).map(|_| random.between(0.8, 1.2)).collect();
    let mut body = [55.0, 130.0, 260.0].map(|hertz| Biquad::band_pass(hertz, 1.5));
    let mut block =
        [900.0, 1700.0, 2600.0].map(|hertz| Biquad::band_pass(hertz * random.between(0.9, 1.1), 3.0));
    let mut air = [Biquad::high_pass(60.0, 0.7), Biquad::low_pass(900.0, 0.5)];
    let (mut thump, mut knock) = (Push::lasting(0.006), Push::lasting(0.003));
    let (mut phase, mut speed, mut which) = (random.unit(), 1.0, 0);
    (0..length)
        .map(|_| {
            phase += firing * speed / FS;
            if phase >= 1.0 {
                phase -= 1.0;
                speed = 1.0 + 0.02 * normal(random);
                thump.start(cylinders[which] * random.between(0.85, 1.15));
                knock.start(cylinders[which] * random.between(0.5, 1.5));
                which = (which + 1) % cylinders.len();
            }
            let (push, rattle, rush) = (thump.next(), knock.next() * normal(random), normal(random));
            let low: f64 = body.iter_mut().map(|f| f.next(push)).sum();
            let high: f64 = block.iter_mut().map(|f| f.next(rattle)).sum();
            let [first, second] = &mut air;
            low + 0.5 * high + 0.05 * second.next(first.next(rush))
        })
        .collect()
}

/// Strokes with slapping valves, the motor's hum, and air that hisses now more, now less.
pub(super) fn compressor(length: usize, random: &mut Random) -> Vec<f64> {
    let stroke = random.between(11.0, 16.0);
    let motor = if random.unit() < 0.5 { 100.0 } else { 120.0 };
    let mut tank = [90.0, 210.0, 480.0].map(|hertz| Biquad::band_pass(hertz * random.between(0.9, 1.1), 4.0));
    let mut valve = Biquad::band_pass(random.between(1800.0, 2600.0), 2.0);
    let mut hiss = Biquad::high_pass(2500.0, 0.7);
    let (mut thump, mut slap) = (Push::lasting(0.01), Push::lasting(0.004));
    let (mut phase, mut turned, mut speed) = (random.unit(), 0.0_f64, 1.0);
    let (mut open, mut wanted) = (0.5, 0.5);
    (0..length)
        .map(|_| {
            phase += stroke * speed / FS;
            turned = (turned + motor / FS).fract();
            if phase >= 1.0 {
                phase -= 1.0;
                speed = 1.0 + 0.005 * normal(random);
                thump.start(random.between(0.9, 1.1));
                slap.start(random.between(0.6, 1.2));
                if random.unit() < 0.1 {
                    wanted = random.between(0.2, 1.0);
                }
            }
            open += (wanted - open) / (0.2 * FS);
            let push = thump.next();
            let low: f64 = tank.iter_mut().map(|f| f.next(push)).sum();
            let click = valve.next(slap.next() * normal(random));
            let hum =
                (TAU * turned).sin() + 0.4 * (2.0 * TAU * turned).sin() + 0.2 * (3.0 * TAU * turned).sin();
            low + 0.6 * click + 0.06 * hum + 0.05 * open * hiss.next(normal(random))
        })
        .collect()
}

/// Blows on metal, 1.6 a second on average, the first within 0.3 s: each a click and four to eight ringing tones.
pub(super) fn bangs(length: usize, random: &mut Random) -> Vec<f64> {
    // No room is silent to the last digit.
    let mut out: Vec<f64> = (0..length).map(|_| 3e-4 * normal(random)).collect();
    let mut at = random.between(0.0, 0.3) * FS;
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a place in sound")]
    let place = |at: f64| at as usize;
    if place(at) >= length {
        at = 0.0;
    }
    while let Some(rest) = out.get_mut(place(at)..).filter(|rest| !rest.is_empty()) {
        blow(rest, random);
        at += (0.02 - (1.0 - random.unit()).ln() / 1.6) * FS;
    }
    out
}

fn blow(out: &mut [f64], random: &mut Random) {
    let strength = super::amplitude_of(random.between(-12.0, 0.0));
    let mut click = Push::lasting(0.002);
    click.start(strength);
    for sample in out.iter_mut().take(320) {
        *sample += click.next() * normal(random);
    }
    for _ in 0..4 + random.below(5) {
        let turn = TAU * (200.0 * (25.0_f64).powf(random.unit())) / FS;
        let mut ring = Push::lasting(random.between(0.01, 0.12));
        ring.start(strength * random.between(0.2, 1.0));
        let mut angle = TAU * random.unit();
        for sample in out.iter_mut() {
            let size = ring.next();
            if size < 1e-5 {
                break;
            }
            angle += turn;
            *sample += size * angle.sin();
        }
    }
}

/// Mains hum: harmonics up to 2 kHz, falling with their number, the frequency swaying by a tenth of a percent.
pub(super) fn hum(length: usize, random: &mut Random) -> Vec<f64> {
    let mains = if random.unit() < 0.5 { 50.0 } else { 60.0 };
    let tones: Vec<(f64, f64, f64)> = (1..=40)
        .map(f64::from)
        .filter(|k| k * mains <= 2000.0)
        .map(|k| (k, random.between(0.5, 1.0) / k, TAU * random.unit()))
        .collect();
    let sway = TAU * random.unit();
    let mut phase = 0.0_f64;
    #[expect(clippy::cast_precision_loss, reason = "far below 2^52")]
    (0..length)
        .map(|i| {
            phase += mains * (1.0 + 0.001 * (TAU * 0.1 * i as f64 / FS + sway).sin()) / FS;
            tones.iter().map(|(k, size, start)| size * (TAU * k * phase + start).sin()).sum()
        })
        .collect()
}
