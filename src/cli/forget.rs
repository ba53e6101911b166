//! Owns `forget`: sound that is taken away on purpose, and what stays.

use super::{
    common::{self, Devices},
    told::Told,
};
use crate::journal::{self, JournalError};
use clap::Args as ClapArgs;
use jiff::{SignedDuration, Timestamp};
use miette::miette;
use std::{
    path::{Path, PathBuf},
    process::ExitCode,
};

/// Options of `forget`.
#[derive(Debug, ClapArgs)]
#[command(after_help = "Examples: bothhands forget path/to/journal.jsonl\n\
                        bothhands forget --older-than 90\n\
                        bothhands forget --customer \"Invented Ltd\"\n\
                        Sound is taken away for good; what was read, heard as words and said stays in the journal, and the\n\
                        journal says that it is gone. To take a whole session away, delete its folder.")]
pub(super) struct Args {
    /// The journals, or their folders
    #[arg(value_name = "JOURNAL", required_unless_present_any = ["older_than", "customer"])]
    journals: Vec<PathBuf>,
    /// All sessions that were begun more than so many days ago
    #[arg(long, value_name = "DAYS")]
    older_than: Option<u32>,
    /// All sessions of this customer
    #[arg(long, value_name = "NAME")]
    customer: Option<String>,
}

pub(super) fn run(args: &Args) -> miette::Result<ExitCode> {
    let folder = common::data_folder(&Devices::default().settle()?)?;
    let mut paths = args.journals.iter().map(|path| journal::locate(path)).collect::<Result<Vec<_>, _>>()?;
    if let Some(days) = args.older_than {
        paths.extend(older(&folder, days)?);
    }
    if let Some(customer) = &args.customer {
        for path in journal::sessions(&folder)? {
            let is_theirs = |name: &String| name.trim().eq_ignore_ascii_case(customer.trim());
            match journal::read(&path) {
                Ok(past) if past.header.details.customer.as_ref().is_some_and(is_theirs) => paths.push(path),
                Ok(_) | Err(JournalError::NoHead { .. }) => {}
                // It may be theirs: not to be passed over in silence.
                Err(error) => eprintln!("{:?}", miette!("{error}")),
            }
        }
    }
    paths.sort();
    paths.dedup();
    let words = common::words()?;
    let mut count = 0;
    for path in &paths {
        let clips = journal::forget(path)?.len();
        count += clips;
        if clips > 0 {
            let path = path.display().to_string();
            out!("{}", words.text(&Told::Forgot { path, clips }));
        }
    }
    out!("{}", words.text(&if count == 0 { Told::ForgotNothing } else { Told::ForgotRemains }));
    Ok(ExitCode::SUCCESS)
}

/// Takes the sound of sessions away that are older than so many days; 0: of none. One that is in use or damaged is left alone: it
/// is looked at again the next time.
pub(super) fn by_age(folder: &Path, days: u32) -> miette::Result<()> {
    if days == 0 {
        return Ok(());
    }
    for path in older(folder, days)? {
        match journal::forget(&path) {
            Ok(_)
            | Err(JournalError::InUse { .. } | JournalError::Line { .. } | JournalError::NoHead { .. }) => {}
            Err(error) => return Err(error.into()),
        }
    }
    Ok(())
}

/// Journals with sound that were begun more than so many days ago, by the time in their names.
fn older(folder: &Path, days: u32) -> miette::Result<Vec<PathBuf>> {
    let limit = Timestamp::now() - SignedDuration::from_hours(24 * i64::from(days));
    let limit = limit.strftime("%Y-%m-%dT%H%M%SZ").to_string();
    let mut found = Vec::new();
    for path in journal::sessions(folder)? {
        let name = path.file_stem().unwrap_or_default().to_string_lossy();
        if *name < *limit && journal::has_clips(&path)? {
            found.push(path);
        }
    }
    Ok(found)
}
