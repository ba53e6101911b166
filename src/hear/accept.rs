//! Owns whether what was heard may be taken: opinions in, an [`Outcome`] out. Pure.
//!
//! The rule: *taken at once only where two opinions have the same meaning*, nothing of the sound is missing or unknown, and the
//! doubt left is small: with the shipped pair of networks, trained apart, a calibrated one ([`super::doubt`]); with any other
//! model, no other meaning may come close in the decoder's own comparison. Otherwise one or two candidates are asked. It
//! looks at the sound alone, never at which value would be expected.

use super::{
    doubt::{Signs, doubt},
    recognise::{Decoded, PHRASES, SECOND, UNKNOWN, WORDS},
};
use crate::{grammar::Utterance, session::Outcome};
use std::sync::Arc;

/// From words to a meaning, as the grammar has it; none for what may not be said now.
pub type Parse = Arc<dyn Fn(&str) -> Option<Utterance> + Send + Sync>;

/// How careful acceptance is.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Caution {
    /// In each opinion the best hypothesis must lead the best one of another meaning by this much (decoder's measure).
    /// Where the decoder's beam is narrower than this, hypotheses that it dropped count as far behind. Of the shipped
    /// networks the doubt counts instead.
    pub least_lead: f32,
    /// What is more likely wrong than this is asked (shipped networks). `grammars/en/training/README.md` shows what it costs in
    /// questions and what gets through.
    pub most_doubt: f32,
}

impl Default for Caution {
    /// Half of the shipped model's lattice beam (3.0), beyond which it knows no other hypotheses. Chosen beforehand, not
    /// by trying on test recordings.
    fn default() -> Self {
        Self { least_lead: 1.5, most_doubt: 0.065 }
    }
}

/// Words that sound alike, each with the one that stands for all of them when opinions are compared.
const ALIKE: [(&str, &str); 20] = [
    ("to", "two"),
    ("too", "two"),
    ("for", "four"),
    ("fore", "four"),
    ("won", "one"),
    ("ate", "eight"),
    ("own", "ohm"),
    ("home", "ohm"),
    ("om", "ohm"),
    ("owns", "ohms"),
    ("homes", "ohms"),
    ("o", "oh"),
    ("owe", "oh"),
    ("know", "no"),
    ("sex", "six"),
    ("tin", "ten"),
    ("okay", "ok"),
    ("write", "right"),
    ("weight", "wait"),
    ("read", "red"),
];
/// Sounds between words that mean nothing.
const FILLERS: [&str; 6] = ["uh", "um", "hmm", "er", "ah", "mm"];

/// Words as they are compared: one word for all that sound alike, no fillers, no unknown sounds.
#[must_use]
pub fn comparable(words: &str) -> String {
    words
        .split_whitespace()
        .filter(|w| !FILLERS.contains(w) && *w != UNKNOWN)
        .map(|w| ALIKE.iter().find(|(from, _)| from == &w).map_or(w, |(_, to)| to))
        .collect::<Vec<_>>()
        .join(" ")
}

/// The meaning of words, as said, or else without fillers and with homophones put right.
fn meaning(words: &str, parse: &dyn Fn(&str) -> Option<Utterance>) -> Option<Utterance> {
    if words.is_empty() {
        return None;
    }
    let known: Vec<&str> =
        words.split_whitespace().filter(|w| !FILLERS.contains(w) && *w != UNKNOWN).collect();
    parse(words).or_else(|| parse(&known.join(" "))).or_else(|| parse(&comparable(words)))
}

/// How far the best hypothesis of another meaning is behind the best; none where there is none.
#[must_use]
pub fn lead(decoded: &Decoded, parse: &dyn Fn(&str) -> Option<Utterance>) -> Option<f32> {
    let best = meaning(&decoded.words, parse);
    let same = comparable(&decoded.words);
    decoded
        .others
        .iter()
        .find(|(words, _)| comparable(words) != same && (best.is_none() || meaning(words, parse) != best))
        .map(|(_, behind)| *behind)
}

/// Beyond this an opinion's lead says no more: the shipped networks' lattices are no wider.
const WIDEST: f32 = 3.0;

/// A lead below this is next to none.
const NEAR: f32 = 0.5;

/// How far an opinion puts a meaning ahead of every other (decoder's measure): below 0 where it prefers another, between
/// −[`WIDEST`] and [`WIDEST`].
#[must_use]
pub fn support(decoded: &Decoded, of: &Utterance, parse: &dyn Fn(&str) -> Option<Utterance>) -> f32 {
    if meaning(&decoded.words, parse).as_ref() == Some(of) {
        return lead(decoded, parse).map_or(WIDEST, |lead| lead.min(WIDEST));
    }
    let behind = decoded
        .others
        .iter()
        .find(|(words, _)| !words.contains(UNKNOWN) && meaning(words, parse).as_ref() == Some(of))
        .map_or(WIDEST, |(_, behind)| behind.min(WIDEST));
    -behind
}

