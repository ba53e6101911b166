//! Owns the offer: the station that the verdict engine names next, to be gone to or left out.
//!
//! It is worth it as the engine sees it; it means climbing out and taking another plug apart, so that the person says whether.

use super::{
    message::{Info, Prompt},
    state::{Phase, Purpose, State, Task},
    step::Session,
    turn::Turn,
};
use crate::{
    grammar::Command,
    verdict::{CheckAction, Contact, NextCheck, Station},
};

impl Session {
    /// Where the session stands once nothing of the plan is open: the engine's next station is offered, else all is read.
    pub(super) fn after_the_plan(&self, state: &State) -> Phase {
        match self.next_station(state) {
            Some((circuit, station, _)) => Phase::Offer { circuit, station },
            None => Phase::AllRead,
        }
    }

    /// The first of the engine's checks that is another station, as far as the session can lead there.
    fn next_station(&self, state: &State) -> Option<(usize, Station, NextCheck)> {
        let judgement = self.judge(state).ok()?;
        judgement.next_checks.into_iter().find_map(|check| {
            let station = check.station.filter(|_| check.action == CheckAction::OtherStation)?;
            let id = check.circuit.as_ref()?;
            let circuit = self.profile.circuits.iter().position(|circuit| circuit.id == *id)?;
            let never = self.profile.circuits[circuit].never_ohmmeter.is_some();
            let planned = state.plan.iter().any(|task| task.circuit == circuit && task.station == station);
            let fresh = !planned && !state.declined.contains(&(circuit, station));
            (fresh && !never).then_some((circuit, station, check))
        })
    }

    pub(super) fn offer_prompt(&self, state: &State, circuit: usize, station: Station) -> Prompt {
        Prompt::Offer { circuit: self.called(state, &self.profile.circuits[circuit].id), station }
    }

    /// A sound circuit with the same return, of the same family where there is one, that no code names.
    fn companion(&self, state: &State, circuit: usize) -> Option<usize> {
        let judgement = self.judge(state).ok()?;
        let named = &self.profile.circuits[circuit];
        let sound = |place: &usize| {
            let other = &self.profile.circuits[*place];
            let coded = state.codes.iter().any(|code| code.what.circuit.as_ref() == Some(&other.id));
            let finding = judgement.finding(&other.id, Station::Component);
            other.id != named.id
                && other.against == named.against
                && other.never_ohmmeter.is_none()
                && !coded
                && finding.is_some_and(|f| f.resistance.is_some() && !f.class.is_suspect())
        };
        let other_family = |place: &usize| self.profile.circuits[*place].family != named.family;
        (0..self.profile.circuits.len()).filter(sound).min_by_key(other_family)
    }
}

impl Turn<'_> {
    pub(super) fn command_at_offer(&mut self, command: &Command, circuit: usize, station: Station) -> bool {
        match command {
            Command::Yes | Command::Next => self.accept(circuit, station),
            Command::No | Command::Skip => {
                self.state.declined.push((circuit, station));
                self.state.phase = self.session.after_the_plan(self.state);
                self.answer(Info::LeftOut);
            }
            Command::Why => match self.session.next_station(self.state) {
                Some((.., check)) => self.answer(Info::OfferWhy { why: check.why }),
                None => self.prompt(),
            },
            Command::Finish | Command::Change { .. } | Command::Back(_) => {
                self.state.phase = Phase::AllRead;
                return false;
            }
            _ => return false,
        }
        true
    }

    /// Plans the reading, with a sound circuit beside it through the harness: over range there means something only next
    /// to one that reads a number.
    fn accept(&mut self, circuit: usize, station: Station) {
        let first = self.state.plan.len();
        let task = |circuit, purpose| Task { circuit, station, purpose, contact: Contact::Usual };
        if station == Station::Harness
            && let Some(companion) = self.session.companion(self.state, circuit)
        {
            self.state.plan.push(task(companion, Purpose::KnownGood));
        }
        self.state.plan.push(task(circuit, Purpose::Elsewhere));
        self.go_to(first);
        self.prompt();
    }
}
