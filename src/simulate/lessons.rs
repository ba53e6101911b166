//! Owns the lessons of the practice bench, from easy to hard, and what the bench says.

use super::bench::{BenchFault, Probes, Score, Truth};
use crate::quantity::Reading;
use schemars::JsonSchema;
use serde::Serialize;

/// A lesson.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Lesson {
    /// The profile, by name.
    pub profile: &'static str,
    /// What may be wrong.
    pub kinds: &'static [BenchFault],
    /// How many circuits are faulty.
    pub faults: usize,
    /// What it is about.
    pub about: LessonAbout,
}

/// What a lesson is about.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum LessonAbout {
    /// One coil of four is open.
    OneOpen,
    /// One coil of eight has too few ohms.
    TooFew,
    /// What reads too much may be its terminal.
    Dirt,
    /// Sound or not.
    SoundOrNot,
    /// Two faults at once.
    Two,
    /// Sensors that change with temperature.
    Sensors,
}

/// The lessons, from easy to hard.
pub const LESSONS: [Lesson; 6] = [
    Lesson { profile: "four-injectors", kinds: &[BenchFault::Open], faults: 1, about: LessonAbout::OneOpen },
    Lesson {
        profile: "sweeper-valve-block",
        kinds: &[BenchFault::ShortedTurns],
        faults: 1,
        about: LessonAbout::TooFew,
    },
    Lesson {
        profile: "sweeper-valve-block",
        kinds: &[BenchFault::DirtyTerminal],
        faults: 1,
        about: LessonAbout::Dirt,
    },
    Lesson {
        profile: "four-injectors",
        kinds: &[BenchFault::DirtyTerminal, BenchFault::BadJoint],
        faults: 1,
        about: LessonAbout::SoundOrNot,
    },
    Lesson {
        profile: "sweeper-valve-block",
        kinds: &[BenchFault::Open, BenchFault::Shorted, BenchFault::ShortedTurns, BenchFault::DirtyTerminal],
        faults: 2,
        about: LessonAbout::Two,
    },
    Lesson {
        profile: "temperature-sensors",
        kinds: &[BenchFault::Open, BenchFault::BadJoint],
        faults: 1,
        about: LessonAbout::Sensors,
    },
];

/// What the bench says.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum BenchLine {
    /// That all of it is simulated, and how it goes.
    Hello {
        /// The part.
        part: String,
        /// Its temperature in whole degrees Celsius.
        degrees: i64,
    },
    /// A lesson in the list.
    Lesson {
        /// Its number.
        number: usize,
        /// What it is about.
        about: LessonAbout,
        /// Its profile.
        profile: String,
    },
    /// What the meter shows.
    Display(Reading),
    /// Nothing is on the probes.
    NothingShown,
    /// Where the probes are.
    Probes(Probes),
    /// What would you replace?
    YourVerdict,
    /// No such circuit.
    NoCircuit {
        /// What was typed.
        typed: String,
    },
    /// What was wrong.
    Truth {
        /// Each fault.
        faults: Vec<Truth>,
    },
    /// What practising came to.
    Score(Score),
}
