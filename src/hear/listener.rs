//! Owns the listening thread: source, gate, recognisers, acceptance and clips tied together; events out.

use super::{
    AudioSource, AudioStream, HearError, Parse,
    accept::{self, Caution},
    audio::{Got, Lost, to_i16},
    clips::Clips,
    gate::{FRAME, Gate, GateSettings, Refused, SILENCE_DBFS, Step, Stretch},
    recognise::{Decoded, PHRASES, Recogniser, WORDS},
};
use crate::session::{Hearing, Opinion, Outcome};
use crossbeam_channel::{Receiver, SendTimeoutError, Sender, bounded, unbounded};
use std::{
    sync::{
        Arc,
        atomic::{AtomicBool, AtomicU32, AtomicU64, Ordering},
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
    muted: AtomicBool,
    hangover_ms: AtomicU32,
    stop: AtomicBool,
}

/// Makes recognisers for other phrases and words.
pub type MakeRecognisers =
    Box<dyn FnMut(&[String], &[String]) -> Result<Vec<Box<dyn Recogniser>>, HearError> + Send>;

/// Scores a frame for speech, 0 to 1.
pub type Score = Box<dyn FnMut(&[f32; FRAME]) -> f32 + Send>;

enum Order {
    Phrases(Vec<String>, Vec<String>),
    Parse(Parse),
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
    /// The folder where clips are kept; none keeps none.
    pub clips: Option<std::path::PathBuf>,
    /// Where sound comes from.
    pub source: Box<dyn AudioSource>,
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
            recognisers: Box::new(move |phrases, words| model.recognisers(phrases, words)),
            phrases: config.phrases,
            words: config.words,
            parse: config.parse,
            clips: config.clips.as_deref().map(Clips::new).transpose()?,
            gate: GateSettings::default(),
            caution: Caution::default(),
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
        shared.hangover_ms.store(parts.gate.hangover_ms, Ordering::Relaxed);
        let gate = Gate::new(parts.gate.clone());
        let mut worker = Worker {
            gate,
            recognisers,
            events: event_sender,
            orders: order_receiver,
            shared: shared.clone(),
            fed: 0,
            waiting: Vec::new(),
            dropped: 0,
            holes: false,
            last_frame: Instant::now(),
            parts,
        };
        let thread = std::thread::Builder::new()
            .name("listen".into())
            .spawn(move || match worker.parts.source.open() {
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

    /// Tells that the program begins (`true`, before the first sound) or ends (`false`, after the last) to speak.
    pub fn mute(&self, muted: bool) {
        self.shared.muted.store(muted, Ordering::Release);
    }

    /// Silence that ends speech from now on, in milliseconds: about 250 where nothing can follow, 450 as a rule, 700
    /// where more may come.
    pub fn set_hangover(&self, ms: u32) {
        self.shared.hangover_ms.store(ms, Ordering::Relaxed);
    }

    /// Takes other phrases and words from the next stretch of sound on. Faults come as [`Trouble::Phrases`].
    pub fn set_phrases(&self, phrases: Vec<String>, words: Vec<String>) {
        let _ = self.orders.send(Order::Phrases(phrases, words));
    }

    /// Takes another parser from the next stretch of sound on.
    pub fn set_parse(&self, parse: Parse) {
        let _ = self.orders.send(Order::Parse(parse));
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
    parts: Parts,
    gate: Gate,
    recognisers: Vec<Box<dyn Recogniser>>,
    events: Sender<HearEvent>,
    orders: Receiver<Order>,
    shared: Arc<Shared>,
    /// Samples of the stretch going on that the recognisers already have.
    fed: usize,
    waiting: Vec<f32>,
    dropped: u64,
    /// Samples of the stretch going on may be missing.
    holes: bool,
    last_frame: Instant,
}

impl Worker {
    fn stopped(&self) -> bool {
        self.shared.stop.load(Ordering::Acquire)
    }

    /// Sends, waiting for the reader where need be; false when there is none any more.
    fn send(&self, event: HearEvent) -> bool {
        let mut event = event;
        loop {
            match self.events.send_timeout(event, WAIT) {
                Ok(()) => return true,
                Err(SendTimeoutError::Disconnected(_)) => return false,
                Err(SendTimeoutError::Timeout(_)) if self.stopped() => return false,
                Err(SendTimeoutError::Timeout(back)) => event = back,
            }
        }
    }

    fn run(&mut self, first: Box<dyn AudioStream>) {
        let mut stream = first;
        loop {
            let why = match self.listen(stream.as_mut()) {
                Ended::Stopped => return,
                Ended::Source => {
                    if let Some(stretch) = self.gate.flush() {
                        self.ended(*stretch);
                    }
                    self.send(HearEvent::SourceEnded);
                    return;
                }
                Ended::Lost(why) => why,
            };
            if let Some(stretch) = self.gate.flush() {
                self.ended(*stretch);
            }
            drop(stream);
            self.waiting.clear();
            self.dropped = 0;
            if !self.send(HearEvent::SourceLost(why)) || !self.parts.source.reopens() {
                return;
            }
            stream = loop {
                if let Ok(again) = self.parts.source.open() {
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
        loop {
            if self.stopped() {
                return Ended::Stopped;
            }
            self.follow_orders();
            match stream.read(&mut self.waiting, WAIT) {
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
                self.holes = true;
                self.shared.dropped.fetch_add(new, Ordering::Relaxed);
                self.send(HearEvent::Trouble(Trouble::Dropped(new)));
            }
            self.frames();
        }
    }

    fn follow_orders(&mut self) {
        self.gate.set_hangover(self.shared.hangover_ms.load(Ordering::Relaxed));
        if let Some(stretch) = self.gate.set_muted(self.shared.muted.load(Ordering::Acquire)) {
            self.ended(*stretch);
        }
        // Phrases and parser stay the same within a stretch.
        while !self.gate.is_open() {
            match self.orders.try_recv() {
                Ok(Order::Parse(parse)) => self.parts.parse = parse,
                Ok(Order::Phrases(phrases, words)) => match (self.parts.recognisers)(&phrases, &words) {
                    Ok(recognisers) => {
                        self.recognisers = recognisers;
                        (self.parts.phrases, self.parts.words) = (phrases, words);
                    }
                    Err(error) => {
                        self.send(HearEvent::Trouble(Trouble::Phrases(error.to_string())));
                    }
                },
                Err(_) => break,
            }
        }
    }

    fn frames(&mut self) {
        self.last_frame = Instant::now();
        let waiting = std::mem::take(&mut self.waiting);
        let (frames, rest) = waiting.as_chunks::<FRAME>();
        for frame in frames {
            let score = (self.parts.score)(frame);
            match self.gate.frame(frame, score) {
                Step::Quiet => {}
                Step::Began => {
                    self.fed = 0;
                    self.holes = false;
                    self.shared.speech.store(true, Ordering::Relaxed);
                    self.send(HearEvent::SoundBegan);
                }
                Step::Going => {
                    // In pieces of about a tenth of a second: decoding keeps up and little is left for the end.
                    if self.gate.sound().len() >= self.fed + 6 * FRAME {
                        let piece = to_i16(&self.gate.sound()[self.fed..]);
                        self.fed += piece.len();
                        self.recognisers.iter_mut().for_each(|r| r.feed(&piece));
                    }
                }
                Step::Ended(stretch) => self.ended(*stretch),
            }
        }
        self.waiting.extend_from_slice(rest);
        self.shared.level.store(self.gate.level_dbfs().to_bits(), Ordering::Relaxed);
        self.shared.room.store(self.gate.room_dbfs().to_bits(), Ordering::Relaxed);
    }

    fn ended(&mut self, stretch: Stretch) {
        self.shared.speech.store(false, Ordering::Relaxed);
        let samples: Arc<[i16]> = to_i16(&stretch.samples).into();
        let (mut opinions, mut outcome) = (Vec::new(), Outcome::NoSpeech);
        if stretch.refused.is_none() {
            let rest = samples.get(self.fed.min(samples.len())..).unwrap_or_default();
            // Both at the same time: the answer waits for the slower one only.
            let decoded: Vec<(&'static str, Decoded)> = std::thread::scope(|scope| {
                let finishing: Vec<_> = self
                    .recognisers
                    .iter_mut()
                    .map(|r| {
                        scope.spawn(move || {
                            r.feed(rest);
                            (r.name(), r.finish())
                        })
                    })
                    .collect();
                finishing.into_iter().filter_map(|f| f.join().ok()).collect()
            });
            let of =
                |name| decoded.iter().find(|(n, _)| *n == name).map(|(_, d)| d.clone()).unwrap_or_default();
            let parse = self.parts.parse.clone();
            let whole = !stretch.cuts.any() && !self.holes;
            outcome = accept::judge(&of(PHRASES), &of(WORDS), whole, self.parts.caution, &|w| parse(w));
            opinions = decoded
                .into_iter()
                .map(|(by, d)| Opinion {
                    by: by.into(),
                    margin: accept::lead(&d, &|w| parse(w)),
                    words: d.words,
                })
                .collect();
        } else {
            self.recognisers.iter_mut().for_each(|r| r.reset());
        }
        self.fed = 0;
        if matches!(outcome, Outcome::Understood(_)) {
            self.gate.learn_voice(stretch.level_dbfs);
        }
        let clip = self.parts.clips.as_mut().map(|c| c.write(&samples)).transpose();
        let clip = clip.unwrap_or_else(|error| {
            self.send(HearEvent::Trouble(Trouble::Clip(error.to_string())));
            None
        });
        let decoding = u32::try_from(self.last_frame.elapsed().as_millis()).unwrap_or(u32::MAX);
        let hearing = Hearing {
            clip,
            opinions,
            outcome,
            length_ms: u32::try_from(samples.len() / 16).unwrap_or(u32::MAX),
            level_dbfs: stretch.level_dbfs,
            room_dbfs: stretch.room_dbfs,
            latency_ms: stretch.silence_ms.saturating_add(decoding),
        };
        self.send(HearEvent::Heard(Heard { hearing, samples }));
        if stretch.refused == Some(Refused::Far) {
            self.send(HearEvent::Trouble(Trouble::TooQuiet { level_dbfs: stretch.level_dbfs }));
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
