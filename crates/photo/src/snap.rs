//! An outline drawn near the edge of a part, moved onto it: at each place the edge is where the colours of
//! part and floor change most sharply, and the whole is the path with the most edge and the fewest jumps.

use crate::ground::Ground;
use crate::ring::{area, bell, normals, resample, smooth_round};
use geometry::Point;
use nalgebra::{Matrix3, Vector3};
use rayon::prelude::*;

/// Distance of places along the outline, in mm.
pub const STEP: f64 = 2.0;
/// Light below this share of white is noise.
const DARKEST: f32 = 0.004;
/// Least spread of the logarithm of light within part or floor.
const SPREAD: f64 = 4e-4;

/// One look along the outline: how far either side, how finely, how near the line colours are not counted to
/// either, how wide the edge is taken to be (all in mm), smoothing along the outline in places, price of a
/// jump; whether light is compared by ratio (where the outline may still be off) or as it falls. A lens blurs
/// light as it falls: by ratio a blurred edge seems to lie on its darker side.
struct Look {
    band: f64,
    fine: f64,
    gap: f64,
    edge: f64,
    along: f64,
    jump: f64,
    by_ratio: bool,
}

/// Coarse to fine, as measured on rendered photographs.
const LOOKS: [Look; 3] = [
    Look { band: 14.0, fine: 0.4, gap: 10.0, edge: 1.6, along: 2.0, jump: 0.002, by_ratio: true },
    Look { band: 6.0, fine: 0.25, gap: 1.5, edge: 0.9, along: 1.0, jump: 0.004, by_ratio: false },
    Look { band: 4.0, fine: 0.15, gap: 1.2, edge: 0.6, along: 0.7, jump: 0.004, by_ratio: false },
];
/// Colours are compared at least this far either side.
const WIDE: f64 = 10.0;

/// An outline on the edge.
pub struct Snapped {
    /// Counter-clockwise, about [`STEP`] apart.
    pub points: Vec<Point>,
    /// How sharp the edge is at each point, by what a clean edge between the colours there would be.
    pub strength: Vec<f64>,
    /// How far colours of part and floor are apart at each point, in standard deviations.
    pub contrast: Vec<f64>,
    /// Whether the place could be seen at all.
    pub seen: Vec<bool>,
}

/// Light across the outline at each place.
struct Across {
    offsets: Vec<f64>,
    /// Light or its logarithm, place by place; not numbers where nothing is seen.
    light: Vec<[f64; 3]>,
    /// How wide the part's wall shows beyond its edge at each place, in mm; nought where it does not.
    walls: Vec<f64>,
    /// Whether the floor lies inside: an opening.
    is_opening: bool,
}

/// A wall narrower than this is not told apart, in mm.
const WALL: f64 = 0.8;

/// Moves a drawn outline (about 14 mm off at most) onto the edge; `None` if it runs out of the pictures. Of an
/// opening the floor lies inside.
pub fn snap(ground: &Ground, drawn: &[Point], is_opening: bool) -> Option<Snapped> {
    let mut points = resample(drawn, STEP);
    if area(&points) < 0.0 {
        points.reverse();
    }
    let mut out = None;
    for (round, look) in LOOKS.iter().enumerate() {
        let normals = normals(&points, if round == 0 { 3 } else { 2 });
        let across = light_across(ground, &points, &normals, look, is_opening)?;
        let m = across.offsets.len();
        let (axis, contrast) = best_axis(&across, points.len(), look.gap);
        let usual = crate::placing::median(&contrast).max(1e-6);
        let sharp = with_walls(&across, sharpness(&across, &axis, look), look);
        let first = across.offsets.iter().position(|o| *o >= -look.band - 1e-9)?;
        let used = m - 2 * first;
        let rows: Vec<&[f64]> = sharp.chunks_exact(m).map(|r| &r[first..first + used]).collect();
        let full = usual * 0.4;
        let steps = ((STEP / look.fine).ceil() as usize).min(12);
        let path = best_path(&rows, full, steps, look.jump);
        let mut offsets = Vec::with_capacity(points.len());
        let mut strength = Vec::with_capacity(points.len());
        for ((row, at), contrast) in rows.iter().zip(&path).zip(&contrast) {
            let j = (*at).clamp(1, used - 2);
            let (y0, y1, y2) = (row[j - 1], row[j], row[j + 1]);
            let bend = y0 - 2.0 * y1 + y2;
            let peak =
                if bend.abs() > 1e-9 { (0.5 * (y0 - y2) / bend).clamp(-1.0, 1.0) } else { 0.0 };
            offsets.push(across.offsets[first + j] + peak * look.fine);
            strength.push(y1 / (0.4 * contrast).max(1e-6));
        }
        let seen = (0..points.len()).map(|i| is_seen(&across, i, first + path[i])).collect();
        let is_last = round + 1 == LOOKS.len();
        if !is_last {
            offsets = smooth_round(&offsets, 1, 1.0);
        }
        let moved: Vec<Point> =
            points.iter().zip(&normals).zip(&offsets).map(|((p, n), o)| *p + *n * *o).collect();
        points = if is_last { moved.clone() } else { resample(&moved, STEP) };
        out = Some(Snapped { points: moved, strength, contrast, seen });
    }
    out
}

