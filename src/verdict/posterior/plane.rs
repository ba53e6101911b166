//! Owns one station's circuits: groups of like ones, what they may share, and the sum over both.

use super::{
    Hypothesis, LEAST, RowHeld, Weighed, both,
    density::Blur,
    family::{self, Held, Member, Seen, Setting, Wanders},
    priors::*,
    push, structure,
};
use std::rc::Rc;

use crate::{
    profile::{CircuitId, CircuitKind},
    verdict::{
        Station,
        analysis::{Analysis, Row, says_nothing},
        observed,
        single::{Number, State, Wander},
        window,
    },
};

/// Circuits held together.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Group {
    /// Their places among the analysis's rows.
    pub rows: Vec<usize>,
    pub members: Vec<Member>,
    pub setting: Setting,
}

/// What a hypothesis does to the reading of a row.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Effect {
    /// It adds so many ohms.
    Adds(f64),
    /// It multiplies.
    Times(f64),
    /// It is over range with this probability, whatever the circuit.
    Opens(f64),
    /// It is what belongs to another row.
    Of(usize),
    /// It is next to nothing.
    Nothing,
}

/// One way in which a hypothesis may be: weight within it, effects, other windows.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Variant {
    pub weight: f64,
    pub effects: Vec<(usize, Effect)>,
    /// The part's true temperature, where the hypothesis is about that.
    pub celsius: Option<f64>,
    /// What the variant says, for the mean (ohms or °C).
    pub figure: f64,
}

/// A hypothesis about what is shared or about the measuring.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Shared {
    pub hypothesis: Hypothesis,
    pub prior: f64,
    /// In the order of their figures.
    pub variants: Vec<Variant>,
    /// Figures that the readings suggest: looked at first.
    pub hints: Vec<f64>,
}

/// All of a station.
pub(super) struct Plane<'p, 'a> {
    pub analysis: &'p Analysis<'a>,
    pub station: Station,
    pub groups: Vec<Group>,
}

/// A variant worked out.
pub(super) struct Worked {
    pub log: f64,
    /// For each row of the analysis that is in a group: probability to be off by itself.
    pub held: Vec<Rc<Held>>,
    /// Which member of which group each row is; none where the hypothesis explains it away.
    pub places: Vec<Option<(usize, usize)>>,
    /// Rows that the hypothesis touches.
    pub touched: Vec<usize>,
}

/// Off with less than this: sound enough to tell of the fault rate.
const CALM: f64 = 0.2;

/// A number that was said two places coarser than the finest of its family was rounded.
const ROUNDED: f64 = 50.0;

fn blur(number: &Number, finest: f64) -> Blur {
    let contact = number.contact_bound / CONTACT_OF_BOUND;
    let rounded = number.said > ROUNDED * finest;
    Blur {
        step: if rounded { number.accuracy.step.max(number.said) } else { number.accuracy.step },
        contact,
        own: number.scatter.map_or(0.0, |scatter| scatter / (number.count as f64).sqrt()),
        count: number.count as f64,
    }
}

/// A value as another prefix or point would make it, where that lies near the middle and the value itself does not.
fn slip(number: &Number, middle: f64) -> Option<(f64, f64)> {
    if middle <= 0.0 || (0.2 * middle..=5.0 * middle).contains(&number.value) || number.shown <= 0.0 {
        return None;
    }
    [1e3, 1e-3, 10.0, 0.1, 100.0, 0.01, 1e6, 1e-6, 1e9, 1e-9]
        .into_iter()
        .map(|factor: f64| (number.shown / factor - number.leads.off, factor))
        .find(|(value, _)| (value / middle - 1.0).abs() < 0.3)
}

