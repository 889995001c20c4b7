//! The outline of a board or cushion, by its `shape`.

use super::common::RADIUS;
use super::table::{Key, Sort};
use super::values::Values;
use crate::fault::Fault;
use crate::message::message;
use crate::panel::{Ears, PanelShape};
use geometry::{Corner, Length, Point};

const SHAPES: [&str; 10] = [
    "rectangle",
    "trapezoid",
    "disc",
    "ring",
    "corners",
    "tee",
    "ell",
    "sides",
    "offsets",
    "traced",
];
const TRACED: &[&str] = &["traced"];
const EAR_SIDES: [&str; 2] = ["right", "left"];
const RECTANGLE: &[&str] = &["rectangle"];
const TRAPEZOID: &[&str] = &["trapezoid"];
const TEE: &[&str] = &["tee", "ell"];
const RING: &[&str] = &["ring"];
const OFFSETS: &[&str] = &["offsets"];

const ACROSS: [Key; 3] = [
    Key::new("from", Sort::Count(1, 1000), ""),
    Key::new("to", Sort::Count(1, 1000), ""),
    Key::length("length", ""),
];
const OFFSET: [Key; 2] = [Key::or_zero("at", ""), Key::or_zero("up", "")];
/// A corner of an outline.
pub const CORNER: [Key; 4] = [
    Key::optional("x", Sort::SignedLength, ""),
    Key::optional("y", Sort::SignedLength, ""),
    Key::or_zero("radius", ""),
    Key::optional("rise", Sort::SignedLength, ""),
];

/// How many keys an outline has.
pub const COUNT: usize = 29;

/// The keys of an outline; `of` says what is measured.
pub const fn keys(of: &'static str) -> [Key; COUNT] {
    [
        Key::word("shape", &SHAPES),
        Key::length("width", of).from_run().when("shape", RECTANGLE),
        Key::length("height", of).when("shape", RECTANGLE),
        Key::or_zero("radius", RADIUS).when("shape", RECTANGLE),
        Key::optional("radii", Sort::LengthsOrZero, "").when("shape", RECTANGLE),
        Key::optional("diagonals", Sort::Lengths, "both, to see that it is square")
            .when("shape", RECTANGLE),
        Key::length("bottom", of).when("shape", TRAPEZOID),
        Key::length("top", of).when("shape", TRAPEZOID),
        Key::length("height", "square to both").when("shape", TRAPEZOID),
        Key::optional("offset", Sort::SignedLength, "top's left end from the bottom's")
            .when("shape", TRAPEZOID),
        Key::or_zero("radius", "").when("shape", TRAPEZOID),
        Key::optional("diagonals", Sort::Lengths, "both").when("shape", TRAPEZOID),
        Key::length("diameter", "across, in three directions").when("shape", &["disc"]),
        Key::length("diameter", "outside, across").when("shape", RING),
        Key::length("inner", "hole, across").when("shape", RING),
        Key::length("width", "along the front, ears included").when("shape", TEE),
        Key::length("body", "between the arms").when("shape", TEE),
        Key::length("depth", "front to back over all").when("shape", TEE),
        Key::length("ear", "front to back of an ear").when("shape", TEE),
        Key::word("ear_side", &EAR_SIDES).when("shape", &["ell"]),
        Key::or_zero("radius", "outer corners").when("shape", TEE),
        Key::optional("sides", Sort::Lengths, "all round, counter-clockwise seen from the face")
            .when("shape", &["sides"]),
        Key::optional(
            "across",
            Sort::Tables(&ACROSS),
            "corner to corner: enough that no corner can move, and one more",
        )
        .when("shape", &["sides"]),
        Key::length("base", "a straight line along the bottom").when("shape", OFFSETS),
        Key::optional(
            "offset",
            Sort::Tables(&OFFSET),
            "so far along the base line, so far up to the outline",
        )
        .when("shape", OFFSETS),
        Key::flag("straight", false).when("shape", OFFSETS),
        Key::optional(
            "corner",
            Sort::Tables(&CORNER),
            "each from the left and from the bottom, counter-clockwise",
        )
        .when("shape", &["corners", "traced"]),
        Key::or_zero("within", "how true the outline is").when("shape", TRACED),
        Key::optional("photograph", Sort::Text, "").when("shape", TRACED),
    ]
}

