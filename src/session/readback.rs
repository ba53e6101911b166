//! Owns the read-back of a reading: what was taken, what that reading amounts to, and what is doubtful about it.

use super::{
    message::{Message, ReadBack, Readout},
    state::{Origin, Prompts, State, Taken},
    step::Session,
};
use crate::{
    grammar::{Spoken, Utterance},
    quantity::{Decimal, Prefix, Reading},
    verdict::{self, Class, Finding},
};

impl Session {
    /// What was taken for a task, and what it means so far.
    pub(super) fn read_back(&self, state: &State, place: usize) -> Message {
        let Some(taken) = state.answer(place) else { return ReadBack::LeftOut.into() };
        let finding = self.finding_of(state, taken);
        let class = finding.as_ref().map_or(Class::NotJudged, |finding| finding.class);
        let reading = short(&taken.reading);
        let line = match (taken.reading, class) {
            (Reading::NotTaken, _) => return ReadBack::LeftOut.into(),
            _ if taken.marked => self.marked(taken, class),
            (Reading::OverRange { .. }, Class::OverRangeUnchecked)
            | (Reading::Unstable { .. }, Class::Unstable) => {
                return ReadBack::Alone { reading }.into();
            }
            _ if finding.as_ref().is_some_and(cannot_tell) => ReadBack::CannotTell { reading, class },
            _ => ReadBack::Judged { reading, class },
        };
        let differs = self.differs_from_before(state, taken, class).then(|| ReadBack::Differs.into());
        let meaning = (state.prompts == Prompts::Full).then(|| ReadBack::Meaning { class }.into());
        match (differs, meaning) {
            (None, meaning) => Message::from(line).then(meaning),
            (Some(differs), meaning) => Message::from(line).then(Some(Message::then(differs, meaning))),
        }
    }

    /// What a reading alone amounts to: another one of the same circuit must not speak for it. Over range and unstable readings
    /// are what all of the circuit's readings make of them.
    #[must_use]
    pub fn finding_of(&self, state: &State, taken: &Taken) -> Option<Finding> {
        let task = &state.plan[taken.task];
        let circuit = &self.circuit(task).id;
        let mut evidence = state.evidence(&self.profile);
        if let Reading::Value(_) = taken.reading {
            evidence.measurements.retain(|other| {
                other.id == taken.id || other.circuit != *circuit || other.station != task.station
            });
        }
        let judgement = verdict::judge(&self.profile, Some(&self.meter), &evidence).ok()?;
        judgement.findings.into_iter().find(|one| one.circuit == *circuit && one.station == task.station)
    }

    /// Whether an earlier number of the same circuit was on the other side.
    fn differs_from_before(&self, state: &State, taken: &Taken, class: Class) -> bool {
        let here = &state.plan[taken.task];
        let is_number = |one: &Taken| matches!(one.reading, Reading::Value(_));
        let before = state
            .standing()
            .filter(|other| other.id < taken.id && is_number(other))
            .filter(|other| {
                let task = &state.plan[other.task];
                task.circuit == here.circuit && task.station == here.station
            })
            .last();
        let before = before.filter(|_| is_number(taken)).and_then(|before| self.finding_of(state, before));
        before.is_some_and(|before| before.class.is_suspect() != class.is_suspect())
    }

    fn marked(&self, taken: &Taken, class: Class) -> ReadBack {
        let reading = full(&taken.reading);
        match self.doubtful_digits(taken) {
            Some(digits) => ReadBack::MarkedDigits { reading, digits: self.digits_in_words(&digits), class },
            None => ReadBack::Marked { reading, class },
        }
    }

    /// The digits in which another decoding differs from what was taken.
    fn doubtful_digits(&self, taken: &Taken) -> Option<String> {
        let (Origin::Voice(hearing), Reading::Value(shown)) = (&taken.origin, taken.reading) else {
            return None;
        };
        let context = crate::grammar::Context::of_profile(&self.profile);
        let other = hearing.opinions.iter().find_map(|opinion| {
            match self.grammar.parse(&opinion.words, &context) {
                Some(Utterance::Reading(Spoken::Number(other))) if other.number != shown.number => {
                    Some(other.number)
                }
                _ => None,
            }
        })?;
        differing(shown.number, other).map(|(digits, _)| digits)
    }

