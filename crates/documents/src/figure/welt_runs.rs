//! A short length of welt; the cord is drawn far thicker than it is.

use super::Figure;
use super::circle;
use crate::solid::Solid;
use geometry::Point;
use trade::kinds::WeltRuns;

pub fn draw(figure: &mut Figure, welt: &WeltRuns) {
    let pitch = if welt.double { 2 } else { 1 };
    for i in 0..pitch {
        let cord: Vec<Point> =
            circle(6.0).iter().map(|p| Point::new(p.x + 6.0 * f64::from(i), p.y)).collect();
        figure.add(Solid::drawn_out(&cord, 60.0, 60.0));
    }
    let back = 6.0 * f64::from(pitch);
    figure.add(Solid::cuboid([0.0, back, 0.0], [60.0, 12.0, 0.6]));
    figure.measure("runs", [0.0, 0.0, 0.0], [60.0, 0.0, 0.0], 6.0);
}
