//! What each kind of piece looks like when it is done, with its measures lettered in the order in which
//! they are taken.

use crate::drawing::Drawing;
use crate::solid::{Figure, Place, Solid};
use geometry::{Arc, Length, Path, Point};
use trade::develop::buttoned_back::places;
use trade::develop::shape;
use trade::kind::{Buttoned, Curved, Headboard, Kind, Lean, LeaningSide, Skirt, Sloped, Wall};
use trade::measuring::{Measure, measures};
use trade::panel::PanelShape;
use trade::working::Style;

/// The piece and its measures: letter, key, how it is taken.
pub fn draw(
    kind: &Kind,
    (foam, board): (Length, Length),
    style: &Style,
    (width, height): (f64, f64),
) -> Option<Drawing> {
    let mut sketch = Sketch {
        figure: Figure::default(),
        measures: measures(kind),
        foam: foam.mm(),
        board: board.mm(),
    };
    sketch.kind(kind, style);
    sketch.figure.draw(width, height)
}

/// A, B, C: the letter of each measure of a kind, with its key and how it is taken.
pub fn letters(kind: &Kind) -> Vec<(String, Measure)> {
    measures(kind).into_iter().enumerate().map(|(i, m)| (letter(i), m)).collect()
}

fn letter(i: usize) -> String {
    char::from(b'A' + (i % 26) as u8).to_string()
}

struct Sketch {
    figure: Figure,
    measures: Vec<Measure>,
    foam: f64,
    board: f64,
}

fn points(path: &Path) -> Vec<Point> {
    path.flatten().points().iter().map(|s| s.point()).collect()
}

fn circle(diameter: f64) -> Vec<Point> {
    points(&Path::circle(Length::from_mm(diameter)))
}

impl Sketch {
    /// A measure by its key.
    fn measure(&mut self, key: &str, from: Place, to: Place, off: f64) {
        if let Some(i) = self.measures.iter().position(|m| m.0 == key) {
            self.figure.measure(letter(i), from, to, off);
        }
    }

