//! Owns the drawing of the connector: every pin with its state as shape and word.

use super::{
    super::{
        layout::wrap,
        mark::{Mark, mark, short_word, worst},
        wording::{circuit_name, plain},
    },
    esc,
};
use crate::{
    profile::{Circuit, Pin, PinName, Profile},
    verdict::Judgement,
};

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
    shape: String,
    class: &'static str,
    name: Vec<String>,
    word: &'static str,
    link: Option<usize>,
}

fn drawn(profile: &Profile, pin: &Pin, judgement: Option<&Judgement>) -> Drawn {
    let square = format!(
        "<rect x=\"-{0}\" y=\"-{0}\" width=\"{1}\" height=\"{1}\" rx=\"4\"/>",
        SHAPE / 2 - 2,
        SHAPE - 4
    );
    let label = |fallback: String| pin.label.as_deref().map_or(fallback, plain);
    let (shape, class, name, word, link) = match role(profile, &pin.name, judgement) {
        Role::Probed(circuit) => {
            let name = circuit_name(profile, &circuit.id);
            let Some(judgement) = judgement else {
                return Drawn {
                    shape: round(),
                    class: "blank",
                    name: wrap(&name, LABEL),
                    word: "",
                    link: None,
                };
            };
            let found = worst(judgement, &circuit.id);
            let (state, word) =
                found.map_or((Mark::Open, "not taken"), |found| (mark(found.class), short_word(found.class)));
            let link =
                judgement.findings.iter().position(|one| found.is_some_and(|found| std::ptr::eq(one, found)));
            (outline(state), state.name(), name, word, link)
        }
        Role::Common => (square, "common", label("common".to_owned()), "common pin", None),
        Role::ReturnOf(circuit) => {
            (square, "common", label(circuit_name(profile, &circuit.id)), "return", None)
        }
        Role::Forbidden(circuit) => {
            let barred = format!("{square}<path d=\"M-20 20 20 -20\"/>");
            (barred, "forbidden", circuit_name(profile, &circuit.id), "no ohmmeter", None)
        }
        Role::Unused => (square, "unused", label(String::new()), "unused", None),
    };
    Drawn { shape, class, name: wrap(&name, LABEL), word, link }
}

fn round() -> String {
    format!("<circle r=\"{}\"/>", SHAPE / 2 - 2)
}

/// Each state has a shape of its own, so that it can be told without colour.
fn outline(state: Mark) -> String {
    match state {
        Mark::Sound | Mark::Noted | Mark::Open => round(),
        Mark::Doubtful => "<path d=\"M0 -25 27 20H-27Z\"/>".to_owned(),
        Mark::Suspect => "<path d=\"M-9.5 -23H9.5L23 -9.5V9.5L9.5 23H-9.5L-23 9.5V-9.5Z\"/>".to_owned(),
    }
}

/// The connector with its pins where they are, as seen from the probing side. Without a judgement the pins are blank.
pub(in crate::report) fn map(profile: &Profile, judgement: Option<&Judgement>) -> String {
    let connector = &profile.connector;
    let pins: Vec<_> = connector.pins.iter().map(|pin| (pin, drawn(profile, pin, judgement))).collect();
    // Where nobody knows the places they are listed, so many beside each other; the caption says so.
    const LISTED: usize = 8;
    let place = |at: usize, pin: &Pin| match connector.is_list() {
        true => (at % LISTED + 1, at / LISTED + 1),
        false => (usize::from(pin.column).max(1), usize::from(pin.row).max(1)),
    };
    let places: Vec<(usize, usize)> = pins.iter().enumerate().map(|(at, (pin, _))| place(at, pin)).collect();
    let columns = places.iter().map(|(column, _)| *column).max().unwrap_or(1);
    let rows = places.iter().map(|(_, row)| *row).max().unwrap_or(1);
    let lines = pins.iter().map(|(_, drawn)| drawn.name.len()).max().unwrap_or(1);
    let cell_height = SHAPE + 26 + LINE * (lines + 1);
    let (width, height) = (columns * CELL + 16, rows * cell_height + 16);
    let body: String = pins
        .iter()
        .zip(&places)
        .map(|((pin, drawn), (column, row))| {
            let x = 8 + column * CELL - CELL / 2;
            let y = 8 + (row - 1) * cell_height + 10 + SHAPE / 2;
            placed(pin, drawn, x, y)
        })
        .collect();
    format!(
        "<figure class=\"map\"><svg viewBox=\"0 0 {width} {height}\" width=\"{width}\" height=\"{height}\" style=\"max-width:{width}px\" role=\"img\" \
         aria-label=\"Pins of the connector; the same is in the table of circuits\">\n\
         <rect class=\"shell\" x=\"1\" y=\"1\" width=\"{}\" height=\"{}\" rx=\"14\"/>\n{body}</svg>\n\
         <figcaption>{}, {}.{}</figcaption></figure>\n",
        width - 2,
        height - 2,
        esc(&connector.title),
        esc(&connector.seen_from),
        if judgement.is_some() { KEY } else { BLANK_KEY },
    )
}

const KEY: &str = " Disc: sound. Triangle: doubtful, cannot be told with this meter or is to be checked. Octagon: speaks \
                   against the circuit. Thin ring: measured, not judged. Dashed: not taken. Square: common pin or return. Barred square: no ohmmeter here.";

const BLANK_KEY: &str = " Circle: probed. Square: common pin or return. Barred square: no ohmmeter here.";

fn placed(pin: &Pin, drawn: &Drawn, x: usize, y: usize) -> String {
    // The number sits lower in a triangle, where it is wide.
    let drop = if drawn.class == "doubt" { 13 } else { 6 };
    let lines = drawn.name.iter().map(String::as_str).zip(std::iter::repeat("name"));
    let lines = lines.chain(std::iter::once((drawn.word, "word"))).filter(|(text, _)| !text.is_empty());
    let texts: String = lines
        .enumerate()
        .map(|(at, (text, class))| {
            let y = SHAPE / 2 + 18 + at * LINE;
            format!("<text class=\"{class}\" y=\"{y}\">{}</text>", esc(text))
        })
        .collect();
    let group = format!(
        "<g class=\"pin {}\" transform=\"translate({x} {y})\">{}<text class=\"no\" y=\"{drop}\">{}</text>{texts}</g>",
        drawn.class,
        drawn.shape,
        esc(pin.name.as_str()),
    );
    match drawn.link {
        Some(at) => format!("<a href=\"#f{at}\">{group}</a>\n"),
        None => format!("{group}\n"),
    }
}
