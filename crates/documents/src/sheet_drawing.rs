//! A sheet of foam or board and what is cut from it.

use crate::drawing::{Anchor, Drawing, Ink, Step, text_width};
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
    let margin = 9.0;
    let scale = ((width - margin) / w).min((height - margin) / h);
    let one_in = (1.0 / scale).ceil();
    let scale = 1.0 / one_in;
    let mut drawing = Drawing::new(w * scale + margin, h * scale + margin);
    let at = |x: f64, y: f64| Point::new(margin + x * scale, (h - y) * scale);
    drawing.rect(at(0.0, h), at(w, 0.0), Ink::line(0.4).filled(0.93));
    let size = 2.6;
    for cut in &sheet.cuts {
        let laid = &lay.parts[cut.part];
        let (pw, ph) = laid.part.size();
        let swapped = lay.swapped[cut.part] != cut.turned;
        let (bw, bh) = if swapped { (ph, pw) } else { (pw, ph) };
        let (a, b) = (at(cut.x.mm(), cut.y.mm() + bh.mm()), at(cut.x.mm() + bw.mm(), cut.y.mm()));
        drawing.rect(a, b, Ink::line(0.25).filled(1.0));
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
        let centre = a.middle(b);
        let lines = [laid.part.id.clone(), laid.part.printed(style)];
        let (bw, bh) = (b.x - a.x, b.y - a.y);
        let upright = bh > bw && text_width(&lines[1], size) > bw - 1.0;
        let room = if upright { bh } else { bw };
        let across = if upright { bw } else { bh };
        for (i, text) in lines.iter().enumerate() {
            if text_width(text, size) > room - 1.0 || across < size * 1.3 * (i + 1) as f64 {
                continue;
            }
            let off = if across < size * 2.8 {
                size * 0.36
            } else {
                (i as f64 - 0.5) * size * 1.3 + size * 0.36
            };
            if upright {
                drawing.upwards(Point::new(centre.x + off, centre.y), size, Anchor::Middle, text);
            } else {
                drawing.text(Point::new(centre.x, centre.y + off), size, Anchor::Middle, text);
            }
        }
    }
    drawing.rect(at(0.0, h), at(w, 0.0), Ink::line(0.5));
    drawing.text(
        Point::new(margin + w * scale / 2.0, h * scale + 4.2),
        size,
        Anchor::Middle,
        style.show(kind.width),
    );
    drawing.upwards(
        Point::new(5.0, h * scale / 2.0),
        size,
        Anchor::Middle,
        style.show(kind.height),
    );
    (one_in, drawing)
}
