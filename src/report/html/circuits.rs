//! Owns the parts of the page about circuits: what each amounts to, and how that was worked out.

use super::{
    super::{
        mark,
        said::{Heading, Name, Sentence},
        wording::{Wording, circuit_name, figures_matter},
    },
    Column::{Number, Words},
    columns,
    conclusion::{links, rests_on},
    escape::Free,
    wide,
};
use crate::{
    report::Record,
    verdict::{Finding, Station},
};
use maud::{Markup, PreEscaped, html};

pub(super) fn section(record: &Record, to: Wording<'_>) -> Markup {
    let heading = to.say(&Heading::Circuits);
    let table = html! {
        table.cards {
            (columns(&[
                Words(Name::Circuit), Words(Name::Verdict), Words(Name::Pins), Number(Name::Resistance),
                Number(Name::Limits), Words(Name::AgainstLimits), Words(Name::Readings),
            ], to))
            tbody {
                @for (at, finding) in record.judgement.findings.iter().enumerate() { (row(record, at, finding, to)) }
            }
        }
    };
    html! {
        section {
            h2 { (heading) }
            (wide(&heading, &table))
            p.hint { (to.say(&Sentence::ResistanceHint)) }
        }
    }
}

fn row(record: &Record, at: usize, finding: &Finding, to: Wording<'_>) -> Markup {
    let mark = mark::mark(finding.class);
    let resistance =
        finding.resistance.map_or(String::new(), |value| to.with_uncertainty(value, finding.uncertainty));
    let limits = finding.limits.map_or(String::new(), |limits| to.ohm_span(limits));
    let strip = strip(finding);
    // A cell that says nothing is left out on a phone.
    let cell = |name: Name, class: &str, empty: bool, content: Markup| {
        html! { td class=[Some(class).filter(|class| !class.is_empty())] data-name=[(!empty).then(|| to.say(&name))] { (content) } }
    };
    html! {
        tr id=(format!("f{at}")) class=(mark.name()) {
            th scope="row" { (Free(&circuit_name(&record.profile, &finding.circuit))) }
            td.verdict {
                (icon(mark)) b { (to.say(&finding.class)) }
                @if finding.confirmed { br; small { (to.say(&Sentence::Confirmed)) } }
                @if figures_matter(finding) {
                    @for text in to.figures(finding) { br; small { (text) } }
                }
            }
            (cell(Name::Pins, "pins", false, html! {
                (Free(&to.pins(record.profile.circuit(&finding.circuit), finding.station)))
                @if !mark::is_empty(finding) { " " small.where { (to.say(&finding.station)) } }
            }))
            (cell(Name::Resistance, "number", resistance.is_empty(), html! { (resistance) }))
            (cell(Name::Limits, "number", limits.is_empty(), html! { (limits) }))
            (cell(Name::AgainstLimits, "", strip.is_none(), html! { @if let Some(strip) = &strip { (strip) } }))
            (cell(Name::Readings, "", finding.measurements.is_empty(), PreEscaped(links(&finding.measurements))))
        }
    }
}

/// A mark in a line of text; the word stands beside it.
fn icon(mark: mark::Mark) -> Markup {
    let name = mark.name();
    html! {
        svg class=(format!("icon {name}")) aria-hidden="true" viewBox="0 0 24 24" { use href=(format!("#m-{name}")) {} }
    }
}

/// Where the value lies against its limits: the limits as a band, the value with its uncertainty on it. A value too far
/// out to be drawn becomes an arrow at the edge.
fn strip(finding: &Finding) -> Option<Markup> {
    let (limits, value) = (finding.limits?, finding.resistance?);
    let width = limits.high.get() - limits.low.get();
    if width <= 0.0 {
        return None;
    }
    // The band takes the middle half of 120 units.
    let place = |ohms: f64| 30.0 + 60.0 * (ohms - limits.low.get()) / width;
    let at = place(value.get());
    let half = finding.uncertainty.map_or(0.0, |uncertainty| 60.0 * uncertainty.get() / width);
    Some(html! {
        svg.strip viewBox="0 0 120 20" aria-hidden="true" {
            path.axis d="M0 10H120" {}
            rect.band x="30" y="3" width="60" height="14" rx="2" {}
            (marked(at, half, 120.0, 10.0))
        }
    })
}

/// A value on an axis of a length, with its uncertainty; an arrow at the edge where it lies beyond.
pub(super) fn marked(at: f64, half: f64, length: f64, y: f64) -> Markup {
    let arrow = |tip: f64, back: f64| {
        html! { path.value d=(format!("M{tip:.0} {y:.0} {back:.0} {:.0}V{:.0}Z", y - 6.0, y + 6.0)) {} }
    };
    if at < 4.0 {
        return arrow(2.0, 12.0);
    }
    if at > length - 4.0 {
        return arrow(length - 2.0, length - 12.0);
    }
    let (from, to) = ((at - half).max(1.0), (at + half).min(length - 1.0));
    html! {
        path.whisker d=(format!("M{from:.1} {y:.0}H{to:.1}")) {}
        circle.value cx=(format!("{at:.1}")) cy=(format!("{y:.0}")) r="4" {}
    }
}

/// All derivations, so that a colleague can follow each figure by hand.
pub(super) fn derivations(record: &Record, to: Wording<'_>) -> Markup {
    let told: Vec<&Finding> =
        record.judgement.findings.iter().filter(|finding| !finding.derivation.is_empty()).collect();
    html! {
        @if !told.is_empty() {
            section.newpage {
                h2 { (to.say(&Heading::Derivations)) }
                div.derivations { @for finding in told { (derivation(record, finding, to)) } }
            }
        }
    }
}

fn derivation(record: &Record, finding: &Finding, to: Wording<'_>) -> Markup {
    let details = &finding.details;
    let remarks = to.figures(finding).into_iter();
    let remarks = remarks
        .chain(details.cross_checks.iter().map(|one| to.say(one)))
        .chain(details.notes.iter().map(|one| to.say(one)));
    html! {
        div.derivation {
            h3 {
                (Free(&circuit_name(&record.profile, &finding.circuit)))
                @if finding.station != Station::Component { ", " (to.say(&finding.station)) }
            }
            ol { @for step in &finding.derivation { li { b { (Free(&to.say(&step.what))) ":" } " " (Free(&to.say(&step.how))) } } }
            (rests_on(&finding.measurements, to))
            @for text in remarks { p.remark { (Free(&text)) } }
        }
    }
}
