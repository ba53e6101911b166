//! Owns the comparison of paces: readings a minute by voice, as measured, beside typing and pen and paper, as modelled.
//!
//! The model is the keystroke-level model (S. K. Card, T. P. Moran, A. Newell, "The keystroke-level model for user performance
//! time with interactive systems", Communications of the ACM 23, 1980; times from memory): a key 0.28 s (average typist), a
//! hand from one device to another 0.40 s, pointing 1.10 s, a mental step 1.35 s. How often each happens is our assumption.

/// A key is pressed.
const KEY_S: f64 = 0.28;
/// A hand goes from a probe to something else, or back.
const HAND_S: f64 = 0.40;
/// Something is found and touched: a row of the chart, the place of a probe that was put down.
const POINT_S: f64 = 1.10;
/// What comes next is looked up or thought of.
const MENTAL_S: f64 = 1.35;
/// A digit is written by hand. Assumed.
const WRITE_S: f64 = 0.5;
/// A probe is moved to the next terminal and the number settles. Assumed; the same for all ways.
pub const PROBE_S: f64 = 4.0;

/// Seconds that one reading of so many signs takes, by each way. A probe has to be put down and brought back for both ways by
/// hand; the chart has to be looked at for the pin, and on paper for the window too.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Seconds {
    /// Typed into a program that says which pin is next.
    pub typed: f64,
    /// Written on paper.
    pub paper: f64,
}

/// The model for a reading of so many signs.
#[must_use]
pub fn by_hand(signs: u32) -> Seconds {
    let signs = f64::from(signs);
    // Probe down, hand to the keys, the number and Enter, look at the answer, hand back, find the terminal again.
    let typed = HAND_S + MENTAL_S + (signs + 1.0) * KEY_S + MENTAL_S + HAND_S + POINT_S;
    // Probe down, pen, find the row, write, compare with the window, look up the next pin, hand back, find the terminal again.
    let paper = HAND_S + POINT_S + signs * WRITE_S + MENTAL_S + MENTAL_S + HAND_S + POINT_S;
    Seconds { typed: PROBE_S + typed, paper: PROBE_S + paper }
}

/// Readings a minute.
#[must_use]
pub fn a_minute(seconds: f64) -> f64 {
    60.0 / seconds
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_reading_of_five_signs() {
        let seconds = by_hand(5);
        // 0.4 + 1.35 + 6 * 0.28 + 1.35 + 0.4 + 1.1 = 6.28; 0.4 + 1.1 + 2.5 + 2.7 + 0.4 + 1.1 = 8.2.
        assert!((seconds.typed - 10.28).abs() < 1e-9 && (seconds.paper - 12.2).abs() < 1e-9, "{seconds:?}");
        assert!((a_minute(12.0) - 5.0).abs() < 1e-9);
    }
}
