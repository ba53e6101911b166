//! Owns what the person sees while measuring: a view of what was said and heard, with no state of its own.

mod plain;

pub use plain::Plain;

use crate::session::{Event, Kind};

/// Something that shows the session.
pub trait Screen: Send {
    /// A line that is spoken too; `aside` is shown beside it only.
    fn said(&mut self, text: &str, kind: Kind, aside: Option<&str>);
    /// Something came in.
    fn came_in(&mut self, event: &Event);
    /// Something about the devices.
    fn notice(&mut self, text: &str);
}
