//! Owns the course of a trial: parts are simulated, judged four ways, and counted in cells.
//!
//! Each way gets one threshold for everything: the one that gives its false alarms on sound parts the share that the
//! engine has. As a second, harder comparison each way by hand gets a threshold of its own in every cell, which nobody
//! has in a workshop, while the engine keeps its one. A cell holds three kinds of part: a way by hand may spend all its
//! false alarms on the one where they are worth most, while the engine has its share on each. The third comparison parts
//! the cells by kind of part, so that false alarms are equal where detection is compared.

use super::{
    model::{
        CONTACTS, FAULT_SIZES, FaultKind, METERS, PARTS, SIZES, Setting, Simulated, TEMPERATURE_UNKNOWN_BY,
        simulate,
    },
    rivals::Rival,
    stage,
};
use crate::{
    profile::{Meter, Profile},
    random::Random,
    verdict::{analysis, peers},
};
use serde::Serialize;

/// What a trial found.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Results {
    /// The seed.
    pub seed: u64,
    /// Sound parts, and faulty ones of each kind and size, for each setting.
    pub parts_per_setting: usize,
    /// How many parts were judged in all.
    pub parts: usize,
    /// Share of sound parts with an alarm, by the engine.
    pub false_alarms: f64,
    /// The largest such share in any cell.
    pub worst_false_alarms: f64,
    /// Thresholds of the ways by hand that give the same share.
    pub thresholds: Vec<(Rival, f64)>,
    /// By kind and size of fault, all settings together.
    pub faults: Vec<FaultRow>,
    /// Cells (family size, temperature, meter, contact, kind, size) that were compared.
    pub cells: usize,
    /// Cells where a way by hand detected more than the engine by more than twice the standard error, one threshold each.
    pub lost: Vec<Cell>,
    /// The same with thresholds of their own in every cell for the ways by hand.
    pub lost_to_own_thresholds: Vec<Cell>,
    /// The same with cells parted by kind of part as well.
    pub lost_by_part: Vec<Cell>,
    /// How many such cells were compared.
    pub cells_by_part: usize,
    /// Share of sound parts with an alarm by the plain 3-sigma rule as it is taught, by family size.
    pub three_sigma_can_fire: Vec<(usize, f64, f64)>,
    /// How sure the engine said it was, and how often it was right: kinds tuned on.
    pub calibration: Vec<Calibration>,
    /// The same on kinds held apart.
    pub calibration_held_apart: Vec<Calibration>,
    /// By kind of fault, where it was between one half and nine tenths sure: parts, mean stated, share right.
    pub calibration_of_kinds: Vec<(FaultKind, usize, f64, f64)>,
}

/// One kind and size of fault.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct FaultRow {
    /// Kind.
    pub kind: FaultKind,
    /// Whether it was kept apart from those tuned on.
    pub held_apart: bool,
    /// Size as a fraction.
    pub size: f64,
    /// Share of parts with an alarm: a circuit named, or members said to disagree (for kinds where no circuit is faulty:
    /// a false one).
    pub engine: f64,
    /// Share where all that were named are faulty and at least one was.
    pub engine_right: f64,
    /// The same for the ways by hand, in the order of [`Rival::ALL`]: detected.
    pub rivals: [f64; 3],
    /// And named right.
    pub rivals_right: [f64; 3],
}

/// One cell.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Cell {
    /// Family size.
    pub members: usize,
    /// Half-width of the temperature's uncertainty in kelvin.
    pub temperature_by: f64,
    /// Name of the meter.
    pub meter: &'static str,
    /// Bound on contact in ohms.
    pub contact: f64,
    /// Nominal resistance of the kind of part in ohms, where the cells are parted by it.
    pub part: Option<f64>,
    /// Kind of fault.
    pub kind: FaultKind,
    /// Its size.
    pub size: f64,
    /// Detection by the engine.
    pub engine: f64,
    /// By the best way by hand.
    pub rival: Rival,
    /// Its detection.
    pub detects: f64,
    /// False alarms of the engine in this cell.
    pub engine_false: f64,
    /// Its false alarms in this cell.
    pub rival_false: f64,
}

/// How sure, and how often right.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Calibration {
    /// Stated certainty, from.
    pub from: f64,
    /// To.
    pub to: f64,
    /// Parts.
    pub parts: usize,
    /// Mean of what was stated.
    pub stated: f64,
    /// Share that was right.
    pub right: f64,
}

const RIVALS: usize = Rival::ALL.len();

