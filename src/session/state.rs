//! Owns the state of a session: a fold over its events, with nothing in it that the journal does not tell.

use super::{event::Hearing, message::Message, rules::Rules};
use crate::{
    grammar::{OwnPhrase, Utterance},
    profile::{CircuitId, Profile},
    quantity::{Celsius, Decimal, Interval, Reading},
    verdict::{Contact, Evidence, Further, Leads, Measurement, Station, StoredCode},
};
use jiff::Timestamp;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use std::{borrow::Cow, collections::BTreeMap};

/// Where the session stands.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Phase {
    /// Nothing happened yet.
    New,
    /// Waiting for whether a code is stored.
    Codes,
    /// Waiting for the number of a stored code, or that there is none more.
    CodeNumber,
    /// Waiting for the confirmation of a gate, by its place in the profile.
    Gate(usize),
    /// Waiting for the temperature of the part.
    Temperature,
    /// Waiting for what the probes show when held together.
    Leads,
    /// Waiting for the reading of a task, by its place in the plan.
    Reading(usize),
    /// Waiting for whether the next station is gone to, for a circuit by its place in the profile.
    Offer {
        /// The circuit.
        circuit: usize,
        /// Where it would be measured.
        station: Station,
    },
    /// Waiting for the confirmation of a gate of the station of a task.
    StationGate {
        /// The task, by its place in the plan.
        task: usize,
        /// The gate, by its place among those of the station.
        gate: usize,
    },
    /// Everything was read: waiting for "finish".
    AllRead,
    /// Over.
    Ended,
}

/// Why a circuit is read.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Purpose {
    /// First pass over the circuits.
    Round,
    /// The first circuit once more at the end of the round: did leads, contact or temperature move?
    FirstAgain,
    /// A suspect circuit once more.
    Recheck,
    /// A sound circuit with the same leads, to show that they are whole.
    KnownGood,
    /// A circuit at another station, as the verdict engine proposed.
    Elsewhere,
}

/// One reading to be taken.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Task {
    /// The circuit, by its place in the profile.
    pub circuit: usize,
    /// Where.
    pub station: Station,
    /// Why.
    pub purpose: Purpose,
    /// How contact is to be made.
    pub contact: Contact,
}

/// Which reading is waited for: the same as a [`Task`], in names that a journal keeps.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Awaited {
    /// The circuit.
    pub circuit: CircuitId,
    /// Where it is measured.
    pub station: Station,
    /// How contact is to be made.
    pub contact: Contact,
    /// Why it is read.
    pub purpose: Purpose,
}

/// How an input came in.
#[derive(Debug, Clone, PartialEq)]
pub enum Origin {
    /// Heard: what the opinions heard, and the clip.
    Voice(Hearing),
    /// Typed or pressed.
    Keys(String),
    /// Sent by the meter on the line.
    Meter(String),
}

/// One reading that was taken, kept for good even when it was corrected.
#[derive(Debug, Clone, PartialEq)]
pub struct Taken {
    /// Counts from 1.
    pub id: u32,
    /// The task that it answers, by its place in the plan.
    pub task: usize,
    /// What the meter showed.
    pub reading: Reading,
    /// When.
    pub at: Timestamp,
    /// How it came in.
    pub origin: Origin,
    /// The preparation (leads, temperature) that it was taken under, by its place.
    pub preparation: usize,
    /// Whether it was taken without asking although it was not heard clearly.
    pub marked: bool,
    /// How it was taken back or replaced. None: it stands.
    pub withdrawn: Option<Given<Correction>>,
}

/// How a reading is withdrawn.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Correction {
    /// "Wrong", right after it was read back.
    Wrong,
    /// Changed or left out later.
    Change,
}

/// Something taken in, with when and how.
#[derive(Debug, Clone, PartialEq)]
pub struct Given<T> {
    /// What.
    pub what: T,
    /// When.
    pub at: Timestamp,
    /// How it came in.
    pub origin: Origin,
}

/// What was said of the part's temperature.
#[derive(Debug, Clone, PartialEq)]
pub struct SaidTemperature {
    /// What it may be. None: unknown.
    pub interval: Option<Interval<Celsius>>,
    /// How it was put.
    pub said: SaidAs,
}

/// How a temperature was put.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum SaidAs {
    /// In degrees Celsius.
    Degrees(Decimal),
    /// As a guess.
    Guess(Guess),
    /// Not known, or left out.
    NotSure,
}

/// A guessed temperature.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Guess {
    /// As cold as a workshop or colder.
    Cold,
    /// Warm to the hand.
    Warm,
    /// Too hot to be held.
    Hot,
}

impl Guess {
    /// All of them.
    pub const ALL: [Self; 3] = [Self::Cold, Self::Warm, Self::Hot];

