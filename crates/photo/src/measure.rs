//! From pictures to an outline in millimetres, step by step; and the reasons not to give one.

use crate::crossings::find_sheets;
use crate::ground::Ground;
use crate::joined::{self, Fitted};
use crate::marks::find_marks;
use crate::picture::{Picture, Pixel};
use crate::placing::{CheckLines, Held, Placed, Tape, View, place};
use crate::propose::propose;
use crate::ring::{resample, smooth_round};
use crate::runs::{SCATTER, divide, scatter};
use crate::snap::{STEP, Snapped, snap};
use crate::tolerance::{self, within};
use geometry::{Corner, Point};

/// Sheets must lie at least this far from the part, in mm: else their edge may be taken for the part's.
pub const CLEAR: f64 = 25.0;
/// Fewest sheets.
const SHEETS: usize = 3;
/// Most that may be left over at the crossings, in pixels.
const LEFT_OVER: f64 = 0.6;
/// Most that the focal length may differ from what the picture tells.
const FOCAL: f64 = 0.10;
/// Most tilt, in degrees.
const TILT: f64 = 35.0;
/// Colours of part and floor must be this many standard deviations apart, at all but a tenth of the outline.
const CONTRAST: f64 = 2.0;
/// Most standard deviations that a tape may be from what the pictures tell without it.
const TAPE: f64 = 3.0;
/// A stretch this sharp is an edge; of the whole at least [`EDGE_SHARE`] must be.
const EDGE: f64 = 0.3;
/// See [`EDGE`].
const EDGE_SHARE: f64 = 0.9;

/// Nowhere may the edge be lost for longer than this, in mm: there the outline would be a guess.
const GAP: f64 = 30.0;
/// A fitted outline strays no further than this and twice the scatter from what was seen, in mm: the path is
/// smoothed over sharp corners by some millimetres.
const STRAY: f64 = 5.0;

/// A picture and what it tells of itself.
pub struct Photograph {
    /// Upright.
    pub picture: Picture,
    /// Focal length as on a film of 36 by 24 mm, if it tells.
    pub focal_35: Option<f64>,
}

/// What was measured by hand.
#[derive(Clone, Debug, Default)]
pub struct Measured {
    /// Between crosses of sheets.
    pub tapes: Vec<Tape>,
    /// On a printed sheet.
    pub lines: CheckLines,
    /// Of the part, in mm: its upper face lies that high.
    pub thickness: f64,
}

/// A step of the work, for whoever waits.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Stage {
    /// Looking for sheets in a picture, from 0.
    Sheets(usize),
    /// Working out where cameras and sheets stand.
    Places,
    /// Looking for the part.
    Part,
    /// Moving an outline onto the edge, from 0.
    Edge(usize),
}

/// Why no outline is given.
#[derive(Clone, Debug, PartialEq)]
pub enum Refusal {
    /// The one who waits has stopped it.
    Stopped,
    /// Too few sheets found: which ones were.
    FewSheets(Vec<usize>),
    /// A picture shares no sheet with the others, from 0.
    Apart,
    /// What was seen does not fit together: so many pixels are left over.
    DoesNotFit(f64),
    /// The focal length found is so much larger or smaller than the picture tells, as a share.
    Focal(f64),
    /// So many degrees from straight down.
    Tilt(f64),
    /// A tape goes to a sheet that is not seen.
    NoSheet(usize),
    /// Tapes do not fit the pictures: all of them, the one that fits worst first.
    Tapes(Vec<Held>),
    /// No part stands out from the floor.
    NoPart,
    /// The outline leaves the pictures.
    OutOfPicture,
    /// A sheet lies this near to the outline, in mm.
    SheetNear(f64),
    /// Part and floor look too much alike along this share of the outline (0 to 1).
    Contrast(f64),
    /// An edge cannot be followed along this share of the outline (0 to 1).
    NoEdge(f64),
    /// The edge was followed but is too rough to be told as lines and arcs.
    Rough,
}

/// Pictures with everything in its place.
pub struct Looked {
    /// Sheets seen in each picture, with where their crossings are.
    pub views: Vec<View>,
    /// Where everything stands.
    pub placed: Placed,
    /// Of the part.
    pub thickness: f64,
}

