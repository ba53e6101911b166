//! What is refused, and in which words: for each rule at least one change to a text that is in order.
//!
//! The snapshots hold the words. A rule that no change here breaks fails `every_rule_is_broken_at_least_once`.

use bothhands::profile::{self, ProfileError};
use std::{collections::BTreeSet, fmt::Write as _};

const PUMP: &str = include_str!("profile_refusals/pump.toml");
const METER: &str = include_str!("profile_refusals/meter.toml");

/// One change to a text that is in order.
struct Case {
    /// The check that it breaks; with blanks in its name where the reader itself refuses.
    rule: &'static str,
    change: String,
    text: String,
}

fn replace(base: &str, rule: &'static str, from: &str, to: &str) -> Case {
    assert!(base.contains(from), "{rule}: the text has no {from:?}");
    Case { rule, change: format!("{from:?} -> {to:?}"), text: base.replacen(from, to, 1) }
}

/// Replaces a line in the profile (or a part of it).
fn put(rule: &'static str, from: &str, to: &str) -> Case {
    replace(PUMP, rule, from, to)
}

/// Replaces what begins with `from` and ends before `until`.
fn cut(rule: &'static str, from: &str, until: &str, to: &str) -> Case {
    let start = PUMP.find(from).expect("it is there");
    let end = start + PUMP[start..].find(until).expect("it is there");
    let text = format!("{}{to}{}", &PUMP[..start], &PUMP[end..]);
    Case { rule, change: format!("{from:?} up to {until:?} -> {to:?}"), text }
}

