//! Owns the plain run: a new session.

use super::common::{self, Devices};
use crate::{
    journal::{FORMAT, Header, Journal},
    profile,
    session::State,
};
use clap::Args as ClapArgs;
use miette::miette;
use std::process::ExitCode;

/// Options of a plain run.
#[derive(Debug, ClapArgs)]
pub(super) struct Args {
    /// What is measured: a profile's name or file
    #[arg(long, short, value_name = "NAME|FILE")]
    profile: Option<String>,
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
    let part =
        profile::find(args.profile.as_deref().ok_or_else(|| missing("profile", profile::available()))?)?;
    let meter = profile::find_meter(
        args.meter.as_deref().ok_or_else(|| missing("meter", profile::available_meters()))?,
    )?;
    let settings = args.devices.settle()?;
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

fn missing(what: &str, there: Vec<profile::Available>) -> miette::Report {
    let names: Vec<String> = there.into_iter().map(|available| available.id).collect();
    miette!(
        help = format!("there are: {}; or give the path of a file", names.join(", ")),
        "say which {what}: --{what} NAME"
    )
}
