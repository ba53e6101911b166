//! Owns the practice bench: an invented part with faults that somebody measures, what the meter shows there, and the score.
//!
//! What a sound circuit reads is taken from the profile: the middle of its window, brought to the temperature of the part by what the
//! circuit is made of. Leads, contact and a dirty terminal add; a fault changes the circuit itself.

use super::{
    display,
    part::{between_minus_one_and_one, next},
};
use crate::{
    profile::{CircuitKind, Meter, Profile, Window},
    quantity::{Reading, Shown},
    session::message::{Message, Prepared, Probed, Prompt, Question},
};
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// Temperature coefficient of copper at 20 °C (IEC 60028).
const COPPER_PER_K: f64 = 0.003_93;
/// What a circuit has that the profile has no window for, in ohms (chosen here).
const UNKNOWN_OHM: f64 = 100.0;
/// What a dirty terminal adds until it is cleaned, in ohms (chosen here).
const DIRT_OHM: f64 = 2.5;
/// What a joint in the winding adds, as a share of it (chosen here).
const JOINT: f64 = 0.6;
/// What is left of a winding with shorted turns (chosen here).
const LEFT: f64 = 0.55;
/// What is left of a circuit that is shorted, in ohms (chosen here).
const SHORT_OHM: f64 = 0.05;
/// From a circuit to the case where it leaks, in ohms (chosen here).
const LEAK_OHM: f64 = 800.0;

/// What can be wrong with a circuit of the bench.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum BenchFault {
    /// Nothing gets through.
    Open,
    /// Nearly nothing is left of it.
    Shorted,
    /// Some of its turns are bridged.
    ShortedTurns,
    /// A joint in it has too many ohms.
    BadJoint,
    /// Its terminal is dirty: cleaned it reads as a sound one, and nothing has to be replaced.
    DirtyTerminal,
    /// It leaks to the case.
    Leak,
}

impl BenchFault {
    /// All of them.
    pub const ALL: [Self; 6] =
        [Self::Open, Self::Shorted, Self::ShortedTurns, Self::BadJoint, Self::DirtyTerminal, Self::Leak];

    /// Whether the part has to be replaced or mended for it.
    #[must_use]
    pub fn condemns(self) -> bool {
        self != Self::DirtyTerminal
    }

    /// Its name on the command line.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            Self::Open => "open",
            Self::Shorted => "shorted",
            Self::ShortedTurns => "shorted-turns",
            Self::BadJoint => "bad-joint",
            Self::DirtyTerminal => "dirty",
            Self::Leak => "leak",
        }
    }
}

/// Where the probes are.
#[derive(Debug, Clone, PartialEq)]
enum At {
    Nowhere,
    Together,
    Circuit { place: usize, cleaned: bool, case: bool },
}

/// A part on the bench, a meter, and where the probes are.
#[derive(Debug, Clone)]
pub struct Bench {
    profile: Profile,
    meter: Meter,
    faults: Vec<(usize, BenchFault)>,
    temperature_c: f64,
    leads_ohm: f64,
    contact_ohm: f64,
    random: u64,
    at: At,
    cleaned: Vec<usize>,
    shown: Option<Reading>,
    misread: usize,
    taken: Vec<(usize, bool)>,
    needless: usize,
}

impl Bench {
    /// A part with these faults, by the places of their circuits. Temperature, leads and contact follow from the seed.
    #[must_use]
    pub fn new(profile: Profile, meter: Meter, faults: Vec<(usize, BenchFault)>, seed: u64) -> Self {
        let mut bench = Self {
            profile,
            meter,
            faults,
            temperature_c: 20.0,
            leads_ohm: 0.2,
            contact_ohm: 0.01,
            random: seed.wrapping_mul(0x9E37_79B9_7F4A_7C15) | 1,
            at: At::Nowhere,
            cleaned: Vec::new(),
            shown: None,
            misread: 0,
            taken: Vec::new(),
            needless: 0,
        };
        bench.temperature_c = (20.0 + 5.0 * between_minus_one_and_one(&mut bench.random)).round();
        bench.leads_ohm = 0.2 + 0.05 * between_minus_one_and_one(&mut bench.random);
        bench
    }

    /// Faults for a lesson: so many, each at another circuit that may be measured and on which it shows.
    #[must_use]
    pub fn hidden(
        profile: &Profile,
        kinds: &[BenchFault],
        count: usize,
        seed: u64,
    ) -> Vec<(usize, BenchFault)> {
        let mut random = seed.wrapping_mul(0x2545_F491_4F6C_DD1D) | 1;
        let mut faults: Vec<(usize, BenchFault)> = Vec::new();
        let measured: Vec<usize> = (0..profile.circuits.len())
            .filter(|place| profile.circuits[*place].never_ohmmeter.is_none())
            .collect();
        for _ in 0..200 {
            if faults.len() >= count.min(measured.len()) || measured.is_empty() || kinds.is_empty() {
                break;
            }
            let place = measured[pick(&mut random, measured.len())];
            let kind = kinds[pick(&mut random, kinds.len())];
            if shows_on(&profile.circuits[place].kind, kind)
                && !faults.iter().any(|(known, _)| *known == place)
            {
                faults.push((place, kind));
            }
        }
        faults
    }

