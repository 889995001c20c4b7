//! A first outline without anything tapped: what does not look like the floor near the sheets.

use crate::ground::Ground;
use geometry::Point;
use nalgebra::{Matrix3, Vector3};
use rayon::prelude::*;

/// Side of a cell, in mm.
const CELL: f64 = 3.0;
/// The floor is known this near to a sheet's paper, in mm.
const FLOOR: f64 = 24.0;
/// The part is known this near to the place tapped, in mm.
const PART: f64 = 45.0;
/// Colours of floor and of part, each.
const COLOURS: usize = 3;
/// Colours this many standard deviations from the floor's may be the part's.
const UNLIKE: f64 = 4.0;
/// Smaller openings are not proposed, in square mm.
const LEAST_HOLE: f64 = 1500.0;
/// At most this many cells either way.
const MOST: usize = 1600;

/// The floor in cells.
struct Cells {
    corner: Point,
    across: usize,
    up: usize,
    light: Vec<Option<Vector3<f64>>>,
}

impl Cells {
    fn at(&self, i: usize) -> Point {
        let (column, row) = (i % self.across, i / self.across);
        Point::new(
            self.corner.x + (column as f64 + 0.5) * CELL,
            self.corner.y + (row as f64 + 0.5) * CELL,
        )
    }

    fn of(&self, p: Point) -> Option<usize> {
        let (x, y) = ((p.x - self.corner.x) / CELL, (p.y - self.corner.y) / CELL);
        let inside = x >= 0.0 && y >= 0.0 && x < self.across as f64 && y < self.up as f64;
        inside.then(|| y as usize * self.across + x as usize)
    }
}

/// Outlines on the part's upper face, the outer one first, then openings; nothing if no part stands out.
/// `inside` is a place on the part; the middle of the sheets if nobody said.
pub fn propose(ground: &Ground, inside: Option<Point>) -> Vec<Vec<Point>> {
    let Some(cells) = cells(ground, inside) else { return Vec::new() };
    let floor_known: Vec<bool> =
        (0..cells.light.len()).map(|i| ground.off_sheets(cells.at(i)) < FLOOR).collect();
    let pick = |of: &[bool]| -> Vec<Vector3<f64>> {
        cells
            .light
            .iter()
            .zip(of)
            .filter(|(l, is)| **is && l.is_some())
            .filter_map(|(l, _)| *l)
            .collect()
    };
    let start = inside.and_then(|p| cells.of(p));
    let mut is_part: Vec<bool> = match inside {
        Some(seed) => {
            (0..cells.light.len()).map(|i| (cells.at(i) - seed).length() < PART).collect()
        }
        None => {
            let Some(floor) = Mixture::of(&pick(&floor_known)) else { return Vec::new() };
            unlike(&cells, &floor, &floor_known)
        }
    };
    let mut is_floor = floor_known.clone();
    let mut found = Vec::new();
    for _ in 0..5 {
        let (Some(part), Some(floor)) =
            (Mixture::of(&pick(&is_part)), Mixture::of(&pick(&is_floor)))
        else {
            return Vec::new();
        };
        let likely: Vec<f64> = cells
            .light
            .par_iter()
            .zip(&floor_known)
            .map(|(l, known)| match l {
                Some(l) if !known => (part.log(l) - floor.log(l)).clamp(-8.0, 8.0),
                _ => -8.0,
            })
            .collect();
        let smooth = blurred(&likely, cells.across, 2);
        found = match start {
            Some(start) => connected(&smooth, cells.across, start),
            None => largest(&smooth, cells.across),
        };
        if found.iter().filter(|f| **f).count() < 30 {
            return Vec::new();
        }
        is_part = worn(&found, cells.across, 3, true);
        is_floor = worn(&found, cells.across, 3, false).iter().map(|f| !f).collect();
    }
    loops(&found, &cells)
}

fn cells(ground: &Ground, inside: Option<Point>) -> Option<Cells> {
    let mut points: Vec<Point> = ground.sheets().collect();
    points.extend(inside);
    let far = |of: fn(&Point) -> f64| {
        points
            .iter()
            .map(of)
            .fold((f64::INFINITY, f64::NEG_INFINITY), |(l, h), v| (l.min(v), h.max(v)))
    };
    let ((left, right), (bottom, top)) = (far(|p| p.x), far(|p| p.y));
    let round = 160.0;
    let count = |low: f64, high: f64| ((high - low + 2.0 * round) / CELL) as usize;
    let (across, up) = (count(left, right), count(bottom, top));
    if across == 0 || up == 0 || across > MOST || up > MOST {
        return None;
    }
    let corner = Point::new(left - round, bottom - round);
    let mut cells = Cells { corner, across, up, light: Vec::new() };
    cells.light = (0..across * up)
        .into_par_iter()
        .map(|i| {
            let at = cells.at(i);
            let view = ground.view(at)?;
            // Four looks in a cell, so that grain and noise even out.
            let mut sum = Vector3::zeros();
            for (dx, dy) in [(-0.75, -0.75), (0.75, -0.75), (-0.75, 0.75), (0.75, 0.75)] {
                let light = ground.light(view, Point::new(at.x + dx, at.y + dy))?;
                sum += Vector3::from(light.map(|l| libm::log(f64::from(l) + 0.004)));
            }
            Some(sum / 4.0)
        })
        .collect();
    Some(cells)
}

