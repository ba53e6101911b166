use super::{FIRST_LANGUAGE, Words, catalogue, files};
use crate::quantity::{Interval, Ohms, Shown};
use schemars::JsonSchema;
use serde::Serialize;

#[derive(Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
enum Sample {
    Plain,
    Count { circuits: Vec<String>, left: u32 },
    Nested { what: Inner, sure: bool, note: Option<String> },
    Value(Shown),
    Between { limits: Interval<Ohms>, ratio: f64 },
}

#[derive(Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
enum Inner {
    FarEnd,
}

fn words(language: &str, mark: &str) -> Words {
    let text = format!(
        "decimal-mark = {mark}\n\
         list-more = {{ $first }}; {{ $second }}\n\
         list-last = {{ $first }} & {{ $second }}\n\
         shown = {{ $number }} {{ $prefix }}{{ $unit }}\n\
         prefix-one = {{ \"\" }}\n\
         unit-ohm = Ω\n\
         ohms = {{ $it }} Ω\n\
         interval = {{ $low }}–{{ $high }}\n\
         sample-plain = Plain.\n    .spoken = Said plainly.\n\
         sample-count = {{ $circuits }}: {{ $circuits-count }}, {{ $left ->\n    [one] one left\n   *[other] {{ $left }} left\n}}\n\
         sample-nested = {{ $what }} {{ $sure ->\n    [true] surely\n   *[false] perhaps\n}} {{ $note }} {{ $what-is }}\n\
         sample-value = {{ $it }}\n\
         sample-between = {{ $limits }}, {{ $ratio }}\n\
         inner-far-end = at the far end\n",
    );
    Words::of(language, vec![files::Source { file: "sample.ftl".into(), text }], Vec::new()).unwrap()
}

#[test]
fn values_become_lines() {
    let english = words("en", ".");
    let shown = Shown::ohms("5.320".parse().unwrap());
    let ohms = |value| Ohms::new(value).unwrap();
    let circuits = vec!["A".to_owned(), "B".to_owned(), "C".to_owned()];
    assert_eq!(english.text(&Sample::Plain), "Plain.");
    assert_eq!(english.spoken(&Sample::Plain), "Said plainly.");
    assert_eq!(english.text(&Sample::Count { circuits, left: 1 }), "A; B & C: 3, one left");
    let nested = Sample::Nested { what: Inner::FarEnd, sure: true, note: None };
    assert_eq!(english.text(&nested), "at the far end surely none far-end");
    assert_eq!(english.text(&Sample::Value(shown)), "5.320 Ω");
    let between = Sample::Between { limits: Interval { low: ohms(4.84), high: ohms(5.5) }, ratio: 0.25 };
    assert_eq!(english.text(&between), "4.84 Ω–5.5 Ω, 0.25");
    let german = words("de", ",");
    assert_eq!(german.text(&Sample::Value(shown)), "5,320 Ω");
    assert_eq!(german.text(&between), "4,84 Ω–5,5 Ω, 0,25");
}

#[test]
fn a_missing_message_is_seen_and_no_panic() {
    let english = Words::english();
    assert_eq!(english.text(&Sample::Plain), "[sample-plain]");
}

#[test]
fn messages_are_known_by_their_types() {
    let mut generator = catalogue::generator();
    generator.subschema_for::<Sample>();
    let known = catalogue::of(&generator);
    let args = |id: &str| {
        let entry = known.iter().find(|entry| entry.id == id).unwrap_or_else(|| panic!("{id} in {known:?}"));
        entry.arguments.iter().map(String::as_str).collect::<Vec<_>>()
    };
    assert_eq!(args("sample-plain"), Vec::<&str>::new());
    assert_eq!(args("sample-count"), ["circuits", "left"]);
    assert_eq!(args("sample-nested"), ["note", "sure", "what"]);
    assert_eq!(args("sample-value"), ["it"]);
    assert_eq!(args("inner-far-end"), Vec::<&str>::new());
    assert_eq!(args("interval"), ["high", "low"]);
    assert_eq!(args("shown"), ["number", "prefix", "unit"]);
}

#[test]
fn faults_of_files_are_found_with_file_and_line() {
    let mut generator = catalogue::generator();
    generator.subschema_for::<Sample>();
    let known = catalogue::of(&generator);
    let source = |text: &str| vec![files::Source { file: "sample.ftl".into(), text: text.into() }];
    let told = |text: &str| -> Vec<String> {
        catalogue::compare(&known, "en", &source(text)).iter().map(ToString::to_string).collect()
    };
    let all = told("# nothing\nsample-plain = Plain { $left }.\nsample-gone = Old.\n");
    assert!(
        all.contains(&"sample.ftl:2: sample-plain has no argument $left; it has none".to_owned()),
        "{all:#?}"
    );
    assert!(all.contains(&"sample.ftl:3: nothing says sample-gone".to_owned()), "{all:#?}");
    assert!(all.contains(&"en: sample-value is missing (arguments: $it)".to_owned()), "{all:#?}");
}

#[test]
fn every_language_says_every_message() {
    let mut faults = Vec::new();
    for language in super::languages() {
        Words::builtin(language).unwrap();
        faults.extend(catalogue::faults(language).unwrap().iter().map(ToString::to_string));
    }
    assert!(super::languages().contains(&FIRST_LANGUAGE));
    assert!(faults.is_empty(), "{}", faults.join("\n"));
}
