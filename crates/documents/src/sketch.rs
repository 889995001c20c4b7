//! Small drawings beside the steps: staple order, corner folds, pleat fan, channel spacing, button grid.

use crate::drawing::{Anchor, Axes, Drawing, Ink, Step, View};
use geometry::{Length, Point, Vector};
use trade::kinds::buttoned_back::{over_diamond, places};
use trade::kinds::channelled_back::field;
use trade::kinds::{ButtonedBack, ChannelledBack, Kind};
use trade::part::{CornerHow, Developed};
use trade::piece::Piece;
use trade::working::Style;

/// Type beside the steps: 9 pt, mm.
const SMALL: f64 = 9.0 * crate::label::PT;

/// The sketches of a piece, each with its title.
pub fn sketches(style: &Style, about: &Piece, made: &Developed) -> Vec<(String, Drawing)> {
    let mut all = Vec::new();
    if made.corners.iter().any(|c| c.how == CornerHow::Square) {
        let stop = style.show(about.allowances.slit_stop);
        all.push(("Square corner, from behind".into(), square_corner(&stop)));
    }
    let rounded = made.corners.iter().find_map(|c| match c.how {
        CornerHow::Rounded { pleats, .. } => Some(pleats),
        _ => None,
    });
    if let Some(pleats) = rounded {
        all.push((format!("Rounded corner: {pleats} pleats, from behind"), pleat_fan(pleats)));
    }
    match &about.kind {
        Kind::Pad(_) => all.push(("Folding an end".into(), folded_end())),
        Kind::ButtonedBack(back) => {
            all.extend(button_grids(style, back));
        }
        Kind::ChannelledBack(back) => {
            let ChannelledBack { width, height, channels, loft, tuck, level, .. } = back;
            let divided = if *level { *height } else { *width };
            if let Some((_, arc)) = field(divided, *channels, *loft, *tuck) {
                let on_cloth = arc + *tuck * 2;
                let each = divided.share(*channels as i64);
                all.push(("Channel spacing".into(), channel_spacing(style, each, on_cloth)));
            }
        }
        _ => {}
    }
    if made.quantities.staple_line > Length::ZERO && !matches!(about.kind, Kind::CutPieces(_)) {
        let order = staple_order(made, about.kind.of().is_round());
        all.push(("Staple order, from behind".to_string(), order));
    }
    all
}

fn arrow(drawing: &mut Drawing, from: Point, to: Point) {
    let ink = Ink::line(0.3);
    drawing.stroke(from, to, ink);
    let along = (to - from).unit();
    for side in [along.right() * 0.6, along.right() * -0.6] {
        drawing.stroke(to, to + along * -1.4 + side, ink);
    }
}

fn numbered(drawing: &mut Drawing, at: Point, number: usize) {
    let r = 2.3;
    drawing.shape(
        vec![
            Step::Move(at + Vector::new(-r, 0.0)),
            Step::Arc(r, true, at + Vector::new(r, 0.0)),
            Step::Arc(r, true, at + Vector::new(-r, 0.0)),
            Step::Close,
        ],
        Ink::line(0.2).filled(1.0),
    );
    drawing.bold(at + Vector::new(0.0, 1.15), SMALL, Anchor::Middle, number.to_string());
}

/// Middles of opposite sides first, then outwards in turns, corners last.
fn staple_order(made: &Developed, round: bool) -> Drawing {
    let (w, h) = (made.finished.0.mm().max(1.0), made.finished.1.mm().max(1.0));
    let scale = (34.0 / w).min(24.0 / h);
    let (w, h) = ((w * scale).max(14.0), (h * scale).max(12.0));
    let (w, h) = if round { (w.min(h), w.min(h)) } else { (w, h) };
    let edge = 4.0;
    let mut drawing = Drawing::new(w + 2.0 * edge, h + 2.0 * edge);
    let p = |x: f64, y: f64| Point::new(edge + x, edge + y);
    if round {
        let r = w / 2.0;
        let ring = vec![
            Step::Move(p(0.0, h / 2.0)),
            Step::Arc(r, true, p(w, h / 2.0)),
            Step::Arc(r, true, p(0.0, h / 2.0)),
            Step::Close,
        ];
        drawing.shape(ring, Ink::line(0.4).filled(0.97));
    } else {
        drawing.rect(p(0.0, 0.0), p(w, h), Ink::line(0.4).filled(0.97));
    }
    let inset = 2.6;
    let reach = |long: f64| if round { long / 5.0 } else { (long / 2.0 - 6.0).max(1.0) };
    let (ax, ay) = (reach(w), reach(h));
    for (x, y, dx, dy) in [
        (w / 2.0, inset, 1.0, 0.0),
        (w / 2.0, h - inset, 1.0, 0.0),
        (inset, h / 2.0, 0.0, 1.0),
        (w - inset, h / 2.0, 0.0, 1.0),
    ] {
        let long = if dx > 0.0 { ax } else { ay };
        for way in [-1.0, 1.0] {
            let from = p(x + dx * 2.6 * way, y + dy * 2.6 * way);
            let to = p(
                x + dx * (2.6 + long - 2.6).max(3.6) * way,
                y + dy * (2.6 + long - 2.6).max(3.6) * way,
            );
            arrow(&mut drawing, from, to);
        }
    }
    for (n, (x, y)) in
        [(w / 2.0, inset), (w / 2.0, h - inset), (inset, h / 2.0), (w - inset, h / 2.0)]
            .into_iter()
            .enumerate()
    {
        numbered(&mut drawing, p(x, y), n + 1);
    }
    drawing
}

