//! Owns what is simulated: how sound parts spread, what meters, leads and contacts do to readings, and which faults there are.
//!
//! Written before the engine that it judges, and with another physics than the engine's model: members are clipped or skewed,
//! contacts are bounded, the meter's errors are drawn once for a part and stay with it. Half of the worlds are held apart:
//! nobody looks at them while priors and bounds are set. Everything here is invented; what a bound is taken for is evenly
//! spread (JCGM 100:2008, 4.3.7).

use super::random::Random;

/// What a sound circuit reads at 20 °C, in ohms.
pub const NOMINAL: f64 = 5.2;
/// Half-width of the printed window, as a fraction.
pub const WINDOW: f64 = 0.10;
/// Half-width of the profile's tolerance within a family, as a fraction.
pub const TOLERANCE: f64 = 0.04;
/// Bound on what one probing adds, in ohms.
pub const CONTACT: f64 = 0.05;
/// The temperature that is said of every part, in °C.
pub const SAID: f64 = 20.0;

/// How the members of a sound family differ from their common value.
#[derive(Debug, Clone, Copy, PartialEq, Eq, serde::Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Members {
    /// Normal with 0.4 of the tolerance, cut at the tolerance.
    Normal,
    /// Evenly within the tolerance.
    Uniform,
    /// Normal with an eighth of the tolerance.
    Tight,
    /// To one side: exponential with 0.4 of the tolerance.
    Skewed,
    /// Normal with twice the spread that the profile leads to expect.
    Wide,
    /// Two lots of wire, 5 % apart, mixed.
    Lots,
    /// Each part has one of normal, uniform, tight and wide.
    Mixed,
}

/// One world.
#[derive(Debug, Clone, Copy, PartialEq, serde::Serialize)]
pub struct World {
    /// For tables.
    pub name: &'static str,
    /// How members differ.
    pub members: Members,
    /// Like circuits in a part.
    pub size: usize,
    /// A meter with steps of 0.1 Ω, 1 % and one step; else 0.001 Ω, 0.3 % and 20 steps.
    pub cheap: bool,
    /// How far the temperature may be from the one said, in kelvin.
    pub temperature_by: f64,
    /// How far the leads move between the lead zero and the last reading, in ohms.
    pub leads_move: f64,
    /// Whether the profile has a window.
    pub window: bool,
    /// Kept apart.
    pub held: bool,
}

const USUAL: World = World {
    name: "normal, six",
    members: Members::Normal,
    size: 6,
    cheap: false,
    temperature_by: 5.0,
    leads_move: 0.0,
    window: true,
    held: false,
};

/// All worlds of families, those held apart last.
pub const WORLDS: [World; 16] = [
    USUAL,
    World { name: "uniform, six", members: Members::Uniform, ..USUAL },
    World { name: "twice as wide as said, six", members: Members::Wide, ..USUAL },
    World { name: "cheap meter, six", cheap: true, ..USUAL },
    World { name: "temperature within 20 K, six", temperature_by: 20.0, ..USUAL },
    World { name: "normal, three", size: 3, ..USUAL },
    World { name: "normal, eight", size: 8, ..USUAL },
    World { name: "normal, six, no window", window: false, ..USUAL },
    World { name: "tight, six", members: Members::Tight, held: true, ..USUAL },
    World { name: "skewed, six", members: Members::Skewed, held: true, ..USUAL },
    World { name: "two lots, six", members: Members::Lots, held: true, ..USUAL },
    World { name: "mixed, six", members: Members::Mixed, held: true, ..USUAL },
    World { name: "leads move by 0.15 Ω, six", leads_move: 0.15, held: true, ..USUAL },
    World { name: "normal, two", size: 2, held: true, ..USUAL },
    World { name: "normal, twelve", size: 12, held: true, ..USUAL },
    World { name: "mixed, six, no window", members: Members::Mixed, window: false, held: true, ..USUAL },
];

/// Which circuits of a family are faulty, and how.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, serde::Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Fault {
    /// One, up or down.
    One,
    /// Two by one factor.
    TwoAlike,
    /// One up, one down.
    TwoOpposite,
    /// Half of the family by one factor.
    Half,
}

/// The faults of the trial with their sizes, as fractions of the sound value.
pub const FAULTS: [(Fault, f64); 11] = [
    (Fault::One, 0.06),
    (Fault::One, 0.08),
    (Fault::One, 0.10),
    (Fault::One, 0.15),
    (Fault::One, 0.25),
    (Fault::TwoAlike, 0.10),
    (Fault::TwoAlike, 0.15),
    (Fault::TwoOpposite, 0.10),
    (Fault::TwoOpposite, 0.15),
    (Fault::Half, 0.15),
    (Fault::Half, 0.25),
];

impl Fault {
    /// How many circuits of a family are faulty; none where that makes no sense for its size.
    #[must_use]
    pub fn count(self, size: usize) -> Option<usize> {
        match self {
            Self::One => Some(1),
            Self::TwoAlike | Self::TwoOpposite => (size > 4).then_some(2),
            Self::Half => (size >= 4 && size.is_multiple_of(2)).then_some(size / 2),
        }
    }
}

/// A simulated part, measured once circuit by circuit.
#[derive(Debug, Clone, PartialEq)]
pub struct Simulated {
    /// What the meter showed for the leads held together.
    pub leads: f64,
    /// What it showed for each circuit, in ohms, at its step; infinite: over range.
    pub shown: Vec<f64>,
    /// Which circuits are faulty.
    pub faulty: Vec<bool>,
}

