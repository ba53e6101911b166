//! Owns how text of people and files gets into a page: never as markup.

use super::super::wording::plain;

/// Text for element content and for quoted attributes.
pub(in crate::report) fn esc(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for c in plain(text).chars() {
        match c {
            '&' => out.push_str("&amp;"),
            '<' => out.push_str("&lt;"),
            '>' => out.push_str("&gt;"),
            '"' => out.push_str("&quot;"),
            '\'' => out.push_str("&#39;"),
            c => out.push(c),
        }
    }
    out
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

    #[test]
    fn markup_becomes_text() {
        assert_eq!(
            esc("<b onx=\"a\">'&\u{202e}\u{0}"),
            "&lt;b onx=&quot;a&quot;&gt;&#39;&amp;\u{fffd}\u{fffd}"
        );
    }

    #[test]
    fn clip_names_stay_in_their_folder() {
        assert_eq!(link_step("000003.wav").unwrap(), "000003.wav");
        assert_eq!(link_step("../../x y.wav").unwrap(), "..%2F..%2Fx%20y.wav");
        assert_eq!(link_step("javascript:alert(1)").unwrap(), "javascript%3Aalert%281%29");
        assert_eq!((link_step(".."), link_step("")), (None, None));
    }
}
