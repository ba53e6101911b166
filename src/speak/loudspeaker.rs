//! Owns the loudspeaker that is named: found among the devices, opened in whatever form it has, fed without blocking.

use cpal::{
    BufferSize, Device, FromSample, SampleFormat, SizedSample, StreamConfig, SupportedBufferSize,
    traits::{DeviceTrait, HostTrait, StreamTrait},
};
use crossbeam_channel::{Receiver, Sender, bounded};
use std::{
    sync::{
        Arc,
        atomic::{AtomicU64, Ordering},
    },
    time::Duration,
};

/// Samples a block; blocks are moved through a channel whose places are made beforehand.
const BLOCK: usize = 480;
/// Blocks that may wait: about two and a half seconds at 48 kHz.
const BLOCKS: usize = 256;

/// Why there is no loudspeaker to play on.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error, miette::Diagnostic)]
pub enum LoudspeakerError {
    /// The system has none.
    #[error("no loudspeaker found: {0}. Plug one in, or show the lines only with --silent")]
    None(String),
    /// None of that name, or several.
    #[error("no single loudspeaker is called \"{name}\"; there are: {}", .there.join(", "))]
    Unknown {
        /// The name that was asked for.
        name: String,
        /// The names there are.
        there: Vec<String>,
    },
    /// It is there but cannot be used.
    #[error("loudspeaker \"{name}\" cannot be used: {fault}")]
    Unusable {
        /// Its name.
        name: String,
        /// What the system said.
        fault: String,
    },
    /// There is no synthesiser to play.
    #[error(
        "the voice cannot be made: {0}. Install espeak-ng, or leave the loudspeaker to the system's voice"
    )]
    NoVoice(String),
}

/// Names of the loudspeakers; the one that is taken where none is named comes first with `true`.
///
/// # Errors
/// [`LoudspeakerError::None`].
pub fn loudspeakers() -> Result<Vec<(String, bool)>, LoudspeakerError> {
    let host = cpal::default_host();
    let default = host.default_output_device().and_then(|device| device.id().ok());
    let devices = host.output_devices().map_err(|error| LoudspeakerError::None(error.to_string()))?;
    let list: Vec<(String, bool)> = devices
        .map(|device| {
            let id = device.id().ok();
            (name_of(&device), id.is_some() && id == default)
        })
        .collect();
    if list.is_empty() {
        return Err(LoudspeakerError::None("the sound system lists no output".into()));
    }
    Ok(list)
}

fn name_of(device: &Device) -> String {
    device.description().map_or_else(|_| "unnamed".into(), |description| description.name().to_owned())
}

fn find(wanted: &str) -> Result<Device, LoudspeakerError> {
    let devices: Vec<Device> = cpal::default_host()
        .output_devices()
        .map_err(|error| LoudspeakerError::None(error.to_string()))?
        .collect();
    let lower = wanted.to_lowercase();
    let id = |device: &Device| device.id().map_or_else(|_| String::new(), |id| id.to_string().to_lowercase());
    let exact = devices.iter().find(|device| id(device) == lower || name_of(device).to_lowercase() == lower);
    let fits =
        |device: &&Device| name_of(device).to_lowercase().contains(&lower) || id(device).contains(&lower);
    let mut part = devices.iter().filter(fits);
    match (exact, part.next(), part.next()) {
        (Some(device), ..) | (None, Some(device), None) => Ok(device.clone()),
        _ => Err(LoudspeakerError::Unknown {
            name: wanted.to_owned(),
            there: devices.iter().map(|device| format!("\"{}\"", name_of(device))).collect(),
        }),
    }
}

/// What is shared with the callback, without locks.
#[derive(Debug, Default)]
struct Shared {
    /// Blocks of earlier lines than this one are passed over.
    from: AtomicU64,
    /// The last line whose last sample was taken.
    ended: AtomicU64,
    /// How often a line was not ready in time.
    ran_dry: AtomicU64,
    /// How often the device asked for samples: it lives.
    asked: AtomicU64,
}

struct Block {
    line: u64,
    last: bool,
    length: usize,
    samples: [f32; BLOCK],
}

/// An open loudspeaker.
pub(super) struct Player {
    stream: Option<cpal::Stream>,
    blocks: Sender<Block>,
    errors: Receiver<String>,
    shared: Arc<Shared>,
    /// Samples a second.
    pub rate: u32,
}

impl Player {
    /// Opens the one with that name.
    pub fn open(wanted: &str) -> Result<Self, LoudspeakerError> {
        let device = find(wanted)?;
        let name = name_of(&device);
        let fault = |fault: String| LoudspeakerError::Unusable { name: name.clone(), fault };
        let form = device.default_output_config().map_err(|error| fault(error.to_string()))?;
        let mut config: StreamConfig = form.config();
        if let SupportedBufferSize::Range { min, max } = form.buffer_size() {
            // Short, so that the voice stops at once; long enough for a busy machine.
            config.buffer_size = BufferSize::Fixed((form.sample_rate() / 40).clamp(*min, *max));
        }
        Self::start(&device, config, form.sample_format())
            .or_else(|_| {
                config.buffer_size = BufferSize::Default;
                Self::start(&device, config, form.sample_format())
            })
            .map_err(fault)
    }

