//! Owns `judge`: readings from a file or standard input in, findings out.

use crate::{
    profile::{self, Profile},
    quantity::{Celsius, Interval},
    report,
    verdict::{self, Evidence, Leads, StoredCode, table},
};
use clap::{Args as ClapArgs, ValueEnum};
use miette::{IntoDiagnostic, WrapErr, miette};
use std::{
    io::{Read, Write as _},
    path::PathBuf,
    process::ExitCode,
};

/// Options of `judge`.
#[derive(Debug, ClapArgs)]
#[command(
    after_help = "Readings as CSV: a first line such as circuit,reading,station,contact, then one line a reading\n\
                  (5.21, 4.7 k, over range, unstable, not taken); fields may be parted by semicolons, and 5,21 is understood\n\
                  then. The readings.csv of a record is taken as it is. As JSON: the whole evidence with its leads,\n\
                  temperatures and codes, or the record.json of a record.\n\
                  Example: bothhands judge sweeper-valve-block readings.csv --meter handheld-6000 --leads 0.2 \
                  --temperature 15..25 --explain"
)]
pub(super) struct Args {
    /// What was measured: a profile's name or file
    #[arg(value_name = "PROFILE")]
    profile: String,
    /// The readings; left out or -: standard input
    #[arg(value_name = "READINGS")]
    readings: Option<PathBuf>,
    /// What it was measured with: a meter's name or file. Left out: an accuracy is assumed, and said to be
    #[arg(long, short, value_name = "NAME|FILE")]
    meter: Option<String>,
    /// How the readings are written; left out: JSON where the text begins with {, else CSV
    #[arg(long)]
    form: Option<Form>,
    /// With CSV: what the meter showed for the leads held together, in ohms, or "relative"
    #[arg(long, value_name = "OHMS|relative")]
    leads: Option<String>,
    /// With CSV: temperature of the part in °C, as 20 or 15..25. Left out: not known
    #[arg(long, value_name = "FROM..TO", allow_hyphen_values = true)]
    temperature: Option<String>,
    /// With CSV: temperature around the meter in °C, as 20 or 15..25
    #[arg(long, value_name = "FROM..TO", allow_hyphen_values = true)]
    meter_temperature: Option<String>,
    /// With CSV: a stored code and the circuit that it names, as "text=circuit", or the text alone: then the circuit is
    /// looked up among the profile's codes. May be repeated
    #[arg(long, value_name = "TEXT=CIRCUIT")]
    code: Vec<String>,
    /// Print the judgement as text with every derivation, instead of JSON
    #[arg(long)]
    explain: bool,
}

/// Longest text that is taken, in bytes: some hundred thousand readings. Chosen here, well above any part and judged within seconds.
const LARGEST: u64 = 4 << 20;

#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
enum Form {
    Csv,
    Json,
}

pub(super) fn run(args: &Args) -> miette::Result<ExitCode> {
    let profile = profile::find(&args.profile)?.in_language(super::common::language()?)?.value;
    let meter = args.meter.as_deref().map(profile::find_meter).transpose()?.map(|loaded| loaded.value);
    let (name, text) = read(args)?;
    let json = match args.form {
        Some(form) => form == Form::Json,
        None => text.trim_start().starts_with('{'),
    };
    let evidence = if json {
        if args.leads.is_some()
            || args.temperature.is_some()
            || args.meter_temperature.is_some()
            || !args.code.is_empty()
        {
            return Err(miette!(
                "leads, temperatures and codes stand in the JSON text itself: leave the options out"
            ));
        }
        report::evidence_in(&text)
            .unwrap_or_else(|| serde_json::from_str(&text))
            .into_diagnostic()
            .wrap_err_with(|| format!("{name} is no evidence as JSON"))?
    } else {
        Evidence {
            part_temperature: temperature("--temperature", args.temperature.as_deref())?,
            meter_temperature: temperature("--meter-temperature", args.meter_temperature.as_deref())?,
            leads: leads(args.leads.as_deref())?,
            measurements: table::parse(&profile, &text).into_diagnostic().wrap_err_with(|| name.clone())?,
            codes: args.code.iter().map(|code| stored(&profile, code)).collect(),
            ..Evidence::none()
        }
    };
    let judgement = verdict::judge(&profile, meter.as_ref(), &evidence).into_diagnostic().wrap_err(name)?;
    let out = if args.explain {
        report::explain(&profile, &judgement, &*super::common::words()?)
    } else {
        serde_json::to_string_pretty(&judgement).into_diagnostic()? + "\n"
    };
    print(&out)
}

