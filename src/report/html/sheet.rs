//! Owns the sheet: what to measure, at which pins, with room to write, to be printed before the next job; and the same
//! with what a session took.

use super::{
    super::{
        Record, Stamp,
        said::{Heading, Name, Sentence, Sort},
        wording::{Wording, circuit_name, plain, unbroken},
    },
    Column, Free, columns, fact, page, pins, stamps, wide,
};
use crate::{
    profile::{Circuit, CircuitKind, Meter, Profile, Range},
    quantity::{Interval, Unit},
    verdict::{Contact, Station},
    words::Words,
};
use maud::{Markup, html};

/// A blank sheet for this part and meter as one self-contained page, to be printed on A4.
#[must_use]
pub fn sheet(profile: &Profile, meter: &Meter, words: &Words) -> String {
    whole(profile, meter, None, Wording::new(words))
}

/// The sheet of a session: the same form, with the readings of the record in it.
#[must_use]
pub fn filled_sheet(record: &Record, words: &Words) -> String {
    whole(&record.profile, &record.meter, Some(record), Wording::new(words))
}

fn whole(profile: &Profile, meter: &Meter, record: Option<&Record>, to: Wording<'_>) -> String {
    let body = html! {
        (head(profile, meter, record, to))
        (before(profile, to))
        section {
            h2 { (to.say(&Heading::Pins)) }
            (pins::map(profile, record.map(|record| &record.judgement), pins::Links::None, to))
        }
        (table(profile, meter, record, to))
        (foot(profile, to))
    };
    page(&to.say(&Sentence::SheetTitle { name: profile.title.clone() }), &body, "'none'", to)
}

fn head(profile: &Profile, meter: &Meter, record: Option<&Record>, to: Wording<'_>) -> Markup {
    let invented =
        [profile.invented.then_some(Stamp::InventedPart), meter.invented.then_some(Stamp::InventedMeter)];
    let warnings = record.map_or_else(|| invented.into_iter().flatten().collect(), Record::stamps);
    let heading = if record.is_some() { Heading::FilledSheet } else { Heading::Sheet };
    let lines = [
        Name::OrderAndVehicle,
        Name::WhoAndWhen,
        Name::StoredCodes,
        Name::TemperatureOfThePart,
        Name::ProbesTogether,
        Name::FirstAgain,
    ];
    html! {
        header {
            p.kind { (to.say(&heading)) }
            h1 { bdi { (Free(&profile.title)) } }
            dl.facts {
                @if let Some(record) = record {
                    @if let Some(job) = &record.job { (fact(Name::Job, job, to)) }
                    (fact(Name::When, &to.period(record), to))
                }
                (fact(Name::Meter, &format!("{}, {}", meter.title, meter.category), to))
                (fact(Name::FiguresFrom, &profile.source, to))
                @if let Some(record) = record {
                    @for row in to.preparation(record) {
                        @if matches!(row.name, Name::Leads | Name::PartTemperature) { (fact(row.name, &row.what, to)) }
                    }
                }
            }
            (stamps(&warnings, to))
            @if record.is_none() {
                div.lines { @for line in lines { div { (to.say(&line)) } } }
            }
        }
    }
}

fn before(profile: &Profile, to: Wording<'_>) -> Markup {
    html! {
        section {
            h2 { (to.say(&Heading::BeforeMeasuring)) }
            ul {
                @for caution in crate::session::EVERYWHERE { li { (to.say(&caution)) } }
                @for text in &profile.cautions { li { (Free(text)) } }
            }
            ul.ticks {
                @for gate in &profile.gates {
                    li { (Free(&gate.instruction)) " " b { "\u{201c}" (Free(&gate.confirm)) "\u{201d}" } }
                }
            }
        }
    }
}

fn table(profile: &Profile, meter: &Meter, record: Option<&Record>, to: Wording<'_>) -> Markup {
    let heading = to.say(&Heading::Readings);
    let heads = [
        Name::Circuit,
        Name::Pins,
        Name::Sound,
        Name::Range,
        Name::AtThePart,
        Name::Again,
        Name::Harness,
        Name::Case,
    ]
    .map(Column::Words);
    let rows = html! {
        table.sheet {
            (columns(&heads, to))
            tbody { @for circuit in &profile.circuits { (row(meter, circuit, record, to)) } }
        }
    };
    html! {
        section.newpage {
            h2 { (heading) }
            (wide(&heading, &rows))
            p.hint { (to.say(&Sentence::WriteHint)) }
            @for family in &profile.families {
                @let percent = to.marked(&family.tolerance_percent.to_string());
                p.hint { (to.say(&Sentence::ShouldReadAlike { family: plain(&family.title), percent })) }
            }
            // 234.5 = 1/0.00393 - 20, with alpha of copper at 20 degrees from IEC 60028; 254.5 = 234.5 + 20.
            @if profile.circuits.iter().any(|circuit| circuit.kind == CircuitKind::CopperCoil) {
                p.hint { (to.say(&Sentence::CopperHint)) }
            }
        }
    }
}

