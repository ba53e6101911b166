//! Owns the rules about meters.

use super::refuse_outside;
use crate::{
    profile::{
        faults::{Found, Spot},
        raw::At,
        raw_meter::{RawMeter, RawRange, RawRanges},
    },
    quantity::Unit,
};

/// Each list of ranges with each of its ranges.
fn ranges(raw: &RawMeter) -> impl Iterator<Item = (&RawRanges, &RawRange)> {
    raw.ranges.iter().flat_map(|list| list.ranges.iter().map(move |range| (list, range)))
}

/// One or more measuring categories after IEC 61010-1 with their voltage, separated by commas.
pub(super) fn category_is_one(raw: &RawMeter, found: &mut Found) {
    let Some(category) = &raw.category else { return };
    let fits = category.value.split(',').all(|one| match one.split_whitespace().collect::<Vec<_>>()[..] {
        ["CAT", "II" | "III" | "IV", volts, "V"] => {
            volts.parse::<u16>().is_ok_and(|v| (50..=1500).contains(&v))
        }
        _ => false,
    });
    if !fits {
        found.add(
            &category.spot,
            format!("\"{}\" is no measuring category", category.value),
            "it stands beside the sockets: CAT II, III or IV and a voltage, as in \"CAT III 600 V\"",
        );
    }
}

pub(super) fn counts_are_possible(raw: &RawMeter, found: &mut Found) {
    let advice = "the highest number that the display shows without its point: 2000, 6000, 60000";
    refuse_outside(raw.counts.as_ref(), 1000.0..=10_000_000.0, "", advice, found);
}

pub(super) fn temperatures_are_the_right_way_up(raw: &RawMeter, found: &mut Found) {
    let advice = "in degrees Celsius, as the manual gives them: 18 to 28";
    for at in [&raw.accurate_from_c, &raw.accurate_to_c] {
        refuse_outside(at.as_ref(), -40.0..=70.0, " °C", advice, found);
    }
    if let (Some(from), Some(to)) = (&raw.accurate_from_c, &raw.accurate_to_c)
        && from.value >= to.value
    {
        let message = format!("the accuracy holds from {} °C to {} °C: upside down", from.value, to.value);
        found.add_with(&from.spot, message, advice, (&to.spot, "the upper end"));
    }
}

pub(super) fn drift_is_possible(raw: &RawMeter, found: &mut Found) {
    let advice = "a fraction of the stated accuracy per kelvin: 0.1 for \"0.1 × accuracy per °C\"";
    refuse_outside(raw.drift_per_k.as_ref(), 0.0..=1.0, "", advice, found);
}

pub(super) fn has_resistance(raw: &RawMeter, found: &mut Found) {
    let list = raw.ranges.iter().find(|list| list.quantity.unit == Unit::Ohm);
    if list.is_some_and(|list| list.spot.is_none()) {
        let spot = Spot { span: 0..0, key: "resistance".to_owned() };
        found.add(
            &spot,
            "the meter has no resistance range",
            "add [[resistance]] for each range from its manual",
        );
    }
}

pub(super) fn lists_are_not_empty(raw: &RawMeter, found: &mut Found) {
    for list in &raw.ranges {
        if let Some(spot) = &list.spot
            && list.ranges.is_empty()
            && !found.has_below(&spot.key)
        {
            found.add(spot, "there is no range in this list", "add its ranges, or leave the list out");
        }
    }
}

/// A step of the last digit is 1, 2 or 5 times a power of ten.
pub(super) fn resolutions_are_steps_of_a_display(raw: &RawMeter, found: &mut Found) {
    for (_, range) in ranges(raw) {
        if let Some(resolution) = &range.resolution
            && !is_step(resolution.value)
        {
            let message = format!("{} is no step of a display", resolution.value);
            found.add(&resolution.spot, message, "one step of the last digit: 0.1 for a display of 600.0");
        }
    }
}

