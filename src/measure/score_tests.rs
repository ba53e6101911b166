//! Tests of scoring with made-up hearings.

use super::*;
use crate::{
    grammar::{Context, Grammar},
    session::Opinion,
};

fn grammar() -> Grammar {
    Grammar::builtin("en").unwrap()
}

fn hearing(words: &str, outcome: Outcome) -> Hearing {
    Hearing {
        clip: None,
        opinions: vec![Opinion { by: "phrases".into(), words: words.into(), margin: None, support: None }],
        outcome,
        words: None,
        doubt: Some(0.01),
        continues: false,
        marked: false,
        length_ms: 1000,
        level_dbfs: -20.0,
        room_dbfs: -60.0,
        latency_ms: 250,
    }
}

fn scored(said: &str, hearings: Vec<Hearing>) -> Scored {
    let meant = grammar().parse(said, &Context::default());
    let heard = Heard { hearings, latency_ms: Some(300.0), sound_s: 5.0, spent_s: 0.5 };
    score("a.wav", None, said, meant.as_ref(), heard)
}

fn meaning(words: &str) -> Utterance {
    grammar().parse(words, &Context::default()).unwrap()
}

fn taken(words: &str) -> Hearing {
    hearing(words, Outcome::Understood(meaning(words)))
}

fn asked(words: &str) -> Hearing {
    hearing(words, Outcome::Doubtful(vec![meaning(words)]))
}

#[test]
fn each_clip_is_one_of_nine_things() {
    let marked = |words: &str| Hearing { marked: true, ..taken(words) };
    let nothing = || hearing("five", Outcome::NoSpeech);
    let refused = || hearing("point point", Outcome::NotInGrammar);
    let table = [
        ("one point five", vec![taken("one point five")], What::Right, true),
        ("one point five", vec![taken("one point nine")], What::Wrong, false),
        // Other ways of putting the same value are right; other units are not.
        ("two oh six", vec![taken("two zero six")], What::Right, true),
        ("five ohms", vec![taken("five")], What::Wrong, false),
        // Cut in two: each half is taken for a whole, and wrong.
        ("one point five", vec![taken("one"), taken("five")], What::Wrong, false),
        ("one point five", vec![marked("one point five")], What::Marked, true),
        ("one point five", vec![marked("one point nine")], What::MarkedWrong, false),
        ("one point five", vec![marked("one point nine"), taken("five")], What::Wrong, false),
        ("one point five", vec![asked("one point nine")], What::Asked, false),
        ("one point five", vec![asked("one point five")], What::Asked, true),
        ("one point five", vec![taken("one point nine"), asked("five")], What::Wrong, false),
        ("one point five", vec![refused()], What::Rejected, false),
        ("one point five", vec![], What::Rejected, false),
        ("one point five", vec![nothing()], What::Rejected, false),
        // Words outside: nothing that is taken can be right.
        ("hello there", vec![taken("five")], What::Wrong, false),
        ("hello there", vec![refused()], What::Rejected, false),
        ("", vec![], What::Quiet, false),
        ("", vec![nothing()], What::Quiet, false),
        ("", vec![refused()], What::Quiet, false),
        ("", vec![asked("five")], What::AskedForNothing, false),
        ("", vec![taken("five")], What::FalseReading, false),
    ];
    for (said, hearings, what, value) in table {
        let s = scored(said, hearings);
        assert_eq!((s.what, s.value_right), (what, value), "{said}: {:?}", s.stretches);
    }
}

#[test]
fn a_value_that_went_on_replaces_its_beginning() {
    let mut whole = taken("one point five");
    whole.continues = true;
    let s = scored("one point five", vec![taken("one"), whole]);
    assert_eq!((s.what, s.value_right, s.heard.as_str()), (What::Right, true, "one point five"));
}

#[test]
fn words_are_counted_with_homophones_as_one() {
    let s = scored("oh two oh", vec![hearing("zero to five", Outcome::NotInGrammar)]);
    assert_eq!((s.words, s.words_wrong), (3, 1));
    let s = scored("one two", vec![]);
    assert_eq!((s.words, s.words_wrong), (2, 2));
}

#[test]
fn shares_are_of_the_clips_they_speak_of() {
    let all = [
        scored("one point five", vec![taken("one point five")]),
        scored("one point five", vec![taken("one point nine")]),
        scored("one point five", vec![asked("one point five")]),
        scored("one point five", vec![]),
        scored("", vec![]),
        scored("", vec![taken("five")]),
    ];
    let t = Tally::of(&all);
    assert_eq!((t.clips, t.spoken, t.words, t.false_readings_count), (6, 4, 12, 1));
    assert_eq!((t.silently_wrong, t.asked, t.rejected, t.false_readings), (0.25, 0.25, 0.25, 0.5));
    assert_eq!((t.value_accuracy, t.latency_ms, t.real_time_factor), (0.5, 300.0, 0.1));
    assert!((t.word_accuracy - (1.0 - 4.0 / 12.0)).abs() < 1e-12);
    assert!(t.silently_wrong_bounds.0 < 0.01 && t.silently_wrong_bounds.1 > 0.8);
    let json = serde_json::to_value(&t).unwrap();
    for key in [
        "clips",
        "words",
        "word_accuracy",
        "value_accuracy",
        "silently_wrong",
        "asked",
        "rejected",
        "false_readings",
        "latency_ms",
        "real_time_factor",
    ] {
        assert!(json[key].is_number(), "{key}");
    }
    assert_eq!(Tally::of(&[]).clips, 0);
}
