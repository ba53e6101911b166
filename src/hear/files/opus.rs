//! Owns reading Ogg Opus (RFC 6716, RFC 7845), through `opus-pure`: what the encoder put before the beginning and behind the
//! end is taken off, and sound that is missing in the middle is noticed.
//!
//! It is decoded at 16 kHz at once (a rate that every Opus decoder has to offer), not at 48 kHz and resampled after.

use super::{LONGEST_S, RATE, too_long};
use crate::hear::audio::tame;
use opus_pure::{Error, OggOpusReader, OggPacket, OpusDecoder, OpusHead, OpusMSDecoder};
use std::{ops::Range, path::Path};

/// Samples of the container's clock (48 kHz, RFC 7845 section 4) for one of ours.
const TICKS: u64 = 48_000 / RATE as u64;
/// The longest packet: 120 ms.
const PACKET: usize = RATE as usize * 120 / 1000;

/// The whole file as 16 kHz mono.
pub(super) fn read(file: &Path) -> Result<Vec<f32>, String> {
    let data = std::fs::read(file).map_err(|e| e.to_string())?;
    let mut reader = OggOpusReader::new(data.as_slice()).map_err(|e| sentence(&e))?;
    let mut packets = Vec::new();
    while let Some(packet) = reader.read_packet().map_err(|e| sentence(&e))? {
        packets.push(packet);
    }
    let (marked, position) = last_page(&data);
    if !marked {
        return Err("Ogg Opus: the last page is missing: cut short".into());
    }
    let head = reader.head();
    let mut samples = decode(head, &packets)?;
    let played = played(head, &packets, position, samples.len())?;
    samples.truncate(played.end);
    samples.drain(..played.start);
    Ok(samples)
}

/// Whether the last page is marked as the last (RFC 3533 section 6, a recording that broke off has no such page), and its
/// position. Looked for by hand, since some programs put the mark on a page without sound, which yields no packet.
fn last_page(data: &[u8]) -> (bool, Option<u64>) {
    let page = data.windows(4).rposition(|w| w == b"OggS").map_or(&[][..], |at| &data[at..]);
    let position = page.get(6..14).and_then(|p| p.try_into().ok()).map(i64::from_le_bytes);
    (page.get(5).is_some_and(|flags| flags & 4 != 0), position.and_then(|p| u64::try_from(p).ok()))
}

/// Everything that the packets hold, channels averaged.
fn decode(head: &OpusHead, packets: &[OggPacket]) -> Result<Vec<f32>, String> {
    let channels = usize::from(head.channel_count);
    let mut decoder = Decoder::new(head)?;
    let mut block = vec![0.0; PACKET * channels];
    let mut samples = Vec::new();
    for packet in packets {
        let count = decoder.decode(&packet.data, &mut block).map_err(|e| sentence(&e))?;
        #[expect(clippy::cast_precision_loss, reason = "a count of channels")]
        samples.extend(
            block[..count * channels]
                .chunks_exact(channels)
                .map(|c| tame(c.iter().sum::<f32>() / channels as f32)),
        );
        if samples.len() > LONGEST_S * RATE as usize {
            return Err(too_long());
        }
    }
    Ok(samples)
}

/// Which of the decoded samples are the sound: without pre-skip and without what the last page's position cuts off
/// (RFC 7845 sections 4.2 to 4.5).
fn played(
    head: &OpusHead,
    packets: &[OggPacket],
    last: Option<u64>,
    decoded: usize,
) -> Result<Range<usize>, String> {
    let ticks = |p: &OggPacket| opus_pure::packet::samples_48k(&p.data).map_err(|e| sentence(&e));
    let position = |p: &OggPacket| u64::try_from(p.page_granule).ok();
    // A stream may begin at any position (cut out of a longer one): what the first page says beyond what it holds.
    let first = packets.first().and_then(position).unwrap_or(0);
    let mut on_first = 0;
    for packet in packets.iter().take_while(|p| position(p) == Some(first)) {
        on_first += ticks(packet)? as u64;
    }
    let begin = first.saturating_sub(on_first);
    let mut held = begin;
    for (at, packet) in packets.iter().enumerate() {
        held += ticks(packet)? as u64;
        // A position counts for the last packet that ends on its page.
        let page_ends = packets.get(at + 1).is_none_or(|next| next.page_granule != packet.page_granule);
        if let Some(says) = position(packet).filter(|says| page_ends && *says > held) {
            let (missing, second) = ((says - held) / 48, held / 48_000);
            return Err(format!("Ogg Opus: {missing} ms of sound are missing at second {second}: damaged"));
        }
    }
    let last = last.unwrap_or(held);
    let whole = |ticks: u64| usize::try_from(ticks / TICKS).unwrap_or(usize::MAX);
    let end = whole(last.saturating_sub(begin)).min(decoded);
    Ok(whole(u64::from(head.pre_skip)).min(end)..end)
}

/// One stream (mono or stereo), or several in one of the standard orders of channels.
enum Decoder {
    One(Box<OpusDecoder>),
    Several { decoder: Box<OpusMSDecoder>, gain: f32 },
}

impl Decoder {
    fn new(head: &OpusHead) -> Result<Self, String> {
        let rate = i32::try_from(RATE).expect("16000 fits");
        if head.mapping_family == 0 {
            return Ok(Self::One(Box::new(head.decoder(rate).map_err(|e| sentence(&e))?)));
        }
        let channels = usize::from(head.channel_count);
        let refused = || {
            format!(
                "Ogg Opus: {channels} channels in an unusual arrangement (mapping family {}); mix them to mono or stereo",
                head.mapping_family
            )
        };
        let decoder = OpusMSDecoder::new(rate, channels, head.mapping_family).map_err(|_| refused())?;
        let layout = decoder.layout();
        let usual = layout.nb_streams == usize::from(head.stream_count)
            && layout.nb_coupled_streams == usize::from(head.coupled_count)
            && layout.mapping == head.channel_mapping;
        if !usual {
            return Err(refused());
        }
        let gain = 10_f32.powf(head.output_gain_db() / 20.0);
        Ok(Self::Several { decoder: Box::new(decoder), gain })
    }

    fn decode(&mut self, packet: &[u8], block: &mut [f32]) -> Result<usize, Error> {
        match self {
            Self::One(decoder) => decoder.decode(packet, PACKET, block),
            Self::Several { decoder, gain } => {
                let count = decoder.decode(packet, PACKET, block)?;
                block.iter_mut().for_each(|s| *s *= *gain);
                Ok(count)
            }
        }
    }
}

fn sentence(error: &Error) -> String {
    match error {
        Error::InvalidStream("not an OpusHead packet") => "an Ogg file, but no Opus sound in it".into(),
        Error::Io(e) if e.kind() == std::io::ErrorKind::UnexpectedEof => {
            "Ogg Opus: ends in the middle: cut short?".into()
        }
        Error::Io(e) => e.to_string(),
        e => format!("Ogg Opus: {e} (damaged or cut short?)"),
    }
}
