//! Owns typed input: a line from keyboard or keypad to the same [`Utterance`] that speech gives.
//!
//! A number is typed as shown (`5.2`, `4.72k`), a command as one sign ([`SIGNS`]) or in the words that may be said.
//! Enter alone means yes. `w 1.9` takes back and replaces, `c 4 5.2` changes the reading at pin 4.

#[cfg(all(feature = "pedal", target_os = "linux"))]
mod access;
#[cfg(all(feature = "pedal", target_os = "linux"))]
mod device;
mod editor;
mod follow;
mod pedal;
#[cfg(unix)]
mod pipe;
pub mod press;
#[cfg(test)]
mod tests;

#[cfg(all(feature = "pedal", target_os = "linux"))]
pub use access::rule as access_rule;
#[cfg(all(feature = "pedal", target_os = "linux"))]
pub use device::{Wanted, code as key_code, key_name, names as device_names};
pub use editor::Editor;
pub use follow::{KeySource, KeyStream, follow};
pub use pedal::{Hold, KeyEvent, KeypadSettings, Pedal, PedalSettings, Role, SwitchSettings};
#[cfg(unix)]
pub use pipe::{PIPE, Pipe};

use crate::{
    grammar::{Command, Context, Form, Grammar, Spoken, SpokenNumber, Utterance},
    profile::PinName,
    quantity::{
        Decimal, Prefix, Unit,
        notation::{self, Measure},
    },
};

/// What comes from keys and pedals.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Input {
    /// A line was typed, or a key or pedal stands for one.
    Line(String),
    /// A pedal that is held to talk went down (`true`) or up.
    Talk(bool),
    /// What is being typed on a keypad, to be shown.
    Typing(String),
    /// Something about a pedal or keypad.
    Notice(String),
    /// The terminal or the pipe is gone: nothing more will be typed.
    Ended,
}

/// Typed, it opens the microphone for one thing said, where it only listens while pressed.
pub const TALK: &str = "t";
/// Typed, it changes between an open microphone and one that listens while pressed.
pub const SWITCH_TALK: &str = "m";

/// A sign and what it means.
pub struct Sign {
    /// What is typed, before Enter.
    pub signs: &'static [&'static str],
    /// What it means, for the card.
    pub meaning: &'static str,
    utterance: fn() -> Utterance,
}

/// The signs. The first of each is on a numeric keypad where there is one for it.
pub const SIGNS: [Sign; 18] = [
    Sign { signs: &["*", "o"], meaning: "over range", utterance: || Utterance::Reading(Spoken::OverRange) },
    Sign { signs: &["**", "u"], meaning: "unstable", utterance: || Utterance::Reading(Spoken::Unstable) },
    Sign {
        signs: &["-", "w"],
        meaning: "wrong: take the last back",
        utterance: || command(Command::Wrong(None)),
    },
    Sign { signs: &["/", "r"], meaning: "repeat the last line", utterance: || command(Command::Repeat) },
    Sign { signs: &["", "y"], meaning: "yes", utterance: || command(Command::Yes) },
    Sign { signs: &["--", "no"], meaning: "no", utterance: || command(Command::No) },
    Sign { signs: &["+", "n"], meaning: "next", utterance: || command(Command::Next) },
    Sign { signs: &["//", "b"], meaning: "back by one", utterance: || command(Command::Back(1)) },
    Sign { signs: &["++", "s"], meaning: "skip: leave this one out", utterance: || command(Command::Skip) },
    Sign {
        signs: &[".", ",", "d"],
        meaning: "take what the meter on the line shows",
        utterance: || command(Command::TakeIt),
    },
    Sign { signs: &["f"], meaning: "finish and conclude", utterance: || command(Command::Finish) },
    Sign { signs: &["p"], meaning: "pause", utterance: || command(Command::Pause) },
    Sign { signs: &["g"], meaning: "go on", utterance: || command(Command::Resume) },
    Sign { signs: &["i"], meaning: "where are we", utterance: || command(Command::Status) },
    Sign { signs: &["?", "h"], meaning: "what may be said now", utterance: || command(Command::Help) },
    Sign { signs: &["why"], meaning: "why that verdict", utterance: || command(Command::Why) },
    Sign { signs: &["l"], meaning: "what it was last time", utterance: || command(Command::LastTime) },
    Sign { signs: &["q"], meaning: "stop, to go on another time", utterance: || command(Command::Stop) },
];

