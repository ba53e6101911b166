//! Owns the hypotheses about what circuits share and about the measuring: which are worth weighing, and what each does to
//! the readings. What a network can say is solved from it ([`super::network`]).

use super::{
    Hypothesis, SharedPlace,
    family::Seen,
    network::Network,
    plane::{Effect, Plane, Shared, Variant, Worked},
    priors::*,
};
use crate::{
    profile::{CircuitKind, PinName},
    quantity::Reading,
    verdict::{Leads, Station, single},
};

use std::collections::HashMap;

/// What the leads may have where nobody measured them: ohms and weight (judgement).
const UNKNOWN_LEADS: [(f64, f64); 6] =
    [(0.05, 0.15), (0.12, 0.25), (0.2, 0.25), (0.32, 0.2), (0.5, 0.1), (0.9, 0.05)];

fn variant(weight: f64, effects: Vec<(usize, Effect)>, figure: f64) -> Variant {
    Variant { weight, effects, celsius: None, figure }
}

fn everywhere(plane: &Plane<'_, '_>) -> Vec<usize> {
    plane.groups.iter().flat_map(|group| group.rows.iter().copied()).collect()
}

/// What is there without any hypothesis: as it was measured, or with leads that nobody measured.
pub(super) fn base(plane: &Plane<'_, '_>) -> Vec<Variant> {
    if plane.analysis.leads.slack == 0.0 {
        return vec![variant(1.0, Vec::new(), 0.0)];
    }
    let rows = everywhere(plane);
    // Far above what leads have they do not matter.
    let small =
        rows.iter().any(|row| plane.analysis.rows[*row].number().is_some_and(|number| number.value < 200.0));
    if !small {
        return vec![variant(1.0, Vec::new(), 0.0)];
    }
    UNKNOWN_LEADS
        .iter()
        .map(|(ohms, weight)| {
            variant(*weight, rows.iter().map(|row| (*row, Effect::Adds(*ohms))).collect(), *ohms)
        })
        .collect()
}

/// The hypotheses that could matter beside these readings. `start` is what holds of the leads in the likeliest base.
pub(super) fn candidates(plane: &Plane<'_, '_>, base: &Worked, start: &Variant) -> Vec<Shared> {
    let mut all = Vec::new();
    let calm = base.held.iter().all(|held| held.none > 0.97 && held.family_off < 0.02);
    let leads = plane.analysis.leads;
    let zero_odd = leads.off > single::LEADS_AT_MOST;
    let relations = !plane.analysis.evidence.further.relations.is_empty();
    if calm && !zero_odd && !relations {
        return all;
    }
    opens(plane, &mut all);
    if !calm || zero_odd {
        zero(plane, &mut all);
    }
    if !calm {
        returns(plane, base, start, &mut all);
        temperatures(plane, &mut all);
        swapped(plane, base, &mut all);
        shorted(plane, &mut all);
    }
    if !calm || relations {
        joined(plane, base, &mut all);
    }
    // What the leads are taken for holds under each of these as well.
    for shared in &mut all {
        if matches!(shared.hypothesis, Hypothesis::LeadZero { .. }) {
            continue;
        }
        for one in &mut shared.variants {
            let mut effects = start.effects.clone();
            effects.append(&mut one.effects);
            one.effects = effects;
        }
    }
    all
}

/// The pins that two or more of the circuits read touch, with those.
fn shared_pins(plane: &Plane<'_, '_>) -> Vec<(PinName, Vec<usize>)> {
    let mut place: HashMap<&PinName, usize> = HashMap::new();
    let mut pins: Vec<(PinName, Vec<usize>)> = Vec::new();
    for row in everywhere(plane) {
        let circuit = plane.analysis.rows[row].circuit;
        for pin in [&circuit.pin, &circuit.against] {
            let at = *place.entry(pin).or_insert_with(|| {
                pins.push((pin.clone(), Vec::new()));
                pins.len() - 1
            });
            pins[at].1.push(row);
        }
    }
    pins.retain(|(_, rows)| rows.len() > 1);
    pins
}

