//! Channels, each a low vault on the board.

use super::Figure;
use crate::solid::{Place, Solid};
use trade::kinds::ChannelledBack;

pub fn draw(figure: &mut Figure, back: &ChannelledBack) {
    let (w, h, loft, level) = (back.width.mm(), back.height.mm(), back.loft.mm(), back.level);
    let n = back.channels.max(1);
    let base = figure.board.max(8.0);
    let divided = if level { h } else { w };
    let one = divided / n as f64;
    for i in 0..n {
        let mut profile: Vec<(f64, f64)> = (0..=8)
            .map(|k| {
                let t = f64::from(k) / 8.0;
                (one * (i as f64 + t), loft.max(one * 0.1) * 4.0 * t * (1.0 - t))
            })
            .collect();
        profile.extend([(one * (i + 1) as f64, -base), (one * i as f64, -base)]);
        let ring = |along: f64| -> Vec<Place> {
            profile
                .iter()
                .map(|&(u, out)| if level { [along, -out, u] } else { [u, -out, along] })
                .collect()
        };
        let solid = if level {
            Solid::between(ring(w), ring(0.0))
        } else {
            let (top, bottom): (Vec<Place>, Vec<Place>) = (ring(h), ring(0.0));
            Solid::between(top.into_iter().rev().collect(), bottom.into_iter().rev().collect())
        };
        figure.add(solid);
    }
    figure.measure("width", [0.0, -loft, 0.0], [w, -loft, 0.0], 6.0);
    figure.measure("height", [w, 0.0, 0.0], [w, 0.0, h], 8.0);
}
