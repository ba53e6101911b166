//! Owns the class of each circuit at each station, from its own number, its window and its family.

use super::{Analysis, Row};
use crate::{
    profile::{Circuit, Suppression},
    quantity::{Ohms, Reading},
    verdict::{Class, Contact, Station, peers, single::State, temperature, window},
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

/// Probability that a circuit is electrically off or badly contacted, from its readings alone. None without a reading.
pub(in crate::verdict) fn fault_probability(row: &Row<'_>) -> Option<f64> {
    // What is not a number is judgement put into figures (no source); numbers are weighed.
    let probability = match (row.class, &row.reduced.state) {
        (Class::NotTaken, _) => return None,
        (Class::Open, _) => 0.97,
        // Over range is off for certain, if only at the contact or in the leads; which, the causes say.
        (Class::OverRangeUnchecked, _) => 0.95,
        (Class::Shorted, _) => {
            if row.confirmed {
                0.97
            } else {
                0.9
            }
        }
        (Class::Unstable, _) => {
            if row.confirmed {
                0.9
            } else {
                0.7
            }
        }
        (Class::Leakage, _) => {
            if row.confirmed {
                0.95
            } else {
                0.8
            }
        }
        _ => {
            let against_window = row.judged.map(|judged| judged.odd);
            match row.held {
                // A family that is shifted as a whole is off against its window though its members are alike.
                Some(held) if held.stand != peers::Stand::Alone => {
                    if row.class == Class::Outside {
                        held.odd.max(against_window.unwrap_or(0.0))
                    } else {
                        held.odd
                    }
                }
                _ => against_window?,
            }
        }
    };
    Some(probability)
}

/// Whether some circuit gave a plain number after a measurement, so that leads and common pin were whole then.
pub(in crate::verdict) fn known_good_after(analysis: &Analysis<'_>, circuit: &Circuit, id: u32) -> bool {
    analysis.evidence.measurements.iter().any(|m| {
        m.id > id
            && m.circuit != circuit.id
            && m.station != Station::Case
            && m.contact != Contact::Wiggled
            && matches!(m.reading, Reading::Value(_))
    })
}

fn class_of(analysis: &Analysis<'_>, row: &Row<'_>) -> (Class, bool) {
    let cleaned = row.reduced.cleaned > 0;
    let number = match &row.reduced.state {
        State::NotTaken => return (Class::NotTaken, false),
        State::Wandering { .. } => return (Class::Unstable, cleaned),
        State::OverRange { beyond: Some(range), .. } if says_nothing(row, *range) => {
            return (Class::NotJudged, false);
        }
        State::OverRange { since_cleaned, first, .. } => {
            return if *since_cleaned >= 2 && known_good_after(analysis, row.circuit, *first) {
                (Class::Open, true)
            } else {
                (Class::OverRangeUnchecked, false)
            };
        }
        State::Number(number) => number,
    };
    let expected = row
        .limits
        .map(|limits| limits.outer.0)
        .into_iter()
        .chain(row.held.and_then(|held| held.expected))
        .reduce(f64::min)
        .or_else(|| temperature::resistance(&row.circuit.kind, analysis.temperatures.1));
    if window::near_zero(row.circuit, number, expected) {
        return (Class::Shorted, cleaned);
    }
    // With the coil open, what is left is the resistor across it.
    if let (Some(Suppression::Resistor(ohms)), Some(limits)) = (&row.circuit.suppression, row.limits)
        && ohms.get() > 1.5 * limits.outer.1
        && (number.value - ohms.get()).abs() <= number.expanded() + 0.1 * ohms.get()
    {
        return if cleaned { (Class::Open, true) } else { (Class::Outside, false) };
    }
    let peers = row.held.map(|held| held.stand);
    let unknown = analysis.evidence.part_temperature.is_none() || analysis.leads.slack > 0.0;
    let class = match (row.judged, peers) {
        (Some(judged), _) if judged.stand == window::Stand::Outside => Class::Outside,
        (_, Some(peers::Stand::Unlike)) => Class::UnlikePeers,
        (Some(judged), peers) if judged.unknown_decides && unknown => match peers {
            Some(peers::Stand::Like) => Class::LikePeers,
            _ => Class::NotJudged,
        },
        // A meter that can never tell this window leaves the peers to say.
        (Some(judged), Some(peers::Stand::Like))
            if judged.never
                && matches!(judged.stand, window::Stand::WithinDoubtful | window::Stand::OutsideDoubtful) =>
        {
            Class::LikePeers
        }
        (Some(judged), _) => match judged.stand {
            window::Stand::Within => Class::Within,
            window::Stand::WithinDoubtful => Class::WithinDoubtful,
            window::Stand::OutsideDoubtful => Class::OutsideDoubtful,
            window::Stand::Outside => Class::Outside,
        },
        (None, Some(peers::Stand::Like)) => Class::LikePeers,
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
