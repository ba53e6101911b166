//! Owns doubt: what is asked about something that was not heard clearly, or cannot have been shown as it was said.
//!
//! Two questions about one thing at the most, each new: first the place that differs, then digit by digit; then the keys. Heard
//! once more in doubt, a value is as doubtful as before. Nothing that was said is left without an answer.

use super::{
    action::Kind,
    display::Doubt,
    message::{Message, Question},
    readback::differing,
    state::{Ask, Phase, State},
    step::Session,
    turn::Turn,
};
use crate::grammar::{Command, Form, Spoken, SpokenNumber, Utterance};

impl Session {
    /// The question that is open, put again.
    pub(super) fn question(&self, state: &State, ask: &Ask) -> Message {
        let said: Vec<String> =
            ask.candidates.iter().map(|candidate| self.grammar.say_utterance(candidate)).collect();
        let first = ask.candidates.first();
        match first {
            Some(Utterance::Command(Command::Finish)) if state.phase == Phase::AllRead => {
                return Question::FinishAllRead.into();
            }
            Some(Utterance::Command(Command::Finish)) => {
                return Question::FinishNow { left: state.left() }.into();
            }
            Some(Utterance::Command(Command::Stop)) => return Question::StopNow.into(),
            _ => {}
        }
        let numbers = ask.candidates.iter().all(is_number);
        match (ask.times, &said[..]) {
            (0 | 1, [one]) => Question::Confirm { meant: one.clone() },
            (0 | 1, [first, second, ..]) => match parts(&ask.candidates) {
                Some((first, second)) => Question::Which {
                    first: self.digits_in_words(&first),
                    second: self.digits_in_words(&second),
                },
                None => Question::Which { first: first.clone(), second: second.clone() },
            },
            (_, []) => Question::Again,
            (2, _) if numbers => Question::DigitByDigit,
            // Narrowed from two: yes and no sound like neither of them.
            (2, [one]) if ask.narrowed => {
                let question = Question::Confirm { meant: one.clone() };
                return Message::from(question).then(Some(Question::YesOrNo.into()));
            }
            (2, _) => Question::OtherWords,
            _ => Question::UseKeys,
        }
        .into()
    }
}

impl Turn<'_> {
    /// Something was heard that may mean this or that.
    pub(super) fn doubtful(&mut self, candidates: &[Utterance]) {
        if self.state.rules.are_first() {
            return match again(self.state, candidates) {
                Some(candidate) => self.input(&candidate),
                None => self.ask(narrowed(self.state, candidates)),
            };
        }
        let is_phrase = |one: &Utterance| matches!(one, Utterance::Phrase(_));
        match self.session.confirm_here(self.state) {
            Some(confirm) if candidates.iter().any(is_phrase) => self.ask_phrase(confirm),
            _ => self.ask(candidates.to_vec()),
        }
    }

    /// A gate's phrase is asked by itself: "yes" would not say what was done.
    fn ask_phrase(&mut self, confirm: String) {
        let times = self.state.ask.as_ref().map_or(0, |ask| ask.times).saturating_add(1);
        let candidates = vec![Utterance::Phrase(confirm.clone())];
        let origin = self.origin.clone();
        self.state.ask = Some(Ask { candidates, times, narrowed: false, origin, doubted: None });
        let code = self.session.code_here(self.state).unwrap_or_default();
        self.say(
            Kind::Question,
            match times {
                0 | 1 => Question::PhraseAgain { confirm },
                2 => Question::PhraseOrKeys { confirm, code },
                _ => Question::TypeCode { code },
            },
        );
    }

    fn ask(&mut self, mut candidates: Vec<Utterance>) {
        let times = self.state.ask.as_ref().map_or(0, |ask| ask.times).saturating_add(1);
        let narrowed = times == 2
            && candidates.len() > 1
            && !candidates.iter().all(is_number)
            && !self.state.rules.are_first();
        if narrowed {
            candidates.truncate(1);
        }
        let ask = Ask { candidates, times, narrowed, origin: self.origin.clone(), doubted: None };
        let question = self.session.question(self.state, &ask);
        self.state.ask = Some(ask);
        self.say(Kind::Question, question);
    }

    /// Asks, or says what cannot be. Said again in answer to a question, a value settles it.
    pub(super) fn doubt(&mut self, doubt: Doubt) {
        match doubt {
            Doubt::Refused(question) => self.refuse(question),
            Doubt::Which(candidates) => match settled(self.state, &candidates) {
                Some(spoken) => {
                    self.state.ask = None;
                    self.spoken(spoken);
                }
                None => self.ask(candidates),
            },
        }
    }

    /// The one of two numbers whose differing place was said, in answer to the question about it.
    pub(super) fn part_answered(&self, utterance: &Utterance) -> Option<Utterance> {
        let ask = self.state.ask.as_ref().filter(|ask| ask.times == 1 && !self.state.rules.are_first())?;
        let (first, second) = parts(&ask.candidates)?;
        let Utterance::Reading(Spoken::Number(number)) = utterance else { return None };
        if number.form == Form::Pointed && number.number.places() > 0 || number.prefix.is_some() {
            return None;
        }
        let said = number.number.to_string();
        let place = [first, second].iter().position(|part| same_digits(part, &said))?;
        ask.candidates.get(place).cloned()
    }

    /// A yes or no that is not sure ("no, or zero?") while a question is open: the question stands and is put once more. "No" a
    /// second time counts; "yes" a second time is no proof. Tells whether it was that.
    pub(super) fn doubtful_answer(&mut self, candidates: &[Utterance]) -> bool {
        let is_answer = |one: &&Utterance| matches!(one, Utterance::Command(Command::Yes | Command::No));
        let Some(answer) = candidates.iter().find(is_answer) else { return false };
        let first_rules = self.state.rules.are_first();
        let Some(ask) = self.state.ask.as_mut().filter(|ask| first_rules || ask.candidates.len() == 1) else {
            return false;
        };
        let is_no = *answer == Utterance::Command(Command::No);
        if ask.doubted.as_ref() == Some(answer) && (is_no || first_rules) {
            self.input(answer);
        } else if ask.doubted.is_some() && !first_rules {
            ask.doubted = Some(answer.clone());
            self.say(Kind::Question, Question::YesNoByKeys);
        } else {
            ask.doubted = Some(answer.clone());
            let ask = ask.clone();
            let question = self.session.question(self.state, &Ask { times: 1, ..ask });
            self.say(Kind::Question, question.then(Some(Question::YesOrNo.into())));
        }
        true
    }

    /// Nothing that may be said was heard: said again, then the keys, each time it happens.
    pub(super) fn missed(&mut self) {
        self.state.misses = self.state.misses.saturating_add(1);
        let code = self.session.code_here(self.state);
        self.say(
            Kind::Question,
            match (self.state.misses, code) {
                (1, _) => Question::Again,
                (2, _) => Question::AgainOrKeys,
                (_, Some(code)) => Question::TypeCode { code },
                (_, None) => Question::UseKeys,
            },
        );
    }
}

