//! Owns `resume`: the state is the replay of the journal; safety, temperature and leads are taken anew.

use super::common::{self, Devices};
use crate::{
    journal::{self, Ending, Journal},
    live::{self, Replayed},
    screen::Label,
    session::{self, Phase},
};
use clap::Args as ClapArgs;
use miette::miette;
use std::{path::PathBuf, process::ExitCode};

/// Options of `resume`.
#[derive(Debug, ClapArgs)]
#[command(
    after_help = "Example: bothhands resume\nThat goes on with the last session that has no conclusion."
)]
pub(super) struct Args {
    /// The journal, or its folder; left out: the last one without a conclusion
    #[arg(value_name = "JOURNAL")]
    journal: Option<PathBuf>,
    /// Refuse if the journal is of another profile than this one (name or file)
    #[arg(long, short, value_name = "NAME|FILE")]
    profile: Option<String>,
    #[command(flatten)]
    devices: Devices,
}

pub(super) fn run(args: &Args) -> miette::Result<ExitCode> {
    let settings = args.devices.settle()?;
    let words = common::words()?;
    let past = match &args.journal {
        Some(path) => journal::read(&journal::locate(path)?)?,
        None => {
            let folder = common::data_folder(&settings)?;
            let found = journal::latest(&folder)?;
            for (path, error) in &found.passed_over {
                let path = path.display().to_string();
                out!("{}", words.text(&Label::PassedOver { path, why: error.to_string() }));
            }
            found
                .open
                .ok_or_else(|| miette!("there is no session without a conclusion in {}", folder.display()))?
        }
    };
    let path = past.path.clone();
    if let Some(name) = &args.profile {
        let part = crate::profile::find(name)?.value;
        past.require_profile(&part.id, &part.fingerprint)?;
    }
    if past.ending() == Ending::Concluded {
        return Err(miette!(
            help = "a new session starts with: bothhands --profile NAME --meter NAME",
            "{} has its conclusion already",
            path.display()
        ));
    }
    let Replayed { mut session, state, .. } = live::replay(&past, common::grammar()?)?;
    if let Err(clash) = session.check_phrases() {
        return Err(common::clashes(&clash)?);
    }
    // Ended between its last word and its closing line: only that one is missing.
    if state.phase == Phase::Ended {
        let (mut journal, _) = Journal::reopen(&path)?;
        live::close(&session, &state, &mut journal, session::End::Concluded)?;
        drop(journal);
        return common::conclude(&path);
    }
    let opened = common::open(&settings)?;
    let (journal, past) = Journal::reopen(&path)?;
    if let Some(torn) = &past.torn {
        let where_to =
            torn.saved.as_ref().map_or(String::new(), |file| format!(" and kept in {}", file.display()));
        out!("notice   The last line was cut off; it was never acknowledged. It is set aside{where_to}.");
    }
    let begun = past.lines.first().map_or(jiff::Timestamp::UNIX_EPOCH, |line| line.at);
    session.last_time = common::last_time(&settings, &past.header, &path, begun)?;
    common::lead(&settings, session, state, journal, opened)
}
