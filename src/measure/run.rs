//! Owns the way of the clips through the ears: each from a fresh start, several at a time.

use super::{
    Listed,
    score::{self, Heard, Scored},
};
use crate::{
    grammar::{Context, Grammar},
    hear::{
        Follows, HearError, HearEvent, Model, Parse, RATE,
        accept::Caution,
        audio::tame,
        ear::{Ear, Parts, Waits},
        files,
        gate::GateSettings,
        meaning::of_numbers,
        voice::SpeechScore,
    },
    measure::spoil::Conditions,
    profile::Meter,
    session::{self, Outcome},
};
use std::{
    sync::{
        Arc, Mutex,
        atomic::{AtomicUsize, Ordering},
    },
    time::Instant,
};

/// Room before the speech and behind it, in seconds: the ears know the room, and the longest silence passes.
const BEFORE_S: usize = 1;
const BEHIND_S: usize = 3;
/// Level of that room in decibels against full scale: a quiet one. Noise of a condition covers it.
const ROOM_DBFS: f32 = -75.0;
/// Sound comes in pieces of 20 ms.
const PIECE: usize = RATE as usize / 50;

/// What the clips are heard with.
pub struct Ears {
    model: Model,
    grammar: Arc<Grammar>,
    context: Context,
    follows: Follows,
    caution: Caution,
}

impl std::fmt::Debug for Ears {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.debug_struct("Ears").field("model", &self.model).finish_non_exhaustive()
    }
}

impl Ears {
    /// Ears for what may be said in that context, of readings on that meter's display.
    #[must_use]
    pub fn new(model: Model, grammar: Grammar, context: Context, meter: Meter) -> Self {
        let grammar = Arc::new(grammar);
        let (words, of) = (grammar.clone(), context.clone());
        let follows: Follows = Arc::new(move |said, meant| session::follow(&words, &meter, said, meant, &of));
        Self { model, grammar, context, follows, caution: Caution::default() }
    }

    fn parse(&self) -> Parse {
        let (grammar, context) = (self.grammar.clone(), self.context.clone());
        Arc::new(move |words| grammar.parse(words, &context))
    }

    fn ear(&self) -> Result<Ear, HearError> {
        let mut score = SpeechScore::default();
        let words = self.grammar.words(&self.context);
        let mut recognisers = self.model.recognisers(&self.grammar.phrases(&self.context), &words)?;
        recognisers.extend(self.model.numbers(&of_numbers(&words, &*self.parse()))?);
        Ok(Ear::new(Parts {
            recognisers,
            parse: self.parse(),
            follows: self.follows.clone(),
            clips: None,
            gate: GateSettings::default(),
            waits: Waits::default(),
            caution: self.caution,
            score: Box::new(move |frame| score.score(frame)),
        }))
    }

    /// Hears every clip under these conditions, `jobs` at a time; `seed` draws what is random in them.
    ///
    /// # Errors
    /// [`HearError`] of the first clip that cannot be read, or what keeps the ears from listening.
    pub fn hear(
        &self,
        clips: &[Listed],
        conditions: &Conditions,
        seed: u64,
        jobs: usize,
    ) -> Result<Vec<Scored>, HearError> {
        let next = AtomicUsize::new(0);
        let done: Mutex<Vec<(usize, Scored)>> = Mutex::new(Vec::with_capacity(clips.len()));
        std::thread::scope(|scope| {
            let workers: Vec<_> = (0..jobs.max(1))
                .map(|_| {
                    scope.spawn(|| -> Result<(), HearError> {
                        let mut ear = self.ear()?;
                        loop {
                            let at = next.fetch_add(1, Ordering::Relaxed);
                            let Some(clip) = clips.get(at) else { return Ok(()) };
                            let scored =
                                self.clip(&mut ear, clip, conditions, seed.wrapping_add(at as u64))?;
                            done.lock().unwrap_or_else(std::sync::PoisonError::into_inner).push((at, scored));
                        }
                    })
                })
                .collect();
            workers.into_iter().try_for_each(|worker| {
                worker.join().unwrap_or_else(|_| Err(HearError::Thread("it ended without a word".into())))
            })
        })?;
        let mut done = done.into_inner().unwrap_or_else(std::sync::PoisonError::into_inner);
        done.sort_by_key(|(at, _)| *at);
        Ok(done.into_iter().map(|(_, scored)| scored).collect())
    }

