//! Owns the voice on a loudspeaker of one's choice: lines made into sound by espeak-ng and played here. The system's speech
//! service has no choice of device; this has, knows when a line has ended, and finds the device again when it was unplugged.

use super::{
    Scales, Voice, VoiceEvent, VoiceTrouble,
    loudspeaker::{LoudspeakerError, Player},
    remote::{Asked, Remote},
};
use crossbeam_channel::{Receiver, RecvTimeoutError, Sender, unbounded};
use std::{
    collections::VecDeque,
    io::Write,
    process::{Command, Stdio},
    thread,
    time::{Duration, Instant},
};

/// The synthesiser.
const PROGRAM: &str = "espeak-ng";
/// How often it is looked whether a line has ended.
const LOOK: Duration = Duration::from_millis(10);
/// After the last sample: what the device still holds, and a fifth of a second that a wireless one may be late.
const AFTER: Duration = Duration::from_millis(250);
/// A device that does not ask for samples for so long is gone.
const WATCHDOG: Duration = Duration::from_secs(2);
/// How often a device that is gone is looked for.
const AGAIN: Duration = Duration::from_secs(1);

/// A voice on the loudspeaker with that name or a part of it; pace and volume as with the system's voice.
///
/// # Errors
/// [`LoudspeakerError`].
pub fn played_voice(name: &str, pace: f32, volume: Option<f32>) -> Result<Box<dyn Voice>, LoudspeakerError> {
    let scale = Scales { pace, volume: volume.unwrap_or(100.0) };
    let (orders, inbox) = unbounded();
    let (tell, events) = unbounded();
    let (ready, is_ready) = crossbeam_channel::bounded(1);
    synthesise("", scale).map_err(LoudspeakerError::NoVoice)?;
    let wanted = name.to_owned();
    let begun = thread::Builder::new().name("voice".into()).spawn(move || {
        // The stream stays on the thread that opened it.
        match Player::open(&wanted) {
            Ok(player) => {
                let _ = ready.send(Ok(()));
                Speaker::new(wanted, player, tell, scale).run(&inbox);
            }
            Err(error) => {
                let _ = ready.send(Err(error));
            }
        }
    });
    let unusable = |fault: String| LoudspeakerError::Unusable { name: name.to_owned(), fault };
    begun.map_err(|error| unusable(error.to_string()))?;
    is_ready.recv().map_err(|error| unusable(error.to_string()))??;
    Ok(Box::new(Remote::new(orders, events, scale)))
}

/// A line that is being played.
struct Line {
    number: u64,
    samples: Vec<f32>,
    fed: usize,
    /// When its last sample was taken.
    ended: Option<Instant>,
}

struct Speaker {
    wanted: String,
    player: Option<Player>,
    tell: Sender<VoiceEvent>,
    scale: Scales,
    waiting: VecDeque<(u64, String)>,
    now: Option<Line>,
    /// The number of the last order.
    last: u64,
    /// What the device had asked when it asked last, and when.
    alive: (u64, Instant),
    /// When it was looked for last.
    looked: Instant,
}

impl Speaker {
    fn new(wanted: String, player: Player, tell: Sender<VoiceEvent>, scale: Scales) -> Self {
        let now = Instant::now();
        Self {
            wanted,
            player: Some(player),
            tell,
            scale,
            waiting: VecDeque::new(),
            now: None,
            last: 0,
            alive: (0, now),
            looked: now,
        }
    }

    fn run(mut self, inbox: &Receiver<Asked>) {
        loop {
            let wait = if self.now.is_some() { LOOK } else { AGAIN / 2 };
            match inbox.recv_timeout(wait) {
                Ok(Asked::Say(number, text)) => {
                    self.last = number;
                    self.waiting.push_back((number, text));
                    if self.now.is_none() {
                        self.next();
                    }
                }
                Ok(Asked::Hush(number)) => {
                    self.last = number;
                    self.waiting.clear();
                    self.now = None;
                    if let Some(player) = &self.player {
                        player.hush(number);
                    }
                    self.quiet();
                }
                Ok(Asked::Change(scales)) => self.scale = scales,
                Err(RecvTimeoutError::Timeout) => {}
                Err(RecvTimeoutError::Disconnected) => return,
            }
            self.look();
        }
    }

    /// Feeds the device, notes what has ended, and looks after a device that is gone.
    fn look(&mut self) {
        let Some(player) = &self.player else { return self.look_for_it() };
        let asked = player.asked();
        if asked != self.alive.0 {
            self.alive = (asked, Instant::now());
        }
        let silent = self.alive.1.elapsed() > WATCHDOG;
        if let Some(why) = player.lost().or_else(|| silent.then(|| "it takes no sound".to_owned())) {
            self.player = None;
            self.looked = Instant::now();
            self.send(VoiceEvent::Trouble(VoiceTrouble::LoudspeakerGone { why }));
            if self.now.take().is_some() || !self.waiting.is_empty() {
                self.waiting.clear();
                self.quiet();
            }
            return;
        }
        let dry = player.ran_dry();
        let Some(line) = &mut self.now else { return };
        line.fed = player.feed(line.number, &line.samples, line.fed);
        if line.ended.is_none() && player.has_ended(line.number) {
            line.ended = Some(Instant::now());
        }
        // Between two lines nothing has to be waited for.
        let over = line.ended.is_some_and(|at| !self.waiting.is_empty() || at.elapsed() >= AFTER);
        if dry > 0 {
            self.send(VoiceEvent::Trouble(VoiceTrouble::RanDry { times: u64::from(dry) }));
        }
        if over {
            self.next();
        }
    }

