//! Owns the meter file as written: every key with its place, nothing judged yet.

use super::{
    faults::{Found, Spot},
    raw::{At, Need::Must, Section},
};
use crate::quantity::Unit;
use toml::de::DeTable;

pub(super) struct RawMeter {
    pub(super) id: Option<At<String>>,
    pub(super) title: Option<At<String>>,
    pub(super) invented: Option<At<bool>>,
    pub(super) source: Option<At<String>>,
    pub(super) category: Option<At<String>>,
    pub(super) counts: Option<At<f64>>,
    pub(super) accurate_from_c: Option<At<f64>>,
    pub(super) accurate_to_c: Option<At<f64>>,
    pub(super) drift_per_k: Option<At<f64>>,
    /// One list for each quantity, in the order of [`QUANTITIES`].
    pub(super) ranges: Vec<RawRanges>,
}

pub(super) struct RawRanges {
    pub(super) quantity: &'static Quantity,
    pub(super) ranges: Vec<RawRange>,
    /// Where the list is; none where there is none.
    pub(super) spot: Option<Spot>,
}

pub(super) struct RawRange {
    pub(super) full_scale: Option<At<f64>>,
    pub(super) resolution: Option<At<f64>>,
    pub(super) percent: Option<At<f64>>,
    pub(super) digits: Option<At<f64>>,
    pub(super) spot: Spot,
}

/// A quantity that a meter has ranges for, with the keys that it is written by.
pub(super) struct Quantity {
    pub(super) unit: Unit,
    pub(super) list: &'static str,
    pub(super) full_scale: &'static str,
    full_scale_example: &'static str,
    pub(super) resolution: &'static str,
    resolution_example: &'static str,
}

/// The quantities, in the order in which a meter's ranges are kept.
pub(super) static QUANTITIES: [Quantity; 4] = [
    Quantity {
        unit: Unit::Ohm,
        list: "resistance",
        full_scale: "full_scale_ohm",
        full_scale_example: "full_scale_ohm = 600.0",
        resolution: "resolution_ohm",
        resolution_example: "resolution_ohm = 0.1",
    },
    Quantity {
        unit: Unit::Volt,
        list: "dc_voltage",
        full_scale: "full_scale_v",
        full_scale_example: "full_scale_v = 60.0",
        resolution: "resolution_v",
        resolution_example: "resolution_v = 0.01",
    },
    Quantity {
        unit: Unit::Ampere,
        list: "dc_current",
        full_scale: "full_scale_a",
        full_scale_example: "full_scale_a = 10.0",
        resolution: "resolution_a",
        resolution_example: "resolution_a = 0.01",
    },
    Quantity {
        unit: Unit::Celsius,
        list: "temperature",
        full_scale: "full_scale_c",
        full_scale_example: "full_scale_c = 400.0",
        resolution: "resolution_c",
        resolution_example: "resolution_c = 0.1",
    },
];

/// Reads the file as a whole.
pub(super) fn meter(table: &DeTable<'_>, found: &mut Found) -> RawMeter {
    let mut root = Section::root(table);
    let raw = RawMeter {
        id: root.text("id", Must("id = \"my-meter\""), found),
        title: root.text("title", Must("title = \"the small one in the drawer\""), found),
        invented: root.flag("invented", Must("invented = false"), found),
        source: root.text("source", Must("source = \"manual of the meter, page 40\""), found),
        category: root.text("category", Must("category = \"CAT III 600 V\""), found),
        counts: root.number("counts", Must("counts = 6000"), found),
        accurate_from_c: root.number("accurate_from_c", Must("accurate_from_c = 18"), found),
        accurate_to_c: root.number("accurate_to_c", Must("accurate_to_c = 28"), found),
        drift_per_k: root.number("drift_per_k", Must("drift_per_k = 0.1"), found),
        ranges: QUANTITIES.iter().map(|quantity| ranges(&mut root, quantity, found)).collect(),
    };
    root.close(found);
    raw
}

fn ranges(root: &mut Section, quantity: &'static Quantity, found: &mut Found) -> RawRanges {
    let Some((spot, sections)) = root.sections_if_any(quantity.list, quantity.full_scale, found) else {
        return RawRanges { quantity, ranges: Vec::new(), spot: None };
    };
    let ranges = sections.into_iter().map(|section| range(section, quantity, found)).collect();
    RawRanges { quantity, ranges, spot: Some(spot) }
}

fn range(mut section: Section, quantity: &Quantity, found: &mut Found) -> RawRange {
    let raw = RawRange {
        full_scale: section.number(quantity.full_scale, Must(quantity.full_scale_example), found),
        resolution: section.number(quantity.resolution, Must(quantity.resolution_example), found),
        percent: section.number("percent", Must("percent = 0.8"), found),
        digits: section.number("digits", Must("digits = 3"), found),
        spot: section.spot(),
    };
    section.close(found);
    raw
}