    fn kind(&mut self, kind: &Kind, style: &Style) {
        let thick = (self.foam + self.board).max(10.0);
        match kind {
            Kind::Panel { shape, notches, cut_outs, .. } => {
                let Ok(path) = shape::outline(shape, notches, "", style) else { return };
                let mut lines: Vec<Vec<Place>> = Vec::new();
                for cut in cut_outs {
                    let mut ring: Vec<Place> =
                        points(&cut.shape).iter().map(|p| [p.x, 0.0, p.y]).collect();
                    ring.extend(ring.first().copied());
                    lines.push(ring);
                }
                self.figure.add(Solid::standing(&points(&path), 0.0, thick).lined(lines));
                self.outline(shape, &path, |p| [p.x, 0.0, p.y]);
            }
            Kind::Pad { width, height, crown } => {
                let (w, h) = (width.mm(), height.mm());
                let over = self.crown((w, h), thick, crown.mm());
                self.figure.add(Solid::cuboid([0.0; 3], [w, h, thick]).lined(over));
                self.measure("width", [0.0, 0.0, 0.0], [w, 0.0, 0.0], 6.0);
                self.measure("height", [w, 0.0, 0.0], [w, h, 0.0], 6.0);
            }
            Kind::SlipSeat { front, back, depth, radius, crown, .. } => {
                let shape = trade::develop::panel::seat_shape((*front, *back, *depth), *radius);
                let Ok(path) = shape::outline(&shape, &[], "", style) else { return };
                let (f, b, d) = (front.mm(), back.mm(), depth.mm());
                let x = (f - b) / 2.0;
                let over = self.crown((f, d), thick, crown.mm());
                self.figure.add(Solid::lying(&points(&path), thick, thick).lined(over));
                self.measure("front", [0.0, 0.0, 0.0], [f, 0.0, 0.0], 6.0);
                self.measure("depth", [f, 0.0, thick], [f, d, thick], 8.0);
                self.measure("back", [x, d, thick], [x + b, d, thick], -5.0);
            }
            Kind::BoxedCushion { front, back, depth, radius, .. } => {
                let shape = PanelShape::Trapezoid {
                    bottom: *front,
                    top: *back,
                    height: *depth,
                    offset: None,
                    radius: *radius,
                    diagonals: vec![],
                };
                self.cushion(&shape, style);
                let (w, d) = (front.mm(), depth.mm());
                self.measure("width", [0.0, 0.0, 0.0], [w, 0.0, 0.0], 6.0);
                self.measure("depth", [w, 0.0, 0.0], [w, d, 0.0], 6.0);
                if front != back {
                    let x = (w - back.mm()) / 2.0;
                    let t = self.foam;
                    self.measure("back_width", [x, d, t], [x + back.mm(), d, t], -5.0);
                }
            }
            Kind::ShapedCushion(shaped) => {
                self.cushion(&shaped.shape, style);
                let Ok(path) = shape::outline(&shaped.shape, &[], "", style) else { return };
                let t = self.foam;
                self.outline(&shaped.shape, &path, move |p| [p.x, p.y, t]);
            }
            Kind::WedgeCushion(wedge) => {
                let (w, d) = (wedge.width.mm(), wedge.depth.mm());
                let (f, b) = (wedge.front.mm(), wedge.back.mm());
                let top = vec![[0.0, 0.0, f], [w, 0.0, f], [w, d, b], [0.0, d, b]];
                let bottom = top.iter().map(|p: &Place| [p[0], p[1], 0.0]).collect();
                self.figure.add(Solid::between(top, bottom));
                self.measure("width", [0.0, 0.0, 0.0], [w, 0.0, 0.0], 6.0);
                self.measure("depth", [w, 0.0, 0.0], [w, d, 0.0], 6.0);
                self.measure("front", [0.0, 0.0, f], [0.0, 0.0, 0.0], 5.0);
                self.measure("back", [w, d, 0.0], [w, d, b], 5.0);
            }
            Kind::SlopedCushion(sloped) => self.sloped(sloped),
            Kind::WaterfallCushion(cushion) => {
                let (w, d, t) = (cushion.width.mm(), cushion.depth.mm(), self.foam.max(10.0));
                let r = t / 2.0;
                let profile: Vec<Point> = if cushion.round {
                    let turn = |i: i32| {
                        std::f64::consts::FRAC_PI_2 + f64::from(i) * std::f64::consts::PI / 16.0
                    };
                    let nose = (0..=16).map(|i| {
                        Point::new(r + r * libm::cos(turn(i)), r + r * libm::sin(turn(i)))
                    });
                    nose.chain([Point::new(d, 0.0), Point::new(d, t)]).collect()
                } else {
                    [(0.0, t), (0.0, 0.0), (d, 0.0), (d, t)].map(|(x, y)| Point::new(x, y)).to_vec()
                };
                self.figure.add(Solid::drawn_out(&profile, w, w));
                self.measure("width", [0.0, r, 0.0], [w, r, 0.0], 8.0);
                self.measure("depth", [w, 0.0, 0.0], [w, d, 0.0], 6.0);
            }
            Kind::KnifeEdge { width, height, .. } => {
                let (w, h) = (width.mm(), height.mm());
                // Edges drawn in a little, creases from the corners.
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
                let creases =
                    [(0.0, 0.0), (w, 0.0), (w, h), (0.0, h)].map(|(x, y)| crease(x, y)).to_vec();
                self.figure.add(Solid::standing(&ring, 0.0, w.min(h) * 0.05).lined(creases));
                self.measure("width", [0.0, 0.0, 0.0], [w, 0.0, 0.0], 6.0);
                self.measure("height", [w, 0.0, 0.0], [w, 0.0, h], 6.0);
            }
            Kind::Bolster { length, diameter, .. } => {
                let (l, d) = (length.mm(), diameter.mm());
                self.figure.add(Solid::drawn_out(&circle(d), l, l));
                self.measure("length", [0.0, 0.0, 0.0], [l, 0.0, 0.0], 7.0);
                self.measure("diameter", [l, d / 2.0, 0.0], [l, d / 2.0, d], 9.0);
            }
            Kind::TaperedBolster(roll) => {
                let (l, large, small) = (roll.length.mm(), roll.large.mm(), roll.small.mm());
                let off = (large - small) / 2.0;
                let ring = |d: f64, x: f64, by: f64| -> Vec<Place> {
                    circle(large)
                        .iter()
                        .map(|p| {
                            let share = d / large;
                            let c = large / 2.0;
                            [x, c + (p.x - c) * share + by * 0.0, c + (p.y - c) * share]
                        })
                        .collect()
                };
                self.figure.add(Solid::between(ring(large, l, 0.0), ring(small, 0.0, off)));
                let c = large / 2.0;
                self.measure("length", [0.0, c, 0.0], [l, c, 0.0], 7.0);
                self.measure("large", [l, c, 0.0], [l, c, large], 9.0);
                self.measure("small", [0.0, c, large - off], [0.0, c, off], 6.0);
            }
            Kind::Ottoman(ottoman) => {
                let (w, h) = (ottoman.width.mm(), ottoman.height.mm());
                match ottoman.depth {
                    None => {
                        self.figure.add(Solid::lying(&circle(w), h, h));
                        self.measure("diameter", [0.0, w / 2.0, h], [w, w / 2.0, h], -4.0);
                        self.measure("height", [w, w / 2.0, 0.0], [w, w / 2.0, h], 7.0);
                    }
                    Some(depth) => {
                        let d = depth.mm();
                        self.figure.add(Solid::cuboid([0.0; 3], [w, d, h]));
                        self.measure("width", [0.0, 0.0, 0.0], [w, 0.0, 0.0], 6.0);
                        self.measure("depth", [w, 0.0, 0.0], [w, d, 0.0], 6.0);
                        self.measure("height", [0.0, 0.0, h], [0.0, 0.0, 0.0], 5.0);
                    }
                }
            }
            Kind::ChannelledBack { width, height, channels, loft, level, .. } => {
                self.channels((width.mm(), height.mm()), *channels, loft.mm(), *level);
            }
            Kind::CurvedBack(back) => self.curved(back),
            Kind::Headboard(headboard) => self.headboard(headboard),
            Kind::ButtonedBack(back) => self.buttoned(back),
            Kind::Skirt(skirt) => self.skirt(skirt),
            Kind::WallGrid(wall) => self.wall(wall),
            Kind::CutPieces(_) => self.chair(),
            Kind::WeltRuns(welt) => {
                // A short length; the cord is drawn far thicker than it is.
                let pitch = if welt.double { 2 } else { 1 };
                for i in 0..pitch {
                    let cord: Vec<Point> = circle(6.0)
                        .iter()
                        .map(|p| Point::new(p.x + 6.0 * f64::from(i), p.y))
                        .collect();
                    self.figure.add(Solid::drawn_out(&cord, 60.0, 60.0));
                }
                let back = 6.0 * f64::from(pitch);
                self.figure.add(Solid::cuboid([0.0, back, 0.0], [60.0, 12.0, 0.6]));
                self.measure("runs", [0.0, 0.0, 0.0], [60.0, 0.0, 0.0], 6.0);
            }
            Kind::Measured { width, height } => {
                let (w, h) = (width.mm(), height.mm());
                self.figure.add(Solid::cuboid([0.0; 3], [w, h, 2.0]));
                self.measure("width", [0.0, 0.0, 0.0], [w, 0.0, 0.0], 6.0);
                self.measure("height", [w, 0.0, 0.0], [w, h, 0.0], 6.0);
            }
        }
    }

