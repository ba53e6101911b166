//! Owns like circuits as each other's reference.
//!
//! Two questions, answered apart. *How far is this member from what the others lead to expect?* is a score: each member
//! is held against the others alone, so that moving one away can never make it look better. *Which members are the odd
//! ones?* is a probability: every way to split the sorted family into a sound run and odd ones is weighed (Bayes), so that
//! two that disagree, or two against two, come out as undecided by themselves.
//!
//! A plain average is not used: one failed coil drags it. The centre starts from those that agree and is then their mean
//! (one reweighting, Rousseeuw and Leroy 1987): as hard to drag as a median, and steadier for small families. The scale
//! is not guessed from four or eight readings but taken from what is known (family tolerance, contact, last digit), and
//! widened where the family is plainly wider than that.

use super::stats;

/// What is taken for the chance that any circuit of a measured part is electrically off, before reading it
/// (own assumption: people measure parts that are suspected; the trial uses the same share).
pub const SOME_FAULT: f64 = 0.5;
/// Chance that the whole family is shifted (shared return, wrong temperature), before reading it (own assumption).
const SHIFTED: f64 = 0.05;
/// Odd members are off by a share of the common value between these, every octave equally likely (own assumption: no
/// size of fault is special).
const ODD_SIZES: (f64, f64) = (0.05, 1.0);
/// Density of an odd member at a distance of the whole common value, relative to it: 1 / (2 ln(1.0/0.05)), both sides.
const ODD_SHARE: f64 = 0.166_904;
/// Natural logarithm of the highest density of an odd member: that at the smallest size.
const ODD_MOST: f64 = 1.205_4;
/// If any is odd, it is this one with at least this probability: then it is named.
const NAMED: f64 = 0.6;
/// From this probability on, again if any is odd, a member that is not named is not called like the others either.
const OPEN_QUESTION: f64 = 0.25;

/// One member as it enters.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Member {
    /// Its resistance.
    pub value: f64,
    /// Standard uncertainty of what is its own (contact, last digit): what is shared cancels.
    pub random: f64,
    /// Fourth cumulant of the same, at most 0: tells how short its tails are (−1.2 u⁴ for an even distribution).
    pub fourth: f64,
}

/// What window and temperature lead to expect of the common value.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Prior {
    /// Its middle.
    pub centre: f64,
    /// Its standard uncertainty, with that of temperature, meter and leads.
    pub standard: f64,
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
    /// There is disagreement, and nothing says which is right.
    Undecided,
}

/// A member held against the others.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Held {
    /// How it stands.
    pub stand: Stand,
    /// Modified z score, at least 0. None without others, or where the others disagree.
    pub score: Option<f64>,
    /// What the others (and the window, where there is one) lead to expect.
    pub expected: Option<f64>,
    /// The scale that the score is in.
    pub scale: f64,
    /// The limit of the score.
    pub limit: f64,
    /// Probability that it is odd.
    pub odd: f64,
    /// Whether it is an odd one in the likeliest split.
    pub split_odd: bool,
}

/// A family held together.
#[derive(Debug, Clone, PartialEq)]
pub struct Family {
    /// Each member, in the order given.
    pub members: Vec<Held>,
    /// Probability of the likeliest split into sound and odd ones.
    pub split: f64,
    /// Probability that none is odd.
    pub none: f64,
    /// Probability that the whole family is shifted against its window. None without one.
    pub shifted: Option<f64>,
    /// Mean of the members of the likeliest split's sound run.
    pub common: Option<f64>,
    /// How many they are.
    pub sound: usize,
}

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

/// What is the same for the whole family.
struct Scale {
    tolerance: f64,
    random: f64,
    prior: Option<Prior>,
    /// Odds of a circuit being sound, before reading it.
    odds: f64,
    /// Gain in log odds of calling one more member sound, before its distance counts.
    gain: f64,
}

impl Scale {
    fn variance(&self, common: f64) -> f64 {
        (self.tolerance * common).powi(2) / 3.0 + self.random * self.random + 1e-18
    }

    /// Sets the gain for a family of about that common value; gives back the value used: the window's, if there is one.
    fn set_gain(&mut self, middle: f64) -> f64 {
        let typical = self.prior.map_or(middle, |prior| prior.centre).abs().max(1e-6);
        let density = 1.0 / (self.variance(typical) * 2.0 * std::f64::consts::PI).sqrt();
        self.gain = (self.odds * typical * density).max(1.5).ln();
        typical
    }
}

/// A run of sorted values, by sums.
#[derive(Clone, Copy)]
struct Run {
    count: f64,
    sum: f64,
    squares: f64,
}

impl Run {
    fn mean(&self) -> f64 {
        self.sum / self.count
    }

    /// Sum of squared distances from its mean.
    fn scatter(&self) -> f64 {
        (self.squares - self.sum * self.sum / self.count).max(0.0)
    }
}

