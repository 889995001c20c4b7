//! How wide a part is at every height.

use crate::form::Form;
use geometry::{Polygon, Spot};

/// One item in one turn as stacked bands: height and least width in nanometres within it.
pub(super) struct Slices {
    pub bands: Vec<(f64, f64)>,
    pub height: i64,
}

/// Bands are joined until there are no more.
const MOST_BANDS: usize = 128;

/// Bands cut from each straight stretch of a slanted or curved side. More is tighter, not needed
/// for rectangles.
const CUTS: usize = 8;

impl Slices {
    pub fn of(form: &Form) -> Self {
        let bounds = form.polygon.bounds();
        let height = bounds.height().nm();
        if form.upright {
            return Self { bands: vec![(height as f64, bounds.width().nm() as f64)], height };
        }
        let mut levels: Vec<i64> = form.polygon.points().iter().map(|p| p.y).collect();
        levels.sort_unstable();
        levels.dedup();
        let mut bands = Vec::new();
        let mut sides = Sides::of(&form.polygon);
        for pair in levels.windows(2) {
            let (low, high) = (pair[0] as f64, pair[1] as f64);
            sides.rise(pair[0]);
            let cuts = if high - low < 1e6 { 1 } else { CUTS };
            for i in 0..cuts {
                let from = low + (high - low) * i as f64 / cuts as f64;
                let to = low + (high - low) * (i + 1) as f64 / cuts as f64;
                // Between corners the width is a straight function of height: least at an end.
                let eps = (to - from) * 1e-9;
                let width = sides.width_at(from + eps).min(sides.width_at(to - eps));
                bands.push((to - from, (width - 1.0).max(0.0)));
            }
        }
        Self { bands: fewer(&bands), height }
    }

    /// The longest unbroken stretch of height over which the width is above `least` (or equal to
    /// it, if `or_equal`), and where it starts above the lowest point.
    pub fn core(&self, least: f64, or_equal: bool) -> (f64, f64) {
        let (mut best, mut best_start) = (0.0, 0.0);
        let (mut run, mut start, mut y) = (0.0, 0.0, 0.0);
        for &(height, width) in &self.bands {
            if width > least || (or_equal && width >= least) {
                if run == 0.0 {
                    start = y;
                }
                run += height;
                if run > best {
                    (best, best_start) = (run, start);
                }
            } else {
                run = 0.0;
            }
            y += height;
        }
        (best, best_start)
    }
}

/// What a form covers across at every height of a stretch; `None` if it is not one piece there.
pub(super) fn covered(form: &Form, start: f64, length: f64) -> Option<(i64, i64)> {
    let low = form.polygon.bounds().low.y as f64 + start;
    let high = low + length;
    let inner = form.polygon.points().iter().map(|p| p.y as f64);
    let mut levels: Vec<f64> = inner.filter(|y| low < *y && *y < high).collect();
    levels.extend([low, high]);
    levels.sort_by(f64::total_cmp);
    levels.dedup();
    let (mut from, mut to) = (f64::NEG_INFINITY, f64::INFINITY);
    // Sides run straight between corners: the ends of each stretch tell.
    for pair in levels.windows(2) {
        let eps = (pair[1] - pair[0]) * 1e-9;
        for y in [pair[0] + eps, pair[1] - eps] {
            let [a, b] = crossings(form, y)[..] else { return None };
            from = from.max(a);
            to = to.min(b);
        }
    }
    (from < to).then(|| (from.ceil() as i64 + 1, to.floor() as i64 - 1))
}

/// Bands joined so that few are left, each with the least of their widths.
fn fewer(bands: &[(f64, f64)]) -> Vec<(f64, f64)> {
    let joined = |some: &[(f64, f64)]| {
        some.iter().fold((0.0, f64::INFINITY), |all, band| (all.0 + band.0, all.1.min(band.1)))
    };
    bands.chunks(bands.len().div_ceil(MOST_BANDS).max(1)).map(joined).collect()
}

/// A polygon's sides, gone through from the lowest up.
struct Sides {
    /// Lower end, upper end; the one that starts highest first.
    waiting: Vec<(Spot, Spot)>,
    /// Those that cross the present level.
    here: Vec<(Spot, Spot)>,
}

impl Sides {
    fn of(polygon: &Polygon) -> Self {
        let points = polygon.points();
        let side = |i: usize| {
            let (a, b) = (points[i], points[(i + 1) % points.len()]);
            if a.y <= b.y { (a, b) } else { (b, a) }
        };
        let mut waiting: Vec<(Spot, Spot)> =
            (0..points.len()).map(side).filter(|s| s.0.y < s.1.y).collect();
        waiting.sort_unstable_by_key(|s| (std::cmp::Reverse(s.0.y), s.0.x, s.1));
        Self { waiting, here: Vec::new() }
    }

    /// Goes on to the stretch above a corner.
    fn rise(&mut self, y: i64) {
        self.here.retain(|side| side.1.y > y);
        while let Some(side) = self.waiting.pop_if(|side| side.0.y <= y) {
            self.here.push(side);
        }
    }

    /// Total width of the polygon within this stretch.
    fn width_at(&self, y: f64) -> f64 {
        let x = |(a, b): &(Spot, Spot)| {
            let share = (y - a.y as f64) / ((b.y - a.y) as f64);
            a.x as f64 + (b.x - a.x) as f64 * share
        };
        let mut xs: Vec<f64> = self.here.iter().map(x).collect();
        xs.sort_by(f64::total_cmp);
        xs.chunks_exact(2).map(|pair| pair[1] - pair[0]).sum()
    }
}

/// Where a form's outline crosses height y, from left to right.
fn crossings(form: &Form, y: f64) -> Vec<f64> {
    let points = form.polygon.points();
    let n = points.len();
    let mut xs: Vec<f64> = Vec::new();
    for i in 0..n {
        let (a, b) = (points[i], points[(i + 1) % n]);
        let (ay, by) = (a.y as f64, b.y as f64);
        if (ay <= y) != (by <= y) {
            xs.push(a.x as f64 + (b.x - a.x) as f64 * ((y - ay) / (by - ay)));
        }
    }
    xs.sort_by(f64::total_cmp);
    xs
}
