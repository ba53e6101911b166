//! Owns the course of a trial: parts are simulated, judged by everyone, and counted.
//!
//! Everyone gets ONE threshold for all worlds of a run: the smallest at which nobody's sound parts are accused more often than
//! [`WORST_FALSE_ALARMS`] in any of them. Beside it each rival is shown with a threshold of its own in every world, at the same
//! share of false alarms there: the limit, which nobody has in a workshop.

use super::{
    random::Random,
    rivals::Rival,
    stage,
    structures::{self, SIZE, Structure},
    worlds::{FAULTS, Fault, WORLDS, World, simulate},
};
use crate::verdict::{Cause, Judgement, classes, judge};
use serde::Serialize;

/// The share of sound parts accused in the worst world, for everybody.
pub const WORST_FALSE_ALARMS: f64 = 0.03;
/// Sound parts for each faulty part of a cell: thresholds hang on the rare ones among them.
const SOUND: usize = 6;
/// Everyone who is compared: the engine first, then [`Rival::ALL`].
pub const JUDGES: usize = 1 + Rival::ALL.len();
/// From here the engine is taken to say "probably", and "failed".
pub const LEVELS: [f64; 2] = [0.70, 0.95];

/// What a trial found.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Results {
    /// The seed.
    pub seed: u64,
    /// Faulty parts in each cell; there are six times as many sound ones in each world.
    pub parts_per_cell: usize,
    /// How many parts were judged in all.
    pub parts: usize,
    /// Whether the worlds held apart are in it.
    pub held: bool,
    /// The one threshold of the engine and of each rival.
    pub thresholds: [f64; JUDGES],
    /// Sound parts: worlds with what was said of them.
    pub sound: Vec<SoundRow>,
    /// Faulty parts.
    pub cells: Vec<Cell>,
    /// Cells where a rival with its one threshold names the right set more often, beyond chance.
    pub lost: Vec<Lost>,
    /// The same for alarms.
    pub lost_alarms: Vec<Lost>,
    /// Parts whose fault lies in the structure.
    pub structures: Vec<StructureRow>,
    /// Stated against true.
    pub reliability: Vec<Reliability>,
}

/// Sound parts of a world.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct SoundRow {
    /// The world.
    pub world: &'static str,
    /// Held apart.
    pub held: bool,
    /// Share with an alarm at the one threshold, for everyone.
    pub alarms: [f64; JUDGES],
    /// Share where the engine gives a circuit at least each of [`LEVELS`].
    pub levels: [f64; 2],
}

/// Faulty parts of a world.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Cell {
    /// The world.
    pub world: &'static str,
    /// Held apart.
    pub held: bool,
    /// What is wrong with them.
    pub fault: Fault,
    /// By how much, as a fraction.
    pub size: f64,
    /// Share with an alarm, and with exactly the faulty ones named: one threshold for all worlds.
    pub one: [(f64, f64); JUDGES],
    /// The same with a threshold of its own in each world.
    pub own: [(f64, f64); JUDGES],
    /// Of the parts where the engine gives a circuit 0.95 or more: share where all such are faulty, and their count.
    pub failed_right: (f64, usize),
}

/// A cell that is lost.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Lost {
    /// The world.
    pub world: &'static str,
    /// The fault.
    pub fault: Fault,
    /// Its size.
    pub size: f64,
    /// The engine's share.
    pub engine: f64,
    /// To whom.
    pub rival: Rival,
    /// Its share.
    pub rivals: f64,
}

/// Parts whose fault lies in the structure.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct StructureRow {
    /// What is wrong.
    pub structure: Structure,
    /// Held apart.
    pub held: bool,
    /// Parts.
    pub parts: usize,
    /// Share where the leading cause is the right one.
    pub right: f64,
    /// Share where a circuit that has nothing to do with it is blamed: the part leads and names it.
    pub blamed: f64,
    /// Share where "nothing found" leads.
    pub nothing: f64,
    /// How sure the leading cause is in the mean.
    pub stated: f64,
}

