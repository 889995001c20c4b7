//! Boards with foam and cloth stapled on the back.

use super::cautions::{BLADE, FOAM, GLUE, NEEDLE, SAW, STAPLER};
use super::{Bench, Step};
use crate::cloth_sort::ClothSort;
use crate::message::{Between, Message, message};
use crate::part::{CornerHow, CutOutWork, Stuff};
use crate::wanted::Condition;
use geometry::Length;

impl Bench<'_> {
    /// A covered board from the bare wood: board, foam, cloth; then what goes round the edges; then
    /// corners, openings and trimming. `crown` is how far the middle is built up; an opening has
    /// `cautions` of its own.
    pub fn covered(&self, crown: Length, round: Vec<Step>, cautions: &[&'static str]) -> Vec<Step> {
        let mut steps = self.groundwork(crown);
        steps.push(self.cut_cloth());
        steps.extend(round);
        steps.extend(self.corners("step-corners"));
        steps.extend(self.made.cut_outs.iter().map(|cut| self.cut_out(cut, cautions)));
        steps.push(self.trim());
        steps
    }

    /// Board and foam.
    pub fn groundwork(&self, crown: Length) -> Vec<Step> {
        let mut steps = vec![self.board_step()];
        steps.extend(self.padding(crown));
        steps
    }

    fn cut_out(&self, cut: &CutOutWork, more: &[&'static str]) -> Step {
        let a = self.allowances;
        let thick = self.foam_thickness() + self.board.map_or(Length::ZERO, |b| b.thickness);
        let is_short = cut.nicks.is_none() && cut.flap < a.cut_out_turn + thick;
        let how = match cut.nicks {
            None => message("opening-by-x")
                .length("stop", a.cut_out_stop)
                .chalk("flap", cut.flap)
                .flag("short", is_short),
            Some(count) => {
                message("opening-by-nicks").count("count", count).length("stop", a.cut_out_stop)
            }
        };
        let text = message("step-cut-out")
            .text("what", &cut.what)
            .flag("round", cut.nicks.is_some())
            .chalk("across", cut.size.0)
            .chalk_number("width", cut.size.0)
            .chalk("height", cut.size.1)
            .chalk_number("x", Length::from_mm(cut.centre.x))
            .chalk("y", Length::from_mm(cut.centre.y))
            .said("how", how);
        Step::new(text, &[&[BLADE], more].concat())
    }

    /// Proud staples home, surplus off, back closed.
    pub fn trim(&self) -> Step {
        let text = message("step-trim").length("beyond", self.allowances.pleat);
        Step::new(text.flag("dust", self.has_dust_cover), &[BLADE])
    }

    /// How staples are set, and which leg holds without coming through.
    pub fn staples(&self) -> Message {
        let a = self.allowances;
        let text = message("staples")
            .length("inset", a.staple_inset)
            .length("apart", a.staple_spacing)
            .length("corners", a.corner_spacing);
        let text = match self.legs {
            Some(legs) => Message { id: "staples-with-legs", ..text }.said("legs", legs.clone()),
            None => text,
        };
        text.said("cloth", self.sort.map_or(Message::nothing(), |s| message(s.pull())))
    }

    /// Stapled from the middles outwards.
    pub fn edges(&self) -> Step {
        Step::new(message("step-edges").said("staples", self.staples()), &[STAPLER])
    }

    /// The board cut, mended or kept.
    pub fn board_step(&self) -> Step {
        let text = match (self.board_condition, self.part(Stuff::Board)) {
            (Condition::Renew, Some(_)) => self.new_board(),
            (Condition::Repair, _) => message("step-board-mend"),
            _ => message("step-board-keep"),
        };
        let is_new = self.board_condition == Condition::Renew && self.part(Stuff::Board).is_some();
        let breathes = self.sort.is_some_and(ClothSort::is_airtight) && self.foam.is_some();
        let drains = self.sort == Some(ClothSort::Outdoor);
        let text = text.flag("breathes", breathes).flag("drains", drains);
        let bored = is_new || breathes || drains;
        Step::new(text, if bored { &[SAW] } else { &[] })
    }

    fn new_board(&self) -> Message {
        let Some(part) = self.part(Stuff::Board) else { return Message::nothing() };
        let from = self.board.map_or(Message::nothing(), |b| {
            message("board-from").text("name", b.name).length("thickness", b.thickness)
        });
        let is_plain = part.outline.outer.flatten().is_upright_rectangle();
        let outline = &self.made.outline;
        let shape = if let Some(list) = self.several(Stuff::Board) {
            message("board-several").said("list", list)
        } else if outline.is_empty() {
            let id = if is_plain { "board-plain" } else { "board-round" };
            message(id).said("size", self.size(part))
        } else {
            let (w, h) = part.printed_size(&self.style);
            message("board-outline")
                .said("outline", outline.clone())
                .number("width", w)
                .length("height", h)
                .text("tag", &part.id)
        };
        let twice = self.cloth.map_or(Length::ZERO, |c| c.thickness * 4);
        let openings: Vec<Message> = self
            .made
            .cut_outs
            .iter()
            .map(|c| {
                message("board-opening")
                    .text("what", &c.what)
                    .flag("round", c.nicks.is_some())
                    .cut("across", c.size.0 + twice)
                    .cut_number("width", c.size.0 + twice)
                    .cut("height", c.size.1 + twice)
            })
            .collect();
        let holes: Vec<Message> = self
            .holes
            .iter()
            .map(|(x, y)| message("board-hole").chalk_number("x", *x).chalk_number("y", *y))
            .collect();
        message("step-board-new")
            .said("shape", shape.said("from", from))
            .count("openings", openings.len())
            .list("opening-list", openings, Between::Comma)
            .count("holes", holes.len())
            .list("hole-list", holes, Between::Semicolon)
    }

    /// The foam cut, mended or kept, built up by `crown` in the middle; none without a foam.
    pub fn padding(&self, crown: Length) -> Option<Step> {
        let name = self.foam?.name;
        let text = match (self.foam_condition, self.part(Stuff::Foam)) {
            (Condition::Renew, Some(part)) => message("step-foam-new")
                .text("name", name)
                .said("list", self.several(Stuff::Foam).unwrap_or_else(|| self.size(part)))
                .flag("openings", !self.made.cut_outs.is_empty()),
            (Condition::Repair, _) => message("step-foam-mend").text("name", name),
            _ => message("step-foam-keep"),
        };
        let text = text.flag("wrapped", self.is_wrapped);
        let text = text.flag("crowned", crown > Length::ZERO).length("crown", crown);
        let is_new = self.foam_condition == Condition::Renew && self.part(Stuff::Foam).is_some();
        Some(Step::new(text, if is_new { &[FOAM, GLUE] } else { &[GLUE] }))
    }

    /// How its corners are folded, as the step `id`; none where there are no corners.
    pub fn corners(&self, id: &'static str) -> Option<Step> {
        let a = self.allowances;
        let mut square = 0;
        let mut inside = 0;
        let mut rounded: Vec<(Length, Length, i64, usize)> = Vec::new();
        for corner in &self.made.corners {
            match corner.how {
                CornerHow::Square => square += 1,
                CornerHow::Inside => inside += 1,
                CornerHow::Rounded { radius, excess, pleats } => {
                    match rounded.iter_mut().find(|r| r.0 == radius && r.2 == pleats) {
                        Some(found) => found.3 += 1,
                        None => rounded.push((radius, excess, pleats, 1)),
                    }
                }
            }
        }
        let mut all = Vec::new();
        if square > 0 {
            all.push(message("corners-square").count("count", square));
        }
        for (radius, excess, pleats, count) in rounded {
            let along = (radius - a.staple_inset).mm() * std::f64::consts::FRAC_PI_2;
            let is_wide = radius == Length::ZERO;
            let is_crowded = along < a.pleat.mm() * pleats as f64 / 2.0;
            let text = message(if is_wide { "corners-wide" } else { "corners-rounded" })
                .count("count", count)
                .chalk("excess", excess)
                .count("pleats", pleats);
            all.push(match is_wide {
                true => text,
                false => text.chalk("radius", radius).flag("crowded", is_crowded),
            });
        }
        if inside > 0 {
            all.push(message("corners-inside").count("count", inside));
        }
        let text = |all| message(id).list("list", all, Between::Space);
        (!all.is_empty()).then(|| Step::new(text(all), &[BLADE]))
    }

    /// Welt sewn round a top along the stitch line.
    pub fn welt_step(&self) -> Step {
        let text = message("step-welt-top").chalk("length", self.made.quantities.welt);
        Step::new(text, &[NEEDLE])
    }
}
