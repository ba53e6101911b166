//! Owns read-back: values to spoken words that parse back to the same value.

use super::{
    Command, Form, Grammar, Spoken, SpokenNumber, Utterance,
    lexicon::{Lexicon, Piece, StateKind},
    source::{Does, Order},
};
use crate::{
    profile::PinName,
    quantity::{Decimal, Prefix, Reading, Shown, Unit},
};

/// From here on whole numbers are said digit by digit.
const WORDS_BELOW: u64 = 1_000_000_000;

impl Lexicon {
    fn digit(&self, digit: u64) -> &str {
        usize::try_from(digit).ok().and_then(|i| self.digits.get(i)).map_or("", |words| words[0].as_str())
    }

    /// Digits one by one.
    pub(super) fn say_digits(&self, digits: &str) -> String {
        let words: Vec<&str> =
            digits.bytes().map(|byte| self.digit(u64::from(byte.wrapping_sub(b'0')))).collect();
        words.join(" ")
    }

    /// A whole number in words; digit by digit from a thousand million on.
    pub(super) fn say_whole(&self, value: u64) -> String {
        if value >= WORDS_BELOW {
            return self.say_digits(&value.to_string());
        }
        if !self.build.one_word {
            return self.say_whole_apart(value);
        }
        let (millions, rest) = (value / 1_000_000, value % 1_000_000);
        let mut words = Vec::new();
        if millions > 0 {
            let (mut count, scale) = self.count_of(millions, 1_000_000);
            count.retain(|word| !word.is_empty());
            words.extend([count.concat(), scale.to_owned()]);
        }
        if rest > 0 || millions == 0 {
            let mut parts = Vec::new();
            self.whole(rest, &mut parts);
            words.push(parts.concat());
        }
        words.join(" ")
    }

    /// A whole number with each of its words by itself.
    pub(super) fn say_whole_apart(&self, value: u64) -> String {
        let mut words = Vec::new();
        self.whole(value, &mut words);
        words.join(" ")
    }

    /// One within a larger number: "ein" in "einhundert".
    fn within(&self, digit: u64) -> &str {
        self.build.one_within.as_deref().filter(|_| digit == 1).unwrap_or_else(|| self.digit(digit))
    }

    /// How many of a scale, and its word for so many.
    fn count_of(&self, count: u64, scale: u64) -> (Vec<&str>, &str) {
        let million = scale == 1_000_000;
        let mut words = Vec::new();
        match count {
            1 if million && self.build.one_million.is_some() => {
                words.extend(self.build.one_million.as_deref());
            }
            1 => words.push(self.within(1)),
            _ => self.whole(count, &mut words),
        }
        let more = usize::from(count > 1);
        let word = if million {
            self.million.get(more).or(self.million.first()).map_or("", String::as_str)
        } else {
            &self.thousand
        };
        (words, word)
    }

