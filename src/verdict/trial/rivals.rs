//! Owns the ways in which people judge by hand: each gives every circuit a score, the larger the worse.

use super::model::Simulated;

/// A way of judging by hand.
#[derive(Debug, Clone, Copy, PartialEq, Eq, serde::Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Rival {
    /// Distance from the middle of the printed window, in half-widths. No correction for temperature, as it is printed.
    FixedWindow,
    /// Distance from the plain average, as a fraction of it.
    PlainAverage,
    /// Distance from the plain average in standard deviations of the same readings.
    ThreeSigma,
}

impl Rival {
    /// All of them.
    pub const ALL: [Self; 3] = [Self::FixedWindow, Self::PlainAverage, Self::ThreeSigma];

    /// The score of each circuit, leads taken off as they were read.
    pub fn scores(self, part: &Simulated, into: &mut Vec<f64>) {
        let nominal = part.setting.part;
        let values = part.shown.iter().map(|shown| shown - part.leads_shown);
        let count = part.shown.len() as f64;
        let mean = values.clone().sum::<f64>() / count;
        let deviation = (values.clone().map(|v| (v - mean).powi(2)).sum::<f64>() / (count - 1.0)).sqrt();
        into.clear();
        into.extend(values.map(|value| match self {
            Self::FixedWindow => (value - nominal.nominal).abs() / (nominal.nominal * nominal.window),
            Self::PlainAverage => (value - mean).abs() / mean.abs().max(1e-9),
            Self::ThreeSigma => (value - mean).abs() / deviation.max(1e-9),
        }));
    }
}
