//! Upright channels over a padded board: the cloth follows an arc over each and dips into the
//! valleys between.
//!
//! Worked example: board 1192, 8 channels of 149 with a loft of 25, 7 valleys with tucks of 6:
//! each arc 159.945, field 8 x 159.945 + 7 x 2 x 6 = 1363.56.

use super::Ask;
use super::boxed::TENTH;
use super::cover::Covered;
use super::panel;
use crate::fault::Fault;
use crate::panel::{PanelShape, Side};
use crate::part::{Mark, Meaning, Part, wadding};
use crate::working::{Formula, Working, of};
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

/// Measures of a channelled back.
#[derive(Clone, Copy, Debug)]
pub struct Channelled {
    /// Board.
    pub width: Length,
    /// Board.
    pub height: Length,
    /// How many.
    pub channels: usize,
    /// Height of a channel over its valleys.
    pub loft: Length,
    /// Cloth tucked into each valley, each side.
    pub tuck: Length,
    /// Channels lie level.
    pub level: bool,
    /// Each channel a strip of its own.
    pub strips: bool,
}

/// The channelled cover of a board: in one cloth, in cloths joined in valleys where it is too wide and
/// may be seamed, or in strips sewn together.
///
/// Strips: `arc + 2 n`, the two end ones `arc + n + reach`. Source: half-inch seams and a pull beyond the
/// ends, a hobby account; the seam in a valley, common practice, no source.
pub fn develop(ask: &Ask, back: &Channelled) -> Result<(Covered, Vec<Part>), Vec<Fault>> {
    let Channelled { width, height, channels, loft, tuck, level, strips } = *back;
    let (divided, other) = if level { (height, width) } else { (width, height) };
    // Sewn strips have seams in place of tucks.
    let tuck = if strips { Length::ZERO } else { tuck };
    let Some((field, arc)) = field(divided, channels, loft, tuck) else {
        return Err(vec![Fault::new(
            "loft-too-high",
            format!("{}.loft", ask.at),
            format!(
                "channels {} wide cannot rise {}",
                ask.build.style.chalk(divided.share(channels.max(1) as i64)),
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
    let (divided_word, other_word) =
        if level { ("cut height", "cut width") } else { ("cut width", "cut height") };
    let by = [ask.build.down(&Side::default()), a.turn_under, a.trim];
    let chord = divided.share(channels as i64);
    let all = channels as i64 * of(arc.round_even(TENTH));
    let field_sum = match tuck == Length::ZERO {
        true => all,
        false => all + (channels as i64 - 1) * (2 * of(tuck)),
    };
    let field_working = Working::of("field", field_sum);
    let cut = Working::grown(divided_word, field_working.result, &by).up_to(a.cut_step);
    let other_cut = Working::grown(other_word, other, &by);
    let (cut, other_cut) = match level {
        true => (cut.height(), other_cut.width()),
        false => (cut.width(), other_cut.height()),
    };
    let (cut_divided, cut_other) = (cut.result, other_cut.result);
    let workings = vec![
        Working::of("each channel on the board", of(divided) / channels as i64),
        Working::of("cloth over a channel", Formula::Arc(chord, loft)),
        field_working,
        cut,
        other_cut,
    ];
    // u along the division, v along the channels.
    let place = |u: f64, v: f64| if level { Point::new(v, u) } else { Point::new(u, v) };
    let (low, top) = (-reach.mm(), other.mm() + reach.mm());
    let turn = |path: Path| if level { path.reversed() } else { path };
    let rectangle = |u0: f64, u1: f64, v0: f64, v1: f64| {
        turn(Path::straight(&[place(u0, v0), place(u1, v0), place(u1, v1), place(u0, v1)]))
    };
    let cover = rectangle(low, low + cut_divided.mm(), low, top);
    // Valleys on the flat cloth: after each arc, a tuck either side of the valley line.
    let valley = |i: usize| (arc.mm() + 2.0 * tuck.mm()) * i as f64 - tuck.mm();
    covered.marks = (1..channels)
        .map(|i| {
            Mark::open(Meaning::Stitch, vec![place(valley(i), 0.0), place(valley(i), other.mm())])
        })
        .collect();
    let middle = field.mm() / 2.0;
    for (from, to) in [(top, top - 8.0), (low, low + 8.0)] {
        covered
            .marks
            .push(Mark::open(Meaning::Centre, vec![place(middle, from), place(middle, to)]));
    }
    covered
        .marks
        .push(Mark::closed(Meaning::BoardEdge, rectangle(0.0, field.mm(), 0.0, other.mm())));
    if let Some(part) = parts.first_mut() {
        part.outline = Outline::solid(cover.clone());
        part.marks.clone_from(&covered.marks);
        part.workings.clone_from(&workings);
    }
    let wide = if level { cut_other } else { cut_divided };
    let groups = if strips {
        vec![1; channels]
    } else if !level && wide > ask.usable && ask.may_seam {
        let edge = |i: usize, of: usize| if i == 0 || i == of { reach } else { a.seam + tuck };
        symmetric(channels, |sizes| {
            let k = sizes.len();
            let width = |(i, n): (usize, &usize)| {
                let span = arc * *n as i64 + tuck * (2 * (*n as i64 - 1));
                (span + edge(i, k) + edge(i + 1, k)).round_up(a.cut_step)
            };
            sizes.iter().enumerate().all(|sized| width(sized) <= ask.usable)
        })
        .unwrap_or_default()
    } else {
        Vec::new()
    };
    if groups.len() > 1 {
        let whole = parts.remove(0);
        let pieces = joined(ask, &whole, &groups, (arc, tuck, reach), (cut_other, level), strips);
        parts.splice(0..0, pieces);
    }
    covered.cover = cover;
    covered.workings = workings;
    if loft == Length::ZERO {
        covered.warnings.push(Fault::new(
            "channels-flat",
            format!("{}.loft", ask.at),
            "the channels have no loft: the cover is cut as for a flat board",
            "measure how far a channel stands above its valleys; even an inch takes much cloth",
        ));
    }
    covered.quantities.channels = channels;
    covered.quantities.valleys = other * channels.saturating_sub(1) as i64;
    covered.quantities.wadding_mm2 = wadding(width.mm() * height.mm(), loft - ask.build.foam);
    covered.quantities.seam = other * channels.saturating_sub(1) as i64;
    Ok((covered, parts))
}

/// Numbers of channels for each cloth, alike left and right, as few cloths as `fit`.
fn symmetric(channels: usize, fit: impl Fn(&[usize]) -> bool) -> Option<Vec<usize>> {
    (2..=channels).find_map(|k| {
        let (each, mut over) = (channels / k, channels % k);
        let mut sizes = vec![each; k];
        if over % 2 == 1 {
            if k % 2 == 0 {
                return None;
            }
            sizes[k / 2] += 1;
            over -= 1;
        }
        for i in 0..over / 2 {
            sizes[i] += 1;
            sizes[k - 1 - i] += 1;
        }
        fit(&sizes).then_some(sizes)
    })
}

/// The cover cut in valleys into groups of channels.
fn joined(
    ask: &Ask,
    whole: &Part,
    groups: &[usize],
    (arc, tuck, reach): (Length, Length, Length),
    (along, level): (Length, bool),
    strips: bool,
) -> Vec<Part> {
    let a = ask.build.allowances;
    let k = groups.len();
    let mut pieces: Vec<Part> = Vec::new();
    for (i, &n) in groups.iter().enumerate() {
        let edge = |at_end: bool| if at_end { reach } else { a.seam + tuck };
        let (left, right) = (edge(i == 0), edge(i + 1 == k));
        let span = arc * n as i64 + tuck * (2 * (n as i64 - 1));
        let width = (span + left + right).round_up(a.cut_step);
        let size = if level { (along, width) } else { (width, along) };
        let name = match (strips, i == 0 || i + 1 == k) {
            (true, true) => "end channel".to_string(),
            (true, false) => "channel".to_string(),
            _ => format!("cover, {} of {k} from the left, joined in the valleys", i + 1),
        };
        if let Some(same) = pieces.iter_mut().find(|p| p.name == name) {
            same.count += 1;
            continue;
        }
        let mut piece = Part {
            name: name.clone(),
            outline: super::strips::rectangle(size.0, size.1),
            marks: Vec::new(),
            ..whole.clone()
        };
        let sum = of(span.round_even(TENTH)) + of(left) + of(right);
        let across = Working::of(format!("{name}, across the channels"), sum).up_to(a.cut_step);
        piece.explain(if level { across.height() } else { across.width() });
        piece.divided = (!strips).then(|| (arc * n as i64).mm() * along.mm());
        pieces.push(piece);
    }
    pieces
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

    #[test]
    fn joins_lie_alike_left_and_right() {
        // Channels are laid out from the centre, both ends equal: a trade newsletter.
        for channels in 2..30 {
            for most in 1..channels {
                let Some(sizes) = symmetric(channels, |s| s.iter().all(|n| *n <= most)) else {
                    continue;
                };
                assert_eq!(sizes.iter().sum::<usize>(), channels);
                assert!(sizes.iter().eq(sizes.iter().rev()), "{sizes:?}");
            }
        }
    }
}