    /// The part.
    #[must_use]
    pub fn profile(&self) -> &Profile {
        &self.profile
    }

    /// The temperature that the part has and a thermometer tells, in degrees Celsius.
    #[must_use]
    pub fn temperature_c(&self) -> f64 {
        self.temperature_c
    }

    /// Where the probes go by a line of the session; the display then, where one is to be read.
    pub fn follow(&mut self, line: &Message) -> Option<Reading> {
        match line.last() {
            Message::Prompt(Prompt::Leads | Prompt::LeadsInFull)
            | Message::Prepared(Prepared::LeadsDoubted { .. } | Prepared::LeadsOpen) => {
                self.at = At::Together
            }
            Message::Prompt(prompt) => match prompt.probed() {
                Some(probed) => {
                    let place = self.place(probed)?;
                    if matches!(prompt, Prompt::OnceMoreCleaned { .. }) && !self.cleaned.contains(&place) {
                        self.cleaned.push(place);
                    }
                    let cleaned = self.cleaned.contains(&place);
                    self.at = At::Circuit { place, cleaned, case: matches!(probed, Probed::ToCase { .. }) };
                }
                None => {
                    self.at = At::Nowhere;
                    self.shown = None;
                    return None;
                }
            },
            // A question is about what was shown just now.
            Message::Question(Question::LessThanLeads { .. }) => return None,
            _ => return self.shown,
        }
        self.shown = Some(self.read());
        self.shown
    }

    /// What the display shows now.
    #[must_use]
    pub fn shown(&self) -> Option<Reading> {
        self.shown
    }

    /// Where the probes are.
    #[must_use]
    pub fn probes(&self) -> Probes {
        match &self.at {
            At::Nowhere => Probes::Nowhere,
            At::Together => Probes::Together,
            At::Circuit { place, case: true, .. } => {
                Probes::ToCase { pin: self.profile.circuits[*place].pin.to_string() }
            }
            At::Circuit { place, .. } => {
                let circuit = &self.profile.circuits[*place];
                Probes::On { pin: circuit.pin.to_string(), against: circuit.against.to_string() }
            }
        }
    }

    /// A reading was typed. Counted are those that the display did not show, and those of a circuit that had been read so already.
    pub fn typed(&mut self, reading: Option<Shown>) {
        let At::Circuit { place, cleaned, .. } = self.at else { return };
        match (reading, self.shown) {
            (Some(typed), Some(Reading::Value(shown))) if (typed.value() - shown.value()).abs() < 1e-9 => {}
            (None, Some(Reading::OverRange { .. })) => {}
            _ => self.misread += 1,
        }
        // The first circuit is read twice by the round, a suspect up to three times when it is cleaned and proven.
        let times = self.taken.iter().filter(|known| **known == (place, cleaned)).count();
        if times >= 3 {
            self.needless += 1;
        }
        self.taken.push((place, cleaned));
    }

    /// What it came to, by the circuits that the person would have replaced or mended.
    #[must_use]
    pub fn score(&self, condemned: &[usize]) -> Score {
        let name = |place: &usize| self.profile.circuits[*place].name.clone();
        let faulty: Vec<usize> =
            self.faults.iter().filter(|(_, fault)| fault.condemns()).map(|(place, _)| *place).collect();
        let of = |places: Vec<&usize>| places.into_iter().map(name).collect();
        Score {
            found: of(faulty.iter().filter(|place| condemned.contains(place)).collect()),
            missed: of(faulty.iter().filter(|place| !condemned.contains(place)).collect()),
            wrongly: of(condemned.iter().filter(|place| !faulty.contains(place)).collect()),
            misread: self.misread,
            needless: self.needless,
        }
    }

    /// What was wrong with it.
    #[must_use]
    pub fn truth(&self) -> Vec<Truth> {
        let one = |(place, fault): &(usize, BenchFault)| Truth {
            circuit: self.profile.circuits[*place].name.clone(),
            fault: *fault,
        };
        self.faults.iter().map(one).collect()
    }

    fn place(&self, probed: &Probed) -> Option<usize> {
        let circuits = &self.profile.circuits;
        match probed {
            Probed::Pins { pin, against } => circuits
                .iter()
                .position(|circuit| circuit.pin.as_str() == pin && circuit.against.as_str() == against),
            Probed::Pin { pin } | Probed::ToCase { pin } => {
                circuits.iter().position(|circuit| circuit.pin.as_str() == pin)
            }
            Probed::PlugPins { .. } | Probed::Plug => None,
        }
    }

