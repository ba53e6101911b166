//! Owns the blank sheet: what to measure, at which pins, with room to write, to be printed before the next job.

use super::{
    amounts::{celsius_span, ohm_span},
    html::{esc, fact, page, pin_map, stamps},
    wording::{kind, pins, unbroken},
};
use crate::{
    profile::{Circuit, CircuitKind, Family, Meter, Profile, Range},
    quantity::{Interval, Unit},
    verdict::Station,
};

/// A blank sheet for this part and meter as one self-contained page, to be printed on A4.
#[must_use]
pub fn sheet(profile: &Profile, meter: &Meter) -> String {
    let body = [head(profile, meter), gates(profile), map(profile), table(profile, meter), foot(profile)];
    page(&format!("Sheet: {}", profile.title), &body.concat())
}

fn head(profile: &Profile, meter: &Meter) -> String {
    let mut warnings = Vec::new();
    if profile.invented {
        warnings.push("Invented part: its figures are examples");
    }
    if meter.invented {
        warnings.push("Invented meter: its accuracy is an example");
    }
    let asked = [
        "Order, vehicle",
        "Date, name",
        "Stored codes",
        "Temperature of the part",
        "Probes together show",
        "First circuit, read again at the end",
    ];
    let lines: String = asked.iter().map(|name| format!("<div>{name}</div>")).collect();
    format!(
        "<header>\n<p class=\"kind\">Measuring sheet</p>\n<h1><bdi>{}</bdi></h1>\n<dl class=\"facts\">\n{}{}</dl>\n{}\
         <div class=\"lines\">{lines}</div>\n</header>\n",
        esc(&profile.title),
        fact("Meter", &format!("{}, {}", meter.title, meter.category)),
        fact("Figures from", &profile.source),
        stamps(&warnings),
    )
}

fn gates(profile: &Profile) -> String {
    let words = crate::words::Words::english();
    let own = crate::session::EVERYWHERE.iter().map(|caution| words.text(caution));
    let cautions: String = own
        .chain(profile.cautions.iter().cloned())
        .map(|text| format!("<li>{}</li>\n", esc(&text)))
        .collect();
    let gates: String = profile
        .gates
        .iter()
        .map(|gate| {
            format!("<li>{} <b>\u{201c}{}\u{201d}</b></li>\n", esc(&gate.instruction), esc(&gate.confirm))
        })
        .collect();
    format!(
        "<section>\n<h2>Before measuring</h2>\n<ul>\n{cautions}</ul>\n<ul class=\"ticks\">\n{gates}</ul>\n</section>\n"
    )
}

fn map(profile: &Profile) -> String {
    format!("<section>\n<h2>Pins</h2>\n{}</section>\n", pin_map(profile, None))
}

fn table(profile: &Profile, meter: &Meter) -> String {
    let rows: String = profile.circuits.iter().map(|circuit| row(meter, circuit)).collect();
    let families: String = profile.families.iter().map(alike).collect();
    let copper = profile.circuits.iter().any(|circuit| circuit.kind == CircuitKind::CopperCoil);
    // 234.5 = 1/0.00393 - 20, with alpha of copper at 20 degrees from IEC 60028; 254.5 = 234.5 + 20.
    let copper = if copper {
        "<p class=\"hint\">Copper, to compare at 20 °C: take off the leads, then multiply by 254.5 and divide by \
         (234.5 + temperature of the part in °C) (after IEC 60028).</p>\n"
    } else {
        ""
    };
    format!(
        "<section class=\"newpage\">\n<h2>Readings</h2>\n<div class=\"wide\"><table class=\"sheet\">\n<thead><tr><th>Circuit</th><th>Pins</th>\
         <th>Sound</th><th>Range</th><th>At the part</th><th>Again</th><th>Through the harness</th><th>To case</th></tr></thead>\n\
         <tbody>\n{rows}</tbody>\n</table></div>\n\
         <p class=\"hint\">Write what the display shows, with its prefix; OL for over range; both ends for a number that \
         wanders. An open circuit counts only after the terminal was cleaned and read again.</p>\n{families}{copper}</section>\n"
    )
}