/// Stated against true.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Reliability {
    /// What was stated: "circuit faulty" or "nothing found".
    pub what: &'static str,
    /// Share of parts that had a fault.
    pub fault_rate: f64,
    /// Worlds held apart.
    pub held: bool,
    /// Bin, from.
    pub from: f64,
    /// To.
    pub to: f64,
    /// How many.
    pub count: usize,
    /// Mean of what was stated.
    pub stated: f64,
    /// Share that was so.
    pub right: f64,
}

/// Scores of all circuits by everyone, and which are faulty.
struct Scored {
    scores: [Vec<f64>; JUDGES],
    faulty: Vec<bool>,
}

impl Scored {
    fn most(&self, who: usize) -> f64 {
        self.scores[who].iter().copied().fold(f64::MIN, f64::max)
    }

    /// Whether there is an alarm, and whether exactly the faulty ones are named.
    fn at(&self, who: usize, threshold: f64) -> (bool, bool) {
        let named = self.scores[who].iter().map(|score| *score > threshold);
        (self.most(who) > threshold, named.eq(self.faulty.iter().copied()))
    }
}

struct Bench {
    world: World,
    profile: crate::profile::Profile,
    meter: crate::profile::Meter,
}

impl Bench {
    fn new(world: World) -> Self {
        Self { world, profile: stage::profile(world.size, world.window, false), meter: stage::meter(world) }
    }

    fn score(&self, random: &mut Random, fault: Option<(Fault, f64)>) -> Scored {
        let part = simulate(random, self.world, fault);
        let evidence = stage::evidence(self.world, &part, &self.profile);
        let engine = classes(&self.profile, Some(&self.meter), &evidence)
            .expect("what a meter shows can be judged")
            .iter()
            .map(|classed| classed.fault_probability.unwrap_or(0.0))
            .collect();
        let mut scores: [Vec<f64>; JUDGES] = Default::default();
        scores[0] = engine;
        for (place, rival) in Rival::ALL.iter().enumerate() {
            let none = *rival == Rival::Window && !self.world.window;
            scores[place + 1] = if none { vec![f64::MIN; part.shown.len()] } else { rival.scores(&part) };
        }
        Scored { scores, faulty: part.faulty }
    }
}

fn share<'a>(of: impl IntoIterator<Item = &'a Scored>, is: impl Fn(&Scored) -> bool) -> f64 {
    let (mut count, mut all) = (0usize, 0usize);
    for one in of {
        all += 1;
        count += usize::from(is(one));
    }
    count as f64 / all.max(1) as f64
}

/// The threshold above which that share of parts lies.
fn quantile(parts: &[Scored], who: usize) -> f64 {
    let mut most: Vec<f64> = parts.iter().map(|one| one.most(who)).collect();
    most.sort_by(|a, b| b.total_cmp(a));
    most[((WORST_FALSE_ALARMS * most.len() as f64) as usize).min(most.len() - 1)]
}

/// Runs a trial. `parts`: faulty parts in each cell. `held`: the worlds held apart as well.
#[must_use]
pub fn run(seed: u64, parts: usize, held: bool) -> Results {
    let parts = parts.max(1);
    let mut random = Random::new(seed);
    // Every world has a sequence of its own, so that those held apart change nothing in the others.
    let benches: Vec<(Bench, Random)> = WORLDS
        .iter()
        .map(|world| (Bench::new(*world), Random::new(random.bits())))
        .filter(|(bench, _)| held || !bench.world.held)
        .collect();
    let mut judged = Vec::new();
    for (bench, random) in benches {
        let mut random = random;
        let sound: Vec<Scored> = (0..parts * SOUND).map(|_| bench.score(&mut random, None)).collect();
        let faults: Vec<(Fault, f64, Vec<Scored>)> = FAULTS
            .into_iter()
            .filter(|(fault, _)| fault.count(bench.world.size).is_some())
            .map(|(fault, size)| {
                (fault, size, (0..parts).map(|_| bench.score(&mut random, Some((fault, size)))).collect())
            })
            .collect();
        judged.push((bench, sound, faults));
    }
    let mut thresholds = [f64::MIN; JUDGES];
    for (_, sound, _) in &judged {
        for (who, threshold) in thresholds.iter_mut().enumerate() {
            *threshold = threshold.max(quantile(sound, who));
        }
    }
    let mut results = Results {
        seed,
        parts_per_cell: parts,
        parts: 0,
        held,
        thresholds,
        sound: Vec::new(),
        cells: Vec::new(),
        lost: Vec::new(),
        lost_alarms: Vec::new(),
        structures: Vec::new(),
        reliability: Vec::new(),
    };
    for (bench, sound, faults) in &judged {
        results.parts += sound.len() + faults.iter().map(|(.., all)| all.len()).sum::<usize>();
        count(&mut results, bench.world, sound, faults);
    }
    for structure in Structure::ALL.into_iter().filter(|structure| held || !structure.held()) {
        let mut random = Random::new(seed ^ 0x5EED ^ structure as u64);
        results.structures.push(structure_row(&mut random, structure, parts));
        results.parts += parts;
    }
    for apart in [false, true].into_iter().filter(|apart| held || !apart) {
        for rate in [0.1f64, 0.5, 0.9] {
            let mut random = Random::new(seed ^ rate.to_bits() ^ u64::from(apart));
            results.parts += reliability(&mut results.reliability, &mut random, rate, apart, parts);
        }
    }
    results
}

