//! Owns `verify`: what a journal proves by itself.

use super::{common, told::Told};
use crate::{journal, live};
use clap::Args as ClapArgs;
use miette::miette;
use std::{path::PathBuf, process::ExitCode};

/// Options of `verify`.
#[derive(Debug, ClapArgs)]
#[command(after_help = "Example: bothhands verify path/to/journal.jsonl --hash 3f5a0c...\n\
                  Ends with exit code 0 where nothing speaks against the journal, else 1.\n\
                  Without --hash, lines cut off at the end and a journal made anew as a whole do not show.")]
pub(super) struct Args {
    /// The journal, or its folder
    #[arg(value_name = "JOURNAL")]
    journal: PathBuf,
    /// The mark of the record as it was noted or printed then, or its first twelve digits or more
    #[arg(long, value_name = "HASH", value_parser = hash)]
    hash: Option<String>,
}

fn hash(text: &str) -> Result<String, String> {
    let digits = text.trim().to_lowercase();
    let fits = digits.len() <= 64 && digits.chars().all(|digit| digit.is_ascii_hexdigit());
    if fits && digits.len() >= journal::LEAST_DIGITS {
        return Ok(digits);
    }
    Err(format!("a mark has {} to 64 digits from 0 to 9 and a to f", journal::LEAST_DIGITS))
}

pub(super) fn run(args: &Args) -> miette::Result<ExitCode> {
    let path = journal::locate(&args.journal)?;
    let past = journal::read(&path).map_err(|error| {
        let help = format!("to get out of it what is sound: bothhands salvage {}", path.display());
        miette!(help = help, "{error}")
    })?;
    let words = common::words()?;
    let found = live::verify(&past, common::grammar()?, args.hash.as_deref())?;
    for proof in &found {
        let what = words.text(proof);
        out!("{}", if proof.is_fault() { words.text(&Told::Fault { what }) } else { what });
    }
    let faults = found.iter().filter(|proof| proof.is_fault()).count();
    if faults == 0 {
        out!("{}", words.text(&Told::Verified));
        return Ok(ExitCode::SUCCESS);
    }
    out!("{}", words.text(&Told::NotVerified { faults }));
    Ok(ExitCode::FAILURE)
}
