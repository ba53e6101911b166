//! Owns the part of the page that says what it amounts to.

use super::{
    super::{amounts, wording},
    esc,
};
use crate::{
    report::Record,
    verdict::{Explanation, NextCheck, Observed, Reason},
};

pub(super) fn section(record: &Record) -> String {
    let judgement = &record.judgement;
    let conclusion = &judgement.conclusion;
    let explanations: String =
        conclusion.explanations.iter().map(|explanation| told(record, explanation)).collect();
    let patterns: String = judgement
        .patterns
        .iter()
        .map(|found| format!("<li><b>{}.</b> {}</li>\n", wording::pattern(found.kind), esc(&found.text)))
        .collect();
    let boxes = [
        listed("Seen over several circuits", &patterns),
        listed("Also observed", &judgement.observed.iter().map(observed).collect::<String>()),
        listed("Next checks", &judgement.next_checks.iter().map(check).collect::<String>()),
        listed("Not excluded", &items(&conclusion.not_excluded)),
        listed("Mind", &items(&conclusion.cautions)),
    ];
    format!(
        "<section class=\"conclusion\">\n<h2>Conclusion</h2>\n<p class=\"headline\">{}</p>\n\
         <ul class=\"explanations\">\n{explanations}</ul>\n<div class=\"boxes\">\n{}</div>\n</section>\n",
        esc(&conclusion.headline),
        boxes.concat(),
    )
}

fn told(record: &Record, explanation: &Explanation) -> String {
    let circuits: Vec<_> =
        explanation.circuits.iter().map(|id| wording::circuit_name(&record.profile, id)).collect();
    let circuits = if circuits.is_empty() { String::new() } else { format!(": {}", circuits.join(", ")) };
    let width = (explanation.certainty.clamp(0.0, 1.0) * 100.0).round();
    let reasons = |class: &str, label: &str, reasons: &[Reason]| -> String {
        reasons
            .iter()
            .map(|reason| {
                format!(
                    "<li class=\"{class}\"><span class=\"side\">{label}</span> {}{}</li>\n",
                    esc(&reason.text),
                    rests_on(&reason.measurements)
                )
            })
            .collect()
    };
    format!(
        "<li>\n<p class=\"cause\"><span class=\"bar\" aria-hidden=\"true\"><i style=\"width:{width}%\"></i></span>\
         <b>{}</b> <span>{}{}</span></p>\n<ul class=\"reasons\">\n{}{}</ul>\n</li>\n",
        amounts::percent(explanation.certainty),
        wording::cause(explanation.cause),
        esc(&circuits),
        reasons("for", "for", &explanation.reasons_for),
        reasons("against", "against", &explanation.reasons_against),
    )
}

/// Links to the readings that something rests on.
pub(super) fn rests_on(measurements: &[u32]) -> String {
    if measurements.is_empty() {
        return String::new();
    }
    let links: Vec<_> = measurements.iter().map(|id| format!("<a href=\"#r{id}\">{id}</a>")).collect();
    let word = if links.len() == 1 { "reading" } else { "readings" };
    format!(" <span class=\"refs\">({word} {})</span>", links.join(", "))
}

fn observed(one: &Observed) -> String {
    let stands = Some(wording::stands(one)).filter(|words| !words.is_empty());
    let stands = stands.map_or(String::new(), |words| format!(" ({words})"));
    format!(
        "<li><b>{}{stands}.</b> {}{}</li>\n",
        wording::about(one.about),
        esc(&one.text),
        rests_on(&one.measurements)
    )
}

fn check(check: &NextCheck) -> String {
    format!("<li>{} <span class=\"why\">{}</span></li>\n", esc(&check.text), esc(&check.why))
}

fn items(texts: &[String]) -> String {
    texts.iter().map(|text| format!("<li>{}</li>\n", esc(text))).collect()
}

fn listed(name: &str, items: &str) -> String {
    if items.is_empty() {
        return String::new();
    }
    let list = if name == "Next checks" { "ol" } else { "ul" };
    format!("<div>\n<h3>{name}</h3>\n<{list}>\n{items}</{list}>\n</div>\n")
}
