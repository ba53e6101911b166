//! Plays one dialogue: the program, a technician and a room, with a private sound server between them.

mod check;
mod talk;
mod voice;

use super::{
    listen::{self, Ears},
    room,
    script::{Begin, Script, Step},
};
use bothhands::{
    grammar::{Context, Grammar},
    hear::clips,
    hear::virtual_sound::{LOUDSPEAKER, Noise, Plug, Recording, VirtualSound},
    journal::{self, Entry},
    keys, live,
    screen::{VALUE, VALUES_VARIABLE},
    session::{
        Event, Message, Outcome,
        message::{Info, Question},
    },
};
use std::{
    collections::VecDeque,
    fs::File,
    io::{BufRead, BufReader, Write},
    path::{Path, PathBuf},
    process::{Child, ChildStdin, Command, Stdio},
    sync::mpsc::{Receiver, RecvTimeoutError, channel},
    thread,
    time::{Duration, Instant},
};

/// What is typed to come to the first circuit: the codes of the gates, the temperature, the leads.
const GATES: [&str; 9] = ["11", "22", "33", "44", "55", "66", "77", "88", "99"];
const REST: [&str; 2] = ["20", "0.200"];
/// Longest wait for anything: generous, since machines that test are busy.
const LIMIT: Duration = Duration::from_secs(60);
/// The voice has finished when it was quiet for this long. Its end is told about 0.3 s late.
const QUIET_MS: u64 = 800;
/// Shorter than this a letter no line can be.
const LEAST_MS: u64 = 20;
/// A line that is not heard by then was cut off or could not be spoken.
const UNHEARD: Duration = Duration::from_secs(5);
/// After so long without any reaction the technician says it again.
const NO_REACTION: Duration = Duration::from_secs(8);
/// How often the technician says a thing again before giving up.
const MOST_REPEATS: u32 = 3;
/// Pace of the program's voice: brisk, so that the dialogues do not take for ever.
const PACE: &str = "50";

/// How a dialogue went.
pub struct Played {
    pub result: Result<(), String>,
    /// How often something had to be said again.
    pub repeats: u32,
    /// From a key to silence, in milliseconds.
    pub hushes: Vec<u64>,
    /// All lines of the program and of the technician.
    pub transcript: Vec<String>,
}

/// Plays a dialogue from its start to its end.
pub fn play(script: &Script, ears: &Ears) -> Played {
    match Stage::set(script, ears) {
        Err(error) => Played { result: Err(error), repeats: 0, hushes: Vec::new(), transcript: Vec::new() },
        Ok(mut stage) => {
            let result = stage.act().and_then(|()| stage.check());
            Played {
                result,
                repeats: stage.repeats,
                hushes: std::mem::take(&mut stage.hushes),
                transcript: std::mem::take(&mut stage.transcript),
            }
        }
    }
}

/// A line that the program said, with the time in the loudspeaker's recording.
#[derive(Debug, Clone)]
struct Line {
    who: String,
    text: String,
    /// The same as a value, where it was said.
    message: Option<Message>,
    at: Instant,
}

/// A stretch of the loudspeaker's recording, in milliseconds: one line that was spoken to its end.
#[derive(Debug, Clone)]
struct Segment {
    text: String,
    from: u64,
    to: u64,
}

struct Stage<'a> {
    script: &'a Script,
    ears: &'a Ears,
    folder: tempfile::TempDir,
    sound: VirtualSound,
    loudspeaker: Option<Recording>,
    _noise: Option<Noise>,
    child: Child,
    stdin: ChildStdin,
    lines: Receiver<Line>,
    /// Lines that were read and not yet looked at.
    waiting: VecDeque<Line>,
    pedal: Option<File>,
    journal: PathBuf,
    /// What the technician said and typed, in order.
    inputs: Vec<String>,
    /// What the technician said last, to be said again when it was not understood.
    last_said: Option<String>,
    /// The last line that was said: where it began in the recording, and when.
    shown: Option<(String, u64, Instant)>,
    segments: Vec<Segment>,
    repeats: u32,
    kills: usize,
    hushes: Vec<u64>,
    transcript: Vec<String>,
    spoken: Vec<String>,
    stands: Vec<String>,
}

