//! Where cameras stood and sheets lay: one least squares over everything that was seen and taped.

use crate::camera::{self, Camera, NUMBERS};
use crate::crossings::SeenSheet;
use crate::flat::FlatView;
use crate::least_squares::solve;
use crate::picture::Pixel;
use crate::sheet::{self, CROSS};
use geometry::Point;
use nalgebra::{DMatrix, Matrix3, Vector3};

/// Standard deviation of a crossing, in pixels.
const CROSSING: f64 = 0.12;
/// Of the focal length that a picture tells of itself, as a share; makers round, and some crop.
const FOCAL_TOLD: f64 = 0.04;
/// Of the focal length taken when a picture tells nothing: a phone's main camera, 26 mm on 36.
const FOCAL_GUESSED: f64 = 0.15;
/// Of the place the lens looks straight at, as a share of the picture's width.
const CENTRE: f64 = 0.0075;
/// Of the two terms of the lens.
const BEND: [f64; 2] = [0.15, 0.05];
/// Of how high a corner of a sheet stands, in mm.
const HEIGHT: f64 = 0.7;
/// Of a taped distance, in mm.
const TAPE: f64 = 0.7;
/// Of a print's scale as measured along a check line, and if nobody measured, as a share.
const SCALE: [f64; 2] = [0.0012, 0.003];

/// What is known of a picture besides what is seen in it.
#[derive(Clone, Debug)]
pub struct View {
    /// Width and height in pixels.
    pub size: (usize, usize),
    /// Focal length as on a film 36 by 24 mm, if the picture tells it.
    pub focal_35: Option<f64>,
    /// Sheets seen.
    pub sheets: Vec<SeenSheet>,
}

/// A distance taped between the crosses of two sheets.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Tape {
    /// One sheet, from 0.
    pub from: usize,
    /// The other.
    pub to: usize,
    /// In mm.
    pub mm: f64,
}

/// A tape held against the pictures.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Held {
    /// As taped.
    pub tape: Tape,
    /// As the pictures tell without any tape, in mm.
    pub found: f64,
    /// Standard deviation of the difference, in mm: what pictures, print and reading leave open.
    pub spread: f64,
}

/// Lengths of the check lines as printed, in mm, if measured.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct CheckLines {
    /// Of the line that should be [`sheet::WIDTH`].
    pub across: Option<f64>,
    /// Of the line that should be [`sheet::HEIGHT`].
    pub up: Option<f64>,
}

/// Cameras and sheets in their places; the floor's frame is that of the first sheet.
pub struct Placed {
    /// A camera for each view.
    pub cameras: Vec<Camera>,
    /// Numbers: cameras, scale across and up, sheets but the first (x, y, turn), heights of each sheet.
    pub numbers: Vec<f64>,
    /// Their covariance, residuals as large as they turned out.
    pub covariance: DMatrix<f64>,
    /// Sheets seen, the first of them the frame.
    pub sheets: Vec<usize>,
    /// Root mean square of what is left at the crossings, in pixels.
    pub left_over: f64,
    /// Focal length found by the one expected, less one, of the view where it differs most; told by the
    /// picture or not.
    pub focal_off: f64,
    /// Each tape between sheets that are seen, held against what is found without any tape.
    pub held: Vec<Held>,
    /// Crossings left out because they do not fit.
    pub left_out: usize,
}

struct Seen {
    view: usize,
    sheet: usize,
    at: Point,
    pixel: Pixel,
}

struct Problem<'a> {
    views: &'a [View],
    sheets: Vec<usize>,
    tapes: Vec<Tape>,
    lines: CheckLines,
    seen: Vec<Seen>,
}

