//! Owns the way from words to an [`Utterance`].

use super::{
    Command, Context, Form, Grammar, Spoken, Utterance,
    lexicon::{Piece, StateKind},
    say::runs,
    source::Does,
};
use crate::profile::PinName;

/// More words than this are no utterance.
const MOST_WORDS: usize = 40;

impl Grammar {
    /// What a stretch of words means; `None` where it may not be said, or where it could mean two things.
    ///
    /// All words must belong to it. Fillers ("uh") are ignored, case and punctuation at the ends of words do not matter,
    /// and `[unk]` anywhere refuses the whole.
    #[must_use]
    pub fn parse(&self, words: &str, context: &Context) -> Option<Utterance> {
        let folded = words.to_lowercase();
        let mut tokens = Vec::new();
        for word in folded.split_whitespace() {
            if word == "[unk]" || word == "<unk>" {
                return None;
            }
            let word = word.trim_matches([',', '.', ';', ':', '!', '?']);
            if !word.is_empty() && !self.lexicon.fillers.contains(word) {
                tokens.push(word);
            }
        }
        if tokens.is_empty() || tokens.len() > MOST_WORDS {
            return None;
        }
        // A phrase that the session waits for comes before everything else.
        let listed = context.phrases.iter().find(|phrase| same(phrase, &tokens));
        if let Some(phrase) = listed {
            return Some(Utterance::Phrase(phrase.clone()));
        }
        if context.entry
            && let Some(digits) = self.entry(&tokens.join(" "))
        {
            return Some(Utterance::Entry(digits));
        }
        let mut meanings: Vec<Utterance> = self.spoken(&tokens).map(Utterance::Reading).into_iter().collect();
        // "pin four two one point nine" is looked at as "to" only where nothing fits as it stands.
        for by_sound in [false, true] {
            if by_sound && !meanings.is_empty() {
                break;
            }
            for pattern in &self.lexicon.patterns {
                let slots = Slots { grammar: self, context, by_sound, does: pattern.does };
                slots.fill_from_start(&pattern.pieces, &tokens, &mut |command| {
                    let meaning = Utterance::Command(command);
                    if !meanings.contains(&meaning) {
                        meanings.push(meaning);
                    }
                });
            }
        }
        let mut meanings = meanings.into_iter();
        match (meanings.next(), meanings.next()) {
            (Some(one), None) => Some(one),
            _ => None,
        }
    }

    /// A reading, perhaps corrected in the same breath.
    fn spoken(&self, words: &[&str]) -> Option<Spoken> {
        if let Some(plain) = self.plain(words) {
            return Some(plain);
        }
        // The last correction counts: "one five, correction, one nine".
        for at in (1..words.len()).rev() {
            for (marker, weak) in &self.lexicon.corrections {
                let end = at + marker.len();
                if end >= words.len() || !words[at..end].iter().zip(marker).all(|(word, other)| word == other)
                {
                    continue;
                }
                let Some(after) = self.plain(&words[end..]) else { continue };
                let before = &words[..at];
                let fits = if *weak {
                    self.plain(before).is_some_and(|before| alike(&before, &after))
                } else {
                    self.abandoned(before)
                };
                if fits {
                    return Some(after);
                }
            }
        }
        None
    }

    /// Whether words may stand before a correction: a reading, a broken-off one, or corrections of them.
    fn abandoned(&self, words: &[&str]) -> bool {
        let marker = |word: &&str| {
            self.lexicon.corrections.iter().any(|(marker, _)| marker.iter().any(|other| other == word))
        };
        let begun = words.first().is_some_and(|word| self.lexicon.role(word).is_some());
        self.plain(words).is_some()
            || begun && words.iter().all(|word| self.lexicon.role(word).is_some() || marker(word))
    }

    /// A reading without corrections.
    fn plain(&self, words: &[&str]) -> Option<Spoken> {
        let state = self.lexicon.states.iter().find(|(phrase, ..)| same(phrase, words));
        match state {
            Some((_, StateKind::OverRange, _)) => Some(Spoken::OverRange),
            Some((_, StateKind::Unstable, _)) => Some(Spoken::Unstable),
            None => self.lexicon.number(words).map(Spoken::Number),
        }
    }

    /// The pins that the words name, by their own name or by that of their circuit.
    fn pins(&self, words: &[&str], context: &Context) -> Vec<PinName> {
        let spelled = self.spelled(words);
        let own = context.pins.iter().filter(|pin| {
            spelled.as_ref().is_some_and(|name| {
                let plain: String = runs(pin.as_str()).concat();
                plain.eq_ignore_ascii_case(name)
            })
        });
        let by_circuit =
            context.circuits.iter().filter(|(name, _)| same(&name.to_lowercase(), words)).map(|(_, pin)| pin);
        let mut list: Vec<PinName> = own.chain(by_circuit).cloned().collect();
        list.sort();
        list.dedup();
        list
    }

