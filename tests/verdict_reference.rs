//! The engine's figures side by side with reference libraries: SciPy, uncertainties, and one for IEC 60751.
//!
//! `tests/reference/set-up.sh` makes the Python environment; this test calls it where the environment is missing. Where that
//! does not work (no network, no Python) the test fails in CI; elsewhere it says that nothing was compared.

use bothhands::{
    profile::{self, CircuitKind},
    quantity::{Celsius, Interval, Ohms},
    verdict::{Evidence, Leads, Station, judge, outliers, stats, table, temperature, trial::random::Random},
};
use serde_json::{Value, json};
use std::{
    io::Write as _,
    path::Path,
    process::{Command, Stdio},
};

#[test]
fn figures_agree_with_reference_libraries() {
    let python = Path::new(env!("CARGO_MANIFEST_DIR")).join("target/reference-venv/bin/python3");
    let made = python.exists()
        || Command::new("sh").arg("tests/reference/set-up.sh").status().is_ok_and(|status| status.success());
    if !made {
        let message = format!("{} could not be made by tests/reference/set-up.sh", python.display());
        assert!(std::env::var_os("CI").is_none(), "{message}");
        eprintln!("NOT COMPARED: {message}");
        return;
    }
    let mut child = Command::new(python)
        .arg("tests/reference/compare.py")
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .spawn()
        .expect("python starts");
    child.stdin.take().expect("a pipe").write_all(figures().to_string().as_bytes()).expect("python reads");
    let output = child.wait_with_output().expect("python ends");
    let said = String::from_utf8_lossy(&output.stdout);
    assert!(output.status.success(), "{said}");
    assert!(said.contains(" 0 failed"), "{said}");
}

fn figures() -> Value {
    let mut random = Random::new(42);
    let mut sample = |count: usize| -> Vec<f64> {
        let mut values: Vec<f64> = (0..count).map(|_| 5.2 + random.around_zero(0.2)).collect();
        if random.unit() < 0.5 {
            values[0] += random.around_zero(4.0);
        }
        values
    };
    let samples: Vec<Vec<f64>> = (0..60).map(|at| sample(4 + at % 30)).collect();
    let pt100 = CircuitKind::Platinum { r0: Ohms::new(100.0).expect("finite") };
    let student: Vec<(f64, f64, f64)> = [0.4, 0.1, 0.025, 0.005, 1e-4, 1e-6]
        .iter()
        .flat_map(|tail| {
            [1.0, 2.0, 5.0, 17.0, 60.0].map(|free| (*tail, free, stats::student_above(*tail, free)))
        })
        .collect();
    let normal: Vec<(f64, f64)> =
        (-80..=80).map(|z| f64::from(z) / 10.0).map(|z| (z, stats::normal_below(z))).collect();
    let platinum: Vec<(f64, f64)> = (-20..=85)
        .map(|t| f64::from(t) * 10.0)
        .filter_map(|t| temperature::resistance(&pt100, t).map(|ohms| (t, ohms)))
        .collect();
    json!({
        "normal": normal,
        "student": student,
        "samples": samples
            .iter()
            .map(|s| (s, stats::median(s), stats::mad(s), stats::mean(s), stats::deviation(s)))
            .collect::<Vec<_>>(),
        "grubbs": samples
            .iter()
            .filter_map(|s| outliers::grubbs(s, 0.05).map(|found| (s, found.g, found.critical)))
            .collect::<Vec<_>>(),
        "esd": samples
            .iter()
            .filter(|s| s.len() >= 8)
            .map(|s| (s, s.len() / 3, outliers::generalised_esd(s, s.len() / 3, 0.05)))
            .collect::<Vec<_>>(),
        "platinum": platinum,
        "budgets": judged(|finding| {
            let standard: Vec<f64> = finding.details.budget.iter().map(|line| line.standard.get()).collect();
            json!({
                "value": finding.resistance.map(Ohms::get),
                "expanded": finding.uncertainty.map(Ohms::get),
                "standard": standard,
            })
        }),
        "conformity": judged(|finding| {
            let limits = finding.limits.expect("the readings are of circuits with a window");
            json!((
                limits.low.get(),
                limits.high.get(),
                finding.resistance.map(Ohms::get),
                finding.uncertainty.map(|u| u.get() / 2.0),
                finding.conforming,
            ))
        }),
    })
}

/// Readings of the shipped invented part as `judge` takes them, one figure for each finding with a number.
fn judged(figure: impl Fn(&bothhands::verdict::Finding) -> Value) -> Vec<Value> {
    let profile = profile::find("sweeper-valve-block").expect("it ships").value;
    let meter = profile::find_meter("handheld-60000").expect("it ships").value;
    let text = "circuit,reading\ncoil-a,5.41\ncoil-b,5.08\ncoil-c,5.70\ncoil-d,5.75\ncoil-e,4.2\ncoil-f,5.3\n\
                coil-a,5.42\ncoil-a,5.40\npressure-coil,24.20\n";
    let celsius = |value| Celsius::new(value).expect("finite");
    let evidence = Evidence {
        part_temperature: Some(Interval::exactly(celsius(35.0))),
        leads: Leads::Shown(table::shown(0, "0.21", &["0.21"]).expect("a number")),
        measurements: table::parse(&profile, text).expect("a table"),
        ..Evidence::none()
    };
    let judgement = judge(&profile, Some(&meter), &evidence).expect("sound evidence");
    judgement
        .findings
        .iter()
        .filter(|finding| finding.resistance.is_some() && finding.station == Station::Component)
        .map(figure)
        .collect()
}
