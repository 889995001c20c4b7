//! A back bent to a curve: its inside and outside faces differ in length, and each is cut in as many
//! widths as the cloth asks for.

use super::boxed::TENTH;
use super::strips::rectangle;
use super::{Ask, Kit};
use crate::fault::Fault;
use crate::kind::{Curved, CurvedFaces};
use crate::panel::Side;
use crate::part::{CornerHow, CornerWork, Mark, Meaning, Part, Stuff};
use crate::working::{Formula, Working, of};
use geometry::{Arc, Length, Path, Point};

/// Most widths of one face.
const MOST_PANELS: usize = 60;

/// Develops a curved back; chord and rise are those of the board's hollow face.
///
/// ```text
/// R = c^2/8h + h/2    angle = 2 asin(c/2R)    face of radius r is r x angle long
/// hollow face padded: r = R - f      bulging face: r = R + b, padded R + b + f
/// ```
///
/// Source: the chord theorem and arc length; worked in carpentry columns (chord 96, rise 12: R 102).
/// Common practice besides: a traced template wins over the sum.
pub fn develop(ask: &Ask, back: &Curved) -> Result<Kit, Vec<Fault>> {
    let (f, b) = (ask.build.foam + ask.build.wrap, ask.build.board);
    let arc = Arc::over(back.chord.mm(), back.rise.mm()).map_err(|_| {
        vec![Fault::new(
            "rise-too-great",
            format!("{}.rise", ask.at),
            format!(
                "over a chord of {} a curve rises at most half of that, not {}",
                ask.build.style.show(back.chord),
                ask.build.style.show(back.rise)
            ),
            "the rise is measured square to the chord, in its middle; enter a rounder back in parts",
        )]
    })?;
    let (radius, angle) = (arc.radius(), arc.angle());
    if back.faces != CurvedFaces::Outside && radius <= f.mm() {
        return Err(vec![Fault::new(
            "curve-too-tight",
            format!("{}.foam", ask.at),
            format!(
                "foam of {} fills a curve of radius {}",
                ask.build.style.show(f),
                ask.build.style.chalk(Length::from_mm(radius))
            ),
            "choose a thinner foam or check chord and rise",
        )]);
    }
    // A straight back is the chord at any depth.
    let long =
        |off: f64| if back.rise == Length::ZERO { arc.chord } else { (radius + off) * angle };
    let along = |what: &str, off: Length| {
        let formula = if back.rise == Length::ZERO {
            of(back.chord)
        } else if off == Length::ZERO {
            Formula::Arc(back.chord, back.rise)
        } else {
            let (arc, radius) = (Length::from_mm(long(0.0)), Length::from_mm(radius));
            let of_radius = of(radius.round_even(TENTH));
            let there = if off > Length::ZERO {
                of_radius.clone() + of(off)
            } else {
                of_radius.clone() - of(off.abs())
            };
            of(arc.round_even(TENTH)) * there / of_radius
        };
        Working::of(format!("{what}, along the curve"), formula)
    };
    let mut kit = Kit { finished: (back.chord, back.height), ..Kit::default() };
    let board_face = Length::from_mm(long(0.0)).round_even(TENTH);
    if back.rise > Length::ZERO {
        let (c, h) = (of(back.chord), of(back.rise));
        let radius = c.squared() / (8 * h.clone()) + h / 2;
        kit.workings = vec![
            Working::of("radius of the board's hollow face", radius),
            along("board's hollow face", Length::ZERO),
        ];
    }
    let reach = ask.build.reach(&Side::default());
    let (hollow, bulge) = (along("inside", -f), along("outside", b + f));
    match back.faces {
        CurvedFaces::Inside => face(ask, back, "inside", hollow, reach, &mut kit),
        CurvedFaces::Outside => face(ask, back, "outside", bulge, reach, &mut kit),
        CurvedFaces::Both => {
            face(ask, back, "inside", hollow, reach, &mut kit);
            let plain = along("outside", b);
            kit.quantities.tack_strip = (plain.result + back.height) * 2;
            face(ask, back, "outside", plain, ask.build.allowances.tack_strip, &mut kit);
        }
    }
    let step = ask.build.allowances.cut_step;
    let flat = |off: Length, stuff: Stuff, name: &str, material: &str| {
        let long = along(name, off).up_to(step).width();
        Part::new(name, stuff, material, rectangle(long.result, back.height)).explained([long])
    };
    let outward = back.faces == CurvedFaces::Outside;
    let middle_of_foam = if outward { b + f.share(2) } else { -f.share(2) };
    if let Some(name) = ask.foam {
        kit.parts.push(flat(middle_of_foam, Stuff::Foam, "foam", name));
    }
    if let Some(name) = ask.board {
        kit.parts.push(flat(b.share(2), Stuff::Board, "board, to bend", name));
    }
    let area = board_face.mm() * back.height.mm();
    let q = &mut kit.quantities;
    q.staple_line = (board_face + back.height) * 2;
    q.corner_line = (ask.build.allowances.pleat * 16).min(q.staple_line);
    q.glue_mm2 = if f > Length::ZERO && b > Length::ZERO { area } else { 0.0 };
    q.wrap_mm2 = if ask.wrap { area } else { 0.0 };
    let (w, h) = (board_face.mm(), back.height.mm());
    kit.corners = [(0.0, 0.0), (w, 0.0), (w, h), (0.0, h)]
        .into_iter()
        .enumerate()
        .map(|(corner, (x, y))| CornerWork { corner, at: Point::new(x, y), how: CornerHow::Square })
        .collect();
    Ok(kit)
}