impl<'p, 'a> Plane<'p, 'a> {
    fn new(analysis: &'p Analysis<'a>, station: Station) -> Self {
        let mut plane = Self { analysis, station, groups: Vec::new() };
        let complaint = !analysis.evidence.codes.is_empty();
        let rates = if complaint { RATES_COMPLAINT } else { RATES };
        let mut lists: Vec<(Option<usize>, Vec<usize>)> = Vec::new();
        for (at, row) in analysis.rows.iter().enumerate() {
            if row.station != station || !enters(analysis, row) {
                continue;
            }
            match lists.iter_mut().find(|(family, _)| family.is_some() && *family == row.family) {
                Some((_, list)) => list.push(at),
                None => lists.push((row.family, vec![at])),
            }
        }
        for (family, rows) in lists {
            plane.group(family, rows, rates);
        }
        plane.share_the_rate();
        plane
    }

    /// How often circuits are faulty is one figure for the whole part: groups in which nothing is off tell the others that
    /// it is low. Groups in which something may be off say nothing here: what they share may be behind it.
    fn share_the_rate(&mut self) {
        if self.groups.len() < 2 {
            return;
        }
        let told: Vec<[f64; 3]> = self
            .groups
            .iter()
            .map(|group| {
                // A coarse sum is enough for it.
                let held = family::hold(&group.members, &Setting { coarse: true, ..group.setting.clone() });
                let calm = held.off.iter().all(|off| *off < CALM) && held.family_off < CALM;
                // Against the highest rate, so that numbers stay small.
                if calm { held.by_rate.map(|log| log - held.by_rate[2]) } else { [0.0; 3] }
            })
            .collect();
        let all: [f64; 3] = std::array::from_fn(|k| told.iter().map(|one| one[k]).sum());
        for (group, own) in self.groups.iter_mut().zip(&told) {
            // In steps, so that what was held is found again as long as little has changed.
            let logs: [f64; 3] = std::array::from_fn(|k| (4.0 * (all[k] - own[k])).round() / 4.0);
            let top = logs.iter().copied().fold(0.0, f64::max);
            for ((_, weight), log) in group.setting.rates.iter_mut().zip(logs) {
                *weight = (*weight * (log - top).exp()).max(1e-6);
            }
            let sum: f64 = group.setting.rates.iter().map(|one| one.1).sum();
            for (_, weight) in &mut group.setting.rates {
                *weight /= sum;
            }
        }
    }

