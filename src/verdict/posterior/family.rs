//! Owns the posterior of circuits that are alike (or of one with a window): a sum over place, spread, shape and fault
//! rate of products over circuits. No subsets are listed: given those four the circuits are independent.

use super::{
    density::{Blur, even, off, rounded, sound},
    priors::*,
};
use crate::verdict::stats::{median, normal_below, normal_between};

const TINY: f64 = 1e-200;

/// What was seen of one circuit, leads off.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Seen {
    /// A number in ohms.
    Number(f64),
    /// Over range.
    Open,
    /// It wanders; whether the terminal was cleaned before.
    Wanders(bool),
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

/// Weighted sums with a running scale, so that nothing overflows.
struct Sums {
    top: f64,
    z: f64,
    place: f64,
    square: f64,
    spread: f64,
    calm: f64,
    family_off: f64,
    kept: Vec<(f64, usize)>,
    shares: Vec<f64>,
}

/// The spreads with their weights and the shapes that each has (normal, even).
fn spreads(tolerance: f64, coarse: bool) -> Vec<(f64, f64, [f64; 2])> {
    let nodes = if coarse { 5 } else { 9 };
    let mut all: Vec<(f64, f64, [f64; 2])> = (0..nodes)
        .map(|at| {
            let z = -2.6 + 5.2 * f64::from(at) / f64::from(nodes - 1);
            let side = if z < 0.0 { SPREAD_DOWN } else { SPREAD_UP };
            (tolerance / 2.5 * side.powf(z), (-0.5 * z * z).exp() * side.ln(), SHAPES)
        })
        .collect();
    let sum: f64 = all.iter().map(|one| one.1).sum();
    for one in &mut all {
        one.1 *= (1.0 - FILLS) / sum;
    }
    all.push((tolerance / 3f64.sqrt(), FILLS, [0.0, 1.0]));
    all
}

/// Where the place of the group is looked for: logarithms, with the weights of the trapezoid rule.
fn places(values: &[f64], blur: &Blur, setting: &Setting, s: f64, soft: f64) -> Vec<(f64, f64)> {
    let count = values.len().clamp(1, 10);
    let fine = if setting.coarse { 40 } else { 78 };
    let points = ((fine / count) | 1).max(7);
    let mut all: Vec<f64> = Vec::with_capacity(fine + 40);
    for at in 0..count.min(values.len()) {
        let place = if count == 1 { 0 } else { at * (values.len() - 1) / (count - 1) };
        let value = values[place];
        let e = (s * s
            + (blur.contact.powi(2) / blur.count + blur.step.powi(2) / 12.0 + blur.own.powi(2))
                / value.max(3.0 * blur.step).powi(2))
        .sqrt()
        .min(0.5);
        for k in 0..points {
            all.push(value.ln() + e * (-3.0 + 6.0 * k as f64 / (points - 1) as f64));
        }
    }
    if let (Some(first), Some(last)) = (setting.windows.first(), setting.windows.last()) {
        let low = first.0.min(last.0).ln() - 2.5 * soft;
        let high = first.1.max(last.1).ln() + 2.5 * soft;
        let count = if setting.windows.len() > 1 { 49 } else { 25 };
        all.extend((0..count).map(|k| low + (high - low) * f64::from(k) / f64::from(count - 1)));
    }
    all.sort_by(f64::total_cmp);
    all.dedup_by(|a, b| (*a - *b).abs() < 1e-7);
    let n = all.len();
    (0..n)
        .map(|at| {
            let left = if at > 0 { all[at] - all[at - 1] } else { 0.0 };
            let right = if at + 1 < n { all[at + 1] - all[at] } else { 0.0 };
            (all[at], 0.5 * (left + right))
        })
        .collect()
}

