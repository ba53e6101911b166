//! Owns what one session teaches about a part that nobody described: a profile marked as learned.
//!
//! Circuits that read alike and stand in nobody's way are a family; their limits are taken from the middle of them. What was suspect
//! teaches nothing: it is taken for one of the only large family where there is one, else it has no limits.

use super::draft::{Draft, DraftCircuit, Made};
use crate::{
    profile::Profile,
    quantity::Celsius,
    verdict::{
        Class, Judgement, Station,
        families::{Size, alike},
    },
};

/// How far a learned limit lies from the middle, in percent (chosen here: parts of one make differ by a few percent, and a winding that is
/// 20 K warmer reads 8 % more; what is off within a family is found by its likes, not by this).
const LEARNED_PERCENT: f64 = 15.0;

/// The words that a learned profile needs, in the person's language.
#[derive(Debug, Clone)]
pub struct LearnedWords {
    /// What the part is called.
    pub title: String,
    /// Where the figures come from.
    pub source: String,
    /// What stands at the top as a comment.
    pub comment: String,
}

/// The profile that the readings of a part give. None where nothing was read that could be learned.
#[must_use]
pub fn learned(
    part: &Profile,
    judgement: &Judgement,
    temperature: Option<Celsius>,
    words: &LearnedWords,
) -> Option<Draft> {
    let finding = |place: usize| judgement.finding(&part.circuits[place].id, Station::Component);
    let resistance = |place: usize| {
        let ohms = finding(place).and_then(|finding| finding.resistance)?.get();
        (ohms > 0.0).then_some(ohms)
    };
    let suspect = |place: usize| finding(place).is_some_and(|finding| finding.class.is_suspect());
    let size = |place: usize| match (finding(place), resistance(place)) {
        (Some(finding), _) if finding.class == Class::NotTaken => Size::Unread,
        (Some(_), Some(ohms)) => Size::Ohms(ohms),
        (Some(_), None) => Size::None,
        (None, _) => Size::Unread,
    };
    let sizes: Vec<Size> = (0..part.circuits.len()).map(size).collect();
    if !sizes.iter().any(|size| matches!(size, Size::Ohms(_))) {
        return None;
    }
    let groups = alike(&sizes);
    let at = temperature.map_or_else(String::new, |celsius| format!(" at {} °C", celsius.get()));
    let common = part.circuits.first().map(|circuit| circuit.against.to_string());
    let common =
        common.filter(|common| part.circuits.iter().all(|circuit| circuit.against.as_str() == common));
    let circuits = part.circuits.iter().enumerate().map(|(place, circuit)| {
        let bounds = |middle: f64| {
            let bound = |percent: f64| figures(middle * (1.0 + percent / 100.0));
            format!("{} to {} ohm{at}", bound(-LEARNED_PERCENT), bound(LEARNED_PERCENT))
        };
        // The first of each group in the order of measuring has the limits, the others are like it. The middle is that of the sound.
        let group = groups.iter().find(|group| group.contains(&place));
        let (made, window) = match group {
            Some(group) if group[0] != place => (Made::Like(group[0]), None),
            Some(group) => {
                let mut sound: Vec<f64> =
                    group.iter().filter(|one| !suspect(**one)).filter_map(|one| resistance(*one)).collect();
                sound.sort_by(f64::total_cmp);
                (Made::Plain("resistor"), sound.get(sound.len() / 2).map(|middle| bounds(*middle)))
            }
            // What is suspect and like no other teaches nothing.
            None => (Made::Plain("resistor"), resistance(place).filter(|_| !suspect(place)).map(bounds)),
        };
        DraftCircuit {
            name: circuit.name.clone(),
            pin: circuit.pin.to_string(),
            against: common.is_none().then(|| circuit.against.to_string()),
            made,
            window,
            line: None,
        }
    });
    let circuits = circuits.collect();
    Some(Draft {
        title: words.title.clone(),
        source: words.source.clone(),
        comments: vec![words.comment.clone()],
        common,
        circuits,
        ..Draft::default()
    })
}

/// Four figures: no limit is known better.
fn figures(ohms: f64) -> String {
    let places = (3 - ohms.abs().log10().floor() as i32).clamp(0, 6);
    format!("{ohms:.*}", usize::try_from(places).unwrap_or(0))
}

#[cfg(test)]
mod tests {
    use super::figures;

    #[test]
    fn limits_have_four_figures() {
        for (ohms, text) in [(4.4375, "4.438"), (0.05234, "0.05234"), (331.24, "331.2"), (56_123.4, "56123")]
        {
            assert_eq!(figures(ohms), text);
        }
    }
}
