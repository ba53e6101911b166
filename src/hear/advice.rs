//! Owns what a sound check advises: from figures to what to change. The limits are judgement, tried with generated sound; the
//! floor of what is taken for speech is the gate's.

use super::gate::SILENCE_DBFS;
use serde::Serialize;

/// What a sound check found.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Found {
    /// Level of the quiet room, in decibels against full scale.
    pub room_dbfs: f32,
    /// Its loudest tenth of a second.
    pub room_loudest_dbfs: f32,
    /// Share of the room's power that is hum of the mains, 0 to 1.
    pub hum: f32,
    /// Level of the person's voice: the loudest tenth of a second of each number, the middle one of them.
    pub speech_dbfs: Option<f32>,
    /// How far that is above the room, in decibels.
    pub above_room_db: Option<f32>,
    /// The loudest tenth of a second while a number was waited for and nothing was heard.
    pub unheard_dbfs: Option<f32>,
    /// Share of samples cut at the limit while numbers were said, 0 to 1.
    pub clipped: f32,
    /// Samples lost on the way.
    pub lost: u64,
    /// Numbers that were to be said.
    pub given: usize,
    /// Of these, taken and right.
    pub right: usize,
    /// Heard, but not surely enough: a session would have asked.
    pub asked: usize,
    /// Taken and wrong.
    pub wrong: usize,
    /// Nothing was heard.
    pub unheard: usize,
}

/// What to change.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
#[serde(rename_all = "kebab-case", tag = "change")]
pub enum Advice {
    /// Another microphone, or the right one.
    OtherMicrophone {
        /// Nothing at all comes from this one.
        dead: bool,
    },
    /// The mouth nearer to the microphone.
    Closer,
    /// The microphone's level up in the system's settings.
    GainUp {
        /// By about so many decibels.
        db: f32,
    },
    /// The microphone's level down.
    GainDown {
        /// By about so many decibels.
        db: f32,
    },
    /// A headset with its microphone at the mouth.
    Headset,
    /// Let it listen only while the pedal or the talk key is pressed.
    PushToTalk,
    /// Get rid of the hum.
    Hum,
    /// Free the machine: sound is lost.
    FreeTheMachine,
}

/// Whether a session can begin.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Standing {
    /// A session hears well like this.
    Good,
    /// It works; the advice makes it better.
    Usable,
    /// Not like this.
    Unfit,
}

/// Voices are set to about here, the loudest tenth of a second: well below the limit, well above the floor.
const WANTED_DBFS: f32 = -25.0;
/// Quieter than this is too quiet: people drop their voice by more than what is left to the gate's floor of -60 dB.
const QUIET_DBFS: f32 = -40.0;
/// From so much above the room on, noise is no trouble; below the second, numbers are lost.
const CLEAR_DB: f32 = 20.0;
const POOR_DB: f32 = 12.0;
/// Share of clipped samples that cannot be heard away.
const CLIPPED: f32 = 0.001;
/// A room as loud as this leaves no room for a voice that was not heard.
const LOUD_DBFS: f32 = -45.0;
/// No sound at all: a muted or dead input.
const DEAD_DBFS: f32 = -85.0;
/// Hum that is most of what the room has, where the room can be heard at all.
const HUM: f32 = 0.5;
const HUM_DBFS: f32 = -65.0;
/// Lost samples that matter: a tenth of a second at the usual 48 kHz.
const LOST: u64 = 4800;

