//! Owns how a computed number is written: four figures, no zeros behind that say nothing.

/// The number with about four figures, its point a dot.
pub(super) fn figures(number: f64) -> String {
    let size = number.abs();
    let places = match size {
        size if size >= 1000.0 => 0,
        size if size >= 100.0 => 1,
        size if size >= 10.0 => 2,
        size if size >= 0.1 || size == 0.0 => 3,
        _ => 5,
    };
    let text = format!("{number:.places$}");
    let text = if text.contains('.') { text.trim_end_matches('0').trim_end_matches('.') } else { &text };
    if text == "-0" { "0".to_owned() } else { text.to_owned() }
}

#[cfg(test)]
mod tests {
    use super::figures;

    #[test]
    fn as_many_figures_as_are_worth_it() {
        for (number, text) in [
            (0.0, "0"),
            (5.18, "5.18"),
            (5.0, "5"),
            (1234.56, "1235"),
            (123.456, "123.5"),
            (12.345, "12.35"),
            (0.012_34, "0.01234"),
            (-0.000_001, "0"),
            (-2.5, "-2.5"),
        ] {
            assert_eq!(figures(number), text);
        }
    }
}
