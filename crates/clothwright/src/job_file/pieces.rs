//! Pieces: what all share, then each kind's own measures.

use super::materials::DIRECTIONS;
use super::reader::{Sort, Table};
use super::settings::allowances;
use geometry::{Corner, Length, Path, Point, Unit, Vector};
use trade::piece::{
    Condition, CutOut, Edge, Fixing, Hand, Kind, Notch, PanelShape, PatternRule, Piece, Run, Side,
    Wall, WallFitting, Welt, WeltGrain, ZipSide,
};
use trade::rates::Allowances;

/// Kinds and their names; one line for each.
type Reader = fn(&mut Table, Unit, bool) -> Kind;

const KINDS: [(&str, Reader); 9] = [
    ("panel", panel),
    ("pad", pad),
    ("slip seat", slip_seat),
    ("boxed cushion", boxed_cushion),
    ("knife-edge cushion", knife_edge),
    ("bolster", bolster),
    ("channelled back", channelled_back),
    ("wall grid", wall_grid),
    ("measured", measured),
];

/// Most copies of one piece.
const MOST: usize = 20_000;

/// Pieces without a priority come last.
const LAST: usize = 1000;

/// A `[[piece]]`, and how many faults the file has after it.
pub fn piece(mut t: Table, unit: Unit, usual: &Allowances) -> (Piece, usize) {
    let name = t.text("name");
    let words: Vec<(&'static str, Reader)> = KINDS.to_vec();
    let reader = t.choice("kind", &words);
    if reader.is_none() && !t.has("kind") {
        let all: Vec<&str> = KINDS.iter().map(|k| k.0).collect();
        t.wrong(
            "kind",
            "missing",
            "`kind` is missing",
            format!("add `kind = \"panel\"`; known: {}", all.join(", ")),
        );
    }
    let count = t.count("count", 1, MOST).unwrap_or(1);
    let run = run(&mut t, unit);
    let kind = match reader {
        Some(reader) => reader(&mut t, unit, run.is_some()),
        // Its keys cannot be judged without a kind.
        None => return (blank(name, usual), t.faults()),
    };
    if run.is_some() && !takes_run(&kind) {
        t.wrong(
            "run",
            "no-run-here",
            format!("a {} cannot be one of a run", kind.name()),
            "use a panel (rectangle), pad, channelled back or cushion, or give the width itself",
        );
    }
    let conditions =
        [("keep", Condition::Keep), ("repair", Condition::Repair), ("renew", Condition::Renew)];
    let own_allowances = match t.table("allowances") {
        Some(own) => allowances(own, unit, usual),
        None => usual.clone(),
    };
    let group = t.opt_text("match");
    let rule = t.choice("pattern", &[("free", 0), ("centred", 1)]);
    if group.is_some() && rule.is_some() {
        t.wrong(
            "match",
            "two-pattern-rules",
            "`pattern` and `match` are both given",
            "a piece is free, centred or matched with a group: give one",
        );
    }
    let pattern = match (group, rule) {
        (Some(group), _) => PatternRule::Matched(group),
        (None, Some(1)) => PatternRule::Centred,
        _ => PatternRule::Free,
    };
    let hand = [
        ("neither", Hand::Neither),
        ("left", Hand::Left),
        ("right", Hand::Right),
        ("pair", Hand::Pair),
    ];
    let grain =
        [("cross", WeltGrain::Cross), ("straight", WeltGrain::Straight), ("bias", WeltGrain::Bias)];
    let piece = Piece {
        place: t.text_or_empty("place"),
        count,
        hand: t.choice("hand", &hand).unwrap_or_default(),
        cloth: t.opt_text("cloth"),
        under_cloth: t.opt_text("under_cloth"),
        foam: t.opt_text("foam"),
        board: t.opt_text("board"),
        foam_condition: t.choice("foam_condition", &conditions).unwrap_or_default(),
        board_condition: t.choice("board_condition", &conditions).unwrap_or_default(),
        wrap: t.flag("wrap", false),
        dust_cover: t.flag("dust_cover", false),
        strip: t.flag(
            "strip",
            !matches!(kind, Kind::KnifeEdge { .. } | Kind::Bolster { .. } | Kind::Measured { .. }),
        ),
        direction: t.choice("direction", &DIRECTIONS),
        seam_allowed: t.flag("seam_allowed", false),
        halved: false,
        welt_grain: t.choice("welt_grain", &grain).unwrap_or_default(),
        allowances: own_allowances,
        fixing: t.table("fixing").map(|f| fixing(f, unit)),
        hours_each: t.decimal("hours_each", 0, 10_000),
        priority: t.count("priority", 1, LAST).unwrap_or(LAST),
        note: t.text_or_empty("note"),
        found: t.text_or_empty("found"),
        typed: t.typed.clone(),
        pattern,
        run,
        kind,
        name,
    };
    let faults_before_finish = t.faults();
    t.finish();
    // Keys that are only unknown do not keep the piece from being checked further.
    (piece, faults_before_finish)
}

fn blank(name: String, usual: &Allowances) -> Piece {
    Piece {
        name,
        place: String::new(),
        kind: Kind::Measured { width: Length::ZERO, height: Length::ZERO },
        count: 1,
        hand: Hand::Neither,
        run: None,
        cloth: None,
        under_cloth: None,
        foam: None,
        board: None,
        foam_condition: Condition::Keep,
        board_condition: Condition::Keep,
        wrap: false,
        dust_cover: false,
        strip: false,
        direction: None,
        pattern: PatternRule::Free,
        seam_allowed: false,
        halved: false,
        welt_grain: WeltGrain::Cross,
        allowances: usual.clone(),
        fixing: None,
        hours_each: None,
        priority: LAST,
        note: String::new(),
        found: String::new(),
        typed: Vec::new(),
    }
}

const fn takes_run(kind: &Kind) -> bool {
    matches!(
        kind,
        Kind::Panel { shape: PanelShape::Rectangle { .. }, .. }
            | Kind::Pad { .. }
            | Kind::KnifeEdge { .. }
            | Kind::ChannelledBack { .. }
            | Kind::BoxedCushion { .. }
            | Kind::Measured { .. }
    )
}

/// A width that a run gives instead.
fn width(t: &mut Table, key: &'static str, unit: Unit, in_run: bool) -> Length {
    if !in_run {
        return t.length(key, unit);
    }
    if t.opt_length(key, unit, Sort::OrZero).is_some() {
        t.wrong(
            key,
            "width-and-run",
            format!("`{key}` and `run` are both given"),
            "the run gives the width; take one out",
        );
    }
    Length::ZERO
}

fn run(t: &mut Table, unit: Unit) -> Option<Run> {
    let mut r = t.table("run")?;
    let measured = r.lengths("measured", unit, Sort::Positive);
    let sections = if measured.is_empty() {
        r.counted("sections", 1, 500)
    } else {
        r.count("sections", 1, 500).unwrap_or(measured.len())
    };
    if !measured.is_empty() && sections != measured.len() {
        r.wrong(
            "sections",
            "sections-miscounted",
            format!("{sections} sections but {} measured", measured.len()),
            "leave `sections` out when each is measured",
        );
    }
    let run = Run {
        length: r.length("length", unit),
        sections,
        end_gap: r.length_or("end_gap", unit, Length::ZERO),
        joint_gap: r.length_or("joint_gap", unit, Length::ZERO),
        measured,
    };
    t.typed.extend(r.finish().into_iter().map(|(key, text)| (format!("run {key}"), text)));
    Some(run)
}

fn fixing(mut f: Table, unit: Unit) -> Fixing {
    #[derive(Clone, Copy)]
    enum By {
        Screws,
        Clips,
        Cleat,
        Loose,
    }
    let by =
        [("screws", By::Screws), ("clips", By::Clips), ("cleat", By::Cleat), ("loose", By::Loose)];
    let by = f.choice("by", &by);
    if by.is_none() && !f.has("by") {
        f.wrong(
            "by",
            "missing",
            "`by` is missing",
            "say by = \"screws\", \"clips\", \"cleat\" or \"loose\"",
        );
    }
    let fixing = match by {
        Some(By::Screws) => Fixing::Screws {
            count: f.counted("count", 1, 500),
            gauge: f.count("gauge", 0, 30).unwrap_or(8) as u32,
            length: f.length("length", unit),
            through_face: f.flag("through_face", false),
            into: f.length("into", unit),
        },
        Some(By::Clips) => Fixing::Clips(f.counted("count", 1, 500)),
        Some(By::Cleat) => Fixing::Cleat,
        _ => Fixing::Loose,
    };
    f.finish();
    fixing
}

fn panel(t: &mut Table, unit: Unit, in_run: bool) -> Kind {
    #[derive(Clone, Copy, PartialEq)]
    enum Shape {
        Rectangle,
        Trapezoid,
        Disc,
        Ring,
        Corners,
    }
    let words = [
        ("rectangle", Shape::Rectangle),
        ("trapezoid", Shape::Trapezoid),
        ("disc", Shape::Disc),
        ("ring", Shape::Ring),
        ("corners", Shape::Corners),
    ];
    let which = t.choice("shape", &words).unwrap_or(Shape::Rectangle);
    let shape = match which {
        Shape::Rectangle => PanelShape::Rectangle {
            width: width(t, "width", unit, in_run),
            height: t.length("height", unit),
            radii: radii(t, unit),
            diagonals: t.lengths("diagonals", unit, Sort::Positive),
        },
        Shape::Trapezoid => PanelShape::Trapezoid {
            bottom: t.length("bottom", unit),
            top: t.length("top", unit),
            height: t.length("height", unit),
            offset: t.signed_length("offset", unit),
            radius: t.length_or("radius", unit, Length::ZERO),
            diagonals: t.lengths("diagonals", unit, Sort::Positive),
        },
        Shape::Disc => PanelShape::Disc { diameter: t.length("diameter", unit) },
        Shape::Ring => {
            let (outer, inner) = (t.length("diameter", unit), t.length("inner", unit));
            if inner >= outer && outer > Length::ZERO {
                t.wrong(
                    "inner",
                    "hole-outside",
                    "the hole of a ring is as wide as the ring",
                    "`inner` is the hole, `diameter` the outside",
                );
            }
            PanelShape::Ring { outer, inner }
        }
        Shape::Corners => PanelShape::Corners(corners(t, unit)),
    };
    let notches = t
        .tables("notch")
        .into_iter()
        .map(|mut n| {
            let side = n.opt_text("side").unwrap_or_default();
            let index = side_number(&side);
            if index.is_none() {
                n.wrong("side", "unknown-side", format!("`side = \"{side}\"` is no side"), SIDES);
            }
            let notch = Notch {
                side: index.unwrap_or(0),
                from: n.length_or("from", unit, Length::ZERO),
                width: n.length("width", unit),
                depth: n.length("depth", unit),
            };
            n.finish();
            notch
        })
        .collect();
    let sides = sides(t, unit);
    let cut_outs = t.tables("cut_out").into_iter().map(|c| cut_out(c, unit)).collect();
    Kind::Panel { shape, notches, sides, cut_outs }
}

const SIDES: &str = "sides are \"bottom\", \"right\", \"top\", \"left\", or for other outlines \"1\", \"2\" and so on from the first corner";

fn side_number(name: &str) -> Option<usize> {
    match name {
        "bottom" => Some(0),
        "right" => Some(1),
        "top" => Some(2),
        "left" => Some(3),
        other => other.parse::<usize>().ok().filter(|n| *n > 0 && *n < 1000).map(|n| n - 1),
    }
}

fn radii(t: &mut Table, unit: Unit) -> [Length; 4] {
    let all = t.opt_length("radius", unit, Sort::OrZero).unwrap_or(Length::ZERO);
    let each = t.lengths("radii", unit, Sort::OrZero);
    match each[..] {
        [] => [all; 4],
        [a, b, c, d] => [a, b, c, d],
        _ => {
            t.wrong(
                "radii",
                "not-four-radii",
                "`radii` needs four lengths",
                "bottom left, bottom right, top right, top left; or one `radius` for all",
            );
            [all; 4]
        }
    }
}

fn corners(t: &mut Table, unit: Unit) -> Vec<Corner> {
    let list = t.tables("corner");
    if list.is_empty() {
        t.wrong(
            "corner",
            "few-corners",
            "the outline has no corners",
            "add corner = [{ x = \"0\", y = \"0\" }, ...] counter-clockwise seen from the face",
        );
    }
    list.into_iter()
        .map(|mut c| {
            let x = c.signed_length("x", unit).unwrap_or(Length::ZERO);
            let y = c.signed_length("y", unit).unwrap_or(Length::ZERO);
            let radius = c.length_or("radius", unit, Length::ZERO);
            let rise = c.signed_length("rise", unit).unwrap_or(Length::ZERO);
            c.finish();
            Corner { at: Point::new(x.mm(), y.mm()), radius: radius.mm(), rise: rise.mm() }
        })
        .collect()
}

fn sides(t: &mut Table, unit: Unit) -> Vec<Side> {
    #[derive(Clone, Copy)]
    enum Word {
        Stapled,
        Lip,
        Joined,
        Tucked,
        Sewn,
        Open,
    }
    let words = [
        ("stapled", Word::Stapled),
        ("lip", Word::Lip),
        ("joined", Word::Joined),
        ("tucked", Word::Tucked),
        ("sewn", Word::Sewn),
        ("open", Word::Open),
    ];
    let mut all: Vec<Side> = Vec::new();
    for (name, mut s) in t.named_tables("side") {
        let edge = s.choice("edge", &words);
        let by = s.opt_length("by", unit, Sort::Positive);
        let needs_by = matches!(edge, Some(Word::Lip | Word::Tucked));
        if needs_by && by.is_none() {
            s.wrong(
                "by",
                "missing",
                "`by` is missing",
                "how far the foam is set back, or how much is tucked away",
            );
        }
        let by = by.unwrap_or(Length::ZERO);
        let edge = match edge {
            None | Some(Word::Stapled) => Edge::Stapled,
            Some(Word::Lip) => Edge::Lip(by),
            Some(Word::Joined) => Edge::Joined,
            Some(Word::Tucked) => Edge::Tucked(by),
            Some(Word::Sewn) => Edge::Sewn,
            Some(Word::Open) => Edge::Open,
        };
        let turn_under = s.opt_length("turn_under", unit, Sort::OrZero);
        match side_number(&name) {
            Some(i) => {
                if all.len() <= i {
                    all.resize(i + 1, Side::default());
                }
                all[i] = Side { edge, turn_under };
            }
            None => s.wrong("edge", "unknown-side", format!("there is no side `{name}`"), SIDES),
        }
        s.finish();
    }
    all
}

fn cut_out(mut c: Table, unit: Unit) -> CutOut {
    let what = c.opt_text("what").unwrap_or_else(|| "the fitting".into());
    let (x, y) = (c.length("x", unit), c.length("y", unit));
    let shape = if c.has("diameter") {
        let d = c.length("diameter", unit);
        Path::circle(d).moved(Vector::new(x.mm() - d.mm() / 2.0, y.mm() - d.mm() / 2.0))
    } else {
        let (w, h) = (c.length("width", unit), c.length("height", unit));
        let radius = c.length_or("radius", unit, Length::ZERO);
        let at = Vector::new(x.mm() - w.mm() / 2.0, y.mm() - h.mm() / 2.0);
        match Path::rectangle(w, h, [radius; 4]) {
            Ok(path) => path.moved(at),
            Err(_) => {
                if w > Length::ZERO && h > Length::ZERO {
                    c.wrong(
                        "radius",
                        "radius-too-large",
                        "the opening's radius is larger than its sides allow",
                        "at most half its lesser side",
                    );
                }
                Path::circle(Length::from_mm(1.0))
            }
        }
    };
    let flange = c.length_or("flange", unit, Length::ZERO);
    c.finish();
    CutOut { what, shape, flange }
}

fn pad(t: &mut Table, unit: Unit, in_run: bool) -> Kind {
    Kind::Pad { width: width(t, "width", unit, in_run), height: t.length("height", unit) }
}

fn slip_seat(t: &mut Table, unit: Unit, _: bool) -> Kind {
    let front = t.length("front", unit);
    let back = t.opt_length("back", unit, Sort::Positive).unwrap_or(front);
    let depth = t.length("depth", unit);
    let radius = t.length_or("radius", unit, Length::ZERO);
    let mut typed = Vec::new();
    let opening = t.table("opening").map(|mut o| {
        let open_front = o.length("front", unit);
        let open_back = o.opt_length("back", unit, Sort::Positive).unwrap_or(open_front);
        let open = (open_front, open_back, o.length("depth", unit));
        typed.extend(o.finish().into_iter().map(|(key, text)| (format!("opening {key}"), text)));
        open
    });
    t.typed.extend(typed);
    Kind::SlipSeat { front, back, depth, radius, opening }
}

fn welt(t: &mut Table) -> Welt {
    t.choice("welt", &[("none", Welt::None), ("one", Welt::One), ("both", Welt::Both)])
        .unwrap_or_default()
}

fn boxed_cushion(t: &mut Table, unit: Unit, in_run: bool) -> Kind {
    let front = width(t, "width", unit, in_run);
    let zip = [("back", ZipSide::Back), ("left", ZipSide::Left), ("none", ZipSide::None)];
    Kind::BoxedCushion {
        front,
        back: t.opt_length("back_width", unit, Sort::Positive).unwrap_or(front),
        depth: t.length("depth", unit),
        radius: t.length_or("radius", unit, Length::ZERO),
        zip: t.choice("zip", &zip).unwrap_or_default(),
        welt: welt(t),
    }
}

fn knife_edge(t: &mut Table, unit: Unit, in_run: bool) -> Kind {
    Kind::KnifeEdge {
        width: width(t, "width", unit, in_run),
        height: t.length("height", unit),
        crown: t.length_or("crown", unit, Length::ZERO),
        zip: t.flag("zip", true),
        welt: welt(t),
    }
}

fn bolster(t: &mut Table, unit: Unit, _: bool) -> Kind {
    Kind::Bolster {
        length: t.length("length", unit),
        diameter: t.length("diameter", unit),
        zip: t.flag("zip", true),
        welt: welt(t),
    }
}

fn channelled_back(t: &mut Table, unit: Unit, in_run: bool) -> Kind {
    Kind::ChannelledBack {
        width: width(t, "width", unit, in_run),
        height: t.length("height", unit),
        channels: t.counted("channels", 1, 500),
        loft: t.length_or("loft", unit, Length::ZERO),
        tuck: t.length_or("tuck", unit, Length::ZERO),
    }
}

fn wall_grid(t: &mut Table, unit: Unit, _: bool) -> Kind {
    let fittings = t
        .tables("fitting")
        .into_iter()
        .map(|mut f| {
            let fitting = WallFitting {
                what: f.text("what"),
                x: f.length("x", unit),
                y: f.length("y", unit),
                width: f.length("width", unit),
                height: f.length("height", unit),
                flange: f.length_or("flange", unit, Length::ZERO),
            };
            f.finish();
            fitting
        })
        .collect();
    Kind::WallGrid(Wall {
        width: t.length("width", unit),
        height: t.length("height", unit),
        margin: t.length_or("margin", unit, Length::ZERO),
        gap: t.length_or("gap", unit, Length::ZERO),
        columns: t.counted("columns", 1, 200),
        rows: t.counted("rows", 1, 200),
        fittings,
    })
}

fn measured(t: &mut Table, unit: Unit, in_run: bool) -> Kind {
    Kind::Measured { width: width(t, "width", unit, in_run), height: t.length("height", unit) }
}
