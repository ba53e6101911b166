//! Owns what several commands share: loading, opening the devices, running a session, and what is left behind after it.

#[cfg(all(feature = "pedal", target_os = "linux"))]
use crate::keys::{Editor, Pedal};
use crate::{
    grammar::Grammar,
    journal::{self, Journal},
    keys::{self, Input, KeySource, Role},
    live::{self, Ears, Live},
    report, scpi,
    screen::{self, Full, Label, Look, Plain, Screen},
    session::{self, End, PhraseClash, Prompts, Session, State},
    settings::{self, Layer, Origin, Scale, Settings, Talk, places::Places},
    speak::{Silent, Voice},
    words::{self, Words},
};
use clap::Args as ClapArgs;
use crossbeam_channel::{Sender, unbounded};
use miette::{IntoDiagnostic, WrapErr};
use std::{
    io::{BufRead, IsTerminal, Write},
    path::{Path, PathBuf},
    process::ExitCode,
    sync::{
        Arc, OnceLock,
        atomic::{AtomicBool, Ordering},
    },
    thread,
};

/// Options about devices that running and resuming share.
#[derive(Debug, Clone, Default, ClapArgs)]
#[command(next_help_heading = "Settings (bothhands settings prints those in force)")]
pub(super) struct Devices {
    /// The language that is said and shown: en, de [env: BOTHHANDS_LANGUAGE]
    #[arg(long, value_name = "TAG")]
    pub language: Option<String>,
    /// Use keys alone: no microphone, no voice
    #[arg(long, value_name = "true|false", num_args = 0..=1, require_equals = true,
          default_missing_value = "true", hide_possible_values = true)]
    pub keys: Option<bool>,
    /// Show plain lines, one after the other, instead of the large view: for screen readers and logs
    #[arg(long, value_name = "true|false", num_args = 0..=1, require_equals = true,
          default_missing_value = "true", hide_possible_values = true)]
    pub plain: Option<bool>,
    /// Colours in the large view [env: NO_COLOR turns them off]
    #[arg(long, value_name = "true|false", num_args = 0..=1, require_equals = true,
          default_missing_value = "true", hide_possible_values = true)]
    pub colour: Option<bool>,
    /// Show the lines without speaking them
    #[arg(long, value_name = "true|false", num_args = 0..=1, require_equals = true,
          default_missing_value = "true", hide_possible_values = true)]
    pub silent: Option<bool>,
    /// The voice goes to a headset: keep listening while it speaks, and stop it when you speak
    #[arg(long, value_name = "true|false", num_args = 0..=1, require_equals = true,
          default_missing_value = "true", hide_possible_values = true)]
    pub headset: Option<bool>,
    /// The microphone, by its name or a part of it
    #[arg(long, value_name = "NAME")]
    pub microphone: Option<String>,
    /// The loudspeaker, by its name or a part of it: the voice is then played on it by bothhands itself
    #[arg(long, value_name = "NAME")]
    pub speaker: Option<String>,
    /// When the microphone listens: always, or while the talk key or the pedal is pressed
    #[arg(long, value_name = "WHEN")]
    pub talk: Option<Talk>,
    /// How much is said
    #[arg(long, value_name = "HOW")]
    pub prompts: Option<Prompts>,
    /// Seconds of silence after which it says once what it waits for; 0: never
    #[arg(long, value_name = "SECONDS")]
    pub reminder: Option<u16>,
    /// Pace of the voice, from -100 (slow) to 100 (fast)
    #[arg(long, value_name = "PACE", allow_negative_numbers = true, value_parser = scale)]
    pub pace: Option<Scale>,
    /// Loudness of the voice, from -100 (quiet) to 100 (full)
    #[arg(long, value_name = "VOLUME", allow_negative_numbers = true, value_parser = scale)]
    pub volume: Option<Scale>,
    /// Folder of a vosk model to listen with, instead of the one that comes along [env: BOTHHANDS_MODEL]
    #[arg(long, value_name = "DIR")]
    pub model: Option<PathBuf>,
    /// Where journals are kept (in `sessions` below it), instead of the usual place [env: BOTHHANDS_DATA]
    #[arg(long, value_name = "DIR")]
    pub data: Option<PathBuf>,
    /// The serial line of a meter that answers in SCPI, such as /dev/ttyUSB0: "take it" takes its reading
    #[arg(long, value_name = "DEVICE")]
    pub meter_port: Option<PathBuf>,
    /// Speed of that line in bits a second
    #[arg(long, value_name = "SPEED")]
    pub meter_baud: Option<u32>,
    /// Keep no sound of what is heard
    #[arg(long)]
    pub no_sound: bool,
    /// Any key of the settings file, written as it is there: 'pedal.device = "pipe:/tmp/pedal"'; may be given several times
    #[arg(long, value_name = "KEY = VALUE")]
    pub set: Vec<String>,
}

