//! Owns what the person sees while measuring: a view of what was said and heard, with no state of its own.
//!
//! [`Plain`] writes lines, for pipes and screen readers; [`Full`] fills a terminal with letters that are read from two metres.

mod connector;
mod draw;
mod full;
pub mod glyphs;
mod label;
mod picture;
mod plain;
mod terminal;
#[cfg(test)]
mod tests;
mod view;
mod wording;

pub use draw::{Look, draw};
pub use full::Full;
pub use label::{Label, Who};
pub use picture::Picture;
pub use plain::{Plain, VALUE, VALUES_VARIABLE};
pub use terminal::outlive_terminal;
pub use view::{Last, PinMark, Probe, View};

use crate::{
    hear::Levels,
    session::{Event, Kind, Message, Session, State},
};

/// A line that is spoken and shown.
#[derive(Debug, Clone, Copy)]
pub struct Line<'a> {
    /// As a value.
    pub message: &'a Message,
    /// In words.
    pub text: &'a str,
    /// What kind of line it is.
    pub kind: Kind,
    /// What is shown beside it only.
    pub aside: Option<&'a str>,
}

/// Something that shows the session.
pub trait Screen: Send {
    /// A line that is spoken too.
    fn said(&mut self, line: &Line<'_>);
    /// Something came in.
    fn came_in(&mut self, event: &Event);
    /// Something about the devices.
    fn notice(&mut self, text: &str);
    /// Where the journal lies.
    fn journal(&mut self, path: &str);
    /// Where the session stands now: after every step.
    fn stands(&mut self, _session: &Session, _state: &State) {}
    /// What is being typed on a keypad.
    fn typing(&mut self, _text: &str) {}
    /// What the ears are at: several times a second.
    fn listening(&mut self, _listening: Listening) {}
}

/// The ears, as they are shown.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Listening {
    /// Whether they listen.
    pub ears: Ears,
    /// Levels of the microphone, where there is one.
    pub levels: Option<Levels>,
}

/// Whether the ears listen.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Ears {
    /// There are none: keys alone.
    #[default]
    None,
    /// They listen.
    Open,
    /// They are shut while the voice speaks.
    OwnVoice,
    /// They are shut until the talk key or the pedal is pressed.
    Shut,
}
