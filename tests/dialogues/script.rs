//! The form of a dialogue: one thing a line, a word that tells what it is in front, read from top to bottom.
//!
//! `README.md` beside the scripts lists the words. The first line is the title, after `#`.

use std::{path::Path, time::Duration};

/// A dialogue.
#[derive(Debug, Clone)]
pub struct Script {
    /// The file's name without its ending.
    pub name: String,
    /// What it shows, in a sentence.
    pub title: String,
    /// Options for the program.
    pub options: Vec<String>,
    /// The settings file.
    pub settings: String,
    /// The meter.
    pub meter: String,
    /// Where it begins.
    pub begin: Begin,
    /// What the room sounds like.
    pub noise: Option<(Noise, i32)>,
    /// The loudspeaker in the microphone: milliseconds late, decibels.
    pub echo: Option<(u32, i32)>,
    /// Whether the loudspeaker's recording is decoded and compared with what was to be said.
    pub listens: bool,
    /// What happens.
    pub steps: Vec<(usize, Step)>,
}

/// Where a dialogue begins.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Begin {
    /// At the first gate.
    Gates,
    /// At the temperature: the gates were typed.
    Temperature,
    /// At the first circuit: everything before it was typed.
    Reading,
}

/// A noise.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Noise {
    /// An engine that idles.
    Engine,
    /// Many people at once.
    Babble,
}

/// One thing that happens or has to be seen.
#[derive(Debug, Clone, PartialEq)]
pub enum Step {
    /// The technician speaks, once the voice is quiet. A bar in it is a pause of 0.3 s.
    Says(String),
    /// The technician speaks while the voice speaks.
    Interrupts(String),
    /// The technician types a line, whatever the voice does.
    Types(String),
    /// The technician types a line while the voice speaks: how long until it is silent?
    Hushes(String),
    /// A pedal's key goes down (`true`) or up.
    Pedal(String, bool),
    /// Time passes.
    Waits(Duration),
    /// The voice falls silent.
    Quiet,
    /// The next line that is said, exactly or with `...` in front or at the end.
    Answer(String),
    /// A notice that holds these words.
    Notice(String),
    /// Nothing is said for so long.
    Nothing(Duration),
    /// The microphone or the loudspeaker is pulled out (`false`) or put in (`true`).
    Plug(String, bool),
    /// The program is killed as a power cut would, and its session gone on with.
    KilledAndResumed,
    /// The program ends by itself, without an error.
    Ends,
    /// These words are in the recording of the loudspeaker since the last thing that was said or typed.
    Loudspeaker(String),
    /// The last line was louder (above 1) or softer than the same line before, by at least that factor.
    Loudness(f64),
    /// The last line took longer (above 1) or shorter than the same line before, by at least that factor.
    Length(f64),
    /// What stands in the end: pin and reading.
    Stands(Vec<String>),
}

/// Reads a script.
///
/// # Errors
/// With file and line, what is wrong.
pub fn read(path: &Path) -> Result<Script, String> {
    let text = std::fs::read_to_string(path).map_err(|error| format!("{}: {error}", path.display()))?;
    let mut script = Script {
        name: path.file_stem().unwrap_or_default().to_string_lossy().into_owned(),
        title: String::new(),
        options: Vec::new(),
        settings: String::new(),
        meter: "handheld-60000".into(),
        begin: Begin::Reading,
        noise: None,
        echo: None,
        listens: false,
        steps: Vec::new(),
    };
    for (number, line) in (1..).zip(text.lines()) {
        let line = line.trim();
        if let Some(title) = line.strip_prefix('#') {
            if script.title.is_empty() {
                title.trim().clone_into(&mut script.title);
            }
        } else if !line.is_empty() {
            let (word, rest) = line.split_once(char::is_whitespace).unwrap_or((line, ""));
            script
                .take(number, word, rest.trim())
                .map_err(|what| format!("{}, line {number}: {what}", path.display()))?;
        }
    }
    let ends = script.steps.iter().any(|(_, step)| matches!(step, Step::Stands(_)));
    if script.title.is_empty() || !ends {
        return Err(format!("{}: a title (#) and what stands in the end are needed", path.display()));
    }
    Ok(script)
}

impl Script {
    fn take(&mut self, line: usize, word: &str, rest: &str) -> Result<(), String> {
        let words: Vec<&str> = rest.split_whitespace().collect();
        let step = match (word, &words[..]) {
            ("options", _) => {
                self.options.extend(words.iter().map(|word| (*word).to_owned()));
                return Ok(());
            }
            ("settings", _) => {
                self.settings.push_str(rest);
                self.settings.push('\n');
                return Ok(());
            }
            ("meter", [meter]) => {
                (*meter).clone_into(&mut self.meter);
                return Ok(());
            }
            ("begin", ["gates"]) => {
                self.begin = Begin::Gates;
                return Ok(());
            }
            ("begin", ["temperature"]) => {
                self.begin = Begin::Temperature;
                return Ok(());
            }
            ("noise", [kind, snr, "dB"]) => {
                let kind = match *kind {
                    "engine" => Noise::Engine,
                    "babble" => Noise::Babble,
                    _ => return Err(format!("there is no noise {kind}")),
                };
                self.noise = Some((kind, number(snr)?));
                return Ok(());
            }
            ("echo", [db, "dB", late, "ms"]) => {
                self.echo = Some((number(late)?, number(db)?));
                return Ok(());
            }
            ("listens", []) => {
                self.listens = true;
                return Ok(());
            }
            ("says", [_, ..]) => Step::Says(rest.into()),
            ("interrupts", [_, ..]) => Step::Interrupts(rest.into()),
            ("types", _) => Step::Types(rest.into()),
            ("hushes", _) => Step::Hushes(rest.into()),
            ("pedal", [key, "down"]) => Step::Pedal((*key).into(), true),
            ("pedal", [key, "up"]) => Step::Pedal((*key).into(), false),
            ("waits", [time, unit]) => Step::Waits(duration(time, unit)?),
            ("quiet", []) => Step::Quiet,
            ("answer", [_, ..]) => Step::Answer(rest.into()),
            ("notice", [_, ..]) => Step::Notice(rest.into()),
            ("nothing", [time, unit]) => Step::Nothing(duration(time, unit)?),
            ("unplugs", [what]) => Step::Plug((*what).into(), false),
            ("plugs", [what]) => Step::Plug((*what).into(), true),
            ("killed-and-resumed", []) => Step::KilledAndResumed,
            ("ends", []) => Step::Ends,
            ("loudspeaker", [_, ..]) => Step::Loudspeaker(rest.into()),
            ("loudness", [factor]) => Step::Loudness(number(factor)?),
            ("length", [factor]) => Step::Length(number(factor)?),
            ("stands", _) => Step::Stands(
                rest.split(',').map(|one| one.trim().to_owned()).filter(|one| !one.is_empty()).collect(),
            ),
            _ => return Err(format!("\"{word} {rest}\" is no line of a dialogue")),
        };
        self.steps.push((line, step));
        Ok(())
    }
}

fn number<T: std::str::FromStr>(text: &str) -> Result<T, String> {
    text.parse().map_err(|_| format!("{text} is no number that fits here"))
}

fn duration(time: &str, unit: &str) -> Result<Duration, String> {
    match unit {
        "s" => number(time).map(Duration::from_secs),
        "ms" => number(time).map(Duration::from_millis),
        _ => Err(format!("{unit} is neither s nor ms")),
    }
}