impl<'a> Stage<'a> {
    fn set(script: &'a Script, ears: &'a Ears) -> Result<Self, String> {
        let folder = tempfile::tempdir().map_err(text)?;
        let sound = VirtualSound::start().map_err(text)?;
        let loudspeaker = sound.record(LOUDSPEAKER).map_err(text)?;
        if let Some((late_ms, db)) = script.echo {
            sound.echo(late_ms, db).map_err(text)?;
        }
        let noise = match script.noise {
            Some((kind, snr_db)) => {
                let samples = room::noise(kind, snr_db, folder.path())?;
                Some(sound.noise(&samples).map_err(text)?)
            }
            None => None,
        };
        let settings = folder.path().join("settings.toml");
        let pipe = folder.path().join("pedal");
        let written = script.settings.replace("PEDAL", &pipe.display().to_string());
        std::fs::write(&settings, &written).map_err(text)?;
        let has_pedal = written != script.settings;
        if has_pedal && !Command::new("mkfifo").arg(&pipe).status().map_err(text)?.success() {
            return Err("mkfifo failed".into());
        }
        let (mut child, lines) = start(script, &sound, &folder, false)?;
        let stdin = child.stdin.take().ok_or("no standard input")?;
        // Waits until the program has opened its end.
        let pedal = has_pedal.then(|| File::options().write(true).open(&pipe)).transpose().map_err(text)?;
        let mut stage = Self {
            script,
            ears,
            folder,
            sound,
            loudspeaker: Some(loudspeaker),
            _noise: noise,
            child,
            stdin,
            lines,
            waiting: VecDeque::new(),
            pedal,
            journal: PathBuf::new(),
            inputs: Vec::new(),
            last_said: None,
            shown: None,
            segments: Vec::new(),
            repeats: 0,
            kills: 0,
            hushes: Vec::new(),
            transcript: Vec::new(),
            spoken: Vec::new(),
            stands: Vec::new(),
        };
        stage.opening()?;
        match script.begin {
            Begin::Gates => {}
            Begin::Temperature => stage.prepare(&GATES)?,
            Begin::Reading => {
                stage.prepare(&GATES)?;
                stage.prepare(&REST)?;
            }
        }
        Ok(stage)
    }

    /// Everything up to the first prompt.
    fn opening(&mut self) -> Result<(), String> {
        let until = Instant::now() + LIMIT;
        loop {
            let line = self.line(until)?.ok_or("the program says nothing")?;
            if let Some(path) = line.text.strip_prefix("Journal: ") {
                self.journal = path.into();
            }
            if line.who == "says" {
                self.said_line(&line);
                return Ok(());
            }
            if line.who == "careful" {
                self.said_line(&line);
            }
        }
    }

    fn prepare(&mut self, codes: &[&str]) -> Result<(), String> {
        for code in codes {
            self.type_line(code)?;
            self.answered(&["..."])?;
        }
        Ok(())
    }

    fn act(&mut self) -> Result<(), String> {
        for (number, step) in &self.script.steps {
            self.step(step).map_err(|what| format!("line {number}: {what}"))?;
        }
        Ok(())
    }

    fn step(&mut self, step: &Step) -> Result<(), String> {
        match step {
            Step::Says(words) => {
                self.quiet()?;
                self.say(words)?;
                self.last_said = Some(words.clone());
                Ok(())
            }
            Step::Interrupts(words) => {
                self.sounding()?;
                self.say(words)?;
                self.last_said = Some(words.clone());
                Ok(())
            }
            Step::Types(line) => self.type_line(line),
            Step::Hushes(line) => self.hush(line),
            Step::Pedal(key, down) => {
                let pedal = self.pedal.as_mut().ok_or("there is no pedal in the settings")?;
                writeln!(pedal, "{key} {}", if *down { "down" } else { "up" }).map_err(text)?;
                self.transcript.push(format!("(pedal)  {key} {}", if *down { "down" } else { "up" }));
                Ok(())
            }
            Step::Waits(time) => {
                thread::sleep(*time);
                Ok(())
            }
            Step::Quiet => self.quiet(),
            Step::Answer(pattern) => self.answered(&pattern.split(" | ").collect::<Vec<_>>()),
            Step::Notice(words) => self.noticed(words),
            Step::Nothing(time) => self.nothing(*time),
            Step::Plug(what, inside) => self.plug(what, *inside),
            Step::KilledAndResumed => self.kill_and_resume(),
            Step::Ends => self.ends(),
            Step::Loudspeaker(words) => {
                self.quiet()?;
                let segment = self.segments.last().ok_or("nothing was spoken to its end")?;
                let heard = self.decode(segment);
                if heard.contains(words.as_str()) {
                    Ok(())
                } else {
                    Err(format!("the loudspeaker said \"{heard}\", not \"{words}\""))
                }
            }
            Step::Loudness(factor) => self.compare("loud", *factor, listen::level),
            Step::Length(factor) => self.compare("long", *factor, listen::length),
            Step::Stands(readings) => {
                self.stands.clone_from(readings);
                Ok(())
            }
        }
    }

