//! Owns the plain run: a new session.

use super::common::{self, Devices};
use crate::{
    journal::{FORMAT, Header, Journal},
    profile::{self, Loaded, Profile},
    session::State,
};
use clap::Args as ClapArgs;
use miette::{IntoDiagnostic, miette};
use std::{io::IsTerminal as _, process::ExitCode};

/// Options of a plain run.
#[derive(Debug, ClapArgs)]
pub(super) struct Args {
    /// What is measured: a profile's name or file
    #[arg(long, short, value_name = "NAME|FILE")]
    profile: Option<String>,
    /// A part that nobody described: how many pins it has. Like circuits are then found from the readings
    #[arg(long, value_name = "COUNT", conflicts_with = "profile")]
    pins: Option<u16>,
    /// With --pins: the pin that one probe stays on; left out: pin 1 is read against 2, 3 against 4, and so on
    #[arg(long, value_name = "PIN", requires = "pins")]
    common: Option<u16>,
    /// What it is measured with: a meter's name or file
    #[arg(long, short, value_name = "NAME|FILE")]
    meter: Option<String>,
    /// What this job is called in the record, such as an order number
    #[arg(long, value_name = "TEXT")]
    job: Option<String>,
    #[command(flatten)]
    devices: Devices,
    /// Stamp the record as made with a simulated technician
    #[arg(long, hide = true)]
    simulated: bool,
}

pub(super) fn run(args: &Args) -> miette::Result<ExitCode> {
    let part = part(args)?;
    let meter = profile::find_meter(
        args.meter.as_deref().ok_or_else(|| missing("meter", profile::available_meters()))?,
    )?;
    let settings = args.devices.settle()?;
    let part = part.in_language(common::language()?)?;
    let grammar = common::grammar()?;
    let opened = common::open(&settings)?;
    let header = Header {
        format: FORMAT,
        program: env!("CARGO_PKG_VERSION").to_owned(),
        profile: part.value.id.clone(),
        profile_fingerprint: part.value.fingerprint.clone(),
        profile_text: part.text,
        meter: meter.value.id.clone(),
        meter_fingerprint: meter.value.fingerprint.clone(),
        meter_text: meter.text,
        job: args.job.clone(),
        ways: common::ways(&settings),
        simulated: args.simulated,
    };
    let journal = Journal::create(&common::data_folder(&settings)?, &header)?;
    let state = State::new(&part.value);
    let session = common::session(part.value, meter.value, grammar)?;
    common::lead(&settings, session, state, journal, opened)
}

/// The profile that is named, or one made for so many pins.
fn part(args: &Args) -> miette::Result<Loaded<Profile>> {
    let Some(pins) = args.pins else {
        if let Some(named) = args.profile.as_deref() {
            return Ok(profile::find(named)?);
        }
        // Somebody at a terminal can be asked; a script is told what to write.
        let asked = if std::io::stdin().is_terminal() {
            super::profile::ask_unknown(&*common::words()?)?
        } else {
            None
        };
        return asked.ok_or_else(|| missing("profile", profile::available()));
    };
    let text = profile::unknown(pins, args.common).into_diagnostic()?;
    let value = profile::parse("the unknown part", &text)?;
    Ok(Loaded { value, text, path: None })
}

fn missing(what: &str, there: Vec<profile::Available>) -> miette::Report {
    let names: Vec<String> = there.into_iter().map(|available| available.id).collect();
    miette!(
        help = format!("there are: {}; or give the path of a file", names.join(", ")),
        "say which {what}: --{what} NAME"
    )
}