    /// Measures of an outline, on the plane it lies in.
    fn outline(&mut self, shape: &PanelShape, path: &Path, at: impl Fn(Point) -> Place) {
        let p = |x: f64, y: f64| at(Point::new(x, y));
        let (low, high) = path.bounds();
        let (w, h) = (high.x - low.x, high.y - low.y);
        match shape {
            PanelShape::Rectangle { .. } => {
                self.measure("width", p(0.0, 0.0), p(w, 0.0), 6.0);
                self.measure("height", p(w, 0.0), p(w, h), 6.0);
            }
            PanelShape::Trapezoid { bottom, top, height, offset, .. } => {
                let (b, t, h) = (bottom.mm(), top.mm(), height.mm());
                let o = offset.map_or((b - t) / 2.0, Length::mm);
                self.measure("bottom", p(0.0, 0.0), p(b, 0.0), 6.0);
                self.measure("top", p(o, h), p(o + t, h), -5.0);
                self.measure("height", p(w, 0.0), p(w, h), 6.0);
            }
            PanelShape::Disc { .. } => {
                self.measure("diameter", p(0.0, h / 2.0), p(w, h / 2.0), 0.0);
            }
            PanelShape::Ring { outer, inner } => {
                let (o, i) = (outer.mm(), inner.mm());
                self.measure("diameter", p(0.0, o / 2.0), p(o, o / 2.0), 14.0);
                self.measure("inner", p((o - i) / 2.0, o / 2.0), p((o + i) / 2.0, o / 2.0), 0.0);
            }
            PanelShape::Tee { front, body, depth, ear, .. } => {
                let (f, d, e) = (front.mm(), depth.mm(), ear.mm());
                let left = points(path)
                    .iter()
                    .filter(|q| q.y > (d + e) / 2.0)
                    .map(|q| q.x)
                    .fold(f, f64::min);
                self.measure("width", p(0.0, 0.0), p(f, 0.0), 8.0);
                self.measure("body", p(left, d), p(left + body.mm(), d), -4.0);
                self.measure("depth", p(f, 0.0), p(f, d), 8.0);
                self.measure("ear", p(0.0, e), p(0.0, 0.0), 4.0);
            }
            PanelShape::Sides { sides, .. } => {
                if let Ok((corners, _)) = shape::fitted(shape, "", &plain_style()) {
                    let n = sides.len();
                    for i in 0..n {
                        let (a, b) = (corners[i].at, corners[(i + 1) % n].at);
                        self.figure.measure((i + 1).to_string(), at(a), at(b), 4.5);
                    }
                }
            }
            PanelShape::Offsets { base, points, .. } => {
                self.measure("base", p(0.0, 0.0), p(base.mm(), 0.0), 6.0);
                if let Some((x, y)) = points.get(points.len() / 2) {
                    self.measure("offset", p(x.mm(), 0.0), p(x.mm(), y.mm()), 0.0);
                }
            }
            PanelShape::Corners(_) => {}
        }
    }

