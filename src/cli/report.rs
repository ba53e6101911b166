//! Owns `report`: from a journal to its summary and page, once more.

use super::common::{self, Devices};
use crate::{
    journal, live,
    report::{self, Again, Record},
    words::Words,
};
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
    /// Judge the readings again with today's engine, and show in what it differs from what was judged then
    #[arg(long)]
    judge_again: bool,
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
    let past = journal::read(&path)?;
    let mut record = live::record(&past, common::grammar()?)?;
    if args.judge_again {
        let now = live::judge_again(&past, common::grammar()?)?;
        record.again = Some(Again::of(&record, &now));
    }
    let Some(form) = args.form else {
        let page = common::leave(&path, &record, &words)?;
        out!("\n{}\n\nReport:  {}", judged(&record, &words), page.display());
        return Ok(ExitCode::SUCCESS);
    };
    let text = match form {
        Form::Text => format!("{}\n{}", report::text(&record, &words), judged(&record, &words)),
        Form::Html => report::html(&record, &words),
        Form::Csv => report::csv(&record),
        Form::Json => report::json(&record),
    };
    out!("{}", text.trim_end_matches('\n'));
    Ok(ExitCode::SUCCESS)
}

/// Who judged, and in what today's engine differs where that was asked for.
fn judged(record: &Record, words: &Words) -> String {
    let mut lines = vec![words.text(&record.judged_line())];
    if let Some(again) = &record.again {
        lines.push(words.text(&again.line()));
        lines.extend(again.differences.iter().map(|one| format!("  {}", words.text(one))));
    }
    lines.join("\n")
}
