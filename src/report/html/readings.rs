//! Owns the parts of the page about what was taken: readings, confirmations, leads, temperature, with sound to listen to.

use super::{
    super::{
        said::{Heading, Name, Sentence},
        wording::{Prepared, Wording, circuit_name},
    },
    Column::{Number, Words},
    Sounds, columns,
    escape::Free,
    wide,
};
use crate::{
    report::{Intake, Record, Taken, Way},
    session::Opinion,
};
use jiff::{Timestamp, TimestampRound, Unit};
use maud::{Markup, PreEscaped, html};

pub(super) fn section(record: &Record, sounds: &Sounds<'_>, to: Wording<'_>) -> Markup {
    let heading = to.say(&Heading::Readings);
    let table = html! {
        table.readings.cards {
            (columns(&[
                Number(Name::Number), Words(Name::Time), Words(Name::Circuit), Words(Name::Pins),
                Number(Name::Shown), Words(Name::CameIn), Words(Name::Listen),
            ], to))
            tbody {
                @for taken in &record.readings { (row(record, taken, sounds, to)) }
                @if record.readings.is_empty() { tr { td colspan="7" { (to.say(&Sentence::Nothing)) } } }
            }
        }
    };
    html! {
        section.newpage {
            h2 { (heading) }
            (wide(&heading, &table))
            p.hint { (to.say(&Sentence::HeardHint)) }
        }
    }
}

fn row(record: &Record, taken: &Taken, sounds: &Sounds<'_>, to: Wording<'_>) -> Markup {
    let withdrawn = taken.withdrawn.as_ref();
    let mut particulars = to.particulars(taken);
    particulars.extend(withdrawn.map(|how| to.withdrawal(record, how)));
    // The correction itself was heard too.
    let correction = withdrawn.and_then(|how| heard(&how.intake, to)).map(|words| words.into_string());
    html! {
        tr id=(format!("r{}", taken.id)) class=[withdrawn.map(|_| "withdrawn")] {
            td.number data-name=(to.say(&Name::Number)) { (taken.id) }
            td.time data-name=(to.say(&Name::Time)) { (time(record, taken.at, to)) }
            th scope="row" { (Free(&circuit_name(&record.profile, &taken.circuit))) }
            td.pins data-name=(to.say(&Name::Pins)) {
                (Free(&to.pins(record.profile.circuit(&taken.circuit), taken.station))) " "
                small.where { (to.say(&taken.station)) }
            }
            td.number.shown data-name=(to.say(&Name::Shown)) {
                @if withdrawn.is_some() { s { (to.reading(&taken.reading)) } } @else { (to.reading(&taken.reading)) }
            }
            td data-name=(to.say(&Name::CameIn)) {
                (came_in(&taken.intake, to))
                @for words in particulars { p.remark { (Free(&words)) } }
                @if let Some(words) = correction {
                    p.remark { (PreEscaped(to.say(&Sentence::Correction { words }))) }
                }
            }
            td { (sounds.of(&taken.intake, to)) @if let Some(how) = withdrawn { (sounds.of(&how.intake, to)) } }
        }
    }
}

/// What was observed beyond the readings of circuits; nothing where there is nothing.
pub(super) fn further(record: &Record, to: Wording<'_>) -> Markup {
    let rows = to.further(record);
    let heading = to.say(&Heading::Further);
    let table = html! {
        table.readings {
            (columns(&[Number(Name::Number), Words(Name::What), Words(Name::Shown)], to))
            tbody {
                @for (number, what, shown) in &rows {
                    tr id=[number.map(|number| format!("r{number}"))] {
                        td.number { @if let Some(number) = number { (number) } }
                        td { (Free(what)) }
                        td { (Free(shown)) }
                    }
                }
            }
        }
    };
    html! { @if !rows.is_empty() { section { h2 { (heading) } (wide(&heading, &table)) } } }
}

/// Safety, leads, temperature, codes and notes, by time.
pub(super) fn preparation(record: &Record, sounds: &Sounds<'_>, to: Wording<'_>) -> Markup {
    let heading = to.say(&Heading::Preparation);
    let table = html! {
        table.readings.cards {
            (columns(&[
                Words(Name::Time), Words(Name::What), Words(Name::Shown),
                Words(Name::CameIn), Words(Name::Listen),
            ], to))
            tbody { @for row in to.preparation(record) { (prepared(record, &row, sounds, to)) } }
        }
    };
    let list = |heading: Heading, items: &[String]| {
        html! {
            @if !items.is_empty() {
                h3 { (to.say(&heading)) }
                ul { @for item in items { li { (Free(item)) } } }
            }
        }
    };
    html! {
        section {
            h2 { (heading) }
            (wide(&heading, &table))
            (list(Heading::Codes, &to.codes(record)))
            (list(Heading::CautionsGiven, &record.profile.cautions))
        }
    }
}

fn prepared(record: &Record, row: &Prepared<'_>, sounds: &Sounds<'_>, to: Wording<'_>) -> Markup {
    html! {
        tr {
            td.time data-name=(to.say(&Name::Time)) { (time(record, row.at, to)) }
            th scope="row" { (to.say(&row.name)) }
            td { (row.what) @if let Some(more) = row.more { p.remark { (Free(more)) } } }
            td { @if let Some(intake) = row.intake { (came_in(intake, to)) } }
            td { @if let Some(intake) = row.intake { (sounds.of(intake, to)) } }
        }
    }
}

/// HTML knows times down to milliseconds.
pub(super) fn time(record: &Record, at: Timestamp, to: Wording<'_>) -> Markup {
    let whole = at.round(TimestampRound::new().smallest(Unit::Millisecond)).unwrap_or(at);
    html! { time datetime=(whole.to_string()) { (to.clock(record, at)) } }
}

fn came_in(intake: &Intake, to: Wording<'_>) -> Markup {
    html! { (to.say(&intake.way)) @if let Some(words) = heard(intake, to) { " " (words) } }
}

/// What was typed or heard.
fn heard(intake: &Intake, to: Wording<'_>) -> Option<Markup> {
    if intake.way != Way::Voice {
        return intake.typed.as_ref().map(|typed| quoted(typed));
    }
    opinions(&intake.opinions, to)
}

fn quoted(words: &str) -> Markup {
    html! { q { (Free(words)) } }
}

/// What was heard; what several decodings heard alike is said once.
pub(super) fn opinions(opinions: &[Opinion], to: Wording<'_>) -> Option<Markup> {
    let mut alike: Vec<(&str, Vec<&str>)> = Vec::new();
    for opinion in opinions {
        match alike.iter_mut().find(|(words, _)| *words == opinion.words) {
            Some((_, by)) => by.push(&opinion.by),
            None => alike.push((&opinion.words, vec![&opinion.by])),
        }
    }
    match alike.as_slice() {
        [] => None,
        [(words, _)] => Some(quoted(words)),
        several => {
            let each = several.iter().map(|(words, by)| {
                html! { (quoted(words)) " " small { "(" (Free(&by.join(", "))) ")" } }.into_string()
            });
            let joined = each.reduce(|first, second| to.say(&Sentence::AlternativelyHeard { first, second }));
            joined.map(PreEscaped)
        }
    }
}
