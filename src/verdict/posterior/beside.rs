//! Owns what is weighed beside the readings of a station: the wires by the difference of both ends, the readings to case,
//! loads and drops, stored codes, and what cleaning cured.

use super::{Hypothesis, RowHeld, Weighed, density::rounded, network::Network, priors::*, push};
use crate::verdict::{
    Station,
    analysis::{Analysis, Row, says_nothing},
    observed,
    single::State,
    wires as tables,
};

/// The loop of wires that is taken where the profile gives none, in ohms (judgement).
const UNKNOWN_LOOP: f64 = 0.4;
/// Added resistance of a bad wire or terminal: from, to, in ohms, evenly in its logarithm.
const ADDED: (f64, f64) = (0.05, 1000.0);

fn log_uniform(x: f64, u: f64) -> f64 {
    let low = ADDED.0.max(u);
    if x <= low { 0.02 } else { 1.0 / (x * (ADDED.1 / ADDED.0).ln()) }
}

/// What the harness adds between its ends.
pub(super) fn wires(analysis: &Analysis<'_>, rows: &mut [RowHeld]) -> Option<Vec<Weighed>> {
    struct One {
        at: usize,
        /// Difference and its uncertainty; none: open through the harness.
        apart: Option<(f64, f64)>,
        most: f64,
        against: crate::profile::PinName,
        part_off: f64,
    }
    let mut all: Vec<One> = Vec::new();
    for (at, row) in analysis.rows.iter().enumerate().filter(|(_, row)| row.station == Station::Harness) {
        let Some((place, part)) = analysis.rows.iter().enumerate().find(|(_, part)| {
            part.circuit.id == row.circuit.id && part.station == Station::Component && part.number().is_some()
        }) else {
            continue;
        };
        let Some(number) = part.number() else { continue };
        let most = row.circuit.harness.as_ref().map_or(UNKNOWN_LOOP, |harness| {
            tables::loop_at_most(harness.conductor_mm2, harness.length_m, analysis.temperatures.1)
        });
        let apart = match &row.reduced.state {
            State::Number(other) => {
                let u = number.random.hypot(other.random).hypot(0.004 * number.value).max(0.01);
                Some((other.value - number.value, u))
            }
            State::OverRange { .. } => None,
            _ => continue,
        };
        let part_off = rows[place].off.unwrap_or(0.0);
        all.push(One { at, apart, most, against: row.circuit.against.clone(), part_off });
    }
    if all.is_empty() {
        return None;
    }
    let sound = |one: &One, added: f64| match one.apart {
        None => SOUND_OPEN,
        // Anything between nothing and the loop is sound.
        Some((apart, u)) => {
            let x = apart - added;
            let width = one.most.max(1e-3);
            (crate::verdict::stats::normal_between((x - width) / u, x / u) / width).max(1e-9)
        }
    };
    let off = |one: &One| match one.apart {
        None => 0.4,
        Some((apart, u)) if apart < -3.0 * u => 0.1 / apart.abs().max(u),
        Some((apart, u)) => 0.6 * log_uniform(apart - 0.5 * one.most, u),
    };
    let each: Vec<f64> =
        all.iter().map(|one| WIRE * off(one) / (WIRE * off(one) + (1.0 - WIRE) * sound(one, 0.0))).collect();
    let separate: f64 = all.iter().map(|one| (WIRE * off(one) + (1.0 - WIRE) * sound(one, 0.0)).ln()).sum();
    // A wire that all of one return share adds the same to each.
    let same_return = all.iter().all(|one| one.against == all[0].against);
    let (mut shared, mut figure) = (0.0, 0.0);
    if all.len() > 1 && same_return && all.iter().all(|one| one.apart.is_some()) {
        let steps = 60;
        for k in 0..steps {
            let ohms = 0.1 * (20.0f64 / 0.1).powf((f64::from(k) + 0.5) / f64::from(steps));
            let log: f64 =
                all.iter().map(|one| (WIRE * off(one) + (1.0 - WIRE) * sound(one, ohms)).ln()).sum();
            let w = WIRE_SHARED / (1.0 - WIRE_SHARED) / f64::from(steps) * (log - separate).exp();
            shared += w;
            figure += w * ohms;
        }
    } else if all.len() > 1 && same_return && all.iter().all(|one| one.apart.is_none()) {
        shared = WIRE_SHARED * (-separate).exp();
        figure = 0.0;
    }
    let p_shared = shared / (1.0 + shared);
    let ids = |pick: &dyn Fn(usize) -> bool| {
        (0..all.len())
            .filter(|i| pick(*i))
            .map(|i| analysis.rows[all[i].at].circuit.id.clone())
            .collect::<Vec<_>>()
    };
    let mut part = Vec::new();
    if p_shared > 1e-6 {
        push(
            &mut part,
            Hypothesis::WireShared { circuits: ids(&|_| true), ohms: figure / shared.max(1e-30) },
            p_shared,
        );
    }
    let left = 1.0 - p_shared;
    let none: f64 = each.iter().map(|p| 1.0 - p).product();
    push(&mut part, Hypothesis::Nothing, left * none);
    if each.iter().any(|p| *p > 0.5) {
        let exact: f64 = each.iter().map(|p| if *p > 0.5 { *p } else { 1.0 - p }).product();
        push(&mut part, Hypothesis::Wire { circuits: ids(&|i| each[i] > 0.5) }, left * exact);
        push(&mut part, Hypothesis::Other, (left * (1.0 - none - exact)).max(0.0));
    } else {
        let mut rest = left * (1.0 - none);
        for (i, p) in each.iter().enumerate() {
            let alone = (left * none * p / (1.0 - p).max(1e-12)).min(rest);
            rest -= alone;
            push(&mut part, Hypothesis::Wire { circuits: ids(&|j| j == i) }, alone);
        }
        push(&mut part, Hypothesis::Other, rest.max(0.0));
    }
    for (one, p) in all.iter().zip(&each) {
        let wire = p_shared + left * p;
        let held = &mut rows[one.at];
        held.off = Some(1.0 - (1.0 - wire) * (1.0 - one.part_off));
        held.own = left * p;
        held.judged = true;
        held.smallest = one.apart.map(|(_, u)| {
            let number = analysis.rows[one.at].number().map_or(1.0, |number| number.value.max(1e-6));
            (one.most + 3.0 * u) / number
        });
        held.undecided = false;
    }
    Some(part)
}

