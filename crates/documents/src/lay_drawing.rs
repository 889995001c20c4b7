//! A lay to scale: selvedges, parts with their arrows, flaws, motifs, distances from the cut end.

use crate::drawing::{Anchor, Axes, Drawing, Ink, Step, View, text_width};
use geometry::{Length, Path, Point, Spot, Vector};
use lay::{Placement, Stock, Strip};
use trade::lays::ClothLay;
use trade::part::{Line, Meaning};
use trade::plan::Plan;
use trade::remnants;

/// How large letters are and how much is written.
struct Look {
    /// Type height in mm.
    size: f64,
    /// Line width in mm.
    line: f64,
    /// Left of the cut end.
    before: f64,
    /// Above the left selvedge.
    above: f64,
    /// Below the right selvedge.
    below: f64,
}

/// Widths of the cutting plan's drawing on paper, mm.
const ROW: f64 = 262.0;
const ROW_ON_LETTER: f64 = 248.0;

/// Height there is for rows on one page.
const PAGE: f64 = 150.0;

const ON_PAPER: Look = Look { size: 2.6, line: 0.25, before: 9.0, above: 5.0, below: 8.5 };

/// Every strip of a lay as rows of paper drawings, with the scale they are drawn at.
pub fn rows(plan: &Plan, lay: &ClothLay, strip: &Strip) -> (f64, Vec<Drawing>) {
    let width = cloth_width(plan, lay, strip).mm();
    let length = shown_length(lay, strip).mm();
    // Within the margins, where every printer prints: Letter is shorter than A4.
    let room = if plan.job.letter_paper { ROW_ON_LETTER } else { ROW };
    let fits = |one_in: f64| {
        let per_row = (room - ON_PAPER.before - 4.0) * one_in;
        let row = width / one_in + ON_PAPER.above + ON_PAPER.below;
        let rows = (length / per_row).ceil().max(1.0);
        rows * row <= PAGE && row <= PAGE
    };
    let steps = [4.0, 5.0, 8.0, 10.0, 12.0, 15.0, 20.0, 25.0, 30.0, 40.0, 50.0, 80.0, 100.0, 200.0];
    let one_in = steps.into_iter().find(|s| fits(*s)).unwrap_or(200.0);
    // Long lays are easier to read a little larger over two pages.
    let one_in = if one_in > 30.0 { (one_in * 0.6).max(30.0) } else { one_in };
    let per_row = (room - ON_PAPER.before - 4.0) * one_in;
    let count = (length / per_row).ceil().max(1.0) as usize;
    let drawings = (0..count)
        .map(|i| {
            let from = per_row * i as f64;
            let to = (from + per_row).min(length);
            draw(plan, lay, strip, 1.0 / one_in, (from, to), &ON_PAPER)
        })
        .collect();
    (one_in, drawings)
}

/// Every strip of a lay in one drawing that is easy to read on a screen.
pub fn screen(plan: &Plan, lay: &ClothLay) -> Vec<Drawing> {
    lay.answer
        .lay
        .strips
        .iter()
        .map(|strip| {
            let whole = (0.0, shown_length(lay, strip).mm());
            draw(plan, lay, strip, on_screen(plan, lay, strip), whole, &ON_PAPER)
        })
        .collect()
}

/// The scale of a strip on a screen.
fn on_screen(plan: &Plan, lay: &ClothLay, strip: &Strip) -> f64 {
    1.0 / (cloth_width(plan, lay, strip).mm() / 90.0).max(4.0)
}

/// Where the parts of a strip are in its drawing for a screen, to take hold of them.
pub struct Handles {
    /// Drawing units for a millimetre of cloth.
    pub scale: f64,
    /// Where the left selvedge meets the cut end in the drawing.
    pub origin: Point,
    /// The cloth lies face down: across it the drawing runs the other way.
    pub face_down: bool,
    /// Of each placement of the strip: the box round it, upper left and lower right in the drawing.
    pub boxes: Vec<(Point, Point)>,
}

/// The handles of a strip in its drawing of [`screen`].
pub fn handles(plan: &Plan, lay: &ClothLay, strip: &Strip) -> Handles {
    let scale = on_screen(plan, lay, strip);
    let view = view(plan, lay, strip, scale, 0.0, &ON_PAPER);
    let of = |p: &Placement| {
        let b = lay.instance.items[p.item].shape.turned(p.turn).bounds().moved(p.at);
        view.band(b.low.point(), b.high.point())
    };
    Handles {
        scale,
        origin: view.at(Point::new(0.0, 0.0)),
        face_down: view.axes == Axes::RollRightFaceDown,
        boxes: strip.placements.iter().map(of).collect(),
    }
}

