//! The motif lattice: where a pattern allows an anchor to fall.

use geometry::{Length, Spot};

/// How neighbouring columns of motifs stand to each other.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Drop {
    /// Side by side.
    Straight,
    /// Each next column shifted by half the length repeat.
    Half,
}

/// A repeating pattern. At least one repeat is set.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Pattern {
    /// Period along the roll.
    pub length: Option<Length>,
    /// Period across the roll.
    pub width: Option<Length>,
    /// Half-drop needs both repeats; it is ignored otherwise.
    pub drop: Drop,
    /// A motif, from the left selvedge and the cut end.
    pub origin: Spot,
}

/// The places that an anchor may take along y for one x: `phase + k * period`, or any.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct Steps {
    pub phase: i64,
    /// Nought when any place will do.
    pub period: i64,
}

impl Steps {
    pub const ANY: Self = Self { phase: 0, period: 0 };

    /// The least allowed place that is not below `y`.
    pub const fn up(self, y: i64) -> i64 {
        if self.period == 0 {
            return y;
        }
        y + (self.phase - y).rem_euclid(self.period)
    }
}

impl Pattern {
    /// Whether the lattice is staggered.
    pub fn staggered(&self) -> bool {
        self.drop == Drop::Half && self.width.is_some() && self.length.is_some()
    }

    /// The allowed x of an item whose anchor lies at `anchor`, from `low` to `high`, each with its
    /// steps along y; `None` if any x will do.
    ///
    /// Source: definition of the half-drop: each next column of motifs is moved by half the
    /// length repeat, so that two widths make a full period.
    pub(crate) fn columns(
        &self,
        motif: Spot,
        anchor: Spot,
        low: i64,
        high: i64,
    ) -> Option<Vec<(i64, Steps)>> {
        let width = self.width?.nm();
        let mut found = Vec::new();
        let mut column = (low + anchor.x - motif.x).div_euclid(width);
        loop {
            let x = motif.x + column * width - anchor.x;
            if x > high {
                return Some(found);
            }
            if x >= low {
                found.push((x, self.steps(motif, anchor, column)));
            }
            column += 1;
        }
    }

    /// Steps along y in one column of motifs.
    pub(crate) fn steps(&self, motif: Spot, anchor: Spot, column: i64) -> Steps {
        let Some(length) = self.length else { return Steps::ANY };
        let shift = if self.staggered() && column.rem_euclid(2) == 1 { length.nm() / 2 } else { 0 };
        Steps { phase: motif.y + shift - anchor.y, period: length.nm() }
    }

    /// Whether two anchors are an allowed distance apart.
    pub fn same_phase(&self, a: Spot, b: Spot) -> bool {
        let (dx, dy) = (b.x - a.x, b.y - a.y);
        let column = match self.width {
            None => 0,
            Some(width) if dx.rem_euclid(width.nm()) == 0 => dx.div_euclid(width.nm()),
            Some(_) => return false,
        };
        let Some(length) = self.length else { return true };
        let shift = if self.staggered() && column.rem_euclid(2) == 1 { length.nm() / 2 } else { 0 };
        (dy - shift).rem_euclid(length.nm()) == 0
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn half_drop() -> Pattern {
        let l = Length::from_nm;
        Pattern {
            length: Some(l(18)),
            width: Some(l(10)),
            drop: Drop::Half,
            origin: Spot::new(5, 2),
        }
    }

    #[test]
    fn neighbouring_widths_are_shifted_by_half_and_every_second_one_matches() {
        // A half-drop of 18: the second width lies 9 along the roll, the third matches the first.
        let columns = half_drop().columns(Spot::new(5, 2), Spot::new(0, 0), 0, 40).unwrap();
        let xs: Vec<i64> = columns.iter().map(|c| c.0).collect();
        assert_eq!(xs, [5, 15, 25, 35]);
        let ys: Vec<i64> = columns.iter().map(|c| c.1.up(0)).collect();
        assert_eq!(ys, [2, 11, 2, 11]);
        let p = half_drop();
        assert!(p.same_phase(Spot::new(0, 0), Spot::new(10, 9)));
        assert!(p.same_phase(Spot::new(0, 0), Spot::new(-20, 18)));
        assert!(!p.same_phase(Spot::new(0, 0), Spot::new(10, 18)));
        assert!(!p.same_phase(Spot::new(0, 0), Spot::new(9, 9)));
    }

    #[test]
    fn steps_go_up_to_the_next_motif_and_never_down() {
        let steps = Steps { phase: -3, period: 10 };
        assert_eq!((steps.up(0), steps.up(7), steps.up(8), steps.up(-4)), (7, 7, 17, -3));
        assert_eq!(Steps::ANY.up(4), 4);
    }
}
