//! Owns the device of a serial line: eight bits, no parity, one stop bit, raw, at its speed. A pseudo-terminal is one too.

use super::ask::Wire;
use rustix::{
    event::{PollFd, PollFlags, Timespec, poll},
    fs::{Mode, OFlags},
    io::Errno,
    termios::{
        ControlModes, OptionalActions, QueueSelector, SpecialCodeIndex, tcflush, tcgetattr, tcsetattr,
    },
};
use std::{
    io,
    os::fd::OwnedFd,
    path::Path,
    time::{Duration, Instant},
};

/// A longer line is no answer of a meter.
const LONGEST: usize = 4096;
/// How long a line to send may take: a handheld takes it at once.
const SEND_WITHIN: Duration = Duration::from_secs(2);

/// An open line.
#[derive(Debug)]
pub(super) struct Device {
    fd: OwnedFd,
    /// What came and is no whole line yet.
    rest: Vec<u8>,
}

impl Device {
    /// Opens a serial line. What is no terminal is refused.
    pub fn open(path: &Path, baud: u32) -> io::Result<Self> {
        // Not waiting: a line without a modem's carrier would never open.
        let flags = OFlags::RDWR | OFlags::NOCTTY | OFlags::NONBLOCK | OFlags::CLOEXEC;
        let fd = rustix::fs::open(path, flags, Mode::empty())?;
        let mut modes = match tcgetattr(&fd) {
            Ok(modes) => modes,
            Err(Errno::NOTTY) => return Err(io::Error::other("it is no serial line")),
            Err(error) => return Err(error.into()),
        };
        modes.make_raw();
        // Nothing there is an error then, and no end.
        modes.special_codes[SpecialCodeIndex::VMIN] = 1;
        modes.special_codes[SpecialCodeIndex::VTIME] = 0;
        modes.control_modes |= ControlModes::CLOCAL | ControlModes::CREAD;
        modes.control_modes -= ControlModes::CSTOPB;
        modes.set_speed(baud)?;
        tcsetattr(&fd, OptionalActions::Now, &modes)?;
        Ok(Self { fd, rest: Vec::new() })
    }

    /// Waits until the line can do that, at most until then. Tells whether it can.
    fn wait(&self, what: PollFlags, until: Instant) -> io::Result<bool> {
        loop {
            let left = until.saturating_duration_since(Instant::now());
            let timeout = Timespec::try_from(left).map_err(io::Error::other)?;
            let mut fds = [PollFd::new(&self.fd, what)];
            match poll(&mut fds, Some(&timeout)) {
                Err(Errno::INTR) => {}
                Err(error) => return Err(error.into()),
                Ok(0) => return Ok(false),
                Ok(_) if fds[0].revents().intersects(what) => return Ok(true),
                // Nothing but hung up or failed.
                Ok(_) => return Err(unplugged()),
            }
        }
    }

    /// The first whole line of what came. Empty lines are passed over: a meter may end its lines with two signs.
    fn line(&mut self) -> Option<String> {
        loop {
            let end = self.rest.iter().position(|byte| matches!(byte, b'\n' | b'\r'))?;
            let line: Vec<u8> = self.rest.drain(..=end).take(end).collect();
            let line = String::from_utf8_lossy(&line).into_owned();
            if !line.trim().is_empty() {
                return Some(line);
            }
        }
    }

    /// Reads what is there. Nothing there is no error; a line that ends is.
    fn read(&mut self) -> io::Result<()> {
        let mut buffer = [0; 512];
        match rustix::io::read(&self.fd, &mut buffer) {
            Ok(0) => Err(unplugged()),
            Ok(count) => {
                self.rest.extend_from_slice(&buffer[..count]);
                Ok(())
            }
            Err(Errno::AGAIN | Errno::INTR) => Ok(()),
            Err(error) => Err(told(error)),
        }
    }
}

impl Wire for Device {
    fn send(&mut self, line: &str) -> io::Result<()> {
        let until = Instant::now() + SEND_WITHIN;
        let line = format!("{line}\n");
        let mut left = line.as_bytes();
        while !left.is_empty() {
            if !self.wait(PollFlags::OUT, until)? {
                return Err(io::Error::other("it takes nothing"));
            }
            match rustix::io::write(&self.fd, left) {
                Ok(count) => left = &left[count..],
                Err(Errno::AGAIN | Errno::INTR) => {}
                Err(error) => return Err(told(error)),
            }
        }
        Ok(())
    }

    fn receive(&mut self, within: Duration) -> io::Result<Option<String>> {
        let until = Instant::now() + within;
        loop {
            if let Some(line) = self.line() {
                return Ok(Some(line));
            }
            // What goes on for ever without an end is told as it is: it is no answer.
            if self.rest.len() > LONGEST {
                let sent = String::from_utf8_lossy(&std::mem::take(&mut self.rest)).into_owned();
                return Ok(Some(sent));
            }
            if !self.wait(PollFlags::IN, until)? {
                return Ok(None);
            }
            self.read()?;
        }
    }

    fn clear(&mut self) -> io::Result<()> {
        self.rest.clear();
        tcflush(&self.fd, QueueSelector::IFlush).map_err(told)
    }
}

/// The system calls a line that was pulled out an error of input and output.
fn told(error: Errno) -> io::Error {
    if error == Errno::IO { unplugged() } else { error.into() }
}

fn unplugged() -> io::Error {
    io::Error::other("it was unplugged")
}
