//! A session driven by keys, line by line, as a person would: type, wait for the answer, type again.
#![allow(dead_code, reason = "not every test file uses all of it")]

use assert_cmd::{Command, cargo::cargo_bin};
use std::{
    io::{BufRead, BufReader, Write},
    path::{Path, PathBuf},
    process::{Child, ChildStdin, Stdio},
    sync::mpsc::{self, Receiver},
    thread,
    time::Duration,
};

/// The gates by their codes, then the temperature and the leads.
pub const PREPARATION: &[&str] = &["11", "22", "33", "44", "55", "66", "77", "88", "99", "20", "0.200"];
/// What a sound part reads at the good meter, leads included.
pub const SOUND: &[&str] =
    &["5.401", "5.398", "5.420", "5.385", "5.411", "5.390", "5.405", "5.414", "24.301", "331.20", "599.57"];
/// The first pins in words.
pub const WORDS: &[&str] = &["one", "two", "three", "four", "five", "six", "seven", "eight"];
/// How long an answer may take before the test gives up. Far beyond what it ever takes.
const PATIENCE: Duration = Duration::from_secs(60);

/// The program, with its data in a folder of the test's.
pub fn bothhands(data: &Path) -> Command {
    let mut command = Command::new(cargo_bin("bothhands"));
    command
        .env("BOTHHANDS_DATA", data)
        .env_remove("BOTHHANDS_MODEL")
        .env("NO_COLOR", "1")
        .env("LC_ALL", "C.UTF-8");
    command
}

/// The program to be led line by line, with its data in a folder of the test's.
pub fn led(data: &Path) -> std::process::Command {
    let mut command = std::process::Command::new(cargo_bin("bothhands"));
    command.env("BOTHHANDS_DATA", data).env("LC_ALL", "C.UTF-8").stdin(Stdio::piped()).stdout(Stdio::piped());
    command
}

/// A running session.
pub struct Keyed {
    child: Child,
    input: ChildStdin,
    lines: Receiver<String>,
    /// Everything up to the first prompt.
    pub opening: String,
    /// The journal, as named at the start.
    pub journal: PathBuf,
}

impl Keyed {
    /// A new session at the reference profile.
    pub fn start(data: &Path, more: &[&str]) -> Self {
        let args = ["--profile", "sweeper-valve-block", "--meter", "handheld-60000", "--keys", "--plain"];
        Self::run(data, args.iter().chain(more).copied())
    }

    /// The last session, gone on with.
    pub fn resume(data: &Path) -> Self {
        Self::run(data, ["resume", "--keys", "--plain"].into_iter())
    }

    /// A session with these arguments.
    pub fn run<'a>(data: &Path, args: impl Iterator<Item = &'a str>) -> Self {
        let mut child = led(data).args(args).spawn().unwrap();
        let input = child.stdin.take().unwrap();
        let output = BufReader::new(child.stdout.take().unwrap());
        let (send, lines) = mpsc::channel();
        thread::spawn(move || {
            for line in output.lines().map_while(Result::ok) {
                if send.send(line).is_err() {
                    return;
                }
            }
        });
        let mut session = Self { child, input, lines, opening: String::new(), journal: PathBuf::new() };
        loop {
            let line = session.line();
            session.opening.push_str(&line);
            session.opening.push('\n');
            if let Some((_, path)) = line.split_once("Journal: ") {
                session.journal = path.into();
            }
            if line.starts_with("says") || line.starts_with("sagt") {
                return session;
            }
        }
    }

    fn line(&self) -> String {
        self.lines.recv_timeout(PATIENCE).expect("the program answers")
    }

    /// Types a line and waits for what is said to it.
    pub fn answer_to(&mut self, line: &str) -> String {
        writeln!(self.input, "{line}").unwrap();
        loop {
            let said = self.line();
            let who = said.split_whitespace().next().unwrap_or_default();
            if ["says", "asks", "careful", "sagt", "fragt", "achtung"].contains(&who) {
                return said;
            }
        }
    }

    /// Types a line and waits for what is told of a device.
    pub fn notice_to(&mut self, line: &str) -> String {
        writeln!(self.input, "{line}").unwrap();
        loop {
            let told = self.line();
            if told.starts_with("notice") {
                return told;
            }
        }
    }

    /// Types a line and waits for nothing.
    pub fn send(&mut self, line: &str) {
        writeln!(self.input, "{line}").unwrap();
    }

    /// Ends with the conclusion and returns all that was still shown.
    pub fn finish(mut self) -> String {
        writeln!(self.input, "f").unwrap();
        let mut all = String::new();
        while let Ok(line) = self.lines.recv_timeout(PATIENCE) {
            all.push_str(&line);
            all.push('\n');
        }
        assert!(self.child.wait().unwrap().success(), "{all}");
        all
    }

    /// Ends it as a power cut would.
    pub fn kill(self) {
        drop(self);
    }
}

impl Drop for Keyed {
    fn drop(&mut self) {
        // It may have ended by itself.
        let _ = self.child.kill();
        let _ = self.child.wait();
    }
}
