//! Few rectangles on plain cloth: whether any lay is as short as asked, by trying all of them.
//!
//! Any lay can have its parts pushed down and to the left until none moves. Such a lay is built up from
//! below: on the lowest, leftmost stretch of the skyline, either a part stands at its left end; or the
//! first part on it stands further right, where the right side of a part reaches that overhangs from
//! the left neighbour, so that it is itself higher than that neighbour and the gap is lost up to it; or
//! nothing stands there, and the stretch is lost up to its lower neighbour. Sides lie at totals of
//! widths and of heights (Herz's normal patterns), which shrinks both cloth and what may be lost.
//!
//! Source: derived here from the bottom-left argument; branch and bound over skylines with a budget of
//! waste as in [`crate::fill`].

#![allow(clippy::disallowed_types, reason = "a memory that is only asked, never walked through")]

use crate::Instance;
use crate::columns::{self, Task};
use crate::form::Forms;
use crate::ground::Ground;
use crate::stacked::{gcd, totals};
use std::collections::HashSet;
use std::hash::{DefaultHasher, Hasher};

/// What trying came to.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Outcome {
    /// No lay is so short.
    Impossible,
    /// There is one.
    Possible,
    /// Too many to try.
    TooMany,
}

/// A stretch of the skyline.
#[derive(Clone, Copy)]
struct Ledge {
    x: i64,
    w: i64,
    y: i64,
}

struct Kind {
    left: usize,
    /// Width and height in each turn.
    sizes: Vec<(i64, i64)>,
}

struct Trying<'a> {
    kinds: Vec<Kind>,
    parts: usize,
    length: i64,
    /// Totals of widths, rising.
    xs: Vec<i64>,
    /// Cloth that may still be lost.
    budget: i64,
    nodes: u64,
    most: u64,
    stop: &'a (dyn Fn() -> bool + Sync),
    /// Skylines with the parts left that have led nowhere, as two hashes each: that two of them agree by
    /// chance is less likely than a fault of the machine.
    failed: HashSet<(u64, u64)>,
}

/// So many failures are remembered.
const MOST_FAILED: usize = 3_000_000;

/// Parts a job may have to be tried.
pub(crate) const MOST_PARTS: usize = 30;

/// Parts and cloth in whole steps of the sizes' common divisors.
struct Reduced {
    kinds: Vec<Kind>,
    /// Totals of widths, rising; the last is the cloth that can be used across.
    xs: Vec<i64>,
    /// The cloth that can be used along.
    length: i64,
}

/// Whether all parts fit a length of new cloth, looking at no more than `most` skylines and until `stop`.
pub(crate) fn fits(
    instance: &Instance,
    forms: &Forms,
    length: i64,
    most: u64,
    stop: &(dyn Fn() -> bool + Sync),
) -> Outcome {
    let Reduced { kinds, xs, length } = match reduced(instance, forms, length) {
        Ok(reduced) => reduced,
        Err(outcome) => return outcome,
    };
    // The same in every turn, as what may be turned is in both divisors.
    let area: i64 = kinds
        .iter()
        .map(|k| k.left as i64 * k.sizes.iter().map(|s| s.0 * s.1).min().unwrap_or(0))
        .sum();
    let width = xs.last().copied().unwrap_or(0);
    let parts = kinds.iter().map(|k| k.left).sum();
    let budget = width * length - area;
    let mut trying =
        Trying { kinds, parts, length, xs, budget, nodes: 0, most, stop, failed: HashSet::new() };
    let found = budget >= 0 && trying.place(&[Ledge { x: 0, w: width, y: 0 }]);
    match (found, trying.nodes > most) {
        (true, _) => Outcome::Possible,
        (false, true) => Outcome::TooMany,
        (false, false) => Outcome::Impossible,
    }
}

