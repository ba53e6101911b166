//! Owns one circuit at one station: which of its readings count, what they amount to, and how far that may be off.

use super::{
    Contact, Evaluated, EvaluationKind, Leads, Measurement, UncertaintySource,
    meter::{self, Accuracy},
    said::figure,
};
use super::{Contribution, Evidence};
use crate::{
    profile::{Circuit, CircuitKind, Meter, Profile, Suppression},
    quantity::{Reading, Shown},
};

/// Bound on what contact alone changes where no family says (common practice, no source). Said wherever used.
pub const ASSUMED_CONTACT: f64 = 0.1;
/// The highest resistance of sound leads with clips, in ohms (common practice, no source): what is carried while the
/// leads were not measured, and from where measured leads are taken for damaged.
pub const LEADS_AT_MOST: f64 = 1.0;

/// What is left of the error of the meter's digits in the difference of two readings with one meter (judgement: it is
/// an offset for the most part, and cancels; JCGM 100:2008, 5.2.2).
const DIGITS_LEFT: f64 = 0.2;

/// Readings that lie further apart than this share did not drift with warmth or leads: one of them was badly probed
/// (judgement).
const DRIFT_AT_MOST: f64 = 0.2;

/// The leads as far as they are known.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct LeadsKnown {
    /// What is taken off, in ohms.
    pub off: f64,
    /// Standard uncertainty of it.
    pub uncertainty: f64,
    /// What the true value may be lower by than what is computed: leads that were not measured.
    pub slack: f64,
    /// How many times they were read.
    pub count: usize,
    /// How far apart the readings lie.
    pub spread: f64,
    /// Share of the meter's digits' error that stays when they are taken off: the same meter showed both.
    pub left: f64,
}

impl LeadsKnown {
    /// Takes the leads from the evidence.
    pub fn of(evidence: &Evidence, meter: Option<&Meter>) -> Self {
        let repeats = &evidence.further.lead_repeats;
        let first = match &evidence.leads {
            Leads::Shown(shown) => Some(*shown),
            Leads::Relative => {
                let step = repeats.first().map_or(0.0, Shown::step);
                let spread = spread(repeats.iter().map(Shown::value));
                let uncertainty = (ASSUMED_CONTACT * ASSUMED_CONTACT / 12.0 + step * step / 12.0).sqrt();
                return Self {
                    off: 0.0,
                    uncertainty,
                    slack: 0.0,
                    count: repeats.len(),
                    spread,
                    left: DIGITS_LEFT,
                };
            }
            Leads::Unknown => None,
        };
        let all: Vec<Shown> = first.into_iter().chain(repeats.iter().copied()).collect();
        let Some(one) = all.first() else {
            return Self {
                off: 0.0,
                uncertainty: 0.0,
                slack: LEADS_AT_MOST,
                count: 0,
                spread: 0.0,
                left: 1.0,
            };
        };
        let accuracy = meter::accuracy(meter, one, evidence.meter_temperature);
        let count = all.len() as f64;
        let values = || all.iter().map(Shown::value);
        let off = values().sum::<f64>() / count;
        let spread = spread(values());
        let scatter = values().map(|value| (value - off).powi(2)).sum::<f64>() / (count - 1.0).max(1.0);
        let expected = accuracy.step * accuracy.step / 12.0 + ASSUMED_CONTACT * ASSUMED_CONTACT / 12.0;
        let random = expected.max(scatter) / count;
        Self { off, uncertainty: random.sqrt(), slack: 0.0, count: all.len(), spread, left: DIGITS_LEFT }
    }
}

fn spread(values: impl Iterator<Item = f64>) -> f64 {
    let (low, high) =
        values.fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), v| (low.min(v), high.max(v)));
    (high - low).max(0.0)
}

/// What the readings that count amount to.
#[derive(Debug, Clone, PartialEq)]
pub(super) enum State {
    /// Nothing was read.
    NotTaken,
    /// A number.
    Number(Number),
    /// Over range.
    OverRange {
        /// How many times over range, the terminal having been cleaned before the first of them.
        since_cleaned: usize,
        /// The first measurement that was over range.
        first: u32,
        /// The end of the range that the last of them was over, in ohms, where it is known.
        beyond: Option<f64>,
    },
    /// A number that wanders, from and to (leads not taken off) where known.
    Wandering {
        /// Lowest and highest.
        between: Option<(f64, f64)>,
        /// What showed it.
        why: Wander,
    },
}

