//! What a reading cannot say: ranges that end too low, voltages closer than the meter can tell, pins that are not probed.

use super::fixture::*;
use crate::{
    profile::{DropLimit, DropLimits, KnownCode},
    quantity::{Decimal, Prefix, Reading, Shown, Unit, Volts},
    verdict::*,
};

fn volts(value: f64) -> Volts {
    Volts::new(value).unwrap()
}

fn over(range: &str) -> Reading {
    Reading::OverRange { range: Some(shown(range)) }
}

fn shown_volts(text: &str) -> Shown {
    Shown { number: text.parse::<Decimal>().unwrap(), prefix: Prefix::One, unit: Unit::Volt }
}

fn drop(reading: Reading, circuit: Option<&str>, limit: Option<f64>) -> VoltageDrop {
    VoltageDrop {
        id: 61,
        joint: "earth stud".into(),
        circuit: circuit.map(Into::into),
        reading,
        current: None,
        limit: limit.map(volts),
    }
}

fn load(at_load: f64) -> LoadTest {
    LoadTest {
        id: 60,
        circuit: "coil-a".into(),
        supply: volts(12.60),
        at_load: volts(at_load),
        current: None,
        limit: Some(volts(0.5)),
    }
}

/// A display over a range of 60 Ω says "more than 60 Ω": for a sensor of 300 Ω, or a limit of 1 MΩ, that is no news.
#[test]
fn over_a_range_that_ends_too_low_is_not_judged() {
    let (mut profile, mut evidence) = (block(), at_20());
    add(&mut evidence, "speed-sensor-1", Contact::Usual, "ol");
    let class = |profile: &_, evidence: &Evidence, station| {
        let judgement = judge(profile, Some(&meter()), evidence).unwrap();
        let class = judgement.finding(&evidence.measurements[0].circuit, station).unwrap().class;
        (class, judgement)
    };
    // Its range not said: what an ohmmeter that chooses by itself shows.
    assert_eq!(class(&profile, &evidence, Station::Component).0, Class::OverRangeUnchecked);
    evidence.measurements[0].reading = over("60.00");
    let (judged, judgement) = class(&profile, &evidence, Station::Component);
    assert_eq!(judged, Class::NotJudged);
    assert_eq!(said(&judgement.next_checks[0].text), "Read speed sensor 1 again in a higher range.");
    assert!(judgement.findings.iter().any(|f| f.derivation.iter().any(|step| said(&step.what) == "range")));
    evidence.measurements[0].reading = over("600.0");
    assert_eq!(class(&profile, &evidence, Station::Component).0, Class::OverRangeUnchecked);

    profile.circuits[0].case_limit = Some(ohms(1e6));
    evidence.measurements.clear();
    add_at(&mut evidence, "coil-a", Station::Case, Contact::Usual, "ol");
    assert_eq!(class(&profile, &evidence, Station::Case).0, Class::Within);
    evidence.measurements[0].reading = over("600.0");
    assert_eq!(class(&profile, &evidence, Station::Case).0, Class::NotJudged);
    // A meter whose highest range ends below the limit cannot show that it is kept.
    let mut low = meter();
    low.ranges.retain(|range| range.full_scale < 1e6);
    evidence.measurements[0].reading = reading("ol");
    let judgement = judge(&profile, Some(&low), &evidence).unwrap();
    assert_eq!(judgement.finding(&"coil-a".into(), Station::Case).unwrap().class, Class::NotJudged);
}

/// Read at the part's own pin with the harness off, the harness cannot be what leaks.
#[test]
fn leakage_at_the_parts_pin_is_the_part() {
    let (mut profile, mut evidence) = (coils(2, 3.0, 0.05, Some((4.8, 5.6))), at_20());
    profile.circuits[0].case_limit = Some(ohms(1e6));
    coils_read(&mut evidence, &["5.40", "5.41"]);
    add_at(&mut evidence, "coil-a", Station::Case, Contact::Usual, "4.7 k");
    let judgement = judge(&profile, Some(&meter()), &evidence).unwrap();
    let certainty = |cause| {
        let find = |e: &&Explanation| e.cause == cause;
        judgement.conclusion.explanations.iter().find(find).map_or(0.0, |e| e.certainty)
    };
    assert_eq!(judgement.conclusion.explanations[0].cause, Cause::Component);
    assert!(certainty(Cause::Wiring) < 0.1);
    // Wet pins leak as well: without cleaning the contact stays in question.
    assert!(certainty(Cause::Connection) > 0.15);
}

/// By hand, without a meter file (±(1 % + 3 digits) assumed, read to 0.01 V): the gain acts on the difference of 0.50 V,
/// the digits on both. u² = (0.005² + 2 × 0.03²)/3 + 2 × 0.01²/12, U = 2u = 0.050 V.
#[test]
fn a_loss_closer_to_its_limit_than_the_meter_can_tell_is_not_judged() {
    let (profile, mut evidence) = (coils(2, 3.0, 0.05, Some((4.8, 5.6))), at_20());
    coils_read(&mut evidence, &["5.40", "5.41"]);
    let mut stand = |at_load: f64| {
        evidence.further.loads = vec![load(at_load)];
        let observed = judge(&profile, None, &evidence).unwrap().observed;
        let one = observed.into_iter().find(|one| one.about == About::Load).unwrap();
        (one.sound, said(&one.text))
    };
    assert_eq!(stand(12.20).0, Some(true));
    assert_eq!(stand(12.10).0, None);
    assert_eq!(stand(12.00).0, Some(false));
    let text = stand(12.10).1;
    assert!(text.contains("0.5 V ± 0.04") || text.contains("0.5 V ± 0.05"), "{text}");
}

