//! Owns the checks of the grammar files: from what is written to a [`Lexicon`], or all faults at once.

use super::{
    OwnPhrase,
    lexicon::{Lexicon, Pattern, Piece, Role, StateKind, UnitNames},
    source::{self, Commands, Does, Fault, Numbers, Source, State, States, Text},
};
use crate::quantity::{Prefix, Unit};
use std::collections::{BTreeMap, BTreeSet, HashMap, HashSet};

impl Lexicon {
    /// Reads and checks the three files; all faults at once.
    pub(super) fn read(numbers: Source, states: Source, commands: Source) -> Result<Self, Vec<Fault>> {
        let (n, s, c) = (numbers.read(), states.read(), commands.read());
        match (n, s, c) {
            (Ok(n), Ok(s), Ok(c)) => Checker::new(numbers, states, commands).check(n, s, c),
            (n, s, c) => Err([n.err(), s.err(), c.err()].into_iter().flatten().collect()),
        }
    }
}

/// Collects faults while the vocabulary is built.
struct Checker<'a> {
    numbers: Source<'a>,
    states: Source<'a>,
    commands: Source<'a>,
    faults: Vec<Fault>,
}

impl<'a> Checker<'a> {
    fn new(numbers: Source<'a>, states: Source<'a>, commands: Source<'a>) -> Self {
        Self { numbers, states, commands, faults: Vec::new() }
    }

    fn check(mut self, n: Numbers, s: States, c: Commands) -> Result<Lexicon, Vec<Fault>> {
        let mut roles: HashMap<String, Role> = HashMap::new();
        let digits = self.table("digits", &n.digits, 10, &mut roles, Role::Digit);
        let teens = self.table("teens", &n.teens, 10, &mut roles, |i| Role::Teen(10 + i));
        let tens = self.table("tens", &n.tens, 8, &mut roles, |i| Role::Ten(20 + 10 * i));
        let hundred = self.words("hundred", &n.hundred, Role::Hundred, &mut roles);
        let thousand = self.words("thousand", &n.thousand, Role::Thousand, &mut roles);
        let million = self.words("million", &n.million, Role::Million, &mut roles);
        let point = self.words("point", &n.point, Role::Point, &mut roles);
        let minus = self.words("minus", &n.minus, Role::Minus, &mut roles);
        let and = self.words("and", &n.and, Role::And, &mut roles);
        let article = self.words("article", &n.article, Role::Article, &mut roles);
        let half = self.words("half", &n.half, Role::Half, &mut roles);
        let double = self.words("double", &n.double, Role::Times(2), &mut roles);
        let triple = self.words("triple", &n.triple, Role::Times(3), &mut roles);

        let mut prefixes = BTreeMap::new();
        for entry in &n.prefix {
            let words = self.words("prefix.words", &entry.words, Role::Prefix(entry.prefix), &mut roles);
            prefixes.insert(entry.prefix, words);
        }
        let (mut units, mut with, mut then) = (BTreeMap::new(), HashSet::new(), HashMap::new());
        for entry in &n.unit {
            self.unit(entry, &mut roles, &mut units, &mut with, &mut then);
        }
        let mut sounds_like = HashMap::new();
        for (heard, meant) in &n.sounds_like {
            if !roles.contains_key(meant.get_ref()) {
                let message = format!("\"{}\" is no word of a number", meant.get_ref());
                self.fault_number(meant, "sounds-like", message);
            }
            if roles.contains_key(heard.get_ref()) {
                let message = format!("\"{}\" is a word of a number itself", heard.get_ref());
                self.fault_number(heard, "sounds-like", message);
            }
            sounds_like.insert(heard.get_ref().clone(), meant.get_ref().clone());
        }
        let (letters, letter_words) = self.letters(&n);
        let corrections = self.corrections(&n);
        for word in &n.seldom {
            let follows = then.values().any(|words: &BTreeSet<String>| words.contains(word.get_ref()));
            if !roles.contains_key(word.get_ref()) && !follows {
                self.fault_number(word, "seldom", format!("\"{}\" is no word of a number", word.get_ref()));
            }
        }
        let seldom = n.seldom.iter().map(|word| word.get_ref().clone()).collect();
        let fillers: HashSet<String> = n.fillers.iter().map(|word| word.get_ref().clone()).collect();
        for word in &n.fillers {
            if roles.contains_key(word.get_ref()) {
                let message = format!("\"{}\" is a word of a number and cannot be ignored", word.get_ref());
                self.fault_number(word, "fillers", message);
            }
        }

        let mut said: HashMap<String, String> = HashMap::new();
        let mut state_phrases = Vec::new();
        self.state("over-range", &s.over_range, StateKind::OverRange, &mut said, &mut state_phrases);
        self.state("unstable", &s.unstable, StateKind::Unstable, &mut said, &mut state_phrases);
        let (patterns, command_cards) = self.patterns(&c, &mut said);
        let literals = patterns
            .iter()
            .filter(|pattern| pattern.pieces.iter().any(|piece| !matches!(piece, Piece::Word(_))))
            .flat_map(|pattern| &pattern.pieces)
            .filter_map(|piece| if let Piece::Word(word) = piece { Some(word.clone()) } else { None })
            .collect();

        let own_phrases = self.own_phrases(&c, &said);

        if !self.faults.is_empty() {
            return Err(self.faults);
        }
        let first = |words: Vec<String>| words.into_iter().next().unwrap_or_default();
        Ok(Lexicon {
            roles,
            sounds_like,
            letters,
            letter_words,
            seldom,
            fillers,
            corrections,
            states: state_phrases,
            not_taken: s.not_taken.clone(),
            state_cards: [(StateKind::OverRange, s.over_range.card), (StateKind::Unstable, s.unstable.card)],
            patterns,
            own_phrases,
            headings: c.card,
            command_cards,
            literals,
            digits,
            teens,
            tens,
            hundred: first(hundred),
            thousand: first(thousand),
            million: first(million),
            point,
            minus,
            and: first(and),
            article: first(article),
            half: first(half),
            double: first(double),
            triple: first(triple),
            prefixes,
            units,
            then,
            with,
        })
    }

