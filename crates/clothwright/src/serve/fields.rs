//! Which fields a form shows for a piece, by its kind and outline.

use super::text::Sort;
use crate::KINDS;
use crate::job_file;
use std::sync::OnceLock;
use trade::kind::Kind;
use trade::measuring::measures;
use trade::panel::PanelShape;

/// How a field is filled in.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Input {
    /// A length, as on the tape.
    Length,
    /// A whole number.
    Count,
    /// Any number.
    Number,
    /// Yes or no; what it is when nothing is said.
    Flag(bool),
    /// One of some words; the first when nothing is said.
    Choice(&'static [&'static str]),
    /// Lengths with commas between.
    List,
}

impl Input {
    /// How it goes into the text.
    pub const fn sort(self) -> Sort {
        match self {
            Self::Count | Self::Number => Sort::Number,
            Self::Flag(_) => Sort::Flag,
            Self::List => Sort::List,
            _ => Sort::Text,
        }
    }

    /// As a form says it.
    pub const fn name(self) -> &'static str {
        match self.sort() {
            Sort::Number => "number",
            Sort::Flag => "flag",
            Sort::List => "list",
            Sort::Text => "text",
        }
    }
}

/// A field: its key and how it is filled in.
pub type Field = (&'static str, Input);

const WELT: Field = ("welt", Input::Choice(&["none", "one", "both"]));
const ZIP: Field = ("zip", Input::Flag(true));
const SHAPES: &[&str] =
    &["rectangle", "trapezoid", "disc", "ring", "tee", "ell", "sides", "offsets", "corners"];

/// The fields of a kind, in measuring order; options after the measures.
pub fn of_kind(kind: &str, shape: &str) -> Vec<Field> {
    use Input::{Choice, Count, Flag, Length, List, Number};
    let lengths = |keys: &[&'static str]| keys.iter().map(|k| (*k, Length)).collect::<Vec<_>>();
    let with = |mut fields: Vec<Field>, more: &[Field]| {
        fields.extend(more);
        fields
    };
    match kind {
        "panel" => with(vec![("shape", Choice(SHAPES))], &outline(shape)),
        "pad" => lengths(&["width", "height", "crown"]),
        "slip seat" => lengths(&["front", "back", "depth", "radius", "crown"]),
        "boxed cushion" => with(
            lengths(&["width", "back_width", "depth", "radius"]),
            &[("zip", Choice(&["back", "left", "right", "none"])), WELT],
        ),
        "shaped cushion" => with(
            with(vec![("shape", Choice(SHAPES))], &outline(shape)),
            &[("zip_length", Length), WELT],
        ),
        "wedge cushion" => with(lengths(&["width", "depth", "front", "back"]), &[ZIP, WELT]),
        "sloped cushion" => with(
            lengths(&["width", "depth"]),
            &[
                ("angle", Number),
                ("bottom", Length),
                ("leans", Choice(&["back", "left", "right"])),
                ZIP,
                WELT,
            ],
        ),
        "waterfall cushion" => with(
            lengths(&["width", "depth"]),
            &[("front", Choice(&["round", "square"])), ZIP, WELT],
        ),
        "knife-edge cushion" => with(lengths(&["width", "height", "crown"]), &[ZIP, WELT]),
        "bolster" => with(lengths(&["length", "diameter"]), &[ZIP, WELT]),
        "tapered bolster" => with(lengths(&["length", "large", "small"]), &[ZIP, WELT]),
        "ottoman" => {
            let sizes: &[&'static str] = if shape == "round" {
                &["diameter", "height"]
            } else {
                &["width", "depth", "height"]
            };
            with(
                with(vec![("shape", Choice(&["rectangle", "round"]))], &lengths(sizes)),
                &[("cut", Choice(&["five sides", "wrapped"])), WELT],
            )
        }
        "channelled back" => with(
            lengths(&["width", "height"]),
            &[
                ("channels", Count),
                ("loft", Length),
                ("tuck", Length),
                ("lie", Choice(&["upright", "level"])),
                ("cut", Choice(&["whole", "strips"])),
            ],
        ),
        "curved back" => with(
            lengths(&["chord", "rise", "height"]),
            &[("faces", Choice(&["inside", "outside", "both"])), ("panels", Count)],
        ),
        "headboard" => lengths(&["width", "height", "border", "wing"]),
        "buttoned back" => with(
            lengths(&["width", "height", "border"]),
            &[
                ("across", Count),
                ("high", Count),
                ("depth", Length),
                ("ligne", Count),
                ("fullness", Choice(&["arc", "slant", "depth", "two depths", "added"])),
                ("added", List),
                ("buttons_at", Choice(&["tips", "corners"])),
                ("edge_buttons", Flag(true)),
            ],
        ),
        "skirt" => vec![
            ("sides", List),
            ("drop", Length),
            ("pleats", Choice(&["box", "inverted", "corner"])),
            ("spacing", Length),
            ("fold", Length),
            ("hem", Length),
            ("lined", Flag(false)),
        ],
        "welt" => vec![("runs", List), ("double", Flag(false))],
        "wall grid" => with(
            lengths(&["width", "height", "margin", "gap"]),
            &[("columns", Count), ("rows", Count)],
        ),
        "measured" => lengths(&["width", "height"]),
        _ => Vec::new(),
    }
}

fn outline(shape: &str) -> Vec<Field> {
    use Input::{Choice, Length, List};
    let lengths = |keys: &[&'static str]| keys.iter().map(|k| (*k, Length)).collect::<Vec<_>>();
    match shape {
        "trapezoid" => {
            let mut all = lengths(&["bottom", "top", "height", "offset", "radius"]);
            all.push(("diagonals", List));
            all
        }
        "disc" => lengths(&["diameter"]),
        "ring" => lengths(&["diameter", "inner"]),
        "tee" => lengths(&["width", "body", "depth", "ear", "radius"]),
        "ell" => {
            let mut all = lengths(&["width", "body", "depth", "ear", "radius"]);
            all.push(("ear_side", Choice(&["right", "left"])));
            all
        }
        "sides" => vec![("sides", List)],
        "offsets" => lengths(&["base"]),
        "corners" => Vec::new(),
        _ => {
            let mut all = lengths(&["width", "height", "radius"]);
            all.push(("diagonals", List));
            all
        }
    }
}

/// Whether a kind has measures that are lists of tables: those are written in full.
pub fn in_full(kind: &str, shape: &str) -> bool {
    matches!(kind, "cut pieces") || matches!(shape, "sides" | "offsets" | "corners")
}

/// Sewn or only cut: no board.
pub fn sewn(kind: &str) -> bool {
    kind.ends_with("cushion")
        || kind.ends_with("bolster")
        || matches!(kind, "skirt" | "welt" | "measured" | "cut pieces")
}

/// Kinds that take a foam unless said otherwise.
pub fn takes_foam(kind: &str) -> bool {
    !matches!(
        kind,
        "knife-edge cushion"
            | "bolster"
            | "tapered bolster"
            | "skirt"
            | "welt"
            | "measured"
            | "cut pieces"
    )
}

/// Fields all pieces have besides.
pub const COMMON: [Field; 15] = [
    ("hand", Input::Choice(&["neither", "left", "right", "pair"])),
    ("foam_condition", Input::Choice(&["renew", "keep", "repair"])),
    ("board_condition", Input::Choice(&["renew", "keep", "repair"])),
    ("pattern", Input::Choice(&["", "centred", "free"])),
    ("direction", Input::Choice(&["", "up the roll", "railroaded", "either"])),
    ("foam_edge", Input::Choice(&["", "square", "bevelled", "pulled down"])),
    ("foam_beyond", Input::Length),
    ("boxing_in_step", Input::Flag(false)),
    ("wrap", Input::Flag(false)),
    ("dust_cover", Input::Flag(false)),
    ("seam_allowed", Input::Flag(false)),
    ("joined", Input::Flag(false)),
    ("price_each", Input::Number),
    ("strip", Input::Flag(true)),
    ("welt_grain", Input::Choice(&["cross", "straight", "bias"])),
];

/// Words of a key as a person reads them.
pub fn words(key: &str) -> String {
    match key {
        "strip" => "an old cover to strip".into(),
        "foam_beyond" => "foam larger than its board, on each side".into(),
        "boxing_in_step" => "the boxing's pattern runs on from the top".into(),
        "joined" => "cover joined down the middle".into(),
        "price_each" => "agreed price for the work on one".into(),
        _ => key.replace('_', " "),
    }
}

type How = (String, String, &'static str, &'static str);

/// How a measure is taken, with its letter, from the examples of every kind.
pub fn how(kind: &str, shape: &str, key: &str) -> Option<(char, &'static str)> {
    static ALL: OnceLock<Vec<(How, usize)>> = OnceLock::new();
    let all = ALL.get_or_init(|| {
        let read = job_file::read(KINDS);
        let mut all = Vec::new();
        for piece in &read.job.pieces {
            let shape = shape_of(&piece.kind);
            for (i, (key, how)) in measures(&piece.kind).into_iter().enumerate() {
                all.push(((piece.kind.name().to_string(), shape.to_string(), key, how), i));
            }
        }
        all
    });
    let fits = |exact: bool| {
        all.iter().find(|((k, s, name, _), _)| k == kind && *name == key && (!exact || s == shape))
    };
    let ((_, _, _, how), i) = fits(true).or_else(|| fits(false))?;
    Some((char::from(b'A' + (*i % 26) as u8), how))
}

const fn shape_of(kind: &Kind) -> &'static str {
    match kind {
        Kind::Panel { shape, .. } => outline_name(shape),
        Kind::ShapedCushion(shaped) => outline_name(&shaped.shape),
        Kind::Ottoman(ottoman) if ottoman.depth.is_none() => "round",
        _ => "rectangle",
    }
}

const fn outline_name(shape: &PanelShape) -> &'static str {
    match shape {
        PanelShape::Rectangle { .. } => "rectangle",
        PanelShape::Trapezoid { .. } => "trapezoid",
        PanelShape::Disc { .. } => "disc",
        PanelShape::Ring { .. } => "ring",
        PanelShape::Tee { .. } => "tee",
        PanelShape::Sides { .. } => "sides",
        PanelShape::Offsets { .. } => "offsets",
        PanelShape::Corners(_) => "corners",
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_kind_has_fields_and_every_measure_its_words() {
        let read = job_file::read(KINDS);
        for piece in &read.job.pieces {
            let (kind, shape) = (piece.kind.name(), shape_of(&piece.kind));
            assert!(!of_kind(kind, shape).is_empty() || in_full(kind, shape), "{kind}");
            for (key, _) in measures(&piece.kind) {
                assert!(how(kind, shape, key).is_some(), "{kind} {key}");
            }
        }
    }
}