#[rustfmt::skip] // one case a line reads best
fn profile_cases() -> Vec<Case> {
    let family_of_b = "family = \"coils\"\nwindow = { low_ohm = 4.8";
    let window_of_b = "window = { low_ohm = 4.8, high_ohm = 5.4, at_c = 20, source = \"made up\" }\n";
    let sensor = "[circuit.kind]";
    vec![
        put("ids_are_well_formed", "id = \"pump\"", "id = \"Pump 1\""),
        put("ids_are_well_formed", "id = \"key-off\"", "id = \"key--off\""),
        put("ids_are_well_formed", "id = \"pump\"", "id = \"a-name-that-nobody-can-read-in-one-go-is-no-name\""),
        put("ids_are_unique", "id = \"coil-b\"", "id = \"coil-a\""),
        put("ids_are_unique", "id = \"supply-off\"", "id = \"key-off\""),
        put("ids_are_unique", "[[circuit]]\nid = \"coil-a\"", "[[family]]\nid = \"coils\"\ntitle = \"the same\"\ntolerance_percent = 5\ncontact_ohm = 0.1\n\n[[circuit]]\nid = \"coil-a\""),
        put("are_told_or_found", "id = \"pump\"", "id = \"pump\"\nfamilies_from_readings = true"),
        put("names_differ_when_spoken", "name = \"coil B\"", "name = \"Coil-a\""),
        put("names_differ_when_spoken", "name = \"coil B\"", "name = \"?!\""),
        put("names_differ_when_spoken", "name = \"coil B\"", "name = \"the second of the two coils that lift the arm\""),
        cut("connector_has_pins", "pins = [", "[[gate]]", "pins = []\n\n"),
        put("names_are_well_formed", "{ pin = 3, row = 1", "{ pin = \"3/4\", row = 1"),
        put("names_are_unique", "{ pin = 3, row = 1", "{ pin = 2, row = 1"),
        put("names_are_unique", "{ pin = 3, row = 1", "{ pin = \"b3\", row = 1"),
        put("places_are_unique", "{ pin = 3, row = 1, column = 3 }", "{ pin = 3, row = 1, column = 2 }"),
        cut("there_is_something_to_measure", "[[family]]", "[[circuit]]\nid = \"squib\"", ""),
        put("end_on_known_pins", "pin = 1\nagainst = \"B3\"", "pin = 1\nagainst = \"B9\""),
        put("end_on_known_pins", "pin = 1\nagainst = \"B3\"", "pin = 1\nagainst = \"b3\""),
        put("have_two_ends", "pin = 1\nagainst = \"B3\"", "pin = 1\nagainst = 1"),
        put("pairs_of_pins_are_unique", "pin = 3\nagainst = \"B1\"", "pin = \"B1\"\nagainst = \"B2\""),
        put("have_a_kind", "kind = \"copper-coil\"\n", ""),
        put("never_measured_is_never_judged", "\"pyrotechnic\"", "\"pyrotechnic\"\nfamily = \"coils\"\ncase_limit_ohm = 1000"),
        put("never_measured_is_never_judged", "\"pyrotechnic\"", "\"pyrotechnic\"\nwindow = { low_ohm = 2, high_ohm = 3, at_c = 20, source = \"x\" }"),
        put("switched_directly_has_a_supply", "supply_v = 24\n", ""),
        put("switched_directly_has_a_supply", "directly_switched = true\n", ""),
        put("high_voltage_is_never_measured", "supply_v = 24", "supply_v = 400"),
        put("supplies_are_possible", "supply_v = 24", "supply_v = 0.024"),
        put("suppression_suits_the_circuit", "resistor_ohm = 560", "resistor_ohm = 5"),
        put("suppression_suits_the_circuit", "case_limit_ohm = 1_000_000", "suppression = \"diode\""),
        put("exist", family_of_b, "family = \"coil\"\nwindow = { low_ohm = 4.8"),
        put("have_members", family_of_b, "kind = \"wire\"\nwindow = { low_ohm = 4.8"),
        put("have_members", "[[circuit]]\nid = \"coil-a\"", "[[family]]\nid = \"none\"\ntitle = \"nobody\"\ntolerance_percent = 5\ncontact_ohm = 0.1\n\n[[circuit]]\nid = \"coil-a\""),
        put("are_of_one_kind", window_of_b, "kind = \"resistor\"\nwindow = { low_ohm = 4.8, high_ohm = 5.4, at_c = 20, source = \"made up\" }\n"),
        put("have_windows_for_all_or_none", window_of_b, ""),
        put("have_windows_that_overlap", "low_ohm = 4.8, high_ohm = 5.4", "low_ohm = 48.0, high_ohm = 54.0"),
        put("tolerances_are_possible", "tolerance_percent = 5.0", "tolerance_percent = 0"),
        put("tolerances_are_possible", "tolerance_percent = 5.0", "tolerance_percent = 500"),
        put("contact_is_possible", "contact_ohm = 0.1", "contact_ohm = 0.0"),
        put("contact_is_possible", "contact_ohm = 0.1", "contact_ohm = 100"),
        put("kinds_are_known", "kind = \"copper-coil\"", "kind = \"coper-coil\""),
        put("kinds_are_known", "kind = \"copper-coil\"", "kind = \"capacitor\""),
        put("kinds_are_known", "kind = \"copper-coil\"", "kind = \"linear\""),
        put("kinds_are_known", "kind = \"copper-coil\"", "kind = { name = \"copper-coil\", b_k = 3500 }"),
        put("figures_are_possible", "kind = \"copper-coil\"", "kind = { name = \"linear\", alpha_per_k = 0.39 }"),
        cut("figures_are_possible", sensor, "[[circuit]]", "kind = { name = \"platinum\", r0_ohm = 0 }\n\n"),
        cut("figures_are_possible", sensor, "[[circuit]]", "kind = { name = \"thermistor\", r_ohm = -5, at_c = 25, b_k = -3500 }\n\n"),
        put("tables_go_one_way", "{ at_c = 60, ohm = 600 }", "{ at_c = 60, ohm = 2500 }"),
        put("tables_go_one_way", "{ at_c = 60, ohm = 600 }", "{ at_c = 20, ohm = 600 }"),
        put("tables_go_one_way", "    { at_c = 0, ohm = 5900 },\n    { at_c = 20, ohm = 2500 },\n    { at_c = 60, ohm = 600 },\n", "    { at_c = 20, ohm = 2500 },\n"),
        put("windows_are_the_right_way_up", "low_ohm = 4.9, high_ohm = 5.5", "low_ohm = 5.5, high_ohm = 4.9"),
        put("windows_are_the_right_way_up", "low_ohm = 4.9, high_ohm = 5.5", "low_ohm = 5.2, high_ohm = 5.2"),
        put("windows_are_positive", "low_ohm = 4.9", "low_ohm = -4.9"),
        put("windows_are_positive", "low_ohm = 4.9", "low_ohm = 0"),
        put("windows_are_positive", "high_ohm = 2600", "high_ohm = 1e12"),
        put("windows_agree_with_their_kinds", "low_ohm = 2400, high_ohm = 2600", "low_ohm = 240, high_ohm = 260"),
        put("windows_agree_with_their_kinds", "high_ohm = 2600, at_c = 20", "high_ohm = 2600, at_c = 80"),
        put("reference_temperatures_are_possible", "high_ohm = 5.5, at_c = 20", "high_ohm = 5.5, at_c = 293.15"),
        put("suppressions_are_known", "{ resistor_ohm = 560 }", "\"varistor\""),
        put("suppressions_are_known", "resistor_ohm = 560", "resistor_ohm = 0"),
        put("case_limits_are_possible", "case_limit_ohm = 1_000_000", "case_limit_ohm = 1"),
        put("harnesses_are_possible", "conductor_mm2 = 0.75, length_m = 3.0", "conductor_mm2 = 750, length_m = 3000"),
        put("a newer version", "id = \"pump\"", "version = 3\nid = \"pump\""),
        put("a short window", window_of_b, "window = \"5.1 ohm\"\n"),
        put("a short window", window_of_b, "window = \"5.1 ohm +- 6\"\n"),
        put("a short window", window_of_b, "window = \"4.8 to 5.4\"\n"),
        put("a short window", window_of_b, "window = \"at most 5.4 ohm\"\n"),
        put("a short window", window_of_b, "nominal = \"5.1 ohm\"\ntolerance = \"6 %\"\n"),
        put("like nothing", window_of_b, "like = \"coil Z\"\n"),
        put("like itself", window_of_b, "like = \"coil B\"\n"),
        put("like in a ring", window_of_b, "like = \"coil A\"\n\n[[circuit]]\nname = \"x\"\npin = 3\nagainst = \"B2\"\nlike = \"y\"\n\n[[circuit]]\nname = \"y\"\npin = 3\nagainst = \"B3\"\nlike = \"x\"\n"),
        put("a missing end", "pin = 2\nagainst = \"B3\"", "pin = 2"),
        put("places for some", "{ pin = 3, row = 1, column = 3 }", "{ pin = 3 }"),
        put("places seen from nowhere", "seen_from = \"looking into the pins of the part\"\n", ""),
        put("two connectors without names", "[connector]\n", "[[connector]]\npins = [ 7 ]\n\n[[connector]]\n"),
        put("no language", "title = \"Pump\"", "title = { English = \"Pump\" }"),
        put("no language", "title = \"Pump\"", "title = {}"),
        put("confirmations_are_phrases", "confirm = \"supply off\"", "confirm = \"Supply off\""),
        put("confirmations_are_phrases", "confirm = \"supply off\"", "confirm = \"supply  off\""),
        put("confirmations_are_phrases", "confirm = \"supply off\"", "confirm = \"supply off 24\""),
        put("confirmations_are_phrases", "confirm = \"supply off\"", "confirm = \"yes\""),
        put("confirmations_are_unique", "confirm = \"supply off\"", "confirm = \"key off\""),
        put("confirmations_are_unique", "[[family]]", "[[case_gate]]\nid = \"a\"\ninstruction = \"A.\"\nconfirm = \"fine now\"\n\n[[case_gate]]\nid = \"b\"\ninstruction = \"B.\"\nconfirm = \"fine now\"\n\n[[family]]"),
        put("confirmations_are_phrases", "[[family]]", "[[harness_gate]]\nid = \"a\"\ninstruction = \"A.\"\nconfirm = \"ok\"\n\n[[family]]"),
        put("ids_are_unique", "[[family]]", "[[harness_gate]]\nid = \"key-off\"\ninstruction = \"A.\"\nconfirm = \"fine now\"\n\n[[family]]"),
        put("drop_limits_are_possible", "[[family]]", "[voltage_drop]\njoint_v = 150\nwire_v = 0\nsource = \"made up\"\n\n[[family]]"),
        put("drop_limits_are_possible", "supply_v = 24", "supply_v = 24\nvoltage_drop = { source = \"made up\" }"),
        put("control_pins_are_pairs", "family = \"coils\"\nwindow = { low_ohm = 4.8", "control_pin = 7\nfamily = \"coils\"\nwindow = { low_ohm = 4.8"),
        put("control_pins_are_pairs", "family = \"coils\"\nwindow = { low_ohm = 4.8", "control_pin = \"7\"\ncontrol_against = 7\nfamily = \"coils\"\nwindow = { low_ohm = 4.8"),
        put("control_pins_are_pairs", "family = \"coils\"\nwindow = { low_ohm = 4.8", "control_pin = \"7/8\"\ncontrol_against = 7\nfamily = \"coils\"\nwindow = { low_ohm = 4.8"),
        put("numbers_are_digits", "[[family]]", "[[code]]\nnumber = \"X21\"\ncircuit = \"coil-a\"\n\n[[code]]\nnumber = 1234567\ncircuit = \"coil-b\"\n\n[[code]]\nnumber = 0\ncircuit = \"coil-b\"\n\n[[family]]"),
        put("numbers_are_unique", "[[family]]", "[[code]]\nnumber = 21\ncircuit = \"coil-a\"\n\n[[code]]\nnumber = \"21\"\ncircuit = \"coil-b\"\n\n[[family]]"),
        put("name_known_circuits", "[[family]]", "[[code]]\nnumber = 21\ncircuit = \"coil-q\"\n\n[[family]]"),
        put("an unknown key", "[[family]]", "[[code]]\nnumber = 21\ncircuit = \"coil-a\"\nmeans = \"x\"\n\n[[family]]"),
        put("a missing key", "supply_v = 24", "supply_v = 24\nvoltage_drop = { joint_v = 0.1 }"),
        put("there_are_cautions", "cautions = [\"Supply off.\"]", "cautions = []"),
        put("an empty text", "cautions = [\"Supply off.\"]", "cautions = [\" \"]"),
        put("a text over two lines", "title = \"Pump\"", "title = \"Pump\\nin two lines\""),
        put("a text without end", "title = \"Pump\"", &format!("title = \"{}\"", "Pump ".repeat(121))),
        put("an unknown key", "tolerance_percent", "tolerance_procent"),
        put("an unknown key", "source = \"made up for tests\"", "source = \"made up\"\ncolour = \"red\""),
        put("an unknown key", "column = 3, label = \"return\"", "column = 3, lable = \"return\""),
        put("an unknown key", "low_ohm = 4.9", "low = 4.9"),
        put("a missing key", "title = \"Pump\"\n", ""),
        put("a missing key", ", source = \"made up\" }", " }"),
        Case { rule: "a missing list", change: "no circuits".to_owned(), text: PUMP[..PUMP.find("[[family]]").unwrap()].to_owned() },
        put("a wrong type", "tolerance_percent = 5.0", "tolerance_percent = \"5 %\""),
        put("a wrong type", "invented = true", "invented = \"yes\""),
        put("a wrong type", "title = \"Pump\"", "title = 5"),
        put("a wrong type", "cautions = [\"Supply off.\"]", "cautions = \"Supply off.\""),
        put("a wrong type", window_of_b, "window = 5.1\n"),
        put("a wrong type", "    { pin = 3, row = 1, column = 3 },", "    3.5,"),
        put("a wrong type", "    { pin = 3, row = 1, column = 3 },", "    { pin = 3, row = 1.5, column = 2026-01-01 },"),
        put("a count out of range", "{ pin = 3, row = 1,", "{ pin = 3, row = 0,"),
        put("no finite number", "tolerance_percent = 5.0", "tolerance_percent = nan"),
        put("no finite number", "high_ohm = 5.5", "high_ohm = inf"),
        put("no finite number", "high_ohm = 5.5", "high_ohm = 0xFF"),
        put("no TOML", "title = \"Pump\"", "title = \"Pump"),
        put("no TOML", "title = \"Pump\"", "title \"Pump\""),
        put("no TOML", "title = \"Pump\"", "title = \"Pump\"\ntitle = \"Pump\""),
        put("no TOML", "tolerance_percent = 5.0", "tolerance_percent = 5,0"),
    ]
}

