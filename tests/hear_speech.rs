//! Real speech of real people through the shipped model, on the same way that a session listens: source, gate, both
//! opinions, acceptance. Clips and licences: `tests/speech/README.md`.
//!
//! Floors are set below what was measured, not at it: the model's decoding is dithered, so single clips may come out
//! differently. What was measured stands beside each floor.
#![cfg(feature = "voice")]

use bothhands::{
    grammar::{Context, Grammar},
    hear::{self, HearEvent, ModelFolder, listener::Parts, recognise::Recogniser},
    session::{Hearing, Outcome},
};
use std::{
    path::{Path, PathBuf},
    sync::Arc,
};

mod hearing;
use hearing::*;

#[test]
fn floors() {
    let model = model();
    for kind in ["number", "digit", "command"] {
        for clip in clips(kind) {
            let heard = listen(&model, &clip.file);
            for h in &heard {
                println!(
                    "{kind} | {} | {:?} | {:?} {} {} {}",
                    clip.words,
                    h.opinions.iter().map(|o| (o.words.as_str(), o.margin)).collect::<Vec<_>>(),
                    h.outcome,
                    h.level_dbfs,
                    h.room_dbfs,
                    h.latency_ms
                );
            }
            if heard.is_empty() {
                println!("{kind} | {} | NOTHING", clip.words)
            }
        }
    }
}
