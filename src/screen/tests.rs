//! Tests of the full screen: sessions led by typed lines, drawn into memory and compared with the screens that were looked at.

use super::*;
use crate::{
    grammar::{Grammar, Utterance},
    keys, profile,
    session::{Action, Hearing, Opinion, Outcome, Rules},
    words::Words,
};
use jiff::{SignedDuration, Timestamp};
use ratatui::{Terminal, backend::TestBackend, buffer::Buffer, style::Color};
use std::sync::Arc;

/// A session with the picture of it.
struct Shown {
    session: Session,
    state: State,
    now: Timestamp,
    picture: Picture,
    words: Words,
}

impl Shown {
    fn of(part: &str) -> Self {
        let profile = profile::find(part).unwrap().value;
        let meter = profile::find_meter("handheld-60000").unwrap().value;
        let state = State::new(&profile);
        let grammar = Arc::new(Grammar::builtin("en").unwrap());
        let session = Session {
            profile: Arc::new(profile),
            meter: Arc::new(meter),
            grammar,
            last_time: Arc::default(),
        };
        let mut shown = Self {
            session,
            state,
            now: Timestamp::UNIX_EPOCH,
            picture: Picture::default(),
            words: Words::english(),
        };
        shown.event(&Event::Opened(Rules::NOW));
        shown
    }

    fn at_first_reading() -> Self {
        let mut shown = Self::of("sweeper-valve-block");
        for gate in 0..shown.session.profile.gates.len() {
            shown.type_in(&((gate % 9 + 1) * 11).to_string());
        }
        shown.type_in("18");
        shown.type_in("0.2");
        shown
    }

    fn event(&mut self, event: &Event) {
        self.now = self.now.checked_add(SignedDuration::from_secs(3)).unwrap();
        self.picture.came_in(event, &self.words);
        for action in self.session.step(&mut self.state, self.now, event) {
            if let Action::Say { message, kind } = action {
                self.picture.said(&self.words.text(&message), kind);
            }
        }
        self.picture.view = Some(View::of(&self.session, &self.state, &self.words));
    }

    fn type_in(&mut self, line: &str) {
        let utterance = keys::parse(line, &self.session.grammar, &self.session.context(&self.state));
        self.event(&Event::Keyed { text: line.into(), utterance });
    }

    fn hear(&mut self, words: &[&str], outcome: Outcome) {
        let opinion = |words: &&str| Opinion {
            by: "phrases".into(),
            words: (*words).into(),
            margin: None,
            support: None,
        };
        self.event(&Event::Heard(Hearing {
            clip: None,
            opinions: words.iter().map(opinion).collect(),
            outcome,
            words: None,
            doubt: None,
            continues: false,
            marked: false,
            length_ms: 900,
            level_dbfs: -20.0,
            room_dbfs: -60.0,
            latency_ms: 300,
        }));
    }

    fn meaning(&self, words: &str) -> Utterance {
        self.session.grammar.parse(words, &self.session.context(&self.state)).unwrap()
    }

    fn listens(mut self) -> Self {
        let levels = Levels { level_dbfs: -23.0, room_dbfs: -52.0, speech: true, dropped: 0 };
        self.picture.listening = Listening { ears: Ears::Open, levels: Some(levels) };
        self
    }

    fn buffer(&self, width: u16, height: u16, look: Look) -> Buffer {
        let mut terminal = Terminal::new(TestBackend::new(width, height)).unwrap();
        terminal.draw(|frame| draw(frame, &self.picture, look, &self.words)).unwrap();
        terminal.backend().buffer().clone()
    }

    fn text(&self, width: u16, height: u16) -> String {
        let buffer = self.buffer(width, height, Look { colour: true });
        let rows = buffer.area.rows().map(|row| {
            let cells = row.columns().map(|cell| buffer[(cell.x, cell.y)].symbol());
            cells.collect::<String>().trim_end().to_owned()
        });
        rows.collect::<Vec<_>>().join("\n")
    }
}

/// A session in the middle: two coils sound, one out, one heard unclearly.
fn in_the_middle() -> Shown {
    let mut shown = Shown::at_first_reading();
    shown.type_in("5.385");
    let understood = Outcome::Understood(shown.meaning("five point three nine"));
    shown.hear(&["five point three nine"], understood);
    shown.type_in("3.1");
    shown.picture.typing = "5.4".into();
    shown.listens()
}

macro_rules! screens {
    ($name:literal, $shown:expr) => {
        let shown = $shown;
        insta::assert_snapshot!(concat!($name, "-80x24"), shown.text(80, 24));
        insta::assert_snapshot!(concat!($name, "-120x40"), shown.text(120, 40));
    };
}

#[test]
fn before_measuring() {
    screens!("before-measuring", Shown::of("sweeper-valve-block"));
}

