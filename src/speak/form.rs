//! Owns the step from written to spoken: symbols and numbers into words that any synthetic voice says alike.

use crate::{grammar::Grammar, quantity::Decimal, words::Words};
use schemars::JsonSchema;
use serde::Serialize;

/// A sign that is written and has to be spoken in words.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Symbol {
    /// mΩ
    Milliohms,
    /// kΩ
    Kilohms,
    /// MΩ
    Megohms,
    /// Ω
    Ohms,
    /// °C
    Degrees,
    /// ±
    PlusOrMinus,
    /// −
    Minus,
    /// %
    Percent,
    /// ≤
    AtMost,
    /// ≥
    AtLeast,
    /// –
    To,
    /// ·
    Times,
}

/// The signs. Longer ones first.
const SYMBOLS: [(&str, Symbol); 12] = [
    ("mΩ", Symbol::Milliohms),
    ("kΩ", Symbol::Kilohms),
    ("MΩ", Symbol::Megohms),
    ("Ω", Symbol::Ohms),
    ("°C", Symbol::Degrees),
    ("±", Symbol::PlusOrMinus),
    ("−", Symbol::Minus),
    ("%", Symbol::Percent),
    ("≤", Symbol::AtMost),
    ("≥", Symbol::AtLeast),
    ("–", Symbol::To),
    ("·", Symbol::Times),
];

/// The line as it is spoken: numbers digit by digit after the point, units as words.
#[must_use]
pub fn spoken_form(text: &str, grammar: &Grammar, words: &Words) -> String {
    let mut text = text.to_owned();
    for (sign, symbol) in SYMBOLS {
        if text.contains(sign) {
            text = text.replace(sign, &format!(" {} ", words.text(&symbol)));
        }
    }
    let spoken = text.split_whitespace().map(|word| spoken_word(word, grammar, words));
    spoken.collect::<Vec<_>>().join(" ")
}

/// A word with the number in it, if it is one, put into words; what stands around it is kept.
fn spoken_word(word: &str, grammar: &Grammar, words: &Words) -> String {
    let core = word.trim_matches(|letter: char| !(letter.is_ascii_digit() || letter == '-'));
    let begins = core.starts_with(|letter: char| letter.is_ascii_digit() || letter == '-');
    let number = core.replace(words.decimal_mark(), ".").parse::<Decimal>().ok().filter(|_| begins);
    match (number, word.split_once(core)) {
        (Some(number), Some((before, after))) => format!("{before}{}{after}", grammar.say_number(&number)),
        _ => word.to_owned(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_and_symbols_become_words() {
        let grammar = Grammar::builtin("en").unwrap();
        let words = Words::english();
        let said = |text| spoken_form(text, &grammar, &words);
        assert_eq!(said("5.2. In. Pin 2, coil B."), "five point two. In. Pin two, coil B.");
        assert_eq!(
            said("3.12 Ω, window 4.7–5.7 Ω."),
            "three point one two ohms , window four point seven to five point seven ohms ."
        );
        assert_eq!(said("Temperature 20 °C"), "Temperature twenty degrees");
        assert_eq!(said("well-kept - or not"), "well-kept - or not");
    }
}
