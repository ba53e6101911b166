//! An output that takes nothing is told, with an exit code other than 0, whatever the command; a reader that goes is not.
#![cfg(target_os = "linux")]

mod keyed;

use keyed::bothhands;
use std::{
    fs::{self, OpenOptions},
    path::Path,
    process::{Command, Stdio},
};

/// Every command that prints and needs no device.
fn commands(journal: &str) -> Vec<Vec<&str>> {
    vec![
        vec!["card"],
        vec!["card", "--keys"],
        vec!["settings"],
        vec!["check", "profile"],
        vec!["check", "profile", "sweeper-valve-block"],
        vec!["check", "meter", "handheld-6000"],
        vec!["check", "grammar"],
        vec!["report", journal],
        vec!["report", journal, "--as", "html"],
        vec!["report", journal, "--as", "json"],
        vec!["report", journal, "--as", "csv"],
        vec!["report", journal, "--judge-again"],
        vec!["forget", journal],
        vec!["history"],
        vec!["history", "--compare", journal],
        vec!["history", "--learned", "sweeper-valve-block"],
        vec!["verify", journal],
        vec!["salvage", journal],
        vec!["judge", "sweeper-valve-block", "-"],
        vec!["--help"],
    ]
}

#[test]
fn a_full_disk_is_told_by_every_command_that_prints() {
    let data = tempfile::tempdir().unwrap();
    let journal = data.path().join("concluded.jsonl");
    fs::copy(Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/journals/concluded.jsonl"), &journal).unwrap();
    for arguments in commands(journal.to_str().unwrap()) {
        let run = |output: Stdio| {
            let mut child = Command::new(assert_cmd::cargo::cargo_bin("bothhands"))
                .args(&arguments)
                .env("BOTHHANDS_DATA", data.path())
                .env("LC_ALL", "C.UTF-8")
                .stdin(Stdio::piped())
                .stdout(output)
                .stderr(Stdio::piped())
                .spawn()
                .unwrap();
            use std::io::Write as _;
            child.stdin.take().unwrap().write_all(b"circuit,reading\ncoil-a,5.21\n").ok();
            child.wait_with_output().unwrap()
        };
        // clap prints its help by itself and passes over what cannot be written.
        if arguments != ["--help"] {
            let full = run(OpenOptions::new().write(true).open("/dev/full").unwrap().into());
            let said = String::from_utf8_lossy(&full.stderr).into_owned();
            assert!(!full.status.success(), "{arguments:?}: {said}");
            assert!(said.contains("cannot be written"), "{arguments:?}: {said}");
        }
        let well = run(Stdio::piped());
        assert!(well.status.success(), "{arguments:?}: {}", String::from_utf8_lossy(&well.stderr));
        assert!(!well.stdout.is_empty(), "{arguments:?}");
    }
}

#[test]
fn a_reader_that_goes_is_no_failure() {
    let data = tempfile::tempdir().unwrap();
    let mut child = std::process::Command::new(assert_cmd::cargo::cargo_bin("bothhands"))
        .arg("card")
        .env("BOTHHANDS_DATA", data.path())
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .unwrap();
    drop(child.stdout.take());
    assert!(child.wait().unwrap().success());
    bothhands(data.path()).arg("card").assert().success();
}
