//! Owns the sentence in front, and what may be wrong as a part of a sentence.

use crate::{quantity::Decimal, verdict::Class};
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// Circuits by their names for people, as many as are said.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum NamedCircuits {
    /// One.
    One(String),
    /// All of them.
    All(Vec<String>),
    /// Three, and how many more: nobody keeps eight names in mind.
    More {
        /// The first three.
        first: String,
        /// The second.
        second: String,
        /// The third.
        third: String,
        /// How many more.
        more: usize,
    },
}

/// What a suspect circuit does.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Does {
    /// It is shorted.
    Shorted,
    /// It leads to the case.
    LeaksToCase,
    /// It is open, contact checked.
    Open,
    /// It is over range, contact not checked.
    OverRange,
    /// It reads a number, the others of its family another one.
    BesideOthers {
        /// Its ohms.
        ohms: Decimal,
        /// Theirs.
        others: Decimal,
    },
    /// It reads a number, the one other of its family another one.
    BesideOther {
        /// Its ohms.
        ohms: Decimal,
        /// The other's.
        other: Decimal,
    },
    /// It reads a number, and has limits.
    BesideLimits {
        /// Its ohms.
        ohms: Decimal,
        /// The lower limit.
        low: Decimal,
        /// The upper limit.
        high: Decimal,
    },
    /// It reads a number.
    Reads {
        /// Its ohms.
        ohms: Decimal,
    },
    /// What its class says.
    Class(Class),
}

/// What may be wrong, to stand inside a sentence.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Suspicion {
    /// Nothing.
    Nothing,
    /// Something that has no name here.
    Other,
    /// One circuit is off.
    Off {
        /// Its name.
        circuit: String,
        /// What it does.
        does: Does,
    },
    /// Several are off, each by itself.
    SeveralOff {
        /// Their names.
        circuits: NamedCircuits,
    },
    /// All of a family are off alike.
    FamilyOff {
        /// Their names.
        circuits: NamedCircuits,
    },
    /// Two disagree.
    Disagree {
        /// Their names.
        circuits: NamedCircuits,
    },
    /// All read as nothing.
    AllShorted {
        /// Their names.
        circuits: NamedCircuits,
    },
    /// The contact at a common pin comes and goes.
    PinLoose {
        /// The pin.
        pin: String,
    },
    /// A common pin is open.
    PinOpen {
        /// The pin.
        pin: String,
    },
    /// A common pin adds resistance.
    PinAdds {
        /// The pin.
        pin: String,
        /// How much.
        ohms: f64,
    },
    /// A lead or the meter is open.
    LeadsBroken,
    /// Too little was taken off for the leads.
    LeadZeroLow {
        /// By how much.
        ohms: f64,
    },
    /// Too much was taken off for the leads.
    LeadZeroHigh {
        /// By how much.
        ohms: f64,
    },
    /// The part has another temperature than said.
    Temperature {
        /// About how many degrees Celsius.
        celsius: i32,
    },
    /// Circuits are joined.
    Joined {
        /// Their names.
        circuits: NamedCircuits,
    },
    /// The reading between two contradicts theirs.
    PairContradicts {
        /// Their names.
        circuits: NamedCircuits,
    },
    /// Circuits are swapped.
    Swapped {
        /// Their names.
        circuits: NamedCircuits,
    },
    /// A unit or a decimal point is wrong.
    Slip {
        /// Whose.
        circuits: NamedCircuits,
    },
    /// A circuit leads to the case.
    ToCase {
        /// Whose.
        circuits: NamedCircuits,
    },
    /// A common pin leads to the case.
    PinToCase {
        /// The pin.
        pin: String,
    },
    /// A bad contact that cleaning cured.
    Cured {
        /// Whose.
        circuits: NamedCircuits,
    },
    /// The wires.
    Wire {
        /// Whose.
        circuits: NamedCircuits,
    },
    /// A shared wire of the harness adds resistance.
    WireAdds {
        /// How much.
        ohms: f64,
    },
    /// A shared wire of the harness is open.
    WireOpen,
    /// The wires lose too much under load.
    Load {
        /// Whose.
        circuits: NamedCircuits,
    },
    /// Sound, and the code's cause lies elsewhere.
    Elsewhere {
        /// Whose.
        circuits: NamedCircuits,
    },
    /// Two things at once.
    And {
        /// One.
        first: Box<Suspicion>,
        /// The other.
        then: Box<Suspicion>,
    },
    /// One or the other.
    Or {
        /// One.
        first: Box<Suspicion>,
        /// The other.
        then: Box<Suspicion>,
    },
}

