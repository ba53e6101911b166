//! Owns the doubt in what was heard: how likely the first candidate is wrong, from how far each opinion puts it ahead. Pure.
//!
//! A logistic regression, fitted by `grammars/en/training/calibrate.py`: how far each of the three opinions of the shipped networks
//! puts the first candidate ahead of every other meaning, how many words it has, and how far it is above the room. `grammars/en/training/README.md` says on
//! which clips (none of those that the ears are measured on), and how often the doubt came true elsewhere.

/// What the doubt is drawn from.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Signs {
    /// How far the phrases' opinion puts the candidate ahead, −3 to 3.
    pub phrases: f32,
    /// How far the second network does.
    pub second: f32,
    /// How far the opinion of single words does.
    pub words: f32,
    /// Words of the candidate.
    pub count: usize,
    /// How far the loudest speech is above the room, in decibels.
    pub above_room_db: f32,
}

/// Weights: constant, three leads (by 3), count (by 10, at most 10), decibels above the room (by 40, 0 to 40). Two were changed
/// after the fit, each on one half of clips of which the other half shows what came of it: the constant by 1.22, since doubts
/// were stated too small in quiet, and the last from -5.59, since they were stated too large in noise.
const WEIGHTS: [f32; 6] = [2.42, -2.34, -1.35, -0.90, 0.37, -4.00];

/// How likely the candidate is wrong, 0 to 1.
#[must_use]
pub fn doubt(signs: &Signs) -> f32 {
    let [constant, phrases, second, words, count, above_room] = WEIGHTS;
    #[expect(clippy::cast_precision_loss, reason = "at most 10")]
    let length = signs.count.min(10) as f32 / 10.0;
    let sum = constant
        + (phrases * signs.phrases + second * signs.second + words * signs.words) / 3.0
        + count * length
        + above_room * signs.above_room_db.clamp(0.0, 40.0) / 40.0;
    1.0 / (1.0 + (-sum).exp())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn more_lead_is_less_doubt_whoever_gives_it() {
        let base = Signs { phrases: 0.5, second: 0.5, words: 0.5, count: 3, above_room_db: 30.0 };
        let at = doubt(&base);
        assert!((0.0..=1.0).contains(&at));
        for better in
            [Signs { phrases: 2.0, ..base }, Signs { second: 2.0, ..base }, Signs { words: 2.0, ..base }]
        {
            assert!(doubt(&better) < at, "{better:?}");
        }
        let sure = Signs { phrases: 3.0, second: 3.0, words: 3.0, count: 3, ..base };
        let torn = Signs { phrases: 0.1, second: -3.0, words: -3.0, count: 3, ..base };
        assert!(doubt(&sure) < 0.02 && doubt(&torn) > 0.3, "{} {}", doubt(&sure), doubt(&torn));
    }
}