fn is_open(plane: &Plane<'_, '_>, row: usize) -> bool {
    matches!(plane.analysis.rows[row].reduced.state, single::State::OverRange { .. })
}

fn ids(plane: &Plane<'_, '_>, rows: &[usize]) -> Vec<crate::profile::CircuitId> {
    rows.iter().map(|row| plane.id(*row)).collect()
}

fn opens(plane: &Plane<'_, '_>, all: &mut Vec<Shared>) {
    let rows = everywhere(plane);
    if rows.len() > 1 && rows.iter().all(|row| is_open(plane, *row)) {
        all.push(Shared {
            hypothesis: Hypothesis::LeadsBroken,
            prior: LEAD_BROKEN,
            variants: vec![variant(1.0, rows.iter().map(|row| (*row, Effect::Opens(0.9999))).collect(), 0.0)],
            hints: Vec::new(),
        });
    }
    let pins = shared_pins(plane);
    let count = pins.len() as f64;
    for (pin, rows) in pins {
        let open = rows.iter().filter(|row| is_open(plane, **row)).count();
        if open < 2 && open < rows.len() {
            continue;
        }
        let circuits = ids(plane, &rows);
        for (at, prior, p) in [
            (SharedPlace::Clip, CLIP_OPEN, 0.9999),
            (SharedPlace::Terminal, PIN_OPEN, 0.9999),
            (SharedPlace::Inside, INSIDE_OPEN, 0.9999),
            (SharedPlace::Loose, CLIP_LOOSE, 0.6),
        ] {
            all.push(Shared {
                hypothesis: Hypothesis::SharedOpen { pin: pin.clone(), at, circuits: circuits.clone() },
                prior: prior / count,
                variants: vec![variant(1.0, rows.iter().map(|row| (*row, Effect::Opens(p))).collect(), 0.0)],
                hints: Vec::new(),
            });
        }
    }
}

/// Resistances evenly spread in their logarithm.
fn logarithmic(from: f64, to: f64, steps: u32) -> impl Iterator<Item = f64> {
    (0..steps).map(move |k| from * (to / from).powf((f64::from(k) + 0.5) / f64::from(steps)))
}

fn returns(plane: &Plane<'_, '_>, base: &Worked, _: &Variant, all: &mut Vec<Shared>) {
    let pins = shared_pins(plane);
    let count = pins.len() as f64;
    for (pin, rows) in pins {
        let mut numbers: Vec<usize> =
            rows.iter().copied().filter(|row| plane.analysis.rows[*row].number().is_some()).collect();
        if numbers.len() < 2 {
            continue;
        }
        numbers.sort_unstable();
        // About where the readings would put it, finely; the whole span counts in the weights.
        let mut guesses: Vec<f64> = Vec::new();
        for (g, group) in plane.groups.iter().enumerate() {
            let here = group.rows.iter().filter(|row| numbers.binary_search(row).is_ok());
            let mut places = vec![base.held[g].place];
            let windows = &group.setting.windows;
            places
                .extend(windows.iter().step_by(1 + windows.len() / 8).flat_map(|(low, high)| [*low, *high]));
            // Of three, the one that is not on the pin is the measure.
            places.extend(
                group
                    .rows
                    .iter()
                    .filter(|other| numbers.binary_search(other).is_err())
                    .take(8)
                    .filter_map(|other| Some(plane.analysis.rows[*other].number()?.value)),
            );
            for number in here.filter_map(|row| plane.analysis.rows[*row].number()) {
                guesses.extend(places.iter().map(|place| number.value - place));
            }
        }
        let most = guesses.iter().copied().filter(|d| *d > 0.02).fold(0.0, f64::max);
        let least = guesses.iter().copied().filter(|d| *d > 0.02).fold(f64::INFINITY, f64::min);
        if most <= 0.0 {
            continue;
        }
        let (from, to) = ((0.5 * least).max(0.05), (1.3 * most).min(40.0));
        if to <= from {
            continue;
        }
        let share = (to / from).ln() / (40f64 / 0.05).ln();
        let steps = ((share * 60.0).ceil() as u32).clamp(6, 30);
        let variants = logarithmic(from, to, steps)
            .map(|ohms| {
                let effects = numbers.iter().map(|row| (*row, Effect::Adds(ohms))).collect();
                variant(share / f64::from(steps), effects, ohms)
            })
            .collect();
        // At the clip, in the terminal, inside: the three differ in their priors alone, and are one here.
        all.push(Shared {
            hypothesis: Hypothesis::SharedResistance {
                pin: pin.clone(),
                at: SharedPlace::Clip,
                ohms: 0.0,
                circuits: ids(plane, &numbers),
            },
            prior: RETURN.iter().sum::<f64>() / count,
            variants,
            hints: guesses.into_iter().filter(|d| *d > 0.02).take(12).collect(),
        });
    }
}

