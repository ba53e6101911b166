//! Owns the drawing of the connector: every pin with its state as shape and word.

use super::{
    super::{
        layout::wrap,
        mark::{Mark, mark, worst},
        said::{PinWord, Sentence},
        wording::{Wording, circuit_name, plain},
    },
    escape::Free,
};
use crate::{
    profile::{Circuit, Pin, PinName, Profile},
    verdict::{Class, Judgement},
};
use maud::{Markup, html};

/// The marks, drawn once and used by name.
pub(super) const SYMBOLS: &str = r##"<svg class="symbols" aria-hidden="true">
<symbol id="m-sound" viewBox="0 0 24 24"><circle cx="12" cy="12" r="10" fill="currentColor"/><path d="M7 12.5l3.5 3.5L17 8.5" class="cut"/></symbol>
<symbol id="m-doubt" viewBox="0 0 24 24"><path d="M12 2 23 21.5H1Z" fill="currentColor"/><path d="M12 9v5.5M12 17.2v1.6" class="cut"/></symbol>
<symbol id="m-suspect" viewBox="0 0 24 24"><path d="M7.5 1.5h9l6 6v9l-6 6h-9l-6-6v-9Z" fill="currentColor"/><path d="M8 8l8 8M16 8l-8 8" class="cut"/></symbol>
<symbol id="m-noted" viewBox="0 0 24 24"><circle cx="12" cy="12" r="8.5" class="ring"/><circle cx="12" cy="12" r="3" fill="currentColor"/></symbol>
<symbol id="m-none" viewBox="0 0 24 24"><circle cx="12" cy="12" r="8.5" class="ring dashed"/></symbol>
</svg>
"##;

const CELL: usize = 92;
const SHAPE: usize = 44;
const LINE: usize = 14;
/// A row with more pins than this is folded: a drawing as wide as a wall shows nothing.
const FOLD: usize = 16;
/// Pins side by side where they are a list.
const LISTED: usize = 8;
/// Characters of label text that fit under a pin.
const LABEL: usize = 12;

/// What a pin is for.
enum Role<'a> {
    Probed(&'a Circuit),
    Common,
    ReturnOf(&'a Circuit),
    /// No ohmmeter may touch it. Wins over everything else.
    Forbidden(&'a Circuit),
    Unused,
}

fn role<'a>(profile: &'a Profile, pin: &PinName, judgement: Option<&Judgement>) -> Role<'a> {
    let mut touching = profile.circuits.iter().filter(|one| one.pin == *pin || one.against == *pin);
    if let Some(forbidden) = touching.find(|one| one.never_ohmmeter.is_some()) {
        return Role::Forbidden(forbidden);
    }
    let probed = profile.circuits.iter().filter(|circuit| circuit.pin == *pin);
    let state = |circuit: &Circuit| {
        judgement.and_then(|found| worst(found, &circuit.id)).map(|found| mark(found.class))
    };
    // The first of those that ask for most attention.
    let shown = probed.reduce(|kept, next| if state(next) > state(kept) { next } else { kept });
    let returns: Vec<_> = profile.circuits.iter().filter(|circuit| circuit.against == *pin).collect();
    match (shown, returns.as_slice()) {
        (Some(circuit), _) => Role::Probed(circuit),
        (None, []) => Role::Unused,
        (None, [one]) => Role::ReturnOf(one),
        (None, _) => Role::Common,
    }
}

/// One pin, ready to be placed.
struct Drawn {
    shape: Markup,
    class: &'static str,
    name: Vec<String>,
    word: Option<PinWord>,
    link: Option<usize>,
}

fn drawn(profile: &Profile, pin: &Pin, judgement: Option<&Judgement>, to: Wording<'_>) -> Drawn {
    let square = || {
        let (from, side) = (SHAPE / 2 - 2, SHAPE - 4);
        html! { rect x=(format!("-{from}")) y=(format!("-{from}")) width=(side) height=(side) rx="4" {} }
    };
    let label = |fallback: String| pin.label.as_deref().map_or(fallback, plain);
    let (shape, class, name, word, link) = match role(profile, &pin.name, judgement) {
        Role::Probed(circuit) => {
            let name = circuit_name(profile, &circuit.id);
            let Some(judgement) = judgement else {
                return Drawn {
                    shape: round(),
                    class: "blank",
                    name: wrap(&name, LABEL),
                    word: None,
                    link: None,
                };
            };
            let found = worst(judgement, &circuit.id);
            let class = found.map_or(Class::NotTaken, |found| found.class);
            let link =
                judgement.findings.iter().position(|one| found.is_some_and(|found| std::ptr::eq(one, found)));
            let state = mark(class);
            (outline(state), state.name(), name, Some(PinWord::Class(class)), link)
        }
        Role::Common => {
            let name = label(to.say(&PinWord::Common));
            (square(), "common", name, Some(PinWord::CommonPin), None)
        }
        Role::ReturnOf(circuit) => {
            let name = label(circuit_name(profile, &circuit.id));
            (square(), "common", name, Some(PinWord::Return), None)
        }
        Role::Forbidden(circuit) => {
            let barred = html! { (square()) path d="M-20 20 20 -20" {} };
            let name = circuit_name(profile, &circuit.id);
            (barred, "forbidden", name, Some(PinWord::NoOhmmeter), None)
        }
        Role::Unused => (square(), "unused", label(String::new()), Some(PinWord::Unused), None),
    };
    Drawn { shape, class, name: wrap(&name, LABEL), word, link }
}

