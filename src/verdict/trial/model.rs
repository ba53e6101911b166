//! Owns what is simulated: how sound parts spread, what meters and contacts do to readings, and which faults there are.
//!
//! Written before the engine. Half-widths are of even (rectangular) distributions, the least favourable assumption for
//! a maker's limit (JCGM 100:2008, 4.3.7). Faults marked [`FaultKind::held_apart`] are not looked at while limits and
//! certainties are set: they show how the engine does on what it was not made for.

use crate::random::Random;

/// A kind of part: one family of like circuits.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PartKind {
    /// Nominal resistance at 20 °C in ohms; the printed window is centred here.
    pub nominal: f64,
    /// Half-width of the printed window at 20 °C, as a fraction of the nominal value.
    pub window: f64,
    /// Half-width of how one part's common value differs from the nominal one, as a fraction.
    pub batch: f64,
    /// Half-width of how the members of one sound part differ from their common value, as a fraction.
    pub member: f64,
}

/// The parts of the trial (invented): low-ohm actuator coils, middling valve coils, high-ohm sensors.
pub const PARTS: [PartKind; 3] = [
    PartKind { nominal: 1.5, window: 0.15, batch: 0.08, member: 0.04 },
    PartKind { nominal: 5.2, window: 0.10, batch: 0.05, member: 0.03 },
    PartKind { nominal: 300.0, window: 0.10, batch: 0.05, member: 0.03 },
];

/// Family sizes of the trial.
pub const SIZES: [usize; 6] = [3, 4, 5, 6, 8, 12];

/// How far the part's temperature may be from the one said, in kelvin (half-width).
pub const TEMPERATURE_UNKNOWN_BY: [f64; 3] = [2.0, 15.0, 40.0];

/// A meter: errors that are drawn once and shared by all readings of a part.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct MeterKind {
    /// For tables.
    pub name: &'static str,
    /// Percent of the reading (bound).
    pub percent: f64,
    /// Steps of the last digit (bound).
    pub digits: f64,
    /// Resolution in ohms for readings below 100 Ω; ten times that up to 1000 Ω.
    pub resolution: f64,
}

/// The meters of the trial (invented).
pub const METERS: [MeterKind; 2] = [
    MeterKind { name: "good", percent: 0.2, digits: 2.0, resolution: 0.01 },
    MeterKind { name: "cheap", percent: 1.0, digits: 3.0, resolution: 0.1 },
];

/// Bounds on what one probing adds to a reading, in ohms, from 0 up: clean and worn terminals.
pub const CONTACTS: [f64; 2] = [0.03, 0.10];

/// A fault of a simulated part. Sizes are fractions of the sound value.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, serde::Serialize, serde::Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum FaultKind {
    /// One circuit reads more (corroded joint, strands broken).
    OneHigh,
    /// One circuit reads less (turns shorted).
    OneLow,
    /// Two circuits read more by the same share.
    TwoHigh,
    /// All circuits read more by the same amount (shared return). No circuit may be named.
    AllShifted,
    /// Held apart: one reads more and another less.
    OneHighOneLow,
    /// Held apart: two read less, the second by half as much as the first.
    TwoLowUnequal,
    /// Held apart: one reads more, and another sound one got a bad contact (three times the contact bound).
    OneHighOneBadContact,
    /// Held apart: one circuit reads less, and temperature falls from first to last reading by 15 K.
    OneLowWhileCooling,
}

impl FaultKind {
    /// All kinds, those tuned on first.
    pub const ALL: [Self; 8] = [
        Self::OneHigh,
        Self::OneLow,
        Self::TwoHigh,
        Self::AllShifted,
        Self::OneHighOneLow,
        Self::TwoLowUnequal,
        Self::OneHighOneBadContact,
        Self::OneLowWhileCooling,
    ];

    /// Whether it is kept apart from those that the engine was tuned on.
    #[must_use]
    pub fn held_apart(self) -> bool {
        matches!(
            self,
            Self::OneHighOneLow | Self::TwoLowUnequal | Self::OneHighOneBadContact | Self::OneLowWhileCooling
        )
    }

    /// Whether it makes single circuits faulty, so that some are to be named.
    #[must_use]
    pub fn names_circuits(self) -> bool {
        self != Self::AllShifted
    }
}

/// Fault sizes of the trial, as fractions of the sound value.
pub const FAULT_SIZES: [f64; 5] = [0.06, 0.10, 0.15, 0.25, 0.50];

/// What one simulated part is made from.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Setting {
    /// The part.
    pub part: PartKind,
    /// Number of like circuits.
    pub size: usize,
    /// How far the temperature may be from the one said, in kelvin.
    pub temperature_by: f64,
    /// The meter.
    pub meter: MeterKind,
    /// Bound on what one probing adds, in ohms.
    pub contact: f64,
}

