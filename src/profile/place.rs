//! Owns where a pin is, in words: as it is found with a finger, from the nearer end of its row.

use super::{Pin, PinName, Profile, short::PARTED};

/// Places in words. A row is counted from its nearer end, so that this reaches for rows of forty pins.
const ORDINALS: [&str; 20] = [
    "first",
    "second",
    "third",
    "fourth",
    "fifth",
    "sixth",
    "seventh",
    "eighth",
    "ninth",
    "tenth",
    "eleventh",
    "twelfth",
    "thirteenth",
    "fourteenth",
    "fifteenth",
    "sixteenth",
    "seventeenth",
    "eighteenth",
    "nineteenth",
    "twentieth",
];

/// Where a pin is, as seen from the probing side: "top row, third from the left". Pins are counted, not column numbers:
/// where a row has gaps it says so; of several connectors the pin's own is named. Empty for a pin that the profile does not have, or
/// whose place it does not know.
#[must_use]
pub fn place_of(profile: &Profile, pin: &PinName) -> String {
    let pins = &profile.connector.pins;
    let Some(here) = pins.iter().find(|known| known.name == *pin).filter(|here| here.is_placed()) else {
        return String::new();
    };
    let connector =
        |pin: &Pin| pin.name.as_str().split_once(PARTED).map(|(connector, _)| connector.to_owned());
    let named = connector(here);
    let pins: Vec<&Pin> = pins.iter().filter(|pin| pin.is_placed() && connector(pin) == named).collect();
    let mut rows: Vec<u8> = pins.iter().map(|pin| pin.row).collect();
    rows.sort_unstable();
    rows.dedup();
    let mut columns: Vec<u8> = pins.iter().filter(|pin| pin.row == here.row).map(|pin| pin.column).collect();
    columns.sort_unstable();
    let row = rows.iter().filter(|row| **row < here.row).count();
    let left = columns.iter().filter(|column| **column < here.column).count();
    let in_row = in_row(left, columns.len());
    let gaps = columns.windows(2).any(|pair| pair[1] > pair[0] + 1);
    let gaps = if gaps && columns.len() > 2 { ", gaps not counted" } else { "" };
    let connector = named.map_or_else(String::new, |named| format!("{named}, "));
    match row_in_words(row, rows.len()) {
        Some(row) => format!("{connector}{row}, {in_row}{gaps}"),
        None => format!("{connector}{in_row}{gaps}"),
    }
}

fn row_in_words(row: usize, of: usize) -> Option<String> {
    match (row, of) {
        (_, 0 | 1) => None,
        (0, _) => Some("top row".to_owned()),
        (row, of) if row + 1 == of => Some("bottom row".to_owned()),
        (1, 3) => Some("middle row".to_owned()),
        (row, _) => Some(format!("{} row from the top", ordinal(row))),
    }
}

fn in_row(left: usize, of: usize) -> String {
    let right = of - 1 - left;
    match (left, right) {
        (0, 0) => "the only pin".to_owned(),
        (0, _) => "at the left end".to_owned(),
        (_, 0) => "at the right end".to_owned(),
        (left, right) if left <= right => format!("{} from the left", ordinal(left)),
        (_, right) => format!("{} from the right", ordinal(right)),
    }
}

/// The word for a place that counts from zero.
fn ordinal(place: usize) -> String {
    ORDINALS.get(place).map_or_else(|| format!("number {}", place + 1), |word| (*word).to_owned())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn pins_of_two_rows() {
        let profile = crate::profile::find("sweeper-valve-block").unwrap().value;
        for (pin, place) in [
            ("1", "top row, at the left end"),
            ("3", "top row, third from the left"),
            ("4", "top row, fourth from the left"),
            ("5", "top row, fourth from the right"),
            ("15", "bottom row, second from the right"),
            ("16", "bottom row, at the right end"),
            ("17", ""),
        ] {
            assert_eq!(place_of(&profile, &pin.into()), place, "pin {pin}");
        }
    }

    #[test]
    fn one_row_more_rows_gaps_and_long_rows() {
        let mut profile = crate::profile::find("sweeper-valve-block").unwrap().value;
        profile.connector.pins.truncate(3);
        assert_eq!(place_of(&profile, &"2".into()), "second from the left");
        profile.connector.pins[2].column = 9;
        assert_eq!(place_of(&profile, &"2".into()), "second from the left, gaps not counted");
        profile.connector.pins[1].row = 2;
        profile.connector.pins[2].row = 7;
        assert_eq!(place_of(&profile, &"2".into()), "middle row, the only pin");
        assert_eq!(row_in_words(1, 4).unwrap(), "second row from the top");
        assert_eq!(in_row(24, 50), "number 25 from the left");
    }
}
