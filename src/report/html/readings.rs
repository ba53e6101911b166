//! Owns the parts of the page about what was taken: readings, confirmations, leads, temperature, with sound to listen to.

use super::{
    super::{amounts, wording},
    esc,
    escape::link_step,
};
use crate::report::{Intake, Record, Taken, Way};
use jiff::Timestamp;

pub(super) fn section(record: &Record) -> String {
    let rows: String = record.readings.iter().map(|taken| row(record, taken)).collect();
    let rows = if rows.is_empty() { "<tr><td colspan=\"7\">None.</td></tr>\n".to_owned() } else { rows };
    format!(
        "<section>\n<h2>Readings, in the order taken</h2>\n<div class=\"wide\"><table class=\"readings\">\n<thead><tr>\
         <th class=\"number\">No.</th><th>Time</th><th>Circuit</th><th>Pins</th><th class=\"number\">Shown</th>\
         <th>Came in</th><th>Listen</th></tr></thead>\n<tbody>\n{rows}</tbody>\n</table></div>\n<p class=\"hint\">{HEARD}</p>\n</section>\n"
    )
}

const HEARD: &str = "Each phrase was decoded more than once. Where one wording is quoted, all decodings heard the same; \
                     where several are, they differed. Withdrawn readings are struck through and were not judged.";

fn row(record: &Record, taken: &Taken) -> String {
    let withdrawn = taken.withdrawn.as_ref();
    let shown = esc(&wording::reading(&taken.reading));
    let shown = if withdrawn.is_some() { format!("<s>{shown}</s>") } else { shown };
    let mut particulars = wording::particulars(taken);
    particulars.extend(withdrawn.map(|how| wording::withdrawal(record, how)));
    let particulars: String =
        particulars.iter().map(|words| format!("<p class=\"remark\">{}</p>", esc(words))).collect();
    // The correction itself was heard too.
    let correction = withdrawn.map_or(String::new(), |how| {
        let words = heard(&how.intake);
        if words.is_empty() { words } else { format!("<p class=\"remark\">correction {words}</p>") }
    });
    let listen = [Some(&taken.intake), withdrawn.map(|how| &how.intake)];
    let listen: String = listen.into_iter().flatten().map(audio).collect();
    format!(
        "<tr id=\"r{}\"{}><td class=\"number\">{}</td><td class=\"time\">{}</td><th scope=\"row\">{}</th>\
         <td class=\"pins\">{}<br><small>{}</small></td><td class=\"number shown\">{shown}</td>\
         <td>{}{particulars}{correction}</td><td>{listen}</td></tr>\n",
        taken.id,
        if withdrawn.is_some() { " class=\"withdrawn\"" } else { "" },
        taken.id,
        time(record, taken.at),
        esc(&wording::circuit_name(&record.profile, &taken.circuit)),
        esc(&wording::pins(record.profile.circuit(&taken.circuit), taken.station)),
        wording::station(taken.station),
        came_in(&taken.intake),
    )
}

/// What was observed beyond the readings of circuits; nothing where there is nothing.
pub(super) fn further(record: &Record) -> String {
    let row = |(number, what, shown): (Option<u32>, String, String)| {
        let id = number.map_or(String::new(), |number| format!(" id=\"r{number}\""));
        let number = number.map_or(String::new(), |number| number.to_string());
        format!(
            "<tr{id}><td class=\"number\">{number}</td><td>{}</td><td>{}</td></tr>\n",
            esc(&what),
            esc(&shown)
        )
    };
    let rows: String = wording::further(record).into_iter().map(row).collect();
    if rows.is_empty() {
        return rows;
    }
    format!(
        "<section>\n<h2>Further observations</h2>\n<div class=\"wide\"><table class=\"readings\">\n<thead><tr>\
         <th class=\"number\">No.</th><th>What</th><th>Shown</th></tr></thead>\n<tbody>\n{rows}</tbody>\n</table></div>\n\
         </section>\n"
    )
}

