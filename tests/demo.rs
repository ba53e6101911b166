//! The main job through real sound: a simulated technician talks with the program, and what the loudspeaker said is
//! transcribed by the recogniser. Nothing here looks into the session.
#![cfg(feature = "voice")]

mod hearing;

use bothhands::hear;
use std::{path::Path, process::Command};

/// What may fail, as it may be named: the recording is decoded against all of them, so that another name would be heard.
const NAMES: [&str; 11] = [
    "coil a",
    "coil b",
    "coil c",
    "coil d",
    "coil e",
    "coil f",
    "coil g",
    "coil h",
    "pressure coil",
    "nothing found",
    "not enough",
];

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
    let heard = ending(folder.path());
    assert!(
        heard.contains("coil f failed"),
        "after the last word of the technician the loudspeaker said: {heard}"
    );
}

/// What the loudspeaker said in the seconds after the technician's last word, decoded from the recording.
fn ending(folder: &Path) -> String {
    let read = |name: &str| hear::wav::read(&folder.join(name)).unwrap();
    let (microphone, loudspeaker) = (read("microphone.wav"), read("loudspeaker.wav"));
    let last = microphone.iter().rposition(|sample| sample.abs() > 0.01).expect("the technician spoke");
    let seconds = |seconds: usize| seconds * hear::RATE as usize;
    let within = &loudspeaker[last..loudspeaker.len().min(last + seconds(8))];
    let mut phrases: Vec<String> = NAMES.iter().map(|name| format!("{name} failed")).collect();
    phrases.extend(NAMES.iter().map(|name| format!("{name} is suspect")));
    phrases.push("two point six six ohms the others five point one eight".to_owned());
    let words: Vec<String> = phrases.iter().flat_map(|phrase| phrase.split(' ')).map(str::to_owned).collect();
    let mut recognisers = hearing::model().recognisers(&phrases, &words).unwrap();
    recognisers[0].feed(&hear::audio::to_i16(within));
    recognisers[0].finish().words
}
