//! Owns the sound of a session made small enough to stand inside its page: Ogg Opus, so that the page can be sent by itself.
//!
//! A clip that is not what was heard is not enclosed; the page says so in its place.

use crate::{
    journal::{self, Entry, JournalError, Past, Sound},
    session::{Event, Opinion},
};
use jiff::Timestamp;
use opus_pure::{Application, MAX_PACKET_BYTES, OggOpusWriter, OpusEncoder, OpusHead};
use schemars::JsonSchema;
use serde::Serialize;
use std::collections::BTreeSet;

/// Bits a second. Chosen here: speech at 16 kHz sounds in it as in the clip, and ten minutes of speech make under two megabytes.
const BITS: i32 = 20_000;
/// Samples a packet for one second of sound: 20 ms each.
const PACKETS: u32 = 50;
/// Ticks of the container's clock a second (RFC 7845 section 4).
const TICKS: u32 = 48_000;

/// One clip on its way into the page.
#[derive(Debug, Clone, PartialEq)]
pub struct Enclosed {
    /// Its file name beside the journal.
    pub name: String,
    /// When it was heard.
    pub at: Timestamp,
    /// What each decoding heard.
    pub opinions: Vec<Opinion>,
    /// The sound as Ogg Opus, or why there is none.
    pub sound: Result<Vec<u8>, NoSound>,
}

/// Why a clip is not in the page.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum NoSound {
    /// Its file is not there.
    Missing,
    /// Its file is not the one that was heard.
    Changed,
    /// Its file holds no sound that can be read.
    Damaged,
    /// It was taken away on purpose, and the journal says so.
    Forgotten,
}

/// The clips that a journal names, each once, in its order.
#[must_use]
pub fn enclose(past: &Past) -> Vec<Enclosed> {
    let mut known = BTreeSet::new();
    let mut all = Vec::new();
    for (line, name, found) in journal::clips(past, true) {
        if known.insert(name) {
            let opinions = match &line.entry {
                Entry::Event(Event::Heard(hearing)) => hearing.opinions.clone(),
                _ => Vec::new(),
            };
            all.push(Enclosed { name: name.to_owned(), at: line.at, opinions, sound: sound(found) });
        }
    }
    all
}

fn sound(found: Result<Sound, JournalError>) -> Result<Vec<u8>, NoSound> {
    match found {
        Ok(Sound::Proved(wav) | Sound::Unproved(wav)) => opus(&wav).ok_or(NoSound::Damaged),
        Ok(Sound::Changed) => Err(NoSound::Changed),
        Ok(Sound::Missing) => Err(NoSound::Missing),
        Ok(Sound::Forgotten) => Err(NoSound::Forgotten),
        // It is there, and the system does not give it.
        Err(_) => Err(NoSound::Damaged),
    }
}

/// A WAV file as Ogg Opus, to the sample as long as it was. None where it is no WAV of one channel at a rate that Opus has.
fn opus(wav: &[u8]) -> Option<Vec<u8>> {
    let mut reader = hound::WavReader::new(wav).ok()?;
    let spec = reader.spec();
    let form = (spec.channels, spec.bits_per_sample, spec.sample_format);
    if form != (1, 16, hound::SampleFormat::Int) {
        return None;
    }
    let samples: Vec<f32> = reader
        .samples::<i16>()
        .map(|sample| sample.map(|one| f32::from(one) / 32_768.0))
        .collect::<Result<_, _>>()
        .ok()?;
    encode(&samples, spec.sample_rate).ok()
}

