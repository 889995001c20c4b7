//! What is measured of each kind of piece.

use super::outline::{SIDES, panel, shape, side_number};
use super::reader::{Sort, Table};
use geometry::{Length, Unit};
use rust_decimal::prelude::ToPrimitive;
use trade::develop::shape::back_side;
use trade::kind::{
    ButtonPlaces, Buttoned, Curved, CurvedFaces, CutEdge, CutPiece, Fullness, Headboard, Kind,
    Lean, LeaningSide, Ottoman, Pleating, Shaped, Skirt, Sloped, Tapered, Wall, WallFitting,
    Waterfall, Wedge, Welt, WeltRuns, ZipSide,
};
use trade::panel::PanelShape;

/// Kinds and their names; one line for each.
pub type Reader = fn(&mut Table, Unit, bool) -> Kind;

pub const KINDS: [(&str, Reader); 21] = [
    ("panel", panel),
    ("pad", pad),
    ("slip seat", slip_seat),
    ("boxed cushion", boxed_cushion),
    ("knife-edge cushion", knife_edge),
    ("bolster", bolster),
    ("channelled back", channelled_back),
    ("shaped cushion", shaped_cushion),
    ("wedge cushion", wedge_cushion),
    ("sloped cushion", sloped_cushion),
    ("waterfall cushion", waterfall_cushion),
    ("tapered bolster", tapered_bolster),
    ("ottoman", ottoman),
    ("curved back", curved_back),
    ("headboard", headboard),
    ("buttoned back", buttoned_back),
    ("skirt", skirt),
    ("cut pieces", cut_pieces),
    ("welt", welt_runs),
    ("wall grid", wall_grid),
    ("measured", measured),
];

/// Remembers a measure that is no length as it was typed.
fn typed(t: &mut Table, key: &str, value: impl ToString) {
    t.typed.push((key.into(), value.to_string()));
}

