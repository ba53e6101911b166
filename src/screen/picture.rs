//! Owns what the full screen has to show: the session's view, the last lines, what is heard and typed.

use super::{Listening, View, Who, wording};
use crate::{
    session::{Event, Kind},
    words::Words,
};
use std::collections::VecDeque;

/// Lines that are kept for being shown; the journal keeps all.
const KEPT: usize = 200;

/// Everything that is drawn. A value: the same picture gives the same screen.
#[derive(Debug, Clone, Default)]
pub struct Picture {
    /// The session, once it has begun.
    pub view: Option<View>,
    /// What was said, heard and typed, oldest first: who, and what.
    pub lines: VecDeque<(Who, String)>,
    /// The line said last.
    pub said: Option<(Kind, String)>,
    /// What came in last.
    pub came_in: Option<(Who, String)>,
    /// The last notice about devices.
    pub notice: Option<String>,
    /// The ears.
    pub listening: Listening,
    /// What is being typed.
    pub typing: String,
}

impl Picture {
    /// Takes a line that is said.
    pub fn said(&mut self, text: &str, kind: Kind) {
        self.said = Some((kind, text.to_owned()));
        self.line(wording::who(kind), text.to_owned());
    }

    /// Takes what came in.
    pub fn came_in(&mut self, event: &Event, words: &Words) {
        if let Some((who, what)) = wording::came_in(event, words) {
            self.came_in = Some((who, what.clone()));
            self.notice = None;
            self.line(who, what);
        }
    }

    /// Takes a notice. It stays until something comes in.
    pub fn notice(&mut self, text: &str) {
        self.notice = Some(text.to_owned());
        self.line(Who::Notice, text.to_owned());
    }

    /// Takes a line that is shown among the others only.
    pub fn line(&mut self, who: Who, what: String) {
        if self.lines.len() == KEPT {
            self.lines.pop_front();
        }
        self.lines.push_back((who, what));
    }
}