/// Readings to case: who leaks, and who only reads it through a pin that both share.
pub(super) fn case(analysis: &Analysis<'_>, rows: &mut [RowHeld]) -> Option<Vec<Weighed>> {
    let seen: Vec<(usize, &Row<'_>, f64, Option<f64>)> = analysis
        .rows
        .iter()
        .enumerate()
        .filter(|(_, row)| row.station == Station::Case)
        .filter_map(|(at, row)| {
            let limit = row.circuit.case_limit.map_or(CASE_ASSUMED, crate::quantity::Ohms::get);
            let assumed = row.circuit.case_limit.is_none();
            match &row.reduced.state {
                State::Number(number) if assumed && number.value >= limit => None,
                State::OverRange { .. } if assumed => None,
                State::Number(number) => Some((at, row, limit, Some(number.value))),
                State::OverRange { beyond, .. } if beyond.is_none_or(|range| !says_nothing(row, range)) => {
                    Some((at, row, limit, None))
                }
                _ => None,
            }
        })
        .collect();
    if seen.is_empty() {
        return None;
    }
    // What each circuit has itself: read at the part, else what is expected of it.
    let ohms = |row: &Row<'_>| {
        let part = analysis.row(row.circuit, Station::Component);
        part.and_then(|part| part.number().map(|number| number.value))
            .or_else(|| observed::expected(analysis, row.circuit))
    };
    let leaks_alone = |value: f64, limit: f64| {
        if value < limit { 1.0 / (value.abs().max(0.05) * (limit / 0.05).ln().max(1.0)) } else { 0.0 }
    };
    // The case is a node, and so is the joint of each return.
    const CASE: usize = usize::MAX;
    let joints: Vec<&crate::profile::PinName> = {
        let mut all: Vec<&crate::profile::PinName> = Vec::new();
        for (_, row, _, _) in &seen {
            if !all.contains(&&row.circuit.against) {
                all.push(&row.circuit.against);
            }
        }
        all
    };
    let joint =
        |row: &Row<'_>| 10_000 + joints.iter().position(|pin| **pin == row.circuit.against).unwrap_or(0);
    let likelihood = |leak: Option<(usize, f64)>| -> f64 {
        let mut network = Network::default();
        if let Some((node, r)) = leak {
            network.edges.push((node, CASE, r.max(0.0)));
            for (i, (_, row, _, _)) in seen.iter().enumerate() {
                if let Some(ohms) = ohms(row) {
                    network.edges.push((i, joint(row), ohms.max(0.0)));
                }
            }
        }
        seen.iter()
            .enumerate()
            .map(|(i, (_, _, limit, value))| {
                let through = leak.and_then(|_| network.between(i, CASE)).filter(|ohms| ohms < limit);
                let own = |value: f64| 0.01 * leaks_alone(value, *limit);
                match (value, through) {
                    (None, None) => 0.99,
                    (None, Some(_)) => 1e-4,
                    (Some(value), None) if value >= limit => 0.99,
                    (Some(value), None) => own(*value).max(1e-12),
                    (Some(value), Some(ohms)) => {
                        let u = (0.06 * ohms).hypot(0.15);
                        0.95 * rounded(value - ohms, u, 0.0) + own(*value)
                    }
                }
                .max(1e-12)
                .ln()
            })
            .sum()
    };
    let mut weighed: Vec<(Hypothesis, f64)> = Vec::new();
    let low: Vec<usize> = (0..seen.len()).filter(|i| seen[*i].3.is_some_and(|v| v < seen[*i].2)).collect();
    let id = |i: usize| seen[i].1.circuit.id.clone();
    if low.is_empty() {
        for (at, _, _, _) in &seen {
            rows[*at] = RowHeld { off: Some(0.01), judged: true, ..RowHeld::NONE };
        }
        return Some(vec![Weighed { hypothesis: Hypothesis::Nothing, probability: 1.0 }]);
    }
    let n = seen.len() as f64;
    for i in &low {
        let value = seen[*i].3.unwrap_or(0.0);
        let log = (TO_CASE[0] / n * leaks_alone(value, seen[*i].2)).max(1e-30).ln()
            + likelihood(Some((*i, value)))
            // Its own reading fits by construction: its density was counted as the leak's.
            - (0.95 * rounded(0.0, (0.06 * value).hypot(0.15), 0.0)).ln();
        weighed.push((Hypothesis::ToCase { circuits: vec![id(*i)], pin: None }, log));
    }
    for (j, pin) in joints.iter().enumerate() {
        let on: Vec<usize> = low.iter().copied().filter(|i| seen[*i].1.circuit.against == **pin).collect();
        if on.len() < 2 {
            continue;
        }
        let mut apart: Vec<f64> = on.iter().filter_map(|i| Some(seen[*i].3? - ohms(seen[*i].1)?)).collect();
        apart.sort_by(f64::total_cmp);
        let Some(r) = apart.get(apart.len() / 2).copied().filter(|r| *r > -0.5) else { continue };
        let r = r.max(0.05);
        let log =
            (TO_CASE[1] / (r * 20f64.ln())).ln() + likelihood(Some((10_000 + j, r))) + (0.15 * 2.5f64).ln();
        weighed.push((
            Hypothesis::ToCase { circuits: on.iter().map(|i| id(*i)).collect(), pin: Some((*pin).clone()) },
            log,
        ));
    }
    if low.len() > 1 {
        let log = TO_CASE[2].ln() + likelihood(None) - low.len() as f64 * 0.01f64.ln()
            + (0.1f64).ln() * (low.len() as f64 - 1.0);
        weighed.push((Hypothesis::ToCase { circuits: low.iter().map(|i| id(*i)).collect(), pin: None }, log));
    }
    let top = weighed.iter().map(|one| one.1).fold(f64::NEG_INFINITY, f64::max);
    let sum: f64 = weighed.iter().map(|one| (one.1 - top).exp()).sum();
    let mut part = Vec::new();
    for (i, (at, _, _, value)) in seen.iter().enumerate() {
        let own: f64 = weighed
            .iter()
            .filter(|(hypothesis, _)| {
                matches!(hypothesis, Hypothesis::ToCase { circuits, .. } if circuits.contains(&id(i)))
            })
            .map(|one| (one.1 - top).exp() / sum)
            .sum();
        let off = if value.is_some() && low.contains(&i) { Some(own) } else { Some(0.01) };
        rows[*at] = RowHeld { off, own, judged: true, ..RowHeld::NONE };
    }
    for (hypothesis, log) in weighed {
        push(&mut part, hypothesis, (log - top).exp() / sum);
    }
    Some(part)
}

