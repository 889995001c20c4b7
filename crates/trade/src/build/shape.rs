//! The outline of a board from its measures, and faults in them.

use crate::fault::Fault;
use crate::message::{Between, Message, message};
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
            check_diagonals(diagonals, both, at, &mut faults);
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
            check_diagonals(diagonals, both, at, &mut faults);
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
                        message("ears-without-room"),
                        message("ears-without-room").part("do"),
                    ));
                    return Err(faults);
                }
            }
        }
        PanelShape::Sides { .. } => fitted(shape, at)?.0,
        PanelShape::Offsets { base, points, curved } => offsets(*base, points, *curved),
        PanelShape::Corners(corners) | PanelShape::Traced { corners, .. } => corners.clone(),
    };
    let corners = match notched(corners, notches, at) {
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

/// The outline for the bench, if it is not a plain rectangle: what its drawing's box does not tell.
pub fn told(shape: &PanelShape, notches: &[Notch]) -> Message {
    let Some(outline) = outline_told(shape, notches.is_empty()) else { return Message::nothing() };
    let cut = |notch: &Notch| {
        message("outline-notch")
            .chalk_number("width", notch.width)
            .chalk_number("depth", notch.depth)
            .count("side", notch.side + 1)
            .chalk_number("from", notch.from)
    };
    let all = [outline].into_iter().chain(notches.iter().map(cut)).collect();
    message("list").list("list", all, Between::Semicolon)
}

fn outline_told(shape: &PanelShape, is_whole: bool) -> Option<Message> {
    let at =
        |x: Length, y: Length| message("outline-corner").chalk_number("x", x).chalk_number("y", y);
    let mm = Length::from_mm;
    Some(match shape {
        PanelShape::Rectangle { width, height, radii, .. } => {
            if radii.iter().all(|r| *r == Length::ZERO) && is_whole {
                return None;
            }
            let alike = radii.iter().all(|r| r == &radii[0]);
            let size = message(if alike { "outline-rectangle" } else { "outline-radii" })
                .chalk_number("width", *width)
                .chalk_number("height", *height);
            let each = radii.iter().map(|r| message("mark").chalk_number("at", *r)).collect();
            match alike {
                true => size.chalk_number("radius", radii[0]),
                false => size.list("radii", each, Between::Comma),
            }
        }
        PanelShape::Trapezoid { bottom, top, height, offset, radius, .. } => {
            let o = offset.unwrap_or(Length::from_nm((*bottom - *top).nm() / 2));
            let diagonal = |x: Length| mm(libm::hypot(x.mm(), height.mm()));
            message("outline-trapezoid")
                .chalk_number("bottom", *bottom)
                .chalk_number("top", *top)
                .chalk_number("height", *height)
                .chalk_number("offset", o)
                .chalk_number("one", diagonal(o + *top))
                .chalk_number("other", diagonal(*bottom - o))
                .chalk_number("radius", *radius)
        }
        PanelShape::Disc { diameter } => message("outline-disc").chalk_number("across", *diameter),
        PanelShape::Ring { outer, inner } => {
            message("outline-ring").chalk_number("across", *outer).chalk_number("hole", *inner)
        }
        PanelShape::Tee { front, body, depth, ear, ears, radius } => {
            let ears = match ears {
                Ears::Both => "both",
                Ears::Left => "left",
                Ears::Right => "right",
            };
            message("outline-tee")
                .text("ears", ears)
                .chalk_number("front", *front)
                .chalk_number("body", *body)
                .chalk_number("depth", *depth)
                .chalk_number("ear", *ear)
                .chalk_number("radius", *radius)
        }
        PanelShape::Sides { .. } => {
            let corners = fitted(shape, "").ok()?.0;
            let each = corners.iter().map(|c| at(mm(c.at.x), mm(c.at.y))).collect();
            message("outline-fitted").list("corners", each, Between::Semicolon)
        }
        PanelShape::Offsets { base, points, .. } => {
            let point = |(x, y): &(Length, Length)| {
                message("outline-offset").chalk_number("up", *y).chalk_number("along", *x)
            };
            message("outline-offsets").chalk_number("base", *base).list(
                "points",
                points.iter().map(point).collect(),
                Between::Semicolon,
            )
        }
        PanelShape::Corners(corners) => {
            let corner = |c: &Corner| {
                message("outline-corner-full")
                    .chalk_number("x", mm(c.at.x))
                    .chalk_number("y", mm(c.at.y))
                    .flag("rounded", c.radius > 0.0)
                    .chalk_number("radius", mm(c.radius))
                    .flag("bowed", c.rise != 0.0)
                    .chalk_number("rise", mm(c.rise))
            };
            let each = corners.iter().map(corner).collect();
            message("outline-corners").list("corners", each, Between::Semicolon)
        }
        // A row of numbers no one could draw by: its full-size template is the outline.
        PanelShape::Traced { within, .. } => message("outline-traced")
            .flag("known", *within > Length::ZERO)
            .length("within", *within),
    })
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
pub fn fitted(shape: &PanelShape, at: &str) -> Result<(Vec<Corner>, f64), Vec<Fault>> {
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
                message("no-such-corner").count("n", n).count("from", from + 1).count("to", to + 1),
                message("no-such-corner").part("do"),
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
            FitError::TooFew { needed } => message("outline-not-fixed")
                .part("few")
                .count("given", distances.len())
                .count("needed", needed),
            FitError::Loose => message("outline-not-fixed").part("loose"),
        };
        vec![Fault::new(
            "outline-not-fixed",
            format!("{at}.sides"),
            message("outline-not-fixed"),
            remedy,
        )]
    })?;
    let worst = found.worst();
    let size = found.corners.iter().map(|c| libm::hypot(c.x, c.y)).fold(0.0, f64::max);
    if worst > (size * 0.02).max(4.0 * POOR_FIT) {
        return Err(vec![Fault::new(
            "measures-contradict",
            format!("{at}.sides"),
            message("measures-contradict").chalk("worst", Length::from_mm(worst)),
            message("measures-contradict").part("do"),
        )]);
    }
    let corner = |p: &Point| Corner { at: *p, radius: 0.0, rise: 0.0 };
    Ok((found.corners.iter().map(corner).collect(), worst))
}

