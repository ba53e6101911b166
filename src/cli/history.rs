//! Owns `history`: sessions found again, one part beside its last time and the others, and what they teach.

use super::{
    common::{self, Devices},
    told::Told,
};
use crate::{
    history::{Comparison, Filter, Seen, Store},
    journal, live, profile, report,
};
use clap::{Args as ClapArgs, ValueEnum};
use jiff::{Timestamp, civil::Date, tz::TimeZone};
use miette::{IntoDiagnostic, WrapErr};
use serde::Serialize;
use std::{
    path::{Path, PathBuf},
    process::ExitCode,
};

/// Options of `history`.
#[derive(Debug, ClapArgs)]
#[command(after_help = "Examples: bothhands history --vehicle \"sweeper 3\" --since 2026-10-01\n\
                  bothhands history pressure sensor      (sessions in which both words stand)\n\
                  bothhands history --compare path/to/journal.jsonl\n\
                  The history is made from the journals and brought up to date each time it is asked.")]
pub(super) struct Args {
    /// Words that all have to stand in what is known of a session
    #[arg(value_name = "WORDS")]
    words: Vec<String>,
    /// The part: a profile's name
    #[arg(long, value_name = "NAME")]
    part: Option<String>,
    /// The vehicle
    #[arg(long, value_name = "TEXT")]
    vehicle: Option<String>,
    /// The order
    #[arg(long, value_name = "TEXT")]
    order: Option<String>,
    /// Begun on this day or later, as 2026-10-01
    #[arg(long, value_name = "DATE")]
    since: Option<Date>,
    /// Begun on this day or earlier
    #[arg(long, value_name = "DATE")]
    until: Option<Date>,
    /// Only sessions that have their conclusion
    #[arg(long, conflicts_with = "open")]
    concluded: bool,
    /// Only sessions that have none
    #[arg(long)]
    open: bool,
    /// At most so many, the latest first; 0: all
    #[arg(long, value_name = "COUNT", default_value_t = 20)]
    limit: u32,
    /// One session beside the last one of the same part (by its serial number, else vehicle, else job) and beside the others of
    /// its kind
    #[arg(long, value_name = "JOURNAL", conflicts_with_all = ["words", "part", "vehicle", "order", "since", "until", "concluded",
          "open", "learned"])]
    compare: Option<PathBuf>,
    /// What the circuits of a profile (name or file) read on the parts measured so far, with their spread
    #[arg(long, value_name = "NAME|FILE", conflicts_with_all = ["words", "part", "vehicle", "order", "since", "until",
          "concluded", "open"])]
    learned: Option<String>,
    /// Print as data, for programs
    #[arg(long = "as", value_name = "FORM", default_value = "text")]
    form: Form,
    /// Throw the store away and make it anew from the journals
    #[arg(long)]
    rebuild: bool,
    /// Where journals are kept (in `sessions` below it), instead of the usual place [env: BOTHHANDS_DATA]
    #[arg(long, value_name = "DIR")]
    data: Option<PathBuf>,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
enum Form {
    /// Lines
    Text,
    /// JSON
    Json,
}

/// Name of the store's file, beside the folder of sessions.
pub(super) const FILE: &str = "history.sqlite";

pub(super) fn run(args: &Args) -> miette::Result<ExitCode> {
    let settings = Devices { data: args.data.clone(), ..Devices::default() }.settle()?;
    let sessions = common::data_folder(&settings)?;
    let store = open(&sessions, args.rebuild)?;
    if let Some(journal) = &args.compare {
        let record = common::record(&journal::locate(journal)?)?;
        let found = store.compare(&record)?;
        return if args.form == Form::Json { json(&found) } else { compare(&record, &found) };
    }
    if let Some(name) = &args.learned {
        let part = profile::find(name)?.value;
        let learned = store.learned(&part, None)?;
        if args.form == Form::Json {
            return json(&learned);
        }
        let words = common::words()?;
        if learned.is_empty() {
            out!("{}", words.text(&Told::LearnedNothing { part: part.id.clone() }));
        }
        for one in &learned {
            let circuit = part.circuit(&one.circuit).map_or(String::new(), |circuit| circuit.name.clone());
            out!(
                "{}",
                words.text(&Told::Learned {
                    circuit,
                    station: one.station,
                    median: one.median,
                    spread: one.spread,
                    parts: one.parts,
                })
            );
        }
        return Ok(ExitCode::SUCCESS);
    }
    let (found, all) = store.list(&filter(args)?)?;
    if args.form == Form::Json {
        return json(&found);
    }
    list(&found, all)
}

