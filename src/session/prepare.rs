//! Owns what comes before measuring: gates, temperature of the part, leads. Taken anew on resume and after 30 minutes.

use super::{
    flow::{Action, Kind, Session, say},
    state::{Given, Input, Origin, Phase, Preparation, SaidTemperature, State},
};
use crate::{
    grammar::Spoken,
    quantity::{Celsius, Interval, Reading, Unit},
    verdict::{Leads, Station},
};
use jiff::Timestamp;

/// Above this, leads and plugs deserve a look before they are believed. Common practice, no source.
const LEADS_HIGH_OHM: f64 = 1.0;
/// How far off a temperature that was said may be. Common practice, no source: a part is seldom at one temperature.
const SAID_TEMPERATURE_WITHIN_K: f64 = 3.0;
/// Temperatures of a part that are believed.
const BELIEVED_C: std::ops::RangeInclusive<f64> = -50.0..=180.0;
/// What the words for a guessed temperature stand for. Common practice, no source.
const GUESSES: [(&str, f64, f64); 3] = [("cold", -20.0, 25.0), ("warm", 25.0, 60.0), ("hot", 60.0, 130.0)];
/// The phrase for an unknown temperature.
const NOT_SURE: &str = "not sure";

impl Session {
    /// Begins, or begins again after a break: everything that keeps a person safe is taken anew.
    pub(super) fn start(&self, state: &mut State, out: &mut Vec<Action>) {
        for caution in &self.profile.cautions {
            say(out, Kind::Caution, caution.clone());
        }
        let again = !state.preparations.is_empty();
        let left = state.left();
        self.begin_preparation(state);
        let greeting = match (again, left) {
            (false, _) => String::new(),
            (true, 0) => "Going on. All was read. Safety and leads once more. ".to_owned(),
            (true, left) => format!("Going on. {left} left. Safety, temperature and leads once more. "),
        };
        if self.codes_are_open(state) {
            state.phase = Phase::Codes;
        }
        let prompt = self.prompt(state);
        say(out, Kind::Prompt, format!("{greeting}{prompt}"));
    }

    /// Thirty minutes are over: what was prepared no longer holds.
    pub(super) fn prepare_again(&self, state: &mut State, out: &mut Vec<Action>) {
        self.begin_preparation(state);
        let prompt = self.prompt(state);
        let text =
            format!("More than 30 minutes have passed. Safety, temperature and leads once more. {prompt}");
        say(out, Kind::Prompt, text);
    }

    fn begin_preparation(&self, state: &mut State) {
        if let Phase::Reading(place) | Phase::StationGate { task: place, .. } = state.phase {
            state.return_to = Some(place);
        }
        // The gates before measuring set everything up at the part.
        state.station = Station::Component;
        state.ask = None;
        state.paused = false;
        state.preparations.push(Preparation::default());
        state.phase = self.first_of_preparation();
    }

    pub(super) fn first_of_preparation(&self) -> Phase {
        if self.profile.gates.is_empty() { Phase::Temperature } else { Phase::Gate(0) }
    }

    /// The phrases that the session itself listens for now.
    pub(super) fn phrases(&self, state: &State) -> Vec<String> {
        match state.phase {
            Phase::Gate(_) => self.profile.gates.iter().map(|gate| gate.confirm.clone()).collect(),
            Phase::Temperature => {
                GUESSES.iter().map(|(word, ..)| (*word).to_owned()).chain([NOT_SURE.to_owned()]).collect()
            }
            _ => self.station_phrases(state),
        }
    }

    /// The phrase of the gate whose code was typed: a keypad has no words, and a plain "enter" is no confirmation.
    pub(super) fn gate_code(&self, state: &State, spoken: Spoken, origin: &Origin) -> Option<String> {
        let (Phase::Gate(place), Spoken::Number(number), Origin::Keys(_)) = (&state.phase, spoken, origin)
        else {
            return None;
        };
        let typed = number.number.to_string();
        (typed == gate_code(*place)).then(|| self.profile.gates[*place].confirm.clone())
    }

    pub(super) fn phrase(
        &self,
        state: &mut State,
        at: Timestamp,
        phrase: &str,
        origin: &Origin,
        out: &mut Vec<Action>,
    ) {
        match state.phase {
            Phase::Gate(place) => {
                self.gate(state, Given { what: place, at, origin: origin.clone() }, phrase, out);
            }
            Phase::Temperature => {
                let guess = GUESSES.iter().find(|(word, ..)| *word == phrase);
                let interval = guess.and_then(|(_, low, high)| interval(*low, *high));
                let what = SaidTemperature { interval, said: phrase.to_owned() };
                self.set_temperature(state, Given { what, at, origin: origin.clone() }, out);
            }
            Phase::StationGate { .. } => self.station_phrase(state, at, phrase, origin, out),
            _ => {
                let prompt = self.prompt(state);
                say(out, Kind::Prompt, prompt);
            }
        }
    }

    fn gate(&self, state: &mut State, given: Given<usize>, phrase: &str, out: &mut Vec<Action>) {
        let place = given.what;
        if self.profile.gates[place].confirm != phrase {
            let prompt = self.prompt(state);
            say(out, Kind::Prompt, format!("Not that one. {prompt}"));
            return;
        }
        if let Some(preparation) = state.preparations.last_mut() {
            preparation.gates.push(given);
        }
        state.ask = None;
        state.last_input = Some(Input::Gate(place));
        state.phase =
            if place + 1 < self.profile.gates.len() { Phase::Gate(place + 1) } else { Phase::Temperature };
        let prompt = self.prompt(state);
        let text = format!("{}. {prompt}", super::lines::capital(phrase));
        say(out, Kind::Answer, text);
    }

