//! Owns the summary of a profile for people: pin map, circuits, families, gates, as plain text.

use super::model::{
    Circuit, CircuitKind, Connector, DropLimit, DropLimits, Gate, Pin, Profile, Suppression, Window,
};
use crate::quantity::Ohms;

/// The widest that the pin map is drawn, in columns of a terminal.
const MAP_WIDTH: usize = 100;
/// The widest and the narrowest cell of the pin map.
const CELL: std::ops::RangeInclusive<usize> = 4..=14;

/// What a profile says, as plain text in lines: to be read before measuring, and to find a mistake that no rule finds.
#[must_use]
pub fn describe(profile: &Profile) -> String {
    let mut out = vec![profile.title.clone()];
    if profile.invented {
        out.push("INVENTED: this part does not exist.".to_owned());
    }
    out.push(format!("Profile {}; figures from: {}", profile.id, profile.source));
    heading(&mut out, &format!("{}, {}", profile.connector.title, profile.connector.seen_from));
    out.extend(pin_map(&profile.connector));
    heading(&mut out, "Circuits, in the order in which they are measured");
    out.extend(circuits(profile));
    if !profile.families.is_empty() {
        heading(&mut out, "Families: circuits that should read alike");
        out.extend(profile.families.iter().map(|family| {
            format!(
                "{} ({}): {} circuits within ±{} % of each other, contact ±{}",
                family.title,
                family.id,
                profile.members(&family.id).count(),
                family.tolerance_percent,
                family.contact
            )
        }));
    }
    if let Some(limits) = drop_limits(&profile.drop_limits) {
        heading(&mut out, "Voltage drops under load, where a circuit has none of its own");
        out.push(limits);
    }
    if !profile.codes.is_empty() {
        heading(&mut out, "Stored codes that are asked for");
        out.extend(profile.codes.iter().map(|code| {
            let circuit =
                profile.circuit(&code.circuit).map_or(code.circuit.as_str(), |circuit| &circuit.name);
            let meaning = code.meaning.as_ref().map_or(String::new(), |meaning| format!(": {meaning}"));
            format!("{} names {circuit}{meaning}", code.number)
        }));
    }
    heading(&mut out, "Before measuring, in this order");
    out.extend(
        profile
            .gates
            .iter()
            .enumerate()
            .map(|(index, gate)| format!("{}. {} Say \"{}\".", index + 1, gate.instruction, gate.confirm)),
    );
    station_gates(profile, &mut out);
    heading(&mut out, "Cautions");
    out.extend(profile.cautions.iter().map(|caution| format!("- {caution}")));
    if !profile.further_checks.is_empty() {
        heading(&mut out, "Further checks worth doing");
        out.extend(profile.further_checks.iter().map(|check| format!("- {check}")));
    }
    out.join("\n") + "\n"
}

fn station_gates(profile: &Profile, out: &mut Vec<String>) {
    let lists = [
        ("Before measuring through the harness, at the control unit's plug", &profile.harness_gates),
        ("Before measuring from a pin to the case", &profile.case_gates),
    ];
    for (title, gates) in lists {
        if !gates.is_empty() {
            heading(out, title);
            let line = |(place, gate): (usize, &Gate)| {
                format!("{place}. {} Say \"{}\".", gate.instruction, gate.confirm)
            };
            out.extend((1..).zip(gates).map(line));
        }
    }
}

/// The limits in one line, each with who says so.
fn drop_limits(limits: &DropLimits) -> Option<String> {
    let one = |what: &str, limit: &Option<DropLimit>| {
        limit.as_ref().map(|limit| format!("{what} at most {} ({})", limit.volts, limit.source))
    };
    let all: Vec<String> = one("a joint", &limits.joint)
        .into_iter()
        .chain(one("a wire with its joints", &limits.wire))
        .collect();
    (!all.is_empty()).then(|| all.join("; "))
}

fn heading(out: &mut Vec<String>, text: &str) {
    out.push(String::new());
    out.push(text.to_owned());
}

/// The connector drawn as a table, each pin at its place with its label below it.
fn pin_map(connector: &Connector) -> Vec<String> {
    let columns = connector.pins.iter().map(|pin| usize::from(pin.column)).max().unwrap_or(0);
    let rows = connector.pins.iter().map(|pin| pin.row).max().unwrap_or(0);
    if connector.is_list() || columns * (CELL.start() + 3) >= MAP_WIDTH {
        // Without places, or too wide to be drawn: the same facts as a list.
        return connector.pins.iter().map(listed).collect();
    }
    let longest =
        connector.pins.iter().flat_map(|pin| &pin.label).map(|label| width(label)).max().unwrap_or(0);
    let room = (MAP_WIDTH - 1) / columns.max(1) - 3;
    let cell = longest.clamp(*CELL.start(), *CELL.end()).min(room);
    let line = |left: &str, middle: &str, right: &str| {
        format!("{left}{}{right}", vec!["─".repeat(cell + 2); columns].join(middle))
    };
    let mut out = vec![line("┌", "┬", "┐")];
    for row in 1..=rows {
        let texts: Vec<Vec<String>> = (1..=columns)
            .map(|column| {
                let pin =
                    connector.pins.iter().find(|pin| pin.row == row && usize::from(pin.column) == column);
                pin.map_or_else(Vec::new, |pin| {
                    let label = pin.label.as_deref().unwrap_or_default();
                    std::iter::once(pin.name.to_string()).chain(wrapped(label, cell)).collect()
                })
            })
            .collect();
        let height = texts.iter().map(Vec::len).max().unwrap_or(0).max(1);
        for index in 0..height {
            let cells = texts.iter().map(|text| padded(text.get(index).map_or("", String::as_str), cell));
            out.push(format!("│ {} │", cells.collect::<Vec<_>>().join(" │ ")));
        }
        out.push(if row < rows { line("├", "┼", "┤") } else { line("└", "┴", "┘") });
    }
    out
}

