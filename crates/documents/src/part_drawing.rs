//! A part with its dimensions, its board, slits, pleats, folds: the picture on the bench sheet.

use crate::drawing::{Anchor, Axes, Drawing, Ink, Step, View, text_width};
use geometry::{Outline, Path, Point, Vector};
use trade::part::{Line, Meaning, Part};
use trade::working::Style;

/// A part drawn to fit a box, with its scale.
pub fn draw(style: &Style, part: &Part, width: f64, height: f64) -> (f64, Drawing) {
    let (low, high) = part.outline.outer.bounds();
    let (w, h) = (high.x - low.x, high.y - low.y);
    let framed = part.marks.iter().any(|m| m.meaning == Meaning::BoardEdge);
    // Room for one row of dimensions, or two where the board has its own.
    let (left, top, around) = if framed { (17.0, 3.0, 17.0) } else { (10.0, 3.0, 10.0) };
    let room = ((width - left - 3.0) / w, (height - top - around) / h);
    let one_in = neat(1.0 / room.0.min(room.1));
    let scale = 1.0 / one_in;
    let mut drawing = Drawing::new(w * scale + left + 3.0, h * scale + top + around);
    let view = View {
        scale,
        origin: Point::new(left - low.x * scale, top + high.y * scale),
        axes: Axes::Upright,
    };
    drawing.shape(view.path(&part.outline.outer), Ink::line(0.45).filled(0.97));
    for hole in &part.outline.holes {
        drawing.shape(view.path(hole), Ink::line(0.35).filled(1.0));
    }
    let mut board: Option<&Path> = None;
    for mark in &part.marks {
        if let (Meaning::BoardEdge, Line::Closed(path)) = (mark.meaning, &mark.line) {
            board = Some(path);
        }
        let steps = match &mark.line {
            Line::Open(points) => view.line(points),
            Line::Closed(path) => view.path(path),
        };
        drawing.shape(steps, ink(mark.meaning));
    }
    up_arrow(&mut drawing, &view, part, low, high);
    let size = 11.0 * crate::label::PT;
    let p = |x: f64, y: f64| view.at(Point::new(x, y));
    let sized = |outline: &Path| Outline::solid(outline.clone()).size();
    let (cut_w, cut_h) = part.size();
    let (shown_w, shown_h) = part.printed_size(style);
    if let Some(board) = board {
        let (b_low, b_high) = board.bounds();
        let (bw, bh) = sized(board);
        if (bw, bh) != (cut_w, cut_h) {
            drawing.dimension(
                p(b_low.x, low.y),
                p(b_high.x, low.y),
                -5.5,
                size,
                &style.chalk_number(bw),
            );
            drawing.dimension(
                p(low.x, b_low.y),
                p(low.x, b_high.y),
                5.5,
                size,
                &style.chalk_number(bh),
            );
        }
    }
    let off = if framed { 12.5 } else { 5.5 };
    drawing.dimension(p(low.x, low.y), p(high.x, low.y), -off, size, &style.number(shown_w));
    drawing.dimension(p(low.x, low.y), p(low.x, high.y), off, size, &style.number(shown_h));
    (one_in, drawing)
}

/// A part at full size without dimensions, its origin at a point of the drawing.
pub fn plain(drawing: &mut Drawing, part: &Part, origin: Point) {
    let view = View { scale: 1.0, origin, axes: Axes::Upright };
    drawing.shape(view.path(&part.outline.outer), Ink::line(0.4));
    for hole in &part.outline.holes {
        drawing.shape(view.path(hole), Ink::line(0.4));
    }
    for mark in &part.marks {
        let steps = match &mark.line {
            Line::Open(points) => view.line(points),
            Line::Closed(path) => view.path(path),
        };
        drawing.shape(steps, Ink { fill: None, ..ink(mark.meaning) });
    }
}