    /// A name from its letters and digits: "b two" gives `b2`.
    fn spelled(&self, words: &[&str]) -> Option<String> {
        let mut name = String::new();
        let mut rest = words;
        while let Some((word, tail)) = rest.split_first() {
            if let Some(letter) = self.lexicon.letter(word) {
                name.push(letter);
                rest = tail;
                continue;
            }
            // "to" is no pin 2 here: it stands in the commands themselves.
            let len = self
                .lexicon
                .integer_run(rest)
                .min(rest.iter().take_while(|word| !self.lexicon.literals.contains(**word)).count());
            name.push_str(&self.lexicon.digit_text(&rest[..len])?);
            rest = &rest[len..];
        }
        (!name.is_empty()).then_some(name)
    }
}

/// Fills the slots of one pattern from the words.
struct Slots<'a> {
    grammar: &'a Grammar,
    context: &'a Context,
    /// Whether the pattern's own words may be heard as words that sound like them.
    by_sound: bool,
    does: Does,
}

/// What fills the slots of a pattern.
#[derive(Default)]
struct Filled {
    pin: Option<PinName>,
    reading: Option<Spoken>,
    count: Option<u8>,
}

impl Slots<'_> {
    /// Gives every command that the pieces find in the words, all words used.
    fn fill_from_start(&self, pieces: &[Piece], words: &[&str], found: &mut dyn FnMut(Command)) {
        if let (Some(Piece::Word(first)), Some(word)) = (pieces.first(), words.first())
            && first == word
        {
            self.fill(&pieces[1..], &words[1..], &mut Filled::default(), found);
        }
    }

    fn fill(&self, pieces: &[Piece], words: &[&str], filled: &mut Filled, found: &mut dyn FnMut(Command)) {
        let lexicon = &self.grammar.lexicon;
        let Some((piece, rest)) = pieces.split_first() else {
            if let (true, Some(command)) = (words.is_empty(), command(self.does, filled)) {
                found(command);
            }
            return;
        };
        match piece {
            Piece::Word(word) => {
                let fits = |heard: &&str| heard == word || self.by_sound && lexicon.alike(heard, word);
                if words.first().is_some_and(fits) {
                    self.fill(rest, &words[1..], filled, found);
                }
            }
            Piece::Reading => {
                // Always the last piece: the rest of the words, whole.
                if let Some(reading) = self.grammar.spoken(words) {
                    filled.reading = Some(reading);
                    self.fill(rest, &[], filled, found);
                    filled.reading = None;
                }
            }
            Piece::Count => {
                let len = lexicon.integer_run(words);
                let count = lexicon.digit_text(&words[..len]).and_then(|text| text.parse().ok());
                if let Some(count @ 1..) = count {
                    filled.count = Some(count);
                    self.fill(rest, &words[len..], filled, found);
                    filled.count = None;
                }
            }
            Piece::Pin => {
                for len in 1..=words.len() {
                    for pin in self.grammar.pins(&words[..len], self.context) {
                        filled.pin = Some(pin);
                        self.fill(rest, &words[len..], filled, found);
                        filled.pin = None;
                    }
                }
            }
        }
    }
}

fn command(does: Does, filled: &Filled) -> Option<Command> {
    Some(match does {
        Does::Next => Command::Next,
        Does::Back => Command::Back(filled.count.unwrap_or(1)),
        Does::Repeat => Command::Repeat,
        Does::Wrong => Command::Wrong(filled.reading),
        Does::Change => Command::Change { pin: filled.pin.clone()?, reading: filled.reading },
        Does::Skip => Command::Skip,
        Does::Pause => Command::Pause,
        Does::Resume => Command::Resume,
        Does::Finish => Command::Finish,
        Does::Stop => Command::Stop,
        Does::Yes => Command::Yes,
        Does::No => Command::No,
        Does::Help => Command::Help,
        Does::Status => Command::Status,
        Does::Why => Command::Why,
        Does::WhatWas => Command::WhatWas(filled.pin.clone()?),
        Does::Worst => Command::Worst,
        Does::LastTime => Command::LastTime,
        Does::WhereIs => Command::WhereIs(filled.pin.clone()),
        Does::Wake => Command::Wake,
        Does::TakeIt => Command::TakeIt,
        Does::ZeroLeads => Command::ZeroLeads,
        Does::TalkLess => Command::TalkLess,
        Does::TalkMore => Command::TalkMore,
        Does::KeepListening => Command::KeepListening,
        Does::PushToTalk => Command::PushToTalk,
        Does::Louder => Command::Louder,
        Does::Quieter => Command::Quieter,
        Does::Faster => Command::Faster,
        Does::Slower => Command::Slower,
    })
}

/// Whether a phrase consists of just these words.
fn same(phrase: &str, words: &[&str]) -> bool {
    let mut rest = words.iter();
    phrase.split_whitespace().all(|word| rest.next().is_some_and(|other| word.eq_ignore_ascii_case(other)))
        && rest.next().is_none()
}

/// Whether two readings are of one kind: needed where the word between them sounds like "oh".
fn alike(before: &Spoken, after: &Spoken) -> bool {
    match (before, after) {
        (Spoken::Number(before), Spoken::Number(after)) => {
            let len = |number: u64| number.to_string().len();
            before.form == after.form
                && match before.form {
                    Form::Pointed | Form::Whole => true,
                    Form::Digits => len(before.number.digits()) == len(after.number.digits()),
                    Form::LoneDigit | Form::LoneZero => false,
                }
        }
        _ => true,
    }
}
