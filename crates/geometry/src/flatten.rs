//! Curves made straight: what a polygon takes from an outline.

use crate::point::sin_cos_degrees;
use crate::{Point, Seg, Spot, Vector};

/// How far a flattened curve may stand out from the true one, mm.
const FLATNESS: f64 = 0.2;

/// Without corners at which a side runs straight on but for the rounding to whole nanometres: they would
/// be hollow half the time, and a hollow shape takes many convex pieces.
pub(crate) fn without_flat(spots: Vec<Spot>) -> Vec<Spot> {
    const ROUNDED: f64 = 2.0;
    let mut kept: Vec<Spot> = Vec::with_capacity(spots.len());
    for (i, &spot) in spots.iter().enumerate() {
        let next = spots[(i + 1) % spots.len()];
        let flat = kept.last().is_some_and(|&last| {
            let (x, y) = ((next.x - last.x) as f64, (next.y - last.y) as f64);
            let (u, v) = ((spot.x - last.x) as f64, (spot.y - last.y) as f64);
            let long = libm::hypot(x, y);
            let along = (u * x + v * y) / long;
            (u * y - v * x).abs() < ROUNDED * long && 0.0 < along && along < long
        });
        if !flat {
            kept.push(spot);
        }
    }
    kept
}

/// The points of an arc after its start: outside it where it bows outwards, on it where it bows inwards.
pub(crate) fn flatten_arc(seg: &Seg, points: &mut Vec<Point>) {
    let sweep = seg.sweep();
    let centre = seg.centre();
    let from = seg.start - centre;
    let first = libm::atan2(from.y, from.x);
    // Quarter directions strictly inside the arc are kept as exact points.
    let quarter = std::f64::consts::FRAC_PI_2;
    let mut stops = vec![first];
    let (low, high) = if sweep > 0.0 { (first, first + sweep) } else { (first + sweep, first) };
    let mut k = (low / quarter).ceil() as i64;
    let mut quarters = Vec::new();
    while (k as f64) * quarter < high {
        let angle = k as f64 * quarter;
        if angle > low + 1e-9 && angle < high - 1e-9 {
            quarters.push(angle);
        }
        k += 1;
    }
    if sweep < 0.0 {
        quarters.reverse();
    }
    stops.extend(quarters);
    stops.push(first + sweep);
    let radius = seg.radius();
    let widest = libm::sqrt(8.0 * FLATNESS / radius.max(FLATNESS)).min(0.5);
    let spot = |angle: f64, r: f64| {
        let (sin, cos) = near_quarter(angle);
        centre + Vector::new(cos, sin) * r
    };
    for pair in stops.windows(2) {
        let (a, b) = (pair[0], pair[1]);
        let parts = ((b - a).abs() / widest).ceil().max(1.0) as usize;
        let step = (b - a) / parts as f64;
        for i in 0..parts {
            let here = a + step * i as f64;
            // Tangents meet outside; where one touches the arc within a quarter, it runs straight on.
            if (i > 0 && sweep < 0.0) || (i == 0 && a != first) {
                points.push(spot(here, radius));
            }
            if sweep > 0.0 {
                points.push(spot(here + step / 2.0, radius / libm::cos(step / 2.0)));
            }
        }
    }
}

/// Sine and cosine, exact at quarter turns.
fn near_quarter(angle: f64) -> (f64, f64) {
    let quarters = angle / std::f64::consts::FRAC_PI_2;
    if (quarters - quarters.round()).abs() < 1e-12 {
        sin_cos_degrees(quarters.round() * 90.0)
    } else {
        (libm::sin(angle), libm::cos(angle))
    }
}
