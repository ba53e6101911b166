//! Owns the one table of priors and likelihoods that are judgement: `MODEL.md` beside it says what each means and why.

/// Faults of a circuit: rate and weight, without a complaint (mean 0.046).
pub const RATES: [(f64, f64); 3] = [(0.01, 0.60), (0.05, 0.30), (0.25, 0.10)];
/// The same where a stored code tells of a complaint (mean 0.16).
pub const RATES_COMPLAINT: [(f64, f64); 3] = [(0.05, 0.30), (0.15, 0.50), (0.35, 0.20)];
/// Of faults: shorted turns, added resistance, open.
pub const KINDS: [f64; 3] = [0.40, 0.40, 0.20];
/// The smallest fault, as a share of the value.
pub const SMALLEST: f64 = 0.05;
/// The largest added resistance, in multiples of the value.
pub const LARGEST: f64 = 100.0;
/// A fault of this share matters.
pub const MATTERS: f64 = 0.08;
/// The spread of sound members is taken for tolerance / 2.5, by these factors down and up (one sigma).
pub const SPREAD_DOWN: f64 = 2.2;
/// See [`SPREAD_DOWN`].
pub const SPREAD_UP: f64 = 1.6;
/// Weight of a spread that is even and fills the tolerance.
pub const FILLS: f64 = 0.30;
/// Normal and even shape where the spread is unknown.
pub const SHAPES: [f64; 2] = [0.65, 0.35];
/// A whole family off its window.
pub const FAMILY_OFF: f64 = 0.01;
/// One circuit alone off its window by the window's or the profile's fault: the other circuits hold the profile right.
pub const ALONE_OFF: f64 = 0.002;
/// The natural logarithm's span in which a place may lie where nothing says where.
pub const DECADES: f64 = std::f64::consts::LN_10;
/// Several of a family off by one factor.
pub const GROUP: f64 = 0.02;
/// The rate of those that are off, then; how far each is from the factor, as a share of what the factor changes.
pub const GROUP_RATE: f64 = 0.4;
/// See [`GROUP_RATE`].
pub const GROUP_SMEAR: f64 = 0.17;
/// The factors of [`GROUP`].
pub const GROUP_FACTORS: [f64; 14] =
    [0.4, 0.6, 0.75, 0.82, 0.87, 0.905, 0.93, 1.07, 1.095, 1.13, 1.18, 1.25, 1.4, 1.8];
/// Tolerance of a circuit that is in no family, about its own place: the window says the rest.
pub const ALONE: f64 = 0.02;
/// Contact of one probing: its mean is the profile's bound over this.
pub const CONTACT_OF_BOUND: f64 = 2.5;
/// A sound circuit reads over range.
pub const SOUND_OPEN: f64 = 1e-6;
/// A sound circuit wanders: in two probings, in more, with its terminal cleaned, as wire and connector are moved.
pub const SOUND_WANDERS: [f64; 4] = [0.01, 0.002, 0.0005, 0.0003];
/// One that is off does.
pub const OFF_WANDERS: f64 = 0.15;
/// A prefix or the decimal point was said or typed wrongly.
pub const SLIP: f64 = 0.004;
/// A sound circuit reads far from what was learned from earlier parts.
pub const UNLIKE_LEARNED: f64 = 0.01;

/// Hypotheses about what several circuits share, each before any reading.
pub const CLIP_OPEN: f64 = 0.05;
/// The shared pin's terminal open.
pub const PIN_OPEN: f64 = 0.012;
/// What the shared pin leads to, inside, open.
pub const INSIDE_OPEN: f64 = 0.008;
/// A lead or the meter open.
pub const LEAD_BROKEN: f64 = 0.01;
/// The clip on the shared pin comes and goes.
pub const CLIP_LOOSE: f64 = 0.005;
/// Resistance at the clip, in the shared pin's terminal, inside.
pub const RETURN: [f64; 3] = [0.010, 0.006, 0.004];
/// The lead zero wrong by one amount.
pub const ZERO: f64 = 0.03;
/// The temperature of the part other than said.
pub const TEMPERATURE: f64 = 0.015;
/// How far off it is then, in kelvin: the density falls by e over so much; but any is as likely with so much.
pub const TEMPERATURE_FALLS: f64 = 40.0;
/// See [`TEMPERATURE_FALLS`].
pub const TEMPERATURE_ANY: f64 = 0.3;
/// Two circuits joined; three or four.
pub const JOINED: [f64; 3] = [0.01, 0.003, 0.001];
/// Two circuits read in each other's place.
pub const SWAPPED: f64 = 0.01;
/// One circuit to case; the shared pin to case; several one by one.
pub const TO_CASE: [f64; 3] = [0.01, 0.003, 0.0005];
/// Two that read nothing apart though each reads sound: the probes slipped; they were joined when it was read.
pub const RELATION_SLIP: f64 = 0.01;
/// See [`RELATION_SLIP`].
pub const JOINED_AT_TIMES: f64 = 0.005;
/// A wire or terminal of the harness off; a wire that many share.
pub const WIRE: f64 = 0.03;
/// See [`WIRE`].
pub const WIRE_SHARED: f64 = 0.02;
/// All read as nothing: one short or the probes on each other.
pub const ALL_SHORTED: f64 = 0.01;
/// How far true leads lie, in ohms: their density falls by e over so much.
pub const LEADS_FALL: f64 = 0.5;
/// What the prior of a wrong lead zero is multiplied by where the leads were read again and showed the same.
pub const ZERO_REPEATED: f64 = 0.1;
/// Without a limit of the profile less than this to case is a path to it, in ohms (chosen here: no insulation has so little).
pub const CASE_ASSUMED: f64 = 1000.0;
