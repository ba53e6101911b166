//! Owns stations: proposing the one that the verdict engine names next, its gates, and what is asked for there.
//!
//! A change of station is a gate of its own: at the other end of the harness a plug may be live, and behind it lies a control
//! unit that no ohmmeter may touch.

use super::{
    flow::{Action, Kind, Session, say},
    lines::capital,
    prepare::gate_code,
    state::{Given, Input, Origin, Phase, Purpose, State, Task},
};
use crate::{
    grammar::{Command, Spoken},
    profile::Gate,
    quantity::Reading,
    verdict::{CheckAction, Contact, NextCheck, Station},
};
use jiff::Timestamp;
use std::borrow::Cow;

/// A gate as the program has it: id, instruction, confirmation.
type Own = (&'static str, &'static str, &'static str);

/// Before measuring through the harness, where the profile has no gates of its own for it.
const HARNESS: [Own; 3] = [
    (
        "part-connected",
        "Key and supply stay off. Put the connector of the part together again.",
        "connector together",
    ),
    (
        "control-unit-unplugged",
        "Unplug the control unit. Probe the harness plug alone, never the control unit.",
        "control unit unplugged",
    ),
    (
        "plug-dead",
        "Meter on volts: the pins of that plug against the case, no voltage. Then back on ohms.",
        "no voltage",
    ),
];
/// Before measuring from a pin to the case, where the profile has no gates of its own for it.
const CASE: [Own; 2] = [
    (
        "part-apart",
        "Key and supply stay off. Connector of the part apart, control unit unplugged.",
        "both unplugged",
    ),
    ("highest-range", "Meter on ohms, highest range. Fingers off the tips.", "highest range"),
];
/// Before going back to the part.
const COMPONENT: [Own; 1] = [(
    "part-apart-again",
    "Key and supply stay off. Take the connector of the part apart again. Meter on ohms, lowest range.",
    "connector unplugged",
)];

/// What to call a station after "measure it".
fn place(station: Station) -> &'static str {
    match station {
        Station::Component => "at the part",
        Station::Harness => "at the control unit's plug",
        Station::Case => "at the part, to the case",
    }
}

