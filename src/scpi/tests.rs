//! Tests of the talk with a meter: answers as the standards write them (from memory), the standstill, and meters that misbehave.

use super::{
    MeterTrouble, Metered,
    answer::{Answer, answer, error, printable, setup},
    ask::{Known, MOST_READINGS, NoReading, Wire, take},
    still::{ALIKE, Still},
};
use crate::{
    profile::{self, Meter},
    quantity::{Reading, Shown, Unit},
};
use proptest::prelude::*;
use std::{collections::VecDeque, io, time::Duration};

fn value(line: &str) -> Option<f64> {
    match answer(line)? {
        Answer::Number(number) => Some(number.value()),
        Answer::OverRange | Answer::NoNumber => None,
    }
}

/// IEEE 488.2-1992, 8.7.2 to 8.7.4 (from memory): NR1, NR2 and NR3, with and without their signs.
#[test]
fn numbers_of_the_three_forms() {
    for (line, number) in [
        ("15", 15.0),
        ("+15", 15.0),
        ("-15", -15.0),
        ("0", 0.0),
        ("1.50", 1.5),
        ("-1.50", -1.5),
        ("+.5", 0.5),
        ("5.", 5.0),
        ("+5.329E+00", 5.329),
        ("+5.32900000E+00\r", 5.329),
        ("-1.2E-3", -0.0012),
        ("1.234500e3", 1234.5),
        (" +4.72E+03\n", 4720.0),
        ("4E3", 4000.0),
    ] {
        assert_eq!(value(line), Some(number), "{line:?}");
    }
    for line in [
        "",
        " ",
        "+",
        "-",
        ".",
        "E",
        "E3",
        "1E",
        "1E+",
        "1E1000",
        "+-1",
        "1.2.3",
        "1,2",
        "1.2,3.4",
        "5.3 OHM",
        "OL",
        "inf",
        "NaN",
        "0x10",
        "1 2",
        "1E1.5",
        "1234567890123456789",
        "５.3",
        "RES",
        "\"1\"",
        "1E+-3",
    ] {
        assert_eq!(answer(line), None, "{line:?}");
    }
}

/// SCPI 1999, volume 1, 7.2.1 (from memory).
#[test]
fn infinity_is_over_range_and_what_is_no_number_is_none() {
    for line in ["9.9E37", "+9.9E+37", "+9.90000000E+37", "9.8999999E+37"] {
        assert_eq!(answer(line), Some(Answer::OverRange), "{line}");
    }
    for line in ["-9.9E37", "9.91E37", "+9.91000000E+37", "1E38", "1E16", "-1E16", "1E999"] {
        assert_eq!(answer(line), Some(Answer::NoNumber), "{line}");
    }
    assert!(value("9.5E14").is_some());
}

#[test]
fn a_number_is_rounded_to_the_last_place_of_the_display() {
    for (line, prefix, places, shown) in [
        ("+5.32900000E+00", 0, 3, "5.329"),
        ("+5.32949999E+00", 0, 3, "5.329"),
        ("+5.32950000E+00", 0, 3, "5.330"),
        ("+5.40E+00", 0, 3, "5.40"),
        ("15", 0, 3, "15"),
        ("1.5E1", 0, 3, "15"),
        ("+4.72000000E+03", 3, 3, "4.720"),
        ("+4.72000000E+03", 3, 0, "5"),
        ("+5.99570000E+02", 0, 2, "599.57"),
        ("4.9E-9", 0, 3, "0.000"),
        ("5E-300", 0, 3, "0.000"),
        ("-1.2E-3", 0, 3, "-0.001"),
        ("0E9", 0, 3, "0"),
    ] {
        let Some(Answer::Number(number)) = answer(line) else { panic!("{line}") };
        assert_eq!(number.shown(prefix, places).unwrap().to_string(), shown, "{line}");
    }
}