    pub(super) fn temperature(
        &self,
        state: &mut State,
        at: Timestamp,
        spoken: Spoken,
        origin: &Origin,
        out: &mut Vec<Action>,
    ) {
        let Spoken::Number(number) = spoken else {
            let prompt = self.prompt(state);
            return say(out, Kind::Prompt, prompt);
        };
        let degrees = number.number.to_f64();
        if number.unit.is_some_and(|unit| unit != Unit::Celsius) || number.prefix.is_some() {
            let text = "That is no temperature. Degrees Celsius, please.".to_owned();
            return say(out, Kind::Answer, text);
        }
        if !BELIEVED_C.contains(&degrees) {
            let text = format!("{} degrees is not believed for a part. Say it again.", number.number);
            return say(out, Kind::Answer, text);
        }
        let within = SAID_TEMPERATURE_WITHIN_K;
        let what = SaidTemperature {
            interval: interval(degrees - within, degrees + within),
            said: format!("{} °C", number.number),
        };
        self.set_temperature(state, Given { what, at, origin: origin.clone() }, out);
    }

    fn set_temperature(&self, state: &mut State, given: Given<SaidTemperature>, out: &mut Vec<Action>) {
        let answer = match given.what.interval {
            None => "Temperature unknown.".to_owned(),
            Some(_) => format!("{}.", super::lines::capital(&given.what.said)),
        };
        if let Some(preparation) = state.preparations.last_mut() {
            preparation.temperature = Some(given);
        }
        state.ask = None;
        state.last_input = Some(Input::Temperature);
        state.phase = Phase::Leads;
        let prompt = self.prompt(state);
        say(out, Kind::Answer, format!("{answer} {prompt}"));
    }

    /// Takes what the probes show when held together. A high or moving value is sent back once: leads are worn more often
    /// than parts are broken.
    pub(super) fn leads(
        &self,
        state: &mut State,
        at: Timestamp,
        spoken: Spoken,
        origin: &Origin,
        out: &mut Vec<Action>,
    ) {
        let reading = match self.fit(spoken, origin) {
            Ok(reading) => reading,
            Err(doubt) => return self.doubt(state, at, doubt, origin, out),
        };
        state.ask = None;
        let doubted = state.preparations.last().is_some_and(|preparation| preparation.leads_doubted);
        let again = "Look at plugs and tips, then hold the probes together again.";
        let (leads, answer) = match reading {
            Reading::OverRange { .. } | Reading::NotTaken => {
                let text = format!("The leads are open or not plugged in. {again}");
                return say(out, Kind::Answer, text);
            }
            Reading::Unstable { .. } if doubted => {
                (Leads::Unknown, "The leads do not settle. They count as unknown.".to_owned())
            }
            Reading::Value(shown) if shown.value() <= LEADS_HIGH_OHM => {
                (Leads::Shown(shown), format!("Leads {}.", shown.number))
            }
            Reading::Value(shown) if doubted => (
                Leads::Shown(shown),
                format!("Leads {}. That is high; it goes into the record.", shown.number),
            ),
            Reading::Unstable { .. } | Reading::Value(_) => {
                if let Some(preparation) = state.preparations.last_mut() {
                    preparation.leads_doubted = true;
                }
                let text = format!("{reading} is not what sound leads read. {again}");
                return say(out, Kind::Answer, text);
            }
        };
        self.set_leads(state, Given { what: leads, at, origin: origin.clone() }, &answer, out);
    }

    fn set_leads(&self, state: &mut State, given: Given<Leads>, answer: &str, out: &mut Vec<Action>) {
        if let Some(preparation) = state.preparations.last_mut() {
            preparation.complete = Some(given.at);
            preparation.leads = Some(given);
        }
        state.last_input = Some(Input::Leads);
        self.advance(state, 0);
        let prompt = self.prompt(state);
        say(out, Kind::Answer, format!("{answer} {prompt}"));
    }

    /// Leaves out what may be left out of the preparation.
    pub(super) fn skip_preparation(
        &self,
        state: &mut State,
        at: Timestamp,
        origin: &Origin,
        out: &mut Vec<Action>,
    ) {
        let origin = origin.clone();
        match state.phase {
            Phase::Gate(_) => {
                let prompt = self.prompt(state);
                say(out, Kind::Caution, format!("This is never left out. {prompt}"));
            }
            Phase::Temperature => {
                let what = SaidTemperature { interval: None, said: NOT_SURE.to_owned() };
                self.set_temperature(state, Given { what, at, origin }, out);
            }
            _ => {
                let given = Given { what: Leads::Unknown, at, origin };
                self.set_leads(state, given, "Leads not taken off.", out);
            }
        }
    }
}

/// What is typed to confirm the gate at that place: 11, 22, 33 … (shown beside the phrase).
pub(super) fn gate_code(place: usize) -> String {
    format!("{}", (place % 9 + 1) * 11)
}

fn interval(low: f64, high: f64) -> Option<Interval<Celsius>> {
    Interval::new(Celsius::new(low).ok()?, Celsius::new(high).ok()?)
}
