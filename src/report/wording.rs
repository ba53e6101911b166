//! Owns the words and number forms that all reports share, so that page, table and terminal never differ.

use super::{Correction, Record, Taken, Way, Withdrawal};
use crate::{
    profile::{Circuit, CircuitId, CircuitKind, Profile},
    quantity::{Celsius, Interval, Ohms, Reading, Shown},
    verdict::{Cause, Contact, Finding, Leads, PatternKind, Station},
};
use jiff::Timestamp;

/// Stands at the end of every report.
pub(super) const AN_AID: &str = "This record and its conclusion are an aid to the person who decides, not an approval. \
     The vehicle maker's service information, local codes and licensed practice come first.";

/// Text of people and files made harmless for showing in one line: what moves cursors or turns the direction of
/// writing around becomes a visible replacement sign, line ends become blanks.
pub(super) fn plain(text: &str) -> String {
    let shown = |c: char| match c {
        '\n' | '\r' | '\t' => ' ',
        '\u{202a}'..='\u{202e}' | '\u{2066}'..='\u{2069}' | '\u{200e}' | '\u{200f}' => '\u{fffd}',
        c if c.is_control() => '\u{fffd}',
        c => c,
    };
    text.trim().chars().map(shown).collect()
}

/// A resistance with as many digits as its uncertainty (two significant ones) bears: `5.183 ± 0.062 Ω`.
pub(super) fn with_uncertainty(value: Ohms, uncertainty: Option<Ohms>) -> String {
    let (value, uncertainty) = (value.get(), uncertainty.map_or(0.0, Ohms::get));
    if uncertainty <= 0.0 {
        return ohms(value);
    }
    let (factor, unit) = scale(value.abs().max(uncertainty));
    let (value, uncertainty) = (value / factor, uncertainty / factor);
    let places = places(uncertainty, 2);
    format!("{} ± {uncertainty:.places$} {unit}", signed(value, places))
}

/// A resistance with four significant digits.
pub(super) fn ohms(value: f64) -> String {
    let (factor, unit) = scale(value.abs());
    let value = value / factor;
    format!("{} {unit}", signed(value, places(value, 4).min(3)))
}

/// `4.80 to 5.60 Ω`, both ends alike.
pub(super) fn ohm_span(span: Interval<Ohms>) -> String {
    let (low, high) = (span.low.get(), span.high.get());
    let (factor, unit) = scale(high.abs());
    let places = places(high / factor, 3).min(3);
    format!("{} to {} {unit}", signed(low / factor, places), signed(high / factor, places))
}

fn scale(size: f64) -> (f64, &'static str) {
    match size {
        size if size >= 9.9995e6 => (1e6, "MΩ"),
        size if size >= 9999.5 => (1e3, "kΩ"),
        _ => (1.0, "Ω"),
    }
}

/// How many places after the point show `value` with so many significant digits.
fn places(value: f64, significant: i32) -> usize {
    if value == 0.0 || !value.is_finite() {
        return 1;
    }
    let magnitude = value.abs().log10().floor() as i32;
    // 0.0996 with two digits is 0.10, not 0.100.
    let rounded = (value.abs() / 10f64.powi(magnitude + 1 - significant)).round();
    let magnitude = magnitude + i32::from(rounded >= 10f64.powi(significant));
    (significant - 1 - magnitude).clamp(0, 6) as usize
}

/// Without the minus sign of a number that rounds to nothing.
fn signed(value: f64, places: usize) -> String {
    let text = format!("{value:.places$}");
    match text.strip_prefix('-') {
        Some(rest) if rest.chars().all(|c| c == '0' || c == '.') => rest.to_owned(),
        Some(rest) => format!("\u{2212}{rest}"),
        None => text,
    }
}

/// `21 °C`, `18 to 25 °C`.
pub(super) fn celsius_span(span: Interval<Celsius>) -> String {
    let tidy = |value: Celsius| {
        let text = format!("{:.1}", value.get()).replace('-', "\u{2212}");
        text.strip_suffix(".0").map_or(text.clone(), str::to_owned)
    };
    let (low, high) = (tidy(span.low), tidy(span.high));
    if low == high { format!("{low} °C") } else { format!("{low} to {high} °C") }
}

/// `97 %`; the ends are kept for certainty, which a judgement from measurements never has.
pub(super) fn percent(share: f64) -> String {
    match share * 100.0 {
        percent if percent.is_nan() => "not known".to_owned(),
        percent if percent > 99.0 => "over 99 %".to_owned(),
        percent if percent < 1.0 => "under 1 %".to_owned(),
        percent => format!("{percent:.0} %"),
    }
}

