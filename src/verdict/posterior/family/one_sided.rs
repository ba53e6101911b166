//! Owns circuits with an upper limit alone (plain wires): a sound one has anything from nothing to the limit, so there is no
//! place that like ones share and no spread.

use super::{
    super::{density::between, priors::*},
    Held, Member, Point, Seen, Setting, Sums, finish, products,
    scene::{learned, rates},
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
            // Nothing can be shorted in a wire: what is off has more than the limit, or is open.
            let x = (y - member.blur.contact).max(1e-9);
            let added = KINDS[0] + KINDS[1];
            let off = added / (LARGEST.ln() + 1.0) / x.max(high) * between(-9.0, (x - high) / wide(y));
            let slipped = member.slip.map_or(0.0, |(value, factor)| SLIP * sound(value) / factor);
            (learned(member) * sound(y), off, slipped)
        }
        Seen::Open => (SOUND_OPEN, KINDS[2], 0.0),
        Seen::Wanders(how) => (SOUND_WANDERS[how as usize], OFF_WANDERS, 0.0),
    }
}

/// Holds them: given the fault rate each is for itself.
pub fn hold(members: &[Member], setting: &Setting) -> Held {
    let count = members.len();
    if count == 0 {
        return Held::nothing(0);
    }
    let weighed: Vec<(f64, f64, f64)> = members.iter().map(|member| weigh(member, setting)).collect();
    let good: Vec<f64> = weighed.iter().map(|one| one.0).collect();
    let off: Vec<f64> = weighed.iter().map(|one| one.1).collect();
    let slipped: Vec<f64> = weighed.iter().map(|one| one.2).collect();
    let rates = rates(members, setting.rates.map(|(p, _)| p));
    let logs = products(&rates, &good, &off, &slipped);
    let mut sums = Sums::below(f64::NEG_INFINITY);
    for (rate, (log, (_, weight))) in logs.into_iter().zip(setting.rates).enumerate() {
        sums.add(&Point {
            log: log + weight.ln(),
            m: 0.0,
            s: 0.0,
            off_family: false,
            plain: true,
            rates: &rates,
            rate,
            any_rate: false,
            good: &good,
            off: &off,
            // Above the limit all of it matters.
            matter: &vec![1.0; count],
            slipped: &slipped,
        });
    }
    finish(count, sums, setting)
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
