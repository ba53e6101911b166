//! Owns the limits of the score: what one sound family in a hundred exceeds.

/// The shapes of spread that the limits were simulated for, by excess kurtosis: −1.2 is one even spread (the family's
/// tolerance alone), −0.4 the sum of three equal ones (tolerance, contact, last digit).
const SHAPES: [f64; 5] = [-1.2, -1.06, -0.93, -0.7, -0.4];

/// By family size: the largest score that one sound family in a hundred exceeds, for each of [`SHAPES`]. Found by simulating
/// 20 000 to 40 000 families each (the mean of two ways to come to a shape); a test does it again.
const LIMITS: [(usize, [f64; 5]); 7] = [
    (2, [2.263, 2.352, 2.404, 2.478, 2.530]),
    (3, [2.454, 2.528, 2.588, 2.677, 2.790]),
    (5, [2.445, 2.516, 2.594, 2.687, 2.853]),
    (8, [2.350, 2.475, 2.568, 2.672, 2.873]),
    (12, [2.285, 2.434, 2.533, 2.677, 2.888]),
    (20, [2.195, 2.383, 2.487, 2.638, 2.905]),
    (40, [2.085, 2.327, 2.459, 2.610, 2.920]),
];

/// The limit of the score for a family of `count` whose members spread with that excess kurtosis: calibrated to 1 % false
/// alarms a part. Between the figures of the table on straight lines; beyond them the nearest.
#[must_use]
pub fn limit(count: usize, kurtosis: f64) -> f64 {
    let between = |places: &[f64], at: f64| {
        let after = places.partition_point(|place| *place < at).clamp(1, places.len() - 1);
        let share = (at - places[after - 1]) / (places[after] - places[after - 1]);
        (after, share.clamp(0.0, 1.0))
    };
    let (shape, along) = between(&SHAPES, kurtosis);
    let of = |row: &[f64; 5]| row[shape - 1] + (row[shape] - row[shape - 1]) * along;
    let sizes = LIMITS.map(|(size, _)| size as f64);
    let (size, share) = between(&sizes, count as f64);
    let (low, high) = (of(&LIMITS[size - 1].1), of(&LIMITS[size].1));
    low + (high - low) * share
}
