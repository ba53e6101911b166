//! Owns the figures of a judgement: each circuit at each station with its class. Words are made from it elsewhere.

use super::{
    Class, Contact, Evidence, Measurement, Station,
    peers::{self, Held},
    single::{self, LeadsKnown, Number, Reduced, State},
    window::{self, Judged, Limits},
    wires,
};
use crate::profile::{Circuit, CircuitId, Meter, Profile, Suppression};

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
        while let Some(first) = left.first().filter(|one| one.0 == place) {
            let station = first.1;
            let count = left.iter().take_while(|one| (one.0, one.1) == (place, station)).count();
            readings.clear();
            readings.extend(left[..count].iter().map(|one| one.3));
            left = &left[count..];
            rows.push(row(
                profile,
                meter,
                evidence,
                &leads,
                temperatures,
                place,
                station,
                &readings,
                rows.last(),
            ));
        }
        if rows.len() == before {
            rows.push(row(
                profile,
                meter,
                evidence,
                &leads,
                temperatures,
                place,
                Station::Component,
                &[],
                rows.last(),
            ));
        }
    }
    let mut analysis = Analysis { profile, meter, evidence, leads, temperatures, rows, families: Vec::new() };
    hold_families(&mut analysis);
    classify(&mut analysis);
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

fn classify(analysis: &mut Analysis<'_>) {
    for at in 0..analysis.rows.len() {
        let row = &analysis.rows[at];
        let (class, confirmed) = match row.station {
            Station::Case => (case_class(row), row.reduced.cleaned > 0),
            Station::Component | Station::Harness => class_of(analysis, row),
        };
        let row = &mut analysis.rows[at];
        row.confirmed = confirmed && class.is_suspect();
        row.class = class;
    }
}

/// Probability that a circuit is electrically off or badly contacted, from its readings alone. None without a reading.
pub(super) fn fault_probability(row: &Row<'_>) -> Option<f64> {
    // What is not a number is judgement put into figures (no source); numbers are weighed.
    let probability = match (row.class, &row.reduced.state) {
        (Class::NotTaken, _) => return None,
        (Class::Open, _) => 0.97,
        // Over range is off for certain, if only at the contact or in the leads; which, the causes say.
        (Class::OverRangeUnchecked, _) => 0.95,
        (Class::Shorted, _) => {
            if row.confirmed {
                0.97
            } else {
                0.9
            }
        }
        (Class::Unstable, _) => {
            if row.confirmed {
                0.9
            } else {
                0.7
            }
        }
        (Class::Leakage, _) => {
            if row.confirmed {
                0.95
            } else {
                0.8
            }
        }
        _ => {
            let against_window = row.judged.map(|judged| judged.odd);
            match row.held {
                // A family that is shifted as a whole is off against its window though its members are alike.
                Some(held) if held.stand != peers::Stand::Alone => {
                    if row.class == Class::Outside {
                        held.odd.max(against_window.unwrap_or(0.0))
                    } else {
                        held.odd
                    }
                }
                _ => against_window?,
            }
        }
    };
    Some(probability)
}

/// Whether this one circuit is said to be off, not its whole family.
pub(super) fn names(row: &Row<'_>) -> bool {
    match row.class {
        Class::Outside => row.held.is_none_or(|held| held.stand != peers::Stand::Like),
        class => class.is_suspect() && class != Class::OutsideDoubtful,
    }
}

/// Whether some circuit gave a plain number after a measurement, so that leads and common pin were whole then.
pub(super) fn known_good_after(analysis: &Analysis<'_>, circuit: &Circuit, id: u32) -> bool {
    analysis.evidence.measurements.iter().any(|m| {
        m.id > id
            && m.circuit != circuit.id
            && m.station != Station::Case
            && m.contact != Contact::Wiggled
            && matches!(m.reading, crate::quantity::Reading::Value(_))
    })
}

fn class_of(analysis: &Analysis<'_>, row: &Row<'_>) -> (Class, bool) {
    let cleaned = row.reduced.cleaned > 0;
    let number = match &row.reduced.state {
        State::NotTaken => return (Class::NotTaken, false),
        State::Wandering { .. } => return (Class::Unstable, cleaned),
        State::OverRange { since_cleaned, first } => {
            return if *since_cleaned >= 2 && known_good_after(analysis, row.circuit, *first) {
                (Class::Open, true)
            } else {
                (Class::OverRangeUnchecked, false)
            };
        }
        State::Number(number) => number,
    };
    let expected = row
        .limits
        .map(|limits| limits.outer.0)
        .into_iter()
        .chain(row.held.and_then(|held| held.expected))
        .reduce(f64::min)
        .or_else(|| super::temperature::resistance(&row.circuit.kind, analysis.temperatures.1));
    if window::near_zero(row.circuit, number, expected) {
        return (Class::Shorted, cleaned);
    }
    // With the coil open, what is left is the resistor across it.
    if let (Some(Suppression::Resistor(ohms)), Some(limits)) = (&row.circuit.suppression, row.limits)
        && ohms.get() > 1.5 * limits.outer.1
        && (number.value - ohms.get()).abs() <= number.expanded() + 0.1 * ohms.get()
    {
        return if cleaned { (Class::Open, true) } else { (Class::Outside, false) };
    }
    let peers = row.held.map(|held| held.stand);
    let unknown = analysis.evidence.part_temperature.is_none() || analysis.leads.slack > 0.0;
    let class = match (row.judged, peers) {
        (Some(judged), _) if judged.stand == window::Stand::Outside => Class::Outside,
        (_, Some(peers::Stand::Unlike)) => Class::UnlikePeers,
        (Some(judged), peers) if judged.unknown_decides && unknown => match peers {
            Some(peers::Stand::Like) => Class::LikePeers,
            _ => Class::NotJudged,
        },
        // A meter that can never tell this window leaves the peers to say.
        (Some(judged), Some(peers::Stand::Like))
            if judged.never
                && matches!(judged.stand, window::Stand::WithinDoubtful | window::Stand::OutsideDoubtful) =>
        {
            Class::LikePeers
        }
        (Some(judged), _) => match judged.stand {
            window::Stand::Within => Class::Within,
            window::Stand::WithinDoubtful => Class::WithinDoubtful,
            window::Stand::OutsideDoubtful => Class::OutsideDoubtful,
            window::Stand::Outside => Class::Outside,
        },
        (None, Some(peers::Stand::Like)) => Class::LikePeers,
        (None, _) => Class::NotJudged,
    };
    (class, cleaned)
}

fn case_class(row: &Row<'_>) -> Class {
    let limit = row.circuit.case_limit.map(crate::quantity::Ohms::get);
    match (&row.reduced.state, limit) {
        (State::NotTaken, _) => Class::NotTaken,
        (State::Wandering { .. }, _) => Class::Unstable,
        (_, None) => Class::NotJudged,
        (State::OverRange { .. }, Some(_)) => Class::Within,
        (State::Number(number), Some(limit)) => {
            if number.value + number.expanded() < limit {
                Class::Leakage
            } else if number.value < limit {
                Class::OutsideDoubtful
            } else if number.value - number.expanded() < limit {
                Class::WithinDoubtful
            } else {
                Class::Within
            }
        }
    }
}
