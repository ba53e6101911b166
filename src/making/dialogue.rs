//! Owns the questions by which a profile is made, and what is done with each answer.

use super::{
    draft::{Draft, DraftCircuit, Made},
    message::{Asked, Choice, MadeOf, NewPart},
};
use crate::{
    profile,
    quantity::notation::{self, Measure},
};

/// Typed, it goes back by one question.
const BACK: &str = "-";
/// The most pins in one answer.
const MOST: usize = 99;

/// What is waited for.
#[derive(Debug, Clone, Copy, PartialEq)]
enum Step {
    Title,
    Source,
    Common,
    Pins,
    Against,
    Name,
    MadeOf,
    Figures(MadeOf),
    Reads,
    Done,
}

/// The circuits that are being asked about.
#[derive(Debug, Clone, Default)]
struct Batch {
    pins: Vec<String>,
    against: Option<String>,
    names: Vec<String>,
    made: Option<Made>,
}

/// A dialogue: a fold over the answers.
#[derive(Debug, Clone)]
pub struct Dialogue {
    answers: Vec<String>,
    draft: Draft,
    batch: Batch,
    step: Step,
    own: String,
}

impl Dialogue {
    /// A dialogue at its first question. `own` is said as the source where nobody names one, in the person's language.
    #[must_use]
    pub fn new(own: &str) -> Self {
        let draft = Draft::default();
        Self { answers: Vec::new(), draft, batch: Batch::default(), step: Step::Title, own: own.to_owned() }
    }

    /// The draft, once everything was asked.
    #[must_use]
    pub fn done(&self) -> Option<&Draft> {
        (self.step == Step::Done).then_some(&self.draft)
    }

    /// What is asked now; none once it is done.
    #[must_use]
    pub fn question(&self) -> Option<Asked> {
        Some(match self.step {
            Step::Title => Asked::Title,
            Step::Source => Asked::Source,
            Step::Common => Asked::Common,
            Step::Pins if self.draft.circuits.is_empty() => Asked::FirstPins,
            Step::Pins => Asked::NextPins,
            Step::Against => Asked::Against { pins: self.batch.pins.join(", ") },
            Step::Name => match &self.batch.pins[..] {
                [pin] => Asked::Name { pin: pin.clone() },
                pins => Asked::Names { count: pins.len() },
            },
            Step::MadeOf => {
                let number = |(at, made_of): (usize, &MadeOf)| Choice { number: at + 1, made_of: *made_of };
                let choices = MadeOf::ALL.iter().enumerate().map(number).collect();
                match self.before() {
                    Some(place) => {
                        Asked::MadeOfOrLike { choices, like: self.draft.circuits[place].name.clone() }
                    }
                    None => Asked::MadeOf { choices },
                }
            }
            Step::Figures(MadeOf::Platinum) => Asked::Platinum,
            Step::Figures(MadeOf::Thermistor) => Asked::Points,
            Step::Figures(_) => Asked::Reason,
            Step::Reads => Asked::Reads,
            Step::Done => return None,
        })
    }

    /// Takes an answer and says what came of it, without the next question.
    pub fn answer(&mut self, typed: &str) -> Option<NewPart> {
        let typed = typed.trim();
        if typed == BACK {
            if self.answers.pop().is_none() {
                return Some(NewPart::AtTheBeginning);
            }
            let answers = std::mem::take(&mut self.answers);
            let own = std::mem::take(&mut self.own);
            *self = Self::new(&own);
            // They were taken before, so they are taken again.
            answers.iter().for_each(|answer| drop(self.answer(answer)));
            return None;
        }
        let before = self.clone();
        match self.take(typed).and_then(|told| self.fits().map(|()| told)) {
            Ok(told) => {
                self.answers.push(typed.to_owned());
                told
            }
            Err(why) => {
                *self = before;
                Some(why)
            }
        }
    }