impl Session {
    /// The gates of a station: the profile's, else the program's own.
    pub fn station_gates(&self, station: Station) -> Cow<'_, [Gate]> {
        let (written, own): (&[Gate], &[Own]) = match station {
            Station::Component => (&[], &COMPONENT),
            Station::Harness => (&self.profile.harness_gates, &HARNESS),
            Station::Case => (&self.profile.case_gates, &CASE),
        };
        if !written.is_empty() {
            return Cow::Borrowed(written);
        }
        let gate = |(id, instruction, confirm): &Own| Gate {
            id: (*id).to_owned(),
            instruction: (*instruction).to_owned(),
            confirm: (*confirm).to_owned(),
        };
        Cow::Owned(own.iter().map(gate).collect())
    }

    /// Where a task takes the session: to its reading, or first through the gates of its station.
    pub(super) fn go_to(&self, state: &mut State, task: usize) {
        let station = state.plan[task].station;
        state.phase = if station == state.station {
            Phase::Reading(task)
        } else {
            Phase::StationGate { task, gate: 0 }
        };
    }

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

    pub(super) fn offer_prompt(&self, circuit: usize, station: Station) -> String {
        let name = &self.profile.circuits[circuit].name;
        format!("Next, {name} {}. Go there? Yes or no.", place(station))
    }

    /// What the new phases do with a command. Tells whether they took it; what they do not take goes the usual way.
    pub(super) fn taken_elsewhere(
        &self,
        state: &mut State,
        at: Timestamp,
        command: &Command,
        origin: &Origin,
        out: &mut Vec<Action>,
    ) -> bool {
        if state.ask.is_some() {
            return false;
        }
        match (state.phase, command) {
            (Phase::Codes | Phase::CodeNumber, Command::Yes | Command::No) => {
                self.code_answer(state, *command == Command::Yes, out);
            }
            (Phase::Codes | Phase::CodeNumber, Command::Skip) => {
                self.settle_codes(state, "Codes left out. ", out);
            }
            (Phase::Offer { circuit, station }, Command::Yes | Command::Next) => {
                self.accept(state, circuit, station, out);
            }
            (Phase::Offer { circuit, station }, Command::No | Command::Skip) => {
                state.declined.push((circuit, station));
                state.phase = self.after_the_plan(state);
                let prompt = self.prompt(state);
                say(out, Kind::Answer, format!("Left out. {prompt}"));
            }
            (Phase::Offer { .. }, Command::Why) => {
                let why = self.next_station(state).map_or(String::new(), |(.., check)| check.why);
                let prompt = self.prompt(state);
                say(out, Kind::Answer, format!("{}. {prompt}", capital(&why)));
            }
            (Phase::Offer { .. }, Command::Finish | Command::Change { .. } | Command::Back(_)) => {
                state.phase = Phase::AllRead;
                return false;
            }
            (Phase::StationGate { .. }, Command::Yes) => {
                let confirm = self.gate_at(state).map_or(String::new(), |gate| gate.confirm);
                say(out, Kind::Prompt, format!("Say what was done: {confirm}."));
            }
            (Phase::StationGate { task, .. }, Command::Skip) => {
                // The gate cannot be left out, the reading behind it can.
                let prompt = self.prompt(state);
                let name = self.circuit(&state.plan[task]).name.clone();
                let text = format!("This is never left out. Say no to leave out {name} there. {prompt}");
                say(out, Kind::Caution, text);
            }
            (Phase::StationGate { task, .. }, Command::No) => {
                self.leave_station(state, at, task, origin, out);
            }
            _ => return false,
        }
        true
    }

    /// Plans the reading, with a sound circuit beside it through the harness: over range there means something only next
    /// to one that reads a number.
    fn accept(&self, state: &mut State, circuit: usize, station: Station, out: &mut Vec<Action>) {
        let first = state.plan.len();
        let task = |circuit, purpose| Task { circuit, station, purpose, contact: Contact::Usual };
        if station == Station::Harness
            && let Some(companion) = self.companion(state, circuit)
        {
            state.plan.push(task(companion, Purpose::KnownGood));
        }
        state.plan.push(task(circuit, Purpose::Elsewhere));
        self.go_to(state, first);
        let prompt = self.prompt(state);
        say(out, Kind::Prompt, prompt);
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

    /// Leaves out what is open at a station whose gates are not gone through.
    fn leave_station(
        &self,
        state: &mut State,
        at: Timestamp,
        task: usize,
        origin: &Origin,
        out: &mut Vec<Action>,
    ) {
        let station = state.plan[task].station;
        for place in 0..state.plan.len() {
            if state.plan[place].station == station && state.answer(place).is_none() {
                self.record(state, at, place, Reading::NotTaken, origin);
            }
        }
        state.return_to = None;
        self.advance(state, 0);
        let prompt = self.prompt(state);
        say(out, Kind::Answer, format!("Left out. {prompt}"));
    }

    fn gate_at(&self, state: &State) -> Option<Gate> {
        let Phase::StationGate { task, gate } = state.phase else { return None };
        self.station_gates(state.plan[task].station).get(gate).cloned()
    }

    pub(super) fn station_gate_prompt(&self, state: &State) -> String {
        self.gate_at(state)
            .map_or(String::new(), |gate| format!("{} Then say: {}.", gate.instruction, gate.confirm))
    }

    /// What is typed to confirm the gate where the session stands: 111, 222, ...; those before measuring have two digits.
    pub(super) fn station_gate_code(&self, gate: usize) -> String {
        gate_code(gate).repeat(2).split_at(3).0.to_owned()
    }

    /// The phrase of the gate whose code was typed.
    pub(super) fn station_code(&self, state: &State, spoken: Spoken, origin: &Origin) -> Option<String> {
        let (Phase::StationGate { gate, .. }, Spoken::Number(number), Origin::Keys(_)) =
            (state.phase, spoken, origin)
        else {
            return None;
        };
        let typed = number.number.to_string() == self.station_gate_code(gate);
        self.gate_at(state).filter(|_| typed).map(|gate| gate.confirm)
    }

    /// The phrases that are listened for at a gate of a station.
    pub(super) fn station_phrases(&self, state: &State) -> Vec<String> {
        let Phase::StationGate { task, .. } = state.phase else { return Vec::new() };
        self.station_gates(state.plan[task].station).iter().map(|gate| gate.confirm.clone()).collect()
    }

    /// Takes a phrase at a gate of a station.
    pub(super) fn station_phrase(
        &self,
        state: &mut State,
        at: Timestamp,
        phrase: &str,
        origin: &Origin,
        out: &mut Vec<Action>,
    ) {
        let Phase::StationGate { task, gate } = state.phase else { return };
        if self.gate_at(state).is_none_or(|gate| gate.confirm != phrase) {
            let prompt = self.prompt(state);
            return say(out, Kind::Prompt, format!("Not that one. {prompt}"));
        }
        let station = state.plan[task].station;
        state.ask = None;
        state.station_gates.push(Given { what: (station, gate), at, origin: origin.clone() });
        state.last_input = Some(Input::StationGate { task, gate });
        if gate + 1 < self.station_gates(station).len() {
            state.phase = Phase::StationGate { task, gate: gate + 1 };
        } else {
            state.station = station;
            state.phase = Phase::Reading(task);
        }
        let prompt = self.prompt(state);
        say(out, Kind::Answer, format!("{}. {prompt}", capital(phrase)));
    }

    /// Takes a confirmed gate back: it is asked for again, and those of its station after it.
    pub(super) fn undo_station_gate(&self, state: &mut State, task: usize, gate: usize) {
        state.station_gates.pop();
        // Half way between two stations is none of them: the part's gates are the only ones that hold anywhere.
        state.station =
            if state.plan[task].station == Station::Component { Station::Case } else { Station::Component };
        state.phase = Phase::StationGate { task, gate };
    }

    /// What is probed for a task, at its station.
    pub(super) fn probed(&self, task: &Task, against: bool) -> String {
        let circuit = self.circuit(task);
        match (task.station, &circuit.at_control) {
            (Station::Component, _) if against => format!("Pin {} to pin {}", circuit.pin, circuit.against),
            (Station::Component, _) => format!("Pin {}", circuit.pin),
            (Station::Harness, Some(plug)) => format!("Plug pin {} to plug pin {}", plug.pin, plug.against),
            (Station::Harness, None) => "Control unit's plug".to_owned(),
            (Station::Case, _) => format!("Pin {} to the case", circuit.pin),
        }
    }
}
