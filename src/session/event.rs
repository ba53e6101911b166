//! Owns what may happen to a session. Every event is journalled before it changes anything.

use super::rules::Rules;
use crate::grammar::Utterance;
use serde::{Deserialize, Serialize};

/// Something that happened. The journal stores it with its time; the state is a fold over these.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub enum Event {
    /// The session was opened anew, or opened again: safety, leads and temperature are taken from here on.
    Started,
    /// The same, by a program that notes the rules by which it takes what is heard and typed.
    Opened(Rules),
    /// A stretch of sound was heard, whatever came of it.
    Heard(Hearing),
    /// Something was typed or pressed.
    Keyed {
        /// What was typed, as typed.
        text: String,
        /// What it means; none where it was not understood.
        utterance: Option<Utterance>,
    },
    /// The meter on the line gave a reading: taken as a typed one is, and marked so.
    Metered {
        /// What the meter sent, as sent.
        text: String,
        /// The same as a reading.
        utterance: Utterance,
    },
    /// The system's clock went otherwise than time did: it was set, or the machine slept.
    ClockSet {
        /// By how many milliseconds the clock went further than time; below 0 it was set back.
        by_ms: i64,
    },
    /// Time passed without anything else happening (sent about once a second while waiting).
    Tick,
}

/// One stretch of sound: what all opinions heard, and what came of it. Nothing heard is thrown away.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Hearing {
    /// File name of the sound clip in the folder beside the journal, where it was kept.
    pub clip: Option<String>,
    /// The opinions, the first one first.
    pub opinions: Vec<Opinion>,
    /// What came of it.
    pub outcome: Outcome,
    /// The words of the first candidate, where there is one.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub words: Option<String>,
    /// How likely the first candidate is wrong, 0 to 1, judged by the sound alone.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub doubt: Option<f32>,
    /// Whether it was nearly clear: taken without a question, read back in full and marked.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub marked: bool,
    /// Whether it is the value heard just before with more to it: it replaces that one.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub continues: bool,
    /// Length of the stretch in milliseconds.
    pub length_ms: u32,
    /// Level of the loudest part in decibels against full scale.
    pub level_dbfs: f32,
    /// Level of the room before it, in decibels against full scale.
    pub room_dbfs: f32,
    /// From the end of the sound to the result, in milliseconds.
    pub latency_ms: u32,
}

/// What one decoding made of the sound.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, schemars::JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Opinion {
    /// Which decoding ("phrases", "second", "words").
    pub by: String,
    /// The words, `[unk]` included.
    pub words: String,
    /// Margin between the best and the second best hypothesis, where it is known. No probability.
    pub margin: Option<f32>,
    /// How far it puts the first candidate ahead of every other meaning; below 0 where it prefers another one. What means nothing
    /// is not compared.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub support: Option<f32>,
}

/// What came of a stretch of sound.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub enum Outcome {
    /// The opinions agree on a meaning.
    Understood(Utterance),
    /// They do not, or one alone has a meaning: to be asked. One or two candidates.
    Doubtful(Vec<Utterance>),
    /// Nothing that may be said.
    NotInGrammar,
    /// No speech (noise, own voice, too short).
    NoSpeech,
}
