//! Lines and arcs that meet end to end, fitted to the points all at once; nearly tangent and nearly equal
//! made so where the points allow it.

use crate::least_squares::solve;
use crate::runs::{SCATTER, Stretch};
use geometry::{Corner, Point, Vector};

/// Kinks smaller than this, in degrees, are tried as none.
const KINK: f64 = 7.0;
/// Making tangent or equal may raise the mean square of what is left on a stretch by this much, in mm
/// squared.
const MAY_RISE: f64 = 0.03;
/// A line shorter than this between longer ones may be a corner cut off, in mm.
const CUT_CORNER: f64 = 16.0;
/// No arc sweeps more than this, in radians: longer ones are divided.
const WIDEST: f64 = 2.4;

/// A stretch as fitted; it ends where the next starts.
#[derive(Clone, Copy, Debug)]
pub struct Fitted {
    /// Where it starts.
    pub at: Point,
    /// Tangent of a quarter of its sweep, positive to the left; nought is a line.
    pub bulge: f64,
    /// Which points belong to it: from one to before another.
    pub points: Stretch,
    /// Root mean square of what is left over, in mm.
    pub left_over: f64,
}

/// Lines and arcs through the points, stretch by stretch as divided; `scatter` as there.
pub fn fit(points: &[Point], stretches: &[Stretch], scatter: f64) -> Vec<Fitted> {
    let stretches = divided(stretches, points);
    if stretches.len() < 2 {
        return Vec::new();
    }
    let shape =
        Shape::new(points, &stretches, MAY_RISE * (scatter / SCATTER) * (scatter / SCATTER));
    let plain = shape.solved(shape.start(points), &[], &[]);
    let numbers = shape.made_tidy(plain);
    shape.fitted(&numbers)
}

/// Arcs over the widest divided, so that each bows less than a half circle.
fn divided(stretches: &[Stretch], points: &[Point]) -> Vec<Stretch> {
    let n = points.len();
    let mut out = Vec::new();
    for s in stretches {
        let parts =
            if s.is_arc { (turning(points, s) / WIDEST).ceil().max(1.0) as usize } else { 1 };
        let parts = if stretches.len() == 1 { parts.max(2) } else { parts };
        let count = s.to - s.from;
        for k in 0..parts {
            let (from, to) = (s.from + count * k / parts, s.from + count * (k + 1) / parts);
            out.push(Stretch { from: from % n, to: from % n + (to - from), is_arc: s.is_arc });
        }
    }
    out
}

/// How far a stretch turns, in radians.
fn turning(points: &[Point], s: &Stretch) -> f64 {
    let n = points.len();
    let at = |i: usize| points[i % n];
    let step = ((s.to - s.from) / 8).clamp(1, 12);
    let mut turned = 0.0;
    let mut i = s.from + step;
    while i + step < s.to {
        let (a, b) = (at(i) - at(i - step), at(i + step) - at(i));
        turned += libm::atan2(a.cross(b), a.dot(b));
        i += step;
    }
    turned.abs() * (s.to - s.from) as f64 / (s.to - s.from).saturating_sub(step).max(1) as f64
}

/// A segment by its start, direction there and curvature.
#[derive(Clone, Copy)]
struct Curve {
    at: Point,
    along: Vector,
    curvature: f64,
}

impl Curve {
    fn between(a: Point, b: Point, bulge: f64) -> Self {
        let chord = b - a;
        let length = chord.length().max(1e-9);
        let half = 2.0 * libm::atan(bulge);
        let (sin, cos) = (libm::sin(-half), libm::cos(-half));
        let u = chord * (1.0 / length);
        let along = Vector::new(u.x * cos - u.y * sin, u.x * sin + u.y * cos);
        Self { at: a, along, curvature: 4.0 * bulge / (length * (1.0 + bulge * bulge)) }
    }

    /// How far a point lies to the right, in mm; exact for a line, and for a circle near it.
    fn off(&self, p: Point) -> f64 {
        let d = p - self.at;
        let (u, v) = (d.dot(self.along), self.along.cross(d));
        let a = self.curvature * (u * u + v * v) - 2.0 * v;
        a / (1.0 + (1.0 + self.curvature * a).max(0.0).sqrt())
    }
}

struct Shape<'a> {
    points: &'a [Point],
    stretches: &'a [Stretch],
    /// Where the bulge of each stretch stands among the numbers, if it is an arc.
    bulges: Vec<Option<usize>>,
    count: usize,
    /// See [`MAY_RISE`].
    may_rise: f64,
}

impl<'a> Shape<'a> {
    fn new(points: &'a [Point], stretches: &'a [Stretch], may_rise: f64) -> Self {
        let mut count = 2 * stretches.len();
        let bulges = stretches
            .iter()
            .map(|s| {
                s.is_arc.then(|| {
                    count += 1;
                    count - 1
                })
            })
            .collect();
        Self { points, stretches, bulges, count, may_rise }
    }