#[rustfmt::skip] // one case a line reads best
fn meter_cases() -> Vec<Case> {
    let put = |rule, from, to| replace(METER, rule, from, to);
    let ohms = &METER[METER.find("[[resistance]]").unwrap()..METER.find("[[dc_voltage]]").unwrap()];
    vec![
        put("meter_id_is_well_formed", "id = \"test-meter\"", "id = \"test meter\""),
        put("category_is_one", "CAT III 600 V", "CAT 3 600 V"),
        put("category_is_one", "CAT III 600 V", "600 V CAT III"),
        put("category_is_one", "CAT III 600 V", "CAT III 600 V, CAT II"),
        put("counts_are_possible", "counts = 6000", "counts = 60"),
        put("temperatures_are_the_right_way_up", "accurate_from_c = 18", "accurate_from_c = 38"),
        put("temperatures_are_the_right_way_up", "accurate_to_c = 28", "accurate_to_c = 300"),
        put("drift_is_possible", "drift_per_k = 0.1", "drift_per_k = 10"),
        put("has_resistance", ohms, ""),
        put("lists_are_not_empty", "drift_per_k = 0.1", "drift_per_k = 0.1\ndc_current = []"),
        put("resolutions_are_steps_of_a_display", "resolution_ohm = 0.1", "resolution_ohm = 0.3"),
        put("resolutions_are_steps_of_a_display", "resolution_ohm = 0.1", "resolution_ohm = 0"),
        put("full_scales_fit_the_counts", "full_scale_ohm = 600.0", "full_scale_ohm = -600.0"),
        put("full_scales_fit_the_counts", "full_scale_ohm = 600.0", "full_scale_ohm = 600.05"),
        put("full_scales_fit_the_counts", "resolution_ohm = 0.1", "resolution_ohm = 0.01"),
        put("full_scales_fit_the_counts", "resolution_v = 0.01", "resolution_v = 10"),
        put("ranges_rise", "full_scale_ohm = 6000.0", "full_scale_ohm = 600.0"),
        put("ranges_rise", "resolution_ohm = 0.1", "resolution_ohm = 2.0"),
        put("accuracies_are_possible", "percent = 0.8", "percent = 80"),
        put("accuracies_are_possible", "digits = 3", "digits = -3"),
        put("accuracies_are_possible", "percent = 0.8\ndigits = 3", "percent = 0\ndigits = 0"),
        put("an unknown key", "[[dc_voltage]]", "[[voltage]]"),
        put("an unknown key", "full_scale_v", "full_scale_ohm"),
        put("a missing key", "percent = 0.8\n", ""),
    ]
}

