//! Flattened shapes in whole nanometres: what is laid, compared and checked exactly.

use crate::{Length, Point};

/// A place in whole nanometres.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Spot {
    /// Nanometres to the right.
    pub x: i64,
    /// Nanometres up.
    pub y: i64,
}

impl Spot {
    /// From nanometres.
    pub const fn new(x: i64, y: i64) -> Self {
        Self { x, y }
    }

    /// To the nearest nanometre.
    pub fn from_point(p: Point) -> Self {
        Self::new(Length::from_mm(p.x).nm(), Length::from_mm(p.y).nm())
    }

    /// In millimetres.
    pub fn point(self) -> Point {
        Point::new(Length::from_nm(self.x).mm(), Length::from_nm(self.y).mm())
    }

    /// Moved.
    #[must_use]
    pub const fn plus(self, other: Self) -> Self {
        Self::new(self.x + other.x, self.y + other.y)
    }

    /// Turned counter-clockwise about the origin; exact for quarter turns, else rounded.
    #[must_use]
    pub fn turned(self, degrees: f64) -> Self {
        match degrees.rem_euclid(360.0) {
            0.0 => self,
            90.0 => Self::new(-self.y, self.x),
            180.0 => Self::new(-self.x, -self.y),
            270.0 => Self::new(self.y, -self.x),
            other => Self::from_point(self.point().turned(other)),
        }
    }
}

/// Twice the signed area of the triangle; positive if `c` lies left of `a` to `b`. Exact.
pub(crate) fn side(a: Spot, b: Spot, c: Spot) -> i128 {
    i128::from(b.x - a.x) * i128::from(c.y - a.y) - i128::from(b.y - a.y) * i128::from(c.x - a.x)
}

/// An upright rectangle in whole nanometres.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct Rect {
    /// Bottom left.
    pub low: Spot,
    /// Top right.
    pub high: Spot,
}

impl Rect {
    /// Left to right.
    pub const fn width(&self) -> Length {
        Length::from_nm(self.high.x - self.low.x)
    }

    /// Bottom to top.
    pub const fn height(&self) -> Length {
        Length::from_nm(self.high.y - self.low.y)
    }

    /// Moved.
    #[must_use]
    pub const fn moved(&self, by: Spot) -> Self {
        Self { low: self.low.plus(by), high: self.high.plus(by) }
    }

    /// Whether the two share more than an edge.
    pub const fn meets(&self, other: &Self) -> bool {
        self.low.x < other.high.x
            && other.low.x < self.high.x
            && self.low.y < other.high.y
            && other.low.y < self.high.y
    }

    /// Whether `other` lies within, edges allowed.
    pub const fn holds(&self, other: &Self) -> bool {
        self.low.x <= other.low.x
            && other.high.x <= self.high.x
            && self.low.y <= other.low.y
            && other.high.y <= self.high.y
    }
}

/// A simple polygon walked counter-clockwise, without repeated points or points in line.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub struct Polygon {
    points: Vec<Spot>,
}

impl Polygon {
    /// From points in either direction; repeated points and points in line are dropped. What is
    /// left may be empty or cross itself: ask [`Self::is_simple`].
    pub fn new(points: Vec<Spot>) -> Self {
        let mut kept = drop_idle(points);
        if twice_area(&kept) < 0 {
            kept.reverse();
        }
        Self { points: kept }
    }

    /// An upright rectangle from the origin.
    pub fn rectangle(width: Length, height: Length) -> Self {
        let (w, h) = (width.nm(), height.nm());
        Self::new(vec![Spot::new(0, 0), Spot::new(w, 0), Spot::new(w, h), Spot::new(0, h)])
    }

    /// The corners.
    pub fn points(&self) -> &[Spot] {
        &self.points
    }

    /// The box that holds it; at the origin if empty.
    pub fn bounds(&self) -> Rect {
        let first = self.points.first().copied().unwrap_or_default();
        let mut rect = Rect { low: first, high: first };
        for p in &self.points {
            rect.low = Spot::new(rect.low.x.min(p.x), rect.low.y.min(p.y));
            rect.high = Spot::new(rect.high.x.max(p.x), rect.high.y.max(p.y));
        }
        rect
    }

    /// Twice the area in nm2, exact.
    pub fn twice_area(&self) -> i128 {
        twice_area(&self.points)
    }

    /// In mm2.
    pub fn area_mm2(&self) -> f64 {
        self.twice_area() as f64 / 2e12
    }

    /// Moved.
    #[must_use]
    pub fn moved(&self, by: Spot) -> Self {
        Self { points: self.points.iter().map(|p| p.plus(by)).collect() }
    }

    /// Turned about the origin, then moved so that nothing changes but its place: see
    /// [`Spot::turned`].
    #[must_use]
    pub fn turned(&self, degrees: f64) -> Self {
        Self::new(self.points.iter().map(|p| p.turned(degrees)).collect())
    }

    /// Whether it is an upright rectangle.
    pub fn is_upright_rectangle(&self) -> bool {
        let b = self.bounds();
        let box_area = i128::from(b.width().nm()) * i128::from(b.height().nm());
        self.points.len() == 4 && self.twice_area() == 2 * box_area
    }

