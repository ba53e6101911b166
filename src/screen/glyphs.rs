//! Owns large letters: our own dots, five wide and seven high, drawn with half blocks so that a dot is about square.

/// Width of a letter in dots. The point is one dot wide.
const WIDE: usize = 5;
/// Height of a letter in dots.
const HIGH: usize = 7;

/// A letter's rows from the top, five bits each, the leftmost dot in bit 4.
type Dots = [u8; HIGH];

/// The letters that can be drawn.
const LETTERS: [(char, Dots); 45] = [
    ('0', [0b11111, 0b10001, 0b10001, 0b10001, 0b10001, 0b10001, 0b11111]),
    ('1', [0b00110, 0b01110, 0b00110, 0b00110, 0b00110, 0b00110, 0b01111]),
    ('2', [0b11111, 0b00001, 0b00001, 0b11111, 0b10000, 0b10000, 0b11111]),
    ('3', [0b11111, 0b00001, 0b00001, 0b01111, 0b00001, 0b00001, 0b11111]),
    ('4', [0b10001, 0b10001, 0b10001, 0b11111, 0b00001, 0b00001, 0b00001]),
    ('5', [0b11111, 0b10000, 0b10000, 0b11111, 0b00001, 0b00001, 0b11111]),
    ('6', [0b11111, 0b10000, 0b10000, 0b11111, 0b10001, 0b10001, 0b11111]),
    ('7', [0b11111, 0b00001, 0b00001, 0b00010, 0b00100, 0b00100, 0b00100]),
    ('8', [0b11111, 0b10001, 0b10001, 0b11111, 0b10001, 0b10001, 0b11111]),
    ('9', [0b11111, 0b10001, 0b10001, 0b11111, 0b00001, 0b00001, 0b11111]),
    ('A', [0b01110, 0b10001, 0b10001, 0b11111, 0b10001, 0b10001, 0b10001]),
    ('B', [0b11110, 0b10001, 0b10001, 0b11110, 0b10001, 0b10001, 0b11110]),
    ('C', [0b01111, 0b10000, 0b10000, 0b10000, 0b10000, 0b10000, 0b01111]),
    ('D', [0b11110, 0b10001, 0b10001, 0b10001, 0b10001, 0b10001, 0b11110]),
    ('E', [0b11111, 0b10000, 0b10000, 0b11110, 0b10000, 0b10000, 0b11111]),
    ('F', [0b11111, 0b10000, 0b10000, 0b11110, 0b10000, 0b10000, 0b10000]),
    ('G', [0b01111, 0b10000, 0b10000, 0b10011, 0b10001, 0b10001, 0b01111]),
    ('H', [0b10001, 0b10001, 0b10001, 0b11111, 0b10001, 0b10001, 0b10001]),
    ('I', [0b01110, 0b00100, 0b00100, 0b00100, 0b00100, 0b00100, 0b01110]),
    ('J', [0b00111, 0b00010, 0b00010, 0b00010, 0b00010, 0b10010, 0b01100]),
    ('K', [0b10001, 0b10010, 0b10100, 0b11000, 0b10100, 0b10010, 0b10001]),
    ('L', [0b10000, 0b10000, 0b10000, 0b10000, 0b10000, 0b10000, 0b11111]),
    ('M', [0b10001, 0b11011, 0b10101, 0b10101, 0b10001, 0b10001, 0b10001]),
    ('N', [0b10001, 0b11001, 0b11001, 0b10101, 0b10011, 0b10011, 0b10001]),
    ('O', [0b01110, 0b10001, 0b10001, 0b10001, 0b10001, 0b10001, 0b01110]),
    ('P', [0b11110, 0b10001, 0b10001, 0b11110, 0b10000, 0b10000, 0b10000]),
    ('Q', [0b01110, 0b10001, 0b10001, 0b10001, 0b10101, 0b10010, 0b01101]),
    ('R', [0b11110, 0b10001, 0b10001, 0b11110, 0b10100, 0b10010, 0b10001]),
    ('S', [0b01111, 0b10000, 0b10000, 0b01110, 0b00001, 0b00001, 0b11110]),
    ('T', [0b11111, 0b00100, 0b00100, 0b00100, 0b00100, 0b00100, 0b00100]),
    ('U', [0b10001, 0b10001, 0b10001, 0b10001, 0b10001, 0b10001, 0b01110]),
    ('V', [0b10001, 0b10001, 0b10001, 0b10001, 0b01010, 0b01010, 0b00100]),
    ('W', [0b10001, 0b10001, 0b10001, 0b10101, 0b10101, 0b11011, 0b10001]),
    ('X', [0b10001, 0b10001, 0b01010, 0b00100, 0b01010, 0b10001, 0b10001]),
    ('Y', [0b10001, 0b10001, 0b01010, 0b00100, 0b00100, 0b00100, 0b00100]),
    ('Z', [0b11111, 0b00001, 0b00010, 0b00100, 0b01000, 0b10000, 0b11111]),
    ('-', [0b00000, 0b00000, 0b00000, 0b11111, 0b00000, 0b00000, 0b00000]),
    ('+', [0b00000, 0b00100, 0b00100, 0b11111, 0b00100, 0b00100, 0b00000]),
    ('?', [0b11111, 0b00001, 0b00001, 0b00111, 0b00100, 0b00000, 0b00100]),
    ('/', [0b00001, 0b00001, 0b00010, 0b00100, 0b01000, 0b10000, 0b10000]),
    ('Ω', [0b01110, 0b10001, 0b10001, 0b10001, 0b01010, 0b01010, 0b11011]),
    ('k', [0b10000, 0b10000, 0b10010, 0b10100, 0b11000, 0b10100, 0b10010]),
    ('m', [0b00000, 0b00000, 0b11010, 0b10101, 0b10101, 0b10101, 0b10101]),
    ('_', [0b00000, 0b00000, 0b00000, 0b00000, 0b00000, 0b00000, 0b11111]),
    (' ', [0; HIGH]),
];

