//! Owns `settings`: prints what is in force and where it comes from, or writes the commented file.

use super::common::Devices;
use crate::settings::{self, SettingsError};
use clap::Args as ClapArgs;
use std::{path::PathBuf, process::ExitCode};

/// Options of `settings`.
#[derive(Debug, ClapArgs)]
#[command(after_help = "Example: bothhands settings\nExample: bothhands settings --write")]
pub(super) struct Args {
    /// Write a commented settings file, where there is none yet: in the usual place, or as FILE
    #[arg(long, value_name = "FILE", num_args = 0..=1)]
    write: Option<Option<PathBuf>>,
    #[command(flatten)]
    devices: Devices,
}

pub(super) fn run(args: &Args) -> miette::Result<ExitCode> {
    if let Some(file) = &args.write {
        let path = file.clone().or_else(settings::place).ok_or(SettingsError::NoPlace)?;
        let folder = path.parent().filter(|folder| !folder.as_os_str().is_empty() && !folder.exists());
        settings::write(&path)?;
        if let Some(folder) = folder {
            out!("Folder made: {}", folder.display());
        }
        out!("Written: {}", path.display());
        return Ok(ExitCode::SUCCESS);
    }
    let in_force = args.devices.settle()?;
    match settings::place() {
        Some(path) if path.exists() => out!("Settings file: {}\n", path.display()),
        Some(path) => out!("Settings file: none in {}\n", path.display()),
        None => out!("Settings file: none is read ({} is empty)\n", settings::VARIABLE),
    }
    for (key, value, origin) in in_force.lines() {
        out!("{key:<12}{value:<32}  {origin}");
    }
    Ok(ExitCode::SUCCESS)
}
