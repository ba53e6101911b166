//! Owns the step: which part of the session takes an event.

use super::{
    action::Action,
    event::{Event, Hearing, Outcome},
    last_time::LastTime,
    message::Info,
    rules::Rules,
    state::{Awaited, Input, Origin, Phase, State},
    turn::Turn,
};
use crate::{
    grammar::{Context, Follow, Grammar, Utterance},
    profile::{Meter, Profile},
    verdict::{self, Judgement, Station},
};
use jiff::{SignedDuration, Timestamp};
use schemars::JsonSchema;
use serde::Serialize;
use std::sync::Arc;

/// What a session works with and does not change.
#[derive(Debug, Clone)]
pub struct Session {
    /// The part.
    pub profile: Arc<Profile>,
    /// The meter.
    pub meter: Arc<Meter>,
    /// The words.
    pub grammar: Arc<Grammar>,
    /// What the history has of earlier sessions.
    pub last_time: Arc<LastTime>,
}

/// The phrase that confirms a gate is a command or a reading already: said, it would be both.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, JsonSchema)]
pub struct PhraseClash {
    /// The gate's name.
    pub gate: String,
    /// Its phrase.
    pub phrase: String,
}

impl Session {
    /// A session in which every gate's phrase means that gate and nothing else.
    ///
    /// # Errors
    /// [`PhraseClash`], the first one.
    pub fn new(profile: Profile, meter: Meter, grammar: Grammar) -> Result<Self, PhraseClash> {
        let (profile, meter, grammar) = (Arc::new(profile), Arc::new(meter), Arc::new(grammar));
        let session = Self { profile, meter, grammar, last_time: Arc::default() };
        session.check_phrases().map(|()| session)
    }

    /// Looks whether any gate's phrase is a command or a reading as well.
    ///
    /// # Errors
    /// [`PhraseClash`], the first one.
    pub fn check_phrases(&self) -> Result<(), PhraseClash> {
        let context = Context { phrases: Vec::new(), ..Context::of_profile(&self.profile) };
        let before = self.profile.gates.iter().map(|gate| (gate.id.clone(), gate.confirm.clone()));
        let stations = [Station::Component, Station::Harness, Station::Case];
        let at_stations = stations.into_iter().flat_map(|station| self.station_gates(station, Rules::NOW));
        let mut all = before.chain(at_stations.map(|gate| (gate.id, gate.confirm)));
        let clash = all.find(|(_, phrase)| self.grammar.parse(phrase, &context).is_some());
        clash.map_or(Ok(()), |(gate, phrase)| Err(PhraseClash { gate, phrase }))
    }

    /// Takes one event at its time, changes the state and returns what to do.
    pub fn step(&self, state: &mut State, at: Timestamp, event: &Event) -> Vec<Action> {
        self.take(state, at, event, false)
    }

    /// As [`Session::step`], for what happened long ago: nobody hears what follows, so that lines which need the verdict engine are
    /// not worked out. The state is the same but for the line that "repeat" says.
    pub fn follow_up(&self, state: &mut State, at: Timestamp, event: &Event) {
        self.take(state, at, event, true);
    }

    fn take(&self, state: &mut State, at: Timestamp, event: &Event, silent: bool) -> Vec<Action> {
        if state.phase == Phase::Ended {
            return Vec::new();
        }
        let origin = match event {
            Event::Heard(hearing) => Origin::Voice(hearing.clone()),
            Event::Keyed { text, .. } => Origin::Keys(text.clone()),
            Event::Metered { text, .. } => Origin::Meter(text.clone()),
            Event::Started | Event::Opened(_) | Event::ClockSet { .. } | Event::Tick => {
                Origin::Keys(String::new())
            }
        };
        let mut turn = Turn::new(self, state, at, origin);
        turn.silent = silent;
        match event {
            Event::Started => turn.start(),
            Event::Opened(rules) => {
                turn.state.rules = *rules;
                turn.start();
            }
            Event::Tick => turn.tick(),
            Event::ClockSet { by_ms } => turn.clock_set(SignedDuration::from_millis(*by_ms)),
            Event::Keyed { utterance: Some(utterance), .. } => turn.input(utterance),
            // What was asked of the meter answers no other question.
            Event::Metered { utterance, .. } if turn.state.takes_meter() => turn.input(utterance),
            Event::Metered { .. } => turn.prompt(),
            Event::Keyed { text, utterance: None } => {
                let help = self.help(turn.state);
                turn.answer_alone(
                    super::Message::from(Info::NotUnderstood { typed: text.clone() }).then(Some(help.into())),
                );
            }
            Event::Heard(hearing) => turn.heard(hearing),
        }
        turn.end()
    }

    /// The judgement of everything read so far.
    ///
    /// # Errors
    /// What the engine refuses; cannot happen with readings that a session took in.
    pub fn judge(&self, state: &State) -> Result<Judgement, verdict::Refusal> {
        let evidence = state.evidence(&self.profile);
        verdict::judge(&state.named(&self.profile), Some(&self.meter), &evidence)
    }