/// How a strip from a place on lies in its drawing.
fn view(plan: &Plan, lay: &ClothLay, strip: &Strip, scale: f64, from: f64, look: &Look) -> View {
    let left = look.before - from * scale;
    if plan.job.cloths[lay.cloth].chalk_back {
        let width = cloth_width(plan, lay, strip).mm();
        let origin = Point::new(left, look.above + width * scale);
        View { scale, origin, axes: Axes::RollRightFaceDown }
    } else {
        View { scale, origin: Point::new(left, look.above), axes: Axes::RollRight }
    }
}

/// Every strip of a lay in one drawing at full size.
pub fn true_scale(plan: &Plan, lay: &ClothLay) -> Vec<Drawing> {
    let look = Look { size: 28.0, line: 1.5, before: 60.0, above: 60.0, below: 80.0 };
    lay.answer
        .lay
        .strips
        .iter()
        .map(|strip| draw(plan, lay, strip, 1.0, (0.0, shown_length(lay, strip).mm()), &look))
        .collect()
}

/// Every strip of a lay for a cutter: layers by meaning, the roll running to the right.
pub fn layers(plan: &Plan, lay: &ClothLay) -> Vec<[(&'static str, Drawing); 3]> {
    lay.answer
        .lay
        .strips
        .iter()
        .map(|strip| {
            let width = cloth_width(plan, lay, strip).mm();
            let empty = || Drawing::new(shown_length(lay, strip).mm(), width);
            let view = View { scale: 1.0, origin: Point::new(0.0, 0.0), axes: Axes::RollRight };
            let (mut cut, mut mark, mut text) = (empty(), empty(), empty());
            mark.rect(Point::new(0.0, 0.0), Point::new(mark.width, width), Ink::line(0.2));
            for placement in &strip.placements {
                let part = &lay.parts[placement.item].part;
                let p = placement.at.point();
                let by = Vector::new(p.x, p.y);
                let outer = placed(lay, placement);
                cut.shape(view.path(&outer), Ink::line(0.2));
                for hole in &part.outline.holes {
                    let hole = hole.turned(placement.turn).moved(by);
                    cut.shape(view.path(&hole), Ink::line(0.2));
                }
                for m in &part.marks {
                    let layer = if m.meaning == Meaning::Slit { &mut cut } else { &mut mark };
                    let steps = match &m.line {
                        Line::Closed(path) => view.path(&path.turned(placement.turn).moved(by)),
                        Line::Open(points) => {
                            let points: Vec<Point> =
                                points.iter().map(|q| q.turned(placement.turn) + by).collect();
                            view.line(&points)
                        }
                    };
                    layer.shape(steps, Ink::line(0.2));
                }
                let (low, high) = outer.bounds();
                text.bold(view.at(low.middle(high)), 12.0, Anchor::Middle, &part.id);
            }
            [("cut", cut), ("mark", mark), ("text", text)]
        })
        .collect()
}

/// A whole piece on hand, or what is used of new cloth and what its purchase brings besides.
fn shown_length(lay: &ClothLay, strip: &Strip) -> Length {
    match strip.stock {
        Stock::OnHand(i) => lay.instance.on_hand[i].length,
        Stock::New(_) => lay.instance.buying.purchase(strip.length),
    }
}

/// Selvedge to selvedge.
pub fn cloth_width(plan: &Plan, lay: &ClothLay, strip: &Strip) -> Length {
    let cloth = &plan.job.cloths[lay.cloth];
    match strip.stock {
        Stock::OnHand(i) => cloth.on_hand[i].width.unwrap_or(cloth.width),
        Stock::New(_) => cloth.width,
    }
}

fn draw(
    plan: &Plan,
    lay: &ClothLay,
    strip: &Strip,
    scale: f64,
    (from, to): (f64, f64),
    look: &Look,
) -> Drawing {
    let style = &plan.job.style;
    let width = cloth_width(plan, lay, strip).mm();
    let mut drawing = Drawing::new(
        look.before + (to - from) * scale + 6.0 * look.size / 2.6,
        look.above + width * scale + look.below,
    );
    let view = view(plan, lay, strip, scale, from, look);
    let band = |x0: f64, y0: f64, x1: f64, y1: f64| {
        view.band(Point::new(x0, y0.max(from)), Point::new(x1, y1.min(to)))
    };
    // Cloth, then what of it is not used.
    let (low, high) = band(0.0, from, width, to);
    drawing.rect(low, high, Ink::line(0.0).filled(0.97));
    let (left, right) = lay.instance.usable(strip.stock);
    for (a, b) in [(0.0, left.mm()), (right.mm(), width)] {
        if b > a {
            let (low, high) = band(a, from, b, to);
            drawing.rect(low, high, Ink::line(0.0).filled(0.85));
        }
    }
    for placement in &strip.placements {
        let path = placed(lay, placement);
        drawing.shape(view.path(&path), Ink::line(look.line).filled(1.0));
    }
    motifs(&mut drawing, lay, strip, &view, (from, to), look);
    keep(&mut drawing, plan, lay, strip, &view, (from, to), look);
    for flaw in lay.instance.flaws(strip.stock) {
        let (low, high) = band(
            Length::from_nm(flaw.low.x).mm(),
            Length::from_nm(flaw.low.y).mm(),
            Length::from_nm(flaw.high.x).mm(),
            Length::from_nm(flaw.high.y).mm(),
        );
        if from < flaw.high.point().y && flaw.low.point().y < to {
            drawing.rect(low, high, Ink::line(look.line * 2.0).filled(0.6));
            drawing.stroke(low, high, Ink::line(look.line));
            drawing.stroke(
                Point::new(low.x, high.y),
                Point::new(high.x, low.y),
                Ink::line(look.line),
            );
            drawing.text(
                Point::new(high.x + look.size * 0.3, low.y + look.size),
                look.size,
                Anchor::Start,
                "flaw",
            );
        }
    }
    // Names last: they must be read.
    for (i, placement) in strip.placements.iter().enumerate() {
        name_part(&mut drawing, plan, lay, placement, i, &view, (from, to), look);
    }
    // Parts that go on over the ends of a row are cut off there.
    let (page_right, page_low) = (drawing.width, drawing.height);
    let white = Ink::line(0.0).filled(1.0);
    drawing.rect(Point::new(-9.0, 0.0), Point::new(low.x, page_low), white);
    drawing.rect(Point::new(high.x, 0.0), Point::new(page_right + 9.0, page_low), white);
    drawing.rect(low, high, Ink::line(look.line * 1.6));
    // The end of what is used.
    let used = strip.length.mm();
    if from < used && used < to {
        let (a, b) = (view.at(Point::new(0.0, used)), view.at(Point::new(width, used)));
        drawing.stroke(a, b, Ink::dashed(look.line * 1.6, look.size, look.size * 0.6));
    }
    ruler(&mut drawing, plan, lay, strip, &view, (from, to), width, look);
    drawing.upwards(
        Point::new(low.x - look.size * 0.9, high.y.midpoint(low.y)),
        look.size,
        Anchor::Middle,
        if from == 0.0 { "cut end" } else { "goes on" },
    );
    drawing.text(
        Point::new(low.x, low.y - look.size * 0.5),
        look.size,
        Anchor::Start,
        format!(
            "{} — width {}, roll runs to the right →",
            if view.axes == Axes::RollRightFaceDown {
                "right selvedge, cloth face down"
            } else {
                "left selvedge"
            },
            style.show(Length::from_mm(width))
        ),
    );
    drawing
}

/// Small crosses where motifs fall.
fn motifs(
    drawing: &mut Drawing,
    lay: &ClothLay,
    strip: &Strip,
    view: &View,
    (from, to): (f64, f64),
    look: &Look,
) {
    let Some(pattern) = &lay.instance.pattern else { return };
    let (Some(width), Some(length)) = (pattern.width, pattern.length) else { return };
    let motif = lay.instance.motif(strip.stock);
    let (left, right) = lay.instance.usable(strip.stock);
    let (rx, ry) = (width.nm(), length.nm());
    // A fine repeat would only blacken the page.
    let across = (right - left).nm() / rx;
    let along = Length::from_mm(to - from).nm() / ry;
    if across.saturating_mul(along) > 3000 {
        return;
    }
    let mut column = (left.nm() - motif.x).div_euclid(rx);
    while motif.x + column * rx <= right.nm() {
        let x = motif.x + column * rx;
        let shift =
            if pattern.drop == lay::Drop::Half && column.rem_euclid(2) == 1 { ry / 2 } else { 0 };
        let mut row = (Length::from_mm(from).nm() - motif.y - shift).div_euclid(ry);
        loop {
            let spot = Spot::new(x, motif.y + shift + row * ry).point();
            if spot.y > to {
                break;
            }
            if spot.y >= from && spot.x >= left.mm() {
                let p = view.at(spot);
                let arm = look.size * 0.45;
                let ink = Ink::line(look.line * 0.8).grey(0.45);
                drawing.stroke(p + Vector::new(-arm, 0.0), p + Vector::new(arm, 0.0), ink);
                drawing.stroke(p + Vector::new(0.0, -arm), p + Vector::new(0.0, arm), ink);
            }
            row += 1;
        }
        column += 1;
    }
}

/// What is worth keeping, dashed, with its name and size.
fn keep(
    drawing: &mut Drawing,
    plan: &Plan,
    lay: &ClothLay,
    strip: &Strip,
    view: &View,
    (from, to): (f64, f64),
    look: &Look,
) {
    let style = &plan.job.style;
    for kept in remnants::kept(lay) {
        let (low, high) = (kept.place.low.point(), kept.place.high.point());
        if lay.answer.lay.strips[kept.strip].stock != strip.stock || high.y <= from || to <= low.y {
            continue;
        }
        let (a, b) =
            view.band(Point::new(low.x, low.y.max(from)), Point::new(high.x, high.y.min(to)));
        let inset = Vector::new(look.size * 0.3, look.size * 0.3);
        let ink = Ink::dashed(look.line, look.size * 0.6, look.size * 0.4);
        drawing.rect(a + inset, b + -inset, ink.grey(0.45));
        let words = format!(
            "keep {}: {} × {}",
            kept.id,
            style.chalk_number(kept.place.width()),
            style.chalk_number(kept.place.height())
        );
        // Where there is no room for the size, the name alone; the list below has the rest.
        let room = (b.x - a.x) - look.size;
        let words = if text_width(&words, look.size) < room { words } else { kept.id };
        if text_width(&words, look.size) < room && b.y - a.y > 2.0 * look.size {
            let middle = a.middle(b) + Vector::new(0.0, look.size * 0.35);
            drawing.text(middle, look.size, Anchor::Middle, words);
        }
    }
}

/// A part's outline where it lies.
fn placed(lay: &ClothLay, placement: &Placement) -> Path {
    let p = placement.at.point();
    let part = &lay.parts[placement.item].part;
    part.outline.outer.turned(placement.turn).moved(Vector::new(p.x, p.y))
}

#[allow(clippy::too_many_arguments)] // One part of one strip of one lay, on one view: all are needed.
fn name_part(
    drawing: &mut Drawing,
    plan: &Plan,
    lay: &ClothLay,
    placement: &Placement,
    index: usize,
    view: &View,
    (from, to): (f64, f64),
    look: &Look,
) {
    let laid = &lay.parts[placement.item];
    let (low, high) = placed(lay, placement).bounds();
    if high.y <= from || low.y >= to {
        return;
    }
    // What of it shows, on paper.
    let (a, b) = view.band(Point::new(low.x, low.y.max(from)), Point::new(high.x, high.y.min(to)));
    let (w, h) = (b.x - a.x, b.y - a.y);
    let centre = a.middle(b);
    let style = &plan.job.style;
    let id = format!("{}. {}", index + 1, laid.part.id);
    let size = laid.part.printed(style);
    let name = match laid.part.hand {
        Some(hand) => format!("{} {hand}", words::of(&plan.job).say(&laid.part.name)),
        None => words::of(&plan.job).say(&laid.part.name),
    };
    let lines = [(id, true), (name, false), (size, false)];
    let taken = label(drawing, &lines, centre, w, h, look);
    // The arrow stands beside the label, where there is room.
    let side = look.size * 3.4;
    let turn = if view.axes == Axes::RollRightFaceDown { -placement.turn } else { placement.turn };
    if (w - taken.0) / 2.0 >= side {
        arrow(drawing, turn, Point::new(a.x + side * 0.6, centre.y), h.min(side * 1.5), look);
    } else if (h - taken.1) / 2.0 >= side {
        arrow(drawing, turn, Point::new(centre.x, a.y + side * 0.6), w.min(side), look);
    }
}

/// A part's label: as many lines as fit, along its longer side. Returns the width and height taken.
fn label(
    drawing: &mut Drawing,
    lines: &[(String, bool)],
    centre: Point,
    w: f64,
    h: f64,
    look: &Look,
) -> (f64, f64) {
    let level = w >= h || text_width(&lines[0].0, look.size) <= w - look.size * 0.4;
    let (along, across) = if level { (w, h) } else { (h, w) };
    let step = look.size * 1.25;
    let fits = |text: &str, size: f64| text_width(text, size) <= along - size * 0.4;
    let shown: Vec<&(String, bool)> = {
        let room = ((across - look.size * 0.3) / step).floor().max(0.0) as usize;
        lines.iter().filter(|l| fits(&l.0, look.size)).take(room).collect()
    };
    if shown.is_empty() {
        // Too small for full type: the number alone, as large as goes.
        let (text, _) = &lines[0];
        let size = (across * 0.8).min(along / (text_width(text, 1.0) + 0.3)).min(look.size);
        if size >= look.size * 0.7 {
            if level {
                drawing.bold(
                    Point::new(centre.x, centre.y + size * 0.36),
                    size,
                    Anchor::Middle,
                    text,
                );
            } else {
                drawing.upwards(
                    Point::new(centre.x + size * 0.36, centre.y),
                    size,
                    Anchor::Middle,
                    text,
                );
            }
        }
        return if level { (along, size) } else { (size, along) };
    }
    let n = shown.len() as f64;
    let widest = shown.iter().map(|l| text_width(&l.0, look.size)).fold(0.0, f64::max);
    for (i, (text, bold)) in shown.into_iter().enumerate() {
        let off = (i as f64 - (n - 1.0) / 2.0) * step + look.size * 0.36;
        let turn = if level { 0.0 } else { -90.0 };
        let at = if level {
            Point::new(centre.x, centre.y + off)
        } else {
            Point::new(centre.x + off, centre.y)
        };
        // A white patch keeps motifs out of the letters.
        let (half, rise) = (text_width(text, look.size) / 2.0, look.size * 0.5);
        let patch = if level { Vector::new(half, rise) } else { Vector::new(rise, half) };
        let middle = if level {
            Point::new(at.x, at.y - look.size * 0.36)
        } else {
            Point::new(at.x - look.size * 0.36, at.y)
        };
        drawing.rect(middle + -patch, middle + patch, Ink::line(0.0).filled(1.0));
        drawing.items.push(crate::drawing::Item::Text {
            at,
            text: text.clone(),
            size: look.size,
            anchor: Anchor::Middle,
            turn,
            bold: *bold,
        });
    }
    if level { (widest, n * step) } else { (n * step, widest) }
}

/// Which way the part's top lies.
fn arrow(drawing: &mut Drawing, turn: f64, centre: Point, room: f64, look: &Look) {
    let length = (room * 0.8).min(look.size * 7.0);
    if length < look.size * 1.2 {
        return;
    }
    // A part's top is +y on the cloth: to the right on paper; turning it left turns it up.
    let radians = turn.to_radians();
    let ahead = Vector::new(libm::cos(radians), -libm::sin(radians));
    let side = ahead.right();
    let (tail, tip) = (centre + ahead * (-length / 2.0), centre + ahead * (length / 2.0));
    let ink = Ink::line(look.line * 1.6).grey(0.35);
    drawing.stroke(tail, tip, ink);
    let barb = length.min(look.size * 4.0) * 0.3;
    let steps = vec![
        Step::Move(tip + ahead * -barb + side * (barb * 0.6)),
        Step::Line(tip),
        Step::Line(tip + ahead * -barb + side * (-barb * 0.6)),
    ];
    drawing.shape(steps, ink);
}

/// Distances from the cut end at which parts start or end, as far apart as they can be read.
#[allow(clippy::too_many_arguments)] // As above.
fn ruler(
    drawing: &mut Drawing,
    plan: &Plan,
    lay: &ClothLay,
    strip: &Strip,
    view: &View,
    (from, to): (f64, f64),
    width: f64,
    look: &Look,
) {
    let style = &plan.job.style;
    let mut stops: Vec<Length> = vec![Length::ZERO, strip.length, Length::from_mm(to)];
    for placement in &strip.placements {
        let polygon = lay.instance.items[placement.item].shape.turned(placement.turn);
        stops.push(Length::from_nm(placement.at.y + polygon.bounds().low.y));
    }
    stops.sort();
    stops.dedup();
    let mut last_end = [f64::NEG_INFINITY; 2];
    for stop in stops.into_iter().filter(|s| (from..=to).contains(&s.mm())) {
        // Along the lower edge of the paper, whichever selvedge that is.
        let lower = if view.axes == Axes::RollRightFaceDown { 0.0 } else { width };
        let at = view.at(Point::new(lower, stop.mm()));
        let text = style.number(style.place(stop));
        let half = text_width(&text, look.size) / 2.0 + look.size * 0.3;
        let Some(level) = (0..2).find(|&l| at.x - half > last_end[l]) else { continue };
        last_end[level] = at.x + half;
        let depth = look.size * (0.6 + 1.25 * level as f64);
        drawing.stroke(at, Point::new(at.x, at.y + depth), Ink::line(look.line * 0.7));
        drawing.text(
            Point::new(at.x, at.y + depth + look.size * 0.95),
            look.size,
            Anchor::Middle,
            text,
        );
    }
}
