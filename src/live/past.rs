//! Owns the fold from a journal: to the state that a session goes on with, and to the record that reports are made from.

use super::{old, said};
use crate::{
    grammar::Grammar,
    journal::{self, Ending, Entry, JournalError, Past, Proof, Protection},
    profile::{self, ProfileError},
    quantity::Reading,
    report::{self, Basis, JudgedBy, Noted, Points, ReadingRemark},
    session::{self, Event, Origin, Rules, Session, State},
    verdict::{Judgement, Refusal, Saying, Station},
};
use jiff::{Timestamp, tz::TimeZone};
use serde::Deserialize;
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
    let session = session_of(past, grammar)?;
    let mut state = State::new(&session.profile);
    let mut line_of = BTreeMap::new();
    let last = past.lines.iter().rposition(|line| matches!(line.entry, Entry::Event(_)));
    let old = (past.protection == Protection::None).then(old::Prompts::new);
    let old = old.as_ref();
    for (at, line) in past.lines.iter().enumerate() {
        let Entry::Event(event) = &line.entry else { continue };
        let known = state.taken.len();
        if old.is_none_or(|old| !old.put(&session, &mut state, line.at, &past.lines[..at])) {
            put(&session, &mut state, past, line);
        }
        // Nobody hears it any more; only the line said last is still known by "repeat".
        if Some(at) == last {
            session.step(&mut state, line.at, event);
        } else {
            session.follow_up(&mut state, line.at, event);
        }
        line_of.extend(state.taken[known..].iter().map(|taken| (taken.id, line.seq)));
    }
    Ok(Replayed { session, state, line_of })
}

/// Puts the session where it stood when a line came in: by the circuit that the line names, not by what an engine plans today.
pub(super) fn put(session: &Session, state: &mut State, past: &Past, line: &journal::Line) {
    match &line.awaited {
        Some(awaited) => session.put(state, line.at, awaited),
        None if past.protection != Protection::None => session.put_aside(state),
        None => {}
    }
}

/// The record of a journal: with the judgement that was made when it was concluded; else judged now.
///
/// # Errors
/// [`PastError`].
pub fn record(past: &Past, grammar: Grammar) -> Result<report::Record, PastError> {
    let Replayed { session, state, line_of } = replay(past, grammar)?;
    let (judgement, judged) = match kept(past) {
        Some((judgement, judged)) => (judgement, judged),
        None => (session.judge(&state)?, judged_now(past)),
    };
    let first = past.lines.first().map_or(Timestamp::UNIX_EPOCH, |line| line.at);
    let stem = past.path.file_stem().map(|stem| stem.to_string_lossy().into_owned());
    let preparations = || state.preparations.iter();
    Ok(report::Record {
        session: stem.unwrap_or_default(),
        job: past.header.job.clone(),
        details: past.header.details.clone(),
        mark: past.protection.last().map(str::to_owned),
        program: past.header.program.clone(),
        ways: past.header.ways.clone(),
        simulated: past.header.simulated,
        begun: first,
        ended: past.lines.last().map_or(first, |line| line.at),
        ending: past.ending(),
        zone: past.header.zone.as_deref().and_then(zone).unwrap_or_else(TimeZone::system),
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
        further: state.evidence(&session.profile).further,
        readings: state.taken.iter().map(|taken| shown(taken, &session, &state, &line_of)).collect(),
        notes: notes(past, &session, &state),
        judged,
        judgement,
        again: None,
        profile: state.named(&session.profile).into_owned(),
        meter: Arc::unwrap_or_clone(session.meter),
    })
}

/// Today's judgement of the readings in a journal.
///
/// # Errors
/// [`PastError`].
pub fn judge_again(past: &Past, grammar: Grammar) -> Result<Judgement, PastError> {
    let Replayed { session, state, .. } = replay(past, grammar)?;
    Ok(session.judge(&state)?)
}

/// What a journal shows by itself, its replay included: each reading beside the line that it was said back with. `noted` is a hash
/// that somebody noted elsewhere.
///
/// # Errors
/// [`PastError`].
pub fn verify(past: &Past, grammar: Grammar, noted: Option<&str>) -> Result<Vec<Proof>, PastError> {
    let mut found = journal::verify(past, noted)?;
    let session = session_of(past, grammar)?;
    found.extend(said::compare(past, &session));
    Ok(found)
}

