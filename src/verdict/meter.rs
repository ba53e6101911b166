//! Owns what a meter's manual says about a shown value: how far the true one may be.

use super::{
    Contribution, Evaluated, EvaluationKind, MeterAccuracy, Saying, UncertaintySource,
    said::{decimal, figure},
};
use crate::{
    profile::{Meter, Range},
    quantity::{Celsius, Interval, Ohms, Shown, Unit},
};

/// Percent of the reading that is taken where no meter file is given (common practice, no source). Said wherever used.
pub const ASSUMED_PERCENT: f64 = 1.0;
/// Steps of the last shown digit that are taken where no meter file is given (common practice, no source).
pub const ASSUMED_DIGITS: f64 = 3.0;

/// How far a shown value may be from the true one.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Accuracy {
    /// Percent of the reading.
    pub percent: f64,
    /// Steps of the range.
    pub digits: f64,
    /// One step of the range, in the unit itself.
    pub resolution: f64,
    /// One step of what was said: coarser than the range where digits were left out.
    pub step: f64,
    /// What both are multiplied by because the meter is outside of its temperatures; 1 inside.
    pub widened: f64,
    /// Half-width of the error, in the unit itself.
    pub half: f64,
    /// False where no meter file, or no range of it, covers the value.
    pub from_file: bool,
}

impl Accuracy {
    /// As it stands in a derivation.
    pub(super) fn told(&self) -> MeterAccuracy {
        MeterAccuracy {
            percent: self.percent,
            digits: self.digits,
            step: figure(self.resolution),
            widened: (self.widened > 1.0).then(|| decimal(self.widened, 2)),
            half: figure(self.half),
            from_file: self.from_file,
        }
    }
}

/// What a meter says about one shown value.
#[must_use]
pub fn accuracy(meter: Option<&Meter>, shown: &Shown, ambient: Option<Interval<Celsius>>) -> Accuracy {
    let value = shown.value().abs();
    let said = shown.step();
    let Some((meter, range)) = meter.and_then(|meter| Some((meter, range(meter, shown)?))) else {
        let half = value * ASSUMED_PERCENT / 100.0 + ASSUMED_DIGITS * said;
        return Accuracy {
            percent: ASSUMED_PERCENT,
            digits: ASSUMED_DIGITS,
            resolution: said,
            step: said,
            widened: 1.0,
            half,
            from_file: false,
        };
    };
    let beyond = ambient.map_or(0.0, |ambient| {
        (meter.accurate_from.get() - ambient.low.get())
            .max(ambient.high.get() - meter.accurate_to.get())
            .max(0.0)
    });
    let widened = 1.0 + meter.drift_per_k.max(0.0) * beyond;
    let half = (value * range.percent / 100.0 + range.digits * range.resolution) * widened;
    Accuracy {
        percent: range.percent,
        digits: range.digits,
        resolution: range.resolution,
        step: range.resolution,
        widened,
        half,
        from_file: true,
    }
}

/// The range that showed it: the lowest that reaches so far. Digits that were typed or left out do not change it.
#[must_use]
pub fn range<'a>(meter: &'a Meter, shown: &Shown) -> Option<&'a Range> {
    let value = shown.value().abs();
    meter
        .ranges
        .iter()
        .filter(|range| range.unit == shown.unit && range.full_scale >= value)
        .min_by(|a, b| a.full_scale.total_cmp(&b.full_scale))
}

/// Whether a meter can tell the limits of a window apart at all, and with which range.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Resolves {
    /// End of the range to be fixed, in ohms.
    pub full_scale: f64,
    /// Expanded uncertainty (k = 2) from meter and resolution at the middle of the window.
    pub expanded: f64,
    /// Half the width of the window.
    pub half_width: f64,
    /// Whether the guard bands leave anything between the limits.
    pub can_pass: bool,
}

/// Looks for the lowest range that covers a window, and what it can tell.
#[must_use]
pub fn resolves(meter: &Meter, low: f64, high: f64) -> Option<Resolves> {
    let range = meter
        .ranges
        .iter()
        .filter(|range| range.unit == Unit::Ohm && range.full_scale >= high)
        .min_by(|a, b| a.full_scale.total_cmp(&b.full_scale))?;
    let middle = 0.5 * (low + high);
    let half = middle * range.percent / 100.0 + range.digits * range.resolution;
    let expanded = 2.0 * (half * half / 3.0 + range.resolution * range.resolution / 12.0).sqrt();
    let half_width = 0.5 * (high - low);
    Some(Resolves { full_scale: range.full_scale, expanded, half_width, can_pass: expanded < half_width })
}

/// A number for people: enough digits, no tail of noughts.
#[must_use]
pub fn trim(value: f64) -> String {
    let size = value.abs();
    let places = if size >= 1000.0 {
        0
    } else if size >= 100.0 {
        1
    } else if size >= 10.0 {
        2
    } else if size >= 0.1 || size == 0.0 {
        3
    } else {
        5
    };
    let text = format!("{value:.places$}");
    if text.contains('.') { text.trim_end_matches('0').trim_end_matches('.').to_owned() } else { text }
}

/// One line of a budget, evaluated from bounds.
pub(super) fn contribution(
    source: UncertaintySource,
    how: Evaluated,
    standard: f64,
    shared: bool,
) -> Contribution {
    contribution_of(source, EvaluationKind::B, how, standard, shared)
}

/// As [`contribution`], with the way it was evaluated.
pub(super) fn contribution_of(
    source: UncertaintySource,
    kind: EvaluationKind,
    how: Evaluated,
    standard: f64,
    shared: bool,
) -> Contribution {
    let (source, how) = (Saying::Value(source), Saying::Value(how));
    Contribution { source, kind, how, standard: ohms(standard), shared }
}

/// A computed number as ohms; 0 where it is not finite (sums of readings that the refusals let through are finite).
pub(super) fn ohms(value: f64) -> Ohms {
    Ohms::new(value).or(Ohms::new(0.0)).expect("zero is finite")
}
