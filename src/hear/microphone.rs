//! Owns the microphone: which one, opened in whatever form it has, its samples handed over without blocking.

use super::{
    AudioSource, AudioStream, HearError,
    audio::{Got, Lost, tame},
    loss::LossWatch,
    resample::ToRate,
};
use cpal::{
    BufferSize, Device, FromSample, SampleFormat, SizedSample, StreamConfig, SupportedBufferSize,
    traits::{DeviceTrait, HostTrait, StreamTrait},
};
use crossbeam_channel::{Receiver, RecvTimeoutError, Sender, bounded};
use std::{
    path::Path,
    sync::{
        Arc,
        atomic::{AtomicU64, Ordering},
    },
    time::{Duration, Instant},
};

/// Samples a block; blocks are moved through a channel whose places are made beforehand.
const BLOCK: usize = 480;
/// Blocks that may wait: about five seconds at 48 kHz.
const BLOCKS: usize = 512;

/// A microphone, by name or the system's default.
#[derive(Debug, Clone, Default)]
pub struct Microphone {
    wanted: Option<String>,
}

/// One input device.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct InputDevice {
    /// The system's own name for it; choosing by it is exact.
    pub id: String,
    /// The name for people.
    pub name: String,
    /// Whether it is taken when none is named.
    pub is_default: bool,
}

impl Microphone {
    /// The default one, or the one with that name (the system's id, the whole name, or a part of it that only one has).
    #[must_use]
    pub fn new(wanted: Option<String>) -> Self {
        Self { wanted }
    }

    /// All input devices.
    ///
    /// # Errors
    /// [`HearError::NoMicrophone`] where the system has no sound input at all.
    pub fn list() -> Result<Vec<InputDevice>, HearError> {
        let host = host()?;
        let default = host.default_input_device().and_then(|d| d.id().ok());
        let devices = host.input_devices().map_err(|e| HearError::NoMicrophone(e.to_string()))?;
        let list: Vec<InputDevice> = devices
            .map(|d| {
                let id = d.id().ok();
                let is_default = id.is_some() && id == default;
                InputDevice {
                    id: id.map_or_else(String::new, |i| i.to_string()),
                    name: name_of(&d),
                    is_default,
                }
            })
            .collect();
        if list.is_empty() {
            Err(HearError::NoMicrophone("the sound system lists no input".into()))
        } else {
            Ok(list)
        }
    }

    /// Whether it is there and has a form: what is wrong shows before a session starts, without opening it (a sound server
    /// may take seconds to open and close a microphone).
    ///
    /// # Errors
    /// As [`AudioSource::open`], but for what shows only when sound flows.
    pub fn check(&self) -> Result<(), HearError> {
        self.device().map(drop)
    }

    /// The device with its form.
    fn device(&self) -> Result<(Device, cpal::SupportedStreamConfig), HearError> {
        let host = host()?;
        let device = self.find(&host)?;
        // A default device may be promised although there is none: the form it has is the proof.
        let form = device.default_input_config().map_err(|e| {
            if self.wanted.is_none() {
                HearError::NoMicrophone(e.to_string())
            } else {
                HearError::Microphone { name: name_of(&device), fault: e.to_string() }
            }
        })?;
        Ok((device, form))
    }

    fn find(&self, host: &cpal::Host) -> Result<Device, HearError> {
        let none = || HearError::NoMicrophone("the sound system has no default input".into());
        let Some(wanted) = &self.wanted else { return host.default_input_device().ok_or_else(none) };
        let devices: Vec<Device> =
            host.input_devices().map_err(|e| HearError::NoMicrophone(e.to_string()))?.collect();
        let lower = wanted.to_lowercase();
        let by_id = |d: &Device| d.id().is_ok_and(|i| i.to_string() == *wanted);
        if let Some(exact) = devices
            .iter()
            .find(|d| by_id(d))
            .or_else(|| devices.iter().find(|d| name_of(d).to_lowercase() == lower))
        {
            return Ok(exact.clone());
        }
        let mut part = devices.iter().filter(|d| {
            name_of(d).to_lowercase().contains(&lower)
                || d.id().is_ok_and(|i| i.to_string().to_lowercase().contains(&lower))
        });
        match (part.next(), part.next()) {
            (Some(one), None) => Ok(one.clone()),
            _ => Err(HearError::UnknownMicrophone {
                name: wanted.clone(),
                there: devices.iter().map(|d| format!("\"{}\"", name_of(d))).collect(),
            }),
        }
    }
}

fn name_of(device: &Device) -> String {
    device.description().map_or_else(|_| "unnamed".into(), |d| d.name().to_owned())
}

