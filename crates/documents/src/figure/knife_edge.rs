//! A knife-edge cushion: edges drawn in a little, creases from the corners.

use super::Figure;
use crate::solid::Solid;
use geometry::Point;
use trade::kinds::KnifeEdge;

pub fn draw(figure: &mut Figure, cushion: &KnifeEdge) {
    let (w, h) = (cushion.width.mm(), cushion.height.mm());
    let bow = w.min(h) * 0.04;
    let edge = |t: f64| bow * 4.0 * t * (1.0 - t);
    let steps = || (0..12).map(|i| f64::from(i) / 12.0);
    let mut ring: Vec<Point> = steps().map(|t| Point::new(w * t, edge(t))).collect();
    ring.extend(steps().map(|t| Point::new(w - edge(t), h * t)));
    ring.extend(steps().map(|t| Point::new(w * (1.0 - t), h - edge(t))));
    ring.extend(steps().map(|t| Point::new(edge(t), h * (1.0 - t))));
    let crease = |x: f64, y: f64| {
        let to = |t: f64| [x + (w / 2.0 - x) * t, 0.0, y + (h / 2.0 - y) * t];
        vec![to(0.06), to(0.3)]
    };
    let creases = [(0.0, 0.0), (w, 0.0), (w, h), (0.0, h)].map(|(x, y)| crease(x, y)).to_vec();
    figure.add(Solid::standing(&ring, 0.0, w.min(h) * 0.05).lined(creases));
    figure.measure("width", [0.0, 0.0, 0.0], [w, 0.0, 0.0], 6.0);
    figure.measure("height", [w, 0.0, 0.0], [w, 0.0, h], 6.0);
}