/// The sentence that is spoken and shown first.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Headline {
    /// There is nothing to judge.
    NothingMeasured,
    /// Everything was judged, and nothing is off.
    NothingFound {
        /// Deviations below that many percent would not show.
        smallest: Option<u32>,
    },
    /// Nothing is off so far.
    NothingSoFar {
        /// How many circuits were read.
        taken: usize,
        /// Of how many.
        askable: usize,
    },
    /// Nothing is off, and some could not be judged.
    NotAllJudged {
        /// How many.
        unjudged: usize,
    },
    /// Cleaning cured it.
    Cured {
        /// Whose terminal.
        circuits: NamedCircuits,
    },
    /// Circuits failed.
    Failed {
        /// Their names.
        circuits: NamedCircuits,
        /// What it does, where it is one.
        does: Option<Does>,
    },
    /// Circuits are probably off.
    ProbablyOff {
        /// Their names.
        circuits: NamedCircuits,
        /// What it does, where it is one.
        does: Option<Does>,
    },
    /// It is so.
    Surely {
        /// What.
        what: Suspicion,
    },
    /// It is probably so.
    Probably {
        /// What.
        what: Suspicion,
    },
    /// Sound circuits, and a stored code.
    Elsewhere,
    /// Sound circuits, and wires that lose too much.
    Load,
    /// One sentence and another.
    Then {
        /// The first.
        first: Box<Headline>,
        /// The second.
        then: Box<Headline>,
    },
    /// One of two or three.
    OneOf {
        /// Which.
        what: Suspicion,
    },
    /// Two disagree, and nothing says which is right.
    Disagree {
        /// Their names.
        circuits: NamedCircuits,
    },
    /// Cannot be told yet, with something that is likely.
    Perhaps {
        /// What.
        what: Suspicion,
    },
    /// Cannot be told.
    CannotTell,
    /// Closer to a limit than the meter can tell.
    TooClose {
        /// Their names.
        circuits: NamedCircuits,
    },
    /// In doubt.
    InDoubt {
        /// Their names.
        circuits: NamedCircuits,
    },
}

impl Headline {
    /// Whether it says that already, so that it is not worth being heard twice.
    #[must_use]
    pub fn tells(&self, suspicion: &Suspicion) -> bool {
        match self {
            Self::Surely { what } | Self::Probably { what } | Self::Perhaps { what } => what == suspicion,
            Self::Failed { circuits, does } | Self::ProbablyOff { circuits, does } => {
                match (circuits, suspicion) {
                    (NamedCircuits::One(name), Suspicion::Off { circuit, does: known }) => {
                        name == circuit && does.as_ref() == Some(known)
                    }
                    (circuits, Suspicion::SeveralOff { circuits: known }) => circuits == known,
                    _ => false,
                }
            }
            Self::Then { first, then } => match suspicion {
                Suspicion::And { first: one, then: other } => first.tells(one) && then.tells(other),
                one => first.tells(one) || then.tells(one),
            },
            Self::Cured { circuits } => {
                matches!(suspicion, Suspicion::Cured { circuits: known } if known == circuits)
            }
            Self::Disagree { circuits } => {
                matches!(suspicion, Suspicion::Disagree { circuits: known } if known == circuits)
            }
            _ => false,
        }
    }
}
