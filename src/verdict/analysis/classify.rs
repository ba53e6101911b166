//! Owns the class of each circuit at each station, from its own number, its window and its family.

use super::{Analysis, Row};
use crate::{
    profile::{Circuit, Suppression},
    quantity::{Ohms, Reading},
    verdict::{Class, Contact, Hypothesis, Station, posterior, single::State, temperature, window},
};

/// Gives each row its class.
pub(super) fn classify(analysis: &mut Analysis<'_>) {
    for at in 0..analysis.rows.len() {
        let row = &analysis.rows[at];
        let (class, confirmed) = match row.station {
            Station::Case => (case_class(analysis, row), row.reduced.cleaned > 0),
            Station::Component | Station::Harness => class_of(analysis, row),
        };
        let row = &mut analysis.rows[at];
        row.confirmed = confirmed && class.is_suspect();
        row.class = class;
    }
}

/// Probability that what a row reads is not what a sound circuit, well measured, reads. None where nothing says.
pub(in crate::verdict) fn fault_probability(row: &Row<'_>) -> Option<f64> {
    row.weighed.off
}

/// From this probability on a circuit is called off.
pub(in crate::verdict) const NAMED: f64 = 0.5;

/// Whether leads and common pin were proven whole after a measurement: another circuit on the same return gave a plain
/// number that is no short. Where no other circuit has that return, the leads alone can be proven: by any circuit, or by
/// the probes held together once more.
pub(in crate::verdict) fn known_good_after(analysis: &Analysis<'_>, circuit: &Circuit, id: u32) -> bool {
    let shares = |other: &Circuit| other.id != circuit.id && other.against == circuit.against;
    let shared = analysis.profile.circuits.iter().any(shares);
    let alone = !shared && !analysis.evidence.further.lead_repeats.is_empty();
    alone
        || analysis.evidence.measurements.iter().any(|m| {
            let Some(other) = analysis.profile.circuit(&m.circuit) else { return false };
            let Reading::Value(shown) = &m.reading else { return false };
            m.id > id
                && other.id != circuit.id
                && (shares(other) || !shared)
                && m.station != Station::Case
                && m.contact != Contact::Wiggled
                && !nothing_there(analysis, other, shown.value() - analysis.leads.off)
        })
}

/// Whether a number is so small that the probes may as well have touched.
fn nothing_there(analysis: &Analysis<'_>, circuit: &Circuit, value: f64) -> bool {
    let row = analysis.row(circuit, Station::Component).or_else(|| analysis.row(circuit, Station::Harness));
    let expected = row.and_then(|row| {
        row.limits.map(|limits| limits.outer.0).or_else(|| row.weighed.expected.map(|expected| expected.0))
    });
    value < expected.map_or(0.5, |expected| 0.25 * expected)
}

