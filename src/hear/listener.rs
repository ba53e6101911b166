//! Owns the listening thread: source, gate, recognisers, acceptance and clips tied together; events out.

#[cfg(feature = "voice")]
use super::meaning::of_numbers;
use super::{
    AudioSource, AudioStream, HearError, Parse,
    accept::Caution,
    audio::{Got, Lost},
    clips::Clips,
    ear::{self, Ear, Follows, Waits},
    gate::{Door, FRAME, GateSettings, SILENCE_DBFS},
    recognise::Recogniser,
};
use crate::session::Hearing;
use crossbeam_channel::{Receiver, SendTimeoutError, Sender, bounded, unbounded};
use std::{
    sync::{
        Arc,
        atomic::{AtomicBool, AtomicU8, AtomicU32, AtomicU64, Ordering},
    },
    thread::JoinHandle,
    time::{Duration, Instant},
};

/// A stretch of sound with what came of it.
#[derive(Debug, Clone, PartialEq)]
pub struct Heard {
    /// What goes into the journal.
    pub hearing: Hearing,
    /// The sound, 16 kHz mono.
    pub samples: Arc<[i16]>,
}

/// What the listener tells. Every [`HearEvent::SoundBegan`] is followed by one [`HearEvent::Heard`].
#[derive(Debug, Clone, PartialEq)]
pub enum HearEvent {
    /// Somebody began to speak: a good moment to be quiet.
    SoundBegan,
    /// It ended, and this came of it.
    Heard(Heard),
    /// Something to be told, while listening goes on.
    Trouble(Trouble),
    /// The microphone is gone; it is tried again every second.
    SourceLost(String),
    /// The microphone is back.
    SourceBack,
    /// The source ended as planned (a file).
    SourceEnded,
}

/// What may go wrong while listening goes on.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum Trouble {
    /// Samples were lost because the machine was too slow.
    #[error("{0} samples of sound were lost, the machine was too slow")]
    Dropped(u64),
    /// A clip could not be kept.
    #[error("{0}")]
    Clip(String),
    /// Speech far quieter than the person's was passed over.
    #[error("somebody speaks at {level_dbfs:.0} dB, far below your voice; not taken")]
    TooQuiet {
        /// Its level in decibels against full scale.
        level_dbfs: f32,
    },
    /// A new list of phrases could not be used; the old one stays.
    #[error("{0}")]
    Phrases(String),
}

/// Levels and states for the screen, read at any time.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Levels {
    /// Level of the last 16 ms, in decibels against full scale.
    pub level_dbfs: f32,
    /// Level of the room, in decibels against full scale.
    pub room_dbfs: f32,
    /// Whether somebody is speaking.
    pub speech: bool,
    /// Samples lost so far.
    pub dropped: u64,
}

/// The state shared with the thread, without locks.
#[derive(Debug, Default)]
struct Shared {
    level: AtomicU32,
    room: AtomicU32,
    speech: AtomicBool,
    dropped: AtomicU64,
    /// A [`Door`], as a number.
    door: AtomicU8,
    stop: AtomicBool,
}

/// Makes recognisers for other phrases and words.
pub type MakeRecognisers =
    Box<dyn FnMut(&[String], &[String]) -> Result<Vec<Box<dyn Recogniser>>, HearError> + Send>;

/// Scores a frame for speech, 0 to 1.
pub type Score = Box<dyn FnMut(&[f32; FRAME]) -> f32 + Send>;

enum Order {
    Phrases(Vec<String>, Vec<String>),
    Meaning(Parse, Follows),
}

/// What a listener works with, recognisers included.
pub struct Parts {
    /// Where sound comes from.
    pub source: Box<dyn AudioSource>,
    /// Makes the recognisers: the phrases' and the words'.
    pub recognisers: MakeRecognisers,
    /// The phrases that may be said.
    pub phrases: Vec<String>,
    /// The single words of the second opinion.
    pub words: Vec<String>,
    /// From words to meaning.
    pub parse: Parse,
    /// What can follow.
    pub follows: Follows,
    /// Where clips are kept.
    pub clips: Option<Clips>,
    /// How speech is cut out of sound.
    pub gate: GateSettings,
    /// How careful acceptance is.
    pub caution: Caution,
    /// Scores a frame for speech, 0 to 1.
    pub score: Score,
}

/// What [`Listener::start`] needs.
#[cfg(feature = "voice")]
pub struct Config {
    /// The loaded speech model.
    pub model: super::Model,
    /// The phrases that may be said.
    pub phrases: Vec<String>,
    /// The single words of the second opinion; `[unk]` is added.
    pub words: Vec<String>,
    /// From words to meaning.
    pub parse: Parse,
    /// What can follow.
    pub follows: Follows,
    /// The folder where clips are kept; none keeps none.
    pub clips: Option<std::path::PathBuf>,
    /// Where sound comes from.
    pub source: Box<dyn AudioSource>,
    /// How careful acceptance is.
    pub caution: Caution,
}