/// A closed line of the part: its outer edge or an opening.
pub struct Loop {
    /// Places and bows, counter-clockwise seen from the face.
    pub corners: Vec<Corner>,
    /// Each stretch from a corner to the next: true within so many mm, with 95 in 100 chances.
    pub within: Vec<f64>,
    /// The edge as seen, point by point.
    pub edge: Vec<Point>,
    /// Lines and arcs.
    pub fitted: Vec<Fitted>,
}

/// An outline.
pub struct Outlined {
    /// The outer edge first, then openings.
    pub loops: Vec<Loop>,
    /// 95 in 100 parts of all edges are true within this, in mm, with 95 in 100 chances.
    pub within: f64,
    /// Degrees from straight down, the most of all pictures.
    pub tilt: f64,
}

/// Who waits: told of each stage, answers whether to go on.
pub type Watch<'a> = &'a dyn Fn(Stage) -> bool;

/// Finds the sheets and works out where everything stands.
///
/// # Errors
/// [`Refusal`]: too few sheets, or what was seen and measured does not fit together.
pub fn look(
    photographs: &[Photograph],
    measured: &Measured,
    watch: Watch,
) -> Result<Looked, Refusal> {
    let mut views = Vec::new();
    for (i, photograph) in photographs.iter().enumerate() {
        go_on(watch, Stage::Sheets(i))?;
        let grey = photograph.picture.grey();
        views.push(View {
            size: (grey.width, grey.height),
            focal_35: photograph.focal_35.filter(|f| (8.0..300.0).contains(f)),
            sheets: find_sheets(&grey, &find_marks(&grey)),
        });
    }
    let mut seen: Vec<usize> = views.iter().flat_map(|v| &v.sheets).map(|s| s.sheet).collect();
    seen.sort_unstable();
    seen.dedup();
    if seen.len() < SHEETS {
        return Err(Refusal::FewSheets(seen));
    }
    go_on(watch, Stage::Places)?;
    let missing = measured.tapes.iter().flat_map(|t| [t.from, t.to]).find(|s| !seen.contains(s));
    if let Some(sheet) = missing {
        return Err(Refusal::NoSheet(sheet));
    }
    let placed = place(&views, &measured.tapes, measured.lines).ok_or(Refusal::Apart)?;
    check_tapes(&placed)?;
    check_places(&views, &placed)?;
    Ok(Looked { views, placed, thickness: measured.thickness })
}

/// Tapes come first: a wrong one bends everything that is found with it.
fn check_tapes(placed: &Placed) -> Result<(), Refusal> {
    let off = |h: &Held| (h.tape.mm - h.found).abs() / h.spread;
    let mut held = placed.held.clone();
    held.sort_by(|a, b| off(b).total_cmp(&off(a)));
    let is_off = held.first().is_some_and(|h| off(h) > TAPE);
    if is_off { Err(Refusal::Tapes(held)) } else { Ok(()) }
}

fn check_places(views: &[View], placed: &Placed) -> Result<(), Refusal> {
    // Pixels of a small picture are worth more.
    let size = views.iter().map(|v| v.size.0.max(v.size.1)).min().unwrap_or(0) as f64;
    if placed.left_over > LEFT_OVER * (size / 4000.0).clamp(0.5, 1.5) {
        return Err(Refusal::DoesNotFit(placed.left_over));
    }
    if views.iter().any(|v| v.focal_35.is_some()) && placed.focal_off.abs() > FOCAL {
        return Err(Refusal::Focal(placed.focal_off));
    }
    let tilt = tilt(placed);
    if tilt > TILT {
        return Err(Refusal::Tilt(tilt));
    }
    Ok(())
}

fn tilt(placed: &Placed) -> f64 {
    placed.cameras.iter().map(crate::camera::Camera::tilt).fold(0.0, f64::max)
}

fn go_on(watch: Watch, stage: Stage) -> Result<(), Refusal> {
    if watch(stage) { Ok(()) } else { Err(Refusal::Stopped) }
}

impl Looked {
    /// The place on the part's upper face that is seen at a pixel of a view.
    pub fn place(&self, view: usize, pixel: Pixel) -> Option<Point> {
        self.placed.cameras.get(view)?.place(pixel, self.thickness)
    }

