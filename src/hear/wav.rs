//! Owns a WAV file as a source of sound: any rate, one or more channels, 8 to 32 bits or floating point.

use super::{
    AudioSource, AudioStream, HearError, RATE,
    audio::{Got, Lost},
    files,
};
use std::{
    path::{Path, PathBuf},
    time::{Duration, Instant},
};

/// A WAV file that is heard once.
#[derive(Debug, Clone)]
pub struct WavSource {
    file: PathBuf,
    paced: bool,
    after_ms: u32,
}

impl WavSource {
    /// That file, as fast as it can be worked through, with a second of silence behind it.
    pub fn new(file: impl Into<PathBuf>) -> Self {
        Self { file: file.into(), paced: false, after_ms: 1000 }
    }

    /// As fast as time passes, like a microphone.
    #[must_use]
    pub fn paced(mut self) -> Self {
        self.paced = true;
        self
    }
}

/// Reads a whole WAV file as 16 kHz mono.
///
/// # Errors
/// [`HearError::SoundFile`] naming the file.
pub fn read(file: &Path) -> Result<Vec<f32>, HearError> {
    let fault = |fault: String| HearError::SoundFile { file: file.into(), fault };
    let mut reader = hound::WavReader::open(file).map_err(|e| fault(e.to_string()))?;
    let spec = reader.spec();
    let samples: Result<Vec<f32>, hound::Error> = match spec.sample_format {
        hound::SampleFormat::Float => reader.samples::<f32>().collect(),
        hound::SampleFormat::Int => {
            let full = 2_f32.powi(i32::from(spec.bits_per_sample) - 1);
            #[expect(clippy::cast_precision_loss, reason = "24 bits are more than enough for speech")]
            reader.samples::<i32>().map(|s| s.map(|s| s as f32 / full)).collect()
        }
    };
    let samples = samples.map_err(|e| fault(format!("{e} (cut short?)")))?;
    files::to_mono(&samples, usize::from(spec.channels), spec.sample_rate).map_err(fault)
}

impl AudioSource for WavSource {
    fn name(&self) -> String {
        self.file.display().to_string()
    }

    fn open(&mut self) -> Result<Box<dyn AudioStream>, HearError> {
        let mut samples = read(&self.file)?;
        samples.resize(samples.len() + self.after_ms as usize * RATE as usize / 1000, 0.0);
        Ok(Box::new(WavStream { samples, at: 0, start: self.paced.then(Instant::now) }))
    }

    fn reopens(&self) -> bool {
        false
    }
}

struct WavStream {
    samples: Vec<f32>,
    at: usize,
    start: Option<Instant>,
}

impl AudioStream for WavStream {
    fn read(&mut self, out: &mut Vec<f32>, _wait: Duration) -> Result<Got, Lost> {
        const PIECE: usize = RATE as usize / 50;
        if self.at >= self.samples.len() {
            return Ok(Got::End);
        }
        let end = (self.at + PIECE).min(self.samples.len());
        if let Some(start) = self.start {
            let due = start + Duration::from_micros(end as u64 * 1_000_000 / u64::from(RATE));
            std::thread::sleep(due.saturating_duration_since(Instant::now()));
        }
        out.extend_from_slice(&self.samples[self.at..end]);
        self.at = end;
        Ok(Got::Sound)
    }
}
