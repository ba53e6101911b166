//! Owns `salvage`: a new journal of what is sound in a damaged one.

use super::{
    common::{self, Devices},
    told::{Told, ranges},
};
use crate::journal;
use clap::Args as ClapArgs;
use std::{path::PathBuf, process::ExitCode};

/// Options of `salvage`.
#[derive(Debug, ClapArgs)]
#[command(
    after_help = "Example: bothhands salvage path/to/journal.jsonl\nThe old journal is read and never written to."
)]
pub(super) struct Args {
    /// The damaged journal, or its folder
    #[arg(value_name = "JOURNAL")]
    journal: PathBuf,
    /// The folder in which the new one gets a folder of its own; left out: where journals are kept
    #[arg(long, value_name = "DIR")]
    to: Option<PathBuf>,
}

pub(super) fn run(args: &Args) -> miette::Result<ExitCode> {
    let path = journal::locate(&args.journal)?;
    let folder = match &args.to {
        Some(folder) => folder.clone(),
        None => common::data_folder(&Devices::default().settle()?)?,
    };
    let words = common::words()?;
    let rescue = journal::salvage(&path, &folder)?;
    let mut told = vec![Told::SalvagedTo {
        path: rescue.path.display().to_string(),
        kept: rescue.kept,
        clips: rescue.clips,
    }];
    if !rescue.mended.is_empty() {
        told.push(Told::LinesMended { lines: ranges(&rescue.mended) });
    }
    if rescue.lost.is_empty() {
        told.push(Told::NothingLost);
    } else {
        told.push(Told::LinesLost { lines: ranges(&rescue.lost), count: rescue.lost.len() as u64 });
    }
    told.extend((rescue.torn > 0).then_some(Told::EndLost { bytes: rescue.torn }));
    told.push(Told::OldUntouched { path: path.display().to_string() });
    for line in told {
        out!("{}", words.text(&line));
    }
    Ok(ExitCode::SUCCESS)
}
