//! Owns what came of a clip and the counts over many: pure, from hearings to shares.

use super::bounds;
use crate::{
    grammar::{Spoken, Utterance},
    hear::meaning::comparable,
    session::{Hearing, Outcome},
};
use serde::Serialize;

/// What came of one clip.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum What {
    /// Taken without asking, and it was said.
    Right,
    /// Taken without asking, and it was not said.
    Wrong,
    /// Taken and marked, and it was said.
    Marked,
    /// Taken and marked, and it was not said.
    MarkedWrong,
    /// Asked.
    Asked,
    /// Nothing was taken and nothing specific asked, though something was said.
    Rejected,
    /// Nothing was said and nothing taken or asked.
    Quiet,
    /// Nothing was said, and it was asked.
    AskedForNothing,
    /// Nothing was said, and a reading or command was taken.
    FalseReading,
}

/// What was heard of one clip.
#[derive(Debug, Clone, PartialEq)]
pub struct Heard {
    /// The stretches, in order.
    pub hearings: Vec<Hearing>,
    /// From the end of the last word to the last answer, in milliseconds; none without an answer.
    pub latency_ms: Option<f64>,
    /// Length of the sound in seconds.
    pub sound_s: f64,
    /// Time spent on it in seconds, all opinions added up.
    pub spent_s: f64,
}

/// One clip with what came of it.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Scored {
    /// The file.
    pub file: String,
    /// The speaker.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub speaker: Option<String>,
    /// What was said.
    pub said: String,
    /// What the first opinion heard.
    pub heard: String,
    /// What came of it.
    pub what: What,
    /// Whether the value taken, or the first one asked, is the one said.
    pub value_right: bool,
    /// Words said, and words wrong, missing or too many.
    pub words: usize,
    /// Words wrong, missing or too many.
    pub words_wrong: usize,
    /// The largest doubt of a stretch.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub doubt: Option<f32>,
    /// From the end of the last word to the last answer, in milliseconds.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub latency_ms: Option<f64>,
    /// The stretches.
    pub stretches: Vec<Hearing>,
    /// Length of the sound in seconds.
    pub sound_s: f64,
    /// Time spent in seconds.
    pub spent_s: f64,
}

/// Scores a clip. `said` are its words, `meant` what they mean (none: nothing that may be said).
#[must_use]
pub fn score(
    file: &str,
    speaker: Option<&str>,
    said: &str,
    meant: Option<&Utterance>,
    heard: Heard,
) -> Scored {
    // A value that went on stands in the place of its beginning.
    let mut stretches: Vec<Hearing> = Vec::new();
    for hearing in heard.hearings {
        if hearing.continues {
            stretches.pop();
        }
        stretches.push(hearing);
    }
    let told: Vec<&Hearing> = stretches.iter().filter(|h| h.outcome != Outcome::NoSpeech).collect();
    let taken: Vec<(&Utterance, bool)> = told
        .iter()
        .filter_map(|h| if let Outcome::Understood(u) = &h.outcome { Some((u, h.marked)) } else { None })
        .collect();
    let asked = told.iter().any(|h| matches!(h.outcome, Outcome::Doubtful(_)));
    let right = |u: &Utterance| meant.is_some_and(|meant| same(u, meant));
    let what = if said.is_empty() {
        match (taken.is_empty(), asked) {
            (false, _) => What::FalseReading,
            (true, true) => What::AskedForNothing,
            (true, false) => What::Quiet,
        }
    } else if taken.iter().any(|(u, marked)| !right(u) && !marked) {
        What::Wrong
    } else if taken.iter().any(|(u, _)| !right(u)) {
        What::MarkedWrong
    } else if asked {
        What::Asked
    } else if taken.is_empty() {
        What::Rejected
    } else if taken.iter().any(|(_, marked)| *marked) {
        What::Marked
    } else {
        What::Right
    };
    let first: Vec<&Utterance> = told
        .iter()
        .filter_map(|h| match &h.outcome {
            Outcome::Understood(u) => Some(u),
            Outcome::Doubtful(candidates) => candidates.first(),
            _ => None,
        })
        .collect();
    let value_right = matches!(first[..], [one] if right(one));
    let words: Vec<&str> =
        stretches.iter().filter_map(|h| h.opinions.first()).map(|o| o.words.as_str()).collect();
    let heard_words = words.join(" ").trim().to_owned();
    let (said_as, heard_as) = (compared(said), compared(&heard_words));
    Scored {
        file: file.to_owned(),
        speaker: speaker.map(str::to_owned),
        said: said.to_owned(),
        what,
        value_right,
        words: said_as.len(),
        words_wrong: distance(&said_as, &heard_as),
        heard: heard_words,
        doubt: stretches.iter().filter_map(|h| h.doubt).max_by(f32::total_cmp),
        latency_ms: heard.latency_ms,
        stretches,
        sound_s: heard.sound_s,
        spent_s: heard.spent_s,
    }
}

