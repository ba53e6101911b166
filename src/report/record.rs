//! Owns what a report is made from: one value that holds the whole session, filled by the fold over its journal.

use super::{Again, JudgedBy, Stamp};
use crate::{
    journal::{Ending, JobDetails},
    profile::{CircuitId, Meter, Profile},
    quantity::{Celsius, Interval, Reading},
    session::Opinion,
    verdict::{Contact, Further, Judgement, Leads, Saying, Station, StoredCode},
};
use jiff::{Timestamp, tz::TimeZone};
use schemars::JsonSchema;
use serde::{Deserialize, Serialize, Serializer};

/// A whole session, ready to be shown.
#[derive(Debug, Clone, PartialEq, Serialize, schemars::JsonSchema)]
pub struct Record {
    /// Name of the session: the journal's file name without its ending.
    pub session: String,
    /// What the person called the job (order number, vehicle), free text.
    pub job: Option<String>,
    /// What else is known of the job: who, vehicle, order, serial numbers.
    pub details: JobDetails,
    /// Hash of the journal's last line when the record was made, which stands for the whole journal (`bothhands verify --hash`).
    /// None: the journal is not protected, a change of it would not show.
    pub mark: Option<String>,
    /// Version of the program that took the readings.
    pub program: String,
    /// The profile that was measured with.
    pub profile: Profile,
    /// The meter that was measured with.
    pub meter: Meter,
    /// Ways in that were open ("voice and keys").
    pub ways: String,
    /// True where a simulated technician took part: stamped on every form of the report.
    pub simulated: bool,
    /// When the session was opened.
    #[schemars(with = "String")]
    pub begun: Timestamp,
    /// When its last line was written.
    #[schemars(with = "String")]
    pub ended: Timestamp,
    /// How it stands.
    #[serde(serialize_with = "ending_word")]
    #[schemars(with = "EndingWord")]
    pub ending: Ending,
    /// The zone that times are shown in. Machine-readable forms keep UTC.
    #[serde(skip)]
    pub zone: TimeZone,
    /// Safety confirmations, in the order given; those taken anew after a break are listed again.
    pub confirmations: Vec<Confirmation>,
    /// What was known of the leads, each time it was taken.
    pub leads: Vec<LeadZero>,
    /// What was known of the part's temperature, each time it was said.
    pub temperatures: Vec<PartTemperature>,
    /// Codes stored by a control unit.
    pub codes: Vec<StoredCode>,
    /// All readings in the order taken, withdrawn ones included.
    pub readings: Vec<Taken>,
    /// What was observed beyond the readings of circuits, references learned from earlier vehicles included.
    pub further: Further,
    /// Other things worth knowing, in order: pauses, resumption, sound that was lost.
    pub notes: Vec<Note>,
    /// Who judged, and when.
    pub judged: JudgedBy,
    /// What it amounts to.
    pub judgement: Judgement,
    /// Today's view beside it, where that was asked for.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub again: Option<Again>,
}

/// The words of [`ending_word`], for the schema.
#[derive(schemars::JsonSchema)]
#[serde(rename_all = "kebab-case")]
#[expect(dead_code, reason = "only its schema is used")]
enum EndingWord {
    /// The journal ends without an end.
    BrokenOff,
    /// Stopped before a conclusion.
    Stopped,
    /// Concluded.
    Concluded,
}

fn ending_word<S: Serializer>(ending: &Ending, serializer: S) -> Result<S::Ok, S::Error> {
    serializer.serialize_str(match ending {
        Ending::BrokenOff => "broken-off",
        Ending::Stopped => "stopped",
        Ending::Concluded => "concluded",
    })
}

/// How something came in: who wants to doubt it can listen again.
#[derive(Debug, Clone, PartialEq, Default, Serialize, schemars::JsonSchema)]
pub struct Intake {
    /// By which way.
    pub way: Way,
    /// What was typed, as typed, or what the meter sent, as sent.
    pub typed: Option<String>,
    /// What each decoding heard, the first one first.
    pub opinions: Vec<Opinion>,
    /// File name of the sound clip in `clips/` beside the journal.
    pub clip: Option<String>,
}

/// A way in.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, schemars::JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Way {
    /// Spoken.
    #[default]
    Voice,
    /// Typed, or pressed on a keypad or pedal.
    Keys,
    /// Sent by the meter on its line.
    Meter,
    /// Read from a file.
    File,
}

