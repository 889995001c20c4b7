//! Drawings as SVG: sizes in millimetres, one unit a millimetre.

use crate::drawing::{Anchor, Drawing, Item, Step};
use std::fmt::Write;

/// The type family of all drawings; the PDF embeds it, a viewer may take another.
pub const FAMILY: &str = "Inter";

/// The whole file. Everything outside the drawing's size is clipped.
pub fn write(drawing: &Drawing) -> String {
    let (w, h) = (number(drawing.width), number(drawing.height));
    let mut out = format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{w}mm\" height=\"{h}mm\" viewBox=\"0 0 {w} {h}\" font-family=\"{FAMILY}, sans-serif\">\n\
         <clipPath id=\"page\"><rect width=\"{w}\" height=\"{h}\"/></clipPath>\n<g clip-path=\"url(#page)\">\n"
    );
    for item in &drawing.items {
        write_item(item, &mut out);
    }
    out.push_str("</g>\n</svg>\n");
    out
}

/// To set in a page: as wide as there is room, nothing clipped; `label` is what is read aloud.
pub fn inline(drawing: &Drawing, label: &str) -> String {
    let (w, h) = (number(drawing.width), number(drawing.height));
    let mut out = format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 {w} {h}\" font-family=\"{FAMILY}, sans-serif\" role=\"img\" aria-label=\"{}\">",
        escape(label).replace('"', "&quot;")
    );
    for item in &drawing.items {
        write_item(item, &mut out);
    }
    out.push_str("</svg>");
    out
}

/// A file whose drawings, one over the other, are groups with names: layers.
pub fn write_layers(layers: &[(&str, Drawing)]) -> String {
    let most = |pick: fn(&Drawing) -> f64| layers.iter().map(|l| pick(&l.1)).fold(0.0, f64::max);
    let (w, h) = (number(most(|d| d.width)), number(most(|d| d.height)));
    let mut out = format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{w}mm\" height=\"{h}mm\" viewBox=\"0 0 {w} {h}\" font-family=\"{FAMILY}, sans-serif\">\n"
    );
    for (name, drawing) in layers {
        let _ = writeln!(out, "<g id=\"{name}\">");
        for item in &drawing.items {
            write_item(item, &mut out);
        }
        out.push_str("</g>\n");
    }
    out.push_str("</svg>\n");
    out
}

fn write_item(item: &Item, out: &mut String) {
    match item {
        Item::Shape { steps, ink } => {
            let _ = write!(out, "<path d=\"{}\"", course(steps));
            match ink.fill {
                Some(shade) => {
                    let _ = write!(out, " fill=\"{}\"", grey(shade));
                }
                None => out.push_str(" fill=\"none\""),
            }
            if ink.width > 0.0 {
                let _ = write!(
                    out,
                    " stroke=\"{}\" stroke-width=\"{}\" stroke-linejoin=\"round\"",
                    grey(ink.shade),
                    number(ink.width)
                );
            }
            if let Some((dash, gap)) = ink.dash {
                let _ = write!(out, " stroke-dasharray=\"{} {}\"", number(dash), number(gap));
            }
            out.push_str("/>\n");
        }
        Item::Clipped { width, height, at, items } => {
            // A nested picture is clipped to its own size.
            let _ = writeln!(
                out,
                "<svg x=\"{}\" y=\"{}\" width=\"{}\" height=\"{}\" viewBox=\"0 0 {} {}\" overflow=\"hidden\">",
                number(at.x),
                number(at.y),
                number(*width),
                number(*height),
                number(*width),
                number(*height)
            );
            for item in items {
                write_item(item, out);
            }
            out.push_str("</svg>\n");
        }
        Item::Text { at, text, size, anchor, turn, bold, shade } => {
            let (x, y) = (number(at.x), number(at.y));
            let anchor = match anchor {
                Anchor::Start => "start",
                Anchor::Middle => "middle",
                Anchor::End => "end",
            };
            let _ = write!(
                out,
                "<text x=\"{x}\" y=\"{y}\" font-size=\"{}\" text-anchor=\"{anchor}\"",
                number(*size)
            );
            if *bold {
                out.push_str(" font-weight=\"600\"");
            }
            if *shade > 0.0 {
                let _ = write!(out, " fill=\"{}\"", grey(*shade));
            }
            if *turn != 0.0 {
                let _ = write!(out, " transform=\"rotate({} {x} {y})\"", number(*turn));
            }
            let _ = writeln!(out, ">{}</text>", escape(text));
        }
    }
}

pub(crate) fn course(steps: &[Step]) -> String {
    let mut d = String::new();
    for step in steps {
        if !d.is_empty() {
            d.push(' ');
        }
        let _ = match step {
            Step::Move(p) => write!(d, "M{} {}", number(p.x), number(p.y)),
            Step::Line(p) => write!(d, "L{} {}", number(p.x), number(p.y)),
            Step::Arc(r, clockwise, p) => {
                let (r, sweep) = (number(*r), u8::from(*clockwise));
                write!(d, "A{r} {r} 0 0 {sweep} {} {}", number(p.x), number(p.y))
            }
            Step::Close => write!(d, "Z"),
        };
    }
    d
}

fn grey(shade: f64) -> String {
    let level = (shade.clamp(0.0, 1.0) * 255.0).round() as u8;
    format!("#{level:02x}{level:02x}{level:02x}")
}

/// To a ten-thousandth, without idle zeros.
pub(crate) fn number(x: f64) -> String {
    let text = format!("{x:.4}");
    let text = text.trim_end_matches('0').trim_end_matches('.');
    if text == "-0" { "0".into() } else { text.into() }
}

pub(crate) fn escape(text: &str) -> String {
    text.replace('&', "&amp;").replace('<', "&lt;").replace('>', "&gt;")
}