/// Holds each member against the others. `tolerance`: how far sound members may differ, as a fraction (half-width).
#[must_use]
pub fn hold(members: &[Member], tolerance: f64, prior: Option<Prior>) -> Family {
    let count = members.len();
    let mut order: Vec<usize> = (0..count).collect();
    order.sort_by(|a, b| members[*a].value.total_cmp(&members[*b].value));
    let sorted: Vec<f64> = order.iter().map(|at| members[*at].value).collect();
    let Some(middle) = stats::median_of_sorted(&sorted) else {
        return Family { members: Vec::new(), split: 1.0, none: 1.0, shifted: None, common: None, sound: 0 };
    };
    let random = (members.iter().map(|m| m.random * m.random).sum::<f64>() / count as f64).sqrt();
    let sound = (1.0 - SOME_FAULT).powf(1.0 / count as f64);
    let mut scale =
        Scale { tolerance: tolerance.max(0.0), random, prior, odds: sound / (1.0 - sound), gain: 0.0 };
    let typical = scale.set_gain(middle);
    let fourth = members.iter().map(|m| m.fourth).sum::<f64>() / count as f64;
    let even = -1.2 * ((scale.tolerance * typical).powi(2) / 3.0).powi(2);
    let limit = limit(count, (even + fourth) / scale.variance(typical).powi(2));
    let weighed = weigh(&sorted, &scale, typical);
    let mut held = vec![
        Held {
            stand: Stand::Alone,
            score: None,
            expected: None,
            scale: 0.0,
            limit,
            odd: 0.0,
            split_odd: false
        };
        count
    ];
    let mut others = Vec::with_capacity(count);
    for (place, at) in order.iter().enumerate() {
        others.clear();
        others
            .extend(sorted.iter().enumerate().filter(|(other, _)| *other != place).map(|(_, value)| *value));
        // By the others alone, here as well.
        scale.set_gain(stats::median_of_sorted(&others).unwrap_or(middle));
        let odd = weighed.odd[place];
        let if_any = odd / (1.0 - weighed.none).max(1e-12);
        held[*at] = against(members[*at], &others, &scale, limit, (odd, if_any));
        held[*at].split_odd = place < weighed.run.0 || place >= weighed.run.1;
    }
    Family {
        members: held,
        split: weighed.split,
        none: weighed.none,
        shifted: prior.map(|_| weighed.shifted),
        common: weighed.common,
        sound: weighed.run.1 - weighed.run.0,
    }
}

/// One member against the others, which alone decide what is expected.
fn against(member: Member, others: &[f64], scale: &Scale, limit: f64, (odd, if_any): (f64, f64)) -> Held {
    let undecided = |at_least: f64| {
        if if_any >= OPEN_QUESTION && odd >= at_least { Stand::Undecided } else { Stand::Like }
    };
    let none =
        Held { stand: Stand::Alone, score: None, expected: None, scale: 0.0, limit, odd, split_odd: false };
    if others.is_empty() {
        return none;
    }
    let spread = if others.len() >= 5 { stats::mad_of_sorted(others).unwrap_or(0.0) } else { 0.0 };
    // By what is known of the spread first; where that leaves no majority, by what is seen of it.
    let majority = |run: &Run| run.count * 2.0 > others.len() as f64;
    let run = agreeing(others, scale, 0.0)
        .filter(|run| majority(run) || spread == 0.0)
        .or_else(|| agreeing(others, scale, spread));
    let Some(run) = run else {
        return Held { stand: undecided(0.2), ..none };
    };
    let mean = run.mean();
    let floor = scale.variance(mean);
    // The family is plainly wider than its tolerance when its scatter is beyond what chance gives once in a hundred
    // (Wilson and Hilferty 1931 for the chi-squared limit).
    let free = run.count - 1.0;
    let wide = free >= 4.0 && {
        let part = 2.0 / (9.0 * free);
        run.scatter() / floor > free * (1.0 - part + 2.326 * part.sqrt()).powi(3)
    };
    let variance = if wide { run.scatter() / free } else { floor };
    let of_mean = variance / run.count;
    let (expected, of_expected) = match scale.prior {
        Some(prior) if (mean - prior.centre).powi(2) < 9.0 * (prior.standard.powi(2) + of_mean) => {
            let (known, seen) = (1.0 / prior.standard.powi(2).max(1e-18), 1.0 / of_mean);
            ((prior.centre * known + mean * seen) / (known + seen), 1.0 / (known + seen))
        }
        _ => (mean, of_mean),
    };
    let own = variance - scale.random.powi(2) + member.random.powi(2);
    let deviation = (own.max(member.random.powi(2)) + of_expected).sqrt().max(1e-9);
    let score = (member.value - expected).abs() / deviation;
    let stand = if score > limit && if_any >= NAMED {
        Stand::Unlike
    } else if score > limit {
        undecided(0.0)
    } else {
        Stand::Like
    };
    Held { stand, score: Some(score), expected: Some(expected), scale: deviation, ..none }
}

