//! Owns doubt: what has to be asked because of its sound or its form, and what is said when it is.

use super::{
    flow::{Action, Kind, Session, say},
    state::{Origin, State},
};
use crate::{
    grammar::{Command, Context, Follow, Form, Grammar, Spoken, SpokenNumber, Utterance},
    profile::{Meter, Range},
    quantity::{Decimal, Prefix, Reading, Shown, Unit},
};
use jiff::Timestamp;

/// Why something said is not taken as it is.
#[derive(Debug, Clone, PartialEq)]
pub(super) enum Doubt {
    /// It may be one of these.
    Which(Vec<Utterance>),
    /// It cannot be: say this.
    Refused(String),
}

impl Session {
    /// A spoken reading as the display must have shown it, or why that is in doubt. Typed values are taken as typed.
    ///
    /// Only the form and what the meter's ranges can show decide here, never what the value would mean.
    pub(super) fn fit(&self, spoken: Spoken, origin: &Origin) -> Result<Reading, Doubt> {
        let number = match spoken {
            Spoken::OverRange => return Ok(Reading::OverRange { range: None }),
            Spoken::Unstable => return Ok(Reading::Unstable { low: None, high: None }),
            Spoken::Number(number) => number,
        };
        if number.unit.is_some_and(|unit| unit != Unit::Ohm) {
            return Err(Doubt::Refused("That is not in ohms. Is the meter on ohms? Say it again.".into()));
        }
        if number.number.is_negative() && !number.number.is_zero() {
            let text =
                "Below zero is no resistance: there is voltage on it. Take the probes off, check the supply.";
            return Err(Doubt::Refused(text.into()));
        }
        let shown =
            Shown { number: number.number, prefix: number.prefix.unwrap_or(Prefix::One), unit: Unit::Ohm };
        let typed = matches!(origin, Origin::Keys(_));
        let Some(range) = self.range_showing(shown.value()) else {
            return Err(Doubt::Refused(format!("{shown} is more than this meter shows. Say it again.")));
        };
        if typed {
            return Ok(Reading::Value(shown));
        }
        match number.form {
            Form::LoneZero => Err(Doubt::Which(vec![
                reading(number.with(zeros(number.number, range.places(Prefix::One)))),
                Utterance::Reading(Spoken::OverRange),
            ])),
            Form::Pointed => self.fit_pointed(number, shown),
            Form::Whole | Form::LoneDigit if range.shows_whole(shown.prefix) => Ok(Reading::Value(shown)),
            Form::Whole | Form::LoneDigit => Err(Doubt::Which(vec![reading(
                number.with(zeros(number.number, range.places(shown.prefix))),
            )])),
            Form::Digits => Err(Doubt::Which(self.digit_candidates(number, shown))),
        }
    }

