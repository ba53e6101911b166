//! Owns the step: which part of the session takes an event, and where the session goes after an input.

use super::{
    event::{Event, Outcome},
    state::{Ask, Correction, Given, Input, Origin, Phase, Purpose, State, Taken, Task},
};
use crate::{
    grammar::{Command, Context, Follow, Grammar, Spoken, Utterance},
    profile::{Meter, Profile},
    quantity::Reading,
    verdict::{self, CheckAction, Contact, Judgement},
};
use jiff::{SignedDuration, Timestamp};
use std::sync::Arc;

/// How long safety answers, leads and temperature hold.
const PREPARATION_HOLDS: SignedDuration = SignedDuration::from_mins(30);
/// How often one circuit is read again at the most, so that a session always ends.
const MOST_RECHECKS: usize = 3;

/// What the rim is to do.
#[derive(Debug, Clone, PartialEq)]
pub enum Action {
    /// Say and show a line.
    Say {
        /// The words, as written.
        text: String,
        /// What kind of line it is.
        kind: Kind,
    },
    /// Change how the voice speaks.
    Voice(VoiceChange),
    /// The microphone is open (`false`), or listens while the talk key or the pedal is pressed.
    Microphone {
        /// Whether something has to be pressed.
        push: bool,
    },
    /// The session is over.
    End(End),
}

/// Changes of the voice.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum VoiceChange {
    /// Louder.
    Louder,
    /// More quietly.
    Quieter,
    /// Faster.
    Faster,
    /// More slowly.
    Slower,
}

/// Kinds of lines.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Kind {
    /// Something that can hurt or mislead.
    Caution,
    /// What to do next.
    Prompt,
    /// Read-back or answer, with the next prompt.
    Answer,
    /// A question about what was heard.
    Question,
    /// The conclusion.
    Conclusion,
}

/// How a session ends.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum End {
    /// With a conclusion.
    Concluded,
    /// Left open, to be resumed.
    Left,
}

/// What a session works with and does not change.
#[derive(Debug, Clone)]
pub struct Session {
    /// The part.
    pub profile: Arc<Profile>,
    /// The meter.
    pub meter: Arc<Meter>,
    /// The words.
    pub grammar: Arc<Grammar>,
}

impl Session {
    /// Takes one event at its time, changes the state and returns what to do.
    pub fn step(&self, state: &mut State, at: Timestamp, event: &Event) -> Vec<Action> {
        let mut out = Vec::new();
        if state.phase == Phase::Ended {
            return out;
        }
        match event {
            Event::Started => {
                state.last_activity = Some(at);
                self.start(state, &mut out);
            }
            Event::Tick => self.tick(state, &mut out),
            Event::Keyed { text, utterance: Some(utterance) } => {
                self.input(state, at, utterance, &Origin::Keys(text.clone()), &mut out);
            }
            Event::Keyed { text, utterance: None } => {
                let help = self.may_be_said(state);
                say(&mut out, Kind::Answer, format!("\"{text}\" is not understood. {help}"));
            }
            Event::Heard(hearing) => {
                let origin = Origin::Voice(hearing.clone());
                match &hearing.outcome {
                    Outcome::NoSpeech => {}
                    Outcome::Understood(utterance @ (Utterance::Reading(_) | Utterance::Entry(_)))
                        if hearing.continues =>
                    {
                        self.continued(state, at, utterance, &origin, &mut out);
                    }
                    Outcome::Understood(utterance) => self.input(state, at, utterance, &origin, &mut out),
                    Outcome::Doubtful(candidates)
                        if self.doubtful_answer(state, at, candidates, &origin, &mut out) => {}
                    Outcome::Doubtful(candidates) if state.paused => {
                        self.perhaps_woken(state, at, candidates, &origin, &mut out);
                    }
                    _ if state.paused => {}
                    Outcome::Doubtful(candidates) => match again(state, candidates) {
                        // Asked about, and meant again now: said twice is settled.
                        Some(candidate) => self.input(state, at, &candidate, &origin, &mut out),
                        None => {
                            let candidates = narrowed(state, candidates);
                            self.ask(state, candidates, origin, &mut out);
                        }
                    },
                    Outcome::NotInGrammar => self.missed(state, &mut out),
                }
            }
        }
        for action in &out {
            if let Action::Say { text, kind } = action
                && *kind != Kind::Caution
            {
                state.last_line.clone_from(text);
            }
        }
        out
    }

    /// The judgement of everything read so far.
    ///
    /// # Errors
    /// What the engine refuses; cannot happen with readings that a session took in.
    pub fn judge(&self, state: &State) -> Result<Judgement, verdict::Refusal> {
        verdict::judge(&self.profile, Some(&self.meter), &state.evidence(&self.profile))
    }

    /// What may be said now, for the grammar.
    #[must_use]
    pub fn context(&self, state: &State) -> Context {
        let mut context = Context::of_profile(&self.profile);
        context.phrases = self.phrases(state);
        context.entry = state.phase == Phase::CodeNumber;
        context
    }

