//! Tests of typed lines, and of pedals and keypads with recorded streams of keys.

use super::*;

fn typed(line: &str) -> Option<Utterance> {
    let context = Context { pins: vec!["4".into(), "B2".into()], ..Context::default() };
    parse(line, &Grammar::builtin("en").unwrap(), &context)
}

fn value(text: &str, prefix: Option<Prefix>) -> Spoken {
    let number = text.parse().unwrap();
    Spoken::Number(SpokenNumber { number, prefix, unit: None, form: Form::Pointed })
}

#[test]
fn numbers_are_taken_as_shown() {
    assert_eq!(typed(" 5.20 "), Some(Utterance::Reading(value("5.20", None))));
    assert_eq!(typed("5,2"), Some(Utterance::Reading(value("5.2", None))));
    assert_eq!(typed("4.72K"), Some(Utterance::Reading(value("4.72", Some(Prefix::Kilo)))));
    assert_eq!(typed("0"), Some(Utterance::Reading(value("0", None))));
    assert_eq!(typed("1.2.3"), None);
    assert_eq!(typed("1.2meg"), Some(Utterance::Reading(value("1.2", Some(Prefix::Mega)))));
    assert_eq!(typed("1.2m"), None);
    assert_eq!(typed("5.2kk"), None);
}

/// A numeric keypad has a point, or a comma in other countries; alone it is no number.
#[test]
fn a_point_alone_takes_what_the_meter_on_the_line_shows() {
    for line in [".", ",", "d", "take it", "Take the reading"] {
        assert_eq!(typed(line), Some(command(Command::TakeIt)), "{line}");
    }
    assert_eq!(typed(".5"), Some(Utterance::Reading(value(".5", None))));
}

/// IEC 60062 writes a letter in place of the point; a thermometer may show degrees Fahrenheit.
#[test]
fn numbers_are_taken_in_other_notations() {
    assert_eq!(typed("4k7"), Some(Utterance::Reading(value("4.7", Some(Prefix::Kilo)))));
    assert_eq!(typed("4,7 k"), Some(Utterance::Reading(value("4.7", Some(Prefix::Kilo)))));
    assert_eq!(typed("4R7"), Some(Utterance::Reading(value("4.7", None))));
    assert_eq!(typed("0R22"), Some(Utterance::Reading(value("0.22", None))));
    assert_eq!(typed("1M5"), Some(Utterance::Reading(value("1.5", Some(Prefix::Mega)))));
    assert_eq!(typed("1m5"), None);
    let degrees = |text: &str| {
        let number = text.parse().unwrap();
        let celsius = SpokenNumber { number, prefix: None, unit: Some(Unit::Celsius), form: Form::Pointed };
        Some(Utterance::Reading(Spoken::Number(celsius)))
    };
    assert_eq!(typed("68 °F"), degrees("20.0"));
    assert_eq!(typed("-4F"), degrees("-20.0"));
    assert_eq!(typed("20 °C"), degrees("20"));
    assert_eq!(typed("12 %"), None);
    assert_eq!(typed("3 A"), None);
}

#[test]
fn a_name_is_given_with_its_capitals() {
    let named = |pin: &str, name: &str| Some(Utterance::Naming { pin: pin.into(), name: name.into() });
    assert_eq!(typed("4 = Heater"), named("4", "Heater"));
    assert_eq!(typed("b2=Main valve"), named("B2", "Main valve"));
    assert_eq!(typed("9 = x"), None);
    assert_eq!(typed("4 ="), None);
}

#[test]
fn signs_and_words_give_commands() {
    assert_eq!(typed(""), Some(command(Command::Yes)));
    assert_eq!(typed("*"), Some(Utterance::Reading(Spoken::OverRange)));
    assert_eq!(typed("w 1.9"), Some(command(Command::Wrong(Some(value("1.9", None))))));
    assert_eq!(
        typed("c b2 4.7k"),
        Some(command(Command::Change { pin: "B2".into(), reading: Some(value("4.7", Some(Prefix::Kilo))) }))
    );
    // A pin that is not there is told as that by the session.
    let change = |pin: &str| command(Command::Change { pin: pin.into(), reading: Some(value("1.2", None)) });
    assert_eq!(typed("c 9 1.2"), Some(change("9")));
    assert_eq!(typed("c on 1.2"), None);
    assert_eq!(typed("c 12345 1.2"), None);
    assert_eq!(typed("c 4 x"), None);
    assert_eq!(typed("repeat"), Some(command(Command::Repeat)));
}

#[test]
fn no_sign_stands_twice() {
    let mut signs: Vec<&str> = SIGNS.iter().flat_map(|sign| sign.signs).copied().collect();
    signs.sort_unstable();
    let before = signs.len();
    signs.dedup();
    assert_eq!(before, signs.len());
}

mod devices {
    use super::*;
    use crossbeam_channel::{Receiver, unbounded};
    use std::{collections::VecDeque, time::Duration};

    fn settings(text: &str) -> PedalSettings {
        toml::from_str(text).unwrap()
    }

    fn code(name: &str) -> Option<u16> {
        match name {
            "KEY_A" => Some(30),
            "KEY_B" => Some(48),
            "KEY_C" => Some(46),
            "KEY_D" => Some(32),
            _ => None,
        }
    }

    fn pedal(text: &str) -> Result<Pedal, String> {
        Pedal::new(&settings(text), &Grammar::builtin("en").unwrap(), code)
    }

