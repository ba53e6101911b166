//! Owns the doubt in what was heard: how likely the first candidate is wrong, from how far each opinion puts it ahead. Pure.
//!
//! A logistic regression, fitted by `grammars/en/training/calibrate.py` on how far each of the three opinions puts the first candidate
//! ahead of every other meaning, with the shipped networks as they were before their last training.
//! `grammars/en/training/README.md` says on which clips, and how often the doubt comes true with the networks of today. How long the words are, how many they are and how loud the
//! room is were tried as further signs and add nothing: what noise does shows in the leads.

/// What the doubt is drawn from: how far each opinion puts a meaning ahead, −3 to 3.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Signs {
    /// The phrases' opinion.
    pub phrases: f32,
    /// The second network's.
    pub second: f32,
    /// That of single words.
    pub words: f32,
}

/// Weights: constant, and the three leads (by 3).
const WEIGHTS: [f32; 4] = [0.13, -2.47, -1.13, -0.58];

/// How much speaks against a meaning that the opinions put so far behind their best hypotheses (0 to 3): the smallest is the
/// least likely wrong.
#[must_use]
pub fn cost(behind: Signs) -> f32 {
    let [_, phrases, second, words] = WEIGHTS;
    -(phrases * behind.phrases + second * behind.second + words * behind.words) / 3.0
}

/// How likely the candidate is wrong, 0 to 1.
#[must_use]
pub fn doubt(signs: Signs) -> f32 {
    let [constant, phrases, second, words] = WEIGHTS;
    let sum = constant + (phrases * signs.phrases + second * signs.second + words * signs.words) / 3.0;
    1.0 / (1.0 + (-sum).exp())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn more_lead_is_less_doubt_whoever_gives_it() {
        let base = Signs { phrases: 0.5, second: 0.5, words: 0.5 };
        let at = doubt(base);
        assert!((0.0..=1.0).contains(&at));
        for better in
            [Signs { phrases: 2.0, ..base }, Signs { second: 2.0, ..base }, Signs { words: 2.0, ..base }]
        {
            assert!(doubt(better) < at, "{better:?}");
        }
        let sure = Signs { phrases: 3.0, second: 3.0, words: 3.0 };
        let torn = Signs { phrases: 0.1, second: -3.0, words: -3.0 };
        assert!(doubt(sure) < 0.02 && doubt(torn) > 0.3, "{} {}", doubt(sure), doubt(torn));
    }
}
