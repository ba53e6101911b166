//! Owns noticing that the system's clock goes otherwise than time does.

use jiff::Timestamp;
use std::time::Instant;

/// How far clock and time may be apart before it is noted, in milliseconds. Chosen here: clocks that are kept right by the network are
/// moved by less at a time.
const APART_MS: i64 = 2_000;

/// Clock and time when they were compared last.
#[derive(Debug, Clone, Copy)]
pub struct Clock {
    wall: Timestamp,
    passed: Instant,
}

impl Default for Clock {
    fn default() -> Self {
        Self { wall: Timestamp::now(), passed: Instant::now() }
    }
}

impl Clock {
    /// By how many milliseconds the clock went further than time since the last look; below 0: it was set back. None: not to be noted.
    pub fn set_by(&mut self, wall: Timestamp, passed: Instant) -> Option<i64> {
        let by_clock = wall.duration_since(self.wall).as_millis();
        let by_time = passed.saturating_duration_since(self.passed).as_millis();
        let apart = by_clock.saturating_sub(i128::try_from(by_time).unwrap_or(i128::MAX));
        let apart = i64::try_from(apart).unwrap_or(if apart < 0 { i64::MIN } else { i64::MAX });
        // Small differences add up: they are compared from the same moment until they count.
        if apart.saturating_abs() < APART_MS {
            return None;
        }
        *self = Self { wall, passed };
        Some(apart)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use jiff::ToSpan;
    use std::time::Duration;

    #[test]
    fn a_clock_that_is_set_is_noticed_once_and_one_that_drifts_in_the_end() {
        let start = Clock::default();
        let look = |clock: &mut Clock, clock_s: i64, time_s: u64| {
            clock.set_by(start.wall + clock_s.seconds(), start.passed + Duration::from_secs(time_s))
        };
        let mut clock = start;
        assert_eq!(look(&mut clock, 60, 60), None);
        assert_eq!(look(&mut clock, 60 - 7200, 61), Some(-7_201_000));
        assert_eq!(look(&mut clock, 70 - 7200, 71), None);
        assert_eq!(look(&mut clock, 3670, 71), Some(10_800_000));
        let mut clock = start;
        assert_eq!(look(&mut clock, 101, 100), None);
        assert_eq!(look(&mut clock, 202, 200), Some(2000));
    }
}
