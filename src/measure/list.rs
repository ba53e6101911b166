//! Owns the list of clips: `transcripts.tsv` in the folder, one clip a line.

use std::path::{Path, PathBuf};

/// The list's file name.
pub const LIST: &str = "transcripts.tsv";

/// A clip whose words are known.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Listed {
    /// The file, as the list names it.
    pub name: String,
    /// Where it is.
    pub file: PathBuf,
    /// What was said, in lower case; empty where nothing was.
    pub words: String,
    /// Who said it, where the list tells.
    pub speaker: Option<String>,
}

/// A list that cannot be used.
#[derive(Debug, thiserror::Error, miette::Diagnostic)]
pub enum ListError {
    /// The list cannot be read.
    #[error("{}: {fault}; a folder of clips has a {LIST} with a line for each: file, tab, words", .file.display())]
    Unreadable {
        /// The list.
        file: PathBuf,
        /// What the system said.
        fault: String,
    },
    /// A line of it is wrong.
    #[error("{}, line {line}: {fault}", .file.display())]
    Line {
        /// The list.
        file: PathBuf,
        /// The line, from 1.
        line: usize,
        /// What is wrong with it.
        fault: String,
    },
}

/// Reads the list of a folder: file, tab, words (empty: nothing was said), and perhaps tab, speaker. Lines that begin with
/// `#` and a first line `file`, tab, `words` are passed over.
///
/// # Errors
/// [`ListError`] naming the line.
pub fn read(folder: &Path) -> Result<Vec<Listed>, ListError> {
    let file = folder.join(LIST);
    let text = std::fs::read_to_string(&file)
        .map_err(|e| ListError::Unreadable { file: file.clone(), fault: e.to_string() })?;
    parse(folder, &text).map_err(|(line, fault)| ListError::Line { file, line, fault })
}

fn parse(folder: &Path, text: &str) -> Result<Vec<Listed>, (usize, String)> {
    let mut list = Vec::new();
    for (i, line) in text.lines().enumerate() {
        let line = line.trim_end_matches('\r');
        if line.trim().is_empty() || line.starts_with('#') || i == 0 && line.starts_with("file\twords") {
            continue;
        }
        let fields: Vec<&str> = line.split('\t').collect();
        let (name, words, speaker) = match fields[..] {
            [name] => (name, "", None),
            [name, words] => (name, words, None),
            [name, words, speaker] => (name, words, Some(speaker)),
            _ => return Err((i + 1, format!("{} fields; file, words and speaker at most", fields.len()))),
        };
        let file = folder.join(name);
        if !file.is_file() {
            return Err((i + 1, format!("there is no file {}", file.display())));
        }
        list.push(Listed {
            name: name.to_owned(),
            file,
            words: words.trim().to_lowercase(),
            speaker: speaker.map(str::trim).filter(|s| !s.is_empty()).map(str::to_owned),
        });
    }
    if list.is_empty() {
        return Err((1, "no clip is listed".to_owned()));
    }
    Ok(list)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lines_become_clips_and_faults_are_named() {
        let folder = tempfile::tempdir().unwrap();
        std::fs::write(folder.path().join("a.wav"), "").unwrap();
        let parse = |text: &str| parse(folder.path(), text);
        let list = parse("file\twords\na.wav\tOne Point Five\r\n\n# note\na.wav\na.wav\t\tann\n").unwrap();
        assert_eq!(
            list.iter().map(|c| (c.words.as_str(), c.speaker.as_deref())).collect::<Vec<_>>(),
            [("one point five", None), ("", None), ("", Some("ann"))]
        );
        for (text, line, has) in [
            ("a.wav\tone\nb.wav\ttwo\n", 2, "b.wav"),
            ("a.wav\tone\tann\tmore\n", 1, "4 fields"),
            ("# nothing\n", 1, "no clip"),
        ] {
            let (at, fault) = parse(text).unwrap_err();
            assert!(at == line && fault.contains(has), "{at}: {fault}");
        }
        assert!(read(folder.path()).unwrap_err().to_string().contains(LIST));
    }
}