fn is_seen(across: &Across, place: usize, at: usize) -> bool {
    across.light[place * across.offsets.len() + at][0].is_finite()
}

fn light_across(
    ground: &Ground,
    points: &[Point],
    normals: &[geometry::Vector],
    look: &Look,
    is_opening: bool,
) -> Option<Across> {
    let wide = look.band.max(WIDE);
    let half = (wide / look.fine).round() as i64;
    let offsets: Vec<f64> = (-half..=half).map(|k| k as f64 * look.fine).collect();
    let rows: Option<Vec<(f64, Vec<[f64; 3]>)>> = points
        .par_iter()
        .zip(normals)
        .map(|(p, normal)| {
            let view = ground.view(*p)?;
            let of = |o: &f64| {
                ground.light(view, *p + *normal * *o).map_or([f64::NAN; 3], |light| {
                    let by_ratio = |l: f32| libm::log(f64::from(l + DARKEST));
                    light.map(|l| if look.by_ratio { by_ratio(l) } else { f64::from(l) })
                })
            };
            let mut row: Vec<[f64; 3]> = offsets.iter().map(of).collect();
            if !look.by_ratio {
                even_out(&mut row);
            }
            let to_floor = if is_opening { -*normal } else { *normal };
            Some((ground.wall(view, *p, to_floor), row))
        })
        .collect();
    let (walls, light): (Vec<f64>, Vec<_>) = rows?.into_iter().unzip();
    Some(Across { offsets, light: light.into_iter().flatten().collect(), walls, is_opening })
}

/// Light divided by its mean at the place, so that a shaded stretch weighs as much as a sunlit one.
fn even_out(row: &mut [[f64; 3]]) {
    let seen = row.iter().flatten().filter(|l| l.is_finite());
    let (sum, count) = seen.fold((0.0, 0.0), |(s, c), l| (s + l, c + 1.0));
    let mean = (sum / f64::max(count, 1.0)).max(f64::from(DARKEST));
    for l in row.iter_mut().flatten() {
        *l /= mean;
    }
}

/// Where a wall shows, the edge is looked for together with the wall's foot so far beyond it: either may be
/// the fainter one.
fn with_walls(across: &Across, sharp: Vec<f64>, look: &Look) -> Vec<f64> {
    let m = across.offsets.len();
    let mut out = sharp.clone();
    for (place, wall) in across.walls.iter().enumerate().filter(|(_, w)| **w > WALL) {
        let beyond = (wall / look.fine).round() as usize;
        let row = &sharp[place * m..(place + 1) * m];
        for j in 0..m {
            let foot = if across.is_opening { j.checked_sub(beyond) } else { Some(j + beyond) };
            let foot = foot.and_then(|f| row.get(f)).map_or(0.0, |v| v.abs());
            out[place * m + j] = row[j].abs() + foot;
        }
    }
    out
}

/// At each place the mixture of colours that tells part from floor best, and how well, in standard
/// deviations.
///
/// Source: Fisher's linear discriminant (1936).
fn best_axis(across: &Across, places: usize, gap: f64) -> (Vec<Vector3<f64>>, Vec<f64>) {
    const WIDTH: usize = 3 + 3 + 6;
    let m = across.offsets.len();
    let mut rows = vec![f64::NAN; places * WIDTH];
    for (place, row) in rows.chunks_exact_mut(WIDTH).enumerate() {
        let light = &across.light[place * m..(place + 1) * m];
        let side = |is_side: &dyn Fn(f64) -> bool| {
            let of =
                light.iter().zip(&across.offsets).filter(|(l, o)| is_side(**o) && l[0].is_finite());
            moments(of.map(|(l, _)| Vector3::from(*l)))
        };
        let wall = across.walls[place];
        let (in_wall, out_wall) = if across.is_opening { (wall, 0.0) } else { (0.0, wall) };
        let inside = side(&|o| o < -gap - in_wall);
        let outside = side(&|o| o > gap + out_wall);
        if let Some((mean, _)) = &inside {
            row[..3].copy_from_slice(mean.as_slice());
        }
        if let Some((mean, _)) = &outside {
            row[3..6].copy_from_slice(mean.as_slice());
        }
        if let (Some((_, a)), Some((_, b))) = (inside, outside) {
            let both = (a + b) / 2.0;
            let each = [(0, 0), (0, 1), (0, 2), (1, 1), (1, 2), (2, 2)];
            for (k, at) in each.into_iter().enumerate() {
                row[6 + k] = both[at];
            }
        }
    }
    let smooth = smooth_round(&rows, WIDTH, WIDE / STEP * 2.0);
    smooth
        .chunks_exact(WIDTH)
        .map(|r| {
            let spread = Matrix3::new(r[6], r[7], r[8], r[7], r[9], r[10], r[8], r[10], r[11])
                + Matrix3::identity() * SPREAD;
            let apart = Vector3::new(r[0] - r[3], r[1] - r[4], r[2] - r[5]);
            let axis = spread.cholesky().map_or(apart, |c| c.solve(&apart));
            let contrast = apart.dot(&axis).max(1e-9).sqrt();
            if contrast.is_finite() { (axis / contrast, contrast) } else { (Vector3::zeros(), 0.0) }
        })
        .unzip()
}

