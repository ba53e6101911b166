//! Owns the plan: which reading comes next, and what is put on it when the round is through.

use super::{
    state::{Awaited, Phase, Preparation, Purpose, State, Task},
    step::Session,
    turn::Turn,
};
use crate::{
    quantity::Reading,
    verdict::{self, Cause, CheckAction, Contact},
};
use jiff::Timestamp;

/// How often one circuit is read again at the most, so that a session always ends.
const MOST_RECHECKS: usize = 3;

impl Turn<'_> {
    /// Goes to the next task that has no reading; plans suspects when the round is through.
    pub(super) fn advance(&mut self, from: usize) {
        let start = self.state.return_to.take().unwrap_or(from);
        loop {
            let open = |place: &usize| self.state.answer(*place).is_none();
            let next = (start..self.state.plan.len()).find(open).or_else(|| (0..start).find(open));
            match next {
                Some(place) => return self.go_to(place),
                None if self.plan_rechecks() || self.plan_marked() => {}
                None => {
                    self.state.phase = self.session.after_the_plan(self.state);
                    return;
                }
            }
        }
    }

    /// Puts the engine's most telling checks on the plan, as far as the session can lead through them. Tells whether it did.
    fn plan_rechecks(&mut self) -> bool {
        let Ok(judgement) = self.session.judge(self.state) else { return false };
        let profile = &self.session.profile;
        let before = self.state.plan.len();
        for check in &judgement.next_checks {
            let (purpose, contact) = match check.action {
                CheckAction::CleanAndReadAgain => (Purpose::Recheck, Contact::Cleaned),
                CheckAction::ReadAgain => (Purpose::Recheck, Contact::Usual),
                CheckAction::ReadKnownGood => (Purpose::KnownGood, Contact::Usual),
                // Other stations are offered; what else there is the session does not lead through.
                _ => continue,
            };
            let found =
                check.circuit.as_ref().and_then(|id| profile.circuits.iter().position(|one| one.id == *id));
            let Some(circuit) = found else { continue };
            let station = check.station.unwrap_or_default();
            self.plan_again(Task { circuit, station, purpose, contact });
        }
        self.state.plan.len() > before
    }

    /// A reading that was not heard clearly and decides the conclusion is read again. Tells whether one is.
    fn plan_marked(&mut self) -> bool {
        let before = self.state.plan.len();
        for task in self.session.marked_that_decide(self.state) {
            self.plan_again(Task { purpose: Purpose::Recheck, contact: Contact::Usual, ..task });
        }
        self.state.plan.len() > before
    }

    /// Puts a task on the plan, unless its circuit was left out there, may not be measured, or was read again often enough.
    fn plan_again(&mut self, task: Task) {
        let state = &mut *self.state;
        let here = |other: &Task| other.circuit == task.circuit && other.station == task.station;
        let same = |other: &&Task| here(other) && other.purpose == task.purpose;
        let skipped =
            state.standing().any(|taken| here(&state.plan[taken.task]) && taken.reading == Reading::NotTaken);
        let never = self.session.profile.circuits[task.circuit].never_ohmmeter.is_some();
        if !never && !skipped && state.plan.iter().filter(same).count() < MOST_RECHECKS {
            state.plan.push(task);
        }
    }
}

impl Session {
    /// Puts a session where it stood when something came in, as the journal tells it: an engine other than that of then may have
    /// planned otherwise since. `awaited` is the reading that was waited for.
    pub fn put(&self, state: &mut State, at: Timestamp, awaited: &Awaited) {
        if self.awaited(state).as_ref() == Some(awaited) {
            return;
        }
        let Some(circuit) = self.profile.circuits.iter().position(|circuit| circuit.id == awaited.circuit)
        else {
            return;
        };
        let (station, contact, purpose) = (awaited.station, awaited.contact, awaited.purpose);
        let task = Task { circuit, station, purpose, contact };
        let same = |place: &usize| state.plan[*place] == task;
        let open = (0..state.plan.len()).filter(same).find(|place| state.answer(*place).is_none());
        let place = open.or_else(|| (0..state.plan.len()).rfind(same)).unwrap_or_else(|| {
            state.plan.push(task);
            state.plan.len() - 1
        });
        state.phase = Phase::Reading(place);
        // A reading is waited for only when everything was prepared.
        if state.preparations.is_empty() {
            state.preparations.push(Preparation::default());
        }
        if let Some(preparation) = state.preparations.last_mut() {
            preparation.complete.get_or_insert(at);
        }
    }

    /// Whether the readings of the plan are behind the session.
    #[must_use]
    pub fn is_through(&self, state: &State) -> bool {
        matches!(state.phase, Phase::AllRead | Phase::Offer { .. })
    }

    /// Puts a session where no reading was waited for, as the journal tells it.
    pub fn put_aside(&self, state: &mut State) {
        if state.current().is_some() {
            state.phase = Phase::AllRead;
        }
    }

    /// The tasks whose readings are marked, were not confirmed by a clear one since, and without which another conclusion would
    /// come first.
    pub(super) fn marked_that_decide(&self, state: &State) -> Vec<Task> {
        let same = |one: &Task, other: &Task| one.circuit == other.circuit && one.station == other.station;
        let marked: Vec<_> = state
            .standing()
            .filter(|taken| taken.marked)
            .filter(|taken| {
                let task = &state.plan[taken.task];
                !state
                    .standing()
                    .any(|later| later.id > taken.id && !later.marked && same(&state.plan[later.task], task))
            })
            .collect();
        if marked.is_empty() {
            return Vec::new();
        }
        let evidence = state.evidence(&self.profile);
        let first = |evidence: &verdict::Evidence| -> Option<(Cause, Vec<_>)> {
            let judgement = verdict::judge(&self.profile, Some(&self.meter), evidence).ok()?;
            let explanation = judgement.conclusion.explanations.into_iter().next()?;
            Some((explanation.cause, explanation.circuits))
        };
        let with_all = first(&evidence);
        let decides = |id: u32| {
            let mut without = evidence.clone();
            without.measurements.retain(|measurement| measurement.id != id);
            first(&without) != with_all
        };
        marked.into_iter().filter(|taken| decides(taken.id)).map(|taken| state.plan[taken.task]).collect()
    }
}
