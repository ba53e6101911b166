//! What an earlier session read is said and changes nothing.

use super::*;
use crate::{
    quantity::{Reading, Shown},
    session::{LastSession, LastTime},
    verdict::Station,
};

fn with(last_time: LastTime) -> Dialogue {
    let mut dialogue = Dialogue::prepared();
    dialogue.session.last_time = Arc::new(last_time);
    dialogue
}

fn earlier(same_part: bool) -> LastTime {
    let shown = Reading::Value(Shown::ohms("5.412".parse().unwrap()));
    LastTime::Session(LastSession {
        day: jiff::civil::date(2026, 3, 9),
        same_part,
        readings: vec![
            ("coil-a".into(), Station::Case, Reading::OverRange { range: None }),
            ("coil-a".into(), Station::Component, shown),
            ("coil-c".into(), Station::Component, Reading::OverRange { range: None }),
        ],
    })
}

#[test]
fn what_the_last_session_read_is_said_with_its_day_and_changes_nothing() {
    let mut dialogue = with(earlier(true));
    let before = dialogue.state.clone();
    let said = dialogue.said("what was it last time");
    assert_eq!(said, "In another session, on 9 March 2026, coil A read 5.412 Ω at this part.");
    assert_eq!(dialogue.typed("l"), said);
    assert_eq!((&dialogue.state.taken, &dialogue.state.phase), (&before.taken, &before.phase));
    // The next circuit was not read then; the one after it was open.
    dialogue.said(SOUND[0]);
    let said = dialogue.said("last time");
    assert_eq!(said, "In the last session at this part, on 9 March 2026, coil B was not read here.");
    dialogue.said(SOUND[1]);
    assert!(dialogue.said("last time").contains("coil C read over range at this part"));
}

#[test]
fn a_part_that_may_be_another_is_said_to_be() {
    let said = with(earlier(false)).said("last time");
    assert!(
        said.ends_with("coil A read 5.412 Ω at a part of this kind, not known to be this one."),
        "{said}"
    );
}

#[test]
fn where_there_is_nothing_it_says_so() {
    assert_eq!(
        with(LastTime::NoHistory).said("last time"),
        "There is no history yet. It is made by the command history."
    );
    assert_eq!(
        with(LastTime::FirstTime).said("last time"),
        "The history has no earlier session of this part."
    );
    let said = with(LastTime::Trouble("file is not a database".to_owned())).said("last time");
    assert!(said.starts_with("The history cannot be used: file is not a database."), "{said}");
    // Before the first circuit there is nothing to ask about.
    let mut dialogue = Dialogue::new();
    dialogue.event(&Event::Opened(crate::session::Rules::NOW));
    dialogue.session.last_time = Arc::new(earlier(true));
    assert!(!dialogue.said("last time").contains("coil"));
}