    fn fault_number(&mut self, at: &Text, key: &str, message: impl Into<String>) {
        self.faults.push(self.numbers.fault(at.span().start, key, message));
    }

    /// One word: lower case, no blanks.
    fn word(&mut self, key: &str, word: &Text) -> String {
        if let Some(message) = bad_word(word.get_ref()) {
            self.fault_number(word, key, message);
        }
        word.get_ref().clone()
    }

    fn words(
        &mut self,
        key: &str,
        words: &[Text],
        role: Role,
        roles: &mut HashMap<String, Role>,
    ) -> Vec<String> {
        if words.is_empty() {
            self.faults.push(Fault { line: 0, ..self.numbers.fault(0, key, "needs at least one word") });
        }
        let mut list = Vec::new();
        for word in words {
            let text = self.word(key, word);
            if roles.insert(text.clone(), role).is_some() {
                self.fault_number(word, key, format!("\"{text}\" has another part in numbers already"));
            }
            list.push(text);
        }
        list
    }

    fn table(
        &mut self,
        key: &str,
        table: &toml::Spanned<Vec<Vec<Text>>>,
        count: usize,
        roles: &mut HashMap<String, Role>,
        role: impl Fn(u8) -> Role,
    ) -> Vec<Vec<String>> {
        let rows = table.get_ref();
        if rows.len() != count || rows.iter().any(Vec::is_empty) {
            let message = format!("needs {count} lists of at least one word, has {}", rows.len());
            self.faults.push(self.numbers.fault(table.span().start, key, message));
            return Vec::new();
        }
        (0u8..).zip(rows).map(|(i, words)| self.words(key, words, role(i), roles)).collect()
    }

