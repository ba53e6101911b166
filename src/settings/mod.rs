//! Owns the settings: defaults, the person's file, the environment and the command line, one over the other.
//!
//! What is measured and with what is no setting: a profile or meter that is taken silently from last time would be the wrong
//! one some day.

mod file;
mod layer;
pub mod places;
#[cfg(test)]
mod tests;

pub use file::{DEFAULT, SettingsError, VARIABLE, parse, place, read, write};
pub use layer::{DATA, LANGUAGE, Layer, MODEL, NO_COLOUR, Percent, Scale, Talk};

use crate::{
    keys::{KeypadSettings, PedalSettings},
    scpi::{BAUD, Query},
    session::Prompts,
};
use std::{fmt, path::PathBuf};

/// Pace of the voice where none is set: the voice's own is slow for daily use. Common practice, no source.
const PACE: Scale = Scale::new(20).expect("within the scale");
/// Seconds without an input after which a reminder is given. Common practice, no source.
const REMINDER: u16 = 60;

/// What is more likely wrong than this is read back as not heard clearly, in percent; `hear::accept` says where it comes from.
const MARK_FROM: Percent = Percent::new(4).expect("below 50");
/// What is more likely wrong than this is asked, in percent; `hear::accept` says where it comes from.
const ASK_FROM: Percent = Percent::new(10).expect("below 50");

/// Where a setting comes from.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Origin {
    /// Nothing was said.
    Default,
    /// The settings file.
    File,
    /// The environment.
    Environment,
    /// The command line.
    CommandLine,
}

impl fmt::Display for Origin {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.pad(match self {
            Self::Default => "default",
            Self::File => "settings file",
            Self::Environment => "environment",
            Self::CommandLine => "command line",
        })
    }
}

/// A setting in force.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Setting<T> {
    /// Its value.
    pub value: T,
    /// Where it comes from.
    pub origin: Origin,
}

/// The settings in force.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Settings {
    /// The language that is said and shown, by its tag. None: the system's, where it comes along, else English.
    pub language: Setting<Option<String>>,
    /// Keys alone: no microphone, no voice.
    pub keys: Setting<bool>,
    /// Plain lines instead of the large view.
    pub plain: Setting<bool>,
    /// Colours in the large view.
    pub colour: Setting<bool>,
    /// Lines are shown and not spoken.
    pub silent: Setting<bool>,
    /// The voice cannot reach the microphone.
    pub headset: Setting<bool>,
    /// Name of the microphone, or a part of it. None: the system's.
    pub microphone: Setting<Option<String>>,
    /// Name of the loudspeaker, or a part of it. None: where the system's voice speaks.
    pub speaker: Setting<Option<String>>,
    /// When the microphone listens.
    pub talk: Setting<Talk>,
    /// How likely wrong a value may be that is taken as it is.
    pub mark_from: Setting<Percent>,
    /// How likely wrong a value may be that is taken and marked.
    pub ask_from: Setting<Percent>,
    /// How much is said.
    pub prompts: Setting<Prompts>,
    /// Seconds without an input after which one reminder is given; 0: never.
    pub reminder: Setting<u16>,
    /// Pace of the voice.
    pub pace: Setting<Scale>,
    /// Loudness of the voice. None: its own.
    pub volume: Setting<Option<Scale>>,
    /// Folder of the model. None: the one that comes along.
    pub model: Setting<Option<PathBuf>>,
    /// Folder for data. None: the usual place.
    pub data: Setting<Option<PathBuf>>,
    /// Whether the sound of what was heard is kept beside the journal.
    pub sound: Setting<bool>,
    /// After how many days sound is taken away; 0: never.
    pub keep_sound: Setting<u32>,
    /// Who measures, for the record. None: not said.
    pub technician: Setting<Option<String>>,
    /// Serial number of the meter, for the record. None: not said.
    pub meter_serial: Setting<Option<String>>,
    /// When the meter was calibrated last, for the record. None: not said.
    pub meter_calibrated: Setting<Option<jiff::civil::Date>>,
    /// The serial line of a meter that answers in SCPI. None: readings are said or typed.
    pub meter_port: Setting<Option<PathBuf>>,
    /// Its speed in bits a second.
    pub meter_baud: Setting<u32>,
    /// How that meter is asked.
    pub meter_query: Setting<Query>,
    /// The foot pedal. None: none is looked for.
    pub pedal: Setting<Option<PedalSettings>>,
    /// The keypad that is taken for this program alone. None: a keypad types where every keyboard types.
    pub keypad: Setting<Option<KeypadSettings>>,
}

impl Settings {
    /// The settings from three layers; the later ones go before the earlier ones.
    #[must_use]
    pub fn of(file: Layer, environment: Layer, command_line: Layer) -> Self {
        Self::of_all(&[
            (Origin::CommandLine, command_line),
            (Origin::Environment, environment),
            (Origin::File, file),
        ])
    }

