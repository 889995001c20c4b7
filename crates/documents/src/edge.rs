//! Sections: what lies on what, cut through; and the fillings by which foam and board are told apart, black
//! and white first.

use crate::drawing::{Anchor, Drawing, Ink, Step};
use crate::label::PT;
use geometry::{Length, Point, Vector};
use trade::message::message;
use trade::part::Developed;
use trade::piece::Piece;
use trade::plan::Plan;

/// Foam: dots.
pub fn dots(drawing: &mut Drawing, low: Point, high: Point) {
    drawing.rect(low, high, Ink::line(0.0).filled(1.0));
    let mut steps = Vec::new();
    let step = 2.2;
    let mut row = 0;
    let mut y = low.y + step / 2.0;
    while y < high.y - 0.4 {
        let mut x = low.x + step / 2.0 + if row % 2 == 1 { step / 2.0 } else { 0.0 };
        while x < high.x - 0.4 {
            let r = if (row % 3) == 0 { 0.26 } else { 0.18 };
            let (a, b) = (Point::new(x - r, y), Point::new(x + r, y));
            steps.extend([
                Step::Move(a),
                Step::Arc(r, true, b),
                Step::Arc(r, true, a),
                Step::Close,
            ]);
            x += step;
        }
        y += step * 0.8;
        row += 1;
    }
    drawing.shape(steps, Ink::line(0.0).filled(0.45));
}

/// Board: slanted lines.
pub fn hatch(drawing: &mut Drawing, low: Point, high: Point) {
    drawing.rect(low, high, Ink::line(0.0).filled(1.0));
    let (wide, tall) = (high.x - low.x, high.y - low.y);
    let mut lines = Drawing::new(wide, tall);
    let mut steps = Vec::new();
    let mut x = 0.0;
    while x < wide + tall {
        steps.extend([Step::Move(Point::new(x, 0.0)), Step::Line(Point::new(x - tall, tall))]);
        x += 1.5;
    }
    lines.shape(steps, Ink::line(0.5 * PT).grey(0.35));
    drawing.clip(lines, Vector::new(low.x, low.y));
}

/// A diamond, the sign of a motif.
pub fn diamond(drawing: &mut Drawing, at: Point, half: f64, ink: Ink) {
    let steps = vec![
        Step::Move(at + Vector::new(-half, 0.0)),
        Step::Line(at + Vector::new(0.0, -half)),
        Step::Line(at + Vector::new(half, 0.0)),
        Step::Line(at + Vector::new(0.0, half)),
        Step::Close,
    ];
    drawing.shape(steps, ink);
}

const SIZE: f64 = 10.0 * PT;

/// The edge of a covered board, cut through: from the face down cloth, wrap, foam, board; the staple where
/// it sits.
pub fn covered(plan: &Plan, piece: &Piece, made: &Developed, wide: f64) -> Option<Drawing> {
    if made.quantities.staple_line <= Length::ZERO || piece.kind.is_sewn() {
        return None;
    }
    let board = plan.job.board_of(piece)?;
    let foam = plan.job.foam_of(piece);
    let voice = words::of(&plan.job);
    let a = trade::develop::allowances(&plan.job, made);
    // True to each other; foam over 3 in is drawn smaller.
    let foam_mm = foam.map_or(0.0, |f| f.thickness.mm());
    let (foam_tall, board_tall) = {
        let scale = (16.0 / (foam_mm + board.thickness.mm())).min(0.55);
        (
            (foam_mm * scale).max(if foam.is_some() { 5.4 } else { 0.0 }),
            (board.thickness.mm() * scale).max(5.4),
        )
    };
    let (left, right) = (1.0, wide - 3.0);
    let top = 1.5;
    let (middle, bottom) = (top + foam_tall, top + foam_tall + board_tall);
    let mut d = Drawing::new(wide, bottom + 14.0);
    let p = Point::new;
    if foam.is_some() {
        dots(&mut d, p(left, top), p(right, middle));
        d.stroke(p(left, middle), p(right, middle), Ink::line(0.6 * PT));
    }
    hatch(&mut d, p(left, middle), p(right, bottom));
    // Cloth over the face, round the edge, under the board.
    let edge = right + 0.4;
    let under = bottom + 0.5;
    let turned = left + (right - left) * 0.3;
    d.shape(
        vec![
            Step::Move(p(left, top - 0.4)),
            Step::Line(p(edge - 1.0, top - 0.4)),
            Step::Arc(1.0, true, p(edge, top + 0.6)),
            Step::Line(p(edge, under - 0.6)),
            Step::Arc(0.6, true, p(edge - 0.6, under)),
            Step::Line(p(turned, under)),
        ],
        Ink::line(2.0 * PT),
    );
    let name = |d: &mut Drawing, at: Point, text: String| {
        let frame = crate::label::text_frame(at, SIZE, Anchor::Start, &text, false);
        let more = Vector::new(0.7, 0.5);
        d.rect(frame.0 + -more, frame.1 + more, Ink::line(0.0).filled(1.0));
        d.text(at, SIZE, Anchor::Start, text);
    };
    let style = &plan.job.style;
    if let Some(foam) = foam {
        let text = message("edge-foam").text("thick", style.number(foam.thickness));
        name(&mut d, p(left + 4.0, top.midpoint(middle) + 1.2), voice.say(&text));
    }
    let text = message("edge-board").text("thick", style.number(board.thickness));
    name(&mut d, p(left + 4.0, middle.midpoint(bottom) + 1.2), voice.say(&text));
    // The staple, from below, and how far from the edge it sits.
    let staple = right - (right - left) * 0.28;
    d.shape(
        vec![
            Step::Move(p(staple - 1.2, bottom - 2.6)),
            Step::Line(p(staple - 1.2, under + 0.9)),
            Step::Line(p(staple + 1.2, under + 0.9)),
            Step::Line(p(staple + 1.2, bottom - 2.6)),
        ],
        Ink::line(1.2 * PT),
    );
    size_line(&mut d, (staple, edge), under + 3.6, &style.number(a.staple_inset));
    size_line(&mut d, (turned, edge), under + 8.6, &style.number(a.turn_under));
    Some(d)
}