    fn cushion(&mut self, shape: &PanelShape, style: &Style) {
        let Ok(path) = shape::outline(shape, &[], "", style) else { return };
        let thick = self.foam.max(10.0);
        let mut solid = Solid::lying(&points(&path), thick, thick);
        if let PanelShape::Ring { outer, inner } = shape {
            let middle = (outer.mm() - inner.mm()) / 2.0;
            let hole = circle(inner.mm());
            solid =
                solid.pierced(hole.iter().map(|p| [p.x + middle, p.y + middle, thick]).collect());
        }
        self.figure.add(solid);
    }

    /// Two lines over a crowned top.
    fn crown(&mut self, (w, d): (f64, f64), thick: f64, crown: f64) -> Vec<Vec<Place>> {
        if crown <= 0.0 {
            return Vec::new();
        }
        self.measure("crown", [w / 2.0, d / 2.0, thick], [w / 2.0, d / 2.0, thick + crown], 5.0);
        [false, true]
            .map(|along| {
                (0..=12)
                    .map(|i| {
                        let t = f64::from(i) / 12.0;
                        let z = thick + crown * 4.0 * t * (1.0 - t);
                        if along { [w / 2.0, d * t, z] } else { [w * t, d / 2.0, z] }
                    })
                    .collect()
            })
            .to_vec()
    }

