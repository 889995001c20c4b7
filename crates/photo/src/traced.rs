//! An outline laid as a piece is measured: level, from the left and from the bottom.

use crate::joined::{Fitted, corners};
use crate::measure::{Looked, Outlined};
use crate::picture::Pixel;
use geometry::{Corner, Path, Point, Vector};

/// A straight side this near to level or upright, in degrees, is made so.
const NEARLY: f64 = 20.0;

/// A part with its openings.
#[derive(Clone, Debug)]
pub struct Traced {
    /// Counter-clockwise from the one nearest to the lower left; the outline's box begins at nought.
    pub corners: Vec<Corner>,
    /// Each stretch, from the corner of the same number: true within so many mm.
    pub within: Vec<f64>,
    /// What is cut out.
    pub openings: Vec<Opening>,
    /// Width and height of the outline's box, in mm.
    pub size: (f64, f64),
}

/// An opening.
#[derive(Clone, Debug)]
pub struct Opening {
    /// Of its box, as the part's corners are measured.
    pub middle: Point,
    /// From its middle.
    pub corners: Vec<Corner>,
    /// Across, in mm, if it is a circle.
    pub diameter: Option<f64>,
}

/// Laid level: the longest straight side, if it nearly is; else as the first picture shows it. `None` if the
/// lines and arcs make no outline.
pub fn lay_level(looked: &Looked, found: &Outlined) -> Option<Traced> {
    let outer = found.loops.first()?;
    let turn = -level(looked, &outer.fitted).to_degrees();
    let turned = |c: &Corner| Corner { at: c.at.turned(turn), ..*c };
    let all: Vec<Vec<Corner>> =
        found.loops.iter().map(|l| l.corners.iter().map(turned).collect()).collect();
    let (low, high) = Path::from_corners(&all[0]).ok()?.bounds();
    let moved = |by: Vector| move |c: &Corner| Corner { at: c.at + by, ..*c };
    let own: Vec<Corner> = all[0].iter().map(moved(Point::default() - low)).collect();
    let near = |i: &usize| own[*i].at.x + own[*i].at.y;
    let first = (0..own.len()).min_by(|a, b| near(a).total_cmp(&near(b)))?;
    let from_first = |i: usize| (first + i) % own.len();
    let openings = all[1..].iter().zip(&found.loops[1..]).map(|(corners, l)| {
        let (a, b) = Path::from_corners(corners).ok()?.bounds();
        let middle = a.middle(b);
        Some(Opening {
            middle: middle + (Point::default() - low),
            corners: corners.iter().map(moved(Point::default() - middle)).collect(),
            diameter: circle(&l.fitted),
        })
    });
    Some(Traced {
        openings: openings.collect::<Option<_>>()?,
        corners: (0..own.len()).map(|i| own[from_first(i)]).collect(),
        within: (0..own.len()).map(|i| outer.within[from_first(i)]).collect(),
        size: (high.x - low.x, high.y - low.y),
    })
}

/// The direction on the floor that is to lie level, in radians.
fn level(looked: &Looked, fitted: &[Fitted]) -> f64 {
    let (w, h) = looked.views[0].size;
    let at = |x: f64| looked.place(0, Pixel::new(x * w as f64, 0.5 * h as f64));
    let right = match (at(0.45), at(0.55)) {
        (Some(a), Some(b)) => b - a,
        _ => Vector::new(1.0, 0.0),
    };
    let shown = libm::atan2(right.y, right.x);
    let n = fitted.len();
    let chord = |i: usize| fitted[(i + 1) % n].at - fitted[i].at;
    let longest = (0..n)
        .filter(|i| fitted[*i].bulge == 0.0)
        .max_by(|a, b| chord(*a).length().total_cmp(&chord(*b).length()));
    let Some(side) = longest.map(chord) else { return shown };
    let quarter = std::f64::consts::FRAC_PI_2;
    let off = libm::atan2(side.y, side.x) - shown;
    let off = off - (off / quarter).round() * quarter;
    if off.abs() < NEARLY.to_radians() { shown + off } else { shown }
}

/// The diameter of what is one circle all round.
fn circle(fitted: &[Fitted]) -> Option<f64> {
    let corners = corners(fitted);
    let path = Path::from_corners(&corners).ok()?;
    if path.nodes.iter().any(|n| n.bulge == 0.0) {
        return None;
    }
    let (low, high) = path.bounds();
    let (w, h) = (high.x - low.x, high.y - low.y);
    let mean = f64::midpoint(w, h);
    let area = std::f64::consts::PI * mean * mean / 4.0;
    // Half a millimetre out of round is still one hole.
    let is_round = (w - h).abs() < 1.0 && (path.area() / area - 1.0).abs() < 2.0 / mean;
    is_round.then_some(mean)
}
