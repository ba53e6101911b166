//! Owns one ear: frames in, hearings out, without threads, devices or clocks of its own. [`super::Listener`] runs it live, and
//! the measuring command runs the very same over clips.
//!
//! End of speech: after [`TRY_MS`] of silence the sound so far is decoded and judged on trial. Where nothing can follow,
//! [`EARLY_MS`] are the end, with the judgement ready; where something may, the silence goes on to [`Waits::usual_ms`]; where the words are an unfinished
//! beginning ("one point"), to [`Waits::unfinished_ms`]. Speech that goes on makes the trial void, and everything is decoded
//! again as one. Speech that begins within [`CONTINUES_MS`] of an ended value is tried as its continuation.

use super::{
    HearError, Parse,
    accept::{self, Caution, Judged},
    audio::to_i16,
    clips::Clips,
    gain::{self, Gain},
    gate::{self, Door, FRAME, FRAME_MS, Gate, GateSettings, Refused, Step, Stretch},
    listener::{HearEvent, Heard, Score, Trouble},
    recognise::{Decoded, NUMBERS, PHRASES, Recogniser, SECOND, SECOND_NUMBERS, named},
    weigh::Costs,
};
use crate::{
    grammar::{Follow, Utterance},
    session::{Hearing, Opinion, Outcome},
};
use std::{
    sync::Arc,
    time::{Duration, Instant},
};

/// Silence after which an end is tried, in milliseconds: early enough that decoding is done when it may be one.
pub const TRY_MS: u32 = 160;
/// Silence that ends words that nothing can follow, in milliseconds. People leave about 200 ms between turns (Stivers et al.
/// 2009, PNAS 106: 10587). The gate notices the silence some 20 ms late, so this is about 250 ms after the last sound.
pub const EARLY_MS: u32 = 224;
/// A value that ended no longer ago than this, in milliseconds, may go on.
pub const CONTINUES_MS: u64 = 1500;
/// Speech of this length that comes to nothing is told, in milliseconds.
pub const TOLD_MS: u32 = 200;
/// Longer stretches get no second look: no number takes so long, and decoding talk and bangs twice would keep the ears busy. Ten
/// words take about 5 s. In samples.
const LONGEST_LOOK: usize = 6 * crate::hear::RATE as usize;
/// After so much speech the gain is chosen, in milliseconds: the loudest part of a word is seldom its beginning.
const GAIN_AFTER_MS: u32 = 250;
/// By so much more than it needs a stretch may be lifted when it turns out louder, in decibels: at 6 above -20 dBFS little is cut off.
const TOO_MUCH_DB: f32 = 6.0;
/// A value and its continuation are decoded as one up to this length, in samples: talk with short pauses must not be decoded again
/// and again from its beginning.
const LONGEST_JOINED: usize = 10 * crate::hear::RATE as usize;
/// Frames that recognisers get at a time: about a tenth of a second, so that little is left for the end.
const PIECE: usize = 6 * FRAME;

/// What can follow after these words with this meaning.
pub type Follows = Arc<dyn Fn(&str, Option<&Utterance>) -> Follow + Send + Sync>;

/// What one decoding made of a stretch of sound, by its name.
pub type Opinions = Vec<(&'static str, Decoded)>;

/// Silence that ends speech where something may follow.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Waits {
    /// After words that are whole but may go on, in milliseconds.
    pub usual_ms: u32,
    /// After words that are no whole, in milliseconds.
    pub unfinished_ms: u32,
}

impl Default for Waits {
    fn default() -> Self {
        Self { usual_ms: 700, unfinished_ms: 1500 }
    }
}

/// What an ear works with.
pub struct Parts {
    /// The recognisers, kept over many stretches; those with words of numbers alone are for a second look at what would be asked.
    pub recognisers: Vec<Box<dyn Recogniser>>,
    /// From words to meaning.
    pub parse: Parse,
    /// What can follow.
    pub follows: Follows,
    /// Where clips are kept.
    pub clips: Option<Clips>,
    /// How speech is cut out of sound.
    pub gate: GateSettings,
    /// How long silence is waited for.
    pub waits: Waits,
    /// How careful acceptance is.
    pub caution: Caution,
    /// Scores a frame for speech, 0 to 1.
    pub score: Score,
}

