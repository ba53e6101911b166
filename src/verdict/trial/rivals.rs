//! Owns the ways in which people judge by hand, and two textbook tests: each gives every circuit a score, the larger the worse.

use super::worlds::{NOMINAL, Simulated, WINDOW};

/// A way of judging.
#[derive(Debug, Clone, Copy, PartialEq, Eq, serde::Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Rival {
    /// Distance from the middle of the printed window, in half-widths. No correction for temperature, as it is printed.
    Window,
    /// Distance from the average, as a fraction of it.
    Mean,
    /// Distance from the median, as a fraction of it.
    Median,
    /// Grubbs: the one farthest from the average, in standard deviations of the same readings (NIST e-Handbook 1.3.5.17.1).
    Grubbs,
    /// Modified z: 0.6745 × distance from the median / median absolute deviation (Iglewicz and Hoaglin 1993).
    ModifiedZ,
}

fn median(values: &[f64]) -> f64 {
    let mut sorted = values.to_vec();
    sorted.sort_by(f64::total_cmp);
    let half = sorted.len() / 2;
    if sorted.len() % 2 == 1 { sorted[half] } else { f64::midpoint(sorted[half - 1], sorted[half]) }
}

impl Rival {
    /// All of them.
    pub const ALL: [Self; 5] = [Self::Window, Self::Mean, Self::Median, Self::Grubbs, Self::ModifiedZ];

    /// For tables.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            Self::Window => "window",
            Self::Mean => "mean",
            Self::Median => "median",
            Self::Grubbs => "Grubbs",
            Self::ModifiedZ => "modified z",
        }
    }

    /// The score of each circuit, the leads taken off as they were read.
    #[must_use]
    pub fn scores(self, part: &Simulated) -> Vec<f64> {
        let values: Vec<f64> = part.shown.iter().map(|shown| shown - part.leads).collect();
        let count = values.len() as f64;
        let mean = values.iter().sum::<f64>() / count;
        let middle = median(&values);
        let each = |score: &dyn Fn(f64) -> f64| values.iter().map(|value| score(*value)).collect::<Vec<_>>();
        match self {
            Self::Window => each(&|value| (value - NOMINAL).abs() / (NOMINAL * WINDOW)),
            Self::Mean => each(&|value| (value / mean - 1.0).abs()),
            Self::Median => each(&|value| (value / middle - 1.0).abs()),
            Self::Grubbs => {
                let spread =
                    (values.iter().map(|value| (value - mean).powi(2)).sum::<f64>() / (count - 1.0)).sqrt();
                let all = each(&|value| (value - mean).abs() / spread.max(1e-9));
                let most = all.iter().copied().fold(0.0, f64::max);
                all.into_iter().map(|score| if score >= most { score } else { 0.0 }).collect()
            }
            Self::ModifiedZ => {
                let off: Vec<f64> = each(&|value| (value - middle).abs());
                let mad = median(&off).max(1e-4);
                off.into_iter().map(|off| 0.6745 * off / mad).collect()
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// NIST/SEMATECH e-Handbook 1.3.5.17.1: eight measurements, G = 2.4687 for 245.57 (printed cut off, not rounded).
    #[test]
    fn grubbs_is_the_published_example() {
        let shown = vec![199.31, 199.53, 200.19, 200.82, 201.92, 201.95, 202.18, 245.57];
        let part = Simulated { leads: 0.0, faulty: vec![false; shown.len()], shown };
        let scores = Rival::Grubbs.scores(&part);
        assert!((scores[7] - 2.4687).abs() < 1e-4 && scores[..7].iter().all(|score| *score == 0.0));
    }

    /// By hand: median 5, deviations 1 0 0 0 5, median deviation 0 is held at its floor; of 4 5 6 9 it is 1.
    #[test]
    fn modified_z_by_hand() {
        let part = Simulated { leads: 0.0, shown: vec![4.0, 5.0, 6.0, 9.0, 5.0], faulty: vec![false; 5] };
        let scores = Rival::ModifiedZ.scores(&part);
        assert!((scores[3] - 0.6745 * 4.0).abs() < 1e-9, "{scores:?}");
    }
}
