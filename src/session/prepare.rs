//! Owns the beginning: cautions, and what is taken anew when a session goes on, or 30 minutes have passed.

use super::{
    message::Info,
    state::{Phase, Preparation, State},
    step::Session,
    turn::Turn,
};
use crate::verdict::Station;
use jiff::{SignedDuration, Timestamp};

/// How long safety answers, leads and temperature hold. Common practice, no source.
const PREPARATION_HOLDS: SignedDuration = SignedDuration::from_mins(30);

impl Session {
    pub(super) fn first_of_preparation(&self) -> Phase {
        if self.profile.gates.is_empty() { Phase::Temperature } else { Phase::Gate(0) }
    }

    pub(super) fn preparation_is_old(&self, state: &State, at: Timestamp) -> bool {
        let complete = state.preparations.last().and_then(|preparation| preparation.complete);
        complete.is_none_or(|complete| at.duration_since(complete) > PREPARATION_HOLDS)
    }
}

impl Turn<'_> {
    /// Begins, or begins again after a break: everything that keeps a person safe is taken anew.
    pub(super) fn start(&mut self) {
        self.state.last_activity = Some(self.at);
        let again = !self.state.preparations.is_empty();
        self.cautions_at_start(again);
        let left = self.state.left();
        self.begin_preparation();
        if self.session.codes_are_open(self.state) {
            self.state.phase = Phase::Codes;
        }
        match (again, left) {
            (false, _) => self.prompt(),
            (true, 0) => self.prompt_after(Info::GoingOnAllRead),
            (true, left) => self.prompt_after(Info::GoingOn { left }),
        }
    }

    /// The clock was set. Set back, everything taken before is as old as it was; set ahead it counts as older: between the clock
    /// and the time that passed, the stricter one holds.
    pub(super) fn clock_set(&mut self, by: SignedDuration) {
        if by >= SignedDuration::ZERO {
            return;
        }
        let state = &mut *self.state;
        let moved = |at: &mut Timestamp| *at = at.checked_add(by).unwrap_or(Timestamp::MIN);
        state.last_activity.iter_mut().for_each(moved);
        state.perhaps_woken.iter_mut().for_each(moved);
        for preparation in &mut state.preparations {
            preparation.complete.iter_mut().for_each(moved);
        }
    }

    /// Thirty minutes are over: what was prepared no longer holds.
    pub(super) fn prepare_again(&mut self) {
        self.begin_preparation();
        self.prompt_after(Info::PreparationIsOld);
    }

    fn begin_preparation(&mut self) {
        let state = &mut *self.state;
        if let Phase::Reading(place) | Phase::StationGate { task: place, .. } = state.phase {
            state.return_to = Some(place);
        }
        // The gates before measuring set everything up at the part.
        state.station = Station::Component;
        state.ask = None;
        state.paused = false;
        if !state.rules.are_first() {
            // "Wrong" at a gate must not lead past it to a reading of before the break.
            state.inputs.clear();
        }
        state.preparations.push(Preparation::default());
        state.phase = self.session.first_of_preparation();
    }
}
