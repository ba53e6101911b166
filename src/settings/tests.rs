//! Tests of the settings: which layer wins, what a file may not hold, and that the file that is written says what holds.

use super::*;
use std::path::Path;

fn refused(text: &str) -> String {
    parse(Path::new("settings.toml"), text).unwrap_err().to_string()
}

#[test]
fn the_later_layer_wins_and_is_named() {
    let layer = |pace, headset| Layer { pace: Scale::new(pace), headset, ..Layer::default() };
    let none = Layer::default;
    let settings = Settings::of(layer(1, Some(true)), none(), layer(3, None));
    assert_eq!(settings.pace, Setting { value: Scale::new(3).unwrap(), origin: Origin::CommandLine });
    assert_eq!(settings.headset, Setting { value: true, origin: Origin::File });
    assert_eq!(settings.keys, Setting { value: false, origin: Origin::Default });
    let settings = Settings::of(layer(1, Some(true)), none(), layer(1, Some(false)));
    assert_eq!(settings.headset, Setting { value: false, origin: Origin::CommandLine });
}

#[test]
fn a_layer_before_another_leaves_open_what_it_does_not_say() {
    let parsed = |text| parse(Path::new("--set"), text).unwrap();
    let below = parsed(
        "pace = 5\nreminder = 9\npedal.device = \"pipe:/p\"\npedal.switch = [{ key = \"KEY_A\", short = \"yes\" }]",
    );
    let layers = [(Origin::CommandLine, parsed("pace = 7")), (Origin::CommandLine, below.clone())];
    let settings = Settings::of_all(&layers);
    assert_eq!((Some(settings.pace.value), Some(settings.reminder.value)), (Scale::new(7), Some(9)));
    assert_eq!(settings.pedal.value, below.pedal);
    assert!(settings.pedal.value.is_some());
}

#[test]
fn the_environment_goes_between_file_and_command_line() {
    let environment = Layer::environment(|name| match name {
        NO_COLOUR => Some("1".into()),
        MODEL => Some("/from/environment".into()),
        DATA => Some("".into()),
        _ => None,
    });
    let file = Layer { colour: Some(true), data: Some("/from/file".into()), ..Layer::default() };
    let command_line = Layer { model: Some("/from/command/line".into()), ..Layer::default() };
    let settings = Settings::of(file, environment, command_line);
    assert_eq!(settings.colour, Setting { value: false, origin: Origin::Environment });
    assert_eq!(settings.model.value, Some("/from/command/line".into()));
    assert_eq!(settings.data, Setting { value: Some("/from/file".into()), origin: Origin::File });
}

#[test]
fn a_file_is_refused_with_its_line() {
    for (text, line, what) in [
        ("headset = true\nhedset = true", 2, "unknown field `hedset`"),
        ("profile = \"x\"", 1, "unknown field `profile`"),
        ("\n\npace = 101", 3, "101 is not between -100 and 100"),
        ("volume = -101", 1, "-101 is not between -100 and 100"),
        ("pace = 1.5", 1, "invalid type"),
        ("pace = 99999999999999999999", 1, ""),
        ("headset = \"yes\"", 1, "invalid type: string"),
        ("# fine\ntalk = \"sometimes\"", 2, "unknown variant `sometimes`"),
        ("headset = true\nheadset = true", 2, "duplicate key"),
        ("headset = ", 1, ""),
        ("[headset]", 1, "invalid type"),
        ("[voice]\npace = 1", 1, "unknown field `voice`"),
    ] {
        let error = refused(text);
        assert!(error.starts_with(&format!("settings.toml, line {line}: ")), "{text:?}: {error}");
        assert!(error.contains(what), "{text:?}: {error}");
    }
}

#[test]
fn the_written_file_sets_nothing_and_its_lines_are_settings_with_their_usual_values() {
    let path = Path::new("default.toml");
    assert_eq!(parse(path, DEFAULT).unwrap(), Layer::default());
    let is_key = |line: &&str| {
        line.starts_with('#')
            && line[1..].starts_with(|letter: char| letter.is_ascii_lowercase() || letter == '[')
    };
    let keys: Vec<&str> = DEFAULT.lines().filter(is_key).map(|line| &line[1..]).collect();
    let layer = parse(path, &keys.join("\n")).unwrap();
    let defaults = Settings::of(Layer::default(), Layer::default(), Layer::default());
    let written = Settings::of(layer, Layer::default(), Layer::default());
    // Only what has no usual value differs: there the file shows an example.
    for ((key, default, _), (_, written, origin)) in defaults.lines().iter().zip(written.lines()) {
        assert_eq!(origin, Origin::File, "{key} is not in the file");
        assert!(
            *default == written || default.starts_with('('),
            "{key}: {default} but {written} in the file"
        );
    }
}

#[test]
fn a_file_is_written_once_and_read_back() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("deeper").join("settings.toml");
    assert_eq!(read(&path).unwrap(), None);
    write(&path).unwrap();
    assert_eq!(read(&path).unwrap(), Some(Layer::default()));
    std::fs::write(&path, "pace = 7\n").unwrap();
    assert!(matches!(write(&path), Err(SettingsError::Exists { .. })));
    assert_eq!(read(&path).unwrap().unwrap().pace, Scale::new(7));
    assert!(matches!(read(folder.path()), Err(SettingsError::Unreadable { .. })));
}

#[test]
fn pedals_are_refused_with_their_line_too() {
    for (text, line, what) in [
        ("[pedal]\nswitch = []", 1, "missing field `device`"),
        (
            "[pedal]\ndevice = \"foot\"\n[[pedal.switch]]\nkey = \"KEY_A\"\nhold = \"sing\"",
            5,
            "unknown variant `sing`",
        ),
        ("[pedal]\ndevice = \"foot\"\nlong = 3", 3, "unknown field `long`"),
        ("[pedal]\ndevice = \"foot\"\nlong_ms = -3\nswitch = []", 3, "invalid value"),
        ("[keypad]\nname = \"pad\"", 2, "unknown field `name`"),
    ] {
        let error = refused(text);
        assert!(error.starts_with(&format!("settings.toml, line {line}: ")), "{text:?}: {error}");
        assert!(error.contains(what), "{text:?}: {error}");
    }
}
