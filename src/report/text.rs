//! Owns the summary for the terminal: plain text, no colour, at most [`TEXT_WIDTH`] columns.

use super::{
    Record,
    amounts::{celsius_span, ohm_span, percent, with_uncertainty},
    layout::{hang, table},
    mark::{is_empty, mark},
    wording::{
        AN_AID, about, cause, circuit_name, clock, figures, figures_matter, further, leads, numbers,
        particulars, pattern, period, pins, plain, reading, stands, station_short, unbroken, way, withdrawal,
    },
};
use crate::verdict::{Explanation, Observed, Reason};

/// The widest line, in characters.
pub const TEXT_WIDTH: usize = 80;

/// The session as plain text: conclusion first, then what it rests on.
#[must_use]
pub fn text(record: &Record) -> String {
    [
        head(record),
        conclusion(record),
        findings(record),
        readings(record),
        observed(record),
        preparation(record),
        foot(record),
    ]
    .concat()
}

fn title(text: &str) -> String {
    format!("\n{text}\n{}\n", "-".repeat(text.chars().count()))
}

fn head(record: &Record) -> String {
    let mut out = String::from("MEASURING RECORD\n");
    if let Some(job) = &record.job {
        out += &hang("Job:   ", &plain(job), TEXT_WIDTH);
    }
    out += &hang("Part:  ", &plain(&record.profile.title), TEXT_WIDTH);
    out += &hang("When:  ", &period(record), TEXT_WIDTH);
    let meter = format!("{}, {}", plain(&record.meter.title), plain(&record.meter.category));
    out += &hang("Meter: ", &meter, TEXT_WIDTH);
    for stamp in record.stamps() {
        out += &hang("  ** ", stamp, TEXT_WIDTH);
    }
    out
}

fn conclusion(record: &Record) -> String {
    let judgement = &record.judgement;
    let mut out = title("CONCLUSION");
    out += &hang("", &plain(&judgement.conclusion.headline), TEXT_WIDTH);
    for explanation in &judgement.conclusion.explanations {
        out += &told(record, explanation);
    }
    for pattern_found in &judgement.patterns {
        let text = format!("{}: {}", pattern(pattern_found.kind), plain(&pattern_found.text));
        out += &hang("  * ", &text, TEXT_WIDTH);
    }
    out += &listed("Also observed", &also_observed(record));
    out += &listed("Not excluded", &judgement.conclusion.not_excluded);
    if !judgement.next_checks.is_empty() {
        out += &title("NEXT CHECKS");
        for (number, check) in (1..).zip(&judgement.next_checks) {
            out += &hang(&format!("{number:>2}. "), &plain(&check.text), TEXT_WIDTH);
            out += &hang("    Why: ", &plain(&check.why), TEXT_WIDTH);
        }
    }
    out += &listed("Mind", &judgement.conclusion.cautions);
    out
}

fn also_observed(record: &Record) -> Vec<String> {
    let line = |one: &Observed| {
        let stands = Some(stands(one)).filter(|words| !words.is_empty());
        let stands = stands.map_or(String::new(), |words| format!(" ({words})"));
        let rests_on = numbers(&one.measurements);
        let rests_on = if rests_on.is_empty() { rests_on } else { format!(" ({rests_on})") };
        format!("{}{stands}: {}{rests_on}", about(one.about), one.text)
    };
    record.judgement.observed.iter().map(line).collect()
}

fn told(record: &Record, explanation: &Explanation) -> String {
    let circuits: Vec<_> = explanation.circuits.iter().map(|id| circuit_name(&record.profile, id)).collect();
    let what = [cause(explanation.cause).to_owned(), circuits.join(", ")];
    let what = what.iter().filter(|part| !part.is_empty()).cloned().collect::<Vec<_>>().join(": ");
    let mut out = hang(&format!("{:>9}  ", percent(explanation.certainty)), &what, TEXT_WIDTH);
    let mut reasons = |sign: &str, reasons: &[Reason]| {
        for reason in reasons {
            let rests_on = numbers(&reason.measurements);
            let rests_on = if rests_on.is_empty() { rests_on } else { format!(" ({rests_on})") };
            out += &hang(
                &format!("{:11}{sign} ", ""),
                &format!("{}{rests_on}", plain(&reason.text)),
                TEXT_WIDTH,
            );
        }
    };
    reasons("+", &explanation.reasons_for);
    reasons("-", &explanation.reasons_against);
    out
}

fn listed(name: &str, items: &[String]) -> String {
    if items.is_empty() {
        return String::new();
    }
    let mut out = format!("\n{name}:\n");
    for item in items {
        out += &hang("  - ", &plain(item), TEXT_WIDTH);
    }
    out
}

