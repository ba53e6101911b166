//! Owns the gates of stations: what has to be done and confirmed before measuring somewhere else than before.
//!
//! A change of station is a gate of its own: at the other end of the harness a plug may be live, and behind it lies a control
//! unit that no ohmmeter may touch.

use super::{
    action::Kind,
    gates::{gate_code, gate_prompt},
    message::{Info, Instruction, OwnGate, Prepared, Prompt},
    rules::Rules,
    state::{Given, Input, Origin, Phase, State},
    step::Session,
    turn::Turn,
};
use crate::{
    grammar::{Command, OwnPhrase, Spoken},
    profile::Gate,
    quantity::Reading,
    verdict::Station,
};

/// Gates as the program has them, each with the phrase that confirms it.
type Own = (OwnGate, OwnPhrase);

/// Before measuring through the harness, where the profile has no gates of its own for it.
const HARNESS: [Own; 6] = [
    (OwnGate::PartConnected, OwnPhrase::PartConnected),
    (OwnGate::ControlUnitUnplugged, OwnPhrase::ControlUnitUnplugged),
    (OwnGate::MeterProven, OwnPhrase::MeterProven),
    (OwnGate::PlugDead, OwnPhrase::PlugDead),
    (OwnGate::MeterProvenAgain, OwnPhrase::MeterProvenAgain),
    (OwnGate::BackOnOhms, OwnPhrase::BackOnOhms),
];
/// The same by the rules before: the meter was not proven there.
const HARNESS_BEFORE: [Own; 3] = [HARNESS[0], HARNESS[1], HARNESS[3]];
/// Before measuring from a pin to the case, where the profile has no gates of its own for it.
const CASE: [Own; 2] =
    [(OwnGate::PartApart, OwnPhrase::PartApart), (OwnGate::HighestRange, OwnPhrase::HighestRange)];
/// Before going back to the part.
const COMPONENT: [Own; 1] = [(OwnGate::PartApartAgain, OwnPhrase::PartApartAgain)];

/// A gate of a station.
#[derive(Debug, Clone, PartialEq)]
pub struct StationGate {
    /// Its name in records.
    pub id: String,
    /// What to do.
    pub instruction: Instruction,
    /// The phrase that confirms it.
    pub confirm: String,
    /// How many minutes have to pass.
    pub wait_minutes: Option<u8>,
}

impl Session {
    /// The gates of a station: the profile's, else the program's own by these rules.
    #[must_use]
    pub fn station_gates(&self, station: Station, rules: Rules) -> Vec<StationGate> {
        let (written, own): (&[Gate], &[Own]) = match station {
            Station::Component => (&[], &COMPONENT),
            Station::Harness if rules.prove_the_meter() => (&self.profile.harness_gates, &HARNESS),
            Station::Harness => (&self.profile.harness_gates, &HARNESS_BEFORE),
            Station::Case => (&self.profile.case_gates, &CASE),
        };
        if written.is_empty() {
            let gate = |(gate, phrase): &Own| StationGate {
                id: gate.id().to_owned(),
                instruction: Instruction::Own(*gate),
                confirm: self.grammar.own_phrase(*phrase).to_owned(),
                wait_minutes: None,
            };
            return own.iter().map(gate).collect();
        }
        let gate = |gate: &Gate| StationGate {
            id: gate.id.clone(),
            instruction: Instruction::Written(gate.instruction.clone()),
            confirm: gate.confirm.clone(),
            wait_minutes: gate.wait_minutes,
        };
        written.iter().map(gate).collect()
    }

    pub(super) fn gate_at(&self, state: &State) -> Option<StationGate> {
        let Phase::StationGate { task, gate } = state.phase else { return None };
        self.station_gates(state.plan[task].station, state.rules).into_iter().nth(gate)
    }

    pub(super) fn station_gate_prompt(&self, state: &State) -> Option<Prompt> {
        let gate = self.gate_at(state)?;
        Some(gate_prompt(gate.instruction, gate.confirm, gate.wait_minutes))
    }

