//! Owns which sentence is spoken and shown first, and what may be wrong as a part of a sentence. Short, circuit names as in the profile.

use super::{
    Class, Does, Headline, Hypothesis, Level, NamedCircuits, SharedPlace, Suspicion,
    analysis::{Analysis, Row},
    causes,
    level::{self, Story},
    said::{decimal, figure},
    single::State,
    stats,
};
use crate::profile::CircuitId;

/// What a suspect circuit does.
pub(super) fn does(analysis: &Analysis<'_>, row: &Row<'_>) -> Does {
    match (&row.reduced.state, row.class) {
        (_, Class::Shorted) => Does::Shorted,
        (_, Class::Leakage) => Does::LeaksToCase,
        (_, Class::Open) => Does::Open,
        (_, Class::OverRangeUnchecked) => Does::OverRange,
        (State::Number(number), _) => {
            let others: Vec<f64> = analysis
                .at(row.station)
                .filter(|other| {
                    other.circuit.id != row.circuit.id
                        && other.circuit.family == row.circuit.family
                        && row.circuit.family.is_some()
                        && !other.class.is_suspect()
                })
                .filter_map(|other| Some(other.number()?.value))
                .collect();
            let places =
                if number.accuracy.step < 0.05 { 2 } else { usize::from(number.accuracy.step < 0.5) };
            let shown = |value: f64| decimal(value, places);
            let ohms = shown(number.value);
            match (stats::median(&others), &row.limits) {
                (Some(middle), _) if others.len() > 1 => Does::BesideOthers { ohms, others: shown(middle) },
                (_, Some(limits)) => {
                    Does::BesideLimits { ohms, low: shown(limits.outer.0), high: shown(limits.outer.1) }
                }
                (Some(middle), None) => Does::BesideOther { ohms, other: shown(middle) },
                (None, None) => Does::Reads { ohms },
            }
        }
        (_, class) => Does::Class(class),
    }
}

