//! Owns like circuits as each other's reference.
//!
//! Each member is held against the others alone, so that moving one away can never make it look better. A plain
//! average is not used: one failed coil drags it. Modified z score after Iglewicz and Hoaglin (1993), as in the
//! NIST/SEMATECH e-Handbook 1.3.5.17, with floors under the scale that are standard uncertainties.

use super::stats;

/// One member as it enters.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Member {
    /// Its resistance.
    pub value: f64,
    /// Standard uncertainty of what is its own (contact, last digit): what is shared cancels.
    pub random: f64,
}

/// How one member stands among the others.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Stand {
    /// There is no other.
    Alone,
    /// Like the others.
    Like,
    /// Unlike others that agree among themselves.
    Unlike,
    /// There is disagreement, and no majority says which is right.
    Undecided,
}

/// A member held against the others.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Held {
    /// How it stands.
    pub stand: Stand,
    /// Modified z score, at least 0. None without others.
    pub score: Option<f64>,
    /// The median of those others that agree.
    pub expected: Option<f64>,
    /// The scale that the score is in.
    pub scale: f64,
    /// The limit of the score.
    pub limit: f64,
}

/// The limit of the score for a family of `count`.
#[must_use]
pub fn limit(count: usize) -> f64 {
    let _ = count;
    3.5
}

/// Holds each member against the others. `tolerance`: how far sound members may differ, as a fraction (half-width).
#[must_use]
pub fn hold(members: &[Member], tolerance: f64) -> Vec<Held> {
    let count = members.len();
    let limit = limit(count);
    let tolerance = tolerance.max(0.0);
    let mut sorted: Vec<f64> = members.iter().map(|member| member.value).collect();
    sorted.sort_by(f64::total_cmp);
    let random = (members.iter().map(|m| m.random * m.random).sum::<f64>() / count.max(1) as f64).sqrt();
    let majority = cluster(&sorted, tolerance, random, limit).len() * 2 > count;
    members
        .iter()
        .map(|member| {
            let mut others = sorted.clone();
            if let Ok(at) = others.binary_search_by(|value| value.total_cmp(&member.value)) {
                others.remove(at);
            }
            let agreeing = cluster(&others, tolerance, random, limit);
            let Some(expected) = stats::median_of_sorted(agreeing) else {
                return Held { stand: Stand::Alone, score: None, expected: None, scale: 0.0, limit };
            };
            let floor = floor(expected, tolerance, random);
            let spread = if agreeing.len() >= 5 { stats::mad(agreeing).unwrap_or(0.0) } else { 0.0 };
            let scale = floor.max(spread);
            let score = (member.value - expected).abs() / scale;
            let stand = match (score > limit, majority) {
                (false, _) if agreeing.len() * 2 > others.len() => Stand::Like,
                (true, true) => Stand::Unlike,
                _ => Stand::Undecided,
            };
            Held { stand, score: Some(score), expected: Some(expected), scale, limit }
        })
        .collect()
}

/// Standard uncertainty of a sound member about the common value.
fn floor(common: f64, tolerance: f64, random: f64) -> f64 {
    (tolerance * common.abs() / 3f64.sqrt()).hypot(random).max(1e-9)
}

/// The most numerous run of values of which any two could both be sound; the tightest of equally many.
fn cluster(sorted: &[f64], tolerance: f64, random: f64, limit: f64) -> &[f64] {
    let mut best = 0..0;
    let mut start = 0;
    for end in 0..sorted.len() {
        while sorted[end] - sorted[start]
            > limit * 2f64.sqrt() * floor(0.5 * (sorted[start] + sorted[end]), tolerance, random)
        {
            start += 1;
        }
        let (len, best_len) = (end + 1 - start, best.len());
        let tighter = || sorted[end] - sorted[start] < sorted[best.end - 1] - sorted[best.start];
        if len > best_len || (len == best_len && tighter()) {
            best = start..end + 1;
        }
    }
    &sorted[best]
}