    fn sloped(&mut self, sloped: &Sloped) {
        let t = self.foam.max(10.0);
        let (w, d) = (sloped.width.mm(), sloped.depth.mm());
        let top = if sloped.side == LeaningSide::Back { d } else { w };
        let lean = match sloped.lean {
            Lean::Degrees(angle) => t * libm::tan(angle.to_radians()),
            Lean::Bottom(bottom) => top - bottom.mm(),
        };
        let (x0, x1, y1) = match sloped.side {
            LeaningSide::Back => (0.0, w, d - lean),
            LeaningSide::Left => (lean, w, d),
            LeaningSide::Right => (0.0, w - lean, d),
        };
        self.figure.add(Solid::between(
            vec![[0.0, 0.0, t], [w, 0.0, t], [w, d, t], [0.0, d, t]],
            vec![[x0, 0.0, 0.0], [x1, 0.0, 0.0], [x1, y1, 0.0], [x0, y1, 0.0]],
        ));
        self.measure("width", [0.0, 0.0, t], [w, 0.0, t], 12.0);
        self.measure("depth", [w, 0.0, t], [w, d, t], -4.0);
        match sloped.side {
            LeaningSide::Back => self.measure("bottom", [w, 0.0, 0.0], [w, y1, 0.0], 6.0),
            _ => self.measure("bottom", [x0, 0.0, 0.0], [x1, 0.0, 0.0], 4.0),
        }
    }

    fn channels(&mut self, (w, h): (f64, f64), channels: usize, loft: f64, level: bool) {
        let n = channels.max(1);
        let base = self.board.max(8.0);
        let divided = if level { h } else { w };
        let one = divided / n as f64;
        for i in 0..n {
            // Each channel a low vault on the board.
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
            self.figure.add(solid);
        }
        self.measure("width", [0.0, -loft, 0.0], [w, -loft, 0.0], 6.0);
        self.measure("height", [w, 0.0, 0.0], [w, 0.0, h], 8.0);
    }

    fn curved(&mut self, back: &Curved) {
        let (c, rise, h) = (back.chord.mm(), back.rise.mm(), back.height.mm());
        let Ok(arc) = Arc::over(c, rise) else { return };
        let thick = (self.foam + self.board).max(10.0);
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
        self.figure.add(Solid::lying(&ring, h, h));
        self.measure("chord", [0.0, 0.0, 0.0], [c, 0.0, 0.0], 4.0);
        self.measure("rise", [c / 2.0, 0.0, h], [c / 2.0, rise, h], 0.0);
        self.measure("height", [c, 0.0, 0.0], [c, 0.0, h], 6.0);
    }

    fn headboard(&mut self, board: &Headboard) {
        let (w, h, k) = (board.width.mm(), board.height.mm(), board.border.mm());
        let thick = (self.foam + self.board).max(10.0);
        let face = [
            vec![[k, 0.0, 0.0], [k, 0.0, h - k], [w - k, 0.0, h - k], [w - k, 0.0, 0.0]],
            vec![[0.0, 0.0, h], [k, 0.0, h - k]],
            vec![[w, 0.0, h], [w - k, 0.0, h - k]],
        ];
        if let Some(wing) = board.wing {
            let d = wing.mm();
            self.figure.add(Solid::cuboid([-thick, -d, 0.0], [thick, d + thick, h]));
            self.figure.add(Solid::cuboid([w, -d, 0.0], [thick, d + thick, h]));
            self.measure("wing", [w + thick, -d, 0.0], [w + thick, 0.0, 0.0], 5.0);
        }
        self.figure.add(Solid::cuboid([0.0; 3], [w, thick, h]).lined(face.to_vec()));
        self.measure("width", [0.0, 0.0, h], [w, 0.0, h], -4.0);
        self.measure("height", [k + (w - k) / 2.0, 0.0, 0.0], [k + (w - k) / 2.0, 0.0, h], 0.0);
        self.measure("border", [0.0, 0.0, h * 0.35], [k, 0.0, h * 0.35], 0.0);
    }

