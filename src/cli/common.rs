//! Owns what several commands share: loading, opening the devices, running a session, and what is left behind after it.

use crate::{
    grammar::Grammar,
    journal::{self, Journal},
    live::{self, Ears, Live},
    report,
    screen::Plain,
    session::{End, Session, State},
    speak::{Silent, Voice},
};
use clap::Args as ClapArgs;
use crossbeam_channel::{Receiver, unbounded};
use miette::IntoDiagnostic;
use std::{
    io::BufRead,
    path::{Path, PathBuf},
    process::ExitCode,
    sync::Arc,
    thread,
};

/// Options about devices that running and resuming share.
#[derive(Debug, Clone, ClapArgs)]
pub(super) struct Devices {
    /// Use keys alone: no microphone, no voice
    #[arg(long)]
    pub keys: bool,
    /// Show plain lines, one after the other, instead of the large view
    #[arg(long)]
    pub plain: bool,
    /// Show the lines without speaking them
    #[arg(long)]
    pub silent: bool,
    /// The voice goes to a headset: keep listening while it speaks, and stop it when you speak
    #[arg(long)]
    pub headset: bool,
    /// The microphone, by its name or a part of it
    #[arg(long, value_name = "NAME")]
    pub microphone: Option<String>,
    /// Folder of a vosk model to listen with, instead of the one that comes along
    #[arg(long, value_name = "DIR", env = "BOTHHANDS_MODEL")]
    pub model: Option<PathBuf>,
    /// Pace of the voice, from -100 (slow) to 100 (fast)
    #[arg(long, value_name = "PACE", default_value_t = 20, allow_negative_numbers = true,
          value_parser = clap::value_parser!(i8).range(-100..=100))]
    pub pace: i8,
    /// Where journals are kept (in `sessions` below it), instead of the usual place for data
    #[arg(long, value_name = "DIR", env = "BOTHHANDS_DATA")]
    pub data: Option<PathBuf>,
}

impl Devices {
    /// The folder that journals are kept in.
    pub fn data_folder(&self) -> miette::Result<PathBuf> {
        match &self.data {
            Some(folder) => Ok(folder.join("sessions")),
            None => Ok(journal::default_folder()?),
        }
    }

    /// How this session is spoken to, for the journal's head.
    pub fn ways(&self) -> String {
        if self.keys { "keys" } else { "voice and keys" }.to_owned()
    }
}

/// The words of the program's language.
pub(super) fn grammar() -> miette::Result<Grammar> {
    Ok(Grammar::builtin("en")?)
}

/// Ears and voice, opened before anything is written: what is missing refuses early.
pub(super) struct Opened {
    ears: Option<ReadyEars>,
    voice: Box<dyn Voice>,
    notice: Option<String>,
}

/// Makes ears once the folder for clips is known.
pub(super) type ReadyEars = Box<dyn FnOnce(&Session, &State, &Path) -> miette::Result<Box<dyn Ears>>>;

/// Opens what the options ask for.
pub(super) fn open(devices: &Devices) -> miette::Result<Opened> {
    if devices.keys {
        return Ok(Opened { ears: None, voice: Box::<Silent>::default(), notice: None });
    }
    #[cfg(feature = "voice")]
    {
        let ears = super::ears::prepare(devices)?;
        let (voice, notice) = if devices.silent {
            (Box::<Silent>::default() as Box<dyn Voice>, None)
        } else {
            match crate::speak::SystemVoice::start(f32::from(devices.pace)) {
                Ok(voice) => (Box::new(voice) as Box<dyn Voice>, None),
                Err(error) => {
                    let text = format!("There is no voice ({error}); the lines are shown only.");
                    (Box::<Silent>::default() as Box<dyn Voice>, Some(text))
                }
            }
        };
        Ok(Opened { ears: Some(ears), voice, notice })
    }
    #[cfg(not(feature = "voice"))]
    Err(miette::miette!(
        help = "add --keys, or build with the feature `voice`",
        "this build has neither ears nor voice"
    ))
}

/// Runs a session to its end and leaves report and summary behind.
pub(super) fn lead(
    devices: &Devices,
    session: Session,
    state: State,
    journal: Journal,
    opened: Opened,
) -> miette::Result<ExitCode> {
    let path = journal.path().to_owned();
    let ears = match opened.ears {
        Some(ready) => Some(ready(&session, &state, &journal.clips())?),
        None => None,
    };
    let mut live = Live {
        session,
        state,
        journal,
        voice: opened.voice,
        screen: Box::new(Plain::new(std::io::stdout())),
        ears,
        headset: devices.headset,
        saying: live::Saying::default(),
    };
    if let Some(notice) = &opened.notice {
        live.screen.notice(notice);
    }
    live.screen.notice(&format!("Journal: {}", path.display()));
    let done = live.run(&typed_lines());
    // Ears hold the microphone and a thread: they end here, before the report is written.
    drop(live);
    match done {
        Ok(End::Concluded) => {
            let html = leave_report(&path)?;
            println!("\nJournal: {}\nReport:  {}", path.display(), html.display());
            Ok(ExitCode::SUCCESS)
        }
        Ok(End::Left) => {
            println!("\nGo on with: bothhands resume {}", path.display());
            Ok(ExitCode::SUCCESS)
        }
        Err(error) => Err(miette::Report::msg(error)
            .wrap_err(format!("the session broke off; go on with: bothhands resume {}", path.display()))),
    }
}

/// The record of a journal.
pub(super) fn record(path: &Path) -> miette::Result<report::Record> {
    Ok(live::record(&journal::read(path)?, grammar()?)?)
}

/// Prints the summary of a journal and writes its page beside it.
pub(super) fn leave_report(journal: &Path) -> miette::Result<PathBuf> {
    let record = record(journal)?;
    println!("\n{}", report::text(&record));
    let folder = journal.parent().unwrap_or(Path::new("."));
    Ok(report::save(folder, &record).into_diagnostic()?.html)
}

/// Lines typed on standard input, from a thread of their own. The channel closes when the input does.
fn typed_lines() -> Receiver<String> {
    let (send, lines) = unbounded();
    thread::spawn(move || {
        for line in std::io::stdin().lock().lines() {
            let Ok(line) = line else { return };
            if send.send(line).is_err() {
                return;
            }
        }
    });
    lines
}

/// A session over a profile and a meter.
pub(super) fn session(
    profile: crate::profile::Profile,
    meter: crate::profile::Meter,
    grammar: Grammar,
) -> Session {
    Session { profile: Arc::new(profile), meter: Arc::new(meter), grammar: Arc::new(grammar) }
}