fn moments(values: impl Iterator<Item = Vector3<f64>>) -> Option<(Vector3<f64>, Matrix3<f64>)> {
    let values: Vec<Vector3<f64>> = values.collect();
    if values.len() < 3 {
        return None;
    }
    let n = values.len() as f64;
    let mean = values.iter().sum::<Vector3<f64>>() / n;
    let spread =
        values.iter().map(|v| (v - mean) * (v - mean).transpose()).sum::<Matrix3<f64>>() / n;
    Some((mean, spread))
}

/// How fast the mixture falls from part to floor over an edge's width, place by place and offset by offset;
/// nought next to what is not seen.
fn sharpness(across: &Across, axis: &[Vector3<f64>], look: &Look) -> Vec<f64> {
    let m = across.offsets.len();
    let mixed: Vec<f64> =
        across.light.iter().enumerate().map(|(i, l)| axis[i / m].dot(&Vector3::from(*l))).collect();
    let smooth = smooth_round(&mixed, m, look.along);
    let sd = look.edge / look.fine;
    let bell = bell(sd);
    let total: f64 = bell.iter().sum::<f64>() * 2.0 - bell[0];
    let mut out = vec![0.0; mixed.len()];
    out.par_chunks_mut(m).enumerate().for_each(|(place, row)| {
        let values = &smooth[place * m..(place + 1) * m];
        let own = &mixed[place * m..(place + 1) * m];
        for (j, out) in row.iter_mut().enumerate() {
            let near = 2.0 * sd;
            let mut sum = 0.0;
            for (k, weight) in bell.iter().enumerate().skip(1) {
                let (a, b) = (j.saturating_sub(k), (j + k).min(m - 1));
                let fall = values[a] - values[b];
                let hidden = !own[a].is_finite() || !own[b].is_finite();
                if (k as f64) < near && hidden {
                    sum = f64::NAN;
                }
                if fall.is_finite() {
                    sum += weight * k as f64 * fall;
                }
            }
            // The slope of a bell, over an edge's width.
            *out = if sum.is_finite() { sum / (total * sd) } else { 0.0 };
        }
    });
    out
}

/// The offset at each place, all the way round.
fn best_path(rows: &[&[f64]], full: f64, most: usize, jump: f64) -> Vec<usize> {
    let (n, m) = (rows.len(), rows[0].len());
    let over = 40.min(n);
    let score = |i: usize, j: usize| (rows[i % n][j].max(0.0) / full).min(1.5);
    let mut best: Vec<f64> = (0..m).map(|j| score(n - over, j)).collect();
    let mut from = vec![0u16; (n + 2 * over) * m];
    let total = n + 2 * over;
    for i in 1..total {
        let mut next = vec![f64::NEG_INFINITY; m];
        for (j, next) in next.iter_mut().enumerate() {
            let mut source = j;
            let low = j.saturating_sub(most);
            for (k, earlier) in best.iter().enumerate().take(j + most + 1).skip(low) {
                let step = k.abs_diff(j) as f64;
                let value = earlier - jump * step * step;
                if value > *next {
                    *next = value;
                    source = k;
                }
            }
            *next += score(n - over + i, j);
            from[i * m + j] = source as u16;
        }
        best = next;
    }
    let mut at = (0..m).max_by(|a, b| best[*a].total_cmp(&best[*b])).unwrap_or(0);
    let mut path = vec![0; total];
    for i in (0..total).rev() {
        path[i] = at;
        at = usize::from(from[i * m + at]);
    }
    path[over..over + n].to_vec()
}
