//! Cushions with six flat faces that are not all rectangles: the wedge, and the cushion against a side
//! that leans. Every face is laid flat with its true lengths.

use super::cover::grown_box;
use super::strips::{pieced, rectangle};
use super::{Ask, Sewn, welt};
use crate::fault::Fault;
use crate::kind::{Lean, LeaningSide, Sloped, Wedge, Welt};
use crate::part::{Mark, Meaning, Motif, Part, Quantities, Stuff};
use crate::working::{Working, of};
use geometry::{Length, Outline, Path, Point, grow};

/// Left to right, front to back, up; millimetres.
type Place = [f64; 3];

/// Corners of a block: front left, front right, back right, back left; bottom, then top.
#[derive(Clone, Copy, Debug)]
struct Block {
    bottom: [Place; 4],
    top: [Place; 4],
}

impl Block {
    /// A face as seen from outside, counter-clockwise from its lower left.
    fn face(&self, side: usize) -> [Place; 4] {
        let next = (side + 1) % 4;
        [self.bottom[side], self.bottom[next], self.top[next], self.top[side]]
    }
}

/// A flat four-sided face with its true lengths, its first side along x.
fn flat(face: [Place; 4]) -> [Point; 4] {
    let less = |a: Place, b: Place| [a[0] - b[0], a[1] - b[1], a[2] - b[2]];
    let dot = |a: Place, b: Place| a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
    let times = |a: Place, k: f64| [a[0] * k, a[1] * k, a[2] * k];
    let unit = |a: Place| times(a, 1.0 / dot(a, a).sqrt());
    let u = unit(less(face[1], face[0]));
    let up = less(face[3], face[0]);
    let v = unit(less(up, times(u, dot(up, u))));
    face.map(|p| {
        let d = less(p, face[0]);
        Point::new(dot(d, u), dot(d, v))
    })
}

fn part(ask: &Ask, name: &str, points: &[Point], grown: &[f64]) -> Part {
    let seam_line = Path::straight(points);
    let cut = grow(&seam_line, grown);
    let alike = grown.iter().all(|g| *g == grown[0]);
    let by: Vec<Length> = grown[..usize::from(alike)].iter().map(|g| Length::from_mm(*g)).collect();
    let [wide, high] = grown_box(["cut width", "cut height"], &seam_line, &cut, &by);
    let mut part = Part::new(name, Stuff::Cloth, ask.cloth, Outline::solid(cut))
        .explained([wide.width(), high.height()]);
    part.marks.push(Mark::closed(Meaning::Stitch, seam_line));
    part
}

/// A straight strip longer than the cloth is wide is joined; a slanted one is left to the lay.
fn strip_pieced(ask: &Ask, part: Part) -> Vec<Part> {
    if !part.outline.outer.flatten().is_upright_rectangle() || part.size().0 <= ask.usable {
        return vec![part];
    }
    let mut pieces = pieced(part, ask.usable, &ask.build).0;
    pieces.iter_mut().for_each(|p| p.marks.clear());
    pieces
}

fn length(a: Point, b: Point) -> Length {
    Length::from_mm((b - a).length())
}

