//! Owns the plain view: one line after the other, for terminals, pipes and screen readers alike. No colour carries meaning.

use super::{Screen, wording};
use crate::session::{Event, Kind};
use std::io::Write;

/// Width of the word in front of a line.
const MARGIN: usize = 9;

/// Lines on a stream.
#[derive(Debug)]
pub struct Plain<W> {
    to: W,
}

impl<W: Write + Send> Plain<W> {
    /// Writes to `to`.
    pub fn new(to: W) -> Self {
        Self { to }
    }

    fn line(&mut self, who: &str, text: &str) {
        // A terminal that is gone must not end the session: the journal has it all.
        let _ = writeln!(self.to, "{who:<MARGIN$}{text}").and_then(|()| self.to.flush());
    }
}

impl<W: Write + Send> Screen for Plain<W> {
    fn said(&mut self, text: &str, kind: Kind, aside: Option<&str>) {
        let who = wording::who(kind);
        match aside {
            Some(aside) => self.line(who, &format!("{text}  [{aside}]")),
            None => self.line(who, text),
        }
    }

    fn came_in(&mut self, event: &Event) {
        if let Some((who, what)) = wording::came_in(event) {
            self.line(who, &what);
        }
    }

    fn notice(&mut self, text: &str) {
        self.line(wording::NOTICE, text);
    }
}