/// One judged part: the engine's verdict, and the scores of the ways by hand.
struct Judged {
    /// Whether there was any alarm; whether a faulty circuit was named; and that alone.
    engine: (bool, bool, bool),
    /// For each way: largest score of a sound and of a faulty circuit.
    scores: [(f64, f64); RIVALS],
    /// Stated certainty of the likeliest split, and whether it was right.
    stated: (f64, bool),
}

impl Judged {
    fn alarms(&self, rival: usize, threshold: f64) -> bool {
        self.scores[rival].0.max(self.scores[rival].1) > threshold
    }
}

struct Bench {
    profile: Profile,
    meter: Meter,
    scratch: Vec<f64>,
}

impl Bench {
    fn new(setting: &Setting) -> Self {
        Self { profile: stage::profile(setting), meter: stage::meter(setting), scratch: Vec::new() }
    }

    fn judge(&mut self, part: &Simulated) -> Judged {
        let evidence = stage::evidence(part, &self.profile);
        let analysis = analysis::analyse(&self.profile, Some(&self.meter), &evidence);
        let named: Vec<bool> = analysis.rows.iter().map(|row| analysis::names(row)).collect();
        let any = named.iter().any(|named| *named)
            || analysis
                .rows
                .iter()
                .any(|row| row.held.is_some_and(|held| held.stand == peers::Stand::Undecided));
        let hit = named.iter().zip(&part.faulty).any(|(named, faulty)| *named && *faulty);
        let wrong = named.iter().zip(&part.faulty).any(|(named, faulty)| *named && !*faulty);
        let mut scores = [(0.0f64, 0.0f64); RIVALS];
        for (rival, best) in Rival::ALL.iter().zip(&mut scores) {
            rival.scores(part, &mut self.scratch);
            for (score, faulty) in self.scratch.iter().zip(&part.faulty) {
                if *faulty {
                    best.1 = best.1.max(*score);
                } else {
                    best.0 = best.0.max(*score);
                }
            }
        }
        let split: Vec<bool> =
            analysis.rows.iter().map(|row| row.held.is_some_and(|held| held.odd > 0.5)).collect();
        let stated = analysis.families.first().map_or(0.0, |family| family.split);
        Judged { engine: (any, hit, hit && !wrong), scores, stated: (stated, split == part.faulty) }
    }
}

/// One sound part: whether the engine gave an alarm, and the scores of the ways by hand.
struct Sound {
    engine: bool,
    scores: [f64; RIVALS],
}

fn share_of_alarms(sound: &[&Sound]) -> f64 {
    sound.iter().filter(|one| one.engine).count() as f64 / sound.len().max(1) as f64
}

struct CellData {
    setting: Setting,
    /// The kinds of part in turn, as in the lists of faulty ones.
    sound: Vec<Sound>,
    engine_false: usize,
    /// For each fault: engine's counts and the scores.
    faults: Vec<(FaultKind, f64, Vec<Judged>)>,
}

/// Runs a trial. `parts`: how many parts of each setting, kind and size.
#[must_use]
pub fn run(seed: u64, parts: usize) -> Results {
    let parts = parts.max(1);
    let mut random = Random::new(seed);
    let mut cells = Vec::new();
    let mut stated: [Vec<(f64, bool)>; 2] = [Vec::new(), Vec::new()];
    for size in SIZES {
        for temperature_by in TEMPERATURE_UNKNOWN_BY {
            for meter in METERS {
                for contact in CONTACTS {
                    let setting = Setting { part: PARTS[0], size, temperature_by, meter, contact };
                    cells.push(cell(&mut random, setting, parts, &mut stated));
                }
            }
        }
    }
    sum_up(seed, parts, &cells, &stated)
}

fn cell(random: &mut Random, setting: Setting, parts: usize, stated: &mut [Vec<(f64, bool)>; 2]) -> CellData {
    let settings = PARTS.map(|part| Setting { part, ..setting });
    let mut benches = settings.map(|setting| Bench::new(&setting));
    let mut data = CellData { setting, sound: Vec::new(), engine_false: 0, faults: Vec::new() };
    // Sound parts are as many as all faulty ones that are counted for calibration: half of the parts have a fault.
    let kinds = FaultKind::ALL.len() * FAULT_SIZES.len();
    for at in 0..parts * kinds / 2 {
        let which = at % PARTS.len();
        let judged = benches[which].judge(&simulate(random, settings[which], None));
        data.engine_false += usize::from(judged.engine.0);
        data.sound.push(Sound { engine: judged.engine.0, scores: judged.scores.map(|(sound, _)| sound) });
        stated[at % 2].push(judged.stated);
    }
    for kind in FaultKind::ALL {
        for size in FAULT_SIZES {
            let mut all = Vec::with_capacity(parts);
            for at in 0..parts {
                let which = at % PARTS.len();
                let judged = benches[which].judge(&simulate(random, settings[which], Some((kind, size))));
                // Where nothing is to be named there is no right split: counted among false namings instead.
                if kind.names_circuits() && at % 2 == 0 {
                    stated[usize::from(kind.held_apart())].push(judged.stated);
                }
                all.push(judged);
            }
            data.faults.push((kind, size, all));
        }
    }
    data
}

