//! Owns what the commands about records tell, as values.

use schemars::JsonSchema;
use serde::Serialize;

/// A line of such a command.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, JsonSchema)]
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
