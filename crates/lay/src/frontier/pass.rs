//! One pass along the cloth: what the last two parts may be, and how low they may lie.

use super::Kinds;
use super::front::{Front, Height};
use super::grid::Grid;
use rayon::prelude::*;
use std::sync::atomic::{AtomicU64, Ordering};

/// What a pass goes through.
pub(super) struct Question<'a> {
    pub kinds: &'a Kinds,
    pub grid: &'a Grid,
    /// States that may lie elsewhere.
    pub laid: &'a [bool],
    /// Up from the cut end, where what lies elsewhere is counted first; or down from the other.
    pub upwards: bool,
    /// The pass the other way, with cells twice as wide.
    pub before: Option<&'a Pass>,
    pub most: u64,
    pub spent: &'a AtomicU64,
    pub stop: &'a (dyn Fn() -> bool + Sync),
}

/// By state and cell of the last part: the cell of the last but one, rising, and how low both may lie.
type Ends = Vec<Vec<(u32, Front)>>;

/// What a pass left open.
pub(super) struct Pass {
    ends: Vec<Ends>,
}

impl Pass {
    pub fn is_empty(&self, state: usize) -> bool {
        self.ends[state].iter().all(Vec::is_empty)
    }

    /// How high the parts of a state end at least.
    pub fn end(&self, state: usize, grid: &Grid) -> Option<Height> {
        let lists = self.ends[state].iter().zip(&grid.cells);
        lists
            .flat_map(|(list, last)| list.iter().map(move |(before, front)| (before, front, last)))
            .flat_map(|(before, front, last)| {
                let high = grid.cells[*before as usize].high;
                front.pairs().iter().map(move |p| (p.0 + high).max(p.1 + last.high))
            })
            .min()
    }

    fn front(&self, state: usize, last: usize, before: usize) -> Front {
        let list = &self.ends[state][last];
        let at = list.binary_search_by_key(&(before as u32), |end| end.0);
        at.map_or(Front::default(), |i| list[i].1)
    }
}

/// Pairs kept in memory, of some forty bytes each.
const MOST_KEPT: usize = 4_000_000;

impl Question<'_> {
    /// `None` if it was stopped or took too long.
    pub fn pass(&self) -> Option<Pass> {
        let mut ends: Vec<Ends> = Vec::with_capacity(self.kinds.states);
        let mut kept = 0;
        for state in 0..self.kinds.states {
            let enough = self.spent.load(Ordering::Relaxed) > self.most || kept > MOST_KEPT;
            if enough || (self.stop)() {
                return None;
            }
            let lasts = 0..self.grid.cells.len();
            let now: Ends =
                lasts.into_par_iter().map(|last| self.ends(&ends, state, last)).collect();
            kept += now.iter().map(Vec::len).sum::<usize>();
            ends.push(now);
        }
        Some(Pass { ends })
    }

    /// Whether a lay may begin after a state.
    fn begins(&self, state: usize) -> bool {
        if self.upwards { self.laid[state] } else { state == 0 }
    }

    fn ends(&self, ends: &[Ends], state: usize, last: usize) -> Vec<(u32, Front)> {
        let (kinds, grid) = (self.kinds, self.grid);
        let cell = &grid.cells[last];
        let mut found = Vec::new();
        if kinds.of(state, cell.kind) == 0 {
            return found;
        }
        let from = state - kinds.places[cell.kind];
        let mut looks = 0;
        for (b, before) in grid.cells.iter().enumerate() {
            looks += 1;
            if kinds.of(from, before.kind) == 0 {
                continue;
            }
            let two_before = from - kinds.places[before.kind];
            // What is still to come, and these two.
            let left = kinds.states - 1 - two_before;
            let beyond = self.before.map(|pass| pass.front(left, before.parent, cell.parent));
            if beyond.as_ref().is_some_and(Front::is_empty) {
                continue;
            }
            let open = |at: (Height, Height)| match &beyond {
                Some(front) => front
                    .pairs()
                    .iter()
                    .any(|p| at.0 + p.1 <= grid.limit && at.1 + p.0 <= grid.limit),
                None => at.0 + before.high <= grid.limit && at.1 + cell.high <= grid.limit,
            };
            let mut front = Front::default();
            let mut add = |first: Height, least: Height| {
                let next = cell.up(least.max(first + grid.apart(b, last)).max(cell.low));
                if open((first, next)) {
                    front.add((first, next));
                }
            };
            if self.begins(two_before) {
                add(before.up(before.low), 0);
            }
            looks += ends[from][b].len();
            for (a, pairs) in &ends[from][b] {
                let apart = grid.apart(*a as usize, last);
                for &(lowest, first) in pairs.pairs() {
                    add(first, lowest + apart);
                }
            }
            if !front.is_empty() {
                found.push((b as u32, front));
            }
        }
        self.spent.fetch_add(looks as u64, Ordering::Relaxed);
        found
    }
}
