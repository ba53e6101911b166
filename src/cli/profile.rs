//! Owns `profile`: making a profile, and what editors need to know of the format.

use super::common;
use crate::{
    making::{self, Dialogue, Draft, LearnedWords, NewPart, Taken},
    profile,
    quantity::Celsius,
    report::Record,
    words::Words,
};
use clap::{Args as ClapArgs, Subcommand};
use miette::{Context, IntoDiagnostic, miette};
use std::{
    io::{BufRead, Write},
    path::{Path, PathBuf},
    process::ExitCode,
};

/// The profile that a session taught, beside its journal.
const LEARNED: &str = "learned.toml";

/// Options of `profile`.
#[derive(Debug, ClapArgs)]
pub(super) struct Args {
    #[command(subcommand)]
    what: What,
}

impl Args {
    /// A new profile by questions.
    pub(super) fn questions() -> Self {
        Self {
            what: What::New(New {
                from: None,
                to: None,
                title: None,
                source: None,
                common: None,
                kind: None,
            }),
        }
    }
}

#[derive(Debug, Subcommand)]
enum What {
    /// Make a profile: by questions, or from a table of pins
    New(New),
    /// Print the JSON Schema of a profile, by which editors complete and check
    #[command(after_help = "Example: bothhands profile schema > profile.schema.json\n\
                            Then, as first line of a profile: #:schema ./profile.schema.json")]
    Schema,
}

#[derive(Debug, ClapArgs)]
#[command(
    after_help = "The table's first line names its columns: pin and name are needed; against, kind (coil, resistor, wire, bus), reads\n\
                  (5.2 ohm +- 8 %), tolerance, like and connector may be there.\n\
                  Example: bothhands profile new\n\
                  Example: bothhands profile new --from pins.csv --common 16 --kind coil"
)]
struct New {
    /// Take it from a table (CSV) instead of asking
    #[arg(long, value_name = "FILE")]
    from: Option<PathBuf>,
    /// Write it there, instead of into your folder of profiles
    #[arg(long, value_name = "FILE")]
    to: Option<PathBuf>,
    /// With --from: what the part is called; left out: as the table's file
    #[arg(long, value_name = "TEXT", requires = "from")]
    title: Option<String>,
    /// With --from: where the figures come from
    #[arg(long, value_name = "TEXT", requires = "from")]
    source: Option<String>,
    /// With --from: the pin that one probe stays on, where the table has no column for it
    #[arg(long, value_name = "PIN", requires = "from")]
    common: Option<String>,
    /// With --from: what the circuits are made of, where the table has no column for it
    #[arg(long, value_name = "coil|resistor|wire|bus", requires = "from")]
    kind: Option<String>,
}

pub(super) fn run(args: &Args) -> miette::Result<ExitCode> {
    match &args.what {
        What::Schema => {
            out!("{}", serde_json::to_string_pretty(&profile::schema()).into_diagnostic()?);
            Ok(ExitCode::SUCCESS)
        }
        What::New(new) => make(new),
    }
}

fn make(new: &New) -> miette::Result<ExitCode> {
    let words = common::words()?;
    let draft = match &new.from {
        Some(path) => from_table(new, path, &words)?,
        None => match asked(&words)? {
            Some(draft) => draft,
            None => return Err(miette!("{}", words.text(&NewPart::Unfinished))),
        },
    };
    let path = write(&draft, new.to.as_deref(), &words)?;
    out!("{}", words.text(&NewPart::Written { path: path.display().to_string() }));
    let profile = if new.to.is_some() { path.display().to_string() } else { draft.id() };
    out!("{}", words.text(&NewPart::StartWith { profile }));
    Ok(ExitCode::SUCCESS)
}

fn from_table(new: &New, path: &Path, words: &Words) -> miette::Result<Draft> {
    let text = std::fs::read_to_string(path)
        .into_diagnostic()
        .wrap_err_with(|| format!("the table {} cannot be read", path.display()))?;
    let stem = path.file_stem().map(|stem| stem.to_string_lossy().into_owned()).unwrap_or_default();
    let taken = Taken {
        title: new.title.clone().unwrap_or(stem),
        source: new.source.clone().unwrap_or_else(|| words.text(&NewPart::OwnMeasurements)),
        common: new.common.clone(),
        kind: new.kind.clone(),
    };
    making::table(&text, &taken).map_err(|faults| {
        let lines: Vec<String> = faults.iter().map(|fault| words.text(fault)).collect();
        miette!("{}: {}", path.display(), lines.join("\n"))
    })
}

