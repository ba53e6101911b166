//! Owns how a verdict looks: a shape, a word and a tone, never the tone alone.

use crate::verdict::{Class, Finding, Judgement};
use crate::{profile::CircuitId, verdict::Station};

/// How much a verdict asks for attention. Ordered: the later one wins where several meet.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Mark {
    /// Nothing measured: dashed circle.
    Open,
    /// Measured, nothing to judge it by: ring.
    Noted,
    /// Sound: disc.
    Sound,
    /// Not to be told with this meter or not yet checked: triangle.
    Doubtful,
    /// Speaks against the circuit: octagon.
    Suspect,
}

pub(super) fn mark(class: Class) -> Mark {
    match class {
        Class::Within | Class::LikePeers => Mark::Sound,
        Class::WithinDoubtful | Class::OutsideDoubtful | Class::OverRangeUnchecked => Mark::Doubtful,
        Class::NotJudged => Mark::Noted,
        Class::NotTaken => Mark::Open,
        Class::Outside
        | Class::UnlikePeers
        | Class::Open
        | Class::Shorted
        | Class::Unstable
        | Class::Leakage => Mark::Suspect,
    }
}

impl Mark {
    /// For the terminal: two signs at most.
    pub(super) fn signs(self) -> &'static str {
        match self {
            Self::Open => "..",
            Self::Noted => "o",
            Self::Sound => "=",
            Self::Doubtful => "?",
            Self::Suspect => "!!",
        }
    }

    /// Name of its style and shape on pages.
    pub(super) fn name(self) -> &'static str {
        match self {
            Self::Open => "none",
            Self::Noted => "noted",
            Self::Sound => "sound",
            Self::Doubtful => "doubt",
            Self::Suspect => "suspect",
        }
    }
}

/// The finding of a circuit that asks for most attention, over all stations; the first of equals.
pub(super) fn worst<'a>(judgement: &'a Judgement, circuit: &CircuitId) -> Option<&'a Finding> {
    let found = judgement.findings.iter().filter(|finding| finding.circuit == *circuit);
    found.reduce(|worst, next| if mark(next.class) > mark(worst.class) { next } else { worst })
}

/// Whether a finding stands only because nothing was taken there.
pub(super) fn is_empty(finding: &Finding) -> bool {
    finding.class == Class::NotTaken && finding.station == Station::Component
}
