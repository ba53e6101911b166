//! Owns the scenario file of the demo.

use serde::Deserialize;
use std::{
    collections::BTreeMap,
    path::{Path, PathBuf},
};

/// An invented case: what the part really is, and how the technician speaks.
#[derive(Debug, Clone, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Scenario {
    /// What it shows, in a sentence.
    pub title: String,
    /// The profile, by name.
    pub profile: String,
    /// The meter, by name.
    pub meter: String,
    /// Temperature of the part in degrees Celsius, true and as the technician knows it.
    pub temperature_c: f64,
    /// Resistance of leads and contacts in ohms.
    pub leads_ohm: f64,
    /// How much contact varies from reading to reading, half-width in ohms.
    pub contact_ohm: f64,
    /// Seed of the contact's variation.
    pub seed: u64,
    /// True resistance of each circuit at 20 °C in ohms; `inf` is open.
    pub ohm_at_20c: BTreeMap<String, f64>,
    /// The circuit that the conclusion must name, for tests.
    pub faulty: String,
    /// Values that are said wrongly at first and taken back.
    #[serde(default)]
    pub slips: Vec<Slip>,
    /// Clips of the technician's voice: a folder beside the scenario's file, each named by its words.
    #[serde(default)]
    pub clips: Option<PathBuf>,
    /// The synthetic voice for words that no clip has, by its name for the synthesiser.
    pub voice: String,
    /// Its pace in words a minute.
    pub words_per_minute: u16,
    /// How long moving a probe takes, in milliseconds.
    pub probing_ms: u64,
}

/// A slip of the tongue.
#[derive(Debug, Clone, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Slip {
    /// At which pin.
    pub pin: String,
    /// What is said instead.
    pub says: String,
}

/// Why a scenario cannot be used.
#[derive(Debug, thiserror::Error)]
pub enum ScenarioError {
    /// The file cannot be read.
    #[error("{file}: {source}")]
    Unreadable {
        /// The file.
        file: String,
        /// Why.
        source: std::io::Error,
    },
    /// The file says something else than a scenario.
    #[error("{file}: {message}")]
    Malformed {
        /// The file.
        file: String,
        /// What is wrong, with its place.
        message: String,
    },
}

impl Scenario {
    /// Reads a scenario.
    ///
    /// # Errors
    /// [`ScenarioError`], which names the file.
    pub fn load(path: &Path) -> Result<Self, ScenarioError> {
        let file = path.display().to_string();
        let text = std::fs::read_to_string(path)
            .map_err(|source| ScenarioError::Unreadable { file: file.clone(), source })?;
        let mut scenario: Self = toml::from_str(&text)
            .map_err(|error| ScenarioError::Malformed { file, message: error.to_string() })?;
        // As written it is seen from the file.
        scenario.clips = scenario.clips.zip(path.parent()).map(|(clips, beside)| beside.join(clips));
        Ok(scenario)
    }
}
