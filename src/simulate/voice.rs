//! Owns the voice of a simulated technician: clips that come along, and a synthesiser for words that no clip has.

use crate::hear::{self, audio::to_i16, files};
use std::{
    path::{Path, PathBuf},
    process::Command,
};

/// A voice.
#[derive(Debug, Clone)]
pub struct Voice {
    /// The synthesiser's name of the voice, for words without a clip.
    pub name: String,
    /// Its pace in words a minute.
    pub words_per_minute: u16,
    /// A folder of clips, each named by its words: `five-point-two.opus`.
    pub clips: Option<PathBuf>,
}

impl Voice {
    /// The words as 16 kHz mono sound; `scratch` is a folder for a file that is gone afterwards.
    ///
    /// # Errors
    /// A sentence: a clip that cannot be read, or a synthesiser that is missing or fails.
    pub fn say(&self, words: &str, scratch: &Path) -> Result<Vec<i16>, String> {
        let clip = self.clips.as_ref().map(|folder| folder.join(words.replace(' ', "-") + ".opus"));
        match clip.filter(|clip| clip.is_file()) {
            Some(clip) => files::read(&clip).map(|sound| to_i16(&sound)).map_err(|error| error.to_string()),
            None => self.synthesise(words, scratch),
        }
    }

    fn synthesise(&self, words: &str, scratch: &Path) -> Result<Vec<i16>, String> {
        let file = scratch.join(format!("bothhands-voice-{}.wav", std::process::id()));
        let made = Command::new("espeak-ng")
            .args(["-v", &self.name, "-s", &self.words_per_minute.to_string(), "-w"])
            .arg(&file)
            .arg(words)
            .status()
            .map_err(|error| format!("espeak-ng: {error}; install the package espeak-ng"))?;
        if !made.success() {
            return Err(format!("espeak-ng ended with {made}"));
        }
        let samples = hear::wav::read(&file).map_err(|error| error.to_string());
        // A file in the scratch folder that stays harms nothing.
        let _ = std::fs::remove_file(&file);
        samples.map(|samples| to_i16(&samples))
    }
}
