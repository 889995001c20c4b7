//! A plane seen in a picture by a camera without a lens: the map from millimetres to pixels.

use crate::picture::Pixel;
use geometry::Point;
use nalgebra::{Matrix3, SMatrix, SVector, Vector3};

/// From places on a plane to pixels.
#[derive(Clone, Copy, Debug)]
pub struct FlatView(pub Matrix3<f64>);

impl FlatView {
    /// The map that takes each place to its pixel as nearly as may be, each pair by its weight; `None` for
    /// fewer than four pairs or pairs in one line.
    ///
    /// Source: the direct linear transform with the last entry one, on numbers of about one; Hartley and
    /// Zisserman, Multiple View Geometry, 4.1 (from memory).
    pub fn through(pairs: &[(Point, Pixel, f64)]) -> Option<Self> {
        if pairs.len() < 4 {
            return None;
        }
        let n = pairs.len() as f64;
        let mean = |of: &dyn Fn(&(Point, Pixel, f64)) -> f64| pairs.iter().map(of).sum::<f64>() / n;
        let (mx, my) = (mean(&|p| p.0.x), mean(&|p| p.0.y));
        let (mu, mv) = (mean(&|p| p.1.x), mean(&|p| p.1.y));
        let spread = mean(&|p| libm::hypot(p.0.x - mx, p.0.y - my)).max(1e-9);
        let wide = mean(&|p| libm::hypot(p.1.x - mu, p.1.y - mv)).max(1e-9);
        let mut normal = SMatrix::<f64, 8, 8>::zeros();
        let mut right = SVector::<f64, 8>::zeros();
        for (at, pixel, weight) in pairs {
            let (x, y) = ((at.x - mx) / spread, (at.y - my) / spread);
            let (u, v) = ((pixel.x - mu) / wide, (pixel.y - mv) / wide);
            for (row, value) in [
                ([x, y, 1.0, 0.0, 0.0, 0.0, -u * x, -u * y], u),
                ([0.0, 0.0, 0.0, x, y, 1.0, -v * x, -v * y], v),
            ] {
                let row = SVector::<f64, 8>::from(row);
                normal += row * row.transpose() * *weight;
                right += row * value * *weight;
            }
        }
        let h = normal.lu().solve(&right).filter(|h| h.iter().all(|v| v.is_finite()))?;
        let inner = Matrix3::new(h[0], h[1], h[2], h[3], h[4], h[5], h[6], h[7], 1.0);
        let before = Matrix3::new(
            1.0 / spread,
            0.0,
            -mx / spread,
            0.0,
            1.0 / spread,
            -my / spread,
            0.0,
            0.0,
            1.0,
        );
        let after = Matrix3::new(wide, 0.0, mu, 0.0, wide, mv, 0.0, 0.0, 1.0);
        Some(Self(after * inner * before))
    }

    /// The pixel of a place.
    pub fn pixel(&self, at: Point) -> Pixel {
        let p = self.0 * Vector3::new(at.x, at.y, 1.0);
        Pixel::new(p.x / p.z, p.y / p.z)
    }

    /// Pixels to a millimetre about a place: the root of the area's growth.
    pub fn scale(&self, at: Point) -> f64 {
        let step = 0.5;
        let along = |dx: f64, dy: f64| {
            let (a, b) = (
                self.pixel(Point::new(at.x - dx, at.y - dy)),
                self.pixel(Point::new(at.x + dx, at.y + dy)),
            );
            (b.x - a.x, b.y - a.y)
        };
        let (a, b) = (along(step, 0.0), along(0.0, step));
        (a.0 * b.1 - a.1 * b.0).abs().sqrt()
    }
}
