//! Owns reading TOML key by key: each value with its place, every wrong type, missing key and unknown key noted.
//!
//! Reading by hand instead of by derive, because a derived reader stops at the first fault and a person who writes a
//! profile wants all of them at once. A [`Section`] must be closed: that is where unknown keys are refused.

use super::{
    faults::{Found, Spot},
    nearest::nearest,
};
use crate::words::FIRST_LANGUAGE;
use std::ops::Range;
use toml::{
    Spanned,
    de::{DeTable, DeValue},
};

/// A value and where it was written.
#[derive(Debug, Clone)]
pub(super) struct At<T> {
    pub(super) value: T,
    pub(super) spot: Spot,
}

/// Whether a key has to be there.
#[derive(Debug, Clone, Copy)]
pub(super) enum Need {
    /// It has to; with a line as it could be written.
    Must(&'static str),
    /// It may be left out.
    May,
}

/// A list of names and tables.
pub(super) type Listed<'a> = Vec<Result<At<String>, Section<'a>>>;

/// The longest text that a value may have, in characters: longer ones are neither spoken nor shown well.
const LONGEST_TEXT: usize = 600;

/// What to write instead of keys that people try.
fn elsewhere(key: &str) -> Option<&'static str> {
    Some(match key {
        "nominal" | "resistance" | "ohm" | "ohms" | "value" | "limits" | "range" | "expected" => {
            "write window = \"5.2 ohm ± 8 %\" or window = \"4.9 to 5.5 ohm\""
        }
        "tolerance" | "percent" => {
            "write it into the window: window = \"5.2 ohm ± 8 %\"; how far a family's members differ is tolerance_percent = 4"
        }
        "type" | "material" => "write kind = \"copper-coil\"",
        "temperature" | "at" => "write it into the window: window = \"5.2 ohm ± 8 % at 23 °C\"",
        "ground" | "return" | "common_pin" => {
            "the pin that one probe stays on: against = 16, or once for all: common = 16"
        }
        _ => return None,
    })
}

/// A key's way without the names of list items: `circuit[coil-a].window` is `circuit.window`.
#[cfg(test)]
fn without_names(key: &str) -> String {
    let mut depth = 0;
    key.chars()
        .filter(|c| {
            let inside = depth > 0 || *c == '[';
            depth += i32::from(*c == '[') - i32::from(*c == ']');
            !inside
        })
        .collect()
}

/// One table of the file while it is read.
pub(super) struct Section<'a> {
    table: &'a DeTable<'a>,
    spot: Spot,
    known: Vec<&'static str>,
    missing: Vec<&'static str>,
}

impl<'a> Section<'a> {
    /// The file as a whole.
    pub(super) fn root(table: &'a DeTable<'a>) -> Self {
        // A missing key of the file as a whole is shown at its beginning.
        Self { table, spot: Spot { span: 0..0, key: String::new() }, known: Vec::new(), missing: Vec::new() }
    }

    pub(super) fn spot(&self) -> Spot {
        self.spot.clone()
    }

    /// Refuses all keys that nobody asked for, and ends the reading of this table.
    pub(super) fn close(self, found: &mut Found) {
        #[cfg(test)]
        found.known.insert(without_names(&self.spot.key), self.known.clone());
        for key in self.table.keys() {
            let name = key.get_ref().as_ref();
            if !self.known.contains(&name) && !found.is_full() {
                let spot = self.below(name, key.span());
                let advice = match nearest(name, self.known.iter().copied()) {
                    Some(near) => {
                        // A mistyped key is one mistake, not one key missing and another too many.
                        if self.missing.contains(&near) {
                            found.retract(&self.below(near, 0..0).key);
                        }
                        format!("did you mean `{near}`?")
                    }
                    None => match elsewhere(name) {
                        Some(instead) => instead.to_owned(),
                        None => format!("keys that may stand here: {}", self.known.join(", ")),
                    },
                };
                found.add(&spot, format!("unknown key `{name}`"), advice);
            }
        }
    }

    fn below(&self, key: &str, span: Range<usize>) -> Spot {
        let key = if self.spot.key.is_empty() { key.to_owned() } else { format!("{}.{key}", self.spot.key) };
        Spot { span, key }
    }

