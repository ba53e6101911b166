//! Owns the simulated technician: from the line that was said last, as a value, to the words that answer it.

use super::{Scenario, SimulatedPart};
use crate::{
    grammar::{Command, Form, Grammar, Spoken, SpokenNumber, Utterance},
    quantity::{Reading, Unit},
    session::{
        Message,
        message::{Info, Prepared, Prompt, Question},
    },
};

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
    pub fn answer(&mut self, line: &Message) -> Option<String> {
        let words = self.words_for(line)?;
        self.last_words.clone_from(&words);
        if words != self.command(Command::Yes) {
            self.last_said.clone_from(&words);
        }
        Some(words)
    }

    /// What was said last, to be said again when nothing came back.
    #[must_use]
    pub fn again(&self) -> &str {
        &self.last_words
    }

    fn command(&self, command: Command) -> String {
        self.grammar.say_utterance(&Utterance::Command(command))
    }

    fn words_for(&mut self, line: &Message) -> Option<String> {
        if let Some(right) = self.to_correct.take() {
            let wrong = self.command(Command::Wrong(None));
            return Some(format!("{wrong} {right}"));
        }
        match line.last() {
            Message::Prompt(prompt) => self.words_for_prompt(prompt),
            Message::Question(question) => self.words_for_question(question),
            // What the leads read is held back: the same again.
            Message::Prepared(Prepared::LeadsDoubted { .. } | Prepared::LeadsOpen) => {
                Some(self.last_said.clone())
            }
            Message::Info(Info::SayAgain) => Some(self.last_said.clone()),
            _ => None,
        }
    }

    fn words_for_prompt(&mut self, prompt: &Prompt) -> Option<String> {
        match prompt {
            Prompt::Gate { confirm, .. }
            | Prompt::TimedGate { confirm, .. }
            | Prompt::SayWhatWasDone { confirm } => Some(confirm.clone()),
            Prompt::Temperature => {
                let number = format!("{:.0}", self.part.temperature_c()).parse().ok()?;
                let degrees =
                    SpokenNumber { number, prefix: None, unit: Some(Unit::Celsius), form: Form::Whole };
                Some(self.grammar.say_spoken(&Spoken::Number(degrees)))
            }
            Prompt::Leads | Prompt::LeadsInFull => {
                let reading = self.part.read_leads();
                Some(self.grammar.say_reading(&reading))
            }
            Prompt::AllRead => Some(self.command(Command::Finish)),
            Prompt::Codes | Prompt::CodeNumber | Prompt::AnotherCode | Prompt::Offer { .. } => {
                Some(self.command(Command::No))
            }
            Prompt::Place { .. } => None,
            _ => self.reading_at(prompt.probed()?.pin()?),
        }
    }

    /// One thing is asked, and it is what was said: yes. Else the same again.
    fn words_for_question(&self, question: &Question) -> Option<String> {
        match question {
            Question::Confirm { meant } if meant.eq_ignore_ascii_case(&self.last_said) => {
                Some(self.command(Command::Yes))
            }
            Question::FinishAllRead | Question::FinishNow { .. } => Some(self.command(Command::Yes)),
            Question::LessThanLeads { .. } | Question::StopNow => Some(self.command(Command::No)),
            Question::PhraseAgain { confirm } | Question::PhraseOrKeys { confirm, .. } => {
                Some(confirm.clone())
            }
            _ => Some(self.last_said.clone()),
        }
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

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{
        profile,
        session::message::{Probed, ReadBack, Readout},
        verdict::Class,
    };
    use std::path::Path;

    #[test]
    fn the_last_thing_that_is_asked_for_is_answered() {
        let demo = Path::new(env!("CARGO_MANIFEST_DIR")).join("demo/coil-with-shorted-turns.toml");
        let scenario = Scenario::load(&demo).unwrap();
        let part = profile::find(&scenario.profile).unwrap().value;
        let meter = profile::find_meter(&scenario.meter).unwrap().value;
        let grammar = Grammar::builtin("en").unwrap();
        let simulated = SimulatedPart::new(&scenario, &part, &meter).unwrap();
        let mut technician = Technician::new(simulated, &scenario, &grammar);
        let confirm = "key off".to_owned();
        assert_eq!(technician.answer(&Prompt::SayWhatWasDone { confirm }.into()).unwrap(), "key off");
        let degrees = technician.answer(&Prompt::Temperature.into()).unwrap();
        assert!(degrees.ends_with(" degrees"), "{degrees}");
        // A read-back, and the next pin.
        let circuit = part.circuits[0].name.clone();
        let probed = Probed::Pin { pin: part.circuits[0].pin.to_string() };
        let read = ReadBack::Judged { reading: Readout::Plain("5.2".parse().unwrap()), class: Class::Within };
        let line = Message::from(read).then(Some(Prompt::Take { probed, circuit }.into()));
        let said = technician.answer(&line).unwrap();
        assert!(grammar.parse(&said, &Default::default()).is_some(), "{said}");
        let asked = Question::Confirm { meant: said.clone() };
        assert_eq!(technician.answer(&asked.into()).unwrap(), "yes");
        assert_eq!(technician.answer(&Question::DigitByDigit.into()).unwrap(), said);
        assert_eq!(technician.answer(&Prompt::AllRead.into()).unwrap(), "finish");
        assert_eq!(technician.answer(&ReadBack::LeftOut.into()), None);
    }
}
