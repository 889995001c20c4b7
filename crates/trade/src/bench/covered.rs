//! Boards with foam and cloth stapled on the back.

use super::cautions::{BLADE, GLUE, NEEDLE, SAW, STAPLER};
use super::{Bench, Step};
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
        steps.extend(self.corners("Corners"));
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
        let (style, a) = (&self.style, self.allowances);
        let opening = match cut.nicks {
            Some(_) => format!("{} across", style.chalk(cut.size.0)),
            None => format!("{} × {}", style.chalk_number(cut.size.0), style.chalk(cut.size.1)),
        };
        let stop = style.show(a.cut_out_stop);
        let how = match cut.nicks {
            None => format!(
                "cut an X from the middle, stopping {stop} short of each corner; flaps are {} long",
                style.chalk(cut.flap)
            ),
            Some(count) => {
                format!("cut {count} nicks all round, stopping {stop} short of the edge")
            }
        };
        let thick = self.foam_thickness() + self.board.map_or(Length::ZERO, |b| b.thickness);
        let is_short = cut.nicks.is_none() && cut.flap < a.cut_out_turn + thick;
        let behind = if is_short {
            "the flaps are too short to be stapled behind: glue them to the inside of the hole"
        } else {
            "turn in and staple or glue behind"
        };
        let (x, y) = (Length::from_mm(cut.centre.x), Length::from_mm(cut.centre.y));
        let (x, y) = (style.chalk_number(x), style.chalk(y));
        Step::new(
            "Cut-out",
            format!(
                "For {}: opening {opening}, middle {x} from the left and {y} from the bottom of the board, seen from the face (mirrored when it lies face down). With the cover tight, {how}; {behind}.",
                cut.what
            ),
            &[&[BLADE], more].concat(),
        )
    }

    /// Proud staples home, surplus off, back closed.
    pub fn trim(&self) -> Step {
        let dust = if self.has_dust_cover {
            " Dust cover on, turned in, over the raw edges; open the screw holes through it."
        } else {
            ""
        };
        Step::new(
            "Trim",
            format!(
                "Drive proud staples home. Trim the cloth beyond the staples to about {}.{dust}",
                self.style.show(self.allowances.pleat)
            ),
            &[BLADE],
        )
    }

    /// How staples are set, and which leg holds without coming through: the end of a sentence.
    pub fn staples(&self) -> String {
        let (style, a) = (&self.style, self.allowances);
        format!(
            "Staples {} from the edge, at most {} apart, {} at corners.{}",
            style.show(a.staple_inset),
            style.show(a.staple_spacing),
            style.show(a.corner_spacing),
            self.legs
        )
    }

    /// Stapled from the middles outwards.
    pub fn edges(&self) -> Step {
        Step::new(
            "Centre and edges",
            format!(
                "Face down, marks on marks. One staple in the middle of each of two opposite sides, then of the other two; look at the face. Then outwards from the middles in turns towards the corners, corners last. {}",
                self.staples()
            ),
            &[STAPLER],
        )
    }

    /// The board cut, mended or kept.
    pub fn board_step(&self) -> Step {
        let text = match (self.board_condition, self.part(Stuff::Board)) {
            (Condition::Renew, Some(_)) => self.new_board(),
            (Condition::Repair, _) => "Mend the board: glue and clamp, fill old holes where staples must hold. Mark the middle of every side.".into(),
            _ => "Keep the board: pull what is left of old staples, ease the edges, mark the middle of every side on face and back.".into(),
        };
        Step::new("Board", text, &[SAW])
    }

    fn new_board(&self) -> String {
        let style = &self.style;
        let Some(part) = self.part(Stuff::Board) else { return String::new() };
        let from = self
            .board
            .map_or(String::new(), |b| format!("{} ({} thick)", b.name, style.show(b.thickness)));
        let is_plain = part.outline.outer.flatten().is_upright_rectangle();
        let outline = &self.made.outline;
        let shape = if let Some(list) = self.several(Stuff::Board) {
            format!("Cut from {from}: {list}. Check the diagonals.")
        } else if outline.is_empty() && is_plain {
            format!("Cut {} from {from}; check the diagonals.", self.size(part))
        } else if outline.is_empty() {
            format!("Cut {} from {from}.", self.size(part))
        } else {
            format!(
                "Cut from {from} to its outline: {outline}; {} {} over all (full-size template {}).",
                part.printed(style),
                style.unit.sign(),
                part.id
            )
        };
        let twice = self.cloth.map_or(Length::ZERO, |c| c.thickness * 4);
        let openings: Vec<String> = self
            .made
            .cut_outs
            .iter()
            .map(|c| {
                let (w, h) = (c.size.0 + twice, c.size.1 + twice);
                match c.nicks {
                    Some(_) => format!("{} {} across", c.what, style.cut(w)),
                    None => format!("{} {} × {}", c.what, style.cut_number(w), style.cut(h)),
                }
            })
            .collect();
        let openings = if openings.is_empty() {
            String::new()
        } else {
            format!(
                " Openings in the board, larger by two thicknesses of cloth all round: {}.",
                openings.join(", ")
            )
        };
        let drill = if self.holes.is_empty() {
            String::new()
        } else {
            let place = |(x, y): &(Length, Length)| {
                format!("{}, {}", style.chalk_number(*x), style.chalk_number(*y))
            };
            let each: Vec<String> = self.holes.iter().map(place).collect();
            format!(
                " Drill for the screws, from the left and bottom edges in the face view: {}.",
                each.join("; ")
            )
        };
        format!(
            "{shape} Ease the edges so that they do not cut the cloth.{openings}{drill} Mark the middle of every side on face and back."
        )
    }

    /// The foam cut, mended or kept, built up by `crown` in the middle; none without a foam.
    pub fn padding(&self, crown: Length) -> Option<Step> {
        let name = self.foam?.name;
        let wrap = if self.is_wrapped { " Wrap it in polyester, no glue on the face." } else { "" };
        let text = match (self.foam_condition, self.part(Stuff::Foam)) {
            (Condition::Renew, Some(part)) => format!(
                "Cut the foam ({name}): {}{}. Write on its back edge only. Spread glue on both surfaces, foam and board, wait until dry to the touch, set it down square: there is no second try.{wrap}",
                self.several(Stuff::Foam).unwrap_or_else(|| self.size(part)),
                if self.made.cut_outs.is_empty() {
                    ""
                } else {
                    ", with the same openings as the board"
                }
            ),
            (Condition::Repair, _) => {
                format!("Patch the foam {name} with the same grade, level.{wrap}")
            }
            _ => format!("Keep the foam if it springs back and does not crumble.{wrap}"),
        };
        let crown = if crown > Length::ZERO {
            format!(
                " Build the middle up by {} with smaller pieces of foam or wadding under the top, feathered out to the edges.",
                self.style.show(crown)
            )
        } else {
            String::new()
        };
        Some(Step::new("Foam", text + &crown, &[BLADE, GLUE]))
    }

    /// How its corners are folded, under a title; none where there are no corners.
    pub fn corners(&self, title: &'static str) -> Option<Step> {
        let (style, a) = (&self.style, self.allowances);
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
        let mut text = Vec::new();
        if square > 0 {
            text.push(format!("{square} square: pull the corner's point over and staple it; cut both slits in line with the board's edges, stopping short of the corner as drawn, where board and foam are thick behind the back edge, so that none shows down the side; fold one side flat, lay the other over it in a line at the corner, staple."));
        }
        for (radius, excess, pleats, count) in rounded {
            let excess = style.chalk(excess);
            if radius == Length::ZERO {
                let s = if pleats == 1 { "" } else { "s" };
                text.push(format!(
                    "{count} wide-angled: no slit; {excess} to lose in {pleats} pleat{s} at the corner."
                ));
                continue;
            }
            let along = (radius - a.staple_inset).mm() * std::f64::consts::FRAC_PI_2;
            let crowded = if along < a.pleat.mm() * pleats as f64 / 2.0 {
                " On the back they crowd to a point: lay them over one another towards the middle, two deep ones do as well."
            } else {
                ""
            };
            text.push(format!(
                "{count} rounded, radius {}: {excess} to lose in {pleats} even pleats, fanned from the middle of the corner outwards; cut away the bulk as drawn.{crowded}",
                style.chalk(radius)
            ));
        }
        if inside > 0 {
            text.push(format!("{inside} inside: glue the facing in first, one slit towards the corner, never to it in one go, turn both sides in."));
        }
        (!text.is_empty()).then(|| Step::new(title, text.join(" "), &[BLADE]))
    }

    /// Welt sewn on: `how` says where.
    pub fn welt_step(&self, how: &str) -> Step {
        let length = self.style.chalk(self.made.quantities.welt);
        let text = format!(
            "Join the strips on the slant; {length} of covered cord. {how}, start away from the front, clip at corners."
        );
        Step::new("Welt", text, &[NEEDLE])
    }
}