    fn buttoned(&mut self, back: &Buttoned) {
        let (w, h, b) = (back.width.mm(), back.height.mm(), back.border.mm());
        let thick = (self.foam + self.board).max(10.0);
        let (dx, dy) =
            ((w - 2.0 * b) / back.across.max(1) as f64, (h - 2.0 * b) / back.high.max(1) as f64);
        let spots = places(back.across, back.high, back.places, back.edge_buttons);
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
        self.figure.add(Solid::cuboid([0.0; 3], [w, thick, h]).lined(lines));
        self.measure("width", [0.0, 0.0, 0.0], [w, 0.0, 0.0], 6.0);
        self.measure("height", [w, 0.0, 0.0], [w, 0.0, h], 8.0);
        self.measure("border", [0.0, 0.0, h], [b, 0.0, h], -4.0);
    }

    fn skirt(&mut self, skirt: &Skirt) {
        let side = |i: usize| skirt.sides.get(i).map_or(500.0, |l| l.mm());
        let (w, d, h) = (side(0), side(1), skirt.drop.mm());
        let mut lines = Vec::new();
        if let trade::kind::Pleating::Even { spacing, .. } = skirt.pleats {
            let step = spacing.mm().max(w / 60.0);
            let folds = |length: f64| {
                (1..).map(move |i| f64::from(i) * step).take_while(move |x| *x < length)
            };
            lines.extend(folds(w).map(|x| vec![[x, 0.0, 0.0], [x, 0.0, h]]));
            lines.extend(folds(d).map(|y| vec![[w, y, 0.0], [w, y, h]]));
        }
        self.figure.add(Solid::cuboid([0.0; 3], [w, d, h]).lined(lines));
        self.measure("sides", [0.0, 0.0, 0.0], [w, 0.0, 0.0], 6.0);
        self.measure("sides", [w, 0.0, 0.0], [w, d, 0.0], 6.0);
        self.measure("drop", [0.0, 0.0, h], [0.0, 0.0, 0.0], 5.0);
    }

    fn wall(&mut self, wall: &Wall) {
        let (w, h) = (wall.width.mm(), wall.height.mm());
        let (m, g) = (wall.margin.mm(), wall.gap.mm());
        let (nx, ny) = (wall.columns.max(1) as f64, wall.rows.max(1) as f64);
        let one = ((w - 2.0 * m - (nx - 1.0) * g) / nx, (h - 2.0 * m - (ny - 1.0) * g) / ny);
        let thick = (self.foam + self.board).max(10.0);
        self.figure.add(Solid::cuboid([0.0, thick, 0.0], [w, 1.0, h]));
        for j in 0..wall.rows.min(40) {
            for i in 0..wall.columns.min(40) {
                let at = [m + (one.0 + g) * i as f64, 0.0, m + (one.1 + g) * j as f64];
                self.figure.add(Solid::cuboid(at, [one.0, thick, one.1]));
            }
        }
        self.measure("width", [0.0, 0.0, 0.0], [w, 0.0, 0.0], 6.0);
        self.measure("height", [w, 0.0, 0.0], [w, 0.0, h], 8.0);
    }

    /// A chair that stands for any: where its cuts are.
    fn chair(&mut self) {
        let (w, d) = (600.0, 600.0);
        self.figure.add(Solid::cuboid([0.0, 480.0, 0.0], [w, 120.0, 850.0]));
        self.figure.add(Solid::cuboid([0.0, 0.0, 120.0], [110.0, 480.0, 450.0]));
        self.figure.add(Solid::cuboid([w - 110.0, 0.0, 120.0], [110.0, 480.0, 450.0]));
        self.figure.add(Solid::cuboid([110.0, 0.0, 120.0], [w - 220.0, 480.0, 300.0]));
        self.measure("cut", [110.0, d - 120.0, 850.0], [w - 110.0, d - 120.0, 850.0], -4.0);
    }
}

fn plain_style() -> Style {
    Style { unit: geometry::Unit::Millimetre, mark: Length::from_mm(1.0) }
}
