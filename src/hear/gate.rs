//! Owns where speech begins and ends: a pure state machine over frames of 16 ms, with the room's level, the level of the
//! person's voice, and deafness while the program itself speaks.
//!
//! Frames are speech where a trained score says so *and* they rise above the tracked level of the room. Sound before the
//! first speech frame is kept, so that the first word is whole. Time is counted in frames, never read from a clock.

use std::collections::VecDeque;

/// Samples a frame, at 16 kHz.
pub const FRAME: usize = 256;
/// Milliseconds a frame.
pub const FRAME_MS: u32 = 16;
/// Level of digital silence (exact zeros) and below, in decibels against full scale.
pub const SILENCE_DBFS: f32 = -90.0;

/// Settings of the gate.
#[derive(Debug, Clone, PartialEq)]
pub struct GateSettings {
    /// Silence that ends a stretch of speech.
    pub hangover_ms: u32,
    /// Sound kept from before the first speech frame.
    pub before_ms: u32,
    /// Less speech than this is no speech (a knock, a click).
    pub least_speech_ms: u32,
    /// A stretch longer than this is cut, and never taken at once.
    pub longest_ms: u32,
    /// So much above the room's level is the least that can be speech, in decibels.
    pub above_room_db: f32,
    /// Below this nothing is speech, in decibels against full scale.
    pub floor_dbfs: f32,
    /// Speech this much below the person's known level is somebody else, in decibels.
    pub far_db: f32,
    /// Deaf for this long after the program stopped speaking.
    pub tail_ms: u32,
}

impl Default for GateSettings {
    fn default() -> Self {
        Self {
            hangover_ms: 450,
            before_ms: 320,
            least_speech_ms: 80,
            longest_ms: 10_000,
            above_room_db: 6.0,
            floor_dbfs: -60.0,
            far_db: 18.0,
            tail_ms: 120,
        }
    }
}

/// How a stretch of speech is not whole; such a stretch is never taken without asking.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub struct Cuts {
    /// It had begun before listening began (after the program spoke).
    pub start: bool,
    /// It was ended by the program's own voice, not by silence.
    pub end: bool,
    /// It was longer than any reading or command.
    pub too_long: bool,
}

impl Cuts {
    /// Whether anything of it is missing.
    #[must_use]
    pub fn any(self) -> bool {
        self.start || self.end || self.too_long
    }
}

/// Whether sound comes in.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub enum Door {
    /// It does.
    #[default]
    Open,
    /// Nobody presses to talk: the last moments are kept, since people begin to speak as they press.
    Shut,
    /// The program itself speaks: nothing is kept.
    OwnVoice,
}

/// A stretch of sound that has ended.
#[derive(Debug, Clone, PartialEq)]
pub struct Stretch {
    /// All its samples, with what came just before.
    pub samples: Vec<f32>,
    /// Level of the loudest tenth of a second, in decibels against full scale.
    pub level_dbfs: f32,
    /// Level of the room when it began, in decibels against full scale.
    pub room_dbfs: f32,
    /// Milliseconds of speech frames in it.
    pub speech_ms: u32,
    /// Milliseconds of silence at its end.
    pub silence_ms: u32,
    /// What is missing of it.
    pub cuts: Cuts,
    /// Why it is no speech to be taken, if so.
    pub refused: Option<Refused>,
}

/// Why a stretch is no speech of the person.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Refused {
    /// Too short.
    Short,
    /// Hardly louder than the room.
    InTheRoom,
    /// Far quieter than the person speaks.
    Far,
}

/// What a frame did.
#[derive(Debug, Clone, PartialEq)]
pub enum Step {
    /// Nobody speaks.
    Quiet,
    /// Speech has begun; [`Gate::sound`] has it with what came just before.
    Began,
    /// Speech goes on.
    Going,
    /// It has ended.
    Ended(Box<Stretch>),
}

/// The gate.
#[derive(Debug)]
pub struct Gate {
    settings: GateSettings,
    before: VecDeque<[f32; FRAME]>,
    recent: VecDeque<bool>,
    room: f32,
    /// Levels of the last tenths of a second while nobody spoke.
    levels: VecDeque<f32>,
    powers: VecDeque<f32>,
    frames: u64,
    voice: Option<f32>,
    level: f32,
    door: Door,
    deaf_frames: u32,
    /// Frames without speech up to now, without a break.
    quiet_frames: u32,
    /// Frames since there was a pause, so that what is said now had begun by then.
    since_pause: u32,
    /// Speech was going on when listening began again, and there was no pause since.
    running_in: bool,
    /// Our own voice was the last to be heard, and there was no long pause since.
    after_own_voice: bool,
    open: Option<Open>,
    /// Cut for its length: nothing new begins before a pause.
    wait_for_pause: bool,
    pause_frames: u32,
}

