//! Owns when a display stands still: [`ALIKE`] readings one after the other, the largest and the smallest no more than one step of the
//! display apart, or all of them over range. Chosen here: the last digit of a good contact may go back and forth by one.

use super::answer::Answer;
use std::collections::VecDeque;

/// So many readings alike are a display at rest. Chosen here: two alike also come by chance while a probe still slips.
pub const ALIKE: usize = 3;

/// The last readings.
#[derive(Debug, Default)]
pub struct Still {
    last: VecDeque<Answer>,
}

impl Still {
    /// Adds a reading; `step` is one step of the display for a value. Tells whether the display stands still now; then the reading
    /// just added is the one that it shows.
    pub fn add(&mut self, answer: Answer, step: impl Fn(f64) -> f64) -> bool {
        self.last.push_back(answer);
        if self.last.len() > ALIKE {
            self.last.pop_front();
        }
        if self.last.len() < ALIKE {
            return false;
        }
        let (mut low, mut high, mut over) = (f64::INFINITY, f64::NEG_INFINITY, 0);
        for answer in &self.last {
            match answer {
                Answer::NoNumber => return false,
                Answer::OverRange => over += 1,
                Answer::Number(number) => {
                    low = low.min(number.value());
                    high = high.max(number.value());
                }
            }
        }
        match over {
            ALIKE => true,
            // A hair more, since decimal steps are not exact in binary.
            0 => high - low <= step(high.abs().max(low.abs())) * (1.0 + 1e-6),
            _ => false,
        }
    }
}
