//! A polygon from its measured sides and diagonals, by least squares.

use crate::{Point, Vector};

/// A measured distance between two corners, mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Distance {
    /// One corner, from 0.
    pub from: usize,
    /// The other.
    pub to: usize,
    /// As measured.
    pub length: f64,
}

/// Corners that fit the measures best.
#[derive(Clone, Debug, PartialEq)]
pub struct Fit {
    /// Counter-clockwise; the first at the origin, the second on the x axis.
    pub corners: Vec<Point>,
    /// Of each distance: what the corners make it, less what was measured.
    pub residuals: Vec<f64>,
}

impl Fit {
    /// The largest residual, without its sign.
    pub fn worst(&self) -> f64 {
        self.residuals.iter().fold(0.0, |worst, r| worst.max(r.abs()))
    }
}

/// Why no polygon was found.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum FitError {
    /// Fewer distances than a rigid polygon needs: `2 n - 3`.
    TooFew {
        /// How many are needed.
        needed: usize,
    },
    /// Enough distances, but some corner may still move.
    Loose,
}

/// The polygon of `n` corners whose distances are nearest the measured ones: the sum of squared
/// differences is least.
///
/// Where the distances leave open on which side of its neighbours' chord a corner lies, it lies outside.
///
/// Method: Gauss-Newton steps with Levenberg's damping (K. Levenberg, "A method for the solution of
/// certain non-linear problems in least squares", 1944), from a polygon laid out by triangles.
pub fn fit(n: usize, distances: &[Distance]) -> Result<Fit, FitError> {
    let needed = (2 * n).saturating_sub(3);
    if n < 3 || distances.len() < needed {
        return Err(FitError::TooFew { needed });
    }
    let starts = [by_triangles(n, distances), Some(regular(n, distances))];
    let mut best: Option<(f64, Vec<f64>)> = None;
    for start in starts.into_iter().flatten() {
        let found = settle(flat(&start), distances);
        let cost = cost(&found, distances);
        if best.as_ref().is_none_or(|b| cost < b.0) {
            best = Some((cost, found));
        }
    }
    let Some((_, x)) = best else { return Err(FitError::Loose) };
    let corners = points(&x);
    let area: f64 = (0..n).map(|i| cross(corners[i], corners[(i + 1) % n])).sum();
    let corners =
        if area < 0.0 { corners.iter().map(|p| Point::new(p.x, -p.y)).collect() } else { corners };
    let residuals =
        distances.iter().map(|d| (corners[d.to] - corners[d.from]).length() - d.length).collect();
    let fit = Fit { corners, residuals };
    // Contradicting measures may flatten it; that they miss each other is what must be told.
    let longest = distances.iter().map(|d| d.length).fold(0.0, f64::max);
    if fit.worst() < longest * 0.02 && !rigid(&x, distances) {
        return Err(FitError::Loose);
    }
    Ok(fit)
}

fn cross(a: Point, b: Point) -> f64 {
    a.x * b.y - a.y * b.x
}

/// Unknowns: x of the second corner, then x and y of each further one.
fn flat(corners: &[Point]) -> Vec<f64> {
    let mut x = vec![corners[1].x];
    x.extend(corners[2..].iter().flat_map(|p| [p.x, p.y]));
    x
}

fn points(x: &[f64]) -> Vec<Point> {
    let mut corners = vec![Point::new(0.0, 0.0), Point::new(x[0], 0.0)];
    corners.extend(x[1..].chunks(2).map(|c| Point::new(c[0], c[1])));
    corners
}

/// Where a corner's x and y stand among the unknowns.
fn places(corner: usize) -> [Option<usize>; 2] {
    match corner {
        0 => [None, None],
        1 => [Some(0), None],
        i => [Some(2 * i - 3), Some(2 * i - 2)],
    }
}

fn cost(x: &[f64], distances: &[Distance]) -> f64 {
    let corners = points(x);
    let off = |d: &Distance| (corners[d.to] - corners[d.from]).length() - d.length;
    distances.iter().map(|d| off(d) * off(d)).sum()
}

/// Rows of the derivative, and the residuals.
fn linear(x: &[f64], distances: &[Distance]) -> (Vec<Vec<f64>>, Vec<f64>) {
    let corners = points(x);
    let mut rows = Vec::new();
    let mut residuals = Vec::new();
    for d in distances {
        let along = corners[d.to] - corners[d.from];
        let unit = if along.length() > 1e-9 { along.unit() } else { Vector::new(1.0, 0.0) };
        let mut row = vec![0.0; x.len()];
        for (corner, sign) in [(d.to, 1.0), (d.from, -1.0)] {
            let [px, py] = places(corner);
            if let Some(i) = px {
                row[i] += sign * unit.x;
            }
            if let Some(i) = py {
                row[i] += sign * unit.y;
            }
        }
        rows.push(row);
        residuals.push(along.length() - d.length);
    }
    (rows, residuals)
}