/// Every fault of every case, as a person could read them.
fn listing<T: std::fmt::Debug>(
    cases: Vec<Case>,
    parse: impl Fn(&str, &str) -> Result<T, ProfileError>,
) -> String {
    let mut out = String::new();
    for case in cases {
        let error = parse("changed.toml", &case.text).expect_err(&case.change);
        let faults = error.faults().expect("the text was read");
        assert!(!faults.list().is_empty());
        writeln!(out, "## {}\n{}", case.rule, case.change).unwrap();
        for fault in faults.list() {
            writeln!(out, "  {fault}\n    {}", fault.advice.as_deref().unwrap_or("(no advice)")).unwrap();
        }
        out.push('\n');
    }
    out
}

#[test]
fn the_texts_to_be_changed_are_in_order() {
    assert_eq!(profile::parse("pump.toml", PUMP).unwrap().circuits.len(), 4);
    assert_eq!(profile::parse_meter("meter.toml", METER).unwrap().ranges.len(), 3);
}

#[test]
fn refusals_of_profiles() {
    insta::assert_snapshot!(listing(profile_cases(), profile::parse));
}

#[test]
fn refusals_of_meters() {
    insta::assert_snapshot!(listing(meter_cases(), profile::parse_meter));
}

/// The list of checks is read from where they are called: a new rule without a case fails here.
#[test]
fn every_rule_is_broken_at_least_once() {
    let rules = include_str!("../src/profile/check/mod.rs").lines().filter_map(|line| {
        let call = line.trim().strip_suffix("(raw, found);")?;
        call.split("::").nth(1)
    });
    let rules: BTreeSet<&str> = rules.collect();
    assert!(rules.len() > 40, "{rules:?}");
    let broken: BTreeSet<&str> = profile_cases().iter().chain(&meter_cases()).map(|case| case.rule).collect();
    let missing: Vec<_> = rules.difference(&broken).collect();
    assert!(missing.is_empty(), "no case breaks {missing:?}");
}

