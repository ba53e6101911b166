//! Owns numbers: a run of words to a [`SpokenNumber`], whole or not at all.

use super::{
    Form, SpokenNumber,
    lexicon::{Lexicon, Role},
    tokens::Token,
};
use crate::quantity::{Decimal, Prefix};

/// Most digits that a number may have; what is longer is no display.
const MOST_DIGITS: usize = 12;

/// A number before its point.
struct Integer {
    /// Its digits, as said: leading zeros kept.
    digits: Vec<u8>,
    form: Form,
}

impl Lexicon {
    /// Parses a number with prefix and unit; every word must belong to it.
    pub(super) fn number(&self, words: &[&str]) -> Option<SpokenNumber> {
        let tokens = self.tokens(words);
        let mut at = Cursor { lexicon: self, tokens: &tokens, next: 0 };
        let number = at.number()?;
        (at.next == tokens.len()).then_some(number)
    }

    /// Digits of a run of whole-number words ("sixteen", "one six"), leading zeros kept: for names of pins.
    pub(super) fn digit_text(&self, words: &[&str]) -> Option<String> {
        let integer = integer(&self.all_roles(words)?)?;
        Some(integer.digits.iter().map(|digit| char::from(b'0' + digit)).collect())
    }

    /// How many words from the start may belong to a whole number.
    pub(super) fn integer_run(&self, words: &[&str]) -> usize {
        let part = |word: &&&str| {
            self.parts(word).is_some_and(|roles| roles.iter().all(|role| is_integer_part(*role)))
        };
        words.iter().take_while(part).count()
    }
}

fn is_integer_part(role: Role) -> bool {
    matches!(
        role,
        Role::Digit(_)
            | Role::Teen(_)
            | Role::Ten(_)
            | Role::Pair(_)
            | Role::Hundred
            | Role::Thousand
            | Role::Million
            | Role::And
            | Role::Article
            | Role::Times(_)
    )
}

/// Walks over the words of one number.
struct Cursor<'a> {
    lexicon: &'a Lexicon,
    tokens: &'a [Token<'a>],
    next: usize,
}

