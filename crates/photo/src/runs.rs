//! A row of points divided into lines and arcs: as few as explain it, by least description.

use geometry::Point;
use nalgebra::{Matrix3, Vector3};

/// Least scatter of points about a true line, in mm; a frayed edge has more.
pub const SCATTER: f64 = 0.4;
/// What a line and an arc cost besides their misfit, in squared scatters.
const LINE: f64 = 26.0;
/// See [`LINE`].
const ARC: f64 = 32.0;
/// Divisions are looked for at every third point.
const EVERY: usize = 3;
/// Radii of arcs, in mm.
const RADII: (f64, f64) = (4.0, 3000.0);
/// Numbers are in units of this many mm, so that powers stay near one.
const UNIT: f64 = 100.0;

/// A stretch of the points, from one to before another, going round.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Stretch {
    /// First point.
    pub from: usize,
    /// One past the last, counted on past the end of the row.
    pub to: usize,
    /// An arc, else a line.
    pub is_arc: bool,
}

/// Lines and arcs all round. Stretches may begin anywhere; the last ends where the first begins.
///
/// `scatter` is that of the points about true lines and arcs, in mm.
///
/// Source: minimum description length over dynamic programming; circles by Kasa's fit on running sums of
/// powers (from memory).
pub fn divide(points: &[Point], scatter: f64) -> Vec<Stretch> {
    let n = points.len();
    let first = divide_from(points, 0, scatter);
    if first.len() < 2 {
        return first;
    }
    // Once more, begun at a division: where the row happens to start is not one.
    let start = first[first.len() / 2].from;
    divide_from(points, start, scatter)
        .into_iter()
        .map(|s| Stretch {
            from: (s.from + start) % n,
            to: (s.from + start) % n + (s.to - s.from),
            ..s
        })
        .collect()
}

/// How far points scatter about the line through their neighbours, in mm: half of them less, as for a bell.
/// Never less than [`SCATTER`].
pub fn scatter(points: &[Point]) -> f64 {
    const REACH: usize = 3;
    let n = points.len();
    let off: Vec<f64> = (0..n)
        .map(|i| {
            let (a, b) = (points[(i + n - REACH) % n], points[(i + REACH) % n]);
            ((points[i] - a.middle(b)).dot((b - a).unit().right())).abs()
        })
        .collect();
    // Half of a bell lies within 0.6745 of its spread; a point less the mean of two spreads by the root of
    // one and a half.
    let spread = crate::placing::median(&off) / 0.6745 / 1.5_f64.sqrt();
    // A path is smoother than what it follows.
    (1.5 * spread).max(SCATTER)
}

/// Running sums of powers: 1, x, y, xx, xy, yy, qx, qy, qq with q = xx + yy.
type Sums = [f64; 9];

fn divide_from(points: &[Point], start: usize, scatter: f64) -> Vec<Stretch> {
    let n = points.len();
    let middle = (
        points.iter().map(|p| p.x).sum::<f64>() / n as f64,
        points.iter().map(|p| p.y).sum::<f64>() / n as f64,
    );
    let mut sums: Vec<Sums> = vec![[0.0; 9]];
    for i in 0..n {
        let p = points[(start + i) % n];
        let (x, y) = ((p.x - middle.0) / UNIT, (p.y - middle.1) / UNIT);
        let q = x * x + y * y;
        let add = [1.0, x, y, x * x, x * y, y * y, q * x, q * y, q * q];
        let last = sums[i];
        sums.push(std::array::from_fn(|k| last[k] + add[k]));
    }
    // Misfits come in squares of the least scatter.
    let weight = (SCATTER / scatter) * (SCATTER / scatter);
    let mut breaks: Vec<usize> = (0..n - 1).step_by(EVERY).collect();
    breaks.push(n);
    let m = breaks.len();
    let mut best = vec![f64::INFINITY; m];
    let mut from = vec![(0, false); m];
    best[0] = 0.0;
    for j in 1..m {
        for i in 0..j {
            let (lo, hi) = (breaks[i], breaks[j]);
            let trim = usize::from(hi - lo > 12);
            let s: Sums = std::array::from_fn(|k| sums[hi - trim][k] - sums[lo + trim][k]);
            let (line, arc) = (weight * line_misfit(&s) + LINE, weight * arc_misfit(&s) + ARC);
            let (cost, is_arc) = if line <= arc { (line, false) } else { (arc, true) };
            if best[i] + cost < best[j] {
                best[j] = best[i] + cost;
                from[j] = (i, is_arc);
            }
        }
    }
    let mut out = Vec::new();
    let mut j = m - 1;
    while j > 0 {
        let (i, is_arc) = from[j];
        out.push(Stretch { from: breaks[i], to: breaks[j], is_arc });
        j = i;
    }
    out.reverse();
    out
}

fn line_misfit(s: &Sums) -> f64 {
    let n = s[0];
    if n < 4.0 {
        return 1e9;
    }
    let (x, y) = (s[1] / n, s[2] / n);
    let (xx, xy, yy) = (s[3] / n - x * x, s[4] / n - x * y, s[5] / n - y * y);
    let half = f64::midpoint(xx, -yy);
    let least = f64::midpoint(xx, yy) - (half * half + xy * xy).sqrt();
    least.max(0.0) * n * (UNIT / SCATTER) * (UNIT / SCATTER)
}

fn arc_misfit(s: &Sums) -> f64 {
    if s[0] < 6.0 {
        return 1e9;
    }
    let normal = Matrix3::new(s[3], s[4], s[1], s[4], s[5], s[2], s[1], s[2], s[0])
        + Matrix3::identity() * 1e-9;
    let right = Vector3::new(-s[6], -s[7], -(s[3] + s[5]));
    let Some(u) = normal.cholesky().map(|c| c.solve(&right)) else { return 1e9 };
    let (x, y) = (-u[0] / 2.0, -u[1] / 2.0);
    let squared = x * x + y * y - u[2];
    let (low, high) = (RADII.0 / UNIT, RADII.1 / UNIT);
    if squared < low * low || squared > high * high {
        return 1e9;
    }
    let left = (s[8] - right.dot(&u)).max(0.0);
    left / (4.0 * squared) * (UNIT / SCATTER) * (UNIT / SCATTER)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn rounded(step: f64) -> Vec<Point> {
        use geometry::{Length, Path};
        let mm = Length::from_mm;
        let path =
            Path::rectangle(mm(600.0), mm(300.0), [mm(0.0), mm(40.0), mm(0.0), mm(80.0)]).unwrap();
        let dense: Vec<Point> =
            path.segs().flat_map(|s| (0..60).map(move |k| s.at(f64::from(k) / 60.0).0)).collect();
        crate::ring::resample(&dense, step)
    }

    #[test]
    fn two_square_and_two_round_corners_are_four_lines_and_two_arcs() {
        let found = divide(&rounded(2.0), SCATTER);
        let arcs = found.iter().filter(|s| s.is_arc).count();
        assert_eq!((found.len(), arcs), (6, 2), "{found:?}");
        let total: usize = found.iter().map(|s| s.to - s.from).sum();
        assert_eq!(total, rounded(2.0).len());
    }

    #[test]
    fn a_circle_is_one_arc() {
        let circle: Vec<Point> = (0..400)
            .map(|k| f64::from(k) * std::f64::consts::TAU / 400.0)
            .map(|a| Point::new(120.0 * libm::cos(a), 120.0 * libm::sin(a)))
            .collect();
        assert_eq!(divide(&circle, SCATTER).len(), 1);
    }
}
