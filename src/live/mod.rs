//! Owns the live loop: what comes in is journalled, changes the session, and what follows is said and shown.
//!
//! The order is what makes the log one that cannot be lost: an event is on the disk before anything is said about it.

mod clock;
mod device;
mod meter;
mod old;
mod past;
mod said;
mod talk;
#[cfg(test)]
mod tests;

pub use clock::Clock;
pub use device::Device;
pub use meter::MeterLine;
pub use past::{PastError, Replayed, judge_again, record, replay, verify};
pub use talk::Talking;

use crate::{
    grammar::{Context, Utterance},
    hear::{Door, HearEvent, Levels},
    journal::{Entry, Journal, JournalError, Judged, sha256},
    keys::{self, Input},
    scpi::{self, MeterTrouble},
    screen::{self, Line, Listening, Screen},
    session::{
        Action, Awaited, End, Event, Outcome, Rules, Session, State,
        message::{Info, Message},
    },
    speak::{Voice, VoiceEvent, spoken_form},
    words::Words,
};
use crossbeam_channel::{Receiver, never, select};
use jiff::{SignedDuration, Timestamp};
use serde::Serialize;
use std::{
    fs::File,
    io::Read,
    path::Path,
    sync::Arc,
    time::{Duration, Instant},
};

/// How often the time is looked at while nothing happens.
const TICK: Duration = Duration::from_millis(100);
/// How long the ears stay shut after the voice was stopped in the middle of a line, where it could be heard: the voice takes a
/// moment to stop, and a wireless loudspeaker may be a fifth of a second late.
const ECHO: Duration = Duration::from_millis(300);
/// How long the last lines may take to be spoken after the end.
const LAST_WORDS: Duration = Duration::from_secs(90);

/// Ears, as far as the loop needs them.
pub trait Ears {
    /// Listens for what may be said now.
    fn listen_for(&mut self, session: &Session, context: &Context);
    /// Nothing is heard while the door is not open: our own voice must not be taken for a reading.
    fn set_door(&mut self, door: Door);
    /// Levels and state now, where they are known.
    fn levels(&self) -> Option<Levels> {
        None
    }
    /// What is heard.
    fn events(&self) -> &Receiver<HearEvent>;
}

/// Why the loop broke off.
#[derive(Debug, thiserror::Error)]
pub enum LiveError {
    /// The journal could not be written: nothing may be acknowledged any more.
    #[error("the journal cannot be written, so the session ends here: {0}")]
    Journal(#[from] JournalError),
    /// Input ended before the session did.
    #[error("the input ended before the session did; what was read is kept and can be resumed")]
    InputEnded,
    /// The ears cannot listen.
    #[error("the ears cannot listen: {0}")]
    Ears(String),
}

/// A session with everything around it.
pub struct Live {
    /// What the session works with.
    pub session: Session,
    /// Puts what is said into words.
    pub words: Arc<Words>,
    /// Where it stands.
    pub state: State,
    /// The journal.
    pub journal: Journal,
    /// The voice.
    pub voice: Box<dyn Voice>,
    /// The screen.
    pub screen: Box<dyn Screen>,
    /// The ears, unless only keys are used.
    pub ears: Option<Box<dyn Ears>>,
    /// Whether the voice cannot reach the microphone, so that listening goes on while it speaks.
    pub headset: bool,
    /// The meter on a line, where there is one.
    pub meter: Option<MeterLine>,
    /// What is being said.
    pub saying: Saying,
    /// When the microphone is open.
    pub talking: Talking,
    /// After how long without an input one reminder is given. None: never.
    pub reminder: Option<SignedDuration>,
    /// Clock and time when they were compared last.
    pub clock: Clock,
}

/// What is being said, as far as the loop has to know.
#[derive(Debug, Default)]
pub struct Saying {
    /// The number of the last order to the voice.
    last_order: u64,
    /// The last order that the voice had carried out when it told that it is quiet.
    quiet_after: u64,
    /// Whether the ears are shut because the voice speaks.
    muted: bool,
    /// Since when neither the voice nor the person was heard.
    silent_since: Option<Timestamp>,
    /// Until when they are shut because the voice was stopped.
    echo_until: Option<Instant>,
    /// The lines since it was quiet last.
    lines: Vec<String>,
    /// Whether sound in the room cut them off: if it was no speech, they are said again.
    cut_off: bool,
}

impl Live {
    /// Runs from [`Event::Opened`] to the end. `keys` are typed lines and pedals; without ears, their end ends the session.
    ///
    /// # Errors
    /// [`LiveError`]; whatever was acknowledged is in the journal.
    pub fn run(&mut self, keys: &Receiver<Input>) -> Result<End, LiveError> {
        let mut heard_for = None;
        self.listen(&mut heard_for);
        self.set_ears();
        if let Some(end) = self.take(&Event::Opened(Rules::NOW))? {
            return self.close(end);
        }
        let mut keys = keys.clone();
        loop {
            self.listen(&mut heard_for);
            self.show_listening();
            let ears = self.ears.as_ref().map_or_else(never, |ears| ears.events().clone());
            let voice = self.voice.events().clone();
            let meter = self.meter.as_ref().map_or_else(never, MeterLine::came);
            let ended = select! {
                recv(keys) -> line => match line {
                    Ok(Input::Line(line)) => self.typed(&line)?,
                    Ok(Input::Talk(down)) => {
                        self.talk(|talking| talking.pedal(down, Instant::now()));
                        None
                    }
                    Ok(Input::Typing(text)) => {
                        self.screen.typing(&text);
                        None
                    }
                    // Without ears there is no voice either: whoever has a pedal left could not know what is asked.
                    Ok(Input::Ended) if self.ears.is_none() => {
                        self.finish_speaking();
                        return Err(LiveError::InputEnded);
                    }
                    Ok(Input::Ended) => None,
                    Ok(Input::Notice(text)) => {
                        self.announce(Device::Told(text))?;
                        None
                    }
                    Err(_) if self.ears.is_none() => {
                        self.finish_speaking();
                        return Err(LiveError::InputEnded);
                    }
                    Err(_) => {
                        keys = never();
                        None
                    }
                },
                recv(ears) -> event => match event {
                    Ok(event) => self.heard(event)?,
                    Err(_) => return Err(LiveError::Ears("the listening thread ended".into())),
                },
                recv(voice) -> event => {
                    if let Ok(event) = event {
                        self.spoke(event);
                    }
                    None
                },
                recv(meter) -> came => match came {
                    Ok(came) => self.metered(came)?,
                    Err(_) => {
                        self.meter = None;
                        None
                    }
                },
                default(TICK) => self.tick()?,
            };
            if let Some(end) = ended {
                return self.close(end);
            }
        }
    }