/// A width that a run gives instead.
pub fn width(t: &mut Table, key: &'static str, unit: Unit, in_run: bool) -> Length {
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

fn pad(t: &mut Table, unit: Unit, in_run: bool) -> Kind {
    Kind::Pad {
        width: width(t, "width", unit, in_run),
        height: t.length("height", unit),
        crown: t.length_or("crown", unit, Length::ZERO),
    }
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
    let crown = t.length_or("crown", unit, Length::ZERO);
    Kind::SlipSeat { front, back, depth, radius, opening, crown }
}

fn welt(t: &mut Table) -> Welt {
    t.choice("welt", &[("none", Welt::None), ("one", Welt::One), ("both", Welt::Both)])
        .unwrap_or_default()
}

fn boxed_cushion(t: &mut Table, unit: Unit, in_run: bool) -> Kind {
    let front = width(t, "width", unit, in_run);
    let zip = [
        ("back", ZipSide::Back),
        ("left", ZipSide::Left),
        ("right", ZipSide::Right),
        ("none", ZipSide::None),
    ];
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

/// Channels by number, or as many near a width as `centre` allows.
fn channelled_back(t: &mut Table, unit: Unit, in_run: bool) -> Kind {
    let board = width(t, "width", unit, in_run);
    let height = t.length("height", unit);
    let level = t.choice("lie", &[("upright", false), ("level", true)]).unwrap_or(false);
    // Odd numbers have a channel on the middle.
    let centre = t.choice("centre", &[("channel", 1), ("valley", 0)]);
    let about = t.opt_length("channel_width", unit, Sort::Positive).filter(|l| *l > Length::ZERO);
    let channels = match about {
        Some(about) if !t.has("channels") && !in_run => {
            let divided = if level { height } else { board };
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
        _ => t.counted("channels", 1, 500),
    };
    typed(t, "channels", channels);
    if centre.is_some_and(|odd| channels % 2 != odd && channels > 0) {
        t.wrong(
            "centre",
            "channels-off-centre",
            format!("{channels} equal channels cannot have that on the middle"),
            "an odd number has a channel on the middle, an even one a valley",
        );
    }
    Kind::ChannelledBack {
        width: board,
        height,
        channels,
        loft: t.length_or("loft", unit, Length::ZERO),
        tuck: t.length_or("tuck", unit, Length::ZERO),
        level,
        strips: t.choice("cut", &[("whole", false), ("strips", true)]).unwrap_or(false),
    }
}

fn shaped_cushion(t: &mut Table, unit: Unit, _: bool) -> Kind {
    let shape = shape(t, unit, false);
    let usual = match &shape {
        PanelShape::Rectangle { .. } | PanelShape::Trapezoid { .. } => Some(2),
        PanelShape::Tee { ears, .. } => Some(back_side(*ears)),
        PanelShape::Disc { .. } | PanelShape::Ring { .. } => Some(0),
        _ => None,
    };
    let zip = match t.opt_text("zip_side").as_deref() {
        None => usual,
        Some("none") => None,
        Some("back") => usual.or(Some(2)),
        Some(other) => {
            let side = side_number(other);
            if side.is_none() {
                t.wrong("zip_side", "unknown-side", format!("`{other}` is no side"), SIDES);
            }
            side
        }
    };
    Kind::ShapedCushion(Shaped {
        shape,
        zip,
        zip_length: t.opt_length("zip_length", unit, Sort::Positive),
        welt: welt(t),
    })
}

fn wedge_cushion(t: &mut Table, unit: Unit, _: bool) -> Kind {
    Kind::WedgeCushion(Wedge {
        width: t.length("width", unit),
        depth: t.length("depth", unit),
        front: t.length("front", unit),
        back: t.length("back", unit),
        zip: t.flag("zip", true),
        welt: welt(t),
    })
}

fn sloped_cushion(t: &mut Table, unit: Unit, _: bool) -> Kind {
    let sides =
        [("back", LeaningSide::Back), ("left", LeaningSide::Left), ("right", LeaningSide::Right)];
    let angle = t.decimal("angle", -80, 80);
    if let Some(angle) = angle {
        typed(t, "angle", format!("{}°", angle.normalize()));
    }
    let angle = angle.and_then(|a| a.to_f64());
    let bottom = t.opt_length("bottom", unit, Sort::Positive);
    if angle.is_some() == bottom.is_some() {
        t.wrong(
            "angle",
            "lean-not-said",
            "give either `angle` or `bottom`",
            "the angle from the upright in degrees, or the bottom as measured at floor level",
        );
    }
    let lean = bottom.map_or(Lean::Degrees(angle.unwrap_or(0.0)), Lean::Bottom);
    Kind::SlopedCushion(Sloped {
        width: t.length("width", unit),
        depth: t.length("depth", unit),
        lean,
        side: t.choice("leans", &sides).unwrap_or_default(),
        zip: t.flag("zip", true),
        welt: welt(t),
    })
}

fn waterfall_cushion(t: &mut Table, unit: Unit, _: bool) -> Kind {
    Kind::WaterfallCushion(Waterfall {
        width: t.length("width", unit),
        depth: t.length("depth", unit),
        round: t.choice("front", &[("round", true), ("square", false)]).unwrap_or(true),
        zip: t.flag("zip", true),
        welt: welt(t),
    })
}

fn tapered_bolster(t: &mut Table, unit: Unit, _: bool) -> Kind {
    Kind::TaperedBolster(Tapered {
        length: t.length("length", unit),
        large: t.length("large", unit),
        small: t.length_or("small", unit, Length::ZERO),
        zip: t.flag("zip", true),
        welt: welt(t),
    })
}

fn ottoman(t: &mut Table, unit: Unit, _: bool) -> Kind {
    let round = t.choice("shape", &[("rectangle", false), ("round", true)]).unwrap_or(false);
    let (width, depth) = if round {
        (t.length("diameter", unit), None)
    } else {
        (t.length("width", unit), Some(t.length("depth", unit)))
    };
    let wrapped = t.choice("cut", &[("five sides", false), ("wrapped", true)]).unwrap_or(false);
    if round && wrapped {
        t.wrong(
            "cut",
            "round-and-wrapped",
            "a round ottoman has a top and a band",
            "leave `cut` out",
        );
    }
    Kind::Ottoman(Ottoman {
        width,
        depth,
        height: t.length("height", unit),
        wrapped,
        welt: welt(t),
    })
}

fn curved_back(t: &mut Table, unit: Unit, _: bool) -> Kind {
    let faces = [
        ("inside", CurvedFaces::Inside),
        ("outside", CurvedFaces::Outside),
        ("both", CurvedFaces::Both),
    ];
    Kind::CurvedBack(Curved {
        chord: t.length("chord", unit),
        rise: t.length_or("rise", unit, Length::ZERO),
        height: t.length("height", unit),
        faces: t.choice("faces", &faces).unwrap_or_default(),
        panels: t.count("panels", 1, 60),
    })
}

fn headboard(t: &mut Table, unit: Unit, _: bool) -> Kind {
    Kind::Headboard(Headboard {
        width: t.length("width", unit),
        height: t.length("height", unit),
        border: t.length("border", unit),
        wing: t.opt_length("wing", unit, Sort::Positive),
    })
}

fn buttoned_back(t: &mut Table, unit: Unit, _: bool) -> Kind {
    let added = t.lengths("added", unit, Sort::OrZero);
    let rules = [
        ("arc", Fullness::Arc),
        ("slant", Fullness::Slant),
        ("depth", Fullness::Depth),
        ("two depths", Fullness::TwoDepths),
        ("added", Fullness::Added(Length::ZERO, Length::ZERO)),
    ];
    let fullness = match (t.choice("fullness", &rules).unwrap_or_default(), &added[..]) {
        (Fullness::Added(..), [wide, high]) => Fullness::Added(*wide, *high),
        (Fullness::Added(..), _) => {
            t.wrong(
                "added",
                "missing",
                "`added` needs two lengths",
                "so much more cloth for each diamond, across and up: added = [\"2\", \"1 3/4\"]",
            );
            Fullness::Arc
        }
        (rule, []) => rule,
        (rule, _) => {
            t.wrong(
                "added",
                "added-unused",
                "`added` is given but `fullness` is another rule",
                "say fullness = \"added\", or leave `added` out",
            );
            rule
        }
    };
    let (across, high) = (t.counted("across", 1, 100), t.counted("high", 1, 100));
    let ligne = t.count("ligne", 10, 200).unwrap_or(30) as u32;
    typed(t, "across", across);
    typed(t, "high", high);
    typed(t, "ligne", ligne);
    let places = [("tips", ButtonPlaces::Tips), ("corners", ButtonPlaces::Corners)];
    Kind::ButtonedBack(Buttoned {
        width: t.length("width", unit),
        height: t.length("height", unit),
        border: t.length_or("border", unit, Length::ZERO),
        across,
        high,
        depth: t.length_or("depth", unit, Length::ZERO),
        fullness,
        places: t.choice("buttons_at", &places).unwrap_or_default(),
        edge_buttons: t.flag("edge_buttons", true),
        ligne,
    })
}

fn skirt(t: &mut Table, unit: Unit, _: bool) -> Kind {
    #[derive(Clone, Copy)]
    enum Word {
        Box,
        Corner,
    }
    let sides = t.lengths("sides", unit, Sort::Positive);
    if sides.is_empty() {
        t.wrong(
            "sides",
            "missing",
            "`sides` is missing",
            "list each side it hangs from: sides = [\"24\", \"22\"]",
        );
    }
    let words = [("box", Word::Box), ("inverted", Word::Box), ("corner", Word::Corner)];
    let pleats = match t.choice("pleats", &words) {
        Some(Word::Box) => {
            let spacing = t.length("spacing", unit);
            let depth = t.opt_length("fold", unit, Sort::Positive).unwrap_or(spacing);
            let spacing = if spacing > Length::ZERO { spacing } else { Length::from_mm(1.0) };
            Pleating::Even { spacing, depth }
        }
        Some(Word::Corner) => Pleating::Corners { fold: t.length("fold", unit) },
        None => {
            if !t.has("pleats") {
                t.wrong(
                    "pleats",
                    "missing",
                    "`pleats` is missing",
                    "say pleats = \"box\", \"inverted\" or \"corner\"",
                );
            }
            Pleating::Corners { fold: Length::ZERO }
        }
    };
    let lined = t.flag("lined", false);
    let hem = if lined {
        Length::ZERO
    } else {
        t.length_or(
            "hem",
            unit,
            if unit.is_binary() { Length::from_inches(1.0) } else { Length::from_mm(25.0) },
        )
    };
    Kind::Skirt(Skirt { sides, drop: t.length("drop", unit), hem, lined, pleats })
}

fn cut_pieces(t: &mut Table, unit: Unit, _: bool) -> Kind {
    let words = [
        ("stapled", CutEdge::Stapled),
        ("tack strip", CutEdge::TackStrip),
        ("seam", CutEdge::Seam),
        ("pull", CutEdge::Pull),
        ("bare", CutEdge::Bare),
    ];
    let list = t.tables("cut");
    if list.is_empty() {
        t.wrong(
            "cut",
            "missing",
            "there is no `[[piece.cut]]`",
            "add one for each piece: name = \"inside back\", width, height, edges = { top = \"stapled\", ... }",
        );
    }
    let cuts = list
        .into_iter()
        .map(|mut c| {
            let mut edges = [CutEdge::Stapled; 4];
            if let Some(mut e) = c.table("edges") {
                for (i, side) in ["bottom", "right", "top", "left"].into_iter().enumerate() {
                    edges[i] = e.choice(side, &words).unwrap_or_default();
                }
                e.finish();
            }
            let pair = c.flag("pair", false);
            let count = c.count("count", 1, 100).unwrap_or(if pair { 2 } else { 1 });
            if pair && count % 2 == 1 {
                c.wrong(
                    "count",
                    "unequal-pair",
                    format!("a pair needs as many left as right, and {count} is odd"),
                    "count left and right together",
                );
            }
            let cut = CutPiece {
                name: c.text("name"),
                width: c.length("width", unit),
                height: c.length("height", unit),
                count,
                pair,
                edges,
                cloth: c.opt_text("cloth"),
                shows: c.flag("shows", true),
            };
            c.finish();
            cut
        })
        .collect();
    Kind::CutPieces(cuts)
}

fn welt_runs(t: &mut Table, unit: Unit, _: bool) -> Kind {
    let runs = t.lengths("runs", unit, Sort::Positive);
    if runs.is_empty() {
        t.wrong(
            "runs",
            "missing",
            "`runs` is missing",
            "list each run of welt: runs = [\"96\", \"40\"]",
        );
    }
    Kind::WeltRuns(WeltRuns { runs, double: t.flag("double", false) })
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
