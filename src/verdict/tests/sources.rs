//! Figures from standards and handbooks, each with its place beside it. "From memory" where the text was not at hand.

use super::fixture::*;
use crate::{
    profile::CircuitKind,
    quantity::Interval,
    report,
    verdict::{
        Contact, Contribution, EvaluationKind, Leads, judge, meter, outliers, stats, temperature, wires,
    },
};

fn close(a: f64, b: f64, within: f64) {
    assert!((a - b).abs() <= within, "{a} is not {b} ± {within}");
}

/// IEC 60751:2008, table 1 (R(t) of Pt100 in Ω), from memory.
#[test]
fn platinum_table_points() {
    let pt100 = CircuitKind::Platinum { r0: ohms(100.0) };
    for (t, r) in [
        (-200.0, 18.52),
        (-100.0, 60.26),
        (-50.0, 80.31),
        (0.0, 100.00),
        (50.0, 119.40),
        (100.0, 138.51),
        (200.0, 175.86),
        (400.0, 247.09),
        (600.0, 313.71),
        (850.0, 390.48),
    ] {
        close(temperature::resistance(&pt100, t).unwrap(), r, 0.005);
        // Half of the table's last digit is at most 0.02 K.
        close(temperature::temperature(&pt100, r, None).unwrap(), t, 0.02);
    }
}

/// IEC 60028: α = 0.00393 /K at 20 °C, so 1/0.00393 − 20 = 234.45, rounded 234.5 as in the 234.5 rule.
#[test]
fn copper_by_the_rule() {
    close(1.0 / 0.00393 - 20.0, temperature::COPPER, 0.06);
    // By hand: 5.2 Ω at 20 °C has 5.2 × (234.5 + 80)/(234.5 + 20) = 5.2 × 1.235756 = 6.4259 Ω at 80 °C.
    close(5.2 * temperature::factor(&CircuitKind::CopperCoil, 20.0, 80.0), 6.4259, 5e-5);
    // The linear rule with the same α agrees to the rounding of 234.5.
    let linear = CircuitKind::Linear { alpha_per_k: 0.00393 };
    close(
        temperature::factor(&linear, 20.0, 80.0),
        temperature::factor(&CircuitKind::CopperCoil, 20.0, 80.0),
        1e-4,
    );
}

/// B-equation by hand: 10 kΩ at 25 °C, B = 3950 K, at 50 °C: 10000 exp(3950 (1/323.15 − 1/298.15)) = 3588 Ω.
#[test]
fn thermistor_by_hand() {
    let ntc = CircuitKind::Thermistor { r_ref: ohms(10_000.0), t_ref: celsius(25.0), b_k: 3950.0 };
    close(temperature::resistance(&ntc, 50.0).unwrap(), 3588.0, 1.0);
    close(temperature::temperature(&ntc, 3588.0, None).unwrap(), 50.0, 0.01);
    // A table made from the same curve gives it back between its points, exactly: straight in ln R against 1/T.
    let points =
        [0.0, 25.0, 100.0].map(|t| (celsius(t), ohms(temperature::resistance(&ntc, t).unwrap()))).to_vec();
    let table = CircuitKind::ThermistorTable { points };
    close(temperature::resistance(&table, 50.0).unwrap(), 3588.0, 1.0);
    close(temperature::temperature(&table, 3588.0, None).unwrap(), 50.0, 0.01);
}

/// NIST/SEMATECH e-Handbook 1.3.5.17.1: G = 2.4687, critical value 2.032 (one-sided, 5 %).
#[test]
fn grubbs_example() {
    let values = [199.31, 199.53, 200.19, 200.82, 201.92, 201.95, 202.18, 245.57];
    let found = outliers::grubbs(&values, 0.05).unwrap();
    assert_eq!(found.at, 7);
    close(found.g, 2.4687, 1e-4);
    close(outliers::grubbs_critical(8, 0.05 / 8.0), 2.032, 5e-4);
    // Why a plain average and its standard deviation are not used: with one in three values far off, G cannot exceed
    // (n − 1)/√n = 1.1547, however far.
    close(outliers::grubbs(&[5.2, 5.2, 5200.0], 0.05).unwrap().g, 2.0 / 3f64.sqrt(), 1e-9);
}

