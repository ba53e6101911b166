//! Owns the words and number forms that all reports share, so that page, table and terminal never differ.

use super::{
    Record, Taken, Withdrawal,
    amounts::signed,
    mark::{Mark, mark},
    said::{Name, Sentence, Share, ToDo},
};
use crate::{
    profile::{Circuit, CircuitId, Profile},
    quantity::{Interval, Reading},
    verdict::{Advice, Contact, Finding, Observed, Station},
    words::Words,
};
use jiff::{Timestamp, ZonedDateTime};
use serde::Serialize;

/// The words of the reader's language, as reports need them.
#[derive(Debug, Clone, Copy)]
pub(super) struct Wording<'a> {
    words: &'a Words,
}

/// Text of people and files made harmless for showing in one line: what moves cursors or turns the direction of
/// writing around becomes a visible replacement sign, line ends become blanks.
pub(super) fn plain(text: &str) -> String {
    let shown = |c: char| match c {
        '\n' | '\r' | '\t' => ' ',
        '\u{202a}'..='\u{202e}' | '\u{2066}'..='\u{2069}' | '\u{200e}' | '\u{200f}' => '\u{fffd}',
        c if c.is_control() => '\u{fffd}',
        c => c,
    };
    text.trim().chars().map(shown).collect()
}

/// Name of a circuit for people; its name in files where the profile does not have it.
pub(super) fn circuit_name(profile: &Profile, id: &CircuitId) -> String {
    plain(profile.circuit(id).map_or(id.as_str(), |circuit| circuit.name.as_str()))
}

/// With no-break spaces, so that a value is not parted from its unit.
pub(super) fn unbroken(text: &str) -> String {
    text.replace(' ', "\u{a0}")
}

/// Whether the figures are worth a line under the verdict: not where everything is as it should be.
pub(super) fn figures_matter(finding: &Finding) -> bool {
    mark(finding.class) >= Mark::Doubtful || finding.details.cleaning_changed_it
}

impl<'a> Wording<'a> {
    pub(super) fn new(words: &'a Words) -> Self {
        Self { words }
    }

