//! The program: command line in, exit code out. All logic is in the library.

use std::process::ExitCode;

fn main() -> ExitCode {
    bothhands::cli::main()
}
