//! Owns why one circuit reads off: weights for each possible cause, each with the reasons that moved it.
//!
//! The weights are judgement put into numbers, not statistics (no source): a start for each cause, multiplied by what
//! each piece of evidence is worth. They are kept in one place so that they can be argued about. What *is* statistics,
//! whether a circuit is off at all, comes from [`super::peers`] and [`super::window`].

use super::{
    Cause, Class, PatternKind, Reason, Station,
    analysis::{Analysis, Row, known_good_after},
    observed::{Standing, standing},
    single::State,
};
use super::{Observed, Pattern};

/// The causes that are weighed, in the order of the weights.
pub(super) const CAUSES: [Cause; 6] = [
    Cause::Component,
    Cause::Wiring,
    Cause::Connection,
    Cause::SharedReturn,
    Cause::ControlOrMechanical,
    Cause::Measurement,
];

/// Before any evidence but that it reads off.
const START: [f64; 6] = [0.50, 0.12, 0.22, 0.02, 0.02, 0.12];

/// What is shared evenly among all causes whatever the evidence.
const KEPT: f64 = 0.06;

/// Weights that sum to 1, in the order of [`CAUSES`], with the reasons.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Weighing {
    pub weights: [f64; 6],
    /// Cause, whether it speaks for it, and why.
    pub reasons: Vec<(Cause, bool, Reason)>,
}

impl Weighing {
    fn new() -> Self {
        Self { weights: START, reasons: Vec::new() }
    }

    /// Multiplies weights and notes the reason with each cause that it moves clearly.
    fn count(&mut self, factors: [f64; 6], text: &str, measurements: &[u32]) {
        for ((weight, factor), cause) in self.weights.iter_mut().zip(factors).zip(CAUSES) {
            *weight *= factor;
            if !(0.67..=1.5).contains(&factor) {
                let reason = Reason { text: text.to_owned(), measurements: measurements.to_vec() };
                self.reasons.push((cause, factor > 1.0, reason));
            }
        }
    }

    /// Makes the sum 1. A little is kept for every cause: weights like these cannot rule any of them out.
    fn normalise(mut self) -> Self {
        let sum: f64 = self.weights.iter().sum();
        for weight in &mut self.weights {
            *weight = (1.0 - KEPT) * *weight / sum + KEPT / CAUSES.len() as f64;
        }
        self
    }
}