/// A running listener. Dropping it ends its thread.
pub struct Listener {
    events: Option<Receiver<HearEvent>>,
    orders: Sender<Order>,
    shared: Arc<Shared>,
    thread: Option<JoinHandle<()>>,
}

impl std::fmt::Debug for Listener {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.debug_struct("Listener").field("levels", &self.level()).finish_non_exhaustive()
    }
}

/// Events that may wait. Beyond it the thread waits for the reader; sound waits in the microphone's own channel.
const EVENTS: usize = 256;
/// How long a read waits, and the longest time to notice an order.
const WAIT: Duration = Duration::from_millis(50);
/// Without any sound for this long the source counts as lost.
const WATCHDOG: Duration = Duration::from_secs(2);
/// Time between attempts to open a lost source again.
const AGAIN: Duration = Duration::from_secs(1);

impl Listener {
    /// Starts listening with libvosk. Returns once the source is open.
    ///
    /// # Errors
    /// Whatever keeps it from listening: words that the model does not know, no microphone, a folder that cannot be
    /// written.
    #[cfg(feature = "voice")]
    pub fn start(config: Config) -> Result<Self, HearError> {
        let model = config.model;
        let mut score = super::voice::SpeechScore::default();
        Self::start_with(Parts {
            source: config.source,
            recognisers: {
                let parse = config.parse.clone();
                Box::new(move |phrases, words| {
                    let mut all = model.recognisers(phrases, words)?;
                    all.extend(model.numbers(&of_numbers(words, &*parse))?);
                    Ok(all)
                })
            },
            phrases: config.phrases,
            words: config.words,
            parse: config.parse,
            follows: config.follows,
            clips: config.clips.as_deref().map(Clips::new).transpose()?,
            gate: GateSettings::default(),
            caution: config.caution,
            score: Box::new(move |frame| score.score(frame)),
        })
    }

    /// Starts listening with these parts. Returns once the source is open.
    ///
    /// # Errors
    /// As [`Listener::start`].
    pub fn start_with(mut parts: Parts) -> Result<Self, HearError> {
        let recognisers = (parts.recognisers)(&parts.phrases, &parts.words)?;
        let (event_sender, events) = bounded(EVENTS);
        let (orders, order_receiver) = unbounded();
        let (opened, wait_opened) = bounded(1);
        let shared = Arc::new(Shared::default());
        for level in [&shared.level, &shared.room] {
            level.store(SILENCE_DBFS.to_bits(), Ordering::Relaxed);
        }
        let mut worker = Worker {
            source: parts.source,
            make: parts.recognisers,
            ear: Ear::new(ear::Parts {
                recognisers,
                parse: parts.parse,
                follows: parts.follows,
                clips: parts.clips,
                gate: parts.gate,
                waits: Waits::default(),
                caution: parts.caution,
                score: parts.score,
            }),
            events: event_sender,
            orders: order_receiver,
            shared: shared.clone(),
            dropped: 0,
        };
        let thread = std::thread::Builder::new()
            .name("listen".into())
            .spawn(move || match worker.source.open() {
                Ok(stream) => {
                    let _ = opened.send(Ok(()));
                    worker.run(stream);
                }
                Err(error) => {
                    let _ = opened.send(Err(error));
                }
            })
            .map_err(|e| HearError::Thread(e.to_string()))?;
        match wait_opened.recv() {
            Ok(Ok(())) => Ok(Self { events: Some(events), orders, shared, thread: Some(thread) }),
            Ok(Err(error)) => Err(error),
            Err(_) => Err(HearError::Thread("it ended at once".into())),
        }
    }

    /// Where its events come out.
    ///
    /// # Panics
    /// Never: the receiver is there until the listener is dropped.
    #[must_use]
    pub fn events(&self) -> &Receiver<HearEvent> {
        self.events.as_ref().expect("taken only when dropped")
    }

    /// Opens or shuts the door: before the program's first sound, and after its last.
    pub fn set_door(&self, door: Door) {
        self.shared.door.store(door as u8, Ordering::Release);
    }

    /// Takes other phrases and words from the next stretch of sound on. Faults come as [`Trouble::Phrases`].
    pub fn set_phrases(&self, phrases: Vec<String>, words: Vec<String>) {
        let _ = self.orders.send(Order::Phrases(phrases, words));
    }

    /// Takes another meaning of words from the next stretch of sound on.
    pub fn set_meaning(&self, parse: Parse, follows: Follows) {
        let _ = self.orders.send(Order::Meaning(parse, follows));
    }

    /// Levels and states now.
    #[must_use]
    pub fn level(&self) -> Levels {
        let s = &self.shared;
        Levels {
            level_dbfs: f32::from_bits(s.level.load(Ordering::Relaxed)),
            room_dbfs: f32::from_bits(s.room.load(Ordering::Relaxed)),
            speech: s.speech.load(Ordering::Relaxed),
            dropped: s.dropped.load(Ordering::Relaxed),
        }
    }
}

impl Drop for Listener {
    fn drop(&mut self) {
        self.shared.stop.store(true, Ordering::Release);
        self.events = None;
        if let Some(thread) = self.thread.take() {
            let _ = thread.join();
        }
    }
}

