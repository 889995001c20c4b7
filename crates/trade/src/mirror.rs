//! Outlines, edges and notches as they are on the other hand.
//!
//! Sides and corners are counted counter-clockwise from the bottom in both, so that side `i` of one is
//! side `n - i` of the other, and the bottom stays the bottom.

use crate::panel::{Ears, Notch, PanelShape, Side};
use geometry::{Corner, Length, Point};

/// The same edges with left and right changed; `None` where the sides are not counted.
pub fn mirrored_sides(sides: &[Side], count: Option<usize>) -> Option<Vec<Side>> {
    if sides.iter().all(|side| *side == Side::default()) {
        return Some(sides.to_vec());
    }
    let n = count?;
    let side = |i: usize| sides.get(i).copied().unwrap_or_default();
    Some((0..n).map(|i| side((n - i) % n)).collect())
}

/// A notch on the other hand; `None` where the length of its side is not known.
pub fn mirrored_notch(shape: &PanelShape, notch: &Notch) -> Option<Notch> {
    let n = shape.side_count()?;
    let from = shape.side_length(notch.side)? - notch.from - notch.width;
    Some(Notch { side: (n - notch.side % n) % n, from, ..*notch })
}

impl PanelShape {
    /// How many sides are counted; `None` where they are not measured one by one.
    pub const fn side_count(&self) -> Option<usize> {
        Some(match self {
            Self::Rectangle { .. } | Self::Trapezoid { .. } => 4,
            Self::Disc { .. } | Self::Ring { .. } => 1,
            Self::Tee { ears: Ears::Both, .. } => 8,
            Self::Tee { .. } => 6,
            Self::Sides { sides, .. } => sides.len(),
            Self::Corners(corners) | Self::Traced { corners, .. } => corners.len(),
            Self::Offsets { .. } => return None,
        })
    }

    /// From the left end of its own coordinates to the right one, for what is placed in them.
    pub fn reach(&self) -> Option<Length> {
        Some(match self {
            Self::Rectangle { width, .. } => *width,
            Self::Trapezoid { bottom, .. } => *bottom,
            Self::Disc { diameter } => *diameter,
            Self::Ring { outer, .. } => *outer,
            Self::Tee { front, .. } => *front,
            Self::Sides { sides, .. } => *sides.first()?,
            Self::Offsets { base, .. } => *base,
            Self::Corners(corners) | Self::Traced { corners, .. } => {
                let xs = || corners.iter().map(|c| c.at.x);
                Length::from_mm(xs().fold(f64::MIN, f64::max) + xs().fold(f64::MAX, f64::min))
            }
        })
    }

    fn side_length(&self, side: usize) -> Option<Length> {
        Some(match self {
            Self::Rectangle { width, height, .. } => {
                if side.is_multiple_of(2) {
                    *width
                } else {
                    *height
                }
            }
            Self::Trapezoid { bottom, .. } if side == 0 => *bottom,
            Self::Trapezoid { top, .. } if side == 2 => *top,
            Self::Trapezoid { bottom, top, height, offset, .. } => {
                let left = offset.unwrap_or((*bottom - *top).share(2));
                let run = if side == 3 { left } else { *bottom - *top - left };
                Length::from_mm(libm::hypot(run.mm(), height.mm()))
            }
            Self::Sides { sides, .. } => *sides.get(side)?,
            Self::Corners(corners) | Self::Traced { corners, .. } => {
                let next = (side + 1) % corners.len().max(1);
                let (a, b) = (corners.get(side)?, corners.get(next)?);
                Length::from_mm((b.at - a.at).length())
            }
            Self::Disc { .. } | Self::Ring { .. } | Self::Tee { .. } | Self::Offsets { .. } => {
                return None;
            }
        })
    }

    /// Mirrored left to right.
    pub fn mirrored(&self) -> Self {
        match self.clone() {
            Self::Rectangle { width, height, radii: [bl, br, tr, tl], mut diagonals } => {
                diagonals.reverse();
                Self::Rectangle { width, height, radii: [br, bl, tl, tr], diagonals }
            }
            Self::Trapezoid { bottom, top, height, offset, radius, mut diagonals } => {
                diagonals.reverse();
                let offset = offset.map(|left| bottom - top - left);
                Self::Trapezoid { bottom, top, height, offset, radius, diagonals }
            }
            Self::Tee { front, body, depth, ear, ears, radius } => {
                let ears = match ears {
                    Ears::Both => Ears::Both,
                    Ears::Left => Ears::Right,
                    Ears::Right => Ears::Left,
                };
                Self::Tee { front, body, depth, ear, ears, radius }
            }
            Self::Sides { sides, diagonals } => {
                let n = sides.len();
                let corner = |i: usize| (n + 1 - i % n) % n;
                Self::Sides {
                    sides: (0..n).map(|i| sides[(n - i) % n]).collect(),
                    diagonals: diagonals
                        .into_iter()
                        .map(|(a, b, length)| (corner(a), corner(b), length))
                        .collect(),
                }
            }
            Self::Offsets { base, points, curved } => {
                let points = points.into_iter().rev().map(|(x, y)| (base - x, y)).collect();
                Self::Offsets { base, points, curved }
            }
            Self::Corners(corners) => Self::Corners(self.mirrored_corners(&corners)),
            Self::Traced { corners, within } => {
                Self::Traced { corners: self.mirrored_corners(&corners), within }
            }
            same @ (Self::Disc { .. } | Self::Ring { .. }) => same,
        }
    }

