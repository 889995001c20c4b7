//! The outline of a board from its measures, and faults in them.

use crate::fault::Fault;
use crate::panel::{Ears, Notch, PanelShape};
use crate::working::Style;
use geometry::{Corner, Distance, FitError, Length, OutlineError, Path, Point};

/// Diagonals may differ from what the sides say by 1/8 in, or 1/4 % on large pieces: what a tape
/// and soft edges leave open. Common practice, no source.
fn slack(length: f64) -> f64 {
    (length * 0.0025).max(3.2)
}

/// The outline of a board; `at` is the piece's key in the job file.
pub fn outline(
    shape: &PanelShape,
    notches: &[Notch],
    at: &str,
    style: &Style,
) -> Result<Path, Vec<Fault>> {
    let mut faults = Vec::new();
    let corners: Vec<Corner> = match shape {
        PanelShape::Rectangle { width, height, radii, diagonals } => {
            let (w, h) = (width.mm(), height.mm());
            let both = [libm::hypot(w, h); 2];
            check_diagonals(diagonals, both, at, style, &mut faults);
            let places = [(0.0, 0.0), (w, 0.0), (w, h), (0.0, h)];
            let corner = |((x, y), r): ((f64, f64), &Length)| Corner {
                at: Point::new(x, y),
                radius: r.mm(),
                rise: 0.0,
            };
            places.into_iter().zip(radii).map(corner).collect()
        }
        PanelShape::Trapezoid { bottom, top, height, offset, radius, diagonals } => {
            let (b, t, h) = (bottom.mm(), top.mm(), height.mm());
            let o = offset.map_or((b - t) / 2.0, Length::mm);
            let both = [libm::hypot(o + t, h), libm::hypot(b - o, h)];
            check_diagonals(diagonals, both, at, style, &mut faults);
            let places = [(0.0, 0.0), (b, 0.0), (o + t, h), (o, h)];
            let corner = |(x, y)| Corner { at: Point::new(x, y), radius: radius.mm(), rise: 0.0 };
            places.into_iter().map(corner).collect()
        }
        PanelShape::Disc { diameter } | PanelShape::Ring { outer: diameter, .. } => {
            return Ok(Path::circle(*diameter));
        }
        PanelShape::Tee { front, body, depth, ear, ears, radius } => {
            match tee((*front, *body), (*depth, *ear), *ears, radius.mm()) {
                Some(corners) => corners,
                None => {
                    faults.push(Fault::new(
                        "ears-without-room",
                        format!("{at}.body"),
                        "the body must be narrower than the front, and the ears shallower than the whole",
                        "`width` is the front with its ears, `body` between the arms, `depth` over all, `ear` the depth of the ears",
                    ));
                    return Err(faults);
                }
            }
        }
        PanelShape::Sides { .. } => fitted(shape, at, style)?.0,
        PanelShape::Offsets { base, points, curved } => offsets(*base, points, *curved),
        PanelShape::Corners(corners) => corners.clone(),
    };
    let corners = match notched(corners, notches, at, style) {
        Ok(corners) => corners,
        Err(fault) => {
            faults.extend(fault);
            return Err(faults);
        }
    };
    match Path::from_corners(&corners) {
        Ok(path) if faults.is_empty() => return Ok(path),
        Ok(_) => {}
        Err(error) => faults.push(outline_fault(&error, shape, at, style)),
    }
    Err(faults)
}