/// SCPI 1999, volume 2 (from memory): CONFigure? answers with the function, its range and its resolution, in quotation marks.
#[test]
fn what_a_meter_is_set_to() {
    for (line, unit) in [
        ("\"RES +1.000000E+03,+1.000000E-03\"", Some(Unit::Ohm)),
        ("RES", Some(Unit::Ohm)),
        ("\"FRES +6.0E+01,+1.0E-3\"", Some(Unit::Ohm)),
        ("\"SENS1:RESistance\"", Some(Unit::Ohm)),
        ("\"VOLT:DC +6.0E+00,+1.0E-04\"", Some(Unit::Volt)),
        (":volt:ac", Some(Unit::Volt)),
        ("\"CURR\"", Some(Unit::Ampere)),
        ("\"TEMP TC,K\"", Some(Unit::Celsius)),
        ("\"CAP\"", None),
        ("\"CONT\"", None),
    ] {
        assert_eq!(setup(line).map(|setup| setup.unit), Some(unit), "{line}");
    }
    assert_eq!(setup("\"RES +1.000000E+03,+1.000000E-03\"").unwrap().step, Some(0.001));
    assert_eq!(setup("\"RES +1.0E+03\"").unwrap().step, None);
    for line in ["", "\"\"", "+1.2E3", "12", "?!", "\u{fffd}\u{fffd}", ":"] {
        assert_eq!(setup(line), None, "{line:?}");
    }
}

/// SCPI 1999, volume 2, SYSTem:ERRor? (from memory): the number, and what it means in quotation marks.
#[test]
fn errors_of_a_meter() {
    assert_eq!(error("-113,\"Undefined header\"\n").as_deref(), Some("-113,\"Undefined header\""));
    for line in ["0,\"No error\"", "+0,\"No error\"", "", "what", ",", "-,\"x\"", "a,b"] {
        assert_eq!(error(line), None, "{line:?}");
    }
}

fn stands(lines: &[&str], step: f64) -> bool {
    let mut still = Still::default();
    lines.iter().map(|line| still.add(answer(line).unwrap(), |_| step)).last().unwrap()
}

#[test]
fn a_display_stands_still_with_three_alike() {
    assert!(stands(&["5.329", "5.329", "5.329"], 0.001));
    assert!(stands(&["5.329", "5.330", "5.329"], 0.001), "one step back and forth");
    assert!(!stands(&["5.329", "5.330", "5.331"], 0.001), "it still creeps");
    assert!(!stands(&["5.329", "5.329"], 0.001), "two are too few");
    assert!(stands(&["1.0", "7.2", "5.329", "5.329", "5.3290004"], 0.001));
    assert!(stands(&["9.9E37", "9.9E37", "9.9E37"], 0.001));
    assert!(!stands(&["5.329", "9.9E37", "9.9E37"], 0.001));
    assert!(!stands(&["5.329", "5.329", "9.9E37"], 0.001));
    assert!(!stands(&["5.329", "9.91E37", "5.329"], 0.001));
}

/// A meter that answers from a list, each question for a reading with the next one; at the end of the list it is silent.
#[derive(Default)]
struct Scripted {
    setup: Option<&'static str>,
    error: Option<&'static str>,
    readings: VecDeque<String>,
    ready: Option<String>,
    asked: Vec<String>,
    lost_after: Option<usize>,
}

impl Wire for Scripted {
    fn send(&mut self, line: &str) -> io::Result<()> {
        if self.lost_after.is_some_and(|after| self.asked.len() >= after) {
            return Err(io::Error::other("gone"));
        }
        self.asked.push(line.to_owned());
        self.ready = match line {
            "CONF?" => self.setup.map(str::to_owned),
            "SYST:ERR?" => self.error.map(str::to_owned),
            _ => self.readings.pop_front(),
        };
        Ok(())
    }

    fn receive(&mut self, _: Duration) -> io::Result<Option<String>> {
        Ok(self.ready.take())
    }

    fn clear(&mut self) -> io::Result<()> {
        self.ready = None;
        Ok(())
    }
}

fn meter() -> Meter {
    profile::find_meter("handheld-60000").unwrap().value
}

const RES: Option<&str> = Some("\"RES +6.0E+01,+1.0E-03\"");

