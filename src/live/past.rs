//! Owns the fold from a journal: to the state that a session goes on with, and to the record that reports are made from.

use crate::{
    grammar::Grammar,
    journal::{Ending, Entry, JournalError, Past},
    profile::{self, ProfileError},
    quantity::Reading,
    report,
    session::{self, Event, Origin, Session, State},
    verdict::{Refusal, Station},
};
use jiff::{Timestamp, tz::TimeZone};
use std::{collections::BTreeMap, sync::Arc};

/// Why a journal cannot be replayed.
#[derive(Debug, thiserror::Error, miette::Diagnostic)]
pub enum PastError {
    /// It cannot be read.
    #[error(transparent)]
    #[diagnostic(transparent)]
    Journal(#[from] JournalError),
    /// The profile or meter that it holds is not taken by this version of the program.
    #[error("the profile or meter kept in the journal is not accepted by this version")]
    Profile(
        #[source]
        #[from]
        ProfileError,
    ),
    /// Its readings cannot be judged.
    #[error("the readings of this journal cannot be judged: {0}")]
    Refused(#[from] Refusal),
}

/// A journal replayed.
#[derive(Debug)]
pub struct Replayed {
    /// What the session works with, from the texts that the journal holds.
    pub session: Session,
    /// Where it stands.
    pub state: State,
    /// The journal line of each reading, by the reading's number.
    pub line_of: BTreeMap<u32, u64>,
}

/// Replays a journal.
///
/// # Errors
/// [`PastError::Profile`] when this version refuses the profile or meter that the journal holds.
pub fn replay(past: &Past, grammar: Grammar) -> Result<Replayed, PastError> {
    let header = &past.header;
    let session = Session {
        profile: Arc::new(profile::parse_in(&header.profile, &header.profile_text, grammar.language())?),
        meter: Arc::new(profile::parse_meter(&header.meter, &header.meter_text)?),
        grammar: Arc::new(grammar),
    };
    let mut state = State::new(&session.profile);
    let mut line_of = BTreeMap::new();
    for line in &past.lines {
        let Entry::Event(event) = &line.entry else { continue };
        let known = state.taken.len();
        session.step(&mut state, line.at, event);
        line_of.extend(state.taken[known..].iter().map(|taken| (taken.id, line.seq)));
    }
    Ok(Replayed { session, state, line_of })
}

/// The record of a journal, judged.
///
/// # Errors
/// [`PastError`].
pub fn record(past: &Past, grammar: Grammar) -> Result<report::Record, PastError> {
    let Replayed { session, state, line_of } = replay(past, grammar)?;
    let judgement = session.judge(&state)?;
    let first = past.lines.first().map_or(Timestamp::UNIX_EPOCH, |line| line.at);
    let stem = past.path.file_stem().map(|stem| stem.to_string_lossy().into_owned());
    let preparations = || state.preparations.iter();
    Ok(report::Record {
        session: stem.unwrap_or_default(),
        job: past.header.job.clone(),
        program: past.header.program.clone(),
        ways: past.header.ways.clone(),
        simulated: past.header.simulated,
        begun: first,
        ended: past.lines.last().map_or(first, |line| line.at),
        ending: past.ending(),
        zone: TimeZone::system(),
        confirmations: confirmations(&session, &state),
        leads: preparations()
            .filter_map(|preparation| preparation.leads.as_ref())
            .map(|given| report::LeadZero { at: given.at, leads: given.what, intake: intake(&given.origin) })
            .collect(),
        temperatures: preparations()
            .filter_map(|preparation| preparation.temperature.as_ref())
            .map(|given| report::PartTemperature {
                at: given.at,
                interval: given.what.interval,
                intake: intake(&given.origin),
            })
            .collect(),
        codes: state.codes.iter().map(|code| code.what.clone()).collect(),
        further: crate::verdict::Further::default(),
        readings: state.taken.iter().map(|taken| shown(taken, &session, &state, &line_of)).collect(),
        notes: notes(past, &session, &state),
        judgement,
        profile: state.named(&session.profile).into_owned(),
        meter: Arc::unwrap_or_clone(session.meter),
    })
}

/// All gates that were confirmed, in the order of time.
fn confirmations(session: &Session, state: &State) -> Vec<report::Confirmation> {
    let confirmed = |at, (gate, instruction, phrase): (&str, String, &str), origin: &Origin| {
        let (gate, phrase) = (gate.to_owned(), phrase.to_owned());
        report::Confirmation { at, gate, instruction, phrase, intake: intake(origin) }
    };
    let words = crate::words::Words::english();
    let before = state.preparations.iter().flat_map(|preparation| &preparation.gates).map(|given| {
        let gate = &session.profile.gates[given.what];
        confirmed(given.at, (&gate.id, gate.instruction.clone(), &gate.confirm), &given.origin)
    });
    let stations = state.station_gates.iter().filter_map(|given| {
        let (station, place) = given.what;
        let gate = session.station_gates(station).into_iter().nth(place)?;
        let instruction = words.text(&gate.instruction);
        Some(confirmed(given.at, (&gate.id, instruction, &gate.confirm), &given.origin))
    });
    let mut all: Vec<report::Confirmation> = before.chain(stations).collect();
    all.sort_by_key(|confirmation| confirmation.at);
    all
}

fn shown(
    taken: &session::Taken,
    session: &Session,
    state: &State,
    line_of: &BTreeMap<u32, u64>,
) -> report::Taken {
    let task = state.plan[taken.task];
    let replaced_by = || state.taken.iter().find(|later| later.id > taken.id && later.task == taken.task);
    report::Taken {
        id: taken.id,
        seq: line_of.get(&taken.id).copied().unwrap_or_default(),
        at: taken.at,
        circuit: session.profile.circuits[task.circuit].id.clone(),
        station: task.station,
        reading: taken.reading,
        contact: task.contact,
        intake: intake(&taken.origin),
        remarks: remarks(taken, &task),
        withdrawn: taken.withdrawn.as_ref().map(|given| report::Withdrawal {
            at: given.at,
            correction: match given.what {
                session::Correction::Wrong => report::Correction::Wrong,
                session::Correction::Change => report::Correction::Change,
            },
            replaced_by: replaced_by().map(|later| later.id),
            intake: intake(&given.origin),
        }),
    }
}

fn remarks(taken: &session::Taken, task: &session::Task) -> Vec<String> {
    let why = match task.purpose {
        session::Purpose::Round => None,
        session::Purpose::FirstAgain => Some("first circuit once more"),
        session::Purpose::Recheck => Some("read again"),
        session::Purpose::KnownGood if task.station == Station::Component => {
            Some("to show that the leads are whole")
        }
        session::Purpose::KnownGood => Some("a sound circuit for comparison"),
        session::Purpose::Elsewhere => Some("at another station, as proposed"),
    };
    let left_out = (taken.reading == Reading::NotTaken).then_some("left out");
    why.into_iter().chain(left_out).map(str::to_owned).collect()
}

fn intake(origin: &Origin) -> report::Intake {
    match origin {
        Origin::Voice(hearing) => report::Intake {
            way: report::Way::Voice,
            typed: None,
            opinions: hearing.opinions.clone(),
            clip: hearing.clip.clone(),
        },
        Origin::Keys(text) => report::Intake {
            way: report::Way::Keys,
            typed: Some(text.clone()),
            opinions: Vec::new(),
            clip: None,
        },
    }
}

/// What else is worth knowing: where the session was opened again.
fn notes(past: &Past, session: &Session, state: &State) -> Vec<report::Note> {
    let opened = past
        .lines
        .iter()
        .filter(|line| matches!(line.entry, Entry::Event(Event::Started | Event::Opened(_))))
        .skip(1);
    let text = "gone on with after a break: safety, temperature and leads taken anew";
    let mut notes: Vec<report::Note> =
        opened.map(|line| report::Note { at: line.at, text: text.to_owned() }).collect();
    if !session.profile.codes.is_empty() && state.codes_settled && state.codes.is_empty() {
        let at = past.lines.first().map_or(Timestamp::UNIX_EPOCH, |line| line.at);
        notes.push(report::Note { at, text: "said that no code is stored, or left out".to_owned() });
    }
    if past.ending() == Ending::BrokenOff && past.torn.is_some() {
        let at = past.lines.last().map_or(Timestamp::UNIX_EPOCH, |line| line.at);
        notes.push(report::Note { at, text: "the last line was cut off and never acknowledged".to_owned() });
    }
    notes
}
