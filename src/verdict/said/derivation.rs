//! Owns how a finding was worked out: steps with the numbers put in, the lines of a budget, and what else is to be known.

use crate::{
    quantity::{Decimal, Reading},
    verdict::{Class, Station},
};
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// What a step of a derivation computes.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum StepName {
    /// The readings used.
    Readings,
    /// Whether the range reached far enough.
    Range,
    /// Whether the contact was checked.
    ContactCheck,
    /// How far it wandered.
    Wander,
    /// The mean of several.
    Mean,
    /// The leads taken off.
    LeadsOff,
    /// The standard uncertainties.
    StandardUncertainties,
    /// The expanded uncertainty.
    Uncertainty,
    /// The limits at the part's temperature.
    Limits,
    /// The value against them.
    AgainstTheWindow,
    /// What the family leads to expect.
    Expectation,
    /// The value against that.
    AgainstTheFamily,
    /// The class.
    Verdict,
}

/// A reading that was used, with how contact was made.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum ReadingUsed {
    /// As usual.
    Usual {
        /// Its number.
        id: u32,
        /// What was shown.
        reading: Reading,
    },
    /// With the terminal cleaned.
    Cleaned {
        /// Its number.
        id: u32,
        /// What was shown.
        reading: Reading,
    },
    /// While wire or connector were moved.
    Moved {
        /// Its number.
        id: u32,
        /// What was shown.
        reading: Reading,
    },
}

/// Why a number is called wandering.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum WanderWhy {
    /// The display did not settle.
    Display,
    /// Repeats lie further apart than meter and contact explain.
    Repeats,
    /// It changed when it was moved.
    Moved,
}

/// The temperature that limits hold at.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum LimitsAt {
    /// Not known; somewhere between.
    Unknown {
        /// From.
        low: f64,
        /// To.
        high: f64,
    },
    /// This one.
    Exactly {
        /// In degrees Celsius.
        celsius: f64,
    },
    /// Somewhere between.
    Between {
        /// From.
        low: f64,
        /// To.
        high: f64,
    },
}

/// By what a resistance changes with temperature.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum WarmthRule {
    /// Copper.
    Copper,
    /// A coefficient.
    Coefficient,
    /// The curve of platinum.
    Platinum,
    /// The B-equation.
    BEquation,
    /// A table.
    Table,
    /// Not at all.
    None,
}

/// How a value stands to its limits.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum WindowStand {
    /// Inside by more than U, whatever is not known.
    Within,
    /// Inside, but closer than U to a limit.
    WithinDoubtful,
    /// Outside, but closer than U to a limit.
    OutsideDoubtful,
    /// Outside by more than U, whatever is not known.
    Outside,
}

/// How a value stands to its family.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum FamilyStand {
    /// Like the others.
    Like,
    /// Unlike others that agree among themselves.
    Unlike,
    /// There is disagreement, and nothing says which is right.
    Undecided,
    /// There are no others.
    Alone,
}

/// A probability: never none and never all, since no reading is that sure.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Likelihood {
    /// Less than that.
    Under(Decimal),
    /// More than that.
    Over(Decimal),
    /// That.
    About(Decimal),
}

/// By how much a sound member of a family differs.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum MemberDiffers {
    /// As the family itself shows.
    AsSeen {
        /// By so much.
        own: f64,
    },
    /// By its tolerance and what is random in a reading.
    ByTolerance {
        /// The tolerance.
        percent: f64,
        /// Of this mean.
        mean: f64,
        /// What is random.
        random: f64,
        /// Together.
        own: f64,
    },
}

/// The window's middle, weighed with what the others read.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct WindowWeighed {
    /// The middle.
    pub middle: f64,
    /// Its standard uncertainty.
    pub standard: f64,
    /// What comes of it.
    pub expected: f64,
    /// The standard uncertainty of that.
    pub of_expected: f64,
}

/// Why a class is what it is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum ClassReason {
    /// Temperature or leads are not known well enough.
    NotKnownWell,
    /// There is nothing to judge by yet.
    NothingYet,
    /// Nothing is left with the leads off.
    NothingLeft,
    /// Still so with the terminal cleaned.
    StillSo,
}

