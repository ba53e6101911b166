//! Owns the checked profile and meter: what the rest of the program trusts without looking again.

use crate::quantity::{Celsius, Ohms, Unit, Volts};
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

macro_rules! names {
    ($($(#[$doc:meta])* $name:ident;)*) => {$(
        $(#[$doc])*
        #[derive(Debug, Clone, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize, JsonSchema)]
        #[serde(transparent)]
        pub struct $name(pub String);

        impl $name {
            /// The name as text.
            #[must_use]
            pub fn as_str(&self) -> &str {
                &self.0
            }
        }

        impl From<&str> for $name {
            fn from(text: &str) -> Self {
                Self(text.to_owned())
            }
        }

        impl std::fmt::Display for $name {
            fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
                f.pad(&self.0)
            }
        }
    )*};
}

names! {
    /// Identifies a circuit within its profile (`coil-c`).
    CircuitId;
    /// Identifies a family within its profile.
    FamilyId;
    /// Names a pin of the connector, as moulded or printed beside it (`4`, `B2`).
    PinName;
}

/// What is known of a part, checked.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct Profile {
    /// Identifies the profile in journals: lower case letters, digits and dashes.
    pub id: String,
    /// What a person calls the part.
    pub title: String,
    /// True where the part does not exist: shown wherever the profile is shown.
    pub invented: bool,
    /// Where the figures come from.
    pub source: String,
    /// The connector that is probed.
    pub connector: Connector,
    /// Circuits that should read alike.
    pub families: Vec<Family>,
    /// All circuits, in the order in which they are measured.
    pub circuits: Vec<Circuit>,
    /// What has to be confirmed before measuring, in order.
    pub gates: Vec<Gate>,
    /// What has to be confirmed before measuring through the harness, at the control unit's end. Empty: the session's own.
    pub harness_gates: Vec<Gate>,
    /// What has to be confirmed before measuring from a pin to the case. Empty: the session's own.
    pub case_gates: Vec<Gate>,
    /// Codes that a control unit may have stored, and the circuits that they name.
    pub codes: Vec<KnownCode>,
    /// Highest sound voltage drops anywhere on this part's wiring; a circuit's own go before these.
    pub drop_limits: DropLimits,
    /// Whether nobody knows which circuits are alike: families are then found from the readings.
    pub families_from_readings: bool,
    /// Cautions to be shown and spoken at the start.
    pub cautions: Vec<String>,
    /// Further checks worth doing on this part, for the conclusion.
    pub further_checks: Vec<String>,
    /// SHA-256 of the file as read, in hexadecimal: ties a journal to the text that it was measured with.
    pub fingerprint: String,
}

impl Profile {
    /// The circuit of that name.
    #[must_use]
    pub fn circuit(&self, id: &CircuitId) -> Option<&Circuit> {
        self.circuits.iter().find(|circuit| circuit.id == *id)
    }

    /// The family of that name.
    #[must_use]
    pub fn family(&self, id: &FamilyId) -> Option<&Family> {
        self.families.iter().find(|family| family.id == *id)
    }

    /// The circuits of a family, in profile order.
    pub fn members<'a>(&'a self, id: &'a FamilyId) -> impl Iterator<Item = &'a Circuit> + 'a {
        self.circuits.iter().filter(move |circuit| circuit.family.as_ref() == Some(id))
    }
}

/// The connector, as seen from the side that is probed.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct Connector {
    /// What a person calls it.
    pub title: String,
    /// From where the pins are drawn, in words ("looking into the pins of the part").
    pub seen_from: String,
    /// The pins, in file order.
    pub pins: Vec<Pin>,
}

/// One pin.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct Pin {
    /// Its name.
    pub name: PinName,
    /// Row, 1 at the top, as seen from the probing side; 0 where nobody knows its place.
    pub row: u8,
    /// Place in the row, 1 at the left; 0 where nobody knows its place.
    pub column: u8,
    /// What it is for, where known.
    pub label: Option<String>,
}

impl Pin {
    /// Whether its place on the connector is known.
    #[must_use]
    pub fn is_placed(&self) -> bool {
        self.row > 0 && self.column > 0
    }
}

impl Connector {
    /// Whether no pin has a place: it is shown as a list then.
    #[must_use]
    pub fn is_list(&self) -> bool {
        !self.pins.iter().any(Pin::is_placed)
    }
}

/// Circuits that should read alike and are each other's reference.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct Family {
    /// Its name.
    pub id: FamilyId,
    /// What a person calls it ("coils A to H").
    pub title: String,
    /// How far sound members may differ from their common value, in percent of it (maker's tolerance, half-width).
    pub tolerance_percent: f64,
    /// Bound on how much probe contact alone changes a reading (half-width).
    pub contact: Ohms,
}

/// One circuit: two pins and what is between them.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct Circuit {
    /// Its name in files.
    pub id: CircuitId,
    /// Its name for people, spoken and shown ("coil C").
    pub name: String,
    /// What it is made of, for temperature.
    pub kind: CircuitKind,
    /// The pin that is probed.
    pub pin: PinName,
    /// The pin it is measured against, often common to many circuits.
    pub against: PinName,
    /// The family it belongs to.
    pub family: Option<FamilyId>,
    /// What a sound one reads, where known.
    pub window: Option<Window>,
    /// A part across the circuit that changes what an open coil reads.
    pub suppression: Option<Suppression>,
    /// A reading to the case below this is leakage. None: reported, not judged.
    pub case_limit: Option<Ohms>,
    /// Why no ohmmeter may touch it (pyrotechnic, high voltage, active electronics). Never asked for then.
    pub never_ohmmeter: Option<String>,
    /// Whether battery voltage is switched straight onto it, so that I = V/R holds.
    pub directly_switched: bool,
    /// Supply voltage in use, for directly switched circuits.
    pub supply: Option<Volts>,
    /// The wires between component and control unit, where known.
    pub harness: Option<Harness>,
    /// Its two pins in the control unit's plug, where known: what is probed through the harness.
    pub at_control: Option<ControlPins>,
    /// Highest sound voltage drops on its way: its own, else its family's, else the profile's.
    pub drop_limits: DropLimits,
}

