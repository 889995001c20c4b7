//! A wall of panels.

use super::Figure;
use crate::solid::Solid;
use trade::kinds::WallGrid;

pub fn draw(figure: &mut Figure, wall: &WallGrid) {
    let (w, h) = (wall.width.mm(), wall.height.mm());
    let (m, g) = (wall.margin.mm(), wall.gap.mm());
    let (nx, ny) = (wall.columns.max(1) as f64, wall.rows.max(1) as f64);
    let one = ((w - 2.0 * m - (nx - 1.0) * g) / nx, (h - 2.0 * m - (ny - 1.0) * g) / ny);
    let thick = (figure.foam + figure.board).max(10.0);
    figure.add(Solid::cuboid([0.0, thick, 0.0], [w, 1.0, h]));
    for j in 0..wall.rows.min(40) {
        for i in 0..wall.columns.min(40) {
            let at = [m + (one.0 + g) * i as f64, 0.0, m + (one.1 + g) * j as f64];
            figure.add(Solid::cuboid(at, [one.0, thick, one.1]));
        }
    }
    figure.measure("width", [0.0, 0.0, 0.0], [w, 0.0, 0.0], 6.0);
    figure.measure("height", [w, 0.0, 0.0], [w, 0.0, h], 8.0);
}
