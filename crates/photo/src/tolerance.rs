//! How true an outline is, place by place: what the cameras, tapes and sheets leave open, and what the edge
//! itself leaves open.

use crate::camera::{Camera, NUMBERS};
use crate::ground::Ground;
use crate::placing::Placed;
use crate::ring::normals;
use geometry::{Point, Vector};
use nalgebra::DMatrix;

/// Standard deviation of a thickness as told, in mm; of none told, nought.
const THICKNESS: f64 = 0.5;
/// What the edge of a part leaves open besides its scatter, in mm: the shadow where it touches the floor, a
/// wall seen with the face.
const EDGE: f64 = 0.25;
/// And in pixels: how the camera draws edges harder or softer.
const PIXELS: f64 = 0.35;
/// Everything is stated this much larger than worked out: calibrated on rendered photographs
/// (`docs/measured.md`).
const STATED: f64 = 1.15;

/// What one place leaves open square to the outline: one standard deviation, in mm.
pub struct Open {
    /// By cameras, tapes and sheets, the whole free to turn and shift.
    pub standing: Vec<f64>,
}

/// How far each place of outlines may be off by what the least squares left open. Points all lie on the upper
/// face; all loops together move as one.
pub fn open(ground: &Ground, placed: &Placed, loops: &[Vec<Point>]) -> Vec<Open> {
    let places: Vec<(Point, Vector)> =
        loops.iter().flat_map(|l| l.iter().copied().zip(normals(l, 2))).collect();
    let views: Vec<usize> = places.iter().map(|(p, _)| ground.view(*p).unwrap_or(0)).collect();
    let pixels: Vec<crate::picture::Pixel> = places
        .iter()
        .zip(&views)
        .map(|((p, _), v)| placed.cameras[*v].pixel(*p, ground.thickness))
        .collect();
    let count = NUMBERS * placed.cameras.len();
    let moved = |numbers: &[f64], thickness: f64| -> Vec<Vector> {
        let of = |((p, _), (v, pixel)): (&(Point, Vector), (&usize, &crate::picture::Pixel))| {
            let camera = Camera::from_numbers(&numbers[NUMBERS * v..NUMBERS * (v + 1)]);
            camera.place(*pixel, thickness).map_or_else(Vector::default, |q| q - *p)
        };
        without_turn(&places, places.iter().zip(views.iter().zip(&pixels)).map(of).collect())
    };
    let base = placed.numbers[..count].to_vec();
    let mut fields: Vec<Vec<Vector>> = Vec::new();
    if let Some(roots) = root(&placed.covariance.view((0, 0), (count, count)).into_owned()) {
        for column in roots.column_iter() {
            let mut numbers = base.clone();
            // Small enough to stay straight, large enough to be told.
            for (n, c) in numbers.iter_mut().zip(column.iter()) {
                *n += 0.1 * c;
            }
            fields.push(moved(&numbers, ground.thickness).into_iter().map(|v| v * 10.0).collect());
        }
    }
    if ground.thickness > 0.0 {
        fields.push(moved(&base, ground.thickness + THICKNESS));
    }
    let at =
        |i: usize| fields.iter().map(|f| f[i].dot(places[i].1)).map(|d| d * d).sum::<f64>().sqrt();
    let mut next = 0;
    loops
        .iter()
        .map(|l| {
            let standing = (next..next + l.len()).map(at).collect();
            next += l.len();
            Open { standing }
        })
        .collect()
}

/// Movements less what one turn and shift of everything explains.
fn without_turn(places: &[(Point, Vector)], by: Vec<Vector>) -> Vec<Vector> {
    let pairs: Vec<(Point, Point)> =
        places.iter().zip(&by).map(|((p, _), v)| (*p, *p + *v)).collect();
    let Some(rigid) = crate::rigid::Rigid::onto(&pairs) else { return by };
    pairs.iter().map(|(p, q)| *q - rigid.of(*p)).collect()
}

fn root(covariance: &DMatrix<f64>) -> Option<DMatrix<f64>> {
    let n = covariance.nrows();
    let sizes: Vec<f64> = (0..n).map(|i| covariance[(i, i)].sqrt().max(1e-12)).collect();
    let mut unit = DMatrix::from_fn(n, n, |i, j| covariance[(i, j)] / (sizes[i] * sizes[j]));
    for i in 0..n {
        unit[(i, i)] += 1e-9;
    }
    let lower = unit.cholesky()?.l();
    Some(DMatrix::from_fn(n, n, |i, j| lower[(i, j)] * sizes[i]))
}

/// Within how many mm a place lies with 95 in 100 chances: `standing` and `scatter` are standard deviations,
/// `pixel` the size of a pixel there.
pub fn within(standing: f64, scatter: f64, pixel: f64) -> f64 {
    let (a, b) = (2.0 * standing, 2.0 * scatter);
    let c = EDGE + PIXELS * pixel;
    STATED * (a * a + b * b + c * c).sqrt()
}
