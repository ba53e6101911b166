//! Owns the commands: what each does where the session stands.

use super::{
    flow::{Action, End, Kind, Session, VoiceChange, say},
    state::{Correction, Given, Input, Origin, Phase, Prompts, State},
};
use crate::{
    grammar::{Command, Spoken, Utterance},
    quantity::Reading,
};
use jiff::{SignedDuration, Timestamp};

/// What is said when a pause begins, and to whoever types meanwhile.
pub(super) const PAUSED: &str = "Paused. Say wake up to go on.";

/// Two doubtful calls to go on count when they are no further apart.
const WOKEN_WITHIN: SignedDuration = SignedDuration::from_secs(30);

impl Session {
    /// While paused only this is followed: going on, stopping, and the answer to "stop now?".
    pub(super) fn followed_while_paused(&self, state: &State, utterance: &Utterance) -> bool {
        match utterance {
            Utterance::Command(Command::Resume | Command::Wake | Command::Stop) => true,
            Utterance::Command(Command::Yes | Command::No) => state.ask.is_some(),
            _ => false,
        }
    }

    /// Words that may be the ones to go on by: heard in doubt once, they are talk in the room; twice within half a minute,
    /// somebody means it. Nothing is asked while paused, and going on takes nothing for granted.
    pub(super) fn perhaps_woken(
        &self,
        state: &mut State,
        at: Timestamp,
        candidates: &[Utterance],
        origin: &Origin,
        out: &mut Vec<Action>,
    ) {
        let Some(first @ Utterance::Command(Command::Resume | Command::Wake)) = candidates.first() else {
            return;
        };
        match state.perhaps_woken.replace(at) {
            Some(before) if at.duration_since(before) <= WOKEN_WITHIN => {
                self.input(state, at, first, origin, out);
            }
            _ => {}
        }
    }

    pub(super) fn command(
        &self,
        state: &mut State,
        at: Timestamp,
        command: &Command,
        origin: &Origin,
        out: &mut Vec<Action>,
    ) {
        // An open question is answered by yes, no, a new value; asking again for the same words repeats it.
        if self.taken_elsewhere(state, at, command, origin, out) {
            return;
        }
        match command {
            Command::Yes => self.yes(state, at, out),
            Command::No => self.no(state, out),
            Command::Wrong(replacement) => self.wrong(state, at, *replacement, origin, out),
            Command::Change { pin, reading } => self.change(state, at, pin.as_str(), *reading, origin, out),
            Command::Next => self.next(state, out),
            Command::Back(by) => self.back(state, usize::from(*by), out),
            Command::Skip => self.skip(state, at, origin, out),
            Command::Pause => {
                state.paused = true;
                state.perhaps_woken = None;
                state.ask = None;
                say(out, Kind::Answer, PAUSED.to_owned());
            }
            Command::Resume | Command::Wake => {
                state.ask = None;
                let was = std::mem::take(&mut state.paused);
                let prompt = self.prompt(state);
                say(out, Kind::Prompt, format!("{}{prompt}", if was { "Going on. " } else { "" }));
            }
            Command::Finish => self.finish(state, out),
            Command::Stop => self.stop(state, out),
            Command::Repeat => {
                let line = state.last_line.clone();
                say(out, Kind::Answer, line);
            }
            Command::Help => answer(out, self.may_be_said(state)),
            Command::Status => answer(out, self.status(state)),
            Command::Why => answer(out, self.why(state)),
            Command::WhatWas(pin) => answer(out, self.what_was(state, pin.as_str())),
            Command::Worst => answer(out, self.worst(state)),
            Command::WhereIs(pin) => answer(out, self.where_is(state, pin.as_ref())),
            Command::TalkLess => self.set_prompts(state, Prompts::Short, out),
            Command::TalkMore => self.set_prompts(state, Prompts::Full, out),
            Command::KeepListening => out.push(Action::Microphone { push: false }),
            Command::PushToTalk => out.push(Action::Microphone { push: true }),
            Command::Louder => voice(out, VoiceChange::Louder),
            Command::Quieter => voice(out, VoiceChange::Quieter),
            Command::Faster => voice(out, VoiceChange::Faster),
            Command::Slower => voice(out, VoiceChange::Slower),
        }
    }

    fn prompt_again(&self, state: &State, before: &str, out: &mut Vec<Action>) {
        let prompt = self.prompt(state);
        say(out, Kind::Prompt, format!("{before}{prompt}"));
    }

