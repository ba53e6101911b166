//! Owns the one sentence that is spoken and shown first. Short, digits, circuit names as in the profile.

use super::{
    Cause, Class, Explanation, Pattern, PatternKind, Station,
    analysis::{Analysis, Row},
    peers,
    single::State,
    stats,
};

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

/// The headline.
pub(super) fn headline(
    analysis: &Analysis<'_>,
    suspects: &[&Row<'_>],
    patterns: &[Pattern],
    explanations: &[Explanation],
) -> String {
    let find = |kind| patterns.iter().find(|pattern| pattern.kind == kind);
    if find(PatternKind::EverythingOpen).is_some() {
        return everything_open(analysis);
    }
    let Some(first) = suspects.first() else { return nothing_off(analysis, patterns, explanations) };
    // A whole family is one finding, not many.
    if let Some(pattern) = find(PatternKind::SharedOffset).or_else(|| find(PatternKind::SharedFactor))
        && suspects.iter().all(|row| pattern.circuits.contains(&row.circuit.id))
    {
        let what = if pattern.kind == PatternKind::SharedOffset {
            "check their shared return and the leads"
        } else {
            "check the temperature and the window"
        };
        let all = pattern.circuits.len();
        return format!("All {all} read off alike: {what}.");
    }
    if suspects.len() > 1 && suspects.iter().all(|row| super::next::alike(row)) {
        return format!(
            "{} read alike, but outside the limits: check temperature and leads.",
            capital(&list(suspects))
        );
    }
    if let Some(pattern) = find(PatternKind::Swapped).or_else(|| find(PatternKind::Joined))
        && pattern.circuits.len() == 2
        && suspects.iter().all(|row| pattern.circuits.contains(&row.circuit.id))
    {
        let what = if pattern.kind == PatternKind::Swapped { "look swapped" } else { "look joined" };
        return format!("{} {what}.", capital(&list(suspects)));
    }
    let names = list(suspects);
    if !names.contains(" and ") {
        return one(analysis, first, suspects);
    }
    if suspects.iter().all(|row| row.station == Station::Harness && sound_at_part(analysis, row)) {
        let wiring = "the wiring is suspect. Sound at the part, off through the harness.";
        return format!("{}: {wiring}", capital(&names));
    }
    let (failed, suspect): (Vec<&Row<'_>>, Vec<&Row<'_>>) =
        suspects.iter().copied().partition(|row| row.confirmed);
    let (failed, suspect) = (list(&failed), list(&suspect));
    let is = if suspect.contains(" and ") { "are" } else { "is" };
    match (failed.is_empty(), suspect.is_empty()) {
        (false, true) => format!("{} failed.", capital(&failed)),
        (true, _) => format!("{} {is} suspect.", capital(&suspect)),
        (false, false) => format!("{} failed; {suspect} {is} suspect.", capital(&failed)),
    }
}

/// Whether the same circuit was read at the part and found sound.
fn sound_at_part(analysis: &Analysis<'_>, row: &Row<'_>) -> bool {
    analysis.row(row.circuit, Station::Component).is_some_and(|part| {
        !part.class.is_suspect() && !matches!(part.class, Class::NotTaken | Class::NotJudged)
    })
}

/// One circuit, perhaps at several stations.
fn one(analysis: &Analysis<'_>, first: &Row<'_>, suspects: &[&Row<'_>]) -> String {
    let name = capital(&first.circuit.name);
    let at = |station| suspects.iter().any(|row| row.station == station);
    if at(Station::Harness) && sound_at_part(analysis, first) {
        return format!("{name}: the wiring is suspect. Sound at the part, off through the harness.");
    }
    let confirmed = suspects.iter().any(|row| row.confirmed);
    let verdict = if confirmed { "failed" } else { "is suspect" };
    let wiring = if at(Station::Harness) && !at(Station::Component) {
        " Part or wiring: measure at the part."
    } else {
        ""
    };
    format!("{name} {verdict}: {}.{wiring}", does(analysis, first))
}

fn everything_open(analysis: &Analysis<'_>) -> String {
    let mut pins = analysis.rows.iter().filter(|row| row.taken()).map(|row| &row.circuit.against);
    match pins.next() {
        Some(first) if pins.all(|pin| pin == first) => {
            format!("All over range: check the leads and common pin {first}.")
        }
        _ => "All over range: check the leads and the connector.".to_owned(),
    }
}

fn nothing_off(analysis: &Analysis<'_>, patterns: &[Pattern], explanations: &[Explanation]) -> String {
    let taken = analysis.rows.iter().filter(|row| row.taken()).count();
    if taken == 0 {
        return "Nothing measured yet.".to_owned();
    }
    let find = |kind| patterns.iter().find(|pattern: &&Pattern| pattern.kind == kind);
    if find(PatternKind::Undecided).is_some() {
        let rows: Vec<&Row<'_>> = analysis
            .rows
            .iter()
            .filter(|row| row.held.is_some_and(|held| held.stand == peers::Stand::Undecided))
            .collect();
        return format!("{} disagree, and nothing says which is right.", capital(&list(&rows)));
    }
    if let Some(pattern) = find(PatternKind::SharedOffset).or_else(|| find(PatternKind::SharedFactor)) {
        return format!("All {} read off alike.", pattern.circuits.len());
    }
    if find(PatternKind::Drift).is_some() {
        return "Readings moved while measuring: zero the leads and read the first circuit again.".to_owned();
    }
    match explanations.first().map(|explanation| explanation.cause) {
        Some(Cause::ControlOrMechanical) => {
            return "The circuits read sound, but a code is stored: look at supply, control unit and mechanics.".to_owned();
        }
        Some(Cause::Wiring) => {
            return "The circuits read sound, but the wiring loses too much under load.".to_owned();
        }
        _ => {}
    }
    let askable: Vec<&Row<'_>> =
        analysis.rows.iter().filter(|row| row.circuit.never_ohmmeter.is_none()).collect();
    let missing = askable.iter().filter(|row| !row.taken()).count();
    let unjudged = analysis.rows.iter().filter(|row| row.class == Class::NotJudged).count();
    match (missing, unjudged) {
        (0, 0) => "No fault found in the readings.".to_owned(),
        (0, n) => format!("No fault found; {n} could not be judged."),
        (_, _) => format!("No fault so far: {taken} of {} read.", askable.len()),
    }
}
