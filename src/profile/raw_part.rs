//! Owns the profile as written: every key with its place, nothing judged yet.

use super::{
    faults::{Found, Spot},
    raw::{
        At,
        Need::{May, Must},
        Section,
    },
};
use toml::de::DeTable;

pub(super) struct RawProfile {
    pub(super) id: Option<At<String>>,
    pub(super) title: Option<At<String>>,
    pub(super) invented: Option<At<bool>>,
    pub(super) source: Option<At<String>>,
    pub(super) cautions: Option<At<Vec<At<String>>>>,
    pub(super) further_checks: Option<At<Vec<At<String>>>>,
    pub(super) connector: Option<RawConnector>,
    pub(super) families: Vec<RawFamily>,
    pub(super) circuits: Vec<RawCircuit>,
    pub(super) gates: Vec<RawGate>,
    pub(super) harness_gates: Vec<RawGate>,
    pub(super) case_gates: Vec<RawGate>,
    pub(super) codes: Vec<RawCode>,
    pub(super) voltage_drop: Option<RawDrop>,
    pub(super) families_from_readings: Option<At<bool>>,
}

pub(super) struct RawConnector {
    pub(super) title: Option<At<String>>,
    pub(super) seen_from: Option<At<String>>,
    pub(super) pins: Vec<RawPin>,
    pub(super) spot: Spot,
}

pub(super) struct RawPin {
    pub(super) pin: Option<At<String>>,
    pub(super) row: Option<At<u8>>,
    pub(super) column: Option<At<u8>>,
    pub(super) label: Option<At<String>>,
    pub(super) spot: Spot,
}

pub(super) struct RawFamily {
    pub(super) id: Option<At<String>>,
    pub(super) title: Option<At<String>>,
    pub(super) tolerance_percent: Option<At<f64>>,
    pub(super) contact_ohm: Option<At<f64>>,
    pub(super) shared: RawShared,
}

/// What may stand in a family for all its members, or in a circuit for itself.
pub(super) struct RawShared {
    pub(super) kind: Option<RawKind>,
    pub(super) window: Option<RawWindow>,
    pub(super) suppression: Option<RawSuppression>,
    pub(super) case_limit_ohm: Option<At<f64>>,
    pub(super) harness: Option<RawHarness>,
    pub(super) directly_switched: Option<At<bool>>,
    pub(super) supply_v: Option<At<f64>>,
    pub(super) voltage_drop: Option<RawDrop>,
}

pub(super) struct RawCircuit {
    pub(super) id: Option<At<String>>,
    pub(super) name: Option<At<String>>,
    pub(super) pin: Option<At<String>>,
    pub(super) against: Option<At<String>>,
    pub(super) family: Option<At<String>>,
    pub(super) shared: RawShared,
    pub(super) never_ohmmeter: Option<At<String>>,
    pub(super) control_pin: Option<At<String>>,
    pub(super) control_against: Option<At<String>>,
    pub(super) spot: Spot,
}

pub(super) struct RawKind {
    pub(super) name: Option<At<String>>,
    pub(super) alpha_per_k: Option<At<f64>>,
    pub(super) r0_ohm: Option<At<f64>>,
    pub(super) r_ohm: Option<At<f64>>,
    pub(super) at_c: Option<At<f64>>,
    pub(super) b_k: Option<At<f64>>,
    pub(super) points: Option<At<Vec<RawPoint>>>,
    pub(super) spot: Spot,
}

pub(super) struct RawPoint {
    pub(super) at_c: Option<At<f64>>,
    pub(super) ohm: Option<At<f64>>,
}

pub(super) struct RawWindow {
    pub(super) low_ohm: Option<At<f64>>,
    pub(super) high_ohm: Option<At<f64>>,
    pub(super) at_c: Option<At<f64>>,
    pub(super) source: Option<At<String>>,
    pub(super) spot: Spot,
}

pub(super) enum RawSuppression {
    Named(At<String>),
    Resistor { ohm: Option<At<f64>>, spot: Spot },
}

impl RawSuppression {
    pub(super) fn spot(&self) -> &Spot {
        match self {
            Self::Named(name) => &name.spot,
            Self::Resistor { spot, .. } => spot,
        }
    }
}

pub(super) struct RawHarness {
    pub(super) conductor_mm2: Option<At<f64>>,
    pub(super) length_m: Option<At<f64>>,
}

