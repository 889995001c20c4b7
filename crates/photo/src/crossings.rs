//! The places where four squares of a sheet meet, found to a small share of a pixel.

use crate::flat::FlatView;
use crate::marks::Mark;
use crate::picture::{Grey, Pixel};
use crate::sheet::{self, SQUARE};
use geometry::Point;
use nalgebra::{Matrix2, Vector2};

/// Fewest marks of a sheet that tell where it lies.
const LEAST_MARKS: usize = 3;
/// Fewest crossings of a sheet that are of use.
const LEAST_CROSSINGS: usize = 8;
/// A crossing is looked for only as near as this to a mark that was read, in mm.
const NEAR: f64 = 62.0;

/// A sheet as it was found in a picture.
#[derive(Clone, Debug)]
pub struct SeenSheet {
    /// Which, from 0.
    pub sheet: usize,
    /// Crossings: on the sheet, in the picture.
    pub crossings: Vec<(Point, Pixel)>,
}

/// All sheets in a picture, by their number.
pub fn find_sheets(grey: &Grey, marks: &[Mark]) -> Vec<SeenSheet> {
    (0..sheet::SHEETS).filter_map(|n| find_sheet(grey, marks, n)).collect()
}

fn find_sheet(grey: &Grey, marks: &[Mark], number: usize) -> Option<SeenSheet> {
    let of_sheet = |m: &&Mark| sheet::place_of(m.code).0 == number;
    let mut seen: Vec<(Point, Mark)> =
        marks.iter().filter(of_sheet).map(|m| (sheet::place_of(m.code).1, *m)).collect();
    let pairs =
        |seen: &[(Point, Mark)], weight: &dyn Fn(Point) -> f64| -> Vec<(Point, Pixel, f64)> {
            let corners = |(at, mark): &(Point, Mark)| {
                sheet::mark_corners(*at)
                    .into_iter()
                    .zip(mark.corners)
                    .map(|(p, c)| (p, c, weight(p)))
                    .collect::<Vec<_>>()
            };
            seen.iter().flat_map(corners).collect()
        };
    // A mark read with a wrong corner is left out.
    loop {
        if seen.len() < LEAST_MARKS {
            return None;
        }
        let view = FlatView::through(&pairs(&seen, &|_| 1.0))?;
        let off = |(at, mark): &(Point, Mark)| {
            let each = sheet::mark_corners(*at).into_iter().zip(mark.corners);
            each.map(|(p, c)| view.pixel(p).distance(c)).fold(0.0, f64::max)
        };
        let (worst, by) = seen.iter().map(off).enumerate().max_by(|a, b| a.1.total_cmp(&b.1))?;
        if by <= 0.12 * SQUARE * view.scale(seen[worst].0) {
            break;
        }
        seen.remove(worst);
    }
    let crossings = sheet::crossings()
        .filter(|at| seen.iter().any(|(mark, _)| (*mark - *at).length() < NEAR))
        .filter_map(|at| {
            let near = |p: Point| {
                let d = (p - at).length() / 50.0;
                libm::exp(-d * d) + 0.02
            };
            let view = FlatView::through(&pairs(&seen, &near))?;
            let half = (0.17 * SQUARE * view.scale(at)).clamp(3.0, 14.0);
            refine(grey, view.pixel(at), half).map(|pixel| (at, pixel))
        })
        .collect::<Vec<_>>();
    (crossings.len() >= LEAST_CROSSINGS).then_some(SeenSheet { sheet: number, crossings })
}

/// The place near a guess to which every brightness gradient about it stands square; `None` if it is further
/// than `half` pixels away or edges run one way only.
///
/// Source: Foerstner and Guelch 1987, repeated about the new place (from memory).
fn refine(grey: &Grey, guess: Pixel, half: f64) -> Option<Pixel> {
    let reach = half.ceil() as i64;
    let margin = half + 3.0;
    let inside = |v: f64, size: usize| v > margin && v < size as f64 - 1.0 - margin;
    if !inside(guess.x, grey.width) || !inside(guess.y, grey.height) {
        return None;
    }
    let mut at = guess;
    for _ in 0..25 {
        let mut normal = Matrix2::zeros();
        let mut right = Vector2::zeros();
        for dy in -reach..=reach {
            for dx in -reach..=reach {
                let (dx, dy) = (dx as f64, dy as f64);
                let p = Pixel::new(at.x + dx, at.y + dy);
                let slope = |ax: f64, ay: f64| {
                    grey.at(Pixel::new(p.x + ax, p.y + ay))
                        - grey.at(Pixel::new(p.x - ax, p.y - ay))
                };
                let g = Vector2::new(slope(1.0, 0.0), slope(0.0, 1.0));
                let weight = libm::exp(-2.0 * (dx * dx + dy * dy) / (half * half));
                let outer = g * g.transpose() * weight;
                normal += outer;
                right += outer * Vector2::new(p.x, p.y);
            }
        }
        let (trace, det) = (normal.trace(), normal.determinant());
        if det < 0.02 * trace * trace / 4.0 {
            return None;
        }
        let next = normal.lu().solve(&right)?;
        let moved = Pixel::new(next.x, next.y);
        if moved.distance(guess) > half {
            return None;
        }
        let step = moved.distance(at);
        at = moved;
        if step < 1e-3 {
            break;
        }
    }
    Some(at)
}
