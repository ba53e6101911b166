//! Owns what the whole amounts to: one sentence, explanations, what was not excluded, what stands on every conclusion.

use super::{
    Cause, Class, Conclusion, Explanation, Pattern, PatternKind, Reason, Station,
    analysis::{Analysis, Row},
    meter::trim,
    patterns::is_open,
    single::State,
    stats,
};

/// What stands on every conclusion.
pub const CAUTIONS: [&str; 2] = [
    "Sound ohms do not prove that the part works: a valve may stick and a joint may fail under load.",
    "This is an aid to a skilled person, not an approval. The maker's service information comes first.",
];

/// Makes the conclusion.
pub(super) fn conclude(analysis: &Analysis<'_>, patterns: &[Pattern]) -> Conclusion {
    let suspects: Vec<&Row<'_>> = analysis.rows.iter().filter(|row| row.class.is_suspect()).collect();
    let everything = patterns.iter().find(|pattern| pattern.kind == PatternKind::EverythingOpen);
    let headline = match everything {
        Some(_) => everything_open(analysis),
        None => headline(analysis, &suspects, patterns),
    };
    Conclusion {
        headline,
        explanations: explanations(analysis, &suspects, everything.is_some()),
        not_excluded: not_excluded(analysis, &suspects),
        cautions: cautions(analysis),
    }
}

fn capital(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map_or(String::new(), |first| first.to_uppercase().chain(letters).collect())
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

/// What a suspect circuit does, after its name.
fn does(analysis: &Analysis<'_>, row: &Row<'_>) -> String {
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
            match stats::median(&others) {
                Some(middle) if others.len() > 1 => {
                    format!("{:.places$} ohms, the others {middle:.places$}", number.value)
                }
                Some(middle) => format!("{:.places$} ohms, the other {middle:.places$}", number.value),
                None => match &row.limits {
                    Some(limits) => format!(
                        "{:.places$} ohms, limits {:.places$} to {:.places$}",
                        number.value, limits.outer.0, limits.outer.1
                    ),
                    None => format!("{:.places$} ohms", number.value),
                },
            }
        }
        (_, class) => class.word().to_owned(),
    }
}

fn headline(analysis: &Analysis<'_>, suspects: &[&Row<'_>], patterns: &[Pattern]) -> String {
    let taken = analysis.rows.iter().filter(|row| row.taken()).count();
    let askable: Vec<&Row<'_>> =
        analysis.rows.iter().filter(|row| row.circuit.never_ohmmeter.is_none()).collect();
    let missing = askable.iter().filter(|row| !row.taken()).count();
    match suspects {
        [] if taken == 0 => "Nothing measured yet.".to_owned(),
        [] => {
            if let Some(pattern) = patterns.iter().find(|pattern| pattern.kind == PatternKind::Undecided) {
                return format!("Undecided: {}.", pattern.text);
            }
            if let Some(pattern) = patterns.iter().find(|pattern| pattern.kind == PatternKind::Drift) {
                return format!("Readings moved: {}.", pattern.text);
            }
            let unjudged = analysis.rows.iter().filter(|row| row.class == Class::NotJudged).count();
            match (missing, unjudged) {
                (0, 0) => "No fault found in the readings.".to_owned(),
                (0, n) => format!("No fault found; {n} could not be judged."),
                (_, _) => format!("No fault so far: {taken} of {} read.", askable.len()),
            }
        }
        [one] => {
            let verdict = if one.confirmed { "failed" } else { "is suspect" };
            format!("{} {verdict}: {}.", capital(&one.circuit.name), does(analysis, one))
        }
        several => {
            let list = |confirmed: bool| {
                let names: Vec<&str> = several
                    .iter()
                    .filter(|row| row.confirmed == confirmed)
                    .map(|row| row.circuit.name.as_str())
                    .collect();
                match names.as_slice() {
                    [] => String::new(),
                    [one] => (*one).to_owned(),
                    [all @ .., last] => format!("{} and {last}", all.join(", ")),
                }
            };
            let (failed, suspect) = (list(true), list(false));
            let is = if suspect.contains(" and ") { "are" } else { "is" };
            match (failed.is_empty(), suspect.is_empty()) {
                (false, true) => format!("{} failed.", capital(&failed)),
                (true, _) => format!("{} {is} suspect.", capital(&suspect)),
                (false, false) => format!("{} failed; {suspect} {is} suspect.", capital(&failed)),
            }
        }
    }
}

