//! How deep one form lies in another, on a grid of offsets.

use super::distance::distances;
use super::{Depth, Region};
use crate::no_fit::NoFit;

/// Offsets in square cells.
#[derive(Debug, Default)]
pub(super) struct Grid {
    low: [f64; 2],
    /// Side of a cell, and cells to a nanometre.
    pub cell: f64,
    inverse: f64,
    columns: usize,
    rows: usize,
    /// By column: the distance of its middle to the nearest free one, in parts of a cell, and in the last
    /// bit whether some regions are to be asked.
    cells: Box<[u16]>,
    /// Which of the lists of regions, if any.
    asked: Box<[u16]>,
    /// Where each list starts, and the end of the last.
    starts: Box<[u32]>,
    lists: Box<[u16]>,
}

/// What a grid tells of a place.
pub(super) enum Look<'a> {
    /// Nothing is shared.
    Free,
    /// So deep, about.
    Deep(f64),
    /// About so deep, if at all: these regions tell.
    Near(f64, &'a [u16]),
}

/// Cells on the longer side.
const CELLS: f64 = 40.0;

/// Distances are kept in so many parts of a cell.
const PARTS: f64 = 512.0;

impl Grid {
    pub fn of(depth: &Depth, no_fits: &[NoFit]) -> Self {
        let corner = |pick: fn(f64, f64) -> f64, of: fn(&Region) -> [f64; 2], from: f64| {
            depth
                .regions
                .iter()
                .map(of)
                .fold([from; 2], |a, b| [pick(a[0], b[0]), pick(a[1], b[1])])
        };
        let low = corner(f64::min, |r| r.low, f64::INFINITY);
        let high = corner(f64::max, |r| r.high, f64::NEG_INFINITY);
        let (w, h) = (high[0] - low[0], high[1] - low[1]);
        let cell = w.max(h) / CELLS;
        // Too many regions to be numbered are asked all, as are forms without any size.
        if depth.regions.len() > usize::from(u16::MAX) || cell < 1.0 || !cell.is_finite() {
            return Self::without(depth, low, high);
        }
        let columns = (w / cell).floor() as usize + 1;
        let rows = (h / cell).floor() as usize + 1;
        let mut marked = Marked { covered: vec![false; columns * rows], touched: Vec::new() };
        let across = Across { low, cell, columns, rows };
        for (number, no_fit) in no_fits.iter().enumerate() {
            marked.mark(&across, number as u16, no_fit);
        }
        let Marked { covered, mut touched } = marked;
        touched.retain(|&(at, _)| !covered[at as usize]);
        touched.sort_unstable();
        let mut grid = Self {
            low,
            cell,
            inverse: 1.0 / cell,
            columns,
            rows,
            cells: vec![0; columns * rows].into(),
            asked: vec![0; columns * rows].into(),
            starts: Box::default(),
            lists: touched.iter().map(|t| t.1).collect(),
        };
        let mut starts = Vec::new();
        let mut inside = covered;
        let mut last = None;
        for (i, &(at, _)) in touched.iter().enumerate() {
            if last != Some(at) {
                last = Some(at);
                starts.push(i as u32);
                grid.asked[at as usize] = starts.len() as u16;
                grid.cells[at as usize] = 1;
            }
        }
        starts.push(touched.len() as u32);
        grid.starts = starts.into();
        for (at, is_inside) in inside.iter_mut().enumerate() {
            if let Some(list) = grid.list(at) {
                let [x, y] = across.middle(at);
                *is_inside = list.iter().any(|&r| {
                    let region = &depth.regions[usize::from(r)];
                    region.deeper(depth.slanting(region), x, y, 0.0) > 0.0
                });
            }
        }
        for (at, distance) in distances(&inside, rows, columns).into_iter().enumerate() {
            // What is covered whole is deep, however little.
            let parts = ((distance - 0.5).max(0.05) * PARTS).min(65_000.0) as u16;
            grid.cells[at] |= if inside[at] { parts & !1 } else { 0 };
        }
        grid
    }

    /// One cell in which all regions are asked.
    fn without(depth: &Depth, low: [f64; 2], high: [f64; 2]) -> Self {
        let most = depth.regions.len().min(usize::from(u16::MAX));
        let cell = (high[0] - low[0]).max(high[1] - low[1]).max(1.0) + 1.0;
        Self {
            low,
            cell,
            inverse: 1.0 / cell,
            columns: 1,
            rows: 1,
            cells: vec![1].into(),
            asked: vec![1].into(),
            starts: vec![0, most as u32].into(),
            lists: (0..most as u16).collect(),
        }
    }

    pub fn bytes(&self) -> usize {
        2 * size_of_val(&*self.cells) + size_of_val(&*self.starts) + size_of_val(&*self.lists)
    }

    /// The regions to be asked about a cell.
    fn list(&self, at: usize) -> Option<&[u16]> {
        let number = usize::from(self.asked[at]).checked_sub(1)?;
        Some(&self.lists[self.starts[number] as usize..self.starts[number + 1] as usize])
    }

