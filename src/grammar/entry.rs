//! Owns entries: serial and order numbers, said digit by digit or in number words, to a string of digits.
//!
//! An entry is no amount: leading zeros count, and groups stand one behind the other ("twelve fifty" is 1250, "eight hundred
//! five five five" is 800555). Only a hundred or thousand with tens behind it is added up ("five hundred twelve" is 512).

use super::{
    Grammar,
    lexicon::{Lexicon, Role},
    phrases::{FEWEST, with_word},
};
use crate::random::Lasting;

/// Most digits of an entry: longer than any serial number that is said in one breath.
const MOST: usize = 24;
/// How many entries are listed for a recogniser.
const LISTED: usize = 600;

impl Grammar {
    /// The digits that these words enter; none where any word is no part of a number.
    #[must_use]
    pub fn entry(&self, words: &str) -> Option<String> {
        let roles: Vec<Role> = words
            .split_whitespace()
            .filter(|word| !self.lexicon.fillers.contains(*word))
            .map(|word| self.lexicon.role(word))
            .collect::<Option<_>>()?;
        let digits = digits(&roles)?;
        (!digits.is_empty() && digits.len() <= MOST).then_some(digits)
    }
}

/// Each group's digits, one behind the other.
fn digits(roles: &[Role]) -> Option<String> {
    let mut out = String::new();
    let mut rest = roles;
    while let Some((first, tail)) = rest.split_first() {
        let group = rest;
        rest = tail;
        match (first, rest.first()) {
            (Role::Times(times), Some(Role::Digit(digit))) => {
                rest = &rest[1..];
                for _ in 0..*times {
                    out.push(char::from(b'0' + digit));
                }
            }
            (Role::Digit(_) | Role::Teen(_) | Role::Ten(_), _) => {
                let (mut value, used) = below_hundred(group)?;
                rest = &group[used..];
                if let Some(Role::Hundred | Role::Thousand) = rest.first().filter(|_| value > 0) {
                    let scale = if rest[0] == Role::Hundred { 100 } else { 1000 };
                    rest = &rest[1..];
                    value *= scale;
                    let joined = rest.first() == Some(&Role::And);
                    let after = if joined { &rest[1..] } else { rest };
                    // "and five" and "twelve" are added; a digit without "and" begins the next group.
                    let adds = joined || matches!(after.first(), Some(Role::Teen(_) | Role::Ten(_)));
                    if let Some((more, used)) = below_hundred(after).filter(|_| adds) {
                        value += more;
                        rest = &after[used..];
                    }
                }
                out.push_str(&value.to_string());
            }
            _ => return None,
        }
    }
    Some(out)
}

/// A number below a hundred at the start, and how many words it took.
fn below_hundred(roles: &[Role]) -> Option<(u32, usize)> {
    match (roles.first()?, roles.get(1)) {
        (Role::Ten(ten), Some(Role::Digit(digit))) if *digit > 0 => {
            Some((u32::from(*ten) + u32::from(*digit), 2))
        }
        (Role::Ten(ten), _) => Some((u32::from(*ten), 1)),
        (Role::Teen(teen), _) => Some((u32::from(*teen), 1)),
        (Role::Digit(digit), _) => Some((u32::from(*digit), 1)),
        _ => None,
    }
}

impl Lexicon {
    /// Representative entries for a recogniser: one to ten groups, mostly single digits, with both words for nought alike often.
    pub(super) fn entry_phrases(&self) -> Vec<String> {
        let mut drawn = Lasting::new(2);
        let digit = |drawn: &mut Lasting| {
            let words = &self.digits[usize::try_from(drawn.below(10)).unwrap_or(0)];
            let first = if words.len() > 1 && words[1].len() < words[0].len() { 2 } else { 1 };
            words[usize::try_from(drawn.below(first)).unwrap_or(0)].clone()
        };
        let mut list = Vec::new();
        while list.len() < LISTED {
            let groups = drawn.below(10) + 1;
            let words: Vec<String> = (0..groups)
                .map(|_| match drawn.below(30) {
                    0 | 1 => self.say_whole(10 + drawn.below(90)),
                    2 => format!("{} {}", self.say_whole(1 + drawn.below(9)), self.hundred),
                    3 => format!("{} {}", self.double, digit(&mut drawn)),
                    _ => digit(&mut drawn),
                })
                .collect();
            list.push(words.join(" "));
        }
        // What is rare among these stands in some more, between digits: what is in no phrase could never be heard.
        let pairs = (10..20).chain((20..100).step_by(10)).map(|pair| self.say_whole(pair));
        let thousand = format!("{} {}", self.say_whole(1 + drawn.below(9)), self.thousand);
        let rare: Vec<String> = pairs.chain([self.triple.clone(), thousand]).collect();
        for group in rare {
            let word = group.rsplit(' ').next().unwrap_or_default();
            for _ in with_word(&list, word)..FEWEST {
                let [before, behind] = [digit(&mut drawn), digit(&mut drawn)];
                list.push(format!("{before} {group} {behind}"));
            }
        }
        list
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::grammar::{Context, Utterance};

    #[test]
    fn groups_stand_one_behind_the_other() {
        let grammar = Grammar::builtin("en").unwrap();
        for (words, digits) in [
            ("five", "5"),
            ("oh five five", "055"),
            ("zero one two three", "0123"),
            ("double five two", "552"),
            ("triple oh seven", "0007"),
            ("twelve fifty", "1250"),
            ("twenty five six", "256"),
            ("twenty oh six", "2006"),
            ("eight hundred five five five", "800555"),
            ("five hundred twelve", "512"),
            ("five hundred and five", "505"),
            ("three thousand", "3000"),
            ("uh four um two", "42"),
            ("won ate to for", "1824"),
        ] {
            assert_eq!(grammar.entry(words).as_deref(), Some(digits), "{words}");
        }
        for words in
            ["", "uh", "point five", "five ohms", "hundred", "and five", "double", "five next", "five [unk]"]
        {
            assert_eq!(grammar.entry(words), None, "{words}");
        }
        assert_eq!(grammar.entry(&"nine ".repeat(25)), None, "too long");
    }

    #[test]
    fn every_listed_entry_is_understood_as_one() {
        let grammar = Grammar::builtin("en").unwrap();
        let context = Context { entry: true, ..Context::default() };
        let phrases = grammar.phrases(&context);
        let entries =
            phrases.iter().filter(|p| matches!(grammar.parse(p, &context), Some(Utterance::Entry(_))));
        assert!(entries.count() > 500);
        let words = grammar.words(&context);
        for word in ["zero", "oh", "one", "nine", "nineteen", "ninety", "hundred", "double", "wrong", "stop"]
        {
            assert!(words.iter().any(|w| w == word), "{word}");
        }
        // A word that stands in none of the phrases could never be heard.
        for word in ["zero", "oh", "nineteen", "ninety", "hundred", "thousand", "double", "triple"] {
            let times = with_word(&grammar.lexicon.entry_phrases(), word);
            assert!(times >= FEWEST, "{word}: {times}");
        }
    }
}
