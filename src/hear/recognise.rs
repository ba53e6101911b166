//! Owns the border to recognition: sound goes in while somebody speaks, one opinion comes out at the end.

/// Opinion by the phrases that may be said; every sound becomes some of their words.
pub const PHRASES: &str = "phrases";
/// Opinion by the same phrases of another network, trained apart: it errs differently.
pub const SECOND: &str = "second";
/// Opinion by single words with `[unk]`, which takes what is none of them.
pub const WORDS: &str = "words";
/// The second look, with the words of numbers alone, by the first network.
pub const NUMBERS: &str = "numbers";
/// The same by the second network.
pub const SECOND_NUMBERS: &str = "second-numbers";
/// How many hypotheses are asked for: the best and those it is compared with.
pub const HYPOTHESES: u16 = 5;
/// What stands for a sound that is no word of the grammar.
pub const UNKNOWN: &str = "[unk]";

/// What belongs to the opinion of that name, of all of them.
#[must_use]
pub fn named<'a, T>(all: &'a [(&'static str, T)], name: &str) -> Option<&'a T> {
    all.iter().find(|(other, _)| *other == name).map(|(_, its)| its)
}

/// What one decoding made of one stretch of sound.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Decoded {
    /// The best hypothesis, words separated by single spaces; empty for nothing.
    pub words: String,
    /// Further hypotheses, best first, each with how much it is behind the best one (0 and more, in the decoder's own
    /// measure: differences of log likelihood).
    pub others: Vec<(String, f32)>,
}

impl Decoded {
    /// Words alone, without other hypotheses.
    #[must_use]
    pub fn of(words: &str) -> Self {
        Self { words: words.into(), others: Vec::new() }
    }

    /// How far the second best is behind; none where there is no other.
    #[must_use]
    pub fn margin(&self) -> Option<f32> {
        self.others.first().map(|(_, behind)| *behind)
    }

    /// Puts what was decoded of the next piece of the same stretch behind this: words one after the other; each other
    /// hypothesis differs in one piece only.
    #[must_use]
    pub fn then(self, next: Self) -> Self {
        let join =
            |a: &str, b: &str| [a, b].iter().filter(|s| !s.is_empty()).copied().collect::<Vec<_>>().join(" ");
        let mut others: Vec<(String, f32)> = self
            .others
            .iter()
            .map(|(words, behind)| (join(words, &next.words), *behind))
            .chain(next.others.iter().map(|(words, behind)| (join(&self.words, words), *behind)))
            .collect();
        others.sort_by(|a, b| a.1.total_cmp(&b.1));
        Self { words: join(&self.words, &next.words), others }
    }
}

/// Turns sound into words, one stretch at a time.
pub trait Recogniser: Send {
    /// Which opinion this is ([`PHRASES`], [`SECOND`] or [`WORDS`]).
    fn name(&self) -> &'static str;

    /// Takes the next samples of the stretch (16 kHz mono).
    fn feed(&mut self, samples: &[i16]);

    /// Ends the stretch: what was said. Ready for the next one afterwards.
    fn finish(&mut self) -> Decoded;

    /// Forgets the stretch.
    fn reset(&mut self);
}

/// Says what a script says, whatever the sound: for tests and simulations.
#[derive(Debug, Default)]
pub struct ScriptedRecogniser {
    name: &'static str,
    script: std::collections::VecDeque<Decoded>,
    fed: usize,
}

impl ScriptedRecogniser {
    /// A recogniser that gives these opinions one after the other, then nothing.
    #[must_use]
    pub fn new(name: &'static str, script: impl IntoIterator<Item = Decoded>) -> Self {
        Self { name, script: script.into_iter().collect(), fed: 0 }
    }
}

impl Recogniser for ScriptedRecogniser {
    fn name(&self) -> &'static str {
        self.name
    }

    fn feed(&mut self, samples: &[i16]) {
        self.fed += samples.len();
    }

    fn finish(&mut self) -> Decoded {
        let heard_anything = std::mem::take(&mut self.fed) > 0;
        if heard_anything { self.script.pop_front().unwrap_or_default() } else { Decoded::default() }
    }

    fn reset(&mut self) {
        self.fed = 0;
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn pieces_of_one_stretch_are_joined() {
        let a = Decoded { words: "one".into(), others: vec![("nine".into(), 0.5)] };
        let b = Decoded {
            words: "point five".into(),
            others: vec![("point nine".into(), 0.2), (String::new(), 3.0)],
        };
        let both = a.then(b);
        assert_eq!(both.words, "one point five");
        assert_eq!(
            both.others,
            [("one point nine".into(), 0.2), ("nine point five".into(), 0.5), ("one".into(), 3.0)]
        );
        assert_eq!(both.margin(), Some(0.2));
        assert_eq!(Decoded::default().then(Decoded::of("yes")), Decoded::of("yes"));
    }
}