/// The encoder runs `pre_skip` behind, so that much silence is put behind the sound; the last position says where the sound ends
/// (RFC 7845 sections 4.2 and 4.4).
fn encode(samples: &[f32], rate: u32) -> opus_pure::Result<Vec<u8>> {
    let mut encoder = OpusEncoder::new(i32::try_from(rate).unwrap_or(0), 1, Application::Voip)?;
    encoder.bitrate_bps = BITS;
    let head = OpusHead::for_encoder(&encoder, rate);
    let frame = (rate / PACKETS) as usize;
    let ticks = (TICKS / rate) as usize;
    let behind = usize::from(head.pre_skip).div_ceil(ticks);
    let packets = (samples.len() + behind).div_ceil(frame).max(1);
    let end = u64::from(head.pre_skip) + (samples.len() * ticks) as u64;
    let mut writer = OggOpusWriter::new(Vec::new(), head)?;
    let mut packet = vec![0_u8; MAX_PACKET_BYTES];
    for at in 0..packets {
        let piece = samples.get(at * frame..).unwrap_or_default();
        let mut block = piece[..piece.len().min(frame)].to_vec();
        block.resize(frame, 0.0);
        let length = encoder.encode(&block, frame, &mut packet)?;
        if at + 1 == packets {
            let rest = end.saturating_sub(u64::try_from(writer.granule()).unwrap_or(0));
            writer.write_packet_with_duration(&packet[..length], u32::try_from(rest).unwrap_or(0))?;
        } else {
            writer.write_packet(&packet[..length])?;
        }
    }
    writer.finish()
}

#[cfg(test)]
mod tests {
    use super::*;
    use opus_pure::{OggOpusReader, OpusDecoder, Trim};

    fn wav(samples: &[i16], rate: u32) -> Vec<u8> {
        let mut bytes = std::io::Cursor::new(Vec::new());
        let spec = hound::WavSpec {
            channels: 1,
            sample_rate: rate,
            bits_per_sample: 16,
            sample_format: hound::SampleFormat::Int,
        };
        let mut writer = hound::WavWriter::new(&mut bytes, spec).unwrap();
        samples.iter().for_each(|sample| writer.write_sample(*sample).unwrap());
        writer.finalize().unwrap();
        bytes.into_inner()
    }

    /// A tone of 440 Hz that grows, so that a shift shows.
    fn tone(length: usize) -> Vec<i16> {
        let sample = |at: usize| (at as f32 / 16_000.0 * 440.0 * std::f32::consts::TAU).sin();
        (0..length).map(|at| (sample(at) * 12_000.0 * at as f32 / length as f32) as i16).collect()
    }

    fn decoded(ogg: &[u8]) -> Vec<f32> {
        let mut reader = OggOpusReader::new(ogg).unwrap();
        let mut decoder = OpusDecoder::new(16_000, 1).unwrap();
        let mut trim = Trim::new(reader.head(), 16_000, 1).unwrap();
        let mut out = Vec::new();
        let mut block = vec![0.0; 1920];
        while let Some(packet) = reader.read_packet().unwrap() {
            let count = decoder.decode(&packet.data, 1920, &mut block).unwrap();
            out.extend_from_slice(trim.keep(&packet, &block[..count]));
        }
        out
    }

    #[test]
    fn sound_comes_back_as_long_as_it_was_and_alike() {
        for length in [16_000, 15_999, 333, 1] {
            let samples = tone(length);
            let back = decoded(&opus(&wav(&samples, 16_000)).unwrap());
            assert_eq!(back.len(), length);
            if length > 10_000 {
                let (mut both, mut own, mut other) = (0.0, 0.0, 0.0);
                for (sample, back) in samples.iter().zip(&back) {
                    let sample = f32::from(*sample) / 32_768.0;
                    (both, own, other) = (both + sample * back, own + sample * sample, other + back * back);
                }
                let alike = both / (own * other).sqrt();
                assert!(alike > 0.95, "{alike}");
            }
        }
    }

    #[test]
    fn what_is_no_sound_of_ours_is_damaged() {
        let whole = wav(&tone(1000), 16_000);
        for bytes in [&b""[..], b"sound", &whole[..40], &whole[..900], &wav(&tone(1000), 44_100)] {
            assert_eq!(opus(bytes), None, "{} bytes", bytes.len());
        }
        assert!(opus(&wav(&[], 16_000)).is_some(), "silence of no length is sound");
    }
}
