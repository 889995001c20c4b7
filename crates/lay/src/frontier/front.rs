//! The least heights of two parts that end a lay.

/// Micrometres.
pub(super) type Height = i32;

/// So many pairs are kept apart; more are taken together as low as either.
const KEPT: usize = 4;

/// Heights of the last part but one and of the last, none of which are both above those of another.
#[derive(Clone, Copy, Default)]
pub(super) struct Front {
    len: u8,
    pairs: [(Height, Height); KEPT],
}

impl Front {
    pub fn pairs(&self) -> &[(Height, Height)] {
        &self.pairs[..self.len as usize]
    }

    pub const fn is_empty(&self) -> bool {
        self.len == 0
    }

    /// Adds a pair unless it is above another.
    pub fn add(&mut self, pair: (Height, Height)) {
        let mut all = [(0, 0); KEPT + 1];
        let mut n = 0;
        for &p in self.pairs() {
            if p.0 <= pair.0 && p.1 <= pair.1 {
                return;
            }
            if !(pair.0 <= p.0 && pair.1 <= p.1) {
                all[n] = p;
                n += 1;
            }
        }
        // The first rises, so that the second falls.
        let at = all[..n].partition_point(|p| p.0 < pair.0);
        all.copy_within(at..n, at + 1);
        all[at] = pair;
        n += 1;
        if n > KEPT {
            let gap = |&i: &usize| (all[i + 1].0 - all[i].0).min(all[i].1 - all[i + 1].1);
            let i = (0..n - 1).min_by_key(gap).unwrap_or(0);
            all[i].1 = all[i + 1].1;
            all.copy_within(i + 2..n, i + 1);
            n -= 1;
        }
        self.pairs[..n].copy_from_slice(&all[..n]);
        self.len = n as u8;
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    proptest! {
        #[test]
        fn something_kept_is_as_low_as_each_pair_added(
            pairs in proptest::collection::vec((0_i32..40, 0_i32..40), 1..30),
        ) {
            let mut front = Front::default();
            for &pair in &pairs {
                front.add(pair);
            }
            for (a, b) in pairs {
                prop_assert!(front.pairs().iter().any(|p| p.0 <= a && p.1 <= b));
            }
        }
    }
}
