//! Owns the plain view: one line after the other, for terminals, pipes and screen readers alike. No colour carries meaning.

use super::{Label, Line, Screen, Who, wording};
use crate::{session::Event, words::Words};
use std::{io::Write, sync::Arc};

/// Width of the word in front of a line.
const MARGIN: usize = 9;

/// In front of a line that is said, as a value.
pub const VALUE: &str = "value";
/// With this in its environment the program writes values beside plain lines.
pub const VALUES_VARIABLE: &str = "BOTHHANDS_VALUES";

/// Lines on a stream.
///
/// Where it is asked for values, each line that is said is followed by one that holds it as a value, for a program that talks with
/// this one: `value`, and an object with `kind` and `message` as JSON.
#[derive(Debug)]
pub struct Plain<W> {
    to: W,
    words: Arc<Words>,
    values: bool,
}

impl<W: Write + Send> Plain<W> {
    /// Writes to `to`.
    pub fn new(to: W, words: Arc<Words>) -> Self {
        Self { to, words, values: false }
    }

    /// The same, with each line as a value after it where that is wanted.
    #[must_use]
    pub fn with_values(self, values: bool) -> Self {
        Self { values, ..self }
    }

    fn line(&mut self, who: Who, text: &str) {
        let who = self.words.text(&who);
        // A terminal that is gone must not end the session: the journal has it all.
        let _ = writeln!(self.to, "{who:<MARGIN$}{text}").and_then(|()| self.to.flush());
    }
}

impl<W: Write + Send> Screen for Plain<W> {
    fn said(&mut self, line: &Line<'_>) {
        let who = wording::who(line.kind);
        match line.aside {
            Some(aside) => self.line(who, &format!("{}  [{aside}]", line.text)),
            None => self.line(who, line.text),
        }
        if self.values {
            let value = serde_json::json!({ "kind": line.kind, "message": line.message });
            let _ = writeln!(self.to, "{VALUE} {value}").and_then(|()| self.to.flush());
        }
    }

    fn came_in(&mut self, event: &Event) {
        if let Some((who, what)) = wording::came_in(event, &self.words) {
            self.line(who, &what);
        }
    }

    fn notice(&mut self, text: &str) {
        self.line(Who::Notice, text);
    }

    fn journal(&mut self, path: &str) {
        let text = self.words.text(&Label::Journal { path: path.to_owned() });
        self.line(Who::Notice, &text);
    }
}