    fn group(&mut self, family: Option<usize>, rows: Vec<usize>, rates: [(f64, f64); 3]) {
        let analysis = self.analysis;
        let first = &analysis.rows[rows[0]];
        // Alone and without a window a number says nothing.
        let alone = rows.len() == 1;
        if alone && first.limits.is_none() && first.number().is_some() {
            return;
        }
        let tolerance =
            family.filter(|_| !alone).and_then(|at| analysis.profile.families.get(at)).map_or_else(
                || {
                    first.limits.map_or(ALONE, |limits| {
                        let (low, high) = limits.outer;
                        (0.5 * (high - low) / (0.5 * (high + low)).max(1e-9)).clamp(0.01, 2.0 * ALONE)
                    })
                },
                |family| family.tolerance_percent / 100.0,
            );
        let numbers: Vec<f64> =
            rows.iter().filter_map(|at| Some(analysis.rows[*at].number()?.value)).collect();
        let middle = first
            .limits
            .map(|limits| (limits.outer.0 * limits.outer.1).max(0.0).sqrt())
            .or_else(|| crate::verdict::stats::median(&numbers))
            .unwrap_or(0.0);
        let named: Vec<&CircuitId> =
            analysis.evidence.codes.iter().filter_map(|code| code.circuit.as_ref()).collect();
        let finest = rows
            .iter()
            .filter_map(|at| analysis.rows[*at].number())
            .map(|number| number.said)
            .fold(f64::INFINITY, f64::min);
        let members = rows
            .iter()
            .map(|at| {
                let row = &analysis.rows[*at];
                let number = row.number();
                Member {
                    seen: match &row.reduced.state {
                        State::Number(number) => Seen::Number(number.value),
                        State::OverRange { .. } => Seen::Open,
                        State::Wandering { why: Wander::Moved, .. } => Seen::Wanders(Wanders::Moved),
                        State::Wandering { .. } | State::NotTaken if row.reduced.cleaned > 0 => {
                            Seen::Wanders(Wanders::Cleaned)
                        }
                        State::Wandering { .. } | State::NotTaken if row.reduced.ids.len() > 2 => {
                            Seen::Wanders(Wanders::Often)
                        }
                        State::Wandering { .. } | State::NotTaken => Seen::Wanders(Wanders::Probed),
                    },
                    blur: number.map_or(Blur { step: 0.001, contact: 0.02, own: 0.0, count: 1.0 }, |one| {
                        blur(one, finest)
                    }),
                    slip: number
                        .filter(|_| row.reduced.ids.len() == 1)
                        .and_then(|number| slip(number, middle)),
                    odds: if named.contains(&&row.circuit.id) { 3.0 } else { 1.0 },
                    learned: observed::learned_score(analysis, row).and_then(|(score, expected, _)| {
                        let number = number?;
                        let apart = (number.value - expected).abs();
                        (score > 1e-9).then(|| (expected, apart / score))
                    }),
                }
            })
            .collect();
        let common = rows
            .iter()
            .filter_map(|at| analysis.rows[*at].number())
            .map(|number| (number.accuracy.half / number.shown.abs().max(1e-9), number))
            .min_by(|a, b| a.0.total_cmp(&b.0))
            .map_or((0.01, 0.0), |(_, number)| {
                let gain = number.accuracy.percent / 100.0 * number.accuracy.widened / 3f64.sqrt();
                let rest = number.shared * number.shared - (gain * number.shown).powi(2);
                (gain, rest.max(0.0).sqrt())
            });
        let windows = first.limits.map_or(Vec::new(), |_| self.windows(first, analysis.temperatures));
        let setting = Setting { tolerance, windows, common, rates, coarse: false };
        self.groups.push(Group { rows, members, setting });
    }

    /// The window at temperatures that are close enough together for its width.
    pub fn windows(&self, row: &Row<'a>, temperatures: (f64, f64)) -> Vec<(f64, f64)> {
        let wires = if self.station == Station::Harness {
            row.limits.map_or(0.0, |limits| limits.wires)
        } else {
            0.0
        };
        let at = |t: f64| window::at(row.circuit, t, wires);
        let (Some(first), Some(last)) = (at(temperatures.0), at(temperatures.1)) else { return Vec::new() };
        let width = (first.1 / first.0.max(1e-9)).ln().max(0.005) + 0.02;
        let apart = (last.0 / first.0.max(1e-12)).abs().ln().abs();
        let steps = ((2.0 * apart / width).ceil() as usize).clamp(1, 80);
        if temperatures.0 == temperatures.1 {
            return vec![first];
        }
        (0..=steps)
            .filter_map(|k| at(temperatures.0 + (temperatures.1 - temperatures.0) * k as f64 / steps as f64))
            .collect()
    }

