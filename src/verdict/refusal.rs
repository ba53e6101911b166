//! Owns bad input: what no honest judgement can be made from, named so that it can be put right.

use super::{Evidence, Further, Leads, Measurement, Relation, analysis::Finder};
use crate::{
    profile::{CircuitId, CircuitKind, Profile},
    quantity::{Celsius, Interval, Reading, Shown, Unit},
};
use std::collections::BTreeSet;

/// Why evidence was refused. Nothing was judged.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum Refusal {
    /// A resistance below zero.
    #[error(
        "{}: {shown} is below zero; no part reads that: zero the leads again or correct it", which(*.id)
    )]
    Negative {
        /// Which measurement; 0 is the lead zero.
        id: u32,
        /// What was shown.
        shown: Shown,
    },
    /// A unit that does not fit.
    #[error("{}: {shown} is not in {expected}", which(*.id), expected = expected.symbol())]
    WrongUnit {
        /// Which measurement; 0 is the lead zero.
        id: u32,
        /// What was shown.
        shown: Shown,
        /// The unit that belongs here.
        expected: Unit,
    },
    /// A circuit that the profile does not have.
    #[error("measurement {id}: the profile \"{profile}\" has no circuit \"{circuit}\"")]
    UnknownCircuit {
        /// Which measurement.
        id: u32,
        /// The circuit as named.
        circuit: CircuitId,
        /// The profile.
        profile: String,
    },
    /// A stored code or a learned reference names a circuit that the profile does not have.
    #[error("{what} names the circuit \"{circuit}\", which the profile \"{profile}\" does not have")]
    UnknownCircuitNamed {
        /// What names it.
        what: String,
        /// The circuit as named.
        circuit: CircuitId,
        /// The profile.
        profile: String,
    },
    /// A pin that the connector does not have.
    #[error("measurement {id}: the connector has no pin \"{pin}\"")]
    UnknownPin {
        /// Which measurement.
        id: u32,
        /// The pin as named.
        pin: String,
    },
    /// An observation has the number 0, which stands for the leads.
    #[error("an observation has the number 0; they are numbered from 1, later ones with larger numbers")]
    NumberZero,
    /// Two observations have the same number.
    #[error("two observations have the number {0}; each needs its own")]
    DuplicateId(u32),
    /// A temperature that no part or meter has in this work, or an interval upside down.
    #[error(
        "{what} of {low} to {high} °C cannot be: it must rise from low to high within {least} to {most} °C"
    )]
    Temperature {
        /// Whose.
        what: &'static str,
        /// Lower end.
        low: f64,
        /// Upper end.
        high: f64,
        /// The lowest that is accepted.
        least: f64,
        /// The highest that is accepted.
        most: f64,
    },
    /// Low and high of a wandering number are upside down.
    #[error("measurement {id}: wandering from {low} to {high} is upside down")]
    UpsideDown {
        /// Which measurement.
        id: u32,
        /// Said to be the lowest.
        low: Shown,
        /// Said to be the highest.
        high: Shown,
    },
    /// Resistance was measured where no ohmmeter may be used.
    #[error("measurement {id}: no ohmmeter may touch {circuit}: {reason}")]
    NeverOhmmeter {
        /// Which measurement.
        id: u32,
        /// The circuit.
        circuit: CircuitId,
        /// Why, from the profile.
        reason: String,
    },
    /// The profile has nothing that any reading could be judged by.
    #[error(
        "the profile \"{0}\" has no window, no family of two or more, no limit to case: nothing to judge by"
    )]
    NothingToJudgeBy(String),
    /// A learned reference that was learned from nothing, or that is not above zero.
    #[error(
        "the learned reference of \"{0}\" needs at least one part, a median above zero and no negative spread, neither \
         above a teraohm"
    )]
    Learned(CircuitId),
    /// A voltage at the load that the supply cannot give.
    #[error("observation {id}: {at_load} V at the load cannot be with a supply of {supply} V")]
    LoadAboveSupply {
        /// Which observation.
        id: u32,
        /// What was said to be at the load.
        at_load: f64,
        /// What was said to be the supply.
        supply: f64,
    },
    /// A voltage or a current that no vehicle has.
    #[error("observation {id}: {what} of {value:e} is not believed; {least} to {most} is")]
    Absurd {
        /// Which observation.
        id: u32,
        /// What, with its unit.
        what: &'static str,
        /// As said.
        value: f64,
        /// The least that is believed.
        least: f64,
        /// The most that is believed.
        most: f64,
    },
    /// A pin against itself.
    #[error("measurement {id}: pin \"{pin}\" is measured against itself")]
    SamePin {
        /// Which measurement.
        id: u32,
        /// The pin.
        pin: String,
    },
    /// A limit, a supply or a current that cannot be.
    #[error("observation {id}: {what} must be above zero")]
    NotPositive {
        /// Which observation.
        id: u32,
        /// What.
        what: &'static str,
    },
}

