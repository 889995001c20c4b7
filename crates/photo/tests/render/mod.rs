//! Photographs drawn by the tests: a floor, printed sheets and a part, seen by a phone. The camera bends in
//! ways that the measuring does not know of (sixth power, tangential), paper curls, light falls off, the part
//! throws a shadow where it touches the floor, the picture is blurred, sharpened and written as JPEG.

#![allow(dead_code, reason = "each test uses its share")]
#![allow(clippy::unwrap_used, reason = "in tests a failure may say so")]

mod chance;
pub mod judge;
pub mod sets;
pub mod shapes;

pub use chance::{Chance, cell, noise};
use geometry::Point;
use photo::sheet;
use photo::{Measured, Photograph, Picture, Pixel, Tape};
use rayon::prelude::*;

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Stuff {
    Wood,
    Concrete,
    Carpet,
    RedCloth,
    Ply,
    Paper,
    /// As the wood, nearly.
    Alike,
    DarkSheet,
}

/// Colour in bytes before light falls on it.
fn colour(stuff: Stuff, x: f64, y: f64, seed: u64) -> [f32; 3] {
    let n = |size: f64, k: u64| noise(x, y, size, seed ^ (k << 32));
    let (base, change) = match stuff {
        Stuff::Wood => {
            let plank = (y / 140.0).floor();
            let tone = 1.0 + 0.17 * cell(plank as i64, 7, seed);
            let grain =
                noise(x * 0.05, y, 1.5, seed) * 0.06 + noise(x * 0.04, y, 6.0, seed ^ 5) * 0.08;
            let seam = if y - plank * 140.0 < 1.5 { 0.35 } else { 1.0 };
            ([150.0, 105.0, 70.0], (1.0 + grain) * tone * seam)
        }
        Stuff::Concrete => (
            [142.0, 140.0, 135.0],
            1.0 + 0.05 * n(1.0, 1) + 0.05 * n(4.0, 2) + 0.07 * n(30.0, 3) + 0.1 * n(300.0, 4),
        ),
        Stuff::Carpet => {
            ([75.0, 80.0, 95.0], 1.0 + 0.2 * n(1.2, 1) + 0.18 * n(3.0, 2) + 0.09 * n(60.0, 3))
        }
        Stuff::RedCloth => {
            let weave = 0.08 * (libm::sin(x * 2.2) * libm::sin(y * 2.2)) as f32;
            ([150.0, 60.0, 60.0], 1.0 + weave + 0.08 * n(3.0, 1) + 0.08 * n(150.0, 2))
        }
        Stuff::Ply => {
            ([212.0, 185.0, 140.0], 1.0 + 0.07 * noise(x * 0.04, y, 3.0, seed) + 0.06 * n(200.0, 2))
        }
        Stuff::Paper => ([232.0, 230.0, 225.0], 1.0 + 0.03 * n(100.0, 1)),
        Stuff::Alike => ([160.0, 112.0, 75.0], 1.0 + 0.08 * n(3.0, 1) + 0.08 * n(100.0, 2)),
        Stuff::DarkSheet => ([38.0, 40.0, 46.0], 1.0 + 0.08 * n(2.0, 1) + 0.1 * n(120.0, 2)),
    };
    base.map(|b: f32| (b * change).clamp(3.0, 250.0))
}

#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Light {
    Even,
    Uneven,
    Shadow,
}

/// All that a photograph is drawn from.
#[derive(Clone, Debug)]
pub struct Shot {
    pub seed: u64,
    pub size: (usize, usize),
    /// Dense, in mm; the outer edge first, then openings.
    pub loops: Vec<Vec<Point>>,
    pub tilt: f64,
    pub floor: Stuff,
    pub part: Stuff,
    pub thickness: f64,
    pub sheets: usize,
    /// How far paper lifts, in mm.
    pub curl: f64,
    pub light: Light,
    /// In pixels of a picture 4000 wide.
    pub blur: f64,
    pub quality: u8,
    pub contact_shadow: f64,
    /// From paper to part, in mm.
    pub gap: (f64, f64),
    /// Focal length written in the picture, as a share of the true one.
    pub focal_told: Option<f64>,
    /// How far the edge frays or is nibbled about the true line, in mm: one standard deviation.
    pub fray: f64,
    /// Rolling shutter: rows shift by this many pixels from top to bottom.
    pub rolling: f64,
}