/// A few bells of colour.
struct Mixture(Vec<(f64, Vector3<f64>, Matrix3<f64>)>);

impl Mixture {
    /// Source: Lloyd's k-means (1982), then a bell for each cluster.
    fn of(all: &[Vector3<f64>]) -> Option<Self> {
        // Enough to know the colours, few enough to be quick; always the same ones.
        let values: Vec<Vector3<f64>> = all.iter().step_by(all.len() / 6000 + 1).copied().collect();
        if values.len() < 40 {
            return None;
        }
        let mut sorted: Vec<f64> = values.iter().map(Vector3::sum).collect();
        sorted.sort_by(f64::total_cmp);
        let near = |share: f64| {
            let want = sorted[(share * (sorted.len() - 1) as f64) as usize];
            values
                .iter()
                .min_by(|a, b| (a.sum() - want).abs().total_cmp(&(b.sum() - want).abs()))
                .copied()
        };
        let mut middles: Vec<Vector3<f64>> =
            (0..COLOURS).filter_map(|k| near((k as f64 + 0.5) / COLOURS as f64)).collect();
        let nearest = |middles: &[Vector3<f64>], v: &Vector3<f64>| {
            let d = |k: &usize| (middles[*k] - v).norm_squared();
            (0..middles.len()).min_by(|a, b| d(a).total_cmp(&d(b))).unwrap_or(0)
        };
        let mut groups: Vec<Vec<Vector3<f64>>> = Vec::new();
        for _ in 0..8 {
            groups = vec![Vec::new(); middles.len()];
            for v in &values {
                groups[nearest(&middles, v)].push(*v);
            }
            for (middle, group) in middles.iter_mut().zip(&groups) {
                if !group.is_empty() {
                    *middle = group.iter().sum::<Vector3<f64>>() / group.len() as f64;
                }
            }
        }
        let total = values.len() as f64;
        let bell = |group: &Vec<Vector3<f64>>| {
            let n = group.len() as f64;
            let middle = group.iter().sum::<Vector3<f64>>() / n;
            let spread =
                group.iter().map(|v| (v - middle) * (v - middle).transpose()).sum::<Matrix3<f64>>()
                    / n
                    + Matrix3::identity() * 1.5e-3;
            let factor = spread.cholesky()?;
            let size = factor.l().diagonal().product();
            Some((libm::log(n / total / size), middle, factor.inverse()))
        };
        let bells: Vec<_> = groups.iter().filter(|g| g.len() > 10).filter_map(bell).collect();
        (!bells.is_empty()).then_some(Self(bells))
    }

    /// How far a colour is from the nearest bell, in standard deviations.
    fn far(&self, v: &Vector3<f64>) -> f64 {
        let each =
            self.0.iter().map(|(_, middle, inverse)| (v - middle).dot(&(inverse * (v - middle))));
        each.fold(f64::INFINITY, f64::min).sqrt()
    }

    fn log(&self, v: &Vector3<f64>) -> f64 {
        let each = self.0.iter().map(|(weight, middle, inverse)| {
            let d = v - middle;
            weight - 0.5 * d.dot(&(inverse * d))
        });
        each.fold(f64::NEG_INFINITY, f64::max)
    }
}

/// The mean over a square, three times: nearly a bell.
fn blurred(values: &[f64], across: usize, reach: usize) -> Vec<f64> {
    let up = values.len() / across;
    let mut now = values.to_vec();
    for _ in 0..2 {
        for is_across in [true, false] {
            let (count, step) = if is_across { (across, 1) } else { (up, across) };
            let lines = if is_across { up } else { across };
            let mut next = now.clone();
            for line in 0..lines {
                let base = if is_across { line * across } else { line };
                for i in 0..count {
                    let (a, b) = (i.saturating_sub(reach), (i + reach).min(count - 1));
                    let sum: f64 = (a..=b).map(|k| now[base + k * step]).sum();
                    next[base + i * step] = sum / (b - a + 1) as f64;
                }
            }
            now = next;
        }
    }
    now
}

/// The largest patch of cells that do not look like the floor.
fn unlike(cells: &Cells, floor: &Mixture, floor_known: &[bool]) -> Vec<bool> {
    let odd: Vec<f64> = cells
        .light
        .par_iter()
        .zip(floor_known)
        .map(|(l, known)| match l {
            Some(l) if !known => (floor.far(l) - UNLIKE).clamp(-8.0, 8.0),
            _ => -8.0,
        })
        .collect();
    largest(&blurred(&odd, cells.across, 2), cells.across)
}