/// The readings with a name for messages.
fn read(args: &Args) -> miette::Result<(String, String)> {
    match args.readings.as_deref().filter(|path| path.as_os_str() != "-") {
        Some(path) => {
            let name = path.display().to_string();
            let file = std::fs::File::open(path)
                .into_diagnostic()
                .wrap_err_with(|| format!("{name} cannot be read"))?;
            let text = limited(file, &name)?;
            Ok((name, text))
        }
        None => {
            let name = "standard input".to_owned();
            let text = limited(std::io::stdin().lock(), &name)?;
            Ok((name, text))
        }
    }
}

/// The whole text, where it is no longer than readings of a part can be.
fn limited(from: impl Read, name: &str) -> miette::Result<String> {
    let mut text = String::new();
    from.take(LARGEST + 1)
        .read_to_string(&mut text)
        .into_diagnostic()
        .wrap_err_with(|| format!("{name} cannot be read"))?;
    if text.len() as u64 > LARGEST {
        return Err(miette!(
            help = "judge one part at a time",
            "{name} is longer than {} MiB: that is more than the readings of one part",
            LARGEST >> 20
        ));
    }
    Ok(text)
}

fn leads(text: Option<&str>) -> miette::Result<Leads> {
    match text {
        None => Ok(Leads::Unknown),
        Some("relative") => Ok(Leads::Relative),
        Some(text) => Ok(Leads::Shown(
            table::shown(0, text, &text.to_lowercase().split_whitespace().collect::<Vec<_>>()).map_err(
                |_| miette!("--leads \"{text}\" is not a number of ohms such as 0.2, or \"relative\""),
            )?,
        )),
    }
}

fn temperature(option: &str, text: Option<&str>) -> miette::Result<Option<Interval<Celsius>>> {
    let Some(text) = text else { return Ok(None) };
    let wrong = || miette!("{option} \"{text}\" is not a temperature in °C such as 20, or 15..25");
    let (low, high) = text.split_once("..").unwrap_or((text, text));
    let one =
        |text: &str| text.trim().parse().ok().and_then(|value| Celsius::new(value).ok()).ok_or_else(wrong);
    Interval::new(one(low)?, one(high)?).map(Some).ok_or_else(wrong)
}

/// A code as written; one that the profile knows names the circuit that the profile says.
fn stored(profile: &Profile, text: &str) -> StoredCode {
    match text.rsplit_once('=') {
        Some((text, circuit)) => {
            StoredCode { text: text.trim().to_owned(), circuit: Some(circuit.trim().into()) }
        }
        None => {
            let known = profile.codes.iter().find(|code| code.number == text.trim());
            StoredCode { text: text.trim().to_owned(), circuit: known.map(|code| code.circuit.clone()) }
        }
    }
}

/// Writes to standard output; that nobody reads it to its end (`| head`) is no error.
pub(super) fn print(text: &str) -> miette::Result<ExitCode> {
    match std::io::stdout().lock().write_all(text.as_bytes()) {
        Err(error) if error.kind() != std::io::ErrorKind::BrokenPipe => {
            Err(error).into_diagnostic().wrap_err("standard output cannot be written")
        }
        _ => Ok(ExitCode::SUCCESS),
    }
}
