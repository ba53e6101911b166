//! Figures, not judgements: how long loading, making recognisers, decoding and the last result take, and memory.
//!
//! `cargo test --release --test hear_measure -- --ignored --nocapture`; `an_hour_of_workshop_noise` takes minutes.
#![cfg(feature = "voice")]

mod hearing;

use bothhands::hear::{Model, ModelFolder, audio::to_i16, voice::SpeechScore, wav};
use bothhands::{
    measure::spoil::{Noise, noise},
    session::Outcome,
};
use std::{
    sync::Arc,
    time::{Duration, Instant},
};

fn memory_kib() -> u64 {
    let status = std::fs::read_to_string("/proc/self/status").unwrap_or_default();
    let line = status.lines().find_map(|l| l.strip_prefix("VmRSS:")).unwrap_or("0");
    line.split_whitespace().next().and_then(|n| n.parse().ok()).unwrap_or(0)
}

fn time<T>(what: impl FnOnce() -> T) -> (T, Duration) {
    let start = Instant::now();
    (what(), start.elapsed())
}

#[test]
#[ignore = "measures, judges nothing"]
fn figures() {
    let before = memory_kib();
    let (folder, checking) = time(|| ModelFolder::find(None).unwrap());
    let (model, loading) = time(|| Model::load(&folder).unwrap());
    let loaded = memory_kib();
    let (phrases, words) = (hearing::phrases(), hearing::words());
    let (recognisers, making) = time(|| model.recognisers(&phrases, &words).unwrap());
    let mut recognisers = recognisers;
    println!(
        "files checked {checking:.1?}, model loaded {loading:.1?}, {} + {} KiB",
        before,
        loaded - before
    );
    println!("{} phrases, {} words: all recognisers made in {making:.1?}", phrases.len(), words.len());

    let mut lasts = Vec::new();
    let (mut sound, mut decoding, mut scoring) = (0.0, [Duration::ZERO; 3], Duration::ZERO);
    for clip in ["number", "digit", "command", "outside", "noise"].iter().flat_map(|k| hearing::clips(k)) {
        let samples = wav::read(&clip.file).unwrap();
        sound += samples.len() as f64 / 16_000.0;
        let mut score = SpeechScore::default();
        let (_, t) = time(|| samples.as_chunks().0.iter().map(|f| score.score(f)).sum::<f32>());
        scoring += t;
        let samples = to_i16(&samples);
        let mut last = Duration::ZERO;
        for (recogniser, sum) in recognisers.iter_mut().zip(&mut decoding) {
            for piece in samples.chunks(1536) {
                let (_, t) = time(|| recogniser.feed(piece));
                *sum += t;
            }
            let (_, t) = time(|| recogniser.finish());
            *sum += t;
            last += t;
        }
        lasts.push(last);
    }
    lasts.sort();
    let share = |d: Duration| d.as_secs_f64() / sound;
    println!(
        "{sound:.0} s of sound: share of real time: phrases {:.3}, second {:.3}, words {:.3}, speech score {:.4}",
        share(decoding[0]),
        share(decoding[1]),
        share(decoding[2]),
        share(scoring)
    );
    println!(
        "last results of all one after the other: median {:.1?}, 95th percentile {:.1?}, worst {:.1?}",
        lasts[lasts.len() / 2],
        lasts[lasts.len() * 95 / 100],
        lasts[lasts.len() - 1]
    );
    println!("memory in the end {} KiB", memory_kib());
}

/// An hour of each kind of generated noise, loud and without pause: how often a reading or command is taken, or asked.
#[test]
#[ignore = "measures, judges nothing"]
fn an_hour_of_workshop_noise() {
    let model = hearing::model();
    for (name, kind) in [
        ("engine", Noise::Engine),
        ("compressor", Noise::Compressor),
        ("bangs", Noise::Bangs),
        ("babble", Noise::Babble(Arc::from([]))),
        ("hum", Noise::Hum),
        ("white", Noise::White),
    ] {
        let (mut heard, mut taken, mut asked) = (0, 0, 0);
        // Fifteen minutes of each, with the level changing every minute; six kinds make an hour and a half.
        for minute in 0..15_u64 {
            let level = -45.0 + 2.0 * minute as f32;
            let sound = noise(&kind, 60.0, level, 1000 + minute);
            for hearing in hearing::hearings(hearing::events(&model, sound)) {
                heard += 1;
                match hearing.outcome {
                    Outcome::Understood(meant) => {
                        taken += 1;
                        println!("  {name}, minute {minute}: taken {meant:?} {:?}", hearing.opinions);
                    }
                    Outcome::Doubtful(_) => asked += 1,
                    Outcome::NotInGrammar | Outcome::NoSpeech => {}
                }
            }
        }
        println!("{name}, 15 minutes: {heard} stretches of sound, {taken} taken, {asked} asked");
    }
}
