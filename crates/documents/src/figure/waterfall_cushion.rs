//! A waterfall cushion from its side, drawn out.

use super::Figure;
use crate::solid::Solid;
use geometry::Point;
use trade::kinds::WaterfallCushion;

pub fn draw(figure: &mut Figure, cushion: &WaterfallCushion) {
    let (w, d, t) = (cushion.width.mm(), cushion.depth.mm(), figure.foam.max(10.0));
    let r = t / 2.0;
    let profile: Vec<Point> = if cushion.round {
        let turn =
            |i: i32| std::f64::consts::FRAC_PI_2 + f64::from(i) * std::f64::consts::PI / 16.0;
        let nose =
            (0..=16).map(|i| Point::new(r + r * libm::cos(turn(i)), r + r * libm::sin(turn(i))));
        nose.chain([Point::new(d, 0.0), Point::new(d, t)]).collect()
    } else {
        [(0.0, t), (0.0, 0.0), (d, 0.0), (d, t)].map(|(x, y)| Point::new(x, y)).to_vec()
    };
    figure.add(Solid::drawn_out(&profile, w, w));
    figure.measure("width", [0.0, r, 0.0], [w, r, 0.0], 8.0);
    figure.measure("depth", [w, 0.0, 0.0], [w, d, 0.0], 6.0);
}
