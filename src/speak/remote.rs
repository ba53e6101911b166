//! Owns the caller's end of a voice that speaks on a thread of its own: numbered orders out, events back.

use super::{Scales, Voice, VoiceEvent};
use crate::session::VoiceChange;
use crossbeam_channel::{Receiver, Sender};

/// What such a voice is asked for.
#[derive(Debug)]
pub(super) enum Asked {
    Say(u64, String),
    Hush(u64),
    Change(Scales),
}

/// The caller's end. `O` is what the thread takes: what is asked, and perhaps more.
#[derive(Debug)]
pub(super) struct Remote<O> {
    orders: Sender<O>,
    events: Receiver<VoiceEvent>,
    number: u64,
    scales: Scales,
}

impl<O> Remote<O> {
    pub(super) fn new(orders: Sender<O>, events: Receiver<VoiceEvent>, scales: Scales) -> Self {
        Self { orders, events, number: 0, scales }
    }
}

impl<O: From<Asked> + Send> Voice for Remote<O> {
    fn say(&mut self, text: &str) -> u64 {
        self.number += 1;
        let _ = self.orders.send(Asked::Say(self.number, text.to_owned()).into());
        self.number
    }

    fn hush(&mut self) -> u64 {
        self.number += 1;
        let _ = self.orders.send(Asked::Hush(self.number).into());
        self.number
    }

    fn change(&mut self, change: VoiceChange) -> bool {
        let changed = self.scales.change(change);
        if changed {
            let _ = self.orders.send(Asked::Change(self.scales).into());
        }
        changed
    }

    fn events(&self) -> &Receiver<VoiceEvent> {
        &self.events
    }
}
