//! Files in every form against the same sound as WAV, and files that are not whole.

use super::*;
use opus_pure::{Application, MAX_PACKET_BYTES, OggOpusWriter, OpusEncoder, OpusHead};
use std::{fs, path::PathBuf};

fn speech(name: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/speech").join(name)
}

/// How far the second is from the first: power of the first over power of the difference, in dB.
fn likeness_db(of: &[f32], to: &[f32]) -> f32 {
    assert_eq!(of.len(), to.len());
    let power: f32 = of.iter().map(|s| s * s).sum();
    let error: f32 = of.iter().zip(to).map(|(a, b)| (a - b) * (a - b)).sum();
    10.0 * (power / error.max(1e-12)).log10()
}

fn fault(bytes: &[u8]) -> Result<Vec<f32>, String> {
    let file = tempfile::NamedTempFile::new().unwrap();
    fs::write(&file, bytes).unwrap();
    match read(file.path()) {
        Err(HearError::SoundFile { file: named, fault }) => {
            assert_eq!(named, file.path());
            Err(fault)
        }
        Err(other) => panic!("{other}"),
        Ok(samples) => Ok(samples),
    }
}

#[test]
fn opus_and_flac_are_the_sound_that_the_wav_has() {
    let wav = wav::read(&speech("an392-mjwl-b.wav")).unwrap();
    // Lossless: the same samples.
    assert_eq!(read(&speech("formats/an392-mjwl-b.flac")).unwrap(), wav);
    // The WAV was decoded from this very file by libopus and rounded to 16 bits (one step is 3e-5).
    let opus = read(&speech("formats/an392-mjwl-b.opus")).unwrap();
    assert_eq!(opus.len(), wav.len());
    let worst = wav.iter().zip(&opus).map(|(a, b)| (a - b).abs()).fold(0.0, f32::max);
    assert!(worst < 1.5e-4, "{worst}");
    // 12 kbit/s (the speech half of the codec): what an encoder of that rate leaves of it, at the right place in time. What
    // libopus decodes has 12.6 dB here, and less than 5.6 dB where it is moved by two samples.
    let wav = wav::read(&speech("cen6-mjgm-b.wav")).unwrap();
    let opus = read(&speech("formats/cen6-mjgm-b-12k.opus")).unwrap();
    let likeness = likeness_db(&wav, &opus);
    assert!((likeness - 12.65).abs() < 0.1, "{likeness}");
}

#[test]
fn the_name_of_a_file_does_not_matter() {
    let folder = tempfile::tempdir().unwrap();
    let misnamed = folder.path().join("clip.wav");
    fs::copy(speech("formats/an392-mjwl-b.flac"), &misnamed).unwrap();
    assert_eq!(read(&misnamed).unwrap(), wav::read(&speech("an392-mjwl-b.wav")).unwrap());
}

/// An Ogg Opus file of that sound, as an encoder makes it that pads the end.
fn encode(sound: &[f32], rate: i32, channels: usize, cut_ms: usize) -> Vec<u8> {
    let mut encoder = OpusEncoder::new(rate, channels, Application::Audio).unwrap();
    encoder.bitrate_bps = 96_000;
    let head = OpusHead::for_encoder(&encoder, rate as u32);
    let (frame, ticks) = (rate as usize / 50, 48_000 / rate as usize);
    let total = sound.len() / channels;
    let frames = (total + usize::from(head.pre_skip).div_ceil(ticks)).div_ceil(frame);
    let last = u64::from(head.pre_skip) + ((total - cut_ms * rate as usize / 1000) * ticks) as u64;
    let mut writer = OggOpusWriter::new(Vec::new(), head).unwrap();
    let mut packet = vec![0; MAX_PACKET_BYTES];
    for i in 0..frames {
        let mut block = vec![0.0; frame * channels];
        for (to, from) in block.iter_mut().zip(sound.iter().skip(i * frame * channels)) {
            *to = *from;
        }
        let n = encoder.encode(&block, frame, &mut packet).unwrap();
        if i + 1 == frames {
            let rest = last - writer.granule() as u64;
            writer.write_packet_with_duration(&packet[..n], rest as u32).unwrap();
        } else {
            writer.write_packet(&packet[..n]).unwrap();
        }
    }
    writer.finish().unwrap()
}

