//! Owns what may be said: words to [`Utterance`], values to spoken words, and the list of phrases for the recogniser.

pub mod utterance;

pub use utterance::*;
