//! A back bent to a curve: its inside and outside faces differ in length, and each is cut in as many
//! widths as the cloth asks for.

use super::boxed::TENTH;
use super::strips::rectangle;
use super::{Ask, Kit};
use crate::fault::Fault;
use crate::kind::{Curved, CurvedFaces};
use crate::panel::Side;
use crate::part::{CornerHow, CornerWork, Mark, Meaning, Part, Stuff};
use crate::working::{Term, Working};
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
    let (f, b) = (ask.build.foam, ask.build.board);
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
    let mut kit = Kit { finished: (back.chord, back.height), ..Kit::default() };
    let board_face = Length::from_mm(long(0.0)).round_even(TENTH);
    kit.workings = vec![
        Working::new(
            "radius of the board's hollow face",
            vec![
                Term::Length(back.chord),
                Term::Text("² / (8 × "),
                Term::Length(back.rise),
                Term::Text(") + "),
                Term::Length(back.rise),
                Term::Text(" / 2"),
            ],
            Length::from_mm(if radius.is_finite() { radius } else { 0.0 }).round_even(TENTH),
        ),
        Working::new("length along it", vec![Term::Text("arc")], board_face),
    ];
    if back.rise == Length::ZERO {
        kit.workings.clear();
    }
    let padded = |name: &str, off: Length, kit: &mut Kit| {
        face(
            ask,
            back,
            name,
            Length::from_mm(long(off.mm())),
            ask.build.reach(&Side::default()),
            kit,
        )
    };
    match back.faces {
        CurvedFaces::Inside => padded("inside", -f, &mut kit)?,
        CurvedFaces::Outside => padded("outside", b + f, &mut kit)?,
        CurvedFaces::Both => {
            padded("inside", -f, &mut kit)?;
            let plain = Length::from_mm(long(b.mm()));
            let beyond = ask.build.allowances.tack_strip;
            face(ask, back, "outside", plain, beyond, &mut kit)?;
            kit.quantities.tack_strip = (plain + back.height) * 2;
        }
    }
    let flat = |length: f64, stuff: Stuff, name: &str, material: &str| {
        let long = Length::from_mm(length).round_up(ask.build.allowances.cut_step);
        Part::new(name, stuff, material, rectangle(long, back.height))
    };
    let outward = back.faces == CurvedFaces::Outside;
    let middle_of_foam = if outward { (b + f.share(2)).mm() } else { -f.mm() / 2.0 };
    if let Some(name) = ask.foam {
        kit.parts.push(flat(long(middle_of_foam), Stuff::Foam, "foam", name));
    }
    if let Some(name) = ask.board {
        kit.parts.push(flat(long(b.mm() / 2.0), Stuff::Board, "board, to bend", name));
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

/// One face of `arc`, in equal widths, with `beyond` on every outer edge.
fn face(
    ask: &Ask,
    back: &Curved,
    name: &str,
    arc: Length,
    beyond: Length,
    kit: &mut Kit,
) -> Result<(), Vec<Fault>> {
    let a = ask.build.allowances;
    let widest = |k: usize| {
        let share = arc.share(k as i64);
        if k == 1 { share + beyond * 2 } else { share + a.seam + beyond.max(a.seam) }
    };
    let fits = |k: &usize| widest(*k).round_up(a.cut_step) <= ask.usable;
    let k = match back.panels {
        Some(k) => k,
        None if ask.railroads => 1,
        None => (1..=MOST_PANELS).find(fits).unwrap_or(1),
    };
    let k = k.max(1);
    let share = arc.share(k as i64);
    let height = back.height + beyond * 2;
    let pieces: &[(&str, Length, usize)] = &match k {
        1 => vec![("", share + beyond * 2, 1)],
        2 => vec![
            (", left width", share + beyond + a.seam, 1),
            (", right width", share + beyond + a.seam, 1),
        ],
        _ => vec![
            (", left width", share + beyond + a.seam, 1),
            (", middle width", share + a.seam * 2, k - 2),
            (", right width", share + beyond + a.seam, 1),
        ],
    };
    for (which, width, count) in pieces {
        let width = width.round_up(a.cut_step);
        let mut part = Part::new(
            format!("{name} cover{which}"),
            Stuff::Cloth,
            ask.cloth,
            rectangle(width, height),
        )
        .seen();
        part.count = *count;
        let left =
            if which.contains("middle") || which.contains("right") { a.seam } else { beyond };
        let (x0, x1) = (left.mm(), left.mm() + share.mm());
        let (y0, y1) = (beyond.mm(), (beyond + back.height).mm());
        let board = [(x0, y0), (x1, y0), (x1, y1), (x0, y1)];
        part.marks.push(Mark::closed(
            Meaning::BoardEdge,
            Path::straight(&board.map(|(x, y)| Point::new(x, y))),
        ));
        let middle = (x0 + x1) / 2.0;
        for (from, to) in [(0.0, 8.0), (height.mm(), height.mm() - 8.0)] {
            part.marks.push(Mark::open(
                Meaning::Centre,
                vec![Point::new(middle, from), Point::new(middle, to)],
            ));
        }
        part.workings = vec![
            Working::new(
                format!("{name} face{which}"),
                vec![
                    Term::Length(arc.round_even(TENTH)),
                    Term::Text(" / "),
                    Term::Number(k as f64),
                    Term::Text(" + "),
                    Term::Length((width - share).round_even(TENTH)),
                ],
                width,
            ),
            Working::grown("cut height", back.height, &[beyond]),
        ];
        kit.parts.push(part);
    }
    kit.quantities.seam += height * (k as i64 - 1);
    Ok(())
}
