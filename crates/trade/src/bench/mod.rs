//! What is done at the bench: numbered steps with a piece's own numbers, and the cautions that belong to
//! each. Here stands what kinds share; each kind puts its own steps together.
//!
//! Source: working order of covered panels and cushions as upholstery texts and working upholsterers
//! describe it; common practice where no other source stands at the number itself.

pub mod cautions;
mod covered;
mod sewn;

pub use sewn::{Opening, Sewing, Zip};

use crate::cloth_sort::ClothSort;
use crate::message::{Between, Message, message};
use crate::part::{Developed, Part, Stuff};
use crate::rates::Allowances;
use crate::wanted::{Condition, PatternRule};
use crate::working::Style;
use cautions::BLADE;
use geometry::Length;

/// One step: what to do, and its title, the part `title` of the same message.
#[derive(Clone, Debug, PartialEq)]
pub struct Step {
    /// What to do, with numbers.
    pub text: Message,
    /// What can hurt.
    pub cautions: Vec<Message>,
}

impl Step {
    /// A step and its cautions.
    pub fn new(text: Message, cautions: &[&'static str]) -> Self {
        Self { text, cautions: cautions.iter().map(|id| message(id)).collect() }
    }

    /// Two or three words.
    pub fn title(&self) -> Message {
        message(self.text.id).part("title")
    }
}

/// So many parts are named in a step; more stand in the list alone.
const MOST_IN_A_STEP: usize = 8;

/// Foam or board of a piece.
#[derive(Clone, Copy, Debug)]
pub struct Goods<'a> {
    /// Its name in the job.
    pub name: &'a str,
    /// How thick it is.
    pub thickness: Length,
}

/// What lies on the bench: a developed piece, and what is wanted of it.
#[derive(Clone, Copy, Debug)]
pub struct Bench<'a> {
    /// How lengths are written.
    pub style: Style,
    /// The piece.
    pub made: &'a Developed,
    /// Its allowances.
    pub allowances: &'a Allowances,
    /// Cloth of its face.
    pub cloth: Option<Goods<'a>>,
    /// What the cloth is, if that was said.
    pub sort: Option<ClothSort>,
    /// Its foam.
    pub foam: Option<Goods<'a>>,
    /// Its board.
    pub board: Option<Goods<'a>>,
    /// What is done with the foam.
    pub foam_condition: Condition,
    /// What is done with the board.
    pub board_condition: Condition,
    /// Foam wrapped in polyester.
    pub is_wrapped: bool,
    /// A dust cover goes on its back.
    pub has_dust_cover: bool,
    /// How the pattern lies.
    pub pattern: &'a PatternRule,
    /// Screw holes from the board's left and bottom edges.
    pub holes: &'a [(Length, Length)],
    /// Which staples hold in its board, in words.
    pub legs: Option<&'a Message>,
}

impl Bench<'_> {
    /// The first part of a stuff.
    pub fn part(&self, stuff: Stuff) -> Option<&Part> {
        self.made.parts.iter().find(|p| p.stuff == stuff)
    }

    /// How thick the foam is; zero without one.
    pub fn foam_thickness(&self) -> Length {
        self.foam.map_or(Length::ZERO, |foam| foam.thickness)
    }

    /// A part's size, and what its outline is if that is no rectangle.
    pub fn size(&self, part: &Part) -> Message {
        let style = &self.style;
        let (w, h) = part.printed_size(style);
        if part.outline.is_round() {
            return match part.outline.holes.first() {
                None => message("size-circle").length("across", w),
                Some(hole) => {
                    let hole = geometry::Outline::solid(hole.clone()).size().0;
                    message("size-ring").length("across", w).length("hole", style.place(hole))
                }
            };
        }
        let is_box = part.outline.outer.flatten().is_upright_rectangle();
        let id = if is_box || part.stuff == Stuff::Cloth { "size" } else { "size-outline" };
        let size = message(id).number("width", w).length("height", h);
        if id == "size" { size } else { size.text("tag", &part.id) }
    }

    /// All parts of a stuff, with their numbers, if there are several sorts.
    fn several(&self, stuff: Stuff) -> Option<Message> {
        let parts: Vec<&Part> = self.made.parts.iter().filter(|p| p.stuff == stuff).collect();
        let each = |p: &&Part| {
            message("cut-one")
                .count("count", p.count)
                .text("tag", &p.id)
                .said("name", p.name.clone())
                .said("size", self.size(p))
        };
        let list = || parts.iter().map(each).collect();
        (parts.len() > 1).then(|| message("list").list("list", list(), Between::Semicolon))
    }

    /// Every part of cloth, cut from the plan.
    pub fn cut_cloth(&self) -> Step {
        let cloth = self.made.parts.iter().filter(|p| p.stuff == Stuff::Cloth);
        let pattern = match self.pattern {
            PatternRule::Free | PatternRule::Unsaid => "free",
            PatternRule::Centred => "centred",
            PatternRule::Matched(_) => "matched",
        };
        // A list that long stands beside the pictures and need not stand twice.
        let sorts = self.made.parts.iter().filter(|p| p.stuff == Stuff::Cloth).count();
        let text = message("step-cloth")
            .flag("listed", sorts > MOST_IN_A_STEP)
            .count("parts", sorts)
            .list("list", cloth.map(|p| self.one_cut(p)).collect(), Between::Semicolon)
            .text("pattern", pattern)
            .flag("joined", !self.made.widths.is_empty())
            .length("seam", self.allowances.seam);
        Step::new(text, &[BLADE])
    }

    /// One part, with its widths if it is joined.
    fn one_cut(&self, part: &Part) -> Message {
        let cut = |id: &'static str| {
            let cut = message(id).count("count", part.count).text("tag", &part.id);
            cut.said("name", part.name.clone())
        };
        let widths: Vec<Message> = self
            .made
            .widths
            .iter()
            .filter(|w| w.of(&part.id))
            .map(|w| {
                let width = message("cut-width").count("count", w.count).text("tag", &w.id);
                width.said("size", self.size(w))
            })
            .collect();
        if !widths.is_empty() {
            return cut("cut-in-widths").list("widths", widths, Between::Comma);
        }
        let is_other = self.cloth.is_none_or(|cloth| cloth.name != part.material);
        if is_other {
            let cut = cut("cut-cloth-other").said("size", self.size(part));
            return cut.text("cloth", &part.material);
        }
        cut("cut-cloth").said("size", self.size(part))
    }
}
