//! Owns the rules about the connector.

use super::refuse_repeats;
use crate::profile::{
    faults::Found,
    raw_part::{RawPin, RawProfile},
    short::PARTED,
};

fn pins(raw: &RawProfile) -> impl Iterator<Item = &RawPin> {
    raw.connector.iter().flat_map(|connector| &connector.pins)
}

pub(super) fn connector_has_pins(raw: &RawProfile, found: &mut Found) {
    if let Some(connector) = &raw.connector
        && connector.pins.is_empty()
        && !found.has_below(&format!("{}.pins", connector.spot.key))
    {
        found.add(
            &connector.spot,
            "the connector has no pins",
            "list them: pins = [ 1, 2, 3 ]; or leave `pins` out: then they are those that the circuits name",
        );
    }
}

pub(super) fn names_are_well_formed(raw: &RawProfile, found: &mut Found) {
    for name in pins(raw).filter_map(|pin| pin.pin.as_ref()) {
        let parts: Vec<&str> = name.value.split(PARTED).collect();
        let named = raw.connector.as_ref().is_some_and(|connector| connector.id.is_some());
        if parts.len() > 1 + usize::from(named) || !parts.iter().all(|part| is_name(part)) {
            let message = format!("\"{}\" is no name of a pin", name.value);
            let advice = "use one to four letters and digits: 4 or B2; with several connectors each is a [[connector]] with an \
                          id, and its pins are called by it: X1/4";
            found.add(&name.spot, message, advice);
        }
    }
}

fn is_name(part: &str) -> bool {
    (1..=4).contains(&part.chars().count()) && part.chars().all(|c| c.is_ascii_alphanumeric())
}

/// Pins are spoken: `b2` and `B2` sound alike, and so do `1` and `01` to a person who says "pin one".
pub(super) fn names_are_unique(raw: &RawProfile, found: &mut Found) {
    let names = pins(raw).filter_map(|pin| pin.pin.as_ref());
    let heard = names.map(|name| {
        let upper = name.value.to_uppercase();
        let trimmed = upper.trim_start_matches('0');
        (if trimmed.is_empty() { "0".to_owned() } else { trimmed.to_owned() }, &name.spot)
    });
    refuse_repeats(
        heard,
        found,
        |name| format!("there is a pin \"{name}\" already"),
        "each pin is listed once; upper and lower case and leading zeros make no difference when spoken",
    );
}

pub(super) fn places_are_unique(raw: &RawProfile, found: &mut Found) {
    let places = pins(raw).filter_map(|pin| {
        let (row, column) = (pin.row.as_ref()?.value, pin.column.as_ref()?.value);
        Some(((row, column), &pin.spot))
    });
    refuse_repeats(
        places,
        found,
        |(row, column)| format!("another pin is at row {row}, column {column} already"),
        "count rows from the top and columns from the left, as the connector is seen from the probing side",
    );
}
