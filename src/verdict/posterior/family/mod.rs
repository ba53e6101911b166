//! Owns the posterior of circuits that are alike (or of one with a window): a sum over place, spread, shape and fault
//! rate of products over circuits. No subsets are listed: given those four the circuits are independent.
//!
//! Two passes: the first weighs every point of the grid, the second works out shares where the weight is.

mod grid;
mod memory;
mod one_sided;
mod scene;

use super::{
    density::{Blur, below},
    priors::*,
};
use crate::verdict::stats::median;
pub(super) use one_sided::is as one_sided;
use scene::{Scene, TINY, number};
use std::rc::Rc;

/// What was seen of one circuit, leads off.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Seen {
    /// A number in ohms.
    Number(f64),
    /// Over range.
    Open,
    /// It wanders.
    Wanders(Wanders),
}

/// How a circuit wanders.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Wanders {
    /// Two probings differ, or the display does not come to rest.
    Probed,
    /// Three probings and more.
    Often,
    /// The same with its terminal cleaned.
    Cleaned,
    /// It changed as wire or connector were moved.
    Moved,
}

/// One circuit as it enters.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Member {
    pub seen: Seen,
    pub blur: Blur,
    /// The reading as another prefix or point would make it: value, factor.
    pub slip: Option<(f64, f64)>,
    /// What its odds to be off are multiplied by (a stored code names it).
    pub odds: f64,
    /// What was learned: expected value and its standard uncertainty.
    pub learned: Option<(f64, f64)>,
}

/// What a group of circuits is held against.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Setting {
    /// Half-width of the tolerance, as a fraction.
    pub tolerance: f64,
    /// Limits at evenly spread temperatures. Empty: no window.
    pub windows: Vec<(f64, f64)>,
    /// Standard uncertainty that is common to all: relative, and in ohms.
    pub common: (f64, f64),
    /// Fault rates with their weights.
    pub rates: [(f64, f64); 3],
    /// Coarse: for hypotheses that are many.
    pub coarse: bool,
}

/// What came out.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Held {
    /// Logarithm of the evidence, in densities per ohm.
    pub log: f64,
    /// The same for each fault rate, without the rate's weight.
    pub by_rate: [f64; 3],
    /// Probability of each to be off; of that, to be a slip of prefix or point.
    pub off: Vec<f64>,
    pub slip: Vec<f64>,
    /// That none is off; that none is off by what matters.
    pub none: f64,
    pub calm: f64,
    /// That exactly the likelier-than-not ones are off.
    pub exact: f64,
    /// That this one alone is off.
    pub alone: Vec<f64>,
    /// That the whole is off its window.
    pub family_off: f64,
    /// Mean place and spread.
    pub place: f64,
    pub place_spread: f64,
    pub spread: f64,
}

impl Held {
    fn nothing(count: usize) -> Self {
        Self {
            log: 0.0,
            by_rate: [0.0; 3],
            off: vec![0.0; count],
            slip: vec![0.0; count],
            none: 1.0,
            calm: 1.0,
            exact: 0.0,
            alone: vec![0.0; count],
            family_off: 0.0,
            place: 0.0,
            place_spread: 0.0,
            spread: 0.0,
        }
    }
}

/// Points of the grid whose logarithm is so far below the highest are let go.
const FAR_BELOW: f64 = 14.0;

/// One kind of points at one place and spread: shape, whether the window holds, and its prior.
struct Block {
    shape: usize,
    fits: bool,
    off_family: bool,
    prior: f64,
}

/// Densities of a place below this are nothing.
const NOWHERE: f64 = 1e-9;

fn blocks(shapes: [f64; 2], on: f64, family_off: f64, into: &mut Vec<Block>, window: bool) {
    into.clear();
    if on > NOWHERE {
        for (shape, weight) in shapes.into_iter().enumerate().filter(|one| one.1 > 0.0) {
            into.push(Block { shape, fits: window, off_family: false, prior: weight * on });
        }
    }
    // A structural hypothesis and a family off its window at once: too much at once.
    if family_off > 0.0 && shapes[0] > 0.0 {
        into.push(Block { shape: 0, fits: false, off_family: true, prior: family_off / DECADES });
    }
}