/// Slits in line with the board's edges, one side folded flat, the other over it.
fn square_corner(stop: &str) -> Drawing {
    let mut d = Drawing::new(46.0, 32.0);
    let corner = Point::new(26.0, 22.0);
    // The board, its corner at the lower right.
    d.shape(
        vec![
            Step::Move(Point::new(3.0, 22.0)),
            Step::Line(corner),
            Step::Line(Point::new(26.0, 3.0)),
        ],
        Ink::dashed(0.3, 2.4, 1.0),
    );
    // The cover's margin beyond it.
    d.shape(
        vec![
            Step::Move(Point::new(3.0, 30.0)),
            Step::Line(Point::new(36.0, 30.0)),
            Step::Line(Point::new(36.0, 3.0)),
        ],
        Ink::line(0.4),
    );
    d.stroke(Point::new(36.0, 22.0), Point::new(28.5, 22.0), Ink::line(0.7));
    d.stroke(Point::new(26.0, 30.0), Point::new(26.0, 24.5), Ink::line(0.7));
    d.shape(
        vec![
            Step::Move(Point::new(28.5, 24.5)),
            Step::Line(Point::new(36.0, 24.5)),
            Step::Line(Point::new(36.0, 30.0)),
            Step::Line(Point::new(28.5, 30.0)),
            Step::Close,
        ],
        Ink::line(0.2).filled(0.86),
    );
    d.text(Point::new(30.0, 28.2), SMALL, Anchor::Start, "flap");
    arrow(&mut d, Point::new(13.0, 29.0), Point::new(13.0, 19.0));
    arrow(&mut d, Point::new(35.0, 10.0), Point::new(22.0, 10.0));
    numbered(&mut d, Point::new(13.0, 15.5), 1);
    numbered(&mut d, Point::new(18.5, 10.0), 2);
    d.text(Point::new(37.0, 21.2), SMALL, Anchor::Start, stop);
    d
}

/// Pleats fanned from the middle of the corner outwards.
fn pleat_fan(pleats: i64) -> Drawing {
    let mut d = Drawing::new(44.0, 40.0);
    let view = View { scale: 1.0, origin: Point::new(4.0, 36.0), axes: Axes::Upright };
    let (board, cover) = (16.0, 33.0);
    let at = |r: f64, turn: f64| view.at(Point::new(r * libm::cos(turn), r * libm::sin(turn)));
    let arc = |d: &mut Drawing, r: f64, ink: Ink| {
        let half = std::f64::consts::FRAC_PI_2;
        d.shape(vec![Step::Move(at(r, 0.0)), Step::Arc(r, false, at(r, half))], ink);
    };
    arc(&mut d, cover, Ink::line(0.4));
    arc(&mut d, board, Ink::dashed(0.3, 2.4, 1.0));
    arc(&mut d, board - 5.0, Ink::dashed(0.2, 0.35, 1.0).grey(0.35));
    let n = pleats.clamp(1, 24) as usize;
    for i in 0..n {
        let turn = std::f64::consts::FRAC_PI_2 * (i as f64 + 0.5) / n as f64;
        d.stroke(at(board, turn), at(cover, turn), Ink::line(0.35));
        // Folded away from the middle of the corner.
        let middle = std::f64::consts::FRAC_PI_4;
        if (turn - middle).abs() > 1e-6 {
            let by = 0.07 * (turn - middle).signum();
            arrow(&mut d, at(cover - 5.0, turn), at(cover - 5.0, turn + by));
        }
    }
    d
}