/// What the opinions come to.
#[derive(Debug, Clone, PartialEq)]
pub struct Judged {
    /// What may be taken, has to be asked, or is nothing.
    pub outcome: Outcome,
    /// How likely the first candidate is wrong, 0 to 1; none where there is no candidate, or nothing to go by.
    pub doubt: Option<f32>,
}

impl Judged {
    /// Nothing was said.
    #[must_use]
    pub fn nothing() -> Self {
        Self { outcome: Outcome::NoSpeech, doubt: None }
    }
}

/// Whether this is a value, certain or asked.
#[must_use]
pub fn is_value(outcome: &Outcome) -> bool {
    let value = |u: &Utterance| matches!(u, Utterance::Reading(_) | Utterance::Entry(_));
    match outcome {
        Outcome::Understood(utterance) => value(utterance),
        Outcome::Doubtful(candidates) => candidates.iter().any(value),
        Outcome::NotInGrammar | Outcome::NoSpeech => false,
    }
}

/// Whether what was heard may be the rest of a value: anything but a command or phrase that was understood.
#[must_use]
pub fn may_continue(outcome: &Outcome) -> bool {
    match outcome {
        Outcome::Understood(_) => is_value(outcome),
        Outcome::Doubtful(_) | Outcome::NotInGrammar => true,
        Outcome::NoSpeech => false,
    }
}

/// The sound that the opinions are about.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Sound {
    /// Nothing of it is missing at its beginning, its end or in between.
    pub whole: bool,
    /// How far its loudest part is above the room, in decibels.
    pub above_room_db: f32,
}

