//! Owns the ears of the demo's room: both sides of the conversation recorded on one clock, as a bystander would.
//!
//! From these recordings come the technician's sense of when the voice has finished, the figures for how fast answers
//! come, and the proof of what was said aloud.

use std::{
    io::{self, Read},
    path::Path,
    process::{Child, Command, Stdio},
    sync::{Arc, Mutex, PoisonError},
    thread,
    time::{Duration, Instant},
};

/// Samples a second of the recordings.
const RATE: u32 = 16_000;
/// Length of a frame whose loudness is looked at: 10 ms.
const FRAME: usize = 160;
/// Mean square above which a frame is sound: about -54 dB against full scale.
const SOUND: f32 = 4_000.0;

/// One recorded side: the loudspeaker or the microphone.
#[derive(Debug)]
pub struct Track {
    child: Child,
    taken: Arc<Mutex<Taken>>,
}

#[derive(Debug, Default)]
struct Taken {
    /// When the first sample came in.
    start: Option<Instant>,
    samples: Vec<i16>,
}

impl Track {
    /// Records from what `recorder` prints: 16-bit samples at 16 kHz, one channel.
    ///
    /// # Errors
    /// When the recorder does not start.
    pub fn record(mut recorder: Command) -> io::Result<Self> {
        let mut child = recorder.stdout(Stdio::piped()).stderr(Stdio::null()).spawn()?;
        let mut from = child.stdout.take().ok_or_else(|| io::Error::other("the recorder has no output"))?;
        let taken = Arc::new(Mutex::new(Taken::default()));
        let shared = Arc::clone(&taken);
        thread::spawn(move || {
            let mut bytes = [0u8; 2 * FRAME];
            while from.read_exact(&mut bytes).is_ok() {
                let mut taken = shared.lock().unwrap_or_else(PoisonError::into_inner);
                taken.start.get_or_insert_with(Instant::now);
                taken
                    .samples
                    .extend(bytes.chunks_exact(2).map(|pair| i16::from_le_bytes([pair[0], pair[1]])));
            }
        });
        Ok(Self { child, taken })
    }

    /// Whether samples come in.
    #[must_use]
    pub fn runs(&self) -> bool {
        self.lock().start.is_some()
    }

    /// When the last sound within `from` and now ended; none where all was quiet.
    #[must_use]
    pub fn last_sound_since(&self, from: Instant) -> Option<Instant> {
        let taken = self.lock();
        let frames = taken.samples.len() / FRAME;
        (taken.frame_at(from)..frames)
            .rev()
            .find(|frame| taken.is_sound(*frame))
            .map(|frame| taken.time_of(frame + 1))
    }

    /// When the first sound after `from` began.
    #[must_use]
    pub fn first_sound_since(&self, from: Instant) -> Option<Instant> {
        let taken = self.lock();
        let frames = taken.samples.len() / FRAME;
        (taken.frame_at(from)..frames).find(|frame| taken.is_sound(*frame)).map(|frame| taken.time_of(frame))
    }

    /// When the last sound between two times ended.
    #[must_use]
    pub fn last_sound_between(&self, from: Instant, to: Instant) -> Option<Instant> {
        let taken = self.lock();
        let frames = taken.frame_at(to).min(taken.samples.len() / FRAME);
        (taken.frame_at(from)..frames)
            .rev()
            .find(|frame| taken.is_sound(*frame))
            .map(|frame| taken.time_of(frame + 1))
    }

    /// Writes what was recorded as WAV.
    ///
    /// # Errors
    /// When the file cannot be written.
    pub fn save(&self, path: &Path) -> Result<(), hound::Error> {
        let spec = hound::WavSpec {
            channels: 1,
            sample_rate: RATE,
            bits_per_sample: 16,
            sample_format: hound::SampleFormat::Int,
        };
        let mut writer = hound::WavWriter::create(path, spec)?;
        for sample in &self.lock().samples {
            writer.write_sample(*sample)?;
        }
        writer.finalize()
    }

    fn lock(&self) -> std::sync::MutexGuard<'_, Taken> {
        self.taken.lock().unwrap_or_else(PoisonError::into_inner)
    }
}

impl Drop for Track {
    fn drop(&mut self) {
        // It may have ended by itself already.
        let _ = self.child.kill();
        let _ = self.child.wait();
    }
}

impl Taken {
    fn is_sound(&self, frame: usize) -> bool {
        let samples = &self.samples[frame * FRAME..(frame + 1) * FRAME];
        let sum: f32 = samples.iter().map(|sample| f32::from(*sample).powi(2)).sum();
        sum / FRAME as f32 > SOUND
    }

    fn frame_at(&self, time: Instant) -> usize {
        let since = self.start.map_or(Duration::ZERO, |start| time.saturating_duration_since(start));
        (since.as_secs_f64() * f64::from(RATE)) as usize / FRAME
    }

    fn time_of(&self, frame: usize) -> Instant {
        let after = Duration::from_secs_f64((frame * FRAME) as f64 / f64::from(RATE));
        self.start.unwrap_or_else(Instant::now) + after
    }
}