    fn take(&mut self, key: &'static str, need: Need, found: &mut Found) -> Option<(&'a DeValue<'a>, Spot)> {
        self.known.push(key);
        match (self.table.get(key), need) {
            (Some(value), _) => Some((value.get_ref(), self.below(key, value.span()))),
            (None, Need::Must(example)) => {
                let spot = self.below(key, self.spot.span.clone());
                self.missing.push(key);
                found.add(&spot, format!("`{key}` is missing"), format!("add it, for example: {example}"));
                None
            }
            (None, Need::May) => None,
        }
    }

    /// A text that people read or hear: in quotes, or a table of languages (`{ en = "coil A", de = "Spule A" }`), of which the
    /// wanted one is taken, else the first language, else whatever there is.
    pub(super) fn words(&mut self, key: &'static str, need: Need, found: &mut Found) -> Option<At<String>> {
        let (value, spot) = self.take(key, need, found)?;
        words(value, spot, found)
    }

    /// The text of such a key in the first language, or the only one there is: what identifiers are made of, whatever is spoken.
    pub(super) fn first_words(&self, key: &str) -> Option<String> {
        match self.table.get(key)?.get_ref() {
            DeValue::String(text) => Some(text.trim().to_owned()),
            DeValue::Table(table) => {
                let any = || table.iter().next().map(|(_, value)| value);
                match table.get(FIRST_LANGUAGE).or_else(any)?.get_ref() {
                    DeValue::String(text) => Some(text.trim().to_owned()),
                    _ => None,
                }
            }
            _ => None,
        }
    }

    /// A list of such texts.
    pub(super) fn words_list(
        &mut self,
        key: &'static str,
        need: Need,
        found: &mut Found,
    ) -> Option<At<Vec<At<String>>>> {
        self.list(key, need, found, words)
    }

    /// A text in quotes: not blank, no control characters, not over-long.
    pub(super) fn text(&mut self, key: &'static str, need: Need, found: &mut Found) -> Option<At<String>> {
        let (value, spot) = self.take(key, need, found)?;
        text(value, spot, found)
    }

    /// A name that may be written as text or as a whole number (`pin = 4`).
    pub(super) fn label(&mut self, key: &'static str, need: Need, found: &mut Found) -> Option<At<String>> {
        let (value, spot) = self.take(key, need, found)?;
        match value {
            DeValue::Integer(number) if number.radix() == 10 => {
                Some(At { value: number.as_str().to_owned(), spot })
            }
            value => text(value, spot, found),
        }
    }

    /// A finite number, written with or without a point.
    pub(super) fn number(&mut self, key: &'static str, need: Need, found: &mut Found) -> Option<At<f64>> {
        let (value, spot) = self.take(key, need, found)?;
        let number = match value {
            DeValue::Float(float) => float.as_str().parse::<f64>().ok(),
            DeValue::Integer(whole) if whole.radix() == 10 => whole.as_str().parse::<f64>().ok(),
            other => {
                wrong_type(&spot, "a number", other, "write it without quotes, with a point: 4.9", found);
                return None;
            }
        };
        match number {
            Some(value) if value.is_finite() => Some(At { value, spot }),
            _ => {
                found.add(&spot, "not a finite decimal number", "write a number such as 4.9");
                None
            }
        }
    }

    /// A whole number from 1 to 255.
    pub(super) fn count(&mut self, key: &'static str, need: Need, found: &mut Found) -> Option<At<u8>> {
        let (value, spot) = self.take(key, need, found)?;
        match value {
            DeValue::Integer(whole) => match u8::from_str_radix(whole.as_str(), whole.radix()) {
                Ok(value) if value > 0 => Some(At { value, spot }),
                _ => {
                    found.add(&spot, format!("{whole} is not between 1 and 255"), "count from 1");
                    None
                }
            },
            other => {
                wrong_type(&spot, "a whole number", other, "write it without quotes and point: 2", found);
                None
            }
        }
    }

    /// `true` or `false`.
    pub(super) fn flag(&mut self, key: &'static str, need: Need, found: &mut Found) -> Option<At<bool>> {
        let (value, spot) = self.take(key, need, found)?;
        match value {
            DeValue::Boolean(value) => Some(At { value: *value, spot }),
            other => {
                wrong_type(&spot, "true or false", other, "write it without quotes", found);
                None
            }
        }
    }