#[test]
fn at_the_first_reading() {
    screens!("first-reading", Shown::at_first_reading());
}

#[test]
fn in_the_middle_of_a_round() {
    screens!("in-the-middle", in_the_middle());
}

#[test]
fn a_question_is_open() {
    let mut shown = in_the_middle();
    let candidates = vec![shown.meaning("five point four"), shown.meaning("nine point four")];
    shown.hear(&["five point four", "nine point four"], Outcome::Doubtful(candidates));
    shown.picture.notice("The microphone is gone. Use the keys.");
    screens!("question", shown);
}

#[test]
fn what_was_heard_in_doubt_is_shown_once() {
    let mut shown = in_the_middle();
    let mut heard = |words: &[&str]| {
        let candidates = vec![shown.meaning("five point four")];
        shown.hear(words, Outcome::Doubtful(candidates));
        shown.picture.came_in.clone().unwrap().1
    };
    let table = [
        (
            ["five point four", "nine point four", "five"],
            "\"five point four\" or \"nine point four\", not sure",
        ),
        (
            ["five point four", "five point four", "nine point four"],
            "\"five point four\" or \"nine point four\", not sure",
        ),
        (["five point four", "", "five point four"], "\"five point four\", not sure"),
    ];
    for (words, told) in table {
        assert_eq!(heard(&words), told);
    }
}

#[test]
fn paused_and_with_another_connector() {
    let mut shown = in_the_middle();
    shown.type_in("p");
    insta::assert_snapshot!("paused-80x24", shown.text(80, 24));
    let other = Shown::of("sweeper-sensor-pack");
    insta::assert_snapshot!("other-connector-80x24", other.text(80, 24));
}

#[test]
fn small_terminals_show_what_matters_and_no_size_panics() {
    let shown = in_the_middle();
    insta::assert_snapshot!("small-40x12", shown.text(40, 12));
    for (width, height) in (0..100).step_by(3).flat_map(|width| (0..45).map(move |height| (width, height))) {
        shown.buffer(width, height, Look { colour: true });
    }
    for (width, height) in [(30, 8), (40, 12), (60, 16), (80, 24), (120, 40), (250, 70)] {
        assert!(shown.text(width, height).contains("> 5.4"), "what is typed is lost at {width}x{height}");
    }
}

#[test]
fn colour_never_carries_meaning_alone() {
    let shown = in_the_middle();
    let coloured = shown.buffer(80, 24, Look { colour: true });
    let plain = shown.buffer(80, 24, Look { colour: false });
    assert!(coloured.content.iter().any(|cell| cell.fg != Color::Reset));
    for (cell, with_colour) in plain.content.iter().zip(&coloured.content) {
        assert_eq!((cell.fg, cell.bg), (Color::Reset, Color::Reset));
        assert_eq!((cell.symbol(), cell.modifier), (with_colour.symbol(), with_colour.modifier));
    }
}

/// At the control unit's plug the pins of the part would lead astray: the word is large, the plug's pins are in the prompt.
#[test]
fn at_another_station_the_part_is_not_pointed_at() {
    let mut shown = Shown::of("sweeper-sensor-pack");
    shown.type_in("9901");
    shown.type_in("no");
    for gate in 0..shown.session.profile.gates.len() {
        shown.type_in(&((gate % 9 + 1) * 11).to_string());
    }
    for line in ["18", "0.2", "1.071k", "2.72k", "6.62k", "60.3", "0.5", "14.3", "1.071k", "y"] {
        shown.type_in(line);
    }
    for line in ["111", "222", "333", "444", "555", "666", "6.63k"] {
        shown.type_in(line);
    }
    let view = shown.picture.view.as_ref().unwrap();
    assert_eq!((view.word.as_str(), view.probe.is_none()), ("AT PLUG", true));
    assert!(view.pins.iter().all(|mark| !matches!(mark, PinMark::Here | PinMark::Against)));
    insta::assert_snapshot!("at-the-plug-80x24", shown.text(80, 24));
}

#[test]
fn a_connector_larger_than_the_screen_is_shown_around_the_pin() {
    let mut shown = Shown::at_first_reading();
    let mut large = (*shown.session.profile).clone();
    let pin = large.connector.pins[0].clone();
    large.connector.pins = (0..240_u8)
        .map(|number| crate::profile::Pin {
            name: format!("{}", number + 1).as_str().into(),
            row: number / 60 + 1,
            column: number % 60 + 1,
            ..pin.clone()
        })
        .collect();
    large.circuits[0].pin = "157".into();
    shown.session.profile = Arc::new(large);
    shown.picture.view = Some(View::of(&shown.session, &shown.state, &shown.words));
    let text = shown.text(80, 24);
    assert!(text.contains("[157]") && text.contains("third row from the top"), "{text}");
    assert!(text.lines().any(|line| line.starts_with('<') && line.contains('>')), "{text}");
}