fn row(meter: &Meter, circuit: &Circuit, record: Option<&Record>, to: Wording<'_>) -> Markup {
    let pins = to.pins(Some(circuit), Station::Component);
    let never = circuit.never_ohmmeter.as_ref();
    html! {
        tr class=[never.map(|_| "never")] {
            th scope="row" {
                (Free(&circuit.name))
                @if never.is_none() { br; small { (to.say(&Sort::from(&circuit.kind))) } }
            }
            td.pins { (Free(&pins)) }
            @if let Some(why) = never {
                td colspan="6" { (to.say(&Sentence::NoOhmmeterHere { why: plain(why) })) }
            } @else {
                (limits(circuit, to))
                (range_of(meter, circuit, to))
                @for text in written(circuit, record, to) { td.write { (text) } }
            }
        }
    }
}

fn limits(circuit: &Circuit, to: Wording<'_>) -> Markup {
    html! {
        td {
            @if let Some(limits) = &circuit.window {
                @let temperature = to.celsius_span(Interval::exactly(limits.at));
                (unbroken(&to.ohm_span(Interval { low: limits.low, high: limits.high })))
                br; small { (unbroken(&to.say(&Sentence::At { temperature }))) }
            } @else { (to.say(&Sentence::NoFigure)) }
        }
    }
}

fn range_of(meter: &Meter, circuit: &Circuit, to: Wording<'_>) -> Markup {
    html! {
        td {
            @if let Some(range) = range(meter, circuit) {
                (unbroken(&to.say(&Sentence::UpTo { end: to.range_end(range.full_scale) })))
                br; small { (unbroken(&to.say(&Sentence::Steps { step: to.range_end(range.resolution) }))) }
            }
        }
    }
}

/// What was read at the part, again there, through the harness, and to case; empty on a blank sheet.
fn written(circuit: &Circuit, record: Option<&Record>, to: Wording<'_>) -> [String; 4] {
    let Some(record) = record else { return Default::default() };
    let all = |station: Station| {
        let stands = record.readings.iter().filter(|taken| taken.withdrawn.is_none());
        stands.filter(move |taken| taken.circuit == circuit.id && taken.station == station)
    };
    let shown = |taken: &super::super::Taken| {
        let cleaned = if taken.contact == Contact::Cleaned { " c" } else { "" };
        format!("{}{cleaned}", to.reading(&taken.reading))
    };
    let join = |station| all(station).map(shown).collect::<Vec<_>>().join("; ");
    let again = all(Station::Component).skip(1).map(shown).collect::<Vec<_>>().join("; ");
    let first = all(Station::Component).next().map(shown).unwrap_or_default();
    [first, again, join(Station::Harness), join(Station::Case)]
}

/// The lowest range of the meter that holds the window: the one with the finest steps.
fn range<'a>(meter: &'a Meter, circuit: &Circuit) -> Option<&'a Range> {
    let high = circuit.window.as_ref()?.high.get();
    meter.ranges.iter().find(|range| range.unit == Unit::Ohm && range.full_scale >= high)
}

fn foot(profile: &Profile, to: Wording<'_>) -> Markup {
    let mut checks: Vec<String> = profile.further_checks.clone();
    if let Some(limit) = &profile.drop_limits.joint {
        let (limit, source) = (to.volts(limit.volts), plain(&limit.source));
        checks.push(to.say(&Sentence::DropLimitJoint { limit, source }));
    }
    if let Some(limit) = &profile.drop_limits.wire {
        let (limit, source) = (to.volts(limit.volts), plain(&limit.source));
        checks.push(to.say(&Sentence::DropLimitWire { limit, source }));
    }
    checks.extend(profile.codes.iter().map(|code| {
        to.say(&Sentence::KnownCode {
            number: plain(&code.number),
            meaning: code.meaning.as_deref().map(plain),
            circuit: circuit_name(profile, &code.circuit),
        })
    }));
    let marks = Sentence::ProfileFingerprint {
        profile: plain(&profile.id),
        fingerprint: plain(&profile.fingerprint),
    };
    html! {
        @if !checks.is_empty() {
            section {
                h2 { (to.say(&Heading::FurtherChecks)) }
                ul { @for text in &checks { li { (Free(text)) } } }
            }
        }
        footer { p { (to.say(&Sentence::AnAid)) } p { (to.say(&marks)) } }
    }
}