struct Worker {
    source: Box<dyn AudioSource>,
    make: MakeRecognisers,
    ear: Ear,
    events: Sender<HearEvent>,
    orders: Receiver<Order>,
    shared: Arc<Shared>,
    dropped: u64,
}

impl Worker {
    fn stopped(&self) -> bool {
        self.shared.stop.load(Ordering::Acquire)
    }

    /// Sends, waiting for the reader where need be; false when there is none any more.
    fn send(&self, event: HearEvent) -> bool {
        send(&self.events, &self.shared, event)
    }

    /// Lets the ear do something and sends what it tells.
    fn ear(&mut self, act: impl FnOnce(&mut Ear, &mut dyn FnMut(HearEvent))) {
        let (events, shared) = (&self.events, &self.shared);
        act(&mut self.ear, &mut |event| {
            let speech = event == HearEvent::SoundBegan;
            if speech || matches!(event, HearEvent::Heard(_)) {
                shared.speech.store(speech, Ordering::Relaxed);
            }
            send(events, shared, event);
        });
    }

    fn run(&mut self, first: Box<dyn AudioStream>) {
        let mut stream = first;
        loop {
            let ended = self.listen(stream.as_mut());
            if !matches!(ended, Ended::Stopped) {
                self.ear(Ear::flush);
            }
            let why = match ended {
                Ended::Stopped => return,
                Ended::Source => {
                    self.send(HearEvent::SourceEnded);
                    return;
                }
                Ended::Lost(why) => why,
            };
            drop(stream);
            self.dropped = 0;
            if !self.send(HearEvent::SourceLost(why)) || !self.source.reopens() {
                return;
            }
            stream = loop {
                if let Ok(again) = self.source.open() {
                    break again;
                }
                let until = Instant::now() + AGAIN;
                while Instant::now() < until {
                    if self.stopped() {
                        return;
                    }
                    std::thread::sleep(WAIT);
                }
            };
            self.send(HearEvent::SourceBack);
        }
    }

    fn listen(&mut self, stream: &mut dyn AudioStream) -> Ended {
        let mut silent = Duration::ZERO;
        let mut sound = Vec::new();
        loop {
            if self.stopped() {
                return Ended::Stopped;
            }
            self.follow_orders();
            match stream.read(&mut sound, WAIT) {
                Ok(Got::Sound) => silent = Duration::ZERO,
                Ok(Got::Nothing) => {
                    silent += WAIT;
                    if silent >= WATCHDOG {
                        return Ended::Lost(format!("no sound came for {} s", WATCHDOG.as_secs()));
                    }
                    continue;
                }
                Ok(Got::End) => return Ended::Source,
                Err(Lost(why)) => return Ended::Lost(why),
            }
            let dropped = stream.dropped();
            if dropped > self.dropped {
                let new = dropped - self.dropped;
                self.dropped = dropped;
                self.ear.hole();
                self.shared.dropped.fetch_add(new, Ordering::Relaxed);
                self.send(HearEvent::Trouble(Trouble::Dropped(new)));
            }
            self.ear(|ear, tell| ear.hear(&sound, tell));
            sound.clear();
            self.shared.level.store(self.ear.gate().level_dbfs().to_bits(), Ordering::Relaxed);
            self.shared.room.store(self.ear.gate().room_dbfs().to_bits(), Ordering::Relaxed);
        }
    }

    fn follow_orders(&mut self) {
        let door = match self.shared.door.load(Ordering::Acquire) {
            door if door == Door::Open as u8 => Door::Open,
            door if door == Door::Shut as u8 => Door::Shut,
            _ => Door::OwnVoice,
        };
        self.ear(|ear, tell| ear.set_door(door, tell));
        // Phrases and meaning stay the same within a stretch.
        while !self.ear.gate().is_open() {
            match self.orders.try_recv() {
                Ok(Order::Meaning(parse, follows)) => self.ear.set_meaning(parse, follows),
                Ok(Order::Phrases(phrases, words)) => match (self.make)(&phrases, &words) {
                    Ok(recognisers) => self.ear.set_recognisers(recognisers),
                    Err(error) => {
                        self.send(HearEvent::Trouble(Trouble::Phrases(error.to_string())));
                    }
                },
                Err(_) => break,
            }
        }
    }
}

/// Sends, waiting for the reader where need be; false when there is none any more, or the listener is to end.
fn send(events: &Sender<HearEvent>, shared: &Shared, event: HearEvent) -> bool {
    let mut event = event;
    loop {
        match events.send_timeout(event, WAIT) {
            Ok(()) => return true,
            Err(SendTimeoutError::Disconnected(_)) => return false,
            Err(SendTimeoutError::Timeout(_)) if shared.stop.load(Ordering::Acquire) => return false,
            Err(SendTimeoutError::Timeout(back)) => event = back,
        }
    }
}

enum Ended {
    Stopped,
    Source,
    Lost(String),
}

#[cfg(test)]
#[path = "listener_tests.rs"]
mod tests;
