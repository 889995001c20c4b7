//! The tapered bolster: a cone frustum laid flat, and two discs.

use super::boxed::TENTH;
use super::{Ask, Sewn, cushion, welt};
use crate::fault::Fault;
use crate::kind::{Tapered, Welt};
use crate::part::{Mark, Meaning, Part, Quantities, Stuff};
use crate::working::{Term, Working};
use geometry::{Frustum, Length, Outline, Path, Vector, grow};
use std::f64::consts::PI;

/// Flatter cones have no room for their own seam.
const MOST_DEGREES: f64 = 330.0;

/// Develops a tapered bolster; ends alike make a plain one.
///
/// `s = sqrt(L^2 + ((D - d)/2)^2)`, ring radii `D s/(D - d)` and `d s/(D - d)`, angle `180 (D - d)/s`.
///
/// Source: E. M. Longfield, *Sheet Metal Drafting*, chapter V. Chord and rise let the arcs be struck
/// without a long compass. Worked: 10 to 6, 24 long: radii 60.208 and 36.125, angle 29.896 degrees,
/// outer chord 31.061 with a rise of 2.0375.
pub fn develop(ask: &Ask, bolster: &Tapered) -> Result<Sewn, Vec<Fault>> {
    let a = ask.build.allowances;
    let (large, small) = (bolster.large.max(bolster.small), bolster.large.min(bolster.small));
    let frustum = Frustum { large: large.mm(), small: small.mm(), height: bolster.length.mm() };
    let (Some(sector), Some((outer, inner))) = (frustum.sector(), frustum.radii()) else {
        let measures = (bolster.length, bolster.large);
        return Ok(cushion::bolster(ask, measures, bolster.zip, bolster.welt));
    };
    let angle = frustum.angle();
    if angle.to_degrees() > MOST_DEGREES {
        return Err(vec![Fault::new(
            "taper-too-flat",
            format!("{}.length", ask.at),
            format!(
                "{} long from {} to {} is almost a flat disc",
                ask.build.style.show(bolster.length),
                ask.build.style.show(large),
                ask.build.style.show(small)
            ),
            "measure the length along the middle; if it is a disc, enter a round cushion",
        )]);
    }
    let n = a.seam.mm();
    let seam_line = grounded(&sector);
    let body = grow(&seam_line, &vec![n; seam_line.nodes.len()]);
    let mut part = Part::new("body", Stuff::Cloth, ask.cloth, Outline::solid(body));
    part.marks.push(Mark::closed(Meaning::Stitch, seam_line));
    let chord =
        |radius: f64| Length::from_mm(2.0 * radius * libm::sin(angle / 2.0)).round_even(TENTH);
    let rise =
        |radius: f64| Length::from_mm(radius * (1.0 - libm::cos(angle / 2.0))).round_even(TENTH);
    let show = |x: f64| Length::from_mm(x).round_even(TENTH);
    part.workings = vec![
        Working::new(
            "slant",
            vec![
                Term::Text("√("),
                Term::Length(bolster.length),
                Term::Text("² + (("),
                Term::Length(large),
                Term::Text(" - "),
                Term::Length(small),
                Term::Text(") / 2)²)"),
            ],
            show(frustum.slant()),
        ),
        Working::new(
            "outer arc, on the stitch line",
            vec![
                Term::Text("radius "),
                Term::Length(show(outer)),
                Term::Text(", degrees "),
                Term::Number(round(angle.to_degrees())),
                Term::Text(", rise "),
                Term::Length(rise(outer)),
                Term::Text(", chord"),
            ],
            chord(outer),
        ),
    ];
    if small > Length::ZERO {
        part.workings.push(Working::new(
            "inner arc, on the stitch line",
            vec![
                Term::Text("radius "),
                Term::Length(show(inner)),
                Term::Text(", rise "),
                Term::Length(rise(inner)),
                Term::Text(", chord"),
            ],
            chord(inner),
        ));
    }
    let mut parts = vec![part];
    let disc = |diameter: Length, name: &str| {
        let cut = Path::circle(diameter + a.seam * 2);
        let mut end = Part::new(name, Stuff::Cloth, ask.cloth, Outline::solid(cut));
        let stitch = Path::circle(diameter).moved(Vector::new(n, n));
        end.marks.push(Mark::closed(Meaning::Stitch, stitch));
        end.workings = vec![Working::grown("disc", diameter, &[a.seam])];
        end
    };
    parts.push(disc(large, "end, larger"));
    let mut rounds = vec![Length::from_mm(large.mm() * PI)];
    if small > Length::ZERO {
        parts.push(disc(small, "end, smaller"));
        rounds.push(Length::from_mm(small.mm() * PI));
    }
    let runs: Vec<Length> = match bolster.welt {
        Welt::None => Vec::new(),
        _ => rounds.iter().map(|r| *r + a.welt_lap).collect(),
    };
    let (welt, welt_length) = welt::strips(ask, &runs);
    parts.extend(welt);
    let slant = Length::from_mm(frustum.slant());
    let zip = bolster.zip.then(|| slant - a.zip_return * 2).filter(|l| *l > Length::ZERO);
    let round: Length = rounds.iter().copied().sum();
    let quantities = Quantities {
        seam: slant + round * if runs.is_empty() { 1 } else { 2 },
        welt: welt_length,
        welt_runs: runs.len(),
        zip,
        wrap_mm2: if ask.wrap { sector.area() } else { 0.0 },
        fills: 1,
        ..Quantities::default()
    };
    Ok((parts, quantities))
}

/// Lower left of its box at the origin, so that places on it are small numbers.
fn grounded(path: &Path) -> Path {
    let low = path.bounds().0;
    path.moved(Vector::new(-low.x, -low.y))
}

fn round(x: f64) -> f64 {
    (x * 1000.0).round() / 1000.0
}
