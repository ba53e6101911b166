//! Owns by whom a record was judged, and how two judgements of the same readings differ.
//!
//! What was judged when the session was concluded is kept with it and shown; it is not worked out anew unasked. Judgements are
//! compared as data, by the few things that every engine says: the sentence in front, causes, and a class for each circuit.

use super::Record;
use crate::{
    verdict::{Engine, Headline, Judgement, Saying, engine},
    words::Words,
};
use jiff::Timestamp;
use schemars::JsonSchema;
use serde::Serialize;
use serde_json::Value;
use std::collections::BTreeMap;

/// By whom, and why so, the judgement of a record was made.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct JudgedBy {
    /// The engine whose judgement it is.
    pub engine: Engine,
    /// When it judged. None: now, as the record was made.
    #[schemars(with = "Option<String>")]
    pub at: Option<Timestamp>,
    /// Why it is this one.
    pub basis: Basis,
    /// What was judged then, where that is in a form that this program does not know: its main points. The judgement of the
    /// record is today's in that case.
    pub kept: Option<Points>,
}

/// Why a record has the judgement that it has.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Basis {
    /// It is the one that was made when the session was concluded.
    Kept,
    /// The session has no conclusion yet: judged now.
    NotConcluded,
    /// The session was concluded by a program that kept no conclusion: judged now, by an engine that may be another one.
    NotKept,
    /// What was judged then is in a form that this program does not know; its main points are shown, the rest is judged now.
    OtherForm,
}

impl JudgedBy {
    /// The engine of this program, now.
    #[must_use]
    pub fn now(basis: Basis) -> Self {
        Self { engine: engine(), at: None, basis, kept: None }
    }
}

/// The main points of a judgement, of whatever form.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct Points {
    /// The engine that judged.
    pub engine: Engine,
    /// When; None: now.
    #[schemars(with = "Option<String>")]
    pub at: Option<Timestamp>,
    /// The sentence in front, as the engine gave it.
    pub headline: Option<Saying<Headline>>,
    /// Causes, likeliest first.
    pub causes: Vec<PointCause>,
    /// The class of each circuit at each station.
    pub classes: Vec<PointClass>,
}

/// A cause that a judgement names.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct PointCause {
    /// Its name.
    pub cause: String,
    /// The circuits that it is about.
    pub circuits: Vec<String>,
    /// How sure, 0 to 1, where it says.
    pub certainty: Option<f64>,
}

/// The class of a circuit at a station.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, JsonSchema)]
pub struct PointClass {
    /// The circuit.
    pub circuit: String,
    /// The station.
    pub station: String,
    /// The class.
    pub class: String,
}

impl Points {
    /// The main points of a judgement as data. What is not there, or of another form, is left out.
    #[must_use]
    pub fn of(engine: Engine, at: Option<Timestamp>, judgement: &Value) -> Self {
        let list = |at: &str| judgement.pointer(at).and_then(Value::as_array).cloned().unwrap_or_default();
        let causes = list("/conclusion/explanations").iter().filter_map(cause).collect();
        let classes = list("/findings").iter().filter_map(class).collect();
        let headline = judgement
            .pointer("/conclusion/headline")
            .map(|value| serde_json::from_value(value.clone()).unwrap_or_else(|_| Saying::Text(bare(value))));
        Self { engine, at, headline, causes, classes }
    }

    /// The main points of today's judgement.
    #[must_use]
    pub fn now(judgement: &Judgement) -> Self {
        Self::of(engine(), None, &serde_json::to_value(judgement).unwrap_or_default())
    }

    /// In what the two differ, `self` being the earlier one.
    #[must_use]
    pub fn differences(&self, now: &Self) -> Vec<Difference> {
        let mut found = Vec::new();
        let sentence = |points: &Self| points.headline.clone().unwrap_or_else(|| String::new().into());
        let (then, says) = (sentence(self), sentence(now));
        if !same(&then, &says) {
            found.push(Difference::Headline { then, now: says });
        }
        let first = |points: &Self| {
            points
                .causes
                .first()
                .map(|cause| (cause.cause.clone(), cause.circuits.clone()))
                .unwrap_or_default()
        };
        let ((then, circuits_then), (cause, circuits)) = (first(self), first(now));
        if (&then, &circuits_then) != (&cause, &circuits) {
            let of =
                |circuits: Vec<String>| if circuits.is_empty() { None } else { Some(circuits.join(", ")) };
            found.push(Difference::Cause {
                then,
                of_then: of(circuits_then),
                now: cause,
                of_now: of(circuits),
            });
        }
        let classes = |points: &Self| -> BTreeMap<(String, String), String> {
            let key = |one: &PointClass| ((one.circuit.clone(), one.station.clone()), one.class.clone());
            points.classes.iter().map(key).collect()
        };
        let (before, after) = (classes(self), classes(now));
        let names: std::collections::BTreeSet<_> = before.keys().chain(after.keys()).collect();
        for name in names {
            let (then, now) = (before.get(name).cloned(), after.get(name).cloned());
            if then != now {
                let (circuit, station) = name.clone();
                found.push(Difference::Class { circuit, station, then, now });
            }
        }
        found
    }
}

