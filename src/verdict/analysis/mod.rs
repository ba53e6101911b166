//! Owns the figures of a judgement: each circuit at each station, its family, its class. Words are made from it elsewhere.

mod classify;

pub(super) use classify::{fault_probability, known_good_after, says_nothing};

use super::{
    Class, Evidence, Measurement, Station,
    peers::{self, Held},
    posterior::{self, RowHeld, Weighed},
    single::{self, LeadsKnown, Number, Reduced, State},
    window::{self, Judged, Limits},
    wires,
};
use crate::profile::{Circuit, CircuitId, Meter, Profile};

/// One circuit at one station.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Row<'a> {
    /// Place of the circuit in the profile.
    pub place: usize,
    pub circuit: &'a Circuit,
    /// Place of its family in the profile.
    pub family: Option<usize>,
    pub station: Station,
    pub reduced: Reduced,
    pub class: Class,
    pub confirmed: bool,
    pub limits: Option<Limits>,
    pub judged: Option<Judged>,
    pub held: Option<Held>,
    /// What the posterior says of it.
    pub weighed: RowHeld,
}

impl<'a> Row<'a> {
    /// The number that its readings amount to.
    pub fn number(&self) -> Option<&Number> {
        if let State::Number(number) = &self.reduced.state { Some(number) } else { None }
    }

    /// Whether something was read.
    pub fn taken(&self) -> bool {
        self.class != Class::NotTaken
    }
}

/// Everything that words are made from.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Analysis<'a> {
    pub profile: &'a Profile,
    pub meter: Option<&'a Meter>,
    pub evidence: &'a Evidence,
    pub leads: LeadsKnown,
    pub temperatures: (f64, f64),
    pub rows: Vec<Row<'a>>,
    pub families: Vec<FamilyHeld>,
    /// What may be wrong, likeliest first; sums to 1.
    pub hypotheses: Vec<Weighed>,
}

/// A family at a station, held together.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct FamilyHeld {
    /// Place among the profile's families.
    pub family: usize,
    pub station: Station,
    pub split: f64,
    /// Probability that none is odd.
    pub none: f64,
    pub shifted: Option<f64>,
    pub common: Option<f64>,
    pub sound: usize,
    pub prior: Option<peers::Prior>,
}

impl<'a> Analysis<'a> {
    /// The row of a circuit at a station.
    pub fn row(&self, circuit: &Circuit, station: Station) -> Option<&Row<'a>> {
        self.rows.iter().find(|row| row.circuit.id == circuit.id && row.station == station)
    }

    /// The rows at a station.
    pub fn at(&self, station: Station) -> impl Iterator<Item = &Row<'a>> {
        self.rows.iter().filter(move |row| row.station == station)
    }
}

/// Works out all figures and classes. The evidence has been checked.
pub(super) fn analyse<'a>(
    profile: &'a Profile,
    meter: Option<&'a Meter>,
    evidence: &'a Evidence,
) -> Analysis<'a> {
    let leads = LeadsKnown::of(evidence, meter);
    let temperatures =
        evidence.part_temperature.map_or(window::UNKNOWN_TEMPERATURE, |t| (t.low.get(), t.high.get()));
    let taken = in_order(profile, evidence);
    let mut left = taken.as_slice();
    let mut readings: Vec<&Measurement> = Vec::new();
    let mut rows: Vec<Row<'a>> = Vec::with_capacity(profile.circuits.len());
    for place in 0..profile.circuits.len() {
        let before = rows.len();
        loop {
            let station = left.first().filter(|one| one.0 == place).map(|one| one.1);
            // A circuit that was not read has a row at the part.
            if station.is_none() && rows.len() > before {
                break;
            }
            let at = station.unwrap_or(Station::Component);
            let count = left.iter().take_while(|one| (one.0, one.1) == (place, at)).count();
            readings.clear();
            readings.extend(left[..count].iter().map(|one| one.3));
            left = &left[count..];
            rows.push(row(profile, meter, evidence, &leads, temperatures, place, at, &readings, rows.last()));
        }
    }
    let mut analysis = Analysis {
        profile,
        meter,
        evidence,
        leads,
        temperatures,
        rows,
        families: Vec::new(),
        hypotheses: Vec::new(),
    };
    hold_families(&mut analysis);
    let weighed = posterior::weigh(&analysis);
    for (row, held) in analysis.rows.iter_mut().zip(&weighed.rows) {
        row.weighed = *held;
    }
    analysis.hypotheses = weighed.hypotheses;
    classify::classify(&mut analysis);
    analysis
}

