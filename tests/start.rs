//! The first screen as its user meets it: in a terminal (of `script`, out of Debian's bsdutils), and where there is none.
#![cfg(target_os = "linux")]

use assert_cmd::{Command, cargo::cargo_bin};

/// The program in a terminal, with these keys pressed: its exit code and what it wrote.
fn in_a_terminal(arguments: &str, keys: &str) -> (Option<i32>, String) {
    let data = tempfile::tempdir().unwrap();
    let command = format!("{} {arguments}", cargo_bin("bothhands").display());
    let done = Command::new("script")
        .args(["-q", "-e", "-c", &command, "/dev/null"])
        .env("BOTHHANDS_SETTINGS", "")
        .env("BOTHHANDS_LANGUAGE", "en")
        .env("BOTHHANDS_DATA", data.path())
        .write_stdin(keys)
        .output()
        .unwrap();
    (done.status.code(), String::from_utf8_lossy(&done.stdout).into_owned())
}

#[test]
fn alone_it_says_what_works_and_offers_what_it_can_do() {
    let (code, said) = in_a_terminal("--keys", "0");
    assert_eq!(code, Some(0), "{said}");
    for line in
        ["keys        work", "What would you like to do?", "measure a part without a profile", "0 leaves"]
    {
        assert!(said.contains(line), "{line:?} is missing in:\n{said}");
    }
}

#[test]
fn a_part_without_profile_is_asked_for_by_numbers_alone() {
    // Without a profile; twelve pins; pin 13 is not there, pin 12 is; and at the meter it is left.
    let without = if cfg!(feature = "voice") { "3" } else { "2" };
    let (code, said) = in_a_terminal("--keys", &format!("{without}12\r13\r12\r0"));
    assert_eq!(code, Some(0), "{said}");
    for line in ["How many pins", "That number is not there. From 1 to 12.", "Which meter?"] {
        assert!(said.contains(line), "{line:?} is missing in:\n{said}");
    }
}

#[test]
fn what_the_command_line_leaves_open_is_asked() {
    let (code, said) = in_a_terminal("--keys --profile sweeper-valve-block", "0");
    assert_eq!(code, Some(0), "{said}");
    assert!(said.contains("Which meter?") && !said.contains("Which part?"), "{said}");
}

/// In a pipe nothing can be asked; it is told what there is and how it is named.
#[test]
fn without_a_terminal_it_says_how_to_begin() {
    let data = tempfile::tempdir().unwrap();
    let done = Command::cargo_bin("bothhands")
        .unwrap()
        .env("BOTHHANDS_SETTINGS", "")
        .env("BOTHHANDS_LANGUAGE", "en")
        .env("BOTHHANDS_DATA", data.path())
        .arg("--keys")
        .output()
        .unwrap();
    let (said, refused) = (String::from_utf8_lossy(&done.stdout), String::from_utf8_lossy(&done.stderr));
    assert!(!done.status.success());
    assert!(said.contains("keys        work") && said.contains("--profile sweeper-valve-block"), "{said}");
    assert!(refused.contains("say which profile: --profile NAME"), "{refused}");
}