/// Whether two sentences are the same. Programs of before kept them as texts, in English.
fn same(then: &Saying<Headline>, now: &Saying<Headline>) -> bool {
    match (then, now) {
        (Saying::Value(then), Saying::Value(now)) => then == now,
        _ => {
            let english = Words::english();
            english.text(then) == english.text(now)
        }
    }
}

fn cause(value: &Value) -> Option<PointCause> {
    let list = value.get("circuits").and_then(Value::as_array);
    Some(PointCause {
        cause: bare(value.get("cause")?),
        circuits: list.into_iter().flatten().map(bare).collect(),
        certainty: value.get("certainty").and_then(Value::as_f64),
    })
}

fn class(value: &Value) -> Option<PointClass> {
    let text = |key: &str| value.get(key).map(bare);
    Some(PointClass { circuit: text("circuit")?, station: text("station")?, class: text("class")? })
}

/// A text as it is; anything else as JSON.
fn bare(value: &Value) -> String {
    value.as_str().map_or_else(|| value.to_string(), str::to_owned)
}

/// Who judged, as a line under a record.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum JudgedLine {
    /// When the session was concluded.
    Kept {
        /// The engine's name.
        engine: String,
        /// Its version.
        version: u32,
        /// When, in the time of the place.
        at: String,
    },
    /// Now, since there is no conclusion yet.
    NotConcluded {
        /// The engine's name.
        engine: String,
        /// Its version.
        version: u32,
    },
    /// Now, since no conclusion was kept then.
    NotKept {
        /// The engine's name.
        engine: String,
        /// Its version.
        version: u32,
    },
    /// Now, since this program does not know the form of what was judged then.
    OtherForm {
        /// The engine's name.
        engine: String,
        /// Its version.
        version: u32,
        /// The engine that judged then.
        then: String,
        /// Its version.
        then_version: u32,
        /// What it said in front.
        headline: Saying<Headline>,
    },
    /// Today's engine says the same of the same readings.
    AgainSame {
        /// The engine's name.
        engine: String,
        /// Its version.
        version: u32,
    },
    /// Today's engine says otherwise in some points.
    AgainOther {
        /// The engine's name.
        engine: String,
        /// Its version.
        version: u32,
        /// In how many points.
        count: usize,
    },
}

impl Record {
    /// Who judged it, as a line.
    #[must_use]
    pub fn judged_line(&self) -> JudgedLine {
        let Engine { name: engine, version, .. } = self.judged.engine.clone();
        match (self.judged.basis, &self.judged.kept) {
            (Basis::Kept, _) => {
                let at = self.zone.to_datetime(self.judged.at.unwrap_or(self.ended));
                JudgedLine::Kept { engine, version, at: at.strftime("%Y-%m-%d %H:%M").to_string() }
            }
            (Basis::NotConcluded, _) => JudgedLine::NotConcluded { engine, version },
            (Basis::OtherForm, Some(kept)) => JudgedLine::OtherForm {
                engine,
                version,
                then: kept.engine.name.clone(),
                then_version: kept.engine.version,
                headline: kept.headline.clone().unwrap_or_else(|| String::new().into()),
            },
            (Basis::NotKept | Basis::OtherForm, _) => JudgedLine::NotKept { engine, version },
        }
    }
}

impl Again {
    /// Whether today's engine says the same, as a line.
    #[must_use]
    pub fn line(&self) -> JudgedLine {
        let Engine { name: engine, version, .. } = self.now.engine.clone();
        match self.differences.len() {
            0 => JudgedLine::AgainSame { engine, version },
            count => JudgedLine::AgainOther { engine, version, count },
        }
    }
}

/// In what two judgements of the same readings differ.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Difference {
    /// The sentence in front.
    Headline {
        /// As it was.
        then: Saying<Headline>,
        /// As it is.
        now: Saying<Headline>,
    },
    /// The likeliest cause.
    Cause {
        /// As it was.
        then: String,
        /// The circuits that it named.
        of_then: Option<String>,
        /// As it is.
        now: String,
        /// The circuits that it names.
        of_now: Option<String>,
    },
    /// The class of a circuit.
    Class {
        /// The circuit.
        circuit: String,
        /// Where.
        station: String,
        /// As it was; None: it was not judged there.
        then: Option<String>,
        /// As it is; None: it is not judged there.
        now: Option<String>,
    },
}

/// Today's view beside what was judged then.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct Again {
    /// What was judged then.
    pub then: Points,
    /// What this program's engine makes of the same readings.
    pub now: Points,
    /// In what they differ. Empty: in nothing that every engine says.
    pub differences: Vec<Difference>,
}

impl Again {
    /// Today's judgement beside the one of a record.
    #[must_use]
    pub fn of(record: &Record, now: &Judgement) -> Self {
        let then = record.judged.kept.clone().unwrap_or_else(|| {
            let value = serde_json::to_value(&record.judgement).unwrap_or_default();
            Points::of(record.judged.engine.clone(), record.judged.at, &value)
        });
        let now = Points::now(now);
        let differences = then.differences(&now);
        Self { then, now, differences }
    }
}