impl Shot {
    pub fn of(seed: u64, loops: Vec<Vec<Point>>) -> Self {
        Self {
            seed,
            size: (1600, 1200),
            loops,
            tilt: 8.0,
            floor: Stuff::Wood,
            part: Stuff::RedCloth,
            thickness: 0.0,
            sheets: 4,
            curl: 0.5,
            light: Light::Even,
            blur: 0.8,
            quality: 92,
            contact_shadow: 0.3,
            gap: (35.0, 75.0),
            focal_told: Some(1.0),
            rolling: 0.0,
            fray: 0.0,
        }
    }
}

/// A drawn photograph with what a person would have measured, and the truth.
pub struct Shown {
    pub photograph: Photograph,
    pub measured: Measured,
    pub truth: Truth,
    /// As a camera would have written it.
    pub file: Vec<u8>,
}

pub struct Truth {
    pub camera: TrueCamera,
    /// Place and turn of each sheet.
    pub sheets: Vec<[f64; 3]>,
    pub scale: [f64; 2],
}

#[derive(Clone, Copy)]
pub struct TrueCamera {
    f: f64,
    cx: f64,
    cy: f64,
    k: [f64; 3],
    p: [f64; 2],
    turn: [[f64; 3]; 3],
    stands: [f64; 3],
    rolling: f64,
    height: f64,
}

impl TrueCamera {
    fn bend(&self, x: f64, y: f64) -> (f64, f64) {
        let r = x * x + y * y;
        let d = 1.0 + r * (self.k[0] + r * (self.k[1] + r * self.k[2]));
        (
            x * d + 2.0 * self.p[0] * x * y + self.p[1] * (r + 2.0 * x * x),
            y * d + self.p[0] * (r + 2.0 * y * y) + 2.0 * self.p[1] * x * y,
        )
    }

    /// Where a place is seen.
    pub fn pixel(&self, at: Point, z: f64) -> Pixel {
        let d = [at.x - self.stands[0], at.y - self.stands[1], z - self.stands[2]];
        let q: [f64; 3] = std::array::from_fn(|i| (0..3).map(|k| self.turn[i][k] * d[k]).sum());
        let (x, y) = self.bend(q[0] / q[2], q[1] / q[2]);
        let v = y * self.f + self.cy;
        Pixel::new(x * self.f + self.cx + self.rolling * (v / self.height - 0.5), v)
    }

    /// Where a ray of a pixel comes down on the floor.
    fn floor(&self, u: f64, v: f64) -> (f64, f64) {
        let u = u - self.rolling * (v / self.height - 0.5);
        let far = ((u - self.cx) / self.f, (v - self.cy) / self.f);
        let (mut x, mut y) = far;
        for _ in 0..25 {
            let (a, b) = self.bend(x, y);
            x += 0.8 * (far.0 - a);
            y += 0.8 * (far.1 - b);
        }
        let ray: [f64; 3] =
            std::array::from_fn(|i| self.turn[0][i] * x + self.turn[1][i] * y + self.turn[2][i]);
        let t = -self.stands[2] / ray[2];
        (self.stands[0] + t * ray[0], self.stands[1] + t * ray[1])
    }
}

fn unit(v: [f64; 3]) -> [f64; 3] {
    let n = (v[0] * v[0] + v[1] * v[1] + v[2] * v[2]).sqrt();
    v.map(|c| c / n)
}

fn cross(a: [f64; 3], b: [f64; 3]) -> [f64; 3] {
    [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]]
}

fn bounds(loops: &[Vec<Point>]) -> (f64, f64) {
    let wide = loops.iter().flatten().map(|p| p.x.abs()).fold(0.0, f64::max);
    let high = loops.iter().flatten().map(|p| p.y.abs()).fold(0.0, f64::max);
    (wide, high)
}

