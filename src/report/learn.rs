//! Owns what earlier sessions teach about a part: what its circuits read where they were found sound.

use super::Record;
use crate::{
    journal::Ending,
    profile::{Circuit, CircuitId, CircuitKind, PinName, Profile},
    quantity::{Celsius, Ohms},
    verdict::{Cause, Class, Finding, LearnedReference, Station, temperature},
};
use std::collections::{BTreeMap, BTreeSet, HashMap};

/// The temperature that learned references are given at, in °C.
const LEARNED_AT: f64 = 20.0;

/// What the circuits of `profile` read on earlier parts, at 20 °C, in profile order.
///
/// Of each earlier session a circuit counts once, and only if it was found sound without doubt, or could not be judged
/// while nothing was found wrong with the part. Left out are simulated sessions, sessions that were not concluded, older
/// ones of the same job (the same part again), circuits that the profile has since given other pins or another kind,
/// readings to case, and circuits that change with temperature where the temperature was not known.
///
/// Median and spread (sample standard deviation) are over parts; a single part has no spread.
#[must_use]
pub fn learn(profile: &Profile, earlier: &[Record]) -> Vec<LearnedReference> {
    let usable = one_for_each_part(profile, earlier);
    summaries(profile, usable.into_iter().flat_map(lessons))
}

/// What one circuit of one part came to.
#[derive(Debug, Clone, PartialEq)]
pub struct Lesson {
    /// The circuit, as it was described when it was read.
    pub circuit: CircuitId,
    /// Its pin then.
    pub pin: PinName,
    /// The pin that it was read against then.
    pub against: PinName,
    /// Its kind then.
    pub kind: CircuitKind,
    /// Where it was read.
    pub station: Station,
    /// What it would have read at 20 °C, in ohms.
    pub ohms: f64,
    /// Whether it was found sound without doubt: only then it teaches what a sound one reads.
    pub sound: bool,
}

/// Whether a session teaches anything at all: concluded, and on a real part.
#[must_use]
pub fn teaches(record: &Record) -> bool {
    !record.simulated && record.ending == Ending::Concluded
}

/// What the circuits of one session came to, sound ones and others, where it can be brought to 20 °C.
#[must_use]
pub fn figures(record: &Record) -> Vec<Lesson> {
    let circuits: HashMap<&CircuitId, &Circuit> =
        record.profile.circuits.iter().map(|circuit| (&circuit.id, circuit)).collect();
    let findings = record.judgement.findings.iter();
    findings
        .filter_map(|finding| {
            let circuit = *circuits.get(&finding.circuit)?;
            Some(Lesson {
                circuit: circuit.id.clone(),
                pin: circuit.pin.clone(),
                against: circuit.against.clone(),
                kind: circuit.kind.clone(),
                station: finding.station,
                ohms: at_20(record, circuit, finding)?,
                sound: is_sound(record, finding),
            })
        })
        .collect()
}

/// What the circuits of one session teach; nothing where it [`teaches`] nothing.
fn lessons(record: &Record) -> Vec<Lesson> {
    if teaches(record) { figures(record) } else { Vec::new() }
}

/// Median and spread of the sound ones among lessons, one for each part, for the circuits that the profile still has as they were.
#[must_use]
pub fn summaries(profile: &Profile, lessons: impl IntoIterator<Item = Lesson>) -> Vec<LearnedReference> {
    let places: HashMap<&CircuitId, usize> =
        profile.circuits.iter().enumerate().map(|(at, circuit)| (&circuit.id, at)).collect();
    let mut values: BTreeMap<(usize, Station), Vec<f64>> = BTreeMap::new();
    for lesson in lessons.into_iter().filter(|lesson| lesson.sound) {
        let Some(at) = places.get(&lesson.circuit) else { continue };
        let circuit = &profile.circuits[*at];
        if (&lesson.pin, &lesson.against, &lesson.kind) == (&circuit.pin, &circuit.against, &circuit.kind) {
            values.entry((*at, lesson.station)).or_default().push(lesson.ohms);
        }
    }
    values
        .into_iter()
        .filter_map(|((at, station), ohms)| summary(&profile.circuits[at], station, ohms))
        .collect()
}

/// The concluded sessions with real readings, of those with the same job text the latest.
fn one_for_each_part<'a>(profile: &Profile, earlier: &'a [Record]) -> Vec<&'a Record> {
    let real = |record: &&Record| record.profile.id == profile.id && teaches(record);
    let mut latest_first: Vec<_> = earlier.iter().filter(real).collect();
    latest_first.sort_by_key(|record| std::cmp::Reverse(record.begun));
    let mut jobs = BTreeSet::new();
    latest_first
        .retain(|record| record.job.as_ref().is_none_or(|job| jobs.insert(job.trim().to_lowercase())));
    latest_first
}

fn is_sound(record: &Record, finding: &Finding) -> bool {
    let explanations = &record.judgement.conclusion.explanations;
    let nothing_found = explanations.first().is_some_and(|first| first.cause == Cause::NothingFound);
    let sound = matches!(finding.class, Class::Within | Class::LikePeers)
        || (finding.class == Class::NotJudged && nothing_found);
    sound && finding.station != Station::Case
}

/// What the circuit would have read at 20 °C.
fn at_20(record: &Record, circuit: &Circuit, finding: &Finding) -> Option<f64> {
    let measured = finding.resistance?.get();
    if matches!(circuit.kind, CircuitKind::Resistor | CircuitKind::DataBus) {
        return Some(measured);
    }
    let span = record.temperatures.last()?.interval?;
    let middle = f64::midpoint(span.low.get(), span.high.get());
    Some(measured * temperature::factor(&circuit.kind, middle, LEARNED_AT))
}

fn summary(circuit: &Circuit, station: Station, mut ohms: Vec<f64>) -> Option<LearnedReference> {
    ohms.sort_by(f64::total_cmp);
    let count = ohms.len();
    let median = f64::midpoint(ohms[(count - 1) / 2], ohms[count / 2]);
    let mean = ohms.iter().sum::<f64>() / count as f64;
    let squares: f64 = ohms.iter().map(|ohms| (ohms - mean).powi(2)).sum();
    let spread = (count > 1).then(|| (squares / (count - 1) as f64).sqrt());
    // A median of nothing or less teaches nothing: a judgement refuses it as a reference.
    let median = Ohms::new(median).ok().filter(|median| median.get() > 0.0)?;
    Some(LearnedReference {
        circuit: circuit.id.clone(),
        station,
        parts: u32::try_from(count).unwrap_or(u32::MAX),
        median,
        spread: spread.and_then(|spread| Ohms::new(spread).ok()),
        at: Celsius::new(LEARNED_AT).ok()?,
    })
}