/// A lead zero that is wrong: the leads have something else, between nothing and a little over what sound ones have.
fn zero(plane: &Plane<'_, '_>, all: &mut Vec<Shared>) {
    let leads = plane.analysis.leads;
    if matches!(plane.analysis.evidence.leads, Leads::Unknown) {
        return;
    }
    let rows: Vec<usize> =
        everywhere(plane).into_iter().filter(|row| plane.analysis.rows[*row].number().is_some()).collect();
    if rows.is_empty() {
        return;
    }
    // Taken off by the meter: what was held together is not known.
    let shown = if leads.off > 0.0 { leads.off } else { 0.2 };
    let prior = match shown {
        off if off > 5.0 => 0.95,
        off if off > single::LEADS_AT_MOST => 0.5,
        off if off > 0.6 => 0.1,
        _ => ZERO,
    };
    let same = leads.count > 1 && leads.spread < 0.05 && shown <= single::LEADS_AT_MOST;
    let prior = if same { ZERO_REPEATED * prior } else { prior };
    let steps = 30;
    let fall = |truth: f64| (-truth / LEADS_FALL).exp();
    let truths = || (0..steps).map(|k| 1.5 * (f64::from(k) + 0.5) / f64::from(steps));
    let all_of_it: f64 = truths().map(fall).sum();
    let variants = truths()
        .filter(|truth| (truth - shown).abs() > 0.06)
        .map(|truth| {
            let ohms = truth - shown;
            variant(
                fall(truth) / all_of_it,
                rows.iter().map(|row| (*row, Effect::Adds(ohms))).collect(),
                ohms,
            )
        })
        .collect();
    let hints = plane
        .groups
        .iter()
        .filter_map(|group| {
            let (low, high) = *group.setting.windows.get(group.setting.windows.len() / 2)?;
            let row = &plane.analysis.rows[*group.rows.first()?];
            Some(row.number()?.value - (low * high).sqrt())
        })
        .take(12)
        .collect();
    all.push(Shared { hypothesis: Hypothesis::LeadZero { ohms: 0.0 }, prior, variants, hints });
}

fn temperatures(plane: &Plane<'_, '_>, all: &mut Vec<Shared>) {
    let Some(said) = plane.analysis.evidence.part_temperature else { return };
    let moves = plane.groups.iter().any(|group| {
        let circuit = plane.analysis.rows[group.rows[0]].circuit;
        !group.setting.windows.is_empty()
            && !matches!(circuit.kind, CircuitKind::Resistor | CircuitKind::DataBus)
    });
    if !moves {
        return;
    }
    let steps = 30;
    let variants = (0..steps)
        .map(|k| -30.0 + 150.0 * (f64::from(k) + 0.5) / f64::from(steps))
        .filter(|t| *t < said.low.get() - 5.0 || *t > said.high.get() + 5.0)
        .map(|t| {
            let beyond = (said.low.get() - t).max(t - said.high.get());
            let near = (-beyond / TEMPERATURE_FALLS).exp() * 5.0 / (2.0 * TEMPERATURE_FALLS);
            let weight = (1.0 - TEMPERATURE_ANY) * near + TEMPERATURE_ANY / f64::from(steps);
            Variant { weight, effects: Vec::new(), celsius: Some(t), figure: t }
        })
        .collect();
    all.push(Shared {
        hypothesis: Hypothesis::Temperature { celsius: 0.0 },
        prior: TEMPERATURE,
        variants,
        hints: Vec::new(),
    });
}