    /// Works out a variant; `base` is taken for groups that it leaves alone.
    pub fn work(&self, variant: &Variant, base: Option<&Worked>, coarse: bool) -> Worked {
        let mut places = vec![None; self.analysis.rows.len()];
        let mut held = Vec::with_capacity(self.groups.len());
        let mut log = 0.0;
        for (g, group) in self.groups.iter().enumerate() {
            let touched = variant.celsius.is_some() && !group.setting.windows.is_empty()
                || group.rows.iter().any(|row| variant.effects.iter().any(|(at, _)| at == row));
            if !touched && let Some(base) = base {
                for (i, row) in group.rows.iter().enumerate() {
                    places[*row] = Some((g, i));
                }
                held.push(Rc::clone(&base.held[g]));
                log += base.held[g].log;
                continue;
            }
            let mut members = Vec::with_capacity(group.members.len());
            for (row, member) in group.rows.iter().zip(&group.members) {
                let mut member = *member;
                let mut keep = true;
                for (_, effect) in variant.effects.iter().filter(|(at, _)| at == row) {
                    match (*effect, member.seen) {
                        (Effect::Adds(ohms), Seen::Number(y)) => {
                            member.seen = Seen::Number(y - ohms);
                            member.slip = None;
                        }
                        (Effect::Times(factor), Seen::Number(y)) => {
                            member.seen = Seen::Number(y / factor);
                            member.blur.step /= factor;
                            member.blur.contact /= factor;
                            log -= factor.ln();
                        }
                        (Effect::Opens(p), Seen::Open) => {
                            log += p.ln();
                            keep = false;
                        }
                        (Effect::Opens(p), _) => log += (1.0 - p).max(1e-4).ln(),
                        (Effect::Of(other), _) => {
                            if let Some(of) = self.member(other) {
                                member.seen = of.seen;
                                member.blur = of.blur;
                                member.slip = None;
                            }
                        }
                        (Effect::Nothing, Seen::Number(y)) => {
                            let wide = group.setting.common.1.hypot(0.05).hypot(member.blur.contact);
                            log += super::density::rounded(y, wide, member.blur.step).max(1e-12).ln();
                            keep = false;
                        }
                        (Effect::Nothing, _) => log += 1e-4f64.ln(),
                        (Effect::Adds(_) | Effect::Times(_), _) => {}
                    }
                }
                if keep {
                    places[*row] = Some((g, members.len()));
                    members.push(member);
                }
            }
            let mut setting = group.setting.clone();
            setting.coarse = coarse;
            if let (Some(t), false) = (variant.celsius, setting.windows.is_empty()) {
                setting.windows = self.windows(&self.analysis.rows[group.rows[0]], (t, t));
            }
            let one = family::hold(&members, &setting);
            log += one.log;
            held.push(one);
        }
        let mut touched: Vec<usize> = variant.effects.iter().map(|(at, _)| *at).collect();
        if variant.celsius.is_some() {
            touched.extend(self.groups.iter().flat_map(|group| group.rows.iter().copied()));
        }
        Worked { log: log + structure::relations(self, variant), held, places, touched }
    }

    fn member(&self, row: usize) -> Option<&Member> {
        self.groups
            .iter()
            .find_map(|group| group.rows.iter().position(|at| *at == row).map(|at| &group.members[at]))
    }

    pub fn id(&self, row: usize) -> CircuitId {
        self.analysis.rows[row].circuit.id.clone()
    }