/// Whether the parts do not even fit if they may be cut into columns, or into rows; and how many choices
/// were looked at.
pub(crate) fn never_in_columns(
    instance: &Instance,
    forms: &Forms,
    length: i64,
    most: u64,
    stop: &(dyn Fn() -> bool + Sync),
) -> (bool, u64) {
    let Reduced { kinds, xs, length } = match reduced(instance, forms, length) {
        Ok(reduced) => reduced,
        Err(outcome) => return (outcome == Outcome::Impossible, 0),
    };
    let width = xs.last().copied().unwrap_or(0);
    let tasks = |turned: bool| -> Vec<Task> {
        let size = |&(w, h): &(i64, i64)| if turned { (h, w) } else { (w, h) };
        let of = |k: &Kind| Task { sizes: k.sizes.iter().map(size).collect(), count: k.left };
        kinds.iter().map(of).collect()
    };
    let columns = columns::impossible(&tasks(false), width, length, most, stop);
    if columns.0 {
        return columns;
    }
    let rows = columns::impossible(&tasks(true), length, width, most, stop);
    (rows.0, columns.1 + rows.1)
}

/// `Err` if that settles it.
fn reduced(instance: &Instance, forms: &Forms, length: i64) -> Result<Reduced, Outcome> {
    if instance.copies() > MOST_PARTS {
        return Err(Outcome::TooMany);
    }
    let width = Ground::new_cloth(instance).width();
    let sizes: Vec<(Vec<(i64, i64)>, usize)> = forms
        .list
        .iter()
        .zip(&instance.items)
        .map(|(list, item)| {
            let size = |f: &crate::form::Form| (f.bounds.width().nm(), f.bounds.height().nm());
            (list.iter().map(size).filter(|s| s.0 <= width).collect(), item.count)
        })
        .collect();
    let all = || sizes.iter().flat_map(|(own, _)| own);
    let (gx, gy) = all().fold((0, 0), |(gx, gy), s| (gcd(gx, s.0), gcd(gy, s.1)));
    if gx == 0 || gy == 0 {
        return Err(Outcome::TooMany);
    }
    let own = |axis: fn(&(i64, i64)) -> i64, grid: i64| {
        sizes.iter().map(move |(own, n)| (own.iter().map(|s| axis(s) / grid).collect(), *n))
    };
    let (Some(xs), Some(ys)) =
        (totals(own(|s| s.0, gx), width / gx), totals(own(|s| s.1, gy), length / gy))
    else {
        return Err(Outcome::TooMany);
    };
    // The cloth that can be used at all.
    let Some(&length) = ys.last() else { return Err(Outcome::Impossible) };
    let kinds: Vec<Kind> = sizes
        .iter()
        .map(|(own, n)| Kind {
            left: *n,
            sizes: own.iter().map(|s| (s.0 / gx, s.1 / gy)).collect(),
        })
        .collect();
    Ok(Reduced { kinds, xs, length })
}

