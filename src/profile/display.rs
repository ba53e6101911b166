//! Owns what a display can show on a range: the prefix, the places behind the point, and whether a number has a point at all.

use super::model::Range;
use crate::quantity::Prefix;

impl Range {
    /// The prefix that the range shows: below a thousand none, and none for ranges that show whole units up to 2000.
    #[must_use]
    pub fn prefix(&self) -> Prefix {
        match self.full_scale {
            full if full < 1e3 || (full <= 2e3 && self.resolution >= 1.0) => Prefix::One,
            full if full < 1e6 => Prefix::Kilo,
            _ => Prefix::Mega,
        }
    }

    /// How many places behind the point the range shows in a prefix, from 0 to 9.
    #[must_use]
    pub fn places(&self, prefix: Prefix) -> u8 {
        let steps = (prefix.factor() / self.resolution).log10().round();
        // Between 0 and 9, so that the cast is exact.
        steps.clamp(0.0, 9.0) as u8
    }

    /// Whether the range shows this without a point: whole numbers, also of thousands said in full.
    #[must_use]
    pub fn shows_whole(&self, prefix: Prefix) -> bool {
        self.places(prefix) == 0
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::Unit;

    /// Ranges as digital multimeters commonly have them (6000 and 2000 counts; common practice, no source).
    #[test]
    fn ranges_show_what_displays_show() {
        for (full_scale, resolution, prefix, places) in [
            (600.0, 0.1, Prefix::One, 1),
            (6e3, 1.0, Prefix::Kilo, 3),
            (2e3, 1.0, Prefix::One, 0),
            (2e3, 0.1, Prefix::Kilo, 4),
            (6e6, 1e3, Prefix::Mega, 3),
        ] {
            let range = Range { unit: Unit::Ohm, full_scale, resolution, percent: 1.0, digits: 3.0 };
            assert_eq!((range.prefix(), range.places(prefix)), (prefix, places), "{full_scale} by {resolution}");
            assert_eq!(range.shows_whole(prefix), places == 0);
        }
    }
}