/// The store, brought up to date; what cannot be read is told.
fn open(sessions: &Path, rebuild: bool) -> miette::Result<Store> {
    let folder = sessions.parent().unwrap_or(sessions);
    std::fs::create_dir_all(folder)
        .into_diagnostic()
        .wrap_err_with(|| format!("the folder {} cannot be made", folder.display()))?;
    let path = folder.join(FILE);
    if rebuild {
        Store::remove(&path)?;
    }
    let mut store = Store::open(&path)?;
    let grammar = common::grammar()?;
    let record_of = |path: &Path| -> Result<report::Record, String> {
        let past = journal::read(path).map_err(|error| error.to_string())?;
        live::record(&past, grammar.clone()).map_err(|error| error.to_string())
    };
    let words = common::words()?;
    let refreshed = store.refresh(sessions, &record_of, &words)?;
    for (path, why) in refreshed.unreadable {
        let path = path.display().to_string();
        eprintln!("{}", words.text(&Told::HistoryWithout { path, why }));
    }
    Ok(store)
}

fn filter(args: &Args) -> miette::Result<Filter> {
    let midnight = |date: Date| -> miette::Result<Timestamp> {
        TimeZone::system().to_timestamp(date.at(0, 0, 0, 0)).into_diagnostic()
    };
    let after = |date: Date| midnight(date.tomorrow().into_diagnostic()?);
    Ok(Filter {
        part: args.part.clone(),
        vehicle: args.vehicle.clone(),
        order: args.order.clone(),
        since: args.since.map(midnight).transpose()?,
        until: args.until.map(after).transpose()?,
        concluded: match (args.concluded, args.open) {
            (true, _) => Some(true),
            (_, true) => Some(false),
            _ => None,
        },
        text: args.words.iter().flat_map(|words| words.split_whitespace()).map(str::to_owned).collect(),
        limit: Some(args.limit).filter(|limit| *limit > 0),
    })
}

fn local(at: Timestamp) -> String {
    TimeZone::system().to_datetime(at).strftime("%Y-%m-%d %H:%M").to_string()
}

fn list(found: &[Seen], all: u64) -> miette::Result<ExitCode> {
    let words = common::words()?;
    for seen in found {
        let line = Told::HistorySession {
            begun: local(seen.begun),
            part: seen.part.clone(),
            ending: seen.ending.clone(),
            job: seen.job.clone(),
            vehicle: seen.vehicle.clone(),
            order: seen.order.clone(),
            serial: seen.part_serial.clone(),
            simulated: seen.simulated,
        };
        out!("{}", words.text(&line));
        if seen.ending == "concluded" {
            out!("    {}", seen.headline);
        }
        out!("    {}", seen.path);
    }
    out!("{}", words.text(&Told::HistoryCount { shown: found.len() as u64, all }));
    Ok(ExitCode::SUCCESS)
}

fn compare(record: &report::Record, found: &Comparison) -> miette::Result<ExitCode> {
    let words = common::words()?;
    match &found.last {
        Some(last) => {
            let (begun, headline) = (local(last.begun), last.headline.clone());
            out!("{}", words.text(&Told::LastTime { begun, headline, path: last.path.clone() }));
        }
        None => out!("{}", words.text(&Told::FirstTime { identity: found.identity.clone() })),
    }
    for one in &found.circuits {
        let name = record.profile.circuits.iter().find(|circuit| circuit.id.as_str() == one.circuit);
        let line = Told::Beside {
            circuit: name.map_or_else(|| one.circuit.clone(), |circuit| circuit.name.clone()),
            station: one.station.clone(),
            now: one.now,
            last: one.last,
            median: one.median,
            spread: one.spread,
            parts: one.parts,
            off: one.off,
        };
        out!("{}", words.text(&line));
    }
    if found.circuits.is_empty() {
        out!("{}", words.text(&Told::NothingToCompare));
    }
    Ok(ExitCode::SUCCESS)
}

fn json(value: &impl Serialize) -> miette::Result<ExitCode> {
    out!("{}", serde_json::to_string_pretty(value).into_diagnostic()?);
    Ok(ExitCode::SUCCESS)
}
