//! Owns the one place that knows how a judgement says what it says: level, circuits named, causes, next checks.
//!
//! It goes by the judgement as JSON, which is what journals and other programs read. Everything else in this test goes by [`Said`].

use bothhands::verdict::Judgement;
use serde_json::Value;
use std::collections::BTreeMap;

/// What a judgement says, in the words of the cases.
#[derive(Debug, Clone, Default)]
pub struct Said {
    /// failed, probably, one-of, cannot-tell, nothing-found, nothing-so-far, cured-by-cleaning.
    pub level: String,
    /// Circuits that are spoken of as faulty or suspect themselves.
    pub named: Vec<String>,
    /// Causes, likeliest first.
    pub causes: Vec<(String, f64)>,
    /// The checks, in order, in the words of the cases; several words may fit one check.
    pub next: Vec<Vec<String>>,
}

fn texts(value: &Value) -> Vec<String> {
    value.as_array().into_iter().flatten().filter_map(Value::as_str).map(str::to_owned).collect()
}

/// The circuits that a hypothesis blames for themselves: the part, their terminal, their wire or their way to the case. Not
/// those behind a shared pin, joined ones, cured ones, and those that only a code names.
fn blamed(hypothesis: &Value, into: &mut Vec<String>) {
    let Some((kind, of)) = hypothesis.as_object().and_then(|object| object.iter().next()) else { return };
    match kind.as_str() {
        "faulty" | "wire" | "load" => into.extend(texts(&of["circuits"])),
        "to-case" if of["pin"].is_null() => into.extend(texts(&of["circuits"])),
        "both" => of["all"].as_array().into_iter().flatten().for_each(|one| blamed(one, into)),
        _ => {}
    }
}

/// Reads a judgement.
pub fn said(judgement: &Judgement) -> Said {
    let json = serde_json::to_value(judgement).expect("a judgement is JSON");
    let conclusion = &json["conclusion"];
    let level = conclusion["level"].as_str().unwrap_or("no level").to_owned();
    let mut causes: Vec<(String, f64)> = conclusion["explanations"]
        .as_array()
        .into_iter()
        .flatten()
        .map(|one| (one["cause"].as_str().unwrap_or("").to_owned(), one["certainty"].as_f64().unwrap_or(0.0)))
        .collect();
    causes.sort_by(|a, b| b.1.total_cmp(&a.1));
    let mut blame: BTreeMap<String, f64> = BTreeMap::new();
    for weighed in conclusion["hypotheses"].as_array().into_iter().flatten() {
        let mut circuits = Vec::new();
        blamed(&weighed["hypothesis"], &mut circuits);
        circuits.sort();
        circuits.dedup();
        for circuit in circuits {
            *blame.entry(circuit).or_default() += weighed["probability"].as_f64().unwrap_or(0.0);
        }
    }
    // Of "one of these" each is spoken of; else what is likelier than not.
    let from = if level == "one-of" { 0.2 } else { 0.5 };
    let named = blame.into_iter().filter(|(_, p)| *p >= from).map(|(circuit, _)| circuit).collect();
    let not_taken = |circuit: &Value| {
        json["findings"]
            .as_array()
            .into_iter()
            .flatten()
            .any(|finding| finding["circuit"] == *circuit && finding["class"] == "not-taken")
    };
    let next = json["next_checks"]
        .as_array()
        .into_iter()
        .flatten()
        .map(|check| {
            let mut words = vec![word(check["action"].as_str().unwrap_or(""))];
            if words[0] == "read-again" && not_taken(&check["circuit"]) {
                words.push("read".to_owned());
            }
            words
        })
        .collect();
    Said { level, named, causes, next }
}

/// An action in the words of the cases.
fn word(action: &str) -> String {
    match action {
        "clean-and-read-again" => "clean",
        "read-known-good" => "known-good",
        "reseat-common" => "reseat",
        "take-temperature" => "temperature",
        other => other,
    }
    .to_owned()
}
