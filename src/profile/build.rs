//! Owns the step from what was written to the checked types. Runs only after every check passed.

use super::{
    check::{family_of, holds},
    model::{
        Circuit, CircuitId, CircuitKind, Connector, ControlPins, DropLimit, DropLimits, Family, FamilyId,
        Gate, Harness, KnownCode, Meter, Pin, PinName, Profile, Range, Suppression, Window,
    },
    raw::At,
    raw_meter::{RawMeter, RawRange},
    raw_part::{
        RawCircuit, RawDrop, RawGate, RawKind, RawPoint, RawProfile, RawShared, RawSuppression, RawWindow,
    },
};
use crate::quantity::{Celsius, Ohms, Unit, Volts};

/// The checked profile; `None` only where something that a profile needs was not written.
pub(super) fn profile(raw: &RawProfile, fingerprint: String) -> Option<Profile> {
    let connector = raw.connector.as_ref()?;
    let pins = connector.pins.iter().map(|pin| {
        Some(Pin {
            name: PinName(text(&pin.pin)?),
            row: pin.row.as_ref().map_or(0, |row| row.value),
            column: pin.column.as_ref().map_or(0, |column| column.value),
            label: text(&pin.label),
        })
    });
    let families = raw.families.iter().map(|family| {
        Some(Family {
            id: FamilyId(text(&family.id)?),
            title: text(&family.title)?,
            tolerance_percent: family.tolerance_percent.as_ref()?.value,
            contact: ohms(&family.contact_ohm)?,
        })
    });
    let codes = raw.codes.iter().map(|code| {
        Some(KnownCode {
            number: text(&code.number)?,
            circuit: CircuitId(text(&code.circuit)?),
            meaning: text(&code.meaning),
        })
    });
    Some(Profile {
        id: text(&raw.id)?,
        title: text(&raw.title)?,
        invented: raw.invented.as_ref().is_some_and(|flag| flag.value),
        source: text(&raw.source)?,
        connector: Connector {
            title: text(&connector.title)?,
            seen_from: text(&connector.seen_from)?,
            pins: pins.collect::<Option<_>>()?,
        },
        families: families.collect::<Option<_>>()?,
        circuits: raw.circuits.iter().map(|c| circuit(raw, c)).collect::<Option<_>>()?,
        gates: gates(&raw.gates)?,
        harness_gates: gates(&raw.harness_gates)?,
        case_gates: gates(&raw.case_gates)?,
        codes: codes.collect::<Option<_>>()?,
        drop_limits: drop_limits([raw.voltage_drop.as_ref()]),
        families_from_readings: raw.families_from_readings.as_ref().is_some_and(|flag| flag.value),
        cautions: texts(&raw.cautions),
        further_checks: texts(&raw.further_checks),
        fingerprint,
    })
}

fn gates(raw: &[RawGate]) -> Option<Vec<Gate>> {
    let gate = |gate: &RawGate| {
        Some(Gate {
            id: text(&gate.id)?,
            instruction: text(&gate.instruction)?,
            confirm: text(&gate.confirm)?,
            wait_minutes: gate.wait_minutes.as_ref().map(|minutes| minutes.value),
        })
    };
    raw.iter().map(gate).collect()
}

/// For joint and wire each the first of the tables that has it.
fn drop_limits<const N: usize>(tables: [Option<&RawDrop>; N]) -> DropLimits {
    let first = |pick: fn(&RawDrop) -> &Option<At<f64>>| {
        tables.iter().flatten().find_map(|table| {
            let volts = Volts::new(pick(table).as_ref()?.value).ok()?;
            Some(DropLimit { volts, source: text(&table.source)? })
        })
    };
    DropLimits { joint: first(|table| &table.joint_v), wire: first(|table| &table.wire_v) }
}