/// Loads and drops: a wire that loses too much.
pub(super) fn loads(analysis: &Analysis<'_>) -> Option<Vec<Weighed>> {
    let stands = lost(analysis);
    if stands.is_empty() {
        return None;
    }
    let mut circuits: Vec<(Option<crate::profile::CircuitId>, f64)> = Vec::new();
    for (circuit, lost, expanded, limit) in stands {
        // How the loss stands to its limit, in standard uncertainties; never surer than a clamp that slipped allows.
        let z = (lost - limit) / (0.5 * expanded).max(0.02 * limit);
        let passed = crate::verdict::stats::normal_below(-z);
        let bad = 0.97 * (1.0 - passed) + 0.03;
        let good = (0.998 * passed + 0.002).max(if z < 8.0 { 0.01 } else { 0.002 });
        let ratio = bad / good;
        match circuits.iter_mut().find(|known| known.0 == circuit) {
            Some(known) => known.1 *= ratio,
            None => circuits.push((circuit, ratio)),
        }
    }
    let each: Vec<f64> = circuits
        .iter()
        .map(|(_, ratio)| {
            let odds = WIRE / (1.0 - WIRE) * ratio;
            odds / (1.0 + odds)
        })
        .collect();
    let mut part = Vec::new();
    let none: f64 = each.iter().map(|p| 1.0 - p).product();
    let named: Vec<bool> = each.iter().map(|p| *p > 0.5).collect();
    push(&mut part, Hypothesis::Nothing, none);
    if named.contains(&true) {
        let exact: f64 = each.iter().map(|p| if *p > 0.5 { *p } else { 1.0 - p }).product();
        let ids =
            circuits.iter().zip(&named).filter(|(_, named)| **named).filter_map(|(one, _)| one.0.clone());
        push(&mut part, Hypothesis::Load { circuits: ids.collect() }, exact);
        push(&mut part, Hypothesis::Other, (1.0 - none - exact).max(0.0));
    } else {
        push(&mut part, Hypothesis::Other, (1.0 - none).max(0.0));
    }
    Some(part)
}

