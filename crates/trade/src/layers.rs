//! What lies between a frame and its cover, and what is put on when the cover is on: each layer with how much
//! of it there is, from the frame outwards.
//!
//! Source: the order in which upholstery handbooks build a seat (frame, webbing, springs, hessian, stuffing,
//! calico, wadding, cover); common practice where no other source stands at the number itself.

use crate::bench::{Step, cautions};
use crate::fault::Fault;
use crate::kinds::table::{Key, Sort, Unsaid};
use crate::kinds::values::Values;
use crate::material::Use;
use crate::message::message;
use crate::operations::Operation;
use geometry::Length;
use rust_decimal::Decimal;

/// A layer, in the order in which it is put on.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Layer {
    /// The frame looked over and mended.
    Frame,
    /// Webbing over the frame.
    Webbing,
    /// Springs on the webbing.
    Springs,
    /// Hessian over springs or webbing.
    Hessian,
    /// Hair or fibre, stitched to shape.
    Stuffing,
    /// Foam on the frame.
    Foam,
    /// Calico pulled over the stuffing.
    Calico,
    /// Wadding under the cover.
    Wadding,
    /// Closed by hand.
    HandSewing,
    /// Decorative nails.
    Nails,
    /// Gimp or braid over raw edges.
    Gimp,
}

/// How much of a layer there is, as it is asked for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Asked {
    /// Nothing.
    Nothing,
    /// How many.
    Count,
    /// A length, and how many such lengths.
    Lengths,
    /// Width and depth, and how many such areas.
    Area,
    /// A length, and how far apart along it.
    Along,
}

struct Row {
    layer: Layer,
    name: &'static str,
    asked: Asked,
    operation: Operation,
    bought: Option<Use>,
    step: &'static str,
    cautions: &'static [&'static str],
    is_over_cover: bool,
}

const fn row(
    layer: Layer,
    name: &'static str,
    asked: Asked,
    operation: Operation,
    step: &'static str,
) -> Row {
    Row { layer, name, asked, operation, bought: None, step, cautions: &[], is_over_cover: false }
}

const ROWS: [Row; 11] = [
    Row {
        cautions: &[cautions::DUST, cautions::PAINT, cautions::GLUE],
        ..row(Layer::Frame, "frame", Asked::Nothing, Operation::Frame, "step-layer-frame")
    },
    Row {
        bought: Some(Use::Webbing),
        cautions: &[cautions::TENSION],
        ..row(Layer::Webbing, "webbing", Asked::Lengths, Operation::Webbing, "step-layer-webbing")
    },
    Row {
        bought: Some(Use::Springs),
        cautions: &[cautions::TENSION],
        ..row(Layer::Springs, "springs", Asked::Count, Operation::Spring, "step-layer-springs")
    },
    Row {
        bought: Some(Use::Hessian),
        ..row(Layer::Hessian, "hessian", Asked::Area, Operation::Hessian, "step-layer-hessian")
    },
    Row {
        bought: Some(Use::Stuffing),
        cautions: &[cautions::DUST],
        ..row(Layer::Stuffing, "stuffing", Asked::Area, Operation::Stuffing, "step-layer-stuffing")
    },
    Row {
        cautions: &[cautions::FOAM, cautions::GLUE],
        ..row(Layer::Foam, "foam", Asked::Area, Operation::Foam, "step-layer-foam")
    },
    Row {
        bought: Some(Use::Calico),
        cautions: &[cautions::STAPLER],
        ..row(Layer::Calico, "calico", Asked::Area, Operation::Calico, "step-layer-calico")
    },
    Row {
        bought: Some(Use::Wadding),
        ..row(Layer::Wadding, "wadding", Asked::Area, Operation::Wadding, "step-layer-wadding")
    },
    Row {
        is_over_cover: true,
        ..row(
            Layer::HandSewing,
            "hand sewing",
            Asked::Lengths,
            Operation::HandSew,
            "step-layer-hand-sewing",
        )
    },
    Row {
        bought: Some(Use::Nails),
        is_over_cover: true,
        cautions: &[cautions::EYES],
        ..row(Layer::Nails, "nails", Asked::Along, Operation::Nail, "step-layer-nails")
    },
    Row {
        bought: Some(Use::Gimp),
        is_over_cover: true,
        cautions: &[cautions::HOT],
        ..row(Layer::Gimp, "gimp", Asked::Lengths, Operation::Gimp, "step-layer-gimp")
    },
];

const WORDS: [&str; 11] = {
    let mut all = [""; ROWS.len()];
    let mut i = 0;
    while i < ROWS.len() {
        all[i] = ROWS[i].name;
        i += 1;
    }
    all
};
const BY_LENGTH: [&str; 4] = ["webbing", "hand sewing", "nails", "gimp"];
const BY_AREA: [&str; 5] = ["hessian", "stuffing", "foam", "calico", "wadding"];
const REPEATED: [&str; 9] = [
    "webbing",
    "springs",
    "hand sewing",
    "gimp",
    "hessian",
    "stuffing",
    "foam",
    "calico",
    "wadding",
];
const KEYS: [Key; 9] = [
    Key::new("what", Sort::Word(&WORDS), ""),
    Key::length("length", "").when("what", &BY_LENGTH),
    Key::length("spacing", "").when("what", &["nails"]),
    Key::length("width", "").when("what", &BY_AREA),
    Key::length("depth", "").when("what", &BY_AREA),
    Key::optional("count", Sort::Count(1, 5000), "")
        .unsaid(Unsaid::Count(1))
        .when("what", &REPEATED),
    Key::new("foam", Sort::Text, "").when("what", &["foam"]),
    Key::optional("minutes", Sort::Count(0, 10_000), ""),
    Key::optional("note", Sort::Text, ""),
];

