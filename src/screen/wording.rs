//! Owns the words that both views put before what was said, heard and typed.

use crate::session::{Event, Hearing, Kind, Outcome};

/// Before something about the devices.
pub(super) const NOTICE: &str = "notice";

/// Before a line that is said.
pub(super) fn who(kind: Kind) -> &'static str {
    match kind {
        Kind::Caution => "careful",
        Kind::Question => "asks",
        Kind::Prompt | Kind::Answer => "says",
        Kind::Conclusion => "result",
    }
}

/// What came in, with the word before it; none for what is not shown.
pub(super) fn came_in(event: &Event) -> Option<(&'static str, String)> {
    match event {
        Event::Heard(hearing) => heard(hearing).map(|text| ("heard", text)),
        Event::Keyed { text, .. } => Some(("typed", text.clone())),
        Event::Started | Event::Tick => None,
    }
}

fn heard(hearing: &Hearing) -> Option<String> {
    let first = hearing.opinions.first().map_or("", |opinion| opinion.words.as_str());
    match &hearing.outcome {
        Outcome::Understood(_) => Some(hearing.words.as_deref().unwrap_or(first).to_owned()),
        Outcome::Doubtful(_) => {
            let mut different: Vec<String> = Vec::new();
            for opinion in hearing.opinions.iter().filter(|opinion| !opinion.words.is_empty()) {
                let quoted = format!("\"{}\"", opinion.words);
                if !different.contains(&quoted) && different.len() < 2 {
                    different.push(quoted);
                }
            }
            Some(format!("{}, not sure", different.join(" or ")))
        }
        Outcome::NotInGrammar => Some(format!("\"{first}\", which says nothing here")),
        Outcome::NoSpeech => None,
    }
}