#[test]
fn several_faults_are_all_reported_in_the_order_of_the_file() {
    let text = PUMP
        .replace("title = \"Pump\"\n", "")
        .replace("{ pin = 3, row = 1", "{ pin = 2, row = 1")
        .replace("tolerance_percent", "tolerance_procent")
        .replace("low_ohm = 4.9, high_ohm = 5.5", "low_ohm = 5.5, high_ohm = 4.9");
    let error = profile::parse("pump.toml", &text).unwrap_err();
    assert_eq!(
        error.to_string(),
        "the profile pump.toml cannot be used: 5 faults, the first in line 1, title: `title` is missing"
    );
    insta::assert_snapshot!(error.rendered(100));
}

/// Editors of other systems write a byte order mark and two characters at the end of each line.
#[test]
fn line_ends_and_marks_of_other_systems_change_nothing_but_the_fingerprint() {
    let elsewhere = |text: &str| format!("\u{feff}{}", text.replace('\n', "\r\n"));
    let mut read = profile::parse("pump.toml", &elsewhere(PUMP)).unwrap();
    let here = profile::parse("pump.toml", PUMP).unwrap();
    assert_ne!(read.fingerprint, here.fingerprint);
    read.fingerprint.clone_from(&here.fingerprint);
    assert_eq!(read, here);

    let wrong = elsewhere(&PUMP.replace("tolerance_percent = 5.0", "tolerance_percent = 0"));
    let error = profile::parse("pump.toml", &wrong).unwrap_err();
    let places: Vec<_> = error.faults().unwrap().list().iter().map(|f| (f.line, f.key.as_str())).collect();
    assert_eq!(places, [(32, "family[coils].tolerance_percent")]);
    assert!(error.rendered(80).contains("tolerance_percent = 0"));
}

