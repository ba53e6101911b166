//! Owns what pedals and keypads mean: which switch stands for which line, checked before a session begins.

use super::{
    Editor, Input, SWITCH_TALK, TALK, parse,
    press::{Gesture, Presses, Timing, Wants},
};
use crate::grammar::{Context, Grammar};
use serde::Deserialize;
use std::{fmt, time::Duration};

/// A pedal as the settings describe it.
#[derive(Debug, Clone, PartialEq, Eq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct PedalSettings {
    /// Its name or a part of it, or the path of its device.
    pub device: String,
    /// Milliseconds after which a press is a long one.
    #[serde(default = "long_ms")]
    pub long_ms: u16,
    /// Milliseconds within which a second press makes a double one.
    #[serde(default = "double_ms")]
    pub double_ms: u16,
    /// Milliseconds that a contact may bounce.
    #[serde(default = "bounce_ms")]
    pub bounce_ms: u16,
    /// Its switches.
    #[serde(rename = "switch")]
    pub switches: Vec<SwitchSettings>,
}

// Common practice, no source, all three.
fn long_ms() -> u16 {
    600
}

fn double_ms() -> u16 {
    350
}

fn bounce_ms() -> u16 {
    25
}

/// One switch of a pedal.
#[derive(Debug, Clone, PartialEq, Eq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct SwitchSettings {
    /// The key that it sends, by its name in the kernel (`KEY_B`).
    pub key: String,
    /// What a short press stands for: a line as it is typed.
    pub short: Option<String>,
    /// What a double press stands for.
    pub double: Option<String>,
    /// What a long press stands for.
    pub long: Option<String>,
    /// What it does while held: `talk` is all there is.
    pub hold: Option<Hold>,
}

impl PedalSettings {
    /// A line a press, for the card.
    #[must_use]
    pub fn card(&self) -> String {
        let mut text = String::new();
        for switch in &self.switches {
            let presses = [("short", &switch.short), ("double", &switch.double), ("long", &switch.long)];
            let presses = presses.iter().filter_map(|(how, line)| Some((*how, line.as_deref()?)));
            for (how, line) in presses.chain(switch.hold.map(|Hold::Talk| ("held", "talk"))) {
                text.push_str(&format!("  {:<12}{how:<8}{line}\n", switch.key));
            }
        }
        text
    }
}

/// In one line: the device and what its switches stand for.
impl fmt::Display for PedalSettings {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.device)?;
        for switch in &self.switches {
            write!(f, "; {}", switch.key)?;
            let lines = [("", &switch.short), ("double ", &switch.double), ("long ", &switch.long)];
            let lines = lines.iter().filter_map(|(how, line)| Some((*how, line.as_deref()?)));
            for (how, line) in lines.chain(switch.hold.map(|Hold::Talk| ("held ", "talk"))) {
                write!(f, " {how}\"{line}\"")?;
            }
        }
        Ok(())
    }
}

/// What a switch does while it is held.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Hold {
    /// It opens the microphone.
    Talk,
}

/// A keypad as the settings describe it.
#[derive(Debug, Clone, PartialEq, Eq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct KeypadSettings {
    /// Its name or a part of it, or the path of its device.
    pub device: String,
}

/// A key that went down or up, or repeats itself.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct KeyEvent {
    /// The kernel's number of the key.
    pub code: u16,
    /// 0 up, 1 down, 2 repeated.
    pub value: i32,
}

/// What a device's keys are taken for.
#[derive(Debug)]
pub enum Role {
    /// Switches, each with its lines.
    Pedal(Pedal),
    /// A numeric keypad to type with.
    Keypad(Editor),
}

/// A pedal that was checked.
#[derive(Debug)]
pub struct Pedal {
    switches: Vec<(u16, SwitchSettings)>,
    presses: Presses,
}

