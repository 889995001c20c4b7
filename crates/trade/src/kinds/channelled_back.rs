//! Upright channels over a padded board: the cloth follows an arc over each and dips into the
//! valleys between.
//!
//! Worked example: board 1192, 8 channels of 149 with a loft of 25, 7 valleys with tucks of 6:
//! each arc 159.945, field 8 x 159.945 + 7 x 2 x 6 = 1363.56.

use super::table::{Key, Nature, Sort, Table};
use super::values::Values;
use super::{Kind, OfKind};
use crate::bench::cautions::{NEEDLE, STAPLER};
use crate::bench::{Bench, Step};
use crate::build::{Ask, Kit, board};
use crate::fault::Fault;
use crate::message::{Message, message};
use crate::panel::Side;
use crate::part::{Mark, Meaning, Part, wadding};
use crate::working::{Formula, Gives, HUNDREDTH, Working, of};
use geometry::{Arc, Length, Outline, Path, Point};

/// Padded channels on a board.
#[derive(Clone, Debug, PartialEq)]
pub struct ChannelledBack {
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
    /// Channels lie level instead of upright.
    pub level: bool,
    /// Each channel a strip of its own, sewn to its neighbours.
    pub strips: bool,
}

/// The cloth over all channels.
const FIELD: &str = "work-field";

const KEYS: [Key; 9] = [
    Key::length("width", "board, left to right").from_run(),
    Key::length("height", "board, bottom to top"),
    Key::word("lie", &["upright", "level"]),
    Key::optional(
        "channels",
        Sort::Count(1, 500),
        "how many; odd: one on the middle, even: a valley",
    ),
    Key::optional("channel_width", Sort::Length, ""),
    Key::optional("centre", Sort::Word(&["channel", "valley"]), ""),
    Key::or_zero("loft", "how far a channel stands above its valleys"),
    Key::or_zero("tuck", "cloth tucked into each valley, each side"),
    Key::word("cut", &["whole", "strips"]),
];

/// What is asked of a channelled back.
pub const TABLE: Table =
    Table { name: "channelled back", keys: &KEYS, nature: Nature::BOARD, read };

fn read(values: &mut Values, faults: &mut Vec<Fault>) -> Kind {
    let level = values.is("lie", "level");
    let [width, height, loft, tuck] =
        ["width", "height", "loft", "tuck"].map(|key| values.length(key));
    // Odd numbers have a channel on the middle.
    let centre = values.choice("centre", &[("channel", 1), ("valley", 0)]);
    let about = values.opt_length("channel_width").filter(|l| *l > Length::ZERO);
    let channels = match (values.opt_count("channels"), about) {
        (Some(channels), _) => channels,
        (None, Some(about)) if !values.is_in_run => {
            near(if level { height } else { width }, about, centre)
        }
        (None, _) => {
            if !values.has("channels") {
                faults.push(super::common::missing("channels", message("missing-channels")));
            }
            1
        }
    };
    values.note("channels", channels);
    if centre.is_some_and(|odd| channels % 2 != odd && channels > 0) {
        faults.push(Fault::new(
            "channels-off-centre",
            "centre",
            message("channels-off-centre").count("channels", channels),
            message("channels-off-centre").part("do"),
        ));
    }
    let strips = values.is("cut", "strips");
    Kind::ChannelledBack(ChannelledBack { width, height, channels, loft, tuck, level, strips })
}

/// How many channels come nearest to a width; odd or even where the middle asks for it.
fn near(divided: Length, about: Length, centre: Option<usize>) -> usize {
    let near = (divided.mm() / about.mm()).clamp(1.0, 500.0);
    let whole = near.round() as usize;
    match centre {
        Some(odd) if whole % 2 != odd => {
            let down = whole.saturating_sub(1).max(2 - odd);
            if near > whole as f64 || down % 2 != odd { whole + 1 } else { down }
        }
        _ => whole,
    }
}

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