    fn clip(
        &self,
        ear: &mut Ear,
        clip: &Listed,
        conditions: &Conditions,
        seed: u64,
    ) -> Result<Scored, HearError> {
        let speech = files::read(&clip.file)?;
        let mut room = Room::new(seed);
        let mut sound = room.take(BEFORE_S * RATE as usize);
        let begin = sound.len();
        sound.extend(speech.iter().zip(room.take(speech.len())).map(|(s, r)| s + r));
        let end = begin + last_loud(&speech);
        sound.extend(room.take(BEHIND_S * RATE as usize));
        let mut sound = conditions.apply(&sound, seed);
        sound.iter_mut().for_each(|s| *s = tame(*s));
        let heard = listen(ear, &sound, end);
        let meant = self.grammar.parse(&clip.words, &self.context);
        Ok(score::score(&clip.name, clip.speaker.as_deref(), &clip.words, meant.as_ref(), heard))
    }
}

/// Lets an ear hear this sound, whose speech ends at a sample.
fn listen(ear: &mut Ear, sound: &[f32], end: usize) -> Heard {
    ear.forget();
    let before = ear.spent();
    let mut hearings = Vec::new();
    let mut latency = None;
    let mut now = 0_usize;
    let mut tell = |event, now: usize, begun: Instant, latency: &mut Option<f64>| {
        if let HearEvent::Heard(heard) = event {
            if heard.hearing.outcome != Outcome::NoSpeech {
                #[expect(clippy::cast_precision_loss, reason = "samples of one clip")]
                let since_end = (now as f64 - end as f64) / f64::from(RATE) * 1000.0;
                *latency = Some(since_end + begun.elapsed().as_secs_f64() * 1000.0);
            }
            hearings.push(heard.hearing);
        }
    };
    for piece in sound.chunks(PIECE) {
        now += piece.len();
        let begun = Instant::now();
        ear.hear(piece, &mut |event| tell(event, now, begun, &mut latency));
    }
    let begun = Instant::now();
    ear.flush(&mut |event| tell(event, now, begun, &mut latency));
    #[expect(clippy::cast_precision_loss, reason = "samples of one clip")]
    let sound_s = sound.len() as f64 / f64::from(RATE);
    Heard { hearings, latency_ms: latency, sound_s, spent_s: (ear.spent() - before).as_secs_f64() }
}

/// The end of speech in a clip: the last hundredth of a second within 30 dB of the loudest one.
fn last_loud(speech: &[f32]) -> usize {
    const STEP: usize = RATE as usize / 100;
    let powers: Vec<f32> = speech.chunks(STEP).map(|c| c.iter().map(|s| s * s).sum()).collect();
    let loudest = powers.iter().copied().fold(0.0, f32::max);
    powers
        .iter()
        .rposition(|p| *p >= loudest / 1000.0 && *p > 0.0)
        .map_or(0, |i| (i + 1) * STEP)
        .min(speech.len())
}

/// A room's faint noise.
struct Room(u64);

impl Room {
    fn new(seed: u64) -> Self {
        Self(seed ^ 0x9e37_79b9_7f4a_7c15)
    }

    fn take(&mut self, count: usize) -> Vec<f32> {
        // Uniform noise has a root mean square of its amplitude by the root of three.
        let amplitude = 10_f32.powf(ROOM_DBFS / 20.0) * 3_f32.sqrt();
        (0..count)
            .map(|_| {
                self.0 =
                    self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
                #[expect(clippy::cast_precision_loss, reason = "24 bits")]
                let unit = (self.0 >> 40) as f32 / (1_u64 << 24) as f32;
                (unit * 2.0 - 1.0) * amplitude
            })
            .collect()
    }
}
