//! Owns the line that is typed into on the full screen: bytes of the terminal in, whole lines out.

use super::{Input, TALK};

/// What Ctrl-C stands for: it asks before it stops. A second one answers the question.
const STOP: [&str; 2] = ["q", "y"];
/// Letters that a line may have.
const LONGEST: usize = 200;

/// A line in the making.
#[derive(Debug, Default)]
pub struct Editor {
    text: String,
    /// Bytes of a letter or of a key's sequence that has not ended yet.
    rest: Vec<u8>,
    /// Whether the last key was Ctrl-C.
    stopping: bool,
}

/// A key, as far as it matters here.
enum Key {
    Letter(char),
    Enter,
    Erase,
    EraseAll,
    Talk,
    Stop,
    Other,
}

impl Editor {
    /// What is typed so far.
    #[must_use]
    pub fn text(&self) -> &str {
        &self.text
    }

    /// Takes what the terminal sent and returns the lines that were ended by Enter.
    pub fn take(&mut self, bytes: &[u8]) -> Vec<Input> {
        self.rest.extend_from_slice(bytes);
        let mut lines = Vec::new();
        while let Some((key, used)) = key(&self.rest) {
            self.rest.drain(..used);
            let stopping = std::mem::take(&mut self.stopping);
            match key {
                Key::Letter(letter) if self.text.chars().count() < LONGEST => self.text.push(letter),
                Key::Letter(_) | Key::Other => {}
                Key::Enter => lines.push(Input::Line(std::mem::take(&mut self.text))),
                Key::Erase => drop(self.text.pop()),
                Key::EraseAll => self.text.clear(),
                // What was half typed stays: the reading may be spoken while a word is being typed.
                Key::Talk => lines.push(Input::Line(TALK.to_owned())),
                Key::Stop => {
                    self.text.clear();
                    lines.push(Input::Line(STOP[usize::from(stopping)].to_owned()));
                    self.stopping = true;
                }
            }
        }
        lines
    }
}

/// The key at the beginning of the bytes and how many of them it is; none where it has not ended yet.
fn key(bytes: &[u8]) -> Option<(Key, usize)> {
    let key = match *bytes.first()? {
        b'\r' | b'\n' => Key::Enter,
        0x08 | 0x7f => Key::Erase,
        // Ctrl-U
        0x15 => Key::EraseAll,
        b'\t' => Key::Talk,
        // Ctrl-C
        0x03 => Key::Stop,
        0x1b => return escape(bytes),
        0..0x20 => Key::Other,
        first => return letter(first, bytes),
    };
    Some((key, 1))
}

/// Escape alone erases; followed by `[` or `O` it begins the sequence of another key.
fn escape(bytes: &[u8]) -> Option<(Key, usize)> {
    match bytes.get(1) {
        // A terminal sends a sequence in one piece.
        None => Some((Key::EraseAll, 1)),
        Some(b'O') => {
            let last = *bytes.get(2)?;
            // A numeric keypad in application mode (VT100).
            let key = match last {
                b'p'..=b'y' => Key::Letter(char::from(last - b'p' + b'0')),
                b'j'..=b'o' => Key::Letter(char::from(last - b'j' + b'*')),
                b'M' => Key::Enter,
                _ => Key::Other,
            };
            Some((key, 3))
        }
        Some(b'[') => {
            // ECMA-48, 5.4: parameters and intermediates, then one final byte.
            let end = bytes[2..].iter().position(|byte| !(0x20..0x40).contains(byte))?;
            Some((Key::Other, end + 3))
        }
        Some(_) => Some((Key::Other, 2)),
    }
}

fn letter(first: u8, bytes: &[u8]) -> Option<(Key, usize)> {
    let length = match first {
        0xc2..=0xdf => 2,
        0xe0..=0xef => 3,
        0xf0..=0xf4 => 4,
        _ => 1,
    };
    if let Some(whole) = bytes.get(..length) {
        return match std::str::from_utf8(whole).ok().and_then(|text| text.chars().next()) {
            Some(letter) if !letter.is_control() => Some((Key::Letter(letter), length)),
            Some(_) => Some((Key::Other, length)),
            None => Some((Key::Other, 1)),
        };
    }
    // The rest may still come, unless what is there cannot begin a letter.
    bytes[1..].iter().any(|byte| byte & 0xc0 != 0x80).then_some((Key::Other, 1))
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn plain(inputs: Vec<Input>) -> Vec<String> {
        let line = |input| match input {
            Input::Line(line) => line,
            other => panic!("the terminal does not give {other:?}"),
        };
        inputs.into_iter().map(line).collect()
    }

    fn typed(bytes: &[u8]) -> (Vec<String>, String) {
        let mut editor = Editor::default();
        let lines = plain(editor.take(bytes));
        (lines, editor.text().to_owned())
    }

    #[test]
    fn enter_gives_the_line_and_the_rest_stays() {
        assert_eq!(typed(b"5.2\r4"), (vec!["5.2".into()], "4".into()));
        assert_eq!(typed(b"\r\n"), (vec![String::new(), String::new()], String::new()));
    }

    #[test]
    fn erasing() {
        assert_eq!(typed(b"5.3\x7f2").1, "5.2");
        assert_eq!(typed(b"5.3\x152").1, "2");
        assert_eq!(typed(b"\x7f").1, "");
        assert_eq!(typed(b"5.3\x1b").1, "");
    }

    #[test]
    fn other_keys_leave_no_trace_and_the_keypad_types() {
        // Arrow, F5, delete, alt-x, then a keypad in application mode: 1 . 5 Enter.
        assert_eq!(typed(b"1\x1b[A\x1b[15~\x1b[3~\x1bx\x01").1, "1");
        assert_eq!(typed(b"\x1bOq\x1bOn\x1bOu\x1bOM").0, ["1.5"]);
        assert_eq!(typed(b"\x1bOj\x1bOk\x1bOm\x1bOo").1, "*+-/");
    }

    #[test]
    fn letters_may_come_in_pieces() {
        let mut editor = Editor::default();
        editor.take(&[0xce]);
        assert_eq!(editor.text(), "");
        editor.take(&[0xa9]);
        assert_eq!(editor.text(), "Ω");
        editor.take(&[0xce, b'5', 0xff, b'6']);
        assert_eq!(editor.text(), "Ω56");
    }

    #[test]
    fn ctrl_c_asks_first_and_tab_talks() {
        assert_eq!(typed(b"5\x03").0, ["q"]);
        assert_eq!(typed(b"\x03\x03").0, ["q", "y"]);
        assert_eq!(typed(b"\x031\x03").0, ["q", "q"]);
        assert_eq!(typed(b"5\t"), (vec!["t".into()], "5".into()));
    }

    proptest! {
        #[test]
        fn any_bytes_in_any_pieces_give_the_same(bytes: Vec<u8>, cut in 0usize..64) {
            // A lone escape at the end of a piece counts as the key itself: sequences come whole.
            let bytes: Vec<u8> = bytes.into_iter().filter(|byte| *byte != 0x1b).collect();
            let cut = cut.min(bytes.len());
            let mut editor = Editor::default();
            let mut lines = plain(editor.take(&bytes[..cut]));
            lines.extend(plain(editor.take(&bytes[cut..])));
            prop_assert_eq!((lines, editor.text().to_owned()), typed(&bytes));
        }
    }
}
