//! Owns `demo`: this very program in a second process, and a simulated technician who talks with it through sound.
//!
//! Nothing bypasses the sound: the second process opens a microphone and a loudspeaker like any other, only that the sound
//! server behind them is private and has no hardware. The technician sees its lines, waits until the loudspeaker is quiet,
//! and speaks with a synthetic voice into the microphone.

use super::common;
use crate::{
    hear::virtual_sound::{LOUDSPEAKER, MICROPHONE, Recording, VirtualSound},
    journal, profile,
    screen::{VALUE, VALUES_VARIABLE},
    session::{
        Kind, Message,
        message::{Concluded, Prompt},
    },
    simulate::{Scenario, SimulatedPart, Technician, Voice, pace, waits},
    words::Words,
};
use clap::Args as ClapArgs;
use crossbeam_channel::{Receiver, RecvTimeoutError, unbounded};
use miette::{IntoDiagnostic, WrapErr, miette};
use std::{
    io::{BufRead, BufReader},
    ops::Range,
    path::{Path, PathBuf},
    process::{Command, ExitCode, Stdio},
    thread,
    time::{Duration, Instant},
};

/// Options of `demo`.
#[derive(Debug, Default, ClapArgs)]
#[command(
    after_help = "Example: bothhands demo\nEverything in it is invented: vehicle, part, meter and technician."
)]
pub(super) struct Args {
    /// The scenario
    #[arg(long, value_name = "FILE")]
    scenario: Option<PathBuf>,
    /// Where the journal goes, instead of the usual place for data
    #[arg(long, value_name = "DIR", env = "BOTHHANDS_DATA")]
    data: Option<PathBuf>,
    /// Keep what loudspeaker and microphone sounded like in this folder, as WAV
    #[arg(long, value_name = "DIR")]
    record: Option<PathBuf>,
    /// Folder of a vosk model to listen with, instead of the one that comes along
    #[arg(long, value_name = "DIR", env = "BOTHHANDS_MODEL")]
    model: Option<PathBuf>,
}

/// The voice has finished when the loudspeaker was quiet for this long.
const QUIET_MS: u64 = 450;
/// A line that is not heard by then is taken as read on the screen.
const UNHEARD: Duration = Duration::from_secs(4);
/// After this long without any reaction the technician says it again.
const NO_REACTION: Duration = Duration::from_secs(8);
/// Pace of the program's voice: brisk, so that the demo does not take for ever.
const PACE: &str = "45";
/// Signs of a reading of the demo ("5.347").
const SIGNS: u32 = 5;
/// How often it is said again before the technician gives up.
const MOST_REPEATS: u32 = 4;

pub(super) fn run(args: &Args) -> miette::Result<ExitCode> {
    let file = match &args.scenario {
        Some(file) => file.clone(),
        None => common::own_file("demo/coil-with-shorted-turns.toml")?,
    };
    let scenario = Scenario::load(&file).into_diagnostic()?;
    let part = profile::find(&scenario.profile)?.value;
    let meter = profile::find_meter(&scenario.meter)?.value;
    let faulty = part
        .circuits
        .iter()
        .find(|circuit| circuit.id.as_str() == scenario.faulty)
        .ok_or_else(|| miette!("{}: {} is no circuit of {}", file.display(), scenario.faulty, part.id))?;
    let grammar = common::grammar()?;
    let simulated = SimulatedPart::new(&scenario, &part, &meter).map_err(|text| miette!("{text}"))?;
    let technician = Technician::new(simulated, &scenario, &grammar);

    let sound = VirtualSound::start().wrap_err("the demo needs a private sound server")?;
    out!(
        "INVENTED from end to end: vehicle, part, meter, readings and technician. Two voices without loudspeakers."
    );
    out!("{}\n", scenario.title);
    let tracks = Tracks { loudspeaker: sound.record(LOUDSPEAKER)?, microphone: sound.record(MICROPHONE)? };

    let mut program = Command::new(std::env::current_exe().into_diagnostic()?);
    program.envs(sound.env()).stdin(Stdio::null());
    program.args(["--profile", &scenario.profile, "--meter", &scenario.meter]);
    program.args(["--job", "demo, everything invented", "--simulated", "--headset", "--pace", PACE]);
    // The private sound server has a home of its own: the journal is to stay where journals are kept.
    let sessions = match &args.data {
        Some(folder) => folder.clone(),
        None => journal::default_folder()?.parent().map(Path::to_owned).unwrap_or_default(),
    };
    program.arg("--data").arg(sessions);
    if let Some(model) = &args.model {
        program.arg("--model").arg(model);
    }
    // The technician answers values, whatever the language of the lines.
    program.env(VALUES_VARIABLE, "1");
    // The demo is the same for everybody.
    program.env(crate::settings::VARIABLE, "");
    let mut child = program.stdout(Stdio::piped()).spawn().into_diagnostic()?;
    let lines = lines_of(child.stdout.take().ok_or_else(|| miette!("the program has no output"))?);

    let mut conversation = Conversation {
        sound: &sound,
        tracks: &tracks,
        scenario: &scenario,
        technician,
        voice: Voice {
            name: scenario.voice.clone(),
            words_per_minute: scenario.words_per_minute,
            clips: scenario.clips.clone(),
        },
        spoken: Vec::new(),
        readings: None,
    };
    let result = conversation.lead(&lines);
    let spoken = std::mem::take(&mut conversation.spoken);
    if result.is_err() {
        // It would wait for an answer for ever.
        let _ = child.kill();
    }
    let status = child.wait().into_diagnostic()?;
    print_waits(&tracks, &spoken);
    print_pace(conversation.readings, scenario.probing_ms);
    if let Some(folder) = &args.record {
        std::fs::create_dir_all(folder).into_diagnostic()?;
        tracks.loudspeaker.save(&folder.join("loudspeaker.wav"))?;
        tracks.microphone.save(&folder.join("microphone.wav"))?;
    }
    let headline = result?;
    if !status.success() {
        return Err(miette!("the program ended with {status}"));
    }
    if !headline.to_lowercase().contains(&faulty.name.to_lowercase()) {
        return Err(miette!("the conclusion should have named {}: {headline}", faulty.name));
    }
    Ok(ExitCode::SUCCESS)
}

