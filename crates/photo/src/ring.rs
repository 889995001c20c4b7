//! Closed rows of points, and values along them.

use geometry::{Point, Vector};

/// Points every so often along a closed row, about `step` apart; at least eight.
pub fn resample(points: &[Point], step: f64) -> Vec<Point> {
    let n = points.len();
    if n == 0 {
        return Vec::new();
    }
    let lengths: Vec<f64> = (0..n).map(|i| (points[(i + 1) % n] - points[i]).length()).collect();
    let round: f64 = lengths.iter().sum();
    let count = ((round / step) as usize).max(8);
    let (mut i, mut before) = (0, 0.0);
    (0..count)
        .map(|k| {
            let at = round * k as f64 / count as f64;
            while i + 1 < n && before + lengths[i] < at {
                before += lengths[i];
                i += 1;
            }
            let share =
                if lengths[i] > 0.0 { ((at - before) / lengths[i]).clamp(0.0, 1.0) } else { 0.0 };
            points[i] + (points[(i + 1) % n] - points[i]) * share
        })
        .collect()
}

/// Outward directions of a counter-clockwise row, from the points `reach` before and after.
pub fn normals(points: &[Point], reach: usize) -> Vec<Vector> {
    let n = points.len();
    (0..n).map(|i| (points[(i + reach) % n] - points[(i + n - reach) % n]).unit().right()).collect()
}

/// Area, positive if counter-clockwise.
pub fn area(points: &[Point]) -> f64 {
    let n = points.len();
    (0..n)
        .map(|i| {
            let (a, b) = (points[i], points[(i + 1) % n]);
            (a.x * b.y - a.y * b.x) / 2.0
        })
        .sum()
}

/// Weights of a bell from its middle outwards, not yet divided by their sum.
pub fn bell(sd: f64) -> Vec<f64> {
    let reach = (3.0 * sd).ceil() as usize;
    (0..=reach).map(|k| libm::exp(-0.5 * (k as f64 / sd) * (k as f64 / sd))).collect()
}

/// Rows of `width` values each, smoothed from row to row round a ring; values that are not numbers count for
/// nothing.
pub fn smooth_round(values: &[f64], width: usize, sd: f64) -> Vec<f64> {
    let rows = values.len() / width;
    let bell = bell(sd);
    let reach = (bell.len() - 1).min(rows.saturating_sub(1) / 2) as i64;
    let mut out = vec![f64::NAN; values.len()];
    for row in 0..rows {
        for column in 0..width {
            let (mut sum, mut weight) = (0.0, 0.0);
            for k in -reach..=reach {
                let other = (row as i64 + k).rem_euclid(rows as i64) as usize;
                let value = values[other * width + column];
                if value.is_finite() {
                    let w = bell[k.unsigned_abs() as usize];
                    sum += w * value;
                    weight += w;
                }
            }
            if weight > 0.0 {
                out[row * width + column] = sum / weight;
            }
        }
    }
    out
}