/// The draft of a dialogue on standard input; none where the input ended before it.
fn asked(words: &Words) -> miette::Result<Option<Draft>> {
    let mut dialogue = Dialogue::new(&words.text(&NewPart::OwnMeasurements));
    out!("{}", words.text(&NewPart::Hello));
    let mut lines = std::io::stdin().lock().lines();
    while let Some(question) = dialogue.question() {
        out!("{}", words.text(&NewPart::Asked(question)));
        let Some(line) = lines.next() else { return Ok(None) };
        if let Some(told) = dialogue.answer(&line.into_diagnostic()?) {
            out!("{}", words.text(&told));
        }
    }
    Ok(dialogue.done().cloned())
}

/// Leaves the profile beside a journal that the session taught, where nobody had described the part, and says so.
pub(super) fn leave_learned(journal: &Path, record: &Record, words: &Words) -> miette::Result<()> {
    if !record.profile.families_from_readings {
        return Ok(());
    }
    let session = record.session.clone();
    let pins = record.profile.connector.pins.len();
    let learned_words = LearnedWords {
        title: record.job.clone().unwrap_or_else(|| words.text(&NewPart::LearnedTitle { pins })),
        source: words.text(&NewPart::LearnedSource { session: session.clone() }),
        comment: words.text(&NewPart::LearnedComment { session }),
    };
    let said = record.temperatures.last().and_then(|said| said.interval);
    // What is known within ten degrees; else the limits are said to hold at the usual temperature.
    let close = said
        .map(|interval| (interval.low.get(), interval.high.get()))
        .filter(|(low, high)| high - low <= 10.0);
    let temperature = close.and_then(|(low, high)| Celsius::new(f64::midpoint(low, high)).ok());
    let Some(mut draft) = making::learned(&record.profile, &record.judgement, temperature, &learned_words)
    else {
        return Ok(());
    };
    if draft.checked().is_err() {
        // A job may be called in ways that no title can.
        draft.title = words.text(&NewPart::LearnedTitle { pins });
        draft
            .checked()
            .map_err(|_| miette!("the learned profile breaks a rule of profiles; the record is whole"))?;
    }
    let path = write(&draft, Some(&journal.with_file_name(LEARNED)), words)?;
    out!("{}", words.text(&NewPart::Learned { path: path.display().to_string() }));
    out!("{}", words.text(&NewPart::StartWith { profile: path.display().to_string() }));
    Ok(())
}

/// Writes a draft as a profile, never over another file, and gives its path.
pub(super) fn write(draft: &Draft, to: Option<&Path>, words: &Words) -> miette::Result<PathBuf> {
    let folder = || profile::personal_folder().map(|folder| folder.join(format!("{}.toml", draft.id())));
    let path = match to {
        Some(path) => path.to_owned(),
        None => {
            folder().ok_or_else(|| miette!("there is no folder for profiles here: name a file with --to"))?
        }
    };
    if let Some(folder) = path.parent().filter(|folder| !folder.as_os_str().is_empty()) {
        std::fs::create_dir_all(folder)
            .into_diagnostic()
            .wrap_err_with(|| format!("the folder {} cannot be made", folder.display()))?;
    }
    let mut file = match std::fs::File::create_new(&path) {
        Ok(file) => file,
        Err(fault) if fault.kind() == std::io::ErrorKind::AlreadyExists => {
            return Err(miette!("{}", words.text(&NewPart::Exists { path: path.display().to_string() })));
        }
        Err(fault) => {
            return Err(fault)
                .into_diagnostic()
                .wrap_err_with(|| format!("{} cannot be written", path.display()));
        }
    };
    file.write_all(draft.text().as_bytes())
        .and_then(|()| file.sync_all())
        .into_diagnostic()
        .wrap_err_with(|| format!("{} cannot be written", path.display()))?;
    Ok(path)
}
