//! Owns the course of a sound check, without sound, keys or clock: which numbers are given, what came of each, the figures.

use super::{advice::Found, figures::Figures};
use crate::{
    grammar::{Grammar, Spoken, Utterance},
    quantity::Decimal,
    session::{Hearing, Outcome},
};
use serde::Serialize;

/// The numbers that are given: every digit, a teen and a ten that sound alike, a "hundred and", with and without a point.
const NUMBERS: [&str; 10] = ["1.3", "47", "0.62", "206", "5.9", "18", "3.84", "90", "7.5", "19"];

/// What came of a number.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Came {
    /// Taken, and right.
    Right,
    /// Heard, but a session would have asked.
    Asked,
    /// Taken, and wrong.
    Wrong,
    /// Nothing was heard.
    Unheard,
}

/// A number with what came of it.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Given {
    /// As a display shows it.
    pub number: String,
    /// In words.
    pub words: String,
    /// The words that were heard.
    pub heard: Option<String>,
    /// What came of it; none while it is waited for.
    pub came: Option<Came>,
}

/// A sound check going on.
#[derive(Debug)]
pub struct SoundCheck {
    given: Vec<(f64, Given)>,
    at: usize,
    room: Option<Figures>,
    levels: Vec<f32>,
    unheard_dbfs: Option<f32>,
    clipped: f64,
    samples: u64,
    lost: u64,
}

impl SoundCheck {
    /// With so many numbers, at most ten.
    ///
    /// # Panics
    /// Never: the numbers are written here.
    #[must_use]
    pub fn new(count: usize, grammar: &Grammar) -> Self {
        let given = NUMBERS.iter().take(count).map(|text| {
            let number: Decimal = text.parse().expect("a number");
            let words = grammar.say_number(&number);
            (number.to_f64(), Given { number: (*text).to_owned(), words, heard: None, came: None })
        });
        Self {
            given: given.collect(),
            at: 0,
            room: None,
            levels: Vec::new(),
            unheard_dbfs: None,
            clipped: 0.0,
            samples: 0,
            lost: 0,
        }
    }

    /// The sound of the quiet room.
    pub fn room(&mut self, sound: &[f32]) {
        self.room = Some(Figures::of(sound));
    }

    /// The number that is to be said now, and its place from 1; none when all were.
    #[must_use]
    pub fn now(&self) -> Option<(usize, &Given)> {
        self.given.get(self.at).map(|(_, given)| (self.at + 1, given))
    }

    /// How many are given.
    #[must_use]
    pub fn count(&self) -> usize {
        self.given.len()
    }

    /// Something was heard while the number was waited for. Tells what came of it; none for what is no speech. What is said
    /// further ("four ... point seven") replaces it.
    pub fn heard(&mut self, hearing: &Hearing) -> Option<Came> {
        let (value, given) = self.given.get_mut(self.at)?;
        let came = match &hearing.outcome {
            Outcome::NoSpeech => return None,
            Outcome::Understood(utterance) if means(utterance, *value) => Came::Right,
            Outcome::Understood(_) => Came::Wrong,
            Outcome::Doubtful(_) | Outcome::NotInGrammar => Came::Asked,
        };
        given.heard = hearing.opinions.first().map(|opinion| opinion.words.clone());
        given.came = Some(came);
        self.levels.push(hearing.level_dbfs);
        given.came
    }

    /// The number is done with; this is the sound since it was shown.
    pub fn next(&mut self, sound: &[f32]) {
        let Some((_, given)) = self.given.get_mut(self.at) else { return };
        let figures = Figures::of(sound);
        if given.came.is_none() {
            given.came = Some(Came::Unheard);
            let loudest = self.unheard_dbfs.unwrap_or(f32::MIN).max(figures.loudest_dbfs);
            self.unheard_dbfs = Some(loudest);
        }
        #[expect(clippy::cast_precision_loss, reason = "far below 2^52")]
        let count = sound.len() as f64;
        self.clipped += f64::from(figures.clipped) * count;
        self.samples += sound.len() as u64;
        self.at += 1;
    }

    /// Samples were lost on the way.
    pub fn lost(&mut self, samples: u64) {
        self.lost += samples;
    }

    /// Every number that was given, with what came of it.
    pub fn numbers(&self) -> impl Iterator<Item = &Given> {
        self.given.iter().take(self.at).map(|(_, given)| given)
    }

