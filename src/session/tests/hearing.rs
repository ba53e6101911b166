//! Dialogues about what was not heard clearly: two questions about one thing, each new, then the keys; nothing left without an answer.

use super::*;

impl Dialogue {
    /// Heard nearly clearly, with what the decodings made of it.
    fn marked(&mut self, words: &str, opinions: &[&str]) -> String {
        let utterance = self.meaning(words);
        let opinion = |words: &&str| Opinion {
            by: "phrases".into(),
            words: (*words).into(),
            margin: None,
            support: None,
        };
        let opinions = opinions.iter().map(opinion).collect();
        let hearing = self.hearing(Outcome::Understood(utterance));
        self.event(&Event::Heard(Hearing { marked: true, opinions, ..hearing }))
    }
}

#[test]
fn the_place_that_differs_is_asked_and_settled_by_itself() {
    let mut dialogue = Dialogue::prepared();
    let both = ["five point three nine", "five point three two nine"];
    assert_eq!(dialogue.doubtful(&both), "Three nine, or three two nine?");
    assert_eq!(dialogue.said("three two nine"), "5.329. In. Pin 2, coil B.");
    assert_eq!(dialogue.doubtful(&both), "Three nine, or three two nine?");
    assert_eq!(dialogue.said("thirty nine"), "5.39. In. Pin 3, coil C.");
    // The whole settles it as well, and so does another value.
    assert_eq!(dialogue.doubtful(&["five point five", "nine point five"]), "Five, or nine?");
    assert_eq!(dialogue.said("yes"), "Say which. Five point five, or nine point five?");
    assert_eq!(dialogue.said("five point three five"), "5.35. In. Pin 4, coil D.");
    assert_eq!(dialogue.standing(), ["1 5.329 Ω", "2 5.39 Ω", "3 5.35 Ω"]);
}

#[test]
fn two_questions_about_one_thing_and_then_the_keys() {
    let mut dialogue = Dialogue::prepared();
    let both = ["five point three eight five", "five point eight"];
    let first = dialogue.doubtful(&both);
    let second = dialogue.doubtful(&both);
    let third = dialogue.doubtful(&both);
    assert_eq!(first, "Three eight five, or eight?");
    assert_eq!(second, "Say it digit by digit, with its point.");
    assert!(third.contains("Type it"), "{third}");
    // Heard once more in doubt, alone this time: no proof either.
    assert!(dialogue.doubtful(&both[..1]).contains("Type it"));
    assert!(dialogue.standing().is_empty());
    assert!(dialogue.said("five point three eight five").starts_with("5.385. In."));
    // The same value twice in doubt settles nothing; "yes" does.
    assert_eq!(dialogue.doubtful(&both[..1]), "Five point three eight five?");
    assert_eq!(dialogue.doubtful(&both[..1]), "Say it digit by digit, with its point.");
    assert_eq!(dialogue.standing().len(), 1);
    assert!(dialogue.said("yes").starts_with("5.385. In."));
    // Something that is no number.
    dialogue.doubtful(&["what was pin one"]);
    assert_eq!(dialogue.doubtful(&["what was pin one"]), "Not heard clearly. Say it in other words.");
}

#[test]
fn two_that_are_no_numbers_are_narrowed_to_yes_or_no() {
    let mut dialogue = Dialogue::new();
    dialogue.event(&OPENED);
    for gate in dialogue.session.profile.gates.clone() {
        dialogue.said(&gate.confirm);
    }
    let both = ["warm", "one"];
    assert_eq!(dialogue.doubtful(&both), "Warm, or one?");
    assert_eq!(dialogue.doubtful(&both), "Warm? Yes or no?");
    assert!(dialogue.doubtful(&both).contains("Type it"));
    dialogue.said("no");
    dialogue.doubtful(&both);
    dialogue.doubtful(&both);
    assert!(dialogue.said("yes").starts_with("Warm. Hold the probes together."));
}

#[test]
fn a_doubtful_yes_is_no_proof_and_a_doubtful_no_is_harmless() {
    let mut dialogue = Dialogue::prepared();
    dialogue.doubtful(&["five point three eight five"]);
    assert_eq!(dialogue.doubtful(&["yes"]), "Five point three eight five? Yes or no?");
    assert!(dialogue.doubtful(&["yes"]).contains("Enter is yes"));
    assert!(dialogue.standing().is_empty());
    assert!(dialogue.typed("").starts_with("5.385. In."));
    dialogue.doubtful(&["five point three eight five"]);
    dialogue.doubtful(&["no"]);
    assert_eq!(dialogue.doubtful(&["no"]), "Say it again. Pin 2, coil B.");
}