/// A wedge: bottom level, top along the slant `sqrt(D^2 + (back - front)^2)`, side boxing tapering from
/// one thickness to the other.
///
/// Source: right-angled triangles; geometry. One slanted cut of a block gives two wedges: a cushion
/// maker's page.
pub fn wedge(ask: &Ask, wedge: &Wedge) -> Result<Sewn, Vec<Fault>> {
    let (w, d) = (wedge.width.mm(), wedge.depth.mm());
    let (f, b) = (wedge.front.mm(), wedge.back.mm());
    let block = Block {
        bottom: [[0.0, 0.0, 0.0], [w, 0.0, 0.0], [w, d, 0.0], [0.0, d, 0.0]],
        top: [[0.0, 0.0, f], [w, 0.0, f], [w, d, b], [0.0, d, b]],
    };
    let thick = wedge.front.max(wedge.back);
    let thickness = ask.build.foam;
    if ask.foam.is_some() && thickness < thick {
        return Err(vec![Fault::new(
            "foam-too-thin",
            format!("{}.foam", ask.at),
            format!(
                "the wedge is {} at its thick end and its foam {}",
                ask.build.style.show(thick),
                ask.build.style.show(thickness)
            ),
            "choose a foam at least as thick as the thick end, or glue two sheets and enter them as one",
        )]);
    }
    let rise = of(wedge.back.max(wedge.front)) - of(wedge.back.min(wedge.front));
    let slant = (of(wedge.depth).squared() + rise.squared()).root();
    let workings = vec![Working::of("top, front to back along the slant", slant)];
    let (mut parts, quantities) = sewn(ask, &block, wedge.zip, wedge.welt, workings);
    let two_from_one = wedge.front + wedge.back <= thickness;
    add_foam(ask, &mut parts, (wedge.width, wedge.depth), |foam| {
        foam.name = "foam, cut on the slant".into();
        foam.from_one = if two_from_one { 2 } else { 1 };
    });
    Ok((parts, quantities))
}

/// A cushion whose back, left or right lies against a side leaning by an angle: the bottom is smaller
/// by `T tan(angle)` and the leaning boxing `T / cos(angle)` high.
///
/// Source: right-angled triangles; 90 mm at 12 degrees: 19.1 mm shorter, 92.0 mm high.
pub fn sloped(ask: &Ask, sloped: &Sloped) -> Result<Sewn, Vec<Fault>> {
    let thickness = ask.build.foam;
    let fault = |key: &str, what: String, remedy: &str| {
        vec![Fault::new("lean-too-great", format!("{}.{key}", ask.at), what, remedy)]
    };
    if thickness <= Length::ZERO {
        return Err(no_foam(ask, "a sloped cushion"));
    }
    let across = matches!(sloped.side, LeaningSide::Back);
    let top = if across { sloped.depth } else { sloped.width };
    let t = thickness.mm();
    let (lean, key, how) = match sloped.lean {
        Lean::Degrees(angle) => (t * libm::tan(angle.to_radians()), "angle", format!("{angle}°")),
        Lean::Bottom(bottom) => ((top - bottom).mm(), "bottom", ask.build.style.show(bottom)),
    };
    if lean >= top.mm() || lean <= -top.mm() {
        return Err(fault(
            key,
            format!(
                "with {how} nothing is left of the bottom of a cushion {}",
                ask.build.style.show(top)
            ),
            "the angle is measured from the upright, in degrees; or give `bottom` as measured",
        ));
    }
    let (w, d) = (sloped.width.mm(), sloped.depth.mm());
    let top_corners = [[0.0, 0.0, t], [w, 0.0, t], [w, d, t], [0.0, d, t]];
    let (x0, x1, y1) = match sloped.side {
        LeaningSide::Back => (0.0, w, d - lean),
        LeaningSide::Left => (lean, w, d),
        LeaningSide::Right => (0.0, w - lean, d),
    };
    let bottom = [[x0, 0.0, 0.0], [x1, 0.0, 0.0], [x1, y1, 0.0], [x0, y1, 0.0]];
    let block = Block { bottom, top: top_corners };
    let less = Length::from_mm(lean);
    let lean = less.abs().round_even(super::boxed::TENTH);
    let bottom = match less < Length::ZERO {
        true => of(top) + of(lean),
        false => of(top) - of(lean),
    };
    let high = (of(thickness).squared() + of(lean).squared()).root();
    let workings = vec![
        Working::of("bottom, towards the leaning side", bottom),
        Working::of("leaning boxing, finished height", high),
    ];
    let (mut parts, quantities) = sewn(ask, &block, sloped.zip, sloped.welt, workings);
    // Cut from the larger face; the slope is sawn off.
    let bottom_size = |top: Length, is: bool| if is { top.max(top - less) } else { top };
    let size = (bottom_size(sloped.width, !across), bottom_size(sloped.depth, across));
    add_foam(ask, &mut parts, size, |foam| foam.name = "foam, one side cut on the slope".into());
    Ok((parts, quantities))
}