/// A traced outline is less true than this: worth a template in card before cloth is cut.
const POORLY_TRACED: Length = Length::from_nm(3_000_000);

/// Says how well fitted measures agree, if they do so poorly; or that a traced outline is rough.
pub fn fit_note(shape: &PanelShape, at: &str) -> Option<Fault> {
    if let PanelShape::Traced { within, .. } = shape {
        let rough = message("roughly-traced");
        return (*within > POORLY_TRACED).then(|| {
            let what = rough.chalk("within", *within);
            let remedy = message("roughly-traced").part("do");
            Fault::new("roughly-traced", format!("{at}.within"), what, remedy)
        });
    }
    let worst = fitted(shape, at).ok()?.1;
    (worst > POOR_FIT).then(|| {
        Fault::new(
            "measures-disagree",
            format!("{at}.sides"),
            message("measures-disagree").chalk("worst", Length::from_mm(worst)),
            message("measures-disagree").part("do"),
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
        PanelShape::Corners(_) | PanelShape::Traced { .. } => {
            format!("{at}.corner.{corner}.{key}")
        }
        PanelShape::Offsets { .. } => format!("{at}.offset"),
        PanelShape::Sides { .. } => format!("{at}.sides"),
        _ => format!("{at}.{key}"),
    };
    let (code, at, what) = match error {
        OutlineError::Radius { corner, most } => {
            let most = Length::from_mm(*most).round_down(style.mark);
            let what = message("radius-too-large-there").count("corner", *corner + 1);
            ("radius-too-large", corner_key(*corner, "radius"), what.chalk("most", most))
        }
        OutlineError::RadiusAtBow { corner } => {
            let what = message("radius-at-bow").count("corner", *corner + 1);
            ("radius-at-bow", corner_key(*corner, "radius"), what)
        }
        OutlineError::Bow { corner } => {
            let what = message("bow-too-large").count("corner", *corner + 1);
            ("bow-too-large", corner_key(*corner, "rise"), what)
        }
        OutlineError::Same { corner } => {
            let what = message("same-corner").count("corner", *corner + 1);
            ("same-corner", corner_key(*corner, "x"), what)
        }
        OutlineError::TooFew => ("few-corners", at.to_string(), message("outline-too-few")),
        _ => ("outline-crosses", at.to_string(), message("outline-crosses")),
    };
    let remedy = what.clone().part("do");
    Fault::new(code, at, what, remedy)
}

/// Refuses diagonals that contradict the sides.
fn check_diagonals(measured: &[Length], from_sides: [f64; 2], at: &str, faults: &mut Vec<Fault>) {
    for (i, (measured, should)) in measured.iter().zip(from_sides).enumerate() {
        if (measured.mm() - should).abs() > slack(should) {
            faults.push(Fault::new(
                "diagonal-contradicts",
                format!("{at}.diagonals.{i}"),
                message("diagonal-contradicts")
                    .count("i", i + 1)
                    .length("measured", *measured)
                    .chalk("should", Length::from_mm(should)),
                message("diagonal-contradicts").part("do"),
            ));
        }
    }
}

/// Cuts notches into straight sides. A notch may start or end at a corner if that corner is square.
fn notched(corners: Vec<Corner>, notches: &[Notch], at: &str) -> Result<Vec<Corner>, Vec<Fault>> {
    if notches.is_empty() {
        return Ok(corners);
    }
    let n = corners.len();
    let mut result = Vec::new();
    let mut dropped = vec![false; n];
    let mut added: Vec<Vec<Point>> = vec![Vec::new(); n];
    for (i, notch) in notches.iter().enumerate() {
        let key = format!("{at}.notch.{i}");
        let wrong = |what: Message| {
            let remedy = what.clone().part("do");
            vec![Fault::new("notch-outside", key.clone(), what, remedy)]
        };
        if notch.side >= n {
            return Err(wrong(message("notch-no-side").count("side", notch.side + 1)));
        }
        let (a, b) = (corners[notch.side], corners[(notch.side + 1) % n]);
        let along = (b.at - a.at).unit();
        let length = (b.at - a.at).length();
        let (from, to) = (notch.from.mm(), (notch.from + notch.width).mm());
        if a.rise != 0.0 {
            return Err(wrong(message("notch-in-bow")));
        }
        if to > length + 1e-6 {
            let ends = message("notch-outside").length("ends", notch.from + notch.width);
            return Err(wrong(ends.chalk("side", Length::from_mm(length))));
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