impl Devices {
    /// The settings in force: these options over the environment over the person's file.
    pub fn settle(&self) -> miette::Result<Settings> {
        let file = match settings::place() {
            Some(path) => settings::read(&path)?.unwrap_or_default(),
            None => Layer::default(),
        };
        let environment = Layer::environment(|name| std::env::var_os(name));
        let command_line = Layer {
            language: self.language.clone(),
            keys: self.keys,
            plain: self.plain,
            colour: self.colour,
            silent: self.silent,
            headset: self.headset,
            microphone: self.microphone.clone(),
            speaker: self.speaker.clone(),
            prompts: self.prompts,
            reminder: self.reminder,
            talk: self.talk,
            pace: self.pace,
            volume: self.volume,
            model: self.model.clone(),
            data: self.data.clone(),
            meter_port: self.meter_port.clone(),
            meter_baud: self.meter_baud,
            sound: self.no_sound.then_some(false),
            ..Layer::default()
        };
        let set = settings::parse(Path::new("--set"), &self.set.join("\n"))?;
        let settings = Settings::of_all(&[
            (Origin::CommandLine, command_line),
            (Origin::CommandLine, set),
            (Origin::Environment, environment),
            (Origin::File, file),
        ]);
        // A run has one language; it is settled before anything is said.
        let _ = LANGUAGE.set(language_of(settings.language.value.as_deref()));
        Ok(settings)
    }
}

pub(super) fn scale(text: &str) -> Result<Scale, String> {
    text.parse::<i64>().map_err(|error| error.to_string())?.try_into()
}

/// The folder that journals are kept in.
pub(super) fn data_folder(settings: &Settings) -> miette::Result<PathBuf> {
    match &settings.data.value {
        Some(folder) => Ok(folder.join("sessions")),
        None => Ok(journal::default_folder()?),
    }
}

/// What the history has of the last time, for a session that is about to begin or to go on.
pub(super) fn last_time(
    settings: &Settings,
    header: &journal::Header,
    journal: &Path,
    begun: jiff::Timestamp,
) -> miette::Result<Arc<session::LastTime>> {
    let sessions = data_folder(settings)?;
    let store = sessions.parent().unwrap_or(&sessions).join(super::history::FILE);
    let sought = crate::history::Sought {
        part: &header.profile,
        details: &header.details,
        job: header.job.as_deref(),
        journal,
        begun,
        simulated: header.simulated,
    };
    Ok(Arc::new(crate::history::last_time(&store, sought)))
}

/// The time zone of this place, for the journal's head: its IANA name, else its offset now.
pub(super) fn zone() -> Option<String> {
    let zone = jiff::tz::TimeZone::system();
    let now = || zone.to_offset(jiff::Timestamp::now()).to_string();
    Some(zone.iana_name().map_or_else(now, str::to_owned))
}

/// How this session is spoken to, for the journal's head.
pub(super) fn ways(settings: &Settings) -> String {
    if settings.keys.value { "keys" } else { "voice and keys" }.to_owned()
}

/// A file of the program's own, wherever it was installed.
#[cfg(feature = "voice")]
pub(super) fn own_file(below: &str) -> miette::Result<PathBuf> {
    let places = Places::of_this_run();
    places.find(below).map(|(_, path)| path).ok_or_else(|| {
        let looked: Vec<String> =
            places.all().iter().map(|place| place.folder.display().to_string()).collect();
        miette::miette!(
            help = "install bothhands anew, or unpack its archive whole",
            "{below} is missing; looked in {}",
            looked.join(", ")
        )
    })
}

/// The language of this run.
static LANGUAGE: OnceLock<String> = OnceLock::new();

