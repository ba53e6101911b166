//! Owns a judgement as plain text, with every derivation, for a colleague who follows it by hand.

use super::said::{Heading, Sentence};
use crate::{
    profile::Profile,
    quantity::Decimal,
    verdict::{Explanation, Finding, Judgement, NextStep, NextWhy, Saying},
    words::Words,
};
use schemars::JsonSchema;
use serde::Serialize;
use std::fmt::Write as _;

/// What only this text says.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub(crate) enum Explained {
    /// A check with its reason and what it is worth.
    Check {
        step: Saying<NextStep>,
        why: Saying<NextWhy>,
        bits: Option<Decimal>,
    },
    /// What a test says that does not decide.
    CrossCheck {
        text: String,
    },
    /// What else is to be known.
    Remark {
        text: String,
    },
    /// A probability that is under, over or about a figure.
    OffUnder {
        least: Decimal,
    },
    OffOver {
        most: Decimal,
    },
    Off {
        probability: Decimal,
    },
    /// The columns of a budget, and its last lines.
    Source,
    Kind,
    StandardOhms,
    How,
    Shared,
    Combined,
    RootOfSquares,
    Expanded,
}

/// Everything, in reading order.
#[must_use]
pub fn explain(profile: &Profile, judgement: &Judgement, words: &Words) -> String {
    let mut text = String::new();
    let name = |id: &crate::profile::CircuitId| {
        profile.circuit(id).map_or_else(|| id.to_string(), |circuit| circuit.name.clone())
    };
    let conclusion = &judgement.conclusion;
    let _ = writeln!(text, "{}\n", words.text(&conclusion.headline));
    for explanation in &conclusion.explanations {
        explained(&mut text, explanation, &name, words);
    }
    let mut section = |heading: Heading, items: Vec<String>| {
        for (at, item) in items.iter().enumerate() {
            if at == 0 {
                let _ = writeln!(text, "\n{}:", words.text(&heading));
            }
            let _ = writeln!(text, "  - {item}");
        }
    };
    section(Heading::Patterns, judgement.patterns.iter().map(|one| words.text(&one.text)).collect());
    section(Heading::Observed, judgement.observed.iter().map(|one| words.text(&one.text)).collect());
    section(Heading::NotExcluded, conclusion.not_excluded.iter().map(|one| words.text(one)).collect());
    let checks = judgement.next_checks.iter().map(|check| {
        let bits = format!("{:.2}", check.gain).parse().ok().filter(|_| check.gain > 0.0);
        words.text(&Explained::Check { step: check.text.clone(), why: check.why.clone(), bits })
    });
    section(Heading::NextChecks, checks.collect());
    section(Heading::Cautions, conclusion.cautions.iter().map(|one| words.text(one)).collect());
    for finding in &judgement.findings {
        found(&mut text, finding, &name(&finding.circuit), words);
    }
    // Texts of people and files are in it: nothing of them may move the cursor or turn the direction of writing.
    text.chars().map(|c| if c == '\n' || !moves(c) { c } else { '\u{fffd}' }).collect()
}

/// A probability: never none and never all, since no reading is that sure.
fn chance(probability: f64) -> Explained {
    let shown = |value: f64| format!("{value:.3}").parse().expect("a share with three places");
    match probability {
        p if p < 0.001 => Explained::OffUnder { least: shown(0.001) },
        p if p > 0.999 => Explained::OffOver { most: shown(0.999) },
        p => Explained::Off { probability: shown(if p.is_finite() { p } else { 0.5 }) },
    }
}

fn moves(c: char) -> bool {
    c.is_control() || matches!(c, '\u{200e}' | '\u{200f}' | '\u{202a}'..='\u{202e}' | '\u{2066}'..='\u{2069}')
}

fn explained(
    text: &mut String,
    explanation: &Explanation,
    name: &impl Fn(&crate::profile::CircuitId) -> String,
    words: &Words,
) {
    let circuits: Vec<String> = explanation.circuits.iter().map(name).collect();
    let of = if circuits.is_empty() { String::new() } else { format!(": {}", circuits.join(", ")) };
    let cause = words.text(&explanation.cause);
    let _ = writeln!(text, "{:>4.0} % {cause}{of}", 100.0 * explanation.certainty);
    for (sign, reasons) in [('+', &explanation.reasons_for), ('-', &explanation.reasons_against)] {
        for reason in reasons {
            let _ =
                writeln!(text, "       {sign} {}{}", words.text(&reason.text), numbers(&reason.measurements));
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

fn found(text: &mut String, finding: &Finding, name: &str, words: &Words) {
    if finding.measurements.is_empty() {
        return;
    }
    let class = words.text(&Sentence::Verdict { class: finding.class, confirmed: finding.confirmed });
    let _ = writeln!(text, "\n{name}, {}: {class}", words.text(&finding.station));
    for step in &finding.derivation {
        let _ = writeln!(text, "  {}: {}", words.text(&step.what), words.text(&step.how));
    }
    if !finding.details.budget.is_empty() {
        for line in budget(finding, words).lines() {
            let _ = writeln!(text, "    {line}");
        }
    }
    for check in &finding.details.cross_checks {
        let _ = writeln!(text, "  {}", words.text(&Explained::CrossCheck { text: words.text(check) }));
    }
    for note in &finding.details.notes {
        let _ = writeln!(text, "  {}", words.text(&Explained::Remark { text: words.text(note) }));
    }
    if let Some(probability) = finding.details.fault_probability {
        let _ = writeln!(text, "  {}", words.text(&chance(probability)));
    }
}

/// An uncertainty budget as a table, as in JCGM 100:2008, table H.1.
#[must_use]
pub fn budget(finding: &Finding, words: &Words) -> String {
    let say = |what: Explained| words.text(&what);
    let ohms = |value: f64| words.marked(&format!("{value:.6}"));
    let mut text = format!(
        "{:<16} {:>4} {:>12}  {}\n",
        say(Explained::Source),
        say(Explained::Kind),
        say(Explained::StandardOhms),
        say(Explained::How)
    );
    for line in &finding.details.budget {
        let shared = if line.shared { format!(" {}", say(Explained::Shared)) } else { String::new() };
        let _ = writeln!(
            text,
            "{:<16} {:>4} {:>12}  {}{shared}",
            words.text(&line.source),
            format!("{:?}", line.kind),
            ohms(line.standard.get()),
            words.text(&line.how),
        );
    }
    let combined: f64 =
        finding.details.budget.iter().map(|line| line.standard.get().powi(2)).sum::<f64>().sqrt();
    let (root, expanded) = (say(Explained::RootOfSquares), ohms(2.0 * combined));
    let _ = writeln!(text, "{:<16} {:>4} {:>12}  {root}", say(Explained::Combined), "", ohms(combined));
    let _ = writeln!(text, "{:<16} {:>4} {expanded:>12}  k = 2", say(Explained::Expanded), "");
    text
}
