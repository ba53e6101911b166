//! Owns the ways in which one display may be said: feeds the recogniser's phrases and the round-trip tests.

use super::{
    Grammar,
    lexicon::{Lexicon, Role},
    source::Order,
};
use crate::quantity::{Decimal, Prefix, Shown, Unit};

impl Grammar {
    /// The ways to say a display that this grammar takes, the usual ones first; each parses back to the same number.
    #[must_use]
    pub fn ways_to_say(&self, shown: &Shown) -> Vec<String> {
        self.lexicon.ways(&shown.number, shown.prefix, shown.unit)
    }
}

impl Lexicon {
    pub(super) fn ways(&self, number: &Decimal, prefix: Prefix, unit: Unit) -> Vec<String> {
        let mut list = Vec::new();
        let tails = self.tails(number, prefix, unit);
        for body in self.bodies(number) {
            for tail in &tails {
                push(&mut list, [body.as_str(), tail].join(" ").trim_end().to_owned());
            }
        }
        list.extend(self.letter_for_point(number, prefix));
        if number.is_negative() {
            let plain = list.clone();
            list = self
                .minus
                .iter()
                .flat_map(|minus| plain.iter().map(move |way| format!("{minus} {way}")))
                .collect();
        }
        list
    }

    /// The number without sign and unit.
    fn bodies(&self, number: &Decimal) -> Vec<String> {
        let text = number.to_string();
        let text = text.trim_start_matches('-');
        let (whole, fraction) = text.split_once('.').unwrap_or((text, ""));
        let mut wholes = self.wholes(whole);
        if fraction.is_empty() {
            return wholes;
        }
        if whole == "0" {
            wholes.push(String::new());
        }
        let mut list = Vec::new();
        for whole in &wholes {
            for point in &self.point {
                for fraction in self.spellings(fraction) {
                    push(&mut list, format!("{whole} {point} {fraction}").trim_start().to_owned());
                }
                if let [b'1'..=b'9', _] = fraction.as_bytes() {
                    let pair = self.say_whole(fraction.parse().unwrap_or(0));
                    push(&mut list, format!("{whole} {point} {pair}").trim_start().to_owned());
                }
            }
            if fraction == "5" && !whole.is_empty() && !self.article.is_empty() && !self.half.is_empty() {
                push(&mut list, format!("{whole} {} {} {}", self.and, self.article, self.half));
            }
        }
        if fraction == "5" && whole == "0" && !self.half.is_empty() {
            push(&mut list, self.half.clone());
            if !self.article.is_empty() {
                push(&mut list, format!("{} {}", self.article, self.half));
            }
        }
        let short = |long: &Vec<String>| list.contains(&long.join(" "));
        let mut shorts: Vec<String> =
            self.stands_for.iter().filter(|(_, long)| short(long)).map(|(word, _)| word.clone()).collect();
        shorts.sort();
        list.extend(shorts);
        list
    }

    /// Words of a number with tens and units written as one word, the rest apart.
    fn pairs_joined(&self, words: &str) -> String {
        if self.build.order == Order::TensUnits || !self.build.one_word {
            return words.to_owned();
        }
        words.replace(&format!(" {} ", self.and), &self.and)
    }

    /// The whole part: in words, digit by digit, in groups.
    fn wholes(&self, whole: &str) -> Vec<String> {
        let value: u64 = whole.parse().unwrap_or(0);
        let mut list = vec![self.say_whole(value)];
        // Without "and" where it stands before the last part.
        let words = self.say_whole_apart(value);
        push(&mut list, words.clone());
        push(&mut list, self.pairs_joined(&words));
        if self.build.and_after_scale {
            push(&mut list, words.replace(&format!(" {} ", self.and), " "));
        }
        if (100..200).contains(&value) || (1000..2000).contains(&value) {
            let one = format!("{} ", self.build.one_within.as_deref().unwrap_or(&self.digits[1][0]));
            if let Some(rest) = words.strip_prefix(&one).filter(|_| !self.article.is_empty()) {
                push(&mut list, format!("{} {rest}", self.article));
            }
        }
        if (1000..10000).contains(&value) && !(value / 100).is_multiple_of(10) {
            let hundreds = format!("{} {}", self.say_whole(value / 100), self.hundred);
            let rest = value % 100;
            push(
                &mut list,
                if rest == 0 { hundreds } else { format!("{hundreds} {}", self.say_whole(rest)) },
            );
        }
        for spelling in self.spellings(whole) {
            push(&mut list, spelling);
        }
        let (high, low) = (value / 100, value % 100);
        if (1..100).contains(&high) {
            match low {
                10.. => push(&mut list, format!("{} {}", self.say_whole(high), self.say_whole(low))),
                1..10 => {
                    for oh in &self.digits[0] {
                        push(&mut list, format!("{} {oh} {}", self.say_whole(high), self.say_whole(low)));
                    }
                }
                0 => {}
            }
        }
        list
    }