/// Both sides of the conversation, recorded as a bystander would hear them.
struct Tracks {
    loudspeaker: Recording,
    microphone: Recording,
}

/// The program's lines as they come.
fn lines_of(output: impl std::io::Read + Send + 'static) -> Receiver<String> {
    let (send, lines) = unbounded();
    thread::spawn(move || {
        for line in BufReader::new(output).lines().map_while(Result::ok) {
            if send.send(line).is_err() {
                return;
            }
        }
    });
    lines
}

/// A line that is a value: what the program said, and of what kind it is.
fn said(line: &str) -> Option<(Kind, Message)> {
    #[derive(serde::Deserialize)]
    struct Said {
        kind: Kind,
        message: Message,
    }
    let value = line.strip_prefix(VALUE)?;
    serde_json::from_str(value).ok().map(|Said { kind, message }| (kind, message))
}

struct Conversation<'a> {
    sound: &'a VirtualSound,
    tracks: &'a Tracks,
    scenario: &'a Scenario,
    technician: Technician<'a>,
    voice: Voice,
    /// From when to when each thing was played into the microphone, in milliseconds of its recording, and whether it was
    /// asked back.
    spoken: Vec<(Range<u64>, bool)>,
    /// When the first circuit was asked for, how many were since, and when the last of them had its answer.
    readings: Option<(Instant, u32, Instant)>,
}