/// Logarithm of the products over circuits of "sound or off", for each of the fault rates.
fn products(rates: &[[f64; 3]], good: &[f64], off: &[f64], slipped: &[f64]) -> [f64; 3] {
    let (mut logs, mut all) = ([0.0; 3], [1.0f64; 3]);
    for i in 0..good.len() {
        let (good, off, rest, p) = (good[i], off[i], slipped[i] + TINY, rates[i]);
        let rise = off - good;
        all[0] *= good + p[0] * rise + rest;
        all[1] *= good + p[1] * rise + rest;
        all[2] *= good + p[2] * rise + rest;
        if i % 8 == 7 {
            for k in 0..3 {
                logs[k] += all[k].max(1e-300).ln();
                all[k] = 1.0;
            }
        }
    }
    for k in 0..3 {
        logs[k] += all[k].max(1e-300).ln();
    }
    logs
}

/// What the second pass adds up.
struct Sums {
    top: f64,
    z: f64,
    /// Of it, what each fault rate has; what is the same for all of them.
    by_rate: [f64; 3],
    any_rate: f64,
    place: f64,
    square: f64,
    spread: f64,
    calm: f64,
    family_off: f64,
    /// Logarithm of each point that counts, and where its shares begin.
    kept: Vec<(f64, usize)>,
    /// For each point and member: share of "off", share of "slipped".
    shares: Vec<f64>,
}

/// A point of the grid with all that its shares need.
struct Point<'p> {
    log: f64,
    m: f64,
    s: f64,
    off_family: bool,
    /// Whether the spread is one that a sound family may have.
    plain: bool,
    rates: &'p [[f64; 3]],
    /// Which of the rates.
    rate: usize,
    /// Whether it has a rate of its own, other than those.
    any_rate: bool,
    good: &'p [f64],
    off: &'p [f64],
    matter: &'p [f64],
    slipped: &'p [f64],
}

impl Sums {
    /// Nothing yet; what lies far below this logarithm is let go.
    fn below(top: f64) -> Self {
        Self {
            top,
            z: 0.0,
            by_rate: [0.0; 3],
            any_rate: 0.0,
            place: 0.0,
            square: 0.0,
            spread: 0.0,
            calm: 0.0,
            family_off: 0.0,
            kept: Vec::new(),
            shares: Vec::new(),
        }
    }

    fn add(&mut self, point: &Point<'_>) {
        if !point.log.is_finite() || point.log < self.top - FAR_BELOW {
            return;
        }
        if point.log > self.top {
            let scale = (self.top - point.log).exp();
            for sum in [
                &mut self.z,
                &mut self.place,
                &mut self.square,
                &mut self.spread,
                &mut self.calm,
                &mut self.family_off,
                &mut self.any_rate,
            ] {
                *sum *= scale;
            }
            self.by_rate = self.by_rate.map(|sum| sum * scale);
            self.top = point.log;
        }
        let w = (point.log - self.top).exp();
        let start = self.shares.len();
        let mut calm = 1.0;
        for i in 0..point.good.len() {
            let (p, slipped) = (point.rates[i][point.rate], point.slipped[i]);
            let bad = p * point.off[i] + slipped;
            let all = (1.0 - p) * point.good[i] + TINY + bad;
            let share = bad / all;
            self.shares.push(share);
            self.shares.push(slipped / all);
            calm *= 1.0 - share * point.matter[i];
        }
        self.z += w;
        *if point.any_rate { &mut self.any_rate } else { &mut self.by_rate[point.rate] } += w;
        self.place += w * point.m;
        self.square += w * point.m * point.m;
        self.spread += w * point.s;
        if point.off_family {
            self.family_off += w;
        } else if point.plain {
            self.calm += w * calm;
        }
        self.kept.push((point.log, start));
    }
}

/// Holds a group together. What was held before with the same readings is remembered.
pub(super) fn hold(members: &[Member], setting: &Setting) -> Rc<Held> {
    memory::recall(members, setting, || {
        if one_sided::is(setting) { one_sided::hold(members, setting) } else { hold_anew(members, setting) }
    })
}