    fn take(&mut self, typed: &str) -> Result<Option<NewPart>, NewPart> {
        let given = (!typed.is_empty()).then(|| typed.to_owned());
        match self.step {
            Step::Title => {
                self.draft.title = given.ok_or(NewPart::Needed)?;
                self.step = Step::Source;
            }
            Step::Source => {
                self.draft.source = given.unwrap_or_else(|| self.own.clone());
                self.step = Step::Common;
            }
            Step::Common => {
                self.draft.common = given;
                self.step = Step::Pins;
            }
            Step::Pins => match given {
                None if self.draft.circuits.is_empty() => return Err(NewPart::Needed),
                None => self.step = Step::Done,
                Some(typed) => {
                    let pins = pins(&typed).ok_or(NewPart::NoPins { typed })?;
                    self.batch = Batch { pins, ..Batch::default() };
                    self.step = if self.draft.common.is_some() { Step::Name } else { Step::Against };
                }
            },
            Step::Against => {
                self.batch.against = Some(given.ok_or(NewPart::Needed)?);
                self.step = Step::Name;
            }
            Step::Name => {
                self.batch.names = named(&given.ok_or(NewPart::Needed)?, self.batch.pins.len());
                self.step = Step::MadeOf;
            }
            Step::MadeOf => return self.made_of(given),
            Step::Figures(made_of) => {
                let typed = given.ok_or(NewPart::Needed)?;
                self.batch.made = Some(figures(made_of, &typed)?);
                if made_of == MadeOf::Never {
                    return self.add(None);
                }
                self.step = Step::Reads;
            }
            Step::Reads => {
                let window = given.map(|typed| profile::window_in_ohms(&typed)).transpose();
                let refused = |what| NewPart::Refused { what, advice: profile::WINDOW_ADVICE.to_owned() };
                return self.add(window.map_err(refused)?);
            }
            Step::Done => {}
        }
        Ok(None)
    }

    /// Whether what was answered so far breaks a rule whatever is answered next: told at once, where it can be mended.
    fn fits(&self) -> Result<(), NewPart> {
        if self.batch.pins.is_empty() || self.step == Step::Against {
            return Ok(());
        }
        let mut trial = self.clone();
        if trial.batch.names.is_empty() {
            trial.batch.names =
                trial.batch.pins.iter().map(|pin| format!("circuit {}", pin.replace('/', " "))).collect();
        }
        trial.batch.made = trial.batch.made.take().or(Some(Made::Plain("resistor")));
        trial.add(None).map(|_| ())
    }

    fn made_of(&mut self, given: Option<String>) -> Result<Option<NewPart>, NewPart> {
        let Some(typed) = given else {
            let place = self.before().ok_or(NewPart::Needed)?;
            self.batch.made = Some(Made::Like(place));
            return self.add(None);
        };
        let number: usize = typed.parse().map_err(|_| NewPart::NoSuchChoice)?;
        let made_of =
            number.checked_sub(1).and_then(|at| MadeOf::ALL.get(at)).ok_or(NewPart::NoSuchChoice)?;
        let plain = match made_of {
            MadeOf::Coil => "copper-coil",
            MadeOf::Resistor => "resistor",
            MadeOf::Wire => "wire",
            MadeOf::DataBus => "data-bus",
            MadeOf::Platinum | MadeOf::Thermistor | MadeOf::Never => {
                self.step = Step::Figures(*made_of);
                return Ok(None);
            }
        };
        self.batch.made = Some(Made::Plain(plain));
        self.step = Step::Reads;
        Ok(None)
    }

    /// The circuit before, that another one may be made as: the first of its likes.
    fn before(&self) -> Option<usize> {
        let last = self.draft.circuits.len().checked_sub(1)?;
        match self.draft.circuits[last].made {
            Made::Like(first) => Some(first),
            Made::Never(_) => None,
            _ => Some(last),
        }
    }