    /// How it is said.
    #[must_use]
    pub fn phrase(self) -> OwnPhrase {
        match self {
            Self::Cold => OwnPhrase::Cold,
            Self::Warm => OwnPhrase::Warm,
            Self::Hot => OwnPhrase::Hot,
        }
    }
}

/// Safety, temperature and leads, as taken together.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Preparation {
    /// Confirmed gates by their place in the profile.
    pub gates: Vec<Given<usize>>,
    /// Temperature of the part.
    pub temperature: Option<Given<SaidTemperature>>,
    /// What the leads read.
    pub leads: Option<Given<Leads>>,
    /// Whether a high or moving lead reading was sent back once.
    pub leads_doubted: bool,
    /// Whether a reading below the leads was asked about already.
    pub leads_questioned: bool,
    /// When it was complete.
    pub complete: Option<Timestamp>,
}

/// A question that is open.
#[derive(Debug, Clone, PartialEq)]
pub struct Ask {
    /// What it may have been: one or two.
    pub candidates: Vec<Utterance>,
    /// How often this input was asked about already, this time included.
    pub times: u8,
    /// Whether one was left of two after the first question.
    pub narrowed: bool,
    /// How the doubtful input came in.
    pub origin: Origin,
    /// A yes or no that was heard in answer and was not sure.
    pub doubted: Option<Utterance>,
}

/// What "wrong" takes back.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Input {
    /// A gate, by its place.
    Gate(usize),
    /// The temperature.
    Temperature,
    /// The leads.
    Leads,
    /// A reading, by its number.
    Reading(u32),
    /// A stored code: the last one.
    Code,
    /// A gate of a station.
    StationGate {
        /// The task that it leads to, by its place in the plan.
        task: usize,
        /// The gate, by its place among those of the station.
        gate: usize,
    },
}

/// How much is said.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, serde::Serialize, serde::Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Prompts {
    /// No more than is needed: for daily use.
    #[default]
    Short,
    /// Also where the pin is, what a verdict means, how to answer: to begin with.
    Full,
}

/// A waiting time at a gate.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Waiting {
    /// The gate where it is waited.
    pub phase: Phase,
    /// Since when.
    pub since: Timestamp,
    /// How many minutes it lasts.
    pub minutes: u8,
    /// How many whole minutes of it were told.
    pub told: u8,
}

/// The state of a session.
#[derive(Debug, Clone, PartialEq)]
pub struct State {
    /// The rules by which what was heard and typed is taken.
    pub rules: Rules,
    /// How much is said. The rim sets it to begin with; it changes wording only.
    pub prompts: Prompts,
    /// Where it stands.
    pub phase: Phase,
    /// Whether it is paused (only "resume" and keys are followed).
    pub paused: bool,
    /// When words to go on by were heard last while paused, in doubt.
    pub perhaps_woken: Option<Timestamp>,
    /// All preparations, the last one is in force.
    pub preparations: Vec<Preparation>,
    /// The readings to be taken, in order. Grows when suspects are read again.
    pub plan: Vec<Task>,
    /// All readings taken.
    pub taken: Vec<Taken>,
    /// The reading that stands for a task, by its place among all: there is one at the most.
    pub(super) answers: BTreeMap<usize, usize>,
    /// Stored codes that were named, in order.
    pub codes: Vec<Given<StoredCode>>,
    /// Whether the question about stored codes was answered to its end.
    pub codes_settled: bool,
    /// The station that everything is set up for.
    pub station: Station,
    /// Confirmed gates of stations: the station and the gate's name.
    pub station_gates: Vec<Given<(Station, String)>>,
    /// The furthest gate, by its place, whose cautions were said.
    pub cautioned: usize,
    /// The waiting time that is being timed.
    pub waiting: Option<Waiting>,
    /// Stations that were offered and not gone to: the circuit's place in the profile and the station.
    pub declined: Vec<(usize, Station)>,
    /// What pins were called in this session: the place of the circuit and its name, the last one holds.
    pub names: Vec<(usize, String)>,
    /// Where to go on after a detour or a new preparation, by its place in the plan.
    pub return_to: Option<usize>,
    /// The open question.
    pub ask: Option<Ask>,
    /// What was taken in since the session was opened last, in order: "wrong" takes back the last of it.
    pub inputs: Vec<Input>,
    /// The last line said, for "repeat".
    pub last_line: Option<Message>,
    /// When the last input came.
    pub last_activity: Option<Timestamp>,
    /// Whether the reminder for the present prompt was given.
    pub reminded: bool,
    /// How often nothing was understood since the last input.
    pub misses: u8,
}

impl State {
    /// Whether a reading of the meter on the line has a place now.
    #[must_use]
    pub fn takes_meter(&self) -> bool {
        !self.paused && matches!(self.phase, Phase::Leads | Phase::Reading(_))
    }

