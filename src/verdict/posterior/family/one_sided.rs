//! Owns circuits with an upper limit alone (plain wires): a sound one has anything from nothing to the limit, so there is no
//! place that like ones share and no spread.

use super::{
    super::{density::between, priors::*},
    Held, Member, Seen, Setting,
    scene::{TINY, rate},
};

/// A lower limit below this share of the upper one is none.
const NO_LOWER: f64 = 0.02;

/// Whether it is the upper limit alone that judges.
pub fn is(setting: &Setting) -> bool {
    !setting.windows.is_empty() && setting.windows.iter().all(|(low, high)| *low <= NO_LOWER * high)
}

/// Of one circuit: density or probability as sound, as off, as slipped.
fn weigh(member: &Member, setting: &Setting) -> (f64, f64, f64) {
    let high = setting.windows.iter().map(|one| one.1).sum::<f64>() / setting.windows.len() as f64;
    let wide = |y: f64| {
        let blur = &member.blur;
        (setting.common.0 * y.abs())
            .hypot(setting.common.1)
            .hypot(blur.contact / blur.count.sqrt())
            .hypot(blur.own)
            .hypot(blur.step / 12f64.sqrt())
            .max(1e-9)
    };
    let sound = |y: f64| {
        let x = y - member.blur.contact;
        between((x - high) / wide(y), (x + member.blur.contact) / wide(y)) / high
    };
    match member.seen {
        Seen::Number(y) => {
            let known = member.learned.map_or(1.0, |(expected, u)| {
                UNLIKE_LEARNED + (1.0 - UNLIKE_LEARNED) * (-0.5 * ((y - expected) / u).powi(2)).exp()
            });
            // Nothing can be shorted in a wire: what is off has more than the limit, or is open.
            let x = (y - member.blur.contact).max(1e-9);
            let added = KINDS[0] + KINDS[1];
            let off = added / (LARGEST.ln() + 1.0) / x.max(high) * between(-9.0, (x - high) / wide(y));
            let slipped = member.slip.map_or(0.0, |(value, factor)| SLIP * sound(value) / factor);
            (known * sound(y), off, slipped)
        }
        Seen::Open => (SOUND_OPEN, KINDS[2], 0.0),
        Seen::Wanders(how) => (SOUND_WANDERS[how as usize], OFF_WANDERS, 0.0),
    }
}

/// Holds them: given the fault rate each is for itself.
pub fn hold(members: &[Member], setting: &Setting) -> Held {
    let count = members.len();
    let mut held = Held::nothing(count);
    if count == 0 {
        return held;
    }
    let weighed: Vec<(f64, f64, f64)> = members.iter().map(|member| weigh(member, setting)).collect();
    let share = |i: usize, p: f64| {
        let (sound, off, slipped) = weighed[i];
        let bad = rate(p, members[i].odds) * off + slipped;
        let all = (1.0 - rate(p, members[i].odds)) * sound + bad + TINY;
        (bad / all, slipped / all, all.ln())
    };
    for (k, (p, _)) in setting.rates.iter().enumerate() {
        held.by_rate[k] = (0..count).map(|i| share(i, *p).2).sum();
    }
    let logs: Vec<f64> = held
        .by_rate
        .iter()
        .zip(setting.rates)
        .map(|(log, (_, weight))| log + weight.max(1e-300).ln())
        .collect();
    let top = logs.iter().copied().fold(f64::NEG_INFINITY, f64::max);
    let z: f64 = logs.iter().map(|log| (log - top).exp()).sum();
    held.log = top + z.ln();
    let weights: Vec<f64> = logs.iter().map(|log| (log - top).exp() / z).collect();
    held.none = 0.0;
    for (w, (p, _)) in weights.iter().zip(setting.rates) {
        let none: f64 = (0..count).map(|i| 1.0 - share(i, p).0).product();
        held.none += w * none;
        for i in 0..count {
            let (bad, slipped, _) = share(i, p);
            held.off[i] += w * bad;
            held.slip[i] += w * slipped;
            held.alone[i] += w * none * bad / (1.0 - bad).max(1e-12);
        }
    }
    let named: Vec<bool> = held.off.iter().map(|p| *p > 0.5).collect();
    for (w, (p, _)) in weights.iter().zip(setting.rates) {
        let one = |i: usize| if named[i] { share(i, p).0 } else { 1.0 - share(i, p).0 };
        held.exact += w * (0..count).map(one).product::<f64>();
    }
    held.calm = held.none;
    held
}

#[cfg(test)]
mod tests {
    use super::{super::super::density::Blur, *};

    fn wire(ohms: f64) -> Held {
        let blur = Blur { step: 0.01, contact: 0.02, own: 0.0, count: 1.0 };
        let member = Member { seen: Seen::Number(ohms), blur, slip: None, odds: 1.0, learned: None };
        let setting = Setting {
            tolerance: 0.02,
            windows: vec![(0.0, 0.3)],
            common: (0.003, 0.04),
            rates: RATES,
            coarse: false,
        };
        hold(&[member], &setting)
    }

    #[test]
    fn sound_below_the_limit_and_off_above() {
        for ohms in [-0.03, 0.0, 0.02, 0.1, 0.2] {
            assert!(wire(ohms).off[0] < 0.02, "{ohms}: {}", wire(ohms).off[0]);
        }
        for ohms in [0.6, 2.0, 50.0] {
            assert!(wire(ohms).off[0] > 0.95, "{ohms}: {}", wire(ohms).off[0]);
        }
    }

    #[test]
    fn the_densities_of_a_sound_one_sum_to_one() {
        let sum: f64 = (-4000..8000).map(|k| 1e-4 * wire_density(1e-4 * f64::from(k))).sum();
        assert!((sum - 1.0).abs() < 0.1, "{sum}");
    }

    fn wire_density(ohms: f64) -> f64 {
        let held = wire(ohms);
        // What is off adds a twentieth at the most.
        held.log.exp()
    }
}