fn count(results: &mut Results, world: World, sound: &[Scored], faults: &[(Fault, f64, Vec<Scored>)]) {
    let of = |make: &dyn Fn(usize) -> f64| std::array::from_fn(make);
    results.sound.push(SoundRow {
        world: world.name,
        held: world.held,
        alarms: of(&|who| share(sound, |one| one.at(who, results.thresholds[who]).0)),
        levels: LEVELS.map(|level| share(sound, |one| one.most(0) >= level)),
    });
    for (fault, size, all) in faults {
        let at = |who: usize, threshold: f64| {
            (share(all, |one| one.at(who, threshold).0), share(all, |one| one.at(who, threshold).1))
        };
        let one: [(f64, f64); JUDGES] = std::array::from_fn(|who| at(who, results.thresholds[who]));
        let own: [(f64, f64); JUDGES] = std::array::from_fn(|who| at(who, quantile(sound, who)));
        let failed: Vec<&Scored> = all.iter().filter(|one| one.most(0) >= LEVELS[1]).collect();
        let right = failed
            .iter()
            .filter(|one| {
                one.scores[0].iter().zip(&one.faulty).all(|(score, faulty)| *faulty || *score < LEVELS[1])
            })
            .count();
        for (place, rival) in Rival::ALL.into_iter().enumerate() {
            let lost = |engine: f64, rivals: f64| {
                // Twice the standard error of a difference of two shares, taken as independent.
                let error = (engine * (1.0 - engine) + rivals * (1.0 - rivals)) / all.len() as f64;
                (rivals - engine > 2.0 * error.sqrt() && rivals > engine).then_some(Lost {
                    world: world.name,
                    fault: *fault,
                    size: *size,
                    engine,
                    rival,
                    rivals,
                })
            };
            results.lost_alarms.extend(lost(one[0].0, one[place + 1].0));
            results.lost.extend(lost(one[0].1, one[place + 1].1));
        }
        results.cells.push(Cell {
            world: world.name,
            held: world.held,
            fault: *fault,
            size: *size,
            one,
            own,
            failed_right: (right as f64 / failed.len().max(1) as f64, failed.len()),
        });
    }
}

/// Causes that name the right place for a structure.
fn right_causes(structure: Structure) -> &'static [Cause] {
    match structure {
        Structure::CommonResistive | Structure::CommonOpen => &[Cause::SharedReturn, Cause::Connection],
        Structure::LeadZeroWrong => &[Cause::Measurement],
        // Joined pins and a pin on the case are in the part or its plug.
        Structure::ThreeJoined | Structure::TwoJoined | Structure::OneToCase => {
            &[Cause::Component, Cause::Connection, Cause::SharedReturn]
        }
        Structure::WireResistive | Structure::WireOpen => &[Cause::Wiring],
    }
}

