//! Sewn and filled covers: cushions and bolsters.

use super::cautions::{BLADE, NEEDLE, STEAM};
use super::{Bench, Step};
use crate::message::{Message, message};
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
    pub order: Message,
    /// How it is filled.
    pub filling: Message,
}

impl Bench<'_> {
    /// A sewn cover: cloth, welt, zip, seams, filling.
    pub fn sewn(&self, sewing: &Sewing) -> Vec<Step> {
        let q = &self.made.quantities;
        let mut steps = vec![self.cut_cloth()];
        if sewing.welt != Welt::None {
            let text = message("step-welt-seam")
                .chalk("length", q.welt)
                .count("runs", q.welt_runs)
                .flag("round", sewing.is_round);
            steps.push(Step::new(text, &[NEEDLE]));
        }
        if let Some(zip) = q.zip {
            let id = match sewing.zip {
                Zip::Halves => "step-zip-halves",
                Zip::Body => "step-zip-body",
                Zip::LowerEdge => "step-zip-edge",
            };
            steps.push(Step::new(message(id).chalk("length", zip), &[NEEDLE]));
        }
        steps.push(self.sew(sewing.order.clone()));
        let close = message("step-close").said("filling", sewing.filling.clone());
        steps.push(Step::new(close.flag("wrapped", self.is_wrapped), &[BLADE]));
        steps
    }

    /// The seams of a cover, in an order.
    pub fn sew(&self, order: Message) -> Step {
        let text = message("step-sew").length("seam", self.allowances.seam).said("order", order);
        let text = text.said("cloth", self.sort.map_or(Message::nothing(), |s| message(s.sew())));
        let hot = self.sort.is_none_or(|sort| !sort.is_airtight());
        Step::new(text, if hot { &[NEEDLE, STEAM] } else { &[NEEDLE] })
    }

    /// The foam of a cushion, cut or kept; ends with a space.
    pub fn cut_foam(&self) -> Message {
        match self.part(Stuff::Foam) {
            Some(part) => {
                message("fill-foam-cut").text("foam", &part.material).said("size", self.size(part))
            }
            None if self.foam.is_some() => message("fill-foam-kept"),
            None => Message::nothing(),
        }
    }

    /// The same, and what is done with it besides, if it is cut anew.
    pub fn cut_foam_and(&self, more: Message) -> Message {
        match self.part(Stuff::Foam) {
            Some(_) => message("fill-foam-and").said("cut", self.cut_foam()).said("more", more),
            None => self.cut_foam(),
        }
    }

    /// Its foam, or what fills it in place of one.
    pub fn foam_or(&self, filling: Message) -> Message {
        if self.foam.is_some() { self.cut_foam() } else { filling }
    }

    /// How a boxing is joined and sewn in, from where, with `notches` as they are on this cushion; `hole`
    /// is what is done with the boxing of a hole first.
    pub fn boxing(&self, zip: Opening, notches: Message, hole: Message) -> Message {
        let id = match zip {
            Opening::Back => "sew-boxing-back",
            Opening::Elsewhere => "sew-boxing-side",
            Opening::None => "sew-boxing-shut",
        };
        message(id)
            .said("hole", hole)
            .said("joins", self.boxing_joins(zip))
            .said("notches", notches)
            .length("lap", self.allowances.boxing_lap)
    }

    /// How the lengths of a boxing are joined; nothing if it is in one.
    fn boxing_joins(&self, zip: Opening) -> Message {
        let parts = &self.made.parts;
        let whole = parts.iter().find(|p| p.name.is("part-boxing"));
        let lengths = whole.map_or(1, |p| p.count / self.made.count.max(1));
        if parts.iter().any(|p| p.name.is("part-boxing-front")) {
            message("boxing-joined-at-corners")
        } else if lengths > 1 && zip == Opening::Elsewhere {
            message("boxing-joined").count("lengths", lengths)
        } else if lengths > 1 {
            message("boxing-joined-at-front").count("lengths", lengths)
        } else {
            Message::nothing()
        }
    }
}