/// A stored code that names a circuit which reads sound speaks for something elsewhere.
pub(super) fn codes(analysis: &Analysis<'_>, rows: &[RowHeld], all: &mut Vec<Weighed>) {
    let mut circuits = Vec::new();
    let mut harness = false;
    for id in analysis.evidence.codes.iter().filter_map(|code| code.circuit.as_ref()) {
        let read = analysis
            .rows
            .iter()
            .zip(rows)
            .filter(|(row, held)| row.circuit.id == *id && held.off.is_some())
            .collect::<Vec<_>>();
        let cured = read.iter().any(|(row, _)| row.reduced.cleaning_changed);
        if !read.is_empty() && !cured && read.iter().all(|(_, held)| held.off.unwrap_or(0.0) < 0.5) {
            harness |= read.iter().any(|(row, _)| row.station == Station::Harness);
            if !circuits.contains(id) {
                circuits.push(id.clone());
            }
        }
    }
    if circuits.is_empty() {
        return;
    }
    // Of what would be "nothing", the code leaves so much (judgement: codes are seldom set by nothing).
    if let Some(at) = all.iter().position(|one| one.hypothesis == Hypothesis::Nothing) {
        let p = all[at].probability;
        all[at].probability = 0.06 * p;
        push(all, Hypothesis::Elsewhere { circuits }, 0.94 * p);
        let _ = harness;
    }
}