#[test]
fn a_gates_phrase_in_doubt_is_asked_by_its_phrase_never_by_yes() {
    let mut dialogue = Dialogue::new();
    dialogue.event(&OPENED);
    let phrase = dialogue.session.profile.gates[0].confirm.clone();
    let doubtful =
        |dialogue: &mut Dialogue| dialogue.hear(Outcome::Doubtful(vec![Utterance::Phrase(phrase.clone())]));
    assert_eq!(doubtful(&mut dialogue), format!("Say it again: {phrase}."));
    assert_eq!(dialogue.said("yes"), format!("Say what was done: {phrase}."));
    assert_eq!(dialogue.typed(""), format!("Say what was done: {phrase}."));
    assert_eq!(dialogue.state.phase, Phase::Gate(0));
    let second = doubtful(&mut dialogue);
    assert!(second.contains(&phrase) && second.contains("type 11"), "{second}");
    let third = doubtful(&mut dialogue);
    assert_eq!(third, "Not heard clearly. Type 11 when it is done.");
    assert_eq!(dialogue.state.phase, Phase::Gate(0));
    dialogue.typed("11");
    assert_eq!(dialogue.state.phase, Phase::Gate(1));
    // Nearly clear is not enough here.
    let phrase = dialogue.session.profile.gates[1].confirm.clone();
    assert_eq!(dialogue.marked(&phrase, &[]), format!("Say it again: {phrase}."));
    assert!(dialogue.said(&phrase).contains("I keep the time"));
    assert_eq!(dialogue.state.phase, Phase::Gate(2));
}

#[test]
fn nothing_that_was_said_is_left_without_an_answer() {
    let mut dialogue = Dialogue::prepared();
    assert_eq!(dialogue.hear(Outcome::NoSpeech), "");
    assert_eq!(dialogue.hear(Outcome::NotInGrammar), "Say it again.");
    assert!(dialogue.hear(Outcome::NotInGrammar).ends_with("or use the keys."));
    for _ in 0..3 {
        assert!(dialogue.hear(Outcome::NotInGrammar).contains("Type it"));
    }
    let mut at_gate = Dialogue::new();
    at_gate.event(&OPENED);
    at_gate.hear(Outcome::NotInGrammar);
    at_gate.hear(Outcome::NotInGrammar);
    assert_eq!(at_gate.hear(Outcome::NotInGrammar), "Not heard clearly. Type 11 when it is done.");
}

#[test]
fn nearly_clear_is_taken_read_back_in_full_and_marked() {
    let mut dialogue = Dialogue::prepared();
    let answer = dialogue.marked(
        "five point three eight five",
        &["five point three eight five", "five point three nine five"],
    );
    assert_eq!(answer, "5.385 Ω, if three eight five is right. In. Pin 2, coil B.");
    assert!(dialogue.state.ask.is_none() && dialogue.state.taken[0].marked);
    assert_eq!(
        dialogue.marked("five point four one zero", &[]),
        "5.410 Ω, not heard clearly. In. Pin 3, coil C."
    );
    assert_eq!(dialogue.said("wrong five point four one five"), "5.415. In. Pin 3, coil C.");
    assert!(!dialogue.state.taken[2].marked);
    // The temperature of the part stands under every judgement: it is asked.
    let mut at_temperature = Dialogue::new();
    at_temperature.event(&OPENED);
    for gate in at_temperature.session.profile.gates.clone() {
        at_temperature.said(&gate.confirm);
    }
    assert_eq!(at_temperature.marked("eighteen", &[]), "Eighteen?");
}

#[test]
fn a_marked_reading_that_decides_is_read_again() {
    let mut dialogue = Dialogue::prepared();
    let mut last = String::new();
    for (place, words) in SOUND.iter().enumerate() {
        last = if place == 5 { dialogue.marked("two point nine one six", &[]) } else { dialogue.said(words) };
    }
    last += &dialogue.said(SOUND[0]);
    // Suspect, so that it comes again with its terminal cleaned; clearly heard then, it needs no more.
    assert!(last.contains("coil F. Clean the terminal"), "{last}");
    dialogue.marked("five point three nine", &[]);
    let decides = dialogue.session.marked_that_decide(&dialogue.state);
    let names: Vec<_> = decides.iter().map(|task| dialogue.session.circuit(task).name.clone()).collect();
    assert!(names.iter().all(|name| name == "coil F"), "{names:?}");
    // None of the marked decides where all are sound.
    let mut sound = Dialogue::prepared();
    for words in SOUND {
        sound.marked(words, &[]);
    }
    let all = sound.said(SOUND[0]);
    assert!(all.ends_with("All read. Say finish for the conclusion."), "{all}");
}