fn lay_sheets(shot: &Shot, chance: &mut Chance) -> Vec<[f64; 3]> {
    let (half_wide, half_high) = bounds(&shot.loops);
    let along = (half_wide - 150.0).max(165.0);
    let places = [(-1.0, -1.0), (1.0, 1.0), (1.0, -1.0), (-1.0, 1.0)];
    (0..shot.sheets)
        .map(|n| {
            let (sx, sy) = places[n % 4];
            let turn = chance.within(-6.0, 6.0_f64).to_radians();
            // A turned sheet reaches further.
            let reach = 105.0 * libm::cos(turn) + 148.5 * libm::sin(turn.abs());
            let away = half_high + chance.within(shot.gap.0, shot.gap.1) + reach;
            [sx * along + chance.within(-20.0, 20.0), sy * away, std::f64::consts::FRAC_PI_2 + turn]
        })
        .collect()
}

fn set_camera(shot: &Shot, sheets: &[[f64; 3]], chance: &mut Chance) -> TrueCamera {
    let (w, h) = (shot.size.0 as f64, shot.size.1 as f64);
    let k = w / 4000.0;
    let mut camera = TrueCamera {
        f: 26.0 / libm::hypot(36.0, 24.0) * libm::hypot(w, h) * chance.within(0.985, 1.015),
        cx: w / 2.0 - 0.5 + k * chance.within(-25.0, 25.0),
        cy: h / 2.0 - 0.5 + k * chance.within(-25.0, 25.0),
        k: [chance.within(-0.12, 0.05), chance.within(-0.02, 0.03), chance.within(-0.005, 0.005)],
        p: [chance.within(-3e-4, 3e-4), chance.within(-3e-4, 3e-4)],
        turn: [[0.0; 3]; 3],
        stands: [0.0; 3],
        rolling: shot.rolling * k,
        height: h,
    };
    let (around, tilt) = (chance.within(0.0, std::f64::consts::TAU), shot.tilt.to_radians());
    let roll = chance.within(-5.0, 5.0_f64).to_radians();
    let look = [chance.within(-30.0, 30.0), chance.within(-20.0, 20.0), 0.0];
    let (ws, hs) = bounds(&shot.loops);
    let mut corners: Vec<Point> = sheets
        .iter()
        .flat_map(|s| {
            [(-90.0, -126.0), (90.0, -126.0), (90.0, 126.0), (-90.0, 126.0)]
                .map(|c| on(s, c.0, c.1))
        })
        .collect();
    corners.extend([(-ws, -hs), (ws, -hs), (ws, hs), (-ws, hs)].map(|c| Point::new(c.0, c.1)));
    let mut far = 500.0;
    loop {
        let dir = [
            libm::sin(tilt) * libm::cos(around),
            libm::sin(tilt) * libm::sin(around),
            libm::cos(tilt),
        ];
        camera.stands = std::array::from_fn(|i| look[i] + far * dir[i]);
        let ahead = unit(std::array::from_fn(|i| look[i] - camera.stands[i]));
        // The picture's right is the floor's right, as nearly as may be.
        let right = unit(cross(ahead, [0.0, 1.0, 0.0]));
        let down = cross(ahead, right);
        let (s, c) = (libm::sin(roll), libm::cos(roll));
        camera.turn = [
            std::array::from_fn(|i| c * right[i] - s * down[i]),
            std::array::from_fn(|i| s * right[i] + c * down[i]),
            ahead,
        ];
        let fits = corners.iter().all(|p| {
            let q = camera.pixel(*p, 0.0);
            q.x > 0.015 * w && q.x < 0.985 * w && q.y > 0.015 * h && q.y < 0.985 * h
        });
        if fits || far > 6000.0 {
            return camera;
        }
        far *= 1.03;
    }
}

fn on(sheet: &[f64; 3], x: f64, y: f64) -> Point {
    let (s, c) = (libm::sin(sheet[2]), libm::cos(sheet[2]));
    Point::new(sheet[0] + x * c - y * s, sheet[1] + x * s + y * c)
}

/// How high paper stands over the floor; u and v from 0 to 1 over the sheet.
fn lift(b: &[f64; 6], u: f64, v: f64) -> f64 {
    let corner = (u + v - 1.4).max(0.0);
    let other = (1.0 - u).max(0.0) * v.max(0.0);
    let other = other * other;
    (b[0]
        + b[1] * libm::sin(2.2 * u + b[4]) * libm::sin(3.1 * v + b[5])
        + b[2] * corner * corner / 0.36
        + b[3] * other * other)
        .max(0.0)
}

