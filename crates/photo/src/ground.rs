//! The floor with a part on it, seen by one or more cameras: light by place, sheets left out.

use crate::camera::Camera;
use crate::picture::Picture;
use crate::placing::Placed;
use geometry::{Point, Vector};

/// Printed paper is left out with this much round it, in mm: edges curl and throw shadows.
const ROUND_PAPER: f64 = 4.0;
/// Paper taken when nobody said which: as wide as letter and as high as A4, half of each in mm.
const HALF_PAPER: (f64, f64) = (108.0, 148.5);

/// The floor, and the plane of the part's upper face.
pub struct Ground<'a> {
    pictures: &'a [&'a Picture],
    cameras: &'a [Camera],
    /// How high the part's upper face lies.
    pub thickness: f64,
    sheets: Vec<[f64; 3]>,
}

impl<'a> Ground<'a> {
    /// Pictures with their cameras in the same order.
    pub fn new(pictures: &'a [&'a Picture], placed: &'a Placed, thickness: f64) -> Self {
        let sheets = placed.sheets.iter().filter_map(|s| placed.sheet(*s)).collect();
        Self { pictures, cameras: &placed.cameras, thickness, sheets }
    }

    /// The view that shows a place of the upper face best: where it is nearest to the picture's middle.
    pub fn view(&self, at: Point) -> Option<usize> {
        let off = |v: &usize| {
            let (picture, pixel) = (self.pictures[*v], self.cameras[*v].pixel(at, self.thickness));
            let (w, h) = (picture.width() as f64, picture.height() as f64);
            let off = (pixel.x / w - 0.5).abs().max((pixel.y / h - 0.5).abs());
            picture.holds(pixel).then_some(off)
        };
        (0..self.cameras.len())
            .filter_map(|v| Some((v, off(&v)?)))
            .min_by(|a, b| a.1.total_cmp(&b.1))
            .map(|(v, _)| v)
    }

    /// Light from a place of the upper face, or from the floor behind it; `None` where a sheet lies or the
    /// picture ends.
    pub fn light(&self, view: usize, at: Point) -> Option<[f32; 3]> {
        let pixel = self.cameras[view].pixel(at, self.thickness);
        let is_seen = self.pictures[view].holds(pixel) && self.to_sheets(view, at) > ROUND_PAPER;
        is_seen.then(|| self.pictures[view].light(pixel))
    }

    /// How far the floor seen through a place of the upper face is from the nearest sheet of paper, in mm;
    /// negative on it.
    pub fn to_sheets(&self, view: usize, at: Point) -> f64 {
        let from = self.cameras[view].stands();
        let on = from.z / (from.z - self.thickness);
        self.off_sheets(Point::new(from.x + (at.x - from.x) * on, from.y + (at.y - from.y) * on))
    }

    /// How far a place of the floor is from the nearest sheet of paper, in mm; negative on it.
    pub fn off_sheets(&self, at: Point) -> f64 {
        let off = |[x, y, turn]: &[f64; 3]| {
            let (sin, cos) = (libm::sin(*turn), libm::cos(*turn));
            let (dx, dy) = (at.x - x, at.y - y);
            let u = (dx * cos + dy * sin).abs() - HALF_PAPER.0;
            let v = (dy * cos - dx * sin).abs() - HALF_PAPER.1;
            if u > 0.0 && v > 0.0 { libm::hypot(u, v) } else { u.max(v) }
        };
        self.sheets.iter().map(off).fold(f64::INFINITY, f64::min)
    }

    /// How wide the part's wall shows beyond its upper edge, in mm on the plane of the upper face: its foot is
    /// seen so far out. Nought where the face hides it. `outwards` stands square to the edge.
    pub fn wall(&self, view: usize, at: Point, outwards: Vector) -> f64 {
        let from = self.cameras[view].stands();
        let toward = Vector::new(from.x - at.x, from.y - at.y).dot(outwards);
        (toward * self.thickness / from.z).max(0.0)
    }

    /// The middles of the sheets, on the floor.
    pub fn sheets(&self) -> impl Iterator<Item = Point> + '_ {
        self.sheets.iter().map(|[x, y, _]| Point::new(*x, *y))
    }

    /// Millimetres to a pixel about a place.
    pub fn pixel_size(&self, view: usize, at: Point) -> f64 {
        let of = |p: Point| self.cameras[view].pixel(p, self.thickness);
        let (a, b) = (of(at), of(Point::new(at.x + 1.0, at.y)));
        let c = of(Point::new(at.x, at.y + 1.0));
        1.0 / a.distance(b).min(a.distance(c)).max(1e-6)
    }
}
