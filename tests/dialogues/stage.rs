//! Plays one dialogue: the program, a technician and a room, with a private sound server between them.

use super::{
    listen::{self, Ears},
    room,
    script::{Begin, Script, Step},
};
use bothhands::{
    grammar::{Context, Grammar},
    hear::virtual_sound::{LOUDSPEAKER, Noise, Plug, Recording, VirtualSound},
    journal::{self, Entry},
    keys, live,
    session::{Event, Outcome},
};
use std::{
    collections::VecDeque,
    fs::File,
    io::{BufRead, BufReader, Write},
    path::PathBuf,
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

    /// The program's next line of any kind; none when it has ended.
    fn line(&mut self, until: Instant) -> Result<Option<Line>, String> {
        let wait = until.saturating_duration_since(Instant::now());
        match self.lines.recv_timeout(wait) {
            Ok(line) => {
                self.transcript.push(format!("{:<9}{}", line.who, line.text));
                Ok(Some(line))
            }
            Err(RecvTimeoutError::Timeout) => Err("nothing came in time".into()),
            Err(RecvTimeoutError::Disconnected) => Ok(None),
        }
    }

    /// Notes a line that was said. Gives it without what is only shown.
    fn said_line(&mut self, line: &Line) -> String {
        let said = line.text.split("  [").next().unwrap_or_default().to_owned();
        self.spoken.push(said.clone());
        let now = self.heard_ms();
        let ago = u64::try_from(line.at.elapsed().as_millis()).unwrap_or(u64::MAX);
        self.shown = Some((said.clone(), now.saturating_sub(ago), Instant::now()));
        said
    }

    /// The next line that is said; `None` when the time is over.
    fn next_said(&mut self, until: Instant) -> Result<Option<String>, String> {
        loop {
            let line = match self.waiting.pop_front() {
                Some(line) => line,
                None => match self.line(until) {
                    Ok(Some(line)) => line,
                    Ok(None) => return Err("the program has ended".into()),
                    Err(_) => return Ok(None),
                },
            };
            if matches!(line.who.as_str(), "says" | "asks" | "careful" | "result") {
                return Ok(Some(self.said_line(&line)));
            }
        }
    }

    /// Waits for the answer; says again what was not understood, as a person would.
    fn answered(&mut self, patterns: &[&str]) -> Result<(), String> {
        let mut repeats = 0;
        let mut until = Instant::now() + if self.last_said.is_some() { NO_REACTION } else { LIMIT };
        loop {
            let said = self.next_said(until)?;
            if let Some(said) = &said
                && patterns.iter().any(|pattern| fits(pattern, said))
            {
                self.last_said = None;
                return Ok(());
            }
            let asked = said.as_ref().is_none_or(|said| said.contains('?') || said.contains("ay it again"));
            match self.last_said.clone() {
                Some(words) if asked && repeats < MOST_REPEATS => {
                    self.quiet()?;
                    // One thing alone is asked, and it is what was said.
                    let only =
                        said.as_ref().and_then(|said| said.split_once("? Yes or no")).map(|(asked, _)| asked);
                    let right = only.is_some_and(|asked| asked.eq_ignore_ascii_case(&words));
                    self.say(if right { "yes" } else { &words })?;
                    if right {
                        self.last_said = Some(words);
                    }
                    repeats += 1;
                    self.repeats += 1;
                    until = Instant::now() + NO_REACTION;
                }
                _ => {
                    let said = said.map_or("nothing".into(), |said| format!("\"{said}\""));
                    return Err(format!("said was {said}, not \"{}\"", patterns.join("\" or \"")));
                }
            }
        }
    }

    fn noticed(&mut self, words: &str) -> Result<(), String> {
        let until = Instant::now() + LIMIT;
        loop {
            match self.line(until)? {
                Some(line) if line.who == "notice" && line.text.contains(words) => {
                    self.last_said = None;
                    return Ok(());
                }
                Some(line) if line.who == "asks" && self.last_said.is_some() => {
                    self.said_line(&line);
                    self.repeats += 1;
                    let again = self.last_said.clone().unwrap_or_default();
                    self.quiet()?;
                    self.say(&again)?;
                }
                Some(line) => self.waiting.push_back(line),
                None => return Err("the program has ended".into()),
            }
        }
    }

    fn nothing(&mut self, time: Duration) -> Result<(), String> {
        self.last_said = None;
        match self.next_said(Instant::now() + time)? {
            None => Ok(()),
            Some(said) => Err(format!("nothing should be said, but it was \"{said}\"")),
        }
    }

    fn heard_ms(&self) -> u64 {
        self.loudspeaker.as_ref().map_or(0, Recording::length_ms)
    }

    fn quiet_ms(&self) -> Option<u64> {
        self.loudspeaker.as_ref().and_then(Recording::quiet_ms)
    }

    /// Waits until the last line was spoken to its end.
    fn quiet(&mut self) -> Result<(), String> {
        let Some((said, from, since)) = self.shown.clone() else { return Ok(()) };
        let until = Instant::now() + LIMIT;
        while Instant::now() < until {
            let (length, quiet) = (self.heard_ms(), self.quiet_ms());
            match quiet {
                // What was cut off by a key may still end after the next line was shown.
                Some(quiet) if length.saturating_sub(quiet) > from + LEAST_MS * said.len() as u64 => {
                    let over = quiet >= QUIET_MS;
                    if over {
                        self.shown = None;
                        self.segments.push(Segment { text: said, from, to: length });
                        return Ok(());
                    }
                }
                _ if since.elapsed() > UNHEARD => {
                    self.shown = None;
                    return Ok(());
                }
                _ => {}
            }
            thread::sleep(Duration::from_millis(10));
        }
        Err("the voice does not come to an end".into())
    }

    /// Waits until the voice is in the middle of the last line.
    fn sounding(&mut self) -> Result<(), String> {
        let Some((said, from, _)) = self.shown.clone() else {
            return Err("nothing is being said that could be interrupted".into());
        };
        let until = Instant::now() + LIMIT;
        let mut since = None;
        while Instant::now() < until {
            let (length, quiet) = (self.heard_ms(), self.quiet_ms());
            match quiet {
                Some(quiet) if quiet < 100 && length.saturating_sub(quiet) > from => {
                    if since.get_or_insert_with(Instant::now).elapsed() > Duration::from_millis(500) {
                        return Ok(());
                    }
                }
                _ => since = None,
            }
            thread::sleep(Duration::from_millis(5));
        }
        Err(format!("\"{said}\" does not sound"))
    }

    /// Types a line while the voice speaks and measures how long it goes on.
    fn hush(&mut self, line: &str) -> Result<(), String> {
        self.sounding()?;
        let from = self.heard_ms();
        self.type_line(line)?;
        let until = Instant::now() + LIMIT;
        while self.quiet_ms().is_none_or(|quiet| quiet < 400) {
            if Instant::now() > until {
                return Err("the voice goes on".into());
            }
            thread::sleep(Duration::from_millis(5));
        }
        let last = self.heard_ms().saturating_sub(self.quiet_ms().unwrap_or(0));
        self.hushes.push(last.saturating_sub(from));
        self.shown = None;
        // Far beyond what it ever takes, and far below the rest of any line that is interrupted here.
        if last.saturating_sub(from) > 1000 { Err("the voice went on".into()) } else { Ok(()) }
    }

    fn say(&mut self, words: &str) -> Result<(), String> {
        self.transcript.push(format!("(voice)  \"{words}\""));
        self.inputs.push(words.replace(" | ", " "));
        let mut samples = Vec::new();
        for part in words.split(" | ") {
            if !samples.is_empty() {
                samples.extend([0; 16 * 300]);
            }
            let part = room::voice(part, self.folder.path())?;
            let loud = |sample: &i16| sample.unsigned_abs() > 100;
            let (from, to) = (part.iter().position(loud), part.iter().rposition(loud));
            samples.extend(&part[from.unwrap_or(0)..to.map_or(part.len(), |to| to + 1)]);
        }
        self.sound.speak_samples(&samples).map_err(text)
    }

    fn type_line(&mut self, line: &str) -> Result<(), String> {
        self.transcript.push(format!("(keys)   \"{line}\""));
        self.inputs.push(line.to_owned());
        self.last_said = None;
        writeln!(self.stdin, "{line}").map_err(text)
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

    fn samples(&self, segment: &Segment) -> Vec<i16> {
        let samples = self.loudspeaker.as_ref().map(Recording::samples).unwrap_or_default();
        let at = |ms: u64| usize::try_from(ms * 16).unwrap_or(usize::MAX).min(samples.len());
        samples[at(segment.from)..at(segment.to)].to_vec()
    }

    fn decode(&self, segment: &Segment) -> String {
        self.ears.decode(&self.samples(segment), std::slice::from_ref(&segment.text))
    }

    fn compare(&mut self, how: &str, factor: f64, measure: fn(&[i16]) -> f64) -> Result<(), String> {
        self.quiet()?;
        let Some(now) = self.segments.last() else { return Err("no line was spoken to its end".into()) };
        let alike = |segment: &&Segment| segment.text == now.text && segment.from != now.from;
        let Some(before) = self.segments.iter().rev().find(alike) else {
            return Err("the same line has to be spoken twice, to its end".into());
        };
        let ratio = measure(&self.samples(now)) / measure(&self.samples(before));
        let enough = if factor > 1.0 { ratio >= factor } else { ratio <= factor };
        self.transcript.push(format!("(ratio)  {ratio:.2} times as {how}"));
        if enough { Ok(()) } else { Err(format!("{ratio:.2} times as {how} as before, not {factor}")) }
    }

    /// What the journal tells in the end: nothing was taken that the technician did not say, everything that was spoken
    /// was to be, and what stands is what was read.
    fn check(&mut self) -> Result<(), String> {
        if self.script.listens {
            self.compare_spoken()?;
        }
        let past = journal::read(&self.journal).map_err(text)?;
        let grammar = Grammar::builtin("en").map_err(text)?;
        let spoken: Vec<&str> = past
            .lines
            .iter()
            .filter_map(|line| match &line.entry {
                Entry::Spoken { text } => Some(text.as_str()),
                _ => None,
            })
            .collect();
        // What is told of the devices is shown as a notice. The last lines may still be on their way to the screen or to the
        // disk when the program is ended, also when it is killed in the middle.
        let notices: Vec<&str> =
            self.transcript.iter().filter_map(|line| line.strip_prefix("notice   ")).collect();
        let spoken: Vec<&str> = spoken.into_iter().filter(|line| !notices.contains(line)).collect();
        let mut shown = self.spoken.iter();
        let mut missing = 0;
        let mut left = 0;
        for line in &spoken {
            match shown.by_ref().position(|shown| shown == line) {
                Some(passed) => missing += passed,
                None => left += 1,
            }
        }
        if missing > self.kills || left > 3 {
            return Err(format!("the journal says that other lines were spoken: {spoken:#?}"));
        }
        let replayed = live::replay(&past, grammar.clone()).map_err(text)?;
        let mut context = Context::of_profile(&replayed.session.profile);
        context.phrases.extend(["cold", "warm", "hot", "not sure"].map(str::to_owned));
        let mut meant = self.inputs.iter().filter_map(|input| keys::parse(input, &grammar, &context));
        for line in &past.lines {
            if let Entry::Event(Event::Heard(hearing)) = &line.entry
                && let Outcome::Understood(utterance) = &hearing.outcome
                && !meant.any(|meant| meant == *utterance)
            {
                return Err(format!("{utterance:?} was taken, and the technician did not say it then"));
            }
        }
        let stands: Vec<String> = replayed
            .state
            .standing()
            .map(|taken| {
                let task = &replayed.state.plan[taken.task];
                let circuit = &replayed.session.profile.circuits[task.circuit];
                format!("{} {}", circuit.pin, taken.reading)
            })
            .collect();
        if stands == self.stands {
            Ok(())
        } else {
            Err(format!("what stands is {}, not {}", stands.join(", "), self.stands.join(", ")))
        }
    }

    /// Every line that was spoken to its end is compared with its recording.
    fn compare_spoken(&self) -> Result<(), String> {
        let lines: Vec<String> = self.segments.iter().map(|segment| segment.text.clone()).collect();
        if lines.is_empty() {
            return Err("no line was spoken to its end".into());
        }
        for segment in &self.segments {
            let heard = self.ears.decode(&self.samples(segment), &lines);
            self.ears.compare(&segment.text, &heard, &lines)?;
        }
        Ok(())
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
    program.envs(sound.env()).env("BOTHHANDS_SETTINGS", folder.path().join("settings.toml"));
    program.env_remove("BOTHHANDS_MODEL").env_remove("BOTHHANDS_DATA");
    program.stdin(Stdio::piped()).stdout(Stdio::piped()).stderr(Stdio::null());
    let mut child = program.spawn().map_err(text)?;
    let output = BufReader::new(child.stdout.take().ok_or("no standard output")?);
    let (send, lines) = channel();
    thread::spawn(move || {
        for line in output.lines().map_while(Result::ok) {
            let (who, text) = line.split_once(' ').unwrap_or((&line, ""));
            let line = Line { who: who.into(), text: text.trim_start().into(), at: Instant::now() };
            if send.send(line).is_err() {
                return;
            }
        }
    });
    Ok((child, lines))
}

/// Whether a line is the expected one: exactly, or with `...` for what may stand in front or behind.
fn fits(pattern: &str, line: &str) -> bool {
    match (pattern.strip_prefix("..."), pattern.strip_suffix("...")) {
        (Some(_), Some(_)) if pattern == "..." => true,
        (Some(rest), Some(_)) => line.contains(rest.trim_end_matches("...")),
        (Some(rest), None) => line.ends_with(rest),
        (None, Some(rest)) => line.starts_with(rest),
        (None, None) => line == pattern,
    }
}

fn text(error: impl std::fmt::Display) -> String {
    error.to_string()
}
