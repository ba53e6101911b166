//! Owns the short forms: what was left out or written briefly is written out here, before anything is checked.
//!
//! After it a profile has an `id`, cautions, gates and one connector with all pins, every circuit both its ends, what is `like`
//! another its figures and family, and every window its source. What cannot be written out is noted.

use super::{
    faults::{Found, Spot},
    nearest::nearest,
    raw::At,
    raw_part::{self, RawConnector, RawFamily, RawPin, RawProfile, RawShared, RawUsual},
};
use std::collections::BTreeMap;
use toml::de::DeTable;

/// The version of the format that this program writes, and the newest that it reads. Files without one are read as well.
pub const VERSION: u8 = 2;
/// How far members of a family may differ where nobody says so, in percent (common practice, no source).
pub const USUAL_TOLERANCE_PERCENT: f64 = 4.0;
/// How much probing alone changes a reading where nobody says so, in ohms (common practice, no source).
pub const USUAL_CONTACT_OHM: f64 = 0.05;
/// Between the name of a connector and that of its pin.
pub(super) const PARTED: char = '/';
/// Free rows between the pictures of two connectors.
const GAP: u8 = 1;

/// Writes everything out.
pub(super) fn expand(raw: &mut RawProfile, found: &mut Found) {
    version(raw, found);
    names(raw);
    usual(raw, found);
    ends(raw, found);
    like(raw, found);
    families(raw);
    sources(raw);
    connectors(raw, found);
}

fn version(raw: &RawProfile, found: &mut Found) {
    if let Some(version) = raw.version.as_ref().filter(|version| version.value > VERSION) {
        let message = format!("version {} of the format: this program reads up to {VERSION}", version.value);
        found.add(
            &version.spot,
            message,
            format!("use a newer bothhands, or write version = {VERSION} and see what it refuses"),
        );
    }
}

/// Identifiers that were left out follow from names.
fn names(raw: &mut RawProfile) {
    if raw.id.is_none() {
        let first = raw.first_title.as_deref().map(slug);
        raw.id = raw.title.as_ref().zip(first).map(|(title, value)| At { value, spot: title.spot.clone() });
    }
    for circuit in raw.circuits.iter_mut().filter(|circuit| circuit.id.is_none()) {
        let first = circuit.first_name.as_deref().map(slug);
        circuit.id =
            circuit.name.as_ref().zip(first).map(|(name, value)| At { value, spot: name.spot.clone() });
    }
}

/// A name as an identifier: lower case letters, digits, single dashes.
#[must_use]
pub fn slug(name: &str) -> String {
    let mut out = String::new();
    for c in name.to_lowercase().chars() {
        match c {
            'a'..='z' | '0'..='9' => out.push(c),
            'ä' => out.push_str("ae"),
            'ö' => out.push_str("oe"),
            'ü' => out.push_str("ue"),
            'ß' => out.push_str("ss"),
            _ if !out.is_empty() && !out.ends_with('-') => out.push('-'),
            _ => {}
        }
    }
    out.truncate(40);
    let out = out.trim_end_matches('-');
    if out.is_empty() { "unnamed".to_owned() } else { out.to_owned() }
}

/// The usual cautions and gates, where the profile has none of its own.
fn usual(raw: &mut RawProfile, found: &mut Found) {
    let no_gates = raw.gates.is_empty() && !found.has_below("gate");
    let no_cautions = raw.cautions.is_none() && !found.has_below("cautions");
    if !no_gates && !no_cautions {
        return;
    }
    let RawUsual { cautions, mut gates, .. } = come_along(found.language);
    let top = Spot { span: 0..0, key: String::new() };
    if no_gates {
        for gate in &mut gates {
            let keys = [&mut gate.id, &mut gate.instruction, &mut gate.confirm];
            keys.into_iter().flatten().for_each(|at| at.spot = top.clone());
        }
        raw.gates = gates;
    }
    if no_cautions {
        raw.cautions = cautions.map(|all| At {
            value: all.value.into_iter().map(|one| At { value: one.value, spot: top.clone() }).collect(),
            spot: top.clone(),
        });
    }
}