/// Name of a circuit for people; its name in files where the profile does not have it.
pub(super) fn circuit_name(profile: &Profile, id: &CircuitId) -> String {
    plain(profile.circuit(id).map_or(id.as_str(), |circuit| circuit.name.as_str()))
}

/// `3 / 16`, or `3 / case`.
pub(super) fn pins(circuit: Option<&Circuit>, station: Station) -> String {
    let Some(circuit) = circuit else { return "?".to_owned() };
    let against = if station == Station::Case { "case" } else { circuit.against.as_str() };
    plain(&format!("{} / {against}", circuit.pin))
}

/// With no-break spaces, so that a value is not parted from its unit.
pub(super) fn unbroken(text: &str) -> String {
    text.replace(' ', "\u{a0}")
}

/// What the meter showed; each number stays together with its unit.
pub(super) fn reading(reading: &Reading) -> String {
    let whole = |shown: &Shown| unbroken(&shown.to_string());
    match reading {
        Reading::Value(shown) => whole(shown),
        Reading::Unstable { low: Some(low), high: Some(high) } => {
            format!("unstable, {} to {}", whole(low), whole(high))
        }
        other => other.to_string(),
    }
}

pub(super) fn station(station: Station) -> &'static str {
    match station {
        Station::Component => "at the part",
        Station::Harness => "through the harness",
        Station::Case => "to case",
    }
}

/// As [`station`], for narrow columns.
pub(super) fn station_short(station: Station) -> &'static str {
    match station {
        Station::Component => "part",
        Station::Harness => "harness",
        Station::Case => "case",
    }
}

/// Empty for the usual contact.
pub(super) fn contact(contact: Contact) -> &'static str {
    match contact {
        Contact::Usual => "",
        Contact::Cleaned => "terminal cleaned",
        Contact::Wiggled => "wire moved while reading",
    }
}

pub(super) fn way(way: Way) -> &'static str {
    match way {
        Way::Voice => "spoken",
        Way::Keys => "typed",
        Way::File => "from a file",
    }
}

pub(super) fn cause(cause: Cause) -> &'static str {
    match cause {
        Cause::Component => "The part itself",
        Cause::Wiring => "The wiring",
        Cause::Connection => "A terminal or contact",
        Cause::SharedReturn => "A return or feed that circuits share",
        Cause::ControlOrMechanical => "Control unit, mechanical or intermittent",
        Cause::Measurement => "The measurement",
        Cause::NothingFound => "Nothing found wrong",
        Cause::Undetermined => "Not enough measured to say",
    }
}

pub(super) fn pattern(kind: PatternKind) -> &'static str {
    match kind {
        PatternKind::OneOutlier => "One against many",
        PatternKind::SharedOffset => "All off by one amount",
        PatternKind::SharedFactor => "All off by one factor",
        PatternKind::Joined => "Circuits joined",
        PatternKind::Swapped => "Pins swapped",
        PatternKind::EverythingOpen => "Everything open",
        PatternKind::Undecided => "Two disagree",
        PatternKind::Drift => "Drift",
    }
}

pub(super) fn leads(leads: Leads) -> String {
    match leads {
        Leads::Shown(shown) => format!("{shown} with the probes together, taken off every reading"),
        Leads::Relative => "taken off by the meter's relative mode".to_owned(),
        Leads::Unknown => "not measured: carried as unknown".to_owned(),
    }
}

/// What became of a withdrawn reading.
pub(super) fn withdrawal(record: &Record, withdrawal: &Withdrawal) -> String {
    let word = match withdrawal.correction {
        Correction::Wrong => "wrong",
        Correction::Change => "change",
    };
    let then = match withdrawal.replaced_by {
        Some(id) => format!("replaced by reading {id}"),
        None => "not replaced".to_owned(),
    };
    let way = way(withdrawal.intake.way);
    format!("withdrawn {} by \u{201c}{word}\u{201d} ({way}), {then}", clock(record, withdrawal.at))
}

/// Everything about a reading besides its value: contact, remarks.
pub(super) fn particulars(taken: &Taken) -> Vec<String> {
    let contact = Some(contact(taken.contact)).filter(|words| !words.is_empty()).map(str::to_owned);
    contact.into_iter().chain(taken.remarks.iter().map(|remark| plain(remark))).collect()
}

/// `readings 3 and 12`; empty for none.
pub(super) fn numbers(ids: &[u32]) -> String {
    let texts: Vec<_> = ids.iter().map(u32::to_string).collect();
    match texts.as_slice() {
        [] => String::new(),
        [one] => format!("reading {one}"),
        [most @ .., last] => format!("readings {} and {last}", most.join(", ")),
    }
}