fn named(rows: &[&Row<'_>]) -> NamedCircuits {
    let mut names: Vec<&str> = Vec::new();
    for row in rows {
        if !names.contains(&row.circuit.name.as_str()) {
            names.push(&row.circuit.name);
        }
    }
    match names.as_slice() {
        [one] => NamedCircuits::One((*one).to_owned()),
        // Spoken: nobody keeps eight names in mind.
        [first, second, third, more @ ..] if more.len() > 1 => NamedCircuits::More {
            first: (*first).to_owned(),
            second: (*second).to_owned(),
            third: (*third).to_owned(),
            more: more.len(),
        },
        all => NamedCircuits::All(all.iter().map(|name| (*name).to_owned()).collect()),
    }
}

/// The headline: level and likeliest story, and nothing else.
pub(super) fn headline(
    analysis: &Analysis<'_>,
    level: Level,
    stories: &[Story],
    smallest: Option<f64>,
) -> Headline {
    let Some(top) = stories.first() else { return Headline::NothingMeasured };
    let read = level::read(analysis);
    if read.taken == 0 {
        return Headline::NothingMeasured;
    }
    match level {
        Level::NothingFound => {
            Headline::NothingFound { smallest: smallest.map(|share| (100.0 * share).ceil() as u32) }
        }
        Level::NothingSoFar if read.taken < read.askable => {
            Headline::NothingSoFar { taken: read.taken, askable: read.askable }
        }
        Level::NothingSoFar => Headline::NotAllJudged { unjudged: read.unjudged },
        Level::CuredByCleaning => {
            Headline::Cured { circuits: named(&rows(analysis, &causes::circuits(&top.hypothesis))) }
        }
        Level::Failed | Level::Probably => said(analysis, &top.hypothesis, level),
        Level::OneOf if matches!(top.hypothesis, Hypothesis::Elsewhere { .. }) => {
            said(analysis, &top.hypothesis, level)
        }
        Level::OneOf => {
            let some = stories
                .iter()
                .filter(|story| {
                    !matches!(story.hypothesis, Hypothesis::Nothing | Hypothesis::Other)
                        && story.probability >= level::ONE_OF_EACH
                })
                .take(3)
                .map(|story| short(analysis, &story.hypothesis))
                .reduce(|first, then| Suspicion::Or { first: Box::new(first), then: Box::new(then) });
            some.map_or(Headline::CannotTell, |what| Headline::OneOf { what })
        }
        Level::CannotTell => cannot_tell(analysis, stories),
    }
}

fn cannot_tell(analysis: &Analysis<'_>, stories: &[Story]) -> Headline {
    let disagree = stories.iter().find_map(|story| match &story.hypothesis {
        Hypothesis::Disagree { circuits } if story.probability > 0.3 => Some(circuits.clone()),
        Hypothesis::Both { all } if story.probability > 0.3 => all.iter().find_map(|one| match one {
            Hypothesis::Disagree { circuits } => Some(circuits.clone()),
            _ => None,
        }),
        _ => None,
    });
    if let Some(circuits) = disagree {
        return Headline::Disagree { circuits: named(&rows(analysis, &circuits)) };
    }
    let finding = stories.iter().find(|story| {
        !matches!(story.hypothesis, Hypothesis::Nothing | Hypothesis::Other) && story.probability >= 0.2
    });
    if let Some(story) = finding {
        return Headline::Perhaps { what: short(analysis, &story.hypothesis) };
    }
    let close: Vec<&Row<'_>> = analysis
        .rows
        .iter()
        .filter(|row| matches!(row.class, Class::OutsideDoubtful | Class::WithinDoubtful))
        .collect();
    let suspects: Vec<&Row<'_>> = analysis.rows.iter().filter(|row| row.class.is_suspect()).collect();
    match (suspects.as_slice(), close.as_slice()) {
        ([], []) => Headline::CannotTell,
        ([], close) => Headline::TooClose { circuits: named(close) },
        (suspects, _) => Headline::InDoubt { circuits: named(suspects) },
    }
}

fn rows<'r, 'a>(analysis: &'r Analysis<'a>, circuits: &[CircuitId]) -> Vec<&'r Row<'a>> {
    circuits.iter().filter_map(|id| causes::blamed(analysis, id)).collect()
}

/// A hypothesis as a whole sentence.
fn said(analysis: &Analysis<'_>, hypothesis: &Hypothesis, level: Level) -> Headline {
    let failed = level == Level::Failed;
    match hypothesis {
        Hypothesis::Faulty { circuits } => {
            let rows = rows(analysis, circuits);
            let circuits = named(&rows);
            let does = if let [one] = rows.as_slice() { Some(does(analysis, one)) } else { None };
            if failed {
                Headline::Failed { circuits, does }
            } else {
                Headline::ProbablyOff { circuits, does }
            }
        }
        Hypothesis::Both { all } => {
            let each = all.iter().map(|one| said(analysis, one, level));
            each.reduce(|first, then| Headline::Then { first: Box::new(first), then: Box::new(then) })
                .unwrap_or(Headline::CannotTell)
        }
        Hypothesis::Elsewhere { .. } => Headline::Elsewhere,
        Hypothesis::Load { .. } => Headline::Load,
        other if failed => Headline::Surely { what: short(analysis, other) },
        other => Headline::Probably { what: short(analysis, other) },
    }
}

/// A hypothesis in a few words, to stand inside a sentence.
pub(super) fn short(analysis: &Analysis<'_>, hypothesis: &Hypothesis) -> Suspicion {
    let names = |circuits: &[CircuitId]| named(&rows(analysis, circuits));
    match hypothesis {
        Hypothesis::Nothing => Suspicion::Nothing,
        Hypothesis::Other => Suspicion::Other,
        Hypothesis::Faulty { circuits } => match rows(analysis, circuits).as_slice() {
            [one] => Suspicion::Off { circuit: one.circuit.name.clone(), does: does(analysis, one) },
            some => Suspicion::SeveralOff { circuits: named(some) },
        },
        Hypothesis::FamilyOff { circuits } => Suspicion::FamilyOff { circuits: names(circuits) },
        Hypothesis::Disagree { circuits } => Suspicion::Disagree { circuits: names(circuits) },
        Hypothesis::AllShorted { circuits } => Suspicion::AllShorted { circuits: names(circuits) },
        Hypothesis::SharedOpen { pin, at: SharedPlace::Loose, .. } => {
            Suspicion::PinLoose { pin: pin.to_string() }
        }
        Hypothesis::SharedOpen { pin, .. } => Suspicion::PinOpen { pin: pin.to_string() },
        Hypothesis::SharedResistance { pin, ohms, .. } => {
            Suspicion::PinAdds { pin: pin.to_string(), ohms: figure(*ohms) }
        }
        Hypothesis::LeadsBroken => Suspicion::LeadsBroken,
        Hypothesis::LeadZero { ohms } if *ohms > 0.0 => Suspicion::LeadZeroLow { ohms: figure(*ohms) },
        Hypothesis::LeadZero { ohms } => Suspicion::LeadZeroHigh { ohms: figure(ohms.abs()) },
        Hypothesis::Temperature { celsius } => Suspicion::Temperature { celsius: celsius.round() as i32 },
        Hypothesis::Joined { circuits } => Suspicion::Joined { circuits: names(circuits) },
        Hypothesis::PairContradicts { circuits } => Suspicion::PairContradicts { circuits: names(circuits) },
        Hypothesis::Swapped { circuits } => Suspicion::Swapped { circuits: names(circuits) },
        Hypothesis::Slip { circuits } => Suspicion::Slip { circuits: names(circuits) },
        Hypothesis::ToCase { circuits, pin: None } => Suspicion::ToCase { circuits: names(circuits) },
        Hypothesis::ToCase { pin: Some(pin), .. } => Suspicion::PinToCase { pin: pin.to_string() },
        Hypothesis::Cured { circuits } => Suspicion::Cured { circuits: names(circuits) },
        Hypothesis::Wire { circuits } => Suspicion::Wire { circuits: names(circuits) },
        Hypothesis::WireShared { ohms, .. } if *ohms > 0.0 => Suspicion::WireAdds { ohms: figure(*ohms) },
        Hypothesis::WireShared { .. } => Suspicion::WireOpen,
        Hypothesis::Load { circuits } => Suspicion::Load { circuits: names(circuits) },
        Hypothesis::Elsewhere { circuits } => Suspicion::Elsewhere { circuits: names(circuits) },
        Hypothesis::Both { all } => all
            .iter()
            .map(|one| short(analysis, one))
            .reduce(|first, then| Suspicion::And { first: Box::new(first), then: Box::new(then) })
            .unwrap_or(Suspicion::Other),
    }
}
