//! Owns switches that are no input devices: a named pipe into which some program writes a line for every change.

use super::{
    follow::{KeySource, KeyStream},
    pedal::KeyEvent,
};
use std::{
    fs::File,
    io::{BufRead, BufReader},
    os::unix::fs::FileTypeExt,
    path::PathBuf,
};

/// What stands before the path of a pipe in the place of a device's name.
pub const PIPE: &str = "pipe:";
/// A longer line is no line of a switch.
const LONGEST: usize = 200;

/// A named pipe. `code` knows the number of a key by its name.
#[derive(Debug)]
pub struct Pipe {
    path: PathBuf,
    code: fn(&str) -> Option<u16>,
}

impl Pipe {
    /// The pipe at that path.
    #[must_use]
    pub fn new(path: &str, code: fn(&str) -> Option<u16>) -> Self {
        Self { path: path.into(), code }
    }
}

impl KeySource for Pipe {
    fn open(&mut self) -> Result<Box<dyn KeyStream>, String> {
        let told = |error: std::io::Error| format!("{}: {error}", self.path.display());
        if !std::fs::metadata(&self.path).map_err(told)?.file_type().is_fifo() {
            return Err(format!("{} is no named pipe", self.path.display()));
        }
        // Waits until a program opens the other end.
        let file = File::open(&self.path).map_err(told)?;
        Ok(Box::new(Lines { from: BufReader::new(file), code: self.code }))
    }
}

struct Lines {
    from: BufReader<File>,
    code: fn(&str) -> Option<u16>,
}

impl KeyStream for Lines {
    fn read(&mut self) -> Result<Vec<KeyEvent>, String> {
        let mut line = String::new();
        match self.from.read_line(&mut line) {
            Err(error) => Err(error.to_string()),
            Ok(0) => Err("the program that writes into its pipe has ended".into()),
            Ok(_) if line.len() > LONGEST => {
                Err("what is written into its pipe is no line of a switch".into())
            }
            Ok(_) => Ok(event(&line, self.code).into_iter().collect()),
        }
    }
}

/// `KEY_A down`, `KEY_A up`. Other lines are passed over.
fn event(line: &str, code: fn(&str) -> Option<u16>) -> Option<KeyEvent> {
    let (key, change) = line.trim().split_once(' ')?;
    let value = match change.trim() {
        "down" => 1,
        "up" => 0,
        _ => return None,
    };
    Some(KeyEvent { code: code(key)?, value })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lines_of_switches() {
        let code = |name: &str| (name == "KEY_A").then_some(30);
        assert_eq!(event("KEY_A down\n", code), Some(KeyEvent { code: 30, value: 1 }));
        assert_eq!(event("KEY_A up\n", code), Some(KeyEvent { code: 30, value: 0 }));
        for other in ["", "KEY_A", "KEY_B down", "KEY_A pressed", "down KEY_A", "KEY_A down twice"] {
            assert_eq!(event(other, code), None, "{other}");
        }
    }

    #[test]
    fn what_is_no_pipe_is_refused() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("file");
        std::fs::write(&path, "KEY_A down\n").unwrap();
        let open = |path: &std::path::Path| Pipe::new(&path.display().to_string(), |_| None).open().err();
        assert!(open(&path).unwrap().ends_with("is no named pipe"));
        assert!(open(&folder.path().join("nothing")).unwrap().contains("No such file"));
    }
}
