//! Owns reading a whole sound file as 16 kHz mono: WAV, FLAC or Ogg Opus, told by what is in it, never by its name.
//!
//! A file that is damaged, cut short or of another kind is refused with a sentence: what is measured or heard from files must
//! not silently be another sound than the one that was recorded.

mod flac;
mod opus;

use super::{HearError, RATE, audio::tame, resample::ToRate, wav};
use std::{fs::File, io::Read, path::Path};

/// The longest sound that a compressed file may turn into, in seconds: a small hostile file could fill the memory else.
const LONGEST_S: usize = 4 * 3600;

/// Reads a whole sound file as 16 kHz mono, within −1 to 1. Several channels are averaged.
///
/// # Errors
/// [`HearError::SoundFile`] with the file and what is wrong with it: it cannot be opened, is of no known kind, is damaged
/// (checksums of the format are checked) or ends before its sound does.
pub fn read(file: &Path) -> Result<Vec<f32>, HearError> {
    let fault = |fault: String| HearError::SoundFile { file: file.into(), fault };
    let mut start = Vec::new();
    let opened = File::open(file).and_then(|f| f.take(12).read_to_end(&mut start));
    opened.map_err(|e| fault(e.to_string()))?;
    match start.as_slice() {
        [] => Err(fault("the file is empty".into())),
        [b'R', b'I', b'F', b'F', _, _, _, _, b'W', b'A', b'V', b'E'] => wav::read(file),
        [b'f', b'L', b'a', b'C', ..] => flac::read(file).map_err(fault),
        [b'O', b'g', b'g', b'S', ..] => opus::read(file).map_err(fault),
        _ => Err(fault("is no WAV, FLAC or Ogg Opus file; convert it to one of these".into())),
    }
}

/// Averages interleaved channels and brings the sound to [`RATE`], at its length to the sample.
pub(super) fn to_mono(interleaved: &[f32], channels: usize, rate: u32) -> Result<Vec<f32>, String> {
    if channels == 0 {
        return Err("no channel of sound in it".into());
    }
    #[expect(clippy::cast_precision_loss, reason = "a count of channels")]
    let mono: Vec<f32> =
        interleaved.chunks_exact(channels).map(|c| tame(c.iter().sum::<f32>() / channels as f32)).collect();
    let mut to = ToRate::new(rate)?;
    let mut out = Vec::new();
    to.push(&mono, &mut out);
    to.finish(&mut out);
    // What the filter adds behind the end is no part of the sound.
    let length = (mono.len() as u64 * u64::from(RATE)).div_ceil(u64::from(rate));
    out.truncate(usize::try_from(length).unwrap_or(usize::MAX));
    out.iter_mut().for_each(|s| *s = tame(*s));
    Ok(out)
}

/// The sentence for sound that is longer than anything here is made for.
fn too_long() -> String {
    format!("more than {} hours of sound; cut it into pieces", LONGEST_S / 3600)
}

#[cfg(test)]
mod tests;