    /// The pixel of a place of the upper face.
    pub fn pixel(&self, view: usize, at: Point) -> Pixel {
        self.placed.cameras[view].pixel(at, self.thickness)
    }

    /// First outlines, found by colour: the outer one, then openings.
    ///
    /// # Errors
    /// [`Refusal::NoPart`]; [`Refusal::Stopped`].
    pub fn propose(
        &self,
        photographs: &[Photograph],
        inside: Option<Point>,
        watch: Watch,
    ) -> Result<Vec<Vec<Point>>, Refusal> {
        go_on(watch, Stage::Part)?;
        let pictures: Vec<&Picture> = photographs.iter().map(|p| &p.picture).collect();
        let ground = Ground::new(&pictures, &self.placed, self.thickness);
        let found = propose(&ground, inside);
        let Some(outer) = found.first() else { return Err(Refusal::NoPart) };
        // Nothing is looked for nearer to a sheet: an outline that runs along there ends at the sheet.
        let near = outer.iter().map(|p| ground.off_sheets(*p)).fold(f64::INFINITY, f64::min);
        if near < CLEAR { Err(Refusal::SheetNear(near.max(0.0))) } else { Ok(found) }
    }

    /// The true outline near drawn ones: the outer one first, then openings.
    ///
    /// # Errors
    /// [`Refusal`]: an edge that cannot be seen or followed, or a sheet too near to it.
    pub fn outline(
        &self,
        photographs: &[Photograph],
        drawn: &[Vec<Point>],
        watch: Watch,
    ) -> Result<Outlined, Refusal> {
        let pictures: Vec<&Picture> = photographs.iter().map(|p| &p.picture).collect();
        let ground = Ground::new(&pictures, &self.placed, self.thickness);
        let mut snapped = Vec::new();
        for (i, drawn) in drawn.iter().enumerate() {
            go_on(watch, Stage::Edge(i))?;
            snapped.push(snap(&ground, drawn, i > 0).ok_or(Refusal::OutOfPicture)?);
        }
        check_edges(&ground, &snapped)?;
        let mut fits = Vec::new();
        for (i, snapped) in snapped.iter_mut().enumerate() {
            fits.push(fitted_sharply(&ground, snapped, i > 0)?);
        }
        let edges: Vec<Vec<Point>> = snapped.iter().map(|s| s.points.clone()).collect();
        let open = tolerance::open(&ground, &self.placed, &edges);
        let mut all: Vec<f64> = Vec::new();
        let mut loops = Vec::new();
        for ((snapped, fitted), open) in snapped.into_iter().zip(fits).zip(&open) {
            let each = place_by_place(&ground, &snapped, &fitted, &open.standing);
            let n = snapped.points.len();
            let of = |f: &Fitted| {
                let mut own: Vec<f64> = (f.points.from..f.points.to).map(|k| each[k % n]).collect();
                own.sort_by(f64::total_cmp);
                own.get(own.len() * 95 / 100).copied().unwrap_or(0.0)
            };
            loops.push(Loop {
                corners: joined::corners(&fitted),
                within: fitted.iter().map(of).collect(),
                edge: snapped.points,
                fitted,
            });
            all.extend(each);
        }
        all.sort_by(f64::total_cmp);
        let within = all.get(all.len() * 95 / 100).copied().unwrap_or(0.0);
        Ok(Outlined { loops, within, tilt: tilt(&self.placed) })
    }
}

/// Lines and arcs of an edge. Where a corner seems cut off, the edge is followed once more from the sharp corner,
/// and that is taken if the edge bears it out.
fn fitted_sharply(
    ground: &Ground,
    snapped: &mut Snapped,
    is_opening: bool,
) -> Result<Vec<Fitted>, Refusal> {
    let fitted = lines_and_arcs(&snapped.points).ok_or(Refusal::Rough)?;
    let Some(sharp) = joined::sharpened(&fitted) else { return Ok(fitted) };
    let again = snap(ground, &joined::dense(&sharp, 1.5), is_opening);
    if let Some(again) = again
        && let Some(fewer) = lines_and_arcs(&again.points).filter(|f| f.len() < fitted.len())
    {
        *snapped = again;
        return Ok(fewer);
    }
    Ok(fitted)
}

