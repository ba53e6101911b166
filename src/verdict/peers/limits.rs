//! Owns the limits of the score: what one sound family in a hundred exceeds.

/// Limits of the largest score that one sound family in a hundred exceeds, by family size: for members spread evenly, as
/// a sum of two, and of three even spreads of equal variance (excess kurtosis −1.2, −0.6 and −0.4). Found by simulating
/// 12 000 to 60 000 families each; a test does it again.
const LIMITS: [(usize, [f64; 3]); 12] = [
    (2, [2.263, 2.504, 2.532]),
    (3, [2.455, 2.700, 2.774]),
    (4, [2.471, 2.711, 2.836]),
    (5, [2.438, 2.716, 2.846]),
    (6, [2.408, 2.714, 2.861]),
    (8, [2.359, 2.697, 2.886]),
    (10, [2.317, 2.683, 2.886]),
    (12, [2.279, 2.676, 2.895]),
    (16, [2.228, 2.650, 2.895]),
    (20, [2.202, 2.634, 2.905]),
    (30, [2.132, 2.617, 2.910]),
    (40, [2.087, 2.596, 2.910]),
];

/// Added to all limits: the window and rounding to the last digit add a little that the table's simulation leaves out.
const MARGIN: f64 = 0.03;

/// The limit of the score for a family of `count` whose members spread with that excess kurtosis: calibrated to 1 % false
/// alarms a part. Between the sizes of the table on straight lines; beyond them the nearest.
#[must_use]
pub fn limit(count: usize, kurtosis: f64) -> f64 {
    let of = |row: &[f64; 3]| {
        let kurtosis = kurtosis.clamp(-1.2, -0.4);
        if kurtosis < -0.6 {
            row[0] + (row[1] - row[0]) * (kurtosis + 1.2) / 0.6
        } else {
            row[1] + (row[2] - row[1]) * (kurtosis + 0.6) / 0.2
        }
    };
    let after = LIMITS.partition_point(|(size, _)| *size < count).clamp(1, LIMITS.len() - 1);
    let ((from, low), (to, high)) = (LIMITS[after - 1], LIMITS[after]);
    let share = ((count as f64 - from as f64) / (to - from) as f64).clamp(0.0, 1.0);
    of(&low) + (of(&high) - of(&low)) * share + MARGIN
}
