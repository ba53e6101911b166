//! Owns the drawing of like circuits on one axis: the one that differs is seen before it is read.

use super::{
    super::{
        mark,
        said::{Heading, Sentence},
        wording::{Wording, circuit_name, plain},
    },
    circuits::marked,
    escape::Free,
};
use crate::{
    profile::Family,
    quantity::{Interval, Ohms},
    report::Record,
    verdict::{Finding, Station},
};
use maud::{Markup, html};

const LINE: usize = 22;
const NAMES: usize = 150;
const AXIS: usize = 420;

pub(super) fn section(record: &Record, to: Wording<'_>) -> Markup {
    let drawn: Vec<Markup> =
        record.profile.families.iter().filter_map(|family| family_drawn(record, family, to)).collect();
    html! {
        @if !drawn.is_empty() {
            section {
                h2 { (to.say(&Heading::Alike)) }
                @for one in drawn { (one) }
                p.hint { (to.say(&Sentence::AlikeHint)) }
            }
        }
    }
}

/// One family at the part. `None` where fewer than two of it have a number.
fn family_drawn(record: &Record, family: &Family, to: Wording<'_>) -> Option<Markup> {
    let member = |finding: &&Finding| {
        let circuit = record.profile.circuit(&finding.circuit);
        finding.station == Station::Component
            && circuit.is_some_and(|one| one.family.as_ref() == Some(&family.id))
    };
    let members: Vec<&Finding> = record.judgement.findings.iter().filter(member).collect();
    let values: Vec<f64> = members.iter().filter_map(|one| Some(one.resistance?.get())).collect();
    if values.len() < 2 {
        return None;
    }
    let scale = Scale::of(&values, members.iter().find_map(|one| one.limits))?;
    let height = LINE * members.len() + LINE;
    let (axis, names) = (AXIS as f64, NAMES as f64);
    Some(html! {
        figure.alike {
            figcaption { (Free(&family.title)) }
            svg viewBox=(format!("0 0 {} {height}", NAMES + AXIS)) role="img"
                aria-label=(to.say(&Sentence::AlikeLabel { family: plain(&family.title) })) {
                @if let Some(band) = scale.band {
                    @let (from, to) = (scale.place(band.low.get()), scale.place(band.high.get()));
                    rect.band x=(format!("{:.1}", names + from)) y="0" width=(format!("{:.1}", to - from))
                        height=(height - LINE) {}
                }
                @for (at, finding) in members.iter().enumerate() {
                    g class=(mark::mark(finding.class).name()) transform=(format!("translate(0 {})", at * LINE)) {
                        text.name x=(NAMES - 10) y="15" { (Free(&circuit_name(&record.profile, &finding.circuit))) }
                        path.axis d=(format!("M{NAMES} 11H{}", NAMES + AXIS)) {}
                        g transform=(format!("translate({NAMES} 0)")) {
                            @if let Some(value) = finding.resistance {
                                @let half = finding.uncertainty.map_or(0.0, |half| half.get() * scale.per_ohm);
                                (marked(scale.place(value.get()), half, axis, 11.0))
                            } @else {
                                text.none x="12" y="15" { (to.say(&finding.class)) }
                            }
                        }
                    }
                }
                text.end x=(NAMES) y=(height - 4) { (to.ohms(scale.low)) }
                text.end.right x=(NAMES + AXIS) y=(height - 4) { (to.ohms(scale.low + axis / scale.per_ohm)) }
            }
        }
    })
}

/// What the axis spans: the limits, or the middle of the values, with as much again on each side.
struct Scale {
    low: f64,
    per_ohm: f64,
    band: Option<Interval<Ohms>>,
}

impl Scale {
    fn of(values: &[f64], band: Option<Interval<Ohms>>) -> Option<Self> {
        let mut sorted = values.to_vec();
        sorted.sort_by(f64::total_cmp);
        let middle = sorted[sorted.len() / 2];
        // Without limits a tenth of the value on each side: where a member begins to be seen. Chosen here.
        let (from, to) = band.map_or((middle * 0.9, middle * 1.1), |band| (band.low.get(), band.high.get()));
        let width = (to - from).abs();
        (width > 0.0).then(|| Self { low: from - width, per_ohm: AXIS as f64 / (3.0 * width), band })
    }

    fn place(&self, ohms: f64) -> f64 {
        (ohms - self.low) * self.per_ohm
    }
}
