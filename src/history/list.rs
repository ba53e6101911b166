//! Owns finding sessions: by part, vehicle, order, date, how they stand, and any text.

use super::{HistoryError, Store, fill::time};
use jiff::Timestamp;
use rusqlite::{Row, types::Value};
use schemars::JsonSchema;
use serde::Serialize;

/// What is looked for. All of it has to fit; None fits everything.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Filter {
    /// The part, by its profile's name.
    pub part: Option<String>,
    /// The vehicle, as it was given; capitals do not matter.
    pub vehicle: Option<String>,
    /// The order, likewise.
    pub order: Option<String>,
    /// Begun at this time or later.
    pub since: Option<Timestamp>,
    /// Begun before this time.
    pub until: Option<Timestamp>,
    /// Concluded, or not.
    pub concluded: Option<bool>,
    /// Words that all have to stand in what is known of the session; parts of words count.
    pub text: Vec<String>,
    /// At most so many, the latest first.
    pub limit: Option<u32>,
}

/// A session as it is listed.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, JsonSchema)]
pub struct Seen {
    /// The journal's file.
    pub path: String,
    /// The session's name.
    pub session: String,
    /// The journal's mark; null where it is not protected.
    pub mark: Option<String>,
    /// The part's name.
    pub part: String,
    /// What a person calls the part.
    pub title: String,
    /// Serial number of the part.
    pub part_serial: Option<String>,
    /// What the job was called.
    pub job: Option<String>,
    /// Who measured.
    pub technician: Option<String>,
    /// The customer.
    pub customer: Option<String>,
    /// The vehicle.
    pub vehicle: Option<String>,
    /// The order.
    pub order: Option<String>,
    /// When it was begun, UTC.
    #[schemars(with = "String")]
    pub begun: Timestamp,
    /// How it stands: broken-off, stopped or concluded.
    pub ending: String,
    /// Whether a simulated technician took part.
    pub simulated: bool,
    /// How many readings stand.
    pub readings: u32,
    /// The sentence in front of what was judged.
    pub headline: String,
}

impl Store {
    /// The sessions that fit, the latest first, and how many there are without the limit.
    ///
    /// # Errors
    /// [`HistoryError::Store`].
    pub fn list(&self, filter: &Filter) -> Result<(Vec<Seen>, u64), HistoryError> {
        let (wanted, mut values) = wanted(filter);
        let count = format!("SELECT count(*) FROM session WHERE {wanted}");
        let all = self
            .connection
            .prepare_cached(&count)?
            .query_row(rusqlite::params_from_iter(&values), |row| row.get::<_, i64>(0))?;
        values.push(Value::Integer(filter.limit.map_or(-1, i64::from)));
        let list = format!(
            "SELECT path, name, mark, part, title, part_serial, job, technician, customer, vehicle, order_number, begun, ending,
             simulated, (SELECT count(*) FROM reading WHERE reading.session = session.id AND withdrawn = 0), headline
             FROM session WHERE {wanted} ORDER BY begun DESC, name DESC LIMIT ?"
        );
        let mut list = self.connection.prepare_cached(&list)?;
        let rows = list.query_map(rusqlite::params_from_iter(&values), seen)?;
        Ok((rows.collect::<Result<_, _>>()?, u64::try_from(all).unwrap_or_default()))
    }
}

/// The condition and its values.
fn wanted(filter: &Filter) -> (String, Vec<Value>) {
    let mut conditions = vec!["1"];
    let mut values = Vec::new();
    let mut add = |condition, value| {
        conditions.push(condition);
        values.push(value);
    };
    let text = |text: &String| Value::Text(text.clone());
    if let Some(part) = &filter.part {
        add("part = ?", text(part));
    }
    if let Some(vehicle) = &filter.vehicle {
        add("lower(vehicle) = ?", Value::Text(vehicle.to_lowercase()));
    }
    if let Some(order) = &filter.order {
        add("lower(order_number) = ?", Value::Text(order.to_lowercase()));
    }
    if let Some(since) = filter.since {
        add("begun >= ?", Value::Integer(since.as_millisecond()));
    }
    if let Some(until) = filter.until {
        add("begun < ?", Value::Integer(until.as_millisecond()));
    }
    match filter.concluded {
        Some(true) => add("ending = ?", Value::Text("concluded".into())),
        Some(false) => add("ending <> ?", Value::Text("concluded".into())),
        None => {}
    }
    for word in &filter.text {
        // instr and not LIKE: % and _ are letters like others.
        add("instr(searched, ?) > 0", Value::Text(word.to_lowercase()));
    }
    (conditions.join(" AND "), values)
}

fn seen(row: &Row<'_>) -> rusqlite::Result<Seen> {
    Ok(Seen {
        path: row.get(0)?,
        session: row.get(1)?,
        mark: row.get(2)?,
        part: row.get(3)?,
        title: row.get(4)?,
        part_serial: row.get(5)?,
        job: row.get(6)?,
        technician: row.get(7)?,
        customer: row.get(8)?,
        vehicle: row.get(9)?,
        order: row.get(10)?,
        begun: time(row.get(11)?),
        ending: row.get(12)?,
        simulated: row.get(13)?,
        readings: row.get(14)?,
        headline: row.get(15)?,
    })
}