    fn look_for_it(&mut self) {
        if self.looked.elapsed() < AGAIN {
            return;
        }
        self.looked = Instant::now();
        if let Ok(player) = Player::open(&self.wanted) {
            self.alive = (0, Instant::now());
            self.player = Some(player);
            self.send(VoiceEvent::Trouble(VoiceTrouble::LoudspeakerBack));
        }
    }

    /// Plays what waits next, or tells that it is quiet. Without a device the lines are shown only.
    fn next(&mut self) {
        self.now = None;
        while let Some((number, text)) = self.waiting.pop_front() {
            let Some(player) = &self.player else { continue };
            match synthesise(&text, self.scale) {
                Ok(sound) => {
                    let samples = sound.at(player.rate);
                    if samples.is_empty() {
                        continue;
                    }
                    let fed = player.feed(number, &samples, 0);
                    self.now = Some(Line { number, samples, fed, ended: None });
                    self.send(VoiceEvent::Began(Instant::now()));
                    return;
                }
                Err(error) => {
                    self.send(VoiceEvent::Trouble(VoiceTrouble::NotSpoken { why: error.to_string() }))
                }
            }
        }
        self.quiet();
    }

    fn quiet(&self) {
        self.send(VoiceEvent::Quiet { after: self.last });
    }

    fn send(&self, event: VoiceEvent) {
        // Nobody listens any more when the program ends.
        let _ = self.tell.send(event);
    }
}

/// Sound of a line.
struct Sound {
    rate: u32,
    samples: Vec<f32>,
}

impl Sound {
    /// At another rate: straight lines between the samples are good enough for a synthetic voice.
    fn at(&self, rate: u32) -> Vec<f32> {
        let step = f64::from(self.rate) / f64::from(rate.max(1));
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a count of samples")]
        let count = (self.samples.len() as f64 / step) as usize;
        (0..count)
            .map(|place| {
                let at = place as f64 * step;
                #[expect(
                    clippy::cast_possible_truncation,
                    clippy::cast_sign_loss,
                    reason = "within the samples"
                )]
                let before = at as usize;
                let after = self.samples.get(before + 1).copied().unwrap_or(0.0);
                #[expect(clippy::cast_possible_truncation, reason = "between 0 and 1")]
                let share = (at - before as f64) as f32;
                self.samples[before] * (1.0 - share) + after * share
            })
            .collect()
    }
}

/// Words a minute for a pace from -100 to 100: about what speech services take for it.
fn words_a_minute(pace: f32) -> u16 {
    let words = 175.0 + pace * if pace < 0.0 { 0.9 } else { 2.2 };
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "between 80 and 450")]
    let words = words.clamp(80.0, 450.0) as u16;
    words
}

fn synthesise(text: &str, scale: Scales) -> Result<Sound, String> {
    let told = |error: std::io::Error| format!("{PROGRAM}: {error}");
    // From 10 to 100: beyond 100 it is distorted.
    let amplitude = (scale.volume / 2.0 + 50.0).clamp(10.0, 100.0);
    let mut child = Command::new(PROGRAM)
        .args(["-v", "en-us", "--stdout", "--stdin", "-s"])
        .arg(words_a_minute(scale.pace).to_string())
        .args(["-a", &format!("{amplitude:.0}")])
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .stderr(Stdio::null())
        .spawn()
        .map_err(told)?;
    if let Some(mut pipe) = child.stdin.take() {
        pipe.write_all(text.as_bytes()).map_err(told)?;
    }
    let output = child.wait_with_output().map_err(told)?;
    if !output.status.success() {
        return Err(format!("{PROGRAM} ended with {}", output.status));
    }
    // A stream: its header promises more than there is.
    let bytes = &output.stdout;
    let (Some(rate), Some(sound)) = (bytes.get(24..28), bytes.get(44..)) else {
        return Ok(Sound { rate: 22_050, samples: Vec::new() });
    };
    let rate = rate.try_into().map_or(22_050, u32::from_le_bytes);
    let samples = sound.as_chunks::<2>().0.iter().map(|two| f32::from(i16::from_le_bytes(*two)) / 32_768.0);
    Ok(Sound { rate, samples: samples.collect() })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn pace_and_rate() {
        assert_eq!([-100.0, 0.0, 100.0].map(words_a_minute), [85, 175, 395]);
        let sound = Sound { rate: 2, samples: vec![0.0, 1.0, 0.0, -1.0] };
        assert_eq!(sound.at(4), [0.0, 0.5, 1.0, 0.5, 0.0, -0.5, -1.0, -0.5]);
        assert_eq!(sound.at(1), [0.0, 0.0]);
        assert!(Sound { rate: 2, samples: Vec::new() }.at(48_000).is_empty());
    }
}