    /// The reading that is waited for, as a journal names it.
    #[must_use]
    pub fn awaited(&self, state: &State) -> Option<Awaited> {
        let task = state.current()?;
        let circuit = self.profile.circuits.get(task.circuit)?.id.clone();
        Some(Awaited { circuit, station: task.station, contact: task.contact, purpose: task.purpose })
    }

    /// What may be said now, for the grammar.
    #[must_use]
    pub fn context(&self, state: &State) -> Context {
        let mut context = Context::of_profile(&self.profile);
        context.phrases = self.phrases(state);
        context.entry = state.phase == Phase::CodeNumber;
        context
    }

    /// What can follow after these words where the session stands: nothing behind the last place that the display shows.
    #[must_use]
    pub fn follow(&self, words: &str, meant: Option<&Utterance>, context: &Context) -> Follow {
        super::display::follow(&self.grammar, &self.meter, words, meant, context)
    }

    /// Whether a minute of a waiting time is over and has to be told: then [`Event::Tick`] says it.
    #[must_use]
    pub fn is_minute_due(&self, state: &State, at: Timestamp) -> bool {
        super::waiting::due(state, at).is_some()
    }

    /// Whether the person has kept silent for so long that one reminder is due: then [`Event::Tick`] says it. Once; after
    /// that the session waits.
    #[must_use]
    pub fn is_reminder_due(&self, state: &State, at: Timestamp, after: SignedDuration) -> bool {
        state.last_activity.is_some_and(|last| at.duration_since(last) >= after) && may_remind(state)
    }
}

/// Whether a reminder may be given at all.
fn may_remind(state: &State) -> bool {
    let waits = state.waiting.is_some_and(|waiting| waiting.told < waiting.minutes);
    !state.reminded && !state.paused && !waits && !matches!(state.phase, Phase::New | Phase::Ended)
}

impl Turn<'_> {
    fn tick(&mut self) {
        if self.tell_waiting() {
            return;
        }
        if may_remind(self.state) {
            self.state.reminded = true;
            self.prompt_after(Info::StillHere);
        }
    }

    fn heard(&mut self, hearing: &Hearing) {
        match &hearing.outcome {
            Outcome::NoSpeech => {}
            // Nearly clear is enough for a reading, which is said back; what makes safe and what all readings rest on is asked.
            Outcome::Understood(utterance) if hearing.marked && self.wants_certainty(utterance) => {
                self.heard_in_doubt(std::slice::from_ref(utterance));
            }
            Outcome::Understood(utterance @ (Utterance::Reading(_) | Utterance::Entry(_)))
                if hearing.continues =>
            {
                self.continued(utterance);
            }
            Outcome::Understood(utterance) => self.input(utterance),
            Outcome::Doubtful(candidates) => self.heard_in_doubt(candidates),
            Outcome::NotInGrammar if self.state.paused => {}
            Outcome::NotInGrammar => self.missed(),
        }
    }

    fn heard_in_doubt(&mut self, candidates: &[Utterance]) {
        if self.doubtful_answer(candidates) {
            return;
        }
        if self.state.paused {
            self.perhaps_woken(candidates);
        } else {
            self.doubtful(candidates);
        }
    }

    fn wants_certainty(&self, utterance: &Utterance) -> bool {
        !self.state.rules.are_first()
            && match utterance {
                Utterance::Phrase(_) => true,
                Utterance::Reading(_) | Utterance::Entry(_) => !matches!(self.state.phase, Phase::Reading(_)),
                Utterance::Command(_) | Utterance::Naming { .. } => false,
            }
    }

    /// Takes an utterance that was understood.
    pub(super) fn input(&mut self, utterance: &Utterance) {
        if self.state.paused && !self.followed_while_paused(utterance) {
            if let Origin::Keys(_) = self.origin {
                self.say_paused();
            }
            return;
        }
        self.state.last_activity = Some(self.at);
        self.state.reminded = false;
        self.state.misses = 0;
        if let Some(candidate) = self.part_answered(utterance) {
            self.state.ask = None;
            return self.settle(&candidate);
        }
        // What was asked about and is now said for certain is no question any more. Ending is asked, and said twice.
        let asked = self.state.ask.as_ref().is_some_and(|ask| ask.candidates.contains(utterance));
        if asked && !super::message::ends(utterance) {
            self.state.ask = None;
        }
        self.settle(utterance);
    }

    /// Does what was meant, no question being open about it.
    pub(super) fn settle(&mut self, utterance: &Utterance) {
        match utterance {
            Utterance::Command(command) => self.command(command),
            Utterance::Phrase(phrase) => self.phrase(phrase),
            Utterance::Reading(spoken) => self.spoken(*spoken),
            Utterance::Entry(digits) => self.entry(digits),
            Utterance::Naming { pin, name } => self.name_pin(pin, name),
        }
    }

    /// What was heard just before went on ("one" ... "point five"): where it was taken as a reading or a code, the whole
    /// replaces it.
    fn continued(&mut self, utterance: &Utterance) {
        let kept = matches!(self.state.last_input(), Some(Input::Reading(_) | Input::Code));
        if kept && self.state.ask.is_none() && !self.state.paused {
            self.undo();
        }
        self.input(utterance);
    }
}