/// What a cushion without a foam is told.
pub fn no_foam(ask: &Ask, what: &str) -> Vec<Fault> {
    vec![Fault::new(
        "no-foam",
        ask.at.clone(),
        format!("{what} needs a foam: its thickness makes the boxing"),
        "add `foam = \"...\"` with the name of one of the job's foams",
    )]
}

fn add_foam(
    ask: &Ask,
    parts: &mut Vec<Part>,
    (width, depth): (Length, Length),
    change: impl Fn(&mut Part),
) {
    let Some(name) = ask.foam else { return };
    let over = ask.build.allowances.foam_oversize;
    let mut foam =
        Part::new("foam", Stuff::Foam, name, rectangle(width + over * 2, depth + over * 2));
    foam.explain(Working::grown("foam width", width, &[over]).width());
    foam.explain(Working::grown("foam depth", depth, &[over]).height());
    change(&mut foam);
    parts.push(foam);
}

/// All faces of a block with seams; the back in two halves with a zip between.
fn sewn(ask: &Ask, block: &Block, zip: bool, welt: Welt, workings: Vec<Working>) -> Sewn {
    let a = ask.build.allowances;
    let n = a.seam.mm();
    let top = flat(block.top);
    let mut top_part = part(ask, "top panel", &top, &[n; 4]).seen();
    top_part.workings.splice(0..0, workings);
    // From below, so that left and right change places.
    let bottom = flat([block.bottom[1], block.bottom[0], block.bottom[3], block.bottom[2]]);
    let mut bottom_part = part(ask, "bottom panel", &bottom, &[n; 4]);
    bottom_part.motif = Motif::Free;
    bottom_part.material = ask.under.unwrap_or(ask.cloth).into();
    let mut parts = vec![top_part, bottom_part];
    let mut seam = Length::ZERO;
    for (side, name) in
        ["boxing, front", "boxing, right", "boxing, back", "boxing, left"].into_iter().enumerate()
    {
        let face = flat(block.face(side));
        let [p0, p1, p2, p3] = face;
        if side == 2 && zip {
            let (m0, m1) = (p0.middle(p3), p1.middle(p2));
            let turn = a.zip_turn.mm();
            let lower = part(ask, "zip strip half, lower", &[p0, p1, m1, m0], &[n, n, turn, n]);
            let upper = part(ask, "zip strip half, upper", &[m0, m1, p2, p3], &[turn, n, n, n]);
            for half in [lower, upper] {
                parts.extend(strip_pieced(ask, half));
            }
            seam += length(m0, m1) * 2;
        } else {
            parts.extend(strip_pieced(ask, part(ask, name, &face, &[n; 4])));
        }
        seam += length(p1, p2);
    }
    let round =
        |face: &[Point; 4]| -> Length { (0..4).map(|i| length(face[i], face[(i + 1) % 4])).sum() };
    let perimeters = [round(&top), round(&bottom)];
    let welts = match welt {
        Welt::None => 0,
        Welt::One => 1,
        Welt::Both => 2,
    };
    let runs: Vec<Length> = perimeters[..welts].iter().map(|p| *p + a.welt_lap).collect();
    let (strips, welt_length) = welt::strips(ask, &runs);
    parts.extend(strips);
    let back = flat(block.face(2));
    let area: f64 = [top, bottom]
        .iter()
        .chain(&(0..4).map(|side| flat(block.face(side))).collect::<Vec<_>>())
        .map(|face| Path::straight(face).area())
        .sum();
    let quantities = Quantities {
        seam: seam + perimeters[0] + perimeters[1] + runs.iter().copied().sum(),
        welt: welt_length,
        welt_runs: runs.len(),
        zip: zip.then(|| length(back[0].middle(back[3]), back[1].middle(back[2]))),
        wrap_mm2: if ask.wrap { area } else { 0.0 },
        fills: 1,
        ..Quantities::default()
    };
    (parts, quantities)
}
