//! Owns whether what was heard may be taken: opinions in, an [`Outcome`] out. Pure.
//!
//! The rule: *taken at once only where several opinions speak for one meaning*, nothing of the sound is missing or unknown, and the
//! doubt left is small. With the shipped pair of networks, trained apart, all hypotheses of all opinions are weighed against each
//! other ([`super::weigh`]) to a calibrated doubt ([`super::doubt`]); with any other model both opinions must have the same meaning,
//! and no other may come close in the decoder's own comparison. Otherwise one or two candidates are asked. It looks at the sound
//! alone, never at which value would be expected.

use super::{
    doubt::doubt,
    meaning::{FILLERS, comparable, meaning},
    recognise::{Decoded, NUMBERS, PHRASES, SECOND, SECOND_NUMBERS, UNKNOWN, WORDS, named},
    weigh::{self, Costs},
};
use crate::{grammar::Utterance, session::Outcome};

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
    /// The same for numbers of things (codes, serial numbers): long ones have more that comes close, and a digit wrong in one
    /// names another thing, it makes no verdict.
    pub most_doubt_of_entries: f32,
    /// Up to this doubt it is taken as well, but marked: read back so that a mistake is noticed, without a question ("implicit
    /// confirmation": Bohus and Rudnicky 2005, Skantze 2007, from memory). From the cost: a question takes about as long as
    /// a reading, a marked mistake costs "wrong" and the reading again, three times as long, and some are not noticed. So
    /// marking pays up to about one in ten. Below `most_doubt` nothing is marked.
    pub most_doubt_marked: f32,
    /// By how much the two networks together must prefer a number in the second look for it to be taken, marked (0 to 6).
    pub least_lead_of_numbers: f32,
}

impl Default for Caution {
    /// The lead: half of the shipped model's lattice beam (3.0), beyond which it knows no other hypotheses; chosen beforehand. The
    /// doubts: chosen on tables of clips, see `grammars/en/training/README.md`.
    fn default() -> Self {
        Self {
            least_lead: 1.5,
            most_doubt: 0.04,
            most_doubt_of_entries: 0.05,
            most_doubt_marked: 0.1,
            least_lead_of_numbers: 5.0,
        }
    }
}

impl Caution {
    /// Values are taken up to the first doubt and marked up to the second (0 to 1); entries up to a quarter more than the first.
    #[must_use]
    pub fn of_doubts(take: f32, mark: f32) -> Self {
        Self {
            most_doubt: take,
            most_doubt_of_entries: take * 1.25,
            most_doubt_marked: mark,
            ..Self::default()
        }
    }

    /// Whether anything is taken and marked.
    fn marks(self) -> bool {
        self.most_doubt_marked > self.most_doubt
    }
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

/// What the opinions come to.
#[derive(Debug, Clone, PartialEq)]
pub struct Judged {
    /// What may be taken, has to be asked, or is nothing.
    pub outcome: Outcome,
    /// The words of the first candidate; none where there is none.
    pub words: Option<String>,
    /// How likely the first candidate is wrong, 0 to 1; none where there is no candidate, or nothing to go by.
    pub doubt: Option<f32>,
    /// Taken, but to be marked.
    pub marked: bool,
    /// In doubt for the leads alone: a second look may settle it.
    pub open: bool,
}

impl Judged {
    /// Nothing was said.
    #[must_use]
    pub fn nothing() -> Self {
        Self::without_candidate(Outcome::NoSpeech)
    }