#[test]
fn the_nearest_limit_of_a_drop_is_taken_and_its_source_named() {
    let (mut profile, mut evidence) = (coils(2, 3.0, 0.05, Some((4.8, 5.6))), at_20());
    coils_read(&mut evidence, &["5.40", "5.41"]);
    let limit = |value, source: &str| Some(DropLimit { volts: volts(value), source: source.into() });
    profile.drop_limits = DropLimits { joint: limit(0.15, "whole part"), wire: None };
    profile.circuits[0].drop_limits =
        DropLimits { joint: limit(0.08, "sheet 12"), wire: limit(0.3, "sheet 13") };
    let reading = Reading::Value(shown_volts("0.120"));
    let mut text = |one: VoltageDrop| {
        evidence.further.drops = vec![one];
        let observed = judge(&profile, None, &evidence).unwrap().observed;
        let one = observed.into_iter().find(|one| one.about == About::VoltageDrop).unwrap();
        (one.sound, said(&one.text))
    };
    let (sound, with_its_own) = text(drop(reading, Some("coil-a"), Some(0.2)));
    assert_eq!(sound, Some(true));
    assert!(with_its_own.ends_with("limit 0.2 V (given with the observation)"), "{with_its_own}");
    let (sound, of_circuit) = text(drop(reading, Some("coil-a"), None));
    assert_eq!(sound, Some(false));
    assert!(of_circuit.ends_with("limit 0.08 V (by the profile: sheet 12)"), "{of_circuit}");
    let (sound, of_part) = text(drop(reading, None, None));
    assert_eq!(sound, Some(true));
    assert!(of_part.ends_with("limit 0.15 V (by the profile: whole part)"), "{of_part}");
    // The second circuit's own limits were filled from the whole part when the profile was read; here it has none.
    let (_, practice) = text(drop(reading, Some("coil-b"), None));
    assert!(practice.ends_with("limit 0.2 V (common practice, no source)"), "{practice}");
    evidence.further.drops.clear();
    evidence.further.loads = vec![LoadTest { limit: None, ..load(12.20) }];
    let observed = judge(&profile, None, &evidence).unwrap().observed;
    let wire = observed.iter().find(|one| one.about == About::Load).unwrap();
    assert!(said(&wire.text).contains("limit 0.3 V (by the profile: sheet 13)"), "{wire:?}");
}

#[test]
fn what_must_not_be_probed_or_counted_is_refused_by_name() {
    let mut profile = coils(3, 3.0, 0.05, None);
    profile.circuits[2].never_ohmmeter = Some("pyrotechnic".into());
    profile.circuits[2].family = None;
    let refused = |change: &dyn Fn(&mut Evidence)| {
        let mut evidence = at_20();
        coils_read(&mut evidence, &["5.40", "5.41"]);
        change(&mut evidence);
        judge(&profile, None, &evidence).unwrap_err().to_string()
    };
    let between =
        |to: &str| Relation { id: 9, from: "coil-a".into(), to: to.into(), reading: reading("5.4") };
    let never = "no ohmmeter may touch coil-c: pyrotechnic";
    assert!(refused(&|e| e.further.relations.push(between("coil-c"))).ends_with(never));
    assert!(
        refused(&|e| e.further.loads.push(LoadTest { circuit: "coil-c".into(), ..load(12.0) }))
            .ends_with(never)
    );
    assert!(refused(&|e| e.measurements[0].id = 0).contains("numbered from 1"));
    assert!(refused(&|e| e.further.loads.push(LoadTest { id: 0, ..load(12.0) })).contains("numbered from 1"));
    let ohms = Reading::Unstable { low: Some(shown("0.1")), high: Some(shown("0.2")) };
    assert_eq!(
        refused(&|e| e.further.drops.push(drop(ohms, None, None))),
        "measurement 61: 0.1 Ω is not in V"
    );
    assert!(
        refused(&|e| e.leads = Leads::Shown(shown("-0.2"))).starts_with("the leads held together: -0.2 Ω")
    );
    let absurd = LoadTest { supply: volts(1e308), ..load(-1e308) };
    let message = refused(&|e| e.further.loads.push(absurd.clone()));
    assert_eq!(message, "observation 60: a voltage in V of 1e308 is not believed; -2000 to 2000 is");
    let reading = Reading::Value(shown_volts("0.1"));
    let nothing = crate::quantity::Amperes::new(1e-320).unwrap();
    let trickle = VoltageDrop { current: Some(nothing), ..drop(reading, None, None) };
    assert!(refused(&|e| e.further.drops.push(trickle.clone())).contains("a current in A"));
    assert!(refused(&|e| e.further.relations.push(between("coil-a"))).ends_with("measured against itself"));
    // The common pin belongs to circuits that may be measured as well.
    let mut evidence = at_20();
    coils_read(&mut evidence, &["5.40", "5.41"]);
    evidence.further.relations.push(between("16"));
    assert!(judge(&profile, None, &evidence).is_ok());
}

