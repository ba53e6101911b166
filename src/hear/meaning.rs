//! Owns what words mean to the ears: homophones put right, fillers left out, unknown sounds never meant. Pure.

use super::recognise::UNKNOWN;
use crate::grammar::Utterance;
use std::sync::Arc;

/// From words to a meaning, as the grammar has it; none for what may not be said now.
pub type Parse = Arc<dyn Fn(&str) -> Option<Utterance> + Send + Sync>;

/// Words that sound alike, each with the one that stands for all of them when opinions are compared.
const ALIKE: [(&str, &str); 20] = [
    ("to", "two"),
    ("too", "two"),
    ("for", "four"),
    ("fore", "four"),
    ("won", "one"),
    ("ate", "eight"),
    ("own", "ohm"),
    ("home", "ohm"),
    ("om", "ohm"),
    ("owns", "ohms"),
    ("homes", "ohms"),
    ("o", "oh"),
    ("owe", "oh"),
    ("know", "no"),
    ("sex", "six"),
    ("tin", "ten"),
    ("okay", "ok"),
    ("write", "right"),
    ("weight", "wait"),
    ("read", "red"),
];
/// Sounds between words that mean nothing.
pub(super) const FILLERS: [&str; 6] = ["uh", "um", "hmm", "er", "ah", "mm"];

/// Words as they are compared: one word for all that sound alike, no fillers, no unknown sounds.
#[must_use]
pub fn comparable(words: &str) -> String {
    words
        .split_whitespace()
        .filter(|w| !FILLERS.contains(w) && *w != UNKNOWN)
        .map(|w| ALIKE.iter().find(|(from, _)| from == &w).map_or(w, |(_, to)| to))
        .collect::<Vec<_>>()
        .join(" ")
}

/// Those of the words that can stand in a number: alone, behind one, or between two.
#[must_use]
pub fn of_numbers(words: &[String], parse: &dyn Fn(&str) -> Option<Utterance>) -> Vec<String> {
    let value = |text: &str| matches!(parse(text), Some(Utterance::Reading(_) | Utterance::Entry(_)));
    let number = |text: &str| {
        matches!(
            parse(text),
            Some(Utterance::Reading(crate::grammar::Spoken::Number(_)) | Utterance::Entry(_))
        )
    };
    let Some(digit) = words.iter().find(|word| number(word)) else { return Vec::new() };
    words
        .iter()
        .filter(|w| number(w) || value(&format!("{digit} {w}")) || value(&format!("{digit} {w} {digit}")))
        .cloned()
        .collect()
}

/// The meaning of words, as said, or else without fillers and with homophones put right.
pub fn meaning(words: &str, parse: &dyn Fn(&str) -> Option<Utterance>) -> Option<Utterance> {
    if words.is_empty() {
        return None;
    }
    let known: Vec<&str> =
        words.split_whitespace().filter(|w| !FILLERS.contains(w) && *w != UNKNOWN).collect();
    parse(words).or_else(|| parse(&known.join(" "))).or_else(|| parse(&comparable(words)))
}