#[derive(Debug)]
struct Open {
    samples: Vec<f32>,
    powers: VecDeque<f32>,
    loudest: f32,
    /// Mean power of the last tenth of a second.
    lately: f32,
    /// Level that the room's noise seldom exceeds, in decibels against full scale.
    din: f32,
    room: f32,
    speech_frames: u32,
    silent_frames: u32,
    cut_start: bool,
}

/// So many of the last [`ONSET_OF`] frames must be speech for a beginning.
const ONSET: usize = 4;
const ONSET_OF: usize = 6;
/// Score at which a frame begins speech, and the lower one at which it carries on.
const BEGIN_SCORE: f32 = 0.5;
const CARRY_SCORE: f32 = 0.3;
/// Quiet for so long within an utterance there is none: closures of consonants are half of it.
const PAUSE_MS: u32 = 160;
/// After our own voice a pause has to be this long. Its end is told late: somebody may have begun meanwhile, and between
/// "five" and "point" it is quiet for more than [`PAUSE_MS`].
const PAUSE_AFTER_OWN_VOICE_MS: u32 = 480;
/// Frames whose mean is "the loudest part": about a tenth of a second.
const LOUD_FRAMES: usize = 6;
/// The din is what this share of the last [`DIN_FRAMES`] is below: machines have loud and quiet moments.
const DIN_SHARE: usize = 85;
/// About a second and a half.
const DIN_FRAMES: usize = 94;
/// Speech rises above the din by at least this much, in decibels.
const ABOVE_DIN_DB: f32 = 1.0;

fn frames(ms: u32) -> u32 {
    ms.div_ceil(FRAME_MS)
}

fn power(frame: &[f32; FRAME]) -> f32 {
    #[expect(clippy::cast_precision_loss, reason = "256 is exact")]
    let n = FRAME as f32;
    frame.iter().map(|s| s * s).sum::<f32>() / n
}

/// Level of a frame in decibels against full scale.
#[must_use]
pub fn level(frame: &[f32; FRAME]) -> f32 {
    dbfs(power(frame))
}

fn dbfs(power: f32) -> f32 {
    (10.0 * power.max(1e-12).log10()).max(SILENCE_DBFS)
}

impl Gate {
    /// A gate that knows nothing of the room yet.
    #[must_use]
    pub fn new(settings: GateSettings) -> Self {
        Self {
            settings,
            before: VecDeque::new(),
            recent: VecDeque::new(),
            room: SILENCE_DBFS,
            levels: VecDeque::new(),
            powers: VecDeque::new(),
            frames: 0,
            voice: None,
            level: SILENCE_DBFS,
            door: Door::Open,
            deaf_frames: 0,
            quiet_frames: 0,
            since_pause: 0,
            running_in: false,
            after_own_voice: false,
            open: None,
            wait_for_pause: false,
            pause_frames: 0,
        }
    }

    /// Silence that ends speech, from now on (also for speech going on): shorter where nothing can follow, longer where
    /// more may come.
    pub fn set_hangover(&mut self, ms: u32) {
        self.settings.hangover_ms = ms;
    }

    /// The door opens or shuts. Speech that had begun before is ended here and given out, marked as cut unless it had
    /// already fallen silent for a quarter of a second; nothing of it is lost.
    pub fn set_door(&mut self, door: Door) -> Option<Box<Stretch>> {
        let before = std::mem::replace(&mut self.door, door);
        if door == before {
            return None;
        }
        if before == Door::OwnVoice {
            self.deaf_frames = frames(self.settings.tail_ms);
        }
        self.after_own_voice = door == Door::OwnVoice || (door == Door::Open && before == Door::OwnVoice);
        if door == Door::Open {
            let kept = if before == Door::Shut { self.before.len() } else { 0 };
            self.running_in = self.since_pause as usize > kept;
            return None;
        }
        if door == Door::OwnVoice {
            self.before.clear();
            self.recent.clear();
        }
        let cut = self.open.as_ref().is_some_and(|o| o.silent_frames * FRAME_MS < 250);
        self.end(Cuts { end: cut, ..Cuts::default() })
    }

    /// What a stretch came to: the level of speech that was understood teaches how loud the person is.
    pub fn learn_voice(&mut self, level_dbfs: f32) {
        self.voice = Some(match self.voice {
            None => level_dbfs,
            Some(known) => known + 0.2 * (level_dbfs - known),
        });
    }

    /// Level of the last frame, in decibels against full scale.
    #[must_use]
    pub fn level_dbfs(&self) -> f32 {
        self.level
    }

