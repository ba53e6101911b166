//! Owns how a session is shown afterwards: terminal summary, page, table, machine-readable form, and the blank sheet.
//!
//! Everything here is a pure function of a [`Record`] (or of profile and meter, for the sheet). Nothing is judged or
//! computed again: verdicts, uncertainties and limits stand as [`crate::verdict`] gave them. [`save`] and [`enclose`] alone
//! touch the disk.

mod amounts;
mod csv;
mod enclose;
pub(crate) mod explain;
mod html;
mod json;
mod judged;
mod layout;
mod learn;
mod mark;
mod record;
pub(crate) mod said;
mod save;
mod text;
mod wording;

pub use csv::csv;
pub use enclose::{Enclosed, NoSound, enclose};
pub use explain::{budget, explain};
pub use html::{filled_sheet, html, html_with_sound, sheet};
pub use json::{JSON_FORMAT, evidence_in, json, record_schema};
pub use judged::{Again, Basis, Difference, JudgedBy, JudgedLine, PointCause, PointClass, Points};
pub use learn::{Lesson, figures, learn, summaries, teaches};
pub use record::*;
pub use said::Stamp;
pub use save::{ReportError, Saved, save, save_with_sound};
pub use text::{TEXT_WIDTH, text};