impl Problem<'_> {
    fn focal(&self, view: usize) -> (f64, f64) {
        let (w, h) = self.views[view].size;
        // Makers tell what has the same diagonal as on film.
        let diagonal = libm::hypot(w as f64, h as f64) / libm::hypot(36.0, 24.0);
        match self.views[view].focal_35 {
            Some(mm) => (mm * diagonal, FOCAL_TOLD),
            None => (26.0 * diagonal, FOCAL_GUESSED),
        }
    }

    fn centre(&self, view: usize) -> Pixel {
        let (w, h) = self.views[view].size;
        Pixel::new((w as f64 - 1.0) / 2.0, (h as f64 - 1.0) / 2.0)
    }

    const fn scales(&self) -> usize {
        NUMBERS * self.views.len()
    }

    fn pose(&self, numbers: &[f64], sheet: usize) -> [f64; 3] {
        match self.index(sheet) {
            0 => [0.0; 3],
            n => {
                let i = self.scales() + 2 + 3 * (n - 1);
                [numbers[i], numbers[i + 1], numbers[i + 2]]
            }
        }
    }

    fn index(&self, sheet: usize) -> usize {
        self.sheets.iter().position(|s| *s == sheet).unwrap_or(0)
    }

    fn heights(&self, sheet: usize) -> usize {
        self.scales() + 2 + 3 * (self.sheets.len() - 1) + 3 * self.index(sheet)
    }

    fn printed(&self) -> [f64; 2] {
        [
            self.lines.across.map_or(1.0, |mm| mm / sheet::WIDTH),
            self.lines.up.map_or(1.0, |mm| mm / sheet::HEIGHT),
        ]
    }

    /// A place of a sheet on the floor, and how high it stands.
    fn on_floor(&self, numbers: &[f64], sheet: usize, at: Point) -> (Point, f64) {
        let [x, y, turn] = self.pose(numbers, sheet);
        let printed = self.printed();
        let s = self.scales();
        let (px, py) =
            (at.x * printed[0] * (1.0 + numbers[s]), at.y * printed[1] * (1.0 + numbers[s + 1]));
        let (sin, cos) = (libm::sin(turn), libm::cos(turn));
        let b = &numbers[self.heights(sheet)..];
        let (u, v) = (at.x / (sheet::WIDTH / 2.0), at.y / (sheet::HEIGHT / 2.0));
        let z = b[0] * u + b[1] * v + b[2] * u * v;
        (Point::new(x + px * cos - py * sin, y + px * sin + py * cos), z)
    }

    fn taped(&self, numbers: &[f64], tape: &Tape) -> f64 {
        let end = |sheet| self.on_floor(numbers, sheet, CROSS).0;
        (end(tape.from) - end(tape.to)).length()
    }

    /// A tape against what was found without it.
    fn held(&self, without: &Placed, tape: &Tape) -> Held {
        let found = self.taped(&without.numbers, tape);
        let slope: Vec<f64> = (0..without.numbers.len())
            .map(|i| {
                let step = 0.01 * without.covariance[(i, i)].sqrt().max(1e-9);
                let mut moved = without.numbers.clone();
                moved[i] += step;
                (self.taped(&moved, tape) - found) / step
            })
            .collect();
        let slope = nalgebra::DVector::from_vec(slope);
        let open = (slope.transpose() * &without.covariance * &slope)[(0, 0)].max(0.0);
        Held { tape: *tape, found, spread: (open + TAPE * TAPE).sqrt() }
    }

    /// All residuals in standard deviations; those of crossings by their weights.
    fn residuals(&self, numbers: &[f64], weights: &[f64]) -> Vec<f64> {
        let cameras: Vec<Camera> = (0..self.views.len())
            .map(|v| Camera::from_numbers(&numbers[NUMBERS * v..NUMBERS * (v + 1)]))
            .collect();
        let mut out = Vec::with_capacity(2 * self.seen.len() + 8 * cameras.len() + 32);
        for (seen, weight) in self.seen.iter().zip(weights) {
            let (at, z) = self.on_floor(numbers, seen.sheet, seen.at);
            let pixel = cameras[seen.view].pixel(at, z);
            out.push((pixel.x - seen.pixel.x) / CROSSING * weight);
            out.push((pixel.y - seen.pixel.y) / CROSSING * weight);
        }
        for (view, camera) in cameras.iter().enumerate() {
            let ((focal, share), centre) = (self.focal(view), self.centre(view));
            let width = self.views[view].size.0.max(self.views[view].size.1) as f64;
            out.push((camera.focal / focal - 1.0) / share);
            out.push((camera.centre.x - centre.x) / (CENTRE * width));
            out.push((camera.centre.y - centre.y) / (CENTRE * width));
            out.push(camera.bend[0] / BEND[0]);
            out.push(camera.bend[1] / BEND[1]);
        }
        let s = self.scales();
        for (i, line) in [self.lines.across, self.lines.up].into_iter().enumerate() {
            out.push(numbers[s + i] / if line.is_some() { SCALE[0] } else { SCALE[1] });
        }
        let first = self.heights(self.sheets[0]);
        out.extend(numbers[first..first + 3 * self.sheets.len()].iter().map(|b| b / HEIGHT));
        out.extend(self.tapes.iter().map(|t| (self.taped(numbers, t) - t.mm) / TAPE));
        out
    }

    fn scale(&self) -> Vec<f64> {
        let mut out = Vec::new();
        for view in 0..self.views.len() {
            let (focal, _) = self.focal(view);
            out.extend([0.1 * focal, 100.0, 100.0, 0.1, 0.05, 0.1, 0.1, 0.1, 100.0, 100.0, 100.0]);
        }
        out.extend([0.003, 0.003]);
        for _ in 1..self.sheets.len() {
            out.extend([100.0, 100.0, 0.1]);
        }
        out.extend(vec![1.0; 3 * self.sheets.len()]);
        out
    }

    /// How far each crossing is off, in pixels.
    fn off(&self, numbers: &[f64]) -> Vec<f64> {
        let ones = vec![1.0; self.seen.len()];
        let all = self.residuals(numbers, &ones);
        all.chunks_exact(2)
            .take(self.seen.len())
            .map(|c| CROSSING * libm::hypot(c[0], c[1]))
            .collect()
    }
}

