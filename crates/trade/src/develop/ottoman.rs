//! The ottoman: top and sides over a padded frame, stapled under it.

use super::strips::{pieced, rectangle, strip};
use super::{Ask, Sewn, welt};
use crate::kind::{Ottoman, Welt};
use crate::part::{Mark, Meaning, Part, Quantities, Stuff};
use crate::working::{Formula, Working, of};
use geometry::{Length, Outline, Path, Vector};
use std::f64::consts::PI;

/// Develops an ottoman.
///
/// ```text
/// round:       top disc D + 2 n, band (pi D + 2 n) by (H + n + w)
/// five sides:  top W + 2 n by D + 2 n, sides W + 2 n and D + 2 n by H + n + w
/// wrapped:     front, top and back in one: W + 2 n by D + 2 H + 2 w; two ends D + 2 n by H + n + w
/// ```
///
/// Source: development of a cylinder and of a box, geometry; `n` where parts are sewn, the turn-under
/// `w` where they are stapled below.
pub fn develop(ask: &Ask, ottoman: &Ottoman) -> Sewn {
    let a = ask.build.allowances;
    let (w, h) = (ottoman.width, ottoman.height);
    let under = a.turn_under + a.trim;
    let side_height = h + a.seam + under;
    let height_working =
        || Working::of("cut height of the side", of(h) + of(a.seam) + of(under)).height();
    let mut parts = Vec::new();
    let (round, joined, area) = match ottoman.depth {
        None => {
            let mut top = Part::new(
                "top",
                Stuff::Cloth,
                ask.cloth,
                Outline::solid(Path::circle(w + a.seam * 2)),
            )
            .seen();
            let stitch = Path::circle(w).moved(Vector::new(a.seam.mm(), a.seam.mm()));
            top.marks.push(Mark::closed(Meaning::Stitch, stitch));
            top.explain(Working::grown("disc", w, &[a.seam]).both());
            let round = Length::from_mm(w.mm() * PI);
            let run = Working::of("band", Formula::Pi * of(w) + 2 * of(a.seam));
            let run = run.up_to(a.cut_step).width();
            let band = strip("band", ask.cloth, run.result, side_height)
                .explained([run, height_working()]);
            let (bands, joins) = pieced(band, ask.usable, &ask.build);
            parts.push(top);
            parts.extend(bands);
            (round, side_height * (joins as i64 + 1), PI * w.mm() * w.mm() / 4.0)
        }
        Some(d) if ottoman.wrapped => {
            let long = d + h * 2 + under * 2;
            let mut main = Part::new(
                "front, top and back",
                Stuff::Cloth,
                ask.cloth,
                rectangle(w + a.seam * 2, long),
            )
            .seen();
            main.explain(Working::grown("width", w, &[a.seam]).width());
            main.explain(Working::grown("front, top and back", d, &[h, under]).height());
            for y in [under + h, under + h + d] {
                let ends = [0.0, (w + a.seam * 2).mm()];
                main.marks.push(Mark::open(
                    Meaning::Fold,
                    ends.map(|x| geometry::Point::new(x, y.mm())).to_vec(),
                ));
            }
            let mut end = side(ask, "end", d, side_height);
            end.count = 2;
            end = end.explained([Working::grown("end", d, &[a.seam]).width(), height_working()]);
            parts.extend([main, end]);
            ((w + d) * 2, (d + h * 2) * 2, w.mm() * d.mm())
        }
        Some(d) => {
            let outline = rectangle(w + a.seam * 2, d + a.seam * 2);
            let top = Part::new("top", Stuff::Cloth, ask.cloth, outline).seen().explained([
                Working::grown("top width", w, &[a.seam]).width(),
                Working::grown("top depth", d, &[a.seam]).height(),
            ]);
            parts.push(top);
            for (name, width) in [("front and back", w), ("end", d)] {
                let mut part = side(ask, name, width, side_height);
                part.count = 2;
                let across = Working::grown(name, width, &[a.seam]).width();
                parts.push(part.explained([across, height_working()]));
            }
            ((w + d) * 2, (w + d) * 2 + h * 4, w.mm() * d.mm())
        }
    };
    let runs = if ottoman.welt == Welt::None { vec![] } else { vec![round + a.welt_lap] };
    let (welt, welt_length) = welt::strips(ask, &runs);
    parts.extend(welt);
    let flat = |name: &'static str, stuff: Stuff, material: &str| {
        let outline = match ottoman.depth {
            None => Outline::solid(Path::circle(w)),
            Some(d) => rectangle(w, d),
        };
        Part::new(name, stuff, material, outline)
    };
    parts.extend(ask.foam.map(|name| flat("foam", Stuff::Foam, name)));
    parts.extend(ask.board.map(|name| flat("board", Stuff::Board, name)));
    let seam_once = if ottoman.depth.is_none() { joined + round } else { joined };
    let quantities = Quantities {
        staple_line: round,
        corner_line: if ottoman.depth.is_some() { a.pleat * 16 } else { Length::ZERO },
        glue_mm2: if ask.foam.is_some() { area } else { 0.0 },
        seam: seam_once + runs.iter().copied().sum(),
        welt: welt_length,
        welt_runs: runs.len(),
        wrap_mm2: if ask.wrap { area + round.mm() * h.mm() } else { 0.0 },
        fills: 0,
        ..Quantities::default()
    };
    (parts, quantities)
}

fn side(ask: &Ask, name: &str, width: Length, height: Length) -> Part {
    let n = ask.build.allowances.seam;
    Part::new(name, Stuff::Cloth, ask.cloth, rectangle(width + n * 2, height))
}