#[test]
fn what_is_no_text_at_all() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("part.toml");
    let refused =
        || profile::load(&path).unwrap_err().to_string().replace(folder.path().to_str().unwrap(), "DIR");

    assert_eq!(refused(), "the profile DIR/part.toml cannot be read: No such file or directory (os error 2)");
    std::fs::write(&path, b"id = \"a\"\ntitle = \"caf\xe9\"\n").unwrap();
    assert_eq!(
        refused(),
        "the profile DIR/part.toml is no UTF-8 text: line 2 has a byte that UTF-8 does not have"
    );
    std::fs::write(&path, vec![b'#'; 1024 * 1024 + 1]).unwrap();
    assert_eq!(
        refused(),
        "the profile DIR/part.toml is larger than 1024 KiB, the most that a profile may have"
    );
    std::fs::remove_file(&path).unwrap();
    std::fs::create_dir(&path).unwrap();
    assert_eq!(refused(), "the profile DIR/part.toml cannot be read: Is a directory (os error 21)");
}

#[test]
fn the_largest_file_is_still_read() {
    let text = format!("{PUMP}#{}", "-".repeat(1024 * 1024 - PUMP.len() - 1));
    assert!(profile::parse("pump.toml", &text).is_ok());
    let error = profile::parse("pump.toml", &format!("{text}-")).unwrap_err();
    assert!(matches!(error, ProfileError::TooLarge { .. }));
}

/// A large file that is no profile at all is refused as well, and does not bury the person in faults.
#[test]
fn a_large_file_of_nonsense_is_refused_in_a_page() {
    let keys: String = (0..50_000).map(|index| format!("key{index} = {index}\n")).collect();
    let circuits = format!("{PUMP}{}", "\n[[circuit]]\nid = \"coil-a\"\nfamily = \"x\"".repeat(20_000));
    let brackets = "[".repeat(1_000_000);
    let quotes = "\"\n".repeat(500_000);
    let tables = "a = {".repeat(200_000);
    for text in [keys, circuits, brackets, quotes, tables] {
        let error = profile::parse("large.toml", &text).unwrap_err();
        let faults = error.faults().expect("it is not too large").list();
        assert!((1..=200).contains(&faults.len()));
    }
}

/// A text from elsewhere may not move the cursor of the terminal that shows its faults.
#[test]
fn control_characters_never_reach_the_terminal() {
    for text in ["id = \"a\u{1b}[2Jb\"", "\u{1b}[2J = 1", "\"\\u001b[2J\" = 1", "# \u{9b}2J\nx = 1"] {
        let error = profile::parse("x.toml", text).unwrap_err();
        let shown = format!("{}{error}{:?}", error.rendered(80), error.faults().unwrap().list());
        assert!(!shown.contains(['\u{1b}', '\u{9b}']), "{shown}");
    }
}
