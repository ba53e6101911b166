//! Owns the printable page of what may be said.

use super::{Context, Grammar, lexicon::StateKind};
use crate::quantity::{Decimal, Prefix, Shown, Unit};
use std::fmt::Write as _;

impl Grammar {
    /// One page of plain text: what may be said, with examples.
    #[must_use]
    pub fn card(&self, context: &Context) -> String {
        let mut page = String::new();
        self.card_into(&mut page, context).ok();
        page
    }

    fn card_into(&self, page: &mut String, context: &Context) -> std::fmt::Result {
        writeln!(page, "WHAT MAY BE SAID\n\nReadings")?;
        for (digits, places, prefix, unit) in [
            (15, 1, Prefix::One, Unit::Ohm),
            (206, 0, Prefix::One, Unit::Ohm),
            (5, 1, Prefix::One, Unit::Ohm),
            (47, 1, Prefix::Kilo, Unit::Ohm),
            (1234, 2, Prefix::One, Unit::Volt),
        ] {
            let Ok(number) = Decimal::new(false, digits, places) else { continue };
            let shown = Shown { number, prefix, unit };
            let said = self.say_shown(&shown);
            let mut ways: Vec<String> =
                self.ways_to_say(&shown).into_iter().filter(|way| *way != said).collect();
            ways.sort_by_key(String::len);
            ways.truncate(2);
            ways.insert(0, said);
            writeln!(page, "  {:<12} {}", shown.to_string(), ways.join(" / "))?;
        }
        for (kind, card) in &self.lexicon.state_cards {
            let phrases: Vec<&str> = self
                .lexicon
                .states
                .iter()
                .filter(|(_, other, listed)| other == kind && *listed)
                .map(|(phrase, ..)| phrase.as_str())
                .take(4)
                .collect();
            let sign = if *kind == StateKind::OverRange { "OL" } else { "?" };
            writeln!(page, "  {sign:<12} {}\n{:15}({card})", phrases.join(" / "), "")?;
        }
        writeln!(page, "\nCommands")?;
        for (does, card) in &self.lexicon.command_cards {
            let phrases: Vec<String> = self
                .lexicon
                .patterns
                .iter()
                .filter(|pattern| pattern.does == *does && pattern.listed)
                .map(super::lexicon::Pattern::text)
                .take(2)
                .collect();
            writeln!(page, "  {:<40} {card}", phrases.join(" / "))?;
        }
        if !context.phrases.is_empty() {
            writeln!(page, "\nConfirmations\n  {}", context.phrases.join(" / "))?;
        }
        Ok(())
    }
}
