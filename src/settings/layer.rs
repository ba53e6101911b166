//! Owns one layer of settings: what a file, the environment or a command line says, and what it leaves open.

use crate::{
    keys::{KeypadSettings, PedalSettings},
    scpi::Query,
    session::Prompts,
};
use serde::{Deserialize, Serialize};
use std::{ffi::OsString, path::PathBuf};

/// Environment variable that turns colours off (no-color.org).
pub const NO_COLOUR: &str = "NO_COLOR";
/// Environment variable that names the language.
pub const LANGUAGE: &str = "BOTHHANDS_LANGUAGE";
/// Environment variable that names the folder of the model.
pub const MODEL: &str = "BOTHHANDS_MODEL";
/// Environment variable that names the folder for data.
pub const DATA: &str = crate::journal::DATA_VARIABLE;

/// Settings as one source gives them. None: it does not say.
#[derive(Debug, Clone, Default, PartialEq, Eq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Layer {
    /// The language that is said and shown, by its tag.
    pub language: Option<String>,
    /// Keys alone.
    pub keys: Option<bool>,
    /// Plain lines instead of the large view.
    pub plain: Option<bool>,
    /// Colours in the large view.
    pub colour: Option<bool>,
    /// Lines are shown and not spoken.
    pub silent: Option<bool>,
    /// The voice cannot reach the microphone.
    pub headset: Option<bool>,
    /// Name of the microphone, or a part of it.
    pub microphone: Option<String>,
    /// Name of the loudspeaker, or a part of it.
    pub speaker: Option<String>,
    /// How much is said.
    pub prompts: Option<Prompts>,
    /// Seconds without an input after which one reminder is given; 0: never.
    pub reminder: Option<u16>,
    /// When the microphone listens.
    pub talk: Option<Talk>,
    /// How likely wrong a value may be that is taken as it is.
    pub mark_from: Option<Percent>,
    /// How likely wrong a value may be that is taken and marked.
    pub ask_from: Option<Percent>,
    /// Pace of the voice.
    pub pace: Option<Scale>,
    /// Loudness of the voice.
    pub volume: Option<Scale>,
    /// Folder of the model.
    pub model: Option<PathBuf>,
    /// Folder for data.
    pub data: Option<PathBuf>,
    /// Whether the sound of what was heard is kept.
    pub sound: Option<bool>,
    /// How many days sound is kept; 0: for good.
    pub keep_sound: Option<u32>,
    /// Who measures.
    pub technician: Option<String>,
    /// Serial number of the meter.
    pub meter_serial: Option<String>,
    /// When the meter was calibrated last.
    pub meter_calibrated: Option<jiff::civil::Date>,
    /// The serial line of a meter that answers in SCPI.
    pub meter_port: Option<PathBuf>,
    /// Its speed in bits a second.
    pub meter_baud: Option<u32>,
    /// How that meter is asked.
    pub meter_query: Option<Query>,
    /// The foot pedal.
    pub pedal: Option<PedalSettings>,
    /// The numeric keypad that is taken for this program alone.
    pub keypad: Option<KeypadSettings>,
}

impl Layer {
    /// What the environment says. Empty variables count as not set.
    pub fn environment(variable: impl Fn(&str) -> Option<OsString>) -> Self {
        let set = |name: &str| variable(name).filter(|value| !value.is_empty());
        Self {
            language: set(LANGUAGE).map(|tag| tag.to_string_lossy().into_owned()),
            colour: set(NO_COLOUR).map(|_| false),
            model: set(MODEL).map(PathBuf::from),
            data: set(DATA).map(PathBuf::from),
            ..Self::default()
        }
    }
}

/// When the microphone listens.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize, clap::ValueEnum)]
#[serde(rename_all = "kebab-case")]
pub enum Talk {
    /// Always, except while the voice speaks without a headset.
    #[default]
    Open,
    /// While the talk key or the pedal is pressed.
    Push,
}

impl clap::ValueEnum for Prompts {
    fn value_variants<'a>() -> &'a [Self] {
        &[Self::Short, Self::Full]
    }

    fn to_possible_value(&self) -> Option<clap::builder::PossibleValue> {
        Some(match self {
            Self::Short => clap::builder::PossibleValue::new("short").help("No more than is needed"),
            Self::Full => clap::builder::PossibleValue::new("full")
                .help("Also where the pin is and what a verdict means"),
        })
    }
}

/// How likely something is wrong, in percent: 0 to 50.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(try_from = "i64")]
pub struct Percent(u8);

impl Percent {
    /// So many percent; none above 50.
    #[must_use]
    pub const fn new(percent: u8) -> Option<Self> {
        if percent <= 50 { Some(Self(percent)) } else { None }
    }

    /// The percent, 0 to 50.
    #[must_use]
    pub fn get(self) -> u8 {
        self.0
    }

    /// As a share, 0 to 0.5.
    #[must_use]
    pub fn share(self) -> f32 {
        f32::from(self.0) / 100.0
    }
}

impl TryFrom<i64> for Percent {
    type Error = String;

    fn try_from(percent: i64) -> Result<Self, String> {
        let fits = u8::try_from(percent).ok().and_then(Self::new);
        fits.ok_or_else(|| format!("{percent} is not between 0 and 50"))
    }
}

/// A place on the scale of the voice: -100 to 100.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(try_from = "i64")]
pub struct Scale(i8);

impl Scale {
    /// A place on the scale; none outside of it.
    #[must_use]
    pub const fn new(place: i8) -> Option<Self> {
        if place >= -100 && place <= 100 { Some(Self(place)) } else { None }
    }

    /// The place, -100 to 100.
    #[must_use]
    pub fn get(self) -> i8 {
        self.0
    }
}

impl TryFrom<i64> for Scale {
    type Error = String;

    fn try_from(place: i64) -> Result<Self, String> {
        let fits = i8::try_from(place).ok().and_then(Self::new);
        fits.ok_or_else(|| format!("{place} is not between -100 and 100"))
    }
}