/// White of a printed sheet at a place from its middle: 0 black to 1 white.
fn printed(number: usize, x: f64, y: f64) -> f32 {
    let (column, row) =
        ((x + sheet::WIDTH / 2.0) / sheet::SQUARE, (sheet::HEIGHT / 2.0 - y) / sheet::SQUARE);
    if column < 0.0 || row < 0.0 || column >= sheet::ACROSS as f64 || row >= sheet::DOWN as f64 {
        return 1.0;
    }
    let (c, r) = (column as usize, row as usize);
    if sheet::is_black(r, c) {
        return 0.0;
    }
    // White squares before this one, row by row.
    let n = (r * sheet::ACROSS + c) / 2;
    let middle = sheet::middle(r, c);
    let (mx, my) = (x - middle.x + sheet::MARK / 2.0, sheet::MARK / 2.0 - (y - middle.y));
    if mx < 0.0 || my < 0.0 || mx >= sheet::MARK || my >= sheet::MARK {
        return 1.0;
    }
    let (cc, cr) = ((mx / sheet::CELL) as usize, (my / sheet::CELL) as usize);
    f32::from(u8::from(photo::codes::is_white(number * sheet::MARKS + n, cr, cc)))
}

/// Draws it.
pub fn draw(shot: &Shot) -> Shown {
    let mut chance = Chance::new(shot.seed);
    let sheets = lay_sheets(shot, &mut chance);
    let camera = set_camera(shot, &sheets, &mut chance);
    let scale = [chance.within(0.997, 1.003), chance.within(0.997, 1.003)];
    let lifts: Vec<[f64; 6]> = sheets
        .iter()
        .map(|_| {
            [
                0.15,
                shot.curl * 0.6 * chance.within(0.3, 1.0),
                shot.curl * 1.5 * chance.share(),
                shot.curl * 1.5 * chance.share(),
                chance.within(0.0, 6.0),
                chance.within(0.0, 6.0),
            ]
        })
        .collect();
    let scene = Scene {
        shot,
        camera,
        field: shapes::Field::of(&shapes::frayed(&shot.loops, shot.fray, shot.seed)),
        sheets: &sheets,
        scale,
        lifts: &lifts,
        light: (chance.within(0.0, std::f64::consts::TAU), chance.within(-250.0, 250.0)),
        grain: chance.next(),
    };
    let bytes = scene.expose(chance.next());
    let (w, h) = shot.size;
    let mut file = Vec::new();
    image::codecs::jpeg::JpegEncoder::new_with_quality(&mut file, shot.quality)
        .encode(&bytes, w as u32, h as u32, image::ExtendedColorType::Rgb8)
        .unwrap();
    let decoded = image::load_from_memory(&file).unwrap().to_rgb8().into_raw();
    let told = 26.0 * camera.f / (26.0 / libm::hypot(36.0, 24.0) * libm::hypot(w as f64, h as f64));
    // Makers round to whole millimetres.
    let focal_35 = shot.focal_told.map(|share| (told * share).round());
    let truth = Truth { camera, sheets, scale };
    let measured = truth.measured(shot, &mut chance);
    Shown {
        photograph: Photograph { picture: Picture::new(w, h, decoded).unwrap(), focal_35 },
        measured,
        truth,
        file,
    }
}

impl Truth {
    /// The true distance between the crosses of two sheets.
    pub fn taped(&self, a: usize, b: usize) -> f64 {
        let end = |n: usize| {
            on(&self.sheets[n], sheet::CROSS.x * self.scale[0], sheet::CROSS.y * self.scale[1])
        };
        (end(a) - end(b)).length()
    }

