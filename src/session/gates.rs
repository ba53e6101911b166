//! Owns the gates before measuring: each is confirmed by its phrase, or by the number that is shown beside it; never by "yes".

use super::{
    action::Kind,
    message::{Instruction, Prepared, Prompt},
    state::{Given, Input, Origin, Phase},
    step::Session,
    turn::Turn,
};
use crate::grammar::{Command, Spoken};

impl Session {
    pub(super) fn gate_prompt(&self, place: usize) -> Prompt {
        let gate = &self.profile.gates[place];
        let instruction = Instruction::Written(gate.instruction.clone());
        gate_prompt(instruction, gate.confirm.clone(), gate.wait_minutes)
    }
}

/// What to do at a gate; where it has to be waited, that it is timed.
pub(super) fn gate_prompt(instruction: Instruction, confirm: String, wait_minutes: Option<u8>) -> Prompt {
    match wait_minutes {
        Some(minutes) => Prompt::TimedGate { instruction, minutes, confirm },
        None => Prompt::Gate { instruction, confirm },
    }
}

impl Turn<'_> {
    /// A number at a gate: typed, the gate's own confirms it, since a keypad has no words.
    pub(super) fn number_at_gate(&mut self, spoken: Spoken) {
        match (spoken, &self.origin, self.session.code_here(self.state)) {
            (Spoken::Number(number), Origin::Keys(_), Some(code)) if number.number.to_string() == code => {
                let confirm = self.session.confirm_here(self.state).unwrap_or_default();
                self.phrase(&confirm);
            }
            _ => self.prompt(),
        }
    }

    pub(super) fn gate(&mut self, place: usize, phrase: &str) {
        let gates = &self.session.profile.gates;
        if gates[place].confirm != phrase {
            return self.prompt_after(Prepared::NotThatGate);
        }
        let given = Given { what: place, at: self.at, origin: self.origin.clone() };
        if let Some(preparation) = self.state.preparations.last_mut() {
            preparation.gates.push(given);
        }
        self.state.ask = None;
        self.state.inputs.push(Input::Gate(place));
        self.state.phase = if place + 1 < gates.len() { Phase::Gate(place + 1) } else { Phase::Temperature };
        self.gate_done(phrase);
    }

    /// "Yes" names nothing that was done, and a gate is never left out.
    pub(super) fn command_at_gate(&mut self, command: &Command) -> bool {
        match command {
            Command::Yes => self.say_what_was_done(),
            Command::Skip => self.say_with_prompt(Kind::Caution, Prepared::NeverLeftOut),
            _ => return false,
        }
        true
    }

    pub(super) fn say_what_was_done(&mut self) {
        let confirm = self.session.confirm_here(self.state).unwrap_or_default();
        self.say(Kind::Prompt, Prompt::SayWhatWasDone { confirm });
    }
}

/// What is typed to confirm the gate at that place: 11, 22, 33 … (shown beside the phrase).
pub(super) fn gate_code(place: usize) -> String {
    format!("{}", (place % 9 + 1) * 11)
}
