//! Owns the rules by which a session takes what is heard and typed, by their number. A journal notes them when it is opened, so
//! that an old one is followed by the rules of its time and keeps its meaning.

use serde::{Deserialize, Serialize};

/// Which rules are followed.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Default, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Rules {
    /// Of journals that name none: a value heard twice in doubt is taken, "yes" confirms a gate's phrase that was heard in doubt, typed
    /// values are taken as typed, leads that read high twice are taken, "wrong" takes back once.
    #[default]
    First,
    /// A value heard in doubt is proved by something new, a gate by its own phrase; typed values are checked against the display as
    /// spoken ones are; leads that cannot be are refused; "wrong" goes back further each time.
    Second,
    /// Besides, the meter is proven on a known source before and after "no voltage" is said at the control unit's plug.
    Third,
}

impl Rules {
    /// Those of this program.
    pub const NOW: Self = Self::Third;

    /// Whether "dead" is only taken between two proofs of the meter.
    pub(super) fn prove_the_meter(self) -> bool {
        self >= Self::Third
    }

    /// Whether those of journals without rules are followed.
    pub(super) fn are_first(self) -> bool {
        self == Self::First
    }
}
