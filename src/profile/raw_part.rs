//! Owns the profile as written: every key with its place, nothing judged yet.

use super::{
    faults::{Found, Spot},
    raw::{
        At,
        Need::{May, Must},
        Section,
    },
    window_text,
};
use toml::de::DeTable;

#[derive(Debug, Clone)]
pub(super) struct RawProfile {
    pub(super) version: Option<At<u8>>,
    pub(super) id: Option<At<String>>,
    pub(super) title: Option<At<String>>,
    /// The title in the first language.
    pub(super) first_title: Option<String>,
    pub(super) invented: Option<At<bool>>,
    pub(super) source: Option<At<String>>,
    pub(super) cautions: Option<At<Vec<At<String>>>>,
    pub(super) further_checks: Option<At<Vec<At<String>>>>,
    /// As written: none, one, or several.
    pub(super) connectors: Vec<RawConnector>,
    /// All of them as one, once the short forms are written out.
    pub(super) connector: Option<RawConnector>,
    pub(super) common: Option<At<String>>,
    pub(super) families: Vec<RawFamily>,
    pub(super) circuits: Vec<RawCircuit>,
    pub(super) gates: Vec<RawGate>,
    pub(super) harness_gates: Vec<RawGate>,
    pub(super) case_gates: Vec<RawGate>,
    pub(super) codes: Vec<RawCode>,
    pub(super) voltage_drop: Option<RawDrop>,
    pub(super) families_from_readings: Option<At<bool>>,
}

#[derive(Debug, Clone)]
pub(super) struct RawConnector {
    pub(super) id: Option<At<String>>,
    pub(super) title: Option<At<String>>,
    pub(super) seen_from: Option<At<String>>,
    pub(super) pins: Vec<RawPin>,
    /// Whether pins were listed at all.
    pub(super) listed: bool,
    pub(super) spot: Spot,
}

#[derive(Debug, Clone)]
pub(super) struct RawPin {
    pub(super) pin: Option<At<String>>,
    pub(super) row: Option<At<u8>>,
    pub(super) column: Option<At<u8>>,
    pub(super) label: Option<At<String>>,
    pub(super) spot: Spot,
}

#[derive(Debug, Clone)]
pub(super) struct RawFamily {
    pub(super) id: Option<At<String>>,
    pub(super) title: Option<At<String>>,
    pub(super) tolerance_percent: Option<At<f64>>,
    pub(super) contact_ohm: Option<At<f64>>,
    pub(super) shared: RawShared,
}

/// What may stand in a family for all its members, or in a circuit for itself.
#[derive(Debug, Clone, Default)]
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

#[derive(Debug, Clone)]
pub(super) struct RawCircuit {
    pub(super) id: Option<At<String>>,
    pub(super) name: Option<At<String>>,
    /// The name in the first language.
    pub(super) first_name: Option<String>,
    pub(super) pin: Option<At<String>>,
    pub(super) against: Option<At<String>>,
    pub(super) family: Option<At<String>>,
    pub(super) like: Option<At<String>>,
    pub(super) shared: RawShared,
    pub(super) never_ohmmeter: Option<At<String>>,
    pub(super) control_pin: Option<At<String>>,
    pub(super) control_against: Option<At<String>>,
    pub(super) spot: Spot,
}

#[derive(Debug, Clone)]
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

#[derive(Debug, Clone)]
pub(super) struct RawPoint {
    pub(super) at_c: Option<At<f64>>,
    pub(super) ohm: Option<At<f64>>,
}

#[derive(Debug, Clone)]
pub(super) struct RawWindow {
    pub(super) low_ohm: Option<At<f64>>,
    pub(super) high_ohm: Option<At<f64>>,
    pub(super) at_c: Option<At<f64>>,
    pub(super) source: Option<At<String>>,
    /// How far a sound one may be from the middle, in percent, where it was written so.
    pub(super) half_width_percent: Option<f64>,
    pub(super) spot: Spot,
}

#[derive(Debug, Clone)]
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

#[derive(Debug, Clone)]
pub(super) struct RawHarness {
    pub(super) conductor_mm2: Option<At<f64>>,
    pub(super) length_m: Option<At<f64>>,
}

#[derive(Debug, Clone)]
pub(super) struct RawDrop {
    pub(super) joint_v: Option<At<f64>>,
    pub(super) wire_v: Option<At<f64>>,
    pub(super) source: Option<At<String>>,
    pub(super) spot: Spot,
}

#[derive(Debug, Clone)]
pub(super) struct RawCode {
    pub(super) number: Option<At<String>>,
    pub(super) circuit: Option<At<String>>,
    pub(super) meaning: Option<At<String>>,
}

#[derive(Debug, Clone)]
pub(super) struct RawGate {
    pub(super) id: Option<At<String>>,
    pub(super) instruction: Option<At<String>>,
    pub(super) confirm: Option<At<String>>,
    pub(super) wait_minutes: Option<At<u8>>,
}

/// What a profile has that names none of its own.
pub(super) struct RawUsual {
    pub(super) cautions: Option<At<Vec<At<String>>>>,
    pub(super) unplaced: Option<At<String>>,
    pub(super) gates: Vec<RawGate>,
}