/// The largest patch of cells above nought.
fn largest(values: &[f64], across: usize) -> Vec<bool> {
    let mut seen = vec![false; values.len()];
    let mut best: (usize, Vec<bool>) = (0, vec![false; values.len()]);
    for i in 0..values.len() {
        if seen[i] || values[i] <= 0.0 {
            continue;
        }
        let patch = connected(values, across, i);
        let mut size = 0;
        for (seen, is) in seen.iter_mut().zip(&patch) {
            *seen |= is;
            size += usize::from(*is);
        }
        if size > best.0 {
            best = (size, patch);
        }
    }
    best.1
}

/// The cells left, right, below and above one of so many.
fn beside(i: usize, across: usize, count: usize) -> [Option<usize>; 4] {
    let column = i % across;
    [
        (column > 0).then(|| i - 1),
        (column + 1 < across).then(|| i + 1),
        i.checked_sub(across),
        (i + across < count).then(|| i + across),
    ]
}

/// Cells above nought that hang together with the start or lie nearest to it.
fn connected(values: &[f64], across: usize, start: usize) -> Vec<bool> {
    let mut found = vec![false; values.len()];
    let mut open = vec![start];
    found[start] = true;
    while let Some(i) = open.pop() {
        let sides = beside(i, across, values.len());
        for other in sides.into_iter().flatten() {
            if !found[other] && values[other] > 0.0 {
                found[other] = true;
                open.push(other);
            }
        }
    }
    found
}

/// The cells at least `reach` cells inside (`inwards`), or those with every cell within `reach` outside.
fn worn(found: &[bool], across: usize, reach: usize, inwards: bool) -> Vec<bool> {
    let mut now = found.to_vec();
    for _ in 0..reach {
        let before = now.clone();
        for i in 0..now.len() {
            let sides = beside(i, across, now.len());
            let mut near = sides.into_iter().flatten().map(|s| before[s]);
            now[i] =
                if inwards { before[i] && near.all(|b| b) } else { before[i] || near.any(|b| b) };
        }
    }
    now
}

/// Outlines of the cells: the longest first, then openings that are large enough.
fn loops(found: &[bool], cells: &Cells) -> Vec<Vec<Point>> {
    let across = cells.across;
    let is = |column: i64, row: i64| {
        column >= 0
            && row >= 0
            && (column as usize) < across
            && (row as usize) < cells.up
            && found[row as usize * across + column as usize]
    };
    // Edges between a cell that is and one that is not, with the part on the left; from corner to corner.
    let mut edges: std::collections::BTreeMap<(i64, i64), Vec<(i64, i64)>> = Default::default();
    for row in 0..cells.up as i64 {
        for column in 0..across as i64 {
            if !is(column, row) {
                continue;
            }
            let (c, r) = (column, row);
            for (other, from, to) in [
                ((c, r - 1), (c, r), (c + 1, r)),
                ((c + 1, r), (c + 1, r), (c + 1, r + 1)),
                ((c, r + 1), (c + 1, r + 1), (c, r + 1)),
                ((c - 1, r), (c, r + 1), (c, r)),
            ] {
                if !is(other.0, other.1) {
                    edges.entry(from).or_default().push(to);
                }
            }
        }
    }
    let mut out: Vec<Vec<Point>> = Vec::new();
    while let Some((&first, _)) = edges.iter().next() {
        let (mut at, mut points) = (first, Vec::new());
        while let Some(next) = edges.get_mut(&at).and_then(Vec::pop) {
            points.push(Point::new(
                cells.corner.x + at.0 as f64 * CELL,
                cells.corner.y + at.1 as f64 * CELL,
            ));
            at = next;
        }
        edges.retain(|_, to| !to.is_empty());
        if points.len() > 12 {
            out.push(points);
        }
    }
    out.sort_by(|a, b| crate::ring::area(b).total_cmp(&crate::ring::area(a)));
    let is_kept = |(i, l): &(usize, &Vec<Point>)| *i == 0 || crate::ring::area(l) < -LEAST_HOLE;
    out.iter()
        .enumerate()
        .filter(is_kept)
        .map(|(_, l)| {
            let mut l = evened(l);
            if crate::ring::area(&l) < 0.0 {
                l.reverse();
            }
            l
        })
        .collect()
}

/// Steps of cells evened out.
fn evened(points: &[Point]) -> Vec<Point> {
    let n = points.len();
    let reach = 2;
    (0..n)
        .map(|i| {
            let near = (0..=2 * reach).map(|k| points[(i + n + k - reach) % n]);
            let sum = near.fold((0.0, 0.0), |s, p| (s.0 + p.x, s.1 + p.y));
            let count = (2 * reach + 1) as f64;
            Point::new(sum.0 / count, sum.1 / count)
        })
        .collect()
}
