//! Owns the guess at what a mistyped word was meant to be.

/// The candidate that differs least from `word`, if it differs little enough to be meant, or only lacks its unit
/// (`low` for `low_ohm`).
pub(super) fn nearest<'c>(word: &str, candidates: impl Iterator<Item = &'c str>) -> Option<&'c str> {
    let word = word.to_lowercase();
    let limit = 1 + word.chars().count() / 4;
    candidates
        .map(|candidate| {
            let lower = candidate.to_lowercase();
            let lacks_unit = lower.strip_prefix(&word).is_some_and(|rest| rest.starts_with('_'));
            (if lacks_unit { 1 } else { distance(&word, &lower) }, candidate)
        })
        .filter(|(distance, _)| *distance <= limit)
        .min_by_key(|(distance, _)| *distance)
        .map(|(_, candidate)| candidate)
}

/// How many letters have to be changed, added, left out or swapped with their neighbour (optimal string alignment).
fn distance(a: &str, b: &str) -> usize {
    let a: Vec<char> = a.chars().take(80).collect();
    let b: Vec<char> = b.chars().take(80).collect();
    let mut rows = vec![(0..=b.len()).collect::<Vec<usize>>()];
    for i in 1..=a.len() {
        let mut row = vec![i];
        for j in 1..=b.len() {
            let changed = rows[i - 1][j - 1] + usize::from(a[i - 1] != b[j - 1]);
            let mut least = changed.min(rows[i - 1][j] + 1).min(row[j - 1] + 1);
            if i > 1 && j > 1 && a[i - 1] == b[j - 2] && a[i - 2] == b[j - 1] {
                least = least.min(rows[i - 2][j - 2] + 1);
            }
            row.push(least);
        }
        rows.push(row);
    }
    rows[a.len()][b.len()]
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn finds_what_was_meant_and_nothing_far_off() {
        let keys = ["low_ohm", "high_ohm", "at_c", "source"];
        assert_eq!(nearest("low_ohms", keys.into_iter()), Some("low_ohm"));
        assert_eq!(nearest("hihg_ohm", keys.into_iter()), Some("high_ohm"));
        assert_eq!(nearest("At_C", keys.into_iter()), Some("at_c"));
        assert_eq!(nearest("low", keys.into_iter()), Some("low_ohm"));
        assert_eq!(nearest("colour", keys.into_iter()), None);
        assert_eq!(nearest("", keys.into_iter()), None);
    }
}
