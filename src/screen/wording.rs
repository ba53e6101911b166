//! Owns what both views put before what was said, heard and typed.

use super::label::{Label, Who};
use crate::{
    session::{Event, Hearing, Kind, Outcome},
    words::Words,
};

/// Before a line that is said.
pub(super) fn who(kind: Kind) -> Who {
    match kind {
        Kind::Caution => Who::Careful,
        Kind::Question => Who::Asks,
        Kind::Prompt | Kind::Answer => Who::Says,
        Kind::Conclusion => Who::Result,
    }
}

/// What came in, and from whom; none for what is not shown.
pub(super) fn came_in(event: &Event, words: &Words) -> Option<(Who, String)> {
    match event {
        Event::Heard(hearing) => heard(hearing, words).map(|text| (Who::Heard, text)),
        Event::Keyed { text, .. } => Some((Who::Typed, printable(text))),
        Event::Metered { text, .. } => Some((Who::Meter, printable(text))),
        Event::Started | Event::Opened(_) | Event::ClockSet { .. } | Event::Tick => None,
    }
}

/// What was typed, without signs that would steer the terminal.
fn printable(text: &str) -> String {
    text.chars().map(|letter| if letter.is_control() { '\u{fffd}' } else { letter }).collect()
}

fn heard(hearing: &Hearing, words: &Words) -> Option<String> {
    let first = hearing.opinions.first().map_or("", |opinion| opinion.words.as_str());
    match &hearing.outcome {
        Outcome::Understood(_) => Some(hearing.words.as_deref().unwrap_or(first).to_owned()),
        Outcome::Doubtful(_) => {
            let mut different: Vec<String> = Vec::new();
            for opinion in hearing.opinions.iter().filter(|opinion| !opinion.words.is_empty()) {
                if !different.contains(&opinion.words) && different.len() < 2 {
                    different.push(opinion.words.clone());
                }
            }
            let mut different = different.into_iter();
            let first = different.next().unwrap_or_default();
            Some(words.text(&Label::HeardUnsure { first, second: different.next() }))
        }
        Outcome::NotInGrammar => Some(words.text(&Label::HeardNothing { words: first.to_owned() })),
        Outcome::NoSpeech => None,
    }
}