    pub fn look(&self, x: f64, y: f64) -> Look<'_> {
        let (u, v) = ((x - self.low[0]) * self.inverse, (y - self.low[1]) * self.inverse);
        if !(u >= 0.0 && v >= 0.0) {
            return Look::Free;
        }
        let (i, j) = (u as usize, v as usize);
        if i >= self.columns || j >= self.rows {
            return Look::Free;
        }
        let at = i * self.rows + j;
        match self.cells[at] {
            0 => Look::Free,
            parts if parts & 1 == 0 => Look::Deep(self.between(u, v)),
            parts => {
                let about = if parts == 1 { 0.0 } else { self.between(u, v) };
                Look::Near(about, self.list(at).unwrap_or_default())
            }
        }
    }

    /// The distance between the four middles about a place; never quite nought.
    fn between(&self, u: f64, v: f64) -> f64 {
        let (u, v) = (u - 0.5, v - 0.5);
        let (i, j) = (u.floor(), v.floor());
        let (s, t) = (u - i, v - j);
        let (i, j) = (i as isize, j as isize);
        let of = |i: isize, j: isize| {
            let inside =
                i >= 0 && j >= 0 && (i as usize) < self.columns && (j as usize) < self.rows;
            if inside {
                f64::from(self.cells[i as usize * self.rows + j as usize] & !1)
            } else {
                0.0
            }
        };
        let near = of(i, j) * (1.0 - t) + of(i, j + 1) * t;
        let far = of(i + 1, j) * (1.0 - t) + of(i + 1, j + 1) * t;
        ((near * (1.0 - s) + far * s) / PARTS).max(0.02) * self.cell
    }
}

/// Where the cells of a grid lie.
struct Across {
    low: [f64; 2],
    cell: f64,
    columns: usize,
    rows: usize,
}

impl Across {
    fn middle(&self, at: usize) -> [f64; 2] {
        let (i, j) = (at / self.rows, at % self.rows);
        [self.low[0] + (i as f64 + 0.5) * self.cell, self.low[1] + (j as f64 + 0.5) * self.cell]
    }
}

/// Cells that lie in one region whole, and those that one may touch.
struct Marked {
    covered: Vec<bool>,
    touched: Vec<(u32, u16)>,
}

impl Marked {
    /// Marks the cells of a region column by column.
    fn mark(&mut self, across: &Across, number: u16, no_fit: &NoFit) {
        let Across { low, cell, columns, rows } = *across;
        let (Some(first), Some(last)) = (no_fit.lower.first(), no_fit.lower.last()) else { return };
        let column =
            |x: f64| ((x - low[0]) / cell).floor().clamp(0.0, columns as f64 - 1.0) as usize;
        let row = |y: f64| ((y - low[1]) / cell).floor().clamp(0.0, rows as f64 - 1.0) as usize;
        // A nanometre or two more is touched and less is covered: edges are set out, sums rounded.
        const HAIR: f64 = 4.0;
        let (from, to) = (first.x as f64, last.x as f64);
        for i in column(from - HAIR)..=column(to + HAIR) {
            let (x0, x1) = (low[0] + i as f64 * cell, low[0] + (i + 1) as f64 * cell);
            let (a, b) = (x0.max(from), x1.min(to));
            let (a, b) = (a.min(to), b.max(from));
            let [la, lb] = [a, b].map(|x| height(no_fit.lower, x));
            let [ua, ub] = [a, b].map(|x| height(no_fit.upper, x));
            let within = |p: &&geometry::Spot| a < p.x as f64 && (p.x as f64) < b;
            let lows = no_fit.lower.iter().filter(within).map(|p| p.y as f64);
            let highs = no_fit.upper.iter().filter(within).map(|p| p.y as f64);
            let lowest = lows.fold(la.min(lb), f64::min) - HAIR;
            let highest = highs.fold(ua.max(ub), f64::max) + HAIR;
            let is_whole = from + HAIR <= x0 && x1 <= to - HAIR;
            let (inner_low, inner_high) = (la.max(lb) + HAIR, ua.min(ub) - HAIR);
            for j in row(lowest)..=row(highest) {
                let (y0, y1) = (low[1] + j as f64 * cell, low[1] + (j + 1) as f64 * cell);
                let at = i * rows + j;
                if is_whole && inner_low <= y0 && y1 <= inner_high {
                    self.covered[at] = true;
                } else {
                    self.touched.push((at as u32, number));
                }
            }
        }
    }
}

/// Height of a chain of corners at x, which lies within it.
fn height(chain: &[geometry::Spot], x: f64) -> f64 {
    let i = chain.partition_point(|p| (p.x as f64) < x).clamp(1, chain.len().max(2) - 1);
    let (Some(a), Some(b)) = (chain.get(i - 1), chain.get(i)) else {
        return chain.first().map_or(0.0, |p| p.y as f64);
    };
    let run = (b.x - a.x) as f64;
    if run <= 0.0 {
        return b.y as f64;
    }
    a.y as f64 + (b.y - a.y) as f64 * ((x - a.x as f64) / run)
}
