//! Owns `report`: from a journal to its summary and page, once more.

use super::common::{self, Devices};
use crate::{journal, report};
use clap::{Args as ClapArgs, ValueEnum};
use std::{path::PathBuf, process::ExitCode};

/// Options of `report`.
#[derive(Debug, ClapArgs)]
#[command(after_help = "Example: bothhands report path/to/journal.jsonl --as csv")]
pub(super) struct Args {
    /// The journal, or its folder
    #[arg(value_name = "JOURNAL")]
    journal: PathBuf,
    /// Print in this form instead; left out: print the summary and write the page beside the journal
    #[arg(long = "as", value_name = "FORM")]
    form: Option<Form>,
    /// The language of summary and page: en, de
    #[arg(long, value_name = "TAG")]
    language: Option<String>,
}

#[derive(Debug, Clone, Copy, ValueEnum)]
enum Form {
    /// The summary
    Text,
    /// The page
    Html,
    /// Readings as a table
    Csv,
    /// Everything, for programs
    Json,
}

pub(super) fn run(args: &Args) -> miette::Result<ExitCode> {
    Devices { language: args.language.clone(), ..Devices::default() }.settle()?;
    let words = common::words()?;
    let path = journal::locate(&args.journal)?;
    let Some(form) = args.form else {
        let (_, page) = common::leave_report(&path)?;
        out!("\nReport:  {}", page.display());
        return Ok(ExitCode::SUCCESS);
    };
    let record = common::record(&path)?;
    let text = match form {
        Form::Text => report::text(&record, &words),
        Form::Html => report::html(&record, &words),
        Form::Csv => report::csv(&record),
        Form::Json => report::json(&record),
    };
    out!("{}", text.trim_end_matches('\n'));
    Ok(ExitCode::SUCCESS)
}
