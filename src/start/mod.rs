//! Owns what is asked before a session, when the command line does not say it: what to do, which part, which meter.
//!
//! Pure: numbers in, questions out. Each question is answered by one number, so that a numeric keypad and a voice in noise
//! are enough. What the machine can do is looked at elsewhere and comes in as [`Ready`].

use schemars::JsonSchema;
use serde::Serialize;

/// Something to do that is offered at the start. Another one is added here, in the words, and where it is carried out.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Offer {
    /// A whole job with a simulated technician, through sound.
    Demo,
    /// Measure a part that has a profile.
    WithProfile,
    /// Measure a part that has none.
    WithoutProfile,
    /// Make a profile by questions.
    NewProfile,
    /// Listen to the room and to ten numbers.
    SoundCheck,
    /// Measure a simulated part, to learn.
    Practise,
}

/// What is asked.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum StartQuestion {
    /// What to do.
    Offer,
    /// Which part.
    Part,
    /// How many pins a part without profile has.
    Pins,
    /// Which of them one probe stays on.
    Common,
    /// Which meter.
    Meter,
}

/// A numbered line below a question.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum StartLine {
    /// Something to do.
    Offered {
        /// Its number.
        number: u16,
        /// What.
        offer: Offer,
    },
    /// A part or a meter.
    Named {
        /// Its number.
        number: u16,
        /// What a person calls it.
        title: String,
    },
}

/// Whether a device does what a session needs, and what to do where it does not.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Ready {
    /// A microphone that can be opened.
    Microphone {
        /// Its name.
        name: String,
    },
    /// None, or it cannot be opened.
    NoMicrophone {
        /// What the system says.
        why: String,
    },
    /// The speech model cannot be used.
    NoModel {
        /// What is wrong.
        why: String,
    },
    /// A voice that can be started.
    Voice,
    /// None.
    NoVoice {
        /// What the system says.
        why: String,
    },
    /// The program was built without sound.
    NoSoundInBuild,
    /// Keys alone were asked for.
    KeysAlone,
    /// Keys always work.
    Keys {
        /// The pedal or keypad of the settings, if any.
        device: Option<String>,
    },
}

/// What is said around the questions.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum StartNote {
    /// What the program is, in a line.
    Headline,
    /// How to answer, by key and by voice.
    AnswerByKeyOrVoice,
    /// How to answer by keys alone.
    AnswerByKey,
    /// How to answer with a number that may have several digits.
    AnswerAndEnter,
    /// A number was heard.
    Heard {
        /// The number.
        number: u16,
    },
    /// Heard, and not sure.
    HeardInDoubt,
    /// There is no such number.
    NoSuchNumber {
        /// The largest one.
        most: u16,
    },
    /// Without a terminal nothing can be asked.
    NoTerminal,
}

/// Something that can be named.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Named {
    /// Its identifier, for the command line.
    pub id: String,
    /// What a person calls it.
    pub title: String,
}

/// The part to be measured.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Part {
    /// By its profile.
    Profile(String),
    /// Without one.
    Pins {
        /// How many pins it has.
        count: u16,
        /// The pin that one probe stays on.
        common: Option<u16>,
    },
}

/// What came of the questions.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Chosen {
    /// The demo.
    Demo,
    /// A new profile.
    NewProfile,
    /// The sound check.
    SoundCheck,
    /// The practice bench.
    Practise,
    /// A session.
    Session {
        /// The part.
        part: Part,
        /// The meter's identifier.
        meter: String,
    },
    /// Nothing.
    Leave,
}

/// What follows an answer.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Next {
    /// The next question.
    Ask,
    /// There is no such number; the question stands.
    NoSuchNumber,
    /// All is known.
    Done(Chosen),
}

/// Most pins of a part without profile: as [`crate::profile::unknown`] takes.
const MOST_PINS: u16 = 999;

/// The questions, one after the other.
#[derive(Debug)]
pub struct Start {
    offers: Vec<Offer>,
    parts: Vec<Named>,
    meters: Vec<Named>,
    part: Option<Part>,
    meter: Option<String>,
    /// Pins of a part without profile, before the common one is known.
    pins: Option<u16>,
    question: StartQuestion,
}

impl Start {
    /// From the beginning.
    #[must_use]
    pub fn new(offers: Vec<Offer>, parts: Vec<Named>, meters: Vec<Named>) -> Self {
        let question = StartQuestion::Offer;
        Self { offers, parts, meters, part: None, meter: None, pins: None, question }
    }

