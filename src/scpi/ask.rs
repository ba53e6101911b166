//! Owns the talk with a meter for one reading: what it is set to, then reading after reading until the display stands still.

use super::{
    MeterTrouble, Metered,
    answer::{self, Answer, Number, Setup},
    still::Still,
};
use crate::{
    grammar::{Form, Spoken, SpokenNumber},
    profile::Meter,
    quantity::{Prefix, Unit},
    session,
};
use std::{io, time::Duration};

/// How long an answer with a reading may take: slow meters measure for a second, and look for their range first. Chosen here.
const READING_WITHIN: Duration = Duration::from_secs(4);
/// How long any other answer may take. Chosen here.
const OTHER_WITHIN: Duration = Duration::from_secs(1);
/// After so many readings a display that never stood still is called restless: about ten seconds at the usual pace. Chosen here.
pub const MOST_READINGS: usize = 40;

/// A line to a meter.
pub trait Wire {
    /// Sends a line.
    ///
    /// # Errors
    /// The line is gone.
    fn send(&mut self, line: &str) -> io::Result<()>;
    /// Waits for a line; none where none comes in time. What is no text comes as the sign for what is unknown.
    ///
    /// # Errors
    /// The line is gone.
    fn receive(&mut self, within: Duration) -> io::Result<Option<String>>;
    /// Throws away what came without being asked for, or too late.
    ///
    /// # Errors
    /// The line is gone.
    fn clear(&mut self) -> io::Result<()>;
}

/// What is known of a meter as long as its line holds.
#[derive(Debug, Default)]
pub struct Known {
    /// It does not say what it is set to, and is not asked again: some beep at what they do not know.
    no_setup: bool,
}

/// Why a talk ended without a reading.
#[derive(Debug)]
pub enum NoReading {
    /// Something is the matter.
    Trouble(MeterTrouble),
    /// The line is gone.
    Lost(io::Error),
    /// Nobody wants it any more.
    Unwanted,
}

impl From<io::Error> for NoReading {
    fn from(error: io::Error) -> Self {
        Self::Lost(error)
    }
}

impl From<MeterTrouble> for NoReading {
    fn from(trouble: MeterTrouble) -> Self {
        Self::Trouble(trouble)
    }
}

/// Takes one reading once the display stands still. `query` is what asks for a reading; `pause` waits before the next one and tells
/// whether it is still wanted.
///
/// # Errors
/// [`NoReading`].
pub fn take(
    wire: &mut dyn Wire,
    known: &mut Known,
    query: &str,
    meter: &Meter,
    pause: &dyn Fn() -> bool,
) -> Result<Metered, NoReading> {
    let setup = set_to(wire, known)?;
    if setup.is_some_and(|setup| setup.unit.is_none()) {
        return Err(MeterTrouble::NotOhms.into());
    }
    let unit = setup.and_then(|setup| setup.unit);
    let coarse = setup.and_then(|setup| setup.step).unwrap_or(0.0);
    let step =
        |value: f64| session::display_of(meter, value).map_or(0.0, |shows| shows.resolution).max(coarse);
    let mut still = Still::default();
    for _ in 0..MOST_READINGS {
        wire.clear()?;
        wire.send(query)?;
        let Some(line) = wire.receive(READING_WITHIN)? else {
            return Err(complaint(wire)?.unwrap_or(MeterTrouble::Silent).into());
        };
        let Some(one) = answer::answer(&line) else {
            let sent = answer::printable(&line);
            return Err(complaint(wire)?.unwrap_or(MeterTrouble::NoReading { sent }).into());
        };
        match one {
            Answer::NoNumber => return Err(MeterTrouble::NoNumber.into()),
            // Over range says nothing of its unit: taken at volts it would be an open circuit that nobody measured.
            Answer::OverRange if unit.is_some_and(|unit| unit != Unit::Ohm) => {
                return Err(MeterTrouble::NotOhms.into());
            }
            _ => {}
        }
        if still.add(one, step) {
            let text = answer::printable(&line);
            let spoken = spoken(one, unit, coarse, meter).ok_or(MeterTrouble::NoNumber)?;
            return Ok(Metered { text, spoken });
        }
        if !pause() {
            return Err(NoReading::Unwanted);
        }
    }
    Err(MeterTrouble::Restless.into())
}

/// What the meter says that it is set to; none where it does not say.
fn set_to(wire: &mut dyn Wire, known: &mut Known) -> io::Result<Option<Setup>> {
    if known.no_setup {
        return Ok(None);
    }
    wire.clear()?;
    wire.send("CONF?")?;
    let setup = wire.receive(OTHER_WITHIN)?.as_deref().and_then(answer::setup);
    known.no_setup = setup.is_none();
    Ok(setup)
}

/// What the meter complains of, where it does.
fn complaint(wire: &mut dyn Wire) -> io::Result<Option<MeterTrouble>> {
    wire.clear()?;
    wire.send("SYST:ERR?")?;
    let line = wire.receive(OTHER_WITHIN)?;
    Ok(line.as_deref().and_then(answer::error).map(|error| MeterTrouble::Refuses { error }))
}

/// An answer as the meter's display shows it: rounded to its last place, with its prefix.
fn spoken(answer: Answer, unit: Option<Unit>, coarse: f64, meter: &Meter) -> Option<Spoken> {
    match answer {
        Answer::NoNumber => None,
        Answer::OverRange => Some(Spoken::OverRange),
        Answer::Number(number) => as_shown(number, unit, coarse, meter).map(Spoken::Number),
    }
}

fn as_shown(number: Number, unit: Option<Unit>, coarse: f64, meter: &Meter) -> Option<SpokenNumber> {
    let ohms = unit.is_none_or(|unit| unit == Unit::Ohm);
    let shows = session::display_of(meter, number.value()).filter(|_| ohms);
    // What no range shows is refused by the session, which has the words for it.
    let (prefix, places) = shows.map_or((Prefix::One, 3), |shows| (shows.prefix, shows.places_at(coarse)));
    Some(SpokenNumber {
        number: number.shown(prefix.power(), places)?,
        prefix: Some(prefix).filter(|prefix| *prefix != Prefix::One),
        unit,
        form: Form::Pointed,
    })
}
