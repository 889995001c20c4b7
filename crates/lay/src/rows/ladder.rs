//! How many rows up each part stands at least after others, and every order gone through.

use super::slots::{Slot, Slots};
use crate::no_fit::NoFits;
use std::cell::Cell;
use std::collections::BTreeMap;

/// Which steps are told.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(super) enum Steps {
    /// No lay has smaller ones.
    Least,
    /// Parts that keep them are clear of one another.
    Sure,
}

/// Rounding of a slice outwards, at each end, in nanometres.
const ROUNDED: i64 = 2;

/// So many labels fit the memory.
const MOST_LABELS: usize = 4_000_000;

/// Steps between slots, in rows.
pub(super) struct Ladder {
    /// Level of the second above that of the first, at least, in nanometres.
    apart: Vec<i64>,
    /// The same in rows.
    rows: Vec<i32>,
    /// The lowest row of each slot from the cut end.
    first: Vec<i32>,
    /// Kind, and height of the top in the lowest row, of each slot.
    slots: Vec<(usize, i64)>,
    along: i64,
}

/// The lowest way up.
pub(super) struct Climbed {
    pub top: i64,
    /// Slots and rows, lowest first.
    pub placed: Vec<(usize, i64)>,
}

/// What is known once some parts are laid.
struct Label {
    /// The lowest row of each slot for a part still to come.
    rows: Vec<i32>,
    top: i64,
    /// The label before, and the part laid since: slot and row.
    before: u32,
    last: (u16, i32),
}

impl Ladder {
    pub fn new(slots: &Slots, along: i64, which: Steps) -> Self {
        let all = &slots.0;
        let n = all.len();
        let mut apart = vec![0; n * n];
        let mut known: BTreeMap<(usize, usize), NoFits> = BTreeMap::new();
        for (i, below) in all.iter().enumerate() {
            for (j, above) in all.iter().enumerate() {
                let key = (below.form.number, above.form.number);
                let no_fits = known
                    .entry(key)
                    .or_insert_with(|| NoFits::all(above.form.exact(), below.form.exact()));
                apart[i * n + j] = clear(no_fits, below, above, which);
            }
        }
        let rows = (0..n * n)
            .map(|at| {
                let (below, above) = (&all[at / n], &all[at % n]);
                // Members of the group move together.
                let reach =
                    if below.is_member && above.is_member { above.phase.0 } else { above.phase.1 };
                up(apart[at] + below.phase.0 - reach, along)
            })
            .collect();
        let first = all.iter().map(|s| up(s.below() - s.phase.1, along)).collect();
        let slots = all.iter().map(|s| (s.kind, s.phase.0 + s.above())).collect();
        Self { apart, rows, first, slots, along }
    }

    /// Phases along at which a member just touches a centred part, or the cut end.
    pub fn touching(&self, slots: &Slots) -> Vec<i64> {
        let all = &slots.0;
        let n = all.len();
        let mut found: Vec<i64> = Vec::new();
        for (i, member) in all.iter().enumerate().filter(|(_, slot)| slot.is_member) {
            found.push((member.below() - member.phase.0).rem_euclid(self.along));
            for (j, other) in all.iter().enumerate().filter(|(_, slot)| !slot.is_member) {
                let over = other.phase.0 + self.apart[j * n + i] - member.phase.0;
                let under = other.phase.0 - self.apart[i * n + j] - member.phase.0;
                found.extend([over, under].map(|y| y.rem_euclid(self.along)));
            }
        }
        found.sort_unstable();
        found.dedup();
        found
    }

