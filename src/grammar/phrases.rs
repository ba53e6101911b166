//! Owns what the recogniser is told: phrases (its bigram model comes from them) and words.

use super::{
    Context, Grammar,
    lexicon::{Lexicon, Pattern, Piece, Role},
    source::Does,
};
use crate::quantity::{Decimal, Prefix, Unit};
use std::collections::{BTreeSet, HashSet};

/// How many phrases of numbers are listed: as many as the model was found to do well with.
const NUMBER_PHRASES: usize = 600;
/// Phrases that each word of numbers is in, at least: what is in none could never be heard.
pub(super) const FEWEST: usize = 6;
/// Numbers drawn in search of such a phrase, at most: "million" is on no display that is drawn.
const TRIES: usize = 2000;

/// A small deterministic generator of numbers (SplitMix64, Steele, Lea, Flood 2014): the list is the same every time.
pub(super) struct Dice(u64);

impl Dice {
    pub(super) fn new(seed: u64) -> Self {
        Self(seed)
    }

    pub(super) fn below(&mut self, limit: u64) -> u64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        (z ^ (z >> 31)) % limit
    }

    fn pick<'a, T>(&mut self, list: &'a [T]) -> Option<&'a T> {
        let len = u64::try_from(list.len()).ok().filter(|len| *len > 0)?;
        list.get(usize::try_from(self.below(len)).ok()?)
    }
}

fn has_word(phrase: &str, word: &str) -> bool {
    phrase.split(' ').any(|w| w == word)
}

/// How many of these phrases have that word.
pub(super) fn with_word(phrases: &[String], word: &str) -> usize {
    phrases.iter().filter(|phrase| has_word(phrase, word)).count()
}

impl Grammar {
    /// The phrases for a recogniser: representative numbers, states, all commands, what the context adds. Without `[unk]`.
    ///
    /// The same list every time, no phrase twice. Of two words that sound alike ("to", "two") only the number is listed:
    /// nothing in the sound tells them apart, and [`Grammar::parse`] takes it for the other one where that alone fits.
    #[must_use]
    pub fn phrases(&self, context: &Context) -> Vec<String> {
        let numbers = if context.entry {
            self.entry_phrases.get_or_init(|| self.lexicon.entry_phrases())
        } else {
            self.number_phrases.get_or_init(|| self.lexicon.number_phrases())
        };
        let mut list = numbers.clone();
        list.extend(
            self.lexicon.states.iter().filter(|(.., listed)| *listed).map(|(phrase, ..)| phrase.clone()),
        );
        // Samples of readings inside of other phrases, spread over the list.
        let mut samples = numbers.iter().step_by(37).cycle();
        let mut sample = || samples.next().cloned().unwrap_or_default();
        let mut first = HashSet::new();
        let listed = |pattern: &&Pattern| pattern.listed && (context.metered || pattern.does != Does::TakeIt);
        for pattern in self.lexicon.patterns.iter().filter(listed) {
            // Every pin in the first phrase of its kind, a few in the others: else pins outweigh numbers.
            let kind = (pattern.does, pattern.has(&Piece::Reading));
            let step = if !pattern.has(&Piece::Pin) || first.insert(kind) { 1 } else { 4 };
            self.expand(pattern, context, step, &mut sample, &mut list);
        }
        for (marker, weak) in &self.lexicon.corrections {
            if !weak {
                list.push(format!("{} {} {}", sample(), marker.join(" "), sample()));
            }
        }
        list.extend(context.phrases.iter().map(|phrase| phrase.to_lowercase()));
        let mut seen = HashSet::new();
        list.retain(|phrase| !phrase.is_empty() && seen.insert(phrase.clone()));
        list
    }

    /// The words for a recogniser of words: sorted, none twice, without `[unk]`.
    #[must_use]
    pub fn words(&self, context: &Context) -> Vec<String> {
        let phrases = self.phrases(context);
        let mut words: BTreeSet<&str> = phrases.iter().flat_map(|phrase| phrase.split_whitespace()).collect();
        words.extend(self.lexicon.number_words());
        words.into_iter().map(str::to_owned).collect()
    }

    /// Words of [`Grammar::words`] that a model does not know: they would be dropped by the recogniser and never heard.
    #[must_use]
    pub fn unknown_words(&self, context: &Context, model: &HashSet<String>) -> Vec<String> {
        self.words(context).into_iter().filter(|word| !model.contains(word)).collect()
    }