/// What showed that a number wanders.
pub(super) use super::said::WanderWhy as Wander;

/// A number with its uncertainty, in ohms.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Number {
    /// The coarsest step in which it was said, in ohms.
    pub said: f64,
    /// Mean of what was shown.
    pub shown: f64,
    /// With the leads off.
    pub value: f64,
    /// How many readings.
    pub count: usize,
    /// Standard uncertainty of what differs from reading to reading.
    pub random: f64,
    /// Its fourth cumulant, for how short its tails are.
    pub fourth: f64,
    /// The part of it from contact, before repeats.
    pub contact: f64,
    /// Whether the scatter of the repeats was larger than expected and counts instead.
    pub scatter: Option<f64>,
    /// The bound on contact that was used.
    pub contact_bound: f64,
    /// The meter's accuracy.
    pub accuracy: Accuracy,
    /// Standard uncertainty of meter and leads: the same for all circuits.
    pub shared: f64,
    /// See [`LeadsKnown`].
    pub leads: LeadsKnown,
}

impl Number {
    /// Combined standard uncertainty (JCGM 100:2008, 5.1.2).
    pub fn standard(&self) -> f64 {
        (self.random * self.random + self.shared * self.shared).sqrt()
    }

    /// Expanded with k = 2.
    pub fn expanded(&self) -> f64 {
        2.0 * self.standard()
    }

    /// The budget, line by line.
    pub fn budget(&self) -> Vec<Contribution> {
        let accuracy = &self.accuracy;
        let mut lines = vec![meter::contribution(
            UncertaintySource::Meter,
            Evaluated::Meter { accuracy: accuracy.told() },
            shared(accuracy, &self.leads),
            true,
        )];
        if self.leads.count > 0 || self.leads.uncertainty > 0.0 {
            lines.push(meter::contribution(
                UncertaintySource::Leads,
                Evaluated::Leads { ohms: figure(self.leads.off) },
                self.leads.uncertainty,
                true,
            ));
        }
        let (n, count) = (self.count as f64, self.count);
        if let Some(scatter) = self.scatter {
            lines.push(meter::contribution_of(
                UncertaintySource::Repeats,
                EvaluationKind::A,
                Evaluated::Repeats { deviation: figure(scatter), count },
                scatter / n.sqrt(),
                false,
            ));
        } else {
            lines.push(meter::contribution(
                UncertaintySource::Contact,
                Evaluated::Contact { bound: figure(self.contact_bound), count },
                self.contact / n.sqrt(),
                false,
            ));
            lines.push(meter::contribution(
                UncertaintySource::LastDigit,
                Evaluated::LastDigit { step: figure(accuracy.step), count },
                accuracy.step / 12f64.sqrt() / n.sqrt(),
                false,
            ));
        }
        lines
    }
}

/// One circuit at one station.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Reduced {
    /// All its readings that were taken.
    pub ids: Vec<u32>,
    /// What they amount to.
    pub state: State,
    /// How many readings since the terminal was cleaned.
    pub cleaned: usize,
    /// Whether the reading changed when the terminal was cleaned.
    pub cleaning_changed: bool,
    /// Whether it read more (or nothing steady) before its terminal was cleaned, and reads a number since.
    pub cured: bool,
    /// Whether it was over range or wandering before a steady number was read.
    pub unsteady_before: bool,
    /// First and last of the readings as usual, where they differ more than meter and contact explain and other
    /// circuits were read in between.
    pub drift: Option<(f64, f64)>,
}