/// Pairs in different groups, both likely off.
fn swapped(plane: &Plane<'_, '_>, base: &Worked, all: &mut Vec<Shared>) {
    let off: Vec<(usize, usize)> = plane
        .groups
        .iter()
        .enumerate()
        .flat_map(|(g, group)| group.rows.iter().map(move |row| (g, *row)))
        .filter(|(_, row)| {
            base.places[*row].is_some_and(|(g, i)| base.held[g].off[i] > 0.3)
                && plane.analysis.rows[*row].number().is_some()
        })
        .collect();
    let mut pairs = Vec::new();
    for (at, (g, one)) in off.iter().enumerate() {
        for (h, other) in &off[at + 1..] {
            if g != h {
                pairs.push((*one, *other));
            }
        }
    }
    pairs.truncate(12);
    let every = everywhere(plane).len() as f64;
    let pairs_there_are = (every * (every - 1.0) / 2.0).max(1.0);
    for (one, other) in pairs {
        all.push(Shared {
            hypothesis: Hypothesis::Swapped { circuits: ids(plane, &[one, other]) },
            prior: SWAPPED / pairs_there_are,
            variants: vec![variant(1.0, vec![(one, Effect::Of(other)), (other, Effect::Of(one))], 0.0)],
            hints: Vec::new(),
        });
    }
}

fn shorted(plane: &Plane<'_, '_>, all: &mut Vec<Shared>) {
    for group in &plane.groups {
        let Some(low) = group.setting.windows.iter().map(|w| w.0).reduce(f64::min) else { continue };
        let numbers: Vec<usize> = group
            .rows
            .iter()
            .zip(&group.members)
            .filter(|(_, member)| matches!(member.seen, Seen::Number(y) if y < 0.4 * low && y < 2.0))
            .map(|(row, _)| *row)
            .collect();
        if numbers.len() < 2 || numbers.len() < group.rows.len() {
            continue;
        }
        let circuits = ids(plane, &numbers);
        let effects = numbers.iter().map(|row| (*row, Effect::Nothing)).collect();
        all.push(Shared {
            hypothesis: Hypothesis::AllShorted { circuits },
            prior: ALL_SHORTED,
            variants: vec![variant(1.0, effects, 0.0)],
            hints: Vec::new(),
        });
    }
}

/// Sets of two to four circuits against one pin that read what so many side by side would.
fn joined(plane: &Plane<'_, '_>, base: &Worked, all: &mut Vec<Shared>) {
    let rows = everywhere(plane);
    let n = rows.len() as f64;
    let mut sets: Vec<(Vec<usize>, f64)> = Vec::new();
    for (g, group) in plane.groups.iter().enumerate() {
        let place = middle(plane, base, g);
        for k in 2..=4usize {
            let target = place / k as f64;
            let mut near: Vec<(usize, f64)> = group
                .rows
                .iter()
                .zip(&group.members)
                .filter_map(|(row, member)| match member.seen {
                    Seen::Number(y) if (y / target - 1.0).abs() < 0.2 => Some((*row, y)),
                    _ => None,
                })
                .collect();
            near.sort_by(|a, b| a.1.total_cmp(&b.1));
            // Joined ones read the same: neighbours in order.
            for run in near.windows(k) {
                let mut rows: Vec<usize> = run.iter().map(|one| one.0).collect();
                rows.sort_unstable();
                let first = plane.analysis.rows[rows[0]].circuit;
                if rows.iter().all(|row| plane.analysis.rows[*row].circuit.against == first.against) {
                    sets.push((rows, JOINED[k - 2]));
                }
            }
        }
    }
    for relation in &plane.analysis.evidence.further.relations {
        let at =
            |pin: &PinName| rows.iter().copied().find(|row| plane.analysis.rows[*row].circuit.pin == *pin);
        if let (Some(one), Some(other)) = (at(&relation.from), at(&relation.to))
            && plane.station == Station::Component
        {
            let pair = vec![one, other];
            if !sets.iter().any(|(known, _)| known.len() == 2 && pair.iter().all(|row| known.contains(row))) {
                sets.push((pair.clone(), JOINED[0]));
            }
            all.push(Shared {
                hypothesis: Hypothesis::PairContradicts { circuits: ids(plane, &pair) },
                prior: RELATION_SLIP + JOINED_AT_TIMES,
                variants: vec![variant(1.0, Vec::new(), 0.0)],
                hints: Vec::new(),
            });
        }
    }
    sets.truncate(24);
    for (set, prior) in sets {
        let network = Side::new(plane, base, &set);
        let effects = set
            .iter()
            .filter_map(|row| {
                let alone = network.place(*row);
                let together = network.reads(*row)?;
                (alone > 0.0 && together > 0.0).then_some((*row, Effect::Times(together / alone)))
            })
            .collect();
        let ways = if set.len() == 2 { n * (n - 1.0) / 2.0 } else { n * (n - 1.0) * (n - 2.0) / 6.0 };
        all.push(Shared {
            hypothesis: Hypothesis::Joined { circuits: ids(plane, &set) },
            prior: prior / ways.max(1.0),
            variants: vec![variant(1.0, effects, 0.0)],
            hints: Vec::new(),
        });
    }
}

