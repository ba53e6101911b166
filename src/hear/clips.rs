//! Owns the sound clips beside the journal: one 16 kHz, 16-bit mono WAV file for each stretch of sound.

use super::{HearError, RATE};
use std::path::{Path, PathBuf};

/// Writes clips into one folder, under names that never repeat.
#[derive(Debug)]
pub struct Clips {
    folder: PathBuf,
    count: u32,
}

impl Clips {
    /// Takes a folder and makes it where it is missing.
    ///
    /// # Errors
    /// [`HearError::Clips`] where it cannot be made or written to.
    pub fn new(folder: &Path) -> Result<Self, HearError> {
        let fault = |e: std::io::Error| HearError::Clips { folder: folder.into(), fault: e.to_string() };
        std::fs::create_dir_all(folder).map_err(fault)?;
        let probe = folder.join(format!(".probe-{}", std::process::id()));
        std::fs::write(&probe, b"").map_err(fault)?;
        std::fs::remove_file(&probe).map_err(fault)?;
        Ok(Self { folder: folder.into(), count: 0 })
    }

    /// Writes one clip and returns its file name.
    ///
    /// # Errors
    /// [`HearError::Clips`] with what the system said (disk full, folder gone).
    pub fn write(&mut self, samples: &[i16]) -> Result<String, HearError> {
        let now = jiff::Timestamp::now().strftime("%Y%m%d-%H%M%S").to_string();
        loop {
            self.count += 1;
            let name = format!("{now}-{:04}.wav", self.count);
            let path = self.folder.join(&name);
            if path.exists() {
                continue;
            }
            write_wav(&path, samples)
                .map_err(|e| HearError::Clips { folder: self.folder.clone(), fault: e.to_string() })?;
            return Ok(name);
        }
    }
}

/// Writes a 16 kHz mono WAV file.
///
/// # Errors
/// What the system or the format said.
pub fn write_wav(path: &Path, samples: &[i16]) -> Result<(), hound::Error> {
    let spec = hound::WavSpec {
        channels: 1,
        sample_rate: RATE,
        bits_per_sample: 16,
        sample_format: hound::SampleFormat::Int,
    };
    let mut writer = hound::WavWriter::create(path, spec)?;
    for sample in samples {
        writer.write_sample(*sample)?;
    }
    writer.finalize()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn clips_are_written_once_each_and_read_back_alike() {
        let folder = tempfile::tempdir().unwrap();
        let inside = folder.path().join("clips");
        let (mut a, mut b) = (Clips::new(&inside).unwrap(), Clips::new(&inside).unwrap());
        let sound: Vec<i16> = (0..100).map(|i| i * 3).collect();
        let names = [a.write(&sound).unwrap(), a.write(&[]).unwrap(), b.write(&sound).unwrap()];
        assert_eq!(names.iter().collect::<std::collections::HashSet<_>>().len(), 3);
        let mut read = hound::WavReader::open(inside.join(&names[2])).unwrap();
        assert_eq!(read.spec().sample_rate, 16_000);
        assert_eq!(read.samples::<i16>().map(Result::unwrap).collect::<Vec<_>>(), sound);
    }

    #[test]
    fn a_folder_that_cannot_be_is_refused_by_name() {
        let folder = tempfile::tempdir().unwrap();
        let file = folder.path().join("file");
        std::fs::write(&file, "x").unwrap();
        let error = Clips::new(&file.join("clips")).unwrap_err().to_string();
        assert!(error.contains("file/clips"), "{error}");
    }
}