    /// Tracked level of the room, in decibels against full scale.
    #[must_use]
    pub fn room_dbfs(&self) -> f32 {
        self.room
    }

    /// Whether speech is going on.
    #[must_use]
    pub fn is_open(&self) -> bool {
        self.open.is_some()
    }

    /// The sound of the speech going on, so far.
    #[must_use]
    pub fn sound(&self) -> &[f32] {
        self.open.as_ref().map_or(&[], |o| &o.samples)
    }

    /// Level of the loudest tenth of a second of the speech going on, in decibels against full scale.
    #[must_use]
    pub fn loudest_dbfs(&self) -> f32 {
        self.open.as_ref().map_or(SILENCE_DBFS, |o| dbfs(o.loudest))
    }

    /// Level of the room when the speech going on began, in decibels against full scale.
    #[must_use]
    pub fn stretch_room_dbfs(&self) -> f32 {
        self.open.as_ref().map_or(self.room, |o| o.room)
    }

    /// How loud the person is known to be, in decibels against full scale.
    #[must_use]
    pub fn voice_dbfs(&self) -> Option<f32> {
        self.voice
    }

    /// Milliseconds since the last speech frame of the speech going on; 0 while there is none.
    #[must_use]
    pub fn silent_ms(&self) -> u32 {
        self.open.as_ref().map_or(0, |o| o.silent_frames * FRAME_MS)
    }

    /// Milliseconds of speech frames in the speech going on.
    #[must_use]
    pub fn speech_ms(&self) -> u32 {
        self.open.as_ref().map_or(0, |o| o.speech_frames * FRAME_MS)
    }

    /// Ends the speech going on here, as if the silence that ends speech were over.
    pub fn close(&mut self) -> Option<Box<Stretch>> {
        self.end(Cuts::default())
    }

    /// The source has ended or is lost: what is going on is given out.
    pub fn flush(&mut self) -> Option<Box<Stretch>> {
        self.before.clear();
        self.recent.clear();
        let cut = self.open.as_ref().is_some_and(|o| o.silent_frames * FRAME_MS < 250);
        self.end(Cuts { end: cut, ..Cuts::default() })
    }

    /// Takes the next frame with its speech score (0 to 1).
    pub fn frame(&mut self, frame: &[f32; FRAME], score: f32) -> Step {
        let power = power(frame);
        self.level = dbfs(power);
        self.frames += 1;
        let least = (self.room + self.settings.above_room_db).max(self.settings.floor_dbfs);
        let begins = score >= BEGIN_SCORE && self.level >= least;
        self.track_pause(begins);
        if self.door == Door::OwnVoice {
            return Step::Quiet;
        }
        if self.deaf_frames > 0 {
            self.deaf_frames -= 1;
            // Also who began to speak while it was deaf is not heard from the beginning.
            self.running_in = self.since_pause > 0;
            return Step::Quiet;
        }
        self.track_room(score);
        if self.open.is_none() {
            self.track_din(power);
        }
        if self.door == Door::Shut {
            self.remember(frame, begins);
            return Step::Quiet;
        }
        if self.wait_for_pause {
            self.pause_frames = if begins { 0 } else { self.pause_frames + 1 };
            self.wait_for_pause = self.pause_frames < frames(self.settings.hangover_ms);
            return Step::Quiet;
        }
        if self.open.is_some() { self.carry_on(frame, power, score) } else { self.wait(frame, begins) }
    }

    /// A single quiet frame is the middle of a word; only a pause tells that what comes next is its beginning.
    fn track_pause(&mut self, begins: bool) {
        self.quiet_frames = if begins { 0 } else { self.quiet_frames + 1 };
        let pause = if self.after_own_voice { PAUSE_AFTER_OWN_VOICE_MS } else { PAUSE_MS };
        if self.quiet_frames >= frames(pause) {
            self.since_pause = 0;
            self.running_in = false;
            self.after_own_voice = self.door == Door::OwnVoice;
        } else {
            self.since_pause += 1;
        }
    }

    fn remember(&mut self, frame: &[f32; FRAME], begins: bool) {
        self.before.push_back(*frame);
        while self.before.len() > frames(self.settings.before_ms) as usize + ONSET_OF {
            self.before.pop_front();
        }
        self.recent.push_back(begins);
        while self.recent.len() > ONSET_OF {
            self.recent.pop_front();
        }
    }

    fn wait(&mut self, frame: &[f32; FRAME], begins: bool) -> Step {
        self.remember(frame, begins);
        let speech = self.recent.iter().filter(|s| **s).count();
        if speech < ONSET {
            return Step::Quiet;
        }
        let mut open = Open {
            samples: Vec::with_capacity(16 * 4000),
            powers: VecDeque::new(),
            loudest: 0.0,
            lately: 0.0,
            din: self.din(),
            room: self.room,
            speech_frames: u32::try_from(speech).unwrap_or(0),
            silent_frames: 0,
            cut_start: self.running_in,
        };
        self.recent.clear();
        for kept in self.before.drain(..) {
            open.take(&kept, power(&kept));
        }
        self.open = Some(open);
        Step::Began
    }

