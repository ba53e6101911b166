//! Owns the drawing of the connector: its pins as seen from the probing side, each with a sign for what is known of it.

use super::{
    Label,
    view::{PinMark, View},
};
use crate::{profile::place_of, words::Words};
use ratatui::{
    style::{Modifier, Style},
    text::{Line, Span},
};

impl PinMark {
    /// What stands before and after the pin's name.
    fn signs(self) -> (char, char) {
        match self {
            Self::Here => ('[', ']'),
            Self::Against => ('(', ')'),
            Self::Read => ('+', ' '),
            Self::Suspect => ('!', ' '),
            Self::Open => (' ', ' '),
        }
    }

    fn style(self) -> Style {
        match self {
            Self::Here => Style::new().add_modifier(Modifier::REVERSED | Modifier::BOLD),
            Self::Against | Self::Suspect => Style::new().add_modifier(Modifier::BOLD),
            Self::Read | Self::Open => Style::new(),
        }
    }
}

/// How many lines [`lines`] would like: one a row of pins.
pub(super) fn rows(view: &View) -> usize {
    let pins = &view.profile.connector.pins;
    if view.profile.connector.is_list() { pins.len() } else { distinct(pins.iter().map(|pin| pin.row)).len() }
}

/// The pins in at most `height` lines of `width` columns. Where the connector is larger, the part around the current pin is
/// shown, with signs at the edges that there is more.
pub(super) fn lines(view: &View, width: usize, height: usize) -> Vec<Line<'static>> {
    if view.profile.connector.is_list() {
        return list(view, width, height);
    }
    let pins = &view.profile.connector.pins;
    let rows = distinct(pins.iter().map(|pin| pin.row));
    let columns: Vec<u8> =
        match (pins.iter().map(|pin| pin.column).min(), pins.iter().map(|pin| pin.column).max()) {
            (Some(first), Some(last)) => (first..=last).collect(),
            _ => Vec::new(),
        };
    let name = pins.iter().map(|pin| Span::raw(pin.name.as_str()).width()).max().unwrap_or(1);
    let here = pins.iter().zip(&view.pins).find(|(_, mark)| **mark == PinMark::Here).map(|(pin, _)| pin);
    let cell = name + 3;
    // Two columns at either edge for the signs.
    let across = window(&columns, here.map(|pin| pin.column), (width.saturating_sub(4) / cell).max(1));
    let down = window(&rows, here.map(|pin| pin.row), height.max(1));
    let (more_left, more_right) = (across.first() != columns.first(), across.last() != columns.last());
    down.iter()
        .map(|row| {
            let mut spans = vec![Span::raw(if more_left { "< " } else { "  " })];
            for column in across {
                let pin =
                    pins.iter().zip(&view.pins).find(|(pin, _)| pin.row == *row && pin.column == *column);
                match pin {
                    None => spans.push(Span::raw(" ".repeat(cell))),
                    Some((pin, mark)) => {
                        let (before, after) = mark.signs();
                        let text = format!("{before}{:>name$}{after}", pin.name.as_str());
                        spans.push(Span::styled(text, mark.style()));
                        spans.push(Span::raw(" "));
                    }
                }
            }
            let more_rows =
                down.len() < rows.len() && (down.first() == Some(row) || down.last() == Some(row));
            let edge = match (more_right, more_rows) {
                (true, _) => ">",
                (false, true) => ":",
                (false, false) => "",
            };
            spans.push(Span::raw(edge));
            Line::from(spans)
        })
        .collect()
}

/// The pins one below the other with what they are for: nobody knows where they are.
fn list(view: &View, width: usize, height: usize) -> Vec<Line<'static>> {
    let pins = &view.profile.connector.pins;
    let name = pins.iter().map(|pin| Span::raw(pin.name.as_str()).width()).max().unwrap_or(1);
    let places: Vec<usize> = (0..pins.len()).collect();
    let here = view.pins.iter().position(|mark| *mark == PinMark::Here);
    window(&places, here, height.max(1))
        .iter()
        .map(|place| {
            let (pin, mark) = (&pins[*place], view.pins[*place]);
            let (before, after) = mark.signs();
            let label = pin.label.as_deref().unwrap_or_default();
            let label: String = label.chars().take(width.saturating_sub(name + 6)).collect();
            Line::from(vec![
                Span::raw("  "),
                Span::styled(format!("{before}{:>name$}{after}", pin.name.as_str()), mark.style()),
                Span::raw(format!(" {label}")),
            ])
        })
        .collect()
}

/// Where the current pin is, in words.
pub(super) fn place(view: &View, words: &Words) -> String {
    match &view.probe {
        Some(probe) => {
            let place = Some(place_of(&view.profile, &probe.pin)).filter(|place| !place.is_empty());
            words.text(&Label::PlaceOfPin { pin: probe.pin.to_string(), place })
        }
        None => String::new(),
    }
}

/// `many` of all places, with the current one as near to the middle as can be.
fn window<T: PartialEq>(all: &[T], current: Option<T>, many: usize) -> &[T] {
    let many = many.min(all.len());
    let at = current.and_then(|current| all.iter().position(|one| *one == current)).unwrap_or(0);
    let start = at.saturating_sub(many / 2).min(all.len() - many);
    &all[start..start + many]
}

fn distinct(all: impl Iterator<Item = u8>) -> Vec<u8> {
    let mut all: Vec<u8> = all.collect();
    all.sort_unstable();
    all.dedup();
    all
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_window_holds_the_current_place() {
        let all: Vec<u8> = (1..=10).collect();
        assert_eq!(window(&all, Some(1), 4), [1, 2, 3, 4]);
        assert_eq!(window(&all, Some(6), 4), [4, 5, 6, 7]);
        assert_eq!(window(&all, Some(10), 4), [7, 8, 9, 10]);
        assert_eq!(window(&all, None, 40), all);
        assert!(window::<u8>(&[], None, 4).is_empty());
    }
}