impl Trying<'_> {
    /// Whether the parts left fit above a skyline.
    fn place(&mut self, skyline: &[Ledge]) -> bool {
        let key = self.key(skyline);
        if self.failed.contains(&key) {
            return false;
        }
        let found = self.try_all(skyline);
        if !found && self.nodes <= self.most && self.failed.len() < MOST_FAILED {
            self.failed.insert(key);
        }
        found
    }

    fn key(&self, skyline: &[Ledge]) -> (u64, u64) {
        let hash = |seed: u64| {
            let mut hasher = DefaultHasher::new();
            hasher.write_u64(seed);
            for ledge in skyline {
                hasher.write_i64(ledge.x);
                hasher.write_i64(ledge.y);
            }
            for kind in &self.kinds {
                hasher.write_usize(kind.left);
            }
            hasher.finish()
        };
        (hash(1), hash(2))
    }

    fn try_all(&mut self, skyline: &[Ledge]) -> bool {
        self.nodes += 1;
        if self.nodes.is_multiple_of(4096) && (self.stop)() {
            self.nodes = self.most + 1;
        }
        if self.parts == 0 {
            return true;
        }
        if self.nodes > self.most || !self.all_have_room(skyline) {
            return false;
        }
        if self.sure_to_be_lost(skyline) > self.budget {
            return false;
        }
        let Some(at) = (0..skyline.len()).min_by_key(|&i| skyline[i].y) else { return false };
        let ledge = skyline[at];
        let left = at.checked_sub(1).map(|i| skyline[i].y);
        let right = skyline.get(at + 1).map(|l| l.y);
        if self.stand(skyline, at, 0, 0) {
            return true;
        }
        if let Some(left) = left {
            let first = self.xs.partition_point(|&x| x <= ledge.x);
            for i in first..self.xs.len() {
                let gap = self.xs[i] - ledge.x;
                let lost = gap * (left - ledge.y);
                if gap >= ledge.w || lost > self.budget || self.nodes > self.most {
                    break;
                }
                self.budget -= lost;
                let found = self.stand(skyline, at, gap, left);
                self.budget += lost;
                if found {
                    return true;
                }
            }
        }
        let raised = match (left, right) {
            (None, None) => return false,
            (Some(a), Some(b)) => a.min(b),
            (Some(a), None) | (None, Some(a)) => a,
        };
        let lost = ledge.w * (raised - ledge.y);
        if lost > self.budget {
            return false;
        }
        self.budget -= lost;
        let mut next = skyline.to_vec();
        next[at].y = raised;
        let found = self.place(&joined(next));
        self.budget += lost;
        found
    }

    /// Every part stood on a ledge in turn, `gap` from its left end, the gap filled up to `left`.
    fn stand(&mut self, skyline: &[Ledge], at: usize, gap: i64, left: i64) -> bool {
        let ledge = skyline[at];
        for kind in 0..self.kinds.len() {
            if self.kinds[kind].left == 0 {
                continue;
            }
            for turn in 0..self.kinds[kind].sizes.len() {
                let (w, h) = self.kinds[kind].sizes[turn];
                let top = ledge.y + h;
                if gap + w > ledge.w || top > self.length || (gap > 0 && top <= left) {
                    continue;
                }
                let mut next = skyline[..at].to_vec();
                next.push(Ledge { x: ledge.x, w: gap, y: left });
                next.push(Ledge { x: ledge.x + gap, w, y: top });
                let rest = ledge.w - gap - w;
                next.push(Ledge { x: ledge.x + gap + w, w: rest, y: ledge.y });
                next.extend(&skyline[at + 1..]);
                self.kinds[kind].left -= 1;
                self.parts -= 1;
                let found = self.place(&joined(next));
                self.kinds[kind].left += 1;
                self.parts += 1;
                if found {
                    return true;
                }
            }
        }
        false
    }

    /// Cloth that no choice of the parts left can fill: at every height of a valley they take a total of
    /// widths that its width holds, and above everything one that the whole cloth holds.
    fn sure_to_be_lost(&self, skyline: &[Ledge]) -> i64 {
        let Some(last) = skyline.last() else { return 0 };
        if last.x + last.w > 127 {
            return 0;
        }
        let mut sums: u128 = 1;
        for kind in &self.kinds {
            for _ in 0..kind.left {
                sums |= kind.sizes.iter().fold(0, |all, size| all | sums << size.0);
            }
        }
        let gap = |w: i64| {
            let within = sums & (u128::MAX >> (127 - w));
            w - (127 - i64::from(within.leading_zeros()))
        };
        let mut lost = 0;
        for (i, ledge) in skyline.iter().enumerate() {
            let left = i.checked_sub(1).map_or(self.length, |i| skyline[i].y);
            let right = skyline.get(i + 1).map_or(self.length, |l| l.y);
            lost += gap(ledge.w) * (left.min(right) - ledge.y).max(0);
        }
        if skyline.len() > 1 {
            let top = skyline.iter().map(|l| l.y).max().unwrap_or(0);
            lost += gap(last.x + last.w) * (self.length - top);
        }
        lost
    }

    /// Whether each kind of part that is left still has somewhere to stand.
    fn all_have_room(&self, skyline: &[Ledge]) -> bool {
        let room = |(w, h): (i64, i64)| {
            let mut run = 0;
            skyline.iter().any(|ledge| {
                run = if ledge.y + h <= self.length { run + ledge.w } else { 0 };
                run >= w
            })
        };
        self.kinds
            .iter()
            .filter(|kind| kind.left > 0)
            .all(|kind| kind.sizes.iter().any(|&size| room(size)))
    }
}

/// Stretches of equal height made one, empty ones dropped.
fn joined(skyline: Vec<Ledge>) -> Vec<Ledge> {
    let mut all: Vec<Ledge> = Vec::with_capacity(skyline.len());
    for ledge in skyline {
        match all.last_mut() {
            _ if ledge.w == 0 => {}
            Some(last) if last.y == ledge.y => last.w += ledge.w,
            _ => all.push(ledge),
        }
    }
    all
}
