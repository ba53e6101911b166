//! Owns the rules about circuits: their ends, and what may be asked of them.

use super::{
    all_shared, family_of, holds, kind_of,
    kinds::{KINDS, is_coil},
    names::called,
    of, refuse_outside, refuse_repeats, window_of,
};
use crate::profile::{
    faults::Found,
    nearest::nearest,
    raw_part::{RawCircuit, RawProfile, RawSuppression},
};

/// Above this a d.c. circuit is a high-voltage one (UN Regulation No. 100, definition of high voltage; from memory).
const HIGH_VOLTAGE_V: f64 = 60.0;

pub(super) fn there_is_something_to_measure(raw: &RawProfile, found: &mut Found) {
    if !raw.circuits.is_empty() && raw.circuits.iter().all(|circuit| circuit.never_ohmmeter.is_some()) {
        found.add(
            &raw.circuits[0].spot,
            "no circuit of this profile may be measured",
            "a profile needs at least one circuit without `never_ohmmeter`",
        );
    }
}

pub(super) fn end_on_known_pins(raw: &RawProfile, found: &mut Found) {
    let Some(connector) = &raw.connector else { return };
    let pins: Vec<&str> =
        connector.pins.iter().filter_map(|pin| of(pin.pin.as_ref())).map(String::as_str).collect();
    if pins.is_empty() {
        return;
    }
    for end in raw.circuits.iter().flat_map(|circuit| [&circuit.pin, &circuit.against]).flatten() {
        if !pins.contains(&end.value.as_str()) {
            let advice = match pins.iter().find(|pin| pin.eq_ignore_ascii_case(&end.value)) {
                Some(pin) => format!("did you mean \"{pin}\"?"),
                None => format!("its pins are {}", pins.join(", ")),
            };
            found.add(&end.spot, format!("the connector has no pin \"{}\"", end.value), advice);
        }
    }
}

pub(super) fn have_two_ends(raw: &RawProfile, found: &mut Found) {
    for circuit in &raw.circuits {
        if let (Some(pin), Some(against)) = (&circuit.pin, &circuit.against)
            && pin.value == against.value
        {
            found.add_with(
                &against.spot,
                format!("pin \"{}\" is measured against itself", pin.value),
                "name the pin at the other end of the circuit",
                (&pin.spot, "the same pin"),
            );
        }
    }
}

pub(super) fn pairs_of_pins_are_unique(raw: &RawProfile, found: &mut Found) {
    let pairs = raw.circuits.iter().filter_map(|circuit| {
        let (pin, against) = (circuit.pin.as_ref()?, circuit.against.as_ref()?);
        let (a, b) = (pin.value.as_str(), against.value.as_str());
        (a != b).then_some((if a < b { (a, b) } else { (b, a) }, &circuit.spot))
    });
    refuse_repeats(
        pairs,
        found,
        |(a, b)| format!("another circuit lies between pins \"{a}\" and \"{b}\" already"),
        "what lies between two pins is measured as one circuit",
    );
}

pub(super) fn have_a_kind(raw: &RawProfile, found: &mut Found) {
    for circuit in &raw.circuits {
        let unknown_family = circuit.family.is_some() && family_of(raw, circuit).is_none();
        if kind_of(raw, circuit).is_none() && circuit.never_ohmmeter.is_none() && !unknown_family {
            let message =
                format!("circuit \"{}\" has no `kind`, nor has its family", called(circuit.id.as_ref()));
            found.add(&circuit.spot, message, "say what it is made of, for example: kind = \"copper-coil\"");
        }
    }
}

pub(super) fn never_measured_is_never_judged(raw: &RawProfile, found: &mut Found) {
    for circuit in &raw.circuits {
        let Some(never) = &circuit.never_ohmmeter else { continue };
        let shared = &circuit.shared;
        let judged = [
            ("window", shared.window.as_ref().map(|window| &window.spot)),
            ("family", circuit.family.as_ref().map(|family| &family.spot)),
            ("case_limit_ohm", shared.case_limit_ohm.as_ref().map(|limit| &limit.spot)),
        ];
        for (key, spot) in judged {
            if let Some(spot) = spot {
                found.add_with(
                    spot,
                    format!("`{key}` on a circuit that no ohmmeter may touch"),
                    "nothing of it is ever measured: take out this key, or `never_ohmmeter` if it was wrong",
                    (&never.spot, "never measured"),
                );
            }
        }
    }
}