    /// Where the command line named the part, the meter, or one of them: the rest is asked. None where nothing is left to ask.
    #[must_use]
    pub fn rest(
        parts: Vec<Named>,
        meters: Vec<Named>,
        part: Option<Part>,
        meter: Option<String>,
    ) -> Option<Self> {
        let question = match (&part, &meter) {
            (None, _) => StartQuestion::Part,
            (Some(_), None) => StartQuestion::Meter,
            (Some(_), Some(_)) => return None,
        };
        Some(Self { offers: Vec::new(), parts, meters, part, meter, pins: None, question })
    }

    /// What is asked now.
    #[must_use]
    pub fn question(&self) -> StartQuestion {
        self.question
    }

    /// The numbered lines below it.
    #[must_use]
    pub fn lines(&self) -> Vec<StartLine> {
        let named = |all: &[Named]| {
            let title = |one: &Named| one.title.clone();
            (1..).zip(all).map(|(number, one)| StartLine::Named { number, title: title(one) }).collect()
        };
        match self.question {
            StartQuestion::Offer => (1..)
                .zip(&self.offers)
                .map(|(number, offer)| StartLine::Offered { number, offer: *offer })
                .collect(),
            StartQuestion::Part => named(&self.parts),
            StartQuestion::Meter => named(&self.meters),
            StartQuestion::Pins | StartQuestion::Common => Vec::new(),
        }
    }

    /// The largest number that answers.
    #[must_use]
    pub fn most(&self) -> u16 {
        let count = |length: usize| u16::try_from(length).unwrap_or(u16::MAX);
        match self.question {
            StartQuestion::Offer => count(self.offers.len()),
            StartQuestion::Part => count(self.parts.len()),
            StartQuestion::Meter => count(self.meters.len()),
            StartQuestion::Pins => MOST_PINS,
            StartQuestion::Common => self.pins.unwrap_or_default(),
        }
    }

    /// Takes a number. 0 leaves; where one probe stays on no pin, it says that.
    pub fn answer(&mut self, number: u16) -> Next {
        let place = usize::from(number).checked_sub(1);
        match (self.question, place) {
            // In pairs, an odd one would be left over.
            (StartQuestion::Common, None) if self.pins.is_some_and(|pins| pins % 2 == 1) => {
                Next::NoSuchNumber
            }
            (StartQuestion::Common, _) if number <= self.most() => {
                let common = Some(number).filter(|pin| *pin > 0);
                let count = self.pins.unwrap_or_default();
                self.part = Some(Part::Pins { count, common });
                self.after_part()
            }
            (_, None) => Next::Done(Chosen::Leave),
            _ if number > self.most() => Next::NoSuchNumber,
            (StartQuestion::Offer, Some(place)) => match self.offers[place] {
                Offer::Demo => Next::Done(Chosen::Demo),
                Offer::NewProfile => Next::Done(Chosen::NewProfile),
                Offer::SoundCheck => Next::Done(Chosen::SoundCheck),
                Offer::Practise => Next::Done(Chosen::Practise),
                Offer::WithProfile => self.ask(StartQuestion::Part),
                Offer::WithoutProfile => self.ask(StartQuestion::Pins),
            },
            (StartQuestion::Part, Some(place)) => {
                self.part = Some(Part::Profile(self.parts[place].id.clone()));
                self.after_part()
            }
            // One pin has nothing to be measured against.
            (StartQuestion::Pins, Some(0)) => Next::NoSuchNumber,
            (StartQuestion::Pins, Some(_)) => {
                self.pins = Some(number);
                self.ask(StartQuestion::Common)
            }
            (StartQuestion::Common, Some(_)) => Next::NoSuchNumber,
            (StartQuestion::Meter, Some(place)) => {
                self.meter = Some(self.meters[place].id.clone());
                self.done()
            }
        }
    }

    fn ask(&mut self, question: StartQuestion) -> Next {
        self.question = question;
        Next::Ask
    }

    fn after_part(&mut self) -> Next {
        if self.meter.is_some() { self.done() } else { self.ask(StartQuestion::Meter) }
    }

    fn done(&mut self) -> Next {
        match (self.part.clone(), self.meter.clone()) {
            (Some(part), Some(meter)) => Next::Done(Chosen::Session { part, meter }),
            (None, _) => self.ask(StartQuestion::Part),
            (Some(_), None) => self.ask(StartQuestion::Meter),
        }
    }
}

#[cfg(test)]
mod tests;
