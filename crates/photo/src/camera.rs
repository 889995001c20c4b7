//! A phone's camera: where it stands, how its lens bends; pixels to places on a level plane and back.
//!
//! The floor is the plane z = 0, z up; all in millimetres.

use crate::picture::Pixel;
use geometry::Point;
use nalgebra::{Matrix3, Vector3};

/// Numbers of a camera, in the order of [`Camera::from_numbers`].
pub const NUMBERS: usize = 11;

/// A camera as it was when the picture was taken.
#[derive(Clone, Copy, Debug)]
pub struct Camera {
    /// Focal length in pixels.
    pub focal: f64,
    /// Where the lens looks straight ahead.
    pub centre: Pixel,
    /// How much further out (positive) or in a ray comes to lie, with the second and fourth power of its
    /// distance from the centre in focal lengths.
    pub bend: [f64; 2],
    /// From the floor's directions to the camera's: right, down, ahead.
    turn: Matrix3<f64>,
    /// The floor's origin as the camera sees it.
    shift: Vector3<f64>,
}

/// The rotation about an axis by its length in radians.
///
/// Source: Rodrigues' formula.
pub fn rotation(axis: [f64; 3]) -> Matrix3<f64> {
    let v = Vector3::from(axis);
    let angle = v.norm();
    let cross = Matrix3::new(0.0, -v.z, v.y, v.z, 0.0, -v.x, -v.y, v.x, 0.0);
    let (a, b) = if angle < 1e-6 {
        (1.0, 0.5)
    } else {
        (libm::sin(angle) / angle, (1.0 - libm::cos(angle)) / (angle * angle))
    };
    Matrix3::identity() + cross * a + cross * cross * b
}

/// The axis of a rotation, as long as its angle in radians.
pub fn axis(turn: &Matrix3<f64>) -> [f64; 3] {
    let cos = ((turn.trace() - 1.0) / 2.0).clamp(-1.0, 1.0);
    let angle = libm::acos(cos);
    let odd = Vector3::new(
        turn[(2, 1)] - turn[(1, 2)],
        turn[(0, 2)] - turn[(2, 0)],
        turn[(1, 0)] - turn[(0, 1)],
    );
    let sin = libm::sin(angle);
    if angle < 1e-9 {
        return [0.0; 3];
    }
    if sin > 1e-4 {
        return (odd * (angle / (2.0 * sin))).into();
    }
    // About half a turn: the axis is the column that the rotation leaves alone.
    let even = (turn + Matrix3::identity()) / 2.0;
    let column = (0..3).max_by(|a, b| even[(*a, *a)].total_cmp(&even[(*b, *b)])).unwrap_or(0);
    let v = even.column(column).into_owned();
    (v * (angle / v.norm().max(1e-12))).into()
}

impl Camera {
    /// From focal length, centre (2), bend (2), turn as an axis (3), shift (3).
    pub fn from_numbers(n: &[f64]) -> Self {
        Self {
            focal: n[0],
            centre: Pixel::new(n[1], n[2]),
            bend: [n[3], n[4]],
            turn: rotation([n[5], n[6], n[7]]),
            shift: Vector3::new(n[8], n[9], n[10]),
        }
    }

    /// The pixel of a place `z` above the floor; far outside if the place lies behind the camera.
    pub fn pixel(&self, at: Point, z: f64) -> Pixel {
        let p = self.turn * Vector3::new(at.x, at.y, z) + self.shift;
        if p.z <= 1.0 {
            return Pixel::new(-1e6, -1e6);
        }
        let (x, y) = (p.x / p.z, p.y / p.z);
        let r = x * x + y * y;
        let d = 1.0 + r * (self.bend[0] + r * self.bend[1]);
        Pixel::new(self.focal * x * d + self.centre.x, self.focal * y * d + self.centre.y)
    }

    /// The place `z` above the floor that is seen at a pixel; `None` if the ray does not come down to it.
    pub fn place(&self, pixel: Pixel, z: f64) -> Option<Point> {
        let far = ((pixel.x - self.centre.x) / self.focal, (pixel.y - self.centre.y) / self.focal);
        let (mut x, mut y) = far;
        for _ in 0..20 {
            let r = x * x + y * y;
            let d = 1.0 + r * (self.bend[0] + r * self.bend[1]);
            if d < 0.2 {
                return None;
            }
            (x, y) = (far.0 / d, far.1 / d);
        }
        let ray = self.turn.transpose() * Vector3::new(x, y, 1.0);
        let from = self.stands();
        let along = (z - from.z) / ray.z;
        (along.is_finite() && along > 0.0)
            .then(|| Point::new(from.x + along * ray.x, from.y + along * ray.y))
    }

    /// Where it stands.
    pub fn stands(&self) -> Vector3<f64> {
        -(self.turn.transpose() * self.shift)
    }

    /// How far it looks from straight down, in degrees.
    pub fn tilt(&self) -> f64 {
        libm::acos((-self.turn[(2, 2)]).clamp(-1.0, 1.0)).to_degrees()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn looking_down(bend: [f64; 2]) -> Camera {
        // Half a turn about x: right stays right, the floor's up is the camera's up.
        Camera::from_numbers(&[
            2900.0,
            2000.0,
            1500.0,
            bend[0],
            bend[1],
            std::f64::consts::PI - 0.2,
            0.1,
            -0.05,
            30.0,
            -20.0,
            1400.0,
        ])
    }

    #[test]
    fn a_pixel_goes_down_to_its_place_and_comes_back() {
        let camera = looking_down([-0.1, 0.02]);
        for (x, y, z) in [(0.0, 0.0, 0.0), (500.0, -300.0, 12.0), (-610.0, 240.0, 40.0)] {
            let pixel = camera.pixel(Point::new(x, y), z);
            let back = camera.place(pixel, z).unwrap();
            assert!((back - Point::new(x, y)).length() < 1e-6, "{back:?}");
        }
    }

    /// A place as high as a share of the camera's height moves away from below the camera by that share.
    #[test]
    fn what_is_higher_is_seen_further_out() {
        let camera = looking_down([0.0, 0.0]);
        let from = camera.stands();
        let pixel = camera.pixel(Point::new(400.0, 100.0), 12.0);
        let floor = camera.place(pixel, 0.0).unwrap();
        let share = from.z / (from.z - 12.0);
        assert!((floor.x - from.x - (400.0 - from.x) * share).abs() < 1e-6);
    }

    #[test]
    fn an_axis_gives_its_rotation_back() {
        for a in
            [[0.3, -0.2, 0.9], [3.1, 0.1, 0.0], [0.0, std::f64::consts::PI, 0.0], [1e-8, 0.0, 0.0]]
        {
            let turn = rotation(a);
            assert!((rotation(axis(&turn)) - turn).norm() < 1e-6, "{a:?}");
        }
    }
}