/// The sound system: a PulseAudio server (or PipeWire in its place) where there is one, else ALSA.
///
/// Where there is neither a server nor a capture device nor a configuration of its own, ALSA is not asked: it would fill
/// the terminal with its complaints before the one sentence that helps.
fn host() -> Result<cpal::Host, HearError> {
    let host = cpal::default_host();
    #[cfg(target_os = "linux")]
    if host.id() == cpal::HostId::Alsa && !alsa_may_capture() {
        return Err(HearError::NoMicrophone(
            "no sound server is running and the machine has no capture device".into(),
        ));
    }
    Ok(host)
}

#[cfg(target_os = "linux")]
fn alsa_may_capture() -> bool {
    let home = std::env::var_os("HOME").unwrap_or_default();
    let configured = Path::new("/etc/asound.conf").exists() || Path::new(&home).join(".asoundrc").exists();
    let device = std::fs::read_dir("/dev/snd").is_ok_and(|mut entries| {
        entries.any(|e| {
            e.is_ok_and(|e| {
                let name = e.file_name();
                let name = name.to_string_lossy();
                name.starts_with("pcm") && name.ends_with('c')
            })
        })
    });
    configured || device
}

impl AudioSource for Microphone {
    fn name(&self) -> String {
        self.wanted.clone().unwrap_or_else(|| "the default microphone".into())
    }

    fn open(&mut self) -> Result<Box<dyn AudioStream>, HearError> {
        let (device, form) = self.device()?;
        let name = name_of(&device);
        let fault = |fault: String| HearError::Microphone { name: name.clone(), fault };
        let resampler = ToRate::new(form.sample_rate()).map_err(fault)?;
        let mut config: StreamConfig = form.config();
        if let SupportedBufferSize::Range { min, max } = form.buffer_size() {
            // A sound server keeps no more than one such piece for us and drops the rest silently: with 20 ms, sound was
            // lost on a busy machine; with 50 ms and more, hardly any.
            config.buffer_size = BufferSize::Fixed((form.sample_rate() / 16).clamp(*min, *max));
        }
        let opened = Opened::start(&device, config, form.sample_format()).or_else(|_| {
            config.buffer_size = BufferSize::Default;
            Opened::start(&device, config, form.sample_format())
        });
        let Opened { stream, blocks, errors, dropped } = opened.map_err(fault)?;
        Ok(Box::new(MicrophoneStream {
            stream: Some(stream),
            blocks,
            errors,
            dropped,
            resampler,
            rate: f64::from(form.sample_rate()),
            watch: LossWatch::new(),
            start: None,
            samples: 0,
        }))
    }
}

struct Block {
    length: usize,
    samples: [f32; BLOCK],
}

struct Opened {
    stream: cpal::Stream,
    blocks: Receiver<Block>,
    errors: Receiver<cpal::Error>,
    dropped: Arc<AtomicU64>,
}

impl Opened {
    fn start(device: &Device, config: StreamConfig, format: SampleFormat) -> Result<Self, String> {
        let (sender, blocks) = bounded(BLOCKS);
        let (error_sender, errors) = bounded(16);
        let dropped = Arc::new(AtomicU64::new(0));
        let hand = Hand { sender, dropped: dropped.clone(), channels: usize::from(config.channels.max(1)) };
        let error = move |e: cpal::Error| {
            let _ = error_sender.try_send(e); // sixteen waiting ones tell enough
        };
        let stream = match format {
            SampleFormat::I8 => build::<i8>(device, config, hand, f32::from_sample_, error),
            SampleFormat::I16 => build::<i16>(device, config, hand, f32::from_sample_, error),
            SampleFormat::I24 => build(device, config, hand, from_24_bits, error),
            SampleFormat::I32 => build::<i32>(device, config, hand, f32::from_sample_, error),
            SampleFormat::U8 => build::<u8>(device, config, hand, f32::from_sample_, error),
            SampleFormat::U16 => build::<u16>(device, config, hand, f32::from_sample_, error),
            SampleFormat::U24 => build::<cpal::U24>(device, config, hand, f32::from_sample_, error),
            SampleFormat::U32 => build::<u32>(device, config, hand, f32::from_sample_, error),
            SampleFormat::F32 => build::<f32>(device, config, hand, f32::from_sample_, error),
            SampleFormat::F64 => build::<f64>(device, config, hand, f32::from_sample_, error),
            other => return Err(format!("its sample format {other} is not supported")),
        }
        .map_err(|e| e.to_string())?;
        stream.play().map_err(|e| e.to_string())?;
        Ok(Self { stream, blocks, errors, dropped })
    }
}

