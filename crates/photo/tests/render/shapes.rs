//! Parts: outlines of many sorts, and which places lie inside.

use super::Chance;
use geometry::Point;
use std::f64::consts::{FRAC_PI_2, PI, TAU};

fn arc(x: f64, y: f64, r: f64, from: f64, to: f64) -> Vec<Point> {
    let n = ((to - from).abs() * r / 0.4).ceil().max(8.0) as usize;
    (0..=n)
        .map(|k| from + (to - from) * k as f64 / n as f64)
        .map(|a| Point::new(x + r * libm::cos(a), y + r * libm::sin(a)))
        .collect()
}

/// Points at most 0.3 mm apart.
pub fn dense(points: &[Point]) -> Vec<Point> {
    let n = points.len();
    let mut out = Vec::new();
    for i in 0..n {
        let (a, b) = (points[i], points[(i + 1) % n]);
        let count = ((b - a).length() / 0.3).ceil() as usize;
        out.extend((0..count).map(|k| a + (b - a) * (k as f64 / count as f64)));
    }
    out
}

/// About the middle; radii from the lower left, counter-clockwise.
pub fn rectangle(w: f64, h: f64, r: [f64; 4]) -> Vec<Point> {
    let (w, h) = (w / 2.0, h / 2.0);
    let mut out = arc(-w + r[0], -h + r[0], r[0], PI, 1.5 * PI);
    out.extend(arc(w - r[1], -h + r[1], r[1], 1.5 * PI, TAU));
    out.extend(arc(w - r[2], h - r[2], r[2], 0.0, FRAC_PI_2));
    out.extend(arc(-w + r[3], h - r[3], r[3], FRAC_PI_2, PI));
    dense(&out)
}

pub fn circle(x: f64, y: f64, r: f64) -> Vec<Point> {
    dense(&arc(x, y, r, 0.0, TAU)[1..])
}

/// A wide foot and a narrow upright, corners inside rounded.
pub fn ell(w: f64, h: f64, foot: f64, upright: f64, r: f64) -> Vec<Point> {
    let (l, b) = (-w / 2.0, -h / 2.0);
    let mut out = vec![Point::new(l, b), Point::new(l + w, b), Point::new(l + w, b + foot)];
    out.extend(arc(l + upright + r, b + foot + r, r, 1.5 * PI, PI));
    out.extend(arc(l + upright - r, b + h - r, r, 0.0, FRAC_PI_2));
    out.push(Point::new(l, b + h));
    dense(&out)
}

/// A closed smooth line through places round an oval: Catmull-Rom, as a curve with no lines or arcs in it.
pub fn free(w: f64, h: f64, chance: &mut Chance) -> Vec<Point> {
    let n = 10 + (chance.next() % 4) as usize;
    let knots: Vec<Point> = (0..n)
        .map(|k| {
            let a = TAU * (k as f64 + chance.within(-0.15, 0.15)) / n as f64;
            let r = chance.within(0.84, 1.0);
            Point::new(w / 2.0 * r * libm::cos(a), h / 2.0 * r * libm::sin(a))
        })
        .collect();
    let at = |i: usize| knots[i % n];
    let mut out = Vec::new();
    for i in 0..n {
        let (p0, p1, p2, p3) = (at(i + n - 1), at(i), at(i + 1), at(i + 2));
        for k in 0..200 {
            let t = f64::from(k) / 200.0;
            let mix = |a: f64, b: f64, c: f64, d: f64| {
                0.5 * (2.0 * b
                    + (c - a) * t
                    + (2.0 * a - 5.0 * b + 4.0 * c - d) * t * t
                    + (3.0 * b - 3.0 * c + d - a) * t * t * t)
            };
            out.push(Point::new(mix(p0.x, p1.x, p2.x, p3.x), mix(p0.y, p1.y, p2.y, p3.y)));
        }
    }
    dense(&out)
}

/// The same lines, each place moved square to them by noise of 3 to 25 mm along.
pub fn frayed(loops: &[Vec<Point>], by: f64, seed: u64) -> Vec<Vec<Point>> {
    if by == 0.0 {
        return loops.to_vec();
    }
    let fray = |l: &Vec<Point>| {
        let n = l.len();
        let off = |i: usize| {
            let along = i as f64 * 0.3;
            let each =
                [3.0, 8.0, 25.0].map(|size| f64::from(super::noise(along, size, size, seed)));
            // Noise of this sort spreads by about 0.45.
            by * each.iter().sum::<f64>() / 3.0_f64.sqrt() / 0.45
        };
        (0..n)
            .map(|i| {
                let (a, b) = (l[(i + n - 6) % n], l[(i + 6) % n]);
                // Away at the ends, so that the row closes.
                let fade = (i.min(n - i) as f64 / 60.0).min(1.0);
                l[i] + (b - a).unit().right() * (off(i) * fade)
            })
            .collect()
    };
    loops.iter().map(fray).collect()
}

