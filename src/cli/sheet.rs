//! Owns `sheet`: the form to measure by on paper, blank for a part or filled with what a session took.

use super::common::{self, Devices};
use crate::{journal, profile, report};
use clap::Args as ClapArgs;
use miette::{IntoDiagnostic, WrapErr};
use std::{path::PathBuf, process::ExitCode};

/// Options of `sheet`.
#[derive(Debug, ClapArgs)]
#[command(
    after_help = "Example: bothhands sheet --profile sweeper-valve-block --meter handheld-6000 --write sheet.html"
)]
pub(super) struct Args {
    /// The journal of a session, or its folder: the sheet filled with its readings
    #[arg(value_name = "JOURNAL", required_unless_present = "profile")]
    journal: Option<PathBuf>,
    /// The blank sheet of this part: a profile's name or file
    #[arg(long, short, value_name = "NAME|FILE", conflicts_with = "journal", requires = "meter")]
    profile: Option<String>,
    /// The meter that it will be measured with: a meter's name or file
    #[arg(long, short, value_name = "NAME|FILE", requires = "profile")]
    meter: Option<String>,
    /// Write the page into this file instead of printing it
    #[arg(long, value_name = "FILE")]
    write: Option<PathBuf>,
    /// The language of the sheet: en, de
    #[arg(long, value_name = "TAG")]
    language: Option<String>,
}

pub(super) fn run(args: &Args) -> miette::Result<ExitCode> {
    Devices { language: args.language.clone(), ..Devices::default() }.settle()?;
    let words = common::words()?;
    let page = match (&args.journal, &args.profile, &args.meter) {
        (Some(journal), ..) => report::filled_sheet(&common::record(&journal::locate(journal)?)?, &words),
        (None, Some(part), Some(meter)) => {
            report::sheet(&profile::find(part)?.value, &profile::find_meter(meter)?.value, &words)
        }
        _ => return Err(miette::miette!("name a journal, or a profile and a meter")),
    };
    match &args.write {
        Some(file) => journal::write_whole(file, page.as_bytes())
            .into_diagnostic()
            .wrap_err_with(|| format!("cannot write {}", file.display()))?,
        None => out!("{}", page.trim_end_matches('\n')),
    }
    Ok(ExitCode::SUCCESS)
}
