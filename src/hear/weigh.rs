//! Owns how much speaks for each meaning: hypotheses of several opinions in, meanings in order out. Pure.
//!
//! Only what may be said is compared. The recogniser's model of phrases knows pairs of words, so that its best hypothesis may mean
//! nothing at all ("seven no four", "eighteen next zero"); then the best one that means something is its opinion. The same value put
//! another way ("eight two", "eighty two") is another meaning: it may have to be asked.

use super::{
    doubt::{Signs, cost},
    meaning::meaning,
    recognise::{Decoded, HYPOTHESES, PHRASES, SECOND, UNKNOWN, WORDS, named},
};
use crate::grammar::Utterance;

/// Beyond this an opinion's lead says no more: the shipped networks' lattices are no wider.
pub const WIDEST: f32 = 3.0;

/// How far behind its best hypothesis an opinion puts each meaning, nearest first: no meaning twice, none further than [`WIDEST`].
#[derive(Debug, Clone)]
pub struct Costs {
    all: Vec<(Utterance, String, f32)>,
    /// What is not among them is at least this far behind: the last of a full list, where the list was cut off there.
    beyond: f32,
}

impl Costs {
    /// Those of one opinion.
    #[must_use]
    pub fn of(decoded: &Decoded, parse: &dyn Fn(&str) -> Option<Utterance>) -> Self {
        let mut all: Vec<(Utterance, String, f32)> = Vec::new();
        let best = std::iter::once((&decoded.words, 0.0));
        for (words, behind) in best.chain(decoded.others.iter().map(|(words, behind)| (words, *behind))) {
            if behind >= WIDEST || words.contains(UNKNOWN) {
                continue;
            }
            if let Some(meaning) = meaning(words, parse)
                && !all.iter().any(|(other, ..)| *other == meaning)
            {
                all.push((meaning, words.clone(), behind));
            }
        }
        let full = decoded.others.len() + 1 >= usize::from(HYPOTHESES);
        let last = decoded.others.last().map_or(WIDEST, |(_, behind)| behind.clamp(0.0, WIDEST));
        Self { all, beyond: if full { last } else { WIDEST } }
    }

    /// The meaning that the opinion prefers.
    #[must_use]
    pub fn first(&self) -> Option<&Utterance> {
        self.all.first().map(|(meaning, ..)| meaning)
    }

    /// How far behind the best hypothesis that meaning is, 0 to [`WIDEST`].
    #[must_use]
    pub fn behind(&self, meaning: &Utterance) -> f32 {
        self.all.iter().find(|(other, ..)| other == meaning).map_or(self.beyond, |(.., behind)| *behind)
    }

    /// How far that meaning is ahead of every other, −[`WIDEST`] to [`WIDEST`]; below 0 where another is preferred.
    #[must_use]
    pub fn support(&self, meaning: &Utterance) -> f32 {
        let rival = self.all.iter().find(|(other, ..)| other != meaning);
        rival.map_or(self.beyond, |(.., behind)| *behind) - self.behind(meaning)
    }
}

/// A meaning with what speaks for it.
#[derive(Debug, Clone)]
pub struct Candidate {
    /// The meaning.
    pub meaning: Utterance,
    /// The words of the first opinion that has it.
    pub words: String,
    /// How far the opinions put it ahead of every other meaning.
    pub signs: Signs,
}

/// All meanings that some opinion has, the likeliest first.
#[must_use]
pub fn candidates(costs: &[(&'static str, Costs)]) -> Vec<Candidate> {
    let mut all: Vec<(f32, Candidate)> = Vec::new();
    for (meaning, words, _) in costs.iter().flat_map(|(_, costs)| &costs.all) {
        if all.iter().any(|(_, other)| other.meaning == *meaning) {
            continue;
        }
        let signs = |of: fn(&Costs, &Utterance) -> f32| {
            let by = |name| named(costs, name).map_or(0.0, |costs| of(costs, meaning));
            Signs { phrases: by(PHRASES), second: by(SECOND), words: by(WORDS) }
        };
        let candidate =
            Candidate { meaning: meaning.clone(), words: words.clone(), signs: signs(Costs::support) };
        all.push((cost(signs(Costs::behind)), candidate));
    }
    all.sort_by(|(one, _), (other, _)| one.total_cmp(other));
    all.into_iter().map(|(_, candidate)| candidate).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::grammar::{Context, Grammar};

    fn parse(words: &str) -> Option<Utterance> {
        use std::sync::OnceLock;
        static GRAMMAR: OnceLock<Grammar> = OnceLock::new();
        GRAMMAR.get_or_init(|| Grammar::builtin("en").unwrap()).parse(words, &Context::default())
    }

    fn decoded(words: &str, others: &[(&str, f32)]) -> Decoded {
        Decoded {
            words: words.into(),
            others: others.iter().map(|(words, behind)| ((*words).into(), *behind)).collect(),
        }
    }

    fn costs(words: &str, others: &[(&str, f32)]) -> Costs {
        Costs::of(&decoded(words, others), &parse)
    }

    #[test]
    fn what_means_nothing_is_not_compared() {
        let meant = parse("seven oh four").unwrap();
        let costs =
            costs("seven no four", &[("seven oh four", 0.5), ("seven four", 2.5), ("[unk] oh four", 2.6)]);
        assert_eq!(costs.behind(&meant), 0.5);
        assert_eq!(costs.support(&meant), 2.0);
        let other = parse("seven four").unwrap();
        assert_eq!(costs.support(&other), -2.0);
        // "Eight two" may be 8.2 with the point forgotten, "eighty two" is not: how it was put is part of what was meant.
        let other = parse("seventy four").unwrap();
        assert_eq!(costs.support(&other), 0.5 - WIDEST);
        assert_eq!(costs.support(&parse("nine").unwrap()), 0.5 - WIDEST, "not among them");
    }

    #[test]
    fn the_likeliest_comes_first_whichever_opinion_has_it_at_the_top() {
        let order = |phrases: Costs, second: Costs, words: Costs| -> Vec<String> {
            let all = [(PHRASES, phrases), (SECOND, second), (WORDS, words)];
            candidates(&all).into_iter().map(|candidate| candidate.words).collect()
        };
        let eighty = || costs("eighty", &[("eighteen", 0.2)]);
        let eighteen = || costs("eighteen", &[]);
        assert_eq!(order(eighty(), eighteen(), eighteen()), ["eighteen", "eighty"]);
        assert_eq!(order(costs("eighty", &[]), eighteen(), eighteen()), ["eighty", "eighteen"]);
        assert!(order(costs("point point", &[]), costs("", &[]), costs("of", &[])).is_empty());
    }

    #[test]
    fn an_opinion_that_comes_round_never_makes_a_meaning_less_likely() {
        let meant = parse("one point five").unwrap();
        let before = [
            (PHRASES, costs("one point five", &[("one point nine", 1.0)])),
            (SECOND, costs("one point nine", &[("one point five", 1.0)])),
            (WORDS, costs("one point five", &[])),
        ];
        let mut after = before.clone();
        after[1].1 = costs("one point five", &[("one point nine", 1.0)]);
        let doubt = |all: &[(&'static str, Costs)]| {
            let found = candidates(all).into_iter().find(|candidate| candidate.meaning == meant);
            crate::hear::doubt::doubt(found.unwrap().signs)
        };
        assert!(doubt(&after) < doubt(&before));
    }
}
