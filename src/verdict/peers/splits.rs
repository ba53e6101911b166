//! Owns every way to split a sorted family into a sound run and odd ones, weighed by Bayes.

use super::{
    Prior,
    runs::{Scale, Sums},
};

/// Chance that the whole family is shifted (shared return, wrong temperature), before reading it (own assumption).
const SHIFTED: f64 = 0.05;
/// Odd members are off by a share of the common value between these, every octave equally likely (own assumption: no
/// size of fault is special).
const ODD_SIZES: (f64, f64) = (0.05, 1.0);
/// Density of an odd member at a distance of the whole common value, relative to it: 1 / (2 ln(1.0/0.05)), both sides.
const ODD_SHARE: f64 = 0.166_904;
/// Natural logarithm of the highest density of an odd member: that at the smallest size.
const ODD_MOST: f64 = 1.205_4;

/// All splits of the sorted family weighed.
pub(super) struct Weighed {
    /// Probability of each being odd.
    pub odd: Vec<f64>,
    /// Probability that none is.
    pub none: f64,
    /// The likeliest split: first and one past the last of the sound run.
    pub run: (usize, usize),
    pub split: f64,
    pub shifted: f64,
    pub common: Option<f64>,
}

/// A split that is worth counting.
struct Split {
    start: usize,
    end: usize,
    weight: f64,
    shifted: f64,
}

/// Splits less likely than the best by more than this (in natural logarithm) are not counted.
const NEGLIGIBLE: f64 = 20.0;
/// Weights are raised to this power. Sound members have shorter tails than the normal distribution that the weights are
/// made with, so that they come out too cautious: on the trial's kinds that may be tuned on, 1.7 would be right. The
/// square root of that is taken, because faults outside of the model are less kind.
const SHARPER: f64 = 1.3;

pub(super) fn weigh(sorted: &[f64], scale: &Scale, typical: f64) -> Weighed {
    let count = sorted.len();
    let zero = sorted[0];
    let mut sums = Vec::with_capacity(count + 1);
    sums.push(Sums::default());
    for value in sorted {
        let mut more = sums[sums.len() - 1];
        more.add(value - zero);
        sums.push(more);
    }
    let variance = scale.variance(typical);
    // What is expected of the common value: the window, or (chance SHIFTED) anything of that size.
    let wide = Prior { centre: typical, standard: 0.5 * typical };
    let occam =
        |prior: Prior, count: f64| -0.5 * (1.0 + count * prior.standard * prior.standard / variance).ln();
    let misfit = |prior: Prior, mean: f64, count: f64| {
        0.5 * (mean - prior.centre).powi(2) / (prior.standard * prior.standard + variance / count)
    };
    let mut splits: Vec<Split> = Vec::new();
    let mut top = f64::NEG_INFINITY;
    // The longest runs first: they are mostly the likeliest, and spare looking into the others.
    for length in (1..=count).rev() {
        // Even without any scatter a run this short, with the others as odd as can be, would not count.
        if length as f64 * scale.gain + (count - length) as f64 * ODD_MOST < top - NEGLIGIBLE {
            break;
        }
        let long = length as f64;
        let (few, fewer) = (occam(wide, long), scale.prior.map(|prior| occam(prior, long)));
        let odd_ones = (count - length) as f64 * ODD_SHARE.ln();
        for start in 0..=count - length {
            let end = start + length;
            let run = sums[end].since(sums[start]).run(zero);
            let base = run.count * scale.gain - 0.5 * run.scatter / variance;
            // An odd one adds at most what the densest odd value adds.
            let at_most = base + (count - length) as f64 * ODD_MOST;
            if at_most < top - NEGLIGIBLE {
                continue;
            }
            let mean = run.mean;
            // One logarithm of the product: forty factors of at least 0.05 are far from too small a number.
            let sizes: f64 = sorted[..start]
                .iter()
                .chain(&sorted[end..])
                .map(|value| ((value - mean).abs() / typical).clamp(ODD_SIZES.0, ODD_SIZES.1))
                .product();
            let odd = odd_ones - if length < count { sizes.ln() } else { 0.0 };
            let anything = few - misfit(wide, mean, long);
            let shifted = SHIFTED.ln() + anything;
            let weight = match scale.prior.zip(fewer) {
                Some((prior, fewer)) => {
                    let plain = (1.0 - SHIFTED).ln() + fewer - misfit(prior, mean, long);
                    plain.max(shifted) + (-(plain - shifted).abs()).exp().ln_1p()
                }
                None => anything,
            } + base
                + odd;
            top = top.max(weight);
            splits.push(Split { start, end, weight, shifted: shifted + base + odd });
        }
    }
    let mut odd = vec![0.0; count];
    let (mut sum, mut none, mut shifted) = (0.0, 0.0, 0.0);
    let mut best = (0, count, f64::NEG_INFINITY);
    for split in &splits {
        let share = (SHARPER * (split.weight - top)).exp();
        sum += share;
        shifted += share * (split.shifted - split.weight).exp();
        if split.end - split.start == count {
            none += share;
        }
        for one in odd[..split.start].iter_mut() {
            *one += share;
        }
        for one in odd[split.end..].iter_mut() {
            *one += share;
        }
        if split.weight > best.2 {
            best = (split.start, split.end, split.weight);
        }
    }
    for one in &mut odd {
        *one /= sum;
    }
    let run = sums[best.1].since(sums[best.0]).run(zero);
    Weighed {
        odd,
        none: none / sum,
        run: (best.0, best.1),
        split: (SHARPER * (best.2 - top)).exp() / sum,
        shifted: shifted / sum,
        common: (best.1 > best.0).then_some(run.mean),
    }
}
