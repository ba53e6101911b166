//! Shared by the tests of hearing: the model, the clips, and one way to listen to samples.
#![allow(dead_code, reason = "each test program uses its part")]

use bothhands::{
    grammar::{Context, Grammar},
    hear::{
        self, Follows, HearEvent, Listener, Model, ModelFolder, Parse,
        accept::Caution,
        audio::{ScriptedSource, Step},
        gate::GateSettings,
        listener::Parts,
        voice::SpeechScore,
    },
    measure,
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

/// Words wrong, as the measuring command counts them.
pub fn distance(said: &str, heard: &str) -> usize {
    let (said, heard): (Vec<&str>, Vec<&str>) =
        (said.split(' ').collect(), heard.split_whitespace().collect());
    measure::score::distance(&said, &heard)
}

/// A clip without doubled words or pauses: what is tested with it is the way of the sound, not the ears.
pub fn sure_clip() -> Clip {
    clips("number").into_iter().find(|c| c.words == "one four six one eight").unwrap()
}

pub fn model() -> Model {
    Model::load(&ModelFolder::find(None).unwrap()).unwrap()
}

pub fn parse() -> Parse {
    let grammar = Grammar::builtin("en").unwrap();
    let context = Context::default();
    Arc::new(move |words| grammar.parse(words, &context))
}

/// What can follow, as far as the words alone tell.
pub fn follows() -> Follows {
    let grammar = Grammar::builtin("en").unwrap();
    let context = Context::default();
    Arc::new(move |words, meant| grammar.follow(words, meant, &context))
}

pub fn phrases() -> Vec<String> {
    Grammar::builtin("en").unwrap().phrases(&Context::default())
}

pub fn words() -> Vec<String> {
    Grammar::builtin("en").unwrap().words(&Context::default())
}

/// Listens to samples as a session would, and gives every event.
pub fn events(model: &Model, samples: Vec<f32>) -> Vec<HearEvent> {
    events_with(model, samples, phrases(), words())
}

/// Listens for other phrases and words.
pub fn events_with(
    model: &Model,
    samples: Vec<f32>,
    phrases: Vec<String>,
    words: Vec<String>,
) -> Vec<HearEvent> {
    let model = model.clone();
    let mut score = SpeechScore::default();
    let listener = Listener::start_with(Parts {
        source: Box::new(ScriptedSource::new([Step::Sound(samples)])),
        recognisers: Box::new(move |phrases, words| model.recognisers(phrases, words)),
        phrases,
        words,
        parse: parse(),
        follows: follows(),
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

/// Forms in which a sound file may come: rate, channels, bits, floating point.
pub fn table() -> [(u32, u16, u16, bool); 7] {
    [
        (44_100, 2, 16, false),
        (48_000, 1, 32, true),
        (48_000, 2, 24, false),
        (32_000, 1, 32, false),
        (22_050, 1, 16, false),
        (16_000, 2, 8, false),
        (8_000, 1, 16, false),
    ]
}

pub mod read {
    //! Sound files of other forms, for tests.

    use std::path::Path;

    /// Raw 16-bit samples of that rate, as 16 kHz.
    pub fn raw(file: &Path, rate: u32) -> Vec<f32> {
        let bytes = std::fs::read(file).unwrap();
        let samples: Vec<f32> =
            bytes.as_chunks::<2>().0.iter().map(|b| f32::from(i16::from_le_bytes(*b)) / 32768.0).collect();
        let mut to = bothhands::hear::resample::ToRate::new(rate).unwrap();
        let mut out = Vec::new();
        to.push(&samples, &mut out);
        to.finish(&mut out);
        out
    }

    /// 16 kHz samples at another rate, by windowed sinc interpolation written for these tests alone.
    pub fn at_rate(samples: &[f32], rate: u32) -> Vec<f32> {
        const HALF: isize = 32;
        let step = 16_000.0 / f64::from(rate);
        let cut = (1.0 / step).min(1.0);
        let count = (samples.len() as f64 / step) as usize;
        (0..count)
            .map(|i| {
                let at = i as f64 * step;
                let middle = at.floor() as isize;
                (middle - HALF + 1..=middle + HALF)
                    .filter_map(|k| {
                        let sample = f64::from(*samples.get(usize::try_from(k).ok()?)?);
                        let x = at - k as f64;
                        let angle = std::f64::consts::PI * x * cut;
                        let sinc = if angle.abs() < 1e-9 { 1.0 } else { angle.sin() / angle };
                        let window = 0.5 + 0.5 * (std::f64::consts::PI * x / (HALF as f64 + 1.0)).cos();
                        Some(sample * sinc * cut * window)
                    })
                    .sum::<f64>() as f32
            })
            .collect()
    }

    /// Writes mono samples in that form, the same in every channel.
    pub fn write(file: &Path, samples: &[f32], rate: u32, channels: u16, bits: u16, float: bool) {
        let sample_format = if float { hound::SampleFormat::Float } else { hound::SampleFormat::Int };
        let spec = hound::WavSpec { channels, sample_rate: rate, bits_per_sample: bits, sample_format };
        let mut writer = hound::WavWriter::create(file, spec).unwrap();
        for sample in samples {
            for _ in 0..channels {
                if float {
                    writer.write_sample(*sample).unwrap();
                } else {
                    let full = 2_f64.powi(i32::from(bits) - 1) - 1.0;
                    writer.write_sample((f64::from(sample.clamp(-1.0, 1.0)) * full).round() as i32).unwrap();
                }
            }
        }
        writer.finalize().unwrap();
    }
}