/// One face along the curve, in equal widths, with `beyond` on every outer edge.
fn face(ask: &Ask, back: &Curved, name: &str, along: Working, beyond: Length, kit: &mut Kit) {
    let a = ask.build.allowances;
    let arc = along.result.round_even(TENTH);
    let cut = |k: usize, which: &str, left: Length, right: Length| {
        let sum = of(arc) / k as i64 + of(left) + of(right);
        Working::of(format!("{name} cover{which}"), sum).up_to(a.cut_step).width()
    };
    let widest = |k: usize| match k {
        1 => cut(1, "", beyond, beyond).result,
        _ => cut(k, "", a.seam, beyond.max(a.seam)).result,
    };
    let k = match back.panels {
        Some(k) => k.max(1),
        None if ask.railroads => 1,
        None => (1..=MOST_PANELS).find(|&k| widest(k) <= ask.usable).unwrap_or(1),
    };
    let height = Working::grown("cut height", back.height, &[beyond]).height();
    let pieces: &[(&str, Length, Length, usize)] = match k {
        1 => &[("", beyond, beyond, 1)],
        2 => &[(", left width", beyond, a.seam, 1), (", right width", a.seam, beyond, 1)],
        _ => &[
            (", left width", beyond, a.seam, 1),
            (", middle width", a.seam, a.seam, k - 2),
            (", right width", a.seam, beyond, 1),
        ],
    };
    let share = arc.share(k as i64);
    for &(which, left, right, count) in pieces {
        let width = cut(k, which, left, right);
        let outline = rectangle(width.result, height.result);
        let mut part = Part::new(format!("{name} cover{which}"), Stuff::Cloth, ask.cloth, outline)
            .seen()
            .explained([along.clone(), width, height.clone()]);
        part.count = count;
        part.divided = (k > 1 && back.panels.is_none()).then(|| share.mm() * height.result.mm());
        let (x0, x1) = (left.mm(), left.mm() + share.mm());
        let (y0, y1) = (beyond.mm(), (beyond + back.height).mm());
        let board = [(x0, y0), (x1, y0), (x1, y1), (x0, y1)];
        part.marks.push(Mark::closed(
            Meaning::BoardEdge,
            Path::straight(&board.map(|(x, y)| Point::new(x, y))),
        ));
        let middle = (x0 + x1) / 2.0;
        let top = height.result.mm();
        for (from, to) in [(0.0, 8.0), (top, top - 8.0)] {
            part.marks.push(Mark::open(
                Meaning::Centre,
                vec![Point::new(middle, from), Point::new(middle, to)],
            ));
        }
        kit.parts.push(part);
    }
    kit.quantities.seam += height.result * (k as i64 - 1);
}