    fn start(&self, points: &[Point]) -> Vec<f64> {
        let n = points.len();
        let mut numbers = vec![0.0; self.count];
        for (i, s) in self.stretches.iter().enumerate() {
            let at = points[s.from % n];
            (numbers[2 * i], numbers[2 * i + 1]) = (at.x, at.y);
            if let Some(b) = self.bulges[i] {
                let (end, middle) = (points[s.to % n], points[usize::midpoint(s.from, s.to) % n]);
                let chord = end - at;
                let rise = (middle - at.middle(end)).dot(chord.unit().right());
                numbers[b] = 2.0 * rise / chord.length().max(1e-6);
            }
        }
        numbers
    }

    fn node(&self, numbers: &[f64], i: usize) -> Point {
        let i = i % self.stretches.len();
        Point::new(numbers[2 * i], numbers[2 * i + 1])
    }

    fn bulge(&self, numbers: &[f64], i: usize) -> f64 {
        self.bulges[i % self.stretches.len()].map_or(0.0, |b| numbers[b])
    }

    fn curve(&self, numbers: &[f64], i: usize) -> Curve {
        Curve::between(self.node(numbers, i), self.node(numbers, i + 1), self.bulge(numbers, i))
    }

    /// How far the points of a stretch lie off it; those at its ends left out, where the edge was smoothed
    /// over the corner.
    fn off(&self, numbers: &[f64], i: usize) -> impl Iterator<Item = f64> + '_ {
        let (s, curve) = (self.stretches[i], self.curve(numbers, i));
        let trim = match s.to - s.from {
            0..=6 => 0,
            7..=14 => 1,
            _ => 2,
        };
        (s.from + trim..s.to - trim).map(move |k| curve.off(self.points[k % self.points.len()]))
    }

    fn misfit(&self, numbers: &[f64], i: usize) -> f64 {
        let (sum, count) = self.off(numbers, i).fold((0.0, 0.0), |(s, c), o| (s + o * o, c + 1.0));
        sum / f64::max(count, 1.0)
    }

    /// Turn at the start of a stretch, in radians.
    fn kink(&self, numbers: &[f64], i: usize) -> f64 {
        let n = self.stretches.len();
        let before = self.curve(numbers, i + n - 1);
        let sweep = 4.0 * libm::atan(self.bulge(numbers, i + n - 1));
        let (sin, cos) = (libm::sin(sweep), libm::cos(sweep));
        let a = before.along;
        let a = Vector::new(a.x * cos - a.y * sin, a.x * sin + a.y * cos);
        let b = self.curve(numbers, i).along;
        libm::atan2(a.cross(b), a.dot(b))
    }

    fn radius(&self, numbers: &[f64], i: usize) -> f64 {
        1.0 / self.curve(numbers, i).curvature.abs().max(1e-9)
    }

    fn solved(&self, start: Vec<f64>, tangent: &[usize], equal: &[(usize, usize)]) -> Vec<f64> {
        let scale: Vec<f64> = (0..self.count)
            .map(|i| if i < 2 * self.stretches.len() { 1.0 } else { 0.02 })
            .collect();
        let residuals = |numbers: &[f64]| {
            let mut out: Vec<f64> = Vec::with_capacity(self.points.len());
            for i in 0..self.stretches.len() {
                // The same number of residuals each time; far points count less.
                out.extend(self.off(numbers, i).map(|o| o / (1.0 + o.abs() / 2.0).sqrt()));
            }
            // A thousandth of a radian weighs as much as a millimetre and more.
            out.extend(tangent.iter().map(|i| self.kink(numbers, *i) * 2000.0));
            let unequal =
                |(a, b): &(usize, usize)| self.radius(numbers, *a) - self.radius(numbers, *b);
            out.extend(equal.iter().map(|pair| unequal(pair) * 20.0));
            // A node between nearly tangent stretches may slide; it stays about where it was.
            let nodes = 0..self.stretches.len();
            out.extend(nodes.flat_map(|i| {
                let was = self.points[self.stretches[i].from % self.points.len()];
                let d = self.node(numbers, i) - was;
                [d.x * 0.2, d.y * 0.2]
            }));
            out
        };
        solve(start, &scale, 25, &residuals).x
    }

    /// Tangent where it is nearly so, then equal radii, each kept only if the points allow it.
    fn made_tidy(&self, plain: Vec<f64>) -> Vec<f64> {
        let n = self.stretches.len();
        let before: Vec<f64> = (0..n).map(|i| self.misfit(&plain, i)).collect();
        let may = |numbers: &[f64], i: usize| self.misfit(numbers, i) <= before[i] + self.may_rise;
        let mut tangent: Vec<usize> = (0..n)
            .filter(|i| self.bulges[*i].is_some() || self.bulges[(i + n - 1) % n].is_some())
            .filter(|i| self.kink(&plain, *i).abs() < KINK.to_radians())
            .collect();
        let mut numbers = plain.clone();
        while !tangent.is_empty() {
            let tried = self.solved(plain.clone(), &tangent, &[]);
            let bad = |i: &usize| !may(&tried, *i) || !may(&tried, (i + n - 1) % n);
            if !tangent.iter().any(bad) {
                numbers = tried;
                break;
            }
            // The one with the largest kink goes first.
            let kink = |i: &usize| self.kink(&plain, *i).abs();
            let worst = (0..tangent.len())
                .filter(|k| bad(&tangent[*k]))
                .max_by(|a, b| kink(&tangent[*a]).total_cmp(&kink(&tangent[*b])));
            tangent.remove(worst.unwrap_or(0));
        }
        let mut equal: Vec<(usize, usize)> = Vec::new();
        for pair in self.nearly_equal(&numbers) {
            equal.push(pair);
            let tried = self.solved(numbers.clone(), &tangent, &equal);
            if equal.iter().all(|(a, b)| may(&tried, *a) && may(&tried, *b)) {
                numbers = tried;
            } else {
                equal.pop();
            }
        }
        numbers
    }

    /// Arcs whose radii differ by no more than half a millimetre of the outline would make them.
    fn nearly_equal(&self, numbers: &[f64]) -> Vec<(usize, usize)> {
        let sure = |i: usize| {
            let sweep = 4.0 * libm::atan(self.bulge(numbers, i).abs());
            0.5 / (1.0 - libm::cos(sweep / 2.0)).max(1e-3)
        };
        let mut arcs: Vec<usize> = (0..self.stretches.len())
            .filter(|i| self.bulge(numbers, *i).abs() > libm::tan(0.5 / 4.0))
            .collect();
        arcs.sort_by(|a, b| self.radius(numbers, *a).total_cmp(&self.radius(numbers, *b)));
        let near = |w: &&[usize]| {
            let apart = self.radius(numbers, w[1]) - self.radius(numbers, w[0]);
            apart < sure(w[0]).min(sure(w[1])).min(0.08 * self.radius(numbers, w[0]) + 0.5)
        };
        arcs.windows(2).filter(near).map(|w| (w[0], w[1])).collect()
    }

    fn fitted(&self, numbers: &[f64]) -> Vec<Fitted> {
        (0..self.stretches.len())
            .map(|i| Fitted {
                at: self.node(numbers, i),
                bulge: self.bulge(numbers, i),
                points: self.stretches[i],
                left_over: self.misfit(numbers, i).sqrt(),
            })
            .collect()
    }
}