pub(super) struct RawDrop {
    pub(super) joint_v: Option<At<f64>>,
    pub(super) wire_v: Option<At<f64>>,
    pub(super) source: Option<At<String>>,
    pub(super) spot: Spot,
}

pub(super) struct RawCode {
    pub(super) number: Option<At<String>>,
    pub(super) circuit: Option<At<String>>,
    pub(super) meaning: Option<At<String>>,
}

pub(super) struct RawGate {
    pub(super) id: Option<At<String>>,
    pub(super) instruction: Option<At<String>>,
    pub(super) confirm: Option<At<String>>,
    pub(super) wait_minutes: Option<At<u8>>,
}

/// Reads the file as a whole.
pub(super) fn profile(table: &DeTable<'_>, found: &mut Found) -> RawProfile {
    let mut root = Section::root(table);
    let raw = RawProfile {
        id: root.text("id", Must("id = \"valve-block\""), found),
        title: root.text("title", Must("title = \"Valve block\""), found),
        invented: root.flag("invented", Must("invented = false"), found),
        source: root.text("source", Must("source = \"Service manual of the part, page 12\""), found),
        cautions: root.texts("cautions", Must("cautions = [ \"Hot parts: let it cool down.\" ]"), found),
        further_checks: root.texts("further_checks", May, found),
        connector: root.section("connector", Must("[connector]"), found).map(|s| connector(s, found)),
        families: each(root.sections("family", "id", May, found), found, family),
        circuits: each(root.sections("circuit", "id", Must("[[circuit]]"), found), found, circuit),
        gates: each(root.sections("gate", "id", Must("[[gate]]"), found), found, gate),
        harness_gates: each(root.sections("harness_gate", "id", May, found), found, gate),
        case_gates: each(root.sections("case_gate", "id", May, found), found, gate),
        codes: each(root.sections("code", "number", May, found), found, code),
        voltage_drop: root.section("voltage_drop", May, found).map(|s| voltage_drop(s, found)),
        families_from_readings: root.flag("families_from_readings", May, found),
    };
    root.close(found);
    raw
}

fn each<'a, T>(
    sections: Vec<Section<'a>>,
    found: &mut Found,
    read: impl Fn(Section<'a>, &mut Found) -> T,
) -> Vec<T> {
    sections.into_iter().map(|section| read(section, found)).collect()
}

fn connector(mut section: Section, found: &mut Found) -> RawConnector {
    let raw = RawConnector {
        title: section.text("title", Must("title = \"16-pin connector\""), found),
        seen_from: section.text(
            "seen_from",
            Must("seen_from = \"looking into the pins of the part\""),
            found,
        ),
        pins: each(
            section.sections("pins", "pin", Must("pins = [ { pin = 1, row = 1, column = 1 } ]"), found),
            found,
            pin,
        ),
        spot: section.spot(),
    };
    section.close(found);
    raw
}

fn pin(mut section: Section, found: &mut Found) -> RawPin {
    let raw = RawPin {
        pin: section.label("pin", Must("pin = 4"), found),
        row: section.count("row", Must("row = 1"), found),
        column: section.count("column", Must("column = 4"), found),
        label: section.text("label", May, found),
        spot: section.spot(),
    };
    section.close(found);
    raw
}

fn family(mut section: Section, found: &mut Found) -> RawFamily {
    let raw = RawFamily {
        id: section.text("id", Must("id = \"main-coils\""), found),
        title: section.text("title", Must("title = \"coils A to H\""), found),
        tolerance_percent: section.number("tolerance_percent", Must("tolerance_percent = 5.0"), found),
        contact_ohm: section.number("contact_ohm", Must("contact_ohm = 0.05"), found),
        shared: shared(&mut section, found),
    };
    section.close(found);
    raw
}

fn shared(section: &mut Section, found: &mut Found) -> RawShared {
    RawShared {
        kind: section.text_or_section("kind", May, found).map(|written| kind(written, found)),
        window: section.section("window", May, found).map(|s| window(s, found)),
        suppression: section.text_or_section("suppression", May, found).map(|w| suppression(w, found)),
        case_limit_ohm: section.number("case_limit_ohm", May, found),
        harness: section.section("harness", May, found).map(|s| harness(s, found)),
        directly_switched: section.flag("directly_switched", May, found),
        supply_v: section.number("supply_v", May, found),
        voltage_drop: section.section("voltage_drop", May, found).map(|s| voltage_drop(s, found)),
    }
}