/// A safety gate that was confirmed.
#[derive(Debug, Clone, PartialEq, Serialize, schemars::JsonSchema)]
pub struct Confirmation {
    /// When.
    #[schemars(with = "String")]
    pub at: Timestamp,
    /// The gate's name in the profile.
    pub gate: String,
    /// What was asked for.
    pub instruction: String,
    /// The phrase that confirmed it.
    pub phrase: String,
    /// How it came in.
    pub intake: Intake,
}

/// What was known of the leads from a time on.
#[derive(Debug, Clone, PartialEq, Serialize, schemars::JsonSchema)]
pub struct LeadZero {
    /// From when.
    #[schemars(with = "String")]
    pub at: Timestamp,
    /// What the probes held together showed, or why nothing is taken off.
    pub leads: Leads,
    /// How it came in.
    pub intake: Intake,
}

/// What was known of the part's temperature from a time on.
#[derive(Debug, Clone, PartialEq, Serialize, schemars::JsonSchema)]
pub struct PartTemperature {
    /// From when.
    #[schemars(with = "String")]
    pub at: Timestamp,
    /// The interval. None: said to be unknown.
    pub interval: Option<Interval<Celsius>>,
    /// How it came in.
    pub intake: Intake,
}

/// One reading as taken.
#[derive(Debug, Clone, PartialEq, Serialize, schemars::JsonSchema)]
pub struct Taken {
    /// Number of the measurement, as findings and reasons refer to it.
    pub id: u32,
    /// Line of the journal that it came in with.
    pub seq: u64,
    /// When.
    #[schemars(with = "String")]
    pub at: Timestamp,
    /// Which circuit.
    pub circuit: CircuitId,
    /// Where.
    pub station: Station,
    /// What the meter showed.
    pub reading: Reading,
    /// How contact was made.
    pub contact: Contact,
    /// How it came in.
    pub intake: Intake,
    /// Why it was asked again or what else is to be known about it.
    pub remarks: Vec<Saying<ReadingRemark>>,
    /// The correction that withdrew it; it is shown and not judged then.
    pub withdrawn: Option<Withdrawal>,
}

/// How a reading was withdrawn.
#[derive(Debug, Clone, PartialEq, Serialize, schemars::JsonSchema)]
pub struct Withdrawal {
    /// When.
    #[schemars(with = "String")]
    pub at: Timestamp,
    /// By what.
    pub correction: Correction,
    /// The reading that took its place, once there was one.
    pub replaced_by: Option<u32>,
    /// How the correction came in.
    pub intake: Intake,
}

/// What withdrew a reading.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, schemars::JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Correction {
    /// "wrong", right after it was read back.
    Wrong,
    /// "change", later.
    Change,
}

/// Something else worth knowing.
#[derive(Debug, Clone, PartialEq, Serialize, schemars::JsonSchema)]
pub struct Note {
    /// When.
    #[schemars(with = "String")]
    pub at: Timestamp,
    /// What it says.
    pub text: Saying<Noted>,
}

/// What is to be known about a reading.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum ReadingRemark {
    /// The first circuit once more.
    FirstAgain,
    /// Read again.
    ReadAgain,
    /// It shows that the leads are whole.
    LeadsWhole,
    /// A sound circuit for comparison.
    ForComparison,
    /// At another station, as proposed.
    OtherStation,
    /// Left out.
    LeftOut,
}

/// What is worth knowing beside readings.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Noted {
    /// Gone on with after a break.
    GoneOn,
    /// The clock was set back.
    ClockBack {
        /// By so many seconds.
        seconds: u64,
    },
    /// The clock was set ahead, or the machine slept.
    ClockAhead {
        /// By so many seconds.
        seconds: u64,
    },
    /// Sound clips were taken away on purpose.
    ClipsForgotten {
        /// How many.
        clips: usize,
    },
    /// Lines are lost.
    LinesLost {
        /// How many.
        lines: usize,
        /// Of which journal.
        journal: String,
    },
    /// No code is stored, or that was left out.
    NoCodes,
    /// The last line was cut off.
    CutOff,
}

impl Record {
    /// What has to be known before a figure of this record is believed: invented data, a simulated technician, no
    /// conclusion. Empty for a finished session on a real part.
    #[must_use]
    pub fn stamps(&self) -> Vec<Stamp> {
        let unfinished = match self.ending {
            Ending::BrokenOff => Some(Stamp::BrokenOff),
            Ending::Stopped => Some(Stamp::Stopped),
            Ending::Concluded => None,
        };
        let stamps = [
            self.simulated.then_some(Stamp::Simulated),
            self.profile.invented.then_some(Stamp::InventedPart),
            self.meter.invented.then_some(Stamp::InventedMeter),
            unfinished,
        ];
        stamps.into_iter().flatten().collect()
    }
}