    /// The lowest top of all orders, if it is no more than `longest`; `None` once it takes more than `most`
    /// steps, or is told to stop.
    pub fn climb(
        &self,
        counts: &[usize],
        longest: i64,
        steps: &Cell<u64>,
        most: u64,
        stop: &(dyn Fn() -> bool + Sync),
    ) -> Option<Option<Climbed>> {
        let mut places = Vec::with_capacity(counts.len());
        let mut states = 1;
        for &count in counts {
            places.push(states);
            states *= count + 1;
        }
        let laid = |state: usize, kind: usize| state / places[kind] % (counts[kind] + 1);
        let mut labels = vec![Label { rows: self.first.clone(), top: 0, before: 0, last: (0, 0) }];
        let mut at: Vec<Vec<u32>> = vec![Vec::new(); states];
        at[0].push(0);
        for state in 0..states - 1 {
            if steps.get() > most || stop() {
                return None;
            }
            for label in std::mem::take(&mut at[state]) {
                for (slot, &(kind, height)) in self.slots.iter().enumerate() {
                    if laid(state, kind) == counts[kind] {
                        continue;
                    }
                    let from = &labels[label as usize];
                    let row = from.rows[slot];
                    let top = from.top.max(height + i64::from(row) * self.along);
                    if top > longest {
                        continue;
                    }
                    let next = state + places[kind];
                    let is_open = |k: usize| laid(next, k) < counts[k];
                    let rows = self.raised(&from.rows, slot, row, is_open);
                    let new = Label { rows, top, before: label, last: (slot as u16, row) };
                    if labels.len() == MOST_LABELS {
                        return None;
                    }
                    let spent = keep(&mut labels, &mut at[next], new);
                    steps.set(steps.get() + spent * self.slots.len() as u64 + 20);
                }
                // The way back needs no rows.
                labels[label as usize].rows = Vec::new();
            }
        }
        let best = at[states - 1].iter().min_by_key(|&&l| labels[l as usize].top);
        Some(best.map(|&label| Climbed {
            top: labels[label as usize].top,
            placed: traced(&labels, label),
        }))
    }

    /// The lowest rows after one more part.
    fn raised(
        &self,
        from: &[i32],
        slot: usize,
        row: i32,
        is_open: impl Fn(usize) -> bool,
    ) -> Vec<i32> {
        let n = self.slots.len();
        let steps = &self.rows[slot * n..(slot + 1) * n];
        let next = |((&(kind, _), &known), &step): ((&(usize, i64), &i32), &i32)| {
            // What no part is left for tells nothing apart.
            if is_open(kind) { known.max(row + step) } else { 0 }
        };
        self.slots.iter().zip(from).zip(steps).map(next).collect()
    }
}

/// Adds a label, unless another is nowhere higher; drops those that are nowhere lower than it. How many were
/// looked at.
fn keep(labels: &mut Vec<Label>, here: &mut Vec<u32>, new: Label) -> u64 {
    let is_under =
        |a: &Label, b: &Label| a.top <= b.top && a.rows.iter().zip(&b.rows).all(|(a, b)| a <= b);
    let looked = here.len() as u64 + 1;
    if here.iter().any(|&l| is_under(&labels[l as usize], &new)) {
        return looked;
    }
    here.retain(|&l| {
        let is_needless = is_under(&new, &labels[l as usize]);
        if is_needless {
            labels[l as usize].rows = Vec::new();
        }
        !is_needless
    });
    here.push(labels.len() as u32);
    labels.push(new);
    looked
}

/// The parts laid up to a label.
fn traced(labels: &[Label], mut label: u32) -> Vec<(usize, i64)> {
    let mut placed = Vec::new();
    while label != 0 {
        let Label { before, last: (slot, row), .. } = labels[label as usize];
        placed.push((usize::from(slot), i64::from(row)));
        label = before;
    }
    placed.reverse();
    placed
}

/// Whole rows that are no less.
fn up(nm: i64, along: i64) -> i32 {
    (nm + along - 1).div_euclid(along) as i32
}

/// How far the level of the upper slot is above that of the lower one.
///
/// Over a stretch across the cloth a convex no-fit polygon forbids what it forbids at both ends.
fn clear(no_fits: &NoFits, below: &Slot, above: &Slot, which: Steps) -> i64 {
    let (from, to) = if below.is_member == above.is_member {
        (above.column - below.column, above.column - below.column)
    } else {
        (above.x.0 - below.x.1, above.x.1 - below.x.0)
    };
    let levels = above.level - below.level;
    let both = |no_fit: crate::no_fit::NoFit| {
        let (p, q) = (no_fit.slice(from)?, no_fit.slice(to)?);
        let rounded = if which == Steps::Least { ROUNDED } else { 0 };
        let range = (p.0.max(q.0) + rounded + levels, p.1.min(q.1) - rounded + levels);
        (range.0 < range.1).then_some(range)
    };
    let mut forbidden: Vec<(i64, i64)> = no_fits.iter().filter_map(both).collect();
    match which {
        Steps::Sure => forbidden.iter().fold(0, |most, range| most.max(range.1)),
        Steps::Least => {
            // Up from the same level, as far as there is no gap to lie in.
            forbidden.sort_unstable();
            forbidden.iter().fold(0, |top, r| if r.0 < top { top.max(r.1) } else { top })
        }
    }
}
