//! The main job through real sound: a simulated technician talks with the program, and what the loudspeaker said is
//! transcribed by the recogniser. Nothing here looks into the session.
#![cfg(feature = "voice")]

mod hearing;

use bothhands::hear;
use std::{path::Path, process::Command};

/// Spoken lines that end a session; the loudspeaker's recording is decoded against them and against other endings.
const ENDINGS: [&str; 6] =
    ["coil c failed", "coil d failed", "coil e failed", "coil f failed", "coil g failed", "nothing found"];

#[test]
fn the_failed_coil_is_named_aloud_at_the_end_of_the_demo() {
    let folder = tempfile::tempdir().unwrap();
    let output = Command::new(assert_cmd::cargo::cargo_bin("bothhands"))
        .args(["demo", "--data"])
        .arg(folder.path())
        .arg("--record")
        .arg(folder.path())
        .output()
        .unwrap();
    let shown = String::from_utf8_lossy(&output.stdout);
    assert!(output.status.success(), "{shown}\n{}", String::from_utf8_lossy(&output.stderr));
    assert!(shown.contains("result   Coil F failed"), "{shown}");
    let heard = spoken(&folder.path().join("loudspeaker.wav"));
    assert!(heard.contains("coil f failed"), "the loudspeaker said: {heard}");
    assert!(!heard.contains("coil e failed") && !heard.contains("nothing found"), "{heard}");
}

/// What the first opinion makes of a recording, all stretches together.
fn spoken(file: &Path) -> String {
    let mut samples = hear::wav::read(file).unwrap();
    // The end is enough, and far quicker: the last two minutes.
    samples.drain(..samples.len().saturating_sub(2 * 60 * hear::RATE as usize));
    let mut phrases = hearing::phrases();
    phrases.extend(ENDINGS.map(str::to_owned));
    let mut words = hearing::words();
    words.extend(ENDINGS.iter().flat_map(|ending| ending.split(' ')).map(str::to_owned));
    words.sort_unstable();
    words.dedup();
    let heard = hearing::hearings(hearing::events_with(&hearing::model(), samples, phrases, words));
    let stretches = heard.iter().filter_map(|hearing| hearing.opinions.first());
    stretches.map(|opinion| opinion.words.as_str()).collect::<Vec<_>>().join(" / ")
}