    /// The state before anything happened, with the round over the profile's circuits as plan.
    #[must_use]
    pub fn new(profile: &Profile) -> Self {
        let task = |circuit, purpose| Task {
            circuit,
            station: Station::Component,
            purpose,
            contact: Contact::Usual,
        };
        let measured = || {
            let circuits = profile.circuits.iter().enumerate();
            circuits.filter(|(_, circuit)| circuit.never_ohmmeter.is_none()).map(|(place, _)| place)
        };
        let mut plan: Vec<Task> = measured().map(|circuit| task(circuit, Purpose::Round)).collect();
        if plan.len() > 1 {
            plan.extend(measured().next().map(|first| task(first, Purpose::FirstAgain)));
        }
        Self {
            rules: Rules::default(),
            prompts: Prompts::default(),
            phase: Phase::New,
            paused: false,
            perhaps_woken: None,
            cautioned: 0,
            waiting: None,
            preparations: Vec::new(),
            plan,
            taken: Vec::new(),
            answers: BTreeMap::new(),
            codes: Vec::new(),
            codes_settled: false,
            station: Station::Component,
            station_gates: Vec::new(),
            declined: Vec::new(),
            names: Vec::new(),
            return_to: None,
            ask: None,
            inputs: Vec::new(),
            last_line: None,
            last_activity: None,
            reminded: false,
            misses: 0,
        }
    }

    /// The profile with the names that were given in this session.
    #[must_use]
    pub fn named<'a>(&self, profile: &'a Profile) -> Cow<'a, Profile> {
        if self.names.is_empty() {
            return Cow::Borrowed(profile);
        }
        let mut named = profile.clone();
        for (place, name) in &self.names {
            named.circuits[*place].name.clone_from(name);
        }
        Cow::Owned(named)
    }

    /// What was taken in last.
    #[must_use]
    pub fn last_input(&self) -> Option<Input> {
        self.inputs.last().copied()
    }

    /// The readings that stand, in the order taken.
    pub fn standing(&self) -> impl Iterator<Item = &Taken> {
        self.taken.iter().filter(|taken| taken.withdrawn.is_none())
    }

    /// The reading that stands for a task.
    #[must_use]
    pub fn answer(&self, task: usize) -> Option<&Taken> {
        self.answers.get(&task).and_then(|at| self.taken.get(*at))
    }

    /// The task whose reading is waited for.
    #[must_use]
    pub fn current(&self) -> Option<&Task> {
        match self.phase {
            Phase::Reading(place) => self.plan.get(place),
            _ => None,
        }
    }

    /// How many tasks of the plan have no reading yet.
    #[must_use]
    pub fn left(&self) -> usize {
        self.plan.len() - self.answers.len()
    }

    /// Everything observed so far, as the verdict engine takes it.
    #[must_use]
    pub fn evidence(&self, profile: &Profile) -> Evidence {
        // After a break leads and temperature were taken anew. All of it counts: leads that differ widen what is known of
        // them, and the part was somewhere between the temperatures said.
        let mut leads: Vec<Leads> = self
            .preparations
            .iter()
            .filter_map(|preparation| Some(preparation.leads.as_ref()?.what))
            .collect();
        let last = leads.pop();
        let said = self.preparations.iter().filter_map(|preparation| preparation.temperature.as_ref());
        let intervals: Option<Vec<Interval<Celsius>>> = said.map(|given| given.what.interval).collect();
        Evidence {
            part_temperature: intervals.and_then(|intervals| hull(&intervals)),
            meter_temperature: None,
            leads: last.unwrap_or(Leads::Unknown),
            measurements: self
                .standing()
                .map(|taken| {
                    let task = &self.plan[taken.task];
                    Measurement {
                        id: taken.id,
                        circuit: profile.circuits[task.circuit].id.clone(),
                        station: task.station,
                        reading: taken.reading,
                        contact: task.contact,
                    }
                })
                .collect(),
            codes: self.codes.iter().map(|code| code.what.clone()).collect(),
            further: Further {
                lead_repeats: leads
                    .iter()
                    .filter_map(|leads| leads.shown().filter(|_| measured(last)))
                    .collect(),
                ..Further::default()
            },
        }
    }
}

/// Whether leads were measured.
fn measured(leads: Option<Leads>) -> bool {
    leads.is_some_and(|leads| leads.shown().is_some())
}

/// The interval that holds all of them.
fn hull(intervals: &[Interval<Celsius>]) -> Option<Interval<Celsius>> {
    let mut all = intervals.iter();
    let first = *all.next()?;
    Some(all.fold(first, |hull, next| Interval {
        low: if next.low < hull.low { next.low } else { hull.low },
        high: if next.high > hull.high { next.high } else { hull.high },
    }))
}