impl Cursor<'_> {
    fn peek(&self, ahead: usize) -> Option<Role> {
        self.tokens.get(self.next + ahead).and_then(|token| token.role)
    }

    fn eat(&mut self, role: Role) -> bool {
        let found = self.peek(0) == Some(role);
        self.next += usize::from(found);
        found
    }

    fn number(&mut self) -> Option<SpokenNumber> {
        let negative = self.eat(Role::Minus);
        if let Some(number) = self.lone_half(negative) {
            return Some(number);
        }
        let whole = self.integer()?;
        let (number, form, prefix) = if self.eat(Role::Point) {
            let mut digits = whole.map_or(vec![0], |integer| integer.digits);
            let places = self.fraction(&mut digits)?;
            (decimal(negative, &digits, places)?, Form::Pointed, None)
        } else if self.eat_all(&[Role::And, Role::Article, Role::Half]) {
            let mut digits = whole?.digits;
            digits.push(5);
            (decimal(negative, &digits, 1)?, Form::Pointed, None)
        } else if let Some((prefix, fraction)) = self.letter_for_point() {
            let mut digits = whole?.digits;
            digits.extend(&fraction);
            (decimal(negative, &digits, fraction.len())?, Form::Pointed, Some(prefix))
        } else {
            let whole = whole?;
            // A leading zero without a point is half of something: no display shows it.
            if whole.digits.len() > 1 && whole.digits[0] == 0 && whole.form != Form::LoneZero {
                return None;
            }
            (decimal(negative, &whole.digits, 0)?, whole.form, None)
        };
        self.tail(SpokenNumber { number, prefix, unit: None, form })
    }

    /// "half", "a half", "half a kilohm".
    fn lone_half(&mut self, negative: bool) -> Option<SpokenNumber> {
        let start = self.next;
        self.eat(Role::Article);
        if !self.eat(Role::Half) {
            self.next = start;
            return None;
        }
        let number = decimal(negative, &[0, 5], 1)?;
        let plain = SpokenNumber { number, prefix: None, unit: None, form: Form::Pointed };
        if self.eat(Role::Article) {
            return self.tail(plain).filter(|number| number.prefix.is_some() || number.unit.is_some());
        }
        self.tail(plain)
    }

    fn eat_all(&mut self, roles: &[Role]) -> bool {
        let found = roles.iter().enumerate().all(|(ahead, role)| self.peek(ahead) == Some(*role));
        if found {
            self.next += roles.len();
        }
        found
    }

    /// The whole part: `Some(None)` where there is none, `None` where it is wrong.
    #[allow(clippy::option_option)]
    fn integer(&mut self) -> Option<Option<Integer>> {
        let mut run = Vec::new();
        while let Some(role) = self.peek(0).filter(|role| is_integer_part(*role)) {
            let half =
                role == Role::And && self.peek(1) == Some(Role::Article) && self.peek(2) == Some(Role::Half);
            if half {
                break;
            }
            run.push(role);
            self.next += 1;
        }
        if run.is_empty() { Some(None) } else { integer(&run).map(Some) }
    }

    /// Digits behind the point, one by one or as one number of two digits; gives how many.
    fn fraction(&mut self, digits: &mut Vec<u8>) -> Option<usize> {
        let before = digits.len();
        match self.peek(0)? {
            Role::Teen(teen) => {
                self.next += 1;
                digits.extend([1, teen - 10]);
            }
            Role::Ten(value) | Role::Pair(value) => {
                self.next += 1;
                digits.extend([value / 10, value % 10]);
            }
            _ => {
                let run: Vec<Role> = (0..)
                    .map_while(|ahead| self.peek(ahead))
                    .take_while(|role| matches!(role, Role::Digit(_) | Role::Times(_)))
                    .collect();
                self.next += run.len();
                digits.extend(digit_run(&run)?);
            }
        }
        let places = digits.len() - before;
        (places > 0).then_some(places)
    }

    /// "one k five": the prefix stands for the point.
    fn letter_for_point(&mut self) -> Option<(Prefix, Vec<u8>)> {
        let Some(Role::Prefix(prefix @ (Prefix::Kilo | Prefix::Mega))) = self.peek(0) else { return None };
        let run: Vec<Role> = (1..)
            .map_while(|ahead| self.peek(ahead))
            .take_while(|role| matches!(role, Role::Digit(_) | Role::Times(_)))
            .collect();
        if run.is_empty() {
            return None;
        }
        let digits = digit_run(&run)?;
        self.next += 1 + run.len();
        Some((prefix, digits))
    }

    /// Prefix and unit behind a number.
    fn tail(&mut self, mut number: SpokenNumber) -> Option<SpokenNumber> {
        if let (None, Some(Role::Prefix(prefix))) = (number.prefix, self.peek(0)) {
            number.prefix = Some(prefix);
            self.next += 1;
        }
        match self.peek(0) {
            Some(Role::Unit(unit)) => number.unit = Some(unit),
            Some(Role::Joined(prefix, unit)) if number.prefix.is_none() => {
                number.prefix = Some(prefix);
                number.unit = Some(unit);
            }
            _ => return Some(number),
        }
        self.next += 1;
        let unit = number.unit?;
        if self.tokens.get(self.next).is_some_and(|token| self.lexicon.follows(unit, token.word)) {
            self.next += 1;
        }
        self.lexicon.takes(unit, number.prefix.unwrap_or(Prefix::One)).then_some(number)
    }
}

fn decimal(negative: bool, digits: &[u8], places: usize) -> Option<Decimal> {
    let significant = digits.iter().skip_while(|digit| **digit == 0).count();
    if significant > MOST_DIGITS {
        return None;
    }
    let value = digits.iter().fold(0u64, |sum, digit| sum.wrapping_mul(10).wrapping_add(u64::from(*digit)));
    Decimal::new(negative, value, u8::try_from(places).ok()?).ok()
}

/// Digits one by one, "double" and "triple" written out.
fn digit_run(run: &[Role]) -> Option<Vec<u8>> {
    let (mut digits, mut roles) = (Vec::new(), run.iter());
    while let Some(role) = roles.next() {
        match role {
            Role::Digit(digit) => digits.push(*digit),
            Role::Times(times) => {
                let Some(Role::Digit(digit)) = roles.next() else { return None };
                digits.extend(std::iter::repeat_n(*digit, usize::from(*times)));
            }
            _ => return None,
        }
    }
    (!digits.is_empty()).then_some(digits)
}

