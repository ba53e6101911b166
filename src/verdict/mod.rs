//! Owns the judgement: physics and statistics from readings to findings, patterns and a conclusion.
//!
//! Pure: [`judge`] is a function of a profile, a meter and the evidence. Voice, keys, batch, report and simulator all
//! call it; none of them judges by itself. It does not know who asked, how a reading was taken in, or how it is shown.

mod analysis;
mod causes;
mod conclude;
mod engine;
mod explain;
pub mod families;
mod headline;
pub mod level;
pub mod meter;
mod next;
pub mod observations;
mod observed;
pub mod outliers;
mod patterns;
pub mod peers;
pub mod posterior;
pub mod refusal;
mod said;
mod single;
pub mod stats;
pub mod table;
pub mod temperature;
pub mod trial;
pub mod types;
mod window;
pub mod wires;

#[cfg(test)]
mod tests;

pub use conclude::CAUTIONS;
pub use engine::{Engine, engine};
pub use observations::*;
pub use observed::{DROP_AT_A_JOINT, DROP_OF_A_WIRE, LEARNED_LIMIT};
pub use posterior::{Hypothesis, SharedPlace, Weighed};
pub use refusal::Refusal;
pub use said::*;
pub use types::*;
pub use window::UNKNOWN_TEMPERATURE;

use crate::profile::{Meter, Profile};

/// Judges everything that was observed.
///
/// The order of the measurements in the evidence does not matter; their numbers say which came first. A part that is
/// only partly measured is judged as far as it goes. Without a meter file an accuracy is assumed, and said to be.
///
/// # Errors
/// A [`Refusal`] that names the first observation, circuit or temperature that cannot be.
pub fn judge(profile: &Profile, meter: Option<&Meter>, evidence: &Evidence) -> Result<Judgement, Refusal> {
    refusal::check(profile, evidence)?;
    let profile = &*families::applied(profile, evidence);
    let analysis = analysis::analyse(profile, meter, evidence);
    let patterns = patterns::find(&analysis);
    let observed = observed::observe(&analysis);
    Ok(Judgement {
        findings: analysis
            .rows
            .iter()
            .zip(explain::cross_checks(&analysis))
            .map(|(row, checks)| explain::finding(&analysis, row, checks))
            .collect(),
        conclusion: conclude::conclude(&analysis),
        next_checks: next::checks(&analysis),
        patterns,
        observed,
    })
}

/// A circuit's class at a station, without the words: what a batch of many parts is judged by.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Classed {
    /// Place of the circuit in the profile.
    pub circuit: usize,
    /// The station.
    pub station: Station,
    /// Its class, as in [`Finding::class`].
    pub class: Class,
    /// As in [`Finding::confirmed`].
    pub confirmed: bool,
    /// As in [`Details::fault_probability`].
    pub fault_probability: Option<f64>,
}

/// The classes alone, in the order of [`Judgement::findings`]: the same figures as [`judge`], made without any words.
///
/// # Errors
/// As [`judge`].
pub fn classes(
    profile: &Profile,
    meter: Option<&Meter>,
    evidence: &Evidence,
) -> Result<Vec<Classed>, Refusal> {
    refusal::check(profile, evidence)?;
    let profile = &*families::applied(profile, evidence);
    let analysis = analysis::analyse(profile, meter, evidence);
    Ok(analysis
        .rows
        .iter()
        .map(|row| Classed {
            circuit: row.place,
            station: row.station,
            class: row.class,
            confirmed: row.confirmed,
            fault_probability: analysis::fault_probability(row),
        })
        .collect())
}
