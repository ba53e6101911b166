//! Owns what the full screen shows of a session: a plain value, made anew from session and state after every step.

use crate::{
    grammar::{Command, Utterance},
    profile::{PinName, Profile},
    quantity::{Prefix, Reading},
    session::{Action, Event, Phase, Session, State},
    verdict::{Class, Judgement, Station},
};
use jiff::Timestamp;
use std::sync::Arc;

/// A session as it is shown.
#[derive(Debug, Clone)]
pub struct View {
    /// The part: its connector is drawn.
    pub profile: Arc<Profile>,
    /// What the session is at, in words ("make safe 2 of 8", "reading 3 of 12").
    pub stage: String,
    /// What is shown large where no pin of the part is waited for ("MAKE SAFE", "LEADS", "AT PLUG").
    pub word: &'static str,
    /// Readings taken, of those that are planned so far.
    pub done: usize,
    /// See [`View::done`].
    pub planned: usize,
    /// The reading that is waited for.
    pub probe: Option<Probe>,
    /// The reading taken last.
    pub last: Option<Last>,
    /// The pins of the connector, in its order.
    pub pins: Vec<PinMark>,
    /// What may be said now.
    pub may_be_said: String,
    /// What is shown beside the prompt and not spoken.
    pub aside: Option<String>,
}

/// Where the probes go.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Probe {
    /// The pin that is probed.
    pub pin: PinName,
    /// Where the other probe is.
    pub against: PinName,
    /// The circuit's name.
    pub circuit: String,
}

/// The reading taken last, with what it means so far.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Last {
    /// Where it was read ("pin 3").
    pub place: String,
    /// As read ("5.385 Ω", "over range").
    pub reading: String,
    /// The same short enough to be shown large ("5.385", "4.72k", "OVER").
    pub large: String,
    /// The verdict in words.
    pub verdict: String,
    /// The verdict short enough to be shown large ("IN", "OUT ?").
    pub large_verdict: String,
    /// Whether it speaks against the circuit.
    pub suspect: bool,
}

/// What is known of a pin.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum PinMark {
    /// The probe goes here now.
    Here,
    /// The other probe is here now.
    Against,
    /// Its circuit was read, and nothing speaks against it.
    Read,
    /// Its circuit was read and is suspect.
    Suspect,
    /// Nothing was read at it.
    Open,
}

impl View {
    /// The view of a session.
    #[must_use]
    pub fn of(session: &Session, state: &State) -> Self {
        let judgement = session.judge(state).ok();
        let profile = Arc::clone(&session.profile);
        // Elsewhere than at the part its pins would lead astray: the word and the prompt say where to go.
        let at_part = state.current().filter(|task| task.station == Station::Component);
        let probe = at_part.map(|task| {
            let circuit = &profile.circuits[task.circuit];
            Probe {
                pin: circuit.pin.clone(),
                against: circuit.against.clone(),
                circuit: circuit.name.clone(),
            }
        });
        let planned = state.plan.len();
        Self {
            stage: stage(session, state),
            word: word(state),
            done: planned - state.left(),
            planned,
            last: last(session, state, judgement.as_ref()),
            pins: marks(session, state, probe.as_ref(), judgement.as_ref()),
            may_be_said: may_be_said(session, state),
            aside: session.aside(state),
            probe: probe.filter(|_| !state.paused),
            profile,
        }
    }
}

fn stage(session: &Session, state: &State) -> String {
    match state.phase {
        _ if state.paused => "paused".to_owned(),
        Phase::New => String::new(),
        Phase::Codes | Phase::CodeNumber => "stored codes".to_owned(),
        Phase::Offer { .. } => "another station".to_owned(),
        Phase::StationGate { task, gate } => {
            let gates = session.station_gates(state.plan[task].station).len();
            format!("make safe {} of {gates}", gate + 1)
        }
        Phase::Gate(place) => format!("make safe {} of {}", place + 1, session.profile.gates.len()),
        Phase::Temperature => "temperature of the part".to_owned(),
        Phase::Leads => "zero of the leads".to_owned(),
        Phase::Reading(place) => format!("reading {} of {}", place + 1, state.plan.len()),
        Phase::AllRead => "all read".to_owned(),
        Phase::Ended => "ended".to_owned(),
    }
}