impl OfKind for ChannelledBack {
    fn table(&self) -> &'static Table {
        &TABLE
    }

    /// The channelled cover of a board: in one cloth, in cloths joined in valleys where it is too wide and
    /// may be seamed, or in strips sewn together.
    ///
    /// Strips: `arc + 2 (n + t)`, the two end ones `arc + n + t + reach`; `t` is the tuck into a valley.
    /// Source: half-inch seams and a pull beyond the ends, a hobby account; the seam in a valley, common
    /// practice, no source.
    fn develop(&self, ask: &Ask) -> Result<Kit, Vec<Fault>> {
        let Self { width, height, channels, loft, tuck, level, strips } = *self;
        let (divided, other) = if level { (height, width) } else { (width, height) };
        let Some((field, arc)) = field(divided, channels, loft, tuck) else {
            return Err(vec![
                ask.fault(
                    "loft-too-high",
                    "loft",
                    message("loft-too-high")
                        .chalk("i64", divided.share(channels.max(1) as i64))
                        .length("loft", loft),
                    message("loft-too-high").part("do"),
                ),
            ]);
        };
        let (mut covered, mut parts) = board::rectangle(ask, (width, height), &[])?;
        let a = ask.build.allowances;
        let reach = ask.build.reach(&Side::default());
        let (divided_word, other_word) = if level {
            ("work-cut-height", "work-cut-width")
        } else {
            ("work-cut-width", "work-cut-height")
        };
        let by = [ask.build.down(&Side::default()), a.turn_under, a.trim];
        let chord = divided.share(channels as i64);
        let all = channels as i64 * of(arc.round_even(HUNDREDTH));
        let field_sum = match tuck == Length::ZERO {
            true => all,
            false => all + (channels as i64 - 1) * (2 * of(tuck)),
        };
        let field_working = Working::of(message(FIELD), field_sum);
        let cut =
            Working::grown(message(divided_word), field_working.result, &by).up_to(a.cut_step);
        let other_cut = Working::grown(message(other_word), other, &by);
        let (cut, other_cut) = match level {
            true => (cut.height(), other_cut.width()),
            false => (cut.width(), other_cut.height()),
        };
        let (cut_divided, cut_other) = (cut.result, other_cut.result);
        let workings = vec![
            Working::of(message("work-each-channel-on-the-board"), of(divided) / channels as i64),
            Working::of(message("work-cloth-over-a-channel"), Formula::Arc(chord, loft)),
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
                Mark::open(
                    Meaning::Stitch,
                    vec![place(valley(i), 0.0), place(valley(i), other.mm())],
                )
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
            let pieces =
                joined(ask, &whole, &groups, (arc, tuck, reach), (cut_other, level), strips);
            parts.splice(0..0, pieces);
        }
        covered.cover = cover;
        covered.workings = workings;
        if loft == Length::ZERO {
            covered.warnings.push(ask.fault(
                "channels-flat",
                "loft",
                message("channels-flat"),
                message("channels-flat").part("do"),
            ));
        }
        covered.quantities.channels = channels;
        covered.quantities.valleys = other * channels.saturating_sub(1) as i64;
        covered.quantities.wadding_mm2 = wadding(width.mm() * height.mm(), loft - ask.build.foam);
        covered.quantities.seam = other * channels.saturating_sub(1) as i64;
        Ok(Kit::of_board((covered, parts)))
    }

    fn steps(&self, bench: &Bench) -> Vec<Step> {
        bench.covered(Length::ZERO, vec![self.channels_step(bench), bench.edges()], &[])
    }

    fn reach(&self) -> Option<Length> {
        Some(self.width)
    }

    fn set_width(&mut self, board: Length) {
        self.width = board;
    }

    fn height_in_run(&self) -> Option<Length> {
        Some(self.height)
    }

    fn sizes(&mut self) -> Vec<(&'static str, &mut Length)> {
        vec![("width", &mut self.width), ("height", &mut self.height)]
    }
}

impl ChannelledBack {
    fn channels_step(&self, bench: &Bench) -> Step {
        let (loft, foam, finished) = (self.loft, bench.foam_thickness(), bench.made.finished);
        let divided = if self.level { finished.1 } else { finished.0 };
        let slit = if foam == Length::ZERO {
            Message::nothing()
        } else if loft < foam {
            message("channels-slit-deep").length("deep", loft)
        } else {
            message("channels-slit-through")
        };
        let hold = if loft < foam { "channels-hold-glue" } else { "channels-hold-staple" };
        let fill = if loft > foam {
            message("channels-fill").length("deep", loft - foam)
        } else {
            Message::nothing()
        };
        let text = message("step-channels")
            .count("channels", self.channels)
            .flag("level", self.level)
            .chalk("pitch", divided.share(self.channels.max(1) as i64))
            .flag("odd", self.channels % 2 == 1)
            .flag("strips", self.strips)
            .said("slit", slit)
            .said("hold", message(hold))
            .said("fill", fill);
        Step::new(text, &[STAPLER, NEEDLE])
    }
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
    let divided = if level { Gives::Height } else { Gives::Width };
    let k = groups.len();
    let mut pieces: Vec<Part> = Vec::new();
    for (i, &n) in groups.iter().enumerate() {
        let edge = |at_end: bool| if at_end { reach } else { a.seam + tuck };
        let (left, right) = (edge(i == 0), edge(i + 1 == k));
        let span = arc * n as i64 + tuck * (2 * (n as i64 - 1));
        let width = (span + left + right).round_up(a.cut_step);
        let size = if level { (along, width) } else { (width, along) };
        let name = match (strips, i == 0 || i + 1 == k) {
            (true, true) => message("part-end-channel"),
            (true, false) => message("part-channel"),
            _ => message("part-cover-in-valleys").count("number", i + 1).count("of", k),
        };
        if let Some(same) = pieces.iter_mut().find(|p| p.name == name) {
            same.count += 1;
            continue;
        }
        let mut piece = Part {
            name: name.clone(),
            outline: crate::build::strips::rectangle(size.0, size.1),
            marks: Vec::new(),
            ..whole.clone()
        };
        let sum = of(span.round_even(HUNDREDTH)) + of(left) + of(right);
        let across =
            Working::of(message("work-across-channels").said("part", name), sum).up_to(a.cut_step);
        // How wide it would be in one is no size of it.
        piece.workings.retain(|w| w.gives != divided && !w.what.is(FIELD));
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