/// Weighs the causes of one suspect.
pub(super) fn weigh(
    analysis: &Analysis<'_>,
    row: &Row<'_>,
    patterns: &[Pattern],
    observed: &[Observed],
) -> Weighing {
    let mut weighing = Weighing::new();
    let name = &row.circuit.name;
    let ids = &row.reduced.ids;
    //                comp  wire  conn  shar  ctrl  meas
    if row.class == Class::Unstable {
        weighing.count([0.6, 1.6, 5.0, 2.0, 0.3, 2.0], &format!("{name} wanders, as bad contacts do"), ids);
    }
    if super::patterns::is_open(row.class) {
        if let State::OverRange { first, .. } = row.reduced.state
            && known_good_after(analysis, row.circuit, first)
        {
            weighing.count(
                [1.0, 1.0, 1.0, 0.2, 1.0, 0.2],
                "another circuit read a number afterwards with the same leads",
                ids,
            );
        } else {
            weighing.count(
                [1.0, 1.0, 1.5, 2.0, 0.5, 4.0],
                "no circuit was read after it with the same leads",
                ids,
            );
        }
    }
    if row.class == Class::OverRangeUnchecked && row.reduced.cleaned == 0 {
        weighing.count(
            [1.0, 1.0, 3.0, 1.0, 0.5, 1.0],
            &format!("the terminal of {name} was not cleaned and probed again yet"),
            ids,
        );
    }
    if row.class == Class::Shorted {
        weighing.count([2.0, 1.5, 0.1, 0.1, 0.5, 0.5], "a bad contact never reads too little", ids);
    }
    if row.class == Class::Leakage {
        weighing.count([1.0, 1.0, 0.7, 0.2, 0.5, 0.6], &format!("{name} leaks to the case"), ids);
    }
    if let (Some(number), Some(held)) = (row.number(), row.held)
        && let Some(expected) = held.expected
        && row.class != Class::Shorted
    {
        if number.value < expected {
            weighing.count(
                [2.0, 0.7, 0.1, 0.2, 0.5, 0.6],
                &format!("{name} reads less than its family: a bad contact only adds"),
                ids,
            );
        } else if number.value > 1.5 * expected {
            weighing.count(
                [1.0, 1.0, 1.5, 1.0, 0.7, 1.0],
                &format!("{name} reads much more than its family"),
                ids,
            );
        }
    }
    if row.reduced.cleaned > 0 {
        weighing.count(
            [1.0, 1.0, 0.12, 1.0, 1.0, 0.15],
            "it stayed so with the terminal cleaned and probed again",
            ids,
        );
    }
    stations(analysis, row, &mut weighing);
    for pattern in patterns.iter().filter(|pattern| pattern.circuits.contains(&row.circuit.id)) {
        match pattern.kind {
            PatternKind::SharedOffset => {
                weighing.count([0.2, 0.5, 0.7, 60.0, 0.5, 6.0], &pattern.text, ids);
            }
            PatternKind::SharedFactor => {
                weighing.count([0.3, 0.2, 0.2, 1.0, 0.5, 12.0], &pattern.text, ids);
            }
            PatternKind::Joined => {
                weighing.count([0.8, 4.0, 1.0, 4.0, 0.5, 0.7], &pattern.text, ids);
            }
            PatternKind::Swapped => {
                weighing.count([0.05, 8.0, 0.2, 0.2, 0.5, 4.0], &pattern.text, ids);
            }
            PatternKind::EverythingOpen => {
                weighing.count([0.05, 0.3, 0.5, 20.0, 0.3, 10.0], &pattern.text, ids);
            }
            PatternKind::OneOutlier => {
                weighing.count([1.0, 1.0, 1.0, 0.1, 1.0, 0.6], &pattern.text, ids);
            }
            PatternKind::Undecided | PatternKind::Drift => {}
        }
    }
    for one in
        observed.iter().filter(|one| one.circuits.contains(&row.circuit.id) && one.sound == Some(false))
    {
        match one.about {
            super::About::Load | super::About::VoltageDrop => {
                weighing.count([0.6, 4.0, 3.0, 2.0, 0.6, 0.7], &one.text, &one.measurements);
            }
            // Off through the harness and sound at the part: that says the same of the same readings already.
            super::About::Loop if row.station == Station::Harness => {}
            super::About::Loop => {
                weighing.count([0.5, 5.0, 3.0, 1.0, 0.7, 1.0], &one.text, &one.measurements)
            }
            super::About::Relation => {
                weighing.count([0.4, 3.0, 1.0, 10.0, 0.7, 0.7], &one.text, &one.measurements);
            }
            _ => {}
        }
    }
    if analysis.evidence.codes.iter().any(|code| code.circuit.as_ref() == Some(&row.circuit.id)) {
        weighing.count([1.3, 1.3, 1.3, 1.0, 1.0, 0.3], "the stored code names this circuit", &[]);
    } else if analysis
        .evidence
        .codes
        .iter()
        .any(|code| matches!(standing(analysis, code.circuit.as_ref()), Standing::Sound | Standing::NotRead))
    {
        weighing.count([0.9, 0.9, 0.9, 1.0, 1.0, 2.0], "the stored code names another circuit", &[]);
    }
    weighing.normalise()
}

/// What the same circuit reads elsewhere.
fn stations(analysis: &Analysis<'_>, row: &Row<'_>, weighing: &mut Weighing) {
    let ids = &row.reduced.ids;
    match row.station {
        Station::Component => {
            weighing.count(
                [1.3, 0.05, 1.0, 1.0, 0.1, 1.0],
                "read at the part itself, with the harness off",
                ids,
            );
        }
        Station::Harness => match analysis.row(row.circuit, Station::Component) {
            Some(part) if part.taken() && !part.class.is_suspect() && part.class != Class::NotJudged => {
                let both: Vec<u32> = ids.iter().chain(&part.reduced.ids).copied().collect();
                weighing.count([0.03, 4.0, 2.0, 1.0, 0.3, 1.0], "at the part itself it reads sound", &both);
            }
            Some(part) if part.class.is_suspect() => {
                let both: Vec<u32> = ids.iter().chain(&part.reduced.ids).copied().collect();
                weighing.count(
                    [2.0, 0.08, 0.7, 1.0, 0.1, 0.7],
                    "at the part itself it reads off as well",
                    &both,
                );
            }
            _ => {}
        },
        Station::Case => {
            // Wet pins of the part leak as well: the contact is not ruled out.
            weighing.count(
                [1.3, 0.1, 1.5, 0.3, 0.1, 1.0],
                "read at the part's own pin to the case, with the harness off",
                ids,
            );
        }
    }
}
