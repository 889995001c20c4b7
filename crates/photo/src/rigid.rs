//! Turning and shifting points onto others.

use geometry::{Point, Vector};

/// A turn about the origin, then a shift.
#[derive(Clone, Copy, Debug)]
pub struct Rigid {
    /// In radians, counter-clockwise.
    pub turn: f64,
    /// In mm.
    pub shift: Vector,
}

impl Rigid {
    /// What brings the first of each pair nearest to the second; `None` for no pair.
    ///
    /// Source: the least-squares rotation in the plane, in closed form.
    pub fn onto(pairs: &[(Point, Point)]) -> Option<Self> {
        let n = pairs.len() as f64;
        if pairs.is_empty() {
            return None;
        }
        let sum = pairs
            .iter()
            .fold([0.0; 4], |s, (a, b)| [s[0] + a.x, s[1] + a.y, s[2] + b.x, s[3] + b.y]);
        let (from, to) = (Point::new(sum[0] / n, sum[1] / n), Point::new(sum[2] / n, sum[3] / n));
        let (mut along, mut across) = (0.0, 0.0);
        for (a, b) in pairs {
            let (u, v) = (*a - from, *b - to);
            along += u.dot(v);
            across += u.cross(v);
        }
        let turn = libm::atan2(across, along);
        let (sin, cos) = (libm::sin(turn), libm::cos(turn));
        let shift =
            Vector::new(to.x - from.x * cos + from.y * sin, to.y - from.x * sin - from.y * cos);
        Some(Self { turn, shift })
    }

    /// Where a point comes to lie.
    pub fn of(&self, p: Point) -> Point {
        let (sin, cos) = (libm::sin(self.turn), libm::cos(self.turn));
        Point::new(p.x * cos - p.y * sin + self.shift.x, p.x * sin + p.y * cos + self.shift.y)
    }
}
