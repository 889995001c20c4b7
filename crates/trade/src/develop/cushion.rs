//! Sewn covers: boxed cushion, knife-edge cushion, bolster.

use super::Ask;
use super::shape;
use super::welt;
use crate::fault::Fault;
use crate::part::{Mark, Meaning, Motif, Part, Quantities, Stuff};
use crate::piece::{PanelShape, Welt, ZipSide};
use crate::working::{Term, Working};
use geometry::{Length, Outline, Path, Run, Vector, grow};

/// A sewn piece developed: parts and what it takes.
pub type Sewn = (Vec<Part>, Quantities);

/// Measures of a boxed cushion.
#[derive(Clone, Copy, Debug)]
pub struct Boxed {
    /// Front edge.
    pub front: Length,
    /// Back edge.
    pub back: Length,
    /// Front to back.
    pub depth: Length,
    /// Corner radius.
    pub radius: Length,
    /// Zip.
    pub zip: ZipSide,
    /// Welt.
    pub welt: Welt,
}

/// A boxed cushion: two faces, boxing, zip strip in two halves, welt along chosen edges.
///
/// ```text
/// face   = finished - snug + 2 n          boxing = (perimeter - zip run + 2 lap + 2 n) x (T + 2 n)
/// zip    = 2 x (zip run + 2 n) x (T/2 + n + turn),   zip run = zip side + 2 return
/// foam   = finished + 2 oversize
/// ```
///
/// Example: 24 x 24 x 4, seams 1/2: faces 25 x 25, boxing 5 wide; with the zip on one side only
/// the boxing is 3 x 24 + 1 = 73.
///
/// Source: home-furnishing texts (faces = size + 2 seams, boxing = thickness + 2 seams, three
/// closed sides + 1 in); zip strip width half the cut boxing + 3/4 in, a sewing reference.
pub fn boxed(ask: &Ask, cushion: &Boxed, thickness: Length) -> Result<Sewn, Vec<Fault>> {
    let a = ask.build.allowances;
    let shape = PanelShape::Trapezoid {
        bottom: cushion.front,
        top: cushion.back,
        height: cushion.depth,
        offset: None,
        radius: cushion.radius,
        diagonals: Vec::new(),
    };
    let finished = shape::outline(&shape, &[], &ask.at, &ask.build.style)?;
    let segments = finished.nodes.len();
    let even = |d: Length| vec![d.mm(); segments];
    let seam_line = grow(&finished, &even(-a.snug.share(2)));
    let face = grow(&seam_line, &vec![a.seam.mm(); seam_line.nodes.len()]);
    let mut top = Part::new("top panel", Stuff::Cloth, ask.cloth, Outline::solid(face.clone()));
    top.marks.push(Mark::closed(Meaning::Stitch, seam_line.clone()));
    let size = |path: &Path| Outline::solid(path.clone()).size();
    for (what, from, to) in [
        ("cut width", size(&finished).0, size(&face).0),
        ("cut depth", size(&finished).1, size(&face).1),
    ] {
        let mut terms = vec![Term::Length(from)];
        if a.snug > Length::ZERO {
            terms.extend([Term::Text(" - "), Term::Length(a.snug)]);
        }
        terms.extend([Term::Text(" + 2 × "), Term::Length(a.seam)]);
        top.workings.push(Working::new(what, terms, to));
    }
    let mut bottom = Part { name: "bottom panel".into(), motif: Motif::Free, ..top.clone() };
    bottom.material = ask.under.unwrap_or(ask.cloth).into();

    let sides: Vec<(usize, f64)> = side_lengths(&seam_line);
    let perimeter = Length::from_mm(seam_line.perimeter());
    let zip_index = match cushion.zip {
        ZipSide::Back => Some(2),
        ZipSide::Left => Some(3),
        ZipSide::None => None,
    };
    let zip_side = zip_index.map_or(Length::ZERO, |side| {
        Length::from_mm(sides.iter().filter(|s| s.0 == side).map(|s| s.1).sum())
    });
    let zip_run = zip_index.map(|_| zip_side + a.zip_return * 2);
    let mut parts = vec![top, bottom];
    let boxing_height = thickness + a.seam * 2;
    let laps = zip_run.map_or(Length::ZERO, |_| a.boxing_lap * 2);
    let boxing_run = perimeter - zip_run.unwrap_or(Length::ZERO) + laps + a.seam * 2;
    let boxing_run = boxing_run.round_up(a.cut_step);
    let mut boxing = strip("boxing", ask.cloth, boxing_run, boxing_height);
    let mut terms = vec![Term::Length(perimeter)];
    if let Some(run) = zip_run {
        terms.extend([
            Term::Text(" - "),
            Term::Length(run),
            Term::Text(" + 2 × "),
            Term::Length(a.boxing_lap),
        ]);
    }
    terms.extend([Term::Text(" + 2 × "), Term::Length(a.seam)]);
    boxing.workings = vec![
        Working::new("boxing length", terms, boxing_run),
        Working::grown("boxing width", thickness, &[a.seam]),
    ];
    let front = Length::from_mm(sides.iter().filter(|s| s.0 == 0).map(|s| s.1).sum());
    let at_corners = (cushion.zip == ZipSide::Back && boxing_run > ask.usable)
        .then(|| joined_at_corners(&boxing, front, ask.usable, a.seam))
        .flatten();
    let (pieces, joins) = match at_corners {
        Some(pieces) => (pieces, 2),
        None => pieced(boxing, ask.usable, a.seam),
    };
    parts.extend(pieces);
    if let Some(run) = zip_run {
        let width = (thickness.share(2) + a.seam + a.zip_turn).round_up(a.cut_step);
        let length = (run + a.seam * 2).round_up(a.cut_step);
        let mut half = strip("zip strip half", ask.cloth, length, width);
        half.count = 2;
        half.workings = vec![
            Working::new(
                "zip strip length",
                vec![
                    Term::Length(zip_side),
                    Term::Text(" + 2 × "),
                    Term::Length(a.zip_return),
                    Term::Text(" + 2 × "),
                    Term::Length(a.seam),
                ],
                length,
            ),
            Working::new(
                "zip strip width",
                vec![
                    Term::Length(thickness),
                    Term::Text(" / 2 + "),
                    Term::Length(a.seam),
                    Term::Text(" + "),
                    Term::Length(a.zip_turn),
                ],
                width,
            ),
        ];
        parts.push(half);
    }
    let welt_runs = match cushion.welt {
        Welt::None => 0,
        Welt::One => 1,
        Welt::Both => 2,
    };
    let runs = vec![perimeter + a.welt_lap; welt_runs];
    let (welt, welt_length) = welt::strips(ask, &runs);
    parts.extend(welt);
    if let Some(name) = ask.foam {
        let foam = grow(&finished, &even(a.foam_oversize));
        let mut part = Part::new("foam", Stuff::Foam, name, Outline::solid(foam));
        part.workings = vec![
            Working::grown("foam width", cushion.front.max(cushion.back), &[a.foam_oversize]),
            Working::grown("foam depth", cushion.depth, &[a.foam_oversize]),
        ];
        parts.push(part);
    }
    // Both faces are sewn to the boxing, each welt is one more pass, and the strip's joins.
    let seam = perimeter * (2 + welt_runs as i64)
        + boxing_height * joins as i64
        + zip_run.map_or(Length::ZERO, |run| run * 2);
    let wrap = if ask.wrap { 2.0 * finished.area() + perimeter.mm() * thickness.mm() } else { 0.0 };
    let quantities = Quantities {
        seam,
        welt: welt_length,
        welt_runs,
        zip: zip_run,
        wrap_mm2: wrap,
        fills: 1,
        ..Quantities::default()
    };
    Ok((parts, quantities))
}

