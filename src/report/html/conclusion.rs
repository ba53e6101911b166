//! Owns the part of the page that says what it amounts to.

use super::{
    super::{
        said::{Heading, Sentence},
        wording::{Wording, circuit_name},
    },
    escape::Free,
};
use crate::{
    report::Record,
    verdict::{Explanation, NextCheck, Observed, Reason},
};
use maud::{Markup, PreEscaped, html};

/// Explanations less likely than this are folded away. Chosen here.
const LESS_LIKELY: f64 = 0.05;

pub(super) fn section(record: &Record, to: Wording<'_>) -> Markup {
    let judgement = &record.judgement;
    let conclusion = &judgement.conclusion;
    // The first one is always in view.
    let place = |at: usize, one: &Explanation| at == 0 || one.certainty >= LESS_LIKELY;
    let of = |likely: bool| {
        let all = conclusion.explanations.iter().enumerate();
        all.filter(move |(at, one)| place(*at, one) == likely).map(|(_, one)| one).collect::<Vec<_>>()
    };
    let patterns: Vec<Markup> = judgement
        .patterns
        .iter()
        .map(|found| html! { b { (to.say(&found.kind)) "." } " " (Free(&to.say(&found.text))) })
        .collect();
    let observed: Vec<Markup> = judgement.observed.iter().map(|one| observed(one, to)).collect();
    let checks: Vec<Markup> = judgement.next_checks.iter().map(|one| check(one, to)).collect();
    html! {
        section.conclusion {
            h2 { (to.say(&Heading::Conclusion)) }
            p.headline { (Free(&to.say(&conclusion.headline))) }
            p.outcome { (to.outcome(record)) }
            @if let Some(text) = to.what_to_do(record) { p.outcome { (Free(&text)) } }
            ul.explanations { @for one in of(true) { (told(record, one, to)) } }
            @let less = of(false);
            @if !less.is_empty() {
                details.less {
                    summary { (to.say(&Heading::LessLikely)) }
                    ul.explanations { @for one in less { (told(record, one, to)) } }
                }
            }
            div.boxes {
                (listed(Heading::NextChecks, &checks, to))
                (listed(Heading::Patterns, &patterns, to))
                (listed(Heading::Observed, &observed, to))
                (listed(Heading::NotExcluded, &items(&conclusion.not_excluded, to), to))
                (listed(Heading::Cautions, &items(&conclusion.cautions, to), to))
            }
        }
    }
}

fn told(record: &Record, explanation: &Explanation, to: Wording<'_>) -> Markup {
    let circuits: Vec<_> = explanation.circuits.iter().map(|id| circuit_name(&record.profile, id)).collect();
    let circuits = if circuits.is_empty() { String::new() } else { format!(": {}", circuits.join(", ")) };
    let width = (explanation.certainty.clamp(0.0, 1.0) * 100.0).round();
    let reasons = |class: &str, label: &Sentence, reasons: &[Reason]| {
        html! {
            @for reason in reasons {
                li class=(class) {
                    span.side { (to.say(label)) } " " (Free(&to.say(&reason.text))) (rests_on(&reason.measurements, to))
                }
            }
        }
    };
    html! {
        li {
            p.cause {
                span.bar aria-hidden="true" { i style=(format!("width:{width}%")) {} }
                b { (to.percent(explanation.certainty)) } " "
                span { (to.say(&explanation.cause)) (Free(&circuits)) }
            }
            ul.reasons {
                (reasons("for", &Sentence::For, &explanation.reasons_for))
                (reasons("against", &Sentence::Against, &explanation.reasons_against))
            }
        }
    }
}

/// Links to readings by their numbers.
pub(super) fn links(measurements: &[u32]) -> String {
    let link = |id: &u32| html! { a href=(format!("#r{id}")) { (id) } }.into_string();
    measurements.iter().map(link).collect::<Vec<_>>().join(", ")
}

/// Links to the readings that something rests on.
pub(super) fn rests_on(measurements: &[u32], to: Wording<'_>) -> Markup {
    let told = || Sentence::RestsOnLinks { readings: measurements.to_vec(), links: links(measurements) };
    html! {
        // The words of a language and links that were made here.
        @if !measurements.is_empty() { " " span.refs { "(" (PreEscaped(to.say(&told()))) ")" } }
    }
}

fn observed(one: &Observed, to: Wording<'_>) -> Markup {
    let stands = to.stands(one);
    html! {
        b { (to.say(&one.about)) @if !stands.is_empty() { " (" (stands) ")" } "." } " "
        (Free(&crate::words::capital(&to.say(&one.text)))) (rests_on(&one.measurements, to))
    }
}

fn check(check: &NextCheck, to: Wording<'_>) -> Markup {
    html! { (Free(&to.say(&check.text))) " " span.why { (Free(&to.say(&check.why))) } }
}

fn items<T: serde::Serialize>(texts: &[T], to: Wording<'_>) -> Vec<Markup> {
    texts.iter().map(|text| html! { (Free(&to.say(text))) }).collect()
}

fn listed(heading: Heading, items: &[Markup], to: Wording<'_>) -> Markup {
    html! {
        @if !items.is_empty() {
            div {
                h3 { (to.say(&heading)) }
                @if heading == Heading::NextChecks {
                    ol { @for item in items { li { (item) } } }
                } @else {
                    ul { @for item in items { li { (item) } } }
                }
            }
        }
    }
}