fn talk(
    setup: Option<&'static str>,
    error: Option<&'static str>,
    readings: &[&str],
) -> Result<Metered, NoReading> {
    let readings = readings.iter().map(|line| (*line).to_owned()).collect();
    let mut wire = Scripted { setup, error, readings, ..Scripted::default() };
    take(&mut wire, &mut Known::default(), "READ?", &meter(), &|| true)
}

fn trouble(setup: Option<&'static str>, error: Option<&'static str>, readings: &[&str]) -> MeterTrouble {
    match talk(setup, error, readings) {
        Err(NoReading::Trouble(trouble)) => trouble,
        other => panic!("{other:?}"),
    }
}

fn taken(readings: &[&str]) -> Option<String> {
    use crate::grammar::Spoken;
    let metered = talk(RES, None, readings).ok()?;
    Some(match metered.spoken {
        Spoken::Number(number) => {
            let prefix = number.prefix.unwrap_or(crate::quantity::Prefix::One);
            Reading::Value(Shown { number: number.number, prefix, unit: Unit::Ohm }).to_string()
        }
        Spoken::OverRange => "over range".into(),
        Spoken::Unstable => "unstable".into(),
    })
}

#[test]
fn the_display_is_taken_once_it_stands_still() {
    let steady = ["+5.3290E+00"; ALIKE];
    assert_eq!(taken(&steady).as_deref(), Some("5.329 Ω"));
    let settles = ["+1.1E+00", "9.9E37", "+5.2E+00", "+5.3294E+00", "+5.3290E+00", "+5.3289E+00"];
    assert_eq!(taken(&settles).as_deref(), Some("5.329 Ω"));
    assert_eq!(taken(&["9.9E37"; ALIKE]).as_deref(), Some("over range"));
    assert_eq!(taken(&["+5.995700E+02"; ALIKE]).as_deref(), Some("599.57 Ω"));
    assert_eq!(taken(&["+4.7200E+04"; ALIKE]).as_deref(), Some("47.200 kΩ"));
}

/// A meter in a higher range than the lowest that could show it has fewer places: no digit is made up.
#[test]
fn a_coarse_range_of_the_meter_is_followed() {
    let coarse =
        talk(Some("\"RES +6.0E+03,+1.0E-01\""), None, &["+5.329E+00", "+5.38E+00", "+5.31E+00"]).unwrap();
    let crate::grammar::Spoken::Number(number) = coarse.spoken else { panic!("{coarse:?}") };
    assert_eq!(number.number.to_string(), "5.3");
}

#[test]
fn every_way_of_no_reading_has_its_word() {
    assert_eq!(trouble(None, None, &[]), MeterTrouble::Silent);
    let error = Some("-113,\"Undefined header\"");
    assert_eq!(
        trouble(None, error, &[]),
        MeterTrouble::Refuses { error: "-113,\"Undefined header\"".into() }
    );
    assert_eq!(
        trouble(RES, None, &["\u{fffd}z\u{7}!"]),
        MeterTrouble::NoReading { sent: "\u{fffd}z\u{fffd}!".into() }
    );
    assert_eq!(trouble(RES, None, &["5.3,5.4,5.5"]), MeterTrouble::NoReading { sent: "5.3,5.4,5.5".into() });
    assert_eq!(trouble(RES, None, &["9.91E37"]), MeterTrouble::NoNumber);
    assert_eq!(trouble(Some("\"VOLT:DC\""), None, &["9.9E37"; ALIKE]), MeterTrouble::NotOhms);
    assert_eq!(trouble(Some("\"CAP\""), None, &["1E-9"; ALIKE]), MeterTrouble::NotOhms);
    let wanders: Vec<String> = (0..=MOST_READINGS).map(|at| format!("{}.{at}", 3 + at % 2)).collect();
    let wanders: Vec<&str> = wanders.iter().map(String::as_str).collect();
    assert_eq!(trouble(RES, None, &wanders), MeterTrouble::Restless);
    // Volts are a reading all the same: the session has the words for it.
    let volts = talk(Some("\"VOLT:DC\""), None, &["+1.2E+01"; ALIKE]).unwrap();
    assert!(
        matches!(volts.spoken, crate::grammar::Spoken::Number(number) if number.unit == Some(Unit::Volt))
    );
}