    /// What a person reads: tapes to half a millimetre, check lines to a quarter, thickness to a quarter.
    fn measured(&self, shot: &Shot, chance: &mut Chance) -> Measured {
        let pairs: &[(usize, usize)] = match shot.sheets {
            4 => &[(0, 1), (2, 3)],
            _ => &[(0, 1)],
        };
        let tapes = pairs
            .iter()
            .map(|&(from, to)| Tape { from, to, mm: self.taped(from, to) + 0.5 * chance.bell() })
            .collect();
        let mut line =
            |of: f64, scale: f64| Some(((of * scale + 0.15 * chance.bell()) * 4.0).round() / 4.0);
        let lines = photo::CheckLines {
            across: line(sheet::WIDTH, self.scale[0]),
            up: line(sheet::HEIGHT, self.scale[1]),
        };
        let thickness =
            if shot.thickness > 0.0 { shot.thickness + 0.25 * chance.bell() } else { 0.0 };
        Measured { tapes, lines, thickness }
    }
}

struct Scene<'a> {
    shot: &'a Shot,
    camera: TrueCamera,
    field: shapes::Field,
    sheets: &'a [[f64; 3]],
    scale: [f64; 2],
    lifts: &'a [[f64; 6]],
    light: (f64, f64),
    grain: u64,
}