/// The language that is asked for, else the system's where it comes along, else the first one.
fn language_of(wanted: Option<&str>) -> String {
    let system = || {
        let tag = sys_locale::get_locale()?;
        let tag = tag.split(['-', '_', '.']).next()?.to_lowercase();
        words::languages().contains(&tag.as_str()).then_some(tag)
    };
    wanted.map(str::to_owned).or_else(system).unwrap_or_else(|| words::FIRST_LANGUAGE.to_owned())
}

/// The language of this run: that of the settings in force, for commands that have no option for it.
pub(super) fn language() -> miette::Result<&'static str> {
    if LANGUAGE.get().is_none() {
        Devices::default().settle()?;
    }
    Ok(LANGUAGE.get().map_or(words::FIRST_LANGUAGE, String::as_str))
}

/// The folder of a language that is not built in: a language is a folder, wherever the program's files lie.
fn language_folder(language: &str) -> Option<PathBuf> {
    if words::languages().contains(&language) || language.contains(['/', '.']) {
        return None;
    }
    Places::of_this_run().find(&format!("grammars/{language}")).map(|(_, folder)| folder)
}

/// What may be said, in the language of this run.
pub(super) fn grammar() -> miette::Result<Grammar> {
    let language = language()?;
    match language_folder(language) {
        Some(folder) => Ok(Grammar::load(&folder)?),
        None => Ok(Grammar::builtin(language)?),
    }
}

/// All that is said and shown, in the language of this run.
pub(super) fn words() -> miette::Result<Arc<Words>> {
    Ok(Arc::new(worded()?))
}

fn worded() -> miette::Result<Words> {
    let language = language()?;
    let words = match language_folder(language) {
        Some(folder) => Words::load(&folder),
        None => Words::builtin(language),
    };
    words.into_diagnostic()
}

/// Ears and voice, opened before anything is written: what is missing refuses early.
pub(super) struct Opened {
    ears: Option<ReadyEars>,
    voice: Box<dyn Voice>,
    notice: Option<String>,
    keys: Vec<(Box<dyn KeySource>, Role)>,
}

/// Makes ears once the folder for clips is known.
pub(super) type ReadyEars = Box<dyn FnOnce(&Session, &State, &Path) -> miette::Result<Box<dyn Ears>>>;

/// Opens what the options ask for.
pub(super) fn open(settings: &Settings) -> miette::Result<Opened> {
    let keys = pedals(settings)?;
    if settings.keys.value {
        return Ok(Opened { ears: None, voice: Box::<Silent>::default(), notice: None, keys });
    }
    let language = language()?;
    if language != words::FIRST_LANGUAGE && settings.model.value.is_none() {
        return Err(miette::miette!(
            help = "add --keys, or name a vosk model of that language with --model DIR",
            "no speech model for the language \"{language}\" comes along"
        ));
    }
    #[cfg(feature = "voice")]
    {
        let ears = super::ears::prepare(settings)?;
        let (voice, notice) = if settings.silent.value {
            (Box::<Silent>::default() as Box<dyn Voice>, None)
        } else {
            open_voice(settings)?
        };
        Ok(Opened { ears: Some(ears), voice, notice, keys })
    }
    #[cfg(not(feature = "voice"))]
    Err(miette::miette!(
        help = "add --keys, or build with the feature `voice`",
        "this build has neither ears nor voice"
    ))
}

/// The voice: on the loudspeaker that is named, else the system's; where the system has none, a silent one and what to tell
/// about it. A loudspeaker that is named and not there refuses.
#[cfg(feature = "voice")]
pub(super) fn open_voice(settings: &Settings) -> miette::Result<(Box<dyn Voice>, Option<String>)> {
    let pace = f32::from(settings.pace.value.get());
    let volume = settings.volume.value.map(|volume| f32::from(volume.get()));
    if let Some(name) = &settings.speaker.value {
        return Ok((crate::speak::played_voice(name, language()?, pace, volume)?, None));
    }
    Ok(match crate::speak::system_voice(language()?, pace, volume) {
        Ok(voice) => (voice, None),
        Err(error) => {
            let text = format!("There is no voice ({error}); the lines are shown only.");
            (Box::<Silent>::default(), Some(text))
        }
    })
}

