//! Whatever a table of pins holds and whatever is answered, making a profile neither panics nor lets through what a profile may not have.

use bothhands::{
    grammar::{Context, Grammar},
    keys,
    making::{Dialogue, Taken, table},
    profile,
};
use proptest::{collection::vec, prelude::*, sample::select};

/// Few cases as a test; as many as wanted by hand: PROPTEST_CASES=100000.
fn config() -> ProptestConfig {
    let few = ProptestConfig::with_cases(60);
    if std::env::var_os("PROPTEST_CASES").is_some() { ProptestConfig::default() } else { few }
}

fn taken() -> Taken {
    Taken { title: "Part".into(), source: "made up".into(), common: Some("9".into()), kind: None }
}

/// Fields that mean something somewhere, and some that mean nothing anywhere.
fn field() -> impl Strategy<Value = String> {
    prop_oneof![
        select(vec![
            "1",
            "2",
            "X1",
            "9",
            "",
            "-",
            "lift coil",
            "tilt",
            "coil",
            "wire",
            "resistor",
            "bus",
            "5.2 ohm +- 8 %",
            "5,2",
            "4k7 ± 5 %",
            "at most 0.5",
            "8 %",
            "\"",
            "a;b",
            "\u{feff}",
            "1/2",
            "é",
            "0",
            "1e9",
            "-5 +- 3",
            "at least 1 Mohm at 999 °C",
        ])
        .prop_map(str::to_owned),
        "\\PC{0,12}",
    ]
}

fn head() -> impl Strategy<Value = String> {
    let names = vec![
        "pin",
        "name",
        "against",
        "kind",
        "reads",
        "tolerance",
        "like",
        "connector",
        "Funktion",
        "Soll",
        "colour",
        "",
    ];
    select(names).prop_map(str::to_owned)
}

proptest! {
    #![proptest_config(config())]

    #[test]
    fn a_table_is_a_profile_or_told_where_it_is_not(
        sign in select(vec![',', ';', '\t']),
        more in vec(head(), 0..5),
        rows in vec(vec(field(), 0..8), 0..8),
    ) {
        let mut names = vec!["pin".to_owned(), "name".to_owned()];
        names.extend(more);
        let line = |fields: &Vec<String>| fields.join(&sign.to_string());
        let text = std::iter::once(line(&names)).chain(rows.iter().map(line)).collect::<Vec<_>>().join("\n");
        match table(&text, &taken()) {
            Ok(draft) => prop_assert!(profile::parse("made", &draft.text()).is_ok()),
            Err(faults) => prop_assert!(!faults.is_empty()),
        }
    }

    #[test]
    fn any_text_is_a_table_or_is_told(text in "\\PC{0,80}|[a-z0-9,;\"\n]{0,80}") {
        if let Err(faults) = table(&text, &taken()) {
            prop_assert!(!faults.is_empty());
        }
    }

    #[test]
    fn any_answers_end_in_a_profile_or_in_a_question(answers in vec(prop_oneof![field(), select(vec!["1-8".to_owned(), "-".into(), "6".into(), "7".into(), "0 5900, 20 2.5k".into()])], 0..30)) {
        let mut dialogue = Dialogue::new("own");
        for answer in &answers {
            dialogue.answer(answer);
            match dialogue.done() {
                Some(draft) if draft.circuits.iter().any(|one| !matches!(one.made, bothhands::making::Made::Never(_))) => {
                    prop_assert!(profile::parse("made", &draft.text()).is_ok(), "{}", draft.text());
                }
                Some(_) => {}
                None => prop_assert!(dialogue.question().is_some()),
            }
        }
    }

    #[test]
    fn any_window_in_short_is_one_or_is_told(text in "\\PC{0,30}|[0-9.,kMR ±%-]{0,12}( ohm)?( at [0-9]{0,4} °[CF])?") {
        let file = format!(
            "title = \"x\"\nsource = \"x\"\n[[circuit]]\nname = \"x\"\npin = 1\nagainst = 2\nkind = \"resistor\"\nwindow = {}\n",
            toml::Value::String(text),
        );
        if let Ok(part) = profile::parse("x", &file) {
            let window = part.circuits[0].window.as_ref();
            prop_assert!(window.is_some_and(|window| window.low < window.high && window.low.get() > 0.0));
        }
    }

    #[test]
    fn any_typed_line_means_something_or_nothing(line in "\\PC{0,30}|[0-9a-zA-Z.,=/*°%Ω -]{0,16}") {
        let context = Context { pins: vec!["4".into(), "X1/7".into()], ..Context::default() };
        GRAMMAR.with(|grammar| keys::parse(&line, grammar, &context));
    }
}

thread_local! {
    static GRAMMAR: Grammar = Grammar::builtin("en").expect("it comes along");
}