/// What comes with the program.
fn come_along(language: &str) -> RawUsual {
    let text = include_str!("usual.toml");
    let (table, _) = DeTable::parse_recoverable(text);
    let mut own = Found::new(text, language);
    let usual = raw_part::usual(table.get_ref(), &mut own);
    debug_assert!(own.into_list().is_empty(), "usual.toml is part of the program");
    usual
}

/// Where one probe stays is said once for all.
fn ends(raw: &mut RawProfile, found: &mut Found) {
    for circuit in raw.circuits.iter_mut().filter(|circuit| circuit.against.is_none()) {
        let key = format!("{}.against", circuit.spot.key);
        if found.has_below(&key) {
            continue;
        }
        circuit.against = raw.common.clone();
        if raw.common.is_none() {
            let spot = Spot { key, ..circuit.spot.clone() };
            found.add(
                &spot,
                "`against` is missing",
                "add it, for example: against = 16; or once for all circuits, at the top: common = 16",
            );
        }
    }
}

/// What is like another has its figures and is of its family.
fn like(raw: &mut RawProfile, found: &mut Found) {
    let by_name: BTreeMap<String, usize> = raw
        .circuits
        .iter()
        .enumerate()
        .rev()
        .flat_map(|(place, circuit)| {
            let written = [&circuit.id, &circuit.name].into_iter().flatten().map(|at| &at.value);
            written.chain(&circuit.first_name).map(move |name| (name.to_lowercase(), place))
        })
        .collect();
    let mut of: BTreeMap<usize, usize> = BTreeMap::new();
    for (place, circuit) in raw.circuits.iter().enumerate() {
        let Some(like) = &circuit.like else { continue };
        match by_name.get(&like.value.to_lowercase()) {
            Some(other) if *other != place => {
                of.insert(place, *other);
            }
            Some(_) => {
                found.add(&like.spot, "a circuit is like itself", "name another one, or leave `like` out")
            }
            None => {
                let advice = match nearest(&like.value, by_name.keys().map(String::as_str)) {
                    Some(near) => format!("did you mean \"{near}\"?"),
                    None => "name another circuit as it is called: like = \"coil A\"".to_owned(),
                };
                found.add(&like.spot, format!("there is no circuit \"{}\" to be like", like.value), advice);
            }
        }
    }
    let mut groups: BTreeMap<usize, Vec<usize>> = BTreeMap::new();
    for place in of.keys() {
        let mut root = *place;
        let mut steps = 0;
        while let Some(next) = of.get(&root).filter(|_| steps <= of.len()) {
            root = *next;
            steps += 1;
        }
        if steps > of.len() {
            let spot = raw.circuits[*place]
                .like
                .as_ref()
                .map_or_else(|| raw.circuits[*place].spot.clone(), |at| at.spot.clone());
            found.add(
                &spot,
                "these are like each other in a ring",
                "one of them has the figures itself, without `like`",
            );
        } else {
            groups.entry(root).or_default().push(*place);
        }
    }
    for (root, places) in groups {
        let shared = raw.circuits[root].shared.clone();
        let never = raw.circuits[root].never_ohmmeter.is_some();
        if raw.circuits[root].family.is_none() && !never {
            found_family(raw, root, &places);
        }
        let family = raw.circuits[root].family.clone();
        for place in places {
            let circuit = &mut raw.circuits[place];
            if circuit.never_ohmmeter.is_some() {
                continue;
            }
            fill(&mut circuit.shared, &shared);
            circuit.family = circuit.family.take().or_else(|| family.clone());
        }
    }
}

/// A family of a circuit and those that are like it. What they share is written into each of them.
fn found_family(raw: &mut RawProfile, root: usize, places: &[usize]) {
    let Some(id) = raw.circuits[root].id.clone() else { return };
    let mut members = vec![root];
    members.extend(places);
    members.sort_unstable();
    let names: Vec<&str> = members
        .iter()
        .filter_map(|place| raw.circuits[*place].name.as_ref())
        .map(|name| name.value.as_str())
        .collect();
    let title = names.join(", ");
    let value = format!("like-{}", id.value).chars().take(40).collect::<String>();
    let family = At { value: value.trim_end_matches('-').to_owned(), spot: id.spot.clone() };
    let window = raw.circuits[root].shared.window.as_ref();
    let tolerance = window.and_then(|window| window.half_width_percent);
    let at = |value| Some(At { value, spot: id.spot.clone() });
    raw.families.push(RawFamily {
        id: Some(family.clone()),
        title: Some(At { value: title, spot: id.spot.clone() }),
        tolerance_percent: at(tolerance.unwrap_or(USUAL_TOLERANCE_PERCENT)),
        contact_ohm: at(USUAL_CONTACT_OHM),
        shared: RawShared::default(),
    });
    raw.circuits[root].family = Some(family);
}

