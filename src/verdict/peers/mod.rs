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

mod limits;
mod runs;
mod splits;

pub use limits::limit;

use super::stats;
use runs::{Core, Run, Scale, agreeing, all_agree};
use splits::weigh;

/// What is taken for the chance that any circuit of a measured part is electrically off, before reading it
/// (own assumption: people measure parts that are suspected; the trial uses the same share).
pub const SOME_FAULT: f64 = 0.5;
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
pub use super::said::FamilyStand as Stand;

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
    /// How many others agree.
    pub agreeing: usize,
    /// Their mean.
    pub mean: f64,
    /// Standard uncertainty of what is expected.
    pub of_expected: f64,
    /// Standard uncertainty of a sound member about the common value.
    pub own: f64,
    /// The window's middle with its standard uncertainty, where it was taken into what is expected.
    pub prior: Option<Prior>,
    /// True where the family is plainly wider than its tolerance, so that its own spread counts.
    pub wide: bool,
}

impl Held {
    fn alone(limit: f64, odd: f64) -> Self {
        Self {
            stand: Stand::Alone,
            score: None,
            expected: None,
            scale: 0.0,
            limit,
            odd,
            split_odd: false,
            agreeing: 0,
            mean: 0.0,
            of_expected: 0.0,
            own: 0.0,
            prior: None,
            wide: false,
        }
    }
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
    let mut held = vec![Held::alone(limit, 0.0); count];
    let mut others = Vec::with_capacity(count);
    // Without a window the gain depends on the others, so that nothing can be taken over from one to the next.
    let core = prior.and_then(|_| Core::find(&sorted, &scale, 0.0));
    for (place, at) in order.iter().enumerate() {
        let odd = weighed.odd[place];
        let if_any = odd / (1.0 - weighed.none).max(1e-12);
        let run = core.as_ref().and_then(|core| core.without(place, &sorted, &scale)).or_else(|| {
            others.clear();
            others.extend_from_slice(&sorted[..place]);
            others.extend_from_slice(&sorted[place + 1..]);
            // By the others alone, here as well.
            if prior.is_none() {
                scale.set_gain(stats::median_of_sorted(&others).unwrap_or(middle));
            }
            reference(&others, &scale)
        });
        held[*at] = against(members[*at], run, count, &scale, limit, (odd, if_any));
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

/// The run of others that a member is held against: by what is known of the spread first; where that leaves no majority, by
/// what is seen of it.
fn reference(others: &[f64], scale: &Scale) -> Option<Run> {
    let run = all_agree(others, scale).or_else(|| agreeing(others, scale, 0.0));
    if others.len() >= 5 && run.is_none_or(|run| run.count * 2.0 <= others.len() as f64) {
        return agreeing(others, scale, stats::mad_of_sorted(others).unwrap_or(0.0));
    }
    run
}

/// One member against the others, which alone decide what is expected.
fn against(
    member: Member,
    run: Option<Run>,
    count: usize,
    scale: &Scale,
    limit: f64,
    (odd, if_any): (f64, f64),
) -> Held {
    let undecided = |at_least: f64| {
        if if_any >= OPEN_QUESTION && odd >= at_least { Stand::Undecided } else { Stand::Like }
    };
    let none = Held::alone(limit, odd);
    if count < 2 {
        return none;
    }
    let Some(run) = run else {
        return Held { stand: undecided(0.2), ..none };
    };
    let mean = run.mean;
    let floor = scale.variance(mean);
    // The family is plainly wider than its tolerance when its scatter is beyond what chance gives once in a hundred
    // (Wilson and Hilferty 1931 for the chi-squared limit).
    let free = run.count - 1.0;
    let wide = free >= 4.0 && {
        let part = 2.0 / (9.0 * free);
        run.scatter / floor > free * (1.0 - part + 2.326 * part.sqrt()).powi(3)
    };
    let variance = if wide { run.scatter / free } else { floor };
    let of_mean = variance / run.count;
    let prior =
        scale.prior.filter(|prior| (mean - prior.centre).powi(2) < 9.0 * (prior.standard.powi(2) + of_mean));
    let (expected, of_expected) = match prior {
        Some(prior) => {
            let (known, seen) = (1.0 / prior.standard.powi(2).max(1e-18), 1.0 / of_mean);
            ((prior.centre * known + mean * seen) / (known + seen), 1.0 / (known + seen))
        }
        None => (mean, of_mean),
    };
    let own = (variance - scale.random.powi(2) + member.random.powi(2)).max(member.random.powi(2));
    let deviation = (own + of_expected).sqrt().max(1e-9);
    let score = (member.value - expected).abs() / deviation;
    let stand = if score > limit && if_any >= NAMED {
        Stand::Unlike
    } else if score > limit {
        undecided(0.0)
    } else {
        Stand::Like
    };
    Held {
        stand,
        score: Some(score),
        expected: Some(expected),
        scale: deviation,
        agreeing: run.count as usize,
        mean,
        of_expected: of_expected.sqrt(),
        own: own.sqrt(),
        prior,
        wide,
        ..none
    }
}