/// A part at full size in layers by meaning: what is cut, what is marked, what is written.
pub fn layers(part: &Part) -> [(&'static str, Drawing); 3] {
    let (low, high) = part.outline.outer.bounds();
    let edge = 5.0;
    let empty = || Drawing::new(high.x - low.x + 2.0 * edge, high.y - low.y + 2.0 * edge);
    let view =
        View { scale: 1.0, origin: Point::new(edge - low.x, edge + high.y), axes: Axes::Upright };
    let (mut cut, mut mark, mut text) = (empty(), empty(), empty());
    cut.shape(view.path(&part.outline.outer), Ink::line(0.2));
    for hole in &part.outline.holes {
        cut.shape(view.path(hole), Ink::line(0.2));
    }
    for m in &part.marks {
        let steps = match &m.line {
            Line::Open(points) => view.line(points),
            Line::Closed(path) => view.path(path),
        };
        let layer = if m.meaning == Meaning::Slit { &mut cut } else { &mut mark };
        layer.shape(steps, Ink::line(0.2));
    }
    let middle = view.at(low.middle(high));
    text.bold(middle, 8.0, Anchor::Middle, &part.id);
    let (foot, tip) = (middle + Vector::new(0.0, 30.0), middle + Vector::new(0.0, 10.0));
    let barbs = [Vector::new(-2.0, 4.0), Vector::new(2.0, 4.0)];
    mark.stroke(foot, tip, Ink::line(0.2));
    barbs.into_iter().for_each(|b| mark.stroke(tip, tip + b, Ink::line(0.2)));
    [("cut", cut), ("mark", mark), ("text", text)]
}

/// The next of 1, 1.5, 2, 2.5, 3, 4, 5, 6, 8 times a power of ten.
fn neat(one_in: f64) -> f64 {
    let power = libm::pow(10.0, libm::log10(one_in.max(0.1)).floor());
    let steps = [1.0, 1.5, 2.0, 2.5, 3.0, 4.0, 5.0, 6.0, 8.0, 10.0];
    steps.iter().map(|s| s * power).find(|s| *s >= one_in - 1e-9).unwrap_or(one_in)
}

const fn ink(meaning: Meaning) -> Ink {
    match meaning {
        Meaning::BoardEdge => Ink::dashed(0.25, 2.4, 1.0),
        Meaning::FoamEdge => Ink::dashed(0.2, 0.8, 0.8),
        Meaning::Fold => Ink::dashed(0.2, 1.6, 0.6).grey(0.3),
        Meaning::Stitch => Ink::dashed(0.25, 1.2, 0.7),
        Meaning::Staples => Ink::dashed(0.2, 0.35, 1.0).grey(0.35),
        Meaning::Slit => Ink::line(0.55),
        Meaning::CutAway => Ink::line(0.3).filled(0.8),
        Meaning::Pleat => Ink::line(0.25),
        Meaning::Centre => Ink::line(0.5),
        Meaning::Notch => Ink::line(0.4),
        Meaning::Button => Ink::line(0.3).filled(0.2),
    }
}

/// What each line means, for the legend under a drawing: only those that occur.
pub fn legend(part: &Part) -> Vec<(&'static str, Drawing)> {
    let words = [
        (Meaning::BoardEdge, "legend-board"),
        (Meaning::FoamEdge, "legend-foam"),
        (Meaning::Staples, "legend-staples"),
        (Meaning::Slit, "legend-cut"),
        (Meaning::CutAway, "legend-cut-away"),
        (Meaning::Fold, "legend-fold"),
        (Meaning::Stitch, "legend-stitch"),
        (Meaning::Pleat, "legend-pleat"),
        (Meaning::Notch, "legend-notch"),
        (Meaning::Button, "legend-button"),
    ];
    words
        .into_iter()
        .filter(|(meaning, _)| part.marks.iter().any(|m| m.meaning == *meaning))
        .map(|(meaning, word)| {
            let mut sample = Drawing::new(9.0, 2.4);
            let ink = ink(meaning);
            if meaning == Meaning::CutAway {
                sample.rect(Point::new(1.0, 0.3), Point::new(8.0, 2.1), ink);
            } else {
                sample.stroke(Point::new(0.5, 1.2), Point::new(8.5, 1.2), ink);
            }
            (word, sample)
        })
        .collect()
}

fn up_arrow(drawing: &mut Drawing, view: &View, part: &Part, low: Point, high: Point) {
    // The middle, unless an opening is drawn there.
    let share =
        |x: f64, y: f64| Point::new(low.x + (high.x - low.x) * x, low.y + (high.y - low.y) * y);
    let covered = |p: &Point| {
        part.marks.iter().any(|mark| match (&mark.line, mark.meaning) {
            (Line::Closed(path), Meaning::Fold) => {
                let (a, b) = path.bounds();
                let room = (high.y - low.y) * 0.25;
                a.x <= p.x && p.x <= b.x && a.y - room <= p.y && p.y <= b.y + room
            }
            _ => false,
        })
    };
    let places =
        [share(0.5, 0.5), share(0.5, 0.68), share(0.5, 0.35), share(0.3, 0.5), share(0.7, 0.5)];
    let Some(place) = places.into_iter().find(|p| !covered(p)) else { return };
    let middle = view.at(place);
    let length = ((high.y - low.y).min(high.x - low.x) * view.scale * 0.45).min(22.0);
    if length < 4.0 {
        return;
    }
    let (tail, tip) = (
        Point::new(middle.x, middle.y + length / 2.0),
        Point::new(middle.x, middle.y - length / 2.0),
    );
    let ink = Ink::line(0.6).grey(0.55);
    drawing.stroke(tail, tip, ink);
    let barb = length * 0.2;
    drawing.shape(
        vec![
            Step::Move(Point::new(tip.x - barb * 0.6, tip.y + barb)),
            Step::Line(tip),
            Step::Line(Point::new(tip.x + barb * 0.6, tip.y + barb)),
        ],
        ink,
    );
    let size = 9.0 * crate::label::PT;
    if length > 3.0 * size {
        let width = text_width("top", size);
        drawing.rect(
            Point::new(middle.x - width / 2.0 - 0.6, middle.y - size * 0.6),
            Point::new(middle.x + width / 2.0 + 0.6, middle.y + size * 0.6),
            Ink::line(0.0).filled(0.97),
        );
        drawing.text(Point::new(middle.x, middle.y + size * 0.36), size, Anchor::Middle, "top");
    }
}
