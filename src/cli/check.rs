//! Owns `check`: whatever a session will need, looked at before it is needed.

use super::common;
use crate::{
    grammar::Context,
    profile,
    settings::places::{Located, OwnFiles, Places},
};
use clap::{Args as ClapArgs, ValueEnum};
use std::{path::PathBuf, process::ExitCode};

/// Options of `check`.
#[derive(Debug, ClapArgs)]
#[command(
    after_help = "Example: bothhands check profile my-part.toml\nWithout words it checks everything that is there."
)]
pub(super) struct Args {
    /// What to check; left out: everything
    what: Option<What>,
    /// A profile's or meter's name or file, or a model's folder
    #[arg(value_name = "NAME|FILE|DIR")]
    which: Option<String>,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
enum What {
    /// A profile: every fault with line and key; and whether its words can be heard
    Profile,
    /// A meter file
    Meter,
    /// The files of what may be said
    Grammar,
    /// The speech model
    Model,
    /// Microphone and voice
    Devices,
    /// Where models, languages, profiles and the demo were found
    Files,
}

pub(super) fn run(args: &Args) -> miette::Result<ExitCode> {
    let mut bad = 0;
    let mut tell = |name: String, result: miette::Result<String>| match result {
        Ok(text) => out!("good     {name}{}{text}", if text.is_empty() { "" } else { ": " }),
        Err(error) => {
            bad += 1;
            out!("BAD      {name}: {error:?}");
        }
    };
    let all = args.what.is_none();
    let named = |what: What, available: fn() -> Vec<profile::Available>| -> Vec<String> {
        match (&args.which, args.what) {
            (Some(which), Some(asked)) if asked == what => vec![which.clone()],
            (None, Some(asked)) if asked == what => available().into_iter().map(|one| one.id).collect(),
            (_, None) => available().into_iter().map(|one| one.id).collect(),
            _ => Vec::new(),
        }
    };
    for name in named(What::Profile, profile::available) {
        tell(format!("profile {name}"), check_profile(&name, !all && args.which.is_some()));
    }
    for name in named(What::Meter, profile::available_meters) {
        tell(format!("meter {name}"), check_meter(&name));
    }
    if all || args.what == Some(What::Files) {
        let words = common::words()?;
        let places = Places::of_this_run();
        for what in OwnFiles::ALL {
            for located in places.located(what) {
                // Without voice neither the model nor the demo is needed.
                let missing = cfg!(feature = "voice") && matches!(located, Located::Missing { .. });
                let text = words.text(&located);
                tell(words.text(&what), if missing { Err(miette::miette!("{text}")) } else { Ok(text) });
            }
        }
    }
    if all || args.what == Some(What::Grammar) {
        tell("grammar en".into(), check_grammar());
    }
    if all || args.what == Some(What::Model) {
        tell("model".into(), check_model(args.which.as_ref().map(PathBuf::from)));
    }
    if all || args.what == Some(What::Devices) {
        tell("microphone".into(), check_microphone());
        tell("loudspeakers".into(), check_loudspeakers());
        tell("voice".into(), check_voice());
    }
    Ok(if bad == 0 { ExitCode::SUCCESS } else { ExitCode::FAILURE })
}

fn check_profile(name: &str, describe: bool) -> miette::Result<String> {
    let part = profile::find(name)?.in_language(common::language()?)?.value;
    let meters = profile::available_meters();
    // Any meter will do: the phrases do not depend on it.
    if let Some(meter) = meters.first() {
        let meter = profile::find_meter(&meter.id)?.value;
        common::session(part.clone(), meter, common::grammar()?)?;
    }
    let words = common::words()?;
    for doubt in profile::doubts(&part) {
        out!("WARNING  profile {name}: {}", words.text(&doubt));
    }
    Ok(if describe {
        format!("\n\n{}", profile::describe(&part))
    } else {
        format!("{} circuits, {}", part.circuits.len(), part.title)
    })
}

fn check_meter(name: &str) -> miette::Result<String> {
    let meter = profile::find_meter(name)?.value;
    Ok(format!("{} ranges, {}, {}", meter.ranges.len(), meter.category, meter.title))
}

fn check_grammar() -> miette::Result<String> {
    let grammar = common::grammar()?;
    Ok(format!("{} phrases", grammar.phrases(&Context::default()).len()))
}

#[cfg(feature = "voice")]
fn check_model(folder: Option<PathBuf>) -> miette::Result<String> {
    use crate::hear::{Model, ModelFolder};
    let given = folder.or_else(|| std::env::var_os("BOTHHANDS_MODEL").map(PathBuf::from));
    let folder = ModelFolder::find(given.as_deref())?;
    let model = Model::load(&folder)?;
    let grammar = common::grammar()?;
    let mut context = Context { metered: true, ..Context::default() };
    for available in profile::available() {
        // A faulty profile is told of where profiles are checked.
        if let Ok(found) = profile::find(&available.id) {
            context.phrases.extend(Context::of_profile(&found.value).phrases);
        }
    }
    model.check_words(grammar.phrases(&context).iter().map(String::as_str))?;
    Ok(format!("{}, knows all words that may be said", folder.path().display()))
}

#[cfg(feature = "voice")]
fn check_microphone() -> miette::Result<String> {
    let devices = crate::hear::Microphone::list()?;
    crate::hear::Microphone::new(None).check()?;
    if devices.iter().any(|device| device.is_default && common::is_null_device(&device.name)) {
        return Err(null_device());
    }
    let names = devices.iter().filter(|device| !common::is_null_device(&device.name)).map(|device| {
        if device.is_default { format!("{} (taken)", device.name) } else { device.name.clone() }
    });
    Ok(names.collect::<Vec<_>>().join(", "))
}

#[cfg(feature = "voice")]
fn check_loudspeakers() -> miette::Result<String> {
    let all = crate::speak::loudspeakers()?;
    if all.iter().any(|(name, taken)| *taken && common::is_null_device(name)) {
        return Err(null_device());
    }
    if all.iter().all(|(_, taken)| !taken) {
        out!("WARNING  loudspeakers: the system takes none of those listed; is a sound server running?");
    }
    let names = all.into_iter().filter(|(name, _)| !common::is_null_device(name));
    let names = names.map(|(name, taken)| if taken { format!("{name} (taken)") } else { name });
    Ok(names.collect::<Vec<_>>().join(", "))
}

/// The device that the system takes swallows everything.
#[cfg(feature = "voice")]
fn null_device() -> miette::Report {
    miette::miette!(
        help = "plug one in, or start the sound server",
        "the system has no device that sounds: what it takes throws all samples away"
    )
}

#[cfg(feature = "voice")]
fn check_voice() -> miette::Result<String> {
    crate::speak::system_voice(common::language()?, 0.0, None).map_err(|error| miette::miette!("{error}"))?;
    Ok("speaks".into())
}

#[cfg(not(feature = "voice"))]
fn check_model(_: Option<PathBuf>) -> miette::Result<String> {
    Ok("not part of this build".into())
}

#[cfg(not(feature = "voice"))]
fn check_microphone() -> miette::Result<String> {
    Ok("not part of this build".into())
}

#[cfg(not(feature = "voice"))]
fn check_loudspeakers() -> miette::Result<String> {
    Ok("not part of this build".into())
}

#[cfg(not(feature = "voice"))]
fn check_voice() -> miette::Result<String> {
    Ok("not part of this build".into())
}
