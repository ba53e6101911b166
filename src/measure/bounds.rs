//! Owns the 95 % bounds of a share: exact for independent clips, widened where clips of one speaker go wrong together.

use statrs::function::beta::inv_beta_reg;
use std::collections::BTreeMap;

/// The exact two-sided 95 % bounds of a share: `count` out of `of` (Clopper and Pearson 1934, Biometrika 26: 404).
/// `of` may be no whole number: an effective count.
#[must_use]
pub fn exact(count: f64, of: f64) -> (f64, f64) {
    if of <= 0.0 {
        return (0.0, 1.0);
    }
    let low = if count <= 0.0 { 0.0 } else { inv_beta_reg(count, of - count + 1.0, 0.025) };
    let high = if count >= of { 1.0 } else { inv_beta_reg(count + 1.0, of - count, 0.975) };
    (low, high)
}

/// Bounds of a share over clips of several speakers: (went wrong, speaker) for each clip. The clips count for less where
/// speakers differ more than chance makes them (design effect of a ratio estimate; Kish 1965, Survey Sampling, 6.5).
#[must_use]
#[expect(clippy::cast_precision_loss, reason = "counts of clips")]
pub fn clustered<'a>(clips: impl IntoIterator<Item = (bool, Option<&'a str>)>) -> (f64, f64) {
    let mut speakers: BTreeMap<String, (f64, f64)> = BTreeMap::new();
    let (mut wrong, mut all) = (0.0, 0.0);
    for (i, (bad, speaker)) in clips.into_iter().enumerate() {
        let name = speaker.map_or_else(|| format!("\0{i}"), str::to_owned);
        let entry = speakers.entry(name).or_default();
        entry.0 += f64::from(u8::from(bad));
        entry.1 += 1.0;
        wrong += f64::from(u8::from(bad));
        all += 1.0;
    }
    let count = speakers.len() as f64;
    let share = wrong / f64::max(all, 1.0);
    let simple = share * (1.0 - share) / f64::max(all, 1.0);
    let spread: f64 = speakers.values().map(|(bad, n)| (bad - share * n).powi(2)).sum();
    let between = if count > 1.0 { count / (count - 1.0) * spread / (all * all) } else { simple };
    let effect = if simple > 0.0 { (between / simple).max(1.0) } else { 1.0 };
    exact(wrong / effect, all / effect)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Against scipy.stats.beta.ppf (SciPy 1.x), and the rule of three.
    #[test]
    fn exact_bounds_are_those_of_a_reference() {
        for (count, of, low, high) in [
            (0.0, 10.0, 0.0, 0.308_497),
            (1.0, 10.0, 0.002_529, 0.445_016),
            (5.0, 10.0, 0.187_086, 0.812_914),
            (3.0, 3000.0, 0.000_206_26, 0.002_919_5),
            (10.0, 10.0, 0.691_503, 1.0),
        ] {
            let (a, b) = exact(count, of);
            assert!((a - low).abs() < 1e-6 && (b - high).abs() < 1e-6, "{count}/{of}: {a} {b}");
        }
        assert!((exact(0.0, 3000.0).1 - 3.689 / 3000.0).abs() < 2e-6, "ln(40)/n for no error");
    }

    #[test]
    fn errors_of_one_speaker_count_for_less() {
        let spread: Vec<String> = (0..100).map(|i| format!("s{}", i % 20)).collect();
        let apart = clustered(spread.iter().enumerate().map(|(i, s)| (i < 5, Some(s.as_str()))));
        let together = clustered(spread.iter().enumerate().map(|(i, s)| (i % 20 == 0, Some(s.as_str()))));
        let alone = clustered((0..100).map(|i| (i < 5, None)));
        let near = |a: f64, b: f64| (a - b).abs() < 1e-3;
        assert!(
            near(apart.0, alone.0) && near(apart.1, alone.1),
            "one error a speaker is as good as independent"
        );
        assert!(together.1 > apart.1 + 0.05 && together.0 < apart.0, "{together:?} {apart:?}");
        assert_eq!(clustered([]), (0.0, 1.0));
    }
}
