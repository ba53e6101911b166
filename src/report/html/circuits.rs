//! Owns the parts of the page about circuits: what each amounts to, and how that was worked out.

use super::{
    super::{amounts, mark, wording},
    conclusion::rests_on,
    esc,
};
use crate::{
    report::Record,
    verdict::{Finding, Station, Step},
};

pub(super) fn section(record: &Record) -> String {
    let rows: String =
        record.judgement.findings.iter().enumerate().map(|(at, finding)| row(record, at, finding)).collect();
    format!(
        "<section>\n<h2>Circuits</h2>\n<div class=\"wide\"><table>\n<thead><tr><th>Circuit</th><th>Verdict</th><th>Pins</th>\
         <th class=\"number\">Resistance</th><th class=\"number\">Limits</th><th>Against limits</th>\
         <th>Readings</th></tr></thead>\n<tbody>\n{rows}</tbody>\n</table></div>\n\
         <p class=\"hint\">Resistance is without the leads, ± its expanded uncertainty (k = 2). Limits hold at the temperature \
         of the part.</p>\n</section>\n"
    )
}

fn row(record: &Record, at: usize, finding: &Finding) -> String {
    let mark = mark::mark(finding.class);
    let where_taken = if mark::is_empty(finding) {
        String::new()
    } else {
        format!("<br><small>{}</small>", wording::station(finding.station))
    };
    let resistance = finding
        .resistance
        .map_or(String::new(), |value| amounts::with_uncertainty(value, finding.uncertainty));
    let confirmed = if finding.confirmed { "<br><small>confirmed</small>" } else { "" };
    let figures: String = wording::figures(finding)
        .iter()
        .filter(|_| wording::figures_matter(finding))
        .map(|text| format!("<br><small>{}</small>", esc(text)))
        .collect();
    let readings: Vec<_> =
        finding.measurements.iter().map(|id| format!("<a href=\"#r{id}\">{id}</a>")).collect();
    format!(
        "<tr id=\"f{at}\" class=\"{}\"><th scope=\"row\">{}</th>\
         <td class=\"verdict\">{}<b>{}</b>{confirmed}{figures}</td><td class=\"pins\">{}{where_taken}</td>\
         <td class=\"number\">{resistance}</td><td class=\"number\">{}</td><td>{}</td><td>{}</td></tr>\n",
        mark.name(),
        esc(&wording::circuit_name(&record.profile, &finding.circuit)),
        icon(mark),
        finding.class.word(),
        esc(&wording::pins(record.profile.circuit(&finding.circuit), finding.station)),
        finding.limits.map_or(String::new(), amounts::ohm_span),
        strip(finding),
        readings.join(", "),
    )
}

/// A mark in a line of text; the word stands beside it.
pub(super) fn icon(mark: mark::Mark) -> String {
    let name = mark.name();
    format!(
        "<svg class=\"icon {name}\" aria-hidden=\"true\" viewBox=\"0 0 24 24\"><use href=\"#m-{name}\"/></svg>"
    )
}

/// Where the value lies against its limits: the limits as a band, the value with its uncertainty on it. A value too far
/// out to be drawn becomes an arrow at the edge.
fn strip(finding: &Finding) -> String {
    let (Some(limits), Some(value)) = (finding.limits, finding.resistance) else { return String::new() };
    let width = limits.high.get() - limits.low.get();
    if width <= 0.0 {
        return String::new();
    }
    // The band takes the middle half of 120 units.
    let place = |ohms: f64| 30.0 + 60.0 * (ohms - limits.low.get()) / width;
    let at = place(value.get());
    let half = finding.uncertainty.map_or(0.0, |uncertainty| 60.0 * uncertainty.get() / width);
    let drawn = if at < 4.0 {
        "<path class=\"value\" d=\"M2 10 12 4V16Z\"/>".to_owned()
    } else if at > 116.0 {
        "<path class=\"value\" d=\"M118 10 108 4V16Z\"/>".to_owned()
    } else {
        let (from, to) = ((at - half).max(1.0), (at + half).min(119.0));
        format!(
            "<path class=\"whisker\" d=\"M{from:.1} 10H{to:.1}\"/><circle class=\"value\" cx=\"{at:.1}\" cy=\"10\" r=\"4\"/>"
        )
    };
    format!(
        "<svg class=\"strip\" viewBox=\"0 0 120 20\" aria-hidden=\"true\"><path class=\"axis\" d=\"M0 10H120\"/>\
         <rect class=\"band\" x=\"30\" y=\"3\" width=\"60\" height=\"14\" rx=\"2\"/>{drawn}</svg>"
    )
}

/// All derivations, so that a colleague can follow each figure by hand.
pub(super) fn derivations(record: &Record) -> String {
    let told = |finding: &Finding| {
        let station = match finding.station {
            Station::Component => String::new(),
            station => format!(", {}", wording::station(station)),
        };
        format!(
            "<div class=\"derivation\">\n<h3>{}{station}{}</h3>\n<ol>\n{}</ol>\n{}</div>\n",
            esc(&wording::circuit_name(&record.profile, &finding.circuit)),
            rests_on(&finding.measurements),
            steps(finding),
            remarks(finding),
        )
    };
    let all: String =
        record.judgement.findings.iter().filter(|finding| !finding.derivation.is_empty()).map(told).collect();
    if all.is_empty() {
        return all;
    }
    format!(
        "<section class=\"newpage\">\n<h2>How it was worked out</h2>\n<div class=\"derivations\">\n{all}</div>\n</section>\n"
    )
}

fn steps(finding: &Finding) -> String {
    let step = |step: &Step| format!("<li><b>{}:</b> {}</li>\n", esc(&step.what), esc(&step.how));
    finding.derivation.iter().map(step).collect()
}

fn remarks(finding: &Finding) -> String {
    let details = &finding.details;
    let all = wording::figures(finding).into_iter();
    let all = all.chain(details.cross_checks.iter().cloned()).chain(details.notes.iter().cloned());
    all.map(|text| format!("<p class=\"remark\">{}</p>\n", esc(&text))).collect()
}
