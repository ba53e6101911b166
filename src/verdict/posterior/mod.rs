//! Owns the one posterior that everything said follows from: what may be wrong with circuits, with what they share, and
//! with the measuring, in one sum. `MODEL.md` has the whole statement; `priors.rs` has the figures.

mod beside;
mod density;
mod family;
mod network;
mod plane;
mod priors;
mod structure;

#[cfg(test)]
mod tests;

use super::{Station, analysis::Analysis};
use crate::profile::{CircuitId, PinName};
use serde::{Deserialize, Serialize};

/// What may be wrong. The probabilities of all that are weighed sum to 1.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, schemars::JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Hypothesis {
    /// Nothing that matters.
    Nothing,
    /// These circuits, and they alone: themselves, their terminal or (through the harness) their wires.
    Faulty {
        /// Which.
        circuits: Vec<CircuitId>,
    },
    /// A whole family is off its window alike.
    FamilyOff {
        /// Its members.
        circuits: Vec<CircuitId>,
    },
    /// A family's members disagree, and no majority says which are right.
    Disagree {
        /// Its members.
        circuits: Vec<CircuitId>,
    },
    /// All of a family read as nothing: one short, or the probes on each other.
    AllShorted {
        /// Its members.
        circuits: Vec<CircuitId>,
    },
    /// A pin that circuits share does not conduct.
    SharedOpen {
        /// The pin.
        pin: PinName,
        /// Where.
        at: SharedPlace,
        /// The circuits on it that were read.
        circuits: Vec<CircuitId>,
    },
    /// Resistance in a pin that circuits share.
    SharedResistance {
        /// The pin.
        pin: PinName,
        /// Where.
        at: SharedPlace,
        /// How much, in ohms.
        ohms: f64,
        /// The circuits on it that were read.
        circuits: Vec<CircuitId>,
    },
    /// A lead or the meter is open.
    LeadsBroken,
    /// The lead zero is wrong by so many ohms (above zero: more was to be taken off).
    LeadZero {
        /// How much.
        ohms: f64,
    },
    /// The part is not as warm as said.
    Temperature {
        /// How warm the readings make it, in °C.
        celsius: f64,
    },
    /// Circuits are joined.
    Joined {
        /// Which.
        circuits: Vec<CircuitId>,
    },
    /// A reading from pin to pin that goes with neither: the probes touched, or they are joined at times.
    PairContradicts {
        /// Which.
        circuits: Vec<CircuitId>,
    },
    /// Two circuits read in each other's place.
    Swapped {
        /// Which.
        circuits: Vec<CircuitId>,
    },
    /// The prefix or the decimal point of a reading is wrong.
    Slip {
        /// Whose.
        circuits: Vec<CircuitId>,
    },
    /// A circuit, or a pin that many share, leads to the case.
    ToCase {
        /// Which circuits.
        circuits: Vec<CircuitId>,
        /// The shared pin, where it is that.
        pin: Option<PinName>,
    },
    /// A bad contact that cleaning cured.
    Cured {
        /// Whose.
        circuits: Vec<CircuitId>,
    },
    /// A wire or terminal of the harness, each its own.
    Wire {
        /// Whose.
        circuits: Vec<CircuitId>,
    },
    /// A wire or terminal of the harness that circuits share.
    WireShared {
        /// Whose.
        circuits: Vec<CircuitId>,
        /// How much, in ohms.
        ohms: f64,
    },
    /// A wire loses too much under load.
    Load {
        /// Whose.
        circuits: Vec<CircuitId>,
    },
    /// A stored code names it and it reads sound: control side, or a fault that comes and goes.
    Elsewhere {
        /// Which.
        circuits: Vec<CircuitId>,
    },
    /// More than one of these.
    Both {
        /// Which.
        all: Vec<Hypothesis>,
    },
    /// Anything else: other circuits, more of them, or fewer.
    Other,
}

/// Where at a shared pin.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, schemars::JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum SharedPlace {
    /// At the probe or clip that stays on it.
    Clip,
    /// In its terminal.
    Terminal,
    /// Behind it, inside the part.
    Inside,
    /// It comes and goes.
    Loose,
}

