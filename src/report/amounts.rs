//! Owns how quantities are written in all reports: as many digits as are known, never more, with the decimal mark of the
//! reader's language.

use super::{
    said::{Sentence, Share},
    wording::Wording,
};
use crate::quantity::{Amperes, Celsius, Interval, Ohms, Volts};

impl Wording<'_> {
    /// A resistance with as many digits as its uncertainty (two significant ones) bears: `5.183 ± 0.062 Ω`.
    pub(super) fn with_uncertainty(self, value: Ohms, uncertainty: Option<Ohms>) -> String {
        let (value, uncertainty) = (value.get(), uncertainty.map_or(0.0, Ohms::get));
        if uncertainty <= 0.0 {
            return self.ohms(value);
        }
        let (factor, unit) = scale(value.abs().max(uncertainty));
        let (value, uncertainty) = (value / factor, uncertainty / factor);
        let places = places(uncertainty, 2);
        self.marked(&format!("{} ± {uncertainty:.places$} {unit}", signed(value, places)))
    }

    /// A resistance with four significant digits.
    pub(super) fn ohms(self, value: f64) -> String {
        let (factor, unit) = scale(value.abs());
        let value = value / factor;
        self.marked(&format!("{} {unit}", signed(value, places(value, 4).min(3))))
    }

    /// `4.80 to 5.60 Ω`, both ends alike.
    pub(super) fn ohm_span(self, span: Interval<Ohms>) -> String {
        let (low, high) = (span.low.get(), span.high.get());
        let (factor, unit) = scale(high.abs());
        let places = places(high / factor, 3).min(3);
        let low = self.marked(&signed(low / factor, places));
        let high = self.marked(&format!("{} {unit}", signed(high / factor, places)));
        self.say(&Sentence::SpanOf { low, high })
    }

    /// `21 °C`, `18 to 25 °C`.
    pub(super) fn celsius_span(self, span: Interval<Celsius>) -> String {
        let tidy = |value: Celsius| {
            let text = format!("{:.1}", value.get()).replace('-', "\u{2212}");
            self.marked(text.strip_suffix(".0").unwrap_or(&text))
        };
        let (low, high) = (tidy(span.low), format!("{} °C", tidy(span.high)));
        if span.low == span.high { high } else { self.say(&Sentence::SpanOf { low, high }) }
    }

    /// `97 %`.
    pub(super) fn percent(self, share: f64) -> String {
        self.say(&Share::of(share))
    }

    /// `24.31 V`.
    pub(super) fn volts(self, value: Volts) -> String {
        self.marked(&format!("{:.2} V", value.get()))
    }

    /// `2.1 A`.
    pub(super) fn amperes(self, value: Amperes) -> String {
        self.marked(&value.to_string())
    }

    /// A range end or step as printed on a meter: `50 Ω`, `0.01 Ω`, `5 kΩ`.
    pub(super) fn range_end(self, ohms: f64) -> String {
        self.marked(&match ohms {
            ohms if ohms >= 1e6 => format!("{} MΩ", ohms / 1e6),
            ohms if ohms >= 1e3 => format!("{} kΩ", ohms / 1e3),
            ohms => format!("{ohms} Ω"),
        })
    }
}

fn scale(size: f64) -> (f64, &'static str) {
    match size {
        size if size >= 9.9995e6 => (1e6, "MΩ"),
        size if size >= 9999.5 => (1e3, "kΩ"),
        _ => (1.0, "Ω"),
    }
}

/// How many places after the point show `value` with so many significant digits.
fn places(value: f64, significant: i32) -> usize {
    if value == 0.0 || !value.is_finite() {
        return 1;
    }
    let magnitude = value.abs().log10().floor() as i32;
    // 0.0996 with two digits is 0.10, not 0.100.
    let rounded = (value.abs() / 10f64.powi(magnitude + 1 - significant)).round();
    let magnitude = magnitude + i32::from(rounded >= 10f64.powi(significant));
    (significant - 1 - magnitude).clamp(0, 6) as usize
}

/// Without the minus sign of a number that rounds to nothing.
pub(super) fn signed(value: f64, places: usize) -> String {
    let text = format!("{value:.places$}");
    match text.strip_prefix('-') {
        Some(rest) if rest.chars().all(|c| c == '0' || c == '.') => rest.to_owned(),
        Some(rest) => format!("\u{2212}{rest}"),
        None => text,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::words::Words;

    fn ohm(value: f64) -> Ohms {
        Ohms::new(value).unwrap()
    }

    #[test]
    fn values_have_the_digits_that_their_uncertainty_bears() {
        let words = Words::english();
        let english = Wording::new(&words);
        let shown = |value, uncertainty| english.with_uncertainty(ohm(value), Some(ohm(uncertainty)));
        assert_eq!(shown(5.1834, 0.0623), "5.183 ± 0.062 Ω");
        assert_eq!(shown(5.1834, 0.0996), "5.18 ± 0.10 Ω");
        assert_eq!(shown(1043.2, 12.4), "1043 ± 12 Ω");
        assert_eq!(shown(47_213.0, 512.0), "47.21 ± 0.51 kΩ");
        assert_eq!(shown(12.0e6, 0.3e6), "12.00 ± 0.30 MΩ");
        assert_eq!(shown(-0.03, 0.1), "\u{2212}0.03 ± 0.10 Ω");
        assert_eq!(shown(-0.001, 0.1), "0.00 ± 0.10 Ω");
        assert_eq!(shown(5.1834, 0.0), "5.183 Ω");
        assert_eq!(english.with_uncertainty(ohm(240.25), None), "240.2 Ω");
    }

    #[test]
    fn spans_show_both_ends_alike() {
        let words = Words::english();
        let english = Wording::new(&words);
        let span = |low, high| english.ohm_span(Interval { low: ohm(low), high: ohm(high) });
        assert_eq!(span(4.9, 5.5), "4.90 to 5.50 Ω");
        assert_eq!(span(180.0, 240.0), "180 to 240 Ω");
        assert_eq!(span(0.0, 12_000.0), "0.0 to 12.0 kΩ");
        let degrees = |low, high| {
            english
                .celsius_span(Interval { low: Celsius::new(low).unwrap(), high: Celsius::new(high).unwrap() })
        };
        assert_eq!(degrees(20.0, 20.0), "20 °C");
        assert_eq!(degrees(-5.0, 12.5), "\u{2212}5 to 12.5 °C");
    }

    #[test]
    fn no_percentage_claims_certainty() {
        let words = Words::english();
        let english = Wording::new(&words);
        assert_eq!(english.percent(1.0), "over 99 %");
        assert_eq!(english.percent(0.0), "under 1 %");
        assert_eq!(english.percent(0.804), "80 %");
    }

    #[test]
    fn the_decimal_mark_is_the_readers() {
        let words = Words::builtin("de").unwrap();
        let german = Wording::new(&words);
        assert_eq!(german.with_uncertainty(ohm(5.1834), Some(ohm(0.0623))), "5,183 ± 0,062 Ω");
        assert_eq!(german.ohm_span(Interval { low: ohm(4.8), high: ohm(5.6) }), "4,80 bis 5,60 Ω");
    }
}