    /// What the groups' own faults amount to, as hypotheses that sum to 1.
    fn sets(&self, worked: &Worked) -> Vec<Weighed> {
        let mut all = vec![Weighed { hypothesis: Hypothesis::Nothing, probability: 1.0 }];
        for (g, group) in self.groups.iter().enumerate() {
            let held = &worked.held[g];
            let member = |row: usize| worked.places[row].filter(|place| place.0 == g).map(|place| place.1);
            let ids: Vec<(usize, CircuitId)> =
                group.rows.iter().filter_map(|row| Some((member(*row)?, self.id(*row)))).collect();
            if ids.is_empty() {
                continue;
            }
            let all_ids: Vec<CircuitId> = ids.iter().map(|(_, id)| id.clone()).collect();
            let mut part: Vec<Weighed> = Vec::new();
            let mut left = 1.0;
            let mut say = |hypothesis: Hypothesis, probability: f64, left: &mut f64| {
                let probability = probability.clamp(0.0, left.max(0.0));
                *left -= probability;
                if probability > 0.0 {
                    push(&mut part, hypothesis, probability);
                }
            };
            let named: Vec<usize> = (0..held.off.len()).filter(|i| held.off[*i] > 0.5).collect();
            let name = |i: &usize| ids.iter().find(|(at, _)| at == i).map(|(_, id)| id.clone());
            let of = |i: usize, circuits: Vec<CircuitId>| {
                if held.slip[i] > 0.5 * held.off[i] {
                    Hypothesis::Slip { circuits }
                } else {
                    Hypothesis::Faulty { circuits }
                }
            };
            if disagree(group, held) {
                say(Hypothesis::Nothing, held.none, &mut left);
                say(Hypothesis::Disagree { circuits: all_ids }, left, &mut left);
            } else {
                // One alone that reads next to nothing has no wrong window: it is shorted.
                let shorted = match (group.members.as_slice(), group.setting.windows.as_slice()) {
                    ([one], [first, ..]) => matches!(one.seen, Seen::Number(y) if y < 0.3 * first.0),
                    _ => false,
                };
                let off_alike = if shorted {
                    Hypothesis::Faulty { circuits: all_ids.clone() }
                } else {
                    Hypothesis::FamilyOff { circuits: all_ids.clone() }
                };
                say(off_alike, held.family_off, &mut left);
                let sound = if named.is_empty() { held.calm.max(held.none) } else { held.none };
                let nothing = (sound - held.family_off).max(0.0);
                if named.is_empty() {
                    say(Hypothesis::Nothing, nothing, &mut left);
                } else {
                    let slips: Vec<CircuitId> = named
                        .iter()
                        .filter(|i| held.slip[**i] > 0.5 * held.off[**i])
                        .filter_map(name)
                        .collect();
                    let faulty: Vec<CircuitId> = named
                        .iter()
                        .filter(|i| held.slip[**i] <= 0.5 * held.off[**i])
                        .filter_map(name)
                        .collect();
                    let mut set = Hypothesis::Nothing;
                    if !faulty.is_empty() {
                        set = Hypothesis::Faulty { circuits: faulty };
                    }
                    if !slips.is_empty() {
                        set = both(&set, &Hypothesis::Slip { circuits: slips });
                    }
                    say(set, held.exact, &mut left);
                    say(Hypothesis::Nothing, nothing, &mut left);
                }
                let mut singles: Vec<usize> = (0..held.off.len()).collect();
                singles.sort_by(|a, b| held.alone[*b].total_cmp(&held.alone[*a]));
                for i in singles {
                    if named == [i] || held.alone[i] < LEAST {
                        continue;
                    }
                    if let Some(id) = name(&i) {
                        say(of(i, vec![id]), held.alone[i].min(0.98 * left), &mut left);
                    }
                }
            }
            if left > 0.0 {
                push(&mut part, Hypothesis::Other, left);
            }
            all = super::product(&all, &part);
        }
        all
    }
}

/// Without a window more than half must be sound, else nothing says who is right.
fn disagree(group: &Group, held: &Held) -> bool {
    let numbers = group.members.iter().filter(|m| matches!(m.seen, Seen::Number(_))).count();
    let off = group
        .members
        .iter()
        .zip(&held.off)
        .filter(|(m, off)| matches!(m.seen, Seen::Number(_)) && **off > 0.35)
        .count();
    group.setting.windows.is_empty() && numbers >= 2 && off > 0 && 2 * (numbers - off) <= numbers
}

/// Whether a row is weighed here.
fn enters(analysis: &Analysis<'_>, row: &Row<'_>) -> bool {
    match &row.reduced.state {
        State::NotTaken => false,
        State::OverRange { beyond: Some(range), .. } if says_nothing(row, *range) => false,
        // Through the harness against the part itself: that is weighed as a difference.
        State::Number(_) if row.station == Station::Harness => {
            analysis.row(row.circuit, Station::Component).is_none_or(|part| part.number().is_none())
        }
        State::OverRange { .. } if row.station == Station::Harness => {
            analysis.row(row.circuit, Station::Component).is_none_or(|part| part.number().is_none())
        }
        State::Number(_) => !(row.circuit.kind == CircuitKind::Wire && row.limits.is_none()),
        _ => true,
    }
}