/// What one part's measuring has in common: temperature, the meter's errors, the leads.
pub struct Measuring {
    world: World,
    gain: f64,
    offset: f64,
    lead: f64,
    warm: f64,
}

impl Measuring {
    /// Draws them.
    pub fn draw(random: &mut Random, world: World) -> Self {
        let (percent, digits) = if world.cheap { (1.0, 1.0) } else { (0.3, 20.0) };
        Self {
            world,
            gain: 1.0 + random.around_zero(percent / 100.0),
            offset: random.around_zero(digits) * step(world),
            lead: random.between(0.15, 0.25),
            // Copper: (234.5 + t) / (234.5 + 20), IEC 60028.
            warm: (234.5 + SAID + random.around_zero(world.temperature_by)) / (234.5 + 20.0),
        }
    }

    /// What the meter shows for that many ohms between the terminals; `part` of the way through the measuring.
    pub fn shown(&self, random: &mut Random, ohms: f64, part: f64) -> f64 {
        if ohms.is_infinite() {
            return ohms;
        }
        let contact = (0.3 * CONTACT * random.exponential()).min(CONTACT);
        let all = ohms + contact + self.lead + self.world.leads_move * part;
        let step = step(self.world);
        (((all * self.gain + self.offset) / step).round() * step).max(0.0)
    }

    /// A resistance at 20 °C, at the part's temperature.
    pub fn warm(&self, ohms: f64) -> f64 {
        ohms * self.warm
    }
}

/// One step of the meter's display in ohms.
#[must_use]
pub fn step(world: World) -> f64 {
    if world.cheap { 0.1 } else { 0.001 }
}

/// Sound members at 20 °C, in ohms.
pub fn members(random: &mut Random, world: World) -> Vec<f64> {
    let spread = 0.4 * TOLERANCE;
    let common = NOMINAL * (1.0 + random.around_zero(WINDOW / 2.0));
    let kind = match world.members {
        Members::Mixed => [Members::Normal, Members::Uniform, Members::Tight, Members::Wide][random.below(4)],
        kind => kind,
    };
    (0..world.size)
        .map(|_| {
            let by = match kind {
                Members::Normal | Members::Mixed => (spread * random.normal()).clamp(-TOLERANCE, TOLERANCE),
                Members::Uniform => random.around_zero(TOLERANCE),
                Members::Tight => TOLERANCE / 8.0 * random.normal(),
                Members::Skewed => spread * (random.exponential() - 1.0),
                Members::Wide => 2.0 * spread * random.normal(),
                Members::Lots => {
                    let lot = if random.unit() < 0.5 { 0.025 } else { -0.025 };
                    lot + TOLERANCE / 8.0 * random.normal()
                }
            };
            common * (1.0 + by)
        })
        .collect()
}

/// Makes a part and measures it. `fault`: its kind and size; none for a sound part.
#[must_use]
pub fn simulate(random: &mut Random, world: World, fault: Option<(Fault, f64)>) -> Simulated {
    let measuring = Measuring::draw(random, world);
    let mut ohms = members(random, world);
    let mut faulty = vec![false; world.size];
    if let Some((kind, size)) = fault {
        let sign = if random.unit() < 0.5 { 1.0 } else { -1.0 };
        let mut places: Vec<usize> = (0..world.size).collect();
        for nth in 0..kind.count(world.size).unwrap_or(0) {
            let place = places.swap_remove(random.below(places.len()));
            let way = if kind == Fault::TwoOpposite && nth == 1 { -sign } else { sign };
            ohms[place] *= 1.0 + way * size;
            faulty[place] = true;
        }
    }
    let leads = measuring.shown(random, 0.0, 0.0);
    let last = world.size.max(2) - 1;
    let shown = ohms
        .iter()
        .enumerate()
        .map(|(at, ohms)| measuring.shown(random, measuring.warm(*ohms), at as f64 / last as f64))
        .collect();
    Simulated { leads, shown, faulty }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_same_seed_gives_the_same_part() {
        let make = |seed| simulate(&mut Random::new(seed), WORLDS[0], Some((Fault::One, 0.25)));
        assert_eq!(make(3), make(3));
        assert_ne!(make(3), make(4));
    }

    #[test]
    fn faults_mark_the_circuits_that_they_change_and_half_of_the_worlds_are_held_apart() {
        for world in WORLDS {
            for (kind, size) in FAULTS {
                let Some(count) = kind.count(world.size) else { continue };
                let part = simulate(&mut Random::new(1), world, Some((kind, size)));
                assert_eq!(part.faulty.iter().filter(|one| **one).count(), count, "{kind:?}");
                assert!(2 * count <= world.size);
            }
        }
        assert_eq!(WORLDS.iter().filter(|world| world.held).count() * 2, WORLDS.len());
    }

    /// Members have the spread that their world says; from the formulas above, no source.
    #[test]
    fn members_spread_as_said() {
        for (world, expected) in [(WORLDS[1], TOLERANCE / 3f64.sqrt()), (WORLDS[2], 0.8 * TOLERANCE)] {
            let mut random = Random::new(5);
            let (mut sum, mut count) = (0.0, 0.0);
            for _ in 0..4000 {
                let all = members(&mut random, world);
                let mean = all.iter().sum::<f64>() / all.len() as f64;
                sum += all.iter().map(|ohms| (ohms / mean - 1.0).powi(2)).sum::<f64>();
                count += all.len() as f64 - 1.0;
            }
            let spread: f64 = (sum / count).sqrt();
            assert!((spread / expected - 1.0).abs() < 0.05, "{}: {spread}", world.name);
        }
    }
}