#[test]
fn a_meter_that_does_not_say_what_it_is_set_to_is_asked_once() {
    let readings = std::iter::repeat_n("5.329".to_owned(), 2 * ALIKE).collect();
    let mut wire = Scripted { readings, ..Scripted::default() };
    let mut known = Known::default();
    for _ in 0..2 {
        take(&mut wire, &mut known, "READ?", &meter(), &|| true).unwrap();
    }
    assert_eq!(wire.asked.iter().filter(|line| *line == "CONF?").count(), 1);
}

#[test]
fn a_line_may_be_lost_at_any_point() {
    for after in 0..=ALIKE {
        let readings = std::iter::repeat_n("5.329".to_owned(), ALIKE).collect();
        let mut wire = Scripted { setup: RES, readings, lost_after: Some(after), ..Scripted::default() };
        let came = take(&mut wire, &mut Known::default(), "READ?", &meter(), &|| true);
        assert!(matches!(came, Err(NoReading::Lost(_))), "{after}: {came:?}");
    }
}

proptest! {
    /// Any text is an answer or none, and never a panic.
    #[test]
    fn any_text_is_read(line in ".{0,60}") {
        let _ = (answer(&line), setup(&line), error(&line), printable(&line));
    }

    #[test]
    fn any_near_number_is_read(line in "[+-]?[0-9]{0,20}\\.?[0-9]{0,20}([Ee][+-]?[0-9]{0,4})?", prefix in -3..7, places in 0u8..10) {
        if let Some(Answer::Number(number)) = answer(&line) {
            let value: f64 = line.parse().unwrap();
            prop_assert!((number.value() - value).abs() <= value.abs() * 1e-12, "{line}");
            let _ = number.shown(prefix, places);
        }
    }

    /// What is shown is the number to half a step of the last place.
    #[test]
    fn what_is_shown_is_what_was_sent(digits in 0u64..10_000_000, exponent in -9i32..3, places in 0u8..7) {
        let line = format!("{digits}E{exponent}");
        let Some(Answer::Number(number)) = answer(&line) else { panic!("{line}") };
        if let Some(shown) = number.shown(0, places) {
            let half = 0.5 * 10f64.powi(-i32::from(places));
            prop_assert!((shown.to_f64() - number.value()).abs() <= half * (1.0 + 1e-9), "{line} {shown}");
            prop_assert!(shown.places() <= places);
        }
    }

    /// Whatever a meter sends, the talk ends, with a reading or the reason of none.
    #[test]
    fn any_meter_is_survived(
        setup in proptest::option::of(prop::sample::select(vec!["\"RES\"", "\"VOLT\"", "", "\u{fffd}", "RES 1,1E-30", "RES 1,1E14"])),
        readings in prop::collection::vec(prop_oneof![
            Just("9.9E37".to_owned()), Just("9.91E37".to_owned()), Just("5.3".to_owned()), Just("1E14".to_owned()), ".{0,12}",
            "[+-]?[0-9]{1,3}\\.[0-9]{0,9}(E[+-][0-9]{1,2})?",
        ], 0..50),
    ) {
        let mut wire = Scripted { setup, readings: readings.into(), ..Scripted::default() };
        let _ = take(&mut wire, &mut Known::default(), "READ?", &meter(), &|| true);
        prop_assert!(wire.asked.len() <= MOST_READINGS + 2);
    }

    /// What stands still is never further apart than a step, and never shorter than the rule.
    #[test]
    fn a_standstill_is_what_it_says(steps in prop::collection::vec(0u32..4, 1..30)) {
        let mut still = Still::default();
        for (at, step) in steps.iter().enumerate() {
            let now = still.add(answer(&format!("5.32{step}")).unwrap(), |_| 0.001);
            let last = steps[(at + 1).saturating_sub(ALIKE)..=at].to_vec();
            let apart = last.iter().max().unwrap() - last.iter().min().unwrap();
            prop_assert_eq!(now, last.len() == ALIKE && apart <= 1);
        }
    }
}