/// A camera over a flat view of a sheet: turn and shift.
///
/// Source: the columns of a plane's homography are two directions and the shift, up to one factor.
fn stand(view: FlatView) -> Option<(Matrix3<f64>, Vector3<f64>)> {
    let mut h = view.0 / view.0.column(0).norm();
    if h[(2, 2)] < 0.0 {
        h = -h;
    }
    let x = h.column(0).into_owned();
    let y = (h.column(1) - x * x.dot(&h.column(1))).normalize();
    let z = x.cross(&y);
    let turn = Matrix3::from_columns(&[x, y, z]);
    // Seen from above, the floor's up comes towards the camera.
    (turn.iter().all(|v| v.is_finite()) && turn[(2, 2)] < 0.0)
        .then(|| (turn, h.column(2).into_owned()))
}

/// Where everything stands; `None` if no sheet is seen, or a picture shares none with the others. First without
/// the tapes, so that each can be held against what the pictures tell; then with them.
pub fn place(views: &[View], tapes: &[Tape], lines: CheckLines) -> Option<Placed> {
    let mut problem =
        Problem { views, sheets: Vec::new(), tapes: Vec::new(), lines, seen: Vec::new() };
    let start = first_guess(&mut problem)?;
    let without = settled(&problem, start)?;
    let has = |sheet| problem.sheets.contains(&sheet);
    let tapes: Vec<Tape> = tapes.iter().copied().filter(|t| has(t.from) && has(t.to)).collect();
    if tapes.is_empty() {
        return Some(without);
    }
    let held = tapes.iter().map(|t| problem.held(&without, t)).collect();
    problem.tapes = tapes;
    Some(Placed { held, ..settled(&problem, without.numbers)? })
}

fn settled(problem: &Problem, mut numbers: Vec<f64>) -> Option<Placed> {
    let scale = problem.scale();
    let mut weights = vec![1.0; problem.seen.len()];
    // Three times with less weight for what does not fit, then without it, then as it is.
    for round in 0..5 {
        let solved = solve(numbers, &scale, 40, &|n| problem.residuals(n, &weights));
        numbers = solved.x;
        let off = problem.off(&numbers);
        let usual = median(&off).max(0.05);
        let small = |o: &f64| if *o > (8.0 * usual).max(0.8) { 0.0 } else { 1.0 };
        weights = match round {
            0..3 => off
                .iter()
                .map(|o| 1.0 / (1.0 + (o / (3.0 * usual)) * (o / (3.0 * usual))).sqrt())
                .collect(),
            _ => off.iter().map(small).collect(),
        };
    }
    finish(problem, numbers, &scale, &weights)
}

fn finish(problem: &Problem, numbers: Vec<f64>, scale: &[f64], weights: &[f64]) -> Option<Placed> {
    let solved = solve(numbers, scale, 40, &|n| problem.residuals(n, weights));
    let numbers = solved.x;
    let off = problem.off(&numbers);
    let kept: Vec<f64> =
        off.iter().zip(weights).filter(|(_, w)| **w > 0.0).map(|(o, _)| *o).collect();
    if kept.len() < 8 || numbers.iter().any(|n| !n.is_finite()) {
        return None;
    }
    let squares = kept.iter().map(|o| o * o).sum::<f64>() / kept.len() as f64;
    let left_over = (squares / 2.0).sqrt();
    let grown = (left_over / CROSSING).max(1.0);
    let views = problem.views.len();
    let cameras: Vec<Camera> = (0..views)
        .map(|v| Camera::from_numbers(&numbers[NUMBERS * v..NUMBERS * (v + 1)]))
        .collect();
    let focal = |v: usize| cameras[v].focal / problem.focal(v).0 - 1.0;
    let focal_off = (0..views).map(focal).max_by(|a, b| a.abs().total_cmp(&b.abs())).unwrap_or(0.0);
    Some(Placed {
        held: Vec::new(),
        covariance: solved.covariance * (grown * grown),
        sheets: problem.sheets.clone(),
        left_out: off.len() - kept.len(),
        cameras,
        numbers,
        left_over,
        focal_off,
    })
}