    fn read(&mut self) -> Reading {
        let contact = self.contact_ohm * between_minus_one_and_one(&mut self.random).abs();
        let over = Reading::OverRange { range: None };
        let ohms = match self.at {
            At::Nowhere => return over,
            At::Together => self.leads_ohm,
            At::Circuit { place, case: true, .. } => {
                let leaks = self.faults.contains(&(place, BenchFault::Leak));
                if leaks { LEAK_OHM + self.leads_ohm } else { return over }
            }
            At::Circuit { place, cleaned, .. } => {
                let sound = self.sound(place);
                let mut faults = self.faults.iter().filter(|(at, _)| *at == place).map(|(_, fault)| *fault);
                let with = faults.try_fold(sound, |ohms, fault| match fault {
                    BenchFault::Open => None,
                    BenchFault::Shorted => Some(SHORT_OHM),
                    BenchFault::ShortedTurns => Some(ohms * LEFT),
                    BenchFault::BadJoint => Some(ohms * (1.0 + JOINT) + 0.5),
                    BenchFault::DirtyTerminal if !cleaned => Some(ohms + DIRT_OHM + 0.4 * sound),
                    BenchFault::DirtyTerminal | BenchFault::Leak => Some(ohms),
                });
                match with {
                    Some(ohms) => ohms + self.leads_ohm,
                    None => return over,
                }
            }
        };
        display(&self.meter, ohms + contact)
    }

    /// What the circuit reads when nothing is wrong with it, at the temperature of the part.
    fn sound(&self, place: usize) -> f64 {
        let circuit = &self.profile.circuits[place];
        let t = self.temperature_c;
        let (middle, at) =
            circuit.window.as_ref().map_or((UNKNOWN_OHM, t), |window| (middle_of(window), window.at.get()));
        // Parts of one make differ a little: by half a percent here.
        let own = 1.0 + 0.005 * (((place * 7) % 5) as f64 / 2.0 - 1.0);
        own * match &circuit.kind {
            CircuitKind::CopperCoil => {
                middle * (1.0 + COPPER_PER_K * (t - 20.0)) / (1.0 + COPPER_PER_K * (at - 20.0))
            }
            CircuitKind::Linear { alpha_per_k } => {
                middle * (1.0 + alpha_per_k * (t - 20.0)) / (1.0 + alpha_per_k * (at - 20.0))
            }
            // IEC 60751, above 0 °C.
            CircuitKind::Platinum { r0 } => r0.get() * (1.0 + 3.9083e-3 * t - 5.775e-7 * t * t),
            CircuitKind::Thermistor { r_ref, t_ref, b_k } => {
                r_ref.get() * (b_k * (1.0 / (t + 273.15) - 1.0 / (t_ref.get() + 273.15))).exp()
            }
            CircuitKind::ThermistorTable { points } => {
                let points: Vec<(f64, f64)> =
                    points.iter().map(|(at, ohms)| (at.get(), ohms.get())).collect();
                between(&points, t).unwrap_or(middle)
            }
            CircuitKind::DataBus => 60.0,
            CircuitKind::Resistor | CircuitKind::Wire => middle,
        }
    }
}

fn middle_of(window: &Window) -> f64 {
    let (low, high) = (window.low.get(), window.high.get());
    // A window that is open upwards has no middle.
    if high > 100.0 * low && low > 0.0 { 10.0 * low } else { f64::midpoint(low, high) }
}

/// A table read in ln R against 1/T, as the engine does.
fn between(points: &[(f64, f64)], t: f64) -> Option<f64> {
    let pair = points.windows(2).find(|pair| pair[0].0 <= t && t <= pair[1].0)?;
    let x = |t: f64| 1.0 / (t + 273.15);
    let share = (x(t) - x(pair[0].0)) / (x(pair[1].0) - x(pair[0].0));
    Some((pair[0].1.ln() + share * (pair[1].1.ln() - pair[0].1.ln())).exp())
}

/// Whether a fault can be on something made so, and be seen with an ohmmeter at rest.
#[must_use]
pub fn shows_on(kind: &CircuitKind, fault: BenchFault) -> bool {
    let winding = matches!(kind, CircuitKind::CopperCoil | CircuitKind::Linear { .. });
    match fault {
        BenchFault::Open => true,
        BenchFault::Shorted | BenchFault::BadJoint => !matches!(kind, CircuitKind::Wire),
        BenchFault::ShortedTurns => winding,
        BenchFault::DirtyTerminal => winding,
        BenchFault::Leak => false,
    }
}

fn pick(random: &mut u64, of: usize) -> usize {
    usize::try_from((next(random) >> 20) % of.max(1) as u64).unwrap_or(0)
}

/// Where the probes are, as it is told.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Probes {
    /// They lie on the bench.
    Nowhere,
    /// They are held together.
    Together,
    /// On two pins.
    On {
        /// The one.
        pin: String,
        /// The other one.
        against: String,
    },
    /// On a pin and the case.
    ToCase {
        /// The pin.
        pin: String,
    },
}

/// What was wrong with a circuit.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, JsonSchema)]
pub struct Truth {
    /// The circuit's name.
    pub circuit: String,
    /// What it had.
    pub fault: BenchFault,
}

/// What practising came to.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, JsonSchema)]
pub struct Score {
    /// Faulty circuits that were named.
    pub found: Vec<String>,
    /// Faulty circuits that were not.
    pub missed: Vec<String>,
    /// Sound circuits that would have been replaced.
    pub wrongly: Vec<String>,
    /// Readings that the display did not show.
    pub misread: usize,
    /// Readings beyond what tells anything.
    pub needless: usize,
}
