//! Owns the log that cannot be lost: append-only JSON lines, one entry each, synced before anything is acknowledged.

pub mod entry;

pub use entry::*;