/// The leading cause, how sure, and the circuits that the part is blamed for where the part leads.
fn leading(judgement: &Judgement) -> (Cause, f64, Vec<String>) {
    let lead = judgement
        .conclusion
        .explanations
        .iter()
        .max_by(|a, b| a.certainty.total_cmp(&b.certainty))
        .expect("a conclusion has an explanation");
    let blamed = if lead.cause == Cause::Component {
        lead.circuits.iter().map(|id| id.as_str().to_owned()).collect()
    } else {
        Vec::new()
    };
    (lead.cause, lead.certainty, blamed)
}

fn structure_row(random: &mut Random, structure: Structure, parts: usize) -> StructureRow {
    let world = World { size: SIZE, ..WORLDS[0] };
    let (profile, meter) = (stage::profile(SIZE, true, true), stage::meter(world));
    let (mut right, mut wrong, mut nothing, mut sure) = (0usize, 0usize, 0usize, 0.0);
    for _ in 0..parts {
        let read = structures::read(random, structure);
        let evidence = stage::evidence_of_structure(world, &read, &profile);
        let judgement = judge(&profile, Some(&meter), &evidence).expect("what a meter shows can be judged");
        let (cause, certainty, blamed) = leading(&judgement);
        let involved: Vec<&str> = read.involved.iter().map(|at| profile.circuits[*at].id.as_str()).collect();
        let innocent = blamed.iter().any(|id| !involved.contains(&id.as_str()));
        right += usize::from(right_causes(structure).contains(&cause) && !innocent);
        wrong += usize::from(innocent);
        nothing += usize::from(cause == Cause::NothingFound);
        sure += certainty;
    }
    let of = parts as f64;
    StructureRow {
        structure,
        held: structure.held(),
        parts,
        right: right as f64 / of,
        blamed: wrong as f64 / of,
        nothing: nothing as f64 / of,
        stated: sure / of,
    }
}

/// Parts of all worlds of a half, a share of them faulty (one circuit, 6 to 25 %; two in a fifth of them): stated against true.
fn reliability(
    into: &mut Vec<Reliability>,
    random: &mut Random,
    rate: f64,
    held: bool,
    parts: usize,
) -> usize {
    const EDGES: [f64; 9] = [0.0, 0.02, 0.1, 0.3, 0.5, 0.7, 0.85, 0.95, 1.0];
    let (mut circuits, mut nothing) = (Vec::new(), Vec::new());
    let mut all = 0;
    for world in WORLDS.into_iter().filter(|world| world.held == held) {
        let bench = Bench::new(world);
        for _ in 0..parts * 2 {
            let fault = (random.unit() < rate).then(|| {
                let size = [0.06, 0.08, 0.10, 0.15, 0.25][random.below(5)];
                let two = random.unit() < 0.2 && world.size > 4;
                (if two { Fault::TwoOpposite } else { Fault::One }, size)
            });
            let part = simulate(random, world, fault);
            let evidence = stage::evidence(world, &part, &bench.profile);
            let judgement = judge(&bench.profile, Some(&bench.meter), &evidence)
                .expect("what a meter shows can be judged");
            for (finding, faulty) in judgement.findings.iter().zip(&part.faulty) {
                circuits.extend(finding.details.fault_probability.map(|stated| (stated, *faulty)));
            }
            let stated = judgement
                .conclusion
                .explanations
                .iter()
                .filter(|one| one.cause == Cause::NothingFound)
                .map(|one| one.certainty)
                .sum::<f64>();
            nothing.push((stated, fault.is_none()));
            all += 1;
        }
    }
    for (what, stated) in [("circuit faulty", circuits), ("nothing found", nothing)] {
        for edge in EDGES.windows(2) {
            let inside: Vec<&(f64, bool)> = stated
                .iter()
                .filter(|(p, _)| *p >= edge[0] && (*p < edge[1] || (edge[1] >= 1.0 && *p <= 1.0)))
                .collect();
            if inside.is_empty() {
                continue;
            }
            into.push(Reliability {
                what,
                fault_rate: rate,
                held,
                from: edge[0],
                to: edge[1],
                count: inside.len(),
                stated: inside.iter().map(|(p, _)| p.max(0.0)).sum::<f64>() / inside.len() as f64,
                right: inside.iter().filter(|(_, so)| *so).count() as f64 / inside.len() as f64,
            });
        }
    }
    all
}
