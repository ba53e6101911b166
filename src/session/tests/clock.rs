//! What expires does so although the clock is set: between the clock and the time that passed, the stricter one holds.

use super::*;

#[test]
fn a_clock_that_is_set_back_keeps_nothing_young() {
    let mut dialogue = Dialogue::prepared();
    // Set back by two hours; then 31 minutes pass.
    dialogue.now -= SignedDuration::from_hours(2);
    dialogue.event(&Event::ClockSet { by_ms: -7_200_000 });
    dialogue.said("five point three eight five");
    assert_eq!(dialogue.standing(), ["1 5.385 Ω"]);
    dialogue.now += SignedDuration::from_mins(31);
    let answer = dialogue.said("five point three nine eight");
    assert!(answer.starts_with("More than 30 minutes have passed."), "{answer}");
    assert_eq!(dialogue.state.phase, Phase::Gate(0));
}

#[test]
fn a_clock_that_is_set_ahead_makes_it_older() {
    let mut dialogue = Dialogue::prepared();
    dialogue.now += SignedDuration::from_mins(31);
    dialogue.event(&Event::ClockSet { by_ms: 31 * 60_000 });
    let answer = dialogue.said("five point three eight five");
    assert!(answer.starts_with("More than 30 minutes have passed."), "{answer}");
}
