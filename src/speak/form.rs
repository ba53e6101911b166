//! Owns the step from written to spoken: symbols and numbers into words that any synthetic voice says alike.

use crate::{grammar::Grammar, quantity::Decimal};

/// Symbols and how they are said. Longer ones first.
const SYMBOLS: [(&str, &str); 12] = [
    ("mΩ", "milliohms"),
    ("kΩ", "kilohms"),
    ("MΩ", "megohms"),
    ("Ω", "ohms"),
    ("°C", "degrees"),
    ("±", "plus or minus"),
    ("−", "minus"),
    ("%", "percent"),
    ("≤", "at most"),
    ("≥", "at least"),
    ("–", "to"),
    ("·", "times"),
];

/// The line as it is spoken: numbers digit by digit after the point, units as words.
#[must_use]
pub fn spoken_form(text: &str, grammar: &Grammar) -> String {
    let mut text = text.to_owned();
    for (symbol, words) in SYMBOLS {
        text = text.replace(symbol, &format!(" {words} "));
    }
    let words = text.split_whitespace().map(|word| spoken_word(word, grammar));
    words.collect::<Vec<_>>().join(" ")
}

/// A word with the number in it, if it is one, put into words; what stands around it is kept.
fn spoken_word(word: &str, grammar: &Grammar) -> String {
    let core = word.trim_matches(|letter: char| !(letter.is_ascii_digit() || letter == '-'));
    let number =
        core.parse::<Decimal>().ok().filter(|_| core.starts_with(|c: char| c.is_ascii_digit() || c == '-'));
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
        let said = |text| spoken_form(text, &grammar);
        assert_eq!(said("5.2. In. Pin 2, coil B."), "five point two. In. Pin two, coil B.");
        assert_eq!(
            said("3.12 Ω, window 4.7–5.7 Ω."),
            "three point one two ohms , window four point seven to five point seven ohms ."
        );
        assert_eq!(said("Temperature 20 °C"), "Temperature twenty degrees");
        assert_eq!(said("well-kept - or not"), "well-kept - or not");
    }
}