fn listed(pin: &Pin) -> String {
    let label = pin.label.as_deref().map(|label| format!(": {label}")).unwrap_or_default();
    if !pin.is_placed() {
        return format!("pin {}{label}", pin.name);
    }
    format!("pin {}, row {}, column {}{label}", pin.name, pin.row, pin.column)
}

fn circuits(profile: &Profile) -> Vec<String> {
    let head = ["name", "pin", "against", "kind", "sound", "family", "notes"].map(str::to_owned);
    let rows = profile.circuits.iter().map(|circuit| {
        [
            circuit.name.clone(),
            circuit.pin.to_string(),
            circuit.against.to_string(),
            kind(circuit),
            circuit.window.as_ref().map_or_else(|| "-".to_owned(), window),
            circuit.family.as_ref().map_or_else(|| "-".to_owned(), ToString::to_string),
            notes(circuit, &profile.drop_limits),
        ]
    });
    let table: Vec<[String; 7]> = std::iter::once(head).chain(rows).collect();
    let widths: Vec<usize> =
        (0..7).map(|column| table.iter().map(|row| width(&row[column])).max().unwrap_or(0)).collect();
    let lines = table.iter().map(|row| {
        let cells = row.iter().zip(&widths).map(|(text, width)| padded(text, *width));
        cells.collect::<Vec<_>>().join("  ").trim_end().to_owned()
    });
    lines.collect()
}

fn kind(circuit: &Circuit) -> String {
    if circuit.never_ohmmeter.is_some() {
        return "never measured".to_owned();
    }
    match &circuit.kind {
        CircuitKind::CopperCoil => "copper coil".to_owned(),
        CircuitKind::Linear { alpha_per_k } => format!("linear, {alpha_per_k} /K"),
        CircuitKind::Resistor => "resistor".to_owned(),
        CircuitKind::Platinum { r0 } => format!("platinum, {r0} at 0 °C"),
        CircuitKind::Thermistor { r_ref, t_ref, b_k } => format!("thermistor, {r_ref} at {t_ref}, B {b_k} K"),
        CircuitKind::ThermistorTable { points } => format!("thermistor, table of {}", points.len()),
        CircuitKind::DataBus => "data bus".to_owned(),
        CircuitKind::Wire => "wire".to_owned(),
    }
}

fn window(window: &Window) -> String {
    format!("{} to {} at {}", window.low.get(), window.high, window.at)
}

/// What else is known of a circuit; drops only where they are not those of the whole part.
fn notes(circuit: &Circuit, common: &DropLimits) -> String {
    let suppression = circuit.suppression.as_ref().map(|suppression| match suppression {
        Suppression::Diode => "diode across it".to_owned(),
        Suppression::Resistor(ohm) => format!("{ohm} across it"),
    });
    let case = circuit.case_limit.map(|limit| format!("to case above {}", large(limit)));
    let supply = circuit.supply.map(|supply| format!("switched directly, {supply}"));
    let harness =
        circuit.harness.as_ref().map(|wire| format!("{} m of {} mm²", wire.length_m, wire.conductor_mm2));
    let control = circuit
        .at_control
        .as_ref()
        .map(|pins| format!("{} to {} in the control unit's plug", pins.pin, pins.against));
    let drops = Some(&circuit.drop_limits).filter(|own| *own != common).and_then(drop_limits);
    let notes = circuit
        .never_ohmmeter
        .clone()
        .into_iter()
        .chain(suppression)
        .chain(case)
        .chain(supply)
        .chain(harness)
        .chain(control)
        .chain(drops);
    notes.collect::<Vec<_>>().join("; ")
}

/// A large resistance in megohms.
fn large(ohms: Ohms) -> String {
    if ohms.get() >= 1e6 { format!("{} MΩ", ohms.get() / 1e6) } else { ohms.to_string() }
}

/// Lines of at most `cell` characters, broken between words where that is possible.
fn wrapped(text: &str, cell: usize) -> Vec<String> {
    let mut lines: Vec<String> = Vec::new();
    for word in text.split_whitespace() {
        let letters: Vec<char> = word.chars().collect();
        for (index, piece) in letters.chunks(cell).enumerate() {
            let piece: String = piece.iter().collect();
            match lines.last_mut() {
                Some(line) if index == 0 && width(line) + 1 + width(&piece) <= cell => {
                    line.push(' ');
                    line.push_str(&piece);
                }
                _ => lines.push(piece),
            }
        }
    }
    lines
}

/// Characters, as a stand-in for columns: labels are letters and digits.
fn width(text: &str) -> usize {
    text.chars().count()
}

fn padded(text: &str, columns: usize) -> String {
    format!("{text}{}", " ".repeat(columns.saturating_sub(width(text))))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn labels_are_broken_between_words_and_only_if_need_be_within() {
        assert_eq!(wrapped("common of A to H", 9), ["common of", "A to H"]);
        assert_eq!(wrapped("PYROTECHNIC circuit", 8), ["PYROTECH", "NIC", "circuit"]);
        assert_eq!(wrapped("", 8), Vec::<String>::new());
    }
}
