//! A back bent to a curve; the hollow opens to the front.

use super::Figure;
use crate::solid::Solid;
use geometry::{Arc, Point};
use trade::kinds::CurvedBack;

pub fn draw(figure: &mut Figure, back: &CurvedBack) {
    let (c, rise, h) = (back.chord.mm(), back.rise.mm(), back.height.mm());
    let Ok(arc) = Arc::over(c, rise) else { return };
    let thick = (figure.foam + figure.board).max(10.0);
    let steps = 24;
    let at = |i: usize, out: f64| -> Point {
        if rise == 0.0 {
            return Point::new(c * i as f64 / steps as f64, out);
        }
        let half = arc.angle() / 2.0;
        let turn = -half + arc.angle() * i as f64 / steps as f64;
        let r = arc.radius() + out;
        // The hollow opens to the front.
        Point::new(c / 2.0 + r * libm::sin(turn), r * libm::cos(turn) - (arc.radius() - rise))
    };
    let mut ring: Vec<Point> = (0..=steps).map(|i| at(i, 0.0)).collect();
    ring.extend((0..=steps).rev().map(|i| at(i, thick)));
    figure.add(Solid::lying(&ring, h, h));
    figure.measure("chord", [0.0, 0.0, 0.0], [c, 0.0, 0.0], 4.0);
    figure.measure("rise", [c / 2.0, 0.0, h], [c / 2.0, rise, h], 0.0);
    figure.measure("height", [c, 0.0, 0.0], [c, 0.0, h], 6.0);
}
