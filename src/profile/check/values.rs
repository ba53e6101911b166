//! Owns the rules about figures: kinds, windows, suppression, limits to case, harness.

use super::{all_shared, circuits::advice_for, refuse_outside};
use crate::profile::{
    faults::Found,
    raw::At,
    raw_part::{RawKind, RawProfile, RawSuppression, RawWindow},
};
use std::ops::RangeInclusive;

/// The kinds by the name that a profile gives them.
pub(in crate::profile) const KINDS: [&str; 8] =
    ["copper-coil", "linear", "resistor", "platinum", "thermistor", "thermistor-table", "data-bus", "wire"];

/// Temperatures that a part of a vehicle can have, in degrees Celsius.
const PART_TEMPERATURES: RangeInclusive<f64> = -60.0..=200.0;
/// Resistances that a handheld meter can show, in ohms.
const MEASURABLE: RangeInclusive<f64> = 1e-3..=1e9;

/// Whether circuits of that kind are windings.
pub(super) fn is_coil(kind: &str) -> bool {
    matches!(kind, "copper-coil" | "linear")
}

fn kinds(raw: &RawProfile) -> impl Iterator<Item = &RawKind> {
    all_shared(raw).filter_map(|shared| shared.kind.as_ref())
}

fn windows(raw: &RawProfile) -> impl Iterator<Item = &RawWindow> {
    all_shared(raw).filter_map(|shared| shared.window.as_ref())
}

/// The kind is known, has the figures that it needs, and no others.
pub(super) fn kinds_are_known(raw: &RawProfile, found: &mut Found) {
    for kind in kinds(raw) {
        let Some(name) = &kind.name else { continue };
        let needed: &[&str] = match name.value.as_str() {
            "copper-coil" | "resistor" | "data-bus" | "wire" => &[],
            "linear" => &["alpha_per_k"],
            "platinum" => &["r0_ohm"],
            "thermistor" => &["r_ohm", "at_c", "b_k"],
            "thermistor-table" => &["points"],
            other => {
                found.add(&name.spot, format!("there is no kind \"{other}\""), advice_for(other, &KINDS));
                continue;
            }
        };
        let figures = [
            ("alpha_per_k", kind.alpha_per_k.as_ref().map(|at| &at.spot)),
            ("r0_ohm", kind.r0_ohm.as_ref().map(|at| &at.spot)),
            ("r_ohm", kind.r_ohm.as_ref().map(|at| &at.spot)),
            ("at_c", kind.at_c.as_ref().map(|at| &at.spot)),
            ("b_k", kind.b_k.as_ref().map(|at| &at.spot)),
            ("points", kind.points.as_ref().map(|at| &at.spot)),
        ];
        for (key, spot) in figures {
            match (needed.contains(&key), spot) {
                (true, None) if !found.has_below(&format!("{}.{key}", kind.spot.key)) => {
                    let advice =
                        format!("write it as a table: kind = {{ name = \"{}\", {key} = ... }}", name.value);
                    found.add(&kind.spot, format!("kind \"{}\" needs `{key}`", name.value), advice);
                }
                (false, Some(spot)) => {
                    let message = format!("kind \"{}\" takes no `{key}`", name.value);
                    found.add(spot, message, "take it out, or choose the kind that it belongs to");
                }
                _ => {}
            }
        }
        figures_are_possible(kind, found);
    }
}

fn figures_are_possible(kind: &RawKind, found: &mut Found) {
    let alpha = "per kelvin at 20 °C: copper has 0.00393, brass about 0.0015";
    refuse_outside(kind.alpha_per_k.as_ref(), -0.01..=0.02, " /K", alpha, found);
    let r0 = "the resistance at 0 °C: 100 for a Pt100, 1000 for a Pt1000";
    refuse_outside(kind.r0_ohm.as_ref(), 1.0..=100_000.0, " Ω", r0, found);
    let r = "the resistance at `at_c`, in ohms";
    refuse_outside(kind.r_ohm.as_ref(), 0.1..=1e8, " Ω", r, found);
    let b = "B in kelvin is positive: 3000 to 4500 is usual for thermistors that fall as they warm up";
    refuse_outside(kind.b_k.as_ref(), 100.0..=20_000.0, " K", b, found);
    if let Some(points) = &kind.points {
        table_goes_one_way(points, found);
    }
}

