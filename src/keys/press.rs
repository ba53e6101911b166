//! Owns presses: contacts that open and close, with times, become short, long and double presses, or a hold. Pure: time comes
//! in with each event, and [`Presses::due`] tells when to look again.

use std::time::Duration;

/// How long what takes.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Timing {
    /// A contact that changes within this time of its last change bounces.
    pub bounce: Duration,
    /// Held for this long a press is a long one.
    pub long: Duration,
    /// Pressed again within this time of being let go, two presses are a double one.
    pub double: Duration,
}

/// What a switch is asked for. What is not asked for costs no waiting: a switch with short presses alone acts on going down.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Wants {
    /// Long presses.
    pub long: bool,
    /// Double presses: a short one is known only when no second one came.
    pub double: bool,
    /// Going down and up, and nothing else.
    pub hold: bool,
}

/// What a switch did.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Gesture {
    /// A short press.
    Short,
    /// Two short ones.
    Double,
    /// A long one, told while it is still held.
    Long,
    /// A switch that is held went down.
    Down,
    /// It went up.
    Up,
}

/// The switches of a pedal.
#[derive(Debug)]
pub struct Presses {
    timing: Timing,
    switches: Vec<Switch>,
}

#[derive(Debug)]
struct Switch {
    wants: Wants,
    /// The contact as it was told last.
    contact: bool,
    /// The contact as it was taken, bouncing left out.
    taken: bool,
    /// Until when the contact may bounce.
    settles: Option<Duration>,
    state: State,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum State {
    Up,
    Down {
        since: Duration,
    },
    /// Still down; what it was is told already.
    Told,
    /// Up again after a short press; a second one until then makes it a double one.
    Again {
        until: Duration,
    },
}

impl Presses {
    /// Switches that are up.
    #[must_use]
    pub fn new(timing: Timing, wants: &[Wants]) -> Self {
        let switch = |wants: &Wants| Switch {
            wants: *wants,
            contact: false,
            taken: false,
            settles: None,
            state: State::Up,
        };
        Self { timing, switches: wants.iter().map(switch).collect() }
    }

    /// A contact closed (`down`) or opened. Times never go back. Switches that are not there are passed over.
    pub fn edge(&mut self, switch: usize, down: bool, at: Duration) -> Vec<(usize, Gesture)> {
        let mut out = self.pass(at);
        if let Some(one) = self.switches.get_mut(switch) {
            one.contact = down;
            if one.settles.is_none() && one.taken != down {
                out.extend(one.take(down, at, self.timing).map(|gesture| (switch, gesture)));
            }
        }
        out
    }

    /// Time passes: what was waited for until now.
    pub fn pass(&mut self, at: Duration) -> Vec<(usize, Gesture)> {
        let mut out = Vec::new();
        // In the order in which it came due.
        while let Some((due, switch)) = self.next().filter(|(due, _)| *due <= at) {
            out.extend(self.switches[switch].pass(due, self.timing).map(|gesture| (switch, gesture)));
        }
        out
    }

    /// When [`Presses::pass`] has something to do, if nothing else happens.
    #[must_use]
    pub fn due(&self) -> Option<Duration> {
        self.next().map(|(due, _)| due)
    }

    /// The pedal is gone: what was held is let go, what was half done is dropped.
    pub fn let_go(&mut self) -> Vec<(usize, Gesture)> {
        let held = |(place, switch): (usize, &Switch)| {
            (switch.wants.hold && switch.state == State::Told).then_some((place, Gesture::Up))
        };
        let out = self.switches.iter().enumerate().filter_map(held).collect();
        let wants: Vec<Wants> = self.switches.iter().map(|switch| switch.wants).collect();
        *self = Self::new(self.timing, &wants);
        out
    }

    fn next(&self) -> Option<(Duration, usize)> {
        let due = |(place, switch): (usize, &Switch)| switch.due(self.timing).map(|due| (due, place));
        self.switches.iter().enumerate().filter_map(due).min()
    }
}

impl Switch {
    fn due(&self, timing: Timing) -> Option<Duration> {
        let waits = match self.state {
            State::Down { since } if self.wants.long => Some(since + timing.long),
            State::Again { until } => Some(until),
            _ => None,
        };
        self.settles.into_iter().chain(waits).min()
    }