    fn plug(&mut self, what: &str, inside: bool) -> Result<(), String> {
        self.transcript.push(format!("(plug)   {what} {}", if inside { "in" } else { "out" }));
        let plug = match what {
            "microphone" => Plug::Microphone,
            "loudspeaker" => Plug::Loudspeaker,
            other => return Err(format!("{other} has no plug")),
        };
        if !inside {
            if plug == Plug::Loudspeaker {
                self.loudspeaker = None;
                self.shown = None;
            }
            return self.sound.unplug(plug).map_err(text);
        }
        self.sound.plug(plug).map_err(text)?;
        if plug == Plug::Loudspeaker {
            self.loudspeaker = Some(self.sound.record(LOUDSPEAKER).map_err(text)?);
            self.segments.clear();
        }
        Ok(())
    }

    fn kill_and_resume(&mut self) -> Result<(), String> {
        self.child.kill().map_err(text)?;
        self.child.wait().map_err(text)?;
        self.transcript.push("(killed)".into());
        self.kills += 1;
        let (mut child, lines) = start(self.script, &self.sound, &self.folder, true)?;
        self.stdin = child.stdin.take().ok_or("no standard input")?;
        self.child = child;
        self.lines = lines;
        self.waiting.clear();
        self.opening()?;
        self.prepare(&GATES)?;
        self.prepare(&REST)
    }

    /// Takes all lines to the end of the program.
    fn ends(&mut self) -> Result<(), String> {
        let until = Instant::now() + 2 * LIMIT;
        while let Some(line) = self.line(until)? {
            if matches!(line.who.as_str(), "says" | "asks" | "careful" | "result") {
                self.said_line(&line);
            }
        }
        let status = self.child.wait().map_err(text)?;
        if status.success() { Ok(()) } else { Err(format!("the program ended with {status}")) }
    }
}

impl Drop for Stage<'_> {
    fn drop(&mut self) {
        // It may have ended by itself.
        let _ = self.child.kill();
        let _ = self.child.wait();
    }
}

fn start(
    script: &Script,
    sound: &VirtualSound,
    folder: &tempfile::TempDir,
    again: bool,
) -> Result<(Child, Receiver<Line>), String> {
    let mut program = Command::new(assert_cmd::cargo::cargo_bin("bothhands"));
    if again {
        program.arg("resume");
    } else {
        program.args(["--profile", "sweeper-valve-block", "--meter", &script.meter, "--job", "invented"]);
    }
    program.args(["--plain", "--pace", PACE, "--data"]).arg(folder.path()).args(&script.options);
    program.env(VALUES_VARIABLE, "1");
    program.envs(sound.env()).env("BOTHHANDS_SETTINGS", folder.path().join("settings.toml"));
    if script.echo.is_some() {
        // With a player that keeps much ready the echo would come later than the script says.
        program.env_remove("PULSE_LATENCY_MSEC");
    }
    program.env_remove("BOTHHANDS_MODEL").env_remove("BOTHHANDS_DATA");
    program.stdin(Stdio::piped()).stdout(Stdio::piped()).stderr(Stdio::null());
    let mut child = program.spawn().map_err(text)?;
    let output = BufReader::new(child.stdout.take().ok_or("no standard output")?);
    let (send, lines) = channel();
    thread::spawn(move || {
        // What is said is followed by the same as a value; the line waits for it.
        let mut said: Option<Line> = None;
        for line in output.lines().map_while(Result::ok) {
            let (who, text) = line.split_once(' ').unwrap_or((&line, ""));
            if who == VALUE {
                let value: Option<serde_json::Value> = serde_json::from_str(text).ok();
                let message = value.and_then(|value| serde_json::from_value(value["message"].clone()).ok());
                let Some(line) = said.take() else { continue };
                if send.send(Line { message, ..line }).is_err() {
                    return;
                }
                continue;
            }
            let line =
                Line { who: who.into(), text: text.trim_start().into(), message: None, at: Instant::now() };
            if matches!(who, "says" | "asks" | "careful" | "result") {
                said = Some(line);
            } else if send.send(line).is_err() {
                return;
            }
        }
    });
    Ok((child, lines))
}

fn text(error: impl std::fmt::Display) -> String {
    error.to_string()
}
