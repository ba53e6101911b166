//! Owns the page: one file, no script, nothing fetched from anywhere but sound clips in the folder beside it.

mod circuits;
mod conclusion;
mod escape;
mod pins;
mod readings;

use super::{Record, wording};
pub(super) use escape::esc;
pub(super) use pins::map as pin_map;

const STYLE: &str = include_str!("style.css");

/// The session as one self-contained page: light and dark by the reader's setting, printable on A4. Sound clips are
/// linked relatively, so the page belongs into the session's folder.
#[must_use]
pub fn html(record: &Record) -> String {
    let name = record.job.as_deref().unwrap_or(&record.profile.title);
    let body = [
        head(record),
        conclusion::section(record),
        map(record),
        circuits::section(record),
        readings::section(record),
        readings::further(record),
        readings::preparation(record),
        circuits::derivations(record),
        foot(record),
    ];
    page(&format!("Measuring record: {name}"), &body.concat())
}

/// Wraps a body into a page with the shared style and the drawn marks.
pub(super) fn page(title: &str, body: &str) -> String {
    format!(
        "<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n\
         <meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n\
         <meta http-equiv=\"Content-Security-Policy\" content=\"default-src 'none'; style-src 'unsafe-inline'; \
         media-src 'self' file:; img-src data:\">\n\
         <meta name=\"color-scheme\" content=\"light dark\">\n\
         <title>{}</title>\n<style>\n{STYLE}</style>\n</head>\n<body>\n{}<main>\n{body}</main>\n</body>\n</html>\n",
        esc(title),
        pins::SYMBOLS,
    )
}

/// The strip of warnings that stand over everything.
pub(super) fn stamps(stamps: &[&str]) -> String {
    if stamps.is_empty() {
        return String::new();
    }
    let items: String = stamps.iter().map(|stamp| format!("<li>{}</li>", esc(stamp))).collect();
    format!("<ul class=\"stamps\">{items}</ul>\n")
}

/// One pair of a list of facts.
pub(super) fn fact(name: &str, value: &str) -> String {
    format!("<div><dt>{name}</dt><dd><bdi>{}</bdi></dd></div>\n", esc(value))
}

fn head(record: &Record) -> String {
    let part = &record.profile.title;
    let title = record.job.as_deref().unwrap_or(part);
    let meter = format!("{}, {}", record.meter.title, record.meter.category);
    let facts = [
        fact("Part", part),
        fact("When", &wording::period(record)),
        fact("Meter", &meter),
        fact("Taken by", &record.ways),
    ];
    format!(
        "<header>\n<p class=\"kind\">Measuring record</p>\n<h1><bdi>{}</bdi></h1>\n<dl class=\"facts\">\n{}</dl>\n{}</header>\n",
        esc(title),
        facts.concat(),
        stamps(&record.stamps()),
    )
}

fn map(record: &Record) -> String {
    format!("<section>\n<h2>Pins</h2>\n{}</section>\n", pin_map(&record.profile, Some(&record.judgement)))
}

fn foot(record: &Record) -> String {
    let (profile, meter) = (&record.profile, &record.meter);
    let facts = [
        fact("Session", &record.session),
        fact("Profile", &format!("{}. {}", profile.id, profile.source)),
        fact("Profile fingerprint", &profile.fingerprint),
        fact("Meter figures", &meter.source),
        fact("Program", &format!("bothhands {}", record.program)),
    ];
    format!(
        "<footer>\n<p>{}</p>\n<dl class=\"facts\">\n{}</dl>\n</footer>\n",
        wording::AN_AID,
        facts.concat()
    )
}