/// Texts that came from elsewhere may not move the cursor of the terminal that shows them.
#[test]
fn the_explanation_cannot_move_the_cursor() {
    let (mut profile, mut evidence) = (coils(2, 3.0, 0.05, Some((4.8, 5.6))), at_20());
    profile.codes = vec![KnownCode { number: "21".into(), circuit: "coil-a".into(), meaning: None }];
    coils_read(&mut evidence, &["5.40", "5.41"]);
    evidence.codes.push(StoredCode { text: "P\u{1b}[2J\u{202e}\u{9b}1m".into(), circuit: None });
    let text = crate::report::explain(&profile, &judge(&profile, None, &evidence).unwrap(), english());
    assert!(!text.contains(|c: char| c != '\n' && (c.is_control() || c == '\u{202e}')), "{text:?}");
    assert!(text.contains("combined") && text.contains("k = 2"), "the budget is printed: {text}");
}

/// A code is followed to the end: part, harness, case, then what no session can lead through.
#[test]
fn the_next_check_for_a_code_goes_from_station_to_station() {
    let (profile, mut evidence) = (block(), at_20());
    evidence.codes.push(StoredCode { text: "21".into(), circuit: Some("coil-a".into()) });
    let next = |evidence: &Evidence| {
        let check = judge(&profile, Some(&meter()), evidence).unwrap().next_checks.remove(0);
        (check.action, check.station)
    };
    assert_eq!(next(&evidence), (CheckAction::ReadAgain, Some(Station::Component)));
    coils_read(&mut evidence, &["5.40", "5.41", "5.39", "5.42", "5.40", "5.41", "5.40", "5.38"]);
    assert_eq!(next(&evidence), (CheckAction::OtherStation, Some(Station::Harness)));
    add_at(&mut evidence, "coil-a", Station::Harness, Contact::Usual, "5.55");
    assert_eq!(next(&evidence), (CheckAction::OtherStation, Some(Station::Case)));
    add_at(&mut evidence, "coil-a", Station::Case, Contact::Usual, "ol");
    // The wires by themselves and under load are left, before anybody names the control unit.
    assert_eq!(next(&evidence).0, CheckAction::LoadTest);
}

/// A thermistor of kilohms that reads a hundred ohms is off; at half an ohm it is shorted.
#[test]
fn far_too_little_is_not_shorted() {
    let (profile, mut evidence) = (block(), at_20());
    let mut class = |text: &str| {
        evidence.measurements.clear();
        add(&mut evidence, "speed-sensor-1", Contact::Usual, text);
        judge(&profile, Some(&meter()), &evidence).unwrap().findings[9].class
    };
    assert_eq!(class("20.0"), Class::Outside);
    assert_eq!(class("0.60"), Class::Shorted);
}

/// Two that are sound at the part and off through the harness share something in the wiring; neither part failed.
#[test]
fn several_off_through_the_harness_alone_are_the_wiring() {
    let (profile, mut evidence) = (block(), at_20());
    coils_read(&mut evidence, &["5.40", "5.41", "5.39", "5.42", "5.40", "5.41", "5.40", "5.38"]);
    let mut through = evidence.clone();
    for coil in ["coil-a", "coil-b"] {
        add_at(&mut through, coil, Station::Harness, Contact::Cleaned, "7.90");
    }
    // By the same amount: what they share. Temperature cannot be it, since they read as they should at the part.
    let judgement = judge(&profile, Some(&meter()), &through).unwrap();
    assert_eq!(judgement.patterns[0].kind, PatternKind::SharedOffset);
    assert_eq!(judgement.conclusion.explanations[0].cause, Cause::SharedReturn);
    add_at(&mut evidence, "coil-a", Station::Harness, Contact::Cleaned, "7.90");
    add_at(&mut evidence, "coil-b", Station::Harness, Contact::Cleaned, "21.0");
    let judgement = judge(&profile, Some(&meter()), &evidence).unwrap();
    assert_eq!(judgement.conclusion.explanations[0].cause, Cause::Wiring);
    let headline = said(&judgement.conclusion.headline);
    assert!(headline.contains("the wiring of coil a and coil b"), "{headline}");
    // Less through the harness than at the part cannot be, whether its wires are known or not.
    evidence.measurements.retain(|m| m.station == Station::Component);
    add_at(&mut evidence, "coil-a", Station::Harness, Contact::Usual, "4.40");
    let observed = judge(&profile, Some(&meter()), &evidence).unwrap().observed;
    let wires = observed.iter().find(|one| one.about == About::Loop).unwrap();
    assert!(wires.sound == Some(false) && said(&wires.text).contains("less than nothing"), "{wires:?}");
}
