//! What the room sounds like: noises made anew each time, always the same ones, and the technician's voice.

use super::script::Noise;
use bothhands::simulate::Voice;
use std::path::Path;

/// Samples a second.
const RATE: usize = 16_000;
/// Length of a noise before it begins again.
const SECONDS: usize = 12;
/// What the voices of the babble say: no numbers, no commands.
const TALK: [(&str, u16, &str); 6] = [
    (
        "en-us+m3",
        150,
        "the weather on Thursday was much better than everybody had expected it to be in the harbour",
    ),
    ("en-gb+f2", 170, "our neighbours bought a yellow bicycle and painted the fence around their garden"),
    ("en-us+f4", 160, "somebody ought to telephone the office because the parcels are still in the hallway"),
    ("en-gb+m5", 140, "grandmother's recipe asks for plenty of butter and a little lemon with the flour"),
    ("en-us+m7", 180, "the orchestra played until midnight although half of the audience had gone home"),
    (
        "en-gb+f5",
        155,
        "in the evening the ferry crosses the river and the lanterns are reflected by the water",
    ),
];

/// The technician's words as sound.
///
/// # Errors
/// Where a clip is damaged, or there is no synthetic voice.
pub fn voice(words: &str, folder: &Path) -> Result<Vec<i16>, String> {
    let clips = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/dialogues/voice");
    Voice { name: "en-us+f2".into(), words_per_minute: 155, clips: Some(clips) }.say(words, folder)
}

/// A noise as loud as a voice that is `snr_db` louder than it.
///
/// # Errors
/// Where there is no synthetic voice.
pub fn noise(kind: Noise, snr_db: i32, folder: &Path) -> Result<Vec<i16>, String> {
    let mut samples = match kind {
        Noise::Engine => engine(),
        Noise::Babble => babble(folder)?,
    };
    let speech: Vec<f32> =
        voice("five point three eight five", folder)?.iter().map(|sample| f32::from(*sample)).collect();
    let wanted = level(&speech) * 10_f32.powf(-snr_db as f32 / 20.0);
    let factor = wanted / level(&samples);
    samples.iter_mut().for_each(|sample| *sample *= factor);
    Ok(samples.iter().map(|sample| sample.clamp(-32_000.0, 32_000.0) as i16).collect())
}

/// Root mean square of what is not silence.
fn level(samples: &[f32]) -> f32 {
    let loud: Vec<f32> = samples.iter().copied().filter(|sample| sample.abs() > 1e-3).collect();
    (loud.iter().map(|sample| sample * sample).sum::<f32>() / loud.len().max(1) as f32).sqrt()
}

/// Four strokes a turn at 800 turns a minute: low harmonics that are not quite even, under the hiss of air.
fn engine() -> Vec<f32> {
    let mut dice = Dice(7);
    let (mut phase, mut hiss) = (0.0_f32, 0.0_f32);
    (0..SECONDS * RATE)
        .map(|at| {
            let wobble = (at as f32 / RATE as f32 * 0.9).sin() * 0.6;
            phase += (26.7 + wobble) / RATE as f32;
            let turn = phase * std::f32::consts::TAU;
            let strokes: f32 =
                (1..24).map(|n| (turn * n as f32 + (n * n) as f32).sin() / (n as f32).powf(0.8)).sum();
            hiss = 0.7 * hiss + 0.3 * dice.sample();
            strokes + 0.8 * hiss
        })
        .collect()
}

fn babble(folder: &Path) -> Result<Vec<f32>, String> {
    let mut all = vec![0.0_f32; SECONDS * RATE];
    for (place, (name, pace, words)) in TALK.iter().enumerate() {
        let voice = Voice { name: (*name).into(), words_per_minute: *pace, clips: None };
        let one = voice.say(words, folder)?;
        if one.is_empty() {
            return Err(format!("the voice {name} says nothing"));
        }
        for (at, sample) in all.iter_mut().enumerate() {
            *sample += f32::from(one[(at + place * 7919) % one.len()]);
        }
    }
    Ok(all)
}

/// The same noise every time (xorshift).
struct Dice(u32);

impl Dice {
    fn sample(&mut self) -> f32 {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 17;
        self.0 ^= self.0 << 5;
        self.0 as f32 / u32::MAX as f32 * 2.0 - 1.0
    }
}