/// Reduces the readings of one circuit at one station, in the order taken.
pub(super) fn reduce(
    profile: &Profile,
    meter: Option<&Meter>,
    evidence: &Evidence,
    leads: &LeadsKnown,
    circuit: &Circuit,
    readings: &[&Measurement],
) -> Reduced {
    let mut reduced = Reduced {
        ids: Vec::new(),
        state: State::NotTaken,
        cleaned: 0,
        cleaning_changed: false,
        cured: false,
        unsteady_before: false,
        drift: None,
    };
    let contact_bound = circuit
        .family
        .as_ref()
        .and_then(|family| profile.family(family))
        .map_or(ASSUMED_CONTACT, |family| family.contact.get().abs());
    // One plain number: nearly always so, and nothing to compare it with.
    if let [Measurement { id, reading: Reading::Value(shown), contact, .. }] = readings
        && *contact != Contact::Wiggled
    {
        reduced.ids.push(*id);
        reduced.cleaned = usize::from(*contact == Contact::Cleaned);
        reduced.state =
            numbers(evidence, meter, leads, contact_bound, 0.0, &[*shown], &[*id], &mut reduced.drift);
        return reduced;
    }
    let mut group: Vec<&Measurement> = Vec::new();
    let mut over = (0usize, 0u32);
    let mut moved: Option<(f64, f64)> = None;
    let share = repeats(circuit);
    let agree = |a: &Shown, b: &Shown| {
        let bound = 2.0 * (contact_bound + step(meter, a).max(step(meter, b)))
            + share * a.value().abs().max(b.value().abs());
        (a.value() - b.value()).abs() <= bound + 1e-9
    };
    for &measurement in readings {
        if measurement.reading == Reading::NotTaken {
            continue;
        }
        reduced.ids.push(measurement.id);
        let last = group.last().map(|last| last.reading);
        if measurement.contact == Contact::Wiggled {
            moved = moved.or(match (last, &measurement.reading) {
                (Some(Reading::Value(a)), Reading::Value(b)) if !agree(&a, b) => {
                    Some((a.value().min(b.value()), a.value().max(b.value())))
                }
                (Some(Reading::Value(a)), Reading::OverRange { .. } | Reading::Unstable { .. }) => {
                    Some((a.value(), f64::INFINITY))
                }
                (Some(Reading::OverRange { .. }), Reading::Value(b)) => Some((b.value(), f64::INFINITY)),
                _ => None,
            });
            if group.is_empty() {
                group.push(measurement);
            }
            continue;
        }
        let changed = match (last, &measurement.reading) {
            (Some(Reading::Value(_)), Reading::Value(_))
                if circuit.suppression == Some(Suppression::Diode) =>
            {
                false
            }
            (Some(Reading::Value(a)), Reading::Value(b)) => !agree(&a, b),
            (Some(a), b) => std::mem::discriminant(&a) != std::mem::discriminant(b),
            (None, _) => false,
        };
        if measurement.contact == Contact::Cleaned && (reduced.cleaned == 0 || changed) {
            reduced.cleaning_changed |= changed;
            if changed {
                reduced.cured = match (last, &measurement.reading) {
                    (Some(Reading::Value(before)), Reading::Value(after)) => before.value() > after.value(),
                    (Some(_), Reading::Value(_)) => true,
                    _ => false,
                };
                // What was seen when the terminal was dirty says nothing of what it is now.
                moved = None;
            }
            group.clear();
            over = (0, 0);
            reduced.cleaned = 0;
        } else if changed && !matches!(last, Some(Reading::Value(_))) {
            reduced.unsteady_before |= matches!(measurement.reading, Reading::Value(_));
            group.clear();
        }
        if measurement.contact == Contact::Cleaned || reduced.cleaned > 0 {
            reduced.cleaned += 1;
        }
        if matches!(measurement.reading, Reading::OverRange { .. }) {
            if over.1 == 0 {
                over.1 = measurement.id;
            }
            over.0 += usize::from(reduced.cleaned > 0);
        } else {
            over = (0, 0);
        }
        group.push(measurement);
    }
    let Some(last) = group.last() else { return reduced };
    reduced.state = match (&last.reading, moved) {
        (_, Some((low, high))) => {
            State::Wandering { between: high.is_finite().then_some((low, high)), why: Wander::Moved }
        }
        (Reading::OverRange { range }, _) => State::OverRange {
            since_cleaned: over.0,
            first: over.1,
            beyond: range.as_ref().map(Shown::value),
        },
        (Reading::Unstable { low, high }, _) => State::Wandering {
            between: low.zip(*high).map(|(low, high)| (low.value(), high.value())),
            why: Wander::Display,
        },
        (Reading::Value(_), _) => {
            let values: Vec<Shown> = group
                .iter()
                .filter_map(|one| if let Reading::Value(shown) = one.reading { Some(shown) } else { None })
                .collect();
            let ids: Vec<u32> = group.iter().map(|one| one.id).collect();
            // Read both ways round, the higher is the coil's: the other flows through the diode.
            let values = if circuit.suppression == Some(Suppression::Diode) {
                let most = values.iter().copied().max_by(|a, b| a.value().total_cmp(&b.value()));
                values
                    .iter()
                    .copied()
                    .filter(|one| most.as_ref().is_some_and(|most| agree(one, most)))
                    .collect()
            } else {
                values
            };
            numbers(evidence, meter, leads, contact_bound, share, &values, &ids, &mut reduced.drift)
        }
        (Reading::NotTaken, _) => State::NotTaken,
    };
    reduced
}

