//! Board, foam and cloth stapled on the back; any outline.

use super::common::{missing, missing_length};
use super::table::{Key, Nature, Sort, Table, Unsaid, joined, words};
use super::values::Values;
use super::{Kind, Mirrored, OfKind, outline};
use crate::bench::{Bench, Step};
use crate::build::{Ask, Kit, board, shape};
use crate::fault::Fault;
use crate::message::message;
use crate::mirror::{mirrored_notch, mirrored_sides};
use crate::panel::{CutOut, Edge, FoamEdge, Notch, PanelShape, Side, side_number};
use geometry::{Length, Path, Vector};

/// A covered panel.
#[derive(Clone, Debug, PartialEq)]
pub struct Panel {
    /// The board.
    pub shape: PanelShape,
    /// Rectangles cut out of straight sides.
    pub notches: Vec<Notch>,
    /// One for each side of the shape; missing ones are stapled.
    pub sides: Vec<Side>,
    /// Openings.
    pub cut_outs: Vec<CutOut>,
}

const NOTCH: [Key; 4] = [
    Key::new("side", Sort::Side, ""),
    Key::or_zero("from", ""),
    Key::length("width", ""),
    Key::length("depth", ""),
];
const EDGES: [&str; 6] = ["stapled", "lip", "joined", "tucked", "sewn", "open"];
const FOAM_EDGES: [&str; 3] = words(&FoamEdge::ALL);
const SIDE: [Key; 4] = [
    Key::word("edge", &EDGES),
    Key::optional("by", Sort::Length, ""),
    Key::optional("turn_under", Sort::LengthOrZero, ""),
    Key::optional("foam_edge", Sort::Word(&FOAM_EDGES), ""),
];
const CUT_OUT: [Key; 9] = [
    Key::new("what", Sort::Text, "").unsaid(Unsaid::Word("the fitting")),
    Key::length("x", ""),
    Key::length("y", ""),
    Key::optional("diameter", Sort::Length, ""),
    Key::optional("width", Sort::Length, ""),
    Key::optional("height", Sort::Length, ""),
    Key::or_zero("radius", ""),
    Key::or_zero("flange", ""),
    Key::optional("corner", Sort::Tables(&outline::CORNER), "from its middle"),
];
const KEYS: [Key; outline::COUNT + 3] = joined(
    outline::keys("of the board"),
    [
        Key::optional("notch", Sort::Tables(&NOTCH), ""),
        Key::optional("side", Sort::Sides(&SIDE), ""),
        Key::optional("cut_out", Sort::Tables(&CUT_OUT), ""),
    ],
);

/// What is asked of a panel.
pub const TABLE: Table = Table { name: "panel", keys: &KEYS, nature: Nature::BOARD, read };

fn read(values: &mut Values, faults: &mut Vec<Fault>) -> Kind {
    let notch = |n: &Values| Notch {
        side: n.side("side").unwrap_or(0),
        from: n.length("from"),
        width: n.length("width"),
        depth: n.length("depth"),
    };
    let mut sides: Vec<Side> = Vec::new();
    for (name, said) in values.sides("side") {
        let i = side_number(name).unwrap_or(0);
        if sides.len() <= i {
            sides.resize(i + 1, Side::default());
        }
        sides[i] = side(said, name, faults);
    }
    let cut_outs = values.tables("cut_out").iter().enumerate();
    Kind::Panel(Panel {
        shape: outline::read(values, faults),
        notches: values.tables("notch").iter().map(notch).collect(),
        sides,
        cut_outs: cut_outs.map(|(i, cut)| cut_out(cut, i, faults)).collect(),
    })
}

fn side(said: &Values, name: &str, faults: &mut Vec<Fault>) -> Side {
    let by = said.opt_length("by");
    let word = said.opt_word("edge").unwrap_or("stapled");
    if matches!(word, "lip" | "tucked") && by.is_none() {
        faults.push(missing(&format!("side.{name}.by"), message("missing-by")));
    }
    let by = by.unwrap_or(Length::ZERO);
    let edge = match word {
        "lip" => Edge::Lip(by),
        "joined" => Edge::Joined,
        "tucked" => Edge::Tucked(by),
        "sewn" => Edge::Sewn,
        "open" => Edge::Open,
        _ => Edge::Stapled,
    };
    Side {
        edge,
        turn_under: said.opt_length("turn_under"),
        foam_edge: said.choice("foam_edge", &FoamEdge::ALL),
        over: Length::ZERO,
    }
}

