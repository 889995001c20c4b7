//! Boxed cushions of any outline: rectangle, tapered, T, L, round, ring, fitted.

use super::cover::grown_box;
use super::strips::{joined_at_corners, pieced, pieced_odd, strip};
use super::{Ask, Sewn, shape, welt};
use crate::fault::Fault;
use crate::message::message;
use crate::panel::PanelShape;
use crate::part::{Mark, Meaning, Motif, Part, Quantities, Stuff};
use crate::wanted::Welt;
use crate::working::{Formula, HUNDREDTH, Working, of};
use geometry::{Length, Outline, Path, Run, Vector, grow};

/// Measures of a boxed cushion.
#[derive(Clone, Debug)]
pub struct Boxed {
    /// Finished outline from above; front at the bottom.
    pub finished: Outline,
    /// Side with the zip.
    pub zip: Option<usize>,
    /// Length of the zip strip where the outline has no corners.
    pub zip_length: Option<Length>,
    /// Welt.
    pub welt: Welt,
}

impl Boxed {
    /// A cushion by its outline from above.
    ///
    /// # Errors
    /// An outline that is none, or no foam to give the thickness.
    pub fn of(
        ask: &Ask,
        shape: &PanelShape,
        zip: Option<usize>,
        zip_length: Option<Length>,
        welt: Welt,
    ) -> Result<Self, Vec<Fault>> {
        if ask.build.foam <= Length::ZERO {
            return Err(vec![ask.no_foam("a-boxed-cushion")]);
        }
        let outer = shape::outline(shape, &[], &ask.at, &ask.build.style)?;
        let mut finished = Outline::solid(outer);
        if let PanelShape::Ring { outer, inner } = shape {
            let middle = (outer.mm() - inner.mm()) / 2.0;
            finished.holes.push(Path::circle(*inner).moved(Vector::new(middle, middle)));
        }
        Ok(Self { finished, zip, zip_length, welt })
    }
}

