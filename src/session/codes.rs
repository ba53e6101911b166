//! Owns stored codes: asked for once, before anything else, where the profile knows codes. A code names a circuit, never the
//! part; what it is worth is left to the verdict engine.

use super::{
    flow::{Action, Kind, Session, say},
    state::{Given, Input, Origin, Phase, State},
};
use crate::{
    grammar::{Spoken, SpokenNumber},
    verdict::StoredCode,
};
use jiff::Timestamp;

/// The longest code that is taken.
const MOST_DIGITS: usize = 6;

impl Session {
    /// Whether codes are still to be asked for.
    pub(super) fn codes_are_open(&self, state: &State) -> bool {
        !self.profile.codes.is_empty() && !state.codes_settled
    }

    pub(super) fn code_prompt(&self, state: &State, number: bool) -> String {
        match (number, state.codes.last()) {
            (false, _) => "Did the scan tool show a stored code? Yes or no.".to_owned(),
            (true, None) => "Which number? Or say no.".to_owned(),
            (true, Some(_)) => "Another one? Its number, or no.".to_owned(),
        }
    }

    /// "Yes" or "no" to the question about codes.
    pub(super) fn code_answer(&self, state: &mut State, yes: bool, out: &mut Vec<Action>) {
        if yes {
            state.phase = Phase::CodeNumber;
            let prompt = self.prompt(state);
            return say(out, Kind::Prompt, prompt);
        }
        self.settle_codes(state, if state.codes.is_empty() { "No code. " } else { "" }, out);
    }

    pub(super) fn settle_codes(&self, state: &mut State, before: &str, out: &mut Vec<Action>) {
        state.codes_settled = true;
        state.phase = self.first_of_preparation();
        let prompt = self.prompt(state);
        say(out, Kind::Answer, format!("{before}{prompt}"));
    }

    /// Takes the number of a code: its digits, none where it was no whole number.
    pub(super) fn code(
        &self,
        state: &mut State,
        at: Timestamp,
        digits: Option<String>,
        origin: &Origin,
        out: &mut Vec<Action>,
    ) {
        state.ask = None;
        let plain = |digits: &String| {
            (1..=MOST_DIGITS).contains(&digits.len()) && digits.chars().any(|digit| digit != '0')
        };
        let Some(number) = digits.filter(plain) else {
            let prompt = self.prompt(state);
            return say(out, Kind::Answer, format!("That is no number of a code. {prompt}"));
        };
        let known = self.profile.codes.iter().find(|code| bare(&code.number) == bare(&number));
        let circuit = known.and_then(|code| self.profile.circuit(&code.circuit));
        let names = circuit.map_or("names no circuit here", |circuit| &circuit.name);
        let what = StoredCode { text: number.clone(), circuit: circuit.map(|circuit| circuit.id.clone()) };
        if !state.codes.iter().any(|code| code.what == what) {
            state.codes.push(Given { what, at, origin: origin.clone() });
        }
        state.last_input = Some(Input::Code);
        state.phase = Phase::CodeNumber;
        let prompt = self.prompt(state);
        say(out, Kind::Answer, format!("{number}, {names}. {prompt}"));
    }

    /// Takes the last code back.
    pub(super) fn undo_code(&self, state: &mut State) {
        state.codes.pop();
        state.codes_settled = false;
        state.phase = Phase::CodeNumber;
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
