//! Sewn covers without boxing: knife-edge cushion, bolster.

use super::strips::rectangle;
use super::welt;
use super::{Ask, Sewn};
use crate::kind::Welt;
use crate::part::{Filling, Mark, Meaning, Part, Quantities, Stuff};
use crate::working::{Formula, Working, of};
use geometry::{Length, Outline, Path, Vector, grow};

/// Two faces sewn edge to edge over a crowned filling.
///
/// `cut = finished + 2 n + crown`. Source: the half-inch seam rule of home-furnishing texts (cut
/// 20, seams 1/2, finishes 19); the crown is common practice, no source.
pub fn knife_edge(
    ask: &Ask,
    (width, height): (Length, Length),
    crown: Length,
    zip: bool,
    welt_kind: Welt,
) -> Sewn {
    let a = ask.build.allowances;
    let cut = |finished: Length| finished + a.seam * 2 + crown;
    let outline = rectangle(cut(width), cut(height));
    let mut face = Part::new("front panel", Stuff::Cloth, ask.cloth, outline).seen();
    let seam_line = grow(&face.outline.outer, &[-a.seam.mm(); 4]);
    face.marks.push(Mark::closed(Meaning::Stitch, seam_line));
    let sum = |finished: Length| (of(finished) + 2 * of(a.seam)).and(crown);
    face.explain(Working::of("cut width", sum(width)).width());
    face.explain(Working::of("cut height", sum(height)).height());
    let mut back = Part { name: "back panel".into(), seen: false, ..face.clone() };
    back.material = ask.under.unwrap_or(ask.cloth).into();
    let perimeter = (width + height) * 2;
    let runs = if welt_kind == Welt::None { vec![] } else { vec![perimeter + a.welt_lap] };
    let (welt, welt_length) = welt::strips(ask, &runs);
    let mut parts = vec![face, back];
    parts.extend(welt);
    if let Some(name) = ask.foam {
        parts.push(Part::new("foam", Stuff::Foam, name, rectangle(width, height)));
    }
    let zip = zip.then(|| width - a.seam * 2);
    let quantities = Quantities {
        seam: perimeter * if welt_kind == Welt::None { 1 } else { 2 } + zip.unwrap_or_default() * 2,
        welt: welt_length,
        welt_runs: runs.len(),
        zip,
        wrap_mm2: if ask.wrap { 2.0 * width.mm() * height.mm() } else { 0.0 },
        fills: 1,
        filling: (ask.build.foam == Length::ZERO).then_some(Filling::Inner(width, height)),
        ..Quantities::default()
    };
    (parts, quantities)
}

/// A roll: a body `L + 2 n` by `pi D + 2 n` and two discs `D + 2 n`.
///
/// The zip is as long as the roll, from end seam to end seam: its form must go in. Common practice (a
/// household page: about the length of the form or a little longer).
///
/// Source: development of a cylinder, geometry (D 8, L 36, seams 1/2: 26.133 x 37, discs 9).
pub fn bolster(
    ask: &Ask,
    (length, diameter): (Length, Length),
    zip: bool,
    welt_kind: Welt,
) -> Sewn {
    let a = ask.build.allowances;
    let round = Length::from_mm(diameter.mm() * std::f64::consts::PI);
    let girth = Working::of("body round", Formula::Pi * of(diameter) + 2 * of(a.seam));
    let girth = girth.up_to(a.cut_step).height();
    let long = Working::grown("body length", length, &[a.seam]).width();
    let outline = rectangle(long.result, girth.result);
    let mut body = Part::new("body", Stuff::Cloth, ask.cloth, outline).explained([long, girth]);
    body.may_seam = ask.may_seam;
    let disc = Path::circle(diameter + a.seam * 2);
    let mut end = Part::new("end", Stuff::Cloth, ask.cloth, Outline::solid(disc));
    end.marks.push(Mark::closed(
        Meaning::Stitch,
        Path::circle(diameter).moved(Vector::new(a.seam.mm(), a.seam.mm())),
    ));
    end.count = 2;
    end.explain(Working::grown("disc", diameter, &[a.seam]).both());
    let ends = match welt_kind {
        Welt::None => 0,
        _ => 2,
    };
    let (welt, welt_length) = welt::strips(ask, &vec![round + a.welt_lap; ends]);
    let mut parts = vec![body, end];
    parts.extend(welt);
    // A firm form goes in sideways only, and opens no seam that is shorter than it is long.
    let zip = zip.then_some(length);
    let quantities = Quantities {
        seam: length + round * (2 + ends as i64),
        welt: welt_length,
        welt_runs: ends,
        zip,
        wrap_mm2: if ask.wrap { length.mm() * round.mm() } else { 0.0 },
        fills: 1,
        filling: (ask.build.foam == Length::ZERO).then_some(Filling::Form {
            length,
            large: diameter,
            small: diameter,
        }),
        ..Quantities::default()
    };
    (parts, quantities)
}