    fn mirrored_corners(&self, corners: &[Corner]) -> Vec<Corner> {
        let n = corners.len();
        let reach = self.reach().map_or(0.0, Length::mm);
        let at = |i: usize| {
            let corner = corners[(n + 1 - i) % n];
            let place = Point::new(reach - corner.at.x, corner.at.y);
            // The bow belongs to the side that leaves the corner.
            Corner { at: place, radius: corner.radius, rise: corners[(n - i) % n].rise }
        };
        (0..n).map(at).collect()
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::build::shape;
    use crate::working::Style;
    use geometry::Unit;

    fn mm(x: f64) -> Length {
        Length::from_mm(x)
    }

    #[test]
    fn the_image_is_the_outline_turned_over_and_twice_is_as_it_was() {
        let corner =
            |x: f64, y: f64, radius: f64, rise: f64| Corner { at: Point::new(x, y), radius, rise };
        let shapes = [
            PanelShape::Rectangle {
                width: mm(500.0),
                height: mm(300.0),
                radii: [mm(10.0), mm(20.0), mm(30.0), mm(40.0)],
                diagonals: vec![],
            },
            PanelShape::Trapezoid {
                bottom: mm(700.0),
                top: mm(200.0),
                height: mm(300.0),
                offset: Some(mm(40.0)),
                radius: mm(15.0),
                diagonals: vec![],
            },
            PanelShape::Tee {
                front: mm(600.0),
                body: mm(400.0),
                depth: mm(500.0),
                ear: mm(150.0),
                ears: Ears::Left,
                radius: mm(20.0),
            },
            PanelShape::Sides {
                sides: vec![mm(400.0), mm(300.0), mm(350.0), mm(320.0)],
                diagonals: vec![(0, 2, mm(480.0))],
            },
            PanelShape::Offsets {
                base: mm(600.0),
                points: vec![(mm(0.0), mm(200.0)), (mm(200.0), mm(300.0)), (mm(600.0), mm(100.0))],
                curved: false,
            },
            PanelShape::Traced {
                corners: vec![
                    corner(0.0, 0.0, 0.0, 0.0),
                    corner(400.0, 0.0, 0.0, 30.0),
                    corner(420.0, 280.0, 0.0, -12.0),
                    corner(20.0, 300.0, 0.0, 0.0),
                ],
                within: mm(1.2),
            },
            PanelShape::Corners(vec![
                corner(0.0, 0.0, 0.0, 0.0),
                corner(500.0, 0.0, 30.0, 0.0),
                corner(500.0, 200.0, 0.0, 0.0),
                corner(200.0, 320.0, 0.0, 25.0),
                corner(0.0, 260.0, 0.0, 0.0),
            ]),
        ];
        let style = Style::usual(Unit::Millimetre);
        for shape in shapes {
            let flat = |shape: &PanelShape| shape::outline(shape, &[], "", &style).unwrap();
            let (once, image) = (flat(&shape), flat(&shape.mirrored()));
            assert!((once.area() - image.area()).abs() < 1e-3, "{shape:?}");
            // The centre of mass by a sum over the flattened outline lies as far from the other side.
            let middle = |path: &geometry::Path| {
                let points = path.flatten();
                let points: Vec<Point> = points.points().iter().map(|s| s.point()).collect();
                let n = points.len();
                let cross = |i: usize| {
                    let (a, b) = (points[i], points[(i + 1) % n]);
                    (a.x * b.y - b.x * a.y, a.x + b.x)
                };
                let area: f64 = (0..n).map(|i| cross(i).0 / 2.0).sum();
                let sum: f64 = (0..n).map(|i| cross(i).0 * cross(i).1 / 6.0).sum();
                let (low, high) = path.bounds();
                (sum / area - low.x) / (high.x - low.x)
            };
            assert!((middle(&once) + middle(&image) - 1.0).abs() < 1e-6, "{shape:?}");
            let again = flat(&shape.mirrored().mirrored());
            assert_eq!(again.flatten(), once.flatten(), "{shape:?}");
        }
    }

    #[test]
    fn sides_and_notches_change_hands() {
        let shape = PanelShape::Rectangle {
            width: mm(500.0),
            height: mm(300.0),
            radii: [Length::ZERO; 4],
            diagonals: vec![],
        };
        let notch = Notch { side: 1, from: mm(50.0), width: mm(40.0), depth: mm(20.0) };
        // On the right side 50 above the bottom; walking counter-clockwise the left side is walked down.
        let image = mirrored_notch(&shape, &notch).unwrap();
        assert_eq!((image.side, image.from), (3, mm(210.0)));
        let lip = Side { turn_under: Some(mm(30.0)), ..Side::default() };
        let sides = mirrored_sides(&[Side::default(), lip], Some(4)).unwrap();
        assert_eq!(sides[3], lip);
        assert_eq!(sides[1], Side::default());
    }
}
