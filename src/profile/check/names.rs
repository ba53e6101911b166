//! Owns the rules about names: identifiers in files and journals, and names that people hear.

use super::{of, refuse_repeats};
use crate::profile::{faults::Found, raw::At, raw_meter::RawMeter, raw_part::RawProfile};

/// The longest identifier and the longest spoken name, in characters.
const LONGEST_NAME: usize = 40;

pub(super) fn ids_are_well_formed(raw: &RawProfile, found: &mut Found) {
    let ids = std::iter::once(raw.id.as_ref())
        .chain(raw.families.iter().map(|family| family.id.as_ref()))
        .chain(raw.circuits.iter().map(|circuit| circuit.id.as_ref()))
        .chain(super::gates::lists(raw).into_iter().flatten().map(|gate| gate.id.as_ref()));
    ids.flatten().for_each(|id| id_is_well_formed(id, found));
}

pub(super) fn meter_id_is_well_formed(raw: &RawMeter, found: &mut Found) {
    if let Some(id) = &raw.id {
        id_is_well_formed(id, found);
    }
}

fn id_is_well_formed(id: &At<String>, found: &mut Found) {
    let text = &id.value;
    let letters = text.chars().all(|c| c.is_ascii_lowercase() || c.is_ascii_digit() || c == '-');
    let dashes = !text.starts_with('-') && !text.ends_with('-') && !text.contains("--");
    if !letters || !dashes {
        found.add(
            &id.spot,
            format!("\"{text}\" is no identifier"),
            "use lower case letters a to z, digits and single dashes between them: coil-a",
        );
    } else if text.chars().count() > LONGEST_NAME {
        found.add(&id.spot, format!("\"{text}\" is longer than {LONGEST_NAME} characters"), "shorten it");
    }
}

pub(super) fn ids_are_unique(raw: &RawProfile, found: &mut Found) {
    let circuits = raw.circuits.iter().map(|circuit| circuit.id.as_ref()).collect::<Vec<_>>();
    let families = raw.families.iter().map(|family| family.id.as_ref()).collect::<Vec<_>>();
    let gates =
        super::gates::lists(raw).into_iter().flatten().map(|gate| gate.id.as_ref()).collect::<Vec<_>>();
    for (what, ids) in [("circuit", circuits), ("family", families), ("gate", gates)] {
        let ids = ids.into_iter().flatten().map(|id| (id.value.as_str(), &id.spot));
        let message = |id: &&str| format!("there is a {what} \"{id}\" already");
        refuse_repeats(ids, found, message, "give each an identifier of its own");
    }
}

pub(super) fn names_differ_when_spoken(raw: &RawProfile, found: &mut Found) {
    let names = raw.circuits.iter().filter_map(|circuit| circuit.name.as_ref());
    for name in names.clone() {
        if spoken(&name.value).is_empty() {
            let message = format!("\"{}\" has nothing that can be said", name.value);
            found.add(&name.spot, message, "name it in words: coil A");
        } else if name.value.chars().count() > LONGEST_NAME {
            let message = format!("\"{}\" is longer than {LONGEST_NAME} characters", name.value);
            found.add(&name.spot, message, "shorten it: it is spoken before every reading");
        }
    }
    let heard = names.map(|name| (spoken(&name.value), &name.spot)).filter(|(words, _)| !words.is_empty());
    refuse_repeats(
        heard,
        found,
        |words| format!("another circuit is called \"{words}\" too when it is spoken"),
        "give each circuit a name that sounds different",
    );
}

/// A name as it is heard: lower case words with one blank between, no punctuation, small numbers as words.
fn spoken(name: &str) -> String {
    const NUMBERS: [&str; 13] = [
        "zero", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven",
        "twelve",
    ];
    let lower = name.to_lowercase();
    let words = lower.split(|c: char| !c.is_alphanumeric()).filter(|word| !word.is_empty()).map(|word| {
        let number = word.parse::<usize>().ok().and_then(|number| NUMBERS.get(number).copied());
        number.unwrap_or(word)
    });
    words.collect::<Vec<_>>().join(" ")
}

/// The identifier of a family, circuit or gate for a message; a stand-in where it could not be read.
pub(super) fn called(id: Option<&At<String>>) -> &str {
    of(id).map_or("(without id)", String::as_str)
}

#[cfg(test)]
mod tests {
    use super::spoken;

    #[test]
    fn names_that_sound_alike_are_alike() {
        assert_eq!(spoken("Coil A"), spoken("coil  a"));
        assert_eq!(spoken("speed sensor 1"), spoken("Speed-sensor one"));
        assert_ne!(spoken("coil A"), spoken("coil B"));
        assert_eq!(spoken("?!"), "");
    }
}
