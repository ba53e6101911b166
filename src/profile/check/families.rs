//! Owns the rules about families: circuits that should read alike.

use super::{
    circuits::advice_for, family_of, kind_of, members, names::called, of, refuse_outside, window_of,
};
use crate::profile::{faults::Found, raw_part::RawProfile};

/// The largest tolerance that still says that members are alike, in percent.
const WIDEST_TOLERANCE: f64 = 50.0;
/// The largest change by probe contact that still lets a reading be judged, in ohms.
const WORST_CONTACT_OHM: f64 = 10.0;

pub(super) fn exist(raw: &RawProfile, found: &mut Found) {
    let known: Vec<&str> =
        raw.families.iter().filter_map(|family| of(family.id.as_ref())).map(String::as_str).collect();
    for circuit in &raw.circuits {
        if let Some(name) = &circuit.family
            && family_of(raw, circuit).is_none()
        {
            let message = format!("there is no family \"{}\"", name.value);
            found.add(&name.spot, message, advice_for(&name.value, &known));
        }
    }
}

/// What is found from readings cannot also be told.
pub(super) fn are_told_or_found(raw: &RawProfile, found: &mut Found) {
    if let (Some(flag), Some(family)) = (&raw.families_from_readings, raw.families.first())
        && flag.value
    {
        let named = of(family.id.as_ref()).map_or("", String::as_str);
        let message = format!("families are to be found from the readings, and family \"{named}\" is told");
        found.add(&flag.spot, message, "leave out families_from_readings, or every [[family]]");
    }
}

/// One alone has nothing to be compared with.
pub(super) fn have_members(raw: &RawProfile, found: &mut Found) {
    for family in &raw.families {
        let Some(id) = &family.id else { continue };
        let message = match members(raw, family).len() {
            0 => format!("family \"{}\" has no circuit", id.value),
            1 => format!("family \"{}\" has one circuit only", id.value),
            _ => continue,
        };
        let advice = format!("a family is two or more like circuits, each with: family = \"{}\"", id.value);
        found.add(&id.spot, message, advice);
    }
}

pub(super) fn are_of_one_kind(raw: &RawProfile, found: &mut Found) {
    for family in &raw.families {
        let kinds = members(raw, family).into_iter().filter_map(|circuit| {
            let kind = kind_of(raw, circuit)?;
            Some((of(kind.name.as_ref())?, &kind.spot))
        });
        let kinds: Vec<_> = kinds.collect();
        let Some((first, first_spot)) = kinds.first() else { continue };
        for (kind, spot) in &kinds[1..] {
            if kind != first {
                found.add_with(
                    spot,
                    format!("family \"{}\" mixes {first} and {kind}", called(family.id.as_ref())),
                    "circuits that should read alike are of one kind: take the odd one out of the family",
                    (first_spot, "another kind here"),
                );
            }
        }
    }
}

/// A window known for some members holds for their like as well, or they are not alike.
pub(super) fn have_windows_for_all_or_none(raw: &RawProfile, found: &mut Found) {
    for family in &raw.families {
        let members = members(raw, family);
        if members.iter().all(|circuit| window_of(raw, circuit).is_none()) {
            continue;
        }
        for circuit in members.into_iter().filter(|circuit| window_of(raw, circuit).is_none()) {
            // A window that could not be read was noted; one that may not be measured is noted for that.
            let unreadable = found.has_below(&format!("{}.window", circuit.spot.key));
            if !unreadable && circuit.never_ohmmeter.is_none() {
                let id = called(circuit.id.as_ref());
                let message = format!("circuit \"{id}\" has no window, but others of its family have");
                let advice = "write the window once, in the family: it holds for all members";
                found.add(&circuit.spot, message, advice);
            }
        }
    }
}

pub(super) fn have_windows_that_overlap(raw: &RawProfile, found: &mut Found) {
    for family in &raw.families {
        let windows = members(raw, family).into_iter().filter_map(|circuit| {
            let window = window_of(raw, circuit)?;
            let (low, high) = (window.low_ohm.as_ref()?.value, window.high_ohm.as_ref()?.value);
            (low < high).then_some((low, high, window.at_c.as_ref()?.value, &window.spot))
        });
        let windows: Vec<_> = windows.collect();
        for (index, (low, high, at, spot)) in windows.iter().enumerate() {
            let apart = windows[..index].iter().find(|(l, h, t, _)| t == at && (l > high || h < low));
            if let Some((.., other)) = apart {
                found.add_with(
                    spot,
                    format!("windows in family \"{}\" exclude each other", called(family.id.as_ref())),
                    "circuits that should read alike cannot have windows apart from each other",
                    (other, "the other window"),
                );
            }
        }
    }
}

pub(super) fn tolerances_are_possible(raw: &RawProfile, found: &mut Found) {
    for tolerance in raw.families.iter().filter_map(|family| family.tolerance_percent.as_ref()) {
        if tolerance.value <= 0.0 || tolerance.value > WIDEST_TOLERANCE {
            let message = format!(
                "a tolerance of {} % is not above 0 % and up to {WIDEST_TOLERANCE} %",
                tolerance.value
            );
            let advice = "give the half-width in percent, 5 for ±5 %; no two real parts are the same to 0 %";
            found.add(&tolerance.spot, message, advice);
        }
    }
}

pub(super) fn contact_is_possible(raw: &RawProfile, found: &mut Found) {
    for family in &raw.families {
        refuse_outside(
            family.contact_ohm.as_ref(),
            0.001..=WORST_CONTACT_OHM,
            " Ω",
            "how much the reading changes when the same circuit is probed again: 0.05 to 0.2 Ω is usual",
            found,
        );
    }
}