fn findings(record: &Record) -> String {
    let names = ["", "circuit", "pins", "where", "resistance", "limits", "verdict"];
    let mut rows = vec![names.map(str::to_owned).to_vec()];
    for finding in &record.judgement.findings {
        let confirmed = if finding.confirmed { ", confirmed" } else { "" };
        let resistance =
            finding.resistance.map_or(String::new(), |value| with_uncertainty(value, finding.uncertainty));
        rows.push(vec![
            mark(finding.class).signs().to_owned(),
            circuit_name(&record.profile, &finding.circuit),
            unbroken(&pins(record.profile.circuit(&finding.circuit), finding.station)),
            if is_empty(finding) { String::new() } else { station_short(finding.station).to_owned() },
            unbroken(&resistance),
            unbroken(&finding.limits.map_or(String::new(), ohm_span)),
            format!("{}{confirmed}", finding.class.word()),
        ]);
    }
    let mut out = title("CIRCUITS") + &table(&rows, TEXT_WIDTH).concat();
    for finding in record.judgement.findings.iter().filter(|finding| figures_matter(finding)) {
        let figures = figures(finding);
        if !figures.is_empty() {
            let name = circuit_name(&record.profile, &finding.circuit);
            out += &hang("    ", &format!("{name}: {}", figures.join("; ")), TEXT_WIDTH);
        }
    }
    out
}

fn readings(record: &Record) -> String {
    let mut out = title("READINGS, in the order taken");
    if record.readings.is_empty() {
        return out + "None.\n";
    }
    let names = ["no.", "time", "circuit", "pins", "where", "shown", "how"];
    let mut rows = vec![names.map(str::to_owned).to_vec()];
    for taken in &record.readings {
        rows.push(vec![
            taken.id.to_string(),
            unbroken(&clock(record, taken.at)),
            circuit_name(&record.profile, &taken.circuit),
            unbroken(&pins(record.profile.circuit(&taken.circuit), taken.station)),
            station_short(taken.station).to_owned(),
            reading(&taken.reading),
            way(taken.intake.way).to_owned(),
        ]);
    }
    let mut blocks = table(&rows, TEXT_WIDTH).into_iter();
    out.extend(blocks.next());
    for (block, taken) in blocks.zip(&record.readings) {
        out += &block;
        for remark in particulars(taken) {
            out += &hang("       ", &remark, TEXT_WIDTH);
        }
        if let Some(how) = &taken.withdrawn {
            out += &hang("       ", &withdrawal(record, how), TEXT_WIDTH);
        }
    }
    out
}

fn observed(record: &Record) -> String {
    let all = further(record);
    if all.is_empty() {
        return String::new();
    }
    let mut out = title("FURTHER OBSERVATIONS");
    for (number, what, shown) in all {
        let number = number.map_or(String::new(), |number| number.to_string());
        out += &hang(&format!("{number:5}"), &format!("{what}: {shown}"), TEXT_WIDTH);
    }
    out
}

fn preparation(record: &Record) -> String {
    let mut out = title("BEFORE AND BETWEEN");
    let mut lines = Vec::new();
    for gate in &record.confirmations {
        let how = way(gate.intake.way);
        lines.push((gate.at, format!("\u{201c}{}\u{201d} ({how})", plain(&gate.phrase))));
    }
    for zero in &record.leads {
        lines.push((zero.at, format!("leads: {}", leads(zero.leads))));
    }
    for temperature in &record.temperatures {
        let span = temperature.interval.map_or("not known".to_owned(), celsius_span);
        lines.push((temperature.at, format!("part temperature: {span}")));
    }
    for note in &record.notes {
        lines.push((note.at, plain(&note.text)));
    }
    lines.sort_by_key(|(at, _)| *at);
    for (at, text) in lines {
        out += &hang(&format!("{}  ", clock(record, at)), &text, TEXT_WIDTH);
    }
    for code in &record.codes {
        let circuit = code
            .circuit
            .as_ref()
            .map_or("no circuit of this part".to_owned(), |id| circuit_name(&record.profile, id));
        out += &hang("", &format!("Stored code {}: names {circuit}", plain(&code.text)), TEXT_WIDTH);
    }
    out
}

fn foot(record: &Record) -> String {
    let mut out = format!("\n{}", hang("", AN_AID, TEXT_WIDTH));
    let (profile, meter) = (&record.profile, &record.meter);
    let fingerprint: String = profile.fingerprint.chars().take(12).collect();
    out += &hang(
        "",
        &format!("Session {}, bothhands {}", plain(&record.session), plain(&record.program)),
        TEXT_WIDTH,
    );
    out +=
        &hang("", &format!("Profile {} ({fingerprint}): {}", profile.id, plain(&profile.source)), TEXT_WIDTH);
    out += &hang("", &format!("Meter {}: {}", meter.id, plain(&meter.source)), TEXT_WIDTH);
    out
}
