//! Owns the history: a store over many sessions, made from their journals and nothing else.
//!
//! It can be thrown away and made again at any time; what is not in a journal is not in it. So it holds no truth of its own, and a
//! damaged store is no loss.

mod compare;
mod error;
mod fill;
mod last_time;
mod list;
mod store;
#[cfg(test)]
mod tests;

pub use compare::{Beside, Comparison, Earlier};
pub use error::HistoryError;
pub use fill::Refreshed;
pub use last_time::{Sought, last_time};
pub use list::{Filter, Seen};
pub use store::{SCHEMA, Store};