/// Its own goes before that of what it is like.
fn fill(own: &mut RawShared, other: &RawShared) {
    macro_rules! each {
        ($($field:ident)*) => {$(if own.$field.is_none() { own.$field.clone_from(&other.$field); })*};
    }
    each!(kind window suppression case_limit_ohm harness directly_switched supply_v voltage_drop);
}

/// Tolerance and contact that a family does not say.
fn families(raw: &mut RawProfile) {
    for family in &mut raw.families {
        let Some(id) = &family.id else { continue };
        let window = family.shared.window.as_ref().and_then(|window| window.half_width_percent);
        let at = |value| At { value, spot: id.spot.clone() };
        family.tolerance_percent.get_or_insert_with(|| at(window.unwrap_or(USUAL_TOLERANCE_PERCENT)));
        family.contact_ohm.get_or_insert_with(|| at(USUAL_CONTACT_OHM));
    }
}

/// Windows in short are the profile's source's.
fn sources(raw: &mut RawProfile) {
    let source = raw.source.clone();
    let families = raw.families.iter_mut().map(|family| &mut family.shared);
    for shared in families.chain(raw.circuits.iter_mut().map(|circuit| &mut circuit.shared)) {
        if let Some(window) = &mut shared.window
            && window.source.is_none()
            && window.low_ohm.as_ref().is_some_and(|low| low.spot == window.spot)
        {
            window.source.clone_from(&source);
        }
    }
}

/// One connector of all: pins of several are called `X1/7` and stand one below the other.
fn connectors(raw: &mut RawProfile, found: &mut Found) {
    let mut written = std::mem::take(&mut raw.connectors);
    if written.is_empty() {
        if found.has_below("connector") {
            return;
        }
        let spot = Spot { span: 0..0, key: "connector".to_owned() };
        let none =
            RawConnector { id: None, title: None, seen_from: None, pins: Vec::new(), listed: false, spot };
        let ends = raw.circuits.iter().flat_map(|circuit| [&circuit.pin, &circuit.against]).flatten();
        let mut named: Vec<At<String>> = Vec::new();
        for end in ends {
            if let Some((connector, _)) = end.value.split_once(PARTED)
                && !named.iter().any(|known| known.value == connector)
            {
                named.push(At { value: connector.to_owned(), spot: end.spot.clone() });
            }
        }
        if named.is_empty() {
            written.push(none);
        } else {
            written.extend(named.into_iter().map(|id| RawConnector { id: Some(id), ..none.clone() }));
        }
    }
    let several = written.len() > 1;
    let mut all = RawConnector { pins: Vec::new(), listed: true, ..written[0].clone() };
    let (mut titles, mut views, mut below) = (Vec::new(), Vec::new(), 0u8);
    for mut connector in written {
        let prefix = match (&connector.id, several) {
            (Some(id), _) => format!("{}{PARTED}", id.value),
            (None, false) => String::new(),
            (None, true) => {
                let advice = "with several connectors each has a name, and its pins are called by it: id = \"X1\", then pin = \"X1/7\"";
                found.add(&connector.spot, "a connector without `id`", advice);
                continue;
            }
        };
        if !connector.listed {
            connector.pins = from_circuits(raw, &prefix, several || connector.id.is_some());
        } else {
            for name in connector.pins.iter_mut().filter_map(|pin| pin.pin.as_mut()) {
                name.value = format!("{prefix}{}", name.value);
            }
        }
        places(&connector, found);
        for row in connector.pins.iter_mut().filter_map(|pin| pin.row.as_mut()) {
            row.value = row.value.saturating_add(below);
        }
        let last = connector.pins.iter().filter_map(|pin| pin.row.as_ref()).map(|row| row.value).max();
        below = last.map_or(below, |last| last.saturating_add(GAP));
        let named = |text: &str| {
            connector.id.as_ref().map_or_else(|| text.to_owned(), |id| format!("{}: {text}", id.value))
        };
        titles.extend(connector.title.as_ref().map(|title| named(&title.value)));
        views.extend(connector.seen_from.as_ref().map(|seen| named(&seen.value)));
        all.pins.append(&mut connector.pins);
    }
    let text = |parts: Vec<String>, none: &str| {
        Some(At {
            value: if parts.is_empty() { none.to_owned() } else { parts.join("; ") },
            spot: all.spot.clone(),
        })
    };
    all.title = text(titles, raw.title.as_ref().map_or("connector", |title| title.value.as_str()));
    let unplaced = come_along(found.language).unplaced.map(|at| at.value).unwrap_or_default();
    all.seen_from = text(views, &unplaced);
    let is_placed = |pin: &&RawPin| pin.row.is_some();
    if let (Some(_), Some(pin)) =
        (all.pins.iter().find(is_placed), all.pins.iter().find(|pin| !is_placed(pin)))
        && several
        && !found.has_below("connector")
    {
        let advice = "write rows and columns for the pins of every connector, or for none";
        found.add(&pin.spot, "this connector has no places, but another one has", advice);
    }
    raw.connector = Some(all);
}