/// The word of a shape.
pub const fn word(shape: &PanelShape) -> &'static str {
    match shape {
        PanelShape::Rectangle { .. } => "rectangle",
        PanelShape::Trapezoid { .. } => "trapezoid",
        PanelShape::Disc { .. } => "disc",
        PanelShape::Ring { .. } => "ring",
        PanelShape::Tee { ears: Ears::Both, .. } => "tee",
        PanelShape::Tee { .. } => "ell",
        PanelShape::Sides { .. } => "sides",
        PanelShape::Offsets { .. } => "offsets",
        PanelShape::Corners(_) => "corners",
        PanelShape::Traced { .. } => "traced",
    }
}

/// The outline that was read.
pub fn read(values: &Values, faults: &mut Vec<Fault>) -> PanelShape {
    let length = |key: &str| values.length(key);
    match values.opt_word("shape").unwrap_or("rectangle") {
        "trapezoid" => PanelShape::Trapezoid {
            bottom: length("bottom"),
            top: length("top"),
            height: length("height"),
            offset: values.opt_length("offset"),
            radius: length("radius"),
            diagonals: values.lengths("diagonals"),
        },
        "disc" => PanelShape::Disc { diameter: length("diameter") },
        "ring" => {
            let (outer, inner) = (length("diameter"), length("inner"));
            if inner >= outer && outer > Length::ZERO {
                faults.push(Fault::new(
                    "hole-outside",
                    "inner",
                    message("hole-outside-2"),
                    message("hole-outside-2").part("do"),
                ));
            }
            PanelShape::Ring { outer, inner }
        }
        "corners" => PanelShape::Corners(corners(values, faults)),
        "traced" => {
            PanelShape::Traced { corners: corners(values, faults), within: values.length("within") }
        }
        shape @ ("tee" | "ell") => PanelShape::Tee {
            front: length("width"),
            body: length("body"),
            depth: length("depth"),
            ear: length("ear"),
            ears: match (shape, values.is("ear_side", "left")) {
                ("tee", _) => Ears::Both,
                (_, true) => Ears::Left,
                (_, false) => Ears::Right,
            },
            radius: length("radius"),
        },
        "sides" => sides(values, faults),
        "offsets" => offsets(values, faults),
        _ => PanelShape::Rectangle {
            width: length("width"),
            height: length("height"),
            radii: radii(values, faults),
            diagonals: values.lengths("diagonals"),
        },
    }
}

fn radii(values: &Values, faults: &mut Vec<Fault>) -> [Length; 4] {
    let all = values.length("radius");
    match values.lengths("radii")[..] {
        [] => [all; 4],
        [a, b, c, d] => [a, b, c, d],
        _ => {
            faults.push(Fault::new(
                "not-four-radii",
                "radii",
                message("not-four-radii"),
                message("not-four-radii").part("do"),
            ));
            [all; 4]
        }
    }
}

fn sides(values: &Values, faults: &mut Vec<Fault>) -> PanelShape {
    let sides = values.lengths("sides");
    if sides.len() < 3 {
        faults.push(Fault::new(
            "few-corners",
            "sides",
            message("few-corners-3"),
            message("few-corners-3").part("do"),
        ));
    }
    let diagonal = |d: &Values| (d.count("from") - 1, d.count("to") - 1, d.length("length"));
    PanelShape::Sides { sides, diagonals: values.tables("across").iter().map(diagonal).collect() }
}

fn offsets(values: &Values, faults: &mut Vec<Fault>) -> PanelShape {
    let base = values.length("base");
    let list = values.tables("offset");
    if list.len() < 2 {
        faults.push(Fault::new(
            "few-corners",
            "offset",
            message("few-corners-2"),
            message("few-corners-2").part("do"),
        ));
    }
    let points: Vec<(Length, Length)> =
        list.iter().map(|o| (o.length("at"), o.length("up"))).collect();
    for (i, (at, _)) in points.iter().enumerate() {
        if *at > base || (i > 0 && *at < points[i - 1].0) {
            faults.push(Fault::new(
                "offset-outside",
                format!("offset.{i}.at"),
                message("offset-outside"),
                message("offset-outside").part("do"),
            ));
        }
    }
    PanelShape::Offsets { base, points, curved: !values.flag("straight") }
}

fn corners(values: &Values, faults: &mut Vec<Fault>) -> Vec<Corner> {
    let list = values.tables("corner");
    if list.is_empty() {
        faults.push(Fault::new(
            "few-corners",
            "corner",
            message("few-corners"),
            message("few-corners").part("do"),
        ));
    }
    list.iter().map(corner).collect()
}

/// A corner as it was read.
pub fn corner(said: &Values) -> Corner {
    Corner {
        at: Point::new(said.length("x").mm(), said.length("y").mm()),
        radius: said.length("radius").mm(),
        rise: said.length("rise").mm(),
    }
}
