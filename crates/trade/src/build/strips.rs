//! Rectangles and strips that many kinds are made of.

use super::cover::Build;
use crate::message::{Message, message};
use crate::part::{Part, Stuff};
use crate::working::{Working, of};
use geometry::{Length, Outline, Path};

/// A strip: its length across the roll, so that its top and a nap run with the faces.
pub fn strip(name: Message, cloth: &str, length: Length, width: Length) -> Part {
    let outline = rectangle(length, width);
    Part::new(name, Stuff::Cloth, cloth, outline)
}

/// A plain rectangle from the origin.
pub fn rectangle(width: Length, height: Length) -> Outline {
    let points = [(0.0, 0.0), (width.mm(), 0.0), (width.mm(), height.mm()), (0.0, height.mm())];
    let points = points.map(|(x, y)| geometry::Point::new(x, y));
    Outline::solid(Path::straight(&points))
}

/// Boxing joined at the two ends of the front: a front, and a side to either hand as long as its way to
/// the zip strip, each with a seam allowance at both ends; `None` if a piece would still be too long.
///
/// Source: joins belong at corners, never at the front's middle; common practice, no source.
pub fn joined_at_corners(
    boxing: &Part,
    (front, right, left): (Length, Length, Length),
    usable: Length,
    build: &Build,
) -> Option<Vec<Part>> {
    let width = boxing.size().1;
    let (seam, mark) = (build.allowances.seam, build.style.mark);
    if [front, right, left].iter().any(|run| *run <= Length::ZERO) {
        return None;
    }
    let [front, right, left] = [front, right, left].map(|run| {
        Working::grown(message("work-boxing-joined-at-the-front-corners"), run, &[seam])
            .up_to(mark)
            .width()
    });
    if [&front, &right, &left].iter().any(|working| working.result > usable) {
        return None;
    }
    let piece = |name: &'static str, working: Working, count: usize| {
        let mut piece = Part {
            name: message(name),
            outline: rectangle(working.result, width),
            count: boxing.count * count,
            ..boxing.clone()
        };
        piece.divided = Some((working.result - seam * 2).mm() * width.mm());
        piece.explain(working);
        piece
    };
    let sides = if right.result == left.result {
        vec![piece("part-boxing-side", right, 2)]
    } else {
        vec![piece("part-boxing-right-side", right, 1), piece("part-boxing-left-side", left, 1)]
    };
    Some([vec![piece("part-boxing-front", front, 1)], sides].concat())
}

/// A strip longer than the cloth is wide, in equal lengths with a seam allowance at each join; how
/// many joins.
pub fn pieced(part: Part, usable: Length, build: &Build) -> (Vec<Part>, usize) {
    in_lengths(part, usable, build, 1)
}

/// The same in an odd number of lengths, so that no join falls on the middle.
pub fn pieced_odd(part: Part, usable: Length, build: &Build) -> (Vec<Part>, usize) {
    in_lengths(part, usable, build, 2)
}

fn in_lengths(part: Part, usable: Length, build: &Build, step: i64) -> (Vec<Part>, usize) {
    let (seam, mark) = (build.allowances.seam, build.style.mark);
    let (length, width) = part.size();
    if length <= usable || usable <= seam * 2 + mark {
        return (vec![part], 0);
    }
    // Each of k pieces is the kth share and a seam allowance at either end of a join.
    let each = |k: i64| {
        let all = of(length) + (k - 1) * (2 * of(seam));
        Working::of(message("work-in-lengths").count("lengths", k), all / k).up_to(mark)
    };
    let mut k = 1 + step;
    while each(k).result > usable {
        k += step;
    }
    let working = each(k);
    let mut piece = Part { outline: rectangle(working.result, width), ..part };
    piece.count *= k as usize;
    piece.divided = Some(length.share(k).mm() * width.mm());
    piece.explain(working.width());
    (vec![piece], (k - 1) as usize)
}
