//! Owns what the commands about records tell, as values.

use crate::{quantity::Ohms, verdict::Station};
use schemars::JsonSchema;
use serde::Serialize;

/// A line of such a command.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Told {
    /// Nothing speaks against the journal.
    Verified,
    /// Something does.
    NotVerified {
        /// How many things.
        faults: usize,
    },
    /// In front of something that speaks against the journal.
    Fault {
        /// What it is, in words.
        what: String,
    },
    /// Where the new journal lies.
    SalvagedTo {
        /// The path.
        path: String,
        /// How many lines it has from the old one.
        kept: u64,
        /// How many clips.
        clips: u64,
    },
    /// Nothing is lost.
    NothingLost,
    /// Lines that are lost.
    LinesLost {
        /// Their places in the old file, in words.
        lines: String,
        /// How many.
        count: u64,
    },
    /// Lines in which one wrong byte was put right.
    LinesMended {
        /// Their places in the old file, in words.
        lines: String,
    },
    /// Bytes at the end that are no whole line.
    EndLost {
        /// How many.
        bytes: u64,
    },
    /// The old journal is where it was.
    OldUntouched {
        /// The path.
        path: String,
    },
    /// The sound of a session was taken away.
    Forgot {
        /// The journal.
        path: String,
        /// How many clips.
        clips: usize,
    },
    /// There was no sound to take away.
    ForgotNothing,
    /// What remains once sound is taken away.
    ForgotRemains,
    /// The page with the sound inside it was written.
    OneFile {
        /// The page.
        page: String,
        /// Its size.
        kilobytes: usize,
        /// How many clips are in it.
        clips: usize,
    },
    /// A clip that is not in the page.
    NotEnclosed {
        /// Its file name.
        clip: String,
        /// Why, in words.
        why: String,
    },
    /// A session of the history.
    HistorySession {
        /// When it was begun, in local time.
        begun: String,
        /// The part.
        part: String,
        /// How it stands: broken-off, stopped or concluded.
        ending: String,
        /// What the job was called.
        job: Option<String>,
        /// The vehicle.
        vehicle: Option<String>,
        /// The order.
        order: Option<String>,
        /// Serial number of the part.
        serial: Option<String>,
        /// Whether a simulated technician took part.
        simulated: bool,
    },
    /// How many sessions are listed, of how many that fit.
    HistoryCount {
        /// Listed.
        shown: u64,
        /// That fit.
        all: u64,
    },
    /// A journal that is missing in the history.
    HistoryWithout {
        /// The path.
        path: String,
        /// What is wrong with it.
        why: String,
    },
    /// The last session of the same part.
    LastTime {
        /// When it was begun, in local time.
        begun: String,
        /// The sentence in front of what was judged.
        headline: String,
        /// The journal.
        path: String,
    },
    /// There is no earlier session of the same part.
    FirstTime {
        /// What tells it from others.
        identity: String,
    },
    /// A circuit beside its last time and the others of its kind; in ohms at 20 °C.
    Beside {
        /// The circuit.
        circuit: String,
        /// Where it was read.
        station: String,
        /// Now.
        now: f64,
        /// The last time.
        last: Option<f64>,
        /// Median of the others.
        median: Option<f64>,
        /// Their standard deviation.
        spread: Option<f64>,
        /// How many they are.
        parts: u32,
        /// How many standard deviations it is off.
        off: Option<f64>,
    },
    /// Nothing of a session can be brought to 20 °C.
    NothingToCompare,
    /// What a circuit read on earlier parts, at 20 °C.
    Learned {
        /// The circuit.
        circuit: String,
        /// Where it was read.
        station: Station,
        /// The median.
        median: Ohms,
        /// The standard deviation between parts.
        spread: Option<Ohms>,
        /// On how many parts.
        parts: u32,
    },
    /// No part was measured yet that teaches anything.
    LearnedNothing {
        /// The part.
        part: String,
    },
}

/// Numbers as short as they can be said: 4, 7 to 9. The sign between the first and the last is a dash.
pub(super) fn ranges(numbers: &[u64]) -> String {
    let mut parts: Vec<(u64, u64)> = Vec::new();
    for number in numbers {
        match parts.last_mut() {
            Some((_, last)) if *last + 1 == *number => *last = *number,
            _ => parts.push((*number, *number)),
        }
    }
    let part = |(first, last): &(u64, u64)| {
        if first == last { first.to_string() } else { format!("{first}-{last}") }
    };
    parts.iter().map(part).collect::<Vec<_>>().join(", ")
}

#[cfg(test)]
mod tests {
    #[test]
    fn numbers_in_a_row_are_one_part() {
        assert_eq!(super::ranges(&[2, 4, 5, 6, 9]), "2, 4-6, 9");
        assert_eq!(super::ranges(&[]), "");
    }
}
