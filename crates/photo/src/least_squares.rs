//! Numbers that leave the least sum of squares, by damped steps.

use nalgebra::{DMatrix, DVector};

/// What was found.
pub struct Solved {
    /// The numbers.
    pub x: Vec<f64>,
    /// Covariance of the numbers if each residual has a standard deviation of one.
    pub covariance: DMatrix<f64>,
}

/// Starts at `x` and goes on for at most `rounds` steps. `scale` is about how far each number may be off; it
/// only sets the steps. `residuals` gives as many numbers each time.
///
/// Source: Levenberg 1944, Marquardt 1963 (from memory); slopes by central differences.
pub fn solve(
    mut x: Vec<f64>,
    scale: &[f64],
    rounds: usize,
    residuals: &dyn Fn(&[f64]) -> Vec<f64>,
) -> Solved {
    let cost = |r: &[f64]| r.iter().map(|v| v * v).sum::<f64>();
    let mut left = residuals(&x);
    let mut damping = 1e-3;
    let mut normal = DMatrix::zeros(x.len(), x.len());
    for _ in 0..rounds {
        let slopes = slopes(&x, scale, residuals, left.len());
        normal = slopes.transpose() * &slopes;
        let down = slopes.transpose() * DVector::from_row_slice(&left);
        let before = cost(&left);
        let mut gained = 0.0;
        for _ in 0..12 {
            let mut damped = normal.clone();
            for i in 0..x.len() {
                damped[(i, i)] += damping * damped[(i, i)].max(1e-9);
            }
            let Some(step) = damped.cholesky().map(|c| c.solve(&down)) else {
                damping *= 10.0;
                continue;
            };
            let next: Vec<f64> =
                x.iter().enumerate().map(|(i, v)| v - step[i] * scale[i]).collect();
            let there = residuals(&next);
            let after = cost(&there);
            if after.is_finite() && after < before {
                gained = before - after;
                x = next;
                left = there;
                damping = (damping * 0.2).max(1e-9);
                break;
            }
            damping *= 5.0;
        }
        if gained <= 1e-9 * before {
            break;
        }
    }
    let covariance = inverse(normal, scale);
    Solved { x, covariance }
}

/// How the residuals change when each number goes up by its scale.
fn slopes(
    x: &[f64],
    scale: &[f64],
    residuals: &dyn Fn(&[f64]) -> Vec<f64>,
    rows: usize,
) -> DMatrix<f64> {
    const STEP: f64 = 1e-4;
    let mut out = DMatrix::zeros(rows, x.len());
    let mut moved = x.to_vec();
    for i in 0..x.len() {
        moved[i] = x[i] + STEP * scale[i];
        let up = residuals(&moved);
        moved[i] = x[i] - STEP * scale[i];
        let down = residuals(&moved);
        moved[i] = x[i];
        for (row, (u, d)) in up.iter().zip(&down).enumerate() {
            out[(row, i)] = (u - d) / (2.0 * STEP);
        }
    }
    out
}

fn inverse(mut normal: DMatrix<f64>, scale: &[f64]) -> DMatrix<f64> {
    for i in 0..scale.len() {
        // What nothing measures is held by about ten times its scale.
        normal[(i, i)] += 0.01;
    }
    let n = scale.len();
    let inverse = normal.cholesky().map_or_else(|| DMatrix::identity(n, n), |c| c.inverse());
    DMatrix::from_fn(n, n, |i, j| inverse[(i, j)] * scale[i] * scale[j])
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Source: NIST Statistical Reference Datasets, Misra1a (certified b1 = 2.3894212918e2, b2 =
    /// 5.5015643181e-4, standard deviations 2.7070075241 and 7.2668688436e-6, residual 1.0187876330e-1).
    #[test]
    fn finds_the_certified_answer_of_misra1a() {
        let data = [
            (10.07, 77.6),
            (14.73, 114.9),
            (17.94, 141.1),
            (23.93, 190.8),
            (29.61, 239.9),
            (35.18, 289.0),
            (40.02, 332.8),
            (44.82, 378.4),
            (50.76, 434.8),
            (55.05, 477.3),
            (61.01, 536.8),
            (66.40, 593.1),
            (75.47, 689.1),
            (81.78, 760.0),
        ];
        let spread = 1.018_787_633_0e-1;
        let residuals = |p: &[f64]| -> Vec<f64> {
            data.iter().map(|(y, x)| (y - p[0] * (1.0 - libm::exp(-p[1] * x))) / spread).collect()
        };
        let found = solve(vec![500.0, 1e-4], &[100.0, 1e-4], 200, &residuals);
        assert!((found.x[0] / 2.389_421_291_8e2 - 1.0).abs() < 1e-6);
        assert!((found.x[1] / 5.501_564_318_1e-4 - 1.0).abs() < 1e-6);
        assert!((found.covariance[(0, 0)].sqrt() / 2.707_007_524_1 - 1.0).abs() < 1e-2);
    }
}
