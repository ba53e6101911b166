//! Owns the rules about figures: windows, reference temperatures, suppression, limits to case and of drops, harness.

use super::{all_shared, kind_of, kinds::kinds, of, refuse_outside, window_of};
use crate::profile::{
    faults::Found,
    raw_part::{RawProfile, RawSuppression, RawWindow},
};
use std::ops::RangeInclusive;

/// Temperatures that a part of a vehicle can have, in degrees Celsius.
const PART_TEMPERATURES: RangeInclusive<f64> = -60.0..=200.0;

fn windows(raw: &RawProfile) -> impl Iterator<Item = &RawWindow> {
    all_shared(raw).filter_map(|shared| shared.window.as_ref())
}

pub(super) fn windows_are_the_right_way_up(raw: &RawProfile, found: &mut Found) {
    for window in windows(raw) {
        let (Some(low), Some(high)) = (&window.low_ohm, &window.high_ohm) else { continue };
        if low.value >= high.value {
            let how = if low.value > high.value { "upside down" } else { "empty" };
            found.add_with(
                &low.spot,
                format!("the window is {how}: from {} Ω to {} Ω", low.value, high.value),
                "`low_ohm` is the smaller of the two",
                (&high.spot, "the upper limit"),
            );
        }
    }
}

/// A short must never pass as sound: only a plain wire may read nothing at all.
pub(super) fn windows_are_positive(raw: &RawProfile, found: &mut Found) {
    for window in windows(raw) {
        let advice = "in ohms: 4700 for 4.7 kΩ";
        refuse_outside(window.high_ohm.as_ref(), 1e-3..=1e9, " Ω", advice, found);
        if let Some(low) = &window.low_ohm
            && low.value < 0.0
        {
            found.add(&low.spot, format!("{} Ω is below zero", low.value), "a resistance is never negative");
        }
    }
    for circuit in &raw.circuits {
        let low = window_of(raw, circuit).and_then(|window| window.low_ohm.as_ref());
        let kind = kind_of(raw, circuit).and_then(|kind| of(kind.name.as_ref()));
        if let (Some(low), Some(kind)) = (low, kind)
            && low.value == 0.0
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

/// A limit that no sound joint or wire can keep, or that no supply could exceed, is a slip of the unit.
pub(super) fn drop_limits_are_possible(raw: &RawProfile, found: &mut Found) {
    let tables =
        raw.voltage_drop.iter().chain(all_shared(raw).filter_map(|shared| shared.voltage_drop.as_ref()));
    for table in tables {
        if table.joint_v.is_none() && table.wire_v.is_none() && !found.has_below(&table.spot.key) {
            found.add(
                &table.spot,
                "neither `joint_v` nor `wire_v`",
                "say how much one joint may lose, or a wire with its joints: joint_v = 0.1",
            );
        }
        let advice = "the highest sound drop under load in volts: 0.1 for 100 mV";
        refuse_outside(table.joint_v.as_ref(), 0.001..=5.0, " V", advice, found);
        refuse_outside(table.wire_v.as_ref(), 0.001..=5.0, " V", advice, found);
    }
}