    fn carry_on(&mut self, frame: &[f32; FRAME], power: f32, score: f32) -> Step {
        let level = self.level;
        let floor = self.settings.floor_dbfs;
        let (hangover, longest) = (frames(self.settings.hangover_ms), self.settings.longest_ms as usize * 16);
        let Some(open) = self.open.as_mut() else { return Step::Quiet };
        open.take(frame, power);
        let least = (open.room + self.settings.above_room_db - 2.0).max(floor);
        if score >= CARRY_SCORE && level >= least && open.stands_out() {
            open.speech_frames += 1;
            open.silent_frames = 0;
        } else {
            open.silent_frames += 1;
        }
        let cuts = if open.samples.len() >= longest {
            self.wait_for_pause = true;
            self.pause_frames = 0;
            Cuts { too_long: true, ..Cuts::default() }
        } else if open.silent_frames >= hangover {
            Cuts::default()
        } else {
            return Step::Going;
        };
        self.end(cuts).map_or(Step::Quiet, Step::Ended)
    }

    fn end(&mut self, cuts: Cuts) -> Option<Box<Stretch>> {
        let open = self.open.take()?;
        let (level, speech_ms) = (dbfs(open.loudest), open.speech_frames * FRAME_MS);
        let cuts = Cuts { start: open.cut_start, ..cuts };
        let refused = if speech_ms < self.settings.least_speech_ms {
            Some(Refused::Short)
        } else if level < (open.room + self.settings.above_room_db).max(self.settings.floor_dbfs) {
            Some(Refused::InTheRoom)
        } else if self.voice.is_some_and(|voice| level < voice - self.settings.far_db) {
            Some(Refused::Far)
        } else {
            None
        };
        Some(Box::new(Stretch {
            samples: open.samples,
            level_dbfs: level,
            room_dbfs: open.room,
            speech_ms,
            silence_ms: open.silent_frames * FRAME_MS,
            cuts,
            refused,
        }))
    }

    /// Keeps what the din is told by.
    fn track_din(&mut self, power: f32) {
        self.powers.push_back(power);
        while self.powers.len() > LOUD_FRAMES {
            self.powers.pop_front();
        }
        #[expect(clippy::cast_precision_loss, reason = "at most 6")]
        let mean = self.powers.iter().sum::<f32>() / self.powers.len() as f32;
        self.levels.push_back(dbfs(mean));
        while self.levels.len() > DIN_FRAMES {
            self.levels.pop_front();
        }
    }

    /// The level that noise in the room seldom exceeds. The last frames may be speech already.
    fn din(&self) -> f32 {
        let mut levels: Vec<f32> = self
            .levels
            .iter()
            .take(self.levels.len().saturating_sub(ONSET_OF + LOUD_FRAMES))
            .copied()
            .collect();
        levels.sort_by(f32::total_cmp);
        levels.get(levels.len() * DIN_SHARE / 100).copied().unwrap_or(SILENCE_DBFS)
    }

    /// The room's level falls fast and rises slowly, slower still under what sounds like speech, so that neither words
    /// nor pauses between them move it much, and a machine that starts to run is the room after some seconds.
    fn track_room(&mut self, score: f32) {
        let rate =
            match (self.level < self.room, self.frames < 20, score >= CARRY_SCORE || self.open.is_some()) {
                (true, ..) => 0.1,
                (false, true, _) => 0.3,
                (false, false, true) => 0.0015,
                (false, false, false) => 0.01,
            };
        self.room = (self.room + rate * (self.level - self.room)).max(SILENCE_DBFS);
    }
}

impl Open {
    /// What does not rise above the din in the room is the din: a machine's rhythm must not keep the stretch open.
    fn stands_out(&self) -> bool {
        dbfs(self.lately) >= self.din + ABOVE_DIN_DB
    }

    fn take(&mut self, frame: &[f32; FRAME], power: f32) {
        self.samples.extend_from_slice(frame);
        self.powers.push_back(power);
        while self.powers.len() > LOUD_FRAMES {
            self.powers.pop_front();
        }
        #[expect(clippy::cast_precision_loss, reason = "at most 6")]
        let mean = self.powers.iter().sum::<f32>() / LOUD_FRAMES as f32;
        self.lately = mean;
        self.loudest = self.loudest.max(mean);
    }
}

#[cfg(test)]
#[path = "gate_tests.rs"]
mod tests;
