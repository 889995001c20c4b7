//! What is done at the bench: numbered steps with a piece's own numbers, and the cautions that belong to
//! each. Here stands what kinds share; each kind puts its own steps together.
//!
//! Source: working order of covered panels and cushions as upholstery texts and working upholsterers
//! describe it; common practice where no other source stands at the number itself.

pub mod cautions;
mod covered;
mod sewn;

pub use sewn::{Opening, Sewing, Zip};

use crate::part::{Developed, Part, Stuff};
use crate::rates::Allowances;
use crate::wanted::{Condition, PatternRule};
use crate::working::Style;
use cautions::BLADE;
use geometry::Length;

/// One step.
#[derive(Clone, Debug, PartialEq)]
pub struct Step {
    /// Two or three words.
    pub title: &'static str,
    /// What to do, with numbers.
    pub text: String,
    /// What can hurt.
    pub cautions: Vec<&'static str>,
}

impl Step {
    /// A step and its cautions.
    pub fn new(title: &'static str, text: impl Into<String>, cautions: &[&'static str]) -> Self {
        Self { title, text: text.into(), cautions: cautions.to_vec() }
    }
}

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
    pub legs: &'a str,
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
    pub fn size(&self, part: &Part) -> String {
        let style = &self.style;
        let (w, h) = part.printed_size(style);
        let outer = &part.outline.outer;
        let box_size = format!("{} × {}", style.number(w), style.show(h));
        if part.outline.is_round() {
            let hole = part.outline.holes.first().map_or(String::new(), |hole| {
                let across = style.place(geometry::Outline::solid(hole.clone()).size().0);
                format!(" with a hole {} across in the middle", style.show(across))
            });
            return format!("a circle {} across{hole}", style.show(w));
        }
        if outer.flatten().is_upright_rectangle() || part.stuff == Stuff::Cloth {
            return box_size;
        }
        format!("{box_size} over all, cut to its outline (full-size template {})", part.id)
    }

    /// All parts of a stuff, with their numbers, if there are several sorts.
    fn several(&self, stuff: Stuff) -> Option<String> {
        let parts: Vec<&Part> = self.made.parts.iter().filter(|p| p.stuff == stuff).collect();
        (parts.len() > 1).then(|| {
            let each = parts
                .iter()
                .map(|p| format!("{} × {} {}, {}", p.count, p.id, p.name, self.size(p)));
            each.collect::<Vec<_>>().join("; ")
        })
    }

    /// Every part of cloth, cut from the plan.
    pub fn cut_cloth(&self) -> Step {
        let list: Vec<String> = self
            .made
            .parts
            .iter()
            .filter(|p| p.stuff == Stuff::Cloth)
            .map(|p| self.one_cut(p))
            .collect();
        let motif = match self.pattern {
            PatternRule::Free | PatternRule::Unsaid => "",
            PatternRule::Centred => {
                " A motif stands on the middle of each seen part: the crosses of the cutting plan show where."
            }
            PatternRule::Matched(_) => {
                " The pattern runs on from piece to piece: cut where the crosses of the cutting plan show it, not by eye."
            }
        };
        let join = if self.made.widths.is_empty() {
            String::new()
        } else {
            format!(
                " Join the widths in the order of their numbers, from the left, seam {}, before anything else; press the seam open and lay the join where the drawing has it, pattern on pattern.",
                self.style.show(self.allowances.seam)
            )
        };
        let list = list.join("; ");
        Step::new(
            "Cloth",
            format!(
                "From the cutting plan: {list}.{motif}{join} Check arrow and face before the first cut; mark name and up arrow on the back."
            ),
            &[BLADE],
        )
    }

    /// One part, with its widths if it is joined.
    fn one_cut(&self, part: &Part) -> String {
        let joined: Vec<String> = self
            .made
            .widths
            .iter()
            .filter(|w| w.of(&part.id))
            .map(|w| format!("{} × {} ({})", w.count, w.id, self.size(w)))
            .collect();
        if !joined.is_empty() {
            let joined = joined.join(", ");
            return format!("{} × {} {} in widths: {joined}", part.count, part.id, part.name);
        }
        let is_other = self.cloth.is_none_or(|cloth| cloth.name != part.material);
        let from = if is_other { format!(", of {}", part.material) } else { String::new() };
        format!("{} × {} {} ({}{from})", part.count, part.id, part.name, self.size(part))
    }
}
