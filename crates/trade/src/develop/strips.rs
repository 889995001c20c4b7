//! Rectangles and strips that many kinds are made of.

use crate::part::{Part, Stuff};
use crate::working::{Term, Working};
use geometry::{Length, Outline, Path};

/// A strip: its length across the roll, so that its top and a nap run with the faces.
pub fn strip(name: &str, cloth: &str, length: Length, width: Length) -> Part {
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
    seam: Length,
) -> Option<Vec<Part>> {
    let width = boxing.size().1;
    let [front, right, left] = [front, right, left].map(|run| run + seam * 2);
    if [front, right, left].iter().any(|l| *l > usable || *l <= seam * 2) {
        return None;
    }
    let piece = |name: &str, length: Length, count: usize| {
        let mut piece = Part {
            name: name.into(),
            outline: rectangle(length, width),
            count: boxing.count * count,
            ..boxing.clone()
        };
        piece.workings.push(Working::new(
            format!("{name}, joined at the front corners"),
            vec![Term::Length(length - seam * 2), Term::Text(" + 2 × "), Term::Length(seam)],
            length,
        ));
        piece
    };
    let sides = if right == left {
        vec![piece("boxing, side", right, 2)]
    } else {
        vec![piece("boxing, right side", right, 1), piece("boxing, left side", left, 1)]
    };
    Some([vec![piece("boxing, front", front, 1)], sides].concat())
}

/// A strip longer than the cloth is wide, in equal lengths with a seam allowance at each join; how
/// many joins.
pub fn pieced(part: Part, usable: Length, seam: Length) -> (Vec<Part>, usize) {
    in_lengths(part, usable, seam, 1)
}

/// The same in an odd number of lengths, so that no join falls on the middle.
pub fn pieced_odd(part: Part, usable: Length, seam: Length) -> (Vec<Part>, usize) {
    in_lengths(part, usable, seam, 2)
}

fn in_lengths(part: Part, usable: Length, seam: Length, step: i64) -> (Vec<Part>, usize) {
    let (length, width) = part.size();
    if length <= usable || usable <= seam * 2 {
        return (vec![part], 0);
    }
    // Each of k pieces is the kth share and a seam allowance at either end of a join.
    let joins_needed = |k: i64| (length + seam * 2 * (k - 1)).nm().div_euclid(k) + 1;
    let mut k = 1 + step;
    while Length::from_nm(joins_needed(k)) > usable {
        k += step;
    }
    let each = Length::from_nm(joins_needed(k)).round_up(Length::from_nm(100_000));
    let each = each.min(usable);
    let mut piece = Part { outline: rectangle(each, width), ..part };
    piece.count *= k as usize;
    piece.workings.push(Working::new(
        format!("in {k} lengths, joined"),
        vec![
            Term::Text("("),
            Term::Length(length),
            Term::Text(" + 2 × "),
            Term::Length(seam),
            Term::Text(" × "),
            Term::Number((k - 1) as f64),
            Term::Text(") / "),
            Term::Number(k as f64),
        ],
        each,
    ));
    (vec![piece], (k - 1) as usize)
}