/// Reads the file as a whole.
pub(super) fn profile(table: &DeTable<'_>, found: &mut Found) -> RawProfile {
    let mut root = Section::root(table);
    let raw = RawProfile {
        version: root.count("version", May, found),
        id: root.text("id", May, found),
        first_title: root.first_words("title"),
        title: root.words("title", Must("title = \"Valve block\""), found),
        invented: root.flag("invented", May, found),
        source: root.words("source", Must("source = \"Service manual of the part, page 12\""), found),
        cautions: root.words_list("cautions", May, found),
        further_checks: root.words_list("further_checks", May, found),
        connectors: each(root.section_or_sections("connector", "id", found), found, connector),
        connector: None,
        common: root.label("common", May, found),
        families: each(root.sections("family", "id", May, found), found, family),
        circuits: each(root.sections("circuit", "id", Must("[[circuit]]"), found), found, circuit),
        gates: each(root.sections("gate", "id", May, found), found, gate),
        harness_gates: each(root.sections("harness_gate", "id", May, found), found, gate),
        case_gates: each(root.sections("case_gate", "id", May, found), found, gate),
        codes: each(root.sections("code", "number", May, found), found, code),
        voltage_drop: root.section("voltage_drop", May, found).map(|s| voltage_drop(s, found)),
        families_from_readings: root.flag("families_from_readings", May, found),
    };
    root.close(found);
    raw
}

/// The cautions and gates that come with the program.
pub(super) fn usual(table: &DeTable<'_>, found: &mut Found) -> RawUsual {
    let mut root = Section::root(table);
    RawUsual {
        cautions: root.words_list("cautions", May, found),
        unplaced: root.words("unplaced", May, found),
        gates: each(root.sections("gate", "id", May, found), found, gate),
    }
}

fn each<'a, T>(
    sections: Vec<Section<'a>>,
    found: &mut Found,
    read: impl Fn(Section<'a>, &mut Found) -> T,
) -> Vec<T> {
    sections.into_iter().map(|section| read(section, found)).collect()
}

fn connector(mut section: Section, found: &mut Found) -> RawConnector {
    let pins = section.labels_or_sections("pins", "pin", found);
    let raw = RawConnector {
        id: section.label("id", May, found),
        title: section.words("title", May, found),
        seen_from: section.words("seen_from", May, found),
        listed: pins.is_some(),
        pins: pins.map_or_else(Vec::new, |pins| pins.into_iter().map(|one| pin(one, found)).collect()),
        spot: section.spot(),
    };
    section.close(found);
    raw
}

/// A name alone, or a table.
fn pin(written: Result<At<String>, Section>, found: &mut Found) -> RawPin {
    let mut section = match written {
        Ok(name) => {
            let spot = name.spot.clone();
            return RawPin { pin: Some(name), row: None, column: None, label: None, spot };
        }
        Err(section) => section,
    };
    let raw = RawPin {
        pin: section.label("pin", Must("pin = 4"), found),
        row: section.count("row", May, found),
        column: section.count("column", May, found),
        label: section.words("label", May, found),
        spot: section.spot(),
    };
    section.close(found);
    raw
}

fn family(mut section: Section, found: &mut Found) -> RawFamily {
    let raw = RawFamily {
        id: section.text("id", Must("id = \"main-coils\""), found),
        title: section.words("title", Must("title = \"coils A to H\""), found),
        tolerance_percent: section.number("tolerance_percent", May, found),
        contact_ohm: section.number("contact_ohm", May, found),
        shared: shared(&mut section, found),
    };
    section.close(found);
    raw
}

fn shared(section: &mut Section, found: &mut Found) -> RawShared {
    RawShared {
        kind: section.text_or_section("kind", May, found).map(|written| kind(written, found)),
        window: section.text_or_section("window", May, found).and_then(|written| window(written, found)),
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
        id: section.text("id", May, found),
        first_name: section.first_words("name"),
        name: section.words("name", Must("name = \"coil A\""), found),
        pin: section.label("pin", Must("pin = 1"), found),
        against: section.label("against", May, found),
        family: section.text("family", May, found),
        like: section.text("like", May, found),
        shared: shared(&mut section, found),
        never_ohmmeter: section.words("never_ohmmeter", May, found),
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

fn window(written: Result<At<String>, Section>, found: &mut Found) -> Option<RawWindow> {
    let mut section = match written {
        Ok(text) => return window_text::read(&text, found),
        Err(section) => section,
    };
    let raw = RawWindow {
        low_ohm: section.number("low_ohm", Must("low_ohm = 4.9"), found),
        high_ohm: section.number("high_ohm", Must("high_ohm = 5.5"), found),
        at_c: section.number("at_c", Must("at_c = 20"), found),
        source: section.words("source", Must("source = \"service manual\""), found),
        half_width_percent: None,
        spot: section.spot(),
    };
    section.close(found);
    Some(raw)
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
        meaning: section.words("meaning", May, found),
    };
    section.close(found);
    raw
}

fn gate(mut section: Section, found: &mut Found) -> RawGate {
    let raw = RawGate {
        id: section.text("id", Must("id = \"supply-off\""), found),
        instruction: section.words("instruction", Must("instruction = \"Switch the supply off.\""), found),
        confirm: section.text("confirm", Must("confirm = \"supply off\""), found),
        wait_minutes: section.count("wait_minutes", May, found),
    };
    section.close(found);
    raw
}
