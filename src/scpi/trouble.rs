//! Owns what can be the matter with a meter on a line, as values.

use schemars::JsonSchema;
use serde::Serialize;

/// Why no reading came from the meter.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum MeterTrouble {
    /// No meter is on a line in this session.
    NotNamed,
    /// The line cannot be opened, or is gone.
    Gone {
        /// The device.
        port: String,
        /// What the system says.
        why: String,
    },
    /// The meter does not answer.
    Silent,
    /// It answers with an error.
    Refuses {
        /// Its error, as sent.
        error: String,
    },
    /// It answers something that is no reading.
    NoReading {
        /// The beginning of what it sent.
        sent: String,
    },
    /// It says that it has no number to show.
    NoNumber,
    /// It is set to something else than ohms.
    NotOhms,
    /// The display does not come to rest.
    Restless,
}
