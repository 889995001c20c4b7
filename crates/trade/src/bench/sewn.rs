//! Sewn and filled covers: cushions and bolsters.

use super::cautions::{BLADE, NEEDLE};
use super::{Bench, Step};
use crate::part::Stuff;
use crate::wanted::Welt;

/// Where the zip goes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Zip {
    /// Between the two halves of a zip strip.
    Halves,
    /// Along a round body, from end to end.
    Body,
    /// In the middle of the lower edge.
    LowerEdge,
}

/// What differs from one sewn kind to the next.
#[derive(Clone, Debug)]
pub struct Sewing {
    /// Welt in its seams.
    pub welt: Welt,
    /// Its welt goes round a curve all the way.
    pub is_round: bool,
    /// Where its zip goes, if it has one.
    pub zip: Zip,
    /// The order in which it is sewn.
    pub order: String,
    /// How it is filled.
    pub filling: String,
}

impl Bench<'_> {
    /// A sewn cover: cloth, welt, zip, seams, filling.
    pub fn sewn(&self, sewing: &Sewing) -> Vec<Step> {
        let (style, q) = (&self.style, &self.made.quantities);
        let mut steps = vec![self.cut_cloth()];
        if sewing.welt != Welt::None {
            steps.push(Step::new(
                "Welt",
                format!(
                    "Join the strips on the slant; {} of covered cord for each piece, in {} run{}. Sew it to the face along the stitch line, start away from the front, {}.",
                    style.chalk(q.welt),
                    q.welt_runs,
                    if q.welt_runs == 1 { "" } else { "s" },
                    if sewing.is_round { "clip its allowance all round" } else { "clip at corners" }
                ),
                &[NEEDLE],
            ));
        }
        if let Some(zip) = q.zip {
            let opening = match sewing.zip {
                Zip::Halves => "Turn each half of the zip strip under, sew the halves to",
                Zip::Body => {
                    "Leave the seam along the body open from end to end, so that the form goes in; sew in"
                }
                Zip::LowerEdge => "Leave the opening in the middle of the lower edge, sew in",
            };
            let length = style.chalk(zip);
            let text = format!("{opening} a zip of {length}; pull hidden at one end.");
            steps.push(Step::new("Zip", text, &[NEEDLE]));
        }
        let seam = style.show(self.allowances.seam);
        steps.push(Step::new("Sew", format!("Seams {seam}. {}", sewing.order), &[NEEDLE]));
        let wrap = if self.is_wrapped { "Wrap in polyester. " } else { "" };
        let filling = &sewing.filling;
        steps.push(Step::new(
            "Fill and close",
            format!(
                "{filling}{wrap}Fold it in, work it into the corners, close, and look at it from where it will be seen."
            ),
            &[BLADE],
        ));
        steps
    }

    /// The foam of a cushion, cut or kept; ends with a space.
    pub fn cut_foam(&self) -> String {
        match self.part(Stuff::Foam) {
            Some(part) => format!("Cut the foam ({}): {}. ", part.material, self.size(part)),
            None if self.foam.is_some() => "Foam is kept. ".into(),
            None => String::new(),
        }
    }

    /// How the lengths of a boxing are joined; empty if it is in one.
    pub fn boxing_joins(&self) -> String {
        let parts = &self.made.parts;
        let lengths = parts
            .iter()
            .find(|p| p.name == "boxing")
            .map_or(1, |p| p.count / self.made.count.max(1));
        if parts.iter().any(|p| p.name == "boxing, front") {
            "Join the boxing's sides to its front, right to the right; the joins lie at the front corners. ".into()
        } else if lengths > 1 {
            format!(
                "Join the boxing's {lengths} lengths; set the middle of the middle one on the middle of the front, so that no join lies there. "
            )
        } else {
            String::new()
        }
    }
}