    /// Whether the person has kept silent for so long that one reminder is due: then [`Event::Tick`] says it. Once; after
    /// that the session waits.
    #[must_use]
    pub fn is_reminder_due(&self, state: &State, at: Timestamp, after: SignedDuration) -> bool {
        state.last_activity.is_some_and(|last| at.duration_since(last) >= after) && may_remind(state)
    }

    fn tick(&self, state: &mut State, out: &mut Vec<Action>) {
        if may_remind(state) {
            state.reminded = true;
            let prompt = self.prompt(state);
            say(out, Kind::Prompt, format!("Still here. {prompt}"));
        }
    }

    /// Takes an utterance that was understood.
    pub(super) fn input(
        &self,
        state: &mut State,
        at: Timestamp,
        utterance: &Utterance,
        origin: &Origin,
        out: &mut Vec<Action>,
    ) {
        if state.paused && !self.followed_while_paused(state, utterance) {
            if let Origin::Keys(_) = origin {
                say(out, Kind::Answer, super::commands::PAUSED.into());
            }
            return;
        }
        state.last_activity = Some(at);
        state.reminded = false;
        state.misses = 0;
        // What was asked about and is now said for certain is no question any more. Ending is asked, and said twice.
        let ends = matches!(utterance, Utterance::Command(Command::Finish | Command::Stop));
        if !ends && state.ask.as_ref().is_some_and(|ask| ask.candidates.contains(utterance)) {
            state.ask = None;
        }
        match utterance {
            Utterance::Command(command) => self.command(state, at, command, origin, out),
            Utterance::Phrase(phrase) => self.phrase(state, at, phrase, origin, out),
            Utterance::Reading(spoken) => self.spoken(state, at, *spoken, origin, out),
            Utterance::Entry(digits) => self.entry(state, at, digits, origin, out),
        }
    }

    /// Takes the digits of a number that is no amount.
    pub(super) fn entry(
        &self,
        state: &mut State,
        at: Timestamp,
        digits: &str,
        origin: &Origin,
        out: &mut Vec<Action>,
    ) {
        if state.phase == Phase::CodeNumber {
            return self.code(state, at, Some(digits.to_owned()), origin, out);
        }
        let prompt = self.prompt(state);
        say(out, Kind::Prompt, prompt);
    }

    /// What was heard just before went on ("one" ... "point five"): where it was taken as a reading or a code, the whole
    /// replaces it.
    fn continued(
        &self,
        state: &mut State,
        at: Timestamp,
        utterance: &Utterance,
        origin: &Origin,
        out: &mut Vec<Action>,
    ) {
        let kept = matches!(state.last_input, Some(Input::Reading(_) | Input::Code));
        if kept && state.ask.is_none() && !state.paused {
            self.undo(state, at, origin);
        }
        self.input(state, at, utterance, origin, out);
    }

    /// What can follow after these words where the session stands: nothing behind the last place that the display shows.
    #[must_use]
    pub fn follow(&self, words: &str, meant: Option<&Utterance>, context: &Context) -> Follow {
        super::ask::follow(&self.grammar, &self.meter, words, meant, context)
    }

    /// Takes a reading or number where the session stands.
    pub(super) fn spoken(
        &self,
        state: &mut State,
        at: Timestamp,
        spoken: Spoken,
        origin: &Origin,
        out: &mut Vec<Action>,
    ) {
        match state.phase {
            Phase::Gate(_) => {
                if let Some(phrase) = self.gate_code(state, spoken, origin) {
                    self.phrase(state, at, &phrase, origin, out);
                } else {
                    let prompt = self.prompt(state);
                    say(out, Kind::Prompt, prompt);
                }
            }
            Phase::Codes | Phase::CodeNumber => {
                self.code(state, at, super::codes::whole_digits(spoken), origin, out);
            }
            Phase::StationGate { .. } => match self.station_code(state, spoken, origin) {
                Some(phrase) => self.phrase(state, at, &phrase, origin, out),
                None => {
                    let prompt = self.prompt(state);
                    say(out, Kind::Prompt, prompt);
                }
            },
            Phase::Temperature => self.temperature(state, at, spoken, origin, out),
            Phase::Leads => self.leads(state, at, spoken, origin, out),
            Phase::Reading(place) => {
                if self.preparation_is_old(state, at) {
                    self.prepare_again(state, out);
                } else {
                    self.reading(state, at, place, spoken, origin, out);
                }
            }
            Phase::Offer { .. } | Phase::AllRead | Phase::New | Phase::Ended => {
                let prompt = self.prompt(state);
                say(out, Kind::Prompt, prompt);
            }
        }
    }

    fn preparation_is_old(&self, state: &State, at: Timestamp) -> bool {
        let complete = state.preparations.last().and_then(|preparation| preparation.complete);
        complete.is_none_or(|complete| at.duration_since(complete) > PREPARATION_HOLDS)
    }

