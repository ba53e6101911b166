//! Listens to what the loudspeaker really played: the recogniser over its recording, and how loud and how long it was.

use bothhands::{
    grammar::{Context, Grammar},
    hear::{Model, ModelFolder},
    speak::spoken_form,
    words::Words,
};
use std::collections::{BTreeSet, HashSet};

/// Words of a line that have to be found again in its recording, at least: a synthetic voice, a small model.
const FOUND: f64 = 0.6;

/// A recogniser that knows everything that may be said, and the lines of the dialogue.
pub struct Ears {
    model: Model,
    known: HashSet<String>,
    grammar: Grammar,
    text: Words,
}

impl Ears {
    /// Loads the model.
    ///
    /// # Errors
    /// Where it is not there.
    pub fn new() -> Result<Self, String> {
        let folder = ModelFolder::find(None).map_err(|error| error.to_string())?;
        let known = folder.words().ok_or("the model lists no words")?;
        let model = Model::load(&folder).map_err(|error| error.to_string())?;
        let text = Words::english();
        Ok(Self { text, model, known, grammar: Grammar::builtin("en").map_err(|error| error.to_string())? })
    }

    /// The words of a line as they are spoken, those that the model knows.
    fn words(&self, line: &str) -> Vec<String> {
        spoken_form(line, &self.grammar, &self.text)
            .to_lowercase()
            .split_whitespace()
            .map(|word| word.trim_matches(|letter: char| !letter.is_ascii_alphanumeric()).to_owned())
            .filter(|word| self.known.contains(word))
            .collect()
    }

    /// What is said in these samples, with these lines and all numbers and commands to choose from.
    pub fn decode(&self, samples: &[i16], lines: &[String]) -> String {
        let mut phrases = self.grammar.phrases(&Context::default());
        phrases.extend(lines.iter().map(|line| self.words(line).join(" ")).filter(|line| !line.is_empty()));
        let words: BTreeSet<String> =
            phrases.iter().flat_map(|phrase| phrase.split(' ')).map(str::to_owned).collect();
        let words: Vec<String> = words.into_iter().collect();
        let Ok(mut recognisers) = self.model.recognisers(&phrases, &words) else { return String::new() };
        let silence = [0; 4800];
        recognisers[0].feed(&silence);
        recognisers[0].feed(samples);
        recognisers[0].feed(&silence);
        recognisers[0].finish().words
    }

    /// Compares a line with what was heard of it. Another line of the dialogue must not fit better.
    ///
    /// # Errors
    /// When it does not fit.
    pub fn compare(&self, line: &str, heard: &str, lines: &[String]) -> Result<(), String> {
        let heard: Vec<&str> = heard.split_whitespace().collect();
        let share = |line: &str| {
            let words = self.words(line);
            (common(&words, &heard) as f64 * 2.0) / (words.len() + heard.len()).max(1) as f64
        };
        let own = share(line);
        let better = lines.iter().find(|other| *other != line && share(other) > own);
        match better {
            Some(other) => Err(format!("\"{line}\" sounded like \"{other}\": {}", heard.join(" "))),
            None if own < FOUND => Err(format!("\"{line}\" sounded like \"{}\"", heard.join(" "))),
            None => Ok(()),
        }
    }
}

/// How many words both have in the same order (longest common subsequence).
fn common(one: &[String], other: &[&str]) -> usize {
    let mut row = vec![0; other.len() + 1];
    for word in one {
        let mut corner = 0;
        for (at, heard) in other.iter().enumerate() {
            let above = row[at + 1];
            row[at + 1] = if word == heard { corner + 1 } else { above.max(row[at]) };
            corner = above;
        }
    }
    row[other.len()]
}

/// Root mean square of what sounds.
pub fn level(samples: &[i16]) -> f64 {
    let loud: Vec<f64> =
        samples.iter().map(|sample| f64::from(*sample)).filter(|sample| sample.abs() > 100.0).collect();
    (loud.iter().map(|sample| sample * sample).sum::<f64>() / loud.len().max(1) as f64).sqrt()
}

/// From the first to the last sound.
pub fn length(samples: &[i16]) -> f64 {
    let loud = |sample: &i16| sample.unsigned_abs() > 100;
    let (from, to) = (samples.iter().position(loud), samples.iter().rposition(loud));
    to.unwrap_or(0).saturating_sub(from.unwrap_or(0)) as f64
}