/// A whole number: in words, digit by digit, or in two groups ("one twenty", "twelve fifty", "three oh five").
fn integer(run: &[Role]) -> Option<Integer> {
    if run.iter().any(|role| matches!(role, Role::Hundred | Role::Thousand | Role::Million)) {
        let value = scaled(run)?;
        return Some(Integer { digits: digits_of(value), form: Form::Whole });
    }
    if let Some((value, _)) = below_hundred(run).filter(|(_, len)| *len == run.len())
        && !matches!(run[0], Role::Digit(_))
    {
        return Some(Integer { digits: digits_of(value), form: Form::Whole });
    }
    if let Some(digits) = digit_run(run) {
        let form = match digits.as_slice() {
            all if all.iter().all(|digit| *digit == 0) => Form::LoneZero,
            [_] => Form::LoneDigit,
            _ => Form::Digits,
        };
        return Some(Integer { digits, form });
    }
    groups(run).map(|digits| Integer { digits, form: Form::Digits })
}

/// Two groups run together: 1 to 99, then 10 to 99 or "oh" and a digit. At least one of them is no single digit.
fn groups(run: &[Role]) -> Option<Vec<u8>> {
    let (value, used) = below_hundred(run)?;
    let second = match &run[used..] {
        [Role::Digit(0), Role::Digit(digit)] => vec![0, *digit],
        rest => {
            let (value, used) = below_hundred(rest)?;
            if value < 10 || used != rest.len() {
                return None;
            }
            digits_of(value)
        }
    };
    Some([digits_of(value), second].concat())
}

/// 1 to 99 in words at the start of a run, and how many words it took.
fn below_hundred(run: &[Role]) -> Option<(u64, usize)> {
    match run {
        [Role::Ten(value) | Role::Pair(value) | Role::Teen(value) | Role::Digit(value @ 1..), ..] => {
            Some((u64::from(*value), 1))
        }
        _ => None,
    }
}

/// A whole number with "hundred", "thousand" or "million"; up to 999 999 999.
fn scaled(run: &[Role]) -> Option<u64> {
    let (millions, rest) = split(run, Role::Million)?;
    let (thousands, rest) = split(rest, Role::Thousand)?;
    let first = millions.is_none() && thousands.is_none();
    let units = match rest {
        [] => 0,
        // "two thousand and five"
        [Role::And, rest @ ..] if !first => below_thousand(rest, false, false)?,
        rest => below_thousand(rest, first, first)?,
    };
    let value = millions.unwrap_or(0) * 1_000_000 + thousands.unwrap_or(0) * 1000 + units;
    Some(value)
}

/// What stands before a scale, as a number, and what stands behind it.
fn split(run: &[Role], scale: Role) -> Option<(Option<u64>, &[Role])> {
    let Some(at) = run.iter().position(|role| *role == scale) else { return Some((None, run)) };
    let before = match &run[..at] {
        [] | [Role::Article] => 1,
        before => below_thousand(before, true, false)?,
    };
    Some((Some(before), &run[at + 1..]))
}

/// 1 to 999, or up to 9999 as hundreds ("twenty one hundred") where `hundreds`; `article`: "a hundred", "hundred".
fn below_thousand(run: &[Role], article: bool, hundreds: bool) -> Option<u64> {
    let Some(at) = run.iter().position(|role| *role == Role::Hundred) else {
        return below_hundred(run).filter(|(_, used)| *used == run.len()).map(|(value, _)| value);
    };
    let count = match &run[..at] {
        [] | [Role::Article] if article => 1,
        before => below_hundred(before).filter(|(_, used)| *used == before.len())?.0,
    };
    if count > 9 && (!hundreds || count % 10 == 0) {
        return None;
    }
    let rest = match &run[at + 1..] {
        [] => return Some(count * 100),
        [Role::And, rest @ ..] => rest,
        rest => rest,
    };
    let (value, used) = below_hundred(rest)?;
    (used == rest.len()).then_some(count * 100 + value)
}

fn digits_of(value: u64) -> Vec<u8> {
    value.to_string().bytes().map(|byte| byte - b'0').collect()
}
