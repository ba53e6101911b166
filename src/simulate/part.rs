//! Owns what the meter would show on the invented part: true value, temperature, leads, contact, and the meter's steps.

use super::Scenario;
use crate::{
    profile::{Circuit, CircuitKind, Meter, Profile},
    quantity::{Decimal, Prefix, Reading, Shown, Unit},
};

/// Temperature coefficient of copper at 20 °C (IEC 60028).
const COPPER_PER_K: f64 = 0.003_93;

/// The part of a scenario at its meter.
#[derive(Debug, Clone)]
pub struct SimulatedPart<'a> {
    scenario: &'a Scenario,
    profile: &'a Profile,
    meter: &'a Meter,
    random: u64,
}

impl<'a> SimulatedPart<'a> {
    /// The part of `scenario`, which must give a value for every circuit of `profile`.
    ///
    /// # Errors
    /// Names a circuit without a value, or a value without a circuit.
    pub fn new(scenario: &'a Scenario, profile: &'a Profile, meter: &'a Meter) -> Result<Self, String> {
        let given = &scenario.ohm_at_20c;
        let missing = profile.circuits.iter().find(|circuit| !given.contains_key(circuit.id.as_str()));
        let unknown =
            given.keys().find(|name| !profile.circuits.iter().any(|circuit| circuit.id.as_str() == *name));
        match (missing, unknown) {
            (Some(circuit), _) => Err(format!("the scenario gives no value for circuit {}", circuit.id)),
            (_, Some(name)) => Err(format!("the scenario has a value for {name}, which the profile lacks")),
            _ => Ok(Self { scenario, profile, meter, random: scenario.seed | 1 }),
        }
    }

    /// The circuit at a pin.
    #[must_use]
    pub fn at_pin(&self, pin: &str) -> Option<&'a Circuit> {
        self.profile.circuits.iter().find(|circuit| circuit.pin.as_str().eq_ignore_ascii_case(pin))
    }

    /// The circuit between two pins.
    #[must_use]
    pub fn between(&self, pin: &str, against: &str) -> Option<&'a Circuit> {
        let named = |circuit: &&Circuit| circuit.pin.as_str() == pin && circuit.against.as_str() == against;
        self.profile.circuits.iter().find(named)
    }

    /// What the meter shows on a circuit.
    pub fn read(&mut self, circuit: &Circuit) -> Reading {
        let at_20c = self.scenario.ohm_at_20c[circuit.id.as_str()];
        let alpha = match circuit.kind {
            CircuitKind::CopperCoil => COPPER_PER_K,
            CircuitKind::Linear { alpha_per_k } => alpha_per_k,
            _ => 0.0,
        };
        let warm = at_20c * (1.0 + alpha * (self.scenario.temperature_c - 20.0));
        let contact = self.scenario.contact_ohm * between_minus_one_and_one(&mut self.random);
        self.display(warm + self.scenario.leads_ohm + contact)
    }

    /// What the meter shows with the probes held together.
    pub fn read_leads(&mut self) -> Reading {
        self.display(self.scenario.leads_ohm)
    }

    /// The temperature that the technician knows.
    #[must_use]
    pub fn temperature_c(&self) -> f64 {
        self.scenario.temperature_c
    }

    fn display(&self, ohms: f64) -> Reading {
        display(self.meter, ohms)
    }
}

/// The next number of a xorshift generator (G. Marsaglia, 2003): the same for the same seed on every machine.
pub(super) fn next(random: &mut u64) -> u64 {
    *random ^= *random << 13;
    *random ^= *random >> 7;
    *random ^= *random << 17;
    *random
}

/// The same between minus one and one, evenly.
pub(super) fn between_minus_one_and_one(random: &mut u64) -> f64 {
    (next(random) >> 11) as f64 / (1u64 << 52) as f64 - 1.0
}

/// What a meter shows of so many ohms, in its lowest range that reaches.
#[must_use]
pub fn display(meter: &Meter, ohms: f64) -> Reading {
    let ranges = meter.ranges.iter().filter(|range| range.unit == Unit::Ohm);
    let Some(range) = ranges.clone().find(|range| ohms <= range.full_scale) else {
        return Reading::OverRange { range: None };
    };
    let prefix = if range.full_scale < 1e3 {
        Prefix::One
    } else if range.full_scale < 1e6 {
        Prefix::Kilo
    } else {
        Prefix::Mega
    };
    // Both are small whole numbers: steps fit a display, places are below ten.
    let places = (prefix.factor() / range.resolution).log10().round().clamp(0.0, 9.0) as u8;
    let steps = (ohms.max(0.0) / range.resolution).round() as u64;
    match Decimal::new(false, steps, places) {
        Ok(number) => Reading::Value(Shown { number, prefix, unit: Unit::Ohm }),
        Err(_) => Reading::OverRange { range: None },
    }
}
