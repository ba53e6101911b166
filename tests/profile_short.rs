//! Short forms of a profile: what is left out or written briefly means what its long form means.

use bothhands::profile::{self, CircuitId, PinName, Profile};

fn read(text: &str) -> Profile {
    profile::parse("short.toml", text).unwrap_or_else(|fault| panic!("{}", fault.rendered(110)))
}

const BLOCK: &str = r#"
version = 2
title = "Valve block"
source = "measured on two sound ones"
common = 16

[[circuit]]
name = "coil A"
pin = 1
kind = "copper-coil"
window = "5.2 ohm ± 8 % at 23 °C"

[[circuit]]
name = "coil B"
pin = 2
like = "coil A"

[[circuit]]
name = "coil C"
pin = 10
like = "coil-b"
window = "4.9 to 5.5 ohm"
"#;

#[test]
fn a_dozen_lines_are_a_profile() {
    let part = read(BLOCK);
    assert_eq!((part.id.as_str(), part.invented), ("valve-block", false));
    let pins: Vec<_> = part.connector.pins.iter().map(|pin| pin.name.as_str()).collect();
    assert_eq!(pins, ["1", "2", "10", "16"], "as they are counted");
    assert!(part.connector.is_list());
    assert_eq!(part.connector.pins[1].label.as_deref(), Some("coil B"));
    let family = &part.families[0];
    assert_eq!((family.title.as_str(), family.tolerance_percent), ("coil A, coil B, coil C", 8.0));
    assert_eq!(family.contact.get(), profile::USUAL_CONTACT_OHM);
    assert!(part.circuits.iter().all(|circuit| circuit.family.as_ref() == Some(&family.id)));
    let window = |id: &str| {
        let window = part.circuit(&CircuitId::from(id)).unwrap().window.clone().unwrap();
        (window.low.get(), window.high.get(), window.at.get(), window.source)
    };
    let source = "measured on two sound ones".to_owned();
    assert_eq!(window("coil-b"), (4.784, 5.616, 23.0, source.clone()));
    assert_eq!(window("coil-c"), (4.9, 5.5, 20.0, source), "its own goes before that of what it is like");
    assert_eq!(part.gates.len(), 9);
    assert!(part.cautions.iter().any(|caution| caution.contains("terminal adapter")));
}

/// The same in the long form of older files gives the same circuits.
#[test]
fn the_long_form_of_older_files_means_the_same() {
    let long = r#"
id = "valve-block"
title = "Valve block"
invented = false
source = "measured"
cautions = ["Supply off."]
[connector]
title = "plug"
seen_from = "the pins"
pins = [ { pin = 1, row = 1, column = 1 }, { pin = 2, row = 1, column = 2 }, { pin = 16, row = 1, column = 3 } ]
[[gate]]
id = "supply-off"
instruction = "Supply off."
confirm = "supply off"
[[family]]
id = "like-coil-a"
title = "coil A, coil B"
tolerance_percent = 8.0
contact_ohm = 0.05
[[circuit]]
id = "coil-a"
name = "coil A"
pin = 1
against = 16
family = "like-coil-a"
kind = "copper-coil"
window = { low_ohm = 4.784, high_ohm = 5.616, at_c = 20, source = "measured" }
[[circuit]]
id = "coil-b"
name = "coil B"
pin = 2
against = 16
family = "like-coil-a"
kind = "copper-coil"
window = { low_ohm = 4.784, high_ohm = 5.616, at_c = 20, source = "measured" }
"#;
    let short = r#"
title = "Valve block"
source = "measured"
common = 16
[[circuit]]
name = "coil A"
pin = 1
kind = "copper-coil"
window = "5.2 ohm +- 8 %"
[[circuit]]
name = "coil B"
pin = 2
like = "coil A"
"#;
    let (long, short) = (read(long), read(short));
    assert_eq!((&long.circuits, &long.families), (&short.circuits, &short.families));
}

#[test]
fn several_connectors_and_a_pin_of_many_circuits() {
    let part = read(
        r#"
title = "Actuator with a position sensor"
source = "service information, page 4"
[[connector]]
id = "X1"
title = "motor"
seen_from = "looking into the pins"
pins = [ { pin = 1, row = 1, column = 1 }, { pin = 2, row = 1, column = 2 } ]
[[connector]]
id = "X2"
title = "sensor"
seen_from = "looking into the pins"
pins = [ { pin = 1, row = 1, column = 1 }, { pin = 2, row = 1, column = 2 }, { pin = 3, row = 1, column = 3 } ]
[[circuit]]
name = "motor"
pin = "X1/1"
against = "X1/2"
kind = "copper-coil"
[[circuit]]
name = "track"
pin = "X2/1"
against = "X2/3"
kind = "resistor"
[[circuit]]
name = "wiper low"
pin = "X2/2"
against = "X2/1"
kind = "resistor"
[[circuit]]
name = "wiper high"
pin = "X2/2"
against = "X2/3"
kind = "resistor"
"#,
    );
    assert_eq!(part.connector.title, "X1: motor; X2: sensor");
    assert_eq!(part.connector.pins.len(), 5);
    assert_eq!(profile::place_of(&part, &"X2/3".into()), "X2, at the right end");
    let places: Vec<_> = part.connector.pins.iter().map(|pin| (pin.row, pin.column)).collect();
    assert_eq!(places, [(1, 1), (1, 2), (3, 1), (3, 2), (3, 3)], "one below the other");
    let at = |pin: &str| part.circuits.iter().filter(|circuit| circuit.is_at(&PinName::from(pin))).count();
    assert_eq!((at("X2/2"), at("X2/2-X2/3"), at("X2/9")), (2, 1, 0));
}

#[test]
fn connectors_follow_from_the_pins_where_nobody_lists_them() {
    let part = read(
        r#"
title = "Loom"
source = "drawn by hand"
[[circuit]]
name = "feed"
pin = "X1/3"
against = "X2/7"
kind = "wire"
window = "at most 0.5 ohm"
"#,
    );
    let pins: Vec<_> = part.connector.pins.iter().map(|pin| pin.name.as_str()).collect();
    assert_eq!(pins, ["X1/3", "X2/7"]);
    assert_eq!(part.circuits[0].window.as_ref().map(|window| window.high.get()), Some(0.5));
}

const BOTH: &str = r#"
title = { en = "Heater", de = "Heizung" }
source = "nobody"
[[circuit]]
name = { en = "coil A", de = "Spule A" }
pin = 1
against = 2
kind = "copper-coil"
[[circuit]]
name.de = "Spule B"
pin = 3
against = 2
like = "coil A"
"#;

#[test]
fn names_in_several_languages_are_one_profile() {
    let named = |language: &str| {
        let part = profile::parse_in("both.toml", BOTH, language).unwrap();
        let circuits: Vec<_> =
            part.circuits.iter().map(|one| (one.id.to_string(), one.name.clone())).collect();
        (part.id, part.title, circuits)
    };
    let circuits =
        |a: &str| vec![("coil-a".to_owned(), a.to_owned()), ("spule-b".to_owned(), "Spule B".to_owned())];
    assert_eq!(named("en"), ("heater".to_owned(), "Heater".to_owned(), circuits("coil A")));
    assert_eq!(named("de"), ("heater".to_owned(), "Heizung".to_owned(), circuits("Spule A")));
    assert_eq!(named("fr"), named("en"), "what it lacks is taken from the first language");
    let german = profile::parse_in("both.toml", BOTH, "de").unwrap();
    assert!(german.gates[1].instruction.starts_with("Zündung aus"), "{}", german.gates[1].instruction);
    assert_eq!(german.gates[1].confirm, "key off");
}
