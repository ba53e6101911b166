//! Owns what the full screen shows of a session: a plain value, made anew from session and state after every step.

use super::Label;
use crate::{
    profile::{PinName, Profile},
    quantity::Reading,
    session::{Phase, Session, State, message::Info},
    verdict::{Class, Judgement, Station},
    words::Words,
};
use std::sync::Arc;

/// A session as it is shown.
#[derive(Debug, Clone)]
pub struct View {
    /// The part: its connector is drawn.
    pub profile: Arc<Profile>,
    /// What the session is at, in words ("make safe 2 of 8", "reading 3 of 12").
    pub stage: String,
    /// What is shown large where no pin of the part is waited for ("MAKE SAFE", "LEADS", "AT PLUG").
    pub word: String,
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
    /// The pin that it was read at.
    pub pin: PinName,
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
    pub fn of(session: &Session, state: &State, words: &Words) -> Self {
        let judgement = session.judge(state).ok();
        let profile = Arc::clone(&session.profile);
        // Elsewhere than at the part its pins would lead astray: the word and the prompt say where to go.
        let at_part = state.current().filter(|task| task.station == Station::Component);
        let probe = at_part.map(|task| {
            let circuit = &profile.circuits[task.circuit];
            Probe {
                pin: circuit.pin.clone(),
                against: circuit.against.clone(),
                circuit: session.called(state, &circuit.id),
            }
        });
        let planned = state.plan.len();
        Self {
            stage: stage(session, state).map_or_else(String::new, |label| words.text(&label)),
            word: word(state).map_or_else(String::new, |label| words.text(&label)),
            done: planned - state.left(),
            planned,
            last: last(session, state, judgement.as_ref(), words),
            pins: marks(session, state, probe.as_ref(), judgement.as_ref()),
            may_be_said: if state.paused {
                words.text(&Info::Paused)
            } else {
                words.text(&session.help(state))
            },
            aside: session.aside(state).map(|aside| words.text(&aside)),
            probe: probe.filter(|_| !state.paused),
            profile,
        }
    }
}

fn stage(session: &Session, state: &State) -> Option<Label> {
    Some(match state.phase {
        _ if state.paused => Label::StagePaused,
        Phase::New => return None,
        Phase::Codes | Phase::CodeNumber => Label::StageCodes,
        Phase::Offer { .. } => Label::StageStation,
        Phase::StationGate { task, gate } => {
            let of = session.station_gates(state.plan[task].station, state.rules).len();
            Label::StageMakeSafe { place: gate + 1, of }
        }
        Phase::Gate(place) => Label::StageMakeSafe { place: place + 1, of: session.profile.gates.len() },
        Phase::Temperature => Label::StageTemperature,
        Phase::Leads => Label::StageLeads,
        Phase::Reading(place) => Label::StageReading { place: place + 1, of: state.plan.len() },
        Phase::AllRead => Label::StageAllRead,
        Phase::Ended => Label::StageEnded,
    })
}

fn word(state: &State) -> Option<Label> {
    Some(match state.phase {
        _ if state.paused => Label::LargePaused,
        Phase::Reading(place) => match state.plan[place].station {
            Station::Component => return None,
            Station::Harness => Label::LargeAtPlug,
            Station::Case => Label::LargeToCase,
        },
        Phase::New => return None,
        Phase::Gate(_) | Phase::StationGate { .. } => Label::LargeMakeSafe,
        Phase::Codes | Phase::CodeNumber => Label::LargeCodes,
        Phase::Offer { .. } => Label::LargeGoThere,
        Phase::Temperature => Label::LargeTemperature,
        Phase::Leads => Label::LargeLeads,
        Phase::AllRead => Label::LargeAllRead,
        Phase::Ended => Label::LargeEnded,
    })
}

fn last(session: &Session, state: &State, judgement: Option<&Judgement>, words: &Words) -> Option<Last> {
    let taken = state.standing().last()?;
    let circuit = &session.profile.circuits[state.plan[taken.task].circuit];
    let finding = session.finding_in(state, taken, judgement);
    let class = finding.map_or(Class::NotJudged, |finding| finding.class);
    Some(Last {
        pin: circuit.pin.clone(),
        reading: words.text(&taken.reading),
        large: words.text(&large_reading(&taken.reading)),
        verdict: words.text(&class),
        large_verdict: words.text(&Label::LargeVerdict { class }),
        suspect: class.is_suspect(),
    })
}

fn large_reading(reading: &Reading) -> Label {
    match reading {
        Reading::Value(shown) => Label::LargeNumber { number: shown.number, prefix: shown.prefix },
        Reading::OverRange { .. } => Label::LargeOverRange,
        Reading::Unstable { .. } => Label::LargeUnstable,
        Reading::NotTaken => Label::LargeNotTaken,
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