/// Whether two utterances come to the same: of numbers the value, its places, prefix and unit count, not the way of putting it.
fn same(a: &Utterance, b: &Utterance) -> bool {
    match (a, b) {
        (Utterance::Reading(Spoken::Number(a)), Utterance::Reading(Spoken::Number(b))) => {
            (a.number, a.prefix, a.unit) == (b.number, b.prefix, b.unit)
        }
        _ => a == b,
    }
}

/// Words as they are compared: homophones and both words for nought are one.
fn compared(words: &str) -> Vec<String> {
    let one = |w: &str| if w == "oh" { "zero".to_owned() } else { w.to_owned() };
    comparable(words).split_whitespace().map(one).collect()
}

/// Words wrong: insertions, deletions and substitutions (Levenshtein).
#[must_use]
pub fn distance<W: PartialEq>(said: &[W], heard: &[W]) -> usize {
    let mut row: Vec<usize> = (0..=said.len()).collect();
    for (i, h) in heard.iter().enumerate() {
        let mut before = row[0];
        row[0] = i + 1;
        for (j, s) in said.iter().enumerate() {
            let next = (row[j + 1] + 1).min(row[j] + 1).min(before + usize::from(s != h));
            before = std::mem::replace(&mut row[j + 1], next);
        }
    }
    row[said.len()]
}

/// Shares over many clips.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Tally {
    /// Clips.
    pub clips: usize,
    /// Of these, clips in which something was said.
    pub spoken: usize,
    /// Words said.
    pub words: usize,
    /// 1 less the share of words wrong, missing or too many in the first opinion.
    pub word_accuracy: f64,
    /// Share of the spoken clips whose value was taken, or asked first.
    pub value_accuracy: f64,
    /// Share of the spoken clips that were taken without asking or marking, and wrong.
    pub silently_wrong: f64,
    /// Its 95 % bounds, clustered by speaker where known.
    pub silently_wrong_bounds: (f64, f64),
    /// Share of the spoken clips that were taken and marked, right or wrong.
    pub marked: f64,
    /// Share of the spoken clips that were taken and marked, and wrong.
    pub marked_wrong: f64,
    /// Share of the spoken clips that were asked.
    pub asked: f64,
    /// Share of the spoken clips of which nothing was taken or asked.
    pub rejected: f64,
    /// Share of the clips without speech of which a reading or command was taken.
    pub false_readings: f64,
    /// Their number.
    pub false_readings_count: usize,
    /// Share of the clips without speech that made it ask.
    pub asked_for_nothing: f64,
    /// From the end of the last word to the answer: median over the spoken clips that were taken, in milliseconds.
    pub latency_ms: f64,
    /// The same, 95th percentile.
    pub latency_ms_95: f64,
    /// Time spent by time of sound, all opinions added up.
    pub real_time_factor: f64,
}

impl Tally {
    /// Counts.
    #[must_use]
    #[expect(clippy::cast_precision_loss, reason = "counts of clips")]
    pub fn of(all: &[Scored]) -> Self {
        let spoken: Vec<&Scored> = all.iter().filter(|s| !s.said.is_empty()).collect();
        let silent = all.len() - spoken.len();
        let share = |count: usize, of: usize| if of == 0 { 0.0 } else { count as f64 / of as f64 };
        let count = |what: What| all.iter().filter(|s| s.what == what).count();
        let words: usize = spoken.iter().map(|s| s.words).sum();
        let wrong: usize = spoken.iter().map(|s| s.words_wrong).sum();
        let mut latencies: Vec<f64> = spoken
            .iter()
            .filter(|s| matches!(s.what, What::Right | What::Marked))
            .filter_map(|s| s.latency_ms)
            .collect();
        latencies.sort_by(f64::total_cmp);
        let at = |part: f64| {
            let place = ((latencies.len() as f64 * part).ceil() as usize).max(1) - 1;
            latencies.get(place).copied().unwrap_or(0.0)
        };
        let sound: f64 = all.iter().map(|s| s.sound_s).sum();
        let bounds = bounds::clustered(spoken.iter().map(|s| (s.what == What::Wrong, s.speaker.as_deref())));
        Self {
            clips: all.len(),
            spoken: spoken.len(),
            words,
            word_accuracy: if words == 0 { 0.0 } else { 1.0 - wrong as f64 / words as f64 },
            value_accuracy: share(spoken.iter().filter(|s| s.value_right).count(), spoken.len()),
            silently_wrong: share(count(What::Wrong), spoken.len()),
            silently_wrong_bounds: bounds,
            marked: share(count(What::Marked) + count(What::MarkedWrong), spoken.len()),
            marked_wrong: share(count(What::MarkedWrong), spoken.len()),
            asked: share(count(What::Asked), spoken.len()),
            rejected: share(count(What::Rejected), spoken.len()),
            false_readings: share(count(What::FalseReading), silent),
            false_readings_count: count(What::FalseReading),
            asked_for_nothing: share(count(What::AskedForNothing), silent),
            latency_ms: at(0.5),
            latency_ms_95: at(0.95),
            real_time_factor: if sound > 0.0 {
                all.iter().map(|s| s.spent_s).sum::<f64>() / sound
            } else {
                0.0
            },
        }
    }
}

#[cfg(test)]
#[path = "score_tests.rs"]
mod tests;