/// The run of others that agree, where one is clearly more likely than any that does not touch it.
fn agreeing(sorted: &[f64], scale: &Scale, spread: f64) -> Option<Run> {
    let mut best: Option<(f64, usize, usize, Run)> = None;
    let mut rival = f64::NEG_INFINITY;
    let mut run = Run { count: 0.0, sum: 0.0, squares: 0.0 };
    let mut start = 0;
    // Values are taken relative to the first, so that squares lose nothing.
    let zero = sorted[0];
    let mut consider = |start: usize, end: usize, run: Run| {
        let worth = worth(&run, scale);
        match best {
            Some((top, from, to, _)) if worth <= top => {
                if end <= from || start >= to {
                    rival = rival.max(worth);
                }
            }
            Some((top, from, to, _)) => {
                if end <= from || start >= to {
                    rival = rival.max(top);
                }
                best = Some((worth, start, end, run));
            }
            None => best = Some((worth, start, end, run)),
        }
    };
    let back = |run: Run| Run {
        count: run.count,
        sum: run.sum + run.count * zero,
        squares: run.squares + 2.0 * zero * run.sum + run.count * zero * zero,
    };
    for (end, value) in sorted.iter().enumerate() {
        let reach = |from: f64| {
            let deviation = scale.variance(0.5 * (from + value)).sqrt().max(spread);
            value - from <= (2.0 * scale.gain).sqrt() * 2f64.sqrt() * deviation
        };
        if !reach(sorted[start]) {
            consider(start, end, back(run));
            while !reach(sorted[start]) {
                let gone = sorted[start] - zero;
                run.count -= 1.0;
                run.sum -= gone;
                run.squares -= gone * gone;
                start += 1;
            }
        }
        let more = value - zero;
        run.count += 1.0;
        run.sum += more;
        run.squares += more * more;
    }
    consider(start, sorted.len(), back(run));
    let (worth, _, _, run) = best?;
    (worth - rival > 3f64.ln()).then_some(run)
}

/// Log odds of a run being the sound ones.
fn worth(run: &Run, scale: &Scale) -> f64 {
    let mean = run.mean();
    let variance = scale.variance(mean);
    let misfit = scale.prior.map_or(0.0, |prior| {
        (0.5 * (mean - prior.centre).powi(2) / (prior.standard.powi(2) + variance / run.count))
            .min(scale.gain)
    });
    run.count * scale.gain - 0.5 * run.scatter() / variance - misfit
}

/// All splits of the sorted family weighed.
struct Weighed {
    /// Probability of each being odd.
    odd: Vec<f64>,
    /// Probability that none is.
    none: f64,
    /// The likeliest split: first and one past the last of the sound run.
    run: (usize, usize),
    split: f64,
    shifted: f64,
    common: Option<f64>,
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

fn weigh(sorted: &[f64], scale: &Scale, typical: f64) -> Weighed {
    let count = sorted.len();
    let mut sums = Vec::with_capacity(count + 1);
    let zero = sorted[0];
    let mut total = Run { count: 0.0, sum: 0.0, squares: 0.0 };
    sums.push(total);
    for value in sorted {
        let more = value - zero;
        total.count += 1.0;
        total.sum += more;
        total.squares += more * more;
        sums.push(total);
    }
    let variance = scale.variance(typical);
    // What is expected of the common value: the window, or (chance SHIFTED) anything of that size.
    let wide = Prior { centre: typical, standard: 0.5 * typical };
    let fit = |prior: Prior, mean: f64, count: f64| {
        let spread = prior.standard * prior.standard;
        -0.5 * ((variance + count * spread) / variance).ln()
            - 0.5 * (mean - prior.centre).powi(2) / (spread + variance / count)
    };
    let mut splits: Vec<Split> = Vec::new();
    let mut top = f64::NEG_INFINITY;
    // The longest runs first: they are mostly the likeliest, and spare looking into the others.
    for length in (1..=count).rev() {
        for start in 0..=count - length {
            let end = start + length;
            let run = Run {
                count: length as f64,
                sum: sums[end].sum - sums[start].sum,
                squares: sums[end].squares - sums[start].squares,
            };
            let base = run.count * scale.gain - 0.5 * run.scatter() / variance;
            // An odd one adds at most what the densest odd value adds.
            let at_most = base + (count - length) as f64 * ODD_MOST;
            if at_most < top - NEGLIGIBLE {
                continue;
            }
            let mean = run.mean() + zero;
            let odd: f64 = sorted[..start]
                .iter()
                .chain(&sorted[end..])
                .map(|value| {
                    (ODD_SHARE / ((value - mean).abs() / typical).clamp(ODD_SIZES.0, ODD_SIZES.1)).ln()
                })
                .sum();
            let shifted = SHIFTED.ln() + fit(wide, mean, run.count);
            let weight = match scale.prior {
                Some(prior) => {
                    let plain = (1.0 - SHIFTED).ln() + fit(prior, mean, run.count);
                    plain.max(shifted) + (-(plain - shifted).abs()).exp().ln_1p()
                }
                None => fit(wide, mean, run.count),
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
    let sound = best.1 - best.0;
    let run_sum = sums[best.1].sum - sums[best.0].sum;
    Weighed {
        odd,
        none: none / sum,
        run: (best.0, best.1),
        split: (SHARPER * (best.2 - top)).exp() / sum,
        shifted: shifted / sum,
        common: (sound > 0).then(|| zero + run_sum / sound as f64),
    }
}