/// Safety, leads, temperature, codes and notes, by time.
pub(super) fn preparation(record: &Record) -> String {
    let mut rows = Vec::new();
    for gate in &record.confirmations {
        let what = format!("\u{201c}{}\u{201d}", gate.phrase);
        rows.push((gate.at, "Made safe", what, Some(gate.instruction.clone()), Some(&gate.intake)));
    }
    for zero in &record.leads {
        rows.push((zero.at, "Leads", wording::leads(zero.leads), None, Some(&zero.intake)));
    }
    for temperature in &record.temperatures {
        let span = temperature.interval.map_or("not known".to_owned(), amounts::celsius_span);
        rows.push((temperature.at, "Part temperature", span, None, Some(&temperature.intake)));
    }
    for note in &record.notes {
        rows.push((note.at, "Note", note.text.clone(), None, None));
    }
    rows.sort_by_key(|(at, ..)| *at);
    let rows: String = rows
        .into_iter()
        .map(|(at, name, what, more, intake)| {
            let more = more.map_or(String::new(), |more| format!("<p class=\"remark\">{}</p>", esc(&more)));
            format!(
                "<tr><td class=\"time\">{}</td><th scope=\"row\">{name}</th><td>{}{more}</td><td>{}</td><td>{}</td></tr>\n",
                time(record, at),
                esc(&what),
                intake.map_or(String::new(), came_in),
                intake.map_or(String::new(), audio),
            )
        })
        .collect();
    let codes: String = record
        .codes
        .iter()
        .map(|code| {
            let circuit = code.circuit.as_ref().map(|id| wording::circuit_name(&record.profile, id));
            let names =
                circuit.map_or("names no circuit of this part".to_owned(), |name| format!("names {name}"));
            format!("<li>{}: {}</li>\n", esc(&code.text), esc(&names))
        })
        .collect();
    let codes = if codes.is_empty() { codes } else { format!("<h3>Stored codes</h3>\n<ul>\n{codes}</ul>\n") };
    let cautions: String =
        record.profile.cautions.iter().map(|caution| format!("<li>{}</li>\n", esc(caution))).collect();
    let cautions = if cautions.is_empty() {
        cautions
    } else {
        format!("<h3>Cautions given</h3>\n<ul>\n{cautions}</ul>\n")
    };
    format!(
        "<section>\n<h2>Before and between</h2>\n<div class=\"wide\"><table class=\"readings\">\n<thead><tr><th>Time</th>\
         <th>What</th><th></th><th>Came in</th><th>Listen</th></tr></thead>\n<tbody>\n{rows}</tbody>\n</table></div>\n\
         {codes}{cautions}</section>\n"
    )
}

fn time(record: &Record, at: Timestamp) -> String {
    format!("<time datetime=\"{at}\">{}</time>", wording::clock(record, at))
}

fn came_in(intake: &Intake) -> String {
    let words = heard(intake);
    let colon = if words.is_empty() { "" } else { " " };
    format!("{}{colon}{words}", wording::way(intake.way))
}

/// What was typed or heard; what several opinions heard alike is said once.
fn heard(intake: &Intake) -> String {
    if intake.way != Way::Voice {
        return intake.typed.as_ref().map_or(String::new(), |typed| format!("<q>{}</q>", esc(typed)));
    }
    let mut alike: Vec<(&str, Vec<&str>)> = Vec::new();
    for opinion in &intake.opinions {
        match alike.iter_mut().find(|(words, _)| *words == opinion.words) {
            Some((_, by)) => by.push(&opinion.by),
            None => alike.push((&opinion.words, vec![&opinion.by])),
        }
    }
    let quoted = |words: &str| format!("<q>{}</q>", esc(words));
    match alike.as_slice() {
        [] => String::new(),
        [(words, _)] => quoted(words),
        several => {
            let each = several
                .iter()
                .map(|(words, by)| format!("{} <small>({})</small>", quoted(words), esc(&by.join(", "))));
            each.collect::<Vec<_>>().join(" or ")
        }
    }
}

fn audio(intake: &Intake) -> String {
    let Some((name, link)) = intake.clip.as_ref().and_then(|clip| Some((clip, link_step(clip)?))) else {
        return String::new();
    };
    format!(
        "<audio controls preload=\"none\" src=\"clips/{link}\"></audio><span class=\"clip\">{}</span>",
        esc(name)
    )
}
