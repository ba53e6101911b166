//! Owns how quantities are written in all reports: as many digits as are known, never more.

use crate::quantity::{Celsius, Interval, Ohms, Volts};

/// A resistance with as many digits as its uncertainty (two significant ones) bears: `5.183 ± 0.062 Ω`.
pub(super) fn with_uncertainty(value: Ohms, uncertainty: Option<Ohms>) -> String {
    let (value, uncertainty) = (value.get(), uncertainty.map_or(0.0, Ohms::get));
    if uncertainty <= 0.0 {
        return ohms(value);
    }
    let (factor, unit) = scale(value.abs().max(uncertainty));
    let (value, uncertainty) = (value / factor, uncertainty / factor);
    let places = places(uncertainty, 2);
    format!("{} ± {uncertainty:.places$} {unit}", signed(value, places))
}

/// A resistance with four significant digits.
pub(super) fn ohms(value: f64) -> String {
    let (factor, unit) = scale(value.abs());
    let value = value / factor;
    format!("{} {unit}", signed(value, places(value, 4).min(3)))
}

/// `4.80 to 5.60 Ω`, both ends alike.
pub(super) fn ohm_span(span: Interval<Ohms>) -> String {
    let (low, high) = (span.low.get(), span.high.get());
    let (factor, unit) = scale(high.abs());
    let places = places(high / factor, 3).min(3);
    format!("{} to {} {unit}", signed(low / factor, places), signed(high / factor, places))
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

/// `21 °C`, `18 to 25 °C`.
pub(super) fn celsius_span(span: Interval<Celsius>) -> String {
    let tidy = |value: Celsius| {
        let text = format!("{:.1}", value.get()).replace('-', "\u{2212}");
        text.strip_suffix(".0").map_or(text.clone(), str::to_owned)
    };
    let (low, high) = (tidy(span.low), tidy(span.high));
    if low == high { format!("{low} °C") } else { format!("{low} to {high} °C") }
}

/// `97 %`; the ends are kept for certainty, which a judgement from measurements never has.
pub(super) fn percent(share: f64) -> String {
    match share * 100.0 {
        percent if percent.is_nan() => "not known".to_owned(),
        percent if percent > 99.0 => "over 99 %".to_owned(),
        percent if percent < 1.0 => "under 1 %".to_owned(),
        percent => format!("{percent:.0} %"),
    }
}

/// `24.31 V`.
pub(super) fn volts(value: Volts) -> String {
    format!("{:.2} V", value.get())
}

#[cfg(test)]
mod tests {
    use super::*;

    fn ohm(value: f64) -> Ohms {
        Ohms::new(value).unwrap()
    }

    #[test]
    fn values_have_the_digits_that_their_uncertainty_bears() {
        let shown = |value, uncertainty| with_uncertainty(ohm(value), Some(ohm(uncertainty)));
        assert_eq!(shown(5.1834, 0.0623), "5.183 ± 0.062 Ω");
        assert_eq!(shown(5.1834, 0.0996), "5.18 ± 0.10 Ω");
        assert_eq!(shown(1043.2, 12.4), "1043 ± 12 Ω");
        assert_eq!(shown(47_213.0, 512.0), "47.21 ± 0.51 kΩ");
        assert_eq!(shown(12.0e6, 0.3e6), "12.00 ± 0.30 MΩ");
        assert_eq!(shown(-0.03, 0.1), "\u{2212}0.03 ± 0.10 Ω");
        assert_eq!(shown(-0.001, 0.1), "0.00 ± 0.10 Ω");
        assert_eq!(shown(5.1834, 0.0), "5.183 Ω");
        assert_eq!(with_uncertainty(ohm(240.25), None), "240.2 Ω");
    }

    #[test]
    fn spans_show_both_ends_alike() {
        let span = |low, high| ohm_span(Interval { low: ohm(low), high: ohm(high) });
        assert_eq!(span(4.9, 5.5), "4.90 to 5.50 Ω");
        assert_eq!(span(180.0, 240.0), "180 to 240 Ω");
        assert_eq!(span(0.0, 12_000.0), "0.0 to 12.0 kΩ");
        let degrees = |low, high| {
            celsius_span(Interval { low: Celsius::new(low).unwrap(), high: Celsius::new(high).unwrap() })
        };
        assert_eq!(degrees(20.0, 20.0), "20 °C");
        assert_eq!(degrees(-5.0, 12.5), "\u{2212}5 to 12.5 °C");
    }

    #[test]
    fn no_percentage_claims_certainty() {
        assert_eq!(percent(1.0), "over 99 %");
        assert_eq!(percent(0.0), "under 1 %");
        assert_eq!(percent(0.804), "80 %");
    }
}
