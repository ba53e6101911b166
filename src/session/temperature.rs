//! Owns the temperature of the part: in degrees, as a guess, or not known.

use super::{
    message::Prepared,
    state::{Given, Guess, Input, Origin, Phase, SaidAs, SaidTemperature},
    step::Session,
    turn::Turn,
};
use crate::{
    grammar::{Command, OwnPhrase, Spoken},
    quantity::{Celsius, Interval, Unit},
};

/// How far off a temperature that was said may be. Common practice, no source: a part is seldom at one temperature.
const SAID_TEMPERATURE_WITHIN_K: f64 = 3.0;
/// Temperatures of a part that are believed, in degrees Celsius. Common practice, no source.
const BELIEVED_C: std::ops::RangeInclusive<f64> = -50.0..=180.0;

impl Guess {
    /// What it stands for, in degrees Celsius. Common practice, no source.
    fn span_c(self) -> (f64, f64) {
        match self {
            Self::Cold => (-20.0, 25.0),
            Self::Warm => (25.0, 60.0),
            Self::Hot => (60.0, 130.0),
        }
    }
}

impl Session {
    pub(super) fn temperature_phrases(&self) -> Vec<String> {
        let guesses = Guess::ALL.map(Guess::phrase);
        let all = guesses.into_iter().chain([OwnPhrase::NotSure]);
        all.map(|phrase| self.grammar.own_phrase(phrase).to_owned()).collect()
    }
}

impl Turn<'_> {
    pub(super) fn temperature(&mut self, spoken: Spoken) {
        let number = match spoken {
            Spoken::Number(number) => number,
            // The keypad's sign for a number that does not settle stands for one that is not known here.
            Spoken::Unstable if matches!(self.origin, Origin::Keys(_)) && !self.state.rules.are_first() => {
                return self.set_temperature(None, SaidAs::NotSure);
            }
            Spoken::OverRange | Spoken::Unstable => return self.prompt(),
        };
        let degrees = number.number.to_f64();
        if number.unit.is_some_and(|unit| unit != Unit::Celsius) || number.prefix.is_some() {
            return self.answer_alone(Prepared::NoTemperature);
        }
        if !BELIEVED_C.contains(&degrees) {
            return self.answer_alone(Prepared::NotBelieved { degrees: number.number });
        }
        let within = SAID_TEMPERATURE_WITHIN_K;
        self.set_temperature(interval(degrees - within, degrees + within), SaidAs::Degrees(number.number));
    }

    pub(super) fn guessed_temperature(&mut self, phrase: &str) {
        let said = |guess: &Guess| self.session.grammar.own_phrase(guess.phrase()) == phrase;
        match Guess::ALL.into_iter().find(said) {
            Some(guess) => {
                let (low, high) = guess.span_c();
                self.set_temperature(interval(low, high), SaidAs::Guess(guess));
            }
            None => self.set_temperature(None, SaidAs::NotSure),
        }
    }

    pub(super) fn command_at_temperature(&mut self, command: &Command) -> bool {
        let skips = *command == Command::Skip;
        if skips {
            self.set_temperature(None, SaidAs::NotSure);
        }
        skips
    }

    fn set_temperature(&mut self, interval: Option<Interval<Celsius>>, said: SaidAs) {
        let answer = match said {
            SaidAs::Degrees(degrees) => Prepared::Degrees { degrees },
            SaidAs::Guess(guess) => Prepared::Guessed { guess },
            SaidAs::NotSure => Prepared::TemperatureUnknown,
        };
        let what = SaidTemperature { interval, said };
        let given = Given { what, at: self.at, origin: self.origin.clone() };
        if let Some(preparation) = self.state.preparations.last_mut() {
            preparation.temperature = Some(given);
        }
        self.state.ask = None;
        self.state.inputs.push(Input::Temperature);
        self.state.phase = Phase::Leads;
        self.answer(answer);
    }
}

fn interval(low: f64, high: f64) -> Option<Interval<Celsius>> {
    Interval::new(Celsius::new(low).ok()?, Celsius::new(high).ok()?)
}