impl Scene<'_> {
    /// Light that comes from where a ray meets the floor, or what stands before it.
    fn seen(&self, x: f64, y: f64) -> [f32; 3] {
        let shot = self.shot;
        let from = self.camera.stands;
        let toward = |z: f64| {
            let k = 1.0 - z / from[2];
            ((x - from[0]) * k + from[0], (y - from[1]) * k + from[1])
        };
        let (tx, ty) = toward(shot.thickness);
        let mut bytes = if self.field.inside(tx, ty) > 0.0 {
            colour(shot.part, tx, ty, self.grain ^ 99)
        } else {
            let wall = shot.thickness > 0.0
                && (0..4).any(|k| {
                    let (wx, wy) = toward(shot.thickness * f64::from(k) / 4.0);
                    self.field.inside(wx, wy) > 0.0
                });
            if wall { [125.0, 100.0, 70.0] } else { self.floor(x, y) }
        };
        let (towards, shift) = self.light;
        let (s, c) = (libm::sin(towards), libm::cos(towards));
        let slope = if shot.light == Light::Even { 0.06 } else { 0.25 };
        let mut light = 1.0 + slope * (x * c + y * s) / 700.0;
        if shot.light == Light::Shadow {
            let d = (x * s - y * c - shift) / 18.0;
            light *= 1.0 - 0.35 / (1.0 + libm::exp(-d.clamp(-30.0, 30.0)));
        }
        for b in &mut bytes {
            *b = libm::powf(*b / 255.0, 2.2) * light as f32;
        }
        bytes
    }

    fn floor(&self, x: f64, y: f64) -> [f32; 3] {
        let from = self.camera.stands;
        let mut bytes = None;
        for (number, (sheet, lifts)) in self.sheets.iter().zip(self.lifts).enumerate() {
            let (s, c) = (libm::sin(sheet[2]), libm::cos(sheet[2]));
            let local = |x: f64, y: f64| {
                let (dx, dy) = (x - sheet[0], y - sheet[1]);
                ((dx * c + dy * s) / self.scale[0], (dy * c - dx * s) / self.scale[1])
            };
            let (u, v) = local(x, y);
            if u.abs() > 120.0 || v.abs() > 160.0 {
                continue;
            }
            let z =
                lift(lifts, (u / 210.0 + 0.5).clamp(0.0, 1.0), (v / 297.0 + 0.5).clamp(0.0, 1.0));
            let k = 1.0 - z / from[2];
            let (u, v) = local((x - from[0]) * k + from[0], (y - from[1]) * k + from[1]);
            if u.abs() < 105.0 && v.abs() < 148.5 {
                bytes = Some([(0.06 + 0.94 * printed(number, u, v)) * 228.0; 3]);
            }
        }
        let bytes = bytes.unwrap_or_else(|| colour(self.shot.floor, x, y, self.grain));
        let out = (-self.field.inside(x, y)).max(0.0);
        let dark =
            self.shot.contact_shadow * libm::exp(-out / (0.8 * self.shot.thickness).max(2.0));
        // Bytes are light to the power of 1/2.2.
        bytes.map(|b| b * libm::powf((1.0 - dark) as f32, 1.0 / 2.2))
    }

    fn expose(&self, seed: u64) -> Vec<u8> {
        const GRID: usize = 16;
        let (w, h) = self.shot.size;
        let (gw, gh) = (w / GRID + 3, h / GRID + 3);
        // Rays on a grid; between its points floor places run straight to a hundredth of a pixel.
        let grid: Vec<(f64, f64)> = (0..gw * gh)
            .into_par_iter()
            .map(|i| {
                let at = |k: usize| (k as f64 - 1.0) * GRID as f64;
                self.camera.floor(at(i % gw), at(i / gw))
            })
            .collect();
        let mut light = vec![[0.0f32; 3]; w * h];
        light.par_chunks_mut(w).enumerate().for_each(|(row, out)| {
            for (column, out) in out.iter_mut().enumerate() {
                for (dx, dy) in [(-0.25, -0.25), (0.25, -0.25), (-0.25, 0.25), (0.25, 0.25)] {
                    let (gx, gy) =
                        ((column as f64 + dx) / 16.0 + 1.0, (row as f64 + dy) / 16.0 + 1.0);
                    let (i, j) = (gx as usize, gy as usize);
                    let (u, v) = (gx - i as f64, gy - j as f64);
                    let g = |i: usize, j: usize| grid[j * gw + i];
                    let mix = |of: fn((f64, f64)) -> f64| {
                        (of(g(i, j)) * (1.0 - u) + of(g(i + 1, j)) * u) * (1.0 - v)
                            + (of(g(i, j + 1)) * (1.0 - u) + of(g(i + 1, j + 1)) * u) * v
                    };
                    let seen = self.seen(mix(|p| p.0), mix(|p| p.1));
                    for (o, s) in out.iter_mut().zip(seen) {
                        *o += 0.25 * s;
                    }
                }
                let (dx, dy) = (column as f32 - w as f32 / 2.0, row as f32 - h as f32 / 2.0);
                let far = (dx * dx + dy * dy) / (0.625 * w as f32) / (0.625 * w as f32);
                *out = out.map(|o| o * (1.0 - 0.25 * far));
            }
        });
        let k = w as f64 / 4000.0;
        let mut light = bell_blur(&light, w, (self.shot.blur * k).max(0.35));
        light.par_chunks_mut(w).enumerate().for_each(|(row, out)| {
            let mut chance = Chance::new(seed ^ (row as u64) << 20);
            for v in out.iter_mut().flatten() {
                let noise = chance.bell() as f32 * (2e-5 + 4e-4 * v.max(0.0)).sqrt();
                *v = libm::powf((*v + noise).clamp(0.0, 1.0), 1.0 / 2.2) * 255.0;
            }
        });
        // As phones do.
        let soft = bell_blur(&light, w, 1.2 * k.max(0.5));
        light
            .iter()
            .zip(soft)
            .flat_map(|(a, b)| {
                std::array::from_fn::<u8, 3, _>(|c| {
                    (a[c] + 0.4 * (a[c] - b[c])).clamp(0.0, 255.0) as u8
                })
            })
            .collect()
    }
}

fn bell_blur(light: &[[f32; 3]], w: usize, sd: f64) -> Vec<[f32; 3]> {
    let reach = (3.0 * sd).ceil() as i64;
    let bell: Vec<f32> = (-reach..=reach)
        .map(|k| libm::exp(-0.5 * (k as f64 / sd) * (k as f64 / sd)) as f32)
        .collect();
    let total: f32 = bell.iter().sum();
    let h = light.len() / w;
    let pass = |from: &[[f32; 3]], across: bool| -> Vec<[f32; 3]> {
        let mut out = vec![[0.0; 3]; from.len()];
        out.par_chunks_mut(w).enumerate().for_each(|(row, line)| {
            for (column, o) in line.iter_mut().enumerate() {
                for (k, b) in (-reach..=reach).zip(&bell) {
                    let (x, y) = if across {
                        ((column as i64 + k).clamp(0, w as i64 - 1) as usize, row)
                    } else {
                        (column, (row as i64 + k).clamp(0, h as i64 - 1) as usize)
                    };
                    let v = from[y * w + x];
                    for c in 0..3 {
                        o[c] += v[c] * b / total;
                    }
                }
            }
        });
        out
    };
    pass(&pass(light, true), false)
}