/// The pedal and the keypad of the settings, checked; they are looked for when the session begins.
#[cfg(all(feature = "pedal", target_os = "linux"))]
fn pedals(settings: &Settings) -> miette::Result<Vec<(Box<dyn KeySource>, Role)>> {
    let mut keys: Vec<(Box<dyn KeySource>, Role)> = Vec::new();
    if let Some(pedal) = &settings.pedal.value {
        let checked = Pedal::new(pedal, &grammar()?, keys::key_code)
            .map_err(|what| miette::miette!("the pedal of the settings cannot be used: {what}"))?;
        let source: Box<dyn KeySource> = match pedal.device.strip_prefix(keys::PIPE) {
            Some(path) => Box::new(keys::Pipe::new(path, keys::key_code)),
            None => Box::new(keys::Wanted::new(&pedal.device)),
        };
        keys.push((source, Role::Pedal(checked)));
    }
    if let Some(keypad) = &settings.keypad.value {
        keys.push((Box::new(keys::Wanted::new(&keypad.device)), Role::Keypad(Editor::default())));
    }
    Ok(keys)
}

/// Without the feature `pedal` a pedal in the settings is refused: it would be waited for in vain.
#[cfg(not(all(feature = "pedal", target_os = "linux")))]
fn pedals(settings: &Settings) -> miette::Result<Vec<(Box<dyn KeySource>, Role)>> {
    if settings.pedal.value.is_some() || settings.keypad.value.is_some() {
        return Err(miette::miette!(
            help = "take them out of the settings, or build with the feature `pedal` on Linux",
            "this build knows neither pedals nor keypads of its own"
        ));
    }
    Ok(Vec::new())
}

/// Runs a session to its end and leaves report and summary behind.
pub(super) fn lead(
    settings: &Settings,
    session: Session,
    mut state: State,
    journal: Journal,
    opened: Opened,
) -> miette::Result<ExitCode> {
    // A session that is gone on with keeps what was said in it, unless the settings say otherwise.
    if settings.prompts.origin != Origin::Default {
        state.prompts = settings.prompts.value;
    }
    let path = journal.path().to_owned();
    let ears = match opened.ears {
        Some(ready) => Some(ready(&session, &state, &journal.clips())?),
        None => None,
    };
    screen::outlive_terminal();
    let (send, typed) = unbounded();
    for (source, role) in opened.keys {
        keys::follow(source, role, send.clone()).into_diagnostic()?;
    }
    let words = Arc::new(worded()?.for_keys_alone(ears.is_none()));
    let screen = open_screen(settings, Arc::clone(&words), send)?;
    let meter = meter_line(settings, &session)?;
    let mut live = Live {
        session,
        words,
        state,
        journal,
        voice: opened.voice,
        screen,
        ears,
        headset: settings.headset.value,
        meter,
        saying: live::Saying::default(),
        talking: live::Talking::new(settings.talk.value == Talk::Push),
        reminder: Some(settings.reminder.value)
            .filter(|seconds| *seconds > 0)
            .map(|seconds| jiff::SignedDuration::from_secs(i64::from(seconds))),
        clock: live::Clock::default(),
    };
    if let Some(notice) = &opened.notice {
        live.screen.notice(notice);
    }
    live.screen.journal(&path.display().to_string());
    let done = live.run(&typed);
    // Ears hold the microphone and a thread: they end here, before the report is written.
    drop(live);
    match done {
        Ok(End::Concluded) => conclude(&path),
        Ok(End::Left) => {
            print(&format!("\nGo on with: bothhands resume {}", path.display()));
            Ok(ExitCode::SUCCESS)
        }
        Err(error) => Err(miette::Report::msg(error)
            .wrap_err(format!("the session broke off; go on with: bothhands resume {}", path.display()))),
    }
}

/// The meter on a line, where the settings name one. What is the matter with it is told while the session runs: it goes on without.
fn meter_line(settings: &Settings, session: &Session) -> miette::Result<Option<live::MeterLine>> {
    let Some(port) = settings.meter_port.value.clone() else { return Ok(None) };
    let settings =
        scpi::Settings { port, baud: settings.meter_baud.value, query: settings.meter_query.value };
    let port = scpi::Port::start(settings, Arc::clone(&session.meter)).into_diagnostic()?;
    Ok(Some(live::MeterLine::new(port)))
}