/// What a member of a group is taken for: the window's middle where there is one and the place is off, else the place.
fn middle(plane: &Plane<'_, '_>, base: &Worked, group: usize) -> f64 {
    let windows = &plane.groups[group].setting.windows;
    let window = windows.get(windows.len() / 2).map(|(low, high)| (low * high).sqrt());
    let place = base.held[group].place;
    match window {
        Some(window) if !(0.75..=1.33).contains(&(place / window)) || place <= 0.0 => window,
        _ => place,
    }
}

/// The part with some circuits' pins joined: only those circuits of it that can carry anything between them.
struct Side {
    rows: Vec<(usize, f64, usize, usize)>,
    network: Network,
}

impl Side {
    fn new(plane: &Plane<'_, '_>, base: &Worked, joined: &[usize]) -> Self {
        let mut nodes: HashMap<&PinName, usize> = HashMap::new();
        let mut rows = Vec::new();
        for (g, group) in plane.groups.iter().enumerate() {
            for row in &group.rows {
                let circuit = plane.analysis.rows[*row].circuit;
                let mut node = |pin| {
                    let next = nodes.len();
                    *nodes.entry(pin).or_insert(next)
                };
                rows.push((*row, middle(plane, base, g), node(&circuit.pin), node(&circuit.against)));
            }
        }
        // A circuit with a pin that nothing else touches carries nothing, unless it is one of those joined.
        loop {
            let mut degree = vec![0usize; nodes.len()];
            for (_, _, a, b) in &rows {
                degree[*a] += 1;
                degree[*b] += 1;
            }
            let before = rows.len();
            rows.retain(|(row, _, a, b)| joined.contains(row) || (degree[*a] > 1 && degree[*b] > 1));
            if rows.len() == before {
                break;
            }
        }
        let mut network = Network::default();
        for (_, ohms, a, b) in &rows {
            network.edges.push((*a, *b, *ohms));
        }
        let at = |row: &usize| rows.iter().find(|one| one.0 == *row).map(|one| one.2);
        for pair in joined.windows(2) {
            if let (Some(a), Some(b)) = (at(&pair[0]), at(&pair[1])) {
                network.edges.push((a, b, 0.0));
            }
        }
        Self { rows, network }
    }

    fn place(&self, row: usize) -> f64 {
        self.rows.iter().find(|one| one.0 == row).map_or(0.0, |one| one.1)
    }

    fn reads(&self, row: usize) -> Option<f64> {
        let one = self.rows.iter().find(|one| one.0 == row)?;
        self.network.between(one.2, one.3)
    }
}

