//! Figures, not judgements: how long loading, making recognisers, decoding and the last result take, and memory.
//!
//! `cargo test --release --test hear_measure -- --ignored --nocapture`
#![cfg(feature = "voice")]

mod hearing;

use bothhands::hear::{Model, ModelFolder, audio::to_i16, voice::SpeechScore, wav};
use std::time::{Duration, Instant};

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
    println!("{} phrases, {} words: both recognisers made in {making:.1?}", phrases.len(), words.len());

    let mut lasts = Vec::new();
    let (mut sound, mut decoding, mut scoring) = (0.0, [Duration::ZERO; 2], Duration::ZERO);
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
        "{sound:.0} s of sound: share of real time: phrases {:.3}, words {:.3}, speech score {:.4}",
        share(decoding[0]),
        share(decoding[1]),
        share(scoring)
    );
    println!(
        "last results of both together: median {:.1?}, 95th percentile {:.1?}, worst {:.1?}",
        lasts[lasts.len() / 2],
        lasts[lasts.len() * 95 / 100],
        lasts[lasts.len() - 1]
    );
    println!("memory in the end {} KiB", memory_kib());
}
