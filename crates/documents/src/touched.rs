//! Pictures of pieces for a screen: drawn in the page's own colours, every measure a group of its own
//! that can be lit, filled in and tapped.

use crate::drawing::{Drawing, Item};
use crate::solid::Arrow;
use crate::svg::{course, escape, number};
use geometry::{Point, Vector};
use std::fmt::Write;

/// Screen units for a millimetre of the drawing.
const SCALE: f64 = 3.6;

/// Radius of the ring round a letter, screen units.
const RING: f64 = 13.0;

/// Lighter than this a fill is the face of the piece.
const FACE: f64 = 0.97;

/// The picture as SVG with classes instead of colours: `face`, `shade`, `line`, `thin`, and a group
/// `measure` with its key for each arrow. `label` is what is read aloud.
pub fn picture(drawing: &Drawing, arrows: &[Arrow], label: &str) -> String {
    let mut out = opened(drawing, label);
    for arrow in arrows {
        measure(arrow, &mut out);
    }
    out.push_str("</svg>");
    out
}

fn opened(drawing: &Drawing, label: &str) -> String {
    // Without words it only stands beside what says the same.
    let said = if label.is_empty() {
        "aria-hidden=\"true\"".to_string()
    } else {
        format!("role=\"img\" aria-label=\"{}\"", escape(label).replace('"', "&quot;"))
    };
    let mut out = format!(
        "<svg class=\"figure\" viewBox=\"0 0 {} {}\" {said}>",
        number(drawing.width * SCALE),
        number(drawing.height * SCALE),
    );
    for item in &drawing.items {
        let Item::Shape { steps, ink } = item else { continue };
        let d = course(&crate::drawing::scaled(steps, SCALE));
        match ink.fill {
            Some(fill) if fill >= FACE => {
                let _ = write!(out, "<path class=\"face\" d=\"{d}\"/>");
            }
            Some(fill) => {
                let dark = number((1.0 - fill).clamp(0.0, 1.0) * 3.0);
                let _ = write!(
                    out,
                    "<path class=\"face plain\" d=\"{d}\"/><path class=\"shade\" opacity=\"{dark}\" d=\"{d}\"/>"
                );
            }
            None if ink.shade > 0.0 || ink.dash.is_some() => {
                let _ = write!(out, "<path class=\"thin\" d=\"{d}\"/>");
            }
            None => {
                let _ = write!(out, "<path class=\"line\" d=\"{d}\"/>");
            }
        }
    }
    out
}

fn measure(arrow: &Arrow, out: &mut String) {
    let at = |p: Point| Point::new(p.x * SCALE, p.y * SCALE);
    let (from, to) = (at(arrow.of.0), at(arrow.of.1));
    let (a, b) = (at(arrow.line.0), at(arrow.line.1));
    let line = |p: Point, q: Point| {
        format!("M{} {} L{} {}", number(p.x), number(p.y), number(q.x), number(q.y))
    };
    let along = (b - a).unit();
    let tick = (along + along.right() * -1.0).unit() * 5.0;
    let ticks = [a, b].map(|p| line(p + tick * -1.0, p + tick)).join(" ");
    let middle = a.middle(b);
    let is_level = along.y.abs() < 0.5;
    let value = if is_level {
        middle + Vector::new(RING + 7.0, 5.5)
    } else {
        middle + Vector::new(0.0, RING + 17.0)
    };
    let _ = write!(
        out,
        "<g class=\"measure\" data-key=\"{}\"><path class=\"help\" d=\"{} {}\"/><path class=\"glow\" d=\"{}\"/>\
         <path class=\"arrow\" d=\"{} {ticks}\"/><circle cx=\"{}\" cy=\"{}\" r=\"{RING}\"/>\
         <text class=\"letter\" x=\"{}\" y=\"{}\">{}</text><text class=\"value{}\" x=\"{}\" y=\"{}\"></text></g>",
        escape(&arrow.key),
        line(from, a),
        line(to, b),
        line(a, b),
        line(a, b),
        number(middle.x),
        number(middle.y),
        number(middle.x),
        number(middle.y + 5.3),
        escape(&arrow.label),
        if is_level { " beside" } else { "" },
        number(value.x),
        number(value.y),
    );
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::drawing::{Ink, Step};

    #[test]
    fn every_measure_is_a_group_with_its_key() {
        let mut drawing = Drawing::new(10.0, 10.0);
        let corner = |x, y| Step::Line(Point::new(x, y));
        drawing.shape(vec![Step::Move(Point::new(0.0, 0.0)), corner(9.0, 0.0)], Ink::line(0.3));
        let arrow = Arrow {
            label: "A".into(),
            key: "width".into(),
            of: (Point::new(0.0, 0.0), Point::new(9.0, 0.0)),
            line: (Point::new(0.0, 2.0), Point::new(9.0, 2.0)),
        };
        let svg = picture(&drawing, &[arrow], "a \"pad\"");
        assert!(svg.contains("data-key=\"width\"") && svg.contains(">A</text>"), "{svg}");
        // No colour of its own: the page's theme gives all of them.
        assert!(!svg.contains('#') && svg.contains("a &quot;pad&quot;"), "{svg}");
    }
}