    /// The language's tag.
    pub(super) fn language(self) -> &'a str {
        self.words.language()
    }

    pub(super) fn say<T: Serialize + ?Sized>(self, value: &T) -> String {
        self.words.text(value)
    }

    /// A number with a point as the language writes it.
    pub(super) fn marked(self, number: &str) -> String {
        self.words.marked(number)
    }

    /// `3 / 16`, or `3 / case`; through the harness what is probed in the control unit's plug, where that is known.
    pub(super) fn pins(self, circuit: Option<&Circuit>, station: Station) -> String {
        let Some(circuit) = circuit else { return "?".to_owned() };
        plain(&match (station, &circuit.at_control) {
            (Station::Case, _) => self.say(&Sentence::ToCase { pin: circuit.pin.to_string() }),
            (Station::Harness, Some(plug)) => {
                self.say(&Sentence::AtPlug { pin: plug.pin.to_string(), against: plug.against.to_string() })
            }
            _ => format!("{} / {}", circuit.pin, circuit.against),
        })
    }

    /// What the meter showed; each number stays together with its unit.
    pub(super) fn reading(self, reading: &Reading) -> String {
        match reading {
            Reading::Value(shown) => unbroken(&self.say(shown)),
            Reading::Unstable { low: Some(low), high: Some(high) } => self
                .say(&Sentence::Unstable { low: unbroken(&self.say(low)), high: unbroken(&self.say(high)) }),
            other => self.say(&Sentence::Reading(*other)),
        }
    }

    /// What became of a withdrawn reading.
    pub(super) fn withdrawal(self, record: &Record, withdrawal: &Withdrawal) -> String {
        self.say(&Sentence::Withdrawn {
            at: self.clock(record, withdrawal.at),
            by: withdrawal.correction,
            way: withdrawal.intake.way,
            replaced_by: withdrawal.replaced_by,
        })
    }

    /// Everything about a reading besides its value: contact, remarks.
    pub(super) fn particulars(self, taken: &Taken) -> Vec<String> {
        let contact = match taken.contact {
            Contact::Usual => None,
            Contact::Cleaned => Some(Sentence::Cleaned),
            Contact::Wiggled => Some(Sentence::Wiggled),
        };
        let contact = contact.map(|told| self.say(&told));
        contact.into_iter().chain(taken.remarks.iter().map(|remark| plain(&self.say(remark)))).collect()
    }

    /// `readings 3 and 12`; empty for none.
    pub(super) fn numbers(self, ids: &[u32]) -> String {
        if ids.is_empty() { String::new() } else { self.say(&Sentence::RestsOn { readings: ids.to_vec() }) }
    }

    fn day(self, at: &ZonedDateTime) -> String {
        let part = |form: &str| at.strftime(form).to_string();
        self.say(&Sentence::Day { year: part("%Y"), month: part("%m"), day: part("%d") })
    }

    fn day_and_time(self, at: &ZonedDateTime, form: &str) -> String {
        self.say(&Sentence::DayAndTime { day: self.day(at), time: at.strftime(form).to_string() })
    }

    /// Time of day; with the date where the session lasted over midnight.
    pub(super) fn clock(self, record: &Record, at: Timestamp) -> String {
        let there = |at: Timestamp| at.to_zoned_datetime(record.zone.clone());
        if there(record.begun).date() == there(record.ended).date() {
            return there(at).strftime("%H:%M:%S").to_string();
        }
        self.day_and_time(&there(at), "%H:%M:%S")
    }

    /// `2026-11-25 18:12 to 18:31 (UTC+01:00)`.
    pub(super) fn period(self, record: &Record) -> String {
        let begun = record.begun.to_zoned_datetime(record.zone.clone());
        let ended = record.ended.to_zoned_datetime(record.zone.clone());
        let zone = match begun.offset().seconds() {
            0 => "UTC".to_owned(),
            _ => begun.strftime("UTC%:z").to_string(),
        };
        let to = match begun.date() == ended.date() {
            true => ended.strftime("%H:%M").to_string(),
            false => self.day_and_time(&ended, "%H:%M"),
        };
        self.say(&Sentence::Period { from: self.day_and_time(&begun, "%H:%M"), to, zone })
    }

    /// Who and what the job is about, as far as it was said.
    pub(super) fn job(self, record: &Record) -> Vec<(Name, String)> {
        let details = &record.details;
        let all = [
            (Name::Technician, details.technician.clone()),
            (Name::Customer, details.customer.clone()),
            (Name::Vehicle, details.vehicle.clone()),
            (Name::Order, details.order.clone()),
            (Name::PartSerial, details.part_serial.clone()),
            (Name::MeterSerial, details.meter_serial.clone()),
            (Name::MeterCalibrated, details.meter_calibrated.map(|day| day.to_string())),
        ];
        all.into_iter().filter_map(|(name, value)| Some((name, plain(&value?)))).collect()
    }

    /// The figures behind a verdict, one text each, for those who want them.
    pub(super) fn figures(self, finding: &Finding) -> Vec<String> {
        let details = &finding.details;
        let mut told = Vec::new();
        if let Some(share) = finding.conforming {
            let between = details.conforming_between.map(|span| (Share::of(span.low), Share::of(span.high)));
            let (least, most) = between.filter(|(least, most)| least != most).unzip();
            told.push(Sentence::Conforms { share: Share::of(share), least, most });
        }
        if let Some(score) = finding.peer_score {
            told.push(Sentence::PeerScore {
                score: self.marked(&signed(score, 1)),
                limit: details.peer_limit.map(|limit| self.marked(&signed(limit, 1))),
                expected: details.peers_expect.map(|value| self.ohms(value.get())),
            });
        }
        if let Some(temperature) = details.temperature {
            told.push(Sentence::Means { temperature: self.celsius_span(Interval::exactly(temperature)) });
        }
        if let Some(score) = details.learned_score {
            told.push(Sentence::LearnedScore { score: self.marked(&signed(score, 1)) });
        }
        if details.cleaning_changed_it {
            told.push(Sentence::CleaningChangedIt);
        }
        told.iter().map(|told| self.say(told)).collect()
    }

    /// How an observation stands; empty where it is not judged.
    pub(super) fn stands(self, observed: &Observed) -> String {
        use crate::verdict::About::{Load, VoltageDrop};
        match (observed.sound, observed.about) {
            (Some(_), _) | (None, Load | VoltageDrop) => self.say(&Sentence::InOrder(observed.sound)),
            (None, _) => String::new(),
        }
    }

    /// How many circuits are sound, and which are not, in one sentence.
    pub(super) fn outcome(self, record: &Record) -> String {
        let worst = |circuit: &Circuit| {
            super::mark::worst(&record.judgement, &circuit.id).map_or(Mark::Open, |found| mark(found.class))
        };
        let circuits = &record.profile.circuits;
        let named = |wanted: Mark| -> Vec<String> {
            let those = circuits.iter().filter(|circuit| worst(circuit) == wanted);
            those.map(|circuit| plain(&circuit.name)).collect()
        };
        let count = |wanted: &[Mark]| {
            let those = circuits.iter().filter(|circuit| wanted.contains(&worst(circuit)));
            u32::try_from(those.count()).unwrap_or(u32::MAX)
        };
        self.say(&Sentence::Outcome {
            sound: count(&[Mark::Sound]),
            circuits: u32::try_from(circuits.len()).unwrap_or(u32::MAX),
            off: named(Mark::Suspect),
            doubtful: named(Mark::Doubtful),
            not_taken: count(&[Mark::Open, Mark::Noted]),
        })
    }

    /// What to do, and what it costs if that is wrong; none where nothing is to be done.
    pub(super) fn what_to_do(self, record: &Record) -> Option<String> {
        let conclusion = &record.judgement.conclusion;
        let names = |ids: &[CircuitId]| ids.iter().map(|id| circuit_name(&record.profile, id)).collect();
        let what = match &conclusion.advice {
            Advice::RepairTerminal { circuits } => ToDo::RepairTerminal(names(circuits)),
            Advice::RepairWire { circuits } => ToDo::RepairWire(names(circuits)),
            Advice::ReplacePart { circuits } => ToDo::ReplacePart(names(circuits)),
            Advice::LookAtControlSide { circuits } => ToDo::LookAtControlSide(names(circuits)),
            Advice::MeasureAgain { circuits } => ToDo::MeasureAgain(names(circuits)),
            Advice::Nothing => return None,
        };
        Some(self.say(&Sentence::WhatToDo { what, if_wrong: conclusion.if_wrong }))
    }

    /// What was observed beyond the readings of circuits: number (none for what was learned), what, shown.
    pub(super) fn further(self, record: &Record) -> Vec<(Option<u32>, String, String)> {
        let further = &record.further;
        let name = |id: &CircuitId| circuit_name(&record.profile, id);
        let volts = |limit: Option<crate::quantity::Volts>| limit.map(|limit| self.volts(limit));
        let amperes =
            |current: Option<crate::quantity::Amperes>| current.map(|current| self.amperes(current));
        let mut out = Vec::new();
        if !further.lead_repeats.is_empty() {
            let shown: Vec<_> = further.lead_repeats.iter().map(|shown| self.say(shown)).collect();
            out.push((None, Sentence::LeadsAgain, shown.join("; ")));
        }
        for relation in &further.relations {
            let (from, to) = (plain(relation.from.as_str()), plain(relation.to.as_str()));
            out.push((Some(relation.id), Sentence::Between { from, to }, self.reading(&relation.reading)));
        }
        for test in &further.loads {
            let what = Sentence::LoadOf { circuit: name(&test.circuit), limit: volts(test.limit) };
            let shown = Sentence::LoadShown {
                at_load: self.volts(test.at_load),
                supply: self.volts(test.supply),
                current: amperes(test.current),
            };
            out.push((Some(test.id), what, self.say(&shown)));
        }
        for drop in &further.drops {
            let what = Sentence::DropOver {
                joint: plain(&drop.joint),
                circuit: drop.circuit.as_ref().map(name),
                limit: volts(drop.limit),
            };
            let shown =
                Sentence::DropShown { reading: self.reading(&drop.reading), current: amperes(drop.current) };
            out.push((Some(drop.id), what, self.say(&shown)));
        }
        for learned in &further.references {
            let what = Sentence::LearnedFrom {
                parts: learned.parts,
                circuit: name(&learned.circuit),
                station: learned.station,
            };
            let shown = Sentence::LearnedValue {
                median: self.ohms(learned.median.get()),
                at: self.celsius_span(Interval::exactly(learned.at)),
                spread: learned.spread.map(|spread| self.ohms(spread.get())),
            };
            out.push((None, what, self.say(&shown)));
        }
        out.into_iter().map(|(number, what, shown)| (number, self.say(&what), shown)).collect()
    }

    /// Safety, leads, temperature and notes by time: when, what, shown, and what more was asked for.
    pub(super) fn preparation(self, record: &Record) -> Vec<Prepared<'_>> {
        let mut rows = Vec::new();
        for gate in &record.confirmations {
            rows.push(Prepared {
                at: gate.at,
                name: Name::Confirmed,
                what: self.say(&Sentence::Quoted { text: plain(&gate.phrase) }),
                more: Some(&gate.instruction),
                intake: Some(&gate.intake),
            });
        }
        for zero in &record.leads {
            rows.push(Prepared {
                at: zero.at,
                name: Name::Leads,
                what: self.say(&zero.leads),
                more: None,
                intake: Some(&zero.intake),
            });
        }
        for temperature in &record.temperatures {
            let span = temperature.interval.map(|interval| self.celsius_span(interval));
            rows.push(Prepared {
                at: temperature.at,
                name: Name::PartTemperature,
                what: span.unwrap_or_else(|| self.say(&Sentence::NotKnown)),
                more: None,
                intake: Some(&temperature.intake),
            });
        }
        for note in &record.notes {
            rows.push(Prepared {
                at: note.at,
                name: Name::Note,
                what: plain(&self.say(&note.text)),
                more: None,
                intake: None,
            });
        }
        rows.sort_by_key(|row| row.at);
        rows
    }

    /// Each stored code with the circuit that it names.
    pub(super) fn codes(self, record: &Record) -> Vec<String> {
        let one = |code: &crate::verdict::StoredCode| {
            let circuit = code.circuit.as_ref().map(|id| circuit_name(&record.profile, id));
            self.say(&Sentence::CodeNames { code: plain(&code.text), circuit })
        };
        record.codes.iter().map(one).collect()
    }
}

/// One line of what was done before and between the readings.
#[derive(Debug)]
pub(super) struct Prepared<'a> {
    pub(super) at: Timestamp,
    pub(super) name: Name,
    pub(super) what: String,
    pub(super) more: Option<&'a str>,
    pub(super) intake: Option<&'a super::Intake>,
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn text_cannot_move_the_cursor_or_turn_around() {
        assert_eq!(plain(" a\u{1b}[2Jb\nc\u{202e}d\u{9b}"), "a\u{fffd}[2Jb c\u{fffd}d\u{fffd}");
    }
}