    /// Takes a reading for a task, or asks.
    pub(super) fn reading(
        &self,
        state: &mut State,
        at: Timestamp,
        place: usize,
        spoken: Spoken,
        origin: &Origin,
        out: &mut Vec<Action>,
    ) {
        let checked = match self.fit(spoken, origin) {
            Ok(reading) => reading,
            Err(doubt) => return self.doubt(state, at, doubt, origin, out),
        };
        self.withdraw(state, place, &Given { what: Correction::Change, at, origin: origin.clone() });
        self.record(state, at, place, checked, origin);
        let said = self.read_back(state, place);
        self.advance(state, place);
        let prompt = self.prompt(state);
        say(out, Kind::Answer, format!("{said} {prompt}"));
    }

    /// Records a reading (or that none was taken) for a task.
    pub(super) fn record(
        &self,
        state: &mut State,
        at: Timestamp,
        place: usize,
        reading: Reading,
        origin: &Origin,
    ) {
        let id = u32::try_from(state.taken.len()).unwrap_or(u32::MAX).saturating_add(1);
        state.ask = None;
        state.last_input = Some(Input::Reading(id));
        state.taken.push(Taken {
            id,
            task: place,
            reading,
            at,
            origin: origin.clone(),
            preparation: state.preparations.len().saturating_sub(1),
            withdrawn: None,
        });
    }

    /// Marks what stands for a task as taken back. It stays in the record.
    pub(super) fn withdraw(&self, state: &mut State, place: usize, how: &Given<Correction>) {
        for taken in &mut state.taken {
            if taken.task == place && taken.withdrawn.is_none() {
                taken.withdrawn = Some(how.clone());
            }
        }
    }

    /// Goes to the next task that has no reading; plans suspects when the round is through.
    pub(super) fn advance(&self, state: &mut State, from: usize) {
        let start = state.return_to.take().unwrap_or(from);
        loop {
            let open = |place: &usize| state.answer(*place).is_none();
            let next = (start..state.plan.len()).find(open).or_else(|| (0..start).find(open));
            match next {
                Some(place) => return self.go_to(state, place),
                None if self.plan_rechecks(state) => {}
                None => {
                    state.phase = self.after_the_plan(state);
                    return;
                }
            }
        }
    }

    /// Puts the engine's most telling checks on the plan, as far as the session can lead through them. Tells whether it did.
    fn plan_rechecks(&self, state: &mut State) -> bool {
        let Ok(judgement) = self.judge(state) else { return false };
        let before = state.plan.len();
        for check in &judgement.next_checks {
            let (purpose, contact) = match check.action {
                CheckAction::CleanAndReadAgain => (Purpose::Recheck, Contact::Cleaned),
                CheckAction::ReadAgain => (Purpose::Recheck, Contact::Usual),
                CheckAction::ReadKnownGood => (Purpose::KnownGood, Contact::Usual),
                _ => continue,
            };
            let Some(circuit) = check
                .circuit
                .as_ref()
                .and_then(|id| self.profile.circuits.iter().position(|circuit| circuit.id == *id))
            else {
                continue;
            };
            if self.profile.circuits[circuit].never_ohmmeter.is_some() {
                continue;
            }
            let station = check.station.unwrap_or_default();
            let here = |task: &Task| task.circuit == circuit && task.station == station;
            let same = |task: &&Task| here(task) && task.purpose == purpose;
            let skipped = state
                .standing()
                .any(|taken| here(&state.plan[taken.task]) && taken.reading == Reading::NotTaken);
            if !skipped && state.plan.iter().filter(same).count() < MOST_RECHECKS {
                state.plan.push(Task { circuit, station, purpose, contact });
            }
        }
        state.plan.len() > before
    }

    pub(super) fn ask(
        &self,
        state: &mut State,
        candidates: Vec<Utterance>,
        origin: Origin,
        out: &mut Vec<Action>,
    ) {
        let times = state.ask.as_ref().map_or(0, |ask| ask.times).saturating_add(1);
        let question = self.question(&candidates, times);
        state.ask = Some(Ask { candidates, times, origin, doubted: None });
        say(out, Kind::Question, question);
    }
}

/// Whether a reminder may be given at all.
fn may_remind(state: &State) -> bool {
    !state.reminded && !state.paused && !matches!(state.phase, Phase::New | Phase::Ended)
}

/// Puts a line on the list of what to do.
pub(super) fn say(out: &mut Vec<Action>, kind: Kind, text: String) {
    out.push(Action::Say { text, kind });
}

/// What to ask after this was heard: where it is the same question as before, saying it once more settles nothing, and only the
/// likelier one is asked, to be answered by yes or no.
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

/// The one candidate of the open question that is among those heard now. Where one alone was asked, it has to be all that was
/// heard: said again beside another one it is as doubtful as before.
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