/// Temperatures rise from point to point, and the resistance only falls or only rises with them.
fn table_goes_one_way(points: &At<Vec<crate::profile::raw_part::RawPoint>>, found: &mut Found) {
    let values: Vec<_> =
        points.value.iter().filter_map(|point| Some((point.at_c.as_ref()?, point.ohm.as_ref()?))).collect();
    if points.value.len() < 2 {
        found.add(
            &points.spot,
            "a table needs two points or more",
            "add points from the data sheet of the sensor",
        );
    }
    for (_, ohm) in &values {
        refuse_outside(Some(ohm), 0.1..=1e8, " Ω", "the resistance at that temperature, in ohms", found);
    }
    for pair in values.windows(2) {
        if pair[1].0.value <= pair[0].0.value {
            found.add_with(
                &pair[1].0.spot,
                format!("{} °C after {} °C", pair[1].0.value, pair[0].0.value),
                "sort the points by rising temperature, each temperature once",
                (&pair[0].0.spot, "the point before"),
            );
        }
    }
    let falls = values.len() >= 2 && values[1].1.value < values[0].1.value;
    for pair in values.windows(2) {
        let (before, after) = (pair[0].1.value, pair[1].1.value);
        if (falls && after >= before) || (!falls && after <= before) {
            let way = if falls { "falls" } else { "rises" };
            found.add_with(
                &pair[1].1.spot,
                format!("{after} Ω after {before} Ω in a table that {way}"),
                "a reading has to mean one temperature: resistances only fall or only rise along the table",
                (&pair[0].1.spot, "the point before"),
            );
        }
    }
}

pub(super) fn windows_are_the_right_way_up(raw: &RawProfile, found: &mut Found) {
    for window in windows(raw) {
        // A plain wire may read nothing at all.
        if let Some(low) = &window.low_ohm
            && low.value < 0.0
        {
            found.add(&low.spot, format!("{} Ω is below zero", low.value), "a resistance is never negative");
        }
        refuse_outside(
            window.high_ohm.as_ref(),
            MEASURABLE,
            " Ω",
            "in ohms: 4700, not 4.7 for 4.7 kΩ",
            found,
        );
        if let (Some(low), Some(high)) = (&window.low_ohm, &window.high_ohm)
            && low.value >= high.value
        {
            let message = if low.value > high.value {
                format!("the window is upside down: from {} Ω to {} Ω", low.value, high.value)
            } else {
                format!("the window is empty: from {} Ω to {} Ω", low.value, high.value)
            };
            found.add_with(
                &low.spot,
                message,
                "`low_ohm` is the smaller of the two",
                (&high.spot, "the upper limit"),
            );
        }
    }
    for circuit in &raw.circuits {
        if let Some(window) = super::window_of(raw, circuit)
            && let Some(low) = &window.low_ohm
            && low.value == 0.0
            && let Some(kind) = super::kind_of(raw, circuit).and_then(|kind| super::of(kind.name.as_ref()))
            && kind != "wire"
        {
            found.add(
                &low.spot,
                format!("a sound {kind} never reads 0 Ω"),
                "0 is a lower limit for kind \"wire\" alone: a short would pass as sound",
            );
        }
    }
}

pub(super) fn reference_temperatures_are_possible(raw: &RawProfile, found: &mut Found) {
    let in_windows = windows(raw).filter_map(|window| window.at_c.as_ref());
    let in_kinds = kinds(raw).filter_map(|kind| kind.at_c.as_ref());
    for at in in_windows.chain(in_kinds) {
        let advice = "in degrees Celsius: the temperature of the part that the figures hold at, mostly 20";
        refuse_outside(Some(at), PART_TEMPERATURES, " °C", advice, found);
    }
    let points = kinds(raw).filter_map(|kind| kind.points.as_ref()).flat_map(|points| &points.value);
    for at in points.filter_map(|point| point.at_c.as_ref()) {
        // A sensor's table may go further than a reference temperature.
        refuse_outside(Some(at), -100.0..=1000.0, " °C", "in degrees Celsius", found);
    }
}

pub(super) fn suppressions_are_known(raw: &RawProfile, found: &mut Found) {
    for suppression in all_shared(raw).filter_map(|shared| shared.suppression.as_ref()) {
        match suppression {
            RawSuppression::Named(name) if !matches!(name.value.as_str(), "none" | "diode") => found.add(
                &name.spot,
                format!("there is no suppression \"{}\"", name.value),
                "it is \"none\", \"diode\" or { resistor_ohm = 560 }",
            ),
            RawSuppression::Named(_) => {}
            RawSuppression::Resistor { ohm, .. } => {
                refuse_outside(ohm.as_ref(), 1.0..=1e6, " Ω", "the resistor alone, in ohms", found);
            }
        }
    }
}

pub(super) fn case_limits_are_possible(raw: &RawProfile, found: &mut Found) {
    for shared in all_shared(raw) {
        let advice = "in ohms: 1000000 for 1 MΩ; leave it out where no limit is known";
        refuse_outside(shared.case_limit_ohm.as_ref(), 100.0..=1e9, " Ω", advice, found);
    }
}

pub(super) fn harnesses_are_possible(raw: &RawProfile, found: &mut Found) {
    for harness in all_shared(raw).filter_map(|shared| shared.harness.as_ref()) {
        let area = "the copper cross-section of one wire: 0.35 to 2.5 mm² is usual for signals and valves";
        refuse_outside(harness.conductor_mm2.as_ref(), 0.05..=120.0, " mm²", area, found);
        let length = "the length of one wire in metres; the loop is twice that";
        refuse_outside(harness.length_m.as_ref(), 0.05..=100.0, " m", length, found);
    }
}
