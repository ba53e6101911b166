//! Owns `trial`: how often the engine is right, on simulated parts.

use crate::verdict::trial;
use clap::Args as ClapArgs;
use miette::{IntoDiagnostic, WrapErr};
use std::{path::PathBuf, process::ExitCode};

/// Options of `trial`.
#[derive(Debug, ClapArgs)]
#[command(after_help = "Example: bothhands trial --seed 1 --parts 200 --held --plot trial.svg")]
pub(super) struct Args {
    /// Where the random numbers start: the same seed gives the same parts
    #[arg(long, default_value_t = 1)]
    seed: u64,
    /// Faulty parts of each world, kind and size of fault; sound ones are six times as many
    #[arg(long, default_value_t = 100, value_parser = clap::value_parser!(u32).range(1..=100_000))]
    parts: u32,
    /// Also the worlds held apart: nothing is tuned on them, so look at them last
    #[arg(long)]
    held: bool,
    /// Print all figures as JSON instead of a table
    #[arg(long)]
    json: bool,
    /// Also draw what is named right against fault size into this SVG file
    #[arg(long, value_name = "FILE")]
    plot: Option<PathBuf>,
}

pub(super) fn run(args: &Args) -> miette::Result<ExitCode> {
    let results = trial::run(args.seed, args.parts as usize, args.held);
    if let Some(path) = &args.plot {
        std::fs::write(path, trial::plot(&results))
            .into_diagnostic()
            .wrap_err_with(|| format!("{} cannot be written", path.display()))?;
    }
    let out = if args.json {
        serde_json::to_string_pretty(&results).into_diagnostic()? + "\n"
    } else {
        trial::markdown(&results)
    };
    super::judge::print(&out)
}
