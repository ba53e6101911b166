//! Owns the readings: which circuit is asked for, how, and what is done with the answer.

use super::{
    action::Kind,
    message::{Message, Probed, Prompt, ReadBack},
    state::{Correction, Given, Input, Origin, Prompts, Purpose, State, Taken, Task},
    step::Session,
    turn::Turn,
};
use crate::{
    grammar::Spoken,
    profile::{Circuit, place_of},
    quantity::Reading,
    verdict::{Contact, Station},
};

impl Session {
    pub(super) fn circuit(&self, task: &Task) -> &Circuit {
        &self.profile.circuits[task.circuit]
    }

    pub(super) fn reading_prompt(&self, state: &State, place: usize) -> Message {
        let known = place_of(&self.profile, &self.circuit(&state.plan[place]).pin);
        let full = (state.prompts == Prompts::Full && !known.is_empty())
            .then(|| Prompt::Place { place: known }.into());
        Message::from(self.task_prompt(state, place)).then(full)
    }

    fn task_prompt(&self, state: &State, place: usize) -> Prompt {
        let task = state.plan[place];
        let before = place.checked_sub(1).map(|before| state.plan[before]);
        // The other probe is named when it moves.
        let came_here = matches!(state.last_input(), Some(Input::StationGate { .. }));
        let moves = came_here
            || before.is_none_or(|before| {
                before.station != task.station || self.circuit(&before).against != self.circuit(&task).against
            });
        let named = !state.names.is_empty();
        let prompt = self.prompt_for(&task, moves);
        if named { prompt.calling(self.called(state, &self.circuit(&task).id)) } else { prompt }
    }

    /// What is asked for a task; `moves` where the other probe has to be named.
    #[must_use]
    pub fn prompt_for(&self, task: &Task, moves: bool) -> Prompt {
        let circuit = self.circuit(task).name.clone();
        let probed = self.probed(task, moves);
        match (task.purpose, task.contact) {
            (Purpose::Round | Purpose::Elsewhere, _) => Prompt::Take { probed, circuit },
            (Purpose::KnownGood, _) if task.station == Station::Component => {
                Prompt::SameLeads { probed, circuit }
            }
            (Purpose::KnownGood, _) => Prompt::ForComparison { probed, circuit },
            (Purpose::Recheck, Contact::Cleaned) => Prompt::OnceMoreCleaned { probed, circuit },
            (Purpose::FirstAgain | Purpose::Recheck, _) => Prompt::OnceMore { probed, circuit },
        }
    }

    /// What is probed for a task, at its station.
    fn probed(&self, task: &Task, against: bool) -> Probed {
        let circuit = self.circuit(task);
        let pin = circuit.pin.to_string();
        match (task.station, &circuit.at_control) {
            (Station::Component, _) if against => Probed::Pins { pin, against: circuit.against.to_string() },
            (Station::Component, _) => Probed::Pin { pin },
            (Station::Harness, Some(plug)) => {
                Probed::PlugPins { pin: plug.pin.to_string(), against: plug.against.to_string() }
            }
            (Station::Harness, None) => Probed::Plug,
            (Station::Case, _) => Probed::ToCase { pin },
        }
    }
}

impl Turn<'_> {
    /// Takes a reading for a task, or asks.
    pub(super) fn reading(&mut self, place: usize, spoken: Spoken) {
        if self.session.preparation_is_old(self.state, self.at) {
            return self.prepare_again();
        }
        let reading = match self.fit(spoken) {
            Ok(reading) => reading,
            Err(doubt) => return self.doubt(doubt),
        };
        self.withdraw(place, Correction::Change);
        self.record(place, reading);
        let read_back =
            if self.silent { ReadBack::LeftOut.into() } else { self.session.read_back(self.state, place) };
        self.advance(place);
        match self.question_leads(reading) {
            Some(question) => {
                self.ask_before(Self::zero_leads_utterance(), read_back.then(Some(question.into())));
            }
            None => self.say_with_prompt(Kind::Answer, read_back),
        }
    }

    /// Records a reading (or that none was taken) for a task.
    pub(super) fn record(&mut self, place: usize, reading: Reading) {
        let state = &mut *self.state;
        let id = u32::try_from(state.taken.len()).unwrap_or(u32::MAX).saturating_add(1);
        state.ask = None;
        state.inputs.push(Input::Reading(id));
        state.answers.insert(place, state.taken.len());
        state.taken.push(Taken {
            id,
            task: place,
            reading,
            at: self.at,
            origin: self.origin.clone(),
            preparation: state.preparations.len().saturating_sub(1),
            marked: matches!(&self.origin, Origin::Voice(hearing) if hearing.marked),
            withdrawn: None,
        });
    }

    /// Marks what stands for a task as taken back. It stays in the record.
    pub(super) fn withdraw(&mut self, place: usize, what: Correction) {
        let how = Given { what, at: self.at, origin: self.origin.clone() };
        let stood = self.state.answers.remove(&place);
        if let Some(taken) = stood.and_then(|at| self.state.taken.get_mut(at)) {
            taken.withdrawn = Some(how);
        }
    }
}