    /// Sets the ears to what may be said now, where that changed.
    fn listen(&mut self, heard_for: &mut Option<Context>) {
        let Some(ears) = &mut self.ears else { return };
        let context = Context { metered: self.meter.is_some(), ..self.session.context(&self.state) };
        if heard_for.as_ref() != Some(&context) {
            ears.listen_for(&self.session, &context);
            *heard_for = Some(context);
        }
    }

    fn show_listening(&mut self) {
        let (ears, levels) = match &self.ears {
            None => (screen::Ears::None, None),
            Some(ears) if self.talking.is_shut() => (screen::Ears::Shut, ears.levels()),
            Some(ears) if self.saying.muted => (screen::Ears::OwnVoice, ears.levels()),
            Some(ears) => (screen::Ears::Open, ears.levels()),
        };
        self.screen.listening(Listening { ears, levels });
    }

    fn typed(&mut self, line: &str) -> Result<Option<End>, LiveError> {
        match line.trim() {
            keys::TALK => {
                self.talk(Talking::key);
                return Ok(None);
            }
            keys::SWITCH_TALK => {
                self.hush();
                self.switch_talk(!self.talking.is_push())?;
                return Ok(None);
            }
            _ => {}
        }
        // A key stops the voice at once, before anything else.
        self.hush();
        self.saying.lines.clear();
        let context = self.session.context(&self.state);
        let utterance = keys::parse(line, &self.session.grammar, &context);
        self.take(&Event::Keyed { text: line.to_owned(), utterance })
    }

    /// The talk key or the pedal: whoever wants to talk is not talked to.
    fn talk(&mut self, change: impl FnOnce(&mut Talking)) {
        change(&mut self.talking);
        if !self.talking.is_shut() && !self.saying.lines.is_empty() {
            self.hush();
            self.saying.lines.clear();
        }
        self.set_ears();
    }

    fn switch_talk(&mut self, push: bool) -> Result<(), LiveError> {
        self.talking = Talking::new(push);
        let device = match (self.ears.is_some(), push) {
            (false, _) => Device::NoMicrophone,
            (true, true) => Device::MicrophoneOnPressing,
            (true, false) => Device::MicrophoneOpen,
        };
        self.announce(device)?;
        self.set_ears();
        Ok(())
    }

    /// Opens or shuts the ears: they are shut while our own voice could be heard, and while nobody presses to talk.
    fn set_ears(&mut self) {
        if self.saying.echo_until.is_some_and(|until| until <= Instant::now()) {
            self.saying.echo_until = None;
        }
        if let Some(ears) = &mut self.ears {
            let own_voice = self.saying.muted || self.saying.echo_until.is_some();
            ears.set_door(match (own_voice, self.talking.is_shut()) {
                (true, _) => Door::OwnVoice,
                (false, true) => Door::Shut,
                (false, false) => Door::Open,
            });
        }
    }

