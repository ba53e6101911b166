//! Owns plain-text layout: wrapping and tables that stay within a width and never drop a character.

/// Breaks text into lines of at most `width` characters, at blanks where there are some (not at no-break spaces).
pub(super) fn wrap(text: &str, width: usize) -> Vec<String> {
    let width = width.max(1);
    let mut lines = vec![String::new()];
    let mut used = 0;
    for word in text.split(' ').filter(|word| !word.is_empty()) {
        let mut word: Vec<char> = word.chars().collect();
        if used > 0 && used + 1 + word.len() > width {
            lines.push(String::new());
            used = 0;
        }
        while word.len() > width {
            let rest = word.split_off(width);
            lines.last_mut().expect("never empty").extend(word);
            lines.push(String::new());
            word = rest;
        }
        let line = lines.last_mut().expect("never empty");
        if used > 0 {
            line.push(' ');
            used += 1;
        }
        used += word.len();
        line.extend(word);
    }
    lines
}

/// Wraps with `first` in front of the first line and blanks of the same width in front of the others.
pub(super) fn hang(first: &str, text: &str, width: usize) -> String {
    let indent = first.chars().count();
    let mut out = String::new();
    for (at, line) in wrap(text, width.saturating_sub(indent)).iter().enumerate() {
        let lead = if at == 0 { first.to_owned() } else { " ".repeat(indent) };
        out.push_str(format!("{lead}{line}").trim_end());
        out.push('\n');
    }
    out
}

/// Rows of cells in columns as wide as needed; one text of one or more lines for each row. Where they do not fit into
/// `width`, the widest columns give way and wrap, at blanks as long as that is enough.
pub(super) fn table(rows: &[Vec<String>], width: usize) -> Vec<String> {
    const GAP: usize = 2;
    let columns = rows.iter().map(Vec::len).max().unwrap_or(0);
    let widest = |column: usize, measure: fn(&str) -> usize| {
        rows.iter().filter_map(|row| row.get(column)).map(|cell| measure(cell)).max().unwrap_or(0)
    };
    let room = width.saturating_sub(GAP * columns.saturating_sub(1));
    let mut widths: Vec<usize> = (0..columns).map(|column| widest(column, length)).collect();
    let words: Vec<usize> = (0..columns).map(|column| widest(column, longest_word)).collect();
    shrink(&mut widths, &words, room);
    shrink(&mut widths, &vec![1; columns], room);
    let cells = |row: &Vec<String>| {
        let cells: Vec<_> = row.iter().zip(&widths).map(|(cell, width)| wrap(cell, *width)).collect();
        let mut out = String::new();
        for line in 0..cells.iter().map(Vec::len).max().unwrap_or(0) {
            let texts = cells.iter().zip(&widths).map(|(cell, width)| {
                let text = cell.get(line).map_or("", String::as_str);
                format!("{text:<width$}")
            });
            out.push_str(texts.collect::<Vec<_>>().join(&" ".repeat(GAP)).trim_end());
            out.push('\n');
        }
        out
    };
    rows.iter().map(cells).collect()
}

/// Takes from the widest column, down to its least width, until all fit into `room` or none can give more.
fn shrink(widths: &mut [usize], least: &[usize], room: usize) {
    while widths.iter().sum::<usize>() > room {
        let able = widths.iter_mut().zip(least).filter(|(width, least)| **width > **least);
        let Some((widest, _)) = able.max_by_key(|(width, _)| **width) else { return };
        *widest -= 1;
    }
}

fn length(text: &str) -> usize {
    text.chars().count()
}

fn longest_word(text: &str) -> usize {
    text.split(' ').map(length).max().unwrap_or(0)
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    proptest! {
        #[test]
        fn wrapping_keeps_every_character_and_the_width(text in "[a-zΩ ]{0,120}", width in 1usize..30) {
            let lines = wrap(&text, width);
            prop_assert!(lines.iter().all(|line| line.chars().count() <= width));
            let squeeze = |text: &str| text.split_whitespace().collect::<String>();
            prop_assert_eq!(squeeze(&lines.concat()), squeeze(&text));
        }

        #[test]
        fn tables_stay_within_their_width(cells in proptest::collection::vec("[a-z ]{0,60}", 12), width in 30usize..80) {
            let rows: Vec<Vec<String>> = cells.chunks(4).map(<[String]>::to_vec).collect();
            prop_assert!(table(&rows, width).concat().lines().all(|line| line.chars().count() <= width));
        }
    }

    #[test]
    fn a_table_gives_way_where_it_is_widest() {
        let row = |first: &str, second: &str| vec![first.to_owned(), second.to_owned()];
        let rows = [row("1", "a long remark about it"), row("22", "b")];
        assert_eq!(table(&rows, 16).concat(), "1   a long\n    remark about\n    it\n22  b\n");
    }
}
