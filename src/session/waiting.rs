//! Owns waiting times at gates: timed aloud minute by minute. They end when the person says that the time has passed, and not before.

use super::{
    message::{Info, Message, Prepared},
    state::{Phase, State, Waiting},
    turn::Turn,
};
use jiff::Timestamp;

/// Whole minutes that have passed, at most as many as have to.
fn passed(waiting: &Waiting, at: Timestamp) -> u8 {
    let minutes = at.duration_since(waiting.since).as_mins().clamp(0, i64::from(waiting.minutes));
    u8::try_from(minutes).unwrap_or(waiting.minutes)
}

/// The minutes to be told now. While paused nothing is told; it is made up for afterwards.
pub(super) fn due(state: &State, at: Timestamp) -> Option<u8> {
    let waiting = state.waiting.filter(|_| !state.paused)?;
    Some(passed(&waiting, at)).filter(|minutes| *minutes > waiting.told)
}

impl Turn<'_> {
    /// Starts the clock where a gate begins that has to be waited at, and drops it where that gate is left.
    pub(super) fn time_waiting(&mut self) {
        let minutes = match self.state.phase {
            Phase::Gate(place) => self.session.profile.gates.get(place).and_then(|gate| gate.wait_minutes),
            Phase::StationGate { .. } => self.session.gate_at(self.state).and_then(|gate| gate.wait_minutes),
            _ => None,
        };
        let phase = self.state.phase;
        self.state.waiting = match (minutes, self.state.waiting) {
            (Some(_), Some(waiting)) if waiting.phase == phase => Some(waiting),
            (Some(minutes), _) => Some(Waiting { phase, since: self.at, minutes, told: 0 }),
            (None, _) => None,
        };
    }

    /// Tells the minutes that are left, or that the time is over. Tells whether there was something to tell.
    pub(super) fn tell_waiting(&mut self) -> bool {
        let Some(minutes) = due(self.state, self.at) else { return false };
        let Some(waiting) = &mut self.state.waiting else { return false };
        waiting.told = minutes;
        let left = waiting.minutes - minutes;
        if left > 0 {
            self.answer_alone(Info::MinutesLeft { left });
        } else {
            self.state.last_activity = Some(self.at);
            let confirm = self.session.confirm_here(self.state).unwrap_or_default();
            self.say(super::Kind::Prompt, Info::TimePassed { minutes, confirm });
        }
        true
    }

    /// Says that a gate was confirmed; of a waiting time, how much of it was timed here.
    pub(super) fn gate_done(&mut self, phrase: &str) {
        let confirm = phrase.to_owned();
        let cut = self.state.waiting.map(|waiting| (passed(&waiting, self.at), waiting.minutes));
        let done = match cut {
            Some((timed, of)) if timed < of => Prepared::PassedByWord { confirm, timed, of },
            _ => Prepared::GateDone { confirm },
        };
        // In between what was done and what comes: a caution behind the prompt would be heard as the last word.
        let cautions = self.cautions_at_gate();
        let answer = cautions
            .into_iter()
            .fold(Message::from(done), |line, caution| line.then(Some(Message::OwnCaution(caution))));
        self.answer(answer);
    }
}
