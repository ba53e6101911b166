//! Shared by the tests of hearing: the model, the clips, and one way to listen to samples.
#![allow(dead_code, reason = "each test program uses its part")]

use bothhands::{
    grammar::{Context, Grammar},
    hear::{
        self, HearEvent, Listener, Model, ModelFolder, Parse,
        accept::Caution,
        audio::{ScriptedSource, Step},
        gate::GateSettings,
        listener::Parts,
        voice::SpeechScore,
    },
    session::Hearing,
};
use std::{
    path::{Path, PathBuf},
    sync::Arc,
};

pub const SPEECH: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/tests/speech");

pub struct Clip {
    pub file: PathBuf,
    pub words: String,
}

/// The clips of one kind of `transcripts.tsv`.
pub fn clips(kind: &str) -> Vec<Clip> {
    let list = std::fs::read_to_string(Path::new(SPEECH).join("transcripts.tsv")).unwrap();
    let clips: Vec<Clip> = list
        .lines()
        .skip(1)
        .map(|line| line.split('\t').collect::<Vec<_>>())
        .filter(|fields| fields[1] == kind)
        .map(|fields| Clip { file: Path::new(SPEECH).join(fields[0]), words: fields[2].into() })
        .collect();
    assert!(!clips.is_empty(), "no clips of kind {kind}");
    clips
}

pub fn model() -> Model {
    Model::load(&ModelFolder::find(None).unwrap()).unwrap()
}

pub fn parse() -> Parse {
    let grammar = Grammar::builtin("en").unwrap();
    let context = Context::default();
    Arc::new(move |words| grammar.parse(words, &context))
}

/// Listens to samples as a session would, and gives every event.
pub fn events(model: &Model, samples: Vec<f32>) -> Vec<HearEvent> {
    let grammar = Grammar::builtin("en").unwrap();
    let context = Context::default();
    let model = model.clone();
    let mut score = SpeechScore::default();
    let listener = Listener::start_with(Parts {
        source: Box::new(ScriptedSource::new([Step::Sound(samples)])),
        recognisers: Box::new(move |phrases, words| model.recognisers(phrases, words)),
        phrases: grammar.phrases(&context),
        words: grammar.words(&context),
        parse: parse(),
        clips: None,
        gate: GateSettings::default(),
        caution: Caution::default(),
        score: Box::new(move |frame| score.score(frame)),
    })
    .unwrap();
    let mut events = Vec::new();
    for event in listener.events() {
        let last = event == HearEvent::SourceEnded;
        events.push(event);
        if last {
            break;
        }
    }
    events
}

/// The hearings of some samples, with a second of faint noise before and behind.
pub fn listen_to(model: &Model, samples: &[f32]) -> Vec<Hearing> {
    let mut room = Room::new(-70.0);
    let mut all = room.take(16_000);
    all.extend(samples);
    all.extend(room.take(16_000));
    hearings(events(model, all))
}

pub fn hearings(events: Vec<HearEvent>) -> Vec<Hearing> {
    events
        .into_iter()
        .filter_map(|e| if let HearEvent::Heard(h) = e { Some(h.hearing) } else { None })
        .collect()
}

pub fn listen(model: &Model, file: &Path) -> Vec<Hearing> {
    listen_to(model, &hear::wav::read(file).unwrap())
}

/// A room's faint noise, the same every time (xorshift).
pub struct Room {
    state: u32,
    amplitude: f32,
}

impl Room {
    pub fn new(dbfs: f32) -> Self {
        // Uniform noise has a root mean square of its amplitude by the root of three.
        Self { state: 2_463_534_242, amplitude: 10_f32.powf(dbfs / 20.0) * 3_f32.sqrt() }
    }

    pub fn take(&mut self, count: usize) -> Vec<f32> {
        (0..count)
            .map(|_| {
                self.state ^= self.state << 13;
                self.state ^= self.state >> 17;
                self.state ^= self.state << 5;
                (self.state as f32 / u32::MAX as f32 * 2.0 - 1.0) * self.amplitude
            })
            .collect()
    }
}
