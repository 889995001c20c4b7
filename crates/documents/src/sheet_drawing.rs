//! A sheet of foam or board and what is cut from it.

use crate::drawing::{Anchor, Drawing, Ink, Step};
use crate::label::{PT, text_frame};
use crate::letters;
use geometry::Point;
use lay::sheets::CutSheet;
use trade::lays::SheetLay;
use trade::working::Style;

/// The sheet drawn to fit a width, with its scale.
pub fn draw(
    style: &Style,
    lay: &SheetLay,
    sheet: &CutSheet,
    width: f64,
    height: f64,
) -> (f64, Drawing) {
    let kind = &lay.sheets[sheet.sheet];
    let (w, h) = (kind.width.mm(), kind.height.mm());
    let (side, top) = (5.0, 5.5);
    let scale = ((width - 2.0 * side) / w).min((height - top - 0.5) / h);
    let one_in = (1.0 / scale).ceil();
    let scale = 1.0 / one_in;
    let mut drawing = Drawing::new(w * scale + 2.0 * side, h * scale + top + 0.5);
    let at = |x: f64, y: f64| Point::new(side + x * scale, top + (h - y) * scale);
    drawing.rect(at(0.0, h), at(w, 0.0), Ink::line(0.4).filled(0.88));
    for cut in &sheet.cuts {
        let laid = &lay.parts[cut.part];
        let (pw, ph) = laid.part.size();
        let swapped = lay.swapped[cut.part] != cut.turned;
        let (bw, bh) = if swapped { (ph, pw) } else { (pw, ph) };
        let (a, b) = (at(cut.x.mm(), cut.y.mm() + bh.mm()), at(cut.x.mm() + bw.mm(), cut.y.mm()));
        drawing.rect(a, b, Ink::line(1.1 * PT).filled(1.0));
        // Inside the sawn box: the outline, if it is another, and openings.
        let outline = &laid.part.outline;
        let low = outline.outer.bounds().0;
        let inner = outline.outer.flatten();
        let own = (!inner.is_upright_rectangle()).then_some(&outline.outer);
        for path in own.into_iter().chain(&outline.holes) {
            let place = |spot: &geometry::Spot| {
                let p = spot.point();
                let (x, y) = (p.x - low.x, p.y - low.y);
                let (x, y) = if swapped { (ph.mm() - y, x) } else { (x, y) };
                at(cut.x.mm() + x, cut.y.mm() + y)
            };
            let flat = path.flatten();
            let mut steps: Vec<Step> = flat.points().iter().map(|s| Step::Line(place(s))).collect();
            if let Some(Step::Line(first)) = steps.first().cloned() {
                steps[0] = Step::Move(first);
                steps.push(Step::Close);
                drawing.shape(steps, Ink::line(0.18));
            }
        }
        label(&mut drawing, &laid.part, style, (a, b));
    }
    drawing.rect(at(0.0, h), at(w, 0.0), Ink::line(1.6 * PT));
    marks(&mut drawing, style, lay, sheet, &at);
    (one_in, drawing)
}

/// Tag and size, as large as there is room.
fn label(drawing: &mut Drawing, part: &trade::part::Part, style: &Style, (a, b): (Point, Point)) {
    let (wide, tall) = (b.x - a.x - 1.0, b.y - a.y - 1.0);
    let (w, h) = part.printed_size(style);
    let tag = (part.id.clone(), 12.0 * PT, true);
    let size = |text: String| (text, 9.5 * PT, false);
    let whole = size(format!("{} × {}", style.number(w), style.number(h)));
    let split = [size(format!("{} ×", style.number(w))), size(style.number(h))];
    let [first, second] = split;
    let forms = [vec![tag.clone(), whole], vec![tag.clone(), first, second], vec![tag]];
    let fits = |lines: &&Vec<(String, f64, bool)>| {
        let high: f64 = lines.iter().map(|l| l.1 * 1.15).sum();
        high <= tall && lines.iter().all(|l| letters::width(&l.0, l.1, l.2) <= wide)
    };
    let Some(lines) = forms.iter().find(fits) else { return };
    let high: f64 = lines.iter().map(|l| l.1 * 1.15).sum();
    let centre = a.middle(b);
    let mut y = centre.y - high / 2.0;
    for (text, size, bold) in lines {
        y += size * 1.15;
        let at = Point::new(centre.x, y - size * 0.25);
        let frame = text_frame(at, *size, Anchor::Middle, text, *bold);
        drawing.rect(frame.0, frame.1, Ink::line(0.0).filled(1.0));
        match bold {
            true => drawing.bold(at, *size, Anchor::Middle, text),
            false => drawing.text(at, *size, Anchor::Middle, text),
        }
    }
}

/// Where parts begin and end along the sheet, from its left corner.
fn marks(
    drawing: &mut Drawing,
    style: &Style,
    lay: &SheetLay,
    sheet: &CutSheet,
    at: &dyn Fn(f64, f64) -> Point,
) {
    let mut stops: Vec<geometry::Length> = vec![geometry::Length::ZERO];
    for cut in &sheet.cuts {
        let (pw, ph) = lay.parts[cut.part].part.size();
        let swapped = lay.swapped[cut.part] != cut.turned;
        stops.push(style.place(cut.x + if swapped { ph } else { pw }));
    }
    stops.sort();
    stops.dedup();
    let size = 9.5 * PT;
    let top = at(0.0, lay.sheets[sheet.sheet].height.mm()).y;
    let mut end = f64::MIN;
    for stop in stops {
        let x = at(stop.mm(), 0.0).x;
        let text = style.number(stop);
        let half = letters::width(&text, size, false) / 2.0;
        if x - half < end + 1.0 {
            continue;
        }
        end = x + half;
        drawing.stroke(Point::new(x, top - 1.4), Point::new(x, top), Ink::line(0.5 * PT));
        drawing.text(Point::new(x, top - 1.9), size, Anchor::Middle, text);
    }
}