    /// The phrases that are listened for at a gate of a station.
    pub(super) fn station_phrases(&self, state: &State) -> Vec<String> {
        let Phase::StationGate { task, .. } = state.phase else { return Vec::new() };
        self.station_gates(state.plan[task].station, state.rules)
            .into_iter()
            .map(|gate| gate.confirm)
            .collect()
    }
}

/// What is typed to confirm the gate at that place: 111, 222, ...; those before measuring have two digits.
pub(super) fn station_gate_code(gate: usize) -> String {
    gate_code(gate).repeat(2).split_at(3).0.to_owned()
}

impl Turn<'_> {
    /// Where a task takes the session: to its reading, or first through the gates of its station.
    pub(super) fn go_to(&mut self, task: usize) {
        let station = self.state.plan[task].station;
        self.state.phase = if station == self.state.station {
            Phase::Reading(task)
        } else {
            Phase::StationGate { task, gate: 0 }
        };
    }

    /// A number at a gate: typed, the gate's own confirms it.
    pub(super) fn number_at_station_gate(&mut self, spoken: Spoken) {
        match (spoken, &self.origin, self.session.code_here(self.state)) {
            (Spoken::Number(number), Origin::Keys(_), Some(code)) if number.number.to_string() == code => {
                let confirm = self.session.confirm_here(self.state).unwrap_or_default();
                self.phrase(&confirm);
            }
            _ => self.prompt(),
        }
    }

    /// Takes a phrase at a gate of a station.
    pub(super) fn station_gate(&mut self, task: usize, gate: usize, phrase: &str) {
        if self.session.confirm_here(self.state).is_none_or(|confirm| confirm != phrase) {
            return self.prompt_after(Prepared::NotThatGate);
        }
        let station = self.state.plan[task].station;
        self.state.ask = None;
        let gates = self.session.station_gates(station, self.state.rules);
        let Some(here) = gates.get(gate) else { return self.prompt() };
        let given = Given { what: (station, here.id.clone()), at: self.at, origin: self.origin.clone() };
        self.state.station_gates.push(given);
        self.state.inputs.push(Input::StationGate { task, gate });
        if gate + 1 < gates.len() {
            self.state.phase = Phase::StationGate { task, gate: gate + 1 };
        } else {
            self.state.station = station;
            self.state.phase = Phase::Reading(task);
        }
        self.gate_done(phrase);
    }

    pub(super) fn command_at_station_gate(&mut self, command: &Command, task: usize) -> bool {
        match command {
            Command::Yes => self.say_what_was_done(),
            Command::Skip => {
                // The gate cannot be left out, the reading behind it can.
                let circuit =
                    self.session.called(self.state, &self.session.circuit(&self.state.plan[task]).id);
                self.say_with_prompt(Kind::Caution, Prepared::NeverLeftOutSayNo { circuit });
            }
            Command::No => self.leave_station(task),
            _ => return false,
        }
        true
    }

    /// Leaves out what is open at a station whose gates are not gone through.
    fn leave_station(&mut self, task: usize) {
        let station = self.state.plan[task].station;
        for place in 0..self.state.plan.len() {
            if self.state.plan[place].station == station && self.state.answer(place).is_none() {
                self.record(place, Reading::NotTaken);
            }
        }
        self.state.return_to = None;
        self.advance(0);
        self.answer(Info::LeftOut);
    }

    /// Takes a confirmed gate back: it is asked for again, and those of its station after it.
    pub(super) fn undo_station_gate(&mut self, task: usize, gate: usize) {
        self.state.station_gates.pop();
        // Half way between two stations is none of them: the part's gates are the only ones that hold anywhere.
        let component = self.state.plan[task].station == Station::Component;
        self.state.station = if component { Station::Case } else { Station::Component };
        self.state.phase = Phase::StationGate { task, gate };
    }
}