impl Setting {
    /// One of all combinations, each equally often.
    #[must_use]
    pub fn draw(random: &mut Random) -> Self {
        Self {
            part: PARTS[random.below(PARTS.len())],
            size: SIZES[random.below(SIZES.len())],
            temperature_by: TEMPERATURE_UNKNOWN_BY[random.below(TEMPERATURE_UNKNOWN_BY.len())],
            meter: METERS[random.below(METERS.len())],
            contact: CONTACTS[random.below(CONTACTS.len())],
        }
    }

    /// The meter's step at a reading, in ohms.
    #[must_use]
    pub fn step(&self, ohms: f64) -> f64 {
        if ohms < 100.0 { self.meter.resolution } else { self.meter.resolution * 10.0 }
    }
}

/// A simulated part, measured once circuit by circuit.
#[derive(Debug, Clone, PartialEq)]
pub struct Simulated {
    /// What it was made from.
    pub setting: Setting,
    /// The temperature that was said, in °C.
    pub said_temperature: f64,
    /// What the meter showed for the leads held together, in ohms.
    pub leads_shown: f64,
    /// What it showed for each circuit, in ohms, rounded to its step.
    pub shown: Vec<f64>,
    /// Which circuits are faulty.
    pub faulty: Vec<bool>,
}

/// The temperature that is said of every simulated part.
pub const SAID_TEMPERATURE: f64 = 25.0;

/// Makes a part and measures it. `fault`: its kind and size; none for a sound part.
#[must_use]
pub fn simulate(random: &mut Random, setting: Setting, fault: Option<(FaultKind, f64)>) -> Simulated {
    let part = setting.part;
    let temperature = SAID_TEMPERATURE + random.around_zero(setting.temperature_by);
    let common = part.nominal * (1.0 + random.around_zero(part.batch));
    let gain = 1.0 + random.around_zero(setting.meter.percent / 100.0);
    let offset_steps = random.around_zero(setting.meter.digits);
    let leads = random.between(0.1, 0.4);
    let first = random.below(setting.size);
    let second = (first + 1 + random.below(setting.size - 1)) % setting.size;
    let mut faulty = vec![false; setting.size];
    let mut shown = Vec::with_capacity(setting.size);
    for (index, is_faulty) in faulty.iter_mut().enumerate() {
        let member = common * (1.0 + random.around_zero(part.member));
        let mut now = temperature;
        let mut factor = 1.0;
        let mut extra = 0.0;
        let mut contact = setting.contact * random.unit();
        let (is_first, is_second) = (index == first, index == second);
        if let Some((kind, size)) = fault {
            match kind {
                FaultKind::OneHigh if is_first => factor += size,
                FaultKind::OneLow if is_first => factor -= size,
                FaultKind::TwoHigh if is_first || is_second => factor += size,
                FaultKind::AllShifted => extra = part.nominal * size,
                FaultKind::OneHighOneLow if is_first => factor += size,
                FaultKind::OneHighOneLow if is_second => factor -= size,
                FaultKind::TwoLowUnequal if is_first => factor -= size,
                FaultKind::TwoLowUnequal if is_second => factor -= size / 2.0,
                FaultKind::OneHighOneBadContact if is_first => factor += size,
                FaultKind::OneHighOneBadContact if is_second => contact = 3.0 * setting.contact,
                FaultKind::OneLowWhileCooling => {
                    now -= 15.0 * index as f64 / (setting.size - 1) as f64;
                    if is_first {
                        factor -= size;
                    }
                }
                _ => {}
            }
        }
        *is_faulty = factor != 1.0;
        // Copper by the 234.5 rule, from 20 °C.
        let at_temperature = member * factor * (234.5 + now) / (234.5 + 20.0);
        let true_total = at_temperature + extra + contact + leads;
        let step = setting.step(true_total);
        shown.push(((true_total * gain + offset_steps * step) / step).round() * step);
    }
    let step = setting.step(leads);
    let together = leads + setting.contact * random.unit();
    let leads_shown = (((together * gain + offset_steps * step) / step).round() * step).max(0.0);
    for value in &mut shown {
        *value = value.max(0.0);
    }
    Simulated { setting, said_temperature: SAID_TEMPERATURE, leads_shown, shown, faulty }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_same_seed_gives_the_same_part() {
        let make = |seed| {
            let mut random = Random::new(seed);
            let setting = Setting::draw(&mut random);
            simulate(&mut random, setting, Some((FaultKind::OneHigh, 0.25)))
        };
        assert_eq!(make(3), make(3));
        assert_ne!(make(3), make(4));
    }

    #[test]
    fn each_fault_marks_the_circuits_that_it_changes() {
        let setting =
            Setting { part: PARTS[1], size: 6, temperature_by: 2.0, meter: METERS[0], contact: CONTACTS[0] };
        for (kind, count) in [
            (FaultKind::OneHigh, 1),
            (FaultKind::TwoHigh, 2),
            (FaultKind::AllShifted, 0),
            (FaultKind::OneHighOneLow, 2),
            (FaultKind::OneHighOneBadContact, 1),
        ] {
            let part = simulate(&mut Random::new(1), setting, Some((kind, 0.5)));
            assert_eq!(part.faulty.iter().filter(|f| **f).count(), count, "{kind:?}");
        }
    }
}
