//! Owns the summary for the terminal: plain text, no colour, at most [`TEXT_WIDTH`] columns.

use super::{
    Record,
    layout::{hang, table},
    mark::{is_empty, mark},
    said::{Heading, Name, Sentence},
    wording::{Wording, circuit_name, figures_matter, plain, unbroken},
};
use crate::{
    verdict::{Explanation, Observed, Reason},
    words::Words,
};

/// The widest line, in characters.
pub const TEXT_WIDTH: usize = 80;

/// The session as plain text: conclusion first, then what it rests on.
#[must_use]
pub fn text(record: &Record, words: &Words) -> String {
    let to = Wording::new(words);
    [
        head(record, to),
        conclusion(record, to),
        findings(record, to),
        readings(record, to),
        observed(record, to),
        preparation(record, to),
        foot(record, to),
    ]
    .concat()
}

fn title(heading: Heading, to: Wording<'_>) -> String {
    let text = to.say(&heading).to_uppercase();
    format!("\n{text}\n{}\n", "-".repeat(text.chars().count()))
}

fn head(record: &Record, to: Wording<'_>) -> String {
    let mut out = format!("{}\n", to.say(&Heading::Record).to_uppercase());
    let meter = format!("{}, {}", plain(&record.meter.title), plain(&record.meter.category));
    let job = record.job.as_deref().map(|job| (Name::Job, plain(job)));
    let mut facts: Vec<(Name, String)> = job.into_iter().collect();
    facts.extend([
        (Name::Part, plain(&record.profile.title)),
        (Name::When, to.period(record)),
        (Name::Meter, meter),
    ]);
    facts.extend(to.job(record));
    let names: Vec<String> = facts.iter().map(|(name, _)| format!("{}: ", to.say(name))).collect();
    let widest = names.iter().map(|name| name.chars().count()).max().unwrap_or(0);
    for (name, (_, value)) in names.iter().zip(&facts) {
        out += &hang(&format!("{name:widest$}"), value, TEXT_WIDTH);
    }
    for stamp in record.stamps() {
        out += &hang("  ** ", &to.say(&stamp), TEXT_WIDTH);
    }
    out
}

fn conclusion(record: &Record, to: Wording<'_>) -> String {
    let judgement = &record.judgement;
    let mut out = title(Heading::Conclusion, to);
    out += &hang("", &plain(&to.say(&judgement.conclusion.headline)), TEXT_WIDTH);
    out += &hang("", &to.outcome(record), TEXT_WIDTH);
    out += &to.what_to_do(record).map_or(String::new(), |text| hang("", &text, TEXT_WIDTH));
    for explanation in &judgement.conclusion.explanations {
        out += &told(record, explanation, to);
    }
    for pattern in &judgement.patterns {
        let text = format!("{}: {}", to.say(&pattern.kind), plain(&to.say(&pattern.text)));
        out += &hang("  * ", &text, TEXT_WIDTH);
    }
    out += &listed(Heading::Observed, &also_observed(record, to), to);
    out += &listed(Heading::NotExcluded, &judgement.conclusion.not_excluded, to);
    if !judgement.next_checks.is_empty() {
        out += &title(Heading::NextChecks, to);
        for (number, check) in (1..).zip(&judgement.next_checks) {
            out += &hang(&format!("{number:>2}. "), &plain(&to.say(&check.text)), TEXT_WIDTH);
            out += &hang(&format!("    {}: ", to.say(&Name::Why)), &plain(&to.say(&check.why)), TEXT_WIDTH);
        }
    }
    out += &listed(Heading::Cautions, &judgement.conclusion.cautions, to);
    out
}

fn in_brackets(text: String) -> String {
    if text.is_empty() { text } else { format!(" ({text})") }
}

fn also_observed(record: &Record, to: Wording<'_>) -> Vec<String> {
    let line = |one: &Observed| {
        let stands = in_brackets(to.stands(one));
        let rests_on = in_brackets(to.numbers(&one.measurements));
        format!("{}{stands}: {}{rests_on}", to.say(&one.about), to.say(&one.text))
    };
    record.judgement.observed.iter().map(line).collect()
}

fn told(record: &Record, explanation: &Explanation, to: Wording<'_>) -> String {
    let circuits: Vec<_> = explanation.circuits.iter().map(|id| circuit_name(&record.profile, id)).collect();
    let what = [to.say(&explanation.cause), circuits.join(", ")];
    let what = what.iter().filter(|part| !part.is_empty()).cloned().collect::<Vec<_>>().join(": ");
    let mut out = hang(&format!("{:>9}  ", to.percent(explanation.certainty)), &what, TEXT_WIDTH);
    let mut reasons = |sign: &str, reasons: &[Reason]| {
        for reason in reasons {
            let rests_on = in_brackets(to.numbers(&reason.measurements));
            let text = format!("{}{rests_on}", plain(&to.say(&reason.text)));
            out += &hang(&format!("{:11}{sign} ", ""), &text, TEXT_WIDTH);
        }
    };
    reasons("+", &explanation.reasons_for);
    reasons("-", &explanation.reasons_against);
    out
}