/// Holds a group together.
pub(super) fn hold(members: &[Member], setting: &Setting) -> Held {
    let count = members.len();
    if count == 0 {
        return Held::nothing(0);
    }
    let number = |member: &Member| match (member.seen, member.slip) {
        (Seen::Number(_), Some((value, _))) => Some(value),
        (Seen::Number(value), None) => Some(value),
        _ => None,
    };
    let finest = members.iter().map(|m| m.blur.step).fold(f64::INFINITY, f64::min);
    let mut values: Vec<f64> =
        members.iter().filter_map(|m| Some((number(m)? - m.blur.contact).max(finest.max(1e-6)))).collect();
    values.sort_by(f64::total_cmp);
    let middle_of_window =
        setting.windows.get(setting.windows.len() / 2).map(|(low, high)| (low * high).sqrt());
    let typical = median(&values).or(middle_of_window).unwrap_or(1.0);
    let reference = middle_of_window.unwrap_or(typical).max(1e-6);
    if values.is_empty() {
        values.push(typical);
    }
    let soft = setting.common.0.hypot(0.01).hypot(setting.common.1 / reference).min(3.0);
    let windows: Vec<(f64, f64, f64)> = setting
        .windows
        .iter()
        .map(|(low, high)| {
            (low.max(1e-9).ln(), high.max(2e-9).ln(), 1.0 / (high / low.max(1e-9)).ln().max(1e-6))
        })
        .collect();
    let inside =
        |x: f64, (low, high, _): &(f64, f64, f64)| normal_between((low - x) / soft, (high - x) / soft);
    let gates: Vec<Vec<f64>> = members
        .iter()
        .map(|member| match number(member) {
            Some(value) => windows.iter().map(|w| inside(value.max(1e-3 * reference).ln(), w)).collect(),
            None => vec![1.0; windows.len()],
        })
        .collect();
    let blur = members.iter().map(|m| m.blur).max_by(|a, b| a.step.total_cmp(&b.step)).map_or(
        Blur { step: 0.0, contact: 0.0, own: 0.0, count: 1.0 },
        |coarse| Blur { step: finest.min(coarse.step), ..coarse },
    );
    let mut sums = Sums {
        top: f64::NEG_INFINITY,
        z: 0.0,
        place: 0.0,
        square: 0.0,
        spread: 0.0,
        calm: 0.0,
        family_off: 0.0,
        kept: Vec::new(),
        shares: Vec::new(),
    };
    let mut l0 = [vec![0.0; count], vec![0.0; count]];
    let mut l1 = vec![(0.0, 0.0, 0.0); count];
    let mut lg = vec![0.0; count];
    let (mut fit, mut out) = (vec![1.0; count], vec![0.0; count]);
    let alone = count == 1;
    for (s, weight, shapes) in spreads(setting.tolerance.max(0.002), setting.coarse) {
        for (t, width) in places(&values, &blur, setting, s, soft) {
            let m = t.exp();
            if width <= 0.0 {
                continue;
            }
            // The window's density of the place, and how each sound circuit fits into it with that.
            let mut on = 1.0 / DECADES;
            if !windows.is_empty() {
                let at: Vec<f64> = windows.iter().map(|w| inside(t, w) * w.2).collect();
                let sum: f64 = at.iter().sum();
                on = (1.0 - FAMILY_OFF) * sum / windows.len() as f64;
                for (i, gate) in gates.iter().enumerate() {
                    let (mut both, mut own) = (0.0, 0.0);
                    for ((w, g), a) in windows.iter().zip(gate).zip(&at) {
                        both += a * g;
                        own += a * a / w.2;
                    }
                    fit[i] = ((both + 1e-12) / (own + 1e-12)).min(1.0);
                    out[i] = if sum > 0.0 { (1.0 - both / sum).clamp(0.0, 1.0) } else { 1.0 };
                }
            }
            for (i, member) in members.iter().enumerate() {
                let slip_rate = if member.slip.is_some() { SLIP } else { 0.0 };
                let learned = |y: f64| {
                    member.learned.map_or(1.0, |(expected, u)| {
                        UNLIKE_LEARNED + (1.0 - UNLIKE_LEARNED) * (-0.5 * ((y - expected) / u).powi(2)).exp()
                    })
                };
                match member.seen {
                    Seen::Number(y) => {
                        let known = learned(y);
                        l0[0][i] = if shapes[0] > 0.0 { known * sound(y, m, s, &member.blur) } else { 0.0 };
                        l0[1][i] = known * even(y, m, s, &member.blur);
                        let (density, matter) = off(y, m, s, &member.blur);
                        let slipped = member.slip.map_or(0.0, |(value, factor)| {
                            slip_rate * sound(value, m, s.max(0.01), &member.blur) / factor
                        });
                        l1[i] = (density, matter.max(out[i]), slipped);
                    }
                    Seen::Open => {
                        l0[0][i] = SOUND_OPEN;
                        l0[1][i] = SOUND_OPEN;
                        l1[i] = (KINDS[2], 1.0, 0.0);
                    }
                    Seen::Wanders(cleaned) => {
                        let rare = if cleaned { SOUND_WANDERS_CLEANED } else { SOUND_WANDERS };
                        l0[0][i] = rare;
                        l0[1][i] = rare;
                        l1[i] = (OFF_WANDERS, 1.0, 0.0);
                    }
                }
            }
            let base = (weight * width + TINY).ln();
            let mut add = |ln: f64,
                           shape: usize,
                           fits: bool,
                           rates: &[(f64, f64)],
                           other: Option<(&[f64], f64)>,
                           off_family: bool| {
                for (p, w) in rates {
                    let (mut log, mut product) = (ln + w.ln(), 1.0);
                    let start = sums.shares.len();
                    let (mut calm, mut same) = (1.0, 1.0);
                    for i in 0..count {
                        let odds = p / (1.0 - p) * members[i].odds;
                        let p = (odds / (1.0 + odds)).min(0.95);
                        let good = (1.0 - p) * l0[shape][i] * if fits { fit[i] } else { 1.0 } + TINY;
                        let (bad, matter) = match other {
                            Some((lg, matter)) => (p * lg[i], matter.max(out[i])),
                            None => (p * l1[i].0, l1[i].1),
                        };
                        let all = good + bad + l1[i].2;
                        product *= all;
                        if i % 12 == 11 {
                            log += product.max(1e-300).ln();
                            product = 1.0;
                        }
                        let share = (bad + l1[i].2) / all;
                        sums.shares.push(share);
                        sums.shares.push(l1[i].2 / all);
                        calm *= 1.0 - share * matter;
                        same *= 1.0 - share;
                    }
                    let _ = same;
                    log += product.max(1e-300).ln();
                    if !log.is_finite() || log < sums.top - 16.0 {
                        sums.shares.truncate(start);
                        continue;
                    }
                    if log > sums.top {
                        let scale = (sums.top - log).exp();
                        for sum in [
                            &mut sums.z,
                            &mut sums.place,
                            &mut sums.square,
                            &mut sums.spread,
                            &mut sums.calm,
                            &mut sums.family_off,
                        ] {
                            *sum *= scale;
                        }
                        sums.top = log;
                    }
                    let w = (log - sums.top).exp();
                    sums.z += w;
                    sums.place += w * m;
                    sums.square += w * m * m;
                    sums.spread += w * s;
                    if off_family {
                        sums.family_off += w;
                    } else if s <= 1.05 * setting.tolerance.max(0.002) {
                        sums.calm += w * calm;
                    }
                    sums.kept.push((log, start));
                }
            };
            for shape in 0..2 {
                if shapes[shape] > 0.0 {
                    add(
                        base + (shapes[shape] * on + TINY).ln(),
                        shape,
                        !windows.is_empty(),
                        &setting.rates,
                        None,
                        false,
                    );
                }
            }
            if !windows.is_empty() && shapes[0] > 0.0 {
                add(base + (FAMILY_OFF / DECADES).ln(), 0, false, &setting.rates, None, true);
            }
            if !setting.coarse && !alone && count > 3 && shapes[0] > 0.0 {
                for factor in GROUP_FACTORS {
                    for (i, member) in members.iter().enumerate() {
                        lg[i] = match member.seen {
                            Seen::Number(y) => {
                                let b = &member.blur;
                                let wide = ((m * factor * s).powi(2)
                                    + b.contact * b.contact
                                    + (0.17 * (factor - 1.0).abs() * m).powi(2))
                                .sqrt();
                                rounded(y - m * factor - b.contact, wide, b.step)
                            }
                            _ => 0.1 * KINDS[2],
                        };
                    }
                    let matter = f64::from(u8::from((factor - 1.0).abs() >= MATTERS));
                    let ln = base + (GROUP * on / GROUP_FACTORS.len() as f64 + TINY).ln();
                    add(ln, 0, !windows.is_empty(), &[(0.4, 1.0)], Some((&lg, matter)), false);
                }
            }
        }
    }
    finish(count, sums)
}

fn finish(count: usize, sums: Sums) -> Held {
    let mut held = Held::nothing(count);
    if sums.z <= 0.0 {
        held.log = -1e6;
        return held;
    }
    let mut none = 0.0;
    for (log, start) in &sums.kept {
        let w = (log - sums.top).exp() / sums.z;
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
    held.exact = sums
        .kept
        .iter()
        .map(|(log, start)| {
            let shares = &sums.shares[*start..*start + 2 * count];
            let product: f64 =
                (0..count).map(|i| if named[i] { shares[2 * i] } else { 1.0 - shares[2 * i] }).product();
            (log - sums.top).exp() / sums.z * product
        })
        .sum();
    held.none = none;
    held.log = sums.top + sums.z.ln();
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
        let fault = rate * KINDS[0] / (1.0 / SMALLEST).ln() / x.max(0.7 * SMALLEST)
            * normal_below((x - SMALLEST) / e);
        let good = (1.0 - rate) * (-0.5 * (x / e).powi(2)).exp() / (2.506_628 * e);
        if fault > good {
            high = x;
        } else {
            low = x;
        }
    }
    0.5 * (low + high)
}
