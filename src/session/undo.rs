//! Owns taking back: each "wrong" takes back one input, the last one first. What was taken stays in the record, marked.

use super::{
    message::Info,
    state::{Correction, Input, Phase},
    turn::Turn,
};
use crate::grammar::Spoken;

impl Turn<'_> {
    pub(super) fn wrong(&mut self, replacement: Option<Spoken>) {
        let asked = self.state.ask.take().is_some();
        let undone = !asked && self.undo();
        match replacement {
            Some(spoken) => self.spoken(spoken),
            None if asked && !self.state.rules.are_first() => self.prompt_after(Info::SayAgain),
            None if undone || self.state.rules.are_first() => self.prompt_after(Info::TakenBack),
            None => self.prompt_after(Info::NothingToTakeBack),
        }
    }

    /// Takes the last input back. Tells whether there was one.
    pub(super) fn undo(&mut self) -> bool {
        let Some(input) = self.state.inputs.pop() else { return false };
        if self.state.rules.are_first() {
            self.state.inputs.clear();
        }
        match input {
            Input::Gate(place) => {
                if let Some(preparation) = self.state.preparations.last_mut() {
                    preparation.gates.retain(|gate| gate.what != place);
                }
                self.state.phase = Phase::Gate(place);
            }
            Input::Temperature => self.state.phase = Phase::Temperature,
            Input::Leads => {
                if let Phase::Reading(place) = self.state.phase {
                    self.state.return_to = Some(place).filter(|_| !self.state.rules.are_first());
                }
                self.state.phase = Phase::Leads;
            }
            Input::Code => self.undo_code(),
            Input::StationGate { task, gate } => self.undo_station_gate(task, gate),
            Input::Reading(id) => self.undo_reading(id),
        }
        true
    }

    fn undo_reading(&mut self, id: u32) {
        let Some(place) = self.state.taken.iter().rfind(|taken| taken.id == id).map(|taken| taken.task)
        else {
            return;
        };
        self.withdraw(place, Correction::Wrong);
        if let Phase::Reading(current) = self.state.phase
            && current != place
        {
            self.state.return_to = Some(current.max(place));
        }
        if self.state.rules.are_first() {
            self.state.phase = Phase::Reading(place);
        } else {
            self.go_to(place);
        }
    }
}
