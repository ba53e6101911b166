//! Owns what may go wrong before or while hearing. Each message says what happened, where, and what to do.

use std::path::PathBuf;

/// Hearing cannot start or cannot go on.
#[derive(Debug, thiserror::Error, miette::Diagnostic)]
pub enum HearError {
    /// No speech model where one is looked for.
    #[error("no speech model found (looked in: {}); name its folder with --model DIR or BOTHHANDS_MODEL", list(.looked))]
    NoModel {
        /// The folders that were looked into.
        looked: Vec<PathBuf>,
    },
    /// A file of the speech model is missing, cut short or otherwise not what it should be.
    #[error("speech model: {}: {fault}", .file.display())]
    ModelFile {
        /// The file, or the folder itself.
        file: PathBuf,
        /// What is wrong with it, and what to do.
        fault: String,
    },
    /// The library refused a model whose files look right.
    #[error("speech model {}: the recogniser cannot load it, a file in it is damaged or of another kind; fetch the model again or name another with --model DIR", .0.display())]
    ModelRefused(PathBuf),
    /// Words of the grammar that the model cannot hear.
    #[error("the speech model does not know: {}; take them out of the grammar, or another model with --model DIR", .0.join(", "))]
    UnknownWords(Vec<String>),
    /// A phrase that cannot be given to the recogniser.
    #[error(
        "phrase \"{0}\" for the recogniser: only small letters a to z, apostrophe, hyphen, dot and single spaces are allowed"
    )]
    BadPhrase(String),
    /// A recogniser could not be made.
    #[error("the recogniser for the {0} could not be made")]
    NoRecogniser(&'static str),
    /// No microphone at all.
    #[error(
        "no microphone found: {0}. Plug one in (and look at the system's sound settings), or work by keys alone with --keys"
    )]
    NoMicrophone(String),
    /// No microphone of that name.
    #[error("no microphone is called \"{name}\"; there are: {}", .there.join(", "))]
    UnknownMicrophone {
        /// The name that was asked for.
        name: String,
        /// The names there are.
        there: Vec<String>,
    },
    /// The microphone is there but cannot be used.
    #[error("microphone \"{name}\" cannot be used: {fault}")]
    Microphone {
        /// Its name.
        name: String,
        /// What the system said.
        fault: String,
    },
    /// A sound file cannot be read.
    #[error("sound file {}: {fault}", .file.display())]
    SoundFile {
        /// The file.
        file: PathBuf,
        /// What is wrong with it.
        fault: String,
    },
    /// The folder for clips cannot be written.
    #[error("folder for sound clips {}: {fault}", .folder.display())]
    Clips {
        /// The folder.
        folder: PathBuf,
        /// What the system said.
        fault: String,
    },
    /// The source of a test ended by plan.
    #[error("{0}")]
    Scripted(String),
    /// A virtual sound device could not be set up.
    #[error("virtual sound: {0}")]
    Virtual(String),
    /// The listening thread could not be started or ended at once.
    #[error("the listening thread could not be started: {0}")]
    Thread(String),
}

fn list(paths: &[PathBuf]) -> String {
    paths.iter().map(|p| p.display().to_string()).collect::<Vec<_>>().join(", ")
}