/// A step of a derivation, with its numbers.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Derived {
    /// No reading was taken.
    NoneTaken,
    /// The readings used.
    Readings {
        /// Where.
        station: Station,
        /// Which.
        readings: Vec<ReadingUsed>,
    },
    /// The range ends too low.
    RangeTooLow {
        /// Where it ends, in ohms.
        ends: f64,
    },
    /// How far the contact check is.
    ContactCheck {
        /// How often over range since the terminal was cleaned.
        over: usize,
        /// Whether another circuit read with the same leads afterwards.
        proven: bool,
    },
    /// It wandered.
    Wander {
        /// Why it is called so.
        why: WanderWhy,
        /// From, in ohms.
        low: Option<f64>,
        /// To.
        high: Option<f64>,
    },
    /// The mean.
    Mean {
        /// In ohms.
        ohms: f64,
        /// Of how many.
        count: usize,
    },
    /// The leads taken off.
    LeadsOff {
        /// What was shown.
        shown: f64,
        /// What the leads have.
        leads: f64,
        /// What is left.
        left: f64,
    },
    /// The meter took the leads off.
    LeadsRelative {
        /// What is left.
        left: f64,
    },
    /// The leads were not measured.
    LeadsUnknown {
        /// The circuit has from.
        low: f64,
        /// To.
        high: f64,
        /// The most that leads are taken for.
        most: f64,
    },
    /// One line of the budget.
    Budget {
        /// What contributes.
        source: UncertaintySource,
        /// Its standard uncertainty.
        ohms: f64,
        /// How it was evaluated.
        how: Evaluated,
    },
    /// One and another.
    Then {
        /// The first.
        first: Box<Derived>,
        /// The second.
        then: Box<Derived>,
    },
    /// The expanded uncertainty.
    Uncertainty {
        /// Combined standard uncertainty.
        standard: f64,
        /// Expanded.
        expanded: f64,
    },
    /// The limits.
    Limits {
        /// The lower one as published.
        low: f64,
        /// The upper one.
        high: f64,
        /// At how many degrees Celsius.
        at: f64,
        /// By whom.
        source: String,
        /// The lower one now.
        low_now: f64,
        /// The upper one now.
        high_now: f64,
        /// The temperature now.
        now: LimitsAt,
        /// By what they change.
        rule: WarmthRule,
    },
    /// Against the window.
    AgainstTheWindow {
        /// How it stands.
        stand: WindowStand,
        /// The probability of conformity.
        conforming: Likelihood,
    },
    /// What the others lead to expect.
    Expectation {
        /// How many agree.
        agreeing: usize,
        /// Their mean.
        mean: f64,
        /// The window's middle weighed in.
        window: Option<WindowWeighed>,
        /// By how much a sound member differs.
        member: MemberDiffers,
        /// The same as a number.
        own: f64,
        /// Uncertainty of what is expected.
        of_expected: f64,
        /// Both together.
        scale: f64,
    },
    /// Against the family.
    AgainstTheFamily {
        /// The value.
        value: f64,
        /// What is expected.
        expected: f64,
        /// The scale of the score.
        scale: f64,
        /// The score.
        score: Decimal,
        /// Its limit.
        limit: Decimal,
        /// How it stands.
        stand: FamilyStand,
    },
    /// The class.
    Verdict {
        /// Which.
        class: Class,
        /// Why.
        because: Option<ClassReason>,
    },
}

/// What contributes to an uncertainty.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum UncertaintySource {
    /// The meter.
    Meter,
    /// The leads.
    Leads,
    /// Repeats.
    Repeats,
    /// The contact.
    Contact,
    /// The last digit.
    LastDigit,
}

/// What a meter's manual says about one value.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct MeterAccuracy {
    /// Percent of the reading.
    pub percent: f64,
    /// Steps of the range.
    pub digits: f64,
    /// One step.
    pub step: f64,
    /// What both are multiplied by outside of the meter's temperatures.
    pub widened: Option<Decimal>,
    /// Half-width of the error.
    pub half: f64,
    /// Whether a meter file says so.
    pub from_file: bool,
}

/// How a line of a budget was evaluated.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Evaluated {
    /// From the meter's accuracy.
    Meter {
        /// What it is.
        accuracy: MeterAccuracy,
    },
    /// From the leads.
    Leads {
        /// What was taken off.
        ohms: f64,
    },
    /// From repeats.
    Repeats {
        /// Their standard deviation.
        deviation: f64,
        /// How many.
        count: usize,
    },
    /// From the bound of a contact.
    Contact {
        /// The bound.
        bound: f64,
        /// Of how many readings the mean was taken.
        count: usize,
    },
    /// From the last digit.
    LastDigit {
        /// One step.
        step: f64,
        /// Of how many readings the mean was taken.
        count: usize,
    },
}

/// What else is to be known of a finding.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum FindingNote {
    /// It was unsteady before.
    UnsteadyBefore,
    /// Cleaning changed it.
    CleaningChanged,
    /// Only the family could judge it.
    FamilyOnly,
    /// The wires of the bus are joined.
    BusJoined,
    /// More than two terminators.
    BusMore,
    /// One terminator is missing.
    BusOneMissing,
    /// Both are missing.
    BusBothMissing,
    /// Neither one nor two.
    BusNeither,
    /// The current that it draws.
    Draws {
        /// At this voltage.
        volts: f64,
        /// So much.
        amperes: f64,
    },
    /// It reads its suppression resistor alone.
    ResistorAlone {
        /// What that has.
        ohms: f64,
    },
    /// Read it both ways round.
    DiodeBothWays,
}

/// What a textbook test of outliers says. It does not decide.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum OutlierTest {
    /// Grubbs' test.
    Grubbs {
        /// Its figure.
        g: Decimal,
        /// The critical one.
        critical: Decimal,
        /// Whether it is an outlier.
        outlier: bool,
    },
    /// The generalised test of extreme deviates.
    Esd {
        /// How many outliers it finds.
        outliers: usize,
    },
}