    const THREE: &str = r#"
        device = "foot"
        [[switch]]
        key = "KEY_A"
        hold = "talk"
        [[switch]]
        key = "KEY_B"
        short = "yes"
        double = "repeat"
        long = "wrong"
        [[switch]]
        key = "KEY_C"
        short = "*"
    "#;

    #[test]
    fn gestures_become_the_lines_of_the_settings() {
        let mut role = Role::Pedal(pedal(THREE).unwrap());
        let mut inputs = Vec::new();
        let ms = Duration::from_millis;
        for (at, code, value) in [
            (0, 30, 1),
            (300, 30, 2),
            (900, 30, 0),
            (1000, 46, 1),
            (1100, 46, 0),
            (2000, 48, 1),
            (2100, 48, 0),
            (2200, 48, 1),
            (2300, 48, 0),
            (3000, 48, 1),
            (3900, 48, 0),
            (4000, 99, 1),
        ] {
            inputs.extend(role.pass(ms(at)));
            inputs.extend(role.key(KeyEvent { code, value }, ms(at)));
        }
        let line = |text: &str| Input::Line(text.into());
        assert_eq!(inputs, [Input::Talk(true), Input::Talk(false), line("*"), line("repeat"), line("wrong")]);
    }

    #[test]
    fn faulty_pedals_are_refused() {
        let one = |switch: &str| format!("device = \"foot\"\n[[switch]]\n{switch}");
        for (text, what) in [
            ("device = \"foot\"\nswitch = []".to_owned(), "one, two or three switches"),
            (format!("{THREE}\n[[switch]]\nkey = \"KEY_D\"\nshort = \"no\""), "one, two or three switches"),
            (one("key = \"KEY_FOOT\"\nshort = \"yes\""), "no key KEY_FOOT"),
            (one("key = \"KEY_A\""), "stands for nothing"),
            (one("key = \"KEY_A\"\nshort = \"perhaps\""), "\"perhaps\" of the switch KEY_A"),
            (one("key = \"KEY_A\"\nshort = \"yes\"\nhold = \"talk\""), "held to talk"),
            (
                one("key = \"KEY_A\"\nshort = \"yes\"\n[[switch]]\nkey = \"KEY_A\"\nshort = \"no\""),
                "two switches have the key KEY_A",
            ),
            (format!("long_ms = 10\n{}", one("key = \"KEY_A\"\nshort = \"yes\"")), "long_ms is 10"),
        ] {
            let error = pedal(&text).unwrap_err();
            assert!(error.contains(what), "{text}: {error}");
        }
    }

    #[test]
    fn a_keypad_types() {
        let mut role = Role::Keypad(Editor::default());
        let mut inputs = Vec::new();
        // 5 . 2 Enter, pressed and let go; then * Enter.
        for code in [76, 83, 80, 96, 55, 96] {
            for value in [1, 0] {
                inputs.extend(role.key(KeyEvent { code, value }, Duration::ZERO));
            }
        }
        let lines: Vec<&Input> = inputs.iter().filter(|input| matches!(input, Input::Line(_))).collect();
        assert_eq!(lines, [&Input::Line("5.2".into()), &Input::Line("*".into())]);
        assert!(inputs.contains(&Input::Typing("5.".into())));
        assert_eq!(inputs.last(), Some(&Input::Typing(String::new())));
        let digits: Vec<u16> = (2..=11).chain([79, 80, 81, 75, 76, 77, 71, 72, 73, 82]).collect();
        for code in digits {
            role.key(KeyEvent { code, value: 1 }, Duration::ZERO);
        }
        let typed = role.key(KeyEvent { code: 28, value: 1 }, Duration::ZERO);
        assert_eq!(typed[0], Input::Line("12345678901234567890".into()));
    }

    /// A device that plays what it is told: each opening fails, or gives batches of keys and is lost then.
    struct Played(VecDeque<Result<Vec<KeyEvent>, String>>);

    impl KeySource for Played {
        fn open(&mut self) -> Result<Box<dyn KeyStream>, String> {
            Ok(Box::new(Once(Some(self.0.pop_front().ok_or("no more")??))))
        }

        fn again(&self) -> Option<Duration> {
            (!self.0.is_empty()).then_some(Duration::ZERO)
        }
    }

    struct Once(Option<Vec<KeyEvent>>);

    impl KeyStream for Once {
        fn read(&mut self) -> Result<Vec<KeyEvent>, String> {
            self.0.take().ok_or_else(|| "unplugged".into())
        }
    }

    fn played(openings: Vec<Result<Vec<KeyEvent>, String>>) -> Receiver<Input> {
        let (send, inputs) = unbounded();
        let role = Role::Pedal(pedal(THREE).unwrap());
        follow(Box::new(Played(openings.into())), role, send).unwrap();
        inputs
    }

    #[test]
    fn unplugged_while_held_it_lets_go_and_comes_back() {
        let down = |code| KeyEvent { code, value: 1 };
        let inputs = played(vec![
            Err("no such thing".into()),
            Ok(vec![down(30)]),
            Err("still not there".into()),
            Ok(vec![down(46)]),
        ]);
        let notice = |text: &str| Input::Notice(text.into());
        let expected = [
            notice("The pedal is not there (no such thing). It is looked for."),
            notice("The pedal is there."),
            Input::Talk(true),
            Input::Talk(false),
            notice("The pedal is gone (unplugged). It is looked for again."),
            notice("The pedal is there."),
            Input::Line("*".into()),
            notice("The pedal is gone (unplugged). It is looked for again."),
        ];
        assert_eq!(inputs.iter().collect::<Vec<_>>(), expected);
    }
}
