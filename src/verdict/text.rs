//! Owns a judgement as plain text, with every derivation, for a colleague who follows it by hand.

use super::{Explanation, Finding, Judgement, single::station_words};
use crate::profile::Profile;
use std::fmt::Write as _;

/// Everything, in reading order.
#[must_use]
pub fn explain(profile: &Profile, judgement: &Judgement) -> String {
    let mut text = String::new();
    let name = |id: &crate::profile::CircuitId| {
        profile.circuit(id).map_or_else(|| id.to_string(), |circuit| circuit.name.clone())
    };
    let _ = writeln!(text, "{}\n", judgement.conclusion.headline);
    for explanation in &judgement.conclusion.explanations {
        explained(&mut text, explanation, &name);
    }
    section(&mut text, "Patterns", judgement.patterns.iter().map(|pattern| pattern.text.clone()));
    section(&mut text, "Also observed", judgement.observed.iter().map(|one| one.text.clone()));
    section(&mut text, "Not excluded", judgement.conclusion.not_excluded.iter().cloned());
    section(
        &mut text,
        "Next checks",
        judgement.next_checks.iter().map(|check| {
            let bits = if check.gain > 0.0 { format!(" ({:.2} bits)", check.gain) } else { String::new() };
            format!("{} Why: {}.{bits}", check.text, check.why)
        }),
    );
    section(&mut text, "Mind", judgement.conclusion.cautions.iter().cloned());
    for finding in &judgement.findings {
        found(&mut text, finding, &name(&finding.circuit));
    }
    // Texts of people and files are in it: nothing of them may move the cursor or turn the direction of writing.
    text.chars().map(|c| if c == '\n' || !moves(c) { c } else { '\u{fffd}' }).collect()
}

/// A probability in words' company: never none and never all, since no reading is that sure.
pub(super) fn chance(probability: f64) -> String {
    match probability {
        p if p < 0.001 => "under 0.001".to_owned(),
        p if p > 0.999 => "over 0.999".to_owned(),
        p => format!("{p:.3}"),
    }
}

fn moves(c: char) -> bool {
    c.is_control() || matches!(c, '\u{200e}' | '\u{200f}' | '\u{202a}'..='\u{202e}' | '\u{2066}'..='\u{2069}')
}

fn explained(
    text: &mut String,
    explanation: &Explanation,
    name: &impl Fn(&crate::profile::CircuitId) -> String,
) {
    let circuits: Vec<String> = explanation.circuits.iter().map(name).collect();
    let of = if circuits.is_empty() { String::new() } else { format!(": {}", circuits.join(", ")) };
    let cause = serde_json::to_value(explanation.cause).ok();
    let cause = cause.as_ref().and_then(|cause| cause.as_str()).unwrap_or("unknown").replace('-', " ");
    let _ = writeln!(text, "{:>4.0} % {cause}{of}", 100.0 * explanation.certainty);
    for (sign, reasons) in [('+', &explanation.reasons_for), ('-', &explanation.reasons_against)] {
        for reason in reasons {
            let _ = writeln!(text, "       {sign} {}{}", reason.text, numbers(&reason.measurements));
        }
    }
}

fn numbers(ids: &[u32]) -> String {
    if ids.is_empty() {
        return String::new();
    }
    let all: Vec<String> = ids.iter().map(|id| format!("#{id}")).collect();
    format!(" ({})", all.join(" "))
}

fn section(text: &mut String, title: &str, items: impl Iterator<Item = String>) {
    for (at, item) in items.enumerate() {
        if at == 0 {
            let _ = writeln!(text, "\n{title}:");
        }
        let _ = writeln!(text, "  - {item}");
    }
}

fn found(text: &mut String, finding: &Finding, name: &str) {
    if finding.measurements.is_empty() {
        return;
    }
    let confirmed = if finding.confirmed { ", confirmed" } else { "" };
    let _ =
        writeln!(text, "\n{name}, {}: {}{confirmed}", station_words(finding.station), finding.class.word());
    for step in &finding.derivation {
        let _ = writeln!(text, "  {}: {}", step.what, step.how);
    }
    if !finding.details.budget.is_empty() {
        for line in budget(finding).lines() {
            let _ = writeln!(text, "    {line}");
        }
    }
    for check in &finding.details.cross_checks {
        let _ = writeln!(text, "  cross-check, not deciding: {check}");
    }
    for note in &finding.details.notes {
        let _ = writeln!(text, "  note: {note}");
    }
    if let Some(probability) = finding.details.fault_probability {
        let _ = writeln!(text, "  probability that it is off: {}", chance(probability));
    }
}

/// An uncertainty budget as a table, as in JCGM 100:2008, table H.1.
#[must_use]
pub fn budget(finding: &Finding) -> String {
    let mut text = format!("{:<12} {:>4} {:>12}  {}\n", "source", "type", "u in ohms", "how");
    for line in &finding.details.budget {
        let _ = writeln!(
            text,
            "{:<12} {:>4} {:>12.6}  {}{}",
            line.source,
            format!("{:?}", line.kind),
            line.standard.get(),
            line.how,
            if line.shared { " (shared by all circuits)" } else { "" }
        );
    }
    let combined: f64 =
        finding.details.budget.iter().map(|line| line.standard.get().powi(2)).sum::<f64>().sqrt();
    let _ = writeln!(text, "{:<12} {:>4} {combined:>12.6}  root of the sum of squares", "combined", "");
    let _ = writeln!(text, "{:<12} {:>4} {:>12.6}  k = 2", "expanded", "", 2.0 * combined);
    text
}