fn circuit(mut section: Section, found: &mut Found) -> RawCircuit {
    let raw = RawCircuit {
        id: section.text("id", Must("id = \"coil-a\""), found),
        name: section.text("name", Must("name = \"coil A\""), found),
        pin: section.label("pin", Must("pin = 1"), found),
        against: section.label("against", Must("against = 16"), found),
        family: section.text("family", May, found),
        shared: shared(&mut section, found),
        never_ohmmeter: section.text("never_ohmmeter", May, found),
        control_pin: section.label("control_pin", May, found),
        control_against: section.label("control_against", May, found),
        spot: section.spot(),
    };
    section.close(found);
    raw
}

fn kind(written: Result<At<String>, Section>, found: &mut Found) -> RawKind {
    match written {
        Ok(name) => RawKind {
            spot: name.spot.clone(),
            name: Some(name),
            alpha_per_k: None,
            r0_ohm: None,
            r_ohm: None,
            at_c: None,
            b_k: None,
            points: None,
        },
        Err(mut section) => {
            let raw = RawKind {
                name: section.text("name", Must("name = \"thermistor\""), found),
                alpha_per_k: section.number("alpha_per_k", May, found),
                r0_ohm: section.number("r0_ohm", May, found),
                r_ohm: section.number("r_ohm", May, found),
                at_c: section.number("at_c", May, found),
                b_k: section.number("b_k", May, found),
                points: points(&mut section, found),
                spot: section.spot(),
            };
            section.close(found);
            raw
        }
    }
}

fn points(section: &mut Section, found: &mut Found) -> Option<At<Vec<RawPoint>>> {
    let (spot, sections) = section.sections_if_any("points", "", found)?;
    let value = each(sections, found, |mut section, found| {
        let raw = RawPoint {
            at_c: section.number("at_c", Must("at_c = 20"), found),
            ohm: section.number("ohm", Must("ohm = 2500"), found),
        };
        section.close(found);
        raw
    });
    Some(At { value, spot })
}

fn window(mut section: Section, found: &mut Found) -> RawWindow {
    let raw = RawWindow {
        low_ohm: section.number("low_ohm", Must("low_ohm = 4.9"), found),
        high_ohm: section.number("high_ohm", Must("high_ohm = 5.5"), found),
        at_c: section.number("at_c", Must("at_c = 20"), found),
        source: section.text("source", Must("source = \"service manual\""), found),
        spot: section.spot(),
    };
    section.close(found);
    raw
}

fn suppression(written: Result<At<String>, Section>, found: &mut Found) -> RawSuppression {
    match written {
        Ok(name) => RawSuppression::Named(name),
        Err(mut section) => {
            let ohm = section.number("resistor_ohm", Must("resistor_ohm = 560"), found);
            let spot = section.spot();
            section.close(found);
            RawSuppression::Resistor { ohm, spot }
        }
    }
}

fn harness(mut section: Section, found: &mut Found) -> RawHarness {
    let raw = RawHarness {
        conductor_mm2: section.number("conductor_mm2", Must("conductor_mm2 = 1.0"), found),
        length_m: section.number("length_m", Must("length_m = 4.5"), found),
    };
    section.close(found);
    raw
}

fn voltage_drop(mut section: Section, found: &mut Found) -> RawDrop {
    let raw = RawDrop {
        joint_v: section.number("joint_v", May, found),
        wire_v: section.number("wire_v", May, found),
        source: section.text("source", Must("source = \"service manual\""), found),
        spot: section.spot(),
    };
    section.close(found);
    raw
}

fn code(mut section: Section, found: &mut Found) -> RawCode {
    let raw = RawCode {
        number: section.label("number", Must("number = 9901"), found),
        circuit: section.text("circuit", Must("circuit = \"coil-a\""), found),
        meaning: section.text("meaning", May, found),
    };
    section.close(found);
    raw
}

fn gate(mut section: Section, found: &mut Found) -> RawGate {
    let raw = RawGate {
        id: section.text("id", Must("id = \"supply-off\""), found),
        instruction: section.text("instruction", Must("instruction = \"Switch the supply off.\""), found),
        confirm: section.text("confirm", Must("confirm = \"supply off\""), found),
        wait_minutes: section.count("wait_minutes", May, found),
    };
    section.close(found);
    raw
}