impl Placed {
    /// Place and turn of a sheet on the floor.
    pub fn sheet(&self, number: usize) -> Option<[f64; 3]> {
        let n = self.sheets.iter().position(|s| *s == number)?;
        let i = NUMBERS * self.cameras.len() + 2 + 3 * n.saturating_sub(1);
        Some(if n == 0 {
            [0.0; 3]
        } else {
            [self.numbers[i], self.numbers[i + 1], self.numbers[i + 2]]
        })
    }
}

/// The middle of a list; nought of none.
pub fn median(values: &[f64]) -> f64 {
    let mut sorted = values.to_vec();
    sorted.sort_by(f64::total_cmp);
    sorted.get(sorted.len() / 2).copied().unwrap_or(0.0)
}

/// Numbers to start from, sheet by sheet and picture by picture; fills in sheets and crossings.
fn first_guess(problem: &mut Problem) -> Option<Vec<f64>> {
    let mut cameras: Vec<Option<Camera>> = vec![None; problem.views.len()];
    let mut numbers: Vec<[f64; NUMBERS]> = vec![[0.0; NUMBERS]; problem.views.len()];
    let mut poses: Vec<(usize, [f64; 3])> = Vec::new();
    let first = problem.views.iter().flat_map(|v| &v.sheets).max_by_key(|s| s.crossings.len())?;
    poses.push((first.sheet, [0.0; 3]));
    loop {
        let mut has_moved = false;
        for view in 0..problem.views.len() {
            if cameras[view].is_none()
                && let Some(n) = stand_over(problem, view, &poses)
            {
                numbers[view] = n;
                cameras[view] = Some(Camera::from_numbers(&n));
                has_moved = true;
            }
            let Some(camera) = cameras[view] else { continue };
            for seen in &problem.views[view].sheets {
                if poses.iter().all(|(s, _)| *s != seen.sheet)
                    && let Some(pose) = lie_under(&camera, seen)
                {
                    poses.push((seen.sheet, pose));
                    has_moved = true;
                }
            }
        }
        if !has_moved {
            break;
        }
    }
    if cameras.iter().any(Option::is_none) {
        return None;
    }
    problem.sheets = poses.iter().map(|(s, _)| *s).collect();
    for (view, of) in problem.views.iter().enumerate() {
        for seen in of.sheets.iter().filter(|s| problem.sheets.contains(&s.sheet)) {
            let crossings = seen.crossings.iter();
            problem.seen.extend(crossings.map(|&(at, pixel)| Seen {
                view,
                sheet: seen.sheet,
                at,
                pixel,
            }));
        }
    }
    let mut out: Vec<f64> = numbers.into_iter().flatten().collect();
    out.extend([0.0, 0.0]);
    out.extend(poses.iter().skip(1).flat_map(|(_, p)| *p));
    out.extend(vec![0.0; 3 * poses.len()]);
    Some(out)
}

/// Numbers of a camera over the sheets that have their place already.
fn stand_over(
    problem: &Problem,
    view: usize,
    poses: &[(usize, [f64; 3])],
) -> Option<[f64; NUMBERS]> {
    let ((focal, _), centre) = (problem.focal(view), problem.centre(view));
    let mut pairs = Vec::new();
    for seen in &problem.views[view].sheets {
        let Some((_, pose)) = poses.iter().find(|(s, _)| *s == seen.sheet) else { continue };
        let (sin, cos) = (libm::sin(pose[2]), libm::cos(pose[2]));
        for (at, pixel) in &seen.crossings {
            let on_floor =
                Point::new(pose[0] + at.x * cos - at.y * sin, pose[1] + at.x * sin + at.y * cos);
            let ray = Pixel::new((pixel.x - centre.x) / focal, (pixel.y - centre.y) / focal);
            pairs.push((on_floor, ray, 1.0));
        }
    }
    let (turn, shift) = stand(FlatView::through(&pairs)?)?;
    let a = camera::axis(&turn);
    Some([focal, centre.x, centre.y, 0.0, 0.0, a[0], a[1], a[2], shift.x, shift.y, shift.z])
}

/// Place and turn of a sheet that a camera sees.
fn lie_under(camera: &Camera, seen: &SeenSheet) -> Option<[f64; 3]> {
    let pairs: Vec<(Point, Point)> =
        seen.crossings.iter().filter_map(|(at, p)| Some((*at, camera.place(*p, 0.0)?))).collect();
    let rigid = crate::rigid::Rigid::onto(&pairs)?;
    Some([rigid.shift.x, rigid.shift.y, rigid.turn])
}
