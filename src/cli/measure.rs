//! Owns `measure`: a folder of clips whose words are known goes through the ears, and what came of them is counted.

use super::common;
use crate::{
    grammar::Context,
    hear::{Model, ModelFolder, files},
    measure::{
        Scored, Tally, list,
        run::Ears,
        spoil::{Conditions, Noise},
        table,
    },
    profile,
};
use clap::{Args as ClapArgs, ValueEnum};
use miette::miette;
use serde::Serialize;
use std::{path::PathBuf, process::ExitCode, sync::Arc};

/// Options of `measure`.
#[derive(Debug, ClapArgs)]
#[command(
    after_help = "The folder has a file transcripts.tsv with a line for each clip: file, tab, the words said (none: nothing was\n\
                  said), and perhaps tab, the speaker. WAV, FLAC and Ogg Opus are read.\n\
                  Each noise is mixed in at each ratio; without --snr the clips are heard as they are.\n\
                  Example: bothhands measure clips --noise engine,babble --snr 20,10,0"
)]
pub(super) struct Args {
    /// The folder with the clips and their transcripts.tsv
    #[arg(value_name = "FOLDER")]
    folder: PathBuf,
    /// What is said in them: readings as in a session, or serial and order numbers
    #[arg(long, default_value = "reading")]
    entry: Entry,
    /// Print the figures as JSON
    #[arg(long)]
    json: bool,
    /// Print what came of every clip (with --json: inside it)
    #[arg(long)]
    clips: bool,
    /// Speech this much above the noise, in decibels; several with commas
    #[arg(long, value_name = "DB", value_delimiter = ',', allow_negative_numbers = true)]
    snr: Vec<f32>,
    /// The noise: engine, compressor, bangs, babble, hum, white, or a sound file; several with commas
    #[arg(long, value_name = "KIND|FILE", value_delimiter = ',', requires = "snr")]
    noise: Vec<String>,
    /// An echoing room in which sound takes so many seconds to fall by 60 dB
    #[arg(long, value_name = "SECONDS")]
    reverb: Option<f32>,
    /// Only these frequencies in hertz, as 300..3400
    #[arg(long, value_name = "LOW..HIGH")]
    band: Option<String>,
    /// Louder or more quietly by so many decibels
    #[arg(long, value_name = "DB", allow_negative_numbers = true, default_value_t = 0.0)]
    gain: f32,
    /// Cut off at so many decibels below the loudest sample
    #[arg(long, value_name = "DB")]
    overdrive: Option<f32>,
    /// Somebody else talks as well: a sound file
    #[arg(long, value_name = "FILE")]
    talker: Option<PathBuf>,
    /// The other one is so many decibels below the speech
    #[arg(
        long,
        value_name = "DB",
        default_value_t = 10.0,
        allow_negative_numbers = true,
        requires = "talker"
    )]
    talker_below: f32,
    /// What is random is drawn from this
    #[arg(long, value_name = "N", default_value_t = 1)]
    seed: u64,
    /// Clips that are heard at the same time; left out: one for each core, and one alone gives the truest latency
    #[arg(long, value_name = "N")]
    jobs: Option<usize>,
    /// The pins and confirmations of a profile may be said as well: its name or file
    #[arg(long, value_name = "NAME|FILE")]
    profile: Option<String>,
    /// The meter whose display is read: it says how many places a reading has
    #[arg(long, value_name = "NAME|FILE", default_value = "handheld-6000")]
    meter: String,
    /// Folder of a vosk model to listen with, instead of the one that comes along [env: BOTHHANDS_MODEL]
    #[arg(long, value_name = "DIR")]
    model: Option<PathBuf>,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum, Serialize)]
#[serde(rename_all = "kebab-case")]
enum Entry {
    Reading,
    Number,
}

/// What is printed as JSON: the figures of all conditions together, then of each.
#[derive(Serialize)]
struct Figures {
    folder: String,
    entry: Entry,
    seed: u64,
    #[serde(flatten)]
    all: Tally,
    conditions: Vec<Condition>,
}

#[derive(Serialize)]
struct Condition {
    condition: String,
    #[serde(flatten)]
    figures: Tally,
    #[serde(skip_serializing_if = "Vec::is_empty")]
    outcomes: Vec<Scored>,
}

