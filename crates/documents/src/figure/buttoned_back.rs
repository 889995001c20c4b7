//! A buttoned back: its buttons and the pleats between them.

use super::Figure;
use crate::solid::{Place, Solid};
use trade::kinds::ButtonedBack;
use trade::kinds::buttoned_back::places;

pub fn draw(figure: &mut Figure, back: &ButtonedBack) {
    let (w, h, b) = (back.width.mm(), back.height.mm(), back.border.mm());
    let thick = (figure.foam + figure.board).max(10.0);
    let rows = back.halves_high.max(1) as f64 / 2.0;
    let (dx, dy) = ((w - 2.0 * b) / back.across.max(1) as f64, (h - 2.0 * b) / rows);
    let spots = places(back.across, back.halves_high, back.places, back.edge_buttons);
    let at = |s: (f64, f64)| [b + dx * s.0, 0.0, b + dy * s.1];
    let has = |x: f64, y: f64| spots.iter().any(|s| (s.0 - x).abs() + (s.1 - y).abs() < 1e-9);
    let mut lines: Vec<Vec<Place>> = Vec::new();
    let r = dx.min(dy) * 0.06;
    for &(x, y) in &spots {
        for next in [(x + 0.5, y + 0.5), (x + 0.5, y - 0.5)] {
            if has(next.0, next.1) {
                lines.push(vec![at((x, y)), at(next)]);
            }
        }
        let middle = at((x, y));
        let around = (0..=10).map(|i| {
            let turn = f64::from(i) * std::f64::consts::TAU / 10.0;
            [middle[0] + r * libm::cos(turn), 0.0, middle[2] + r * libm::sin(turn)]
        });
        lines.push(around.collect());
    }
    figure.add(Solid::cuboid([0.0; 3], [w, thick, h]).lined(lines));
    figure.measure("width", [0.0, 0.0, 0.0], [w, 0.0, 0.0], 6.0);
    figure.measure("height", [w, 0.0, 0.0], [w, 0.0, h], 8.0);
    figure.measure("border", [0.0, 0.0, h], [b, 0.0, h], -4.0);
}
