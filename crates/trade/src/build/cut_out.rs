//! Openings in a covered panel: an X or a ring of nicks in the cloth, turned in and fixed behind.

use super::cover::Build;
use crate::fault::Fault;
use crate::message::{Message, message};
use crate::panel::CutOut;
use crate::part::{CutOutWork, Mark, Meaning};
use geometry::{Length, Path, Spot};

/// A staple's crown and a little more: what a flange must hide beside the edge of the opening.
/// Common practice, no source.
const STAPLE_WIDTH: Length = Length::from_nm(6_000_000);

/// Nearer to the edge than this a board may break. Common practice, no source.
const BESIDE_EDGE: Length = Length::from_nm(40_000_000);

/// Nicks round a round opening stand about so far apart. Common practice, no source.
const NICK: Length = Length::from_nm(15_000_000);

/// The work at one opening, its marks, and what to watch.
///
/// Cloth is cut as an X from the middle, stopping short of the corners; each flap is half the
/// lesser side long and must reach through foam and board and lie on the back by the turn-in.
pub fn develop(cut: &CutOut, board: &Path, build: &Build) -> (CutOutWork, Vec<Mark>, Vec<Fault>) {
    let (low, high) = cut.shape.bounds();
    let centre = low.middle(high);
    let size = (Length::from_mm(high.x - low.x), Length::from_mm(high.y - low.y));
    let round = cut.shape.nodes.iter().all(|n| n.bulge != 0.0);
    let stop = build.allowances.cut_out_stop.mm();
    let mut marks = vec![Mark::closed(Meaning::Fold, cut.shape.clone())];
    let nicks = round.then(|| Length::from_mm(cut.shape.perimeter()).steps_up(NICK));
    match nicks {
        None => marks.extend(corners(&cut.shape).into_iter().map(|corner| {
            let inward = (centre - corner).unit();
            Mark::open(Meaning::Slit, vec![centre, corner + inward * stop])
        })),
        Some(count) if size.0 != size.1 => {
            let turn = build.allowances.cut_out_turn.mm();
            marks.extend(spread(&cut.shape, count).into_iter().map(|(at, inward)| {
                Mark::open(Meaning::Slit, vec![at + inward * turn, at + inward * stop])
            }));
        }
        Some(count) => {
            let (half, n) = (size.0.mm() / 2.0, count as f64);
            marks.extend((0..count).map(|i| {
                let angle = i as f64 / n * std::f64::consts::TAU;
                let out = geometry::Vector::new(libm::cos(angle), libm::sin(angle));
                let near = (half - build.allowances.cut_out_turn.mm()).max(0.0);
                Mark::open(Meaning::Slit, vec![centre + out * near, centre + out * (half - stop)])
            }));
        }
    }
    let flap = size.0.min(size.1).share(2);
    let work = CutOutWork { what: cut.what.clone(), centre, size, nicks, flap };
    let mut warnings = Vec::new();
    let mut warn = |what: Message| {
        let remedy = message(what.id).part("do");
        warnings.push(Fault::new(what.id, "", what, remedy));
    };
    let needed = build.foam + build.board + build.allowances.cut_out_turn;
    if flap < needed {
        let what = message("short-flaps").text("what", &cut.what);
        warn(what.chalk("flap", flap).chalk("needed", needed));
    }
    let hidden = build.cloth * 2 + STAPLE_WIDTH;
    if cut.flange > Length::ZERO && cut.flange < hidden {
        let what = message("narrow-flange").text("what", &cut.what);
        warn(what.chalk("flange", cut.flange).chalk("hidden", hidden));
    }
    let margin = nearest(&cut.shape, board);
    if margin < BESIDE_EDGE {
        warn(message("hole-near-edge").text("what", &cut.what).chalk("margin", margin));
    }
    (work, marks, warnings)
}

/// Corners of an opening: square ones, and the middle of rounded ones.
fn corners(shape: &Path) -> Vec<geometry::Point> {
    let segs: Vec<geometry::Seg> = shape.segs().collect();
    let n = segs.len();
    let mut found = Vec::new();
    for (i, seg) in segs.iter().enumerate() {
        if seg.bulge != 0.0 {
            found.push(seg.at(0.5).0);
        } else if segs[(i + 1) % n].bulge == 0.0 {
            found.push(seg.end);
        }
    }
    found
}

/// So many places evenly along an opening that is round all over, and the way in from each.
fn spread(shape: &Path, count: i64) -> Vec<(geometry::Point, geometry::Vector)> {
    let segs: Vec<geometry::Seg> = shape.segs().collect();
    let step = shape.perimeter() / count as f64;
    let mut out = Vec::new();
    let mut before = 0.0;
    for seg in &segs {
        let length = seg.length();
        while out.len() < count as usize && out.len() as f64 * step < before + length {
            let (at, along) = seg.at((out.len() as f64 * step - before) / length);
            out.push((at, -along.right()));
        }
        before += length;
    }
    out
}

/// Whether a hole lies wholly within a board, clear of its edge.
pub fn inside(hole: &Path, board: &Path) -> bool {
    let outline = board.flatten();
    let edge = hole.flatten();
    edge.points().iter().all(|p| outline.holds(*p))
        && outline.points().iter().all(|p| !edge.holds(*p))
}

/// Least distance between the corners of either and the sides of the other, taken on flat sides.
fn nearest(hole: &Path, board: &Path) -> Length {
    let (a, b) = (hole.flatten(), board.flatten());
    let between = |p: &Spot, q: &Spot, r: &Spot| {
        let (p, q, r) = (p.point(), q.point(), r.point());
        let edge = r - q;
        let t = ((p - q).dot(edge) / edge.dot(edge)).clamp(0.0, 1.0);
        (p - (q + edge * t)).length()
    };
    let mut least = f64::INFINITY;
    for (points, ring) in [(a.points(), b.points()), (b.points(), a.points())] {
        for p in points {
            for i in 0..ring.len() {
                least = least.min(between(p, &ring[i], &ring[(i + 1) % ring.len()]));
            }
        }
    }
    Length::from_mm(least)
}
