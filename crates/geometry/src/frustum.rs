//! The flat development of a cone frustum: tapered bolsters, raked ottomans.

use crate::outline::{Node, Path, Run};
use crate::{Point, Vector};
use std::f64::consts::{FRAC_PI_2, PI};

/// A frustum by its two diameters and its height along the axis. Millimetres.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Frustum {
    /// The larger diameter.
    pub large: f64,
    /// The smaller diameter; nought is a cone.
    pub small: f64,
    /// Square to both.
    pub height: f64,
}

impl Frustum {
    /// Along the side: `s = sqrt(h^2 + ((D - d) / 2)^2)`.
    pub fn slant(self) -> f64 {
        libm::hypot(self.height, (self.large - self.small) / 2.0)
    }

    /// Radii of the developed ring, `R = D s / (D - d)` and `r = d s / (D - d)`; `None` for a cylinder.
    ///
    /// Source: E. M. Longfield, *Sheet Metal Drafting*, chapter V.
    pub fn radii(self) -> Option<(f64, f64)> {
        let difference = self.large - self.small;
        // Flatter than this a curve cannot be struck and a rectangle is as good: under a thousandth of
        // a millimetre over any bolster.
        (difference > 1e-3).then(|| {
            let per = self.slant() / difference;
            (self.large * per, self.small * per)
        })
    }

    /// Angle of the developed ring in radians: `pi (D - d) / s`; nought for a cylinder.
    pub fn angle(self) -> f64 {
        PI * (self.large - self.small) / self.slant()
    }

    /// The developed side without seams: a ring sector, symmetric about the upright through the apex,
    /// which is the origin. Sides: outer arc, left edge, inner arc, right edge. `None` for a cylinder.
    pub fn sector(self) -> Option<Path> {
        let (outer, inner) = self.radii()?;
        let angle = self.angle();
        // No arc of more than a quarter turn: bulges stay small.
        let pieces = (angle / FRAC_PI_2).ceil().max(1.0) as usize;
        let sweep = angle / pieces as f64;
        let from = FRAC_PI_2 - angle / 2.0;
        let at = |radius: f64, turn: f64| {
            Point::new(0.0, 0.0) + Vector::new(radius * libm::cos(turn), radius * libm::sin(turn))
        };
        let bulge = libm::tan(sweep / 4.0);
        let mut nodes: Vec<Node> = (0..pieces)
            .map(|i| Node { at: at(outer, from + sweep * i as f64), bulge, run: Run::Side(0) })
            .collect();
        nodes.push(Node { at: at(outer, from + angle), bulge: 0.0, run: Run::Side(1) });
        if inner > 1e-6 {
            nodes.extend((0..pieces).map(|i| Node {
                at: at(inner, from + angle - sweep * i as f64),
                bulge: -bulge,
                run: Run::Side(2),
            }));
        }
        nodes.push(Node { at: at(inner, from), bulge: 0.0, run: Run::Side(3) });
        Some(Path { nodes })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn developments_are_those_of_the_drafting_books() {
        // Diameters 6, 3, height 3: slant 3.3541, area 47.417, radii 6.7082 and 3.3541, 160.997 degrees
        // (Longfield, sample problem); 8, 5, 4: 4.272, 11.39, 7.12, 126.4 (a published lesson); the
        // smith's cone of 90 degrees: 254.6 degrees.
        for (large, small, height, slant, outer, inner, degrees) in [
            (6.0, 3.0, 3.0, 3.3541, 6.7082, 3.3541, 160.997),
            (8.0, 4.0, 4.0, 4.4721, 8.9443, 4.4721, 160.997),
            (8.0, 5.0, 4.0, 4.2720, 11.392, 7.120, 126.40),
            (24.0, 20.0, 10.0, 10.198, 61.188, 50.990, 70.60),
            (2.0, 0.0, 1.0, std::f64::consts::SQRT_2, std::f64::consts::SQRT_2, 0.0, 254.56),
        ] {
            let frustum = Frustum { large, small, height };
            let (r1, r2) = frustum.radii().unwrap();
            assert!((frustum.slant() - slant).abs() < 1e-3, "{}", frustum.slant());
            assert!((r1 - outer).abs() < 1e-3 && (r2 - inner).abs() < 1e-3, "{r1} {r2}");
            assert!((frustum.angle().to_degrees() - degrees).abs() < 5e-3);
            // Lateral area is the mean circumference times the slant (Longfield, section 43).
            let path = frustum.sector().unwrap();
            let area = PI * (large + small) / 2.0 * frustum.slant();
            assert!((path.area() - area).abs() < 1e-6 * area, "{} for {area}", path.area());
            assert!(path.signed_area() > 0.0);
        }
        assert_eq!(Frustum { large: 8.0, small: 8.0, height: 30.0 }.sector(), None);
    }
}
