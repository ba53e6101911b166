//! Owns what is said beyond the short lines, for somebody who begins: where the pin is, what a verdict means, how to answer.

use super::{
    flow::Session,
    state::{Prompts, State},
};
use crate::{profile::place_of, verdict::Class};

impl Session {
    /// The line, with more behind it where full lines are wanted.
    pub(super) fn fuller(&self, state: &State, line: String, more: impl FnOnce() -> String) -> String {
        match state.prompts {
            Prompts::Short => line,
            Prompts::Full => line + &more(),
        }
    }

    /// Where the pin of a task is, and what to do there.
    pub(super) fn fuller_task(&self, state: &State, place: usize) -> String {
        let pin = &self.circuit(&state.plan[place]).pin;
        let place = place_of(&self.profile, pin);
        format!(" {}. What does the meter show?", super::lines::capital(&place))
    }
}

/// What a verdict means for what happens next, in a sentence.
pub(super) fn meaning(class: Class) -> &'static str {
    match class {
        Class::Within => "That is well inside its window.",
        Class::WithinDoubtful => "Inside its window, but this meter cannot tell it from the limit.",
        Class::OutsideDoubtful => "Outside its window, but this meter cannot tell it from the limit.",
        Class::Outside => "That is outside its window. It comes again at the end, with the terminal cleaned.",
        Class::UnlikePeers => {
            "It differs from the circuits that should read like it. It comes again at the end."
        }
        Class::LikePeers => "It reads like the circuits that it should read like.",
        Class::OverRangeUnchecked => "Leads and contact are checked before it counts as open.",
        Class::Open => "Leads and contact were checked: it is open.",
        Class::Shorted => "Almost nothing is left once the leads are taken off.",
        Class::Unstable => "Press the probes on firmly; it comes again at the end.",
        Class::Leakage => "That is too little against the case.",
        Class::NotJudged => "There is nothing yet to judge it by.",
        Class::NotTaken => "It was left out.",
    }
}
