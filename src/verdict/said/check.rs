//! Owns what is worth doing next, and why.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// What to do next.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum NextStep {
    /// Read again in a higher range.
    HigherRange {
        /// The circuit's name.
        circuit: String,
    },
    /// Read a circuit that reads, with the same leads.
    KnownGood {
        /// The circuit's name.
        circuit: String,
    },
    /// Clean the terminal and read again.
    Clean {
        /// The circuit's name.
        circuit: String,
    },
    /// Clean it once more.
    CleanMore {
        /// The circuit's name.
        circuit: String,
    },
    /// Probe once more.
    ProbeOnceMore {
        /// The circuit's name.
        circuit: String,
    },
    /// Measure at the part.
    AtThePart {
        /// The circuit's name.
        circuit: String,
    },
    /// Move wire and connector while reading.
    Wiggle {
        /// The circuit's name.
        circuit: String,
    },
    /// Read another circuit with the same common pin.
    SamePin {
        /// The circuit's name.
        circuit: String,
    },
    /// Hold the probes together.
    ZeroLeads,
    /// Try other leads.
    OtherLeads,
    /// Read it.
    Read {
        /// The circuit's name.
        circuit: String,
    },
    /// Read it again, and say the unit.
    SayUnit {
        /// The circuit's name.
        circuit: String,
    },
    /// Take the probe off the common pin and put it on again.
    Reseat {
        /// The pin.
        pin: String,
        /// The circuit to read then.
        circuit: String,
    },
    /// Two circuits in a row, from pin to pin.
    InARow {
        /// From this pin.
        from: String,
        /// To that one.
        to: String,
        /// The circuit at the one.
        first: String,
        /// The circuit at the other.
        second: String,
    },
    /// From one circuit's pin to the other's.
    Between {
        /// From this pin.
        from: String,
        /// To that one.
        to: String,
        /// The circuit at the one.
        first: String,
        /// The circuit at the other.
        second: String,
    },
    /// Take the temperature of the part.
    Temperature,
    /// Measure through the harness.
    ThroughHarness {
        /// The circuit's name.
        circuit: String,
    },
    /// Measure to the case.
    ToCase {
        /// The circuit's name.
        circuit: String,
    },
    /// The wires by themselves, then under load.
    WiresUnderLoad {
        /// The circuit's name.
        circuit: String,
    },
}

/// Why it is worth doing.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum NextWhy {
    /// Over the set range says little.
    OnlyMore,
    /// A number shows that leads and common pin are whole.
    LeadsWholeAndOpen {
        /// The circuit that is open then.
        circuit: String,
    },
    /// Over range may be the contact.
    MayBeContact,
    /// Twice over range makes it open.
    TwiceIsOpen,
    /// Cleaning made it less.
    CleaningHelped,
    /// A bad contact reads like a bad part.
    ContactReadsLikePart,
    /// It tells the part from its wires.
    PartFromWires,
    /// A number that changes is an intermittent contact.
    MovedIsIntermittent,
    /// A number shows that leads and common pin are whole.
    LeadsWhole,
    /// Nothing else shows that the leads are whole.
    NothingShowsLeads,
    /// Not read yet.
    NotReadYet,
    /// Another prefix or point would make it like the others.
    OtherPoint,
    /// The contact at the common pin, and not the circuits.
    CommonPinNotCircuits,
    /// The sum of both shows that they are whole.
    SumIsWhole,
    /// Next to nothing: joined.
    NothingIsJoined,
    /// Leads never have that much.
    LeadsNeverThat,
    /// Less than nothing is left.
    LessThanNothing,
    /// The leads read otherwise each time.
    LeadsUnsteady,
    /// Something moved.
    Moved,
    /// The leads were not measured.
    LeadsUnknown,
    /// Nothing at all reads.
    NothingReads,
    /// All read as nothing.
    AllNothing,
    /// It tells a lead or its zero from the circuits.
    LeadFromCircuits,
    /// Without it the window is too wide.
    WindowTooWide,
    /// Many are off, as temperature would do.
    LikeTemperature,
    /// A code names it, and it was not read.
    CodeNotRead,
    /// A code names it, and it is sound at the part.
    CodeWiresNext,
    /// Sound at both ends.
    CaseIsLeft,
    /// The control unit is named only after these.
    BeforeControlUnit,
    /// The profile names it.
    ByProfile,
}
