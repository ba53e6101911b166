//! Owns what makes a profile or a meter trustworthy: one named check for each rule, all of them run every time.
//!
//! A check looks at what was written, notes its faults and says nothing about the rest: a value that could not be read
//! was noted by the reader already and is passed over here.

mod circuits;
mod codes;
mod families;
mod gates;
mod kinds;
mod meter;
mod names;
mod pins;
mod values;

use super::{
    faults::{Found, Spot},
    raw::At,
    raw_meter::RawMeter,
    raw_part::{RawCircuit, RawFamily, RawKind, RawProfile, RawShared, RawWindow},
};
use std::collections::BTreeMap;

/// Runs every check of a profile.
pub(super) fn profile(raw: &RawProfile, found: &mut Found) {
    names::ids_are_well_formed(raw, found);
    names::ids_are_unique(raw, found);
    names::names_differ_when_spoken(raw, found);

    pins::connector_has_pins(raw, found);
    pins::names_are_well_formed(raw, found);
    pins::names_are_unique(raw, found);
    pins::places_are_unique(raw, found);

    circuits::there_is_something_to_measure(raw, found);
    circuits::end_on_known_pins(raw, found);
    circuits::have_two_ends(raw, found);
    circuits::pairs_of_pins_are_unique(raw, found);
    circuits::have_a_kind(raw, found);
    circuits::never_measured_is_never_judged(raw, found);
    circuits::switched_directly_has_a_supply(raw, found);
    circuits::supplies_are_possible(raw, found);
    circuits::high_voltage_is_never_measured(raw, found);
    circuits::suppression_suits_the_circuit(raw, found);
    circuits::control_pins_are_pairs(raw, found);

    families::exist(raw, found);
    families::are_told_or_found(raw, found);
    families::have_members(raw, found);
    families::are_of_one_kind(raw, found);
    families::have_windows_for_all_or_none(raw, found);
    families::have_windows_that_overlap(raw, found);
    families::tolerances_are_possible(raw, found);
    families::contact_is_possible(raw, found);

    kinds::kinds_are_known(raw, found);
    kinds::figures_are_possible(raw, found);
    kinds::tables_go_one_way(raw, found);
    kinds::windows_agree_with_their_kinds(raw, found);

    values::windows_are_positive(raw, found);
    values::windows_are_the_right_way_up(raw, found);
    values::reference_temperatures_are_possible(raw, found);
    values::suppressions_are_known(raw, found);
    values::case_limits_are_possible(raw, found);
    values::harnesses_are_possible(raw, found);
    values::drop_limits_are_possible(raw, found);

    gates::confirmations_are_phrases(raw, found);
    gates::confirmations_are_unique(raw, found);
    gates::there_are_cautions(raw, found);

    codes::numbers_are_digits(raw, found);
    codes::numbers_are_unique(raw, found);
    codes::name_known_circuits(raw, found);
}

/// Runs every check of a meter.
pub(super) fn meter(raw: &RawMeter, found: &mut Found) {
    names::meter_id_is_well_formed(raw, found);
    meter::category_is_one(raw, found);
    meter::counts_are_possible(raw, found);
    meter::temperatures_are_the_right_way_up(raw, found);
    meter::drift_is_possible(raw, found);
    meter::has_resistance(raw, found);
    meter::lists_are_not_empty(raw, found);
    meter::resolutions_are_steps_of_a_display(raw, found);
    meter::full_scales_fit_the_counts(raw, found);
    meter::ranges_rise(raw, found);
    meter::accuracies_are_possible(raw, found);
}

/// The value of something written, where it could be read.
fn of<T>(written: Option<&At<T>>) -> Option<&T> {
    written.map(|written| &written.value)
}

/// The family that a circuit names, where it exists.
pub(super) fn family_of<'r>(raw: &'r RawProfile, circuit: &RawCircuit) -> Option<&'r RawFamily> {
    let name = of(circuit.family.as_ref())?;
    raw.families.iter().find(|family| of(family.id.as_ref()) == Some(name))
}

/// The members of a family.
fn members<'r>(raw: &'r RawProfile, family: &RawFamily) -> Vec<&'r RawCircuit> {
    let Some(id) = of(family.id.as_ref()) else { return Vec::new() };
    raw.circuits.iter().filter(|circuit| of(circuit.family.as_ref()) == Some(id)).collect()
}

/// What holds for a circuit: its own where it has one, else its family's.
pub(super) fn holds<'r, T>(
    raw: &'r RawProfile,
    circuit: &'r RawCircuit,
    pick: impl Fn(&'r RawShared) -> Option<&'r T>,
) -> Option<&'r T> {
    pick(&circuit.shared).or_else(|| family_of(raw, circuit).and_then(|family| pick(&family.shared)))
}

/// The kind that holds for a circuit.
fn kind_of<'r>(raw: &'r RawProfile, circuit: &'r RawCircuit) -> Option<&'r RawKind> {
    holds(raw, circuit, |shared| shared.kind.as_ref())
}

/// The window that holds for a circuit.
fn window_of<'r>(raw: &'r RawProfile, circuit: &'r RawCircuit) -> Option<&'r RawWindow> {
    holds(raw, circuit, |shared| shared.window.as_ref())
}

/// Everything that families and circuits may both have, wherever it is written.
fn all_shared(raw: &RawProfile) -> impl Iterator<Item = &RawShared> {
    let families = raw.families.iter().map(|family| &family.shared);
    families.chain(raw.circuits.iter().map(|circuit| &circuit.shared))
}

/// Notes each value that occurs a second time, pointing at the first.
fn refuse_repeats<'r, K: Ord>(
    values: impl Iterator<Item = (K, &'r Spot)>,
    found: &mut Found,
    message: impl Fn(&K) -> String,
    advice: &str,
) {
    let mut seen: BTreeMap<K, &Spot> = BTreeMap::new();
    for (value, spot) in values {
        if let Some(first) = seen.get(&value) {
            found.add_with(spot, message(&value), advice, (first, "first here"));
        } else {
            seen.insert(value, spot);
        }
    }
}

/// Notes a number outside of what is possible.
fn refuse_outside(
    number: Option<&At<f64>>,
    possible: std::ops::RangeInclusive<f64>,
    unit: &str,
    advice: &str,
    found: &mut Found,
) {
    if let Some(number) = number
        && !possible.contains(&number.value)
    {
        let (low, high) = (possible.start(), possible.end());
        let message = format!("{}{unit} is not between {low}{unit} and {high}{unit}", number.value);
        found.add(&number.spot, message, advice);
    }
}
