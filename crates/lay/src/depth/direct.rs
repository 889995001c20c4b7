//! How deep one form lies in another, seen from their convex pieces alone: nothing is worked out beforehand.
//!
//! The way out of a convex piece is along one of the edges of the two: separating axes. It is the depth that
//! the no-fit polygon of the two would tell.

use super::{Push, lesser};
use crate::no_fit::Piece;

/// A form's convex pieces as they are compared.
#[derive(Debug)]
pub(crate) struct Body(Vec<Solid>);

#[derive(Debug)]
struct Solid {
    low: [f64; 2],
    high: [f64; 2],
    corners: Vec<[f64; 2]>,
    /// Outward unit normal of the slanting edges and distance from the origin, a nanometre outwards.
    faces: Vec<[f64; 3]>,
}

impl Body {
    pub fn of(pieces: &[Piece]) -> Self {
        Self(pieces.iter().map(Solid::of).collect())
    }

    /// Depth when it lies `x`, `y` from another.
    pub fn at(&self, other: &Self, x: f64, y: f64) -> f64 {
        let mut most = 0.0;
        for a in &self.0 {
            let (low, high) = ([a.low[0] + x, a.low[1] + y], [a.high[0] + x, a.high[1] + y]);
            for b in &other.0 {
                let least = upright(low, high, b);
                if least > most {
                    most = a.slanting(b, x, y, least, most);
                }
            }
        }
        most
    }

    /// The same with the way out of the deepest two pieces.
    pub fn push(&self, other: &Self, x: f64, y: f64) -> Push {
        let mut most = Push::default();
        for a in &self.0 {
            let (low, high) = ([a.low[0] + x, a.low[1] + y], [a.high[0] + x, a.high[1] + y]);
            for b in &other.0 {
                let least = upright(low, high, b);
                if least > most.depth && a.slanting(b, x, y, least, most.depth) > most.depth {
                    most = a.push(b, x, y);
                }
            }
        }
        most
    }
}

/// Depth across and along.
fn upright(low: [f64; 2], high: [f64; 2], b: &Solid) -> f64 {
    lesser(
        lesser(high[0] - b.low[0], b.high[0] - low[0]),
        lesser(high[1] - b.low[1], b.high[1] - low[1]),
    )
}

impl Solid {
    fn of(piece: &Piece) -> Self {
        let corners: Vec<[f64; 2]> = piece.ring().map(|p| [p.x as f64, p.y as f64]).collect();
        let mut low = [f64::INFINITY; 2];
        let mut high = [f64::NEG_INFINITY; 2];
        for c in &corners {
            low = [low[0].min(c[0]), low[1].min(c[1])];
            high = [high[0].max(c[0]), high[1].max(c[1])];
        }
        let mut faces = Vec::new();
        for (i, a) in corners.iter().enumerate() {
            let b = corners[(i + 1) % corners.len()];
            let (dx, dy) = (b[0] - a[0], b[1] - a[1]);
            if dx != 0.0 && dy != 0.0 {
                let length = libm::hypot(dx, dy);
                let n = [dy / length, -dx / length];
                faces.push([n[0], n[1], n[0] * a[0] + n[1] * a[1] + 1.0]);
            }
        }
        Self { low, high, corners, faces }
    }

    /// How far the corners reach against a direction.
    fn least_along(&self, n: [f64; 2]) -> f64 {
        self.corners.iter().fold(f64::INFINITY, |least, c| lesser(n[0] * c[0] + n[1] * c[1], least))
    }

    /// Depth, of which `least` is known, if it is more than `most`, else `most`.
    fn slanting(&self, other: &Self, x: f64, y: f64, mut least: f64, most: f64) -> f64 {
        for [nx, ny, reach] in &other.faces {
            least = lesser(least, reach - nx * x - ny * y - self.least_along([*nx, *ny]));
            if least <= most {
                return most;
            }
        }
        for [nx, ny, reach] in &self.faces {
            least = lesser(least, reach + nx * x + ny * y - other.least_along([*nx, *ny]));
            if least <= most {
                return most;
            }
        }
        least
    }

    fn push(&self, other: &Self, x: f64, y: f64) -> Push {
        let upright = [
            (self.high[0] + x - other.low[0], [-1.0, 0.0]),
            (other.high[0] - self.low[0] - x, [1.0, 0.0]),
            (self.high[1] + y - other.low[1], [0.0, -1.0]),
            (other.high[1] - self.low[1] - y, [0.0, 1.0]),
        ];
        let there = other.faces.iter().map(|&[nx, ny, reach]| {
            (reach - nx * x - ny * y - self.least_along([nx, ny]), [nx, ny])
        });
        let here = self.faces.iter().map(|&[nx, ny, reach]| {
            (reach + nx * x + ny * y - other.least_along([nx, ny]), [-nx, -ny])
        });
        let (depth, along) = upright
            .into_iter()
            .chain(there)
            .chain(here)
            .min_by(|a, b| a.0.total_cmp(&b.0))
            .unwrap_or_default();
        Push { depth, along }
    }
}