    fn yes(&self, state: &mut State, at: Timestamp, out: &mut Vec<Action>) {
        match state.ask.clone() {
            Some(ask) if ask.candidates.len() == 1 => {
                let candidate = ask.candidates[0].clone();
                match candidate {
                    Utterance::Command(Command::Finish) => self.conclude(state, out),
                    Utterance::Command(Command::Stop) => self.leave(state, out),
                    Utterance::Reading(spoken) => {
                        state.ask = None;
                        self.spoken(state, at, spoken, &ask.origin, out);
                    }
                    Utterance::Command(command) => {
                        state.ask = None;
                        self.command(state, at, &command, &ask.origin, out);
                    }
                    Utterance::Entry(digits) => {
                        state.ask = None;
                        self.entry(state, at, &digits, &ask.origin, out);
                    }
                    Utterance::Phrase(phrase) => {
                        state.ask = None;
                        self.phrase(state, at, &phrase, &ask.origin, out);
                    }
                }
            }
            Some(ask) => {
                let question = self.question(&ask.candidates, ask.times);
                say(out, Kind::Question, format!("Say which. {question}"));
            }
            None => {
                if let Phase::Gate(place) = state.phase {
                    let confirm = &self.profile.gates[place].confirm;
                    say(out, Kind::Prompt, format!("Say what was done: {confirm}."));
                } else {
                    self.prompt_again(state, "", out);
                }
            }
        }
    }

    fn set_prompts(&self, state: &mut State, prompts: Prompts, out: &mut Vec<Action>) {
        state.prompts = prompts;
        let text = match prompts {
            Prompts::Short => "Short lines. ",
            Prompts::Full => "Full lines. ",
        };
        self.prompt_again(state, text, out);
    }

    fn no(&self, state: &mut State, out: &mut Vec<Action>) {
        let asked = state.ask.take().is_some();
        if asked && state.paused {
            say(out, Kind::Answer, PAUSED.to_owned());
        } else if asked {
            self.prompt_again(state, "Say it again. ", out);
        } else if matches!(state.last_input, Some(Input::Reading(_))) {
            say(out, Kind::Answer, "Say wrong to take the last one back.".to_owned());
        } else {
            self.prompt_again(state, "", out);
        }
    }

    fn wrong(
        &self,
        state: &mut State,
        at: Timestamp,
        replacement: Option<Spoken>,
        origin: &Origin,
        out: &mut Vec<Action>,
    ) {
        if state.ask.take().is_none() {
            self.undo(state, at, origin);
        }
        match replacement {
            Some(spoken) => self.spoken(state, at, spoken, origin, out),
            None => self.prompt_again(state, "Taken back. ", out),
        }
    }

    /// Takes the last input back. What was taken stays in the record, marked.
    pub(super) fn undo(&self, state: &mut State, at: Timestamp, origin: &Origin) {
        match state.last_input.take() {
            None => {}
            Some(Input::Gate(place)) => {
                if let Some(preparation) = state.preparations.last_mut() {
                    preparation.gates.retain(|gate| gate.what != place);
                }
                state.phase = Phase::Gate(place);
            }
            Some(Input::Temperature) => state.phase = Phase::Temperature,
            Some(Input::Leads) => state.phase = Phase::Leads,
            Some(Input::Code) => self.undo_code(state),
            Some(Input::StationGate { task, gate }) => self.undo_station_gate(state, task, gate),
            Some(Input::Reading(id)) => {
                let Some(place) = state.taken.iter().find(|taken| taken.id == id).map(|taken| taken.task)
                else {
                    return;
                };
                self.withdraw(state, place, &Given { what: Correction::Wrong, at, origin: origin.clone() });
                if let Phase::Reading(current) = state.phase
                    && current != place
                {
                    state.return_to = Some(current.max(place));
                }
                state.phase = Phase::Reading(place);
            }
        }
    }

    fn change(
        &self,
        state: &mut State,
        at: Timestamp,
        pin: &str,
        reading: Option<Spoken>,
        origin: &Origin,
        out: &mut Vec<Action>,
    ) {
        if !matches!(state.phase, Phase::Reading(_) | Phase::AllRead) {
            return self.prompt_again(state, "Not yet. ", out);
        }
        state.ask = None;
        let at_pin = |place: &usize| self.circuit(&state.plan[*place]).pin.as_str().eq_ignore_ascii_case(pin);
        let places = || (0..state.plan.len()).filter(at_pin);
        let read = places()
            .filter(|place| state.answer(*place).is_some())
            .max_by_key(|place| state.answer(*place).map_or(0, |taken| taken.id));
        let Some(place) = read.or_else(|| places().next()) else {
            let text = format!("No circuit is measured at pin {pin}. {}", self.prompt(state));
            return say(out, Kind::Answer, text);
        };
        if let Phase::Reading(current) = state.phase
            && current != place
        {
            state.return_to = Some(current);
        }
        state.phase = Phase::Reading(place);
        match reading {
            Some(spoken) => self.spoken(state, at, spoken, origin, out),
            None => {
                self.go_to(state, place);
                self.prompt_again(state, "", out);
            }
        }
    }