/// Length of each side of an outline, half of a rounded corner to either side.
fn side_lengths(path: &Path) -> Vec<(usize, f64)> {
    let n = path
        .segs()
        .map(|s| match s.run {
            Run::Side(i) | Run::Corner(i) => i,
        })
        .max()
        .unwrap_or(0)
        + 1;
    let mut found: Vec<(usize, f64)> = (0..n).map(|i| (i, 0.0)).collect();
    for seg in path.segs() {
        match seg.run {
            Run::Side(i) => found[i].1 += seg.length(),
            Run::Corner(i) => {
                found[i].1 += seg.length() / 2.0;
                found[(i + n - 1) % n].1 += seg.length() / 2.0;
            }
        }
    }
    found
}

/// A strip: its length across the roll, so that its top and a nap run with the faces.
fn strip(name: &str, cloth: &str, length: Length, width: Length) -> Part {
    let outline = rectangle(length, width);
    Part::new(name, Stuff::Cloth, cloth, outline)
}

/// A plain rectangle from the origin.
pub fn rectangle(width: Length, height: Length) -> Outline {
    let points = [(0.0, 0.0), (width.mm(), 0.0), (width.mm(), height.mm()), (0.0, height.mm())];
    let points = points.map(|(x, y)| geometry::Point::new(x, y));
    Outline::solid(Path::straight(&points))
}