    fn expand(
        &self,
        pattern: &Pattern,
        context: &Context,
        step: usize,
        sample: &mut dyn FnMut() -> String,
        list: &mut Vec<String>,
    ) {
        let pins: Vec<String> = if pattern.has(&Piece::Pin) {
            let own = context.pins.iter().flat_map(|pin| self.lexicon.ways_to_say_pin(pin));
            let circuits = context.circuits.iter().map(|(name, _)| name.to_lowercase());
            own.chain(circuits).step_by(step).collect()
        } else {
            vec![String::new()]
        };
        let times = if pattern.has(&Piece::Count) || pattern.has(&Piece::Reading) && !pattern.has(&Piece::Pin)
        {
            8
        } else {
            1
        };
        for pin in &pins {
            for i in 0..times {
                let words: Vec<String> = pattern
                    .pieces
                    .iter()
                    .map(|piece| match piece {
                        Piece::Word(word) => self.lexicon.listed(word).to_owned(),
                        Piece::Pin => pin.clone(),
                        Piece::Reading => sample(),
                        Piece::Count => self.lexicon.say_whole(i + 2),
                    })
                    .collect();
                list.push(words.join(" "));
            }
        }
    }
}

impl Lexicon {
    /// Ways to say a pin's name that are listed: as it is read back, digit by digit, letters by their alphabet.
    fn ways_to_say_pin(&self, pin: &crate::profile::PinName) -> Vec<String> {
        let mut ways = vec![self.say_pin(pin)];
        let spelled = |letters: usize| {
            let words: Vec<String> = super::say::runs(pin.as_str())
                .iter()
                .map(|run| match run.chars().next() {
                    Some(letter) if letter.is_ascii_alphabetic() => self
                        .letters
                        .get(&letter.to_ascii_lowercase())
                        .and_then(|words| words.get(letters).or(words.first()))
                        .cloned()
                        .unwrap_or_default(),
                    _ => self.say_digits(run),
                })
                .collect();
            words.join(" ")
        };
        ways.extend([spelled(0), spelled(1)]);
        ways.sort();
        ways.dedup();
        ways
    }

    /// Representative numbers: every pair of digits around a point once, then numbers of the sizes and in the ways that
    /// displays and people have, drawn.
    fn number_phrases(&self) -> Vec<String> {
        let mut list: Vec<String> = Vec::new();
        let mut seen = HashSet::new();
        let mut push = |list: &mut Vec<String>, phrase: String| {
            if seen.insert(phrase.clone()) {
                list.push(phrase);
            }
        };
        for digits in 0..100 {
            // "three point seven"
            if let Ok(number) = Decimal::new(false, digits, 1) {
                push(&mut list, self.say_number(&number, false));
            }
        }
        let mut dice = Dice::new(1);
        while list.len() < NUMBER_PHRASES {
            let Some((number, prefix, unit)) = draw(&mut dice) else { continue };
            let all = self.ways(&number, prefix, unit);
            // Ohms are rarely said, so five of six leave them out.
            let bare = prefix == Prefix::One && unit == Unit::Ohm && dice.below(6) > 0;
            let ohms = |way: &str| {
                matches!(way.rsplit(' ').next().and_then(|word| self.role(word)), Some(Role::Unit(_)))
            };
            let usual: Vec<&String> =
                all.iter().filter(|way| !(self.is_seldom(way) || bare && ohms(way))).collect();
            let ways = if usual.is_empty() || dice.below(12) == 0 { all.iter().collect() } else { usual };
            if let Some(way) = dice.pick(&ways) {
                push(&mut list, (*way).clone());
            }
        }
        for word in self.number_words() {
            let within = |phrase: &str| has_word(phrase, word);
            let mut there = with_word(&list, word);
            for _ in 0..TRIES {
                if there >= FEWEST {
                    break;
                }
                let Some((number, prefix, unit)) = draw(&mut dice) else { continue };
                // Only this word is what few say.
                let seldom = |way: &str| way.split(' ').filter(|w| *w != word).any(|w| self.is_seldom(w));
                let all = self.ways(&number, prefix, unit);
                let ways: Vec<&String> = all.iter().filter(|way| within(way) && !seldom(way)).collect();
                if let Some(way) = dice.pick(&ways).filter(|way| !list.contains(way)) {
                    push(&mut list, (*way).clone());
                    there += 1;
                }
            }
        }
        list
    }
}

/// A number as a display may have it.
fn draw(dice: &mut Dice) -> Option<(Decimal, Prefix, Unit)> {
    let places = *dice.pick(&[0, 0, 0, 0, 0, 1, 1, 1, 2, 2, 2, 3])?;
    let whole: u64 =
        *dice.pick(if places == 0 { &[10, 100, 100, 1000, 1000, 1000, 10_000] } else { &[10, 100, 1000] })?;
    let digits = dice.below(whole * 10u64.pow(u32::from(places)));
    let number = Decimal::new(dice.below(40) == 0, digits, places).ok()?;
    let plain = (Prefix::One, Unit::Ohm);
    let kinds = [
        (Prefix::Kilo, Unit::Ohm),
        (Prefix::Mega, Unit::Ohm),
        (Prefix::Milli, Unit::Ohm),
        (Prefix::One, Unit::Volt),
        (Prefix::Milli, Unit::Volt),
        (Prefix::One, Unit::Ampere),
        (Prefix::Milli, Unit::Ampere),
        (Prefix::One, Unit::Celsius),
    ];
    let (prefix, unit) = if dice.below(4) == 0 { *dice.pick(&kinds)? } else { plain };
    Some((number, prefix, unit))
}