/// Decides.
#[must_use]
pub fn judge(
    opinions: &[(&'static str, Decoded)],
    sound: Sound,
    caution: Caution,
    parse: &dyn Fn(&str) -> Option<Utterance>,
) -> Judged {
    let by = |name| opinions.iter().find(|(n, _)| *n == name).map(|(_, d)| d);
    let nothing = Decoded::default();
    let phrases = by(PHRASES).unwrap_or(&nothing);
    let words = by(WORDS).unwrap_or(&nothing);
    let other = by(SECOND).unwrap_or(words);
    let heard = |d: &Decoded| d.words.split_whitespace().filter(|w| !FILLERS.contains(w)).count();
    let unknown = words.words.split_whitespace().filter(|w| *w == UNKNOWN).count();
    let known = heard(words) - unknown.min(heard(words));
    if known == 0 && unknown == 0 {
        // The open opinion heard no word and no sound like one: what the phrases make of it is noise.
        return Judged::nothing();
    }
    let first = meaning(&phrases.words, parse);
    let second = meaning(&other.words, parse);
    if unknown > 0 && unknown >= known {
        return Judged { outcome: Outcome::NotInGrammar, doubt: None };
    }
    // A hypothesis with an unknown sound has no meaning of its own: "[unk] five" is not "five".
    let agree = first.is_some()
        && unknown == 0
        && (first == second || comparable(&phrases.words) == comparable(&other.words));
    let doubt = first.as_ref().zip(by(SECOND)).map(|(first, second)| {
        doubt(&Signs {
            phrases: support(phrases, first, parse),
            second: support(second, first, parse),
            words: support(words, first, parse),
            count: heard(phrases),
            above_room_db: sound.above_room_db,
        })
    });
    // The single words may hear too little; where they are sure of another meaning, that is asked.
    let opposed = by(SECOND).is_some()
        && unknown == 0
        && meaning(&words.words, parse).is_some_and(|other| Some(other) != first)
        && lead(words, parse).is_none_or(|lead| lead >= caution.least_lead);
    // Whatever the doubt: where a network finds another meaning nearly as good, it is asked.
    let near = |d: &Decoded| lead(d, parse).is_some_and(|lead| lead < NEAR);
    let close = match doubt {
        Some(doubt) => opposed || near(phrases) || near(other) || doubt > caution.most_doubt,
        None => [phrases, other].iter().any(|d| lead(d, parse).is_some_and(|lead| lead < caution.least_lead)),
    };
    if agree && sound.whole && !close {
        return Judged { outcome: first.map_or(Outcome::NotInGrammar, Outcome::Understood), doubt };
    }
    let rival = phrases
        .others
        .iter()
        .chain(&other.others)
        .filter(|(_, behind)| *behind < caution.least_lead)
        .find_map(|(words, _)| meaning(words, parse).filter(|m| Some(m) != first.as_ref()));
    let mut candidates: Vec<Utterance> = Vec::new();
    let third = meaning(&words.words, parse).filter(|_| opposed);
    for candidate in [first, second, third, rival].into_iter().flatten() {
        if !candidates.contains(&candidate) && candidates.len() < 2 {
            candidates.push(candidate);
        }
    }
    let outcome = if candidates.is_empty() { Outcome::NotInGrammar } else { Outcome::Doubtful(candidates) };
    Judged { outcome, doubt }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::grammar::{Command, Form, Spoken, SpokenNumber};
    use crate::quantity::Decimal;

    fn number(text: &str, form: Form) -> Utterance {
        let number: Decimal = text.parse().unwrap();
        Utterance::Reading(Spoken::Number(SpokenNumber { number, prefix: None, unit: None, form }))
    }

    /// A little grammar: digits around "point", single digits, and some commands.
    fn parse(words: &str) -> Option<Utterance> {
        const DIGITS: [&str; 10] =
            ["zero", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine"];
        match words {
            "next" | "next pin" => return Some(Utterance::Command(Command::Next)),
            "yes" | "correct" => return Some(Utterance::Command(Command::Yes)),
            "no" => return Some(Utterance::Command(Command::No)),
            "over range" => return Some(Utterance::Reading(Spoken::OverRange)),
            _ => {}
        }
        let words: Vec<&str> = words.split(' ').filter(|w| !matches!(*w, "ohm" | "ohms")).collect();
        let text: Option<String> = words
            .iter()
            .map(|w| {
                if *w == "point" {
                    Some('.')
                } else {
                    char::from_digit(DIGITS.iter().position(|d| d == w)? as u32, 10)
                }
            })
            .collect();
        let text = text.filter(|t| {
            !t.is_empty() && !t.starts_with('.') && !t.ends_with('.') && t.matches('.').count() < 2
        })?;
        Some(number(&text, if text.contains('.') { Form::Pointed } else { Form::Digits }))
    }

    const CLEAR: Sound = Sound { whole: true, above_room_db: 40.0 };

    /// Two opinions of one network.
    fn two(phrases: Decoded, words: Decoded) -> Vec<(&'static str, Decoded)> {
        vec![(PHRASES, phrases), (WORDS, words)]
    }

    fn judged(phrases: &str, words: &str) -> Outcome {
        let opinions = two(Decoded::of(phrases), Decoded::of(words));
        judge(&opinions, CLEAR, Caution::default(), &parse).outcome
    }

    #[test]
    fn taken_only_where_both_agree() {
        let n = |t: &str| number(t, Form::Pointed);
        let d = |t: &str| number(t, Form::Digits);
        let next = || Utterance::Command(Command::Next);
        let table = [
            ("one point five", "one point five", Outcome::Understood(n("1.5"))),
            // Homophones and fillers are no disagreement.
            ("two point four", "to point for", Outcome::Understood(n("2.4"))),
            ("one point eight ohms", "won point ate own", Outcome::Understood(n("1.8"))),
            ("one point five", "uh one point five", Outcome::Understood(n("1.5"))),
            ("no", "know", Outcome::Understood(Utterance::Command(Command::No))),
            // Other words of the same meaning agree.
            ("next pin", "next", Outcome::Understood(next())),
            ("yes", "correct", Outcome::Understood(Utterance::Command(Command::Yes))),
            ("over range", "over range", Outcome::Understood(Utterance::Reading(Spoken::OverRange))),
            // Two meanings: both are asked, the phrases' first.
            ("one point five", "one point nine", Outcome::Doubtful(vec![n("1.5"), n("1.9")])),
            ("five", "nine", Outcome::Doubtful(vec![d("5"), d("9")])),
            ("next", "six", Outcome::Doubtful(vec![next(), d("6")])),
            // One alone has a meaning.
            ("one point five", "one point point", Outcome::Doubtful(vec![n("1.5")])),
            ("one point", "one five", Outcome::Doubtful(vec![d("15")])),
            // Part of it was no word: asked, never taken.
            ("one point five", "one [unk] five", Outcome::Doubtful(vec![n("1.5"), d("15")])),
            ("one point five", "[unk] one point five", Outcome::Doubtful(vec![n("1.5")])),
            // Mostly no words.
            ("five", "[unk]", Outcome::NotInGrammar),
            ("one five two", "[unk] one [unk]", Outcome::NotInGrammar),
            ("next", "[unk] [unk]", Outcome::NotInGrammar),
            // Words without a meaning.
            ("point point", "point point", Outcome::NotInGrammar),
            // Nothing.
            ("", "", Outcome::NoSpeech),
            ("five", "", Outcome::NoSpeech),
            ("next", "uh", Outcome::NoSpeech),
        ];
        for (phrases, words, expected) in table {
            assert_eq!(judged(phrases, words), expected, "\"{phrases}\" / \"{words}\"");
        }
    }

    #[test]
    fn a_rival_close_behind_is_asked_and_a_homophone_is_no_rival() {
        let close = |others: &[(&str, f32)]| Decoded {
            words: "one point five".into(),
            others: others.iter().map(|(w, b)| ((*w).into(), *b)).collect(),
        };
        let same = Decoded::of("one point five");
        let judged = |d: &Decoded| {
            judge(
                &two(d.clone(), same.clone()),
                CLEAR,
                Caution { least_lead: 1.0, ..Caution::default() },
                &parse,
            )
            .outcome
        };
        let (five, nine) = (number("1.5", Form::Pointed), number("1.9", Form::Pointed));
        let table = [
            (close(&[("one point nine", 0.4)]), Outcome::Doubtful(vec![five.clone(), nine])),
            (close(&[("one point nine", 1.4)]), Outcome::Understood(five.clone())),
            (close(&[("won point five", 0.1), ("one point nine", 1.4)]), Outcome::Understood(five.clone())),
            // Close, but without a meaning: only the one to ask.
            (close(&[("one point", 0.2)]), Outcome::Doubtful(vec![five])),
        ];
        for (decoded, expected) in table {
            assert_eq!(judged(&decoded), expected, "{decoded:?}");
        }
    }

    #[test]
    fn a_rival_in_the_second_opinion_is_asked_as_well() {
        let words = Decoded { words: "eight".into(), others: vec![("three".into(), 0.4)] };
        let outcome = judge(&two(Decoded::of("eight"), words), CLEAR, Caution::default(), &parse).outcome;
        assert_eq!(outcome, Outcome::Doubtful(vec![number("8", Form::Digits), number("3", Form::Digits)]));
    }

    #[test]
    fn of_two_networks_both_must_agree_and_the_doubt_be_small() {
        let three = |phrases: Decoded, second: Decoded, words: &str| {
            let opinions = vec![(PHRASES, phrases), (SECOND, second), (WORDS, Decoded::of(words))];
            judge(&opinions, CLEAR, Caution::default(), &parse)
        };
        let (five, nine) = (number("1.5", Form::Pointed), number("1.9", Form::Pointed));
        let said = || Decoded::of("one point five");
        let close =
            || Decoded { words: "one point five".into(), others: vec![("one point nine".into(), 0.1)] };
        let sure = three(said(), said(), "one point five");
        assert_eq!(sure.outcome, Outcome::Understood(five.clone()));
        assert!(sure.doubt.unwrap() <= Caution::default().most_doubt);
        let torn = three(close(), close(), "one point five");
        assert_eq!(torn.outcome, Outcome::Doubtful(vec![five.clone(), nine.clone()]));
        assert!(torn.doubt.unwrap() > sure.doubt.unwrap());
        let apart = three(said(), Decoded::of("one point nine"), "one point five");
        assert_eq!(apart.outcome, Outcome::Doubtful(vec![five.clone(), nine]));
        // The single words count where they are sure of something else.
        let other = three(said(), said(), "one point nine");
        assert_eq!(other.outcome, Outcome::Doubtful(vec![five.clone(), number("1.9", Form::Pointed)]));
        // They are the gate against noise and foreign words.
        assert_eq!(three(said(), said(), "").outcome, Outcome::NoSpeech);
        assert_eq!(three(said(), said(), "[unk]").outcome, Outcome::NotInGrammar);
        assert_eq!(three(said(), said(), "one [unk] five").outcome, Outcome::Doubtful(vec![five]));
    }

    #[test]
    fn a_part_is_never_taken() {
        let d = Decoded::of("one point five");
        let outcome =
            judge(&two(d.clone(), d), Sound { whole: false, ..CLEAR }, Caution::default(), &parse).outcome;
        assert_eq!(outcome, Outcome::Doubtful(vec![number("1.5", Form::Pointed)]));
    }

    #[test]
    fn the_expected_value_has_no_say() {
        // The rule gets words, margins and a parser; there is nothing else it could look at. Swapping the opinions
        // swaps the order of candidates and nothing more.
        let (a, b) = (judged("five", "nine"), judged("nine", "five"));
        match (a, b) {
            (Outcome::Doubtful(a), Outcome::Doubtful(b)) => {
                assert_eq!(a, b.into_iter().rev().collect::<Vec<_>>());
            }
            other => panic!("{other:?}"),
        }
    }
}
