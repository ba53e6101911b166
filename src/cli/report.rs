//! Owns `report`: from a journal to its summary and page, once more.

use super::{
    common::{self, Devices},
    told::Told,
};
use crate::{
    journal, live,
    report::{self, Again, Record},
    words::Words,
};
use clap::{Args as ClapArgs, ValueEnum};
use miette::{IntoDiagnostic, miette};
use std::{
    path::{Path, PathBuf},
    process::ExitCode,
};

/// Options of `report`.
#[derive(Debug, ClapArgs)]
#[command(after_help = "Example: bothhands report path/to/journal.jsonl --as csv\n\
                  bothhands report path/to/journal.jsonl --one-file")]
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
    /// Write the page with the sound inside it, to be sent by itself (record-with-sound.html beside the journal; with --as html
    /// it is printed)
    #[arg(long)]
    one_file: bool,
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
    if args.one_file {
        return one_file(args.form, &path, &past, &record, &words);
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

/// The page with the sound inside it, and which sound is not in it.
fn one_file(
    form: Option<Form>,
    path: &Path,
    past: &journal::Past,
    record: &Record,
    words: &Words,
) -> miette::Result<ExitCode> {
    let clips = report::enclose(past);
    match form {
        None => {
            let folder = path.parent().unwrap_or(Path::new("."));
            let (page, bytes) = report::save_with_sound(folder, record, &clips, words).into_diagnostic()?;
            let enclosed = clips.iter().filter(|clip| clip.sound.is_ok()).count();
            let page = page.display().to_string();
            out!("{}", words.text(&Told::OneFile { page, kilobytes: bytes.div_ceil(1000), clips: enclosed }));
            for clip in &clips {
                if let Err(why) = clip.sound {
                    let clip = clip.name.clone();
                    out!("{}", words.text(&Told::NotEnclosed { clip, why: words.text(&why) }));
                }
            }
        }
        Some(Form::Html) => out!("{}", report::html_with_sound(record, &clips, words).trim_end_matches('\n')),
        Some(_) => {
            return Err(miette!(
                help = "leave out --as, or say --as html",
                "only the page can have sound inside it (--one-file)"
            ));
        }
    }
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
