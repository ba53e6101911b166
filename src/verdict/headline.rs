//! Owns the one sentence that is spoken and shown first. Short, digits, circuit names as in the profile.

use super::{
    Class, Hypothesis, Level, SharedPlace,
    analysis::{Analysis, Row},
    causes,
    level::{self, Story},
    meter::trim,
    single::State,
    stats,
};
use crate::profile::CircuitId;

/// What a suspect circuit does, after its name.
pub(super) fn does(analysis: &Analysis<'_>, row: &Row<'_>) -> String {
    match (&row.reduced.state, row.class) {
        (_, Class::Shorted) => "shorted".to_owned(),
        (_, Class::Leakage) => "leaks to case".to_owned(),
        (_, Class::Open) => "open at its terminal or behind it".to_owned(),
        (_, Class::OverRangeUnchecked) => "over range, contact not checked".to_owned(),
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
            let value = number.value;
            match (stats::median(&others), &row.limits) {
                (Some(middle), _) if others.len() > 1 => {
                    format!("{value:.places$} ohms, the others {middle:.places$}")
                }
                (_, Some(limits)) => format!(
                    "{value:.places$} ohms, limits {:.places$} to {:.places$}",
                    limits.outer.0, limits.outer.1
                ),
                (Some(middle), None) => format!("{value:.places$} ohms, the other {middle:.places$}"),
                (None, None) => format!("{value:.places$} ohms"),
            }
        }
        (_, class) => class.word().to_owned(),
    }
}

fn capital(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map_or(String::new(), |first| first.to_uppercase().chain(letters).collect())
}