/// How far sound repeats of a circuit lie apart, as a share of the value, beside contact and last digit: warmth of hands
/// and of the meter's own current (judgement; a thermistor moves by some 4 % a kelvin).
fn repeats(circuit: &Circuit) -> f64 {
    match circuit.kind {
        CircuitKind::Thermistor { .. } | CircuitKind::ThermistorTable { .. } => 0.02,
        _ => 0.005,
    }
}

/// The display's step behind a number as said: digits that were left out change nothing.
fn step(meter: Option<&Meter>, shown: &Shown) -> f64 {
    meter::accuracy(meter, shown, None).step
}

/// Several steady numbers of one circuit in one state of its terminal.
#[expect(clippy::too_many_arguments, reason = "one place, called with what is already worked out")]
fn numbers(
    evidence: &Evidence,
    meter: Option<&Meter>,
    leads: &LeadsKnown,
    contact_bound: f64,
    share: f64,
    values: &[Shown],
    ids: &[u32],
    drift: &mut Option<(f64, f64)>,
) -> State {
    let Some((first, last)) = values.first().zip(values.last()) else { return State::NotTaken };
    let count = values.len() as f64;
    let mean = values.iter().map(Shown::value).sum::<f64>() / count;
    let step = values.iter().map(|shown| step(meter, shown)).fold(0.0, f64::max);
    let largest = values.iter().max_by(|a, b| a.value().total_cmp(&b.value())).unwrap_or(last);
    let accuracy = meter::accuracy(meter, largest, evidence.meter_temperature);
    let apart = spread(values.iter().map(Shown::value));
    // Contact and last digit are bounds: sound repeats cannot lie further apart than twice their sum.
    let drifts = share * largest.value().abs();
    if apart > 2.0 * (contact_bound + step) + drifts + 1e-9 {
        let others_between = ids.windows(2).any(|pair| {
            let known = |id: u32| ids.contains(&id);
            evidence.measurements.iter().any(|m| m.id > pair[0] && m.id < pair[1] && !known(m.id))
        });
        // Far apart is a contact, whatever was read in between.
        if others_between && apart < DRIFT_AT_MOST * largest.value().abs() {
            *drift = Some((first.value(), last.value()));
        } else {
            let low = values.iter().map(Shown::value).fold(f64::INFINITY, f64::min);
            return State::Wandering { between: Some((low, low + apart)), why: Wander::Repeats };
        }
    }
    // Two probings differ by up to the bound: one alone adds something between 0 and it (even: width/√12).
    let contact = contact_bound / 12f64.sqrt();
    let expected = (contact * contact + accuracy.step * accuracy.step / 12.0).sqrt();
    let seen = if values.len() > 1 {
        (values.iter().map(|v| (v.value() - mean).powi(2)).sum::<f64>() / (count - 1.0)).sqrt()
    } else {
        0.0
    };
    let scatter = (seen > expected).then_some(seen);
    State::Number(Number {
        said: values.iter().map(Shown::step).fold(0.0, f64::max),
        shown: mean,
        // Decimals subtracted in binary: back to the nearest nano-ohm, so that a value on a limit stays on it.
        value: ((mean - leads.off) * 1e9).round() / 1e9,
        count: values.len(),
        random: expected.max(seen) / count.sqrt(),
        fourth: if scatter.is_some() {
            0.0
        } else {
            -1.2 * (contact.powi(4) + (accuracy.step / 12f64.sqrt()).powi(4)) / count.powi(3)
        },
        contact,
        scatter,
        contact_bound,
        accuracy,
        shared: shared(&accuracy, leads).hypot(leads.uncertainty),
        leads: *leads,
    })
}

/// Standard uncertainty that the meter leaves in a difference to its leads: its gain, and what is left of its digits.
fn shared(accuracy: &Accuracy, leads: &LeadsKnown) -> f64 {
    let digits = accuracy.digits * accuracy.resolution * accuracy.widened;
    let gain = (accuracy.half - digits).max(0.0);
    (gain + leads.left * digits) / 3f64.sqrt()
}
