//! The outline of a board from its measures, and faults in them.

use crate::fault::Fault;
use crate::piece::{Notch, PanelShape};
use crate::working::Style;
use geometry::{Corner, Length, OutlineError, Path, Point};

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
        PanelShape::Corners(corners) => corners.clone(),
    };
    let corners = match notched(corners, notches, at, style) {
        Ok(corners) => corners,
        Err(fault) => {
            faults.push(fault);
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
) -> Result<Vec<Corner>, Fault> {
    if notches.is_empty() {
        return Ok(corners);
    }
    let n = corners.len();
    let mut result = Vec::new();
    let mut dropped = vec![false; n];
    let mut added: Vec<Vec<Point>> = vec![Vec::new(); n];
    for (i, notch) in notches.iter().enumerate() {
        let key = format!("{at}.notch.{i}");
        let wrong =
            |what: String, remedy: &str| Fault::new("notch-outside", key.clone(), what, remedy);
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