fn round() -> Markup {
    html! { circle r=(SHAPE / 2 - 2) {} }
}

/// Each state has a shape of its own, so that it can be told without colour.
fn outline(state: Mark) -> Markup {
    match state {
        Mark::Sound | Mark::Noted | Mark::Open => round(),
        Mark::Doubtful => html! { path d="M0 -25 27 20H-27Z" {} },
        Mark::Suspect => html! { path d="M-9.5 -23H9.5L23 -9.5V9.5L9.5 23H-9.5L-23 9.5V-9.5Z" {} },
    }
}

/// Whether a pin leads to its circuit's row.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Links {
    ToCircuits,
    None,
}

/// The connector with its pins where they are, as seen from the probing side. Without a judgement the pins are blank.
pub(super) fn map(profile: &Profile, judgement: Option<&Judgement>, links: Links, to: Wording<'_>) -> Markup {
    let connector = &profile.connector;
    let pins: Vec<_> = connector.pins.iter().map(|pin| (pin, drawn(profile, pin, judgement, to))).collect();
    // Where nobody knows the places they are listed; the caption says so.
    let grid = |at: usize, pin: &Pin| match connector.is_list() {
        true => (at % LISTED, at / LISTED),
        false => (usize::from(pin.column).max(1) - 1, usize::from(pin.row).max(1) - 1),
    };
    let places: Vec<(usize, usize)> =
        connector.pins.iter().enumerate().map(|(at, pin)| grid(at, pin)).collect();
    let columns = 1 + places.iter().map(|(column, _)| *column).max().unwrap_or(0);
    let rows = 1 + places.iter().map(|(_, row)| *row).max().unwrap_or(0);
    let (across, folds) = if columns > FOLD { (FOLD, columns.div_ceil(FOLD)) } else { (columns, 1) };
    let lines = pins.iter().map(|(_, drawn)| drawn.name.len()).max().unwrap_or(1);
    let cell_height = SHAPE + 26 + LINE * (lines + 1);
    let (width, height) = (across * CELL + 16, rows * folds * cell_height + 16);
    let place = |(column, row): (usize, usize)| {
        let x = 8 + (column % across) * CELL + CELL / 2;
        (x, 8 + (row + column / across * rows) * cell_height + 10 + SHAPE / 2)
    };
    let key = if judgement.is_some() { Sentence::MapKey } else { Sentence::BlankMapKey };
    html! {
        figure.map {
            svg viewBox=(format!("0 0 {width} {height}")) style=(format!("max-width:{width}px")) role="group"
                aria-label=(to.say(&Sentence::MapLabel)) {
                rect.shell x="1" y="1" width=(width - 2) height=(height - 2) rx="14" {}
                @for ((pin, drawn), grid) in pins.iter().zip(&places) { (placed(pin, drawn, place(*grid), links, to)) }
            }
            figcaption { (Free(&connector.title)) ", " (Free(&connector.seen_from)) ". " (to.say(&key)) }
        }
    }
}

fn placed(pin: &Pin, drawn: &Drawn, (x, y): (usize, usize), links: Links, to: Wording<'_>) -> Markup {
    // The number sits lower in a triangle, where it is wide.
    let drop = if drawn.class == "doubt" { 13 } else { 6 };
    let below = |at: usize| SHAPE / 2 + 18 + at * LINE;
    let names = drawn.name.iter().filter(|name| !name.is_empty()).enumerate();
    let count = drawn.name.iter().filter(|name| !name.is_empty()).count();
    let group = html! {
        g class=(format!("pin {}", drawn.class)) transform=(format!("translate({x} {y})")) {
            (drawn.shape)
            text.no y=(drop) { (Free(pin.name.as_str())) }
            @for (at, name) in names { text.name y=(below(at)) { (Free(name)) } }
            @if let Some(word) = drawn.word { text.word y=(below(count)) { (to.say(&word)) } }
        }
    };
    match drawn.link.filter(|_| links == Links::ToCircuits) {
        Some(at) => html! { a href=(format!("#f{at}")) { (group) } },
        None => group,
    }
}