    /// The figures so far.
    #[must_use]
    pub fn found(&self) -> Found {
        let room = self.room.unwrap_or_else(|| Figures::of(&[]));
        let count = |came| self.numbers().filter(|given| given.came == Some(came)).count();
        let mut levels = self.levels.clone();
        levels.sort_by(f32::total_cmp);
        let speech_dbfs = levels.get(levels.len() / 2).copied();
        #[expect(clippy::cast_precision_loss, clippy::cast_possible_truncation, reason = "a share")]
        let clipped = (self.clipped / self.samples.max(1) as f64) as f32;
        Found {
            room_dbfs: room.level_dbfs,
            room_loudest_dbfs: room.loudest_dbfs,
            hum: room.hum,
            speech_dbfs,
            above_room_db: speech_dbfs.map(|speech| speech - room.level_dbfs),
            unheard_dbfs: self.unheard_dbfs,
            clipped,
            lost: self.lost,
            given: self.at,
            right: count(Came::Right),
            asked: count(Came::Asked),
            wrong: count(Came::Wrong),
            unheard: count(Came::Unheard),
        }
    }
}

/// Whether that is a reading of that value, however it was put.
fn means(utterance: &Utterance, value: f64) -> bool {
    let Utterance::Reading(Spoken::Number(said)) = utterance else { return false };
    let number = said.number.to_f64() * said.prefix.map_or(1.0, |prefix| prefix.factor());
    (number - value).abs() < 1e-9
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{grammar::Context, session::Opinion};

    fn hearing(words: &str, outcome: Outcome) -> Hearing {
        Hearing {
            clip: None,
            opinions: vec![Opinion {
                by: "phrases".into(),
                words: words.into(),
                margin: None,
                support: None,
            }],
            outcome,
            words: None,
            doubt: None,
            continues: false,
            marked: false,
            length_ms: 900,
            level_dbfs: -25.0,
            room_dbfs: -70.0,
            latency_ms: 300,
        }
    }

    #[test]
    fn every_number_can_be_said_and_all_digits_are_among_them() {
        let grammar = Grammar::builtin("en").unwrap();
        let check = SoundCheck::new(10, &grammar);
        assert_eq!(check.count(), 10);
        for (value, given) in &check.given {
            let meant = grammar.parse(&given.words, &Context::default()).expect(&given.words);
            assert!(means(&meant, *value), "{given:?}");
        }
        for digit in '0'..='9' {
            assert!(NUMBERS.iter().any(|number| number.contains(digit)), "{digit}");
        }
    }

    #[test]
    fn right_asked_wrong_and_unheard_are_counted() {
        let grammar = Grammar::builtin("en").unwrap();
        let mut check = SoundCheck::new(5, &grammar);
        let understood =
            |words: &str| Outcome::Understood(grammar.parse(words, &Context::default()).unwrap());
        let sound = vec![0.01; 1600];
        check.room(&[0.001; 4800]);
        assert_eq!(check.heard(&hearing("", Outcome::NoSpeech)), None);
        let right = understood("one point three ohms");
        assert_eq!(check.heard(&hearing("one point three ohms", right)), Some(Came::Right));
        check.next(&sound);
        // "Four", a pause, "seven": the second replaces the first.
        assert_eq!(check.heard(&hearing("four", understood("four"))), Some(Came::Wrong));
        assert_eq!(check.heard(&hearing("forty seven", understood("forty seven"))), Some(Came::Right));
        check.next(&sound);
        assert_eq!(check.heard(&hearing("[unk]", Outcome::NotInGrammar)), Some(Came::Asked));
        check.next(&sound);
        let wrong = understood("two hundred and five");
        assert_eq!(check.heard(&hearing("two hundred and five", wrong)), Some(Came::Wrong));
        check.next(&sound);
        check.next(&sound);
        assert!(check.now().is_none());
        // Behind the last nothing counts any more.
        assert_eq!(check.heard(&hearing("four", understood("four"))), None);
        check.next(&sound);
        let found = check.found();
        assert_eq!((found.given, found.right, found.asked, found.wrong, found.unheard), (5, 2, 1, 1, 1));
        assert_eq!(found.speech_dbfs, Some(-25.0));
        assert!((found.room_dbfs + 60.0).abs() < 0.1 && (found.unheard_dbfs.unwrap() + 40.0).abs() < 0.1);
        let came: Vec<_> = check.numbers().filter_map(|given| given.came).collect();
        assert_eq!(came, [Came::Right, Came::Right, Came::Asked, Came::Wrong, Came::Unheard]);
    }
}