/// A boxed cushion: two faces, boxing, zip strip in two halves, welt along chosen edges.
///
/// ```text
/// face   = finished - snug + 2 n          boxing = (perimeter - zip run + 2 lap + 2 n) x (T + 2 n)
/// zip    = 2 x (zip run + 2 n) x (T/2 + n + turn),   zip run = zip side + 2 return
/// foam   = finished + 2 oversize
/// ```
///
/// A ring has a second boxing round its hole, `pi d + 2 n` long. The boxing of a T or L runs the true
/// perimeter, which is that of its box.
///
/// Example: 24 x 24 x 4, seams 1/2: faces 25 x 25, boxing 5 wide; with the zip on one side only
/// the boxing is 3 x 24 + 1 = 73.
///
/// Source: home-furnishing texts (faces = size + 2 seams, boxing = thickness + 2 seams, three
/// closed sides + 1 in); zip strip width half the cut boxing + 3/4 in, a sewing reference. That a
/// straight strip sews to any plan curve without fullness: geometry.
pub fn boxed(ask: &Ask, cushion: &Boxed, thickness: Length) -> Sewn {
    let a = ask.build.allowances;
    let finished = &cushion.finished.outer;
    let even = |path: &Path, d: Length| vec![d.mm(); path.nodes.len()];
    let snug = |path: &Path| grow(path, &even(path, -a.snug.share(2)));
    let seam_line = snug(finished);
    let face = grow(&seam_line, &even(&seam_line, a.seam));
    // At a hole the seam allowance lies inside it.
    let holes: Vec<Path> = cushion.finished.holes.clone();
    let cut_holes = holes.iter().map(|hole| grow(hole, &even(hole, -a.seam))).collect();
    let outline = Outline { outer: face, holes: cut_holes };
    let mut top = Part::new(message("part-top-panel"), Stuff::Cloth, ask.cloth, outline).seen();
    top.marks.push(Mark::closed(Meaning::Stitch, seam_line.clone()));
    top.marks.extend(holes.iter().map(|hole| Mark::closed(Meaning::Stitch, hole.clone())));
    top.marks.extend(notches(&seam_line, a.seam));
    let size = |path: &Path| Outline::solid(path.clone()).size();
    let from = size(finished);
    if a.snug > Length::ZERO {
        top.explain(Working::of(message("work-width-along-the-seam"), of(from.0) - of(a.snug)));
        top.explain(Working::of(message("work-depth-along-the-seam"), of(from.1) - of(a.snug)));
    }
    let [wide, deep] = grown_box(
        [message("work-cut-width"), message("work-cut-depth")],
        &seam_line,
        &top.outline.outer,
        &[a.seam],
    );
    top = top.explained([wide.width(), deep.height()]);
    let mut bottom =
        Part { name: message("part-bottom-panel"), motif: Motif::Free, seen: false, ..top.clone() };
    bottom.material = ask.under.unwrap_or(ask.cloth).into();

    let sides = side_lengths(&seam_line);
    let perimeter = Length::from_mm(seam_line.perimeter());
    let round = sides.len() == 1;
    let zip_side = cushion.zip.map(|side| {
        if round {
            cushion.zip_length.unwrap_or(perimeter.share(2)).min(perimeter)
        } else {
            Length::from_mm(sides.get(side).copied().unwrap_or(0.0))
        }
    });
    let zip_return = if round { Length::ZERO } else { a.zip_return };
    let zip_run = zip_side.map(|side| (side + zip_return * 2).min(perimeter));
    let mut parts = vec![top, bottom];
    let boxing_height = thickness + a.seam * 2;
    let around = of(perimeter.round_even(HUNDREDTH));
    let open = match zip_run {
        Some(run) => (around - of(run.round_even(HUNDREDTH))).and_twice(&[a.boxing_lap]),
        None => around,
    };
    let length =
        Working::of(message("work-boxing-length"), open + 2 * of(a.seam)).up_to(a.cut_step).width();
    let boxing_run = length.result;
    let sides_ask = ask.in_cloth(ask.others.boxing);
    let boxing = strip(message("part-boxing"), sides_ask.cloth, boxing_run, boxing_height)
        .explained([
            length,
            Working::grown(message("work-boxing-width"), thickness, &[a.seam]).height(),
        ]);
    let at_corners =
        cushion.zip.filter(|z| !round && *z > 0 && boxing_run > sides_ask.usable).and_then(|z| {
            let sum = |from: usize, to: usize| Length::from_mm(sides[from..to].iter().sum());
            let front = Length::from_mm(sides[0]);
            // Each side goes on to lap the zip strip, which comes round the corner to meet it.
            let to_zip = |way: Length| way - zip_return + a.boxing_lap;
            let (right, left) = (to_zip(sum(1, z)), to_zip(sum(z + 1, sides.len())));
            joined_at_corners(&boxing, (front, right, left), sides_ask.usable, &ask.build)
        });
    let (pieces, mut joins) = match at_corners {
        Some(pieces) => (pieces, 2),
        None => pieced_odd(boxing, sides_ask.usable, &ask.build),
    };
    parts.extend(pieces);
    for hole in &holes {
        let across = Outline::solid(hole.clone()).size().0;
        let run = Working::of(
            message("work-boxing-of-the-hole"),
            Formula::Pi * of(across) + 2 * of(a.seam),
        );
        let run = run.up_to(a.cut_step).width();
        let inner =
            strip(message("part-boxing-of-the-hole"), sides_ask.cloth, run.result, boxing_height)
                .explained([
                    run,
                    Working::grown(message("work-boxing-width"), thickness, &[a.seam]).height(),
                ]);
        let (pieces, more) = pieced(inner, sides_ask.usable, &ask.build);
        parts.extend(pieces);
        joins += more + 1;
    }
    if let (Some(run), Some(side)) = (zip_run, zip_side) {
        parts.push(zip_half(ask, run, side, thickness));
    }
    let welt_runs = match cushion.welt {
        Welt::None => 0,
        Welt::One => 1,
        Welt::Both => 2,
    };
    let round_holes: Length = holes.iter().map(|hole| Length::from_mm(hole.perimeter())).sum();
    let mut runs = Vec::new();
    for _ in 0..welt_runs {
        runs.push(perimeter + a.welt_lap);
        runs.extend(holes.iter().map(|hole| Length::from_mm(hole.perimeter()) + a.welt_lap));
    }
    let (welt, welt_length) = welt::strips(ask, &runs);
    parts.extend(welt);
    if let Some(name) = ask.foam {
        let grown = grow(finished, &even(finished, a.foam_oversize));
        let [wide, deep] = grown_box(
            [message("work-foam-width"), message("work-foam-depth")],
            finished,
            &grown,
            &[a.foam_oversize],
        );
        let outline = Outline { outer: grown, holes: holes.clone() };
        let part = Part::new(message("part-foam"), Stuff::Foam, name, outline);
        parts.push(part.explained([wide.width(), deep.height()]));
    }
    // Both faces are sewn to the boxing, each welt is one more pass, and the strip's joins.
    let seam = (perimeter + round_holes) * (2 + welt_runs as i64)
        + boxing_height * joins as i64
        + zip_run.map_or(Length::ZERO, |run| run * 2);
    let side_area = (perimeter + round_holes).mm() * thickness.mm();
    let wrap = if ask.wrap { 2.0 * cushion.finished.area() + side_area } else { 0.0 };
    let quantities = Quantities {
        seam,
        welt: welt_length,
        welt_runs: runs.len(),
        zip: zip_run,
        wrap_mm2: wrap,
        fills: 1,
        ..Quantities::default()
    };
    (parts, quantities)
}