impl Circuit {
    /// What its reading is spoken of by where another circuit is probed at the same pin: both ends, `2-3`.
    #[must_use]
    pub fn ends(&self) -> PinName {
        PinName(format!("{}-{}", self.pin, self.against))
    }

    /// Whether a pin, or both ends as in [`Circuit::ends`], means this circuit.
    #[must_use]
    pub fn is_at(&self, pin: &PinName) -> bool {
        let asked = pin.as_str();
        self.pin.as_str().eq_ignore_ascii_case(asked) || self.ends().as_str().eq_ignore_ascii_case(asked)
    }
}

/// What a circuit is made of: how its resistance changes with temperature.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub enum CircuitKind {
    /// A copper winding (valve coil, motor winding, inductive sensor).
    CopperCoil,
    /// A conductor with a linear temperature coefficient at 20 °C, per kelvin.
    Linear {
        /// α at 20 °C in 1/K.
        alpha_per_k: f64,
    },
    /// A resistor that hardly changes with temperature.
    Resistor,
    /// A platinum sensor after IEC 60751.
    Platinum {
        /// Resistance at 0 °C.
        r0: Ohms,
    },
    /// A thermistor by the B-equation.
    Thermistor {
        /// Resistance at the reference temperature.
        r_ref: Ohms,
        /// The reference temperature.
        t_ref: Celsius,
        /// B in kelvin.
        b_k: f64,
    },
    /// A thermistor by table, temperatures rising, interpolated in ln R against 1/T.
    ThermistorTable {
        /// Pairs of temperature and resistance.
        points: Vec<(Celsius, Ohms)>,
    },
    /// Two wires of a terminated data bus (60 Ω = two terminators, ISO 11898-2).
    DataBus,
    /// A plain connection: feed, earth or return.
    Wire,
}

/// What a sound circuit reads at a reference temperature.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct Window {
    /// The lowest sound value.
    pub low: Ohms,
    /// The highest sound value, above `low`.
    pub high: Ohms,
    /// The part temperature that the limits hold at.
    pub at: Celsius,
    /// Where the limits come from.
    pub source: String,
}

/// What is wired across a coil to quench its switching spike.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub enum Suppression {
    /// A diode: the reading depends on which probe is where.
    Diode,
    /// A resistor: an open coil reads this instead of over range.
    Resistor(Ohms),
}

/// The wires between component and control unit.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct Harness {
    /// Conductor cross-section in square millimetres.
    pub conductor_mm2: f64,
    /// Length of one wire in metres; the loop is twice that.
    pub length_m: f64,
}

/// A circuit's two pins in the plug of the control unit.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct ControlPins {
    /// The one that leads to the circuit's pin.
    pub pin: PinName,
    /// The one that leads to the pin it is measured against.
    pub against: PinName,
}

/// The highest sound voltage drops under load, where somebody says so.
#[derive(Debug, Clone, PartialEq, Default, Serialize, JsonSchema)]
pub struct DropLimits {
    /// Over one joint.
    pub joint: Option<DropLimit>,
    /// Over a wire with its joints.
    pub wire: Option<DropLimit>,
}

/// A limit and who says so.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct DropLimit {
    /// The highest sound drop, above zero.
    pub volts: Volts,
    /// Where it comes from.
    pub source: String,
}

/// A code that a control unit may have stored.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct KnownCode {
    /// Its number, one to six digits, as the scan tool shows it and a keypad types it.
    pub number: String,
    /// The circuit that it names.
    pub circuit: CircuitId,
    /// What it means, in the maker's words.
    pub meaning: Option<String>,
}

/// Something to be made safe and confirmed by a phrase that says what was done.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct Gate {
    /// Its name in the journal.
    pub id: String,
    /// What to do, spoken and shown.
    pub instruction: String,
    /// The phrase that confirms it ("supply off"): words, lower case.
    pub confirm: String,
    /// How many minutes have to pass before it is done: they are timed aloud. None: nothing to wait for.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub wait_minutes: Option<u8>,
}

/// A multimeter as its manual describes it, checked.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct Meter {
    /// Identifies the meter in journals.
    pub id: String,
    /// What a person calls it.
    pub title: String,
    /// True where the meter does not exist.
    pub invented: bool,
    /// Where the figures come from.
    pub source: String,
    /// Measuring category with its voltage ("CAT III 600 V").
    pub category: String,
    /// The ranges, each quantity's from low to high.
    pub ranges: Vec<Range>,
    /// Temperatures between which the accuracy holds.
    pub accurate_from: Celsius,
    /// See [`Meter::accurate_from`].
    pub accurate_to: Celsius,
    /// Further error per kelvin outside of them, as a fraction of the stated accuracy.
    pub drift_per_k: f64,
    /// SHA-256 of the file as read, in hexadecimal.
    pub fingerprint: String,
}

/// One range of a meter. Accuracy: ±(`percent` of the reading + `digits` × `resolution`).
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct Range {
    /// The quantity.
    pub unit: Unit,
    /// The highest value shown, in the unit itself.
    pub full_scale: f64,
    /// One step of the last digit, in the unit itself.
    pub resolution: f64,
    /// Percent of the reading.
    pub percent: f64,
    /// Steps of the last digit.
    pub digits: f64,
}