    /// More places than any range shows without a prefix: the prefix was left out.
    fn fit_pointed(&self, number: SpokenNumber, shown: Shown) -> Result<Reading, Doubt> {
        let can_show = |prefix: Prefix| {
            let shown = Shown { prefix, ..shown };
            self.ranges().any(|range| {
                shown.value() <= range.full_scale
                    && range.prefix() == prefix
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
            let text = format!("{} has more places than this meter shows. Say it again.", number.number);
            return Err(Doubt::Refused(text));
        }
        Err(Doubt::Which(candidates))
    }

    /// "One five": 1.5 with the point forgotten, or 15.
    fn digit_candidates(&self, number: SpokenNumber, shown: Shown) -> Vec<Utterance> {
        let lowest = self.ranges().next();
        let shift = lowest.map_or(1, |range| range.places(shown.prefix)).max(1);
        let pointed = Decimal::new(false, number.number.digits(), shift).ok();
        let whole = self.range_showing(shown.value()).map(|range| {
            if range.shows_whole(shown.prefix) {
                number.number
            } else {
                zeros(number.number, range.places(shown.prefix))
            }
        });
        pointed.into_iter().chain(whole).map(|decimal| reading(number.with(decimal))).collect()
    }

    fn ranges(&self) -> impl Iterator<Item = &Range> {
        self.meter.ranges.iter().filter(|range| range.unit == Unit::Ohm)
    }

    /// The lowest range that shows a resistance.
    fn range_showing(&self, ohms: f64) -> Option<&Range> {
        self.ranges().find(|range| ohms <= range.full_scale)
    }

    /// Asks, or says what cannot be. Said again in answer to a question, a value settles it.
    pub(super) fn doubt(
        &self,
        state: &mut State,
        at: Timestamp,
        doubt: Doubt,
        origin: &Origin,
        out: &mut Vec<Action>,
    ) {
        match doubt {
            Doubt::Refused(text) => {
                state.ask = None;
                say(out, Kind::Question, text);
            }
            Doubt::Which(candidates) => match settled(state, &candidates) {
                Some(spoken) => {
                    state.ask = None;
                    self.spoken(state, at, spoken, origin, out);
                }
                None => self.ask(state, candidates, origin.clone(), out),
            },
        }
    }

    /// A yes or no that is not sure ("no, or zero?") while a question is open: the question stands and is put again, and the same answer a second
    /// time counts. Tells whether it was that.
    pub(super) fn doubtful_answer(
        &self,
        state: &mut State,
        at: Timestamp,
        candidates: &[Utterance],
        origin: &Origin,
        out: &mut Vec<Action>,
    ) -> bool {
        let is_answer = |one: &&Utterance| matches!(one, Utterance::Command(Command::Yes | Command::No));
        let Some(answer) = candidates.iter().find(is_answer) else { return false };
        let Some(ask) = &mut state.ask else { return false };
        if ask.doubted.as_ref() == Some(answer) {
            self.input(state, at, answer, origin, out);
        } else {
            ask.doubted = Some(answer.clone());
            let question = self.question(&ask.candidates, ask.times);
            let asks = question.contains("Yes or no?");
            say(out, Kind::Question, if asks { question } else { format!("{question} Yes or no?") });
        }
        true
    }

    /// Nothing that may be said was heard. Said once, then the keys are offered, then silence: noise must not nag.
    pub(super) fn missed(&self, state: &mut State, out: &mut Vec<Action>) {
        state.misses = state.misses.saturating_add(1);
        let text = match state.misses {
            1 => "Say it again.",
            2 => "Not understood. Say it again, or use the keys.",
            _ => return,
        };
        say(out, Kind::Question, text.to_owned());
    }
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
    let range = meter.ranges.iter().find(|range| range.unit == Unit::Ohm && ohms <= range.full_scale);
    number.form == Form::Pointed
        && number.unit.is_none_or(|unit| unit == Unit::Ohm)
        && range
            .map(|range| range.places(prefix))
            .is_some_and(|places| places > 0 && number.number.places() >= places)
}

/// What was asked about and is now meant again. "One five" in answer to "1.5, or 15.0?" settles nothing: both are meant again.
fn settled(state: &State, now: &[Utterance]) -> Option<Spoken> {
    let asked = &state.ask.as_ref()?.candidates;
    let meant = |candidate: &&Utterance| asked.iter().any(|one| same_value(one, candidate));
    let mut again = now.iter().filter(meant);
    match (again.next(), again.next(), asked.len()) {
        (Some(Utterance::Reading(spoken)), None, 2..) => Some(*spoken),
        _ => None,
    }
}

fn same_value(one: &Utterance, other: &Utterance) -> bool {
    let value = |utterance: &Utterance| match utterance {
        Utterance::Reading(Spoken::Number(number)) => {
            Some(number.number.to_f64() * number.prefix.map_or(1.0, Prefix::factor))
        }
        _ => None,
    };
    one == other || value(one).is_some_and(|value_of_one| Some(value_of_one) == value(other))
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