fn settle(mut x: Vec<f64>, distances: &[Distance]) -> Vec<f64> {
    let mut damping = 1e-3;
    let mut now = cost(&x, distances);
    for _ in 0..500 {
        let (rows, residuals) = linear(&x, distances);
        let (mut a, mut b) = normal(&rows, &residuals, x.len());
        for (i, row) in a.iter_mut().enumerate() {
            row[i] += damping;
        }
        let Some(step) = solve(&mut a, &mut b) else { break };
        let next: Vec<f64> = x.iter().zip(&step).map(|(x, s)| x - s).collect();
        let then = cost(&next, distances);
        if then < now {
            let gained = now - then;
            (x, now) = (next, then);
            damping = (damping / 4.0).max(1e-12);
            if gained < 1e-18 {
                break;
            }
        } else {
            damping *= 8.0;
            if damping > 1e12 {
                break;
            }
        }
    }
    x
}

fn normal(rows: &[Vec<f64>], residuals: &[f64], n: usize) -> (Vec<Vec<f64>>, Vec<f64>) {
    let mut a = vec![vec![0.0; n]; n];
    let mut b = vec![0.0; n];
    for (row, r) in rows.iter().zip(residuals) {
        for i in 0..n {
            b[i] += row[i] * r;
            for j in 0..n {
                a[i][j] += row[i] * row[j];
            }
        }
    }
    (a, b)
}

/// Gauss elimination with pivots; `None` where a pivot vanishes.
fn solve(a: &mut [Vec<f64>], b: &mut [f64]) -> Option<Vec<f64>> {
    let n = b.len();
    for k in 0..n {
        let pivot = (k..n).max_by(|&i, &j| a[i][k].abs().total_cmp(&a[j][k].abs()))?;
        if a[pivot][k].abs() < 1e-9 {
            return None;
        }
        a.swap(k, pivot);
        b.swap(k, pivot);
        for i in k + 1..n {
            let share = a[i][k] / a[k][k];
            if share != 0.0 {
                let (above, below) = a.split_at_mut(i);
                for (to, from) in below[0][k..].iter_mut().zip(&above[k][k..]) {
                    *to -= share * from;
                }
                b[i] -= share * b[k];
            }
        }
    }
    let mut x = vec![0.0; n];
    for i in (0..n).rev() {
        let rest: f64 = (i + 1..n).map(|j| a[i][j] * x[j]).sum();
        x[i] = (b[i] - rest) / a[i][i];
    }
    Some(x)
}

/// Whether no corner may move without a distance changing.
fn rigid(x: &[f64], distances: &[Distance]) -> bool {
    let (rows, residuals) = linear(x, distances);
    let (mut a, mut b) = normal(&rows, &residuals, x.len());
    solve(&mut a, &mut b).is_some_and(|step| step.iter().all(|s| s.is_finite()))
}

/// Corners one after another, each from two that are placed, turning left.
fn by_triangles(n: usize, distances: &[Distance]) -> Option<Vec<Point>> {
    let known = |a: usize, b: usize| {
        let is = |d: &&Distance| (d.from, d.to) == (a, b) || (d.from, d.to) == (b, a);
        distances.iter().find(is).map(|d| d.length)
    };
    let mut placed: Vec<Option<Point>> = vec![None; n];
    placed[0] = Some(Point::new(0.0, 0.0));
    placed[1] = Some(Point::new(known(0, 1)?, 0.0));
    loop {
        let mut done = true;
        let mut moved = false;
        for i in 0..n {
            if placed[i].is_some() {
                continue;
            }
            done = false;
            let near: Vec<(Point, f64, usize)> =
                (0..n).filter_map(|j| Some((placed[j]?, known(i, j)?, j))).collect();
            let [(p, a, pi), (q, b, qi), ..] = near[..] else { continue };
            // Walking counter-clockwise the polygon's inside lies left of each chord taken in order.
            let ((p, a), (q, b)) = if pi < qi { ((p, a), (q, b)) } else { ((q, b), (p, a)) };
            let base = (q - p).length();
            let along = (base * base + a * a - b * b) / (2.0 * base.max(1e-9));
            let off = (a * a - along * along).max(0.0).sqrt();
            let unit = (q - p).unit();
            // A corner between the two in the walk lies right of the chord, one beyond it left.
            let side = if pi.min(qi) < i && i < pi.max(qi) { 1.0 } else { -1.0 };
            placed[i] = Some(p + unit * along + unit.right() * (off * side));
            moved = true;
        }
        if done {
            return placed.into_iter().collect();
        }
        if !moved {
            return None;
        }
    }
}