/// Voltages that are believed, in volts.
const VOLTS: (f64, f64) = (-2000.0, 2000.0);
/// Currents that are believed, in amperes: from what a meter resolves to a starter's.
const AMPERES: (f64, f64) = (1e-6, 1e4);
/// The largest resistance that is believed of a learned reference, in ohms.
const MOST_OHMS: f64 = 1e12;

/// What a number names in a message.
fn which(id: u32) -> String {
    if id == 0 { "the leads held together".to_owned() } else { format!("measurement {id}") }
}

/// Temperatures of a part that are taken for possible, in °C: cold storage to an exhaust sensor's housing.
pub const PART_TEMPERATURES: (f64, f64) = (-60.0, 400.0);
/// Temperatures of a meter that are taken for possible, in °C.
pub const METER_TEMPERATURES: (f64, f64) = (-40.0, 70.0);

/// Looks through everything before anything is judged.
///
/// # Errors
/// The first fault found, in the order of the observations' numbers.
pub(super) fn check(profile: &Profile, evidence: &Evidence) -> Result<(), Refusal> {
    if !can_judge(profile) {
        return Err(Refusal::NothingToJudgeBy(profile.id.clone()));
    }
    temperature("the part temperature", evidence.part_temperature, PART_TEMPERATURES)?;
    temperature("the meter temperature", evidence.meter_temperature, METER_TEMPERATURES)?;
    if let Leads::Shown(shown) = &evidence.leads {
        ohms(0, shown, false)?;
    }
    for shown in &evidence.further.lead_repeats {
        ohms(0, shown, evidence.leads == Leads::Relative)?;
    }
    let mut finder = Finder::new(profile);
    let mut measurements: Vec<&Measurement> = evidence.measurements.iter().collect();
    measurements.sort_by_key(|measurement| measurement.id);
    for (at, measurement) in measurements.iter().enumerate() {
        if measurement.id == 0 {
            return Err(Refusal::NumberZero);
        }
        if at > 0 && measurements[at - 1].id == measurement.id {
            return Err(Refusal::DuplicateId(measurement.id));
        }
        one(profile, &mut finder, measurement, evidence.leads == Leads::Relative)?;
    }
    for code in &evidence.codes {
        if let Some(circuit) = &code.circuit {
            known(profile, circuit, || format!("the stored code \"{}\"", code.text))?;
        }
    }
    if evidence.further == Further::default() {
        return Ok(());
    }
    let mut ids = measurements.iter().map(|measurement| measurement.id).collect();
    further(profile, evidence, &mut ids)
}

fn can_judge(profile: &Profile) -> bool {
    let mut families = BTreeSet::new();
    // Families that are yet to be found are something to judge by.
    profile.families_from_readings
        || profile.circuits.iter().any(|circuit| {
            circuit.window.is_some()
                || circuit.case_limit.is_some()
                || circuit.kind == CircuitKind::DataBus
                || circuit.family.as_ref().is_some_and(|family| !families.insert(family))
        })
}

fn temperature(
    what: &'static str,
    interval: Option<Interval<Celsius>>,
    (least, most): (f64, f64),
) -> Result<(), Refusal> {
    let Some(interval) = interval else { return Ok(()) };
    let (low, high) = (interval.low.get(), interval.high.get());
    if low <= high && low >= least && high <= most {
        Ok(())
    } else {
        Err(Refusal::Temperature { what, low, high, least, most })
    }
}

