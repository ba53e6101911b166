//! Owns a turn: one thing that came in, and all that is asked, said and shown because of it.

use super::{
    action::{Action, Kind},
    message::{Info, Message, Question},
    state::{Ask, Origin, State},
    step::Session,
};
use crate::grammar::Utterance;
use jiff::Timestamp;

/// One turn. The phases of the session act on it; what it collected is what the rim does.
pub(super) struct Turn<'a> {
    pub session: &'a Session,
    pub state: &'a mut State,
    /// When it came in.
    pub at: Timestamp,
    /// How it came in.
    pub origin: Origin,
    /// Nobody hears what is said: lines that need the verdict engine are not worked out.
    pub silent: bool,
    actions: Vec<Action>,
}

impl<'a> Turn<'a> {
    pub fn new(session: &'a Session, state: &'a mut State, at: Timestamp, origin: Origin) -> Self {
        Self { session, state, at, origin, silent: false, actions: Vec::new() }
    }

    /// Ends the turn: the last line that is no caution is the one that "repeat" says.
    pub fn end(mut self) -> Vec<Action> {
        self.time_waiting();
        for action in &self.actions {
            if let Action::Say { message, kind } = action
                && *kind != Kind::Caution
            {
                self.state.last_line = Some(message.clone());
            }
        }
        self.actions
    }

    /// Something to do that is no line.
    pub fn act(&mut self, action: Action) {
        self.actions.push(action);
    }

    pub fn say(&mut self, kind: Kind, message: impl Into<Message>) {
        self.actions.push(Action::Say { message: message.into(), kind });
    }

    /// Says what to do now.
    pub fn prompt(&mut self) {
        if let Some(prompt) = self.session.prompt(self.state) {
            self.say(Kind::Prompt, prompt);
        }
    }

    /// Says something and what to do now.
    pub fn prompt_after(&mut self, first: impl Into<Message>) {
        self.say_with_prompt(Kind::Prompt, first);
    }

    /// Answers, and says what to do now.
    pub fn answer(&mut self, first: impl Into<Message>) {
        self.say_with_prompt(Kind::Answer, first);
    }

    /// Answers; what to do now has not changed.
    pub fn answer_alone(&mut self, message: impl Into<Message>) {
        self.say(Kind::Answer, message);
    }

    pub fn say_with_prompt(&mut self, kind: Kind, first: impl Into<Message>) {
        let prompt = self.session.prompt(self.state);
        self.say(kind, first.into().then(prompt));
    }

    /// Refuses what came in: the question that was open is answered by it.
    pub fn refuse(&mut self, why: Question) {
        self.state.ask = None;
        self.say(Kind::Question, why);
    }

    /// Asks about something that ends the session or changes its course: "yes" does it.
    pub fn ask_before(&mut self, utterance: Utterance, question: impl Into<Message>) {
        let origin = Origin::Keys(String::new());
        self.state.ask =
            Some(Ask { candidates: vec![utterance], times: 1, narrowed: false, origin, doubted: None });
        self.say(Kind::Question, question);
    }

    /// "Paused", as an answer.
    pub fn say_paused(&mut self) {
        self.answer_alone(Info::Paused);
    }
}