fn cut_out(said: &Values, number: usize, faults: &mut Vec<Fault>) -> CutOut {
    let at = |key: &str| format!("cut_out.{number}.{key}");
    let (x, y) = (said.length("x").mm(), said.length("y").mm());
    let shape = if let Some(d) = said.opt_length("diameter") {
        if said.has("width") || said.has("height") {
            faults.push(Fault::new(
                "two-sizes",
                at("diameter"),
                message("two-sizes"),
                message("two-sizes").part("do"),
            ));
        }
        Path::circle(d).moved(Vector::new(x - d.mm() / 2.0, y - d.mm() / 2.0))
    } else if said.has("corner") {
        let corners: Vec<_> = said.tables("corner").iter().map(outline::corner).collect();
        match Path::from_corners(&corners) {
            Ok(path) => path.moved(Vector::new(x, y)),
            Err(_) => {
                faults.push(Fault::new(
                    "opening-crosses",
                    at("corner"),
                    message("opening-crosses"),
                    message("opening-crosses").part("do"),
                ));
                Path::circle(Length::from_mm(1.0))
            }
        }
    } else {
        for key in ["width", "height"] {
            if !said.has(key) {
                faults.push(missing_length(&at(key)));
            }
        }
        let (w, h) = (said.length("width"), said.length("height"));
        let from = Vector::new(x - w.mm() / 2.0, y - h.mm() / 2.0);
        match Path::rectangle(w, h, [said.length("radius"); 4]) {
            Ok(path) => path.moved(from),
            Err(_) => {
                if w > Length::ZERO && h > Length::ZERO {
                    faults.push(Fault::new(
                        "radius-too-large",
                        at("radius"),
                        message("radius-too-large"),
                        message("radius-too-large").part("do"),
                    ));
                }
                Path::circle(Length::from_mm(1.0))
            }
        }
    };
    let what = said.text("what").unwrap_or("the fitting").to_string();
    CutOut { what, shape, flange: said.length("flange") }
}

impl OfKind for Panel {
    fn table(&self) -> &'static Table {
        &TABLE
    }

    fn said(&self, key: &str) -> String {
        if key == "shape" { outline::word(&self.shape).into() } else { String::new() }
    }

    fn develop(&self, ask: &Ask) -> Result<Kit, Vec<Fault>> {
        let covered = board::develop(ask, &self.shape, &self.notches, &self.sides, &self.cut_outs)?;
        let mut kit = Kit::of_board(covered);
        if let Some(size) = shape::measured(&self.shape) {
            kit.finished = size;
        }
        kit.outline = shape::told(&self.shape, &self.notches);
        kit.warnings.extend(shape::fit_note(&self.shape, &ask.at));
        Ok(kit)
    }

    fn steps(&self, bench: &Bench) -> Vec<Step> {
        bench.covered(Length::ZERO, vec![bench.edges()], &[])
    }

    fn mirrored(&self) -> Mirrored {
        let mirrored = || {
            let notches = self.notches.iter().map(|notch| mirrored_notch(&self.shape, notch));
            let cut_outs = self.cut_outs.iter().map(|cut| {
                let across = self.reach().filter(|reach| *reach > Length::ZERO)?.mm();
                let shape = cut.shape.mirrored().moved(Vector::new(across, 0.0));
                Some(CutOut { shape, ..cut.clone() })
            });
            Some(Kind::Panel(Self {
                shape: self.shape.mirrored(),
                notches: notches.collect::<Option<_>>()?,
                sides: mirrored_sides(&self.sides, self.shape.side_count())?,
                cut_outs: cut_outs.collect::<Option<_>>()?,
            }))
        };
        mirrored().into()
    }

    fn is_round(&self) -> bool {
        matches!(self.shape, PanelShape::Disc { .. })
    }

    fn reach(&self) -> Option<Length> {
        self.shape.reach()
    }

    fn set_width(&mut self, board: Length) {
        if let PanelShape::Rectangle { width, .. } = &mut self.shape {
            *width = board;
        }
    }

    fn height_in_run(&self) -> Option<Length> {
        match &self.shape {
            PanelShape::Rectangle { height, .. } => Some(*height),
            _ => None,
        }
    }

    fn sizes(&mut self) -> Vec<(&'static str, &mut Length)> {
        match &mut self.shape {
            PanelShape::Rectangle { width, height, .. } => {
                vec![("width", width), ("height", height)]
            }
            _ => Vec::new(),
        }
    }
}