fn list(rows: &[&Row<'_>]) -> String {
    let mut names: Vec<&str> = Vec::new();
    for row in rows {
        if !names.contains(&row.circuit.name.as_str()) {
            names.push(&row.circuit.name);
        }
    }
    match names.as_slice() {
        [] => String::new(),
        [one] => (*one).to_owned(),
        // Spoken: nobody keeps eight names in mind.
        [first, second, third, more @ ..] if more.len() > 1 => {
            format!("{first}, {second}, {third} and {} more", more.len())
        }
        [all @ .., last] => format!("{} and {last}", all.join(", ")),
    }
}

/// The headline: level and likeliest story, and nothing else.
pub(super) fn headline(
    analysis: &Analysis<'_>,
    level: Level,
    stories: &[Story],
    smallest: Option<f64>,
) -> String {
    let Some(top) = stories.first() else { return "Nothing measured yet.".to_owned() };
    let read = level::read(analysis);
    if read.taken == 0 {
        return "Nothing measured yet.".to_owned();
    }
    match level {
        Level::NothingFound => {
            let seen = smallest.map_or(String::new(), |share| {
                format!(" A deviation below {:.0} % would not show.", (100.0 * share).ceil())
            });
            format!("No fault found in the readings.{seen}")
        }
        Level::NothingSoFar if read.taken < read.askable => {
            format!("No fault so far: {} of {} read.", read.taken, read.askable)
        }
        Level::NothingSoFar => format!("No fault found; {} could not be judged.", read.unjudged),
        Level::CuredByCleaning => {
            let rows = rows(analysis, &causes::circuits(&top.hypothesis));
            format!("Cleaning cured {}: a bad contact at the terminal.", list(&rows))
        }
        Level::Failed | Level::Probably => said(analysis, &top.hypothesis, level),
        Level::OneOf if matches!(top.hypothesis, Hypothesis::Elsewhere { .. }) => {
            said(analysis, &top.hypothesis, level)
        }
        Level::OneOf => {
            let some: Vec<String> = stories
                .iter()
                .filter(|story| {
                    !matches!(story.hypothesis, Hypothesis::Nothing | Hypothesis::Other)
                        && story.probability >= level::ONE_OF_EACH
                })
                .take(3)
                .map(|story| short(analysis, &story.hypothesis))
                .collect();
            format!("One of these: {}.", some.join(", or "))
        }
        Level::CannotTell => cannot_tell(analysis, stories),
    }
}

fn cannot_tell(analysis: &Analysis<'_>, stories: &[Story]) -> String {
    let disagree = stories.iter().find_map(|story| match &story.hypothesis {
        Hypothesis::Disagree { circuits } if story.probability > 0.3 => Some(circuits.clone()),
        Hypothesis::Both { all } if story.probability > 0.3 => all.iter().find_map(|one| match one {
            Hypothesis::Disagree { circuits } => Some(circuits.clone()),
            _ => None,
        }),
        _ => None,
    });
    if let Some(circuits) = disagree {
        let rows = rows(analysis, &circuits);
        return format!("{} disagree, and nothing says which is right.", capital(&list(&rows)));
    }
    let finding = stories.iter().find(|story| {
        !matches!(story.hypothesis, Hypothesis::Nothing | Hypothesis::Other) && story.probability >= 0.2
    });
    if let Some(story) = finding {
        return format!("Cannot tell yet: perhaps {}.", short(analysis, &story.hypothesis));
    }
    let close: Vec<&Row<'_>> = analysis
        .rows
        .iter()
        .filter(|row| matches!(row.class, Class::OutsideDoubtful | Class::WithinDoubtful))
        .collect();
    let suspects: Vec<&Row<'_>> = analysis.rows.iter().filter(|row| row.class.is_suspect()).collect();
    match (suspects.as_slice(), close.as_slice()) {
        ([], []) => "Cannot tell with these readings.".to_owned(),
        ([], close) => format!("Cannot tell: {} closer to a limit than this meter can tell.", list(close)),
        (suspects, _) => format!("Cannot tell yet: {} in doubt.", list(suspects)),
    }
}

fn rows<'r, 'a>(analysis: &'r Analysis<'a>, circuits: &[CircuitId]) -> Vec<&'r Row<'a>> {
    circuits.iter().filter_map(|id| causes::blamed(analysis, id)).collect()
}

/// A hypothesis as a whole sentence.
fn said(analysis: &Analysis<'_>, hypothesis: &Hypothesis, level: Level) -> String {
    let failed = level == Level::Failed;
    match hypothesis {
        Hypothesis::Faulty { circuits } => {
            let rows = rows(analysis, circuits);
            let names = list(&rows);
            let verb = match (failed, rows.len() > 1) {
                (true, _) => "failed",
                (false, true) => "are probably off",
                (false, false) => "is probably off",
            };
            match rows.as_slice() {
                [one] => format!("{} {verb}: {}.", capital(&names), does(analysis, one)),
                _ => format!("{} {verb}.", capital(&names)),
            }
        }
        Hypothesis::Both { all } => {
            all.iter().map(|one| said(analysis, one, level)).collect::<Vec<_>>().join(" ")
        }
        Hypothesis::Elsewhere { .. } => {
            "The circuits read sound, but a code is stored: look at supply, control unit and mechanics."
                .to_owned()
        }
        Hypothesis::Load { .. } => {
            "The circuits read sound, but the wiring loses too much under load.".to_owned()
        }
        other => format!("{}{}.", if failed { "" } else { "Probably " }, short(analysis, other)),
    }
}

/// A hypothesis in a few words, to stand inside a sentence.
pub(super) fn short(analysis: &Analysis<'_>, hypothesis: &Hypothesis) -> String {
    let names = |circuits: &[CircuitId]| list(&rows(analysis, circuits));
    match hypothesis {
        Hypothesis::Nothing => "nothing is wrong".to_owned(),
        Hypothesis::Other => "something else".to_owned(),
        Hypothesis::Faulty { circuits } => match rows(analysis, circuits).as_slice() {
            [one] => format!("{} is off, {}", one.circuit.name, does(analysis, one)),
            some => format!("{} are off", list(some)),
        },
        Hypothesis::FamilyOff { circuits } => {
            format!("all of {} are off alike: the wrong window, or a cause that they share", names(circuits))
        }
        Hypothesis::Disagree { circuits } => format!("{} disagree", names(circuits)),
        Hypothesis::AllShorted { circuits } => {
            format!("{} read as nothing: one short, or the probes on each other", names(circuits))
        }
        Hypothesis::SharedOpen { pin, at, .. } => match at {
            SharedPlace::Loose => format!("the contact at common pin {pin} comes and goes"),
            _ => format!("common pin {pin} is open: the clip, its terminal, or behind it"),
        },
        Hypothesis::SharedResistance { pin, ohms, .. } => {
            format!("common pin {pin} adds {} ohms: the clip, its terminal, or behind it", trim(*ohms))
        }
        Hypothesis::LeadsBroken => "a lead or the meter is open".to_owned(),
        Hypothesis::LeadZero { ohms } => format!(
            "the lead zero is wrong, by about {} ohms too {}",
            trim(ohms.abs()),
            if *ohms > 0.0 { "little" } else { "much" }
        ),
        Hypothesis::Temperature { celsius } => {
            format!("the part is at about {celsius:.0} °C, not as said")
        }
        Hypothesis::Joined { circuits } => format!("{} are joined", names(circuits)),
        Hypothesis::PairContradicts { circuits } => {
            format!("the reading between {} contradicts theirs: probe it again", names(circuits))
        }
        Hypothesis::Swapped { circuits } => format!("{} are swapped", names(circuits)),
        Hypothesis::Slip { circuits } => {
            format!("the unit or the point of {} is wrong: say it again", names(circuits))
        }
        Hypothesis::ToCase { circuits, pin: None } => format!("{} leads to the case", names(circuits)),
        Hypothesis::ToCase { pin: Some(pin), .. } => format!("common pin {pin} leads to the case"),
        Hypothesis::Cured { circuits } => format!("a bad contact at {}, cured by cleaning", names(circuits)),
        Hypothesis::Wire { circuits } => {
            format!("the wiring of {}: sound at the part, off through the harness", names(circuits))
        }
        Hypothesis::WireShared { ohms, .. } if *ohms > 0.0 => {
            format!("a shared wire of the harness adds {} ohms to all", trim(*ohms))
        }
        Hypothesis::WireShared { .. } => "a shared wire of the harness is open".to_owned(),
        Hypothesis::Load { circuits } => {
            format!("the wiring of {} loses too much under load", names(circuits))
        }
        Hypothesis::Elsewhere { circuits } => {
            format!("{} is sound, and the code's cause lies elsewhere", names(circuits))
        }
        Hypothesis::Both { all } => {
            all.iter().map(|one| short(analysis, one)).collect::<Vec<_>>().join(", and ")
        }
    }
}