/// The point: one dot at the bottom.
const POINT: Dots = [0, 0, 0, 0, 0, 0, 0b10000];

/// A letter's dots and its width. `k` and `m` are prefixes and differ from `K` and `M`; other letters are drawn as capitals.
fn dots(letter: char) -> Option<(Dots, usize)> {
    if letter == '.' {
        return Some((POINT, 1));
    }
    let find = |wanted: char| LETTERS.iter().find(|(known, _)| *known == wanted).map(|(_, dots)| *dots);
    find(letter).or_else(|| find(letter.to_ascii_uppercase())).map(|dots| (dots, WIDE))
}

/// Text in large letters that fits into `width` columns and `height` lines, as lines to be drawn; as large as fits.
/// `None` where even the smallest does not fit, or a letter has no dots: it is written as plain text then.
#[must_use]
pub fn large(text: &str, width: usize, height: usize) -> Option<Vec<String>> {
    let letters: Vec<(Dots, usize)> = text.chars().map(dots).collect::<Option<_>>()?;
    let across = letters.iter().map(|(_, wide)| wide + 1).sum::<usize>().checked_sub(1)?;
    let fits = |size: &usize| across * size <= width && (HIGH * size).div_ceil(2) <= height;
    let size = (1..=8).rev().find(fits)?;
    // Columns of dots, the gaps between letters included.
    let is_on = |row: usize, column: usize| {
        let mut left = 0;
        for (dots, wide) in &letters {
            if column < left + wide {
                return column >= left && dots[row] >> (WIDE - 1 - (column - left)) & 1 == 1;
            }
            left += wide + 1;
        }
        false
    };
    let lines = (0..(HIGH * size).div_ceil(2)).map(|line| {
        (0..across * size)
            .map(|column| {
                let half = |half: usize| half / size < HIGH && is_on(half / size, column / size);
                match (half(2 * line), half(2 * line + 1)) {
                    (true, true) => '█',
                    (true, false) => '▀',
                    (false, true) => '▄',
                    (false, false) => ' ',
                }
            })
            .collect::<String>()
    });
    Some(lines.collect())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn all_letters_differ() {
        for (place, (letter, dots)) in LETTERS.iter().enumerate() {
            for (other, others) in &LETTERS[..place] {
                assert_ne!(dots, others, "{letter} looks like {other}");
            }
        }
    }

    #[test]
    fn a_letter_is_as_large_as_fits() {
        assert_eq!(large("4", 5, 4).unwrap(), ["█   █", "█▄▄▄█", "    █", "    ▀"]);
        assert_eq!(large("1.5", 13, 4).unwrap()[3], " ▀▀▀▀ ▀ ▀▀▀▀▀");
        // Twice the size: each dot is two columns wide and one line high.
        let twice = large("4", 19, 7).unwrap();
        assert_eq!(twice[0], "██      ██");
        assert_eq!(twice[3], "██████████");
        assert_eq!((twice.len(), twice[6].as_str()), (7, "        ██"));
    }

    #[test]
    fn what_does_not_fit_or_is_unknown_is_refused() {
        assert_eq!(large("4", 4, 4), None);
        assert_eq!(large("4", 5, 3), None);
        assert_eq!(large("4é", 80, 24), None);
        assert_eq!(large("", 80, 24), None);
    }
}
