//! Owns how text of people and files gets into a page: never as markup, and never with signs that move anything.

use super::super::wording::plain;
use maud::{Escaper, Render};
use std::fmt::Write as _;

/// Text of a person or a file, for element content and for attributes. A number keeps its ohms on its line.
pub(super) struct Free<'a>(pub(super) &'a str);

impl Render for Free<'_> {
    fn render_to(&self, page: &mut String) {
        // Writing into a text cannot fail.
        let _ = Escaper::new(page).write_str(&plain(self.0).replace(" Ω", "\u{a0}Ω"));
    }
}

/// A file name as one step of a relative link: everything but letters, digits, `-`, `_` and `.` is percent-encoded, so
/// that it can neither leave its folder nor name a scheme. `None` for a name that means a folder or is empty.
pub(super) fn link_step(name: &str) -> Option<String> {
    if matches!(name, "" | "." | "..") {
        return None;
    }
    let mut out = String::new();
    for byte in name.bytes() {
        if byte.is_ascii_alphanumeric() || matches!(byte, b'-' | b'_' | b'.') {
            out.push(char::from(byte));
        } else {
            out.push_str(&format!("%{byte:02X}"));
        }
    }
    Some(out)
}

#[cfg(test)]
mod tests {
    use super::*;
    use maud::html;

    #[test]
    fn markup_becomes_text() {
        let page = html! { p title=(Free("\"x")) { (Free("<b onx=\"a\">'&\u{202e}\u{0}")) } };
        assert_eq!(
            page.into_string(),
            "<p title=\"&quot;x\">&lt;b onx=&quot;a&quot;&gt;'&amp;\u{fffd}\u{fffd}</p>"
        );
    }

    #[test]
    fn ohms_stay_with_their_number() {
        assert_eq!(html! { (Free("5.17 Ω and 5.57 Ω.")) }.into_string(), "5.17\u{a0}Ω and 5.57\u{a0}Ω.");
    }

    #[test]
    fn clip_names_stay_in_their_folder() {
        assert_eq!(link_step("000003.wav").unwrap(), "000003.wav");
        assert_eq!(link_step("../../x y.wav").unwrap(), "..%2F..%2Fx%20y.wav");
        assert_eq!(link_step("javascript:alert(1)").unwrap(), "javascript%3Aalert%281%29");
        assert_eq!((link_step(".."), link_step("")), (None, None));
    }
}
