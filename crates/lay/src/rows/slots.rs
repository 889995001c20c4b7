//! Where held parts may stand: columns of motifs, for a range of phases.

use crate::form::{Form, Forms};
use crate::ground::Ground;
use crate::{Instance, Placement, Rule};
use geometry::Spot;
use std::collections::BTreeSet;

/// The lattice of motifs.
pub(super) struct Motifs {
    /// From one column to the next.
    pub width: i64,
    /// From one row to the next.
    pub along: i64,
    is_staggered: bool,
    origin: Spot,
    usable: (i64, i64),
}

/// A column of motifs as an origin sees it.
struct Place {
    /// Where the origin lies if the motifs are not moved.
    column: i64,
    /// From here to here as they may be moved.
    x: (i64, i64),
    /// How far up its motifs are.
    up: i64,
}

/// Phases of the matched group from and to, across and along.
#[derive(Clone, Copy, Debug)]
pub(super) struct Range {
    pub across: (i64, i64),
    pub along: (i64, i64),
}

impl Motifs {
    /// `None` without a repeat in both directions.
    pub fn of(instance: &Instance) -> Option<Self> {
        let pattern = instance.pattern.as_ref()?;
        let ground = Ground::new_cloth(instance);
        Some(Self {
            width: pattern.width?.nm(),
            along: pattern.length?.nm(),
            is_staggered: pattern.staggered(),
            origin: ground.motif,
            usable: (ground.left, ground.right),
        })
    }

    /// How many columns there are at most.
    pub const fn columns(&self) -> usize {
        ((self.usable.1 - self.usable.0) / self.width + 1) as usize
    }

    /// All phases, if there is a group.
    pub const fn whole(&self, has_group: bool) -> Range {
        let (across, along) = if has_group { (self.width - 1, self.along - 1) } else { (0, 0) };
        Range { across: (0, across), along: (0, along) }
    }

    /// Columns in which an origin `anchor` from its motif lies within `low` to `high`, with the motifs moved
    /// across by any of `phases`.
    fn places(&self, anchor: Spot, low: i64, high: i64, phases: (i64, i64)) -> Vec<Place> {
        let base = self.origin.x - anchor.x;
        let first = (low - base - phases.1).div_euclid(self.width);
        let last = (high - base - phases.0).div_euclid(self.width);
        let column = |column: i64| {
            let x = base + column * self.width;
            let (from, to) = ((x + phases.0).max(low), (x + phases.1).min(high));
            let is_odd = self.is_staggered && column.rem_euclid(2) == 1;
            let up = self.origin.y - anchor.y + if is_odd { self.along / 2 } else { 0 };
            (from <= to).then_some(Place { column: x, x: (from, to), up })
        };
        (first..=last).filter_map(column).collect()
    }
}

impl Range {
    /// Quarters along of halves across.
    pub fn parts(&self) -> Vec<Self> {
        if self.across.0 == self.across.1 && self.along.0 == self.along.1 {
            return vec![*self];
        }
        let cut = |(low, high): (i64, i64), n: i64| {
            let at = move |i: i64| low + (high + 1 - low) * i / n;
            (0..n).map(move |i| (at(i), at(i + 1) - 1)).filter(|(a, b)| a <= b)
        };
        let along: Vec<(i64, i64)> = cut(self.along, 4).collect();
        cut(self.across, 2)
            .flat_map(|across| along.iter().map(move |&along| Self { across, along }))
            .collect()
    }

    /// Two halves; `None` of a single phase.
    pub fn halves(&self, motifs: &Motifs) -> Option<[Self; 2]> {
        let span = |(low, high): (i64, i64)| high - low;
        let middle = |(low, high): (i64, i64)| low + (high - low) / 2;
        let (across, along) = (span(self.across), span(self.along));
        if across == 0 && along == 0 {
            return None;
        }
        let is_across = i128::from(across) * i128::from(motifs.along)
            > i128::from(along) * i128::from(motifs.width);
        Some(if is_across {
            let m = middle(self.across);
            [
                Self { across: (self.across.0, m), ..*self },
                Self { across: (m + 1, self.across.1), ..*self },
            ]
        } else {
            let m = middle(self.along);
            [
                Self { along: (self.along.0, m), ..*self },
                Self { along: (m + 1, self.along.1), ..*self },
            ]
        })
    }
}

