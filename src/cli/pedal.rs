//! Owns `pedal`: which devices with keys there are, and what the keys of one are called, for the settings.

use crate::keys::{self, KeySource};
use clap::Args as ClapArgs;
use miette::miette;
use std::process::ExitCode;

/// Options of `pedal`.
#[derive(Debug, ClapArgs)]
#[command(after_help = "Example: bothhands pedal\nExample: bothhands pedal \"foot switch\"\n\
                  Example: bothhands pedal --rule \"foot switch\" | sudo tee /etc/udev/rules.d/70-my-pedal.rules")]
pub(super) struct Args {
    /// Show the keys of this device as they are pressed, until Ctrl-C: its name, a part of it, or its path
    #[arg(value_name = "DEVICE")]
    device: Option<String>,
    /// Print the udev rule that lets whoever sits at the machine read that device, without root
    #[arg(long, requires = "device")]
    rule: bool,
}

pub(super) fn run(args: &Args) -> miette::Result<ExitCode> {
    let no_device = |why: String| miette!("{why}");
    match &args.device {
        Some(name) if args.rule => {
            out!("{}", keys::access_rule(name).map_err(no_device)?);
            Ok(ExitCode::SUCCESS)
        }
        None => {
            let names = keys::device_names().map_err(no_device)?;
            if names.is_empty() {
                out!("No device with keys is there.");
            }
            for (path, name) in names {
                out!("{:<22}{name}", path.display());
            }
            Ok(ExitCode::SUCCESS)
        }
        Some(name) => {
            let mut stream = keys::Wanted::new(name).open().map_err(no_device)?;
            out!("Press its keys; Ctrl-C ends.");
            loop {
                for event in stream.read().map_err(no_device)? {
                    if event.value == 1 {
                        out!("{}", keys::key_name(event.code));
                    }
                }
            }
        }
    }
}
