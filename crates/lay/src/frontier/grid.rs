//! Where parts lie across the cloth, in cells, and how far apart two must be along it.

use super::Kinds;
use super::front::Height;
use crate::form::{Form, Forms};
use crate::ground::Ground;
use crate::no_fit::{NoFit, NoFits, Piece};
use crate::pattern::Steps;
use crate::{Instance, Stock};
use geometry::{Rect, Spot};
use std::collections::BTreeMap;

/// A form of a kind, and where its origin may come to lie across the cloth.
pub(super) struct Shape<'a> {
    pub kind: usize,
    pub form: &'a Form,
    /// Stretches across the cloth from and to, with the steps it may take along it.
    places: Vec<(i64, i64, Steps)>,
    /// The level that parts are sorted by, above the origin.
    level: i64,
}

/// The shapes of all kinds on a strip.
pub(super) fn shapes<'a>(
    instance: &Instance,
    forms: &'a Forms,
    kinds: &Kinds,
    stock: Stock,
    length: i64,
) -> Vec<Shape<'a>> {
    let ground = Ground::of(instance, stock);
    // Past a roll the next length starts on a motif of its own.
    let divided = match stock {
        Stock::New(_) => instance.buying.roll.is_some_and(|roll| roll.nm() < length),
        Stock::OnHand(_) => false,
    };
    let kept = |steps: Steps| if divided { Steps::ANY } else { steps };
    let mut shapes = Vec::new();
    for (kind, &item) in kinds.items.iter().enumerate() {
        for form in &forms.list[item] {
            // Matched groups may start anywhere: as if they were free.
            let Some(places) = ground.places(form, ground.motif_of(item, &[])) else { continue };
            let each = places.stretches().into_iter();
            let places = each.map(|(from, to, steps)| (from, to, kept(steps))).collect();
            shapes.push(Shape { kind, form, places, level: level(form) });
        }
    }
    shapes
}

/// Half-way between the levels at which it reaches furthest to either side: of parts side by side the
/// widest stretches are then sorted alike.
fn level(form: &Form) -> i64 {
    let points = form.polygon.points();
    let mean = |x: i64| {
        let ys = || points.iter().filter(|p| p.x == x).map(|p| p.y);
        (ys().min().unwrap_or(0) + ys().max().unwrap_or(0)) / 2
    };
    let xs = || points.iter().map(|p| p.x);
    (mean(xs().min().unwrap_or(0)) + mean(xs().max().unwrap_or(0))) / 2
}

/// A stretch across the cloth in which a form's origin lies.
pub(super) struct Cell {
    pub kind: usize,
    /// The cell of the level before that it is part of.
    pub parent: usize,
    /// Least height of its level above the cut end, and of the upper end above its level.
    pub low: Height,
    pub high: Height,
    shape: usize,
    from: i64,
    to: i64,
    /// Heights of its level in nanometres.
    steps: Steps,
    /// Heights that flaws bar, rising.
    barred: Vec<(Height, Height)>,
}

impl Cell {
    /// The least height that the cell's form may take from this one up.
    pub fn up(&self, height: Height) -> Height {
        let mut height = height;
        loop {
            if self.steps.period != 0 {
                let nm = self.steps.up(i64::from(height) * MICROMETRE);
                height = (nm / MICROMETRE) as Height;
            }
            let over = self.barred.iter().find(|bar| bar.0 < height && height < bar.1);
            match over {
                Some(bar) => height = bar.1,
                None => return height,
            }
        }
    }
}

/// Nanometres.
pub(super) const MICROMETRE: i64 = 1000;

/// The cells of one level of fineness.
pub(super) struct Grid {
    pub cells: Vec<Cell>,
    /// The length of the strip.
    pub limit: Height,
    length: i64,
    /// How much higher the second cell's form lies than the first's, at least.
    apart: Vec<Height>,
}

