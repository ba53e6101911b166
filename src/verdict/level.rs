//! Owns how sure what is said may sound: a level with fixed bounds, from the posterior alone.

use super::{
    Advice, Cause, Class, Explanation, Hypothesis, IfWrong, Level, Station,
    analysis::{Analysis, Row},
};
use crate::profile::CircuitId;

/// From this probability on, and confirmed: failed.
pub const FAILED: f64 = 0.95;
/// From this probability on: probably.
pub const PROBABLY: f64 = 0.70;
/// From this probability on, with every circuit judged: nothing found.
pub const NOTHING: f64 = 0.90;
/// So likely two or three together are "one of these", each with at least [`ONE_OF_EACH`].
pub const ONE_OF: f64 = 0.85;
/// See [`ONE_OF`].
pub const ONE_OF_EACH: f64 = 0.12;

/// A story: hypotheses that are told as one (the places at a shared pin), with the likeliest of them and their sum.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Story {
    pub hypothesis: Hypothesis,
    pub probability: f64,
}

/// Whether two are told as one.
fn same(a: &Hypothesis, b: &Hypothesis) -> bool {
    match (a, b) {
        (Hypothesis::SharedOpen { pin: a, .. }, Hypothesis::SharedOpen { pin: b, .. })
        | (Hypothesis::SharedResistance { pin: a, .. }, Hypothesis::SharedResistance { pin: b, .. }) => {
            a == b
        }
        (Hypothesis::Both { all: a }, Hypothesis::Both { all: b }) => {
            a.len() == b.len() && a.iter().zip(b).all(|(a, b)| same(a, b))
        }
        (a, b) => a == b,
    }
}

/// The stories, likeliest first.
pub(super) fn stories(analysis: &Analysis<'_>) -> Vec<Story> {
    let mut all: Vec<Story> = Vec::new();
    for one in &analysis.hypotheses {
        match all.iter_mut().find(|story| same(&story.hypothesis, &one.hypothesis)) {
            Some(story) => story.probability += one.probability,
            None => {
                all.push(Story { hypothesis: one.hypothesis.clone(), probability: one.probability });
            }
        }
    }
    all.sort_by(|a, b| b.probability.total_cmp(&a.probability));
    all
}

/// What is left to be read.
pub(super) struct Read {
    pub taken: usize,
    pub askable: usize,
    /// Read, has something to be judged by, and was not judged (or is closer to a limit than can be told).
    pub open: usize,
    /// Read, and the profile has nothing to judge it by.
    pub unjudged: usize,
}

pub(super) fn read(analysis: &Analysis<'_>) -> Read {
    let mut read = Read { taken: 0, askable: 0, open: 0, unjudged: 0 };
    for circuit in analysis.profile.circuits.iter().filter(|circuit| circuit.never_ohmmeter.is_none()) {
        read.askable += 1;
        let rows: Vec<&Row<'_>> =
            analysis.rows.iter().filter(|row| row.circuit.id == circuit.id && row.taken()).collect();
        if rows.is_empty() {
            continue;
        }
        read.taken += 1;
        // Judged anywhere is judged; unless it is doubtful somewhere.
        let doubtful = rows
            .iter()
            .any(|row| matches!(row.class, Class::OutsideDoubtful | Class::WithinDoubtful) && close(row));
        let judged = rows.iter().any(|row| {
            matches!(
                row.class,
                Class::Within | Class::LikePeers | Class::WithinDoubtful | Class::OutsideDoubtful
            )
        });
        // What the leads have decides, and nobody held them together.
        let leads_decide = rows.iter().any(|row| {
            row.judged.is_some_and(|judged| judged.unknown_decides)
                && row.number().is_some_and(|number| number.leads.slack > 0.0)
        });
        if doubtful || leads_decide {
            read.open += 1;
        } else if !judged && rows.iter().any(|row| row.class == Class::NotJudged) {
            if circuit.window.is_some() || rows.iter().any(|row| row.weighed.undecided) {
                read.open += 1;
            } else {
                read.unjudged += 1;
            }
        }
    }
    read
}

/// Whether a row is so close to its limit that it cannot be called sound.
fn close(row: &Row<'_>) -> bool {
    row.class == Class::OutsideDoubtful || row.judged.is_some_and(|judged| judged.conforming < 0.8)
}