fn hold_anew(members: &[Member], setting: &Setting) -> Held {
    let count = members.len();
    if count == 0 {
        return Held::nothing(0);
    }
    let finest = members.iter().map(|m| m.blur.step).fold(f64::INFINITY, f64::min);
    let mut values: Vec<f64> =
        members.iter().filter_map(|m| Some((number(m)? - m.blur.contact).max(finest.max(1e-6)))).collect();
    values.sort_by(f64::total_cmp);
    let middle_of_window =
        setting.windows.get(setting.windows.len() / 2).map(|(low, high)| (low * high).sqrt());
    let typical = median(&values).or(middle_of_window).unwrap_or(1.0);
    let reference = middle_of_window.unwrap_or(typical).max(1e-6);
    if values.is_empty() {
        values.push(typical.max(1e-6));
    }
    let soft = setting.common.0.hypot(0.01).hypot(setting.common.1 / reference).min(3.0);
    let blur = members.iter().map(|m| m.blur).max_by(|a, b| a.step.total_cmp(&b.step)).map_or(
        Blur { step: 0.0, contact: 0.0, own: 0.0, count: 1.0 },
        |coarse| Blur { step: finest.min(coarse.step), ..coarse },
    );
    let window = !setting.windows.is_empty();
    let family_off = match (window && !setting.coarse, count) {
        (false, _) => 0.0,
        (true, 1) => ALONE_OFF,
        (true, _) => FAMILY_OFF,
    };
    let tolerance = setting.tolerance.max(0.002);
    let mut scene = Scene::new(members, setting, reference, soft);
    let spreads = grid::spreads(tolerance, setting.coarse);
    let mut list: Vec<Block> = Vec::new();
    let mut good = vec![0.0; count];
    let fill = |good: &mut [f64], scene: &Scene<'_>, block: &Block| {
        let sound = &scene.here.sound[block.shape];
        for i in 0..good.len() {
            good[i] = if block.fits { sound[i] * scene.here.fit[i] } else { sound[i] };
        }
    };
    // First pass: where the weight is.
    let mut points: Vec<(f64, usize, f64, f64)> = Vec::with_capacity(512);
    let mut top = f64::NEG_INFINITY;
    for (at, spread) in spreads.iter().enumerate() {
        for (t, width) in grid::places(&values, &blur, setting, spread.s, soft) {
            scene.go(t, spread.s, spread.shapes);
            blocks(spread.shapes, scene.here.on, family_off, &mut list, window);
            let mut best = f64::NEG_INFINITY;
            for block in &list {
                fill(&mut good, &scene, block);
                let prior = (block.prior * spread.weight * width + TINY).ln();
                let logs = products(&scene.rates, &good, &scene.here.off, &scene.here.slipped);
                for (weight, log) in scene.weights.iter().zip(logs) {
                    best = best.max(prior + weight + log);
                }
            }
            top = top.max(best);
            points.push((best, at, t, width));
        }
    }
    // Second pass: shares there.
    let mut sums = Sums::below(top);
    let mut shifted = vec![0.0; count];
    let mut matter = vec![0.0; count];
    let groups = !setting.coarse && count > 3;
    for (best, at, t, width) in points {
        if best < top - FAR_BELOW {
            continue;
        }
        let spread = spreads[at];
        scene.go(t, spread.s, spread.shapes);
        scene.matters();
        blocks(spread.shapes, scene.here.on, family_off, &mut list, window);
        let base = (spread.weight * width + TINY).ln();
        let plain = spread.s <= 1.05 * tolerance;
        for block in &list {
            fill(&mut good, &scene, block);
            let prior = base + (block.prior + TINY).ln();
            let logs = products(&scene.rates, &good, &scene.here.off, &scene.here.slipped);
            for (rate, log) in logs.into_iter().enumerate() {
                sums.add(&Point {
                    log: prior + scene.weights[rate] + log,
                    rate,
                    any_rate: false,
                    m: scene.here.m,
                    s: spread.s,
                    off_family: block.off_family,
                    plain,
                    rates: &scene.rates,
                    good: &good,
                    off: &scene.here.off,
                    matter: &scene.here.matter,
                    slipped: &scene.here.slipped,
                });
            }
        }
        if groups && spread.shapes[0] > 0.0 {
            let block = Block { shape: 0, fits: window, off_family: false, prior: GROUP * scene.here.on };
            fill(&mut good, &scene, &block);
            let prior = base + (block.prior / GROUP_FACTORS.len() as f64 + TINY).ln();
            for factor in GROUP_FACTORS {
                scene.shifted(factor, spread.s, &mut shifted);
                let log = prior + products(&scene.together, &good, &shifted, &scene.here.slipped)[0];
                if log < sums.top - FAR_BELOW {
                    continue;
                }
                let least = f64::from(u8::from((factor - 1.0).abs() >= MATTERS));
                for (matter, out) in matter.iter_mut().zip(&scene.here.out) {
                    *matter = out.max(least);
                }
                sums.add(&Point {
                    log,
                    m: scene.here.m,
                    s: spread.s,
                    off_family: false,
                    plain,
                    rate: 0,
                    any_rate: true,
                    rates: &scene.together,
                    good: &good,
                    off: &shifted,
                    matter: &matter,
                    slipped: &scene.here.slipped,
                });
            }
        }
    }
    finish(count, sums, setting)
}