    fn heard(&mut self, event: HearEvent) -> Result<Option<End>, LiveError> {
        match event {
            HearEvent::Heard(heard) => {
                let speech = heard.hearing.outcome != Outcome::NoSpeech;
                if speech {
                    // What is asked now may be answered without pressing again.
                    if !matches!(heard.hearing.outcome, Outcome::Doubtful(_)) {
                        self.talking.heard();
                    }
                    self.set_ears();
                    self.hush();
                    self.saying.lines.clear();
                }
                let ended = self.take(&Event::Heard(heard.hearing))?;
                if std::mem::take(&mut self.saying.cut_off) && !speech {
                    for line in std::mem::take(&mut self.saying.lines) {
                        self.speak(&line);
                    }
                }
                Ok(ended)
            }
            HearEvent::SoundBegan => {
                if self.headset && !self.saying.lines.is_empty() {
                    self.hush();
                    self.saying.cut_off = true;
                }
                Ok(None)
            }
            HearEvent::Trouble(trouble) => {
                self.screen.notice(&trouble.to_string());
                Ok(None)
            }
            HearEvent::SourceLost(text) => {
                self.screen.notice(&text);
                self.announce(Device::MicrophoneGone)?;
                Ok(None)
            }
            HearEvent::SourceBack => {
                self.announce(Device::MicrophoneBack)?;
                Ok(None)
            }
            HearEvent::SourceEnded => Err(LiveError::InputEnded),
        }
    }

    /// Asks the meter on the line for what it shows.
    fn ask_meter(&mut self) -> Result<(), LiveError> {
        match &mut self.meter {
            Some(meter) => meter.ask(&self.state),
            None => self.announce(MeterTrouble::NotNamed)?,
        }
        Ok(())
    }

    /// What the meter sent is taken where it was asked for. What was said or typed in the meantime goes before it.
    fn metered(&mut self, came: scpi::Came) -> Result<Option<End>, LiveError> {
        let wanted = self.meter.as_mut().is_some_and(|meter| meter.is_wanted(came.0, &self.state));
        match came {
            (_, Ok(metered)) if wanted => {
                self.hush();
                self.saying.lines.clear();
                let utterance = Utterance::Reading(metered.spoken);
                return self.take(&Event::Metered { text: metered.text, utterance });
            }
            (number, Err(trouble)) if wanted || number == 0 => self.announce(trouble)?,
            _ => {}
        }
        Ok(None)
    }

    fn tick(&mut self) -> Result<Option<End>, LiveError> {
        self.talking.tick(Instant::now());
        self.set_ears();
        // Who is still being talked to, or is speaking, is not reminded: the silence counts.
        let speaks = self.ears.as_ref().and_then(|ears| ears.levels()).is_some_and(|levels| levels.speech);
        if speaks || !self.saying.lines.is_empty() {
            self.saying.silent_since = None;
            return Ok(None);
        }
        let since = *self.saying.silent_since.get_or_insert_with(Timestamp::now);
        let now = Timestamp::now();
        if self.session.is_minute_due(&self.state, now) {
            return self.take(&Event::Tick);
        }
        let due = |after| {
            now.duration_since(since) >= after && self.session.is_reminder_due(&self.state, now, after)
        };
        if self.reminder.is_some_and(due) {
            return self.take(&Event::Tick);
        }
        Ok(None)
    }

    /// Journals an event, lets the session take it, and carries out what follows.
    fn take(&mut self, event: &Event) -> Result<Option<End>, LiveError> {
        // Before anything else: what expires must not be kept by a clock that was set back.
        if let Some(by_ms) = self.clock.set_by(Timestamp::now(), Instant::now()) {
            self.take_one(&Event::ClockSet { by_ms })?;
        }
        self.take_one(event)
    }