/// The measurements by circuit, station and number. Circuits that the profile does not have were refused before.
fn in_order<'a>(profile: &Profile, evidence: &'a Evidence) -> Vec<(usize, Station, u32, &'a Measurement)> {
    let mut finder = Finder::new(profile);
    let mut all: Vec<_> = evidence
        .measurements
        .iter()
        .filter_map(|m| Some((finder.place(&m.circuit)?, m.station, m.id, m)))
        .collect();
    all.sort_unstable_by_key(|(place, station, id, _)| (*place, *station, *id));
    all
}

/// Finds circuits by name; quick where they come in profile order, as they are measured.
pub(super) struct Finder<'a> {
    circuits: &'a [Circuit],
    next: usize,
}

impl<'a> Finder<'a> {
    pub fn new(profile: &'a Profile) -> Self {
        Self { circuits: &profile.circuits, next: 0 }
    }

    /// The circuit's place in the profile.
    pub fn place(&mut self, id: &CircuitId) -> Option<usize> {
        let from = self.next.min(self.circuits.len());
        let at = self.circuits[from..]
            .iter()
            .position(|circuit| circuit.id == *id)
            .map(|at| at + from)
            .or_else(|| self.circuits[..from].iter().position(|circuit| circuit.id == *id))?;
        self.next = at + 1;
        Some(at)
    }
}

#[expect(clippy::too_many_arguments, reason = "one place, called with what is already worked out")]
fn row<'a>(
    profile: &'a Profile,
    meter: Option<&Meter>,
    evidence: &Evidence,
    leads: &LeadsKnown,
    temperatures: (f64, f64),
    place: usize,
    station: Station,
    readings: &[&Measurement],
    before: Option<&Row<'a>>,
) -> Row<'a> {
    let circuit = &profile.circuits[place];
    let reduced = single::reduce(profile, meter, evidence, leads, circuit, readings);
    let family = match before {
        Some(before) if before.circuit.family == circuit.family => before.family,
        _ => circuit.family.as_ref().and_then(|id| profile.families.iter().position(|one| one.id == *id)),
    };
    let limits = match station {
        Station::Component => match before {
            // Members of a family mostly have the same window: worked out once.
            Some(before)
                if before.station == station
                    && before.circuit.window == circuit.window
                    && before.circuit.kind == circuit.kind =>
            {
                before.limits
            }
            _ => window::limits(circuit, temperatures, 0.0),
        },
        Station::Harness => {
            let wires = circuit.harness.as_ref().map_or(0.0, |harness| {
                wires::loop_at_most(harness.conductor_mm2, harness.length_m, temperatures.1)
            });
            window::limits(circuit, temperatures, wires)
        }
        Station::Case => None,
    };
    let judged = match (&reduced.state, &limits) {
        (State::Number(number), Some(limits)) => Some(window::judge(number, limits)),
        _ => None,
    };
    Row {
        place,
        circuit,
        family,
        station,
        reduced,
        class: Class::NotTaken,
        confirmed: false,
        limits,
        judged,
        held: None,
        weighed: RowHeld::NONE,
    }
}

fn hold_families(analysis: &mut Analysis<'_>) {
    for (place, family) in analysis.profile.families.iter().enumerate() {
        for station in [Station::Component, Station::Harness] {
            let places: Vec<usize> = (0..analysis.rows.len())
                .filter(|at| {
                    let row = &analysis.rows[*at];
                    row.family == Some(place) && row.station == station && row.number().is_some()
                })
                .collect();
            let members: Vec<peers::Member> = places
                .iter()
                .filter_map(|at| analysis.rows[*at].number())
                .map(|number| peers::Member {
                    value: number.value,
                    random: number.random,
                    fourth: number.fourth,
                })
                .collect();
            let tolerance = family.tolerance_percent / 100.0;
            let prior = places.first().and_then(|at| {
                let row = &analysis.rows[*at];
                window::prior(row.circuit, row.limits.as_ref()?, row.number()?, tolerance)
            });
            if members.is_empty() {
                continue;
            }
            let family_held = peers::hold(&members, tolerance, prior);
            analysis.families.push(FamilyHeld {
                family: place,
                station,
                split: family_held.split,
                none: family_held.none,
                shifted: family_held.shifted,
                common: family_held.common,
                sound: family_held.sound,
                prior,
            });
            for (at, held) in places.into_iter().zip(&family_held.members) {
                analysis.rows[at].held = Some(*held);
            }
        }
    }
}