/// The pins that the circuits name, each once, as they would be counted.
fn from_circuits(raw: &RawProfile, prefix: &str, named: bool) -> Vec<RawPin> {
    let mut pins: Vec<RawPin> = Vec::new();
    for circuit in &raw.circuits {
        for (end, probed) in [(&circuit.pin, true), (&circuit.against, false)] {
            let Some(name) = end else { continue };
            if !name.value.starts_with(prefix) || (!named && name.value.contains(PARTED)) {
                continue;
            }
            let label = circuit.name.clone().filter(|_| probed);
            match pins.iter_mut().find(|pin| pin.pin.as_ref().is_some_and(|known| known.value == name.value))
            {
                Some(pin) => pin.label = pin.label.take().or(label),
                None => pins.push(RawPin {
                    pin: Some(name.clone()),
                    row: None,
                    column: None,
                    label,
                    spot: name.spot.clone(),
                }),
            }
        }
    }
    let key = |pin: &RawPin| {
        let name = pin.pin.as_ref().map_or("", |name| name.value.as_str());
        let digits = name.trim_start_matches(|c: char| !c.is_ascii_digit());
        let number = digits.chars().take_while(char::is_ascii_digit).collect::<String>().parse::<u64>();
        (name[..name.len() - digits.len()].to_owned(), number.unwrap_or(0), name.to_owned())
    };
    pins.sort_by_cached_key(key);
    pins
}

/// Places are known for all pins of a connector, or for none: then it is shown as a list.
fn places(connector: &RawConnector, found: &mut Found) {
    let placed = |pin: &RawPin| pin.row.is_some() && pin.column.is_some();
    if connector.pins.iter().all(|pin| pin.row.is_none() && pin.column.is_none()) {
        return;
    }
    for pin in connector.pins.iter().filter(|pin| !placed(pin)) {
        if found.has_below(&pin.spot.key) {
            continue;
        }
        let advice = "write row = 1, column = 4 for each pin of the connector, or for none: then the pins are shown as a list";
        found.add(&pin.spot, "this pin has no place, but others of its connector have", advice);
    }
    if connector.seen_from.is_none() && !found.has_below(&format!("{}.seen_from", connector.spot.key)) {
        let advice =
            "rows and columns mean nothing without it: seen_from = \"looking into the pins of the part\"";
        found.add(&connector.spot, "`seen_from` is missing", advice);
    }
}

#[cfg(test)]
mod tests {
    use super::slug;

    #[test]
    fn identifiers_of_names() {
        for (name, id) in [
            ("Coil A", "coil-a"),
            ("  Druckventil (außen) ", "druckventil-aussen"),
            ("?!", "unnamed"),
            ("a name that nobody can read in one go is no name", "a-name-that-nobody-can-read-in-one-go-is"),
        ] {
            assert_eq!(slug(name), id);
        }
    }
}
