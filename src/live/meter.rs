//! Owns what the loop knows of the meter on a line: what was asked of it, and whether that is still wanted.

use crate::{
    scpi::{Came, Port},
    session::{Phase, State},
};
use crossbeam_channel::Receiver;

/// The meter on a line.
#[derive(Debug)]
pub struct MeterLine {
    port: Port,
    asked: Option<Asked>,
}

/// A request, and where the session stood then.
#[derive(Debug)]
struct Asked {
    number: u64,
    stood: Stood,
}

/// Where a session stands, as far as a reading has its place by it.
#[derive(Debug, PartialEq)]
struct Stood {
    phase: Phase,
    taken: usize,
    inputs: usize,
    preparations: usize,
}

impl Stood {
    fn of(state: &State) -> Self {
        Self {
            phase: state.phase,
            taken: state.taken.len(),
            inputs: state.inputs.len(),
            preparations: state.preparations.len(),
        }
    }
}

impl MeterLine {
    /// The meter behind that port.
    #[must_use]
    pub fn new(port: Port) -> Self {
        Self { port, asked: None }
    }

    /// What comes of it.
    pub(super) fn came(&self) -> Receiver<Came> {
        self.port.came().clone()
    }

    /// Asks for a reading where the session stands. Asked twice, the first request goes on.
    pub(super) fn ask(&mut self, state: &State) {
        let stood = Stood::of(state);
        if self.asked.as_ref().is_none_or(|asked| asked.stood != stood) {
            self.asked = Some(Asked { number: self.port.ask(), stood });
        }
    }

    /// Whether what came was asked for where the session still stands. It has come then.
    pub(super) fn is_wanted(&mut self, number: u64, state: &State) -> bool {
        let asked = self.asked.take_if(|asked| asked.number == number);
        asked.is_some_and(|asked| asked.stood == Stood::of(state) && state.takes_meter())
    }
}
