//! Owns the rules about what is said before measuring: gates and cautions.

use super::refuse_repeats;
use crate::profile::{
    faults::Found,
    raw_part::{RawGate, RawProfile},
};

/// The lists of gates: before measuring, before the harness, before the case.
pub(super) fn lists(raw: &RawProfile) -> [&[RawGate]; 3] {
    [&raw.gates, &raw.harness_gates, &raw.case_gates]
}

/// Two to five lower case words: one word is too easily heard in noise, and "yes" does not say what was done.
pub(super) fn confirmations_are_phrases(raw: &RawProfile, found: &mut Found) {
    for confirm in lists(raw).into_iter().flatten().filter_map(|gate| gate.confirm.as_ref()) {
        let words: Vec<&str> = confirm.value.split(' ').collect();
        let lower = words.iter().all(|word| {
            let inner = word.chars().all(|c| c.is_ascii_lowercase() || c == '-' || c == '\'');
            inner && word.starts_with(|c: char| c.is_ascii_lowercase())
        });
        if !lower {
            found.add(
                &confirm.spot,
                format!("\"{}\" is not made of lower case words with one blank between", confirm.value),
                "write it as it is said: \"supply off\"; numbers as words",
            );
        } else if !(2..=5).contains(&words.len()) {
            found.add(
                &confirm.spot,
                format!("\"{}\" is not two to five words", confirm.value),
                "say what was done: \"supply off\"; a single word is too easily heard in noise",
            );
        }
    }
}

pub(super) fn confirmations_are_unique(raw: &RawProfile, found: &mut Found) {
    for gates in lists(raw) {
        let phrases = gates.iter().filter_map(|gate| gate.confirm.as_ref());
        refuse_repeats(
            phrases.map(|phrase| (phrase.value.as_str(), &phrase.spot)),
            found,
            |phrase| format!("another gate is confirmed by \"{phrase}\" already"),
            "each gate has a phrase of its own that says what was done",
        );
    }
}

pub(super) fn there_are_cautions(raw: &RawProfile, found: &mut Found) {
    if let Some(cautions) = &raw.cautions
        && cautions.value.is_empty()
        && !found.has_below(&cautions.spot.key)
    {
        found.add(
            &cautions.spot,
            "there are no cautions",
            "name at least what can hurt or break at this part",
        );
    }
}