    fn whole<'a>(&'a self, value: u64, words: &mut Vec<&'a str>) {
        let at = |list: &'a [Vec<String>], i: u64| {
            usize::try_from(i).ok().and_then(|i| list.get(i)).map_or("", |words| words[0].as_str())
        };
        match value {
            0..10 => words.push(self.digit(value)),
            10..20 => words.push(at(&self.teens, value - 10)),
            20..100 => {
                let (ten, unit) = (at(&self.tens, value / 10 - 2), value % 10);
                match self.build.order {
                    _ if unit == 0 => words.push(ten),
                    Order::TensUnits => words.extend([ten, self.digit(unit)]),
                    Order::UnitsAndTens => words.extend([self.within(unit), &self.and, ten]),
                }
            }
            100..1000 => {
                words.extend([self.within(value / 100), &self.hundred]);
                if !value.is_multiple_of(100) {
                    words.extend(self.joining());
                    self.whole(value % 100, words);
                }
            }
            1000..1_000_000 => self.scaled(value, 1000, words),
            _ => self.scaled(value, 1_000_000, words),
        }
    }

    /// So many of a scale word, and what is left.
    fn scaled<'a>(&'a self, value: u64, scale: u64, words: &mut Vec<&'a str>) {
        let (count, word) = self.count_of(value / scale, scale);
        words.extend(count);
        words.push(word);
        let rest = value % scale;
        if rest > 0 && rest < 100 {
            words.extend(self.joining());
        }
        if rest > 0 {
            self.whole(rest, words);
        }
    }

    /// The word between a scale and what is less than a hundred, where the language has one.
    fn joining(&self) -> Option<&str> {
        self.build.and_after_scale.then_some(self.and.as_str())
    }

    /// A number: whole part in words, digits after the point one by one.
    pub(super) fn say_number(&self, number: &Decimal, digit_by_digit: bool) -> String {
        let text = number.to_string();
        let text = text.trim_start_matches('-');
        let (whole, fraction) = text.split_once('.').unwrap_or((text, ""));
        let mut words = Vec::new();
        if number.is_negative() {
            words.push(self.minus[0].clone());
        }
        words.push(match whole.parse() {
            Ok(value) if !digit_by_digit => self.say_whole(value),
            _ => self.say_digits(whole),
        });
        if !fraction.is_empty() {
            words.push(self.point[0].clone());
            words.push(self.say_digits(fraction));
        }
        words.join(" ")
    }

    /// The word of a unit with a prefix, for a number.
    pub(super) fn unit_word(&self, number: &Decimal, prefix: Prefix, unit: Unit) -> Option<&str> {
        let names = self.units.get(&(unit, prefix))?;
        let one = number.digits() == 1 && number.places() == 0;
        Some(if one { &names.one } else { &names.more })
    }

    /// A pin's name, spelled: letters by name, digits as a whole number up to 99, else one by one.
    pub(super) fn say_pin(&self, pin: &PinName) -> String {
        let mut words = Vec::new();
        for run in runs(pin.as_str()) {
            match run.chars().next() {
                Some(first) if first.is_ascii_digit() => match run.parse() {
                    Ok(value @ 0..100) if value == 0 && run.len() == 1 || !run.starts_with('0') => {
                        words.push(self.say_whole(value));
                    }
                    _ => words.push(self.say_digits(run)),
                },
                Some(letter) => {
                    words
                        .extend(self.letters.get(&letter.to_ascii_lowercase()).map(|words| words[0].clone()));
                }
                None => {}
            }
        }
        words.join(" ")
    }
}

/// The parts of a pin's name that are spoken: each letter, each run of digits.
pub(super) fn runs(name: &str) -> Vec<&str> {
    let mut list = Vec::new();
    let mut rest = name;
    while let Some(first) = rest.chars().next() {
        let len = if first.is_ascii_digit() {
            rest.bytes().take_while(u8::is_ascii_digit).count()
        } else {
            first.len_utf8()
        };
        let (run, tail) = rest.split_at(len);
        if first.is_ascii_alphanumeric() {
            list.push(run);
        }
        rest = tail;
    }
    list
}

impl Grammar {
    /// A number as it is read back: "five point two", "three hundred and five".
    #[must_use]
    pub fn say_number(&self, number: &Decimal) -> String {
        self.lexicon.say_number(number, false)
    }

    /// A display as it is read back. The unit is said only where a prefix matters or it is not ohms: "five point two",
    /// "four point seven kilohms", "twelve point three volts".
    #[must_use]
    pub fn say_shown(&self, shown: &Shown) -> String {
        let number = self.say_number(&shown.number);
        if shown.unit == Unit::Ohm && shown.prefix == Prefix::One {
            return number;
        }
        self.with_unit(number, &shown.number, Some(shown.prefix), Some(shown.unit))
    }

    /// A reading as it is read back.
    #[must_use]
    pub fn say_reading(&self, reading: &Reading) -> String {
        match reading {
            Reading::Value(shown) => self.say_shown(shown),
            Reading::OverRange { .. } => self.state(StateKind::OverRange),
            Reading::Unstable { .. } => self.state(StateKind::Unstable),
            Reading::NotTaken => self.lexicon.not_taken.clone(),
        }
    }

    /// What was said, put so that it parses back to itself: a number in the form in which it was said.
    #[must_use]
    pub fn say_spoken(&self, spoken: &Spoken) -> String {
        match spoken {
            Spoken::OverRange => self.state(StateKind::OverRange),
            Spoken::Unstable => self.state(StateKind::Unstable),
            Spoken::Number(number) => self.say_spoken_number(number),
        }
    }

    fn say_spoken_number(&self, spoken: &SpokenNumber) -> String {
        let number = self.lexicon.say_number(&spoken.number, spoken.form == Form::Digits);
        self.with_unit(number, &spoken.number, spoken.prefix, spoken.unit)
    }

    /// Any meaning, put so that it parses back to itself: for asking which of two was meant.
    #[must_use]
    pub fn say_utterance(&self, utterance: &Utterance) -> String {
        match utterance {
            Utterance::Reading(spoken) => self.say_spoken(spoken),
            Utterance::Command(command) => self.say_command(command),
            Utterance::Entry(digits) => self.lexicon.say_digits(digits),
            Utterance::Naming { name, .. } => name.clone(),
            Utterance::Phrase(phrase) => phrase.clone(),
        }
    }