/// Time of day; with the date where the session lasted over midnight.
pub(super) fn clock(record: &Record, at: Timestamp) -> String {
    let one_day = day(record, record.begun) == day(record, record.ended);
    let form = if one_day { "%H:%M:%S" } else { "%Y-%m-%d %H:%M:%S" };
    at.to_zoned_datetime(record.zone.clone()).strftime(form).to_string()
}

/// `2026-11-25 18:12 to 18:31 (+01:00)`.
pub(super) fn period(record: &Record) -> String {
    let begun = record.begun.to_zoned_datetime(record.zone.clone());
    let ended = record.ended.to_zoned_datetime(record.zone.clone());
    let end_form = if begun.date() == ended.date() { "%H:%M" } else { "%Y-%m-%d %H:%M" };
    let zone = match begun.offset().seconds() {
        0 => "UTC".to_owned(),
        _ => begun.strftime("UTC%:z").to_string(),
    };
    format!("{} to {} ({zone})", begun.strftime("%Y-%m-%d %H:%M"), ended.strftime(end_form))
}

fn day(record: &Record, at: Timestamp) -> jiff::civil::Date {
    at.to_zoned_datetime(record.zone.clone()).date()
}

/// The figures behind a verdict in one line, for those who want them.
pub(super) fn figures(finding: &Finding) -> String {
    let conforming = finding.conforming.map(|share| format!("conforms: {}", percent(share)));
    let peers = finding.peer_score.map(|score| format!("peer score {}", signed(score, 1)));
    conforming.into_iter().chain(peers).collect::<Vec<_>>().join(", ")
}

/// What a circuit is, in a word.
pub(super) fn kind(kind: &CircuitKind) -> &'static str {
    match kind {
        CircuitKind::CopperCoil => "copper coil",
        CircuitKind::Linear { .. } => "metal conductor",
        CircuitKind::Resistor => "resistor",
        CircuitKind::Platinum { .. } => "platinum sensor",
        CircuitKind::Thermistor { .. } | CircuitKind::ThermistorTable { .. } => "thermistor",
        CircuitKind::DataBus => "data bus",
        CircuitKind::Wire => "plain connection",
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn ohm(value: f64) -> Ohms {
        Ohms::new(value).unwrap()
    }

    #[test]
    fn values_have_the_digits_that_their_uncertainty_bears() {
        let shown = |value, uncertainty| with_uncertainty(ohm(value), Some(ohm(uncertainty)));
        assert_eq!(shown(5.1834, 0.0623), "5.183 ± 0.062 Ω");
        assert_eq!(shown(5.1834, 0.0996), "5.18 ± 0.10 Ω");
        assert_eq!(shown(1043.2, 12.4), "1043 ± 12 Ω");
        assert_eq!(shown(47_213.0, 512.0), "47.21 ± 0.51 kΩ");
        assert_eq!(shown(12.0e6, 0.3e6), "12.00 ± 0.30 MΩ");
        assert_eq!(shown(-0.03, 0.1), "\u{2212}0.03 ± 0.10 Ω");
        assert_eq!(shown(-0.001, 0.1), "0.00 ± 0.10 Ω");
        assert_eq!(shown(5.1834, 0.0), "5.183 Ω");
        assert_eq!(with_uncertainty(ohm(240.25), None), "240.2 Ω");
    }

    #[test]
    fn spans_show_both_ends_alike() {
        let span = |low, high| ohm_span(Interval { low: ohm(low), high: ohm(high) });
        assert_eq!(span(4.9, 5.5), "4.90 to 5.50 Ω");
        assert_eq!(span(180.0, 240.0), "180 to 240 Ω");
        assert_eq!(span(0.0, 12_000.0), "0.0 to 12.0 kΩ");
        let degrees = |low, high| {
            celsius_span(Interval { low: Celsius::new(low).unwrap(), high: Celsius::new(high).unwrap() })
        };
        assert_eq!(degrees(20.0, 20.0), "20 °C");
        assert_eq!(degrees(-5.0, 12.5), "\u{2212}5 to 12.5 °C");
    }

    #[test]
    fn no_percentage_claims_certainty() {
        assert_eq!(percent(1.0), "over 99 %");
        assert_eq!(percent(0.0), "under 1 %");
        assert_eq!(percent(0.804), "80 %");
    }

    #[test]
    fn text_cannot_move_the_cursor_or_turn_around() {
        assert_eq!(plain(" a\u{1b}[2Jb\nc\u{202e}d\u{9b}"), "a\u{fffd}[2Jb c\u{fffd}d\u{fffd}");
    }
}
