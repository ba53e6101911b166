//! Owns the page: one file, no script, nothing fetched from anywhere but sound clips in the folder beside it, or not even those.

mod alike;
mod circuits;
mod conclusion;
mod escape;
mod pins;
mod readings;
mod sheet;
mod sounds;

use super::{
    Enclosed, Record, Stamp,
    said::{Heading, Name, Sentence},
    wording::Wording,
};
use crate::words::Words;
use escape::Free;
use maud::{DOCTYPE, Markup, PreEscaped, html};
pub use sheet::{filled_sheet, sheet};
use sounds::Sounds;

const STYLE: &str = include_str!("style.css");
/// The session as one page: light and dark by the reader's setting, printable on A4. Sound clips are linked relatively, so the
/// page belongs into the session's folder.
#[must_use]
pub fn html(record: &Record, words: &Words) -> String {
    whole(record, &Sounds::Beside, words)
}

/// The same with the sound inside it, so that it can be sent by itself: it refers to no other file.
#[must_use]
pub fn html_with_sound(record: &Record, clips: &[Enclosed], words: &Words) -> String {
    whole(record, &Sounds::inside(clips), words)
}

fn whole(record: &Record, sounds: &Sounds<'_>, words: &Words) -> String {
    let to = Wording::new(words);
    let name = record.job.as_deref().unwrap_or(&record.profile.title);
    let body = html! {
        (head(record, to))
        (conclusion::section(record, to))
        section {
            h2 { (to.say(&Heading::Pins)) }
            (pins::map(&record.profile, Some(&record.judgement), pins::Links::ToCircuits, to))
        }
        (alike::section(record, to))
        (circuits::section(record, to))
        (readings::section(record, sounds, to))
        (readings::further(record, to))
        (readings::preparation(record, sounds, to))
        (sounds.others(record, to))
        (circuits::derivations(record, to))
        (foot(record, to))
    };
    page(&to.say(&Sentence::Title { name: name.to_owned() }), &body, sounds.policy(), to)
}

/// What a page may load: its own style, and sound from `media`.
fn policy(media: &str) -> String {
    format!("default-src 'none'; style-src 'unsafe-inline'; media-src {media}; img-src data:")
}

/// Wraps a body into a page with the shared style and the drawn marks.
fn page(title: &str, body: &Markup, media: &str, to: Wording<'_>) -> String {
    html! {
        (DOCTYPE)
        html lang=(to.language()) {
            head {
                meta charset="utf-8";
                meta name="viewport" content="width=device-width, initial-scale=1";
                meta http-equiv="Content-Security-Policy" content=(policy(media));
                meta name="color-scheme" content="light dark";
                title { (Free(title)) }
                style { (PreEscaped(STYLE)) }
            }
            body {
                (PreEscaped(pins::SYMBOLS))
                main { (body) }
            }
        }
    }
    .into_string()
}

/// The strip of warnings that stand over everything.
fn stamps(stamps: &[Stamp], to: Wording<'_>) -> Markup {
    html! {
        @if !stamps.is_empty() {
            ul.stamps { @for stamp in stamps { li { (to.say(stamp)) } } }
        }
    }
}

/// One pair of a list of facts.
fn fact(name: Name, value: &str, to: Wording<'_>) -> Markup {
    html! { div { dt { (to.say(&name)) } dd { bdi { (Free(value)) } } } }
}

/// A column of a table, by its heading: words, or numbers that stand to the right.
#[derive(Clone, Copy)]
enum Column {
    Words(Name),
    Number(Name),
}

/// The headings of a table's columns.
fn columns(all: &[Column], to: Wording<'_>) -> Markup {
    html! {
        thead {
            tr {
                @for column in all {
                    @let (name, class) = match column {
                        Column::Words(name) => (name, None),
                        Column::Number(name) => (name, Some("number")),
                    };
                    th class=[class] scope="col" { (to.say(name)) }
                }
            }
        }
    }
}

/// A table that may be wider than the window: it scrolls by itself, with the keyboard too, and on a phone each row
/// becomes a card.
fn wide(label: &str, table: &Markup) -> Markup {
    html! { div.wide role="region" aria-label=(label) tabindex="0" { (table) } }
}

fn head(record: &Record, to: Wording<'_>) -> Markup {
    let part = &record.profile.title;
    let meter = format!("{}, {}", record.meter.title, record.meter.category);
    html! {
        header {
            p.kind { (to.say(&Heading::Record)) }
            h1 { bdi { (Free(record.job.as_deref().unwrap_or(part))) } }
            dl.facts {
                (fact(Name::Part, part, to))
                (fact(Name::When, &to.period(record), to))
                (fact(Name::Meter, &meter, to))
                (fact(Name::TakenBy, &record.ways, to))
                @for (name, value) in to.job(record) { (fact(name, &value, to)) }
            }
            (stamps(&record.stamps(), to))
        }
    }
}

fn foot(record: &Record, to: Wording<'_>) -> Markup {
    let (profile, meter) = (&record.profile, &record.meter);
    html! {
        footer {
            p { (to.say(&Sentence::AnAid)) }
            p { (Free(&to.say(&record.judged_line()))) }
            dl.facts {
                (fact(Name::Session, &record.session, to))
                (fact(Name::Profile, &format!("{}. {}", profile.id, profile.source), to))
                (fact(Name::Fingerprint, &profile.fingerprint, to))
                (fact(Name::MeterFigures, &meter.source, to))
                (fact(Name::Program, &format!("bothhands {}", record.program), to))
                @if let Some(mark) = &record.mark { (fact(Name::JournalMark, mark, to)) }
            }
        }
    }
}
