//! Owns a recording of a device that goes on in the background, with what is known of it while it does.

use super::{UP, fault, not_there};
use crate::hear::{HearError, RATE, clips};
use std::{
    io::Read,
    path::Path,
    process::{Child, Command, Stdio},
    sync::{Arc, Mutex, PoisonError},
    thread::JoinHandle,
    time::{Duration, Instant},
};

#[derive(Debug, Default)]
struct Kept {
    samples: Vec<i16>,
    loud: Option<usize>,
}

impl Kept {
    /// About −50 dB against full scale: virtual devices have no noise of their own.
    const LOUD: u16 = 100;

    fn push(&mut self, sample: i16) {
        if sample.unsigned_abs() >= Self::LOUD {
            self.loud = Some(self.samples.len());
        }
        self.samples.push(sample);
    }
}

/// A recording going on. Dropping it ends it.
#[derive(Debug)]
pub struct Recording {
    child: Child,
    kept: Arc<Mutex<Kept>>,
    thread: Option<JoinHandle<()>>,
}

impl Recording {
    /// Starts the program that records; returns when sound comes.
    pub(super) fn start(mut parec: Command, device: &str) -> Result<Self, HearError> {
        let mut child = parec.stdout(Stdio::piped()).spawn().map_err(|e| not_there("parec", &e))?;
        let Some(mut pipe) = child.stdout.take() else { return Err(fault("parec has no output")) };
        let kept = Arc::new(Mutex::new(Kept::default()));
        let sink = kept.clone();
        let thread = std::thread::Builder::new().name("record".into()).spawn(move || {
            let mut bytes = [0_u8; 4096];
            let mut rest: Option<u8> = None;
            while let Ok(n) = pipe.read(&mut bytes)
                && n > 0
            {
                let mut kept = sink.lock().unwrap_or_else(PoisonError::into_inner);
                for byte in &bytes[..n] {
                    match rest.take() {
                        None => rest = Some(*byte),
                        Some(low) => kept.push(i16::from_le_bytes([low, *byte])),
                    }
                }
            }
        });
        let thread = thread.map_err(|e| fault(format!("recording thread: {e}")))?;
        let recording = Self { child, kept, thread: Some(thread) };
        let until = Instant::now() + UP;
        while recording.length_ms() == 0 {
            if Instant::now() > until {
                return Err(fault(format!("nothing came from {device} within {} s", UP.as_secs())));
            }
            std::thread::sleep(Duration::from_millis(5));
        }
        Ok(recording)
    }

    fn kept(&self) -> std::sync::MutexGuard<'_, Kept> {
        self.kept.lock().unwrap_or_else(PoisonError::into_inner)
    }

    /// Milliseconds recorded so far.
    #[must_use]
    pub fn length_ms(&self) -> u64 {
        self.kept().samples.len() as u64 * 1000 / u64::from(RATE)
    }

    /// Milliseconds since the last sound; none where nothing was heard yet. Zero while something sounds.
    #[must_use]
    pub fn quiet_ms(&self) -> Option<u64> {
        let kept = self.kept();
        kept.loud.map(|at| (kept.samples.len() - 1 - at) as u64 * 1000 / u64::from(RATE))
    }

    /// Waits until something has sounded after `from_ms` of the recording and has then been quiet for `quiet_ms`; false
    /// when `limit` passes first.
    #[must_use]
    pub fn wait_for_quiet(&self, from_ms: u64, quiet_ms: u64, limit: Duration) -> bool {
        let until = Instant::now() + limit;
        while Instant::now() < until {
            let (length, quiet) = (self.length_ms(), self.quiet_ms());
            if quiet.is_some_and(|q| q >= quiet_ms && length.saturating_sub(q) > from_ms) {
                return true;
            }
            std::thread::sleep(Duration::from_millis(10));
        }
        false
    }

    /// What was recorded so far, 16 kHz mono.
    #[must_use]
    pub fn samples(&self) -> Vec<i16> {
        self.kept().samples.clone()
    }

    /// Ends the recording and gives all of it, 16 kHz mono.
    #[must_use]
    pub fn stop(mut self) -> Vec<i16> {
        self.end();
        std::mem::take(&mut self.kept().samples)
    }

    /// Ends the recording and writes it as a WAV file.
    ///
    /// # Errors
    /// [`HearError::SoundFile`] where it cannot be written.
    pub fn save(self, to: &Path) -> Result<(), HearError> {
        clips::write_wav(to, &self.stop())
            .map_err(|e| HearError::SoundFile { file: to.into(), fault: e.to_string() })
    }

    fn end(&mut self) {
        let _ = self.child.kill();
        let _ = self.child.wait();
        if let Some(thread) = self.thread.take() {
            let _ = thread.join();
        }
    }
}

impl Drop for Recording {
    fn drop(&mut self) {
        self.end();
    }
}