/// One half of a zip strip.
fn zip_half(ask: &Ask, run: Length, side: Length, thickness: Length) -> Part {
    let a = ask.build.allowances;
    let side = side.round_even(HUNDREDTH);
    let beyond =
        if run > side { (run - side).share(2).round_even(HUNDREDTH) } else { Length::ZERO };
    let length = of(side).and_twice(&[beyond]).and_twice(&[a.seam]);
    let length = Working::of(message("work-zip-strip-length"), length).up_to(a.cut_step).width();
    let width = zip_width(ask, thickness);
    let cloth = ask.in_cloth(ask.others.zip).cloth.to_string();
    let mut half = strip(message("part-zip-strip-half"), &cloth, length.result, width.result);
    half.count = 2;
    half.explained([length, width])
}

/// Half the thickness, a seam, and what is folded under beside the zip.
pub fn zip_width(ask: &Ask, thickness: Length) -> Working {
    let a = ask.build.allowances;
    let width = of(thickness) / 2 + of(a.seam) + of(a.zip_turn);
    Working::of(message("work-zip-strip-width"), width).up_to(a.cut_step).height()
}

/// Short marks from the stitch line outwards: at the middle of each straight side and at each corner,
/// matched by the same marks on the boxing.
fn notches(seam_line: &Path, seam: Length) -> Vec<Mark> {
    let long = seam.mm() * 0.9;
    let mut marks = Vec::new();
    for seg in seam_line.segs() {
        let (at, along) = seg.at(0.5);
        marks.push(Mark::open(Meaning::Notch, vec![at, at + along.unit().right() * long]));
    }
    marks
}

/// Length of each side of an outline, half of a rounded corner to either side.
fn side_lengths(path: &Path) -> Vec<f64> {
    let n = path
        .segs()
        .map(|s| match s.run {
            Run::Side(i) | Run::Corner(i) => i,
        })
        .max()
        .unwrap_or(0)
        + 1;
    let mut found = vec![0.0; n];
    for seg in path.segs() {
        match seg.run {
            Run::Side(i) => found[i] += seg.length(),
            Run::Corner(i) => {
                found[i] += seg.length() / 2.0;
                found[(i + n - 1) % n] += seg.length() / 2.0;
            }
        }
    }
    found
}