impl Pedal {
    /// Checks what the settings say. `code` knows the kernel's number of a key.
    ///
    /// # Errors
    /// In words, which switch is wrong.
    pub fn new(
        settings: &PedalSettings,
        grammar: &Grammar,
        code: impl Fn(&str) -> Option<u16>,
    ) -> Result<Self, String> {
        if !(1..=3).contains(&settings.switches.len()) {
            return Err("a pedal has one, two or three switches".into());
        }
        for (what, value, range) in [
            ("long_ms", settings.long_ms, 200..=5000),
            ("double_ms", settings.double_ms, 100..=1000),
            ("bounce_ms", settings.bounce_ms, 0..=100),
        ] {
            if !range.contains(&value) {
                return Err(format!("{what} is {value}: not between {} and {}", range.start(), range.end()));
            }
        }
        let mut switches: Vec<(u16, SwitchSettings)> = Vec::new();
        for switch in &settings.switches {
            let key = &switch.key;
            let code = code(key).ok_or_else(|| format!("there is no key {key}; names are such as KEY_B"))?;
            if switches.iter().any(|(known, _)| *known == code) {
                return Err(format!("two switches have the key {key}"));
            }
            let lines: Vec<&String> =
                [&switch.short, &switch.double, &switch.long].into_iter().flatten().collect();
            match (lines.is_empty(), switch.hold) {
                (true, None) => return Err(format!("the switch {key} stands for nothing")),
                (false, Some(_)) => {
                    return Err(format!(
                        "the switch {key} is held to talk: its presses cannot stand for lines too"
                    ));
                }
                _ => {}
            }
            for line in lines {
                if ![TALK, SWITCH_TALK].contains(&line.as_str())
                    && parse(line, grammar, &Context::default()).is_none()
                {
                    return Err(format!("\"{line}\" of the switch {key} may neither be said nor typed"));
                }
            }
            switches.push((code, switch.clone()));
        }
        let ms = |ms: u16| Duration::from_millis(u64::from(ms));
        let timing = Timing {
            bounce: ms(settings.bounce_ms),
            long: ms(settings.long_ms),
            double: ms(settings.double_ms),
        };
        let wants = |(_, switch): &(u16, SwitchSettings)| Wants {
            long: switch.long.is_some(),
            double: switch.double.is_some(),
            hold: switch.hold.is_some(),
        };
        let wants: Vec<Wants> = switches.iter().map(wants).collect();
        Ok(Self { presses: Presses::new(timing, &wants), switches })
    }

    fn inputs(&self, gestures: Vec<(usize, Gesture)>) -> Vec<Input> {
        let input = |(place, gesture): (usize, Gesture)| {
            let switch = &self.switches[place].1;
            let line = match gesture {
                Gesture::Down => return Some(Input::Talk(true)),
                Gesture::Up => return Some(Input::Talk(false)),
                Gesture::Short => &switch.short,
                Gesture::Double => &switch.double,
                Gesture::Long => &switch.long,
            };
            line.clone().map(Input::Line)
        };
        gestures.into_iter().filter_map(input).collect()
    }
}

impl Role {
    /// A key of the device, and when.
    pub fn key(&mut self, event: KeyEvent, at: Duration) -> Vec<Input> {
        match self {
            Self::Pedal(pedal) => {
                let Some(place) = pedal.switches.iter().position(|(code, _)| *code == event.code) else {
                    return Vec::new();
                };
                let gestures = match event.value {
                    0 | 1 => pedal.presses.edge(place, event.value == 1, at),
                    _ => Vec::new(),
                };
                pedal.inputs(gestures)
            }
            Self::Keypad(editor) => match letter(event.code) {
                Some(letter) if event.value != 0 => {
                    let before = editor.text().to_owned();
                    let mut inputs = editor.take(&[letter]);
                    if editor.text() != before {
                        inputs.push(Input::Typing(editor.text().to_owned()));
                    }
                    inputs
                }
                _ => Vec::new(),
            },
        }
    }

    /// Time passes.
    pub fn pass(&mut self, at: Duration) -> Vec<Input> {
        match self {
            Self::Pedal(pedal) => {
                let gestures = pedal.presses.pass(at);
                pedal.inputs(gestures)
            }
            Self::Keypad(_) => Vec::new(),
        }
    }

    /// When [`Role::pass`] has something to do.
    #[must_use]
    pub fn due(&self) -> Option<Duration> {
        match self {
            Self::Pedal(pedal) => pedal.presses.due(),
            Self::Keypad(_) => None,
        }
    }

    /// The device is gone.
    pub fn let_go(&mut self) -> Vec<Input> {
        match self {
            Self::Pedal(pedal) => {
                let gestures = pedal.presses.let_go();
                pedal.inputs(gestures)
            }
            Self::Keypad(_) => Vec::new(),
        }
    }

    /// What it is called.
    #[must_use]
    pub fn name(&self) -> &'static str {
        match self {
            Self::Pedal(_) => "pedal",
            Self::Keypad(_) => "keypad",
        }
    }
}

/// The byte that a keypad's key types, by the kernel's numbers (linux/input-event-codes.h).
fn letter(code: u16) -> Option<u8> {
    Some(match code {
        // The row of digits, then the pad.
        2..=10 => b'1' + u8::try_from(code - 2).ok()?,
        11 | 82 => b'0',
        71..=73 => b'7' + u8::try_from(code - 71).ok()?,
        75..=77 => b'4' + u8::try_from(code - 75).ok()?,
        79..=81 => b'1' + u8::try_from(code - 79).ok()?,
        52 | 83 => b'.',
        51 | 121 => b',',
        55 => b'*',
        12 | 74 => b'-',
        78 => b'+',
        53 | 98 => b'/',
        28 | 96 => b'\r',
        14 => 0x7f,
        15 => b'\t',
        1 => 0x1b,
        _ => return None,
    })
}