    fn list(
        &mut self,
        key: &'static str,
        need: Need,
        found: &mut Found,
        read: fn(&DeValue, Spot, &mut Found) -> Option<At<String>>,
    ) -> Option<At<Vec<At<String>>>> {
        let (value, spot) = self.take(key, need, found)?;
        let DeValue::Array(array) = value else {
            wrong_type(&spot, "a list of texts", value, "write [ \"one\", \"two\" ]", found);
            return None;
        };
        let items = array.iter().enumerate().filter_map(|(index, item)| {
            let spot = Spot { span: item.span(), key: format!("{}[{}]", spot.key, index + 1) };
            read(item.get_ref(), spot, found)
        });
        let value = items.collect();
        Some(At { value, spot })
    }

    /// A table below this one.
    pub(super) fn section(
        &mut self,
        key: &'static str,
        need: Need,
        found: &mut Found,
    ) -> Option<Section<'a>> {
        match self.text_or_section(key, need, found)? {
            Ok(text) => {
                found.add(&text.spot, "a table is needed here, not a text", "write { key = value, ... }");
                None
            }
            Err(section) => Some(section),
        }
    }

    /// A text, or a table below this one.
    pub(super) fn text_or_section(
        &mut self,
        key: &'static str,
        need: Need,
        found: &mut Found,
    ) -> Option<Result<At<String>, Section<'a>>> {
        let (value, spot) = self.take(key, need, found)?;
        match value {
            DeValue::Table(table) => {
                Some(Err(Section { table, spot, known: Vec::new(), missing: Vec::new() }))
            }
            DeValue::String(_) => text(value, spot, found).map(Ok),
            other => {
                wrong_type(&spot, "a table", other, "write { key = value, ... }", found);
                None
            }
        }
    }

    /// A list whose items are a name each, or a table.
    pub(super) fn labels_or_sections(
        &mut self,
        key: &'static str,
        name_key: &str,
        found: &mut Found,
    ) -> Option<Listed<'a>> {
        let (value, spot) = self.take(key, Need::May, found)?;
        let DeValue::Array(array) = value else {
            wrong_type(&spot, "a list", value, "write [ 1, 2, 3 ], or a table for each", found);
            return Some(Vec::new());
        };
        let mut items = Vec::new();
        for (index, item) in array.iter().enumerate() {
            match item.get_ref() {
                DeValue::Table(_) => items.push(table(item, index, &spot, name_key).map(Err)),
                DeValue::Integer(number) if number.radix() == 10 => {
                    let spot = Spot { span: item.span(), key: format!("{}[{}]", spot.key, index + 1) };
                    items.push(Some(Ok(At { value: number.as_str().to_owned(), spot })));
                }
                value => {
                    let spot = Spot { span: item.span(), key: format!("{}[{}]", spot.key, index + 1) };
                    items.push(text(value, spot, found).map(Ok));
                }
            }
        }
        Some(items.into_iter().flatten().collect())
    }

    /// A table, or a list of tables.
    pub(super) fn section_or_sections(
        &mut self,
        key: &'static str,
        name_key: &str,
        found: &mut Found,
    ) -> Vec<Section<'a>> {
        match self.take(key, Need::May, found) {
            Some((DeValue::Table(table), spot)) => {
                vec![Section { table, spot, known: Vec::new(), missing: Vec::new() }]
            }
            Some((value, spot)) => tables(value, &spot, name_key, found),
            None => Vec::new(),
        }
    }

    /// A list of tables. Each is named in faults by its `name_key` where it has one, else by its number from 1.
    pub(super) fn sections(
        &mut self,
        key: &'static str,
        name_key: &str,
        need: Need,
        found: &mut Found,
    ) -> Vec<Section<'a>> {
        match self.take(key, need, found) {
            Some((value, spot)) => tables(value, &spot, name_key, found),
            None => Vec::new(),
        }
    }

    /// The same for a list that may be left out, with the place of the list.
    pub(super) fn sections_if_any(
        &mut self,
        key: &'static str,
        name_key: &str,
        found: &mut Found,
    ) -> Option<(Spot, Vec<Section<'a>>)> {
        let (value, spot) = self.take(key, Need::May, found)?;
        let sections = tables(value, &spot, name_key, found);
        Some((spot, sections))
    }
}