/// Logarithm of what the readings from pin to pin are worth under a variant.
pub(super) fn relations(plane: &Plane<'_, '_>, variant: &Variant) -> f64 {
    if plane.station != Station::Component || plane.analysis.evidence.further.relations.is_empty() {
        return 0.0;
    }
    let mut pins: Vec<&PinName> = Vec::new();
    let mut node = |pin| {
        pins.iter().position(|known| *known == pin).unwrap_or_else(|| {
            pins.push(pin);
            pins.len() - 1
        })
    };
    // Each circuit leads to the joint behind the pin that it is measured against.
    let mut network = Network::default();
    let joined = variant.effects.iter().any(|(_, effect)| matches!(effect, Effect::Times(_)));
    let mut set: Vec<usize> = Vec::new();
    for row in plane.analysis.rows.iter().enumerate().filter(|(_, row)| row.station == Station::Component) {
        let (at, row) = row;
        let (a, b) = (node(&row.circuit.pin), 1000 + node(&row.circuit.against));
        let effect = variant.effects.iter().find(|(place, effect)| {
            *place == at && matches!(effect, Effect::Times(_) | Effect::Opens(_) | Effect::Nothing)
        });
        let window = row.limits.map(|limits| 0.5 * (limits.outer.0 + limits.outer.1));
        let own = row.number().map(|number| number.value);
        let group = plane.groups.iter().find(|group| group.rows.contains(&at));
        let typical = group.and_then(|group| {
            let numbers: Vec<f64> = group
                .members
                .iter()
                .filter_map(|m| if let Seen::Number(y) = m.seen { Some(y) } else { None })
                .collect();
            crate::verdict::stats::median(&numbers)
        });
        let ohms = match effect {
            Some((_, Effect::Times(factor))) => own.map(|y| y / factor),
            Some((_, Effect::Opens(_))) => own.or(window).or(typical),
            _ if is_open(plane, at) => Some(f64::INFINITY),
            _ => own.or(window).or(typical),
        };
        if let Some((_, Effect::Times(_))) = effect {
            set.push(a);
        }
        if let Some(ohms) = ohms {
            network.edges.push((a, b, ohms.max(0.0)));
        }
        network.edges.push((b, b - 1000, 1e-4));
    }
    if joined {
        for pair in set.windows(2) {
            network.edges.push((pair[0], pair[1], 0.0));
        }
    }
    let leads = plane.analysis.leads.off;
    plane
        .analysis
        .evidence
        .further
        .relations
        .iter()
        .map(|relation| {
            let (Some(a), Some(b)) = (
                pins.iter().position(|pin| **pin == relation.from),
                pins.iter().position(|pin| **pin == relation.to),
            ) else {
                return 0.0;
            };
            let expected = network.between(a, b);
            let density: f64 = match (&relation.reading, expected) {
                (Reading::OverRange { .. }, None) => 1.0,
                (Reading::OverRange { .. }, Some(_)) => 1e-4,
                (Reading::Value(shown), expected) => {
                    let y = shown.value() - leads;
                    let anything = 0.002 * (-y.abs() / 20.0).exp() / 20.0;
                    expected.map_or(1e-6, |ohms| {
                        let u = (0.04 * ohms).hypot(0.08);
                        0.998 * (-0.5 * ((y - ohms) / u).powi(2)).exp() / (u * 2.506_628) + anything
                    })
                }
                _ => 1.0,
            };
            density.max(1e-9).ln()
        })
        .sum()
}

/// Puts the mean figure into a hypothesis that has one.
pub(super) fn put_figure(hypothesis: &mut Hypothesis, figures: &[(Hypothesis, f64, f64)]) {
    if let Hypothesis::Both { all } = hypothesis {
        for one in all {
            put_figure(one, figures);
        }
        return;
    }
    let Some((_, weight, sum)) = figures.iter().find(|(known, _, _)| known == hypothesis) else { return };
    let mean = sum / weight.max(1e-12);
    match hypothesis {
        Hypothesis::SharedResistance { ohms, .. } | Hypothesis::LeadZero { ohms } => *ohms = mean,
        Hypothesis::Temperature { celsius } => *celsius = mean,
        _ => {}
    }
}