fn word(state: &State) -> &'static str {
    match state.phase {
        _ if state.paused => "PAUSED",
        Phase::Reading(place) => match state.plan[place].station {
            Station::Component => "",
            Station::Harness => "AT PLUG",
            Station::Case => "TO CASE",
        },
        Phase::New => "",
        Phase::Gate(_) | Phase::StationGate { .. } => "MAKE SAFE",
        Phase::Codes | Phase::CodeNumber => "CODES",
        Phase::Offer { .. } => "GO THERE?",
        Phase::Temperature => "TEMPERATURE",
        Phase::Leads => "LEADS",
        Phase::AllRead => "ALL READ",
        Phase::Ended => "ENDED",
    }
}

fn last(session: &Session, state: &State, judgement: Option<&Judgement>) -> Option<Last> {
    let taken = state.standing().last()?;
    let task = state.plan[taken.task];
    let circuit = &session.profile.circuits[task.circuit];
    let finding = judgement.and_then(|judgement| judgement.finding(&circuit.id, task.station));
    let class = finding.map_or(Class::NotJudged, |finding| finding.class);
    Some(Last {
        place: format!("pin {}", circuit.pin),
        reading: taken.reading.to_string(),
        large: large_reading(&taken.reading),
        verdict: class.word().to_owned(),
        large_verdict: large_verdict(class).to_owned(),
        suspect: class.is_suspect(),
    })
}

fn large_reading(reading: &Reading) -> String {
    match reading {
        Reading::Value(shown) => match shown.prefix {
            // Drawn as a capital it could be taken for milli.
            Prefix::Mega => format!("{} MEG", shown.number),
            prefix => format!("{}{}", shown.number, prefix.symbol()),
        },
        Reading::OverRange { .. } => "OVER".to_owned(),
        Reading::Unstable { .. } => "MOVES".to_owned(),
        Reading::NotTaken => "-".to_owned(),
    }
}

/// One word. Doubt is kept in it: the whole verdict stands beside it in small letters.
fn large_verdict(class: Class) -> &'static str {
    match class {
        Class::Within => "IN",
        Class::WithinDoubtful => "IN ?",
        Class::OutsideDoubtful => "OUT ?",
        Class::Outside => "OUT",
        Class::UnlikePeers => "UNLIKE",
        Class::LikePeers => "LIKE",
        Class::OverRangeUnchecked => "OVER",
        Class::Open => "OPEN",
        Class::Shorted => "SHORT",
        Class::Unstable => "MOVES",
        Class::Leakage => "LEAKS",
        Class::NotJudged => "NOTED",
        Class::NotTaken => "LEFT OUT",
    }
}

fn marks(
    session: &Session,
    state: &State,
    probe: Option<&Probe>,
    judgement: Option<&Judgement>,
) -> Vec<PinMark> {
    let profile = &session.profile;
    let read = |pin: &PinName| {
        let at_pin = |place: usize| {
            let task = state.plan[place];
            let circuit = &profile.circuits[task.circuit];
            (circuit.pin == *pin).then(|| {
                let finding = judgement.and_then(|judgement| judgement.finding(&circuit.id, task.station));
                finding.is_some_and(|finding| finding.class.is_suspect())
            })
        };
        state
            .standing()
            .filter(|taken| taken.reading != Reading::NotTaken)
            .filter_map(|taken| at_pin(taken.task))
            .max()
    };
    let mark = |pin: &PinName| match (probe, read(pin)) {
        (Some(probe), _) if probe.pin == *pin => PinMark::Here,
        (Some(probe), _) if probe.against == *pin => PinMark::Against,
        (_, Some(true)) => PinMark::Suspect,
        (_, Some(false)) => PinMark::Read,
        (_, None) => PinMark::Open,
    };
    profile.connector.pins.iter().map(|pin| mark(&pin.name)).collect()
}

/// What the session would answer to "help". A step changes nothing but the state that it is given: here a copy.
fn may_be_said(session: &Session, state: &State) -> String {
    let help = Event::Keyed { text: "?".to_owned(), utterance: Some(Utterance::Command(Command::Help)) };
    let at = state.last_activity.unwrap_or(Timestamp::UNIX_EPOCH);
    let answer = session.step(&mut state.clone(), at, &help).into_iter().find_map(|action| match action {
        Action::Say { text, .. } => Some(text),
        _ => None,
    });
    answer.unwrap_or_default()
}