/// What to change, the most important first, and where that leaves the person.
#[must_use]
pub fn advise(found: &Found) -> (Standing, Vec<Advice>) {
    let mut advice: Vec<Advice> = Vec::new();
    let mut add = |more: &[Advice]| {
        more.iter().for_each(|a| {
            if !advice.contains(a) {
                advice.push(*a)
            }
        })
    };
    let nothing_heard = found.given > 0 && found.right + found.asked + found.wrong == 0;
    // Somebody spoke, though it was not taken for speech.
    let passed_over = found.unheard_dbfs.filter(|level| *level > found.room_loudest_dbfs + 6.0);
    let voice = found.speech_dbfs.or(passed_over);
    let above = voice.map(|voice| voice - found.room_dbfs);
    let loud_room = found.room_dbfs > LOUD_DBFS;
    if nothing_heard && found.unheard_dbfs.unwrap_or(SILENCE_DBFS).max(found.room_loudest_dbfs) <= DEAD_DBFS {
        add(&[Advice::OtherMicrophone { dead: true }]);
    } else if nothing_heard && loud_room {
        add(&[Advice::Headset, Advice::PushToTalk]);
    } else if nothing_heard && voice.is_none_or(|voice| voice >= QUIET_DBFS) {
        add(&[Advice::OtherMicrophone { dead: false }]);
    }
    if found.clipped > CLIPPED {
        add(&[Advice::GainDown { db: if found.clipped > 0.02 { 12.0 } else { 6.0 } }]);
    } else if let Some(voice) = voice.filter(|voice| *voice < QUIET_DBFS) {
        add(&[Advice::Closer, Advice::GainUp { db: up(voice) }]);
    }
    match above {
        Some(above) if above < POOR_DB => add(&[Advice::Headset, Advice::PushToTalk]),
        Some(above) if above < CLEAR_DB => add(&[Advice::Closer, Advice::Headset]),
        // Quiet on the whole, but with blows as loud as the voice.
        _ if voice.is_some_and(|voice| found.room_loudest_dbfs > voice - POOR_DB) => {
            add(&[Advice::PushToTalk]);
        }
        _ => {}
    }
    if found.hum > HUM && found.room_dbfs > HUM_DBFS {
        add(&[Advice::Hum]);
    }
    // One in ten asked again is no trouble, one taken wrongly is.
    let understood = found.wrong == 0 && found.right * 10 >= found.given * 8;
    if found.lost > LOST || (found.lost > 0 && !understood) {
        add(&[Advice::FreeTheMachine]);
    }
    if !understood && advice.is_empty() {
        advice.push(Advice::OtherMicrophone { dead: false });
    }
    let poor = above.is_some_and(|above| above < POOR_DB);
    let standing = match (understood && !poor, advice.is_empty()) {
        (false, _) => Standing::Unfit,
        (true, false) => Standing::Usable,
        (true, true) => Standing::Good,
    };
    (standing, advice)
}

/// By how much to turn up, in whole steps of 3 dB.
fn up(from_dbfs: f32) -> f32 {
    ((WANTED_DBFS - from_dbfs) / 3.0).round().max(1.0) * 3.0
}

impl std::fmt::Display for Advice {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match self {
            Self::OtherMicrophone { dead: true } => f.write_str(
                "No sound at all comes from this microphone: it is muted or the wrong one. Choose another with \
                 --microphone NAME (bothhands check devices lists them).",
            ),
            Self::OtherMicrophone { dead: false } => f.write_str(
                "You are not understood with this microphone. Try another with --microphone NAME (bothhands check \
                 devices lists them) or a headset, and say each number in one go.",
            ),
            Self::Closer => f.write_str("Closer: bring the microphone nearer to your mouth, a hand's width is good."),
            Self::GainUp { db } => write!(
                f,
                "Gain up: raise the microphone's level in the system's sound settings by about {db:.0} dB."
            ),
            Self::GainDown { db } => write!(
                f,
                "Gain down: your voice is cut off at the limit. Lower the microphone's level in the system's sound \
                 settings by about {db:.0} dB, or move it away a little."
            ),
            Self::Headset => {
                f.write_str("Headset: with its microphone at your mouth the noise is left behind (then --headset).")
            }
            Self::PushToTalk => f.write_str(
                "Push-to-talk: let it listen only while you press the talk key or the pedal (--talk push), or use the keys \
                 alone (--keys).",
            ),
            Self::Hum => f.write_str(
                "Hum: the mains are in the sound. Another cable, power supply or socket, or a headset with a battery.",
            ),
            Self::FreeTheMachine => {
                f.write_str("Sound was lost because the machine was too slow: close other programs.")
            }
        }
    }
}