fn is_number(utterance: &Utterance) -> bool {
    matches!(utterance, Utterance::Reading(_) | Utterance::Entry(_))
}

/// The place in which two numbers differ, where that is all in which they do.
fn parts(candidates: &[Utterance]) -> Option<(String, String)> {
    let [Utterance::Reading(Spoken::Number(one)), Utterance::Reading(Spoken::Number(other))] = candidates
    else {
        return None;
    };
    let alike = (one.prefix, one.unit, one.form) == (other.prefix, other.unit, other.form);
    if alike && one.form == Form::Pointed { differing(one.number, other.number) } else { None }
}

/// "05" may be said as "oh five" or as "five".
fn same_digits(part: &str, said: &str) -> bool {
    part.trim_start_matches('0') == said.trim_start_matches('0') && part.len() <= said.len() + 1
}

/// What was asked about and is now meant again. "One five" in answer to "1.5, or 15.0?" settles nothing: both are meant again.
fn settled(state: &State, now: &[Utterance]) -> Option<Spoken> {
    let asked = &state.ask.as_ref()?.candidates;
    let meant = |candidate: &&Utterance| asked.iter().any(|one| same_value(one, candidate));
    let mut again = now.iter().filter(meant);
    match (again.next(), again.next(), asked.len()) {
        (Some(Utterance::Reading(spoken)), None, 2..) => Some(*spoken),
        _ => None,
    }
}

fn same_value(one: &Utterance, other: &Utterance) -> bool {
    let value = |utterance: &Utterance| match utterance {
        Utterance::Reading(Spoken::Number(SpokenNumber { number, prefix, .. })) => {
            Some(number.to_f64() * prefix.map_or(1.0, crate::quantity::Prefix::factor))
        }
        _ => None,
    };
    one == other || value(one).is_some_and(|value_of_one| Some(value_of_one) == value(other))
}

/// By the first rules: the same question as before is narrowed to its first candidate.
fn narrowed(state: &State, now: &[Utterance]) -> Vec<Utterance> {
    let asked = state.ask.as_ref().map_or(&[][..], |ask| &ask.candidates);
    match (now, asked) {
        ([first, _, ..], [one, rest @ ..])
            if first == one && rest.iter().all(|other| now.contains(other)) =>
        {
            vec![first.clone()]
        }
        _ => now.to_vec(),
    }
}

/// By the first rules: the one candidate of the open question that is among those heard now. Where one alone was asked, it has to be
/// all that was heard.
fn again(state: &State, now: &[Utterance]) -> Option<Utterance> {
    let asked = &state.ask.as_ref()?.candidates;
    if asked.len() == 1 && now.len() > 1 {
        return None;
    }
    let mut both = asked.iter().filter(|candidate| now.contains(candidate));
    match (both.next(), both.next()) {
        (Some(one), None) => Some(one.clone()),
        _ => None,
    }
}
