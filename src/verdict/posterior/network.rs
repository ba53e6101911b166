//! Owns the part as a network of resistances: what a meter shows between two of its nodes.

/// Nodes by number, resistances between them in ohms.
#[derive(Debug, Clone, Default, PartialEq)]
pub(super) struct Network {
    pub edges: Vec<(usize, usize, f64)>,
}

/// A conductance to earth that keeps islands solvable, in siemens.
const LEAK: f64 = 1e-10;
/// The least resistance, in ohms: a joint.
const LEAST: f64 = 1e-6;

impl Network {
    /// Resistance between two nodes, by nodal analysis; none where they are not connected.
    pub fn between(&self, from: usize, to: usize) -> Option<f64> {
        if from == to {
            return Some(0.0);
        }
        // Only what hangs together with the first node.
        let mut nodes = vec![from];
        let mut at = 0;
        while at < nodes.len() {
            for (a, b, ohms) in &self.edges {
                if !ohms.is_finite() {
                    continue;
                }
                let other = if *a == nodes[at] {
                    *b
                } else if *b == nodes[at] {
                    *a
                } else {
                    continue;
                };
                if !nodes.contains(&other) {
                    nodes.push(other);
                }
            }
            at += 1;
        }
        let place = |node: usize| nodes.iter().position(|known| *known == node);
        let (first, last) = (place(from)?, place(to)?);
        let n = nodes.len();
        let mut rows = vec![vec![0.0; n + 1]; n];
        for (i, row) in rows.iter_mut().enumerate() {
            row[i] = LEAK;
        }
        for (a, b, ohms) in self.edges.iter().filter(|edge| edge.2.is_finite()) {
            let (Some(i), Some(j)) = (place(*a), place(*b)) else { continue };
            let g = 1.0 / ohms.max(LEAST);
            rows[i][i] += g;
            rows[j][j] += g;
            rows[i][j] -= g;
            rows[j][i] -= g;
        }
        rows[first][n] = 1.0;
        rows[last][n] = -1.0;
        for column in 0..n {
            let pivot =
                (column..n).max_by(|a, b| rows[*a][column].abs().total_cmp(&rows[*b][column].abs()))?;
            rows.swap(column, pivot);
            let head = rows[column].clone();
            for row in rows.iter_mut().skip(column + 1) {
                let share = row[column] / head[column];
                if share != 0.0 {
                    for (value, top) in row.iter_mut().zip(&head).skip(column) {
                        *value -= share * top;
                    }
                }
            }
        }
        let mut volts = vec![0.0; n];
        for i in (0..n).rev() {
            let known: f64 = (i + 1..n).map(|j| rows[i][j] * volts[j]).sum();
            volts[i] = (rows[i][n] - known) / rows[i][i];
        }
        Some(volts[first] - volts[last])
    }
}

#[cfg(test)]
mod tests {
    use super::Network;

    /// Ohm's law by hand: three of 5.2 side by side, a star of three read between two ends, nothing across a gap.
    #[test]
    fn side_by_side_in_a_row_and_apart() {
        let joined = Network {
            edges: vec![(0, 9, 5.2), (1, 9, 5.2), (2, 9, 5.2), (0, 1, 0.0), (1, 2, 0.0), (3, 9, 5.2)],
        };
        assert!((joined.between(0, 9).unwrap() - 5.2 / 3.0).abs() < 1e-4);
        assert!((joined.between(3, 9).unwrap() - 5.2).abs() < 1e-4);
        assert!((joined.between(0, 3).unwrap() - (5.2 + 5.2 / 3.0)).abs() < 1e-4);
        let star = Network { edges: vec![(0, 9, 0.5), (1, 9, 0.5), (2, 9, 1.0)] };
        assert!((star.between(0, 2).unwrap() - 1.5).abs() < 1e-4);
        let apart = Network { edges: vec![(0, 1, 5.2), (2, 3, 5.2)] };
        assert_eq!(apart.between(0, 2), None);
        // A bridge of five: worked by hand through the star of the upper triangle, 10, 20, 30, 40 with 50 across.
        let bridge =
            Network { edges: vec![(0, 1, 10.0), (0, 2, 20.0), (1, 3, 30.0), (2, 3, 40.0), (1, 2, 50.0)] };
        let (a, b, c) = (10.0 * 20.0 / 80.0, 10.0 * 50.0 / 80.0, 20.0 * 50.0 / 80.0);
        let by_hand = a + 1.0 / (1.0 / (b + 30.0) + 1.0 / (c + 40.0));
        assert!((bridge.between(0, 3).unwrap() - by_hand).abs() < 1e-4);
    }
}
