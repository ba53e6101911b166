//! Owns the one place that knows how a judgement says what it says: level, circuits named, causes, next checks.
//!
//! It goes by the judgement as JSON, which is what journals and other programs read. Everything else in this test goes by [`Said`].

use bothhands::verdict::Judgement;
use serde_json::Value;

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
    let named = conclusion["explanations"]
        .as_array()
        .into_iter()
        .flatten()
        .filter(|one| one["cause"] == "component")
        .flat_map(|one| texts(&one["circuits"]))
        .collect();
    let next = json["next_checks"]
        .as_array()
        .into_iter()
        .flatten()
        .map(|check| vec![word(check["action"].as_str().unwrap_or(""))])
        .collect();
    Said { level, named, causes, next }
}

/// An action in the words of the cases.
fn word(action: &str) -> String {
    match action {
        "clean-and-read-again" => "clean",
        "read-known-good" => "known-good",
        other => other,
    }
    .to_owned()
}
