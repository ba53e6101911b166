//! Owns `card`: what may be said and typed, on one page.

use super::common;
use crate::{grammar::Context, keys};
use clap::Args as ClapArgs;
use std::process::ExitCode;

/// Options of `card`.
#[derive(Debug, ClapArgs)]
#[command(after_help = "Example: bothhands card --profile sweeper-valve-block")]
pub struct Args {
    /// With the phrases and pins of this profile (name or file)
    #[arg(long, short, value_name = "NAME|FILE")]
    profile: Option<String>,
}

pub(super) fn run(args: &Args) -> miette::Result<ExitCode> {
    let grammar = common::grammar()?;
    let context = match &args.profile {
        Some(name) => Context::of_profile(&crate::profile::find(name)?.value),
        None => Context::default(),
    };
    out!("{}\n{}", grammar.card(&context), keys::card());
    Ok(ExitCode::SUCCESS)
}