fn tables<'a>(value: &'a DeValue<'a>, spot: &Spot, name_key: &str, found: &mut Found) -> Vec<Section<'a>> {
    let DeValue::Array(array) = value else {
        wrong_type(spot, "a list of tables", value, "write each as a table of its own", found);
        return Vec::new();
    };
    let sections = array.iter().enumerate().filter_map(|(index, item)| {
        if !matches!(item.get_ref(), DeValue::Table(_)) {
            let spot = Spot { span: item.span(), key: format!("{}[{}]", spot.key, index + 1) };
            wrong_type(&spot, "a table", item.get_ref(), "write { key = value, ... }", found);
        }
        table(item, index, spot, name_key)
    });
    sections.collect()
}

/// One table of a list.
fn table<'a>(
    item: &'a Spanned<DeValue<'a>>,
    index: usize,
    list: &Spot,
    name_key: &str,
) -> Option<Section<'a>> {
    let DeValue::Table(table) = item.get_ref() else { return None };
    let name = match table.get(name_key).map(|name| name.get_ref()) {
        Some(DeValue::String(name)) if !name.trim().is_empty() => name.to_string(),
        Some(DeValue::Integer(name)) => name.to_string(),
        Some(DeValue::Float(name)) => name.to_string(),
        _ => (index + 1).to_string(),
    };
    let spot = Spot { span: item.span(), key: format!("{}[{name}]", list.key) };
    Some(Section { table, spot, known: Vec::new(), missing: Vec::new() })
}

/// A text, or the wanted one of a table of languages.
fn words(value: &DeValue, spot: Spot, found: &mut Found) -> Option<At<String>> {
    let DeValue::Table(table) = value else { return text(value, spot, found) };
    let mut all = Vec::new();
    for (language, value) in table.iter() {
        let name = language.get_ref().as_ref();
        let spot = Spot { span: value.span(), key: format!("{}.{name}", spot.key) };
        if name.len() < 2 || name.len() > 8 || !name.bytes().all(|b| b.is_ascii_lowercase() || b == b'-') {
            found.add(&spot, format!("`{name}` is no language"), "write tags such as en and de");
        } else if let Some(read) = text(value.get_ref(), spot, found) {
            all.push((name, read));
        }
    }
    if table.is_empty() {
        found.add(
            &spot,
            "no language at all",
            "write { en = \"coil A\", de = \"Spule A\" }, or the text alone",
        );
    }
    let wanted = [found.language, FIRST_LANGUAGE];
    let at = wanted.iter().find_map(|wanted| all.iter().position(|(name, _)| name == wanted)).unwrap_or(0);
    (at < all.len()).then(|| all.swap_remove(at).1)
}

fn text(value: &DeValue, spot: Spot, found: &mut Found) -> Option<At<String>> {
    let DeValue::String(value) = value else {
        wrong_type(&spot, "a text", value, "put it in quotes", found);
        return None;
    };
    if value.trim().is_empty() {
        found.add(&spot, "the text is empty", "write something, or leave the key out if it may be left out");
        return None;
    }
    if value.chars().any(char::is_control) {
        found.add(&spot, "the text has a line break or another control character", "write it in one line");
        return None;
    }
    if value.chars().count() > LONGEST_TEXT {
        found.add(&spot, format!("the text has more than {LONGEST_TEXT} characters"), "say it more briefly");
        return None;
    }
    Some(At { value: value.trim().to_owned(), spot })
}

fn wrong_type(spot: &Spot, wanted: &str, got: &DeValue, advice: &str, found: &mut Found) {
    let got = match got {
        DeValue::String(_) => "a text",
        DeValue::Integer(_) => "a whole number",
        DeValue::Float(_) => "a number",
        DeValue::Boolean(_) => "true or false",
        DeValue::Datetime(_) => "a date or time",
        DeValue::Array(_) => "a list",
        DeValue::Table(_) => "a table",
    };
    found.add(spot, format!("{wanted} is needed here, not {got}"), advice);
}
