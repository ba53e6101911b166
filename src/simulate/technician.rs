//! Owns the simulated technician: from the line that was spoken last to the words that answer it.

use super::{Scenario, SimulatedPart};
use crate::{grammar::Grammar, quantity::Reading};

/// Someone who does what the lines say and reads the meter aloud.
#[derive(Debug)]
pub struct Technician<'a> {
    part: SimulatedPart<'a>,
    scenario: &'a Scenario,
    grammar: &'a Grammar,
    last_words: String,
    /// The last words that were no yes to a question.
    last_said: String,
    /// What has to be said instead of the value that slipped out.
    to_correct: Option<String>,
    slipped: Vec<String>,
}

impl<'a> Technician<'a> {
    /// A technician at a part.
    #[must_use]
    pub fn new(part: SimulatedPart<'a>, scenario: &'a Scenario, grammar: &'a Grammar) -> Self {
        Self {
            part,
            scenario,
            grammar,
            last_words: String::new(),
            last_said: String::new(),
            to_correct: None,
            slipped: Vec::new(),
        }
    }

    /// The words that answer a line; none where it asks for nothing.
    pub fn answer(&mut self, line: &str) -> Option<String> {
        let words = self.words_for(line)?;
        self.last_words.clone_from(&words);
        if words != "yes" {
            self.last_said.clone_from(&words);
        }
        Some(words)
    }

    /// What was said last, to be said again when nothing came back.
    #[must_use]
    pub fn again(&self) -> &str {
        &self.last_words
    }

    fn words_for(&mut self, line: &str) -> Option<String> {
        if let Some(right) = self.to_correct.take() {
            return Some(format!("wrong {right}"));
        }
        if let Some((_, phrase)) = line.rsplit_once("Then say: ") {
            return Some(phrase.trim_end_matches('.').to_owned());
        }
        if line.contains("Temperature of the part") {
            let degrees = format!("{:.0}", self.part.temperature_c()).parse().ok()?;
            return Some(format!("{} degrees", self.grammar.say_number(&degrees)));
        }
        if line.contains("old the probes together") {
            let reading = self.part.read_leads();
            return Some(self.grammar.say_reading(&reading));
        }
        if line.contains("Say finish") {
            return Some("finish".to_owned());
        }
        if let Some(pin) = pin_asked_for(line) {
            return self.reading_at(&pin);
        }
        // One thing is asked, and it is what was said.
        if let Some((asked, _)) = line.split_once('?')
            && asked.eq_ignore_ascii_case(&self.last_said)
        {
            return Some("yes".to_owned());
        }
        // A question about what was said: the same again.
        line.contains('?')
            .then(|| self.last_said.clone())
            .or_else(|| line.contains("ay it again").then(|| self.last_said.clone()))
    }

    fn reading_at(&mut self, pin: &str) -> Option<String> {
        let circuit = self.part.at_pin(pin)?;
        let reading: Reading = self.part.read(circuit);
        let right = self.grammar.say_reading(&reading);
        let slip =
            self.scenario.slips.iter().find(|slip| slip.pin == pin && !self.slipped.contains(&slip.pin));
        if let Some(slip) = slip {
            self.slipped.push(slip.pin.clone());
            self.to_correct = Some(right);
            return Some(slip.says.clone());
        }
        Some(right)
    }
}

/// The pin that a line asks for: the one named at the start of its last prompt.
fn pin_asked_for(line: &str) -> Option<String> {
    let (_, after) = line.rsplit_once("Pin ").or_else(|| line.rsplit_once("Same leads on pin "))?;
    let pin = after.split([' ', ',', '.']).next()?;
    (!pin.is_empty()).then(|| pin.to_owned())
}

#[cfg(test)]
mod tests {
    use super::pin_asked_for;

    #[test]
    fn the_last_prompt_counts() {
        for (line, pin) in [
            ("Pin 1 to pin 16, coil A.", "1"),
            ("5.2. In. Pin 2, coil B.", "2"),
            ("Same leads on pin 1, coil A.", "1"),
            ("Pin 6 once more, coil F. Clean the terminal, probe again.", "6"),
        ] {
            assert_eq!(pin_asked_for(line).as_deref(), Some(pin), "{line}");
        }
        assert_eq!(pin_asked_for("All read."), None);
    }
}
