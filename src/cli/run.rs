//! Owns the plain run: a new session.

use super::{
    common::{self, Devices},
    start,
};
use crate::{
    journal::{FORMAT, Header, JobDetails, Journal},
    profile::{self, Loaded, Profile},
    session::State,
    settings::Settings,
    start::Part,
};
use clap::Args as ClapArgs;
use miette::{IntoDiagnostic, miette};
use std::process::ExitCode;

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
    about: About,
    #[command(flatten)]
    pub(super) devices: Devices,
    /// Stamp the record as made with a simulated technician
    #[arg(long, hide = true)]
    simulated: bool,
}

/// What else the record says of the job.
#[derive(Debug, Clone, Default, ClapArgs)]
#[command(next_help_heading = "For the record")]
struct About {
    /// Who measures
    #[arg(long, value_name = "NAME")]
    technician: Option<String>,
    /// The customer
    #[arg(long, value_name = "NAME")]
    customer: Option<String>,
    /// The vehicle: number plate, fleet number or identification number
    #[arg(long, value_name = "TEXT")]
    vehicle: Option<String>,
    /// The order
    #[arg(long, value_name = "TEXT")]
    order: Option<String>,
    /// Serial number of the part
    #[arg(long, value_name = "TEXT")]
    part_serial: Option<String>,
    /// Serial number of the meter
    #[arg(long, value_name = "TEXT")]
    meter_serial: Option<String>,
    /// When the meter was calibrated last, as 2026-03-31
    #[arg(long, value_name = "DATE")]
    meter_calibrated: Option<jiff::civil::Date>,
}

impl About {
    /// What the options say, else the settings.
    fn details(&self, settings: &Settings) -> JobDetails {
        let or = |given: &Option<String>, set: &Option<String>| given.clone().or_else(|| set.clone());
        JobDetails {
            technician: or(&self.technician, &settings.technician.value),
            customer: self.customer.clone(),
            vehicle: self.vehicle.clone(),
            order: self.order.clone(),
            part_serial: self.part_serial.clone(),
            meter_serial: or(&self.meter_serial, &settings.meter_serial.value),
            meter_calibrated: self.meter_calibrated.or(settings.meter_calibrated.value),
        }
    }
}

pub(super) fn run(args: &Args) -> miette::Result<ExitCode> {
    let part = match args.pins {
        Some(count) => Some(Part::Pins { count, common: args.common }),
        None => args.profile.clone().map(Part::Profile),
    };
    let named = part.is_some() || args.meter.is_some();
    let (part, meter) = match (part, args.meter.clone()) {
        (None, None) if start::can_ask() => return start::run(args),
        (Some(part), Some(meter)) => (part, meter),
        (part, meter) if start::can_ask() => match start::rest(&args.devices, part, meter)? {
            Some(both) => both,
            None => return Ok(ExitCode::SUCCESS),
        },
        (part, _) => {
            if !named {
                start::without_terminal(&args.devices)?;
            }
            return Err(match part {
                None => missing("profile", profile::available()),
                Some(_) => missing("meter", profile::available_meters()),
            });
        }
    };
    session(args, part, &meter)
}

/// A session over a part and a meter.
pub(super) fn session(args: &Args, part: Part, meter: &str) -> miette::Result<ExitCode> {
    let part = load(part)?;
    let meter = profile::find_meter(meter)?;
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
        details: args.about.details(&settings),
        zone: common::zone(),
        ways: common::ways(&settings),
        simulated: args.simulated,
    };
    let folder = common::data_folder(&settings)?;
    super::forget::by_age(&folder, settings.keep_sound.value)?;
    let journal = Journal::create(&folder, &header)?;
    let state = State::new(&part.value);
    let mut session = common::session(part.value, meter.value, grammar)?;
    session.last_time = common::last_time(&settings, &header, journal.path(), jiff::Timestamp::now())?;
    common::lead(&settings, session, state, journal, opened)
}

/// The profile that is named, or one made for so many pins.
fn load(part: Part) -> miette::Result<Loaded<Profile>> {
    let (count, common) = match part {
        Part::Profile(name) => return Ok(profile::find(&name)?),
        Part::Pins { count, common } => (count, common),
    };
    let text = profile::unknown(count, common).into_diagnostic()?;
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