fn explanations(analysis: &Analysis<'_>, suspects: &[&Row<'_>], everything_open: bool) -> Vec<Explanation> {
    let ids = |rows: &[&Row<'_>]| rows.iter().flat_map(|row| row.reduced.ids.clone()).collect::<Vec<u32>>();
    let circuits = |rows: &[&Row<'_>]| rows.iter().map(|row| row.circuit.id.clone()).collect::<Vec<_>>();
    let one = |cause, rows: &[&Row<'_>], certainty, text: String| Explanation {
        cause,
        circuits: circuits(rows),
        certainty,
        reasons_for: vec![Reason { text, measurements: ids(rows) }],
        reasons_against: Vec::new(),
    };
    if everything_open {
        let text = || "everything read is over range".to_owned();
        return vec![
            one(Cause::Measurement, suspects, 0.7, text()),
            one(Cause::SharedReturn, suspects, 0.25, text()),
            one(Cause::Component, suspects, 0.05, text()),
        ];
    }
    if suspects.is_empty() {
        let taken: Vec<&Row<'_>> = analysis.rows.iter().filter(|row| row.taken()).collect();
        let whole = analysis.rows.iter().all(|row| {
            row.circuit.never_ohmmeter.is_some() || !matches!(row.class, Class::NotTaken | Class::NotJudged)
        });
        return vec![if whole {
            one(Cause::NothingFound, &[], 1.0, format!("{} readings, none of them off", ids(&taken).len()))
        } else {
            one(Cause::Undetermined, &[], 1.0, "not everything was measured, or could be judged".to_owned())
        }];
    }
    let confirmed = suspects.iter().all(|row| row.confirmed);
    let at_part = suspects.iter().all(|row| row.station == Station::Component);
    let wandering = suspects.iter().any(|row| row.class == Class::Unstable);
    let (component, wiring, connection, measurement) = match (confirmed, at_part, wandering) {
        (_, _, true) => (0.2, 0.1, 0.6, 0.1),
        (true, true, _) => (0.85, 0.03, 0.08, 0.04),
        (true, false, _) => (0.42, 0.42, 0.12, 0.04),
        (false, true, _) => (0.5, 0.03, 0.37, 0.1),
        (false, false, _) => (0.3, 0.3, 0.3, 0.1),
    };
    let texts: Vec<String> =
        suspects.iter().map(|row| format!("{}: {}", row.circuit.name, does(analysis, row))).collect();
    let text = texts.join("; ");
    let mut all = vec![
        one(Cause::Component, suspects, component, text.clone()),
        one(Cause::Wiring, suspects, wiring, text.clone()),
        one(Cause::Connection, suspects, connection, text.clone()),
        one(Cause::Measurement, suspects, measurement, text),
    ];
    if confirmed {
        for explanation in
            all.iter_mut().filter(|e| matches!(e.cause, Cause::Connection | Cause::Measurement))
        {
            explanation.reasons_against.push(Reason {
                text: "it stayed so with the terminal cleaned and probed again".to_owned(),
                measurements: ids(suspects),
            });
        }
    }
    all.sort_by(|a, b| b.certainty.total_cmp(&a.certainty));
    all
}

fn not_excluded(analysis: &Analysis<'_>, suspects: &[&Row<'_>]) -> Vec<String> {
    let mut list = Vec::new();
    for row in suspects.iter().filter(|row| !row.confirmed) {
        list.push(format!(
            "A bad contact at {}: its terminal was not cleaned and probed again.",
            row.circuit.name
        ));
    }
    for row in suspects.iter().filter(|row| is_open(row.class) && row.confirmed) {
        list.push(format!(
            "The terminal of {} itself, or a wire behind it inside the part.",
            row.circuit.name
        ));
    }
    let names = |pick: &dyn Fn(&Row<'_>) -> bool| {
        analysis
            .rows
            .iter()
            .filter(|row| pick(row))
            .map(|row| row.circuit.name.clone())
            .collect::<Vec<_>>()
            .join(", ")
    };
    let missing = names(&|row| row.class == Class::NotTaken && row.circuit.never_ohmmeter.is_none());
    if !missing.is_empty() {
        list.push(format!("Not measured: {missing}."));
    }
    let unjudged = names(&|row| row.class == Class::NotJudged);
    if !unjudged.is_empty() {
        list.push(format!("Measured, but nothing to judge by: {unjudged}."));
    }
    if analysis.at(Station::Harness).next().is_none() {
        list.push("The harness: nothing was measured through it.".to_owned());
    }
    if analysis.at(Station::Case).next().is_none() {
        list.push("Leakage to case: not measured.".to_owned());
    }
    if analysis.rows.iter().any(|row| row.reduced.unsteady_before) {
        list.push("An intermittent contact: a circuit was unsteady before it read a number.".to_owned());
    }
    list
}

fn cautions(analysis: &Analysis<'_>) -> Vec<String> {
    let mut list: Vec<String> = CAUTIONS.iter().map(|text| (*text).to_owned()).collect();
    if analysis.meter.is_none() {
        list.push(format!(
            "No meter file: its accuracy was taken for ±({} % + {} digits).",
            super::meter::ASSUMED_PERCENT,
            super::meter::ASSUMED_DIGITS
        ));
    }
    if analysis.evidence.part_temperature.is_none() {
        list.push("The temperature of the part is not known; windows were widened for it.".to_owned());
    }
    if analysis.leads.slack > 0.0 {
        list.push("The leads were not measured.".to_owned());
    } else if analysis.leads.off > super::single::LEADS_AT_MOST {
        list.push(format!("The leads read {} Ω: they may be damaged.", trim(analysis.leads.off)));
    }
    list
}
