//! Owns the thread at the meter's line: it opens the device, answers requests for a reading, and opens it again after it was lost.
//! Nothing of it waits in the session's thread.

use super::{
    MeterTrouble, Metered,
    ask::{self, Known, NoReading, Wire},
};
use crate::profile::Meter;
use crossbeam_channel::{Receiver, Sender, unbounded};
use serde::{Deserialize, Serialize};
use std::{
    io,
    path::PathBuf,
    sync::{
        Arc,
        atomic::{AtomicU64, Ordering},
    },
    thread,
    time::Duration,
};

/// Speed of the line where none is set, in bits a second: the most usual one. Common practice, no source.
pub const BAUD: u32 = 9600;
/// Between two readings that the meter takes anew. Chosen here.
const BETWEEN_NEW: Duration = Duration::from_millis(200);
/// Between two looks at the reading that the meter took last: longer than a handheld takes for one, else the same one would count
/// several times. Handhelds take two to five a second (common practice, no source).
const BETWEEN_LOOKS: Duration = Duration::from_millis(600);

/// How a meter is asked for a reading.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Query {
    /// `READ?`: take a new one.
    #[default]
    Read,
    /// `FETCH?`: tell the one taken last.
    Fetch,
}

impl Query {
    /// What is sent.
    #[must_use]
    pub fn line(self) -> &'static str {
        match self {
            Self::Read => "READ?",
            // The short form of FETCh.
            Self::Fetch => "FETC?",
        }
    }

    fn pause(self) -> Duration {
        match self {
            Self::Read => BETWEEN_NEW,
            Self::Fetch => BETWEEN_LOOKS,
        }
    }
}

/// Where the meter is, and how it is asked.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Settings {
    /// The device of the line.
    pub port: PathBuf,
    /// Its speed in bits a second.
    pub baud: u32,
    /// How it is asked.
    pub query: Query,
}

/// What comes of a request, by its number; 0 where nobody asked.
pub type Came = (u64, Result<Metered, MeterTrouble>);

/// The session's end of the line.
#[derive(Debug)]
pub struct Port {
    requests: Sender<u64>,
    /// The request that still matters.
    wanted: Arc<AtomicU64>,
    last: u64,
    came: Receiver<Came>,
}

impl Port {
    /// Opens the line on a thread of its own. A line that cannot be opened is told, and tried again with every request.
    ///
    /// # Errors
    /// Where no thread can be started.
    pub fn start(settings: Settings, meter: Arc<Meter>) -> io::Result<Self> {
        let (requests, asked) = unbounded();
        let (tell, came) = unbounded();
        let wanted = Arc::new(AtomicU64::new(0));
        let theirs = Arc::clone(&wanted);
        thread::Builder::new()
            .name("asking the meter".into())
            .spawn(move || Line { settings, meter, open: None, wanted: theirs }.serve(&asked, &tell))?;
        Ok(Self { requests, wanted, last: 0, came })
    }

    /// Without a device: what is asked and what comes are the test's.
    #[cfg(test)]
    pub(crate) fn between(requests: Sender<u64>, came: Receiver<Came>) -> Self {
        Self { requests, wanted: Arc::default(), last: 0, came }
    }

    /// Asks for a reading; the number under which it will come. What was asked for before is dropped.
    pub fn ask(&mut self) -> u64 {
        self.last += 1;
        self.wanted.store(self.last, Ordering::SeqCst);
        // A thread that has ended has told why.
        let _ = self.requests.send(self.last);
        self.last
    }

    /// What comes of requests.
    #[must_use]
    pub fn came(&self) -> &Receiver<Came> {
        &self.came
    }
}

/// The thread's end.
struct Line {
    settings: Settings,
    meter: Arc<Meter>,
    open: Option<(Box<dyn Wire>, Known)>,
    wanted: Arc<AtomicU64>,
}

impl Line {
    fn serve(mut self, asked: &Receiver<u64>, tell: &Sender<Came>) {
        if let Err(error) = self.open()
            && tell.send((0, Err(self.gone(&error)))).is_err()
        {
            return;
        }
        for number in asked {
            if self.wanted.load(Ordering::SeqCst) != number {
                continue;
            }
            let came = match self.take(number) {
                Ok(metered) => Ok(metered),
                Err(NoReading::Unwanted) => continue,
                Err(NoReading::Trouble(trouble)) => Err(trouble),
                Err(NoReading::Lost(error)) => {
                    self.open = None;
                    Err(self.gone(&error))
                }
            };
            if tell.send((number, came)).is_err() {
                return;
            }
        }
    }

    fn open(&mut self) -> io::Result<()> {
        if self.open.is_none() {
            self.open = Some((open(&self.settings)?, Known::default()));
        }
        Ok(())
    }

    fn take(&mut self, number: u64) -> Result<Metered, NoReading> {
        self.open()?;
        let Some((device, known)) = &mut self.open else { return Err(NoReading::Unwanted) };
        let query = self.settings.query;
        let wanted = || self.wanted.load(Ordering::SeqCst) == number;
        let pause = || {
            if wanted() {
                thread::sleep(query.pause());
            }
            wanted()
        };
        ask::take(device.as_mut(), known, query.line(), &self.meter, &pause)
    }

    fn gone(&self, error: &io::Error) -> MeterTrouble {
        MeterTrouble::Gone { port: self.settings.port.display().to_string(), why: error.to_string() }
    }
}

#[cfg(unix)]
fn open(settings: &Settings) -> io::Result<Box<dyn Wire>> {
    Ok(Box::new(super::device::Device::open(&settings.port, settings.baud)?))
}

#[cfg(not(unix))]
fn open(_: &Settings) -> io::Result<Box<dyn Wire>> {
    Err(io::Error::other("this system's lines are not known to this build"))
}