    fn without_candidate(outcome: Outcome) -> Self {
        Self { outcome, words: None, doubt: None, marked: false, open: false }
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

/// Decides. `whole`: nothing of the sound is missing at its beginning, its end or in between.
#[must_use]
pub fn judge(
    opinions: &[(&'static str, Decoded)],
    whole: bool,
    caution: Caution,
    parse: &dyn Fn(&str) -> Option<Utterance>,
) -> Judged {
    let words = named(opinions, WORDS).map_or("", |words| &words.words);
    let count = |words: &str| words.split_whitespace().filter(|w| !FILLERS.contains(w)).count();
    let unknown = words.split_whitespace().filter(|w| *w == UNKNOWN).count();
    let known = count(words) - unknown;
    if known == 0 && unknown == 0 {
        // The open opinion heard no word and no sound like one: what the phrases make of it is noise.
        return Judged::nothing();
    }
    if unknown >= known {
        return of_both_phrases(opinions, caution, parse)
            .unwrap_or_else(|| Judged::without_candidate(Outcome::NotInGrammar));
    }
    // Part of it was no word: "[unk] five" is not "five".
    let whole = whole && unknown == 0;
    if named(opinions, SECOND).is_some() {
        of_pair(opinions, whole, caution, parse)
    } else {
        of_one(opinions, whole, caution, parse)
    }
}

/// What the phrases of both networks clearly have in common where the single words heard speech, but no word: never taken, asked.
fn of_both_phrases(
    opinions: &[(&'static str, Decoded)],
    caution: Caution,
    parse: &dyn Fn(&str) -> Option<Utterance>,
) -> Option<Judged> {
    let phrases = named(opinions, PHRASES)?;
    let first = meaning(&phrases.words, parse)?;
    let sure = |name| {
        named(opinions, name).is_some_and(|decoded| {
            meaning(&decoded.words, parse).as_ref() == Some(&first)
                && Costs::of(decoded, parse).support(&first) >= caution.least_lead
        })
    };
    (sure(PHRASES) && sure(SECOND)).then(|| Judged {
        outcome: Outcome::Doubtful(vec![first]),
        words: Some(phrases.words.clone()),
        doubt: None,
        marked: false,
        open: false,
    })
}

/// The second look, with words of numbers alone: what would be asked is taken, marked, where both networks have the first candidate at the
/// top and lead together by enough. Only for a value of two words or more: a single digit is more often wrong that way.
#[must_use]
pub fn look_again(
    judged: Judged,
    numbers: &[(&'static str, Decoded)],
    caution: Caution,
    parse: &dyn Fn(&str) -> Option<Utterance>,
) -> Judged {
    let Outcome::Doubtful(candidates) = &judged.outcome else { return judged };
    if !judged.open || !caution.marks() {
        return judged;
    }
    let Some(first) = candidates.first() else { return judged };
    let lead = |name| {
        let costs = Costs::of(named(numbers, name)?, parse);
        (costs.first() == Some(first)).then(|| costs.support(first))
    };
    match (lead(NUMBERS), lead(SECOND_NUMBERS)) {
        (Some(one), Some(other)) if one + other >= caution.least_lead_of_numbers => {
            Judged { outcome: Outcome::Understood(first.clone()), marked: true, open: false, ..judged }
        }
        _ => judged,
    }
}

/// Two networks that were trained apart: the doubt decides.
fn of_pair(
    opinions: &[(&'static str, Decoded)],
    whole: bool,
    caution: Caution,
    parse: &dyn Fn(&str) -> Option<Utterance>,
) -> Judged {
    let costs: Vec<(&'static str, Costs)> =
        opinions.iter().map(|(name, decoded)| (*name, Costs::of(decoded, parse))).collect();
    let mut candidates = weigh::candidates(&costs);
    if candidates.is_empty() {
        return Judged::without_candidate(Outcome::NotInGrammar);
    }
    let first = candidates.remove(0);
    let doubt = doubt(first.signs);
    // Marked only where no opinion prefers another meaning.
    let preferred =
        [first.signs.phrases, first.signs.second, first.signs.words].iter().all(|lead| *lead >= 0.0);
    let most = match first.meaning {
        Utterance::Entry(_) | Utterance::Naming { .. } => caution.most_doubt_of_entries,
        _ => caution.most_doubt,
    };
    // A single digit or word is asked: of those that would be marked every third was wrong, of longer values one in twenty
    // (`grammars/en/training/README.md`), and it is said again in a moment.
    let long = is_number(&first.meaning) && count_words(&first.words) > 1;
    let marked = whole && doubt > most && doubt <= caution.most_doubt_marked && preferred && long;
    let open = whole && !marked && doubt > most && long;
    let outcome = if whole && (doubt <= most || marked) {
        Outcome::Understood(first.meaning)
    } else {
        // The next one is asked as well where an opinion does not clearly prefer the first.
        let near = |costs: &Costs, other: &Utterance| {
            let behind = costs.behind(other);
            behind < weigh::WIDEST && behind - costs.behind(&first.meaning) < caution.least_lead
        };
        let second =
            candidates.into_iter().find(|next| costs.iter().any(|(_, costs)| near(costs, &next.meaning)));
        Outcome::Doubtful(
            std::iter::once(first.meaning.clone()).chain(second.map(|next| next.meaning)).collect(),
        )
    };
    Judged { outcome, words: Some(first.words), doubt: Some(doubt), marked, open }
}

fn is_number(meaning: &Utterance) -> bool {
    matches!(meaning, Utterance::Reading(_) | Utterance::Entry(_))
}

fn count_words(words: &str) -> usize {
    words.split_whitespace().filter(|w| !FILLERS.contains(w) && *w != UNKNOWN).count()
}

/// One network alone: its phrases and its single words must agree, and nothing else come close.
fn of_one(
    opinions: &[(&'static str, Decoded)],
    whole: bool,
    caution: Caution,
    parse: &dyn Fn(&str) -> Option<Utterance>,
) -> Judged {
    let nothing = Decoded::default();
    let phrases = named(opinions, PHRASES).unwrap_or(&nothing);
    let words = named(opinions, WORDS).unwrap_or(&nothing);
    let first = meaning(&phrases.words, parse);
    let second = meaning(&words.words, parse);
    let agree =
        first.is_some() && (first == second || comparable(&phrases.words) == comparable(&words.words));
    let close = [phrases, words].iter().any(|d| lead(d, parse).is_some_and(|lead| lead < caution.least_lead));
    let heard = first.as_ref().map_or(&words.words, |_| &phrases.words).clone();
    let outcome = match &first {
        Some(first) if agree && whole && !close => Outcome::Understood(first.clone()),
        _ => {
            let rival = phrases
                .others
                .iter()
                .chain(&words.others)
                .filter(|(_, behind)| *behind < caution.least_lead)
                .find_map(|(words, _)| meaning(words, parse).filter(|m| Some(m) != first.as_ref()));
            let mut candidates: Vec<Utterance> = Vec::new();
            for candidate in [first, second, rival].into_iter().flatten() {
                if !candidates.contains(&candidate) && candidates.len() < 2 {
                    candidates.push(candidate);
                }
            }
            if candidates.is_empty() {
                return Judged::without_candidate(Outcome::NotInGrammar);
            }
            Outcome::Doubtful(candidates)
        }
    };
    Judged { outcome, words: Some(heard), doubt: None, marked: false, open: false }
}

#[cfg(test)]
#[path = "accept_tests.rs"]
mod tests;