/// What the session of a journal worked with.
fn session_of(past: &Past, grammar: Grammar) -> Result<Session, PastError> {
    let header = &past.header;
    Ok(Session {
        profile: Arc::new(profile::parse_in(&header.profile, &header.profile_text, grammar.language())?),
        meter: Arc::new(profile::parse_meter(&header.meter, &header.meter_text)?),
        grammar: Arc::new(grammar),
        last_time: Arc::default(),
    })
}

/// What was judged when the session was concluded, where this program knows the form.
fn kept(past: &Past) -> Option<(Judgement, JudgedBy)> {
    let (at, judged) = past.judged().filter(|_| past.ending() == Ending::Concluded)?;
    let judgement = Judgement::deserialize(&judged.judgement).ok()?;
    Some((
        judgement,
        JudgedBy { engine: judged.engine.clone(), at: Some(at), basis: Basis::Kept, kept: None },
    ))
}

/// Why nothing is judged but now.
fn judged_now(past: &Past) -> JudgedBy {
    match (past.ending(), past.judged()) {
        (Ending::Concluded, None) => JudgedBy::now(Basis::NotKept),
        (Ending::Concluded, Some((at, judged))) => {
            let kept = Points::of(judged.engine.clone(), Some(at), &judged.judgement);
            JudgedBy { kept: Some(kept), ..JudgedBy::now(Basis::OtherForm) }
        }
        _ => JudgedBy::now(Basis::NotConcluded),
    }
}

/// A time zone as a journal names it.
fn zone(name: &str) -> Option<TimeZone> {
    let fixed = || {
        let (sign, hours) = (name.get(..1)?, name.get(1..3)?.parse::<i8>().ok()?);
        jiff::tz::Offset::from_hours(if sign == "-" { -hours } else { hours }).ok().map(TimeZone::fixed)
    };
    TimeZone::get(name).ok().or_else(fixed)
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
        let (station, id) = &given.what;
        let gate = session.station_gates(*station, Rules::NOW).into_iter().find(|gate| gate.id == *id)?;
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

fn remarks(taken: &session::Taken, task: &session::Task) -> Vec<Saying<ReadingRemark>> {
    let why = match task.purpose {
        session::Purpose::Round => None,
        session::Purpose::FirstAgain => Some(ReadingRemark::FirstAgain),
        session::Purpose::Recheck => Some(ReadingRemark::ReadAgain),
        session::Purpose::KnownGood if task.station == Station::Component => Some(ReadingRemark::LeadsWhole),
        session::Purpose::KnownGood => Some(ReadingRemark::ForComparison),
        session::Purpose::Elsewhere => Some(ReadingRemark::OtherStation),
    };
    let left_out = (taken.reading == Reading::NotTaken).then_some(ReadingRemark::LeftOut);
    why.into_iter().chain(left_out).map(Saying::Value).collect()
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
        Origin::Meter(text) => report::Intake {
            way: report::Way::Meter,
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
    let note = |at, noted| report::Note { at, text: Saying::Value(noted) };
    let mut notes: Vec<report::Note> = opened.map(|line| note(line.at, Noted::GoneOn)).collect();
    for line in &past.lines {
        match &line.entry {
            Entry::Event(Event::ClockSet { by_ms }) => {
                let seconds = by_ms.unsigned_abs() / 1000;
                let back = *by_ms < 0;
                let set = if back { Noted::ClockBack { seconds } } else { Noted::ClockAhead { seconds } };
                notes.push(note(line.at, set));
            }
            Entry::Forgotten { clips } => {
                notes.push(note(line.at, Noted::ClipsForgotten { clips: clips.len() }));
            }
            Entry::Salvaged(salvaged) if !salvaged.lost.is_empty() => {
                let (lines, journal) = (salvaged.lost.len(), salvaged.from.clone());
                notes.push(note(line.at, Noted::LinesLost { lines, journal }));
            }
            _ => {}
        }
    }
    notes.sort_by_key(|note| note.at);
    if !session.profile.codes.is_empty() && state.codes_settled && state.codes.is_empty() {
        let at = past.lines.first().map_or(Timestamp::UNIX_EPOCH, |line| line.at);
        notes.push(note(at, Noted::NoCodes));
    }
    if past.ending() == Ending::BrokenOff && past.torn.is_some() {
        let at = past.lines.last().map_or(Timestamp::UNIX_EPOCH, |line| line.at);
        notes.push(note(at, Noted::CutOff));
    }
    notes
}
