//! Owns the words and number forms that all reports share, so that page, table and terminal never differ.

use super::{
    Correction, Record, Taken, Way, Withdrawal,
    amounts::{celsius_span, ohms, percent, signed, volts},
    mark::{Mark, mark},
};
use crate::{
    profile::{Circuit, CircuitId, CircuitKind, Profile},
    quantity::{Amperes, Interval, Reading, Shown, Volts},
    verdict::{About, Cause, Contact, Finding, Leads, Observed, PatternKind, Station},
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

/// Name of a circuit for people; its name in files where the profile does not have it.
pub(super) fn circuit_name(profile: &Profile, id: &CircuitId) -> String {
    plain(profile.circuit(id).map_or(id.as_str(), |circuit| circuit.name.as_str()))
}

/// `3 / 16`, or `3 / case`; through the harness what is probed in the control unit's plug, where that is known.
pub(super) fn pins(circuit: Option<&Circuit>, station: Station) -> String {
    let Some(circuit) = circuit else { return "?".to_owned() };
    plain(&match (station, &circuit.at_control) {
        (Station::Case, _) => format!("{} / case", circuit.pin),
        (Station::Harness, Some(plug)) => format!("plug {} / {}", plug.pin, plug.against),
        _ => format!("{} / {}", circuit.pin, circuit.against),
    })
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

/// The figures behind a verdict, one text each, for those who want them.
pub(super) fn figures(finding: &Finding) -> Vec<String> {
    let details = &finding.details;
    let mut out = Vec::new();
    if let Some(share) = finding.conforming {
        let over = details.conforming_between.filter(|span| percent(span.low) != percent(span.high));
        let over = over.map_or(String::new(), |span| {
            format!(" ({} to {} over the temperatures it may have)", percent(span.low), percent(span.high))
        });
        out.push(format!("conforms: {}{over}", percent(share)));
    }
    if let Some(score) = finding.peer_score {
        let limit = details.peer_limit.map_or(String::new(), |limit| format!(", limit {}", signed(limit, 1)));
        let expected = details
            .peers_expect
            .map_or(String::new(), |value| format!(", the others lead to expect {}", ohms(value.get())));
        out.push(format!("peer score {}{limit}{expected}", signed(score, 1)));
    }
    if let Some(temperature) = details.temperature {
        out.push(format!("means {}", celsius_span(Interval::exactly(temperature))));
    }
    if let Some(score) = details.learned_score {
        out.push(format!("{} standard uncertainties from what was learned on other parts", signed(score, 1)));
    }
    if details.cleaning_changed_it {
        out.push("cleaning the terminal changed the reading".to_owned());
    }
    out
}

/// Whether the figures are worth a line under the verdict: not where everything is as it should be.
pub(super) fn figures_matter(finding: &Finding) -> bool {
    mark(finding.class) >= Mark::Doubtful || finding.details.cleaning_changed_it
}

/// What was observed beyond the readings of circuits: number (none for what was learned), what, shown.
pub(super) fn further(record: &Record) -> Vec<(Option<u32>, String, String)> {
    let further = &record.further;
    let name = |id: &CircuitId| circuit_name(&record.profile, id);
    let limit =
        |limit: Option<Volts>| limit.map_or(String::new(), |limit| format!(", limit {}", volts(limit)));
    let current =
        |current: Option<Amperes>| current.map_or(String::new(), |amperes| format!(" at {amperes}"));
    let mut out = Vec::new();
    if !further.lead_repeats.is_empty() {
        let shown: Vec<_> = further.lead_repeats.iter().map(Shown::to_string).collect();
        out.push((None, "probes together again".to_owned(), shown.join(", ")));
    }
    for relation in &further.relations {
        let what = format!("pin {} against pin {}", relation.from, relation.to);
        out.push((Some(relation.id), plain(&what), reading(&relation.reading)));
    }
    for test in &further.loads {
        let what = format!("load test of the wires of {}{}", name(&test.circuit), limit(test.limit));
        let shown =
            format!("{} of {} at the load{}", volts(test.at_load), volts(test.supply), current(test.current));
        out.push((Some(test.id), what, shown));
    }
    for drop in &further.drops {
        let circuit = drop.circuit.as_ref().map_or(String::new(), |id| format!(" ({})", name(id)));
        let what = format!("voltage drop over {}{circuit}{}", plain(&drop.joint), limit(drop.limit));
        out.push((Some(drop.id), what, format!("{}{}", reading(&drop.reading), current(drop.current))));
    }
    for learned in &further.references {
        let parts =
            if learned.parts == 1 { "one part".to_owned() } else { format!("{} parts", learned.parts) };
        let what = format!(
            "learned from {parts}, not published: {}, {}",
            name(&learned.circuit),
            station(learned.station)
        );
        let spread =
            learned.spread.map_or(String::new(), |spread| format!(", spread {}", ohms(spread.get())));
        let at = celsius_span(Interval::exactly(learned.at));
        let shown = format!("{} at {at}{spread}", ohms(learned.median.get()));
        out.push((None, what, shown));
    }
    out
}

/// What an observation is about, as a heading of its line.
pub(super) fn about(about: About) -> &'static str {
    match about {
        About::Load => "Wire under load",
        About::VoltageDrop => "Voltage drop",
        About::Relation => "Between two pins",
        About::Loop => "Harness",
        About::StoredCode => "Stored code",
        About::Learned => "Learned from earlier parts",
        About::Meter => "Meter",
        About::Temperature => "Temperature",
    }
}

/// How an observation stands; empty where it is not judged.
pub(super) fn stands(observed: &Observed) -> &'static str {
    match (observed.sound, observed.about) {
        (Some(true), _) => "as expected",
        (Some(false), _) => "not as expected",
        (None, About::Load | About::VoltageDrop) => "not to be told",
        (None, _) => "",
    }
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

    #[test]
    fn text_cannot_move_the_cursor_or_turn_around() {
        assert_eq!(plain(" a\u{1b}[2Jb\nc\u{202e}d\u{9b}"), "a\u{fffd}[2Jb c\u{fffd}d\u{fffd}");
    }
}