/// The outline in words for the bench, if it is not a plain rectangle: what its drawing's box does
/// not tell.
pub fn words(shape: &PanelShape, notches: &[Notch], style: &Style) -> String {
    let show = |l: Length| style.chalk_number(l);
    let mut text = match shape {
        PanelShape::Rectangle { width, height, radii, .. } => {
            if radii.iter().all(|r| *r == Length::ZERO) && notches.is_empty() {
                return String::new();
            }
            let each: Vec<String> = radii.iter().map(|r| show(*r)).collect();
            let alike = radii.iter().all(|r| r == &radii[0]);
            let radii = if alike {
                each[0].clone()
            } else {
                format!("{} from the bottom left, counter-clockwise", each.join(", "))
            };
            format!("{} × {}, corner radius {radii}", show(*width), show(*height))
        }
        PanelShape::Trapezoid { bottom, top, height, offset, radius, .. } => {
            let o = offset.unwrap_or(Length::from_nm((*bottom - *top).nm() / 2));
            let diagonal = |x: Length| show(Length::from_mm(libm::hypot(x.mm(), height.mm())));
            format!(
                "bottom {}, top {}, {} high square to both, top's left end {} right of the bottom's; diagonals {} and {} before rounding; corner radius {}",
                show(*bottom),
                show(*top),
                show(*height),
                show(o),
                diagonal(o + *top),
                diagonal(*bottom - o),
                show(*radius)
            )
        }
        PanelShape::Disc { diameter } => format!("disc {} across", show(*diameter)),
        PanelShape::Ring { outer, inner } => {
            format!("ring {} across, hole {}", show(*outer), show(*inner))
        }
        PanelShape::Tee { front, body, depth, ear, ears, radius } => {
            let name = match ears {
                Ears::Both => "T",
                Ears::Left => "L, ear on the left",
                Ears::Right => "L, ear on the right",
            };
            format!(
                "{name}: front {}, body {}, {} deep over all, ears {} deep, outer corner radius {}",
                show(*front),
                show(*body),
                show(*depth),
                show(*ear),
                show(*radius)
            )
        }
        PanelShape::Sides { .. } => match fitted(shape, "", style) {
            Ok((corners, _)) => {
                let mm = Length::from_mm;
                let each: Vec<String> = corners
                    .iter()
                    .map(|c| format!("{}, {}", show(mm(c.at.x)), show(mm(c.at.y))))
                    .collect();
                format!(
                    "fitted corners from the first corner, first side level: {}",
                    each.join("; ")
                )
            }
            Err(_) => String::new(),
        },
        PanelShape::Offsets { base, points, .. } => {
            let each: Vec<String> =
                points.iter().map(|(x, y)| format!("{} at {}", show(*y), show(*x))).collect();
            format!("on a base line of {}: {}", show(*base), each.join("; "))
        }
        PanelShape::Corners(corners) => {
            let each: Vec<String> = corners
                .iter()
                .map(|c| {
                    let mm = Length::from_mm;
                    let mut text = format!("{}, {}", show(mm(c.at.x)), show(mm(c.at.y)));
                    if c.radius > 0.0 {
                        text.push_str(&format!(" radius {}", show(mm(c.radius))));
                    }
                    if c.rise != 0.0 {
                        text.push_str(&format!(" then a bow of {}", show(mm(c.rise))));
                    }
                    text
                })
                .collect();
            format!("corners from the left and bottom at {}", each.join("; "))
        }
    };
    for notch in notches {
        text.push_str(&format!(
            "; notch {} × {} in side {}, {} from its start",
            show(notch.width),
            show(notch.depth),
            notch.side + 1,
            show(notch.from)
        ));
    }
    text
}

/// The base line, and the outline over it from right to left; curved, each chord bows by the mean
/// curvature of the circles through its neighbours.
fn offsets(base: Length, points: &[(Length, Length)], curved: bool) -> Vec<Corner> {
    let corner = |x: f64, y: f64| Corner { at: Point::new(x, y), radius: 0.0, rise: 0.0 };
    let mut corners = vec![corner(0.0, 0.0), corner(base.mm(), 0.0)];
    // A point on the base line's own end is that end.
    let on_end = |p: &&(Length, Length)| p.1 > Length::ZERO || (p.0 != Length::ZERO && p.0 != base);
    let first = if points.last().is_some_and(|p| !on_end(&p)) { 1 } else { 2 };
    corners.extend(points.iter().rev().filter(on_end).map(|(x, y)| corner(x.mm(), y.mm())));
    let ends_low = points.first().is_some_and(|p| !on_end(&p));
    if !curved {
        return corners;
    }
    let n = corners.len();
    let last = if ends_low { n } else { n - 1 };
    let at = |i: usize| corners[i % n].at;
    // Signed curvature of the circle through three points; positive turns left.
    let bend = |i: usize| {
        let (p, q, r) = (at(i - 1), at(i), at(i + 1));
        let (u, v, w) = (q - p, r - q, r - p);
        2.0 * u.cross(v) / (u.length() * v.length() * w.length()).max(1e-12)
    };
    let inner = |i: usize| (i > first && i < last).then(|| bend(i));
    let rises: Vec<f64> = (first..last)
        .map(|i| {
            let known: Vec<f64> = [inner(i), inner(i + 1)].into_iter().flatten().collect();
            let mean = known.iter().sum::<f64>() / known.len().max(1) as f64;
            let chord = (at(i + 1) - at(i)).length();
            let half = (mean.abs() * chord / 2.0).min(0.999);
            // Sagitta of a chord on that circle.
            let rise = if mean == 0.0 { 0.0 } else { (1.0 - (1.0 - half * half).sqrt()) / mean };
            // A hair of a bow is a straight side.
            if rise.abs() < 0.05 { 0.0 } else { rise }
        })
        .collect();
    for (i, rise) in (first..last).zip(rises) {
        corners[i].rise = rise;
    }
    corners
}

