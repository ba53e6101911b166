//! Owns reading FLAC (RFC 9639), through `symphonia`; the checksum over all samples decides whether it is whole.

use super::{LONGEST_S, to_mono, too_long};
use std::{fs::File, path::Path};
use symphonia::{
    core::{
        codecs::audio::{AudioDecoder, AudioDecoderOptions},
        errors::Error,
        formats::{FormatOptions, FormatReader},
        io::{MediaSourceStream, MediaSourceStreamOptions},
    },
    default::{codecs::FlacDecoder, formats::FlacReader},
};

/// The whole file as 16 kHz mono.
pub(super) fn read(file: &Path) -> Result<Vec<f32>, String> {
    let source = File::open(file).map_err(|e| e.to_string())?;
    let source = MediaSourceStream::new(Box::new(source), MediaSourceStreamOptions::default());
    let mut reader = FlacReader::try_new(source, FormatOptions::default()).map_err(|e| sentence(&e))?;
    let Some(track) = reader.tracks().first() else { return Err("no sound in the FLAC file".into()) };
    let promised = track.num_frames;
    let Some(parameters) = track.codec_params.as_ref().and_then(|p| p.audio()).cloned() else {
        return Err("the FLAC file does not describe its sound".into());
    };
    let mut decoder = FlacDecoder::try_new(&parameters, &AudioDecoderOptions::default().verify(true))
        .map_err(|e| sentence(&e))?;
    let (Some(rate), Some(channels)) = (parameters.sample_rate, parameters.channels.map(|c| c.count()))
    else {
        return Err("the FLAC file does not say its rate or channels".into());
    };
    let (mut samples, mut block) = (Vec::new(), Vec::new());
    while let Some(packet) = reader.next_packet().map_err(|e| sentence(&e))? {
        decoder.decode(&packet).map_err(|e| sentence(&e))?.copy_to_vec_interleaved(&mut block);
        samples.extend_from_slice(&block);
        if samples.len() / channels.max(1) > LONGEST_S * rate as usize {
            return Err(too_long());
        }
    }
    let got = (samples.len() / channels.max(1)) as u64;
    if let Some(promised) = promised.filter(|p| *p != got) {
        return Err(format!("FLAC: {got} of {promised} samples are there: cut short or damaged"));
    }
    if decoder.finalize().verify_ok == Some(false) {
        return Err("FLAC: the sound does not match its checksum: damaged".into());
    }
    to_mono(&samples, channels, rate)
}

fn sentence(error: &Error) -> String {
    match error {
        Error::IoError(e) if e.kind() == std::io::ErrorKind::UnexpectedEof => {
            "FLAC: ends in the middle: cut short?".into()
        }
        Error::IoError(e) => e.to_string(),
        e => format!("FLAC: {e} (damaged?)"),
    }
}