fn finish(count: usize, sums: Sums, setting: &Setting) -> Held {
    let mut held = Held::nothing(count);
    if sums.z <= 0.0 {
        held.log = -1e6;
        held.by_rate = [-1e6; 3];
        return held;
    }
    let mut none = 0.0;
    for (log, start) in &sums.kept {
        let w = (log - sums.top).exp() / sums.z;
        if w < 1e-9 {
            continue;
        }
        let shares = &sums.shares[*start..*start + 2 * count];
        let mut all_sound = w;
        for i in 0..count {
            held.off[i] += w * shares[2 * i];
            held.slip[i] += w * shares[2 * i + 1];
            all_sound *= (1.0 - shares[2 * i]).max(1e-12);
        }
        none += all_sound;
        for i in 0..count {
            held.alone[i] += all_sound * shares[2 * i] / (1.0 - shares[2 * i]).max(1e-12);
        }
    }
    let named: Vec<bool> = held.off.iter().map(|p| *p > 0.5).collect();
    for (log, start) in &sums.kept {
        let shares = &sums.shares[*start..*start + 2 * count];
        let mut exact = (log - sums.top).exp() / sums.z;
        for (named, share) in named.iter().zip(shares.iter().step_by(2)) {
            exact *= if *named { *share } else { 1.0 - share };
        }
        held.exact += exact;
    }
    held.none = none;
    held.log = sums.top + sums.z.ln();
    for (k, (_, weight)) in setting.rates.iter().enumerate() {
        held.by_rate[k] = sums.top + (sums.by_rate[k] / weight + sums.any_rate).max(1e-300).ln();
    }
    held.calm = sums.calm / sums.z;
    held.family_off = sums.family_off / sums.z;
    held.place = sums.place / sums.z;
    held.place_spread = (sums.square / sums.z - held.place * held.place).max(0.0).sqrt();
    held.spread = sums.spread / sums.z;
    held
}

/// The smallest deviation of one circuit from its place that would have been named, as a share of the value.
pub(super) fn smallest_seen(held: &Held, setting: &Setting, blur: &Blur) -> f64 {
    let noise = blur.contact.powi(2) / blur.count + blur.step.powi(2) / 12.0 + blur.own.powi(2);
    let m = held.place.max(1e-6);
    let spread = held.spread.max(0.2 * setting.tolerance / 2.5);
    let e = (spread * spread + noise / (m * m) + (held.place_spread / m).powi(2)).sqrt();
    // The distance at which a fault becomes likelier than not, under the mean rate: found by halving.
    let rate: f64 = setting.rates.iter().map(|(p, w)| p * w).sum();
    let (mut low, mut high) = (0.0f64, 20.0f64);
    for _ in 0..40 {
        let x = 0.5 * (low + high);
        let fault =
            rate * KINDS[0] / (1.0 / SMALLEST).ln() / x.max(0.7 * SMALLEST) * below((x - SMALLEST) / e);
        let good = (1.0 - rate) * (-0.5 * (x / e).powi(2)).exp() / (2.506_628 * e);
        if fault > good {
            high = x;
        } else {
            low = x;
        }
    }
    0.5 * (low + high)
}