impl Parts {
    /// A gate that knows nothing of the room yet.
    fn gate(&self) -> Gate {
        Gate::new(GateSettings { hangover_ms: self.waits.usual_ms, ..self.gate.clone() })
    }
}

/// Trials cost what they decode again when speech goes on: in all no more than this often the sound so far.
const MOST_AGAIN: usize = 2;

/// What was decoded when an end was tried.
struct Trial {
    /// Samples that it decoded.
    length: usize,
    opinions: Opinions,
    follow: Follow,
}

/// The last value, in case it goes on.
struct Last {
    samples: Vec<f32>,
    speech_ended_ms: u64,
}

/// One ear.
pub struct Ear {
    parts: Parts,
    /// For a second look.
    numbers: Vec<Box<dyn Recogniser>>,
    gate: Gate,
    /// Gain for the scorer.
    gain: Gain,
    /// Gain of the stretch going on for the recognisers, in decibels; none before it is chosen.
    stretch_gain: Option<f32>,
    waiting: Vec<f32>,
    /// Samples of the stretch going on that the recognisers already have.
    fed: usize,
    /// Samples that trials of the stretch going on decoded in vain.
    again: usize,
    /// What was decoded when an end was tried; void once speech goes on.
    trial: Option<Trial>,
    last: Option<Last>,
    began_ms: u64,
    now_ms: u64,
    /// Samples of the stretch going on may be missing.
    holes: bool,
    spent: Duration,
    last_sound: Instant,
}

impl std::fmt::Debug for Ear {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.debug_struct("Ear").field("now_ms", &self.now_ms).finish_non_exhaustive()
    }
}

impl Ear {
    /// An ear that knows nothing of the room yet.
    #[must_use]
    pub fn new(mut parts: Parts) -> Self {
        let gate = parts.gate();
        let numbers = split_off_numbers(&mut parts.recognisers);
        Self {
            parts,
            numbers,
            gate,
            gain: Gain::default(),
            stretch_gain: None,
            waiting: Vec::new(),
            fed: 0,
            again: 0,
            trial: None,
            last: None,
            began_ms: 0,
            now_ms: 0,
            holes: false,
            spent: Duration::ZERO,
            last_sound: Instant::now(),
        }
    }

    /// Forgets the room, the voice and everything heard; keeps the recognisers.
    pub fn forget(&mut self) {
        self.parts.recognisers.iter_mut().chain(&mut self.numbers).for_each(|r| r.reset());
        self.gate = self.parts.gate();
        (self.gain, self.stretch_gain) = (Gain::default(), None);
        self.waiting.clear();
        (self.fed, self.again, self.trial, self.last, self.holes) = (0, 0, None, None, false);
        (self.began_ms, self.now_ms) = (0, 0);
    }

    /// Takes sound (16 kHz mono) and tells what came of it.
    pub fn hear(&mut self, sound: &[f32], tell: &mut dyn FnMut(HearEvent)) {
        self.last_sound = Instant::now();
        self.waiting.extend_from_slice(sound);
        let waiting = std::mem::take(&mut self.waiting);
        let (frames, rest) = waiting.as_chunks::<FRAME>();
        for frame in frames {
            self.now_ms += u64::from(FRAME_MS);
            let begun = Instant::now();
            let lifted = self.gain.frame(gate::level(frame), self.gate.room_dbfs());
            let score = (self.parts.score)(&frame.map(|s| (s * lifted).clamp(-1.0, 1.0)));
            self.spent += begun.elapsed();
            match self.gate.frame(frame, score) {
                Step::Quiet => {}
                Step::Began => {
                    (self.fed, self.again, self.trial, self.holes) = (0, 0, None, false);
                    self.stretch_gain = None;
                    self.gate.set_hangover(self.parts.waits.usual_ms);
                    self.began_ms = self.now_ms;
                    tell(HearEvent::SoundBegan);
                }
                Step::Going => self.going(tell),
                Step::Ended(stretch) => self.ended(*stretch, tell),
            }
        }
        self.waiting.extend_from_slice(rest);
    }