    /// Whether it has an area and neither crosses nor touches itself. Exact.
    pub fn is_simple(&self) -> bool {
        let n = self.points.len();
        if n < 3 || self.twice_area() <= 0 {
            return false;
        }
        let edge = |i: usize| (self.points[i], self.points[(i + 1) % n]);
        for i in 0..n {
            for j in i + 2..n {
                if i == 0 && j == n - 1 {
                    continue;
                }
                if touch(edge(i), edge(j)) {
                    return false;
                }
            }
            // Neighbours must not fold back on each other.
            let (a, b) = edge(i);
            let c = self.points[(i + 2) % n];
            let back = i128::from(b.x - a.x) * i128::from(c.x - b.x)
                + i128::from(b.y - a.y) * i128::from(c.y - b.y);
            if side(a, b, c) == 0 && back < 0 {
                return false;
            }
        }
        true
    }

    /// Whether a place lies inside, off the edge. Exact.
    pub fn holds(&self, p: Spot) -> bool {
        let n = self.points.len();
        let mut inside = false;
        for i in 0..n {
            let (a, b) = (self.points[i], self.points[(i + 1) % n]);
            let s = side(a, b, p);
            let between = a.x.min(b.x) <= p.x
                && p.x <= a.x.max(b.x)
                && a.y.min(b.y) <= p.y
                && p.y <= a.y.max(b.y);
            if s == 0 && between {
                return false;
            }
            if (a.y <= p.y) != (b.y <= p.y) && (s > 0) == (b.y > a.y) {
                inside = !inside;
            }
        }
        inside
    }
}

fn twice_area(points: &[Spot]) -> i128 {
    let next = points.iter().cycle().skip(1);
    points
        .iter()
        .zip(next)
        .map(|(a, b)| i128::from(a.x) * i128::from(b.y) - i128::from(a.y) * i128::from(b.x))
        .sum()
}

fn drop_idle(mut points: Vec<Spot>) -> Vec<Spot> {
    loop {
        points.dedup();
        if points.len() > 1 && points.first() == points.last() {
            points.pop();
        }
        let n = points.len();
        if n < 3 {
            return points;
        }
        let in_line = |i: usize| {
            let (a, b, c) = (points[(i + n - 1) % n], points[i], points[(i + 1) % n]);
            let on = i128::from(b.x - a.x) * i128::from(c.x - b.x)
                + i128::from(b.y - a.y) * i128::from(c.y - b.y);
            side(a, b, c) == 0 && on > 0
        };
        let kept: Vec<Spot> = (0..n).filter(|&i| !in_line(i)).map(|i| points[i]).collect();
        if kept.len() == n {
            return kept;
        }
        points = kept;
    }
}

/// Whether two closed edges share a point. Exact.
fn touch((a, b): (Spot, Spot), (c, d): (Spot, Spot)) -> bool {
    if a.x.max(b.x) < c.x.min(d.x)
        || c.x.max(d.x) < a.x.min(b.x)
        || a.y.max(b.y) < c.y.min(d.y)
        || c.y.max(d.y) < a.y.min(b.y)
    {
        return false;
    }
    let sign = |x: i128| x.signum();
    let (s1, s2) = (sign(side(a, b, c)), sign(side(a, b, d)));
    let (s3, s4) = (sign(side(c, d, a)), sign(side(c, d, b)));
    s1 * s2 <= 0 && s3 * s4 <= 0
}

#[cfg(test)]
mod tests {
    use super::*;

    fn polygon(points: &[(i64, i64)]) -> Polygon {
        Polygon::new(points.iter().map(|&(x, y)| Spot::new(x, y)).collect())
    }

    #[test]
    fn direction_and_idle_points_do_not_matter() {
        let square = polygon(&[(0, 0), (4, 0), (4, 4), (0, 4)]);
        assert_eq!(polygon(&[(0, 4), (4, 4), (4, 0), (0, 0)]).twice_area(), square.twice_area());
        assert_eq!(polygon(&[(0, 0), (2, 0), (4, 0), (4, 0), (4, 4), (0, 4), (0, 0)]), square);
        assert!(square.is_upright_rectangle());
    }

    #[test]
    fn simple_or_not() {
        assert!(polygon(&[(0, 0), (4, 0), (4, 4), (2, 1), (0, 4)]).is_simple());
        assert!(!polygon(&[(0, 0), (4, 0), (4, 4), (2, 0), (0, 4)]).is_simple(), "touches");
        assert!(!polygon(&[(0, 0), (4, 4), (4, 0), (0, 4)]).is_simple(), "crosses");
        assert!(!polygon(&[(0, 0), (4, 0)]).is_simple());
        assert!(!polygon(&[(0, 0), (4, 0), (6, 0), (2, 0)]).is_simple());
    }

    #[test]
    fn inside_is_strict() {
        let l = polygon(&[(0, 0), (9, 0), (9, 3), (3, 3), (3, 9), (0, 9)]);
        assert!(l.holds(Spot::new(1, 8)) && l.holds(Spot::new(8, 1)));
        assert!(
            !l.holds(Spot::new(4, 4)) && !l.holds(Spot::new(3, 5)) && !l.holds(Spot::new(0, 0))
        );
    }
}