fn circuit(raw: &RawProfile, circuit: &RawCircuit) -> Option<Circuit> {
    let kind = match (holds(raw, circuit, |shared| shared.kind.as_ref()), &circuit.never_ohmmeter) {
        (Some(written), _) => kind(written)?,
        // Never measured, so never used; documented so.
        (None, Some(_)) => CircuitKind::Resistor,
        (None, None) => return None,
    };
    let window = match holds(raw, circuit, |shared| shared.window.as_ref()) {
        Some(written) => Some(window(written)?),
        None => None,
    };
    let suppression = match holds(raw, circuit, |shared| shared.suppression.as_ref()) {
        Some(RawSuppression::Named(name)) if name.value == "diode" => Some(Suppression::Diode),
        Some(RawSuppression::Resistor { ohm, .. }) => Some(Suppression::Resistor(ohms(ohm)?)),
        Some(RawSuppression::Named(_)) | None => None,
    };
    let harness = match holds(raw, circuit, |shared| shared.harness.as_ref()) {
        Some(written) => Some(Harness {
            conductor_mm2: written.conductor_mm2.as_ref()?.value,
            length_m: written.length_m.as_ref()?.value,
        }),
        None => None,
    };
    let number = |pick: fn(&RawShared) -> Option<&At<f64>>| holds(raw, circuit, pick).map(|at| at.value);
    let direct = holds(raw, circuit, |shared| shared.directly_switched.as_ref());
    let family = family_of(raw, circuit).and_then(|family| family.shared.voltage_drop.as_ref());
    Some(Circuit {
        at_control: text(&circuit.control_pin)
            .zip(text(&circuit.control_against))
            .map(|(pin, against)| ControlPins { pin: PinName(pin), against: PinName(against) }),
        drop_limits: drop_limits([circuit.shared.voltage_drop.as_ref(), family, raw.voltage_drop.as_ref()]),
        id: CircuitId(text(&circuit.id)?),
        name: text(&circuit.name)?,
        kind,
        pin: PinName(text(&circuit.pin)?),
        against: PinName(text(&circuit.against)?),
        family: text(&circuit.family).map(FamilyId),
        window,
        suppression,
        case_limit: number(|shared| shared.case_limit_ohm.as_ref()).and_then(|ohm| Ohms::new(ohm).ok()),
        never_ohmmeter: text(&circuit.never_ohmmeter),
        directly_switched: direct.is_some_and(|at| at.value),
        supply: number(|shared| shared.supply_v.as_ref()).and_then(|volt| Volts::new(volt).ok()),
        harness,
    })
}

fn kind(raw: &RawKind) -> Option<CircuitKind> {
    Some(match raw.name.as_ref()?.value.as_str() {
        "copper-coil" => CircuitKind::CopperCoil,
        "linear" => CircuitKind::Linear { alpha_per_k: raw.alpha_per_k.as_ref()?.value },
        "resistor" => CircuitKind::Resistor,
        "platinum" => CircuitKind::Platinum { r0: ohms(&raw.r0_ohm)? },
        "thermistor" => CircuitKind::Thermistor {
            r_ref: ohms(&raw.r_ohm)?,
            t_ref: celsius(&raw.at_c)?,
            b_k: raw.b_k.as_ref()?.value,
        },
        "thermistor-table" => {
            let points = raw.points.as_ref()?.value.iter();
            let point = |point: &RawPoint| Some((celsius(&point.at_c)?, ohms(&point.ohm)?));
            CircuitKind::ThermistorTable { points: points.map(point).collect::<Option<_>>()? }
        }
        "data-bus" => CircuitKind::DataBus,
        "wire" => CircuitKind::Wire,
        _ => return None,
    })
}

fn window(raw: &RawWindow) -> Option<Window> {
    Some(Window {
        low: ohms(&raw.low_ohm)?,
        high: ohms(&raw.high_ohm)?,
        at: celsius(&raw.at_c)?,
        source: text(&raw.source)?,
    })
}

/// The checked meter; `None` only where something that a meter needs was not written.
pub(super) fn meter(raw: &RawMeter, fingerprint: String) -> Option<Meter> {
    let ranges = raw.ranges.iter().flat_map(|list| list.ranges.iter().map(|r| range(list.quantity.unit, r)));
    Some(Meter {
        id: text(&raw.id)?,
        title: text(&raw.title)?,
        invented: raw.invented.as_ref()?.value,
        source: text(&raw.source)?,
        category: text(&raw.category)?,
        ranges: ranges.collect::<Option<_>>()?,
        accurate_from: celsius(&raw.accurate_from_c)?,
        accurate_to: celsius(&raw.accurate_to_c)?,
        drift_per_k: raw.drift_per_k.as_ref()?.value,
        fingerprint,
    })
}

fn range(unit: Unit, raw: &RawRange) -> Option<Range> {
    Some(Range {
        unit,
        full_scale: raw.full_scale.as_ref()?.value,
        resolution: raw.resolution.as_ref()?.value,
        percent: raw.percent.as_ref()?.value,
        digits: raw.digits.as_ref()?.value,
    })
}

fn text(written: &Option<At<String>>) -> Option<String> {
    written.as_ref().map(|at| at.value.clone())
}

fn texts(written: &Option<At<Vec<At<String>>>>) -> Vec<String> {
    written.iter().flat_map(|list| &list.value).map(|at| at.value.clone()).collect()
}

fn ohms(written: &Option<At<f64>>) -> Option<Ohms> {
    Ohms::new(written.as_ref()?.value).ok()
}

fn celsius(written: &Option<At<f64>>) -> Option<Celsius> {
    Celsius::new(written.as_ref()?.value).ok()
}