impl Grid {
    /// Each level has the cells of the one before halved.
    pub fn new(shapes: &[Shape], flaws: &[Rect], length: i64, level: u32) -> Self {
        let play = shapes.iter().flat_map(|s| &s.places).map(|p| p.1 - p.0).max().unwrap_or(0);
        let width = |level: u32| {
            let finest = ((play / super::CELLS) >> super::LEVELS) + 1;
            finest << (super::LEVELS - level)
        };
        let mut cells = Vec::new();
        // Cells of the level before come in the same order.
        let mut parents = 0;
        for (s, shape) in shapes.iter().enumerate() {
            let bounds = shape.form.bounds;
            for &(from, to, steps) in &shape.places {
                let number = |width: i64| ((to - from - 1).max(0) / width + 1) as usize;
                for i in 0..number(width(level)) {
                    let start = from + i as i64 * width(level);
                    cells.push(Cell {
                        kind: shape.kind,
                        parent: parents + i / 2,
                        low: ((shape.level - bounds.low.y) / MICROMETRE) as Height,
                        high: ((bounds.high.y - shape.level) / MICROMETRE) as Height,
                        shape: s,
                        from: start,
                        to: to.min(start + width(level)),
                        steps: Steps { phase: steps.phase + shape.level, ..steps },
                        barred: barred(shape, flaws, start, to.min(start + width(level))),
                    });
                }
                parents += if level == 0 { 0 } else { number(width(level - 1)) };
            }
        }
        let n = cells.len();
        let mut table = vec![0; n * n];
        let of = |s: usize| (0..n).filter(|&c| cells[c].shape == s).collect::<Vec<_>>();
        let of: Vec<Vec<usize>> = (0..shapes.len()).map(of).collect();
        for (p, below) in shapes.iter().enumerate() {
            for (q, above) in shapes.iter().enumerate() {
                let no_fits = NoFits::all(above.form.exact(), below.form.exact());
                let mut known = BTreeMap::new();
                for (&i, &j) in of[p].iter().flat_map(|i| of[q].iter().map(move |j| (i, j))) {
                    let (a, b) = (&cells[i], &cells[j]);
                    let ends = (b.from - a.to, b.to - a.from);
                    let levels = above.level - below.level;
                    let least = || apart(&no_fits, ends.0, ends.1, levels);
                    table[i * n + j] = *known.entry(ends).or_insert_with(least);
                }
            }
        }
        let limit = (length / MICROMETRE + 1) as Height;
        Self { cells, limit, length, apart: table }
    }

    /// How much higher the second cell's form lies than the first's, at least.
    pub fn apart(&self, lower: usize, upper: usize) -> Height {
        self.apart[lower * self.cells.len() + upper]
    }

    /// The strip the other way up.
    pub fn turned(mut self) -> Self {
        let n = self.cells.len();
        self.apart = (0..n * n).map(|at| self.apart[at % n * n + at / n]).collect();
        for cell in &mut self.cells {
            std::mem::swap(&mut cell.low, &mut cell.high);
            cell.steps.phase = self.length - cell.steps.phase;
            let limit = self.limit;
            cell.barred = cell.barred.iter().map(|b| (limit - b.1, limit - b.0)).rev().collect();
        }
        self
    }
}

/// Heights of a shape's level that flaws bar wherever across its cell it lies.
fn barred(shape: &Shape, flaws: &[Rect], from: i64, to: i64) -> Vec<(Height, Height)> {
    let mut barred = Vec::new();
    for flaw in flaws {
        let (low, high) = (flaw.low, flaw.high);
        let corners = [low, Spot::new(high.x, low.y), high, Spot::new(low.x, high.y)];
        for no_fit in NoFits::all(shape.form.exact_face(), &[Piece::new(&corners, 0)]).iter() {
            let (Some(p), Some(q)) = (no_fit.slice(from), no_fit.slice(to)) else { continue };
            let range = (p.0.max(q.0) + ROUNDED, p.1.min(q.1) - ROUNDED);
            let micrometres = |nm: i64| ((nm + shape.level) / MICROMETRE) as Height;
            // Inwards, as everything is rounded in favour of lying lower.
            let (low, high) = (micrometres(range.0) + 1, micrometres(range.1) - 1);
            if low < high {
                barred.push((low, high));
            }
        }
    }
    barred.sort_unstable();
    barred
}

/// Rounding of a slice outwards, at each end, in nanometres.
const ROUNDED: i64 = 2;

/// How much higher the level of one form lies than that of another which it is not below, at least,
/// wherever across the cloth they are from `from` to `to` apart; `levels` is by how much the level of the
/// upper is further above its origin.
///
/// Over a stretch across the cloth a convex no-fit polygon forbids what it forbids at both ends.
fn apart(no_fits: &NoFits, from: i64, to: i64, levels: i64) -> Height {
    let both = |no_fit: NoFit| {
        let (p, q) = (no_fit.slice(from)?, no_fit.slice(to)?);
        let range = (p.0.max(q.0) + ROUNDED + levels, p.1.min(q.1) - ROUNDED + levels);
        (range.0 < range.1).then_some(range)
    };
    let mut forbidden: Vec<(i64, i64)> = no_fits.iter().filter_map(both).collect();
    forbidden.sort_unstable();
    let above = |top: i64, r: &(i64, i64)| if r.0 <= top { top.max(r.1) } else { top };
    (forbidden.iter().fold(0, above) / MICROMETRE) as Height
}