    /// What came due at that very time.
    fn pass(&mut self, at: Duration, timing: Timing) -> Option<Gesture> {
        if self.settles == Some(at) {
            self.settles = None;
            if self.contact != self.taken {
                return self.take(self.contact, at, timing);
            }
            return None;
        }
        match self.state {
            State::Down { .. } => {
                self.state = State::Told;
                Some(Gesture::Long)
            }
            State::Again { .. } => {
                self.state = State::Up;
                Some(Gesture::Short)
            }
            State::Up | State::Told => None,
        }
    }

    /// The contact changed for good.
    fn take(&mut self, down: bool, at: Duration, timing: Timing) -> Option<Gesture> {
        self.taken = down;
        self.settles = Some(at + timing.bounce);
        let (state, gesture) = match (down, self.state) {
            (true, State::Again { .. }) => (State::Told, Some(Gesture::Double)),
            (true, _) if self.wants.hold => (State::Told, Some(Gesture::Down)),
            (true, _) if self.wants.long || self.wants.double => (State::Down { since: at }, None),
            (true, _) => (State::Told, Some(Gesture::Short)),
            (false, State::Down { .. }) if self.wants.double => {
                (State::Again { until: at + timing.double }, None)
            }
            (false, State::Down { .. }) => (State::Up, Some(Gesture::Short)),
            (false, State::Told) if self.wants.hold => (State::Up, Some(Gesture::Up)),
            (false, _) => (State::Up, None),
        };
        self.state = state;
        gesture
    }
}

#[cfg(test)]
mod tests {
    use super::{Gesture::*, *};
    use proptest::prelude::*;

    const TIMING: Timing = Timing {
        bounce: Duration::from_millis(25),
        long: Duration::from_millis(600),
        double: Duration::from_millis(350),
    };
    const SHORT: Wants = Wants { long: false, double: false, hold: false };
    const LONG: Wants = Wants { long: true, ..SHORT };
    const DOUBLE: Wants = Wants { double: true, ..SHORT };
    const ALL: Wants = Wants { long: true, double: true, hold: false };
    const HOLD: Wants = Wants { hold: true, ..SHORT };

    /// Plays a stream of contacts (milliseconds, switch, down) as a pedal's reader would, waking up when due. Gives what came
    /// of it and when.
    fn play(wants: &[Wants], stream: &[(u64, usize, bool)]) -> Vec<(u64, usize, Gesture)> {
        let mut presses = Presses::new(TIMING, wants);
        let mut out = Vec::new();
        let mut tell = |at: Duration, gestures: Vec<(usize, Gesture)>| {
            let at = u64::try_from(at.as_millis()).unwrap();
            out.extend(gestures.into_iter().map(|(switch, gesture)| (at, switch, gesture)));
        };
        for (at, switch, down) in stream {
            let at = Duration::from_millis(*at);
            while let Some(due) = presses.due().filter(|due| *due <= at) {
                tell(due, presses.pass(due));
            }
            tell(at, presses.edge(*switch, *down, at));
        }
        while let Some(due) = presses.due() {
            tell(due, presses.pass(due));
        }
        out
    }

    #[test]
    fn one_switch() {
        // A clean press of 120 ms, one of 800 ms, two of 100 ms that are 200 ms apart.
        let press = [(1000, 0, true), (1120, 0, false)];
        let long = [(1000, 0, true), (1800, 0, false)];
        let two = [(1000, 0, true), (1100, 0, false), (1300, 0, true), (1400, 0, false)];
        for (wants, stream, expected) in [
            (SHORT, &press[..], vec![(1000, 0, Short)]),
            (SHORT, &long[..], vec![(1000, 0, Short)]),
            (SHORT, &two[..], vec![(1000, 0, Short), (1300, 0, Short)]),
            (LONG, &press[..], vec![(1120, 0, Short)]),
            (LONG, &long[..], vec![(1600, 0, Long)]),
            (LONG, &two[..], vec![(1100, 0, Short), (1400, 0, Short)]),
            (DOUBLE, &press[..], vec![(1470, 0, Short)]),
            (DOUBLE, &long[..], vec![(2150, 0, Short)]),
            (DOUBLE, &two[..], vec![(1300, 0, Double)]),
            (ALL, &press[..], vec![(1470, 0, Short)]),
            (ALL, &long[..], vec![(1600, 0, Long)]),
            (ALL, &two[..], vec![(1300, 0, Double)]),
            (HOLD, &press[..], vec![(1000, 0, Down), (1120, 0, Up)]),
            (HOLD, &long[..], vec![(1000, 0, Down), (1800, 0, Up)]),
        ] {
            assert_eq!(play(&[wants], stream), expected, "{wants:?} {stream:?}");
        }
    }