    /// A pin's name as it is spoken: "four", "b two".
    #[must_use]
    pub fn say_pin(&self, pin: &PinName) -> String {
        self.lexicon.say_pin(pin)
    }

    fn with_unit(
        &self,
        mut text: String,
        number: &Decimal,
        prefix: Option<Prefix>,
        unit: Option<Unit>,
    ) -> String {
        let prefix = prefix.unwrap_or(Prefix::One);
        if let (Some(one), Some(_)) = (&self.lexicon.build.one_unit, unit)
            && text == self.lexicon.digit(1)
        {
            text.clone_from(one);
        }
        let word = match unit {
            Some(unit) => self.lexicon.unit_word(number, prefix, unit),
            None => self.lexicon.prefixes.get(&prefix).map(|words| words[0].as_str()),
        };
        match (word, unit) {
            (Some(word), _) => text.extend([" ", word]),
            // A pair that has no word in this language, such as megavolts: said so that nothing is left out.
            (None, Some(unit)) => {
                let words = self.lexicon.prefixes.get(&prefix).map_or("", |words| words[0].as_str());
                let unit = self.lexicon.unit_word(number, Prefix::One, unit).unwrap_or_default();
                text.extend([" ", words, " ", unit]);
            }
            (None, None) => {}
        }
        text
    }

    fn state(&self, kind: StateKind) -> String {
        let found = self.lexicon.states.iter().find(|(_, other, _)| *other == kind);
        found.map(|(phrase, ..)| phrase.clone()).unwrap_or_default()
    }

    fn say_command(&self, command: &Command) -> String {
        let (does, pin, reading, count) = parts(command);
        // The first phrase that has just the slots that are filled.
        let found = self.lexicon.patterns.iter().find(|pattern| {
            pattern.does == does
                && pattern.has(&Piece::Pin) == pin.is_some()
                && pattern.has(&Piece::Reading) == reading.is_some()
                && pattern.has(&Piece::Count) == count.is_some()
        });
        let Some(pattern) = found else { return String::new() };
        let words: Vec<String> = pattern
            .pieces
            .iter()
            .map(|piece| match piece {
                Piece::Word(word) => word.clone(),
                Piece::Pin => pin.map(|pin| self.say_pin(pin)).unwrap_or_default(),
                Piece::Reading => reading.map(|reading| self.say_spoken(reading)).unwrap_or_default(),
                Piece::Count => self.lexicon.say_whole(u64::from(count.unwrap_or(1))),
            })
            .collect();
        words.join(" ")
    }
}

/// A command's name in the files, and what fills its slots.
fn parts(command: &Command) -> (Does, Option<&PinName>, Option<&Spoken>, Option<u8>) {
    let plain = |does| (does, None, None, None);
    match command {
        Command::Next => plain(Does::Next),
        Command::Back(0 | 1) => plain(Does::Back),
        Command::Back(count) => (Does::Back, None, None, Some(*count)),
        Command::Repeat => plain(Does::Repeat),
        Command::Wrong(reading) => (Does::Wrong, None, reading.as_ref(), None),
        Command::Change { pin, reading } => (Does::Change, Some(pin), reading.as_ref(), None),
        Command::Skip => plain(Does::Skip),
        Command::Pause => plain(Does::Pause),
        Command::Resume => plain(Does::Resume),
        Command::Finish => plain(Does::Finish),
        Command::Stop => plain(Does::Stop),
        Command::Yes => plain(Does::Yes),
        Command::No => plain(Does::No),
        Command::Help => plain(Does::Help),
        Command::Status => plain(Does::Status),
        Command::Why => plain(Does::Why),
        Command::WhatWas(pin) => (Does::WhatWas, Some(pin), None, None),
        Command::Worst => plain(Does::Worst),
        Command::LastTime => plain(Does::LastTime),
        Command::WhereIs(pin) => (Does::WhereIs, pin.as_ref(), None, None),
        Command::Wake => plain(Does::Wake),
        Command::TakeIt => plain(Does::TakeIt),
        Command::ZeroLeads => plain(Does::ZeroLeads),
        Command::TalkLess => plain(Does::TalkLess),
        Command::TalkMore => plain(Does::TalkMore),
        Command::KeepListening => plain(Does::KeepListening),
        Command::PushToTalk => plain(Does::PushToTalk),
        Command::Louder => plain(Does::Louder),
        Command::Quieter => plain(Does::Quieter),
        Command::Faster => plain(Does::Faster),
        Command::Slower => plain(Does::Slower),
    }
}