fn sum_up(seed: u64, parts: usize, cells: &[CellData], stated: &[Vec<(f64, bool)>; 2]) -> Results {
    let share = |count: usize, of: usize| count as f64 / of.max(1) as f64;
    let sound: usize = cells.iter().map(|cell| cell.sound.len()).sum();
    let false_alarms = share(cells.iter().map(|cell| cell.engine_false).sum(), sound);
    let thresholds = threshold(cells.iter().flat_map(|cell| &cell.sound), false_alarms);
    let mut faults = Vec::new();
    let mut lost = Vec::new();
    let mut lost_own = Vec::new();
    let mut lost_by_part = Vec::new();
    let mut compared = 0;
    for (place, (kind, size, _)) in cells.first().map_or(&[][..], |cell| &cell.faults[..]).iter().enumerate()
    {
        let (mut engine, mut right, mut of) = (0usize, 0usize, 0usize);
        let (mut rivals, mut rivals_right) = ([0usize; RIVALS], [0usize; RIVALS]);
        for cell in cells {
            let all = &cell.faults[place].2;
            of += all.len();
            let hits = all.iter().filter(|one| one.engine.0).count();
            engine += hits;
            right += all.iter().filter(|one| one.engine.2).count();
            for rival in 0..RIVALS {
                let over = |one: &&Judged| one.scores[rival].1 > thresholds[rival];
                let wrong = |one: &&Judged| one.scores[rival].0 > thresholds[rival];
                rivals[rival] += all.iter().filter(|one| over(one) || wrong(one)).count();
                rivals_right[rival] += all.iter().filter(|one| over(one) && !wrong(one)).count();
            }
            if kind.names_circuits() {
                compared += 1;
                let engine_false = share(cell.engine_false, cell.sound.len());
                let own = threshold(cell.sound.iter(), engine_false);
                let everything: Vec<&Judged> = all.iter().collect();
                let sound: Vec<&Sound> = cell.sound.iter().collect();
                let of = |part| Compared { cell, kind: *kind, size: *size, part };
                lost.extend(of(None).lost(&everything, &sound, &thresholds));
                lost_own.extend(of(None).lost(&everything, &sound, &own));
                for (which, part) in PARTS.iter().enumerate() {
                    let mine: Vec<&Judged> = all.iter().skip(which).step_by(PARTS.len()).collect();
                    let sound: Vec<&Sound> = cell.sound.iter().skip(which).step_by(PARTS.len()).collect();
                    let own = threshold(sound.iter().copied(), share_of_alarms(&sound));
                    lost_by_part.extend(of(Some(part.nominal)).lost(&mine, &sound, &own));
                }
            }
        }
        faults.push(FaultRow {
            kind: *kind,
            held_apart: kind.held_apart(),
            size: *size,
            engine: share(engine, of),
            engine_right: share(right, of),
            rivals: rivals.map(|count| share(count, of)),
            rivals_right: rivals_right.map(|count| share(count, of)),
        });
    }
    Results {
        seed,
        parts_per_setting: parts,
        parts: sound + cells.iter().flat_map(|cell| &cell.faults).map(|(_, _, all)| all.len()).sum::<usize>(),
        false_alarms,
        worst_false_alarms: cells
            .iter()
            .map(|cell| share(cell.engine_false, cell.sound.len()))
            .fold(0.0, f64::max),
        thresholds: Rival::ALL.into_iter().zip(thresholds).collect(),
        faults,
        cells: compared,
        lost_by_part,
        cells_by_part: compared * PARTS.len(),
        lost,
        lost_to_own_thresholds: lost_own,
        three_sigma_can_fire: three_sigma(cells),
        calibration: calibration(&stated[0]),
        calibration_held_apart: calibration(&stated[1]),
        calibration_of_kinds: of_kinds(cells),
    }
}

/// The thresholds that a share of sound parts is above.
fn threshold<'a>(sound: impl Iterator<Item = &'a Sound> + Clone, share: f64) -> [f64; RIVALS] {
    let mut thresholds = [f64::INFINITY; RIVALS];
    for (rival, threshold) in thresholds.iter_mut().enumerate() {
        let mut scores: Vec<f64> = sound.clone().map(|one| one.scores[rival]).collect();
        scores.sort_by(f64::total_cmp);
        let above = (share * scores.len() as f64).round() as usize;
        if let Some(score) = scores.len().checked_sub(above + 1).and_then(|at| scores.get(at)) {
            *threshold = *score;
        }
    }
    thresholds
}