    #[test]
    fn two_presses_too_far_apart_are_two_short_ones() {
        let stream = [(0, 0, true), (100, 0, false), (451, 0, true), (551, 0, false)];
        assert_eq!(play(&[ALL], &stream), [(450, 0, Short), (901, 0, Short)]);
    }

    #[test]
    fn a_double_press_that_is_held_is_no_long_one_too() {
        let stream = [(0, 0, true), (100, 0, false), (200, 0, true), (2000, 0, false)];
        assert_eq!(play(&[ALL], &stream), [(200, 0, Double)]);
    }

    #[test]
    fn three_presses_are_a_double_and_a_short_one() {
        let stream =
            [(0, 0, true), (80, 0, false), (200, 0, true), (280, 0, false), (400, 0, true), (480, 0, false)];
        assert_eq!(play(&[ALL], &stream), [(200, 0, Double), (830, 0, Short)]);
    }

    #[test]
    fn a_bouncing_contact_gives_one_press() {
        let bouncing = [
            (1000, 0, true),
            (1002, 0, false),
            (1005, 0, true),
            (1011, 0, false),
            (1012, 0, true),
            (1120, 0, false),
            (1123, 0, true),
            (1126, 0, false),
        ];
        assert_eq!(play(&[SHORT], &bouncing), [(1000, 0, Short)]);
        assert_eq!(play(&[HOLD], &bouncing), [(1000, 0, Down), (1120, 0, Up)]);
        assert_eq!(play(&[LONG], &bouncing), [(1120, 0, Short)]);
        // A release hidden in the bouncing is seen when it has settled.
        assert_eq!(play(&[HOLD], &[(0, 0, true), (10, 0, false)]), [(0, 0, Down), (25, 0, Up)]);
    }

    #[test]
    fn three_switches_do_not_mix() {
        let stream =
            [(0, 0, true), (50, 1, true), (100, 2, true), (150, 0, false), (200, 1, false), (900, 2, false)];
        assert_eq!(
            play(&[SHORT, HOLD, LONG], &stream),
            [(0, 0, Short), (50, 1, Down), (200, 1, Up), (700, 2, Long)]
        );
        assert_eq!(play(&[SHORT], &[(0, 7, true)]), []);
    }

    #[test]
    fn a_pedal_that_is_gone_lets_go() {
        let mut presses = Presses::new(TIMING, &[HOLD, LONG]);
        presses.edge(0, true, Duration::ZERO);
        presses.edge(1, true, Duration::ZERO);
        assert_eq!(presses.let_go(), [(0, Up)]);
        assert_eq!(presses.due(), None);
        assert_eq!(presses.edge(0, true, Duration::from_secs(1)), [(0, Down)]);
    }

    proptest! {
        #[test]
        fn holds_end_and_no_stream_gets_stuck(steps: Vec<(u16, bool, bool)>) {
            let mut at = 0;
            let stream: Vec<_> = steps
                .iter()
                .map(|(wait, second, down)| {
                    at += u64::from(*wait % 900);
                    (at, usize::from(*second), *down)
                })
                .chain([(1_000_000, 0, false), (1_000_001, 1, false)])
                .collect();
            let out = play(&[HOLD, ALL], &stream);
            let held: Vec<_> = out.iter().filter(|(_, switch, _)| *switch == 0).collect();
            prop_assert!(held.chunks(2).all(|pair| pair.len() == 2 && pair[0].2 == Down && pair[1].2 == Up));
            prop_assert!(out.windows(2).all(|pair| pair[0].0 <= pair[1].0));
        }
    }
}
