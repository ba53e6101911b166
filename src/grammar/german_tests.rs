//! German numbers: the forms as they are said and written, and every value in every way that is offered.
//!
//! How the words are put together is common usage (Duden's rules for numerals), from memory.

use super::*;
use crate::quantity::{Decimal, Prefix, Shown, Unit};
use proptest::prelude::*;
use std::sync::LazyLock;

static LANGUAGES_READ: LazyLock<Vec<Grammar>> = LazyLock::new(|| {
    LANGUAGES
        .iter()
        .map(|language| Grammar::builtin(language).unwrap_or_else(|error| panic!("{error}")))
        .collect()
});

fn german() -> &'static Grammar {
    &LANGUAGES_READ[1]
}

fn number(said: &str) -> Option<String> {
    match german().parse(said, &Context::default())? {
        Utterance::Reading(Spoken::Number(spoken)) => Some(format!(
            "{}{}{}",
            spoken.number,
            spoken.prefix.map_or(String::new(), |prefix| format!(" {prefix:?}")),
            spoken.unit.map_or(String::new(), |unit| format!(" {unit:?}"))
        )),
        other => Some(format!("{other:?}")),
    }
}

#[test]
fn numbers_as_they_are_said() {
    for (said, value) in [
        ("zweiunddreißig", "32"),
        ("zwei und dreißig", "32"),
        ("einundzwanzig", "21"),
        ("siebenundsiebzig komma vier", "77.4"),
        ("achtundachtzig", "88"),
        ("einhundertfünf", "105"),
        ("hundertfünf", "105"),
        ("ein hundert fünf", "105"),
        ("hundert und fünf", "105"),
        ("dreihundertvierundfünfzig", "354"),
        ("drei hundert vier und fünfzig", "354"),
        ("zwölfhundert", "1200"),
        ("viertausendsiebenhundert", "4700"),
        ("zweiunddreißigtausendeinhunderteins", "32101"),
        ("eine million zweihunderttausend", "1200000"),
        ("ein komma fünf", "1.5"),
        ("eins komma fünf", "1.5"),
        ("fünf Komma drei zwei neun", "5.329"),
        ("fünf komma zweiunddreißig", "5.32"),
        ("zwo komma neun eins sechs", "2.916"),
        ("vier komma sieben kilo", "4.7 Kilo"),
        ("vier k sieben", "4.7 Kilo"),
        ("vier komma sieben kiloohm", "4.7 Kilo Ohm"),
        ("ein ohm", "1 Ohm"),
        ("minus null komma fünf", "-0.5"),
        ("anderthalb", "1.5"),
        ("eineinhalb ohm", "1.5 Ohm"),
        ("achtzehn grad celsius", "18 Celsius"),
    ] {
        assert_eq!(number(said).as_deref(), Some(value), "{said}");
    }
}

#[test]
fn what_could_mean_two_things_means_nothing() {
    for said in [
        "dreißig zwei",
        "dreißigzwei",
        "dreißig und zwei",
        "dreißigundzwei",
        "fünf und hundert",
        "null fünf",
        "fünf komma",
        "zwei und",
        "und dreißig",
        "fünfdrei",
        "zwanzighundert",
        "five point two",
    ] {
        assert_eq!(number(said), None, "{said}");
    }
}

#[test]
fn numbers_are_said_as_they_are_spelled() {
    for (value, said) in [
        ("32", "zweiunddreißig"),
        ("1", "eins"),
        ("101", "einhunderteins"),
        ("354", "dreihundertvierundfünfzig"),
        ("21000", "einundzwanzigtausend"),
        ("1000000", "eine million"),
        ("2000021", "zwei millionen einundzwanzig"),
        ("5.329", "fünf komma drei zwei neun"),
        ("-0.5", "minus null komma fünf"),
    ] {
        assert_eq!(german().say_number(&value.parse().unwrap()), said, "{value}");
    }
}

#[test]
fn every_whole_number_below_a_hundred_thousand_comes_back_in_each_spelling() {
    for grammar in LANGUAGES_READ.iter() {
        for value in (0..2000).chain((2000..100_000).step_by(37)) {
            for said in [grammar.lexicon.say_whole(value), grammar.lexicon.say_whole_apart(value)] {
                let words: Vec<&str> = said.split(' ').collect();
                assert_eq!(grammar.lexicon.digit_text(&words), Some(value.to_string()), "{said}");
            }
        }
    }
}

proptest! {
    #[test]
    fn every_value_in_every_way_is_itself(
        negative: bool, digits in 0u64..1_000_000_000, cut in 1u64..1_000_000_000, places in 0u8..5, kind in 0usize..9,
    ) {
        let (prefix, unit) = [
            (Prefix::One, Unit::Ohm), (Prefix::Kilo, Unit::Ohm), (Prefix::Mega, Unit::Ohm), (Prefix::Milli, Unit::Ohm),
            (Prefix::One, Unit::Volt), (Prefix::Milli, Unit::Volt), (Prefix::One, Unit::Ampere),
            (Prefix::Milli, Unit::Ampere), (Prefix::One, Unit::Celsius),
        ][kind];
        let number = Decimal::new(negative, digits % cut, places).unwrap();
        let shown = Shown { number, prefix, unit };
        for grammar in LANGUAGES_READ.iter() {
            let mut ways = grammar.ways_to_say(&shown);
            ways.push(grammar.say_shown(&shown));
            ways.push(grammar.say_number(&number));
            for way in ways {
                match grammar.parse(&way, &Context::default()) {
                    Some(Utterance::Reading(Spoken::Number(spoken))) => {
                        prop_assert!(
                            spoken.number.to_f64() == number.to_f64(), "{number} as \"{way}\" is {}", spoken.number
                        );
                    }
                    other => prop_assert!(false, "{number} as \"{way}\" is {other:?}"),
                }
            }
        }
    }
}