/// How sure it may sound.
pub(super) fn level(analysis: &Analysis<'_>, stories: &[Story]) -> Level {
    let read = read(analysis);
    let Some(top) = stories.first().filter(|_| read.taken > 0) else { return Level::NothingSoFar };
    let finding = |hypothesis: &Hypothesis| {
        !matches!(hypothesis, Hypothesis::Nothing | Hypothesis::Other | Hypothesis::Disagree { .. })
    };
    match &top.hypothesis {
        Hypothesis::Cured { .. } if top.probability >= PROBABLY => return Level::CuredByCleaning,
        Hypothesis::Nothing => {
            let suspect = analysis.rows.iter().any(|row| row.class.is_suspect());
            if suspect || read.open > 0 {
                return Level::CannotTell;
            }
            return match (read.taken < read.askable, top.probability) {
                (false, p) if p >= NOTHING && read.unjudged == 0 => Level::NothingFound,
                (true, p) if p >= PROBABLY => Level::NothingSoFar,
                (false, p) if p >= PROBABLY && read.unjudged > 0 => Level::NothingSoFar,
                _ => Level::CannotTell,
            };
        }
        // The readings are sound, the code is there: what is left is several things, and none was measured.
        Hypothesis::Elsewhere { .. } if top.probability >= PROBABLY => return Level::OneOf,
        hypothesis if finding(hypothesis) => {
            let sure = sure(analysis, top);
            if sure >= FAILED && confirmed(analysis, hypothesis) {
                return Level::Failed;
            }
            if sure >= PROBABLY {
                return Level::Probably;
            }
        }
        _ => {}
    }
    let some: Vec<&Story> = stories
        .iter()
        .filter(|story| finding(&story.hypothesis) && story.probability >= ONE_OF_EACH)
        .take(3)
        .collect();
    if some.len() > 1 && some.iter().map(|story| story.probability).sum::<f64>() >= ONE_OF {
        return Level::OneOf;
    }
    Level::CannotTell
}

/// How sure a story is. Of circuits that are off by themselves: that each of them is, whatever else is so, if this very set
/// is likelier than not; of all else: that it is so.
fn sure(analysis: &Analysis<'_>, story: &Story) -> f64 {
    let Hypothesis::Faulty { circuits } = &story.hypothesis else { return story.probability };
    if story.probability < 0.5 {
        return story.probability;
    }
    let own = |id: &CircuitId| {
        let rows = analysis.rows.iter().filter(|row| row.circuit.id == *id && row.taken());
        rows.map(|row| row.weighed.own).fold(0.0, f64::max)
    };
    circuits.iter().map(own).fold(1.0, f64::min).max(story.probability)
}

/// Whether all that a hypothesis names was cleaned and probed again.
pub(super) fn confirmed(analysis: &Analysis<'_>, hypothesis: &Hypothesis) -> bool {
    let at = |circuits: &[CircuitId], pick: &dyn Fn(Station) -> bool| {
        circuits.iter().all(|id| {
            analysis.rows.iter().any(|row| {
                row.circuit.id == *id && pick(row.station) && row.class.is_suspect() && row.confirmed
            })
        })
    };
    match hypothesis {
        Hypothesis::Faulty { circuits } => at(circuits, &|station| station != Station::Case),
        Hypothesis::ToCase { circuits, pin: None } => at(circuits, &|station| station == Station::Case),
        Hypothesis::Wire { circuits } => at(circuits, &|station| station == Station::Harness),
        Hypothesis::Both { all } => all.iter().all(|one| confirmed(analysis, one)),
        _ => false,
    }
}

/// What to do, and what it costs if that is wrong.
pub(super) fn advice(level: Level, top: Option<&Story>, explanations: &[Explanation]) -> (Advice, IfWrong) {
    let cause = |wanted: Cause| {
        explanations.iter().filter(|one| one.cause == wanted).map(|one| one.certainty).sum::<f64>()
    };
    let circuits = top.map_or(Vec::new(), |top| super::causes::circuits(&top.hypothesis));
    match (level, top.map(|top| &top.hypothesis)) {
        (Level::NothingFound, _) => (Advice::Nothing, IfWrong::FaultStays),
        (Level::CuredByCleaning, _) => (Advice::RepairTerminal { circuits }, IfWrong::FaultReturns),
        (Level::OneOf, Some(Hypothesis::Elsewhere { circuits })) => {
            (Advice::LookAtControlSide { circuits: circuits.clone() }, IfWrong::TimeLost)
        }
        (
            Level::Failed | Level::Probably,
            Some(Hypothesis::Wire { .. } | Hypothesis::WireShared { .. } | Hypothesis::Load { .. }),
        ) => (Advice::RepairWire { circuits }, IfWrong::TimeLost),
        (Level::Failed, _) if cause(Cause::Component) >= 0.6 => {
            (Advice::ReplacePart { circuits }, IfWrong::PartWasted)
        }
        (Level::Failed, _) if cause(Cause::Connection) >= 0.5 => {
            (Advice::RepairTerminal { circuits }, IfWrong::TimeLost)
        }
        _ => (Advice::MeasureAgain { circuits }, IfWrong::TimeLost),
    }
}