    /// Sound is missing from here on: the stretch going on is not whole.
    pub fn hole(&mut self) {
        self.holes = true;
        self.last = None;
    }

    /// The door opens or shuts.
    pub fn set_door(&mut self, door: Door, tell: &mut dyn FnMut(HearEvent)) {
        if let Some(stretch) = self.gate.set_door(door) {
            self.ended(*stretch, tell);
        }
        if door == Door::OwnVoice {
            // What comes after our own voice is an answer to it.
            self.last = None;
        }
    }

    /// The source has ended or is lost: what is going on is given out.
    pub fn flush(&mut self, tell: &mut dyn FnMut(HearEvent)) {
        self.last_sound = Instant::now();
        if let Some(stretch) = self.gate.flush() {
            self.ended(*stretch, tell);
        }
        self.waiting.clear();
        self.last = None;
    }

    /// Takes other recognisers; only between stretches.
    pub fn set_recognisers(&mut self, mut recognisers: Vec<Box<dyn Recogniser>>) {
        self.numbers = split_off_numbers(&mut recognisers);
        self.parts.recognisers = recognisers;
        self.last = None;
    }

    /// Takes another meaning of words; only between stretches.
    pub fn set_meaning(&mut self, parse: Parse, follows: Follows) {
        (self.parts.parse, self.parts.follows) = (parse, follows);
    }

    /// The gate, for levels and states.
    #[must_use]
    pub fn gate(&self) -> &Gate {
        &self.gate
    }

    /// Time that scoring and decoding took so far, all opinions added up.
    #[must_use]
    pub fn spent(&self) -> Duration {
        self.spent
    }

    /// Time that has passed in the sound, in milliseconds.
    #[must_use]
    pub fn now_ms(&self) -> u64 {
        self.now_ms
    }

    fn going(&mut self, tell: &mut dyn FnMut(HearEvent)) {
        let silent = self.gate.silent_ms();
        if let Some(trial) = &self.trial {
            if silent == 0 {
                // It goes on: the recognisers begin anew with the whole of it.
                self.again += trial.length;
                self.trial = None;
                self.gate.set_hangover(self.parts.waits.usual_ms);
            } else if trial.follow == Follow::Nothing
                && silent >= EARLY_MS
                && let Some(stretch) = self.gate.close()
            {
                self.ended(*stretch, tell);
            }
            return;
        }
        let worth = self.again <= MOST_AGAIN * self.gate.sound().len();
        if silent >= TRY_MS && worth && self.gate.speech_ms() >= self.parts.gate.least_speech_ms {
            self.try_end();
        } else if self.gate.sound().len() >= self.fed + PIECE
            && (self.stretch_gain.is_some() || self.gate.speech_ms() >= GAIN_AFTER_MS)
        {
            self.choose_gain();
            let piece = self.lifted(&self.gate.sound()[self.fed..]);
            self.fed += piece.len();
            let begun = Instant::now();
            self.parts.recognisers.iter_mut().for_each(|r| r.feed(&piece));
            self.spent += begun.elapsed();
        }
    }

    /// Decodes and judges the sound so far: how much more silence is its end?
    fn try_end(&mut self) {
        self.choose_gain();
        let rest = self.lifted(&self.gate.sound()[self.fed.min(self.gate.sound().len())..]);
        let opinions = self.finish(&rest);
        let judged = self.judge(&opinions, !self.holes);
        let follow = self.follow(&opinions, &judged);
        if follow == Follow::Surely {
            self.gate.set_hangover(self.parts.waits.unfinished_ms);
        }
        self.trial = Some(Trial { length: self.gate.sound().len(), opinions, follow });
    }

    /// The stretch going on gets one gain for all of it, by how loud it is, how far it stands out of the room and how the person is known
    /// to speak. Where it turns out louder the recognisers begin anew with less, so that it is not cut off.
    fn choose_gain(&mut self) {
        let (loudest, room) = (self.gate.loudest_dbfs(), self.gate.stretch_room_dbfs());
        let now = gain::of_stretch(loudest, room, self.gate.voice_dbfs());
        match self.stretch_gain {
            None => self.stretch_gain = Some(now),
            Some(before) if before > gain::needed(loudest) + TOO_MUCH_DB => {
                self.stretch_gain = Some(now);
                self.parts.recognisers.iter_mut().for_each(|r| r.reset());
                self.fed = 0;
            }
            Some(_) => {}
        }
    }