    fn unit(
        &mut self,
        entry: &source::UnitWords,
        roles: &mut HashMap<String, Role>,
        units: &mut BTreeMap<(Unit, Prefix), UnitNames>,
        with: &mut HashSet<(Unit, Prefix)>,
        then: &mut HashMap<Unit, BTreeSet<String>>,
    ) {
        let names = |words: Vec<String>| {
            let one = words.first().cloned().unwrap_or_default();
            UnitNames { more: words.get(1).unwrap_or(&one).clone(), one }
        };
        let words = self.words("unit.words", &entry.words, Role::Unit(entry.unit), roles);
        units.insert((entry.unit, Prefix::One), names(words));
        for (prefix, words) in &entry.with {
            let words = self.words("unit.with", words, Role::Joined(*prefix, entry.unit), roles);
            units.insert((entry.unit, *prefix), names(words));
            with.insert((entry.unit, *prefix));
        }
        then.insert(entry.unit, entry.then.iter().map(|word| self.word("unit.then", word)).collect());
    }

    fn letters(&mut self, n: &Numbers) -> (BTreeMap<char, Vec<String>>, HashMap<String, char>) {
        let (mut letters, mut words) = (BTreeMap::new(), HashMap::new());
        for (letter, said) in &n.letters {
            let mut chars = letter.get_ref().chars();
            let (Some(sign @ 'a'..='z'), None) = (chars.next(), chars.next()) else {
                self.fault_number(letter, "letters", "a key must be one letter from a to z");
                continue;
            };
            if said.is_empty() {
                self.fault_number(letter, "letters", "needs at least one word");
            }
            let list: Vec<String> = said.iter().map(|word| self.word("letters", word)).collect();
            for (word, text) in said.iter().zip(&list) {
                if words.insert(text.clone(), sign).is_some() {
                    self.fault_number(word, "letters", format!("\"{text}\" spells another letter already"));
                }
            }
            letters.insert(sign, list);
        }
        (letters, words)
    }

    fn corrections(&mut self, n: &Numbers) -> Vec<(Vec<String>, bool)> {
        let mut list = Vec::new();
        for (phrases, weak) in [(&n.corrections, false), (&n.weak_corrections, true)] {
            for phrase in phrases {
                let words: Vec<String> = phrase.get_ref().split(' ').map(str::to_owned).collect();
                if let Some(message) = words.iter().find_map(|word| bad_word(word)) {
                    self.fault_number(phrase, "corrections", message);
                }
                list.push((words, weak));
            }
        }
        list.sort_by_key(|(words, _)| std::cmp::Reverse(words.len()));
        list
    }

    fn state(
        &mut self,
        key: &str,
        state: &State,
        kind: StateKind,
        said: &mut HashMap<String, String>,
        list: &mut Vec<(String, StateKind, bool)>,
    ) {
        if state.phrases.is_empty() {
            self.faults.push(Fault { line: 0, ..self.states.fault(0, key, "needs at least one phrase") });
        }
        for (phrases, listed) in [(&state.phrases, true), (&state.also, false)] {
            for phrase in phrases {
                if let Some(message) = phrase.get_ref().split(' ').find_map(bad_word) {
                    self.faults.push(self.states.fault(phrase.span().start, key, message));
                }
                if let Some(other) = said.insert(phrase.get_ref().clone(), key.to_owned()) {
                    let message = format!("\"{}\" means {other} already", phrase.get_ref());
                    self.faults.push(self.states.fault(phrase.span().start, key, message));
                }
                list.push((phrase.get_ref().clone(), kind, listed));
            }
        }
    }

