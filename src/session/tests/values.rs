//! What a session says is values: they go into journals and come back, and what was said is found without reading text.

use super::*;
use crate::session::message::{Prompt, ReadBack};
use crate::verdict::Class;

#[test]
fn the_verdict_of_that_reading_is_said_not_of_all_of_the_circuit() {
    let mut dialogue = Dialogue::prepared();
    for words in SOUND {
        dialogue.said(words);
    }
    // The first circuit once more, with another number.
    let again = dialogue.said("two point nine one six");
    assert!(again.starts_with("2.916. Out. It read differently before."), "{again}");
    let said = dialogue.said.last().unwrap();
    let judged =
        |one: &Message| matches!(one, Message::ReadBack(ReadBack::Judged { class: Class::Outside, .. }));
    assert!(said.any(&judged), "{said:?}");
}

#[test]
fn every_line_of_a_session_is_a_value_that_comes_back_from_its_journal() {
    let mut dialogue = Dialogue::prepared();
    for words in SOUND {
        dialogue.said(words);
    }
    dialogue.said("why");
    dialogue.said("worst");
    dialogue.said("last time");
    dialogue.said("status");
    dialogue.said("help");
    dialogue.said("what was pin two");
    dialogue.said(SOUND[0]);
    dialogue.said("finish");
    assert!(dialogue.said.len() > 30);
    for message in &dialogue.said {
        let json = serde_json::to_string(message).unwrap();
        assert_eq!(&serde_json::from_str::<Message>(&json).unwrap(), message, "{json}");
        let text = dialogue.words.text(message);
        assert!(!text.contains('['), "{text}");
    }
}

#[test]
fn repeat_says_the_last_line_as_it_was() {
    let mut dialogue = Dialogue::prepared();
    let line = dialogue.said(SOUND[0]);
    assert_eq!(dialogue.said("repeat"), line);
    let prompt = Prompt::AllRead;
    assert_eq!(dialogue.words.text(&Message::from(prompt)), "All read. Say finish for the conclusion.");
}

#[test]
fn a_gates_phrase_that_is_a_command_is_refused_when_the_session_is_built() {
    let text = profile::find("sweeper-valve-block").unwrap().text;
    let build = |confirm: &str| {
        let phrase = profile::parse("plain", &text).unwrap().gates[0].confirm.clone();
        let text = text.replace(&format!("confirm = \"{phrase}\""), &format!("confirm = \"{confirm}\""));
        let part = profile::parse("with a clash", &text).unwrap();
        let meter = profile::find_meter("handheld-6000").unwrap().value;
        Session::new(part, meter, Grammar::builtin("en").unwrap()).map(|_| ())
    };
    assert_eq!(build("wheels chocked"), Ok(()));
    let clash = build("next pin").unwrap_err();
    assert_eq!((clash.gate.as_str(), clash.phrase.as_str()), ("vehicle-secured", "next pin"));
    assert_eq!(build("over range").unwrap_err().phrase, "over range");
}

/// What a line tells somebody to say has to be understood.
#[test]
fn what_the_lines_tell_to_say_may_be_said() {
    let dialogue = Dialogue::prepared();
    let words = &dialogue.words;
    let listed = |text: String, before: &str| -> Vec<String> {
        let all = text.split_once(before).unwrap_or_else(|| panic!("{text}")).1.to_owned();
        all.trim_end_matches('.').split(", ").map(str::to_owned).collect()
    };
    let mut told = listed(words.text(&message::Help::Reading), "Also: ");
    told.iter_mut().filter(|phrase| *phrase == "change pin").for_each(|phrase| phrase.push_str(" four"));
    told.extend(["finish", "over range", "unstable"].map(str::to_owned));
    let paused = words.text(&message::Info::Paused);
    told.push(paused.split_once("Say ").unwrap().1.split_once(" to go on").unwrap().0.to_owned());
    assert!(told.len() > 10, "{told:?}");
    for phrase in told {
        dialogue.meaning(&phrase);
    }
}
