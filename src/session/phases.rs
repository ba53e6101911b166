//! Owns the table of phases: which file answers for what while the session stands in one.

use super::{
    message::{Aside, Help, Message, Prompt},
    state::{Phase, State},
    step::Session,
    turn::Turn,
};
use crate::grammar::{Command, Spoken};

impl Session {
    /// What to do now; none before the session has begun and after it has ended.
    #[must_use]
    pub fn prompt(&self, state: &State) -> Option<Message> {
        Some(match state.phase {
            Phase::New | Phase::Ended => return None,
            Phase::Codes | Phase::CodeNumber => self.code_prompt(state).into(),
            Phase::Gate(place) => self.gate_prompt(place).into(),
            Phase::Temperature => Prompt::Temperature.into(),
            Phase::Leads => self.leads_prompt(state),
            Phase::Reading(place) => self.reading_prompt(state, place),
            Phase::Offer { circuit, station } => self.offer_prompt(state, circuit, station).into(),
            Phase::StationGate { .. } => self.station_gate_prompt(state)?.into(),
            Phase::AllRead => Prompt::AllRead.into(),
        })
    }

    /// What is shown beside the prompt and not spoken.
    #[must_use]
    pub fn aside(&self, state: &State) -> Option<Aside> {
        match state.phase {
            Phase::Gate(_) | Phase::StationGate { .. } => {
                self.code_here(state).map(|code| Aside::TypeCode { code })
            }
            Phase::Temperature => Some(Aside::NotSureByKey),
            Phase::AllRead => Some(Aside::FinishByKey),
            _ => None,
        }
    }

    /// The phrases that the session itself listens for now.
    pub(super) fn phrases(&self, state: &State) -> Vec<String> {
        match state.phase {
            Phase::Gate(_) => self.profile.gates.iter().map(|gate| gate.confirm.clone()).collect(),
            Phase::Temperature => self.temperature_phrases(),
            Phase::StationGate { .. } => self.station_phrases(state),
            _ => Vec::new(),
        }
    }

    /// The phrase that confirms the gate where the session stands.
    pub(super) fn confirm_here(&self, state: &State) -> Option<String> {
        match state.phase {
            Phase::Gate(place) => self.profile.gates.get(place).map(|gate| gate.confirm.clone()),
            Phase::StationGate { .. } => self.gate_at(state).map(|gate| gate.confirm),
            _ => None,
        }
    }

    /// What is typed to confirm the gate where the session stands.
    pub(super) fn code_here(&self, state: &State) -> Option<String> {
        match state.phase {
            Phase::Gate(place) => Some(super::gates::gate_code(place)),
            Phase::StationGate { gate, .. } => Some(super::station_gates::station_gate_code(gate)),
            _ => None,
        }
    }

    /// What may be said now.
    #[must_use]
    pub fn help(&self, state: &State) -> Help {
        match state.phase {
            Phase::Gate(place) => Help::Gate { confirm: self.profile.gates[place].confirm.clone() },
            Phase::Temperature => Help::Temperature,
            Phase::StationGate { .. } => Help::StationGate,
            Phase::Codes | Phase::Offer { .. } => Help::YesOrNo,
            Phase::CodeNumber => Help::CodeNumber,
            Phase::AllRead => Help::AllRead,
            Phase::New | Phase::Leads | Phase::Reading(_) | Phase::Ended => Help::Reading,
        }
    }
}

impl Turn<'_> {
    /// Takes a reading or number where the session stands.
    pub(super) fn spoken(&mut self, spoken: Spoken) {
        match self.state.phase {
            Phase::Gate(_) => self.number_at_gate(spoken),
            Phase::Codes | Phase::CodeNumber => self.code(super::codes::whole_digits(spoken)),
            Phase::StationGate { .. } => self.number_at_station_gate(spoken),
            Phase::Temperature => self.temperature(spoken),
            Phase::Leads => self.leads(spoken),
            Phase::Reading(place) => self.reading(place, spoken),
            Phase::Offer { .. } | Phase::AllRead | Phase::New | Phase::Ended => self.prompt(),
        }
    }

    /// Takes the digits of a number that is no amount.
    pub(super) fn entry(&mut self, digits: &str) {
        match self.state.phase {
            Phase::CodeNumber => self.code(Some(digits.to_owned())),
            _ => self.prompt(),
        }
    }

    /// Takes a phrase that the session waits for.
    pub(super) fn phrase(&mut self, phrase: &str) {
        match self.state.phase {
            Phase::Gate(place) => self.gate(place, phrase),
            Phase::Temperature => self.guessed_temperature(phrase),
            Phase::StationGate { task, gate } => self.station_gate(task, gate, phrase),
            _ => self.prompt(),
        }
    }

    /// What a phase does with a command of its own way. Tells whether it took it; what it does not take goes the usual way.
    pub(super) fn taken_by_phase(&mut self, command: &Command) -> bool {
        // An open question is answered first.
        if self.state.ask.is_some() {
            return false;
        }
        match self.state.phase {
            Phase::Codes | Phase::CodeNumber => self.command_at_codes(command),
            Phase::Gate(_) => self.command_at_gate(command),
            Phase::Temperature => self.command_at_temperature(command),
            Phase::Leads => self.command_at_leads(command),
            Phase::Offer { circuit, station } => self.command_at_offer(command, circuit, station),
            Phase::StationGate { task, .. } => self.command_at_station_gate(command, task),
            Phase::AllRead => self.command_at_end(command),
            Phase::New | Phase::Reading(_) | Phase::Ended => false,
        }
    }
}