/// Weighs a station and fills its rows.
pub(super) fn weigh(analysis: &Analysis<'_>, station: Station, rows: &mut [RowHeld]) -> Vec<Weighed> {
    let plane = Plane::new(analysis, station);
    if plane.groups.is_empty()
        && (station != Station::Component || analysis.evidence.further.relations.is_empty())
    {
        return vec![Weighed { hypothesis: Hypothesis::Nothing, probability: 1.0 }];
    }
    let mut worked: Vec<(Hypothesis, f64, Rc<Worked>, f64)> = Vec::new();
    let base_variants = structure::base(&plane);
    let mut base_prior = 1.0;
    for variant in &base_variants {
        let one = plane.work(variant, None, false);
        worked.push((Hypothesis::Nothing, variant.weight.ln() + one.log, Rc::new(one), 0.0));
    }
    let best = worked.iter().enumerate().max_by(|a, b| a.1.1.total_cmp(&b.1.1)).map_or(0, |(at, _)| at);
    let base_log = worked[best].1;
    let shift = base_variants[best].clone();
    let likeliest = Rc::clone(&worked[best].2);
    let hypotheses = structure::candidates(&plane, &worked[best].2, &shift);
    for shared in hypotheses {
        base_prior -= shared.prior;
        search(&plane, shared, &likeliest, base_log, &mut worked);
    }
    for one in &mut worked {
        if one.0 == Hypothesis::Nothing {
            one.1 += f64::max(base_prior, 0.2).ln();
        }
    }
    let top = worked.iter().map(|one| one.1).fold(f64::NEG_INFINITY, f64::max);
    let sum: f64 = worked.iter().map(|one| (one.1 - top).exp()).sum();
    let mut all: Vec<Weighed> = Vec::new();
    let mut figures: Vec<(Hypothesis, f64, f64)> = Vec::new();
    let mut members: Vec<usize> = plane.groups.iter().flat_map(|group| group.rows.iter().copied()).collect();
    members.sort_unstable();
    for row in &members {
        rows[*row].off = Some(0.0);
    }
    for (hypothesis, log, one, figure) in &worked {
        let weight = (log - top).exp() / sum;
        if weight < 1e-9 {
            continue;
        }
        for row in &members {
            let own = one.places[*row].map_or(0.0, |(g, i)| {
                one.held[g].off[i].max(if plane.groups[g].rows.len() == 1 {
                    one.held[g].family_off
                } else {
                    0.0
                })
            });
            let held = &mut rows[*row];
            held.own += weight * own;
            let touched = one.touched.contains(row) && *hypothesis != Hypothesis::Nothing;
            let off = if touched { 1.0 } else { own };
            held.off = held.off.map(|sum| sum + weight * off);
        }
        for set in plane.sets(one) {
            push(&mut all, both(hypothesis, &set.hypothesis), weight * set.probability);
        }
        match figures.iter_mut().find(|known| known.0 == *hypothesis) {
            Some(known) => {
                known.1 += weight;
                known.2 += weight * figure;
            }
            None => figures.push((hypothesis.clone(), weight, weight * figure)),
        }
    }
    for (g, group) in plane.groups.iter().enumerate() {
        let held = &worked[best].2.held[g];
        let undecided = disagree(group, held);
        for (i, row) in group.rows.iter().enumerate() {
            let member = &group.members[i];
            let out = &mut rows[*row];
            out.off = out.off.map(|off| off.clamp(0.0, 1.0));
            out.undecided = undecided && matches!(member.seen, Seen::Number(_));
            if held.place > 0.0 && (group.members.len() > 1 || !group.setting.windows.is_empty()) {
                let numbers = group.members.iter().filter(|m| matches!(m.seen, Seen::Number(_))).count();
                if numbers > 0 {
                    let spread = (held.spread * held.place).hypot(held.place_spread);
                    out.expected = Some((held.place + member.blur.contact, spread));
                }
            }
            if matches!(member.seen, Seen::Number(_)) {
                let smallest = smallest(&plane, group, held, i);
                out.smallest = smallest;
                let one_sided = family::one_sided(&group.setting);
                out.judged = !undecided
                    && (group.members.len() > 1 || !group.setting.windows.is_empty())
                    && (smallest.is_some() || one_sided);
            } else {
                out.judged = true;
            }
        }
    }
    for one in &mut all {
        structure::put_figure(&mut one.hypothesis, &figures);
    }
    all
}