impl Conversation<'_> {
    /// Talks until the program ends; returns the headline of the conclusion.
    fn lead(&mut self, lines: &Receiver<String>) -> miette::Result<String> {
        let mut headline = String::new();
        let mut open: Option<(Message, Shown)> = None;
        let mut waiting_since = Instant::now();
        let mut repeats = 0;
        loop {
            match lines.recv_timeout(Duration::from_millis(20)) {
                Ok(line) => {
                    match said(&line) {
                        None => out!("{line}"),
                        Some((Kind::Conclusion, message)) => {
                            if let Message::Concluded(Concluded::Headline(text)) = message {
                                headline = Words::english().text(&text);
                            }
                            open = None;
                        }
                        Some((Kind::Caution, _)) => {}
                        Some((kind, message)) => {
                            self.count(&message);
                            if kind == Kind::Question
                                && let Some((_, asked)) = self.spoken.last_mut()
                            {
                                *asked = true;
                            }
                            open = Some((message, self.shown_now()));
                        }
                    }
                    waiting_since = Instant::now();
                }
                Err(RecvTimeoutError::Disconnected) => return Ok(headline),
                Err(RecvTimeoutError::Timeout) => {}
            }
            let answer = match &open {
                Some((line, shown)) if self.has_finished(*shown) => {
                    let answer = self.technician.answer(line);
                    open = None;
                    repeats = 0;
                    answer
                }
                None if headline.is_empty()
                    && waiting_since.elapsed() > NO_REACTION
                    && self
                        .tracks
                        .loudspeaker
                        .quiet_ms()
                        .is_none_or(|quiet| u128::from(quiet) > NO_REACTION.as_millis()) =>
                {
                    repeats += 1;
                    if repeats > MOST_REPEATS {
                        return Err(miette!("the program did not react to \"{}\"", self.technician.again()));
                    }
                    Some(self.technician.again().to_owned())
                }
                _ => None,
            };
            if let Some(words) = answer {
                self.speak(&words)?;
                waiting_since = Instant::now();
            }
        }
    }

    /// Notes when a circuit is asked for.
    fn count(&mut self, line: &Message) {
        let asked = line.any(&|one| matches!(one, Message::Prompt(prompt) if prompt.probed().is_some()));
        let all_read = line.any(&|one| matches!(one, Message::Prompt(Prompt::AllRead)));
        let now = Instant::now();
        match &mut self.readings {
            None if asked => self.readings = Some((now, 0, now)),
            Some((_, count, last)) if asked || all_read => (*count, *last) = (*count + 1, now),
            _ => {}
        }
    }

    fn shown_now(&self) -> Shown {
        Shown { at: Instant::now(), heard_ms: self.tracks.loudspeaker.length_ms() }
    }

    /// Whether the line was heard to its end.
    fn has_finished(&self, line: Shown) -> bool {
        let length = self.tracks.loudspeaker.length_ms();
        match self.tracks.loudspeaker.quiet_ms() {
            Some(quiet) if length.saturating_sub(quiet) > line.heard_ms => quiet >= QUIET_MS,
            _ => line.at.elapsed() > UNHEARD,
        }
    }

    fn speak(&mut self, words: &str) -> miette::Result<()> {
        thread::sleep(Duration::from_millis(self.scenario.probing_ms));
        out!("{:<9}\"{words}\"", "(voice)");
        let words = self
            .voice
            .say(words, &std::env::temp_dir())
            .map_err(|text| miette!("the technician's voice: {text}"))?;
        let from = self.tracks.microphone.length_ms();
        self.sound.speak_samples(&words)?;
        self.spoken.push((from..self.tracks.microphone.length_ms(), false));
        Ok(())
    }
}

/// When a line was shown, and how much of the loudspeaker had been recorded by then.
#[derive(Clone, Copy)]
struct Shown {
    at: Instant,
    heard_ms: u64,
}

/// Readings a minute, as they were here, beside what a model says of typing and of pen and paper.
fn print_pace(readings: Option<(Instant, u32, Instant)>, probing_ms: u64) {
    let Some((from, count @ 1.., to)) = readings else { return };
    let each = (to - from).as_secs_f64() / f64::from(count);
    // The technician of the demo is quicker with the probes than anybody: the same time is taken for all ways.
    let spoken = each - Duration::from_millis(probing_ms).as_secs_f64() + pace::PROBE_S;
    let hand = pace::by_hand(SIGNS);
    out!(
        "Readings a minute, with {:.0} s for each move of a probe: by voice {:.1} (measured here, {count} answers with slips and \
         repeats; {each:.1} s each), typed {:.1}, pen and paper {:.1} (keystroke-level model, see simulate/pace.rs).",
        pace::PROBE_S,
        pace::a_minute(spoken),
        pace::a_minute(hand.typed),
        pace::a_minute(hand.paper),
    );
}

/// How fast the answers came: all of them, and those to what was understood at once.
fn print_waits(tracks: &Tracks, spoken: &[(Range<u64>, bool)]) {
    let ahead = |track: &Recording| i64::try_from(track.length_ms()).unwrap_or_default();
    let lead_ms = ahead(&tracks.loudspeaker) - ahead(&tracks.microphone);
    let (microphone, loudspeaker) = (tracks.microphone.samples(), tracks.loudspeaker.samples());
    let limit = u64::try_from(NO_REACTION.as_millis()).unwrap_or(u64::MAX);
    out!("");
    for (which, at_once) in [("to what was understood at once", true), ("in all", false)] {
        let spoken: Vec<Range<u64>> =
            spoken.iter().filter(|(_, asked)| !(at_once && *asked)).map(|(time, _)| time.clone()).collect();
        let waits = waits(&microphone, &loudspeaker, lead_ms, &spoken, limit);
        if let (Some(median), Some(late)) = (waits.get(waits.len() / 2), waits.get(waits.len() * 95 / 100)) {
            out!(
                "From the end of speech to the first sound of the answer, {} answers {which}: median {median} ms, 95th \
                 percentile {late} ms.",
                waits.len()
            );
        }
    }
}