    fn start(device: &Device, config: StreamConfig, format: SampleFormat) -> Result<Self, String> {
        let (blocks, taken) = bounded(BLOCKS);
        let (tell, errors) = bounded(16);
        let shared = Arc::new(Shared::default());
        let hand = Hand {
            blocks: taken,
            shared: Arc::clone(&shared),
            channels: usize::from(config.channels.max(1)),
            now: None,
            within: false,
        };
        let error = move |error: cpal::Error| {
            use cpal::ErrorKind::{DeviceChanged, RealtimeDenied, Xrun};
            if !matches!(error.kind(), DeviceChanged | RealtimeDenied | Xrun) {
                let _ = tell.try_send(error.to_string());
            }
        };
        let stream = match format {
            SampleFormat::F32 => build::<f32>(device, config, hand, error),
            SampleFormat::F64 => build::<f64>(device, config, hand, error),
            SampleFormat::I16 => build::<i16>(device, config, hand, error),
            SampleFormat::I32 => build::<i32>(device, config, hand, error),
            SampleFormat::U8 => build::<u8>(device, config, hand, error),
            SampleFormat::U16 => build::<u16>(device, config, hand, error),
            other => return Err(format!("its sample format {other} is not supported")),
        }
        .map_err(|error| error.to_string())?;
        stream.play().map_err(|error| error.to_string())?;
        Ok(Self { stream: Some(stream), blocks, errors, shared, rate: config.sample_rate })
    }

    /// Hands over as much of a line as there is room for, from that sample on; gives how far it came.
    pub fn feed(&self, line: u64, samples: &[f32], from: usize) -> usize {
        let mut at = from;
        while at < samples.len() {
            let length = BLOCK.min(samples.len() - at);
            let mut block = Block { line, last: at + length == samples.len(), length, samples: [0.0; BLOCK] };
            block.samples[..length].copy_from_slice(&samples[at..at + length]);
            if self.blocks.try_send(block).is_err() {
                break;
            }
            at += length;
        }
        at
    }

    /// Passes over what waits of earlier lines than this one.
    pub fn hush(&self, before: u64) {
        self.shared.from.store(before, Ordering::Release);
    }

    /// Whether the last sample of a line was taken by the device.
    pub fn has_ended(&self, line: u64) -> bool {
        self.shared.ended.load(Ordering::Acquire) >= line
    }

    /// How often a line was not ready in time since it was asked last.
    pub fn ran_dry(&self) -> u64 {
        self.shared.ran_dry.swap(0, Ordering::Relaxed)
    }

    /// A number that grows while the device lives.
    pub fn asked(&self) -> u64 {
        self.shared.asked.load(Ordering::Relaxed)
    }

    /// Why it is gone, if it told so.
    pub fn lost(&self) -> Option<String> {
        self.errors.try_recv().ok()
    }
}

impl Drop for Player {
    /// Closing hangs where the device is gone: it is left to itself.
    fn drop(&mut self) {
        let Some(stream) = self.stream.take() else { return };
        let (done, wait) = bounded::<()>(1);
        let closing = std::thread::Builder::new().name("close loudspeaker".into()).spawn(move || {
            drop(stream);
            let _ = done.send(());
        });
        if closing.is_ok() {
            let _ = wait.recv_timeout(Duration::from_millis(200));
        }
    }
}

fn build<T>(
    device: &Device,
    config: StreamConfig,
    mut hand: Hand,
    error: impl FnMut(cpal::Error) + Send + 'static,
) -> Result<cpal::Stream, cpal::Error>
where
    T: SizedSample + FromSample<f32> + 'static,
{
    let time_limit = Some(Duration::from_secs(5));
    device.build_output_stream(config, move |data: &mut [T], _: &_| hand.fill(data), error, time_limit)
}

/// The callback's side: waits for nothing and allocates nothing.
struct Hand {
    blocks: Receiver<Block>,
    shared: Arc<Shared>,
    channels: usize,
    now: Option<(Block, usize)>,
    /// Whether a line has begun and not ended.
    within: bool,
}

impl Hand {
    fn fill<T: SizedSample + FromSample<f32>>(&mut self, data: &mut [T]) {
        self.shared.asked.fetch_add(1, Ordering::Relaxed);
        let from = self.shared.from.load(Ordering::Acquire);
        let mut dry = false;
        for frame in data.chunks_mut(self.channels) {
            let sample = self.next(from).unwrap_or_else(|| {
                dry |= self.within;
                0.0
            });
            frame.fill(T::from_sample_(sample));
        }
        if dry {
            self.shared.ran_dry.fetch_add(1, Ordering::Relaxed);
        }
    }

    fn next(&mut self, from: u64) -> Option<f32> {
        loop {
            if let Some((block, at)) = &mut self.now {
                if block.line >= from && *at < block.length {
                    *at += 1;
                    return Some(block.samples[*at - 1]);
                }
                if block.last || block.line < from {
                    self.within = false;
                    self.shared.ended.fetch_max(block.line, Ordering::Release);
                }
                self.now = None;
            }
            let block = self.blocks.try_recv().ok()?;
            self.within = block.line >= from;
            self.now = Some((block, 0));
        }
    }
}