/// Variants whose logarithm is so far below the base's are let go.
const FAR_BELOW: f64 = 18.0;
/// Of many variants every so manieth is looked at first.
const STRIDE: usize = 5;
/// Neighbours are looked at where a variant is no further below the best of its kind.
const NEAR: f64 = 7.0;

/// Works out the variants of a hypothesis that could matter: some of them and those that the readings suggest, then their
/// neighbours as long as these are likely.
fn search(
    plane: &Plane<'_, '_>,
    shared: Shared,
    base: &Rc<Worked>,
    base_log: f64,
    into: &mut Vec<(Hypothesis, f64, Rc<Worked>, f64)>,
) {
    let count = shared.variants.len();
    let weight = |at: usize| (shared.prior * shared.variants[at].weight).max(1e-30).ln();
    let mut known: Vec<Option<(f64, Worked)>> = (0..count).map(|_| None).collect();
    let look = |at: usize, known: &mut Vec<Option<(f64, Worked)>>| -> bool {
        if known[at].is_some() {
            return false;
        }
        let one = plane.work(&shared.variants[at], Some(base), true);
        known[at] = Some((weight(at) + one.log, one));
        true
    };
    if count <= 2 * STRIDE {
        for at in 0..count {
            look(at, &mut known);
        }
    } else {
        for at in (STRIDE / 2..count).step_by(STRIDE) {
            look(at, &mut known);
        }
        for hint in &shared.hints {
            let apart = |at: &usize| (shared.variants[*at].figure - hint).abs();
            if let Some(at) = (0..count).min_by(|a, b| apart(a).total_cmp(&apart(b))) {
                look(at, &mut known);
            }
        }
        loop {
            let top = known.iter().flatten().map(|one| one.0).fold(f64::NEG_INFINITY, f64::max);
            if top < base_log - FAR_BELOW {
                break;
            }
            let wanted: Vec<usize> = (0..count)
                .filter(|at| known[*at].as_ref().is_some_and(|one| one.0 > top - NEAR))
                .flat_map(|at| [at.wrapping_sub(1), at + 1])
                .filter(|at| *at < count)
                .collect();
            let mut more = false;
            for at in wanted {
                more |= look(at, &mut known);
            }
            if !more {
                break;
            }
        }
    }
    for (at, one) in known.into_iter().enumerate() {
        let Some((log, one)) = one else { continue };
        if log > base_log - FAR_BELOW || one.log > base.log {
            into.push((shared.hypothesis.clone(), log, Rc::new(one), shared.variants[at].figure));
        }
    }
}

/// The smallest deviation of this member that would have shown.
fn smallest(plane: &Plane<'_, '_>, group: &Group, held: &Held, at: usize) -> Option<f64> {
    let numbers = group.members.iter().filter(|m| matches!(m.seen, Seen::Number(_))).count();
    if numbers > 1 && !family::one_sided(&group.setting) {
        return Some(family::smallest_seen(held, &group.setting, &group.members[at].blur));
    }
    // As a share of nothing it would say nothing.
    if family::one_sided(&group.setting) {
        return None;
    }
    // Against a window alone: to its farther end, and what the meter cannot tell.
    let row = &plane.analysis.rows[group.rows[at]];
    let (number, limits) = (row.number()?, row.limits?);
    let (low, high) = limits.outer;
    let middle = 0.5 * (low + high);
    Some(((high - low) + number.expanded()) / middle.max(1e-9))
}