/// Leaves the record of a concluded session behind, and says what it came to.
pub(super) fn conclude(path: &Path) -> miette::Result<ExitCode> {
    let words = words()?;
    let record = record(path)?;
    let html = leave(path, &record, &words)?;
    // Last, so that it is what stands on the terminal: what it came to, and where the record lies.
    print("");
    for line in session::conclusion(&record.judgement) {
        print(&words.text(&line));
    }
    let (shown, page) = (path.display().to_string(), html.display().to_string());
    print("");
    if let Some(hash) = record.mark.clone() {
        print(&words.text(&Label::Mark { hash }));
    }
    print(&words.text(&Label::Journal { path: shown }));
    print(&words.text(&Label::Report { path: page }));
    super::profile::leave_learned(path, &record, &words)?;
    Ok(ExitCode::SUCCESS)
}

/// The record of a journal.
pub(super) fn record(path: &Path) -> miette::Result<report::Record> {
    Ok(live::record(&journal::read(path)?, grammar()?)?)
}

/// Prints the summary of a record and writes its page beside the journal; where that lies.
pub(super) fn leave(journal: &Path, record: &report::Record, words: &Words) -> miette::Result<PathBuf> {
    let folder = journal.parent().unwrap_or(Path::new("."));
    let html = report::save(folder, record, words).into_diagnostic()?.html;
    print(&format!("\n{}", report::text(record, words)));
    Ok(html)
}

/// Whether something could not be written to standard output.
static UNWRITTEN: AtomicBool = AtomicBool::new(false);

/// Prints a line. An output that takes nothing is no reason to break off what is being saved: it is told at the end, by
/// [`unwritten`]. That nobody reads to the end (`| head`) is no failure.
pub(super) fn print(text: &str) {
    let mut output = std::io::stdout().lock();
    if let Err(error) = writeln!(output, "{text}").and_then(|()| output.flush())
        && error.kind() != std::io::ErrorKind::BrokenPipe
    {
        UNWRITTEN.store(true, Ordering::Relaxed);
    }
}

/// Whether some line that was to be printed was not.
pub(super) fn unwritten() -> bool {
    UNWRITTEN.load(Ordering::Relaxed)
}

/// The full screen where both ends are a terminal, else plain lines.
fn open_screen(
    settings: &Settings,
    words: Arc<Words>,
    typed: Sender<Input>,
) -> miette::Result<Box<dyn Screen>> {
    let terminal = std::io::stdin().is_terminal() && std::io::stdout().is_terminal();
    if settings.plain.value || !terminal {
        send_lines(typed);
        let values = std::env::var_os(screen::VALUES_VARIABLE).is_some();
        return Ok(Box::new(Plain::new(std::io::stdout(), words).with_values(values)));
    }
    let full = Full::start(Look { colour: settings.colour.value }, words, typed)
        .into_diagnostic()
        .wrap_err("the terminal cannot be filled; with --plain it is written line by line")?;
    Ok(Box::new(full))
}

/// Lines typed on standard input, from a thread of their own. The channel closes when the input does.
pub(super) fn send_lines(send: Sender<Input>) {
    thread::spawn(move || {
        for line in std::io::stdin().lock().lines().map_while(Result::ok) {
            // Keys of a terminal that is not ours to draw on come as control signs: shown, they would move its cursor.
            let line = line
                .chars()
                .map(|sign| if sign.is_control() && sign != '\t' { '\u{fffd}' } else { sign })
                .collect();
            if send.send(Input::Line(line)).is_err() {
                return;
            }
        }
        let _ = send.send(Input::Ended);
    });
}

/// A session over a profile and a meter, in which every gate's phrase means that gate alone.
pub(super) fn session(
    profile: crate::profile::Profile,
    meter: crate::profile::Meter,
    grammar: Grammar,
) -> miette::Result<Session> {
    let clash = match Session::new(profile, meter, grammar) {
        Ok(session) => return Ok(session),
        Err(clash) => clash,
    };
    Err(clashes(&clash)?)
}

/// A sound device that swallows everything (ALSA's `null`): it is there, and no voice or microphone comes of it.
#[cfg(feature = "voice")]
pub(super) fn is_null_device(name: &str) -> bool {
    name.contains("Discard all samples")
}

/// The refusal of a gate's phrase that means something else as well.
pub(super) fn clashes(clash: &PhraseClash) -> miette::Result<miette::Report> {
    Ok(miette::miette!(help = "choose other words for `confirm` in the profile", "{}", words()?.text(clash)))
}