/// Corners of a T or L, from the front left; `None` if the ears have no room.
fn tee(
    (front, body): (Length, Length),
    (depth, ear): (Length, Length),
    ears: Ears,
    radius: f64,
) -> Option<Vec<Corner>> {
    if body >= front || ear >= depth {
        return None;
    }
    let (w, d, e) = (front.mm(), depth.mm(), ear.mm());
    let spare = w - body.mm();
    let (left, right) = match ears {
        Ears::Both => (spare / 2.0, spare / 2.0),
        Ears::Left => (spare, 0.0),
        Ears::Right => (0.0, spare),
    };
    let outer = |x: f64, y: f64| Corner { at: Point::new(x, y), radius, rise: 0.0 };
    let inner = |x: f64, y: f64| Corner { at: Point::new(x, y), radius: 0.0, rise: 0.0 };
    let mut corners = vec![outer(0.0, 0.0), outer(w, 0.0)];
    if right > 0.0 {
        corners.extend([outer(w, e), inner(w - right, e)]);
    }
    corners.extend([outer(w - right, d), outer(left, d)]);
    if left > 0.0 {
        corners.extend([inner(left, e), outer(0.0, e)]);
    }
    Some(corners)
}

/// The side at the back of a T or L: the one after its right edge.
pub const fn back_side(ears: Ears) -> usize {
    match ears {
        Ears::Both | Ears::Right => 4,
        Ears::Left => 2,
    }
}

/// How far measures may miss each other before it is said: a bench mark and a bit.
const POOR_FIT: f64 = 3.2;

/// Corners fitted to sides and diagonals, and by how much the worst measure is missed, mm.
pub fn fitted(
    shape: &PanelShape,
    at: &str,
    style: &Style,
) -> Result<(Vec<Corner>, f64), Vec<Fault>> {
    let PanelShape::Sides { sides, diagonals } = shape else { return Ok((Vec::new(), 0.0)) };
    let n = sides.len();
    let mut distances: Vec<Distance> = sides
        .iter()
        .enumerate()
        .map(|(i, l)| Distance { from: i, to: (i + 1) % n.max(1), length: l.mm() })
        .collect();
    let mut faults = Vec::new();
    for (i, &(from, to, length)) in diagonals.iter().enumerate() {
        if from >= n || to >= n || from == to {
            faults.push(Fault::new(
                "no-such-corner",
                format!("{at}.across.{i}"),
                format!("the outline has corners 1 to {n}, not {} and {}", from + 1, to + 1),
                "corners are counted from where the first side starts, counter-clockwise seen from the face",
            ));
        } else {
            distances.push(Distance { from, to, length: length.mm() });
        }
    }
    if !faults.is_empty() {
        return Err(faults);
    }
    let found = geometry::fit(n, &distances).map_err(|error| {
        let remedy = match error {
            FitError::TooFew { needed } => format!(
                "{} measures are given and {needed} are needed: add distances between corners (across = [{{ from, to, length }}])",
                distances.len()
            ),
            FitError::Loose => "some corner may still move: measure it from one more corner".into(),
        };
        vec![Fault::new("outline-not-fixed", format!("{at}.sides"), "the measures do not fix the outline", remedy)]
    })?;
    let worst = found.worst();
    let size = found.corners.iter().map(|c| libm::hypot(c.x, c.y)).fold(0.0, f64::max);
    if worst > (size * 0.02).max(4.0 * POOR_FIT) {
        return Err(vec![Fault::new(
            "measures-contradict",
            format!("{at}.sides"),
            format!(
                "the nearest outline misses a measure by {}",
                style.chalk(Length::from_mm(worst))
            ),
            "measure again: a side or diagonal is wrong, or they are in another order",
        )]);
    }
    let corner = |p: &Point| Corner { at: *p, radius: 0.0, rise: 0.0 };
    Ok((found.corners.iter().map(corner).collect(), worst))
}

/// Says how well fitted measures agree, if they do so poorly.
pub fn fit_note(shape: &PanelShape, at: &str, style: &Style) -> Option<Fault> {
    let worst = fitted(shape, at, style).ok()?.1;
    (worst > POOR_FIT).then(|| {
        Fault::new(
            "measures-disagree",
            format!("{at}.sides"),
            format!(
                "the fitted outline misses a measure by {}",
                style.chalk(Length::from_mm(worst))
            ),
            "measure the longest ones again, or cut a paper template and try it",
        )
    })
}

/// Width and height as measured, before corners are rounded; `None` if only the outline tells.
pub fn measured(shape: &PanelShape) -> Option<(Length, Length)> {
    match shape {
        PanelShape::Rectangle { width, height, .. } => Some((*width, *height)),
        PanelShape::Trapezoid { bottom, top, height, .. } => Some(((*bottom).max(*top), *height)),
        _ => None,
    }
}

