//! Owns the form of a number: what the meter's display can have shown of what was said or typed.

use super::{message::Question, state::Origin, turn::Turn};
use crate::{
    grammar::{Command, Context, Follow, Form, Grammar, Spoken, SpokenNumber, Utterance},
    profile::{Meter, Range},
    quantity::{Decimal, Prefix, Reading, Shown, Unit},
};

/// Why something said is not taken as it is.
#[derive(Debug, Clone, PartialEq)]
pub(super) enum Doubt {
    /// It may be one of these.
    Which(Vec<Utterance>),
    /// It cannot be.
    Refused(Question),
}

impl Turn<'_> {
    /// A spoken or typed reading as the display must have shown it, or why that is in doubt.
    ///
    /// Only the form and what the meter's ranges can show decide here, never what the value would mean.
    pub(super) fn fit(&self, spoken: Spoken) -> Result<Reading, Doubt> {
        let number = match spoken {
            Spoken::OverRange => return Ok(Reading::OverRange { range: None }),
            Spoken::Unstable => return Ok(Reading::Unstable { low: None, high: None }),
            Spoken::Number(number) => number,
        };
        if number.unit.is_some_and(|unit| unit != Unit::Ohm) {
            return Err(Doubt::Refused(Question::NotOhms));
        }
        if number.number.is_negative() && !number.number.is_zero() {
            return Err(Doubt::Refused(Question::BelowZero));
        }
        let shown =
            Shown { number: number.number, prefix: number.prefix.unwrap_or(Prefix::One), unit: Unit::Ohm };
        let display = Display(&self.session.meter);
        let Some(range) = display.range_showing(shown.value()) else {
            return Err(Doubt::Refused(Question::MoreThanMeterShows { shown }));
        };
        let typed = matches!(self.origin, Origin::Keys(_));
        if typed && self.state.rules.are_first() {
            return Ok(Reading::Value(shown));
        }
        match typed_form(number, typed) {
            Form::LoneZero => Err(Doubt::Which(vec![
                reading(number.with(zeros(number.number, places(range, Prefix::One)))),
                Utterance::Reading(Spoken::OverRange),
            ])),
            Form::Pointed => display.fit_pointed(number, shown),
            Form::Whole | Form::LoneDigit if shows_whole(range, shown.prefix) => Ok(Reading::Value(shown)),
            Form::Whole | Form::LoneDigit => Err(Doubt::Which(vec![reading(
                number.with(zeros(number.number, places(range, shown.prefix))),
            )])),
            Form::Digits if typed && shows_whole(range, shown.prefix) => Ok(Reading::Value(shown)),
            Form::Digits => Err(Doubt::Which(display.digit_candidates(number, shown))),
        }
    }
}

/// Typed without a point a number is digits whose point may have been left out, as when it is said digit by digit. Keys type
/// no "o l" that could be a zero.
fn typed_form(number: SpokenNumber, typed: bool) -> Form {
    match (number.form, number.number.places(), number.number.digits()) {
        (Form::Pointed, 0, 0..10) if typed => Form::LoneDigit,
        (Form::Pointed, 0, _) if typed => Form::Digits,
        (form, ..) => form,
    }
}

/// What a meter's display shows in ohms.
struct Display<'a>(&'a Meter);

impl<'a> Display<'a> {
    fn ranges(&self) -> impl Iterator<Item = &'a Range> + use<'a> {
        self.0.ranges.iter().filter(|range| range.unit == Unit::Ohm)
    }

    /// The lowest range that shows a resistance.
    fn range_showing(&self, ohms: f64) -> Option<&'a Range> {
        self.ranges().find(|range| ohms <= range.full_scale)
    }

    /// More places than any range shows without a prefix: the prefix was left out.
    fn fit_pointed(&self, number: SpokenNumber, shown: Shown) -> Result<Reading, Doubt> {
        let can_show = |prefix: Prefix| {
            let shown = Shown { prefix, ..shown };
            self.ranges().any(|range| {
                shown.value() <= range.full_scale
                    && range_prefix(range) == prefix
                    && shown.step() >= range.resolution * 0.999
            })
        };
        if number.prefix.is_some() || can_show(Prefix::One) {
            return Ok(Reading::Value(shown));
        }
        let with = |prefix| reading(SpokenNumber { prefix: Some(prefix), ..number });
        let candidates: Vec<Utterance> =
            [Prefix::Kilo, Prefix::Mega].into_iter().filter(|prefix| can_show(*prefix)).map(with).collect();
        if candidates.is_empty() {
            return Err(Doubt::Refused(Question::MorePlacesThanMeterShows { number: number.number }));
        }
        Err(Doubt::Which(candidates))
    }

    /// "One five": 1.5 with the point forgotten, or 15.
    fn digit_candidates(&self, number: SpokenNumber, shown: Shown) -> Vec<Utterance> {
        let lowest = self.ranges().next();
        let shift = lowest.map_or(1, |range| places(range, shown.prefix)).max(1);
        let pointed = Decimal::new(false, number.number.digits(), shift).ok();
        let whole = self.range_showing(shown.value()).map(|range| {
            if shows_whole(range, shown.prefix) {
                number.number
            } else {
                zeros(number.number, places(range, shown.prefix))
            }
        });
        pointed.into_iter().chain(whole).map(|decimal| reading(number.with(decimal))).collect()
    }
}