fn one(
    profile: &Profile,
    finder: &mut Finder<'_>,
    measurement: &Measurement,
    relative: bool,
) -> Result<(), Refusal> {
    let id = measurement.id;
    let place = finder.place(&measurement.circuit).ok_or_else(|| Refusal::UnknownCircuit {
        id,
        circuit: measurement.circuit.clone(),
        profile: profile.id.clone(),
    })?;
    let circuit = &profile.circuits[place];
    reading_in_ohms(id, &measurement.reading, relative)?;
    match &circuit.never_ohmmeter {
        Some(reason) if measurement.reading != Reading::NotTaken => {
            Err(Refusal::NeverOhmmeter { id, circuit: circuit.id.clone(), reason: reason.clone() })
        }
        _ => Ok(()),
    }
}

fn reading_in_ohms(id: u32, reading: &Reading, relative: bool) -> Result<(), Refusal> {
    match reading {
        Reading::Value(shown) => ohms(id, shown, relative),
        Reading::OverRange { range } => range.iter().try_for_each(|shown| ohms(id, shown, false)),
        Reading::Unstable { low, high } => {
            low.iter().chain(high).try_for_each(|shown| ohms(id, shown, relative))?;
            match (low, high) {
                (Some(low), Some(high)) if low.value() > high.value() => {
                    Err(Refusal::UpsideDown { id, low: *low, high: *high })
                }
                _ => Ok(()),
            }
        }
        Reading::NotTaken => Ok(()),
    }
}

fn ohms(id: u32, shown: &Shown, relative: bool) -> Result<(), Refusal> {
    if shown.unit != Unit::Ohm {
        return Err(Refusal::WrongUnit { id, shown: *shown, expected: Unit::Ohm });
    }
    // In relative mode a display may stand a few steps below zero; more than that is a wrong zero.
    let allowed = if relative { 10 } else { 0 };
    if shown.number.is_negative() && shown.number.digits() > allowed {
        return Err(Refusal::Negative { id, shown: *shown });
    }
    Ok(())
}

fn believed(
    id: u32,
    what: &'static str,
    value: Option<f64>,
    (least, most): (f64, f64),
) -> Result<(), Refusal> {
    match value {
        Some(value) if !(least..=most).contains(&value) => {
            Err(Refusal::Absurd { id, what, value, least, most })
        }
        _ => Ok(()),
    }
}

/// A pin that leads to nothing but circuits that no ohmmeter may touch is not to be probed against any other.
fn may_touch(profile: &Profile, relation: &Relation) -> Result<(), Refusal> {
    for pin in [&relation.from, &relation.to] {
        let mut on = profile.circuits.iter().filter(|circuit| circuit.pin == *pin || circuit.against == *pin);
        let Some(first) = on.next() else { continue };
        if let Some(reason) = &first.never_ohmmeter
            && on.all(|circuit| circuit.never_ohmmeter.is_some())
        {
            return Err(Refusal::NeverOhmmeter {
                id: relation.id,
                circuit: first.id.clone(),
                reason: reason.clone(),
            });
        }
    }
    Ok(())
}

fn known(profile: &Profile, circuit: &CircuitId, what: impl Fn() -> String) -> Result<(), Refusal> {
    if profile.circuit(circuit).is_some() {
        return Ok(());
    }
    Err(Refusal::UnknownCircuitNamed { what: what(), circuit: circuit.clone(), profile: profile.id.clone() })
}

