//! Owns stored codes: asked for once, before anything else, where the profile knows codes. A code names a circuit, never the
//! part; what it is worth is left to the verdict engine.

use super::{
    action::Kind,
    message::{Message, Prepared, Prompt},
    state::{Given, Input, Phase, State},
    step::Session,
    turn::Turn,
};
use crate::{
    grammar::{Command, Spoken, SpokenNumber},
    verdict::StoredCode,
};

/// The longest code that is taken.
const MOST_DIGITS: usize = 6;

impl Session {
    /// Whether codes are still to be asked for.
    pub(super) fn codes_are_open(&self, state: &State) -> bool {
        !self.profile.codes.is_empty() && !state.codes_settled
    }

    pub(super) fn code_prompt(&self, state: &State) -> Prompt {
        match (state.phase, state.codes.last()) {
            (Phase::Codes, _) => Prompt::Codes,
            (_, None) => Prompt::CodeNumber,
            (_, Some(_)) => Prompt::AnotherCode,
        }
    }
}

impl Turn<'_> {
    /// "Yes", "no" and "skip" at the question about codes.
    pub(super) fn command_at_codes(&mut self, command: &Command) -> bool {
        match command {
            Command::Yes => {
                self.state.phase = Phase::CodeNumber;
                self.prompt();
            }
            Command::No => {
                let none = self.state.codes.is_empty();
                self.settle_codes(none.then_some(Prepared::NoCode));
            }
            Command::Skip => self.settle_codes(Some(Prepared::CodesLeftOut)),
            _ => return false,
        }
        true
    }

    fn settle_codes(&mut self, first: Option<Prepared>) {
        self.state.codes_settled = true;
        self.state.phase = self.session.first_of_preparation();
        match (first, self.session.prompt(self.state)) {
            (Some(first), prompt) => self.say(Kind::Answer, Message::from(first).then(prompt)),
            (None, Some(prompt)) => self.say(Kind::Answer, prompt),
            (None, None) => {}
        }
    }

    /// Takes the number of a code: its digits, none where it was no whole number.
    pub(super) fn code(&mut self, digits: Option<String>) {
        self.state.ask = None;
        let plain = |digits: &String| {
            (1..=MOST_DIGITS).contains(&digits.len()) && digits.chars().any(|digit| digit != '0')
        };
        let Some(number) = digits.filter(plain) else { return self.answer(Prepared::NotACode) };
        let profile = &self.session.profile;
        let known = profile.codes.iter().find(|code| bare(&code.number) == bare(&number));
        let circuit = known.and_then(|code| profile.circuit(&code.circuit));
        let answer = match circuit {
            Some(circuit) => Prepared::CodeNames { number: number.clone(), circuit: circuit.name.clone() },
            None => Prepared::CodeNamesNothing { number: number.clone() },
        };
        let what = StoredCode { text: number, circuit: circuit.map(|circuit| circuit.id.clone()) };
        if !self.state.codes.iter().any(|code| code.what == what) {
            self.state.codes.push(Given { what, at: self.at, origin: self.origin.clone() });
            self.state.inputs.push(Input::Code);
        } else if self.state.rules.are_first() {
            self.state.inputs.push(Input::Code);
        }
        self.state.phase = Phase::CodeNumber;
        self.answer(answer);
    }

    /// Takes the last code back.
    pub(super) fn undo_code(&mut self) {
        self.state.codes.pop();
        self.state.codes_settled = false;
        self.state.phase = Phase::CodeNumber;
    }
}

/// Noughts in front are said by some and left out by others.
fn bare(number: &str) -> &str {
    number.trim_start_matches('0')
}

/// The digits of a whole number; none for what is not one.
pub(super) fn whole_digits(spoken: Spoken) -> Option<String> {
    let Spoken::Number(SpokenNumber { number, prefix: None, unit: None, .. }) = spoken else { return None };
    (number.places() == 0 && !number.is_negative()).then(|| number.digits().to_string())
}
