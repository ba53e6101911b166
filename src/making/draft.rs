//! Owns the profile that is being made, and its text in the short form.

use crate::profile::{self, Fault, Profile, ProfileError, slug};
use std::fmt::Write as _;

/// What a circuit is made of, with its figures.
#[derive(Debug, Clone, PartialEq)]
pub enum Made {
    /// A kind without figures, by its name in the file (`copper-coil`).
    Plain(&'static str),
    /// A platinum sensor with its ohms at 0 °C.
    Platinum(f64),
    /// A thermistor's table: degrees Celsius and ohms, temperatures rising.
    Points(Vec<(f64, f64)>),
    /// No ohmmeter may touch it, and why.
    Never(String),
    /// As another circuit, by its place in the draft.
    Like(usize),
}

/// A circuit of it.
#[derive(Debug, Clone, PartialEq)]
pub struct DraftCircuit {
    /// What a person calls it.
    pub name: String,
    /// The pin that is probed.
    pub pin: String,
    /// The pin that it is measured against, where that is not the common one.
    pub against: Option<String>,
    /// What it is made of.
    pub made: Made,
    /// What a sound one reads, as a window in short.
    pub window: Option<String>,
    /// The line of the table that it stands in, counted from 1.
    pub line: Option<u64>,
}

/// What is known so far.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Draft {
    /// What a person calls the part.
    pub title: String,
    /// Where the figures come from.
    pub source: String,
    /// Lines that stand at the top as comments.
    pub comments: Vec<String>,
    /// The pin that one probe stays on.
    pub common: Option<String>,
    /// Pins that no circuit has, with what they are for.
    pub further_pins: Vec<(String, Option<String>)>,
    /// Its circuits, in the order in which they are measured.
    pub circuits: Vec<DraftCircuit>,
    /// Checks worth doing afterwards.
    pub further_checks: Vec<String>,
}

impl Draft {
    /// The identifier that its title gives.
    #[must_use]
    pub fn id(&self) -> String {
        slug(&self.title)
    }

    /// Its text.
    #[must_use]
    pub fn text(&self) -> String {
        let mut out = String::new();
        for comment in &self.comments {
            line(&mut out, format_args!("# {comment}"));
        }
        line(&mut out, format_args!("version = {}", profile::VERSION));
        line(&mut out, format_args!("id = {}", quoted(&self.id())));
        line(&mut out, format_args!("title = {}", quoted(&self.title)));
        line(&mut out, format_args!("source = {}", quoted(&self.source)));
        if let Some(common) = &self.common {
            line(&mut out, format_args!("common = {}", quoted(common)));
        }
        if !self.further_checks.is_empty() {
            let checks: Vec<String> = self.further_checks.iter().map(|check| quoted(check)).collect();
            line(&mut out, format_args!("further_checks = [{}]", checks.join(", ")));
        }
        if !self.further_pins.is_empty() {
            line(&mut out, format_args!("\n[connector]\npins = ["));
            for (pin, label) in self.pins() {
                let label = label.map_or_else(String::new, |label| format!(", label = {}", quoted(&label)));
                line(&mut out, format_args!("    {{ pin = {}{label} }},", quoted(&pin)));
            }
            line(&mut out, format_args!("]"));
        }
        for circuit in &self.circuits {
            self.circuit(circuit, &mut out);
        }
        out
    }

    fn circuit(&self, circuit: &DraftCircuit, out: &mut String) {
        line(
            out,
            format_args!("\n[[circuit]]\nname = {}\npin = {}", quoted(&circuit.name), quoted(&circuit.pin)),
        );
        if let Some(against) = &circuit.against {
            line(out, format_args!("against = {}", quoted(against)));
        }
        match &circuit.made {
            Made::Plain(kind) => line(out, format_args!("kind = {}", quoted(kind))),
            Made::Platinum(r0) => {
                line(out, format_args!("kind = {{ name = \"platinum\", r0_ohm = {r0:?} }}"))
            }
            Made::Points(points) => {
                let points: Vec<String> =
                    points.iter().map(|(at, ohm)| format!("{{ at_c = {at:?}, ohm = {ohm:?} }}")).collect();
                let points = points.join(", ");
                line(out, format_args!("kind = {{ name = \"thermistor-table\", points = [{points}] }}"));
            }
            Made::Never(why) => line(out, format_args!("never_ohmmeter = {}", quoted(why))),
            Made::Like(other) => {
                let other = self.circuits.get(*other).map_or("", |other| other.name.as_str());
                line(out, format_args!("like = {}", quoted(other)));
            }
        }
        if let Some(window) = &circuit.window {
            line(out, format_args!("window = {}", quoted(window)));
        }
    }

    /// All pins, those of the circuits too, each once.
    fn pins(&self) -> Vec<(String, Option<String>)> {
        let mut all: Vec<(String, Option<String>)> = Vec::new();
        let own = self.circuits.iter().map(|circuit| (circuit.pin.clone(), Some(circuit.name.clone())));
        let others =
            self.circuits.iter().filter_map(|circuit| circuit.against.clone()).chain(self.common.clone());
        for (pin, label) in own.chain(self.further_pins.iter().cloned()).chain(others.map(|pin| (pin, None)))
        {
            match all.iter_mut().find(|(known, _)| *known == pin) {
                Some((_, known)) => *known = known.take().or(label),
                None => all.push((pin, label)),
            }
        }
        all
    }

    /// The profile that it gives, by the rules of every profile.
    ///
    /// # Errors
    /// The faults, each with the circuit that it is about (by its place in the draft) and the key, where it is about one.
    pub fn checked(&self) -> Result<Profile, Vec<(Fault, Option<usize>, String)>> {
        let text = self.text();
        let faults = match profile::parse(&self.id(), &text) {
            Ok(part) => return Ok(part),
            Err(ProfileError::Faulty(faults)) => faults.list().to_vec(),
            // The text is UTF-8 and read from memory: it can only be too large.
            Err(_) => Vec::new(),
        };
        let first_lines: Vec<usize> = text
            .lines()
            .enumerate()
            .filter(|(_, line)| *line == "[[circuit]]")
            .map(|(at, _)| at + 1)
            .collect();
        let place = |fault: &Fault| {
            let before = first_lines.iter().filter(|first| **first <= fault.line).count();
            before.checked_sub(1).filter(|_| fault.key.starts_with("circuit"))
        };
        let key = |fault: &Fault| {
            let inner = fault.key.split_once(']').map_or("", |(_, rest)| rest.trim_start_matches('.'));
            inner.split(['.', '[']).next().unwrap_or_default().to_owned()
        };
        Err(faults.into_iter().map(|fault| (fault.clone(), place(&fault), key(&fault))).collect())
    }
}

fn line(out: &mut String, text: std::fmt::Arguments<'_>) {
    let _ = writeln!(out, "{text}"); // a String takes everything
}

/// A text as TOML writes it.
fn quoted(text: &str) -> String {
    toml::Value::String(text.to_owned()).to_string()
}