    /// Puts what was asked about into the draft, if every rule of profiles lets it.
    fn add(&mut self, window: Option<String>) -> Result<Option<NewPart>, NewPart> {
        let batch = std::mem::take(&mut self.batch);
        let first = self.draft.circuits.len();
        let made = batch.made.unwrap_or(Made::Plain("resistor"));
        for (at, (pin, name)) in batch.pins.iter().zip(&batch.names).enumerate() {
            let like = matches!(made, Made::Like(_) | Made::Never(_));
            let made = if at == 0 || like { made.clone() } else { Made::Like(first) };
            self.draft.circuits.push(DraftCircuit {
                name: name.clone(),
                pin: pin.clone(),
                against: batch.against.clone(),
                made,
                window: window.clone().filter(|_| at == 0),
                line: None,
            });
        }
        self.step = Step::Pins;
        // So far there may be nothing but what nobody may measure: that is a fault of the whole, not of this answer.
        let only_never = self.draft.circuits.iter().all(|circuit| matches!(circuit.made, Made::Never(_)));
        match self.draft.checked() {
            Err(faults) if !only_never => {
                let (what, advice) = faults.first().map_or_else(Default::default, |(fault, ..)| {
                    (fault.message.clone(), fault.advice.clone().unwrap_or_default())
                });
                Err(NewPart::Refused { what, advice })
            }
            _ => Ok(Some(NewPart::Added { circuits: batch.names })),
        }
    }
}

/// Pins as typed: `4`, `1-8`, `1 2 5`, `A1, B2`.
fn pins(typed: &str) -> Option<Vec<String>> {
    let mut all = Vec::new();
    for part in typed.split([',', ' ', ';']).filter(|part| !part.is_empty()) {
        match part.split_once('-') {
            None => all.push(part.to_owned()),
            Some((from, to)) => {
                let (from, to): (u16, u16) = (from.parse().ok()?, to.parse().ok()?);
                if from > to || usize::from(to - from) >= MOST {
                    return None;
                }
                all.extend((from..=to).map(|pin| pin.to_string()));
            }
        }
    }
    (!all.is_empty() && all.len() <= MOST).then_some(all)
}

/// A name for each: several get a letter, more than the alphabet has a number.
fn named(name: &str, count: usize) -> Vec<String> {
    let letter = |at: usize| match u8::try_from(at).ok().filter(|_| count <= 26) {
        Some(at) => char::from(b'A' + at).to_string(),
        None => (at + 1).to_string(),
    };
    if count == 1 {
        vec![name.to_owned()]
    } else {
        (0..count).map(|at| format!("{name} {}", letter(at))).collect()
    }
}

fn figures(made_of: MadeOf, typed: &str) -> Result<Made, NewPart> {
    let typed_text = || typed.to_owned();
    match made_of {
        MadeOf::Platinum => {
            let written = notation::read(typed).ok_or_else(|| NewPart::NoOhms { typed: typed_text() })?;
            Ok(Made::Platinum(written.value()))
        }
        MadeOf::Thermistor => {
            points(typed).map(Made::Points).ok_or_else(|| NewPart::NoPoints { typed: typed_text() })
        }
        _ => Ok(Made::Never(typed_text())),
    }
}

/// A thermistor's table as typed: `0 5900, 20 2.5k, 60 °C 600 ohm`.
fn points(typed: &str) -> Option<Vec<(f64, f64)>> {
    let pair = |text: &str| {
        let spaced = text.replace("°C", " ").replace("°F", "F").replace("ohm", " ").replace('Ω', " ");
        let mut parts = spaced.split_whitespace();
        let (at, ohm) = (notation::read(parts.next()?)?, notation::read(parts.next()?)?);
        let at = match at.measure {
            Some(Measure::Fahrenheit) => notation::celsius(at.value()),
            _ => at.value(),
        };
        parts.next().is_none().then(|| (at, ohm.value()))
    };
    typed.split([',', ';']).map(pair).collect::<Option<Vec<_>>>().filter(|points| points.len() >= 2)
}