    /// Digits, one by one, in the words of the grammar.
    pub(super) fn digits_in_words(&self, digits: &str) -> String {
        self.grammar.say_utterance(&Utterance::Entry(digits.to_owned()))
    }
}

/// Whether the meter's uncertainty is as wide as the window: then nothing that it shows is surely inside.
fn cannot_tell(finding: &Finding) -> bool {
    let close = matches!(finding.class, Class::WithinDoubtful | Class::OutsideDoubtful);
    match (finding.uncertainty, finding.limits) {
        (Some(uncertainty), Some(limits)) if close => {
            2.0 * uncertainty.get() >= limits.high.get() - limits.low.get()
        }
        _ => false,
    }
}

/// The place in which two numbers differ, as the digits of each with one digit around them: "39" and "329" of 5.39 and 5.329. None
/// where they differ before the point and behind it, or one of them has nothing there.
pub(super) fn differing(one: Decimal, other: Decimal) -> Option<(String, String)> {
    let (one, other) = (one.to_string(), other.to_string());
    let (a, b): (Vec<char>, Vec<char>) = (one.chars().collect(), other.chars().collect());
    let same = a.iter().zip(&b).take_while(|(x, y)| x == y).count();
    let room = a.len().min(b.len()) - same;
    let tail = a.iter().rev().zip(b.iter().rev()).take(room).take_while(|(x, y)| x == y).count();
    // One digit before and one after, so that it can be said as it is said in the number.
    let digit = |letters: &[char], at: usize| letters.get(at).is_some_and(char::is_ascii_digit);
    let from = if same > 0 && digit(&a, same - 1) { same - 1 } else { same };
    let keep = usize::from(tail > 0 && digit(&a, a.len() - tail)).min(tail);
    let part = |letters: &[char]| letters[from..letters.len() - tail + keep].iter().collect::<String>();
    let (one, other) = (part(&a), part(&b));
    let plain = |part: &str| !part.is_empty() && part.chars().all(|letter| letter.is_ascii_digit());
    (plain(&one) && plain(&other) && one != other).then_some((one, other))
}

/// The forms in which a reading may have been said back.
#[must_use]
pub fn read_out(reading: &Reading) -> [Readout; 2] {
    [short(reading), full(reading)]
}

/// The reading as it is said back: the number alone where it is in plain ohms.
fn short(reading: &Reading) -> Readout {
    match reading {
        Reading::Value(shown) if shown.prefix == Prefix::One => Readout::Plain(shown.number),
        other => full(other),
    }
}

fn full(reading: &Reading) -> Readout {
    match reading {
        Reading::Value(shown) => Readout::Full(*shown),
        Reading::OverRange { .. } => Readout::OverRange,
        Reading::Unstable { .. } => Readout::Unstable,
        Reading::NotTaken => Readout::NotTaken,
    }
}

#[cfg(test)]
mod tests {
    use super::differing;

    #[test]
    fn the_place_that_differs() {
        for (one, other, parts) in [
            ("5.39", "5.329", Some(("39", "329"))),
            ("5.385", "5.315", Some(("385", "315"))),
            ("5.315", "9.315", Some(("5", "9"))),
            ("5.5", "5.9", Some(("5", "9"))),
            ("15.2", "50.2", Some(("15", "50"))),
            ("5.385", "9.2", None),
            ("5.3", "53", None),
            ("5.385", "5.38", Some(("85", "8"))),
        ] {
            let found = differing(one.parse().unwrap(), other.parse().unwrap());
            let parts = parts.map(|(one, other)| (one.to_owned(), other.to_owned()));
            assert_eq!(found, parts, "{one} and {other}");
        }
    }
}