/// A regular polygon as long round as the sides say.
fn regular(n: usize, distances: &[Distance]) -> Vec<Point> {
    let longest = distances.iter().map(|d| d.length).fold(0.0, f64::max);
    let turn = std::f64::consts::TAU / n as f64;
    let mut at = Point::new(0.0, 0.0);
    let side = longest * libm::sin(turn / 2.0);
    (0..n)
        .map(|i| {
            let here = at;
            let angle = turn * i as f64;
            at = at + Vector::new(side * libm::cos(angle), side * libm::sin(angle));
            here
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn measured(corners: &[(f64, f64)], pairs: &[(usize, usize)]) -> Vec<Distance> {
        let sides = (0..corners.len()).map(|i| (i, (i + 1) % corners.len()));
        sides
            .chain(pairs.iter().copied())
            .map(|(from, to)| {
                let ((ax, ay), (bx, by)) = (corners[from], corners[to]);
                Distance { from, to, length: libm::hypot(bx - ax, by - ay) }
            })
            .collect()
    }

    #[test]
    fn a_quadrilateral_is_found_from_four_sides_and_a_diagonal() {
        // 3-4-5 triangles: a rectangle 4 x 3 has diagonals of 5 (Euclid I.47).
        let d = |from, to, length| Distance { from, to, length };
        let all = [d(0, 1, 4.0), d(1, 2, 3.0), d(2, 3, 4.0), d(3, 0, 3.0), d(0, 2, 5.0)];
        let found = fit(4, &all).unwrap();
        assert!(found.worst() < 1e-6, "{found:?}");
        assert!((found.corners[2].x - 4.0).abs() < 1e-5 && (found.corners[2].y - 3.0).abs() < 1e-5);
        // A second diagonal 2 mm too long on a 400 x 300 is shared among the measures.
        let scaled: Vec<Distance> = all.iter().map(|x| d(x.from, x.to, x.length * 100.0)).collect();
        let with = [scaled, vec![d(1, 3, 502.0)]].concat();
        let found = fit(4, &with).unwrap();
        assert!(found.worst() > 0.2 && found.worst() < 1.0, "{:?}", found.residuals);
    }

    #[test]
    fn too_few_measures_are_refused() {
        let d = |from, to| Distance { from, to, length: 10.0 };
        assert_eq!(
            fit(4, &[d(0, 1), d(1, 2), d(2, 3), d(3, 0)]),
            Err(FitError::TooFew { needed: 5 })
        );
        // A fifth side measured twice adds nothing.
        let loose = fit(4, &[d(0, 1), d(1, 2), d(2, 3), d(3, 0), d(0, 1)]);
        assert_eq!(loose, Err(FitError::Loose));
    }

    proptest! {
        #[test]
        fn an_exactly_measured_polygon_is_found_again(
            // Convex at least from 312 on: a corner that turns inwards fits on both sides of its chord.
            radii in proptest::collection::vec(350.0_f64..500.0, 4..8),
        ) {
            let n = radii.len();
            let at = |(i, r): (usize, &f64)| {
                let turn = std::f64::consts::TAU * i as f64 / n as f64;
                (r * turn.cos(), r * turn.sin())
            };
            let corners: Vec<(f64, f64)> = radii.iter().enumerate().map(at).collect();
            let fan: Vec<(usize, usize)> = (2..n - 1).map(|i| (0, i)).collect();
            let all = measured(&corners, &fan);
            let found = fit(n, &all).unwrap();
            prop_assert!(found.worst() < 1e-4, "{:?}", found.residuals);
            // Every further distance then comes out too.
            for i in 0..n {
                for j in i + 1..n {
                    let ((ax, ay), (bx, by)) = (corners[i], corners[j]);
                    let was = (bx - ax).hypot(by - ay);
                    let is = (found.corners[j] - found.corners[i]).length();
                    prop_assert!((was - is).abs() < 1e-2, "{i} {j}: {was} {is}");
                }
            }
        }
    }
}