/// NIST/SEMATECH e-Handbook 1.3.5.17.3 (Rosner's data): three outliers, 6.01, 5.42 and 5.34.
#[test]
fn generalised_esd_example() {
    let values = [
        -0.25, 0.68, 0.94, 1.15, 1.20, 1.26, 1.26, 1.34, 1.38, 1.43, 1.49, 1.49, 1.55, 1.56, 1.58, 1.65,
        1.69, 1.70, 1.76, 1.77, 1.81, 1.91, 1.94, 1.96, 1.99, 2.06, 2.09, 2.10, 2.14, 2.15, 2.23, 2.24, 2.26,
        2.35, 2.37, 2.40, 2.47, 2.54, 2.62, 2.64, 2.90, 2.92, 2.92, 2.93, 3.21, 3.26, 3.30, 3.59, 3.68, 4.30,
        4.64, 5.34, 5.42, 6.01,
    ];
    assert_eq!(outliers::generalised_esd(&values, 10, 0.05), [53, 52, 51]);
    // Asking for one alone finds none: the others mask it (R1 = 3.118 is below its critical 3.158).
    assert!(outliers::generalised_esd(&values, 1, 0.05).is_empty());
}

/// NIST Statistical Reference Datasets, univariate, NumAcc1: 10000001, 10000003, 10000002 have mean 10000002 and standard
/// deviation 1, exactly (from memory). A sum of squares loses it.
#[test]
fn deviation_of_large_numbers() {
    let values = [10_000_001.0, 10_000_003.0, 10_000_002.0];
    assert_eq!(stats::mean(&values), Some(10_000_002.0));
    assert_eq!(stats::deviation(&values), Some(1.0));
}

/// JCGM 106:2012, 7.3 and 7.4, examples (from memory): a Zener diode with upper limit −5.40 V, −5.47 V measured, u = 0.05 V,
/// conforms with 92 %; engine oil with limits 12.5 to 16.3 mm²/s, 13.6 measured, u = 1.8, with 66 %.
#[test]
fn conformity_examples() {
    close(stats::normal_between(f64::NEG_INFINITY, (-5.40 + 5.47) / 0.05), 0.92, 0.005);
    close(stats::normal_between((12.5 - 13.6) / 1.8, (16.3 - 13.6) / 1.8), 0.66, 0.005);
}

/// JCGM 106:2012 in a judgement: a reading on a limit conforms with one half; ILAC-G8:09/2019, 4.2.3: guard band w = U.
#[test]
fn guard_bands() {
    use crate::verdict::Class;
    let profile = coils(1, 3.0, 0.05, Some((4.8, 5.6)));
    let finding = |text: &str| {
        let mut evidence = at_20();
        add(&mut evidence, "coil-a", Contact::Usual, text);
        judge(&profile, Some(&meter()), &evidence).unwrap().findings[0].clone()
    };
    let on_limit = finding("5.80");
    close(on_limit.conforming.unwrap(), 0.5, 1e-6);
    let u = on_limit.uncertainty.unwrap().get();
    // The four answers, a last digit to either side of the limit and of limit ± U.
    for (beyond, class) in [
        (-u - 0.01, Class::Within),
        (-u + 0.01, Class::WithinDoubtful),
        (-0.01, Class::WithinDoubtful),
        (0.01, Class::OutsideDoubtful),
        (u - 0.01, Class::OutsideDoubtful),
        (u + 0.02, Class::Outside),
    ] {
        let text = format!("{:.2}", 5.8 + beyond);
        assert_eq!(finding(&text).class, class, "{text} with U = {u}");
    }
}

/// JCGM 100:2008, annex H.1.4 and table H.1: 25, 9.7, 2.9 and 16.6 nm (δα and δθ) combine to 32 nm (clause and figures
/// from memory; H.1.7 has the terms of second order, which add 2 nm).
#[test]
fn end_gauge_budget() {
    let profile = coils(1, 3.0, 0.05, Some((4.8, 5.6)));
    let mut evidence = at_20();
    add(&mut evidence, "coil-a", Contact::Usual, "5.40");
    let mut finding = judge(&profile, Some(&meter()), &evidence).unwrap().findings.remove(0);
    finding.details.budget =
        [("standard", 25.0), ("difference", 9.7), ("expansion", 2.9), ("temperature", 16.6)]
            .map(|(source, standard)| Contribution {
                source: source.into(),
                kind: EvaluationKind::B,
                how: "".into(),
                standard: ohms(standard),
                shared: false,
            })
            .to_vec();
    let text = report::budget(&finding, english());
    let combined = text.lines().find(|line| line.starts_with("combined")).unwrap();
    let value: f64 = combined.split_whitespace().nth(1).unwrap().parse().unwrap();
    close(value, 32.0, 0.5);
}

