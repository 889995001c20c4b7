//! Dark regions of a picture and the four corners of those that look like a mark seen at an angle.

use crate::picture::{Grey, Pixel};

/// Dark where a pixel has less than this share of the brightness about it.
const DARKER: f64 = 0.85;
/// Marks smaller than this many pixels across cannot be read.
const LEAST: usize = 12;

/// A run of dark pixels in a row.
struct Run {
    row: usize,
    from: usize,
    to: usize,
    region: usize,
}

/// Corners of dark regions that have four, clockwise in the picture. `reach` is half the side of the square
/// that brightness is compared with.
pub fn four_cornered(grey: &Grey, reach: usize) -> Vec<[Pixel; 4]> {
    let mut runs = dark_runs(grey, reach);
    let count = number_regions(&mut runs);
    let mut ends: Vec<Vec<(i64, i64)>> = vec![Vec::new(); count];
    for run in &runs {
        let at = &mut ends[run.region];
        at.push((run.from as i64, run.row as i64));
        if run.to > run.from {
            at.push((run.to as i64, run.row as i64));
        }
    }
    let most = grey.width.min(grey.height) / 3;
    ends.iter().filter(|points| is_of_size(points, most, grey)).filter_map(|p| corners(p)).collect()
}

fn dark_runs(grey: &Grey, reach: usize) -> Vec<Run> {
    let mut runs = Vec::new();
    let mut from = None;
    for (i, (&own, mean)) in grey.bytes.iter().zip(grey.means(reach)).enumerate() {
        let (row, column) = (i / grey.width, i % grey.width);
        let is_dark = f64::from(own) < DARKER * mean;
        let last = column + 1 == grey.width;
        if is_dark && from.is_none() {
            from = Some(column);
        }
        if let Some(start) = from.filter(|_| !is_dark || last) {
            let to = if is_dark { column } else { column - 1 };
            runs.push(Run { row, from: start, to, region: runs.len() });
            from = None;
        }
    }
    runs
}

/// Gives runs that touch from row to row the same region; returns how many regions there are.
fn number_regions(runs: &mut [Run]) -> usize {
    fn root(of: &mut [usize], mut i: usize) -> usize {
        while of[i] != i {
            of[i] = of[of[i]];
            i = of[i];
        }
        i
    }
    let mut parent: Vec<usize> = (0..runs.len()).collect();
    let mut above = 0;
    for i in 0..runs.len() {
        while runs[above].row + 1 < runs[i].row
            || (runs[above].row + 1 == runs[i].row && runs[above].to < runs[i].from)
        {
            above += 1;
        }
        let mut other = above;
        while other < i && runs[other].row + 1 == runs[i].row && runs[other].from <= runs[i].to {
            let (a, b) = (root(&mut parent, i), root(&mut parent, other));
            parent[a.max(b)] = a.min(b);
            other += 1;
        }
    }
    let mut number = vec![usize::MAX; runs.len()];
    let mut count = 0;
    for (i, run) in runs.iter_mut().enumerate() {
        let top = root(&mut parent, i);
        if number[top] == usize::MAX {
            number[top] = count;
            count += 1;
        }
        run.region = number[top];
    }
    count
}

fn is_of_size(ends: &[(i64, i64)], most: usize, grey: &Grey) -> bool {
    if ends.len() < LEAST {
        return false;
    }
    let span = |of: fn(&(i64, i64)) -> i64| {
        let (low, high) =
            ends.iter().map(of).fold((i64::MAX, i64::MIN), |(l, h), v| (l.min(v), h.max(v)));
        (low, high, (high - low + 1) as usize)
    };
    let (left, right, across) = span(|p| p.0);
    let (top, bottom, down) = span(|p| p.1);
    let inside =
        left > 0 && top > 0 && right + 1 < grey.width as i64 && bottom + 1 < grey.height as i64;
    inside
        && across.min(down) >= LEAST
        && across.max(down) <= most
        && across.max(down) < 4 * across.min(down)
}

/// The corners of a region whose hull is nearly a four-sided figure.
fn corners(ends: &[(i64, i64)]) -> Option<[Pixel; 4]> {
    let hull = hull(ends);
    if hull.len() < 4 {
        return None;
    }
    let n = hull.len() as f64;
    let centre = (
        hull.iter().map(|p| p.0 as f64).sum::<f64>() / n,
        hull.iter().map(|p| p.1 as f64).sum::<f64>() / n,
    );
    let far = |from: (f64, f64)| {
        let d = |p: &(i64, i64)| libm::hypot(p.0 as f64 - from.0, p.1 as f64 - from.1);
        hull.iter().copied().max_by(|a, b| d(a).total_cmp(&d(b)))
    };
    let a = far(centre)?;
    let c = far((a.0 as f64, a.1 as f64))?;
    let side = |p: &(i64, i64)| (c.0 - a.0) * (p.1 - a.1) - (c.1 - a.1) * (p.0 - a.0);
    let b = hull.iter().copied().max_by_key(side)?;
    let d = hull.iter().copied().min_by_key(side)?;
    if side(&b) <= 0 || side(&d) >= 0 {
        return None;
    }
    // In a picture, y down, what lies to the left of a to c comes before a on the way round clockwise.
    let quad = [a, d, c, b];
    let own = twice_area(&quad);
    (own.abs() as f64 > 0.86 * twice_area(&hull).abs() as f64)
        .then(|| quad.map(|p| Pixel::new(p.0 as f64, p.1 as f64)))
}

fn twice_area(points: &[(i64, i64)]) -> i64 {
    let next = points.iter().cycle().skip(1);
    points.iter().zip(next).map(|(p, q)| p.0 * q.1 - p.1 * q.0).sum()
}

/// Convex hull, by Andrew's monotone chain.
fn hull(points: &[(i64, i64)]) -> Vec<(i64, i64)> {
    let mut sorted = points.to_vec();
    sorted.sort_unstable();
    sorted.dedup();
    let turn = |a: (i64, i64), b: (i64, i64), p: (i64, i64)| {
        (b.0 - a.0) * (p.1 - a.1) - (b.1 - a.1) * (p.0 - a.0)
    };
    let half = |points: &mut dyn Iterator<Item = (i64, i64)>| {
        let mut chain: Vec<(i64, i64)> = Vec::new();
        for p in points {
            while chain.len() >= 2 && turn(chain[chain.len() - 2], chain[chain.len() - 1], p) <= 0 {
                chain.pop();
            }
            chain.push(p);
        }
        chain.pop();
        chain
    };
    let mut all = half(&mut sorted.iter().copied());
    all.extend(half(&mut sorted.iter().rev().copied()));
    all
}
