//! Owns the rules about kinds: what a circuit is made of, and the figures that say how it changes with temperature.

use super::{all_shared, circuits::advice_for, kind_of, refuse_outside, window_of};
use crate::profile::{
    faults::Found,
    raw::At,
    raw_part::{RawKind, RawPoint, RawProfile},
};

/// The kinds by the name that a profile gives them.
pub(super) const KINDS: [&str; 8] =
    ["copper-coil", "linear", "resistor", "platinum", "thermistor", "thermistor-table", "data-bus", "wire"];

/// Whether circuits of that kind are windings.
pub(super) fn is_coil(kind: &str) -> bool {
    matches!(kind, "copper-coil" | "linear")
}

pub(super) fn kinds(raw: &RawProfile) -> impl Iterator<Item = &RawKind> {
    all_shared(raw).filter_map(|shared| shared.kind.as_ref())
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
    }
}

pub(super) fn figures_are_possible(raw: &RawProfile, found: &mut Found) {
    let alpha = "per kelvin at 20 °C: copper has 0.00393, brass about 0.0015";
    let r0 = "the resistance at 0 °C: 100 for a Pt100, 1000 for a Pt1000";
    let r = "the resistance at `at_c`, in ohms";
    let b = "B in kelvin is positive: 3000 to 4500 is usual for thermistors that fall as they warm up";
    for kind in kinds(raw) {
        refuse_outside(kind.alpha_per_k.as_ref(), -0.01..=0.02, " /K", alpha, found);
        refuse_outside(kind.r0_ohm.as_ref(), 1.0..=100_000.0, " Ω", r0, found);
        refuse_outside(kind.r_ohm.as_ref(), 0.1..=1e8, " Ω", r, found);
        refuse_outside(kind.b_k.as_ref(), 100.0..=20_000.0, " K", b, found);
        for point in kind.points.iter().flat_map(|points| &points.value) {
            refuse_outside(point.ohm.as_ref(), 0.1..=1e8, " Ω", r, found);
        }
    }
}

/// Temperatures rise from point to point, and the resistance only falls or only rises with them.
pub(super) fn tables_go_one_way(raw: &RawProfile, found: &mut Found) {
    kinds(raw).filter_map(|kind| kind.points.as_ref()).for_each(|points| table_goes_one_way(points, found));
}

fn table_goes_one_way(points: &At<Vec<RawPoint>>, found: &mut Found) {
    let values: Vec<_> =
        points.value.iter().filter_map(|point| Some((point.at_c.as_ref()?, point.ohm.as_ref()?))).collect();
    if points.value.len() < 2 {
        found.add(
            &points.spot,
            "a table needs two points or more",
            "add points from the data sheet of the sensor",
        );
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
    let falls = values.first().zip(values.last()).is_some_and(|(first, last)| last.1.value < first.1.value);
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

/// Where the figures of a kind and its window speak of the same temperature, they have to agree.
pub(super) fn windows_agree_with_their_kinds(raw: &RawProfile, found: &mut Found) {
    for circuit in &raw.circuits {
        let (Some(kind), Some(window)) = (kind_of(raw, circuit), window_of(raw, circuit)) else {
            continue;
        };
        let (Some(low), Some(high), Some(at)) = (&window.low_ohm, &window.high_ohm, &window.at_c) else {
            continue;
        };
        let points = kind.points.iter().flat_map(|points| &points.value);
        let points: Vec<_> = points.filter_map(|p| Some((p.at_c.as_ref()?, p.ohm.as_ref()?))).collect();
        if let (Some(first), Some(last)) = (points.first(), points.last())
            && first.0.value < last.0.value
            && !(first.0.value..=last.0.value).contains(&at.value)
        {
            found.add_with(
                &at.spot,
                format!("{} °C is outside of the table of the sensor", at.value),
                "add points to the table that reach beyond it, or give the window at a temperature within",
                (&last.0.spot, "the last point"),
            );
        }
        let own = kind.at_c.as_ref().zip(kind.r_ohm.as_ref());
        for (t, ohm) in own.into_iter().chain(points) {
            let disagrees = ohm.value < low.value || ohm.value > high.value;
            if t.value == at.value && low.value < high.value && disagrees {
                found.add_with(
                    &ohm.spot,
                    format!(
                        "{} Ω at {} °C is outside of the window of {} Ω to {} Ω at that temperature",
                        ohm.value, t.value, low.value, high.value
                    ),
                    "one of the two is wrong: a sound sensor reads what its own data say",
                    (&window.spot, "the window"),
                );
            }
        }
    }
}