/// A budget of the engine by hand: 5.40 Ω shown on 0.3 % + 2 × 0.01; leads 0.20 Ω; contact bound 0.05 Ω.
///
/// Half-widths over √3 (JCGM 100:2008, 4.3.7), a digital step δ as δ/√12 = 0.29 δ (F.2.2.1), root of the sum of squares
/// (5.1.2), k = 2 (6.2).
#[test]
fn engine_budget_by_hand() {
    let profile = coils(1, 3.0, 0.05, Some((4.8, 5.6)));
    let mut evidence = at_20();
    add(&mut evidence, "coil-a", Contact::Usual, "5.40");
    let finding = judge(&profile, Some(&meter()), &evidence).unwrap().findings.remove(0);
    // The lead zero was shown by the same meter: its gain stays, of its digits' error a fifth (JCGM 100:2008, 5.2.2).
    let meter = (0.003 * 5.40 + 0.2 * 2.0 * 0.01) / 3f64.sqrt();
    let step = 0.01 / 12f64.sqrt();
    let contact = 0.05 / 12f64.sqrt();
    let lead_contact = 0.1 / 12f64.sqrt();
    let leads2 = step.powi(2) + lead_contact.powi(2);
    let u = (meter.powi(2) + step.powi(2) + contact.powi(2) + leads2).sqrt();
    close(finding.uncertainty.unwrap().get(), 2.0 * u, 1e-9);
    close(finding.resistance.unwrap().get(), 5.20, 1e-12);
    close(step / 0.01, 0.29, 0.002);
    // Repeats: s/√n of type A once they scatter more than contact and last digit explain (4.2.3).
    for text in ["5.46", "5.40", "5.46"] {
        add(&mut evidence, "coil-a", Contact::Usual, text);
    }
    let finding = judge(&profile, None, &evidence).unwrap().findings.remove(0);
    let scatter = stats::deviation(&[5.40, 5.46, 5.40, 5.46]).unwrap();
    let line = finding.details.budget.iter().find(|line| line.kind == EvaluationKind::A).unwrap();
    close(line.standard.get(), scatter / 2.0, 1e-9);
}

/// A meter outside of its temperatures: 0.1 of the accuracy for each kelvin (as manuals put it: common practice, no source).
#[test]
fn a_cold_meter_is_less_sure() {
    let shown = shown("5.40");
    let half = |ambient| meter::accuracy(Some(&meter()), &shown, ambient).half;
    let inside = half(Interval::new(celsius(18.0), celsius(28.0)));
    close(half(Interval::new(celsius(-2.0), celsius(0.0))), 3.0 * inside, 1e-12);
    close(half(None), inside, 1e-12);
}

/// ISO 6722-1:2011 (now ISO 19642), table of conductor resistances: 1 mm² at most 18.5 mΩ/m at 20 °C.
/// ASTM B258: number 36 is 0.0050 inch, number 0000 0.4600 inch, number 18 0.0403 inch in diameter.
#[test]
fn wire_tables() {
    close(wires::most_ohms_per_metre(1.0).unwrap(), 18.5e-3, 1e-9);
    close(wires::loop_at_most(1.0, 5.0, 20.0), 0.185, 1e-9);
    let inches = |number| (wires::gauge_mm2(number) / std::f64::consts::FRAC_PI_4).sqrt() / 25.4;
    close(inches(36), 0.0050, 5e-7);
    close(inches(-3), 0.4600, 5e-5);
    close(inches(18), 0.0403, 5e-5);
    // Number 18 by resistivity, 1/58 Ω·mm²/m: 20.9 mΩ/m (6.385 Ω per 1000 feet in handbooks, from memory).
    close(wires::COPPER_RESISTIVITY / wires::gauge_mm2(18) * 304.8, 6.385, 0.01);
    // Every table value is at least what ideal copper of that size has, and not more than a tenth above.
    for mm2 in [0.35, 0.5, 0.75, 1.0, 1.5, 2.5, 4.0, 6.0, 10.0] {
        let ratio = wires::most_ohms_per_metre(mm2).unwrap() * mm2 / wires::COPPER_RESISTIVITY;
        assert!((1.0..1.12).contains(&ratio), "{mm2}: {ratio}");
    }
}

/// A resistance in relative mode and one with the leads subtracted are the same circuit.
#[test]
fn relative_mode_takes_nothing_off() {
    let profile = coils(1, 3.0, 0.05, Some((4.8, 5.6)));
    let mut evidence = at_20();
    evidence.leads = Leads::Relative;
    add(&mut evidence, "coil-a", Contact::Usual, "5.20");
    let relative = judge(&profile, None, &evidence).unwrap().findings.remove(0);
    close(relative.resistance.unwrap().get(), 5.20, 1e-12);
}