    /// Digits one by one: as taught, with the other words, with "double" and "triple".
    fn spellings(&self, digits: &str) -> Vec<String> {
        let mut list = vec![self.say_digits(digits)];
        let other = |pick: fn(&Vec<String>) -> Option<&String>| {
            let words: Vec<&str> = digits
                .bytes()
                .filter_map(|byte| self.digits.get(usize::from(byte.wrapping_sub(b'0'))))
                .filter_map(|words| pick(words).map(String::as_str))
                .collect();
            words.join(" ")
        };
        push(&mut list, other(|words| words.last()));
        for (times, word) in [(2, &self.double), (3, &self.triple)] {
            if word.is_empty() {
                continue;
            }
            let bytes = digits.as_bytes();
            for at in 0..bytes.len().saturating_sub(times - 1) {
                if bytes[at..at + times].iter().all(|byte| *byte == bytes[at]) {
                    let parts = [
                        self.say_digits(&digits[..at]),
                        word.clone(),
                        self.say_digits(&digits[at..=at]),
                        self.say_digits(&digits[at + times..]),
                    ];
                    push(&mut list, parts.join(" ").trim().to_owned());
                }
            }
        }
        list
    }

    /// "one k five": the prefix stands for the point.
    fn letter_for_point(&self, number: &Decimal, prefix: Prefix) -> Vec<String> {
        let text = number.to_string();
        let (Some((whole, fraction)), Prefix::Kilo | Prefix::Mega) =
            (text.trim_start_matches('-').split_once('.'), prefix)
        else {
            return Vec::new();
        };
        let Some(words) = self.prefixes.get(&prefix) else { return Vec::new() };
        let (whole, fraction) = (self.say_whole(whole.parse().unwrap_or(0)), self.say_digits(fraction));
        words.iter().map(|word| format!("{whole} {word} {fraction}")).collect()
    }

    /// What may stand behind the number.
    fn tails(&self, number: &Decimal, prefix: Prefix, unit: Unit) -> Vec<String> {
        let mut list = Vec::new();
        if prefix == Prefix::One {
            push(&mut list, String::new());
        }
        let joined = self.unit_word(number, prefix, unit).unwrap_or_default();
        let plain = self.unit_word(number, Prefix::One, unit).unwrap_or_default();
        push(&mut list, joined.to_owned());
        for word in self.prefixes.get(&prefix).into_iter().flatten() {
            push(&mut list, word.clone());
            if self.takes(unit, prefix) {
                push(&mut list, format!("{word} {plain}"));
            }
        }
        if prefix == Prefix::One {
            // "amperes" beside "amps".
            let usual = self.units.get(&(unit, prefix));
            for word in self.number_words() {
                let usual = usual.is_some_and(|names| names.one == word || names.more == word);
                if !usual && self.role(word) == Some(Role::Unit(unit)) {
                    push(&mut list, word.to_owned());
                }
            }
        }
        let bare = |tail: &String| {
            tail.rsplit(' ').next().and_then(|word| self.role(word)) == Some(Role::Unit(unit))
        };
        let named: Vec<String> = list.iter().filter(|tail| bare(tail)).cloned().collect();
        for word in self.then.get(&unit).into_iter().flatten() {
            named.iter().for_each(|tail| push(&mut list, format!("{tail} {word}")));
        }
        list.retain(|tail| prefix == Prefix::One || !tail.is_empty());
        list
    }
}

fn push(list: &mut Vec<String>, way: String) {
    if !list.contains(&way) {
        list.push(way);
    }
}