/// As measured corners: places, and how far each side bows outwards.
pub fn corners(fitted: &[Fitted]) -> Vec<Corner> {
    let n = fitted.len();
    (0..n)
        .map(|i| {
            let chord = (fitted[(i + 1) % n].at - fitted[i].at).length();
            Corner { at: fitted[i].at, radius: 0.0, rise: fitted[i].bulge * chord / 2.0 }
        })
        .collect()
}

/// The outline with its corners sharp: a short line between two long ones may be a corner that was cut off where
/// the outline was drawn beside it. `None` if there is none such.
pub fn sharpened(fitted: &[Fitted]) -> Option<Vec<Fitted>> {
    let n = fitted.len();
    let at = |i: usize| fitted[i % n].at;
    let side = |i: usize| at(i + 1) - at(i);
    let is_line = |i: usize| fitted[i % n].bulge == 0.0;
    let is_cut = |i: usize| {
        let (before, after) = (i + n - 1, i + 1);
        is_line(before)
            && is_line(i)
            && is_line(after)
            && side(i).length() < CUT_CORNER
            && side(before).length().min(side(after).length()) > 3.0 * CUT_CORNER
            && side(before).unit().cross(side(after).unit()).abs() > 0.2
    };
    if n < 4 || !(0..n).any(is_cut) {
        return None;
    }
    let node = |i: usize| {
        let cut = i + n - 1;
        if !is_cut(cut) {
            return fitted[i];
        }
        // Where the lines before and after the cut meet.
        let (a, b) = (side(cut + n - 1).unit(), side(i).unit());
        let along = side(cut).cross(b) / a.cross(b);
        Fitted { at: at(cut) + a * along, ..fitted[i] }
    };
    Some((0..n).filter(|i| !is_cut(*i)).map(node).collect())
}

/// Points along the fitted outline, about `step` mm apart.
pub fn dense(fitted: &[Fitted], step: f64) -> Vec<Point> {
    let n = fitted.len();
    let mut out = Vec::new();
    for i in 0..n {
        let seg = geometry::Seg {
            start: fitted[i].at,
            end: fitted[(i + 1) % n].at,
            bulge: fitted[i].bulge,
            run: geometry::Run::Side(i),
        };
        let count = (seg.length() / step).ceil().max(1.0) as usize;
        out.extend((0..count).map(|k| seg.at(k as f64 / count as f64).0));
    }
    out
}
