//! Owns the plain view: one line after the other, for terminals, pipes and screen readers alike. No colour carries meaning.

use super::Screen;
use crate::session::{Event, Kind, Outcome};
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
        let who = match kind {
            Kind::Caution => "careful",
            Kind::Question => "asks",
            Kind::Prompt | Kind::Answer => "says",
            Kind::Conclusion => "result",
        };
        match aside {
            Some(aside) => self.line(who, &format!("{text}  [{aside}]")),
            None => self.line(who, text),
        }
    }

    fn came_in(&mut self, event: &Event) {
        match event {
            Event::Heard(hearing) => {
                let words = |by: usize| hearing.opinions.get(by).map_or("", |opinion| opinion.words.as_str());
                match &hearing.outcome {
                    Outcome::Understood(_) => self.line("heard", words(0)),
                    Outcome::Doubtful(_) => {
                        self.line("heard", &format!("\"{}\" or \"{}\", not sure", words(0), words(1)));
                    }
                    Outcome::NotInGrammar => {
                        self.line("heard", &format!("\"{}\", which says nothing here", words(0)));
                    }
                    Outcome::NoSpeech => {}
                }
            }
            Event::Keyed { text, .. } => self.line("typed", text),
            Event::Started | Event::Tick => {}
        }
    }

    fn notice(&mut self, text: &str) {
        self.line("notice", text);
    }
}
