//! Owns `papers`, hidden: manual pages and completions out of the command line itself, for whoever makes a package.

use super::Cli;
use clap::{Args as ClapArgs, CommandFactory};
use clap_complete::{Shell, generate_to};
use miette::IntoDiagnostic;
use std::{
    fs,
    path::{Path, PathBuf},
    process::ExitCode,
};

/// Options of `papers`.
#[derive(Debug, ClapArgs)]
pub(super) struct Args {
    /// The folder that is installed as `share`
    share: PathBuf,
}

/// Where each shell looks, below `share`, and what the file is called there.
const SHELLS: [(Shell, &str, &str); 3] = [
    (Shell::Bash, "bash-completion/completions", "bothhands"),
    (Shell::Zsh, "zsh/vendor-completions", "_bothhands"),
    (Shell::Fish, "fish/vendor_completions.d", "bothhands.fish"),
];

pub(super) fn run(args: &Args) -> miette::Result<ExitCode> {
    let folder = |below: &str| {
        let path = args.share.join(below);
        fs::create_dir_all(&path).into_diagnostic().map(|()| path)
    };
    let pages = folder("man/man1")?;
    // Hidden commands have no page; that of `help` would only say what each page says.
    let command = Cli::command().disable_help_subcommand(true);
    clap_mangen::generate_to(command.clone(), &pages).into_diagnostic()?;
    for (shell, below, name) in SHELLS {
        let made = generate_to(shell, &mut command.clone(), "bothhands", folder(below)?).into_diagnostic()?;
        rename(&made, name)?;
    }
    Ok(ExitCode::SUCCESS)
}

fn rename(made: &Path, name: &str) -> miette::Result<()> {
    fs::rename(made, made.with_file_name(name)).into_diagnostic()
}