    /// The settings from any layers; the earlier ones go before the later ones.
    #[must_use]
    pub fn of_all(layers: &[(Origin, Layer)]) -> Self {
        Self {
            language: pick(layers, |layer| layer.language.clone().map(Some), None),
            keys: pick(layers, |layer| layer.keys, false),
            plain: pick(layers, |layer| layer.plain, false),
            colour: pick(layers, |layer| layer.colour, true),
            silent: pick(layers, |layer| layer.silent, false),
            headset: pick(layers, |layer| layer.headset, false),
            microphone: pick(layers, |layer| layer.microphone.clone().map(Some), None),
            speaker: pick(layers, |layer| layer.speaker.clone().map(Some), None),
            talk: pick(layers, |layer| layer.talk, Talk::default()),
            mark_from: pick(layers, |layer| layer.mark_from, MARK_FROM),
            ask_from: pick(layers, |layer| layer.ask_from, ASK_FROM),
            prompts: pick(layers, |layer| layer.prompts, Prompts::default()),
            reminder: pick(layers, |layer| layer.reminder, REMINDER),
            pace: pick(layers, |layer| layer.pace, PACE),
            volume: pick(layers, |layer| layer.volume.map(Some), None),
            model: pick(layers, |layer| layer.model.clone().map(Some), None),
            data: pick(layers, |layer| layer.data.clone().map(Some), None),
            sound: pick(layers, |layer| layer.sound, true),
            keep_sound: pick(layers, |layer| layer.keep_sound, 0),
            technician: pick(layers, |layer| layer.technician.clone().map(Some), None),
            meter_serial: pick(layers, |layer| layer.meter_serial.clone().map(Some), None),
            meter_calibrated: pick(layers, |layer| layer.meter_calibrated.map(Some), None),
            meter_port: pick(layers, |layer| layer.meter_port.clone().map(Some), None),
            meter_baud: pick(layers, |layer| layer.meter_baud, BAUD),
            meter_query: pick(layers, |layer| layer.meter_query, Query::default()),
            pedal: pick(layers, |layer| layer.pedal.clone().map(Some), None),
            keypad: pick(layers, |layer| layer.keypad.clone().map(Some), None),
        }
    }

    /// Key, value as text, and origin of each, in the order of the file.
    #[must_use]
    pub fn lines(&self) -> Vec<(&'static str, String, Origin)> {
        fn line<T>(
            key: &'static str,
            setting: &Setting<T>,
            show: impl Fn(&T) -> String,
        ) -> (&'static str, String, Origin) {
            (key, show(&setting.value), setting.origin)
        }
        let switch = |on: &bool| on.to_string();
        let path = |path: &Option<PathBuf>, else_: &str| {
            path.as_ref().map_or(else_.to_owned(), |path| path.display().to_string())
        };
        vec![
            line("language", &self.language, |tag| {
                tag.clone().unwrap_or("(the system's, else English)".into())
            }),
            line("keys", &self.keys, switch),
            line("plain", &self.plain, switch),
            line("colour", &self.colour, switch),
            line("silent", &self.silent, switch),
            line("headset", &self.headset, switch),
            line("microphone", &self.microphone, |name| name.clone().unwrap_or("(the system's)".into())),
            line("speaker", &self.speaker, |name| name.clone().unwrap_or("(the system's voice)".into())),
            line("talk", &self.talk, |talk| match talk {
                Talk::Open => "open".into(),
                Talk::Push => "push".into(),
            }),
            line("mark_from", &self.mark_from, |percent| percent.get().to_string()),
            line("ask_from", &self.ask_from, |percent| percent.get().to_string()),
            line("prompts", &self.prompts, |prompts| match prompts {
                Prompts::Short => "short".into(),
                Prompts::Full => "full".into(),
            }),
            line("reminder", &self.reminder, u16::to_string),
            line("pace", &self.pace, |pace| pace.get().to_string()),
            line("volume", &self.volume, |volume| {
                volume.map_or("(the voice's own)".into(), |volume| volume.get().to_string())
            }),
            line("model", &self.model, |folder| path(folder, "(the one that comes along)")),
            line("data", &self.data, |folder| path(folder, "(the usual place)")),
            line("sound", &self.sound, switch),
            line("keep_sound", &self.keep_sound, |days| match days {
                0 => "0 (for good)".into(),
                days => days.to_string(),
            }),
            line("technician", &self.technician, |name| name.clone().unwrap_or("(not said)".into())),
            line("meter_serial", &self.meter_serial, |text| text.clone().unwrap_or("(not said)".into())),
            line("meter_calibrated", &self.meter_calibrated, |date| {
                date.map_or("(not said)".into(), |date| date.to_string())
            }),
            line("meter_port", &self.meter_port, |port| path(port, "(none: readings are said or typed)")),
            line("meter_baud", &self.meter_baud, u32::to_string),
            line("meter_query", &self.meter_query, |query| match query {
                Query::Read => "read".into(),
                Query::Fetch => "fetch".into(),
            }),
            line("pedal", &self.pedal, |pedal| pedal.as_ref().map_or("(none)".into(), ToString::to_string)),
            line("keypad", &self.keypad, |keypad| {
                keypad.as_ref().map_or("(as any keyboard)".into(), |keypad| keypad.device.clone())
            }),
        ]
    }
}

fn pick<T>(layers: &[(Origin, Layer)], key: impl Fn(&Layer) -> Option<T>, default: T) -> Setting<T> {
    let set = layers.iter().find_map(|(origin, layer)| key(layer).map(|value| (value, *origin)));
    let (value, origin) = set.unwrap_or((default, Origin::Default));
    Setting { value, origin }
}