fn alike(family: &Family) -> String {
    format!(
        "<p class=\"hint\">Should read alike, within \u{b1} {1} % of what most of them read: {0}.</p>\n",
        esc(&family.title),
        family.tolerance_percent
    )
}

fn row(meter: &Meter, circuit: &Circuit) -> String {
    let name = esc(&circuit.name);
    let pins = esc(&pins(Some(circuit), Station::Component));
    if let Some(why) = &circuit.never_ohmmeter {
        return format!(
            "<tr class=\"never\"><th scope=\"row\">{name}</th><td class=\"pins\">{pins}</td>\
             <td colspan=\"6\">No ohmmeter here: {}</td></tr>\n",
            esc(why)
        );
    }
    let sound = circuit.window.as_ref().map_or("no figure known".to_owned(), |limits| {
        let span = Interval { low: limits.low, high: limits.high };
        let at = celsius_span(Interval::exactly(limits.at));
        format!("{}<br><small>at {}</small>", unbroken(&ohm_span(span)), unbroken(&at))
    });
    let range = range(meter, circuit).map_or(String::new(), |range| {
        let (end, step) = (range_end(range.full_scale), range_end(range.resolution));
        format!("{}<br><small>{}</small>", unbroken(&format!("to {end}")), unbroken(&format!("steps {step}")))
    });
    let write = "<td class=\"write\"></td>".repeat(4);
    format!(
        "<tr><th scope=\"row\">{name}<br><small>{}</small></th><td class=\"pins\">{pins}</td><td>{sound}</td>\
         <td>{range}</td>{write}</tr>\n",
        kind(&circuit.kind)
    )
}

/// The lowest range of the meter that holds the window: the one with the finest steps.
fn range<'a>(meter: &'a Meter, circuit: &Circuit) -> Option<&'a Range> {
    let high = circuit.window.as_ref()?.high.get();
    meter.ranges.iter().find(|range| range.unit == Unit::Ohm && range.full_scale >= high)
}

/// A range end or step as printed on a meter: 50 Ω, 0.01 Ω, 5 kΩ.
fn range_end(ohms: f64) -> String {
    match ohms {
        ohms if ohms >= 1e6 => format!("{} MΩ", ohms / 1e6),
        ohms if ohms >= 1e3 => format!("{} kΩ", ohms / 1e3),
        ohms => format!("{ohms} Ω"),
    }
}

fn foot(profile: &Profile) -> String {
    let codes = profile.codes.iter().map(|code| {
        let name = super::wording::circuit_name(profile, &code.circuit);
        let meaning = code.meaning.as_ref().map_or(String::new(), |meaning| format!(" ({meaning})"));
        format!("Stored code {}{meaning} names {name}, never the part.", code.number)
    });
    let limits =
        [("one joint", &profile.drop_limits.joint), ("a wire with its joints", &profile.drop_limits.wire)];
    let drops = limits.into_iter().filter_map(|(what, limit)| {
        let limit = limit.as_ref()?;
        Some(format!("Voltage drop under load over {what}: at most {} ({}).", limit.volts, limit.source))
    });
    let all = profile.further_checks.iter().cloned().chain(drops).chain(codes);
    let checks: String = all.map(|text| format!("<li>{}</li>\n", esc(&text))).collect();
    let checks = if checks.is_empty() {
        checks
    } else {
        format!("<section>\n<h2>Further checks</h2>\n<ul>\n{checks}</ul>\n</section>\n")
    };
    format!(
        "{checks}<footer>\n<p>{}</p>\n<p>Profile {}, fingerprint {}</p>\n</footer>\n",
        super::wording::AN_AID,
        esc(&profile.id),
        esc(&profile.fingerprint)
    )
}
