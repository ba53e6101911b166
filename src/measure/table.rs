//! Owns the table of figures that is printed.

use super::Tally;
use std::fmt::Write as _;

/// Conditions with their figures, one line each.
#[must_use]
pub fn table(rows: &[(String, Tally)]) -> String {
    let widest = rows.iter().map(|(name, _)| name.len()).max().unwrap_or(0).max("condition".len());
    let mut out = format!(
        "{:widest$}  clips  words %  values %  wrong in silence % (95 %)  marked % (wrong)  asked %  rejected %  from nothing  latency ms  of real time\n",
        "condition"
    );
    for (name, t) in rows {
        let percent = |share: f64| format!("{:.1}", share * 100.0);
        let wrong = format!(
            "{:.2} ({:.2} to {:.2})",
            t.silently_wrong * 100.0,
            t.silently_wrong_bounds.0 * 100.0,
            t.silently_wrong_bounds.1 * 100.0
        );
        let silent = t.clips - t.spoken;
        let nothing =
            if silent == 0 { "-".to_owned() } else { format!("{} of {silent}", t.false_readings_count) };
        let spoken = |text: String| if t.spoken == 0 { "-".to_owned() } else { text };
        let _ = writeln!(
            out,
            "{name:widest$}  {:>5}  {:>7}  {:>8}  {:>25}  {:>16}  {:>7}  {:>10}  {nothing:>12}  {:>10}  {:>12.3}",
            t.clips,
            spoken(percent(t.word_accuracy)),
            spoken(percent(t.value_accuracy)),
            spoken(wrong),
            spoken(format!("{} ({})", percent(t.marked), percent(t.marked_wrong))),
            spoken(percent(t.asked)),
            spoken(percent(t.rejected)),
            spoken(format!("{:.0} / {:.0}", t.latency_ms, t.latency_ms_95)),
            t.real_time_factor
        );
    }
    out
}