/// What is compared: a kind and size of fault in a cell, or for one kind of part in it.
struct Compared<'a> {
    cell: &'a CellData,
    kind: FaultKind,
    size: f64,
    part: Option<f64>,
}

impl Compared<'_> {
    /// The cell, where a way by hand detects more than the engine by more than twice the standard error.
    fn lost(&self, all: &[&Judged], sound: &[&Sound], thresholds: &[f64; RIVALS]) -> Option<Cell> {
        let count = all.len().max(1) as f64;
        let hits = all.iter().filter(|one| one.engine.0).count();
        let best = (0..RIVALS)
            .map(|rival| (rival, all.iter().filter(|one| one.alarms(rival, thresholds[rival])).count()))
            .max_by_key(|(_, count)| *count)?;
        // Paired: parts that one of both detected and the other did not (McNemar's standard error).
        let apart =
            all.iter().filter(|one| one.engine.0 != one.alarms(best.0, thresholds[best.0])).count() as f64;
        let lost = best.1 as f64 - hits as f64;
        let false_by_hand = sound.iter().filter(|one| one.scores[best.0] > thresholds[best.0]).count();
        (lost > 2.0 * apart.sqrt().max(1.0)).then(|| Cell {
            members: self.cell.setting.size,
            temperature_by: self.cell.setting.temperature_by,
            meter: self.cell.setting.meter.name,
            contact: self.cell.setting.contact,
            part: self.part,
            kind: self.kind,
            size: self.size,
            engine: hits as f64 / count,
            rival: Rival::ALL[best.0],
            detects: best.1 as f64 / count,
            engine_false: share_of_alarms(sound),
            rival_false: false_by_hand as f64 / sound.len().max(1) as f64,
        })
    }
}

/// By kind: how sure and how often right in the middle, where being wrong costs most.
fn of_kinds(cells: &[CellData]) -> Vec<(FaultKind, usize, f64, f64)> {
    FaultKind::ALL
        .into_iter()
        .filter(|kind| kind.names_circuits())
        .map(|kind| {
            let faults = cells.iter().flat_map(|cell| &cell.faults).filter(|(of, ..)| *of == kind);
            let stated: Vec<(f64, bool)> = faults
                .flat_map(|(.., all)| all.iter().map(|one| one.stated))
                .filter(|(stated, _)| (0.5..0.9).contains(stated))
                .collect();
            let parts = stated.len().max(1) as f64;
            let mean = stated.iter().map(|(stated, _)| stated).sum::<f64>() / parts;
            let right = stated.iter().filter(|(_, right)| *right).count() as f64 / parts;
            (kind, stated.len(), mean, right)
        })
        .collect()
}

/// For each family size: the largest score in standard deviations that can be reached at all, (n − 1)/√n, and the share
/// of single faults of 50 % that the rule finds as it is taught, at 3.
fn three_sigma(cells: &[CellData]) -> Vec<(usize, f64, f64)> {
    SIZES
        .into_iter()
        .map(|size| {
            let all: Vec<&Judged> = cells
                .iter()
                .filter(|cell| cell.setting.size == size)
                .flat_map(|cell| &cell.faults)
                .filter(|(kind, fault, _)| *kind == FaultKind::OneHigh && *fault == 0.5)
                .flat_map(|(_, _, all)| all)
                .collect();
            let found = all.iter().filter(|one| one.scores[2].1 > 3.0).count();
            let n = size as f64;
            (size, (n - 1.0) / n.sqrt(), found as f64 / all.len().max(1) as f64)
        })
        .collect()
}

fn calibration(stated: &[(f64, bool)]) -> Vec<Calibration> {
    const EDGES: [f64; 9] = [0.0, 0.3, 0.5, 0.6, 0.7, 0.8, 0.9, 0.95, 1.0];
    EDGES
        .windows(2)
        .map(|edge| {
            let inside = stated.iter().filter(|(p, _)| *p > edge[0] && *p <= edge[1]);
            let parts = inside.clone().count();
            Calibration {
                from: edge[0],
                to: edge[1],
                parts,
                stated: inside.clone().map(|(p, _)| p).sum::<f64>() / parts.max(1) as f64,
                right: inside.filter(|(_, right)| *right).count() as f64 / parts.max(1) as f64,
            }
        })
        .collect()
}