/// A form in a column of motifs.
pub(super) struct Slot<'a> {
    /// Which of the kinds.
    pub kind: usize,
    pub item: usize,
    pub form: &'a Form,
    /// Its origin lies from here to here across.
    pub x: (i64, i64),
    /// The same before the group is moved.
    pub column: i64,
    /// How high a level of the part lies above its origin.
    pub level: i64,
    /// The level's least and greatest height in the lowest row.
    pub phase: (i64, i64),
    /// Whether it moves with the group.
    pub is_member: bool,
}

impl Slot<'_> {
    /// From the lowest point to the level.
    pub fn below(&self) -> i64 {
        self.level - self.form.bounds.low.y
    }

    /// From the level to the highest point.
    pub fn above(&self) -> i64 {
        self.form.bounds.high.y - self.level
    }
}

/// All of them.
pub(super) struct Slots<'a>(pub Vec<Slot<'a>>);

impl<'a> Slots<'a> {
    pub fn of(
        instance: &Instance,
        forms: &'a Forms,
        motifs: &Motifs,
        kinds: &[(usize, usize)],
        range: &Range,
    ) -> Self {
        let ground = Ground::new_cloth(instance);
        let mut slots = Vec::new();
        for (kind, &(item, _)) in kinds.iter().enumerate() {
            let is_member = matches!(instance.items[item].rule, Rule::Matched { .. });
            let (across, along) =
                if is_member { (range.across, range.along) } else { ((0, 0), (0, 0)) };
            for form in &forms.list[item] {
                let (low, high) = ground.across(form);
                let level = form.bounds.low.y + form.bounds.height().nm() / 2;
                for Place { column, x, up } in motifs.places(form.anchor, low, high, across) {
                    let least = (up + level + along.0).rem_euclid(motifs.along);
                    let phase = (least, least + along.1 - along.0);
                    slots.push(Slot { kind, item, form, x, column, level, phase, is_member });
                }
            }
        }
        Self(slots)
    }

    /// The parts of a lay: slots and rows, in order.
    pub fn placed(&self, rows: &[(usize, i64)], along: i64) -> Vec<Placement> {
        let mut copies = std::collections::BTreeMap::new();
        let place = |&(slot, row): &(usize, i64)| {
            let Slot { item, form, x, level, phase, .. } = &self.0[slot];
            let copy: &mut usize = copies.entry(*item).or_default();
            *copy += 1;
            let at = Spot::new(x.0, phase.0 + row * along - level);
            Placement { item: *item, copy: *copy - 1, at, turn: form.turn }
        };
        rows.iter().map(place).collect()
    }
}

/// Phases across at which a member lies against a selvedge, or its side against a centred part in one of its
/// columns.
pub(super) fn across(
    instance: &Instance,
    forms: &Forms,
    motifs: &Motifs,
    kinds: &[(usize, usize)],
) -> Vec<i64> {
    let ground = Ground::new_cloth(instance);
    let none = Range { across: (0, 0), along: (0, 0) };
    let slots = Slots::of(instance, forms, motifs, kinds, &none);
    let mut found = Vec::new();
    let members = kinds.iter().filter(|k| matches!(instance.items[k.0].rule, Rule::Matched { .. }));
    for form in members.flat_map(|&(item, _)| &forms.list[item]) {
        let (low, high) = ground.across(form);
        if low > high {
            continue;
        }
        let mut add = |x: i64| {
            if low <= x && x <= high {
                found.push((x + form.anchor.x - motifs.origin.x).rem_euclid(motifs.width));
            }
        };
        add(low);
        add(high);
        for other in slots.0.iter().filter(|slot| !slot.is_member) {
            add(other.x.0 + other.form.bounds.high.x - form.bounds.low.x);
            add(other.x.0 + other.form.bounds.low.x - form.bounds.high.x);
        }
    }
    // Selvedges first; each once.
    let mut seen = BTreeSet::new();
    found.retain(|phase| seen.insert(*phase));
    found
}
