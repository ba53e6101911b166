//! Owns the figure that matters to somebody who waits with a probe in each hand: from the end of what was said to the first
//! sound of the answer, found in the recordings of both sides.

use std::ops::Range;

/// Samples a second of the recordings.
const RATE: u64 = 16_000;
/// From this on a sample is sound: about -50 dB against full scale. The private devices have no noise of their own.
const LOUD: u16 = 100;
/// How much longer something may sound than its playing seemed to take.
const TRAILS_MS: u64 = 400;

/// The waits in milliseconds, shortest first.
///
/// `spoken` are the times within the microphone's recording in which something was played into it, in milliseconds;
/// `lead_ms` is by how much the loudspeaker's recording is ahead of the microphone's. What got no answer within
/// `at_most_ms` is left out.
#[must_use]
pub fn waits(
    microphone: &[i16],
    loudspeaker: &[i16],
    lead_ms: i64,
    spoken: &[Range<u64>],
    at_most_ms: u64,
) -> Vec<u64> {
    let mut waits: Vec<u64> = spoken
        .iter()
        .filter_map(|time| {
            let end = last_sound(microphone, time.start, time.end + TRAILS_MS)?;
            let answer = first_sound(loudspeaker, end.checked_add_signed(lead_ms)?)?;
            answer.checked_add_signed(-lead_ms)?.checked_sub(end).filter(|wait| *wait <= at_most_ms)
        })
        .collect();
    waits.sort_unstable();
    waits
}

fn index(ms: u64, samples: &[i16]) -> usize {
    usize::try_from(ms * RATE / 1000).unwrap_or(usize::MAX).min(samples.len())
}

fn ms(index: usize) -> u64 {
    index as u64 * 1000 / RATE
}

fn last_sound(samples: &[i16], from_ms: u64, to_ms: u64) -> Option<u64> {
    let from = index(from_ms, samples);
    let within = &samples[from..index(to_ms, samples)];
    within.iter().rposition(|sample| sample.unsigned_abs() >= LOUD).map(|place| ms(from + place + 1))
}

fn first_sound(samples: &[i16], from_ms: u64) -> Option<u64> {
    let from = index(from_ms, samples);
    samples[from..].iter().position(|sample| sample.unsigned_abs() >= LOUD).map(|place| ms(from + place))
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Silence with sound in the given milliseconds.
    fn track(length_ms: u64, sound: Range<u64>) -> Vec<i16> {
        (0..length_ms * 16).map(|at| if sound.contains(&(at / 16)) { 3000 } else { 3 }).collect()
    }

    #[test]
    fn a_wait_is_from_last_to_first_sound() {
        let microphone = track(5000, 1000..2000);
        let loudspeaker = track(5000, 2450..3000);
        let played = 900..2100;
        assert_eq!(waits(&microphone, &loudspeaker, 0, std::slice::from_ref(&played), 3000), [450]);
        // The loudspeaker's recording began 100 ms before the microphone's: the same sound stands later in it.
        assert_eq!(waits(&microphone, &loudspeaker, 100, std::slice::from_ref(&played), 3000), [350]);
        assert_eq!(waits(&microphone, &loudspeaker, 0, std::slice::from_ref(&played), 300), [0_u64; 0]);
        assert_eq!(waits(&microphone, &track(5000, 0..1), 0, &[played], 3000), [0_u64; 0]);
        assert_eq!(waits(&[], &[], 0, std::slice::from_ref(&(0..9000)), 3000), [0_u64; 0]);
    }
}
