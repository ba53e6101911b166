//! Owns the checked vocabulary: which part a word plays in a number, and how states and commands are put.

use super::{
    OwnPhrase,
    source::{CardWords, Does},
};
use crate::quantity::{Prefix, Unit};
use std::collections::{BTreeMap, BTreeSet, HashMap, HashSet};

/// The part that a word plays where a number may stand.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Role {
    Digit(u8),
    /// 10 to 19.
    Teen(u8),
    /// 20, 30 ... 90.
    Ten(u8),
    Hundred,
    Thousand,
    Million,
    Point,
    Minus,
    And,
    Article,
    Half,
    /// So many of the digit that follows.
    Times(u8),
    Prefix(Prefix),
    Unit(Unit),
    Joined(Prefix, Unit),
}

/// One piece of a command's phrase.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) enum Piece {
    Word(String),
    Pin,
    Reading,
    Count,
}

/// One way to say a command.
#[derive(Debug, Clone)]
pub(super) struct Pattern {
    pub does: Does,
    pub pieces: Vec<Piece>,
    /// Whether a recogniser is told of it.
    pub listed: bool,
}

impl Pattern {
    pub(super) fn has(&self, piece: &Piece) -> bool {
        self.pieces.contains(piece)
    }

    /// As written, for the card.
    pub(super) fn text(&self) -> String {
        let words: Vec<&str> = self
            .pieces
            .iter()
            .map(|piece| match piece {
                Piece::Word(word) => word,
                Piece::Pin => "<pin>",
                Piece::Reading => "<reading>",
                Piece::Count => "<count>",
            })
            .collect();
        words.join(" ")
    }
}

/// A state of the display that is no number.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum StateKind {
    OverRange,
    Unstable,
}

/// Words said for a unit with a prefix: for one, and for more.
#[derive(Debug, Clone)]
pub(super) struct UnitNames {
    pub one: String,
    pub more: String,
}

/// The checked vocabulary.
#[derive(Debug, Clone)]
pub(super) struct Lexicon {
    pub roles: HashMap<String, Role>,
    pub sounds_like: HashMap<String, String>,
    pub letters: BTreeMap<char, Vec<String>>,
    pub letter_words: HashMap<String, char>,
    /// Words that are said by few.
    pub seldom: HashSet<String>,
    pub fillers: HashSet<String>,
    /// Words between two readings, and whether they are weak; longest first.
    pub corrections: Vec<(Vec<String>, bool)>,
    pub states: Vec<(String, StateKind, bool)>,
    /// Said for a circuit that was left out.
    pub not_taken: String,
    pub state_cards: [(StateKind, String); 2],
    pub patterns: Vec<Pattern>,
    /// Phrases that the session waits for by itself.
    pub own_phrases: BTreeMap<OwnPhrase, String>,
    pub headings: CardWords,
    pub command_cards: Vec<(Does, String)>,
    /// Words that stand literally in a command with a slot: never read as a pin for their sound.
    pub literals: HashSet<String>,
    pub digits: Vec<Vec<String>>,
    pub teens: Vec<Vec<String>>,
    pub tens: Vec<Vec<String>>,
    pub hundred: String,
    pub thousand: String,
    /// 1 000 000.
    pub million: String,
    pub point: Vec<String>,
    pub minus: Vec<String>,
    pub and: String,
    pub article: String,
    pub half: String,
    pub double: String,
    pub triple: String,
    pub prefixes: BTreeMap<Prefix, Vec<String>>,
    pub units: BTreeMap<(Unit, Prefix), UnitNames>,
    pub then: HashMap<Unit, BTreeSet<String>>,
    /// Prefixes that a unit takes.
    pub with: HashSet<(Unit, Prefix)>,
}

impl Lexicon {
    /// The part a word plays in a number, by itself or by its sound.
    pub(super) fn role(&self, word: &str) -> Option<Role> {
        self.roles.get(word).or_else(|| self.roles.get(self.sounds_like.get(word)?)).copied()
    }

    /// Whether two words sound alike.
    pub(super) fn alike(&self, heard: &str, meant: &str) -> bool {
        heard == meant
            || self.sounds_like.get(heard).is_some_and(|word| word == meant)
            || self.sounds_like.get(meant).is_some_and(|word| word == heard)
    }

    /// The word that stands for this one in lists for a recogniser.
    pub(super) fn listed<'a>(&'a self, word: &'a str) -> &'a str {
        self.sounds_like.get(word).map_or(word, String::as_str)
    }

    /// Whether a phrase has a word that few say.
    pub(super) fn is_seldom(&self, phrase: &str) -> bool {
        phrase.split(' ').any(|word| self.seldom.contains(word))
    }

    /// The letter that a word spells.
    pub(super) fn letter(&self, word: &str) -> Option<char> {
        self.letter_words.get(word).copied()
    }

    /// Whether a word may follow a unit without adding anything ("celsius").
    pub(super) fn follows(&self, unit: Unit, word: &str) -> bool {
        self.then.get(&unit).is_some_and(|words| words.contains(word))
    }

    /// Whether a unit takes a prefix.
    pub(super) fn takes(&self, unit: Unit, prefix: Prefix) -> bool {
        prefix == Prefix::One || self.with.contains(&(unit, prefix))
    }

    /// All words of numbers, sorted, without those that are understood for their sound only.
    pub(super) fn number_words(&self) -> Vec<&str> {
        let then = self.then.values().flatten();
        let mut words: Vec<&str> = self.roles.keys().chain(then).map(String::as_str).collect();
        words.sort_unstable();
        words.dedup();
        words
    }
}
