//! Owns the step from words to parts of a number: words that are several in one are taken apart, and tens and units
//! are put together in the order of the language. Behind it, all languages are alike.

use super::{
    lexicon::{Lexicon, Role},
    source::Order,
};

/// One part of a number, and the word where it is one of its own.
#[derive(Debug, Clone, Copy)]
pub(super) struct Token<'a> {
    pub role: Option<Role>,
    /// Empty where it comes from a word that is several in one.
    pub word: &'a str,
}

impl Lexicon {
    /// The parts of a run of words; a word that is no part of a number has no role.
    pub(super) fn tokens<'a>(&self, words: &[&'a str]) -> Vec<Token<'a>> {
        let mut list = Vec::new();
        for word in words.iter().copied() {
            match self.parts(word) {
                None => list.push(Token { role: None, word }),
                Some(roles) if roles.len() == 1 => list.push(Token { role: Some(roles[0]), word }),
                Some(roles) => {
                    list.extend(roles.into_iter().map(|role| Token { role: Some(role), word: "" }))
                }
            }
        }
        self.pairs(&list)
    }

    /// The roles of a run of words; none where a word is no part of a number.
    pub(super) fn all_roles(&self, words: &[&str]) -> Option<Vec<Role>> {
        self.tokens(words).iter().map(|token| token.role).collect()
    }

    /// The parts that one word has in a number: itself, what it stands for, or the words that it is written together from.
    pub(super) fn parts(&self, word: &str) -> Option<Vec<Role>> {
        if let Some(role) = self.role(word) {
            return Some(vec![role]);
        }
        if let Some(words) = self.stands_for.get(word) {
            return words.iter().map(|word| self.role(word)).collect();
        }
        if !self.build.one_word {
            return None;
        }
        let scaled = |role: &Role| matches!(role, Role::And | Role::Hundred | Role::Thousand | Role::Million);
        self.apart(word).filter(|roles| roles.iter().any(scaled))
    }

    /// A word taken apart into words of whole numbers, the longest first.
    fn apart(&self, word: &str) -> Option<Vec<Role>> {
        if word.is_empty() {
            return Some(Vec::new());
        }
        let ends = word.char_indices().map(|(at, letter)| at + letter.len_utf8());
        ends.rev().find_map(|end| {
            let role = *self.roles.get(&word[..end])?;
            let whole = matches!(
                role,
                Role::Digit(_)
                    | Role::Teen(_)
                    | Role::Ten(_)
                    | Role::Hundred
                    | Role::Thousand
                    | Role::Million
                    | Role::And
            );
            if !whole {
                return None;
            }
            let rest = self.apart(&word[end..])?;
            Some([vec![role], rest].concat())
        })
    }

    /// Tens and units put together, in the order of the language.
    fn pairs<'a>(&self, tokens: &[Token<'a>]) -> Vec<Token<'a>> {
        let role = |at: usize| tokens.get(at).and_then(|token| token.role);
        let (mut list, mut at) = (Vec::new(), 0);
        while at < tokens.len() {
            let pair = match (self.build.order, role(at), role(at + 1), role(at + 2)) {
                (Order::TensUnits, Some(Role::Ten(ten)), Some(Role::Digit(digit @ 1..)), _) => {
                    Some((ten + digit, 2))
                }
                (
                    Order::UnitsAndTens,
                    Some(Role::Digit(digit @ 1..)),
                    Some(Role::And),
                    Some(Role::Ten(ten)),
                ) => Some((ten + digit, 3)),
                _ => None,
            };
            let (token, used) = pair.map_or((tokens[at], 1), |(value, used)| {
                (Token { role: Some(Role::Pair(value)), word: "" }, used)
            });
            list.push(token);
            at += used;
        }
        list
    }
}