fn build<T>(
    device: &Device,
    config: StreamConfig,
    mut hand: Hand,
    convert: fn(T) -> f32,
    error: impl FnMut(cpal::Error) + Send + 'static,
) -> Result<cpal::Stream, cpal::Error>
where
    T: SizedSample + 'static,
{
    let time_limit = Some(Duration::from_secs(5));
    device.build_input_stream(config, move |data: &[T], _: &_| hand.over(data, convert), error, time_limit)
}

/// 24 bits in 32: sound servers leave the upper byte empty also below zero, so the sign is taken from bit 23.
fn from_24_bits(sample: cpal::I24) -> f32 {
    #[expect(clippy::cast_precision_loss, reason = "24 significant bits fit")]
    let top = (sample.inner() << 8) as f32;
    top / 2_147_483_648.0
}

/// The audio callback's side: mixes to mono and hands blocks over; waits for nothing and allocates nothing.
struct Hand {
    sender: Sender<Block>,
    dropped: Arc<AtomicU64>,
    channels: usize,
}

impl Hand {
    fn over<T: SizedSample>(&mut self, data: &[T], convert: fn(T) -> f32) {
        #[expect(clippy::cast_precision_loss, reason = "a count of channels")]
        let share = 1.0 / self.channels as f32;
        let mut block = Block { length: 0, samples: [0.0; BLOCK] };
        for frame in data.chunks_exact(self.channels) {
            block.samples[block.length] = frame.iter().map(|s| convert(*s)).sum::<f32>() * share;
            block.length += 1;
            if block.length == BLOCK {
                self.send(block);
                block = Block { length: 0, samples: [0.0; BLOCK] };
            }
        }
        if block.length > 0 {
            self.send(block);
        }
    }

    fn send(&self, block: Block) {
        let length = block.length as u64;
        if self.sender.try_send(block).is_err() {
            self.dropped.fetch_add(length, Ordering::Relaxed);
        }
    }
}

struct MicrophoneStream {
    stream: Option<cpal::Stream>,
    blocks: Receiver<Block>,
    errors: Receiver<cpal::Error>,
    dropped: Arc<AtomicU64>,
    resampler: ToRate,
    rate: f64,
    watch: LossWatch,
    start: Option<Instant>,
    samples: u64,
}

impl MicrophoneStream {
    fn lost(&self) -> Result<(), Lost> {
        use cpal::ErrorKind::{DeviceChanged, RealtimeDenied, Xrun};
        while let Ok(error) = self.errors.try_recv() {
            match error.kind() {
                // The stream goes on.
                DeviceChanged | RealtimeDenied => {}
                Xrun => {
                    self.dropped.fetch_add(1, Ordering::Relaxed);
                }
                _ => return Err(Lost(error.to_string())),
            }
        }
        Ok(())
    }

    fn take(&mut self, block: &Block, out: &mut Vec<f32>) {
        let from = out.len();
        self.samples += block.length as u64;
        self.resampler.push(&block.samples[..block.length], out);
        out[from..].iter_mut().for_each(|s| *s = tame(*s));
    }
}

impl AudioStream for MicrophoneStream {
    fn read(&mut self, out: &mut Vec<f32>, wait: Duration) -> Result<Got, Lost> {
        match self.blocks.recv_timeout(wait) {
            Ok(block) => self.take(&block, out),
            Err(RecvTimeoutError::Timeout) => {
                self.lost()?;
                return Ok(Got::Nothing);
            }
            Err(RecvTimeoutError::Disconnected) => {
                self.lost()?;
                return Err(Lost("the sound system closed the stream".into()));
            }
        }
        while let Ok(block) = self.blocks.try_recv() {
            self.take(&block, out);
        }
        let start = *self.start.get_or_insert_with(Instant::now);
        #[expect(clippy::cast_precision_loss, reason = "exact for centuries")]
        let missing =
            self.watch.note(start.elapsed().as_secs_f64(), self.samples as f64 / self.rate) * self.rate;
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a small count")]
        self.dropped.fetch_add(missing as u64, Ordering::Relaxed);
        self.lost()?;
        Ok(Got::Sound)
    }

    fn dropped(&self) -> u64 {
        self.dropped.load(Ordering::Relaxed)
    }
}

impl Drop for MicrophoneStream {
    /// Closing may hang where the sound server died: it gets a moment, then it is left to itself.
    fn drop(&mut self) {
        let Some(stream) = self.stream.take() else { return };
        let (done, wait) = bounded::<()>(1);
        let closing = std::thread::Builder::new().name("close microphone".into()).spawn(move || {
            drop(stream);
            let _ = done.send(());
        });
        if closing.is_ok() {
            let _ = wait.recv_timeout(Duration::from_millis(500));
        }
    }
}
