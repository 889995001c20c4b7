//! Cushions with six flat faces that are not all rectangles: the wedge, and the cushion against a side
//! that leans. Every face is laid flat with its true lengths.

use super::cover::grown_box;
use super::strips::{pieced, rectangle};
use super::{Ask, Sewn, welt};
use crate::message::{Message, message};
use crate::part::{Mark, Meaning, Motif, Part, Quantities, Stuff};
use crate::wanted::Welt;
use crate::working::Working;
use geometry::{Length, Outline, Path, Point, grow};

/// Left to right, front to back, up; millimetres.
pub type Place = [f64; 3];

/// Corners of a block: front left, front right, back right, back left; bottom, then top.
#[derive(Clone, Copy, Debug)]
pub struct Block {
    /// Of the lower face.
    pub bottom: [Place; 4],
    /// Of the upper face.
    pub top: [Place; 4],
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

fn part(ask: &Ask, name: Message, points: &[Point], grown: &[f64]) -> Part {
    let seam_line = Path::straight(points);
    let cut = grow(&seam_line, grown);
    let alike = grown.iter().all(|g| *g == grown[0]);
    let by: Vec<Length> = grown[..usize::from(alike)].iter().map(|g| Length::from_mm(*g)).collect();
    let [wide, high] =
        grown_box([message("work-cut-width"), message("work-cut-height")], &seam_line, &cut, &by);
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

/// Adds the foam it is cut from.
pub fn add_foam(
    ask: &Ask,
    parts: &mut Vec<Part>,
    (width, depth): (Length, Length),
    change: impl Fn(&mut Part),
) {
    let Some(name) = ask.foam else { return };
    let over = ask.build.allowances.foam_oversize;
    let mut foam = Part::new(
        message("part-foam"),
        Stuff::Foam,
        name,
        rectangle(width + over * 2, depth + over * 2),
    );
    foam.explain(Working::grown(message("work-foam-width"), width, &[over]).width());
    foam.explain(Working::grown(message("work-foam-depth"), depth, &[over]).height());
    change(&mut foam);
    parts.push(foam);
}

/// All faces of a block with seams; the back in two halves with a zip between.
pub fn sewn(ask: &Ask, block: &Block, zip: bool, welt: Welt, workings: Vec<Working>) -> Sewn {
    let a = ask.build.allowances;
    let n = a.seam.mm();
    let top = flat(block.top);
    let mut top_part = part(ask, message("part-top-panel"), &top, &[n; 4]).seen();
    top_part.workings.splice(0..0, workings);
    // From below, so that left and right change places.
    let bottom = flat([block.bottom[1], block.bottom[0], block.bottom[3], block.bottom[2]]);
    let mut bottom_part = part(ask, message("part-bottom-panel"), &bottom, &[n; 4]);
    bottom_part.motif = Motif::Free;
    bottom_part.material = ask.under.unwrap_or(ask.cloth).into();
    let mut parts = vec![top_part, bottom_part];
    let mut seam = Length::ZERO;
    for (side, name) in
        ["part-boxing-front", "part-boxing-right", "part-boxing-back", "part-boxing-left"]
            .into_iter()
            .enumerate()
    {
        let face = flat(block.face(side));
        let [p0, p1, p2, p3] = face;
        if side == 2 && zip {
            let (m0, m1) = (p0.middle(p3), p1.middle(p2));
            let turn = a.zip_turn.mm();
            let lower = part(
                ask,
                message("part-zip-strip-half-lower"),
                &[p0, p1, m1, m0],
                &[n, n, turn, n],
            );
            let upper = part(
                ask,
                message("part-zip-strip-half-upper"),
                &[m0, m1, p2, p3],
                &[turn, n, n, n],
            );
            for half in [lower, upper] {
                parts.extend(strip_pieced(ask, half));
            }
            seam += length(m0, m1) * 2;
        } else {
            parts.extend(strip_pieced(ask, part(ask, message(name), &face, &[n; 4])));
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
