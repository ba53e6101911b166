//! Owns how journals of older programs are filed, which do not name the reading that was waited for: by the line that asked for it.
//!
//! What is read again after the round is planned by the verdict engine, and another engine may plan otherwise. So the prompt that was
//! said goes before the plan of today: a reading belongs to the circuit that it was asked for.

use crate::{
    journal::{Entry, Line},
    session::{Awaited, Purpose, Session, State, Task, message::Prompt},
    verdict::{Contact, Station},
    words::{self, Words},
};
use jiff::Timestamp;

/// Puts prompts into the words that they may have been said in.
pub(super) struct Prompts {
    languages: Vec<Words>,
}

impl Prompts {
    pub fn new() -> Self {
        Self { languages: words::languages().iter().filter_map(|tag| Words::builtin(tag).ok()).collect() }
    }

    /// Puts the session where the line said last shows that it stood. Tells whether that line settles it.
    pub fn put(&self, session: &Session, state: &mut State, at: Timestamp, before: &[Line]) -> bool {
        let Some(said) = said_last(before) else { return false };
        // Where it stands anyway: nearly always.
        if session.prompt(state).is_some_and(|prompt| self.ends_with(said, &prompt)) {
            return true;
        }
        if state.current().is_none() && !session.is_through(state) {
            return false;
        }
        if self.ends_with(said, &Prompt::AllRead) {
            session.put_aside(state);
            return true;
        }
        let Some(task) = self.task(session, state, said) else { return false };
        let Task { circuit, station, purpose, contact } = task;
        let circuit = session.profile.circuits[circuit].id.clone();
        session.put(state, at, &Awaited { circuit, station, contact, purpose });
        true
    }

    /// The task that a line asks for: one that is open before one that would be new.
    fn task(&self, session: &Session, state: &State, said: &str) -> Option<Task> {
        let asks = |task: &Task| {
            [true, false].iter().any(|moves| self.ends_with(said, &session.prompt_for(task, *moves)))
        };
        let open = (0..state.plan.len()).filter(|place| state.answer(*place).is_none());
        let mut planned = open.map(|place| state.plan[place]);
        planned.find(asks).or_else(|| every(session).find(asks))
    }

    fn ends_with(&self, said: &str, prompt: &impl serde::Serialize) -> bool {
        self.languages.iter().any(|words| said.ends_with(&words.text(prompt)))
    }
}

/// Every task that there can be, the usual ones first.
fn every(session: &Session) -> impl Iterator<Item = Task> {
    let kinds = [
        (Purpose::Recheck, Contact::Cleaned),
        (Purpose::Recheck, Contact::Usual),
        (Purpose::KnownGood, Contact::Usual),
        (Purpose::Elsewhere, Contact::Usual),
        (Purpose::Round, Contact::Usual),
    ];
    let stations = [Station::Component, Station::Harness, Station::Case];
    let count = session.profile.circuits.len();
    stations.into_iter().flat_map(move |station| {
        kinds.into_iter().flat_map(move |(purpose, contact)| {
            (0..count).map(move |circuit| Task { circuit, station, purpose, contact })
        })
    })
}

/// The line that was said last, where no event came after it.
fn said_last(before: &[Line]) -> Option<&str> {
    match &before.last()?.entry {
        Entry::Spoken { text, .. } => Some(text),
        _ => None,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{grammar::Grammar, journal, live};
    use std::path::Path;

    /// Of the journals kept of an older program each reading is filed by its prompt alone: with a plan in which nothing is planned
    /// again, they belong to the same circuits, read with the same contact.
    #[test]
    fn readings_of_older_journals_are_filed_by_what_was_said() {
        let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/journals");
        for name in ["concluded", "resumed"] {
            let past = journal::read(&folder.join(format!("{name}.jsonl"))).unwrap();
            let replayed = live::replay(&past, Grammar::builtin("en").unwrap()).unwrap();
            let session = &replayed.session;
            let prompts = Prompts::new();
            for taken in &replayed.state.taken {
                let line = replayed.line_of[&taken.id] as usize - 1;
                let said = said_last(&past.lines[..line]).unwrap();
                let mut state = State::new(&session.profile);
                state.plan.clear();
                let (task, planned) = (prompts.task(session, &state, said), replayed.state.plan[taken.task]);
                let Some(task) = task else { panic!("{name}: {said}") };
                assert_eq!((task.circuit, task.station), (planned.circuit, planned.station), "{said}");
                assert_eq!(task.contact, planned.contact, "{said}");
            }
        }
    }
}