    fn patterns(
        &mut self,
        c: &Commands,
        said: &mut HashMap<String, String>,
    ) -> (Vec<Pattern>, Vec<(Does, String)>) {
        let (mut patterns, mut cards) = (Vec::new(), Vec::new());
        for command in &c.command {
            let does = *command.does.get_ref();
            let at = command.does.span().start;
            let key = format!("command.{does:?}").to_lowercase();
            if cards.iter().any(|(other, _)| *other == does) {
                self.faults.push(self.commands.fault(
                    at,
                    &key,
                    "stands twice; put all its phrases in one place",
                ));
            }
            if command.phrases.is_empty() {
                self.faults.push(self.commands.fault(at, &key, "needs at least one phrase"));
            }
            for (phrases, listed) in [(&command.phrases, true), (&command.also, false)] {
                for phrase in phrases {
                    let at = phrase.span().start;
                    if let Some(other) = said.insert(phrase.get_ref().clone(), key.clone()) {
                        let message = format!("\"{}\" means {other} already", phrase.get_ref());
                        self.faults.push(self.commands.fault(at, &key, message));
                    }
                    match pieces(phrase.get_ref(), does) {
                        Ok(pieces) => patterns.push(Pattern { does, pieces, listed }),
                        Err(message) => self.faults.push(self.commands.fault(at, &key, message)),
                    }
                }
            }
            cards.push((does, command.card.clone()));
        }
        for does in Does::ALL {
            if !cards.iter().any(|(other, _)| other == does) {
                let key = format!("command.{does:?}").to_lowercase();
                let fault = self.commands.fault(0, &key, "is missing: every command needs a way to be said");
                self.faults.push(Fault { line: 0, ..fault });
            }
        }
        (patterns, cards)
    }

    /// The phrases that the session waits for: each is there, is made of words, and means nothing else.
    fn own_phrases(&mut self, c: &Commands, said: &HashMap<String, String>) -> BTreeMap<OwnPhrase, String> {
        let mut list = BTreeMap::new();
        for name in OwnPhrase::ALL {
            let key = format!("phrase.{name:?}");
            let Some(phrase) = c.phrase.get(&name) else {
                let fault = self.commands.fault(0, &key, "is missing: the session waits for it");
                self.faults.push(Fault { line: 0, ..fault });
                continue;
            };
            let (at, text) = (phrase.span().start, phrase.get_ref());
            if let Some(message) = text.split(' ').find_map(bad_word) {
                self.faults.push(self.commands.fault(at, &key, message));
            } else if let Some(other) = said.get(text) {
                let message = format!("\"{text}\" is said for {other} already");
                self.faults.push(self.commands.fault(at, &key, message));
            }
            list.insert(name, text.clone());
        }
        list
    }
}

/// Why a word cannot be one.
fn bad_word(word: &str) -> Option<String> {
    if word.is_empty() {
        return Some("words stand apart by one blank, and none is empty".to_owned());
    }
    word.chars()
        .any(|c| c.is_whitespace() || c.is_uppercase() || "<>[],.;:!?\"".contains(c))
        .then(|| format!("\"{word}\" must be one word in lower case without punctuation"))
}

/// The pieces of a command's phrase; which slots it may have depends on the command.
fn pieces(phrase: &str, does: Does) -> Result<Vec<Piece>, String> {
    let mut list = Vec::new();
    for word in phrase.split(' ') {
        list.push(match word {
            "<pin>" => Piece::Pin,
            "<reading>" => Piece::Reading,
            "<count>" => Piece::Count,
            _ => match bad_word(word) {
                Some(message) => return Err(message),
                None => Piece::Word(word.to_owned()),
            },
        });
    }
    let count = |piece: &Piece| list.iter().filter(|other| *other == piece).count();
    let (pins, readings, counts) = (count(&Piece::Pin), count(&Piece::Reading), count(&Piece::Count));
    let fits = match does {
        Does::Change => pins == 1 && readings <= 1 && counts == 0,
        Does::WhatWas => pins == 1 && readings == 0 && counts == 0,
        Does::WhereIs => pins <= 1 && readings == 0 && counts == 0,
        Does::Wrong => pins == 0 && readings <= 1 && counts == 0,
        Does::Back => pins == 0 && readings == 0 && counts <= 1,
        _ => pins + readings + counts == 0,
    };
    if !fits {
        return Err(format!(
            "\"{phrase}\" has a slot that this command does not take, or lacks one that it needs"
        ));
    }
    if !matches!(list.first(), Some(Piece::Word(_))) {
        return Err(format!("\"{phrase}\" must begin with a word of its own"));
    }
    if readings == 1 && list.last() != Some(&Piece::Reading) {
        return Err(format!("\"{phrase}\": <reading> must come last"));
    }
    Ok(list)
}