/// What read off, was cleaned and reads sound: the contact was it.
pub(super) fn cured(analysis: &Analysis<'_>, rows: &[RowHeld], all: &mut Vec<Weighed>) {
    let mut circuits = Vec::new();
    for (row, held) in analysis.rows.iter().zip(rows) {
        if row.reduced.cured && held.off.is_some_and(|off| off < 0.5) && row.station != Station::Case {
            circuits.push(row.circuit.id.clone());
        }
    }
    if circuits.is_empty() {
        return;
    }
    for one in all.iter_mut() {
        match &one.hypothesis {
            Hypothesis::Nothing | Hypothesis::Elsewhere { .. } => {
                one.hypothesis = Hypothesis::Cured { circuits: circuits.clone() };
            }
            _ => {}
        }
    }
    let mut merged = Vec::new();
    for one in all.drain(..) {
        push(&mut merged, one.hypothesis, one.probability);
    }
    *all = merged;
}

/// Losses under load with their expanded uncertainty and limit, and the circuit that they are about.
fn lost(analysis: &Analysis<'_>) -> Vec<(Option<crate::profile::CircuitId>, f64, f64, f64)> {
    use crate::quantity::Reading;
    use crate::verdict::{DROP_AT_A_JOINT, DROP_OF_A_WIRE, meter};
    let further = &analysis.evidence.further;
    let mut all = Vec::new();
    for load in &further.loads {
        let known = analysis.profile.circuit(&load.circuit).and_then(|one| one.drop_limits.wire.as_ref());
        let limit = load
            .limit
            .map(crate::quantity::Volts::get)
            .or(known.map(|known| known.volts.get()))
            .unwrap_or(DROP_OF_A_WIRE);
        // Two readings to 0.01 V, half a per cent each.
        let (supply, at_load) = (load.supply.get(), load.at_load.get());
        let expanded = 2.0 * (0.005 * (supply - at_load)).hypot(0.02);
        all.push((Some(load.circuit.clone()), supply - at_load, expanded, limit));
    }
    for drop in &further.drops {
        let circuit = drop.circuit.as_ref().and_then(|id| analysis.profile.circuit(id));
        let limits = circuit.map_or(&analysis.profile.drop_limits, |circuit| &circuit.drop_limits);
        let limit = drop
            .limit
            .map(crate::quantity::Volts::get)
            .or(limits.joint.as_ref().map(|known| known.volts.get()))
            .unwrap_or(DROP_AT_A_JOINT);
        if let Reading::Value(shown) = &drop.reading {
            let accuracy = meter::accuracy(analysis.meter, shown, analysis.evidence.meter_temperature);
            let expanded = 2.0 * (accuracy.half / 3f64.sqrt()).hypot(accuracy.step / 12f64.sqrt());
            all.push((drop.circuit.clone(), shown.value().abs(), expanded, limit));
        }
    }
    all
}