/// Boxing joined at the two front corners: a front and two sides, each with a seam allowance at either
/// end; `None` if a piece would still be too long.
///
/// Source: joins belong at corners, never at the front's middle; common practice, no source.
fn joined_at_corners(
    boxing: &Part,
    front: Length,
    usable: Length,
    seam: Length,
) -> Option<Vec<Part>> {
    let (run, width) = boxing.size();
    let sides = run - seam * 2 - front;
    let side = Length::from_nm((sides.nm() + 1).div_euclid(2)) + seam * 2;
    let front = front + seam * 2;
    if sides <= Length::ZERO || front > usable || side > usable {
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
    Some(vec![piece("boxing, front", front, 1), piece("boxing, side", side, 2)])
}

/// A strip longer than the cloth is wide, in equal lengths with a seam allowance at each join; how
/// many joins.
pub fn pieced(part: Part, usable: Length, seam: Length) -> (Vec<Part>, usize) {
    let (length, width) = part.size();
    if length <= usable || usable <= seam * 2 {
        return (vec![part], 0);
    }
    // Each of k pieces is the kth share and a seam allowance at either end of a join.
    let joins_needed = |k: i64| (length + seam * 2 * (k - 1)).nm().div_euclid(k) + 1;
    let mut k = 2;
    while Length::from_nm(joins_needed(k)) > usable {
        k += 1;
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

/// Two faces sewn edge to edge over a crowned filling.
///
/// `cut = finished + 2 n + crown`. Source: the half-inch seam rule of home-furnishing texts (cut
/// 20, seams 1/2, finishes 19); the crown is common practice, no source.
pub fn knife_edge(
    ask: &Ask,
    (width, height): (Length, Length),
    crown: Length,
    zip: bool,
    welt_kind: Welt,
) -> Sewn {
    let a = ask.build.allowances;
    let cut = |finished: Length| finished + a.seam * 2 + crown;
    let outline = rectangle(cut(width), cut(height));
    let mut face = Part::new("front panel", Stuff::Cloth, ask.cloth, outline);
    let seam_line = grow(&face.outline.outer, &[-a.seam.mm(); 4]);
    face.marks.push(Mark::closed(Meaning::Stitch, seam_line));
    for (what, finished) in [("cut width", width), ("cut height", height)] {
        let mut terms = vec![Term::Length(finished), Term::Text(" + 2 × "), Term::Length(a.seam)];
        if crown > Length::ZERO {
            terms.extend([Term::Text(" + "), Term::Length(crown)]);
        }
        face.workings.push(Working::new(what, terms, cut(finished)));
    }
    let mut back = Part { name: "back panel".into(), ..face.clone() };
    back.material = ask.under.unwrap_or(ask.cloth).into();
    let perimeter = (width + height) * 2;
    let runs = if welt_kind == Welt::None { vec![] } else { vec![perimeter + a.welt_lap] };
    let (welt, welt_length) = welt::strips(ask, &runs);
    let mut parts = vec![face, back];
    parts.extend(welt);
    if let Some(name) = ask.foam {
        parts.push(Part::new("foam", Stuff::Foam, name, rectangle(width, height)));
    }
    let zip = zip.then(|| width - a.seam * 2);
    let quantities = Quantities {
        seam: perimeter * if welt_kind == Welt::None { 1 } else { 2 } + zip.unwrap_or_default() * 2,
        welt: welt_length,
        welt_runs: runs.len(),
        zip,
        wrap_mm2: if ask.wrap { 2.0 * width.mm() * height.mm() } else { 0.0 },
        fills: 1,
        ..Quantities::default()
    };
    (parts, quantities)
}

/// A roll: a body `L + 2 n` by `pi D + 2 n` and two discs `D + 2 n`.
///
/// Source: development of a cylinder, geometry (D 8, L 36, seams 1/2: 26.133 x 37, discs 9).
pub fn bolster(
    ask: &Ask,
    (length, diameter): (Length, Length),
    zip: bool,
    welt_kind: Welt,
) -> Sewn {
    let a = ask.build.allowances;
    let round = Length::from_mm(diameter.mm() * std::f64::consts::PI);
    let girth = (round + a.seam * 2).round_up(a.cut_step);
    let mut body =
        Part::new("body", Stuff::Cloth, ask.cloth, rectangle(length + a.seam * 2, girth));
    body.may_seam = ask.may_seam;
    body.workings = vec![
        Working::grown("body length", length, &[a.seam]),
        Working::new(
            "body round",
            vec![
                Term::Text("π × "),
                Term::Length(diameter),
                Term::Text(" + 2 × "),
                Term::Length(a.seam),
            ],
            girth,
        ),
    ];
    let disc = Path::circle(diameter + a.seam * 2);
    let mut end = Part::new("end", Stuff::Cloth, ask.cloth, Outline::solid(disc));
    end.marks.push(Mark::closed(
        Meaning::Stitch,
        Path::circle(diameter).moved(Vector::new(a.seam.mm(), a.seam.mm())),
    ));
    end.count = 2;
    end.workings = vec![Working::grown("disc", diameter, &[a.seam])];
    let ends = match welt_kind {
        Welt::None => 0,
        _ => 2,
    };
    let (welt, welt_length) = welt::strips(ask, &vec![round + a.welt_lap; ends]);
    let mut parts = vec![body, end];
    parts.extend(welt);
    let zip = zip.then(|| length - a.zip_return * 2).filter(|l| *l > Length::ZERO);
    let quantities = Quantities {
        seam: length + round * (2 + ends as i64),
        welt: welt_length,
        welt_runs: ends,
        zip,
        wrap_mm2: if ask.wrap { length.mm() * round.mm() } else { 0.0 },
        fills: 1,
        ..Quantities::default()
    };
    (parts, quantities)
}
