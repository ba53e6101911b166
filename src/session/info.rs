//! Owns the answers to questions: how far, why, what was read, which is the worst, where a pin is.

use super::{
    message::{Info, Message},
    state::{State, Task},
    step::Session,
};
use crate::{
    profile::{PinName, place_of},
    verdict::{Class, Finding},
};

/// From this score on a circuit differs clearly from the others: the usual cut-off of the modified z score (B. Iglewicz and
/// D. C. Hoaglin, "How to detect and handle outliers", 1993; from memory).
const CLEARLY: f64 = 3.5;

impl Session {
    /// How far the session is.
    pub(super) fn status(&self, state: &State) -> Message {
        let status = Info::Status { read: state.standing().count(), left: state.left() };
        Message::from(status).then(self.prompt(state))
    }

    /// Why the last reading got its verdict, short enough to be heard.
    pub(super) fn why(&self, state: &State) -> Info {
        let Some(taken) = state.standing().last() else { return Info::NothingReadYet };
        let circuit = self.circuit(&state.plan[taken.task]);
        match self.judge(state) {
            Err(refusal) => Info::Refused { why: refusal.to_string() },
            Ok(judgement) => match judgement.finding(&circuit.id, state.plan[taken.task].station) {
                Some(finding) => because(self.called(state, &circuit.id), finding),
                None => Info::WhyNotJudged { circuit: self.called(state, &circuit.id) },
            },
        }
    }

    /// What was read at a pin.
    pub(super) fn what_was(&self, state: &State, pin: &PinName) -> Message {
        let at_pin = |task: &Task| self.circuit(task).is_at(pin);
        let pin = pin.to_string();
        let Some(taken) = state.standing().filter(|taken| at_pin(&state.plan[taken.task])).last() else {
            return Info::PinNotRead { pin }.into();
        };
        let circuit = self.called(state, &self.circuit(&state.plan[taken.task]).id);
        let read = self.read_back(state, taken.task);
        Message::from(Info::WhatWas { pin, circuit }).then(Some(read))
    }

    /// The reading that is furthest off so far.
    pub(super) fn worst(&self, state: &State) -> Info {
        let Ok(judgement) = self.judge(state) else { return Info::NothingToCompare };
        let key = |finding: &&Finding| (finding.class.is_suspect(), finding.peer_score.map_or(0.0, f64::abs));
        let worst = judgement
            .findings
            .iter()
            .filter(|finding| finding.class != Class::NotTaken)
            .max_by(|a, b| key(a).partial_cmp(&key(b)).unwrap_or(std::cmp::Ordering::Equal));
        match worst.and_then(|finding| Some((finding, self.profile.circuit(&finding.circuit)?))) {
            Some((finding, circuit)) if finding.class.is_suspect() => {
                because(self.called(state, &circuit.id), finding)
            }
            Some(_) => Info::NoneStandsOut,
            None => Info::NothingReadYet,
        }
    }

    /// Where a pin is on the connector; without a pin, the one that is waited for.
    pub(super) fn where_is(&self, state: &State, pin: Option<&PinName>) -> Message {
        let here = state.current().map(|task| &self.circuit(task).pin);
        let Some(pin) = pin.or(here) else {
            return Message::from(Info::NoPinIsWaiting).then(self.prompt(state));
        };
        let place = Some(place_of(&self.profile, pin)).filter(|place| !place.is_empty());
        Info::WhereIs { pin: pin.to_string(), place }.into()
    }
}

/// A finding with its numbers.
fn because(circuit: String, finding: &Finding) -> Info {
    let far = finding.peer_score.is_some_and(|score| score.abs() >= CLEARLY);
    Info::Why {
        circuit,
        class: finding.class,
        resistance: finding.resistance,
        window: finding.limits,
        unlike: far && finding.class != Class::UnlikePeers,
    }
}