/// How the meter's display shows a value in ohms.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Shows {
    /// The prefix that it shows.
    pub prefix: Prefix,
    /// One step of its last digit, in ohms.
    pub resolution: f64,
}

impl Shows {
    /// How many places it shows behind the point, where one step may be coarser than the finest one that it has.
    #[must_use]
    pub fn places_at(self, step: f64) -> u8 {
        places_of(self.prefix, self.resolution.max(step))
    }
}

/// How a meter's display shows so many ohms, in the lowest range that can. None where none can.
#[must_use]
pub fn display_of(meter: &Meter, ohms: f64) -> Option<Shows> {
    let range = Display(meter).range_showing(ohms.abs())?;
    Some(Shows { prefix: range_prefix(range), resolution: range.resolution })
}

/// What can follow after these words: nothing behind the last place that the meter's display shows, else as the words alone tell.
#[must_use]
pub fn follow(
    grammar: &Grammar,
    meter: &Meter,
    words: &str,
    meant: Option<&Utterance>,
    context: &Context,
) -> Follow {
    let spoken = match meant {
        Some(Utterance::Reading(spoken)) => Some(spoken),
        Some(Utterance::Command(Command::Wrong(Some(spoken)))) => Some(spoken),
        Some(Utterance::Command(Command::Change { reading, .. })) => reading.as_ref(),
        _ => None,
    };
    match spoken {
        Some(Spoken::Number(number)) if fills_display(meter, number) => Follow::Nothing,
        _ => grammar.follow(words, meant, context),
    }
}

/// Whether a number has all the places behind its point that the display shows.
fn fills_display(meter: &Meter, number: &SpokenNumber) -> bool {
    let prefix = number.prefix.unwrap_or(Prefix::One);
    let ohms = Shown { number: number.number, prefix, unit: Unit::Ohm }.value();
    number.form == Form::Pointed
        && number.unit.is_none_or(|unit| unit == Unit::Ohm)
        && Display(meter)
            .range_showing(ohms)
            .map(|range| places(range, prefix))
            .is_some_and(|places| places > 0 && number.number.places() >= places)
}

impl SpokenNumber {
    /// The same with other digits, and with the point now certain.
    fn with(self, number: Decimal) -> Self {
        Self { number, form: Form::Pointed, ..self }
    }
}

fn reading(number: SpokenNumber) -> Utterance {
    Utterance::Reading(Spoken::Number(number))
}

/// The number with so many zeros after the point, as the range shows it.
fn zeros(number: Decimal, places: u8) -> Decimal {
    let add = places.saturating_sub(number.places());
    let digits = number.digits().saturating_mul(10u64.saturating_pow(u32::from(add)));
    Decimal::new(number.is_negative(), digits, number.places() + add).unwrap_or(number)
}

/// The prefix that a range shows: below a thousand none, and none for ranges that show whole ohms up to 2000.
fn range_prefix(range: &Range) -> Prefix {
    match range.full_scale {
        full if full < 1e3 || (full <= 2e3 && range.resolution >= 1.0) => Prefix::One,
        full if full < 1e6 => Prefix::Kilo,
        _ => Prefix::Mega,
    }
}

/// How many places a range shows in a prefix.
fn places(range: &Range, prefix: Prefix) -> u8 {
    places_of(prefix, range.resolution)
}

fn places_of(prefix: Prefix, step: f64) -> u8 {
    let steps = (prefix.factor() / step).log10().round();
    // Between 0 and 9, so that the cast is exact.
    steps.clamp(0.0, 9.0) as u8
}

/// Whether a range shows this without a point: whole numbers, also of thousands said in full.
fn shows_whole(range: &Range, prefix: Prefix) -> bool {
    places(range, prefix) == 0
}
