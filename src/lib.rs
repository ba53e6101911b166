//! `bothhands`: a hands-free, spoken measuring log for pin-by-pin electrical checks with a multimeter.
//!
//! A pure core with a thin rim. An event enters (heard, typed, time passed), is journalled, changes the state of the
//! session and yields actions (say, show, listen). Screen, report and resume are folds over the same journal, and one
//! function judges readings whoever took them in.

pub mod cli;
pub mod grammar;
pub mod hear;
pub mod history;
pub mod journal;
pub mod keys;
pub mod live;
pub mod making;
pub mod measure;
pub mod profile;
pub mod quantity;
pub mod report;
pub mod scpi;
pub mod screen;
pub mod session;
pub mod settings;
pub mod simulate;
pub mod speak;
pub mod start;
pub mod verdict;
pub mod words;
