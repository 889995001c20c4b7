//! Upright channels over a padded board: the cloth follows an arc over each and dips into the
//! valleys between.
//!
//! Worked example: board 1192, 8 channels of 149 with a loft of 25, 7 valleys with tucks of 6:
//! each arc 159.945, field 8 x 159.945 + 7 x 2 x 6 = 1363.56.

use super::Ask;
use super::cover::Covered;
use super::panel;
use crate::fault::Fault;
use crate::part::{Mark, Meaning, Part};
use crate::piece::{PanelShape, Side};
use crate::working::{Term, Working};
use geometry::{Arc, Length, Outline, Path, Point};

/// Cloth over all channels, and over one.
///
/// Source: arc from chord and rise, geometry; tucks common practice, no source.
pub fn field(
    width: Length,
    channels: usize,
    loft: Length,
    tuck: Length,
) -> Option<(Length, Length)> {
    let n = i64::try_from(channels).ok().filter(|n| *n > 0)?;
    let chord = width.mm() / n as f64;
    let arc = Length::from_mm(Arc::over(chord, loft.mm()).ok()?.length());
    Some((arc * n + tuck * (2 * (n - 1)), arc))
}

/// The channelled cover of a board.
pub fn develop(
    ask: &Ask,
    (width, height): (Length, Length),
    channels: usize,
    loft: Length,
    tuck: Length,
) -> Result<(Covered, Vec<Part>), Vec<Fault>> {
    let Some((field, arc)) = field(width, channels, loft, tuck) else {
        return Err(vec![Fault::new(
            "loft-too-high",
            format!("{}.loft", ask.at),
            format!(
                "channels {} wide cannot rise {}",
                ask.build.style.chalk(width.share(channels.max(1) as i64)),
                ask.build.style.show(loft)
            ),
            "the loft is at most half a channel's width (a half circle); check the number of channels",
        )]);
    };
    let shape =
        PanelShape::Rectangle { width, height, radii: [Length::ZERO; 4], diagonals: vec![] };
    let (mut covered, mut parts) = panel::develop(ask, &shape, &[], &[], &[])?;
    let a = ask.build.allowances;
    let reach = ask.build.reach(&Side::default());
    let cut_width = (field + reach * 2).round_up(a.cut_step);
    let (left, bottom) = (-reach.mm(), -reach.mm());
    let (right, top) = (left + cut_width.mm(), height.mm() + reach.mm());
    let corners = [(left, bottom), (right, bottom), (right, top), (left, top)];
    let cover = Path::straight(&corners.map(|(x, y)| Point::new(x, y)));
    // Valleys on the flat cloth: after each arc, a tuck either side of the valley line.
    let pitch = arc.mm() + 2.0 * tuck.mm();
    let valleys = (1..channels).map(|i| {
        let x = pitch * i as f64 - tuck.mm();
        Mark::open(Meaning::Stitch, vec![Point::new(x, 0.0), Point::new(x, height.mm())])
    });
    let middle = field.mm() / 2.0;
    covered.marks = valleys.collect();
    covered.marks.push(Mark::open(
        Meaning::Centre,
        vec![Point::new(middle, top), Point::new(middle, top - 8.0)],
    ));
    covered.marks.push(Mark::open(
        Meaning::Centre,
        vec![Point::new(middle, bottom), Point::new(middle, bottom + 8.0)],
    ));
    let face = [(0.0, 0.0), (field.mm(), 0.0), (field.mm(), height.mm()), (0.0, height.mm())];
    covered.marks.push(Mark::closed(
        Meaning::BoardEdge,
        Path::straight(&face.map(|(x, y)| Point::new(x, y))),
    ));
    let workings = vec![
        Working::new(
            "each channel on the board",
            vec![Term::Length(width), Term::Text(" / "), Term::Number(channels as f64)],
            width.share(channels as i64),
        ),
        Working::new(
            "cloth over a channel (arc)",
            vec![
                Term::Text("chord "),
                Term::Length(width.share(channels as i64)),
                Term::Text(", rise "),
                Term::Length(loft),
            ],
            arc.round_even(Length::from_nm(10_000)),
        ),
        Working::new(
            "field",
            vec![
                Term::Number(channels as f64),
                Term::Text(" × "),
                Term::Length(arc.round_even(Length::from_nm(10_000))),
                Term::Text(" + "),
                Term::Number(channels.saturating_sub(1) as f64),
                Term::Text(" × 2 × "),
                Term::Length(tuck),
            ],
            field.round_even(Length::from_nm(10_000)),
        ),
        Working::grown(
            "cut width, rounded up",
            field.round_even(Length::from_nm(10_000)),
            &[ask.build.foam, ask.build.board, a.turn_under, a.trim],
        ),
        Working::grown(
            "cut height",
            height,
            &[ask.build.foam, ask.build.board, a.turn_under, a.trim],
        ),
    ];
    let workings: Vec<Working> =
        workings
            .into_iter()
            .map(|w| {
                if w.what.starts_with("cut width") { Working { result: cut_width, ..w } } else { w }
            })
            .collect();
    if let Some(part) = parts.first_mut() {
        part.outline = Outline::solid(cover.clone());
        part.marks.clone_from(&covered.marks);
        part.workings.clone_from(&workings);
    }
    covered.cover = cover;
    covered.workings = workings;
    covered.quantities.channels = channels;
    covered.quantities.seam = height * channels.saturating_sub(1) as i64;
    Ok((covered, parts))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn cloth_over_channels_is_the_arc_of_each() {
        // Geometry: half-round 4 in channels 6.2832 each; chord 100 with rise 25: 115.9 mm; no rise,
        // no fullness. The last is worked above.
        let inch = Length::from_inches;
        let mm = Length::from_mm;
        let (_, arc) = field(inch(24.0), 6, inch(2.0), Length::ZERO).unwrap();
        assert!((arc.inches() - std::f64::consts::TAU).abs() < 1e-6);
        let (_, arc) = field(mm(800.0), 8, mm(25.0), Length::ZERO).unwrap();
        assert!((arc.mm() - 115.9).abs() < 0.05);
        assert_eq!(field(inch(24.0), 5, Length::ZERO, Length::ZERO).unwrap().0, inch(24.0));
        let (field, arc) = field(mm(1192.0), 8, mm(25.0), mm(6.0)).unwrap();
        assert!((arc.mm() - 159.945).abs() < 0.0005, "{}", arc.mm());
        assert!((field.mm() - 1363.56).abs() < 0.005, "{}", field.mm());
        assert!(super::field(mm(100.0), 0, mm(1.0), mm(1.0)).is_none());
    }
}
