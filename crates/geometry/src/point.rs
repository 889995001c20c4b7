//! A place and a displacement, kept apart.

use std::ops::{Add, Mul, Neg, Sub};

/// A place on a flat shape, in millimetres; x to the right, y up.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Point {
    /// Millimetres to the right.
    pub x: f64,
    /// Millimetres up.
    pub y: f64,
}

/// A displacement, in millimetres.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Vector {
    /// Millimetres to the right.
    pub x: f64,
    /// Millimetres up.
    pub y: f64,
}

impl Point {
    /// From millimetres.
    pub const fn new(x: f64, y: f64) -> Self {
        Self { x, y }
    }

    /// Turned counter-clockwise about the origin. Quarter turns are exact.
    pub fn turned(self, degrees: f64) -> Self {
        let (sin, cos) = sin_cos_degrees(degrees);
        Self::new(self.x * cos - self.y * sin, self.x * sin + self.y * cos)
    }

    /// Midway to `other`.
    pub fn middle(self, other: Self) -> Self {
        Self::new((self.x + other.x) / 2.0, (self.y + other.y) / 2.0)
    }
}

impl Vector {
    /// From millimetres.
    pub const fn new(x: f64, y: f64) -> Self {
        Self { x, y }
    }

    /// In millimetres.
    pub fn length(self) -> f64 {
        libm::hypot(self.x, self.y)
    }

    /// Scaled to one millimetre; zero stays zero.
    pub fn unit(self) -> Self {
        let length = self.length();
        if length == 0.0 { self } else { self * (1.0 / length) }
    }

    /// Turned a quarter clockwise: the outward side of an edge walked counter-clockwise.
    pub const fn right(self) -> Self {
        Self::new(self.y, -self.x)
    }

    /// Positive when `other` lies to the left.
    pub fn cross(self, other: Self) -> f64 {
        self.x * other.y - self.y * other.x
    }

    /// Along `other`.
    pub fn dot(self, other: Self) -> f64 {
        self.x * other.x + self.y * other.y
    }
}

/// Sine and cosine of an angle in degrees, exact for quarter turns.
pub(crate) fn sin_cos_degrees(degrees: f64) -> (f64, f64) {
    match degrees.rem_euclid(360.0) {
        0.0 => (0.0, 1.0),
        90.0 => (1.0, 0.0),
        180.0 => (0.0, -1.0),
        270.0 => (-1.0, 0.0),
        other => {
            let radians = other.to_radians();
            (libm::sin(radians), libm::cos(radians))
        }
    }
}

impl Add<Vector> for Point {
    type Output = Self;
    fn add(self, v: Vector) -> Self {
        Self::new(self.x + v.x, self.y + v.y)
    }
}

impl Sub for Point {
    type Output = Vector;
    fn sub(self, other: Self) -> Vector {
        Vector::new(self.x - other.x, self.y - other.y)
    }
}

impl Add for Vector {
    type Output = Self;
    fn add(self, other: Self) -> Self {
        Self::new(self.x + other.x, self.y + other.y)
    }
}

impl Mul<f64> for Vector {
    type Output = Self;
    fn mul(self, by: f64) -> Self {
        Self::new(self.x * by, self.y * by)
    }
}

impl Neg for Vector {
    type Output = Self;
    fn neg(self) -> Self {
        Self::new(-self.x, -self.y)
    }
}
