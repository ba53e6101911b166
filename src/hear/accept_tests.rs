//! Tests of acceptance: what is taken, marked, asked or passed over.

use super::*;
use crate::grammar::{Command, Form, Spoken, SpokenNumber};
use crate::quantity::Decimal;

fn number(text: &str, form: Form) -> Utterance {
    let number: Decimal = text.parse().unwrap();
    Utterance::Reading(Spoken::Number(SpokenNumber { number, prefix: None, unit: None, form }))
}

/// A little grammar: digits around "point", single digits, and some commands.
fn parse(words: &str) -> Option<Utterance> {
    const DIGITS: [&str; 10] =
        ["zero", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine"];
    match words {
        "next" | "next pin" => return Some(Utterance::Command(Command::Next)),
        "yes" | "correct" => return Some(Utterance::Command(Command::Yes)),
        "no" => return Some(Utterance::Command(Command::No)),
        "over range" => return Some(Utterance::Reading(Spoken::OverRange)),
        _ => {}
    }
    let words: Vec<&str> = words.split(' ').filter(|w| !matches!(*w, "ohm" | "ohms")).collect();
    let text: Option<String> = words
        .iter()
        .map(|w| {
            if *w == "point" {
                Some('.')
            } else {
                char::from_digit(DIGITS.iter().position(|d| d == w)? as u32, 10)
            }
        })
        .collect();
    let text = text.filter(|t| {
        !t.is_empty() && !t.starts_with('.') && !t.ends_with('.') && t.matches('.').count() < 2
    })?;
    Some(number(&text, if text.contains('.') { Form::Pointed } else { Form::Digits }))
}

/// Two opinions of one network.
fn two(phrases: Decoded, words: Decoded) -> Vec<(&'static str, Decoded)> {
    vec![(PHRASES, phrases), (WORDS, words)]
}

fn judged(phrases: &str, words: &str) -> Outcome {
    let opinions = two(Decoded::of(phrases), Decoded::of(words));
    judge(&opinions, true, Caution::default(), &parse).outcome
}

#[test]
fn taken_only_where_both_agree() {
    let n = |t: &str| number(t, Form::Pointed);
    let d = |t: &str| number(t, Form::Digits);
    let next = || Utterance::Command(Command::Next);
    let table = [
        ("one point five", "one point five", Outcome::Understood(n("1.5"))),
        // Homophones and fillers are no disagreement.
        ("two point four", "to point for", Outcome::Understood(n("2.4"))),
        ("one point eight ohms", "won point ate own", Outcome::Understood(n("1.8"))),
        ("one point five", "uh one point five", Outcome::Understood(n("1.5"))),
        ("no", "know", Outcome::Understood(Utterance::Command(Command::No))),
        // Other words of the same meaning agree.
        ("next pin", "next", Outcome::Understood(next())),
        ("yes", "correct", Outcome::Understood(Utterance::Command(Command::Yes))),
        ("over range", "over range", Outcome::Understood(Utterance::Reading(Spoken::OverRange))),
        // Two meanings: both are asked, the phrases' first.
        ("one point five", "one point nine", Outcome::Doubtful(vec![n("1.5"), n("1.9")])),
        ("five", "nine", Outcome::Doubtful(vec![d("5"), d("9")])),
        ("next", "six", Outcome::Doubtful(vec![next(), d("6")])),
        // One alone has a meaning.
        ("one point five", "one point point", Outcome::Doubtful(vec![n("1.5")])),
        ("one point", "one five", Outcome::Doubtful(vec![d("15")])),
        // Part of it was no word: asked, never taken.
        ("one point five", "one [unk] five", Outcome::Doubtful(vec![n("1.5"), d("15")])),
        ("one point five", "[unk] one point five", Outcome::Doubtful(vec![n("1.5")])),
        // Mostly no words.
        ("five", "[unk]", Outcome::NotInGrammar),
        ("one five two", "[unk] one [unk]", Outcome::NotInGrammar),
        ("next", "[unk] [unk]", Outcome::NotInGrammar),
        // Words without a meaning.
        ("point point", "point point", Outcome::NotInGrammar),
        // Nothing.
        ("", "", Outcome::NoSpeech),
        ("five", "", Outcome::NoSpeech),
        ("next", "uh", Outcome::NoSpeech),
    ];
    for (phrases, words, expected) in table {
        assert_eq!(judged(phrases, words), expected, "\"{phrases}\" / \"{words}\"");
    }
}

#[test]
fn a_rival_close_behind_is_asked_and_a_homophone_is_no_rival() {
    let close = |others: &[(&str, f32)]| Decoded {
        words: "one point five".into(),
        others: others.iter().map(|(w, b)| ((*w).into(), *b)).collect(),
    };
    let same = Decoded::of("one point five");
    let judged = |d: &Decoded| {
        judge(&two(d.clone(), same.clone()), true, Caution { least_lead: 1.0, ..Caution::default() }, &parse)
            .outcome
    };
    let (five, nine) = (number("1.5", Form::Pointed), number("1.9", Form::Pointed));
    let table = [
        (close(&[("one point nine", 0.4)]), Outcome::Doubtful(vec![five.clone(), nine])),
        (close(&[("one point nine", 1.4)]), Outcome::Understood(five.clone())),
        (close(&[("won point five", 0.1), ("one point nine", 1.4)]), Outcome::Understood(five.clone())),
        // Close, but without a meaning: only the one to ask.
        (close(&[("one point", 0.2)]), Outcome::Doubtful(vec![five])),
    ];
    for (decoded, expected) in table {
        assert_eq!(judged(&decoded), expected, "{decoded:?}");
    }
}

#[test]
fn a_rival_in_the_second_opinion_is_asked_as_well() {
    let words = Decoded { words: "eight".into(), others: vec![("three".into(), 0.4)] };
    let outcome = judge(&two(Decoded::of("eight"), words), true, Caution::default(), &parse).outcome;
    assert_eq!(outcome, Outcome::Doubtful(vec![number("8", Form::Digits), number("3", Form::Digits)]));
}

#[test]
fn of_two_networks_both_must_agree_and_the_doubt_be_small() {
    let three = |phrases: Decoded, second: Decoded, words: &str| {
        let opinions = vec![(PHRASES, phrases), (SECOND, second), (WORDS, Decoded::of(words))];
        judge(&opinions, true, Caution::default(), &parse)
    };
    let (five, nine) = (number("1.5", Form::Pointed), number("1.9", Form::Pointed));
    let said = || Decoded::of("one point five");
    let close = || Decoded { words: "one point five".into(), others: vec![("one point nine".into(), 0.1)] };
    let sure = three(said(), said(), "one point five");
    assert_eq!(sure.outcome, Outcome::Understood(five.clone()));
    assert!(sure.doubt.unwrap() <= Caution::default().most_doubt);
    let torn = three(close(), close(), "one point five");
    assert_eq!(torn.outcome, Outcome::Doubtful(vec![five.clone(), nine.clone()]));
    assert!(torn.doubt.unwrap() > sure.doubt.unwrap());
    let apart = three(said(), Decoded::of("one point nine"), "one point five");
    assert_eq!(apart.outcome, Outcome::Doubtful(vec![five.clone(), nine]));
    // The single words count where they are sure of something else.
    let other = three(said(), said(), "one point nine");
    assert_eq!(other.outcome, Outcome::Doubtful(vec![five.clone(), number("1.9", Form::Pointed)]));
    // They are the gate against noise and foreign words.
    let unsure = || Decoded { others: vec![("one point nine".into(), 1.0)], ..said() };
    assert_eq!(three(said(), said(), "").outcome, Outcome::NoSpeech);
    assert_eq!(three(said(), unsure(), "[unk]").outcome, Outcome::NotInGrammar);
    // But where it was speech, what both phrases are sure of is asked, not passed over.
    assert_eq!(three(said(), said(), "[unk]").outcome, Outcome::Doubtful(vec![five.clone()]));
    assert_eq!(three(said(), said(), "one [unk] five").outcome, Outcome::Doubtful(vec![five]));
}

#[test]
fn between_taken_and_asked_a_value_is_taken_and_marked() {
    let with = |behind| {
        let said = |behind| Decoded {
            words: "one point five".into(),
            others: vec![("one point nine".into(), behind)],
        };
        let opinions = vec![(PHRASES, said(behind)), (SECOND, said(behind)), (WORDS, said(behind))];
        judge(&opinions, true, Caution::default(), &parse)
    };
    let grades: Vec<(bool, bool)> =
        [2.9, 2.0, 0.5].map(with).map(|j| (matches!(j.outcome, Outcome::Understood(_)), j.marked)).into();
    assert_eq!(grades, [(true, false), (true, true), (false, false)]);
}

#[test]
fn a_second_look_settles_a_number_of_several_words_where_both_networks_lead() {
    let five = number("1.5", Form::Pointed);
    let close = || Decoded { words: "one point five".into(), others: vec![("one point nine".into(), 0.1)] };
    let asked =
        judge(&[(PHRASES, close()), (SECOND, close()), (WORDS, close())], true, Caution::default(), &parse);
    assert!(asked.open && matches!(asked.outcome, Outcome::Doubtful(_)));
    let look = |one: Decoded, other: Decoded| {
        look_again(asked.clone(), &[(NUMBERS, one), (SECOND_NUMBERS, other)], Caution::default(), &parse)
    };
    let sure = || Decoded::of("one point five");
    let settled = look(sure(), sure());
    assert_eq!((settled.outcome, settled.marked), (Outcome::Understood(five), true));
    assert_eq!(look(sure(), close()), asked);
    assert_eq!(look(sure(), Decoded::of("one point nine")), asked);
    // A single digit never gets one.
    let digit = || Decoded { words: "five".into(), others: vec![("nine".into(), 0.1)] };
    let asked =
        judge(&[(PHRASES, digit()), (SECOND, digit()), (WORDS, digit())], true, Caution::default(), &parse);
    assert!(!asked.open);
}

#[test]
fn a_part_is_never_taken() {
    let d = Decoded::of("one point five");
    let outcome = judge(&two(d.clone(), d), false, Caution::default(), &parse).outcome;
    assert_eq!(outcome, Outcome::Doubtful(vec![number("1.5", Form::Pointed)]));
}

#[test]
fn the_expected_value_has_no_say() {
    // The rule gets words, margins and a parser; there is nothing else it could look at. Swapping the opinions
    // swaps the order of candidates and nothing more.
    let (a, b) = (judged("five", "nine"), judged("nine", "five"));
    match (a, b) {
        (Outcome::Doubtful(a), Outcome::Doubtful(b)) => {
            assert_eq!(a, b.into_iter().rev().collect::<Vec<_>>());
        }
        other => panic!("{other:?}"),
    }
}