fn command(command: Command) -> Utterance {
    Utterance::Command(command)
}

/// What a typed line means; none where it means nothing.
#[must_use]
pub fn parse(line: &str, grammar: &Grammar, context: &Context) -> Option<Utterance> {
    if let Some(naming) = naming(line, context) {
        return Some(naming);
    }
    // Capital and small letters tell a million from a thousandth, so this looks at the line as typed.
    let written = notation(line.trim());
    let line = line.trim().to_lowercase();
    if let Some(sign) = SIGNS.iter().find(|sign| sign.signs.contains(&line.as_str())) {
        return Some((sign.utterance)());
    }
    if let Some(change) = change_on_keypad(&line, context) {
        return Some(change);
    }
    if let Some(Spoken::OverRange) = reading(&line) {
        return Some(Utterance::Reading(Spoken::OverRange));
    }
    if let Some(number) = number(&line) {
        return Some(Utterance::Reading(Spoken::Number(number)));
    }
    if let Some(number) = written {
        return Some(Utterance::Reading(Spoken::Number(number)));
    }
    let mut parts = line.split_whitespace();
    match (parts.next(), parts.next(), parts.next(), parts.next()) {
        // The number and its unit apart.
        (Some(value), Some(unit), None, None)
            if number(value).is_some() && number(&format!("{value}{unit}")).is_some() =>
        {
            reading(&format!("{value}{unit}")).map(Utterance::Reading)
        }
        (Some("w"), Some(value), None, None) => Some(command(Command::Wrong(Some(reading(value)?)))),
        (Some("c"), Some(pin), value, None) => {
            let known = || context.pins.iter().chain(context.circuits.iter().map(|(_, pin)| pin));
            // A pin that is not there is told as that by the session.
            let pin = known()
                .find(|known| known.as_str().eq_ignore_ascii_case(pin))
                .cloned()
                .or_else(|| looks_like_a_pin(pin).then(|| PinName::from(pin.to_uppercase().as_str())))?;
            let reading = value.map_or(Some(None), |value| reading(value).map(Some))?;
            Some(command(Command::Change { pin, reading }))
        }
        _ => grammar.parse(&line, context),
    }
}

/// One to four letters and digits, with a digit among them ("c on" is no change).
fn looks_like_a_pin(text: &str) -> bool {
    text.len() <= 4
        && text.chars().all(|sign| sign.is_ascii_alphanumeric())
        && text.chars().any(|sign| sign.is_ascii_digit())
}

/// A name for what is at a pin: `4 = heater`.
fn naming(line: &str, context: &Context) -> Option<Utterance> {
    let (pin, name) = line.split_once('=')?;
    let (pin, name) = (pin.trim(), name.trim());
    let known = || context.pins.iter().chain(context.circuits.iter().map(|(_, pin)| pin));
    let pin = known().find(|known| known.as_str().eq_ignore_ascii_case(pin))?;
    (!name.is_empty()).then(|| Utterance::Naming { pin: PinName::clone(pin), name: name.to_owned() })
}

/// A change as a numeric keypad can type it: `/4/5.2`, or `/4/` to read the pin again. A pin with letters goes by its digits, where
/// no other pin has the same.
fn change_on_keypad(line: &str, context: &Context) -> Option<Utterance> {
    let (pin, value) = line.strip_prefix('/')?.split_once('/')?;
    let digits = |name: &str| name.chars().filter(char::is_ascii_digit).collect::<String>();
    let exactly = context.pins.iter().find(|known| known.as_str().eq_ignore_ascii_case(pin));
    let mut alike = context.pins.iter().filter(|known| !pin.is_empty() && digits(known.as_str()) == pin);
    let pin = match (exactly, alike.next(), alike.next()) {
        (Some(pin), ..) | (None, Some(pin), None) => PinName::clone(pin),
        _ => return None,
    };
    let reading = if value.is_empty() { None } else { Some(reading(value)?) };
    Some(command(Command::Change { pin, reading }))
}

/// A reading as typed: a number or the sign of over range or unstable, or what the display shows when it is over range.
fn reading(text: &str) -> Option<Spoken> {
    match text {
        "*" | "o" | "ol" | "o.l" | "0l" | "0.l" | ".ol" => Some(Spoken::OverRange),
        "**" | "u" => Some(Spoken::Unstable),
        _ => number(text).map(Spoken::Number),
    }
}