fn class_of(analysis: &Analysis<'_>, row: &Row<'_>) -> (Class, bool) {
    // What cleaning changed is not confirmed by that cleaning.
    let cleaned = row.reduced.cleaned > usize::from(row.reduced.cured);
    let number = match &row.reduced.state {
        State::NotTaken => return (Class::NotTaken, false),
        State::Wandering { .. } => return (Class::Unstable, cleaned),
        State::OverRange { beyond: Some(range), .. } if says_nothing(row, *range) => {
            return (Class::NotJudged, false);
        }
        State::OverRange { since_cleaned, first, .. } => {
            let proven = *since_cleaned >= 2 && known_good_after(analysis, row.circuit, *first);
            return if proven && row.weighed.own >= NAMED {
                (Class::Open, true)
            } else {
                (Class::OverRangeUnchecked, false)
            };
        }
        State::Number(number) => number,
    };
    let Some(off) = row.weighed.off else { return (Class::NotJudged, false) };
    let alone = analysis
        .rows
        .iter()
        .filter(|other| {
            other.family == row.family && other.station == row.station && other.number().is_some()
        })
        .count()
        < 2
        || row.family.is_none();
    if row.weighed.undecided {
        return (Class::NotJudged, false);
    }
    let stand = row.judged.map(|judged| judged.stand);
    if off >= NAMED {
        let expected = row
            .limits
            .map(|limits| limits.outer.0)
            .or_else(|| row.weighed.expected.map(|expected| expected.0))
            .or_else(|| temperature::resistance(&row.circuit.kind, analysis.temperatures.1));
        let together = analysis.hypotheses.first().is_some_and(|top| {
            matches!(&top.hypothesis, Hypothesis::AllShorted { circuits } if circuits.contains(&row.circuit.id))
        });
        // What a wrong zero takes off is no short.
        if (row.weighed.own >= NAMED || together) && window::near_zero(row.circuit, number, expected) {
            return (Class::Shorted, cleaned);
        }
        // With the coil open, what is left is the resistor across it.
        if let (Some(Suppression::Resistor(ohms)), Some(limits)) = (&row.circuit.suppression, row.limits)
            && ohms.get() > 1.5 * limits.outer.1
            && (number.value - ohms.get()).abs() <= number.expanded() + 0.1 * ohms.get()
        {
            return if cleaned { (Class::Open, true) } else { (Class::Outside, false) };
        }
        let class = match stand {
            Some(window::Stand::Outside) => Class::Outside,
            _ if !alone => Class::UnlikePeers,
            _ => Class::OutsideDoubtful,
        };
        return (class, cleaned);
    }
    if !row.weighed.judged {
        return (Class::NotJudged, false);
    }
    let unknown = analysis.evidence.part_temperature.is_none() || analysis.leads.slack > 0.0;
    let class = match (row.judged, alone) {
        (Some(judged), alone) => {
            let untold = judged.never || (judged.unknown_decides && unknown);
            match judged.stand {
                window::Stand::Within if off < 0.2 => Class::Within,
                window::Stand::Within => Class::WithinDoubtful,
                _ if untold && !alone && judged.conforming >= 0.5 && off < 0.35 => Class::LikePeers,
                _ if judged.unknown_decides && unknown && alone => Class::NotJudged,
                _ if judged.unknown_decides && unknown && off < 0.35 => Class::LikePeers,
                window::Stand::WithinDoubtful => Class::WithinDoubtful,
                // By more than can be told (ILAC-G8:09/2019, 4.2.3): what that means is another matter.
                window::Stand::Outside if alone => Class::Outside,
                window::Stand::OutsideDoubtful | window::Stand::Outside => Class::OutsideDoubtful,
            }
        }
        (None, false) if off < 0.35 => Class::LikePeers,
        (None, _) => Class::NotJudged,
    };
    (class, cleaned)
}

/// Whether over that range is no news: a sound circuit may read more than it ends at.
pub(in crate::verdict) fn says_nothing(row: &Row<'_>, range: f64) -> bool {
    let most = match row.station {
        Station::Case => row.circuit.case_limit.map(Ohms::get),
        Station::Component | Station::Harness => row.limits.map(|limits| limits.outer.1),
    };
    most.is_some_and(|most| range < most)
}

fn case_class(analysis: &Analysis<'_>, row: &Row<'_>) -> Class {
    let limit = row.circuit.case_limit.map(Ohms::get);
    match (&row.reduced.state, limit) {
        (State::NotTaken, _) => Class::NotTaken,
        (State::Wandering { .. }, _) => Class::Unstable,
        (State::Number(number), None)
            if number.value < posterior::CASE_ASSUMED && row.weighed.off.is_some_and(|off| off >= NAMED) =>
        {
            Class::Leakage
        }
        (_, None) => Class::NotJudged,
        (State::OverRange { beyond, .. }, Some(_)) => {
            // Said without its range, it is taken for the meter's highest one; where that ends below the limit, it says
            // nothing either.
            let ohms = |meter: &crate::profile::Meter| {
                let ranges = meter.ranges.iter().filter(|range| range.unit == crate::quantity::Unit::Ohm);
                ranges.map(|range| range.full_scale).reduce(f64::max)
            };
            match beyond.or_else(|| analysis.meter.and_then(ohms)) {
                Some(range) if says_nothing(row, range) => Class::NotJudged,
                _ => Class::Within,
            }
        }
        // What it reads may lead through a neighbour: then it is that one.
        (State::Number(number), Some(limit))
            if number.value < limit && row.weighed.off.is_some_and(|off| off < NAMED) =>
        {
            Class::NotJudged
        }
        (State::Number(number), Some(limit)) => {
            if number.value + number.expanded() < limit {
                Class::Leakage
            } else if number.value < limit {
                Class::OutsideDoubtful
            } else if number.value - number.expanded() < limit {
                Class::WithinDoubtful
            } else {
                Class::Within
            }
        }
    }
}
