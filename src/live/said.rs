//! Owns the comparison of what was said back with what came in, as the journal tells both.
//!
//! A read-back was written as it was said. Whoever changes a reading afterwards, and works out every hash anew, has to change the line
//! that was said to it as well.

use super::past::put;
use crate::{
    grammar::{Command, Utterance},
    journal::{Entry, Line, Past, Proof},
    quantity::Reading,
    session::{Event, Outcome, Session, State, read_out},
};
use serde_json::Value;

/// Goes through a journal and compares each reading with the line that it was said back with.
pub(super) fn compare(past: &Past, session: &Session) -> Vec<Proof> {
    let mut state = State::new(&session.profile);
    let mut readings = 0;
    let mut found = Vec::new();
    for (at, line) in past.lines.iter().enumerate() {
        let Entry::Event(event) = &line.entry else { continue };
        let known = state.taken.len();
        put(session, &mut state, past, line);
        session.follow_up(&mut state, line.at, event);
        let said = said_after(&past.lines[at + 1..]);
        let Some((text, value)) = said else { continue };
        match &state.taken[known..] {
            [] if only_asked(event) => {}
            [] => found.push(Proof::SaidOther { line: line.seq, now: None, said: text }),
            [.., taken] if taken.reading == Reading::NotTaken => {}
            [.., taken] => {
                readings += 1;
                let fits = read_out(&taken.reading)
                    .iter()
                    .any(|one| serde_json::to_value(one).is_ok_and(|one| one == value));
                if !fits {
                    let now = Some(taken.reading.to_string());
                    found.push(Proof::SaidOther { line: line.seq, now, said: text });
                }
            }
        }
    }
    if found.is_empty() && readings > 0 {
        found.push(Proof::SaidFits { readings });
    }
    found
}

/// The first reading that is said back before the next event: the line, and the reading as a value. None where none was, or the
/// program kept no values yet.
fn said_after(lines: &[Line]) -> Option<(String, Value)> {
    lines.iter().take_while(|line| !matches!(line.entry, Entry::Event(_))).find_map(|line| {
        match &line.entry {
            Entry::Spoken { text, message: Some(message) } => {
                Some((text.clone(), read_back(message)?.get("reading")?.clone()))
            }
            _ => None,
        }
    })
}

/// The read-back in a message.
fn read_back(message: &Value) -> Option<&Value> {
    if let Some(back) = message.get("read-back") {
        return back.as_object()?.values().find(|inner| inner.get("reading").is_some());
    }
    let both = message.get("then")?;
    [both.get("first"), both.get("then")].into_iter().flatten().find_map(read_back)
}

/// Whether a reading may be said back without one having come in: it was asked for, or said once more.
fn only_asked(event: &Event) -> bool {
    let utterance = match event {
        Event::Keyed { utterance, .. } => utterance.as_ref(),
        Event::Metered { utterance, .. } => Some(utterance),
        Event::Heard(hearing) => match &hearing.outcome {
            Outcome::Understood(utterance) => Some(utterance),
            Outcome::Doubtful(_) => return true,
            Outcome::NotInGrammar | Outcome::NoSpeech => None,
        },
        Event::Started | Event::Opened(_) | Event::ClockSet { .. } | Event::Tick => return true,
    };
    matches!(utterance, Some(Utterance::Command(Command::WhatWas(_) | Command::Repeat)))
}