/// A size under a section: the number stands in its line, which is broken for it, or left of it.
fn size_line(d: &mut Drawing, (from, to): (f64, f64), y: f64, text: &str) {
    let ink = Ink::line(0.5 * PT);
    let half = crate::letters::width(text, SIZE, false) / 2.0 + 0.8;
    let middle = from.midpoint(to);
    for x in [from, to] {
        d.stroke(Point::new(x, y - 2.2), Point::new(x, y + 0.8), ink);
    }
    let base = y + SIZE * crate::letters::RISE / 2.0;
    if to - from > 2.0 * half + 3.0 {
        d.stroke(Point::new(from, y), Point::new(middle - half, y), ink);
        d.stroke(Point::new(middle + half, y), Point::new(to, y), ink);
        d.text(Point::new(middle, base), SIZE, Anchor::Middle, text);
    } else {
        d.stroke(Point::new(from, y), Point::new(to, y), ink);
        d.text(Point::new(from - 0.9, base), SIZE, Anchor::End, text);
    }
}

/// Board and foam of one piece, with their sizes: one half hatched, the other dotted where they are alike.
pub fn board_and_foam(plan: &Plan, made: &Developed, wide: f64) -> Option<Drawing> {
    use trade::part::Stuff;
    let style = &plan.job.style;
    let of = |stuff: Stuff| made.parts.iter().find(|p| p.stuff == stuff && !made.is_twin(p));
    let (board, foam) = (of(Stuff::Board), of(Stuff::Foam));
    let shown = board.or(foam)?;
    let (low, high) = shown.outline.outer.bounds();
    let (w, h) = (high.x - low.x, high.y - low.y);
    let (left, below) = (9.0, 9.5);
    let scale = ((wide - left - 2.0) / w).min(34.0 / h);
    let mut d = Drawing::new(w * scale + left + 2.0, h * scale + 1.0 + below);
    let view = crate::drawing::View {
        scale,
        origin: Point::new(left - low.x * scale, 1.0 + high.y * scale),
        axes: crate::drawing::Axes::Upright,
    };
    let (a, b) = view.band(low, high);
    let middle = a.x.midpoint(b.x);
    let alike =
        board.zip(foam).is_some_and(|(x, y)| x.printed_size(style) == y.printed_size(style));
    match (board, foam) {
        (Some(_), Some(_)) if alike => {
            hatch(&mut d, a, Point::new(middle, b.y));
            dots(&mut d, Point::new(middle, a.y), b);
        }
        (Some(_), _) => hatch(&mut d, a, b),
        _ => dots(&mut d, a, b),
    }
    // What lies outside the outline is white again.
    outside(&mut d, &view, &shown.outline.outer, (a, b));
    d.shape(view.path(&shown.outline.outer), Ink::line(1.3 * PT));
    for hole in &shown.outline.holes {
        d.shape(view.path(hole), Ink::line(PT).filled(1.0));
    }
    let name = |d: &mut Drawing, x: f64, tag: &str| {
        let at = Point::new(x, a.y.midpoint(b.y) + 1.4);
        let frame = crate::label::text_frame(at, 12.0 * PT, Anchor::Middle, tag, true);
        let more = Vector::new(0.8, 0.7);
        d.rect(frame.0 + -more, frame.1 + more, Ink::line(0.0).filled(1.0));
        d.bold(at, 12.0 * PT, Anchor::Middle, tag);
    };
    match (board, foam) {
        (Some(board), Some(foam)) if alike => {
            name(&mut d, a.x.midpoint(middle), &board.id);
            name(&mut d, middle.midpoint(b.x), &foam.id);
        }
        _ => name(&mut d, middle, &shown.id),
    }
    let (pw, ph) = shown.printed_size(style);
    d.dimension(Point::new(a.x, b.y), Point::new(b.x, b.y), -5.0, 11.0 * PT, &style.number(pw));
    d.dimension(Point::new(a.x, b.y), Point::new(a.x, a.y), 5.0, 11.0 * PT, &style.number(ph));
    Some(d)
}

/// Covers with white what of a box lies outside an outline.
fn outside(
    d: &mut Drawing,
    view: &crate::drawing::View,
    outline: &geometry::Path,
    frame: (Point, Point),
) {
    let (a, b) = frame;
    let mut steps = vec![
        Step::Move(Point::new(a.x - 0.2, a.y - 0.2)),
        Step::Line(Point::new(b.x + 0.2, a.y - 0.2)),
        Step::Line(Point::new(b.x + 0.2, b.y + 0.2)),
        Step::Line(Point::new(a.x - 0.2, b.y + 0.2)),
        Step::Close,
    ];
    // Wound the other way round, so that the outline is a hole of the box.
    steps.extend(view.path(&outline.clone()));
    d.shape(steps, Ink::line(0.0).filled(1.0));
}