fn listed<T: serde::Serialize>(heading: Heading, items: &[T], to: Wording<'_>) -> String {
    if items.is_empty() {
        return String::new();
    }
    let mut out = format!("\n{}:\n", to.say(&heading));
    for item in items {
        out += &hang("  - ", &plain(&to.say(item)), TEXT_WIDTH);
    }
    out
}

/// The head of a table: names in small letters, none over the marks.
fn names<const N: usize>(names: [Name; N], to: Wording<'_>) -> Vec<String> {
    let name = |name: Name| if name == Name::Mark { String::new() } else { to.say(&name).to_lowercase() };
    names.map(name).to_vec()
}

fn findings(record: &Record, to: Wording<'_>) -> String {
    let columns =
        [Name::Mark, Name::Circuit, Name::Pins, Name::Where, Name::Resistance, Name::Limits, Name::Verdict];
    let mut rows = vec![names(columns, to)];
    for finding in &record.judgement.findings {
        let resistance =
            finding.resistance.map_or(String::new(), |value| to.with_uncertainty(value, finding.uncertainty));
        rows.push(vec![
            mark(finding.class).signs().to_owned(),
            circuit_name(&record.profile, &finding.circuit),
            unbroken(&to.pins(record.profile.circuit(&finding.circuit), finding.station)),
            if is_empty(finding) {
                String::new()
            } else {
                to.say(&Sentence::Place { station: finding.station })
            },
            unbroken(&resistance),
            unbroken(&finding.limits.map_or(String::new(), |limits| to.ohm_span(limits))),
            to.say(&Sentence::Verdict { class: finding.class, confirmed: finding.confirmed }),
        ]);
    }
    let mut out = title(Heading::Circuits, to) + &table(&rows, TEXT_WIDTH).concat();
    for finding in record.judgement.findings.iter().filter(|finding| figures_matter(finding)) {
        let figures = to.figures(finding);
        if !figures.is_empty() {
            let name = circuit_name(&record.profile, &finding.circuit);
            out += &hang("    ", &format!("{name}: {}", figures.join("; ")), TEXT_WIDTH);
        }
    }
    out
}

fn readings(record: &Record, to: Wording<'_>) -> String {
    let mut out = title(Heading::Readings, to);
    if record.readings.is_empty() {
        return out + &to.say(&Sentence::Nothing) + "\n";
    }
    let columns =
        [Name::Number, Name::Time, Name::Circuit, Name::Pins, Name::Where, Name::Shown, Name::CameIn];
    let mut rows = vec![names(columns, to)];
    for taken in &record.readings {
        rows.push(vec![
            taken.id.to_string(),
            unbroken(&to.clock(record, taken.at)),
            circuit_name(&record.profile, &taken.circuit),
            unbroken(&to.pins(record.profile.circuit(&taken.circuit), taken.station)),
            to.say(&Sentence::Place { station: taken.station }),
            to.reading(&taken.reading),
            to.say(&taken.intake.way),
        ]);
    }
    let mut blocks = table(&rows, TEXT_WIDTH).into_iter();
    out.extend(blocks.next());
    for (block, taken) in blocks.zip(&record.readings) {
        out += &block;
        for remark in to.particulars(taken) {
            out += &hang("       ", &remark, TEXT_WIDTH);
        }
        if let Some(how) = &taken.withdrawn {
            out += &hang("       ", &to.withdrawal(record, how), TEXT_WIDTH);
        }
    }
    out
}

fn observed(record: &Record, to: Wording<'_>) -> String {
    let all = to.further(record);
    if all.is_empty() {
        return String::new();
    }
    let mut out = title(Heading::Further, to);
    for (number, what, shown) in all {
        let number = number.map_or(String::new(), |number| number.to_string());
        out += &hang(&format!("{number:5}"), &format!("{what}: {shown}"), TEXT_WIDTH);
    }
    out
}

fn preparation(record: &Record, to: Wording<'_>) -> String {
    let mut out = title(Heading::Preparation, to);
    for row in to.preparation(record) {
        let how = row.intake.map_or(String::new(), |intake| in_brackets(to.say(&intake.way)));
        let text = match row.name {
            Name::Note => row.what,
            name => format!("{}: {}{how}", to.say(&name), row.what),
        };
        out += &hang(&format!("{}  ", to.clock(record, row.at)), &text, TEXT_WIDTH);
    }
    out += &listed(Heading::Codes, &to.codes(record), to);
    out
}

fn foot(record: &Record, to: Wording<'_>) -> String {
    let (profile, meter) = (&record.profile, &record.meter);
    let fingerprint: String = profile.fingerprint.chars().take(12).collect();
    let mark = record.mark.as_ref().map(|mark| (Name::JournalMark, plain(mark)));
    let facts = [
        (Name::Session, plain(&record.session)),
        (Name::Program, format!("bothhands {}", plain(&record.program))),
        (Name::Profile, format!("{} ({fingerprint}): {}", profile.id, plain(&profile.source))),
        (Name::Meter, format!("{}: {}", meter.id, plain(&meter.source))),
    ];
    let mut out = format!("\n{}", hang("", &to.say(&Sentence::AnAid), TEXT_WIDTH));
    for (name, value) in facts.into_iter().chain(mark) {
        out += &hang("", &format!("{}: {value}", to.say(&name)), TEXT_WIDTH);
    }
    out
}