fn is_step(value: f64) -> bool {
    if !(1e-9..=1e9).contains(&value) {
        return false;
    }
    // Through the shortest decimal text, which is what was written: no rounding of logarithms.
    let text = format!("{value:e}");
    matches!(text.split('e').next(), Some("1" | "2" | "5"))
}

/// Full scale, resolution and counts say one thing three times.
pub(super) fn full_scales_fit_the_counts(raw: &RawMeter, found: &mut Found) {
    for (list, range) in ranges(raw) {
        let (Some(full), Some(resolution)) = (&range.full_scale, &range.resolution) else { continue };
        if full.value <= 0.0 || full.value > 1e12 {
            let message = format!("a full scale of {} is not possible", full.value);
            found.add(&full.spot, message, "the highest value that the range shows, in the unit of the key");
            continue;
        }
        if !is_step(resolution.value) {
            continue;
        }
        let steps = full.value / resolution.value;
        if (steps - steps.round()).abs() > 1e-6 * steps {
            found.add_with(
                &full.spot,
                format!("{} is not a whole number of steps of {}", full.value, resolution.value),
                "the display shows full scale and resolution with the same digits after the point",
                (&resolution.spot, "one step"),
            );
        } else if let Some(counts) = fitting(raw.counts.as_ref())
            && steps > counts.value * 1.1 + 1.0
        {
            found.add_with(
                &resolution.spot,
                format!("a range of {} in steps of {} needs {steps} counts", full.value, resolution.value),
                format!(
                    "the meter has {} counts: check `{}` and `{}`",
                    counts.value, list.quantity.full_scale, list.quantity.resolution
                ),
                (&counts.spot, "the counts of the meter"),
            );
        } else if steps < 50.0 {
            found.add_with(
                &resolution.spot,
                format!("a range of {} has only {steps} steps of {}", full.value, resolution.value),
                "one step of the last digit is meant: 0.1 for a display of 600.0",
                (&full.spot, "the full scale"),
            );
        }
    }
}

fn fitting(counts: Option<&At<f64>>) -> Option<&At<f64>> {
    counts.filter(|counts| (1000.0..=10_000_000.0).contains(&counts.value))
}

/// From one range to the next the full scale rises, and so does the resolution or it stays.
pub(super) fn ranges_rise(raw: &RawMeter, found: &mut Found) {
    for list in &raw.ranges {
        for pair in list.ranges.windows(2) {
            if let (Some(before), Some(after)) = (&pair[0].full_scale, &pair[1].full_scale)
                && after.value <= before.value
            {
                found.add_with(
                    &after.spot,
                    format!("a range of {} after one of {}", after.value, before.value),
                    "list the ranges from low to high, each once",
                    (&before.spot, "the range before"),
                );
                continue;
            }
            if let (Some(before), Some(after)) = (&pair[0].resolution, &pair[1].resolution)
                && after.value < before.value
            {
                found.add_with(
                    &after.spot,
                    format!(
                        "a higher range resolves {}, finer than the {} of the lower one",
                        after.value, before.value
                    ),
                    "the higher the range, the coarser its steps",
                    (&before.spot, "the lower range"),
                );
            }
        }
    }
}

pub(super) fn accuracies_are_possible(raw: &RawMeter, found: &mut Found) {
    for (_, range) in ranges(raw) {
        let percent = "percent of the reading: 0.8 in ±(0.8 % + 3)";
        refuse_outside(range.percent.as_ref(), 0.0..=20.0, " %", percent, found);
        let digits = "steps of the last digit: 3 in ±(0.8 % + 3)";
        refuse_outside(range.digits.as_ref(), 0.0..=200.0, "", digits, found);
        if let (Some(percent), Some(digits)) = (&range.percent, &range.digits)
            && percent.value == 0.0
            && digits.value == 0.0
        {
            found.add(
                &range.spot,
                "a range without any error",
                "no meter is exact: take the figures from its manual",
            );
        }
    }
}