    fn next(&self, state: &mut State, out: &mut Vec<Action>) {
        if let Some(ask) = &state.ask {
            let question = self.question(&ask.candidates, ask.times);
            return say(out, Kind::Question, question);
        }
        match state.phase {
            Phase::Reading(place) if state.answer(place).is_some() => {
                self.advance(state, place);
                self.prompt_again(state, "", out);
            }
            Phase::Reading(_) => self.prompt_again(state, "Not read yet; say skip to leave it out. ", out),
            _ => self.prompt_again(state, "", out),
        }
    }

    fn back(&self, state: &mut State, by: usize, out: &mut Vec<Action>) {
        state.ask = None;
        let from = match state.phase {
            Phase::Reading(place) => place,
            Phase::AllRead => state.plan.len(),
            _ => return self.prompt_again(state, "", out),
        };
        state.return_to = None;
        self.go_to(state, from.saturating_sub(by.max(1)));
        self.prompt_again(state, "Back. ", out);
    }

    fn skip(&self, state: &mut State, at: Timestamp, origin: &Origin, out: &mut Vec<Action>) {
        state.ask = None;
        match state.phase {
            Phase::Reading(place) => {
                self.withdraw(state, place, &Given { what: Correction::Change, at, origin: origin.clone() });
                self.record(state, at, place, Reading::NotTaken, origin);
                self.advance(state, place);
                self.prompt_again(state, "Left out. ", out);
            }
            Phase::Gate(_) | Phase::Temperature | Phase::Leads => {
                self.skip_preparation(state, at, origin, out)
            }
            _ => self.prompt_again(state, "", out),
        }
    }

    fn finish(&self, state: &mut State, out: &mut Vec<Action>) {
        if state.phase == Phase::AllRead {
            return self.conclude(state, out);
        }
        if state.standing().next().is_none() {
            return self.prompt_again(state, "Nothing was read yet. ", out);
        }
        let asked = Utterance::Command(Command::Finish);
        if state.ask.as_ref().is_some_and(|ask| ask.candidates == [asked.clone()]) {
            return self.conclude(state, out);
        }
        self.confirm_command(state, Command::Finish, &format!("{} left. ", state.left()), out);
    }

    fn stop(&self, state: &mut State, out: &mut Vec<Action>) {
        let asked = Utterance::Command(Command::Stop);
        if state.ask.as_ref().is_some_and(|ask| ask.candidates == [asked.clone()]) {
            return self.leave(state, out);
        }
        self.confirm_command(state, Command::Stop, "", out);
    }

    /// Asks before something that ends the session, so that a misheard word does not.
    fn confirm_command(&self, state: &mut State, command: Command, before: &str, out: &mut Vec<Action>) {
        let candidates = vec![Utterance::Command(command)];
        let question = format!("{before}{}", self.question(&candidates, 1));
        let origin = Origin::Keys(String::new());
        state.ask = Some(super::state::Ask { candidates, times: 1, origin, doubted: None });
        say(out, Kind::Question, question);
    }

    fn leave(&self, state: &mut State, out: &mut Vec<Action>) {
        state.ask = None;
        say(out, Kind::Answer, "Stopped. It can be resumed.".to_owned());
        out.push(Action::End(End::Left));
    }

    fn conclude(&self, state: &mut State, out: &mut Vec<Action>) {
        state.ask = None;
        match self.judge(state) {
            Ok(judgement) => {
                for line in self.conclusion(&judgement) {
                    say(out, Kind::Conclusion, line);
                }
            }
            Err(refusal) => {
                let text = format!("No conclusion: {refusal}");
                say(out, Kind::Conclusion, text);
            }
        }
        state.phase = Phase::Ended;
        out.push(Action::End(End::Concluded));
    }
}

fn answer(out: &mut Vec<Action>, text: String) {
    say(out, Kind::Answer, text);
}

fn voice(out: &mut Vec<Action>, change: VoiceChange) {
    out.push(Action::Voice(change));
    say(out, Kind::Answer, "Like this.".to_owned());
}
