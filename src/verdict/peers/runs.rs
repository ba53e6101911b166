//! Owns runs of sorted values that agree.

use super::Prior;

/// What is the same for the whole family.
pub(super) struct Scale {
    pub tolerance: f64,
    pub random: f64,
    pub prior: Option<Prior>,
    /// Odds of a circuit being sound, before reading it.
    pub odds: f64,
    /// Gain in log odds of calling one more member sound, before its distance counts.
    pub gain: f64,
}

impl Scale {
    pub fn variance(&self, common: f64) -> f64 {
        (self.tolerance * common).powi(2) / 3.0 + self.random * self.random + 1e-18
    }

    /// Sets the gain for a family of about that common value; gives back the value used: the window's, if there is one.
    pub fn set_gain(&mut self, middle: f64) -> f64 {
        let typical = self.prior.map_or(middle, |prior| prior.centre).abs().max(1e-6);
        let density = 1.0 / (self.variance(typical) * 2.0 * std::f64::consts::PI).sqrt();
        self.gain = (self.odds * typical * density).max(1.5).ln();
        typical
    }
}

/// A run of sorted values.
#[derive(Clone, Copy)]
pub(super) struct Run {
    pub count: f64,
    pub mean: f64,
    /// Sum of squared distances from its mean.
    pub scatter: f64,
}

/// Sums of values taken relative to one of them, so that squares lose nothing.
#[derive(Clone, Copy, Default)]
pub(super) struct Sums {
    count: f64,
    sum: f64,
    squares: f64,
}

impl Sums {
    pub fn add(&mut self, value: f64) {
        self.count += 1.0;
        self.sum += value;
        self.squares += value * value;
    }

    fn remove(&mut self, value: f64) {
        self.count -= 1.0;
        self.sum -= value;
        self.squares -= value * value;
    }

    /// What was added after `before`.
    pub fn since(self, before: Self) -> Self {
        Self {
            count: self.count - before.count,
            sum: self.sum - before.sum,
            squares: self.squares - before.squares,
        }
    }

    /// The run, its values having been taken relative to `zero`.
    pub fn run(self, zero: f64) -> Run {
        Run {
            count: self.count,
            mean: zero + self.sum / self.count,
            scatter: (self.squares - self.sum * self.sum / self.count).max(0.0),
        }
    }
}

/// All of them, where the lowest and the highest are in reach of each other.
pub(super) fn all_agree(sorted: &[f64], scale: &Scale) -> Option<Run> {
    let (first, last) = (sorted.first()?, sorted.last()?);
    in_reach(*first, *last, scale, 0.0).then(|| {
        let mut sums = Sums::default();
        for value in sorted {
            sums.add(value - first);
        }
        sums.run(*first)
    })
}

/// Whether two values could both be sound.
fn in_reach(low: f64, high: f64, scale: &Scale, spread: f64) -> bool {
    let variance = scale.variance(0.5 * (low + high)).max(spread * spread);
    (high - low).powi(2) <= 4.0 * scale.gain * variance
}

/// The run of others that agree, where one is clearly more likely than any that does not touch it.
pub(super) fn agreeing(sorted: &[f64], scale: &Scale, spread: f64) -> Option<Run> {
    let core = Core::find(sorted, scale, spread)?;
    (core.ahead > 3f64.ln()).then(|| core.sums.run(core.zero))
}

/// The likeliest run of a sorted family.
pub(super) struct Core {
    /// Its first place, and one past its last.
    places: (usize, usize),
    sums: Sums,
    zero: f64,
    /// How much likelier it is than any run that does not touch it (log odds).
    ahead: f64,
}

impl Core {
    /// What [`all_agree`] or [`agreeing`] would find among all but the one at a place, where that can be told without
    /// looking at all others again: the run is far ahead, and the one left out lies inside or outside of it, not at its ends.
    pub fn without(&self, place: usize, sorted: &[f64], scale: &Scale) -> Option<Run> {
        let (start, end) = self.places;
        let inside = place > start && place + 1 < end;
        let outside = place < start || place >= end;
        // Leaving one out costs a run its gain and moves its mean a little; majority and margin must survive that.
        let settled = self.ahead > 3.0 * scale.gain + 10.0 && (end - start - 1) * 2 > sorted.len();
        if !(settled && (inside || outside)) {
            return None;
        }
        let mut sums = self.sums;
        if inside {
            sums.remove(sorted[place] - self.zero);
        }
        Some(sums.run(self.zero))
    }

    /// Looks for it among all runs that cannot be made longer.
    pub fn find(sorted: &[f64], scale: &Scale, spread: f64) -> Option<Self> {
        let zero = *sorted.first()?;
        let mut best: Option<(f64, usize, usize, Sums)> = None;
        let mut rival = f64::NEG_INFINITY;
        let mut consider = |start: usize, end: usize, sums: Sums| {
            let worth = worth(&sums.run(zero), scale);
            let Some((top, from, to, _)) = best else {
                best = Some((worth, start, end, sums));
                return;
            };
            let apart = end <= from || start >= to;
            if worth > top {
                best = Some((worth, start, end, sums));
            }
            if apart {
                rival = rival.max(worth.min(top));
            }
        };
        let mut sums = Sums::default();
        let mut start = 0;
        for (end, value) in sorted.iter().enumerate() {
            let reach = |from: f64| in_reach(from, *value, scale, spread);
            if !reach(sorted[start]) {
                consider(start, end, sums);
                while !reach(sorted[start]) {
                    sums.remove(sorted[start] - zero);
                    start += 1;
                }
            }
            sums.add(value - zero);
        }
        consider(start, sorted.len(), sums);
        let (worth, start, end, sums) = best?;
        Some(Self { places: (start, end), sums, zero, ahead: worth - rival })
    }
}

/// Log odds of a run being the sound ones.
fn worth(run: &Run, scale: &Scale) -> f64 {
    let mean = run.mean;
    let variance = scale.variance(mean);
    let misfit = scale.prior.map_or(0.0, |prior| {
        (0.5 * (mean - prior.centre).powi(2) / (prior.standard.powi(2) + variance / run.count))
            .min(scale.gain)
    });
    run.count * scale.gain - 0.5 * run.scatter / variance - misfit
}