/// The key of a piece under which its layers stand.
pub const KEY: Key = Key::optional("layer", Sort::Tables(&KEYS), "");

/// A layer of one piece.
#[derive(Clone, Debug, PartialEq)]
pub struct Layered {
    /// Its place in the piece's list, from 0.
    pub number: usize,
    /// Which.
    pub layer: Layer,
    /// How many, or how many of the length or area.
    pub count: usize,
    /// One length.
    pub length: Length,
    /// From nail to nail.
    pub spacing: Length,
    /// One area, width and depth.
    pub size: (Length, Length),
    /// What foam.
    pub foam: Option<String>,
    /// Minutes for all of it on one piece, instead of the rate book.
    pub minutes: Option<Decimal>,
    /// For the bench.
    pub note: String,
}

/// The layers of a piece, from the frame outwards.
pub fn read(values: &Values, faults: &mut Vec<Fault>) -> Vec<Layered> {
    let mut all: Vec<Layered> = Vec::new();
    for (i, one) in values.tables(KEY.name).iter().enumerate() {
        let Some(row) = one.opt_word("what").and_then(of_name) else {
            if !one.has("what") {
                faults.push(Fault::new(
                    "missing",
                    format!("{}.{i}.what", KEY.name),
                    message("layer-unsaid"),
                    message("layer-unsaid").part("do").text("known", WORDS.join(", ")),
                ));
            }
            continue;
        };
        all.push(Layered {
            number: i,
            layer: row.layer,
            count: one.count("count"),
            length: one.length("length"),
            spacing: one.length("spacing"),
            size: (one.length("width"), one.length("depth")),
            foam: one.text("foam").map(str::to_string),
            minutes: one.opt_count("minutes").map(Decimal::from),
            note: one.text("note").unwrap_or_default().to_string(),
        });
    }
    all.sort_by_key(|layered| layered.layer);
    all
}

fn of_name(name: &str) -> Option<&'static Row> {
    ROWS.iter().find(|row| row.name == name)
}

impl Layered {
    fn row(&self) -> &'static Row {
        // Rows stand in the order of the layers: held by a test.
        &ROWS[self.layer as usize]
    }

    /// How much one piece takes: a count, metres or square metres.
    pub fn amount(&self) -> f64 {
        let count = self.count as f64;
        let (w, h) = self.size;
        match self.row().asked {
            Asked::Nothing => 1.0,
            Asked::Count => count,
            Asked::Lengths => count * self.length.mm() / 1000.0,
            Asked::Area => count * w.mm() * h.mm() / 1e6,
            Asked::Along => self.nails() as f64,
        }
    }

    /// Nails along the length, one at each end.
    pub fn nails(&self) -> i64 {
        if self.spacing <= Length::ZERO {
            return 0;
        }
        self.length.steps_up(self.spacing) + 1
    }

    /// What is bought for it by its amount.
    pub fn bought(&self) -> Option<Use> {
        self.row().bought
    }

    /// What is done, and how much of it.
    pub fn work(&self) -> (Operation, f64) {
        match self.layer {
            // A foam is counted as one, whatever its size.
            Layer::Foam => (self.row().operation, self.count as f64),
            _ => (self.row().operation, self.amount()),
        }
    }

    /// It goes on when the cover is on.
    pub fn is_over_cover(&self) -> bool {
        self.row().is_over_cover
    }

    /// How it is done at the bench.
    pub fn step(&self) -> Step {
        let (width, depth) = self.size;
        let text = message(self.row().step)
            .count("count", self.count)
            .length("length", self.length)
            .length("spacing", self.spacing)
            .count("nails", self.nails())
            .number("width", width)
            .length("depth", depth)
            .text("foam", self.foam.as_deref().unwrap_or_default())
            .flag("noted", !self.note.is_empty())
            .text("note", &self.note);
        Step::new(text, self.row().cautions)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn rows_stand_in_the_order_of_the_layers() {
        for (i, row) in ROWS.iter().enumerate() {
            assert_eq!(row.layer as usize, i, "{}", row.name);
        }
    }

    #[test]
    fn every_layer_is_asked_for_what_it_takes() {
        for row in &ROWS {
            let by_length = matches!(row.asked, Asked::Lengths | Asked::Along);
            assert_eq!(BY_LENGTH.contains(&row.name), by_length, "{}", row.name);
            assert_eq!(BY_AREA.contains(&row.name), row.asked == Asked::Area, "{}", row.name);
            let repeated = matches!(row.asked, Asked::Lengths | Asked::Area | Asked::Count);
            assert_eq!(REPEATED.contains(&row.name), repeated, "{}", row.name);
        }
    }

    #[test]
    fn nails_stand_at_both_ends() {
        let nails = Layered {
            number: 0,
            layer: Layer::Nails,
            count: 1,
            length: Length::from_inches(36.0),
            spacing: Length::from_inches(1.0),
            size: (Length::ZERO, Length::ZERO),
            foam: None,
            minutes: None,
            note: String::new(),
        };
        // 36 in at 1 in from middle to middle: 36 spaces, 37 nails (arithmetic of a fence).
        assert_eq!(nails.nails(), 37);
    }
}