    /// Samples as the recognisers get them.
    fn lifted(&self, samples: &[f32]) -> Vec<i16> {
        let factor = gain::factor(self.stretch_gain.unwrap_or(0.0));
        to_i16(&samples.iter().map(|s| (s * factor).clamp(-1.0, 1.0)).collect::<Vec<_>>())
    }

    /// Gives the recognisers the rest and takes their opinions.
    fn finish(&mut self, rest: &[i16]) -> Opinions {
        let (opinions, spent) = finish(&mut self.parts.recognisers, rest);
        self.fed = 0;
        self.spent += spent;
        opinions
    }

    /// What would be asked for the leads alone is looked at once more, with words of numbers alone.
    fn look_again(&mut self, samples: &[f32], opinions: &mut Opinions, judged: Judged) -> Judged {
        if !judged.open || self.numbers.is_empty() || samples.len() > LONGEST_LOOK {
            return judged;
        }
        let sound = self.lifted(samples);
        let (numbers, spent) = finish(&mut self.numbers, &sound);
        self.spent += spent;
        let judged = accept::look_again(judged, &numbers, self.parts.caution, &*self.parts.parse);
        opinions.extend(numbers);
        judged
    }

    fn judge(&self, opinions: &Opinions, whole: bool) -> Judged {
        accept::judge(opinions, whole, self.parts.caution, &*self.parts.parse)
    }

    fn follow(&self, opinions: &Opinions, judged: &Judged) -> Follow {
        let first = || named(opinions, PHRASES).map_or("", |phrases| &phrases.words);
        let words = judged.words.as_deref().unwrap_or_else(first);
        let meant = (self.parts.parse)(words);
        match (self.parts.follows)(words, meant.as_ref()) {
            // What is in doubt is not ended early: more sound may settle it.
            Follow::Nothing if !matches!(judged.outcome, Outcome::Understood(_)) => Follow::Perhaps,
            follow => follow,
        }
    }

    fn ended(&mut self, stretch: Stretch, tell: &mut dyn FnMut(HearEvent)) {
        let whole = !stretch.cuts.any() && !self.holes;
        let trial = self.trial.take();
        let (mut opinions, mut judged) = (Vec::new(), Judged::nothing());
        let mut samples = stretch.samples;
        let mut continues = false;
        if stretch.refused.is_none() {
            opinions = match trial {
                Some(trial) => trial.opinions,
                None => {
                    let (level, room) = (stretch.level_dbfs, stretch.room_dbfs);
                    let voice = self.gate.voice_dbfs();
                    self.stretch_gain.get_or_insert_with(|| gain::of_stretch(level, room, voice));
                    let rest = self.lifted(&samples[self.fed.min(samples.len())..]);
                    self.finish(&rest)
                }
            };
            judged = self.judge(&opinions, whole);
            if let Some((more, joined, both)) = self.continued(&samples, &judged.outcome, whole) {
                (opinions, judged, samples, continues) = (more, joined, both, true);
            }
            judged = self.look_again(&samples, &mut opinions, judged);
            let heard = |name| named(&opinions, name).is_none_or(|decoded| !decoded.words.is_empty());
            if judged.outcome == Outcome::NoSpeech
                && stretch.speech_ms >= TOLD_MS
                && heard(PHRASES)
                && heard(SECOND)
            {
                // Somebody spoke, and it came to nothing: not to be passed over in silence.
                judged.outcome = Outcome::NotInGrammar;
            }
        } else {
            self.parts.recognisers.iter_mut().for_each(|r| r.reset());
            self.fed = 0;
        }
        // Also what nothing can follow: "nine point eight" on a display with one place may still become "nine point eight k".
        let may_go_on = match &judged.outcome {
            Outcome::Understood(Utterance::Reading(_) | Utterance::Entry(_))
            | Outcome::Doubtful(_)
            | Outcome::NotInGrammar => true,
            Outcome::Understood(_) | Outcome::NoSpeech => false,
        };
        let clip_samples: Arc<[i16]> = to_i16(&samples).into();
        self.last = (may_go_on && whole).then_some(Last {
            samples,
            speech_ended_ms: self.now_ms.saturating_sub(u64::from(stretch.silence_ms)),
        });
        if matches!(judged.outcome, Outcome::Understood(_)) {
            self.gate.learn_voice(stretch.level_dbfs);
        }
        let clip = self.keep(&clip_samples).unwrap_or_else(|error| {
            tell(HearEvent::Trouble(Trouble::Clip(error.to_string())));
            None
        });
        let parse = &*self.parts.parse;
        let decoding = u32::try_from(self.last_sound.elapsed().as_millis()).unwrap_or(u32::MAX);
        let first = match &judged.outcome {
            Outcome::Understood(utterance) => Some(utterance),
            Outcome::Doubtful(candidates) => candidates.first(),
            Outcome::NotInGrammar | Outcome::NoSpeech => None,
        };
        let hearing = Hearing {
            clip,
            opinions: opinions
                .into_iter()
                .map(|(by, d)| Opinion {
                    by: by.into(),
                    margin: accept::lead(&d, parse),
                    support: first.map(|first| Costs::of(&d, parse).support(first)),
                    words: d.words,
                })
                .collect(),
            outcome: judged.outcome,
            words: judged.words,
            doubt: judged.doubt,
            marked: judged.marked,
            continues,
            length_ms: u32::try_from(clip_samples.len() / 16).unwrap_or(u32::MAX),
            level_dbfs: stretch.level_dbfs,
            room_dbfs: stretch.room_dbfs,
            latency_ms: stretch.silence_ms.saturating_add(decoding),
        };
        tell(HearEvent::Heard(Heard { hearing, samples: clip_samples }));
        if stretch.refused == Some(Refused::Far) {
            tell(HearEvent::Trouble(Trouble::TooQuiet { level_dbfs: stretch.level_dbfs }));
        }
    }