/// A hypothesis with its probability.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, schemars::JsonSchema)]
pub struct Weighed {
    /// What.
    pub hypothesis: Hypothesis,
    /// Between 0 and 1.
    pub probability: f64,
}

/// What the posterior says of one row.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct RowHeld {
    /// Probability that what it reads is not what a sound circuit, well measured, reads. None: nothing to weigh it by.
    pub off: Option<f64>,
    /// Probability that it is itself to blame (part, terminal or wire of its own).
    pub own: f64,
    /// Whether the reading was really judged: a deviation of its own would have shown.
    pub judged: bool,
    /// The smallest deviation that would have shown, as a share.
    pub smallest: Option<f64>,
    /// What its family (or window) leads to expect, with its standard uncertainty.
    pub expected: Option<(f64, f64)>,
    /// Its family cannot say who is right.
    pub undecided: bool,
}

impl RowHeld {
    pub const NONE: Self =
        Self { off: None, own: 0.0, judged: false, smallest: None, expected: None, undecided: false };
}

/// The posterior.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Posterior {
    pub rows: Vec<RowHeld>,
    /// Likeliest first; sums to 1.
    pub hypotheses: Vec<Weighed>,
}

pub(super) use priors::CASE_ASSUMED;

/// Hypotheses below this are not carried through products.
const LEAST: f64 = 5e-4;

/// Weighs everything.
pub(super) fn weigh(analysis: &Analysis<'_>) -> Posterior {
    let mut rows = vec![RowHeld::NONE; analysis.rows.len()];
    let mut parts: Vec<Vec<Weighed>> = Vec::new();
    parts.push(plane::weigh(analysis, Station::Component, &mut rows));
    parts.push(plane::weigh(analysis, Station::Harness, &mut rows));
    parts.extend(beside::wires(analysis, &mut rows));
    parts.extend(beside::case(analysis, &mut rows));
    parts.extend(beside::loads(analysis));
    let mut all = vec![Weighed { hypothesis: Hypothesis::Nothing, probability: 1.0 }];
    for part in parts {
        all = product(&all, &part);
    }
    beside::codes(analysis, &rows, &mut all);
    beside::cured(analysis, &rows, &mut all);
    all.sort_by(|a, b| b.probability.total_cmp(&a.probability));
    Posterior { rows, hypotheses: all }
}

/// Two independent parts of the whole; what is too unlikely goes to "other".
fn product(one: &[Weighed], two: &[Weighed]) -> Vec<Weighed> {
    let mut all: Vec<Weighed> = Vec::new();
    let mut other = 0.0;
    for a in one {
        for b in two {
            let probability = a.probability * b.probability;
            if probability < LEAST {
                other += probability;
                continue;
            }
            push(&mut all, both(&a.hypothesis, &b.hypothesis), probability);
        }
    }
    if other > 0.0 {
        push(&mut all, Hypothesis::Other, other);
    }
    all
}

fn push(all: &mut Vec<Weighed>, hypothesis: Hypothesis, probability: f64) {
    match all.iter_mut().find(|known| known.hypothesis == hypothesis) {
        Some(known) => known.probability += probability,
        None => all.push(Weighed { hypothesis, probability }),
    }
}

/// Two at once.
fn both(a: &Hypothesis, b: &Hypothesis) -> Hypothesis {
    use Hypothesis::{Both, Faulty, Nothing, Other};
    match (a, b) {
        (Nothing, other) | (other, Nothing) => other.clone(),
        (Other, _) | (_, Other) => Other,
        (Faulty { circuits: a }, Faulty { circuits: b }) => {
            let mut circuits = a.clone();
            circuits.extend(b.iter().filter(|id| !a.contains(id)).cloned());
            Faulty { circuits }
        }
        (Both { all }, one) | (one, Both { all }) => {
            let mut all = all.clone();
            // Faulty ones are kept as one set.
            match (all.iter().position(|known| matches!(known, Faulty { .. })), one) {
                (Some(at), Faulty { .. }) => all[at] = both(&all[at], one),
                _ => all.push(one.clone()),
            }
            Both { all }
        }
        (a, b) => Both { all: vec![a.clone(), b.clone()] },
    }
}