    fn take_one(&mut self, event: &Event) -> Result<Option<End>, LiveError> {
        let at = Timestamp::now();
        let awaited = self.session.awaited(&self.state);
        let clip = kept_clip(&self.journal.clips(), event);
        self.journal.append_with(at, Entry::Event(event.clone()), awaited.clone(), clip)?;
        self.screen.came_in(event);
        let actions = self.session.step(&mut self.state, at, event);
        let aside = self.session.aside(&self.state);
        let last = actions.iter().rposition(|action| matches!(action, Action::Say { .. }));
        let mut end = None;
        let mut said = Vec::new();
        let mut push = None;
        let mut asks = false;
        let mut limit = None;
        for (place, action) in actions.iter().enumerate() {
            match action {
                Action::Say { message, kind } => {
                    let message = limit.take().unwrap_or_else(|| message.clone());
                    self.say(&message);
                    let aside = aside.as_ref().filter(|_| Some(place) == last);
                    let aside = aside.map(|aside| self.words.text(aside));
                    let text = self.words.text(&message);
                    let (aside, kind) = (aside.as_deref(), *kind);
                    self.screen.said(&Line { message: &message, text: &text, kind, aside });
                    said.push((text, message));
                }
                Action::Voice(change) if self.voice.change(*change) => {}
                Action::Voice(_) => limit = Some(Message::from(Info::AtLimit)),
                Action::Microphone { push: pressed } => push = Some(*pressed),
                Action::AskMeter => asks = true,
                Action::End(how) => end = Some(*how),
            }
        }
        // After the voice has begun: what was said changes nothing, so it may be written while it sounds.
        for (text, message) in said {
            self.note(text, &message, awaited.clone())?;
        }
        if let Some(push) = push {
            self.switch_talk(push)?;
        }
        if asks {
            self.ask_meter()?;
        }
        self.screen.stands(&self.session, &self.state);
        Ok(end)
    }

    /// Tells something about the devices, which is no part of the session.
    fn announce(&mut self, device: impl Serialize) -> Result<(), LiveError> {
        let text = self.words.text(&device);
        self.screen.notice(&text);
        self.say(&device);
        self.note(text, &device, None)
    }

    /// Journals what was said, in words and as the value that it is, and the reading that it was the answer to.
    fn note(
        &mut self,
        text: String,
        message: &impl Serialize,
        awaited: Option<Awaited>,
    ) -> Result<(), LiveError> {
        // A message that is no JSON cannot be: then the words stand alone.
        let message = serde_json::to_value(message).ok();
        self.journal.append_with(Timestamp::now(), Entry::Spoken { text, message }, awaited, None)?;
        Ok(())
    }

    fn say(&mut self, message: &impl Serialize) {
        let text = spoken_form(&self.words.spoken(message), &self.session.grammar, &self.words);
        self.speak(&text);
    }

    fn speak(&mut self, text: &str) {
        if !self.headset {
            self.saying.muted = true;
            self.set_ears();
        }
        self.saying.last_order = self.voice.say(text);
        self.saying.lines.push(text.to_owned());
    }

    fn hush(&mut self) {
        self.saying.last_order = self.voice.hush();
        if self.saying.muted {
            self.saying.echo_until = Some(Instant::now() + ECHO);
        }
    }

    fn spoke(&mut self, event: VoiceEvent) {
        if let VoiceEvent::Quiet { after } = event {
            self.saying.quiet_after = self.saying.quiet_after.max(after);
        }
        match event {
            VoiceEvent::Quiet { after } if after >= self.saying.last_order => {
                if !self.saying.cut_off {
                    self.saying.lines.clear();
                }
                self.saying.muted = false;
                self.set_ears();
            }
            VoiceEvent::Quiet { .. } | VoiceEvent::Began(_) => {}
            VoiceEvent::Trouble(trouble) => self.screen.notice(&self.words.text(&trouble)),
        }
    }

    fn close(&mut self, end: End) -> Result<End, LiveError> {
        close(&self.session, &self.state, &mut self.journal, end)?;
        self.finish_speaking();
        Ok(end)
    }

    /// Waits until the last line was spoken, but not for ever.
    fn finish_speaking(&mut self) {
        let until = Instant::now() + LAST_WORDS;
        // It may have told already.
        while self.saying.quiet_after < self.saying.last_order {
            let Ok(event) = self.voice.events().recv_deadline(until) else { return };
            self.spoke(event);
        }
    }
}

/// Ends a journal: with what was judged, where there is a conclusion, and the closing line.
///
/// # Errors
/// What [`Journal::append`] says.
pub fn close(session: &Session, state: &State, journal: &mut Journal, end: End) -> Result<(), JournalError> {
    if end == End::Concluded
        && let Ok(judgement) = session.judge(state)
        && let Ok(judgement) = serde_json::to_value(judgement)
    {
        let judged = Judged { engine: crate::verdict::engine(), judgement };
        journal.append(Timestamp::now(), Entry::Judged(Box::new(judged)))?;
    }
    journal.append(Timestamp::now(), Entry::Closed { concluded: end == End::Concluded })?;
    Ok(())
}

/// The hash of the clip that an event names, once the clip is on the disk: the line vouches for it. None where there is none, or it
/// cannot be read or synced; then the line does not vouch for it.
fn kept_clip(clips: &Path, event: &Event) -> Option<String> {
    let Event::Heard(hearing) = event else { return None };
    let mut file = File::open(clips.join(hearing.clip.as_ref()?)).ok()?;
    let mut bytes = Vec::new();
    file.read_to_end(&mut bytes).ok()?;
    file.sync_all().ok()?;
    Some(sha256(&bytes))
}