/// A number as typed, with an optional prefix and unit: `5.2`, `5,2`, `4.72k`, `1.2meg`, `5.2ohm`, `4.72kΩ`. A lone `m` would be
/// milli to one and mega to another: it is not taken.
fn number(text: &str) -> Option<SpokenNumber> {
    let units =
        [("ohms", Unit::Ohm), ("ohm", Unit::Ohm), ("Ω", Unit::Ohm), ("ω", Unit::Ohm), ("v", Unit::Volt)];
    let unit = units.into_iter().find_map(|(name, unit)| Some((text.strip_suffix(name)?, unit)));
    let (text, unit) = unit.map_or((text, None), |(text, unit)| (text.trim_end(), Some(unit)));
    let prefixes = [("meg", Prefix::Mega), ("k", Prefix::Kilo)];
    let with = |(suffix, prefix)| text.strip_suffix(suffix).map(|digits| (digits, Some(prefix)));
    let (digits, prefix) = prefixes.into_iter().find_map(with).unwrap_or((text, None));
    // A keypad of another country types a comma.
    let number: Decimal = digits.trim_end().replacen(',', ".", 1).parse().ok()?;
    Some(SpokenNumber { number, prefix, unit, form: Form::Pointed })
}

/// A number in the other ways that it is written: `4k7`, `4R7`, `1M5`, `20 °C`, and degrees Fahrenheit, which become Celsius.
fn notation(line: &str) -> Option<SpokenNumber> {
    let written = notation::read(line)?;
    let unit = match written.measure {
        Some(Measure::Fahrenheit) => {
            let tenths = (notation::celsius(written.value()) * 10.0).round();
            let digits = tenths.abs() as u64; // a few digits: the line is short and the number has at most twelve
            let number = Decimal::new(tenths < 0.0, digits, 1).ok()?;
            return Some(SpokenNumber {
                number,
                prefix: None,
                unit: Some(Unit::Celsius),
                form: Form::Pointed,
            });
        }
        Some(Measure::Unit(unit @ (Unit::Ohm | Unit::Volt | Unit::Celsius))) => Some(unit),
        Some(Measure::Percent | Measure::Unit(Unit::Ampere)) => return None,
        // What has neither is a plain number; `5m` would be milli to one and mega to another.
        None if written.prefix.is_none() || written.prefix == Some(Prefix::Milli) => return None,
        None => None,
    };
    // `4R7` is said without a prefix.
    let prefix = written.prefix.filter(|prefix| *prefix != Prefix::One);
    Some(SpokenNumber { number: written.number, prefix, unit, form: Form::Pointed })
}

/// The numeric keypad as it lies on the bench, for the card. Enter ends what was typed; alone it says yes.
pub const KEYPAD: &str = "\
Numeric keypad
  +---------+---------+---------+---------+
  | Num     | /       | *       | -       |
  |         | repeat  | over    | wrong:  |
  |         | // back | range   | take    |
  |         |         | ** un-  | back    |
  |         |         | stable  | -- no   |
  +---------+---------+---------+---------+
  | 7         8         9       | +       |
  | 4         5         6       | next    |
  |   the number as it stands   | ++ skip |
  +                             +---------+
  | 1         2         3       | Enter   |
  | 0                   . or ,  | takes   |
  |                     point   | it; yes |
  +-----------------------------+---------+
  11, 22, 33 ... confirm a step of making safe: the number beside its phrase.
";

/// The signs as lines for the card.
#[must_use]
pub fn card() -> String {
    let mut text = String::from("Typed, then Enter:\n  5.2   4.72k   the reading as shown\n");
    for sign in &SIGNS {
        let signs: Vec<&str> =
            sign.signs.iter().map(|sign| if sign.is_empty() { "(Enter)" } else { sign }).collect();
        text.push_str(&format!("  {:<14}{}\n", signs.join("  "), sign.meaning));
    }
    text.push_str(
        "  t (or Tab)    talk: opens the microphone once, where it listens on being pressed\n  \
         m             microphone always open, or on being pressed\n  \
         w 1.9         wrong, and the right value\n  c 4 5.2       change the reading at pin 4\n  \
         /4/5.2        the same on a numeric keypad\n  \
         4 = heater    call what is at pin 4 so from now on\n",
    );
    text
}