impl Standing {
    /// The sentence above the advice.
    #[must_use]
    pub fn sentence(self) -> &'static str {
        match self {
            Self::Good => "A session hears you well here.",
            Self::Usable => "It works. Better still:",
            Self::Unfit => "Not like this. Change, and check again:",
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const GOOD: Found = Found {
        room_dbfs: -70.0,
        room_loudest_dbfs: -62.0,
        hum: 0.1,
        speech_dbfs: Some(-24.0),
        above_room_db: Some(46.0),
        unheard_dbfs: None,
        clipped: 0.0,
        lost: 0,
        given: 10,
        right: 10,
        asked: 0,
        wrong: 0,
        unheard: 0,
    };

    #[test]
    fn each_finding_has_its_advice() {
        use Advice::{Closer, FreeTheMachine, GainDown, GainUp, Headset, Hum, OtherMicrophone, PushToTalk};
        use Standing::{Good, Unfit, Usable};
        let none = Found { right: 0, unheard: 10, speech_dbfs: None, above_room_db: None, ..GOOD };
        let dead = Found { room_dbfs: -90.0, room_loudest_dbfs: -90.0, unheard_dbfs: Some(-90.0), ..none };
        let table = [
            ("good", GOOD, Good, vec![]),
            ("one is asked", Found { right: 9, asked: 1, ..GOOD }, Good, vec![]),
            (
                "quiet, all understood",
                Found { speech_dbfs: Some(-49.0), above_room_db: Some(26.0), room_dbfs: -75.0, ..GOOD },
                Usable,
                vec![Closer, GainUp { db: 24.0 }],
            ),
            (
                "below what is taken for speech",
                Found { unheard_dbfs: Some(-55.0), ..none },
                Unfit,
                vec![Closer, GainUp { db: 30.0 }, Headset],
            ),
            (
                "nothing heard for the noise",
                Found { room_dbfs: -27.0, room_loudest_dbfs: -24.0, unheard_dbfs: Some(-18.0), ..none },
                Unfit,
                vec![Headset, PushToTalk],
            ),
            (
                "nothing heard, and sound was lost",
                Found { unheard_dbfs: Some(-20.0), lost: 9600, ..none },
                Unfit,
                vec![OtherMicrophone { dead: false }, FreeTheMachine],
            ),
            ("muted", dead, Unfit, vec![OtherMicrophone { dead: true }]),
            (
                "nobody comes through",
                Found { unheard_dbfs: Some(-61.0), ..none },
                Unfit,
                vec![OtherMicrophone { dead: false }],
            ),
            ("overdriven", Found { clipped: 0.01, ..GOOD }, Usable, vec![GainDown { db: 6.0 }]),
            (
                "far overdriven and not understood",
                Found { clipped: 0.1, right: 3, asked: 7, ..GOOD },
                Unfit,
                vec![GainDown { db: 12.0 }],
            ),
            (
                "loud room",
                Found { room_dbfs: -32.0, room_loudest_dbfs: -29.0, above_room_db: Some(8.0), ..GOOD },
                Unfit,
                vec![Headset, PushToTalk],
            ),
            (
                "somewhat loud room",
                Found { room_dbfs: -40.0, room_loudest_dbfs: -37.0, above_room_db: Some(16.0), ..GOOD },
                Usable,
                vec![Closer, Headset],
            ),
            ("blows", Found { room_loudest_dbfs: -30.0, ..GOOD }, Usable, vec![PushToTalk]),
            (
                "hum",
                Found { room_dbfs: -50.0, above_room_db: Some(26.0), hum: 0.9, ..GOOD },
                Usable,
                vec![Hum],
            ),
            ("hum that cannot be heard", Found { hum: 0.9, ..GOOD }, Good, vec![]),
            ("a hiccup", Found { lost: 480, ..GOOD }, Good, vec![]),
            ("slow machine", Found { lost: 9600, ..GOOD }, Usable, vec![FreeTheMachine]),
            (
                "not understood where a little was lost",
                Found { right: 5, asked: 5, lost: 480, ..GOOD },
                Unfit,
                vec![FreeTheMachine],
            ),
            (
                "good levels, one wrong",
                Found { right: 9, wrong: 1, ..GOOD },
                Unfit,
                vec![OtherMicrophone { dead: false }],
            ),
            (
                "good levels, often asked",
                Found { right: 7, asked: 3, ..GOOD },
                Unfit,
                vec![OtherMicrophone { dead: false }],
            ),
        ];
        for (what, found, standing, advice) in table {
            assert_eq!(advise(&found), (standing, advice), "{what}");
        }
    }

    #[test]
    fn left_before_any_number_the_room_alone_is_judged() {
        let room = Found { given: 0, right: 0, speech_dbfs: None, above_room_db: None, ..GOOD };
        assert_eq!(advise(&room), (Standing::Good, vec![]));
        let hum = Found { hum: 0.9, room_dbfs: -45.0, ..room };
        assert_eq!(advise(&hum), (Standing::Usable, vec![Advice::Hum]));
    }

    #[test]
    fn every_advice_says_what_to_do() {
        for advice in [
            Advice::OtherMicrophone { dead: true },
            Advice::OtherMicrophone { dead: false },
            Advice::Closer,
            Advice::GainUp { db: 12.0 },
            Advice::GainDown { db: 6.0 },
            Advice::Headset,
            Advice::PushToTalk,
            Advice::Hum,
            Advice::FreeTheMachine,
        ] {
            let text = advice.to_string();
            assert!(text.len() > 40 && text.ends_with(['.', ')']), "{text}");
        }
    }
}