#[test]
fn opus_of_other_rates_and_of_two_channels_comes_at_its_length_and_mixed() {
    let clip = wav::read(&speech("cen6-mjgm-b.wav")).unwrap();
    for times in [1, 3] {
        let rate = 16_000 * times;
        // The one channel three times as loud as the other: their mean is the clip.
        let held: Vec<f32> = clip.iter().flat_map(|s| vec![*s; times as usize]).collect();
        let stereo: Vec<f32> = held.iter().flat_map(|s| [s * 1.5, s * 0.5]).collect();
        let got = fault(&encode(&stereo, rate, 2, 0)).unwrap();
        assert_eq!(got.len(), clip.len(), "{rate}");
        let mono = fault(&encode(&held, rate, 1, 0)).unwrap();
        let likeness = likeness_db(&mono, &got);
        assert!(likeness > 8.0, "{rate}: {likeness}");
    }
    let got = fault(&encode(&clip, 16_000, 1, 0)).unwrap();
    let likeness = likeness_db(&clip, &got);
    assert!(likeness > 10.0, "{likeness}");
    // The position of the last page takes off the end.
    assert_eq!(fault(&encode(&clip, 16_000, 1, 5)).unwrap().len(), clip.len() - 80);
}

#[test]
fn what_is_cut_off_is_refused_at_any_length() {
    for name in ["an392-mjwl-b.wav", "formats/an392-mjwl-b.flac", "formats/an392-mjwl-b.opus"] {
        let whole = fs::read(speech(name)).unwrap();
        assert!(fault(&whole).is_ok());
        for keep in (0..whole.len()).step_by(whole.len() / 60).chain([1, 4, 11, 12, 27, 43, 44]) {
            let refusal = fault(&whole[..keep]).expect_err(&format!("{name}: {keep} bytes"));
            assert!(!refusal.is_empty());
        }
    }
    let opus = fs::read(speech("formats/an392-mjwl-b.opus")).unwrap();
    assert!(fault(&opus[..opus.len() - 1]).unwrap_err().contains("cut short"));
    let flac = fs::read(speech("formats/an392-mjwl-b.flac")).unwrap();
    assert!(fault(&flac[..flac.len() - 1]).unwrap_err().contains("cut short"));
}

/// A small generator with a fixed seed (xorshift64).
fn random(state: &mut u64) -> u64 {
    *state ^= *state << 13;
    *state ^= *state >> 7;
    *state ^= *state << 17;
    *state
}

#[test]
fn damage_is_refused_and_never_changes_the_sound() {
    let mut state = 0x9e37_79b9_7f4a_7c15;
    for name in ["formats/an392-mjwl-b.flac", "formats/an392-mjwl-b.opus"] {
        let whole = fs::read(speech(name)).unwrap();
        let sound = fault(&whole).unwrap();
        for _ in 0..150 {
            let mut damaged = whole.clone();
            for _ in 0..=random(&mut state) % 4 {
                let at = random(&mut state) as usize % damaged.len();
                damaged[at] ^= 1 << (random(&mut state) % 8);
            }
            // Damage in a title or in padding may pass, one in the sound may not.
            if let Ok(got) = fault(&damaged) {
                assert_eq!(got.len(), sound.len(), "{name}");
                assert!(got == sound, "{name}: another sound");
            }
        }
    }
}

#[test]
fn a_page_missing_in_the_middle_is_noticed() {
    let clip = wav::read(&speech("cen6-mjgm-b.wav")).unwrap();
    let long: Vec<f32> = clip.iter().cycle().take(16_000 * 6).copied().collect();
    let whole = encode(&long, 16_000, 1, 0);
    let pages: Vec<usize> =
        whole.windows(4).enumerate().filter(|(_, w)| *w == b"OggS").map(|(i, _)| i).collect();
    assert!(pages.len() > 5, "{}", pages.len());
    let cut = [&whole[..pages[3]], &whole[pages[4]..]].concat();
    let refusal = fault(&cut).unwrap_err();
    assert!(refusal.contains("missing") || refusal.contains("damaged"), "{refusal}");
}

#[test]
fn noise_bytes_are_refused_whatever_they_begin_with() {
    let mut state = 0x2545_f491_4f6c_dd1d;
    let wav = fs::read(speech("an392-mjwl-b.wav")).unwrap();
    let heads: [&[u8]; 6] =
        [b"", b"fLaC", b"OggS\0\x02", b"RIFF\xff\0\0\0WAVE", b"RIFF\xff\0\0\0WAVEfmt ", b"ID3"];
    for round in 0..300 {
        let mut bytes = heads[round % heads.len()].to_vec();
        let length = random(&mut state) as usize % 3000;
        bytes.extend((0..length).map(|_| random(&mut state) as u8));
        assert!(fault(&bytes).is_err());
        // A WAV has no checksum: a damaged head may be read as another sound, but nothing may fall over.
        let mut damaged = wav.clone();
        for _ in 0..3 {
            let at = random(&mut state) as usize % 44;
            damaged[at] = random(&mut state) as u8;
        }
        if let Ok(got) = fault(&damaged) {
            assert!(got.iter().all(|s| s.is_finite() && s.abs() <= 1.0));
        }
    }
    assert_eq!(fault(b"").unwrap_err(), "the file is empty");
    assert!(fault(b"OggS").is_err());
    assert!(read(Path::new("/nonexistent/clip.flac")).is_err());
}