/// The end of a pad: long edge down, relief square out, end up like a parcel.
fn folded_end() -> Drawing {
    let mut d = Drawing::new(86.0, 30.0);
    for (i, word) in ["relief square out", "sides in", "end up and over"].into_iter().enumerate() {
        let x = 1.0 + 28.5 * i as f64;
        let p = |a: f64, b: f64| Point::new(x + a, b);
        d.rect(p(2.0, 4.0), p(12.0, 20.0), Ink::line(0.35).filled(0.96));
        d.rect(p(12.0, 4.0), p(18.0, 20.0), Ink::dashed(0.25, 1.6, 0.6));
        match i {
            0 => {
                for y in [2.0, 20.0] {
                    d.rect(p(13.5, y), p(18.0, y + 2.0), Ink::line(0.25).filled(0.75));
                }
            }
            1 => {
                arrow(&mut d, p(15.0, 3.0), p(15.0, 10.0));
                arrow(&mut d, p(15.0, 21.0), p(15.0, 14.0));
            }
            _ => arrow(&mut d, p(17.5, 12.0), p(8.0, 12.0)),
        }
        numbered(&mut d, p(7.0, 24.5), i + 1);
        d.text(p(0.0, 29.3), SMALL, Anchor::Start, word);
    }
    d
}

/// One channel on the board and on the cloth.
fn channel_spacing(style: &Style, board: Length, cloth: Length) -> Drawing {
    let scale = 15.0 / board.mm().max(1.0);
    let (b, c) = (15.0, cloth.mm() * scale);
    let n = 3;
    let long = (c * f64::from(n)).max(b * f64::from(n));
    let mut d = Drawing::new(long + 24.0, 27.0);
    for (y, one, word, length) in [(5.0, b, "board", board), (18.0, c, "cloth", cloth)] {
        for i in 0..=n {
            let x = 16.0 + one * f64::from(i);
            d.stroke(Point::new(x, y), Point::new(x, y + 5.0), Ink::line(0.35));
        }
        let (from, to) = (Point::new(16.0, y + 2.5), Point::new(16.0 + one, y + 2.5));
        d.dimension(from, to, 0.0, SMALL, &style.chalk_number(length));
        d.stroke(
            Point::new(16.0 + one, y + 2.5),
            Point::new(16.0 + one * f64::from(n), y + 2.5),
            Ink::line(0.15).grey(0.4),
        );
        d.text(Point::new(1.0, y + 3.4), SMALL, Anchor::Start, word);
    }
    d
}

/// The grid on the board, and on the back of the cloth.
fn button_grids(style: &Style, back: &ButtonedBack) -> Vec<(String, Drawing)> {
    let (w, h) = back.diamond();
    let on_cloth = over_diamond(w, back.depth, back.fullness, true).zip(over_diamond(
        h,
        back.depth,
        back.fullness,
        false,
    ));
    let Some(cloth) = on_cloth else { return Vec::new() };
    // Both to one scale, so that the fullness is seen.
    let halves = back.halves_high.max(1);
    let (fw, fh) = (cloth.0 * back.across as i64, (cloth.1 * halves as i64).share(2));
    let scale = (58.0 / fw.mm().max(1.0)).min(40.0 / fh.mm().max(1.0));
    let spots = places(back.across, halves, back.places, back.edge_buttons);
    let grid = |(dx, dy): (Length, Length)| {
        let (cols, rows) = (back.across, halves as f64 / 2.0);
        let (x, y) = (dx.mm() * scale, dy.mm() * scale);
        let (left, top) = (10.0, 3.0);
        let (wide, high) = (x * cols as f64, y * rows);
        let mut d = Drawing::new(wide + left + 4.0, high + top + 11.0);
        let at = |i: f64, j: f64| Point::new(left + x * i, top + high - y * j);
        let thin = Ink::line(0.12).grey(0.55);
        for i in 0..=2 * cols {
            let i = i as f64 / 2.0;
            d.stroke(at(i, 0.0), at(i, rows), thin);
        }
        for j in 0..=halves {
            let j = j as f64 / 2.0;
            d.stroke(at(0.0, j), at(cols as f64, j), thin);
        }
        let has = |i: f64, j: f64| spots.iter().any(|s| (s.0 - i).abs() + (s.1 - j).abs() < 1e-9);
        for s in &spots {
            for (i, j) in [(s.0 + 0.5, s.1 + 0.5), (s.0 + 0.5, s.1 - 0.5)] {
                if has(i, j) {
                    d.stroke(at(s.0, s.1), at(i, j), Ink::line(0.3));
                }
            }
        }
        for s in &spots {
            let (p, r) = (at(s.0, s.1), 0.9);
            d.shape(
                vec![
                    Step::Move(p + Vector::new(-r, 0.0)),
                    Step::Arc(r, true, p + Vector::new(r, 0.0)),
                    Step::Arc(r, true, p + Vector::new(-r, 0.0)),
                    Step::Close,
                ],
                Ink::line(0.2).filled(0.3),
            );
        }
        d.dimension(at(0.0, 0.0), at(1.0, 0.0), -5.5, SMALL, &style.chalk_number(dx));
        d.dimension(at(0.0, 0.0), at(0.0, 1.0), 5.5, SMALL, &style.chalk_number(dy));
        d
    };
    vec![
        ("Buttons on the board, face view".into(), grid((w, h))),
        ("Buttons on the cloth, to the same scale".into(), grid(cloth)),
    ]
}