    /// The last value and this stretch as one, where together they are a value and this one alone is no command.
    fn continued(
        &mut self,
        samples: &[f32],
        alone: &Outcome,
        whole: bool,
    ) -> Option<(Opinions, Judged, Vec<f32>)> {
        let last = self.last.take()?;
        let pause = self.began_ms.saturating_sub(last.speech_ended_ms);
        if !whole || pause > CONTINUES_MS || !accept::may_continue(alone) {
            return None;
        }
        let mut both = last.samples;
        both.extend_from_slice(samples);
        if both.len() > LONGEST_JOINED {
            return None;
        }
        let both_lifted = self.lifted(&both);
        let opinions = self.finish(&both_lifted);
        let judged = self.judge(&opinions, whole);
        accept::is_value(&judged.outcome).then_some((opinions, judged, both))
    }

    fn keep(&mut self, samples: &[i16]) -> Result<Option<String>, HearError> {
        self.parts.clips.as_mut().map(|c| c.write(samples)).transpose()
    }
}

/// Those for a second look, taken out of all.
fn split_off_numbers(all: &mut Vec<Box<dyn Recogniser>>) -> Vec<Box<dyn Recogniser>> {
    let (numbers, others) =
        std::mem::take(all).into_iter().partition(|r| matches!(r.name(), NUMBERS | SECOND_NUMBERS));
    *all = others;
    numbers
}

/// Gives recognisers the rest and takes their opinions: all at the same time, so that the answer waits for the slowest only.
fn finish(recognisers: &mut [Box<dyn Recogniser>], rest: &[i16]) -> (Opinions, Duration) {
    let decoded: Vec<_> = std::thread::scope(|scope| {
        let finishing: Vec<_> = recognisers
            .iter_mut()
            .map(|r| {
                scope.spawn(move || {
                    let begun = Instant::now();
                    r.feed(rest);
                    ((r.name(), r.finish()), begun.elapsed())
                })
            })
            .collect();
        finishing.into_iter().filter_map(|f| f.join().ok()).collect()
    });
    let spent = decoded.iter().map(|(_, spent)| *spent).sum::<Duration>();
    (decoded.into_iter().map(|(opinion, _)| opinion).collect(), spent)
}

#[cfg(test)]
#[path = "ear_tests.rs"]
mod tests;
