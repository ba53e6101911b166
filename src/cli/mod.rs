//! Owns the command line: one file a command, no logic of its own.

/// Prints a line; a reader that is gone (`bothhands card | head`) is no reason to panic.
macro_rules! out {
    ($($text:tt)*) => {
        $crate::cli::common::print(&format!($($text)*))
    };
}

mod card;
mod check;
mod common;
#[cfg(feature = "voice")]
mod demo;
#[cfg(feature = "voice")]
mod ears;
mod forget;
mod history;
mod judge;
#[cfg(feature = "voice")]
mod measure;
#[cfg(feature = "papers")]
mod papers;
#[cfg(all(feature = "pedal", target_os = "linux"))]
mod pedal;
mod practise;
mod profile;
mod report;
mod resume;
mod run;
mod salvage;
mod settings;
mod sheet;
#[cfg(feature = "voice")]
mod sound_check;
mod start;
mod told;
mod trial;
mod verify;

pub use told::Told;

use clap::{Parser, Subcommand};
use std::{io::Write, process::ExitCode};

/// A pair of hands for the technician who holds both probes: says which pin is next, hears the reading, judges it.
#[derive(Debug, Parser)]
#[command(
    version,
    args_conflicts_with_subcommands = true,
    after_help = "Example: bothhands --profile sweeper-valve-block --meter handheld-6000\n\
                  Without microphone or voice: bothhands --profile sweeper-valve-block --meter handheld-6000 --keys"
)]
struct Cli {
    #[command(subcommand)]
    command: Option<Command>,
    #[command(flatten)]
    run: run::Args,
}

#[derive(Debug, Subcommand)]
enum Command {
    /// Lead through an invented part with a simulated technician, through real sound
    #[cfg(feature = "voice")]
    Demo(demo::Args),
    /// Judge readings from a file or standard input
    Judge(judge::Args),
    /// Measure on simulated parts how often the judgement is right
    Trial(trial::Args),
    /// Measure the ears on clips whose words are known
    #[cfg(feature = "voice")]
    Measure(measure::Args),
    /// Go on with a session that was broken off
    Resume(resume::Args),
    /// Check a profile, meter, model or the sound devices before they are needed
    Check(check::Args),
    /// Listen to the room and to ten numbers, and say what to change about the microphone
    #[cfg(feature = "voice")]
    SoundCheck(sound_check::Args),
    /// Practise on an invented part with hidden faults: the bench shows the meter, you conclude, it scores
    Practise(practise::Args),
    /// Make a profile, or print the schema of one for editors
    Profile(profile::Args),
    /// Make the report of a journal again
    Report(report::Args),
    /// Take the sound of sessions away for good; the journal says so
    Forget(forget::Args),
    /// Find sessions again, and compare a part with its last time and with others of its kind
    History(history::Args),
    /// Prove a journal: that it is as it was written, its clips too, and that what was said back is what came in
    Verify(verify::Args),
    /// Make a new journal of what is sound in a damaged one; the old one is not touched
    Salvage(salvage::Args),
    /// Make the form to measure by on paper, blank or with the readings of a session
    Sheet(sheet::Args),
    /// List devices with keys, and show what the keys of one are called
    #[cfg(all(feature = "pedal", target_os = "linux"))]
    Pedal(pedal::Args),
    /// Print the settings and where each comes from, or write a settings file
    Settings(settings::Args),
    /// Write manual pages and completions, for a package
    #[cfg(feature = "papers")]
    #[command(hide = true)]
    Papers(papers::Args),
    /// Print what may be said and typed
    Card(card::Args),
}

/// Runs the program and returns its exit code. Errors go to standard error, as one clear sentence each.
#[must_use]
pub fn main() -> ExitCode {
    // Fails only when it was set before, which changes nothing.
    let _ = miette::set_hook(Box::new(|_| {
        // Paths stay whole: they are there to be copied.
        Box::new(miette::MietteHandlerOpts::new().break_words(false).build())
    }));
    let cli = Cli::parse();
    let done = match cli.command {
        None => run::run(&cli.run),
        #[cfg(feature = "voice")]
        Some(Command::Demo(args)) => demo::run(&args),
        Some(Command::Judge(args)) => judge::run(&args),
        Some(Command::Trial(args)) => trial::run(&args),
        #[cfg(feature = "voice")]
        Some(Command::Measure(args)) => measure::run(&args),
        Some(Command::Resume(args)) => resume::run(&args),
        Some(Command::Check(args)) => check::run(&args),
        #[cfg(feature = "voice")]
        Some(Command::SoundCheck(args)) => sound_check::run(&args),
        Some(Command::Practise(args)) => practise::run(&args),
        Some(Command::Profile(args)) => profile::run(&args),
        Some(Command::Report(args)) => report::run(&args),
        Some(Command::Forget(args)) => forget::run(&args),
        Some(Command::History(args)) => history::run(&args),
        Some(Command::Verify(args)) => verify::run(&args),
        Some(Command::Salvage(args)) => salvage::run(&args),
        Some(Command::Sheet(args)) => sheet::run(&args),
        #[cfg(all(feature = "pedal", target_os = "linux"))]
        Some(Command::Pedal(args)) => pedal::run(&args),
        Some(Command::Settings(args)) => settings::run(&args),
        #[cfg(feature = "papers")]
        Some(Command::Papers(args)) => papers::run(&args),
        Some(Command::Card(args)) => card::run(&args),
    };
    match done {
        Ok(_) if common::unwritten() => {
            let _ = writeln!(std::io::stderr(), "{:?}", miette::miette!("standard output cannot be written"));
            ExitCode::FAILURE
        }
        Ok(code) => code,
        Err(error) => {
            // The terminal may be gone.
            let _ = writeln!(std::io::stderr(), "{error:?}");
            ExitCode::FAILURE
        }
    }
}
