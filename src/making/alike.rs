//! Owns which readings of a part belong together: what a family is where nobody told one.

/// Neighbours that read no further apart than this factor are alike (common practice, no source).
pub const ALIKE: f64 = 1.10;
/// So many have to be alike before one that reads otherwise is taken for one of them (chosen here).
pub const CROWD: usize = 3;
/// Farther than this factor from the middle of them it is a part of its own: half of the turns, or as much again in a joint (chosen
/// here).
const FARTHEST: f64 = 2.5;

/// What a circuit read, as far as it says where the circuit belongs.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Size {
    /// So many ohms, above zero.
    Ohms(f64),
    /// It was read, and has no size: over range, unsteady, nothing at all.
    None,
    /// It was not read.
    Unread,
}

/// Groups of two or more circuits that belong together, each sorted by place. One that reads otherwise is counted to the only crowd
/// that is near enough, one without a size to the only crowd there is.
#[must_use]
pub fn alike(sizes: &[Size]) -> Vec<Vec<usize>> {
    let mut sized: Vec<(usize, f64)> = sizes
        .iter()
        .enumerate()
        .filter_map(|(place, size)| match size {
            Size::Ohms(ohms) if ohms.is_finite() && *ohms > 0.0 => Some((place, *ohms)),
            _ => None,
        })
        .collect();
    sized.sort_by(|a, b| a.1.total_cmp(&b.1));
    let runs: Vec<&[(usize, f64)]> = sized.chunk_by(|a, b| b.1 <= ALIKE * a.1).collect();
    let mut groups: Vec<(Vec<usize>, f64)> = runs
        .iter()
        .filter(|run| run.len() >= 2)
        .map(|run| (run.iter().map(|one| one.0).collect(), run[run.len() / 2].1))
        .collect();
    let crowds: Vec<usize> = (0..groups.len()).filter(|at| groups[*at].0.len() >= CROWD).collect();
    for one in runs.iter().filter(|run| run.len() == 1).map(|run| run[0]) {
        let near: Vec<usize> =
            crowds.iter().copied().filter(|at| (one.1 / groups[*at].1).ln().abs() <= FARTHEST.ln()).collect();
        if let [only] = near[..] {
            groups[only].0.push(one.0);
        }
    }
    if let [only] = crowds[..] {
        let unsized_ones =
            sizes.iter().enumerate().filter(|(_, size)| **size == Size::None).map(|(place, _)| place);
        groups[only].0.extend(unsized_ones);
    }
    let mut groups: Vec<Vec<usize>> = groups.into_iter().map(|(group, _)| group).collect();
    groups.iter_mut().for_each(|group| group.sort_unstable());
    groups
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_reads_alike_is_a_group_and_an_odd_one_is_counted_to_the_crowd() {
        let ohms = |all: &[f64]| all.iter().map(|one| Size::Ohms(*one)).collect::<Vec<_>>();
        let mut block = ohms(&[5.2, 5.18, 5.22, 2.9, 5.19, 24.2, 330.0]);
        assert_eq!(alike(&block), [vec![0, 1, 2, 3, 4]]);
        block.push(Size::None);
        block.push(Size::Unread);
        assert_eq!(alike(&block), [vec![0, 1, 2, 3, 4, 7]]);
        assert_eq!(
            alike(&ohms(&[5.2, 3.0])),
            Vec::<Vec<usize>>::new(),
            "of two that differ neither is the other's"
        );
        let two = ohms(&[5.2, 5.1, 5.3, 600.0, 601.0, 602.0]);
        assert_eq!(alike(&two), [vec![0, 1, 2], vec![3, 4, 5]]);
        assert!(alike(&[]).is_empty());
    }
}