fn outline_fault(error: &OutlineError, shape: &PanelShape, at: &str, style: &Style) -> Fault {
    let corner_key = |corner: usize, key: &str| match shape {
        PanelShape::Corners(_) => format!("{at}.corner.{corner}.{key}"),
        PanelShape::Offsets { .. } => format!("{at}.offset"),
        PanelShape::Sides { .. } => format!("{at}.sides"),
        _ => format!("{at}.{key}"),
    };
    let what = error.to_string();
    match error {
        OutlineError::Radius { corner, most } => Fault::new(
            "radius-too-large",
            corner_key(*corner, "radius"),
            what,
            format!(
                "at most {} fits there",
                style.chalk(Length::from_mm(*most).round_down(style.mark))
            ),
        ),
        OutlineError::RadiusAtBow { corner } => Fault::new(
            "radius-at-bow",
            corner_key(*corner, "radius"),
            what,
            "leave the radius out, or describe the rounding with a bowed edge of its own",
        ),
        OutlineError::Bow { corner } => Fault::new(
            "bow-too-large",
            corner_key(*corner, "rise"),
            what,
            "a rise is at most half the straight distance between the two corners",
        ),
        OutlineError::Same { corner } => {
            Fault::new("same-corner", corner_key(*corner, "x"), what, "leave one of them out")
        }
        OutlineError::TooFew => Fault::new("few-corners", at, what, "add the missing corners"),
        _ => Fault::new(
            "outline-crosses",
            at,
            what,
            "enter the corners in order, counter-clockwise seen from the face",
        ),
    }
}

/// Refuses diagonals that contradict the sides.
fn check_diagonals(
    measured: &[Length],
    from_sides: [f64; 2],
    at: &str,
    style: &Style,
    faults: &mut Vec<Fault>,
) {
    for (i, (measured, should)) in measured.iter().zip(from_sides).enumerate() {
        if (measured.mm() - should).abs() > slack(should) {
            faults.push(Fault::new(
                "diagonal-contradicts",
                format!("{at}.diagonals.{i}"),
                format!(
                    "diagonal {} is {} but the sides make it {}",
                    i + 1,
                    style.show(*measured),
                    style.chalk(Length::from_mm(should))
                ),
                "measure sides and diagonals again; if the piece is out of square, enter its corners or trace it",
            ));
        }
    }
}

/// Cuts notches into straight sides. A notch may start or end at a corner if that corner is square.
fn notched(
    corners: Vec<Corner>,
    notches: &[Notch],
    at: &str,
    style: &Style,
) -> Result<Vec<Corner>, Vec<Fault>> {
    if notches.is_empty() {
        return Ok(corners);
    }
    let n = corners.len();
    let mut result = Vec::new();
    let mut dropped = vec![false; n];
    let mut added: Vec<Vec<Point>> = vec![Vec::new(); n];
    for (i, notch) in notches.iter().enumerate() {
        let key = format!("{at}.notch.{i}");
        let wrong = |what: String, remedy: &str| {
            vec![Fault::new("notch-outside", key.clone(), what, remedy)]
        };
        if notch.side >= n {
            return Err(wrong(
                format!("there is no side {}", notch.side + 1),
                "sides are counted from the first corner",
            ));
        }
        let (a, b) = (corners[notch.side], corners[(notch.side + 1) % n]);
        let along = (b.at - a.at).unit();
        let length = (b.at - a.at).length();
        let (from, to) = (notch.from.mm(), (notch.from + notch.width).mm());
        if a.rise != 0.0 {
            return Err(wrong(
                "a notch in a bowed edge".into(),
                "enter the notch with corners of its own",
            ));
        }
        if to > length + 1e-6 {
            return Err(wrong(
                format!(
                    "the notch ends {} along a side of {}",
                    style.show(notch.from + notch.width),
                    style.chalk(Length::from_mm(length))
                ),
                "a notch lies within its side",
            ));
        }
        let inward = -along.right() * notch.depth.mm();
        let (start, end) = (a.at + along * from, a.at + along * to);
        let mut points = vec![start, start + inward, end + inward, end];
        if from < 1e-6 {
            points.remove(0);
            dropped[notch.side] = true;
        }
        if (to - length).abs() < 1e-6 {
            points.pop();
            dropped[(notch.side + 1) % n] = true;
        }
        added[notch.side].extend(points);
    }
    for (i, corner) in corners.into_iter().enumerate() {
        if !dropped[i] {
            result.push(corner);
        }
        result.extend(added[i].iter().map(|&at| Corner { at, radius: 0.0, rise: 0.0 }));
    }
    Ok(result)
}