fn further(profile: &Profile, evidence: &Evidence, ids: &mut BTreeSet<u32>) -> Result<(), Refusal> {
    let further = &evidence.further;
    let mut fresh = |id: u32| match id {
        0 => Err(Refusal::NumberZero),
        id if ids.insert(id) => Ok(()),
        id => Err(Refusal::DuplicateId(id)),
    };
    for relation in &further.relations {
        fresh(relation.id)?;
        for pin in [&relation.from, &relation.to] {
            if !profile.connector.pins.iter().any(|known| known.name == *pin) {
                return Err(Refusal::UnknownPin { id: relation.id, pin: pin.0.clone() });
            }
        }
        if relation.from == relation.to {
            return Err(Refusal::SamePin { id: relation.id, pin: relation.from.0.clone() });
        }
        reading_in_ohms(relation.id, &relation.reading, evidence.leads == Leads::Relative)?;
        if relation.reading != Reading::NotTaken {
            may_touch(profile, relation)?;
        }
    }
    for load in &further.loads {
        fresh(load.id)?;
        known(profile, &load.circuit, || format!("load test {}", load.id))?;
        // A lamp drives more through it than any meter.
        if let Some((circuit, Some(reason))) =
            profile.circuit(&load.circuit).map(|circuit| (circuit, &circuit.never_ohmmeter))
        {
            return Err(Refusal::NeverOhmmeter {
                id: load.id,
                circuit: circuit.id.clone(),
                reason: reason.clone(),
            });
        }
        for (what, value) in [
            ("the supply", Some(load.supply.get())),
            ("the current", load.current.map(crate::quantity::Amperes::get)),
            ("the limit", load.limit.map(crate::quantity::Volts::get)),
        ] {
            if value.is_some_and(|value| value <= 0.0) {
                return Err(Refusal::NotPositive { id: load.id, what });
            }
        }
        let (supply, at_load) = (load.supply.get(), load.at_load.get());
        believed(load.id, "a voltage in V", Some(supply), VOLTS)?;
        believed(load.id, "a voltage in V", Some(at_load), VOLTS)?;
        believed(load.id, "a limit in V", load.limit.map(crate::quantity::Volts::get), VOLTS)?;
        believed(load.id, "a current in A", load.current.map(crate::quantity::Amperes::get), AMPERES)?;
        // Two readings one after the other: the supply may have moved a little.
        if at_load < 0.0 || at_load > 1.05 * supply {
            return Err(Refusal::LoadAboveSupply { id: load.id, at_load, supply });
        }
    }
    for drop in &further.drops {
        fresh(drop.id)?;
        if let Some(circuit) = &drop.circuit {
            known(profile, circuit, || format!("voltage drop {}", drop.id))?;
        }
        let shown: Vec<&Shown> = match &drop.reading {
            Reading::Value(shown) => vec![shown],
            Reading::OverRange { range } => range.iter().collect(),
            Reading::Unstable { low, high } => low.iter().chain(high).collect(),
            Reading::NotTaken => Vec::new(),
        };
        if let Some(shown) = shown.into_iter().find(|shown| shown.unit != Unit::Volt) {
            return Err(Refusal::WrongUnit { id: drop.id, shown: *shown, expected: Unit::Volt });
        }
        if drop.current.is_some_and(|value| value.get() <= 0.0)
            || drop.limit.is_some_and(|value| value.get() <= 0.0)
        {
            return Err(Refusal::NotPositive { id: drop.id, what: "the current and the limit" });
        }
        believed(drop.id, "a limit in V", drop.limit.map(crate::quantity::Volts::get), VOLTS)?;
        believed(drop.id, "a current in A", drop.current.map(crate::quantity::Amperes::get), AMPERES)?;
    }
    for drop in &further.drops {
        if let Reading::Unstable { low: Some(low), high: Some(high) } = &drop.reading
            && low.value() > high.value()
        {
            return Err(Refusal::UpsideDown { id: drop.id, low: *low, high: *high });
        }
    }
    for reference in &further.references {
        known(profile, &reference.circuit, || "a learned reference".to_owned())?;
        if reference.parts == 0
            || reference.median.get() <= 0.0
            || reference.median.get() > MOST_OHMS
            || reference.spread.is_some_and(|spread| !(0.0..=MOST_OHMS).contains(&spread.get()))
        {
            return Err(Refusal::Learned(reference.circuit.clone()));
        }
        temperature(
            "the learned reference's temperature",
            Some(Interval::exactly(reference.at)),
            PART_TEMPERATURES,
        )?;
    }
    Ok(())
}
