//! Owns the printable page of what may be said.

use super::{Context, Grammar, lexicon::Pattern};
use crate::quantity::{Decimal, Prefix, Shown, Unit};

/// Width of the page in columns.
const WIDTH: usize = 80;
/// Where the right column begins.
const RIGHT: usize = 34;

impl Grammar {
    /// One page of plain text, 80 columns and at most 66 lines: what may be said, with examples.
    #[must_use]
    pub fn card(&self, context: &Context) -> String {
        let headings = &self.lexicon.headings;
        let mut page = Page::default();
        page.line(&headings.title.to_uppercase());
        page.heading(&headings.readings);
        for (digits, places, prefix, unit) in [
            (27, 1, Prefix::One, Unit::Ohm),
            (206, 0, Prefix::One, Unit::Ohm),
            (5, 1, Prefix::One, Unit::Ohm),
            (47, 1, Prefix::Kilo, Unit::Ohm),
            (1234, 2, Prefix::One, Unit::Volt),
        ] {
            let Ok(number) = Decimal::new(false, digits, places) else { continue };
            let shown = Shown { number, prefix, unit };
            page.line(&format!("  {:<10}{}", shown.to_string(), self.examples(&shown)));
        }
        for (kind, card) in &self.lexicon.state_cards {
            let listed = self.lexicon.states.iter().filter(|(_, other, listed)| other == kind && *listed);
            let phrases: Vec<&str> = listed.map(|(phrase, ..)| phrase.as_str()).take(2).collect();
            page.row(&phrases.join(" / "), card);
        }
        let strong = self.lexicon.corrections.iter().filter(|(_, weak)| !weak);
        if let (Ok(before), Ok(after), Some((marker, _))) = (
            Decimal::new(false, 27, 1),
            Decimal::new(false, 29, 1),
            strong.min_by_key(|(marker, _)| marker.len()),
        ) {
            let (before, after) = (self.say_number(&before), self.say_number(&after));
            page.row(&format!("{before}, {}, {after}", marker.join(" ")), &headings.correction);
        }
        page.heading(&headings.commands);
        for (does, card) in &self.lexicon.command_cards {
            let listed =
                self.lexicon.patterns.iter().filter(|pattern| pattern.does == *does && pattern.listed);
            let phrases: Vec<String> = listed.map(Pattern::text).take(2).collect();
            page.row(&phrases.join(" / "), card);
        }
        if !context.phrases.is_empty() {
            page.heading(&headings.confirmations);
            for phrase in &context.phrases {
                page.row(phrase, "");
            }
        }
        page.text
    }

    /// The way a display is read back, and the shortest other way.
    fn examples(&self, shown: &Shown) -> String {
        let said = self.say_shown(shown);
        let mut ways: Vec<String> = self
            .ways_to_say(shown)
            .into_iter()
            .filter(|way| *way != said && !self.lexicon.is_seldom(way))
            .collect();
        ways.sort_by_key(String::len);
        ways.truncate(1);
        ways.insert(0, said);
        ways.join(" / ")
    }
}

#[derive(Default)]
struct Page {
    text: String,
}

impl Page {
    fn line(&mut self, text: &str) {
        self.text.push_str(text.trim_end());
        self.text.push('\n');
    }

    fn heading(&mut self, text: &str) {
        self.line("");
        self.line(text);
    }

    /// What is said at the left, what it means at the right; the right side goes on the next line where it does not fit.
    fn row(&mut self, said: &str, means: &str) {
        let mut left = format!("  {said}");
        if left.chars().count() + 2 > RIGHT && !means.is_empty() {
            self.line(&left);
            left.clear();
        }
        let mut line = format!("{left:RIGHT$}");
        for word in means.split_whitespace() {
            if line.chars().count() + 1 + word.chars().count() > WIDTH {
                self.line(&line);
                line = " ".repeat(RIGHT);
            }
            if line.chars().count() > RIGHT {
                line.push(' ');
            }
            line.push_str(word);
        }
        self.line(&line);
    }
}
