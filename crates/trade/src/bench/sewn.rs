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

/// Where a cushion is opened.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Opening {
    /// A zip along its back: the boxing's middle is the front's.
    Back,
    /// A zip along another side.
    Elsewhere,
    /// Sewn shut.
    None,
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

    /// How a boxing is joined and sewn in, from where, with `notches` as they are on this cushion.
    pub fn boxing(&self, zip: Opening, notches: &str) -> String {
        let lap = self.style.show(self.allowances.boxing_lap);
        let joins = self.boxing_joins(zip);
        let to_top = match zip {
            Opening::Back => format!(
                "Boxing to the top panel from the middle of the front outwards, {notches}; lap its ends over the zip strip."
            ),
            Opening::Elsewhere => format!(
                "Begin at the zip strip: lay it on its side, lap the boxing's end {lap} over it, sew the boxing round the top panel, {notches}, and lap its other end as far over the zip strip's."
            ),
            Opening::None => format!(
                "Sew the boxing's ends together; that join goes to the middle of the back. Boxing to the top panel from the middle of the front outwards, {notches}."
            ),
        };
        let bottom = match zip {
            Opening::None => {
                "Then the bottom panel, an opening left along the back as wide as the foam needs, closed by hand when it is in; notches straight above each other or it twists."
            }
            _ => {
                "Then the bottom panel, the zip open, notches straight above each other or it twists."
            }
        };
        format!("{joins}{to_top} {bottom}")
    }

    /// How the lengths of a boxing are joined; empty if it is in one.
    fn boxing_joins(&self, zip: Opening) -> String {
        let parts = &self.made.parts;
        let whole = parts.iter().find(|p| p.name == "boxing");
        let lengths = whole.map_or(1, |p| p.count / self.made.count.max(1));
        if parts.iter().any(|p| p.name == "boxing, front") {
            "Join the boxing's sides to its front, right to the right; the joins lie at the front corners. ".into()
        } else if lengths > 1 && zip == Opening::Elsewhere {
            format!("Join the boxing's {lengths} lengths. ")
        } else if lengths > 1 {
            format!(
                "Join the boxing's {lengths} lengths; set the middle of the middle one on the middle of the front, so that no join lies there. "
            )
        } else {
            String::new()
        }
    }
}