/// A part of any of the sorts.
pub fn any(chance: &mut Chance) -> Vec<Vec<Point>> {
    let (w, h) = (chance.within(420.0, 1200.0), chance.within(240.0, 600.0));
    match chance.next() % 5 {
        0 => {
            let r = std::array::from_fn(|_| chance.within(0.02, 0.24) * h);
            vec![rectangle(w, h, r)]
        }
        1 => {
            let (l, r) = (chance.within(0.0, 0.15) * w, chance.within(0.0, 0.15) * w);
            let outer = dense(&[
                Point::new(-w / 2.0, -h / 2.0),
                Point::new(w / 2.0, -h / 2.0),
                Point::new(w / 2.0 - r, h / 2.0),
                Point::new(-w / 2.0 + l, h / 2.0),
            ]);
            let hole = circle(chance.within(-0.2, 0.2) * w, 0.0, chance.within(0.12, 0.22) * h);
            vec![outer, hole]
        }
        2 => {
            let r = chance.within(0.05, 0.1) * h;
            vec![ell(w, h, chance.within(0.35, 0.55) * h, chance.within(0.35, 0.6) * w, r)]
        }
        3 => vec![free(w, h, chance)],
        _ => {
            // A door's panel: one side bows, the others are straight.
            let rise = chance.within(0.03, 0.12) * w;
            let r = (w * w / 4.0 + rise * rise) / (2.0 * rise);
            let half = libm::asin(w / 2.0 / r);
            let mut out = vec![Point::new(-w / 2.0, -h / 2.0), Point::new(w / 2.0, -h / 2.0)];
            out.extend(arc(0.0, h / 2.0 - r, r, FRAC_PI_2 - half, FRAC_PI_2 + half));
            // Its highest place is h / 2; the ends lie lower.
            vec![dense(&out)]
        }
    }
}

/// How far inside the outlines a place lies, in mm: exact near them, rough elsewhere; negative outside.
pub struct Field {
    left: f64,
    bottom: f64,
    across: usize,
    up: usize,
    inside: Vec<f32>,
}

const FINE: f64 = 0.5;
const MARGIN: f64 = 40.0;

impl Field {
    pub fn of(loops: &[Vec<Point>]) -> Self {
        let all = || loops.iter().flatten();
        let low = |of: fn(&Point) -> f64| all().map(of).fold(f64::INFINITY, f64::min) - MARGIN;
        let high = |of: fn(&Point) -> f64| all().map(of).fold(f64::NEG_INFINITY, f64::max) + MARGIN;
        let (left, bottom) = (low(|p| p.x), low(|p| p.y));
        let across = ((high(|p| p.x) - left) / FINE) as usize + 1;
        let up = ((high(|p| p.y) - bottom) / FINE) as usize + 1;
        let mut far = vec![MARGIN as f32; across * up];
        let reach = 6i64;
        for l in loops {
            for (i, a) in l.iter().enumerate() {
                let b = l[(i + 1) % l.len()];
                let (c, r) = (((a.x - left) / FINE) as i64, ((a.y - bottom) / FINE) as i64);
                for row in (r - reach).max(0)..=(r + reach).min(up as i64 - 1) {
                    for column in (c - reach).max(0)..=(c + reach).min(across as i64 - 1) {
                        let p = Point::new(left + column as f64 * FINE, bottom + row as f64 * FINE);
                        let at = &mut far[row as usize * across + column as usize];
                        *at = at.min(to_line(p, *a, b) as f32);
                    }
                }
            }
        }
        spread(&mut far, across);
        // Inside or not, row by row.
        for row in 0..up {
            let y = bottom + row as f64 * FINE;
            let mut crossings = Vec::new();
            for l in loops {
                for (i, a) in l.iter().enumerate() {
                    let b = l[(i + 1) % l.len()];
                    if (a.y <= y) != (b.y <= y) {
                        crossings.push(a.x + (y - a.y) / (b.y - a.y) * (b.x - a.x));
                    }
                }
            }
            crossings.sort_by(f64::total_cmp);
            for column in 0..across {
                let x = left + column as f64 * FINE;
                if crossings.partition_point(|c| *c <= x) % 2 == 0 {
                    far[row * across + column] *= -1.0;
                }
            }
        }
        Self { left, bottom, across, up, inside: far }
    }

    pub fn inside(&self, x: f64, y: f64) -> f64 {
        let (u, v) = ((x - self.left) / FINE, (y - self.bottom) / FINE);
        if u < 0.0 || v < 0.0 || u >= self.across as f64 - 1.0 || v >= self.up as f64 - 1.0 {
            return -MARGIN;
        }
        let (i, j) = (u as usize, v as usize);
        let (u, v) = (u - i as f64, v - j as f64);
        let at = |i: usize, j: usize| f64::from(self.inside[j * self.across + i]);
        (at(i, j) * (1.0 - u) + at(i + 1, j) * u) * (1.0 - v)
            + (at(i, j + 1) * (1.0 - u) + at(i + 1, j + 1) * u) * v
    }
}

/// Rough distances away from the outline, from neighbour to neighbour.
fn spread(far: &mut [f32], across: usize) {
    let up = far.len() / across;
    let step = FINE as f32;
    for row in 0..up {
        for column in 0..across {
            let i = row * across + column;
            if column > 0 {
                far[i] = far[i].min(far[i - 1] + step);
            }
            if row > 0 {
                far[i] = far[i].min(far[i - across] + step);
            }
        }
    }
    for i in (0..far.len()).rev() {
        if i % across + 1 < across {
            far[i] = far[i].min(far[i + 1] + step);
        }
        if i + across < far.len() {
            far[i] = far[i].min(far[i + across] + step);
        }
    }
}

fn to_line(p: Point, a: Point, b: Point) -> f64 {
    let (d, v) = (b - a, p - a);
    let t = (v.dot(d) / d.dot(d).max(1e-12)).clamp(0.0, 1.0);
    (p - (a + d * t)).length()
}
