//! Owns `profile`: making a profile, and what editors need to know of the format.

use crate::profile;
use clap::{Args as ClapArgs, Subcommand};
use miette::IntoDiagnostic;
use std::process::ExitCode;

/// Options of `profile`.
#[derive(Debug, ClapArgs)]
pub(super) struct Args {
    #[command(subcommand)]
    what: What,
}

#[derive(Debug, Subcommand)]
enum What {
    /// Print the JSON Schema of a profile, by which editors complete and check
    #[command(after_help = "Example: bothhands profile schema > profile.schema.json\n\
                            Then, as first line of a profile: #:schema ./profile.schema.json")]
    Schema,
}

pub(super) fn run(args: &Args) -> miette::Result<ExitCode> {
    match &args.what {
        What::Schema => out!("{}", serde_json::to_string_pretty(&profile::schema()).into_diagnostic()?),
    }
    Ok(ExitCode::SUCCESS)
}
