//! Owns the commands that mean the same wherever the session stands.

use super::{
    action::{Action, VoiceChange},
    message::{Info, Question},
    state::{Correction, Input, Origin, Phase, Prompts},
    turn::Turn,
};
use crate::{
    grammar::{Command, Spoken, Utterance},
    profile::PinName,
    quantity::Reading,
};
use jiff::SignedDuration;

/// Two doubtful calls to go on count when they are no further apart.
const WOKEN_WITHIN: SignedDuration = SignedDuration::from_secs(30);
/// Typed at a question, where "no" is meant by it: elsewhere it is "next".
const N: &str = "n";

impl Turn<'_> {
    /// While paused only this is followed: going on, stopping, and the answer to "stop now?".
    pub(super) fn followed_while_paused(&self, utterance: &Utterance) -> bool {
        match utterance {
            Utterance::Command(Command::Resume | Command::Wake | Command::Stop) => true,
            Utterance::Command(Command::Yes | Command::No) => self.state.ask.is_some(),
            _ => false,
        }
    }

    /// Words that may be the ones to go on by: heard in doubt once, they are talk in the room; twice within half a minute,
    /// somebody means it. Nothing is asked while paused, and going on takes nothing for granted.
    pub(super) fn perhaps_woken(&mut self, candidates: &[Utterance]) {
        let Some(first @ Utterance::Command(Command::Resume | Command::Wake)) = candidates.first() else {
            return;
        };
        match self.state.perhaps_woken.replace(self.at) {
            Some(before) if self.at.duration_since(before) <= WOKEN_WITHIN => self.input(first),
            _ => {}
        }
    }

    pub(super) fn command(&mut self, command: &Command) {
        if self.taken_by_phase(command) {
            return;
        }
        match command {
            // What is only said.
            Command::Status | Command::Why | Command::WhatWas(_) | Command::Worst | Command::LastTime
                if self.silent => {}
            Command::Yes => self.yes(),
            Command::No => self.no(),
            Command::Wrong(replacement) => self.wrong(*replacement),
            Command::Change { pin, reading } => self.change(pin, *reading),
            Command::Next => self.next(),
            Command::Back(by) => self.back(usize::from(*by)),
            Command::Skip => self.skip(),
            Command::Pause => {
                self.state.paused = true;
                self.state.perhaps_woken = None;
                self.state.ask = None;
                self.say_paused();
            }
            Command::Resume | Command::Wake => {
                self.state.ask = None;
                if std::mem::take(&mut self.state.paused) {
                    self.prompt_after(Info::Resumed);
                } else {
                    self.prompt();
                }
            }
            Command::Finish => self.finish(),
            Command::Stop => self.stop(),
            Command::Repeat => {
                if let Some(line) = self.state.last_line.clone() {
                    self.answer_alone(line);
                }
            }
            Command::Help => self.answer_alone(self.session.help(self.state)),
            Command::Status => self.answer_alone(self.session.status(self.state)),
            Command::Why => self.answer_alone(self.session.why(self.state)),
            Command::WhatWas(pin) => self.answer_alone(self.session.what_was(self.state, pin)),
            Command::Worst => self.answer_alone(self.session.worst(self.state)),
            Command::LastTime => self.answer_alone(self.session.last_time(self.state)),
            Command::WhereIs(pin) => self.answer_alone(self.session.where_is(self.state, pin.as_ref())),
            Command::ZeroLeads => self.zero_leads(),
            Command::TakeIt => match self.state.phase {
                Phase::Leads | Phase::Reading(_) => self.act(Action::AskMeter),
                _ => self.prompt_after(Info::NotYet),
            },
            Command::TalkLess => self.set_prompts(Prompts::Short),
            Command::TalkMore => self.set_prompts(Prompts::Full),
            Command::KeepListening => self.act(Action::Microphone { push: false }),
            Command::PushToTalk => self.act(Action::Microphone { push: true }),
            Command::Louder => self.voice(VoiceChange::Louder),
            Command::Quieter => self.voice(VoiceChange::Quieter),
            Command::Faster => self.voice(VoiceChange::Faster),
            Command::Slower => self.voice(VoiceChange::Slower),
        }
    }

    fn yes(&mut self) {
        let Some(ask) = self.state.ask.clone() else { return self.prompt() };
        match &ask.candidates[..] {
            [Utterance::Phrase(_)]
                if !self.state.rules.are_first() && self.session.confirm_here(self.state).is_some() =>
            {
                self.say_what_was_done();
            }
            [Utterance::Command(Command::Finish)] => self.conclude(),
            [Utterance::Command(Command::Stop)] => self.leave(),
            [candidate] => {
                self.state.ask = None;
                // What was asked about came in as it was heard; "yes" only settles it.
                self.origin = ask.origin;
                self.settle(candidate);
            }
            [first, second, ..] if ask.times <= 1 || self.state.rules.are_first() => {
                let say = |one: &Utterance| self.session.grammar.say_utterance(one);
                let (first, second) = (say(first), say(second));
                self.say(super::Kind::Question, Question::SayWhich { first, second });
            }
            _ => {
                let question = self.session.question(self.state, &ask);
                self.say(super::Kind::Question, question);
            }
        }
    }

    fn no(&mut self) {
        let asked = self.state.ask.take();
        let first_rules = self.state.rules.are_first();
        match asked {
            Some(_) if self.state.paused => self.say_paused(),
            // No to finishing, stopping or a detour: what is waited for is waited for.
            Some(ask) if !first_rules && ask.candidates.iter().any(is_detour) => self.prompt(),
            Some(_) => self.prompt_after(Info::SayAgain),
            None if matches!(self.state.last_input(), Some(Input::Reading(_))) => {
                self.answer_alone(Info::SayWrong);
            }
            None => self.prompt(),
        }
    }

    fn set_prompts(&mut self, prompts: Prompts) {
        self.state.prompts = prompts;
        self.prompt_after(match prompts {
            Prompts::Short => Info::ShortLines,
            Prompts::Full => Info::FullLines,
        });
    }

    fn change(&mut self, pin: &PinName, reading: Option<Spoken>) {
        if !matches!(self.state.phase, Phase::Reading(_) | Phase::AllRead) {
            return self.prompt_after(Info::NotYet);
        }
        self.state.ask = None;
        let at_pin = |place: &usize| self.session.circuit(&self.state.plan[*place]).is_at(pin);
        let places = || (0..self.state.plan.len()).filter(at_pin);
        let read = places()
            .filter(|place| self.state.answer(*place).is_some())
            .max_by_key(|place| self.state.answer(*place).map_or(0, |taken| taken.id));
        let Some(place) = read.or_else(|| places().next()) else {
            return self.answer(Info::NoCircuitAt { pin: pin.to_string() });
        };
        if let Phase::Reading(current) = self.state.phase
            && current != place
        {
            self.state.return_to = Some(current);
        }
        self.state.phase = Phase::Reading(place);
        match reading {
            Some(spoken) => self.spoken(spoken),
            None => {
                self.go_to(place);
                self.prompt();
            }
        }
    }

    fn next(&mut self) {
        if let Some(ask) = self.state.ask.clone() {
            let no = matches!(&self.origin, Origin::Keys(text) if text.trim().eq_ignore_ascii_case(N));
            if no && !self.state.rules.are_first() {
                return self.no();
            }
            let question = self.session.question(self.state, &ask);
            return self.say(super::Kind::Question, question);
        }
        match self.state.phase {
            Phase::Reading(place) if self.state.answer(place).is_some() => {
                self.advance(place);
                self.prompt();
            }
            Phase::Reading(_) => self.prompt_after(Info::NotReadYet),
            _ => self.prompt(),
        }
    }

    fn back(&mut self, by: usize) {
        self.state.ask = None;
        let from = match self.state.phase {
            Phase::Reading(place) => place,
            Phase::AllRead => self.state.plan.len(),
            _ => return self.prompt(),
        };
        self.state.return_to = None;
        self.go_to(from.saturating_sub(by.max(1)));
        self.prompt_after(Info::Back);
    }

    /// Leaves a reading out. What can be left out elsewhere, its phase does once no question is open.
    fn skip(&mut self) {
        self.state.ask = None;
        match self.state.phase {
            Phase::Reading(place) => {
                self.withdraw(place, Correction::Change);
                self.record(place, Reading::NotTaken);
                self.advance(place);
                self.prompt_after(Info::LeftOut);
            }
            Phase::Gate(_) | Phase::Temperature | Phase::Leads => {
                self.taken_by_phase(&Command::Skip);
            }
            _ => self.prompt(),
        }
    }

    fn voice(&mut self, change: VoiceChange) {
        self.act(Action::Voice(change));
        self.answer_alone(Info::LikeThis);
    }
}

fn is_detour(utterance: &Utterance) -> bool {
    matches!(utterance, Utterance::Command(Command::Finish | Command::Stop | Command::ZeroLeads))
}
