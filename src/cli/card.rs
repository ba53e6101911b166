//! Owns `card`: what may be said on one page, what may be typed and pressed on another.

use super::common;
use crate::{grammar::Context, keys, settings};
use clap::Args as ClapArgs;
use std::process::ExitCode;

/// Options of `card`.
#[derive(Debug, ClapArgs)]
#[command(after_help = "Example: bothhands card --profile sweeper-valve-block")]
pub struct Args {
    /// With the phrases and pins of this profile (name or file)
    #[arg(long, short, value_name = "NAME|FILE")]
    profile: Option<String>,
    /// Only the keypad, the signs that are typed, and the pedal of the settings
    #[arg(long)]
    keys: bool,
}

pub(super) fn run(args: &Args) -> miette::Result<ExitCode> {
    let grammar = common::grammar()?;
    let context = match &args.profile {
        Some(name) => {
            Context::of_profile(&crate::profile::find(name)?.in_language(common::language()?)?.value)
        }
        None => Context::default(),
    };
    let pedal = match settings::place() {
        Some(path) => settings::read(&path)?.and_then(|layer| layer.pedal),
        None => None,
    };
    let pedal = pedal.map_or_else(
        || "Foot pedal\n  none in the settings; bothhands settings --write has one to copy\n".to_owned(),
        |pedal| format!("Foot pedal\n{}", pedal.card()),
    );
    if args.keys {
        out!("{}\n{}\n{pedal}", keys::KEYPAD, keys::card());
    } else {
        out!("{}\n{}\n{}\n{pedal}", grammar.card(&context), keys::KEYPAD, keys::card());
    }
    let words = common::words()?;
    out!("");
    for caution in crate::session::EVERYWHERE {
        out!("{}", words.text(&caution));
    }
    Ok(ExitCode::SUCCESS)
}