/// Lines and arcs that stay with the points: where a rough edge was divided too boldly, once more as if it were
/// less rough.
fn lines_and_arcs(points: &[Point]) -> Option<Vec<Fitted>> {
    let mut scatter = scatter(points);
    while scatter > 0.5 * SCATTER {
        let fitted = joined::fit(points, &divide(points, scatter), scatter);
        let strays = |p: &Point| {
            points.iter().map(|q| (*q - *p).length()).fold(f64::INFINITY, f64::min)
                > STRAY + 2.0 * scatter
        };
        if !fitted.is_empty() && !joined::dense(&fitted, 3.0).iter().any(strays) {
            return Some(fitted);
        }
        scatter *= 0.7;
    }
    None
}

/// Within how many mm each point of an edge is true.
fn place_by_place(
    ground: &Ground,
    snapped: &Snapped,
    fitted: &[Fitted],
    standing: &[f64],
) -> Vec<f64> {
    let n = snapped.points.len();
    let mut scatter = vec![0.0; n];
    for f in fitted {
        for k in f.points.from..f.points.to {
            scatter[k % n] = f.left_over;
        }
    }
    (0..n)
        .map(|i| {
            let at = snapped.points[i];
            let pixel = ground.view(at).map_or(1.0, |v| ground.pixel_size(v, at));
            let weak = (EDGE / snapped.strength[i].max(0.05)).clamp(1.0, 4.0);
            within(standing[i], scatter[i] * weak, pixel)
        })
        .collect()
}

/// The longest run of places round a ring for which something holds.
fn longest(count: usize, holds: &dyn Fn(usize) -> bool) -> usize {
    let (mut run, mut most) = (0, 0);
    for i in 0..2 * count {
        run = if holds(i % count) { run + 1 } else { 0 };
        most = most.max(run);
    }
    most.min(count)
}

fn check_edges(ground: &Ground, snapped: &[Snapped]) -> Result<(), Refusal> {
    for s in snapped {
        let near = s.points.iter().filter_map(|p| Some(ground.to_sheets(ground.view(*p)?, *p)));
        let near = near.fold(f64::INFINITY, f64::min);
        if near < CLEAR {
            return Err(Refusal::SheetNear(near.max(0.0)));
        }
        let share = |is_bad: &dyn Fn(usize) -> bool| {
            (0..s.points.len()).filter(|i| is_bad(*i)).count() as f64 / s.points.len() as f64
        };
        let faint = share(&|i| s.contrast[i] < CONTRAST);
        if faint > 0.1 {
            return Err(Refusal::Contrast(faint));
        }
        let strength = smooth_round(&s.strength, 1, 2.0);
        let is_lost = |i: usize| strength[i] < EDGE || s.contrast[i] < CONTRAST || !s.seen[i];
        let lost = share(&is_lost);
        if lost > 1.0 - EDGE_SHARE || longest(s.points.len(), &is_lost) as f64 * STEP > GAP {
            return Err(Refusal::NoEdge(lost));
        }
    }
    Ok(())
}

/// An outline drawn as few corners, for dragging: those that lie more than `most` mm off the line without
/// them.
///
/// Source: Ramer 1972, Douglas and Peucker 1973 (from memory).
pub fn few_corners(points: &[Point], most: f64) -> Vec<Point> {
    let points = resample(points, STEP);
    let n = points.len();
    let far = (0..n).max_by(|a, b| {
        (points[*a] - points[0]).length().total_cmp(&(points[*b] - points[0]).length())
    });
    let Some(far) = far.filter(|f| *f > 0) else { return points };
    let mut keep = vec![false; n];
    keep[0] = true;
    keep[far] = true;
    let mut open = vec![(0, far), (far, n)];
    while let Some((a, b)) = open.pop() {
        let (p, q) = (points[a], points[b % n]);
        let along = (q - p).unit();
        let worst = (a + 1..b).max_by(|i, j| {
            along.cross(points[*i] - p).abs().total_cmp(&along.cross(points[*j] - p).abs())
        });
        if let Some(i) = worst.filter(|i| along.cross(points[*i] - p).abs() > most) {
            keep[i] = true;
            open.extend([(a, i), (i, b)]);
        }
    }
    (0..n).filter(|i| keep[*i]).map(|i| points[i]).collect()
}