/// Measures and prints.
pub(super) fn run(args: &Args) -> miette::Result<ExitCode> {
    let clips = list::read(&args.folder)?;
    let conditions = conditions(args)?;
    let mut context = match &args.profile {
        Some(name) => Context::of_profile(&profile::find(name)?.value),
        None => Context::default(),
    };
    context.entry = args.entry == Entry::Number;
    let meter = profile::find_meter(&args.meter)?.value;
    let model = Model::load(&ModelFolder::find(args.model.as_deref())?)?;
    let ears = Ears::new(model, common::grammar()?, context, meter);
    let jobs =
        args.jobs.unwrap_or_else(|| std::thread::available_parallelism().map_or(1, std::num::NonZero::get));
    let mut all = Vec::new();
    let mut each = Vec::new();
    for (name, conditions) in conditions {
        let outcomes = ears.hear(&clips, &conditions, args.seed, jobs)?;
        let figures = Tally::of(&outcomes);
        all.extend(outcomes.iter().cloned());
        each.push(Condition {
            condition: name,
            figures,
            outcomes: if args.clips { outcomes } else { Vec::new() },
        });
    }
    let total = Tally::of(&all);
    if args.json {
        let figures = Figures {
            folder: args.folder.display().to_string(),
            entry: args.entry,
            seed: args.seed,
            all: total,
            conditions: each,
        };
        out!("{}", serde_json::to_string_pretty(&figures).map_err(|e| miette!("{e}"))?);
        return Ok(ExitCode::SUCCESS);
    }
    for condition in &each {
        for clip in &condition.outcomes {
            let what = serde_json::to_string(&clip.what).unwrap_or_default();
            out!(
                "{}\t{}\t{}\tsaid: {}\theard: {}",
                condition.condition,
                clip.file,
                what.trim_matches('"'),
                clip.said,
                clip.heard
            );
        }
    }
    let several = each.len() > 1;
    let mut rows: Vec<(String, Tally)> = each.into_iter().map(|c| (c.condition, c.figures)).collect();
    if several {
        rows.push(("all together".to_owned(), total));
    }
    out!("{}", table::table(&rows).trim_end());
    Ok(ExitCode::SUCCESS)
}

/// Every noise at every ratio; one condition without noise where none is asked for.
fn conditions(args: &Args) -> miette::Result<Vec<(String, Conditions)>> {
    let talker = args
        .talker
        .as_deref()
        .map(|file| files::read(file).map(|sound| (Arc::from(sound), args.talker_below)))
        .transpose()?;
    let band = args.band.as_deref().map(band).transpose()?;
    let base = Conditions {
        noise: None,
        reverb_s: args.reverb,
        band,
        gain_db: args.gain,
        talker,
        clip_db: args.overdrive,
    };
    let plain: Vec<String> = [
        args.reverb.map(|s| format!("room of {s} s")),
        args.band.as_ref().map(|b| format!("{b} Hz")),
        (args.gain != 0.0).then(|| format!("{:+} dB", args.gain)),
        args.overdrive.map(|db| format!("cut off at -{db} dB")),
        args.talker.as_ref().map(|_| format!("second talker {} dB below", args.talker_below)),
    ]
    .into_iter()
    .flatten()
    .collect();
    let named = |noise: Option<String>| {
        let parts: Vec<String> = noise.into_iter().chain(plain.iter().cloned()).collect();
        if parts.is_empty() { "clean".to_owned() } else { parts.join(", ") }
    };
    if args.snr.is_empty() {
        return Ok(vec![(named(None), base)]);
    }
    let kinds = if args.noise.is_empty() { vec!["white".to_owned()] } else { args.noise.clone() };
    let mut all = Vec::new();
    for kind in &kinds {
        let noise = match kind.as_str() {
            "engine" => Noise::Engine,
            "compressor" => Noise::Compressor,
            "bangs" => Noise::Bangs,
            "babble" => Noise::Babble(Arc::from([])),
            "hum" => Noise::Hum,
            "white" => Noise::White,
            file => Noise::Recorded(Arc::from(files::read(file.as_ref())?)),
        };
        for snr in &args.snr {
            let conditions = Conditions { noise: Some((noise.clone(), *snr)), ..base.clone() };
            all.push((named(Some(format!("{kind} {snr} dB"))), conditions));
        }
    }
    Ok(all)
}

fn band(text: &str) -> miette::Result<(f32, f32)> {
    let parsed = text.split_once("..").and_then(|(low, high)| {
        let (low, high): (f32, f32) = (low.trim().parse().ok()?, high.trim().parse().ok()?);
        (low >= 0.0 && high > low && high <= 8000.0).then_some((low, high))
    });
    parsed.ok_or_else(|| {
        miette!("--band {text}: two frequencies between 0 and 8000 Hz are needed, as 300..3400")
    })
}
