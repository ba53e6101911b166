//! Owns the system's voice: one thread that speaks line after line through `tts` and never waits for ever.
//!
//! The speech daemon can die while it speaks (no callback comes then) or lose its sound server (begin comes, end never):
//! every line has a time limit, after which the connection is made anew.

use super::{
    Scales, Voice, VoiceEvent, VoiceTrouble,
    remote::{Asked, Remote},
};
use crossbeam_channel::{Receiver, RecvTimeoutError, Sender, unbounded};
use std::{
    collections::VecDeque,
    thread,
    time::{Duration, Instant},
};
use tts::{Backends, Tts};

/// Time that a line may take at most: a slow voice needs less than this for each letter.
const LIMIT_PER_LETTER: Duration = Duration::from_millis(160);
/// Time that any line may take.
const LIMIT_AT_LEAST: Duration = Duration::from_secs(4);
/// How long the first connection may take.
const CONNECT_WITHIN: Duration = Duration::from_secs(10);

enum Order {
    Asked(Asked),
    Ended,
    Began(Instant),
}

impl From<Asked> for Order {
    fn from(asked: Asked) -> Self {
        Self::Asked(asked)
    }
}

/// The voice of the operating system; `pace` from -100 (slow) to 100 (fast), 0 is the voice's own;
/// `volume` from -100 (quiet) to 100 (full), none is its own.
///
/// # Errors
/// What the voice says when there is none (no speech service, no synthesiser).
pub fn system_voice(pace: f32, volume: Option<f32>) -> Result<Box<dyn Voice>, String> {
    let (orders, inbox) = unbounded();
    let (tell, events) = unbounded();
    let (ready, is_ready) = crossbeam_channel::bounded(1);
    let callbacks = orders.clone();
    thread::Builder::new()
        .name("voice".into())
        .spawn(move || match connect(&callbacks, pace, volume) {
            Ok(tts) => {
                let _ = ready.send(Ok(()));
                let speaker = Speaker {
                    tts,
                    callbacks,
                    tell,
                    rate: pace,
                    volume,
                    waiting: VecDeque::new(),
                    until: None,
                    last: 0,
                };
                speaker.run(&inbox);
            }
            Err(error) => {
                let _ = ready.send(Err(error));
            }
        })
        .map_err(|error| error.to_string())?;
    is_ready.recv_timeout(CONNECT_WITHIN).map_err(|_| "the speech service does not answer".to_owned())??;
    let scales = Scales { pace, volume: volume.unwrap_or(100.0) };
    Ok(Box::new(Remote::new(orders, events, scales)))
}

fn connect(orders: &Sender<Order>, rate: f32, volume: Option<f32>) -> Result<Tts, String> {
    let text = |error: tts::Error| error.to_string();
    let mut tts = Tts::new(Backends::SpeechDispatcher).map_err(text)?;
    let ended = |orders: &Sender<Order>| {
        let orders = orders.clone();
        Box::new(move |_| {
            let _ = orders.send(Order::Ended);
        })
    };
    let begin = orders.clone();
    tts.on_utterance_begin(Some(Box::new(move |_| {
        let _ = begin.send(Order::Began(Instant::now()));
    })))
    .map_err(text)?;
    tts.on_utterance_end(Some(ended(orders))).map_err(text)?;
    tts.set_rate(rate).map_err(text)?;
    if let Some(volume) = volume {
        tts.set_volume(volume).map_err(text)?;
    }
    Ok(tts)
}

struct Speaker {
    tts: Tts,
    callbacks: Sender<Order>,
    tell: Sender<VoiceEvent>,
    rate: f32,
    volume: Option<f32>,
    waiting: VecDeque<String>,
    /// Until when the present line must have ended.
    until: Option<Instant>,
    /// The number of the last order.
    last: u64,
}

impl Speaker {
    fn run(mut self, inbox: &Receiver<Order>) {
        loop {
            let order = match self.until {
                None => inbox.recv().map_err(|_| RecvTimeoutError::Disconnected),
                Some(until) => inbox.recv_deadline(until),
            };
            match order {
                Ok(Order::Asked(Asked::Say(number, text))) => {
                    self.last = number;
                    self.waiting.push_back(text);
                    if self.until.is_none() {
                        self.next();
                    }
                }
                Ok(Order::Asked(Asked::Hush(number))) => {
                    self.last = number;
                    self.waiting.clear();
                    self.until = None;
                    if self.tts.stop().is_err() {
                        self.reconnect("it could not be stopped");
                    }
                    self.quiet();
                }
                Ok(Order::Asked(Asked::Change(scales))) => self.change(scales),
                Ok(Order::Began(at)) => self.send(VoiceEvent::Began(at)),
                Ok(Order::Ended) if self.until.is_some() => self.next(),
                Ok(Order::Ended) => {}
                Err(RecvTimeoutError::Timeout) => {
                    self.reconnect("a line did not end in time");
                    self.next();
                }
                Err(RecvTimeoutError::Disconnected) => return,
            }
        }
    }

    /// Speaks what waits next, or tells that it is quiet.
    fn next(&mut self) {
        self.until = None;
        while let Some(text) = self.waiting.pop_front() {
            let letters = u32::try_from(text.len()).unwrap_or(u32::MAX);
            match self.tts.speak(text.as_str(), false) {
                Ok(_) => {
                    self.until = Some(Instant::now() + LIMIT_AT_LEAST.max(LIMIT_PER_LETTER * letters));
                    return;
                }
                Err(error) => self.reconnect(&error.to_string()),
            }
        }
        self.quiet();
    }

    fn reconnect(&mut self, why: &str) {
        self.send(VoiceEvent::Trouble(VoiceTrouble::Lost { why: why.to_owned() }));
        match connect(&self.callbacks, self.rate, self.volume) {
            Ok(tts) => self.tts = tts,
            Err(error) => self.send(VoiceEvent::Trouble(VoiceTrouble::None { why: error.to_string() })),
        }
    }

    fn change(&mut self, scales: Scales) {
        (self.rate, self.volume) = (scales.pace, Some(scales.volume));
        let done = self.tts.set_rate(scales.pace).map(|_| ());
        let done = done.and_then(|()| self.tts.set_volume(scales.volume).map(|_| ()));
        if let Err(error) = done {
            self.send(VoiceEvent::Trouble(VoiceTrouble::Unchanged { why: error.to_string() }));
        }
    }

    fn quiet(&self) {
        self.send(VoiceEvent::Quiet { after: self.last });
    }

    fn send(&self, event: VoiceEvent) {
        // Nobody listens any more when the program ends.
        let _ = self.tell.send(event);
    }
}
