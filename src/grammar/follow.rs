//! Owns what can follow: whether words are whole, may go on, or are the beginning of something that may be said.

use super::{Command, Context, Follow, Form, Grammar, Spoken, Utterance, lexicon::Piece};

impl Grammar {
    /// What can follow after these words, which mean `meant` (none: nothing that may be said).
    ///
    /// Of a number it knows the words only: how many digits a display shows is for the session to say.
    #[must_use]
    pub fn follow(&self, words: &str, meant: Option<&Utterance>, context: &Context) -> Follow {
        match meant {
            None if self.begins(words, context) => Follow::Surely,
            None => Follow::Perhaps,
            Some(Utterance::Reading(spoken)) => after(spoken),
            // The right value, or the new one, may come in the same breath.
            Some(Utterance::Command(
                Command::Wrong(None) | Command::Change { reading: None, .. } | Command::No | Command::Back(1),
            )) => Follow::Perhaps,
            Some(Utterance::Command(
                Command::Wrong(Some(spoken)) | Command::Change { reading: Some(spoken), .. },
            )) => after(spoken),
            // How long a serial number is nobody knows; which pin is meant in "pin one" neither.
            Some(
                Utterance::Entry(_) | Utterance::Naming { .. } | Utterance::Command(Command::WhatWas(_)),
            ) => Follow::Perhaps,
            Some(Utterance::Command(_)) => Follow::Nothing,
            Some(Utterance::Phrase(phrase)) => {
                let longer =
                    |other: &String| other.len() > phrase.len() && other.starts_with(phrase.as_str());
                if context.phrases.iter().any(longer) { Follow::Perhaps } else { Follow::Nothing }
            }
        }
    }

    /// Whether words are the beginning of something that may be said.
    fn begins(&self, words: &str, context: &Context) -> bool {
        let said: Vec<&str> =
            words.split_whitespace().filter(|word| !self.lexicon.fillers.contains(*word)).collect();
        if said.is_empty() || said.iter().any(|word| word.starts_with('[')) {
            return false;
        }
        let literally = |whole: &mut dyn Iterator<Item = &str>| {
            let mut said = said.iter();
            // All of the words, and more to come.
            loop {
                match (said.next(), whole.next()) {
                    (None, more) => break more.is_some(),
                    (Some(word), Some(other)) if *word == other => {}
                    _ => break false,
                }
            }
        };
        if context.phrases.iter().any(|phrase| literally(&mut phrase.split_whitespace())) {
            return true;
        }
        let pattern = |pieces: &[Piece]| {
            let slot = "<>";
            literally(&mut pieces.iter().map(|piece| if let Piece::Word(word) = piece { word } else { slot }))
        };
        if self.lexicon.patterns.iter().any(|p| pattern(&p.pieces)) {
            return true;
        }
        // A number without its end: some digit, unit or half makes it whole.
        let lexicon = &self.lexicon;
        let pin = context.pins.first().map(|pin| lexicon.say_pin(pin)).unwrap_or_default();
        let five = lexicon.digits[5][0].as_str();
        [five, lexicon.hundred.as_str(), lexicon.half.as_str(), pin.as_str()]
            .iter()
            .filter(|more| !more.is_empty())
            .any(|more| self.parse(&format!("{} {more}", said.join(" ")), context).is_some())
    }
}

/// After a reading: nothing once a unit was said, or what is no number.
fn after(spoken: &Spoken) -> Follow {
    match spoken {
        Spoken::Number(number) if number.unit.is_none() || number.form == Form::LoneZero => Follow::Perhaps,
        _ => Follow::Nothing,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::profile::PinName;

    #[test]
    fn whole_open_and_begun() {
        let grammar = Grammar::builtin("en").unwrap();
        let context = Context {
            phrases: vec!["supply off".into(), "supply".into(), "plug out".into()],
            pins: ["3", "4"].map(PinName::from).to_vec(),
            ..Context::default()
        };
        for (words, follow) in [
            ("one point five ohms", Follow::Nothing),
            ("one k five ohms", Follow::Nothing),
            ("over range", Follow::Nothing),
            ("wrong one point nine ohms", Follow::Nothing),
            ("next", Follow::Nothing),
            ("yes", Follow::Nothing),
            ("plug out", Follow::Nothing),
            ("supply off", Follow::Nothing),
            ("supply", Follow::Perhaps),
            ("one point five", Follow::Perhaps),
            ("five", Follow::Perhaps),
            ("wrong", Follow::Perhaps),
            ("no", Follow::Perhaps),
            ("back", Follow::Perhaps),
            ("change pin four", Follow::Perhaps),
            ("zero ohms", Follow::Perhaps),
            ("five next", Follow::Perhaps),
            ("", Follow::Perhaps),
            ("one point [unk]", Follow::Perhaps),
            ("one point", Follow::Surely),
            ("one point uh", Follow::Surely),
            ("two hundred and", Follow::Surely),
            ("minus", Follow::Surely),
            ("change pin four to", Follow::Surely),
            ("change pin four to one point", Follow::Surely),
            ("change", Follow::Surely),
            ("what was pin", Follow::Surely),
            ("how many", Follow::Surely),
            ("plug", Follow::Surely),
            ("point", Follow::Surely),
        ] {
            let meant = grammar.parse(words, &context);
            assert_eq!(grammar.follow(words, meant.as_ref(), &context), follow, "{words}: {meant:?}");
        }
    }
}
