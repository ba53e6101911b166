//! Owns the end: everything read, "finish" with its conclusion, and "stop" for another day.

use super::{
    action::{Action, End, Kind},
    message::{Concluded, Info, Question},
    state::Phase,
    turn::Turn,
};
use crate::{
    grammar::{Command, Utterance},
    verdict::{CheckAction, Grounds, Judgement, NextCheck, Saying, Station},
};

impl Turn<'_> {
    /// "Yes" and "next", which a keypad has, offer to finish; "finish" is said in so many words.
    pub(super) fn command_at_end(&mut self, command: &Command) -> bool {
        let offers = matches!(command, Command::Yes | Command::Next) && !self.state.rules.are_first();
        if offers {
            self.ask_before(Utterance::Command(Command::Finish), Question::FinishAllRead);
        }
        offers
    }

    pub(super) fn finish(&mut self) {
        if self.state.phase == Phase::AllRead {
            return self.conclude();
        }
        if self.state.standing().next().is_none() {
            return self.prompt_after(Info::NothingReadYet);
        }
        let asked = Utterance::Command(Command::Finish);
        if self.state.ask.as_ref().is_some_and(|ask| ask.candidates == [asked.clone()]) {
            return self.conclude();
        }
        let left = self.state.left();
        self.ask_before(asked, Question::FinishNow { left });
    }

    pub(super) fn stop(&mut self) {
        let asked = Utterance::Command(Command::Stop);
        if self.state.ask.as_ref().is_some_and(|ask| ask.candidates == [asked.clone()]) {
            return self.leave();
        }
        self.ask_before(asked, Question::StopNow);
    }

    pub(super) fn leave(&mut self) {
        self.state.ask = None;
        self.answer_alone(Info::Stopped);
        self.act(Action::End(End::Left));
    }

    pub(super) fn conclude(&mut self) {
        self.state.ask = None;
        match self.session.judge(self.state) {
            _ if self.silent => {}
            Ok(judgement) => {
                for line in conclusion(&judgement) {
                    self.say(Kind::Conclusion, line);
                }
            }
            Err(refusal) => self.say(Kind::Conclusion, Concluded::None(refusal.to_string())),
        }
        self.state.phase = Phase::Ended;
        self.act(Action::End(End::Concluded));
    }
}

/// The conclusion as it is spoken: what, why, what else, what next, and the caution that stands on all of them.
#[must_use]
pub fn conclusion(judgement: &Judgement) -> Vec<Concluded> {
    let conclusion = &judgement.conclusion;
    let mut lines = vec![Concluded::Headline(conclusion.headline.clone())];
    if let Some(first) = conclusion.explanations.first() {
        // A reason that only says the headline again is not worth being heard twice.
        let new = |text: &Saying<Grounds>| match (conclusion.headline.value(), text.value()) {
            (Some(headline), Some(Grounds::Suspected { what, .. })) => !headline.tells(what),
            _ => true,
        };
        let reasons = first.reasons_for.iter().filter(|reason| new(&reason.text));
        lines.extend(reasons.take(3).map(|reason| Concluded::Reason(reason.text.clone())));
    }
    lines.extend(conclusion.not_excluded.iter().take(2).cloned().map(Concluded::NotExcluded));
    let next = judgement.next_checks.first();
    lines.extend(next.map(|check| Concluded::Next(check.text.clone())));
    // What the session cannot lead through at the plug is checked under load.
    let under_load =
        |check: &NextCheck| check.action == CheckAction::Other && check.station == Some(Station::Harness);
    lines.extend(next.filter(|check| under_load(check)).map(|_| Concluded::PowerIsOn));
    lines.extend(conclusion.cautions.iter().cloned().map(Concluded::Caution));
    lines
}