pub(super) fn switched_directly_has_a_supply(raw: &RawProfile, found: &mut Found) {
    for circuit in &raw.circuits {
        let flag = holds(raw, circuit, |shared| shared.directly_switched.as_ref());
        let supply = holds(raw, circuit, |shared| shared.supply_v.as_ref());
        let unreadable = found.has_below(&format!("{}.supply_v", circuit.spot.key));
        match (flag, supply) {
            (Some(flag), None) if flag.value && !unreadable => found.add(
                &flag.spot,
                "directly switched, but with what supply?",
                "add the voltage that is switched onto it, for example: supply_v = 24",
            ),
            (flag, Some(supply)) if !flag.is_some_and(|flag| flag.value) => found.add(
                &supply.spot,
                "a supply, but it is not directly switched",
                "add `directly_switched = true`, or take `supply_v` out: behind a current control V/R is not the current",
            ),
            _ => {}
        }
    }
}

pub(super) fn supplies_are_possible(raw: &RawProfile, found: &mut Found) {
    for supply in all_shared(raw).map(|shared| shared.supply_v.as_ref()) {
        let advice = "the voltage of the vehicle in volts, for example: supply_v = 24";
        refuse_outside(supply, 1.0..=1500.0, " V", advice, found);
    }
}

pub(super) fn high_voltage_is_never_measured(raw: &RawProfile, found: &mut Found) {
    for circuit in raw.circuits.iter().filter(|circuit| circuit.never_ohmmeter.is_none()) {
        if let Some(supply) = holds(raw, circuit, |shared| shared.supply_v.as_ref())
            && supply.value > HIGH_VOLTAGE_V
        {
            found.add(
                &supply.spot,
                format!("{} V is high voltage, and the circuit may be measured", supply.value),
                "add `never_ohmmeter` with the reason: high voltage is for people qualified for it",
            );
        }
    }
}

/// A resistor across a coil lowers what a sound one reads: the reading is always below the resistor.
pub(super) fn suppression_suits_the_circuit(raw: &RawProfile, found: &mut Found) {
    for circuit in &raw.circuits {
        let Some(suppression) = holds(raw, circuit, |shared| shared.suppression.as_ref()) else { continue };
        if !sits_on_a_coil(raw, circuit)
            && !matches!(suppression, RawSuppression::Named(n) if n.value == "none")
        {
            found.add(
                suppression.spot(),
                "suppression across something that is no coil",
                "only a coil makes a switching spike: check `kind`, or take `suppression` out",
            );
        }
        if let (RawSuppression::Resistor { ohm: Some(ohm), .. }, Some(window)) =
            (suppression, window_of(raw, circuit))
            && let Some(high) = &window.high_ohm
            && ohm.value > 0.0
            && ohm.value <= high.value
        {
            found.add_with(
                &ohm.spot,
                format!("with {} Ω across it the circuit cannot read up to {} Ω", ohm.value, high.value),
                "two resistances in parallel read less than either: check the window and the resistor",
                (&high.spot, "the window reaches up to here"),
            );
        }
    }
}

/// What is probed in the control unit's plug is one pin against another one, both as moulded there.
pub(super) fn control_pins_are_pairs(raw: &RawProfile, found: &mut Found) {
    for circuit in &raw.circuits {
        let (pin, against) = (&circuit.control_pin, &circuit.control_against);
        for name in [pin, against].into_iter().flatten() {
            let short = (1..=4).contains(&name.value.chars().count());
            if !short || !name.value.chars().all(|c| c.is_ascii_alphanumeric()) {
                let message = format!("\"{}\" is no name of a pin", name.value);
                found.add(&name.spot, message, "use one to four letters and digits: 4 or B2");
            }
        }
        match (pin, against) {
            (Some(one), None) | (None, Some(one))
                if !found.has_below(&format!("{}.control_", circuit.spot.key)) =>
            {
                found.add(
                    &one.spot,
                    "one pin in the control unit's plug, but not the other",
                    "a circuit is measured between two: add both `control_pin` and `control_against`",
                );
            }
            (Some(pin), Some(against)) if pin.value.eq_ignore_ascii_case(&against.value) => found.add_with(
                &against.spot,
                format!("pin \"{}\" is measured against itself", pin.value),
                "name the pin at the other end of the circuit",
                (&pin.spot, "the same pin"),
            ),
            _ => {}
        }
    }
}

fn sits_on_a_coil(raw: &RawProfile, circuit: &RawCircuit) -> bool {
    // A circuit whose kind is missing or unknown was noted already.
    kind_of(raw, circuit)
        .and_then(|kind| of(kind.name.as_ref()))
        .is_none_or(|name| is_coil(name) || !KINDS.contains(&name.as_str()))
}

/// The name in `known` that was probably meant, as advice.
pub(super) fn advice_for(name: &str, known: &[&str]) -> String {
    match nearest(name, known.iter().copied()) {
        Some(near) => format!("did you mean \"{near}\"?"),
        None if known.is_empty() => "there are none".to_owned(),
        None => format!("there are {}", known.join(", ")),
    }
}
