//! A headboard: a padded field, a border with mitred corners round its top and sides, perhaps wings.

use super::table::{Key, Nature, Sort, Table};
use super::values::Values;
use super::{Kind, OfKind};
use crate::bench::cautions::{LIFT, NEEDLE, STAPLER};
use crate::bench::{Bench, Step};
use crate::build::strips::rectangle;
use crate::build::{Ask, Kit};
use crate::fault::Fault;
use crate::message::{Message, message};
use crate::panel::Side;
use crate::part::{CornerHow, CornerWork, Mark, Meaning, Part, Stuff};
use crate::working::{Working, of};
use geometry::{Length, Outline, Path, Point, grow};

/// A headboard with a border and perhaps wings.
#[derive(Clone, Debug, PartialEq)]
pub struct Headboard {
    /// Left to right over the border.
    pub width: Length,
    /// Bottom to top over the border.
    pub height: Length,
    /// Face of the border, along the top and both sides.
    pub border: Length,
    /// Depth of the wings at the sides, if it has them.
    pub wing: Option<Length>,
}

const KEYS: [Key; 4] = [
    Key::length("width", "over the border"),
    Key::length("height", "bottom edge to top, over the border"),
    Key::length("border", "face of the border"),
    Key::optional("wing", Sort::Length, "depth of a wing, if there are any"),
];

/// What is asked of a headboard.
pub const TABLE: Table = Table { name: "headboard", keys: &KEYS, nature: Nature::BOARD, read };

fn read(values: &mut Values, _: &mut Vec<Fault>) -> Kind {
    let [width, height, border] = ["width", "height", "border"].map(|key| values.length(key));
    Kind::Headboard(Headboard { width, height, border, wing: values.opt_length("wing") })
}

impl OfKind for Headboard {
    fn table(&self) -> &'static Table {
        &TABLE
    }

    /// Develops a headboard of border face `k`.
    ///
    /// ```text
    /// field  = (W - 2 k + 2 (f + t)) by (H - k + (f + t) + reach below)       t: turned in under the border
    /// border = k + inner return (f + t) + outer return (f + b + w + a), mitred at 45 degrees, n at the mitre
    /// wing   = inner face grown by the reach, outer face by the tack strip's allowance
    /// ```
    ///
    /// Source: border face plus inner and outer returns, common practice, no source; the mitre is geometry.
    fn develop(&self, ask: &Ask) -> Result<Kit, Vec<Fault>> {
        let a = ask.build.allowances;
        let (w, h, k) = (self.width, self.height, self.border);
        let field = (w - k * 2, h - k);
        if field.0 <= Length::ZERO || field.1 <= Length::ZERO {
            return Err(vec![ask.border_too_wide(
                k,
                (w, h),
                message("border-too-wide").part("headboard"),
            )]);
        }
        let f = ask.build.foam + ask.build.wrap;
        let (inner, outer) = (f + a.border_turn, ask.build.reach(&Side::default()));
        let n = a.seam.mm();
        let mut kit = Kit { finished: (w, h), ..Kit::default() };

        let mut cover = Part::new(
            message("part-field"),
            Stuff::Cloth,
            ask.cloth,
            rectangle(field.0 + inner * 2, field.1 + inner + outer),
        )
        .seen();
        let at = |x: Length, y: Length| Point::new(x.mm(), y.mm());
        let face = [
            at(inner, outer),
            at(inner + field.0, outer),
            at(inner + field.0, outer + field.1),
            at(inner, outer + field.1),
        ];
        cover.marks.push(Mark::closed(Meaning::BoardEdge, Path::straight(&face)));
        cover.explain(
            Working::grown(message("work-field-width"), field.0, &[f, a.border_turn]).width(),
        );
        cover.explain(
            Working::of(message("work-field-height"), of(field.1) + of(inner) + of(outer)).height(),
        );

        let (wm, hm, km, ri, ro) = (w.mm(), h.mm(), k.mm(), inner.mm(), outer.mm());
        let p = Point::new;
        // Top strip: y nought is the border's inner edge.
        let top = [
            p(km, -ri),
            p(wm - km, -ri),
            p(wm - km, 0.0),
            p(wm, km),
            p(wm, km + ro),
            p(0.0, km + ro),
            p(0.0, km),
            p(km, 0.0),
        ];
        let top_face = [p(km, 0.0), p(wm - km, 0.0), p(wm, km), p(0.0, km)];
        let mut strip = bordered(
            ask,
            message("part-top-border"),
            &top,
            &[0.0, n, n, n, 0.0, n, n, n],
            &top_face,
        );
        let across = Working::of(message("work-border-cut-across"), of(k) + of(inner) + of(outer));
        strip.explain(across.clone().height());
        strip.explain(Working::grown(message("work-border-along-the-top"), w, &[a.seam]).width());
        // Side strip: x nought is the outer edge, the bottom turned under.
        let side = [
            p(-ro, -ro),
            p(km + ri, -ro),
            p(km + ri, hm - km),
            p(km, hm - km),
            p(0.0, hm),
            p(-ro, hm),
        ];
        let side_face = [p(0.0, 0.0), p(km, 0.0), p(km, hm - km), p(0.0, hm)];
        let mut left = bordered(
            ask,
            message("part-side-border"),
            &side,
            &[0.0, 0.0, n, n, n, 0.0],
            &side_face,
        );
        left.hand = Some("left");
        let along = of(h) + of(outer) + of(a.seam);
        left = left.explained([
            across.width(),
            Working::of(message("work-border-along-a-side"), along).height(),
        ]);
        let mut right = left.mirrored();
        right.hand = Some("right");
        kit.parts = vec![cover, strip, left, right];

        let mut faces = w.mm() * h.mm();
        let mut staples = (field.0 + field.1 * 2) + (w + h * 2) + w;
        if let Some(wing) = self.wing {
            faces += 2.0 * wing.mm() * h.mm();
            let reach = outer;
            let mut inside = Part::new(
                message("part-wing-inside"),
                Stuff::Cloth,
                ask.cloth,
                rectangle(wing + reach * 2, h + reach * 2),
            );
            inside.count = 2;
            inside.explain(Working::grown(message("work-wing-width"), wing, &[reach]).width());
            inside.explain(Working::grown(message("work-wing-height"), h, &[reach]).height());
            let strip = a.tack_strip;
            let mut outside = Part::new(
                message("part-wing-outside"),
                Stuff::Cloth,
                ask.cloth,
                rectangle(wing + strip * 2, h + strip * 2),
            );
            outside.count = 2;
            outside.explain(
                Working::grown(message("work-outside-of-a-wing-width"), wing, &[strip]).width(),
            );
            outside.explain(
                Working::grown(message("work-outside-of-a-wing-height"), h, &[strip]).height(),
            );
            kit.parts.extend([inside, outside]);
            staples += (wing + h) * 4;
            kit.quantities.tack_strip = (wing + h) * 4;
        }
        let sheet = |kit: &mut Kit,
                     stuff: Stuff,
                     material: &str,
                     name: Message,
                     size: (Length, Length),
                     count| {
            let mut part = Part::new(name, stuff, material, rectangle(size.0, size.1));
            part.count = count;
            kit.parts.push(part);
        };
        if let Some(name) = ask.foam {
            sheet(&mut kit, Stuff::Foam, name, message("part-foam-of-the-field"), field, 1);
            sheet(&mut kit, Stuff::Foam, name, message("part-foam-of-the-top-border"), (w, k), 1);
            sheet(
                &mut kit,
                Stuff::Foam,
                name,
                message("part-foam-of-a-side-border"),
                (k, h - k),
                2,
            );
            if let Some(wing) = self.wing {
                sheet(&mut kit, Stuff::Foam, name, message("part-foam-of-a-wing"), (wing, h), 2);
            }
        }
        if let Some(name) = ask.board {
            sheet(&mut kit, Stuff::Board, name, message("part-board"), (w, h), 1);
            if let Some(wing) = self.wing {
                sheet(&mut kit, Stuff::Board, name, message("part-board-of-a-wing"), (wing, h), 2);
            }
        }
        let mitre = Length::from_mm(libm::hypot(km, km)) + inner + outer;
        let q = &mut kit.quantities;
        q.staple_line = staples;
        q.corner_line = (a.pleat * 16).min(staples);
        q.seam = mitre * 2;
        q.glue_mm2 = if f > Length::ZERO && ask.build.board > Length::ZERO { faces } else { 0.0 };
        q.wrap_mm2 = if ask.wrap { faces } else { 0.0 };
        kit.corners = [(0.0, 0.0), (wm, 0.0)]
            .into_iter()
            .enumerate()
            .map(|(corner, (x, y))| CornerWork { corner, at: p(x, y), how: CornerHow::Square })
            .collect();
        Ok(kit)
    }

    fn steps(&self, bench: &Bench) -> Vec<Step> {
        let a = bench.allowances;
        let mut steps = bench.groundwork(Length::ZERO);
        steps.push(bench.cut_cloth());
        let field = message("step-headboard-field")
            .length("border", self.border)
            .length("turn", a.border_turn)
            .said("staples", bench.staples());
        steps.push(Step::new(field, &[STAPLER]));
        let mitres = message("step-headboard-mitres").length("seam", a.seam);
        steps.push(Step::new(mitres, &[NEEDLE]));
        steps.push(Step::new(message("step-headboard-border"), &[STAPLER]));
        if let Some(wing) = self.wing {
            let wings = message("step-headboard-wings");
            let wings = wings.length("wing", wing).length("strip", a.tack_strip);
            steps.push(Step::new(wings, &[STAPLER, LIFT]));
        }
        steps.extend(bench.corners("step-bottom-corners"));
        steps.push(bench.trim());
        steps
    }

    fn reach(&self) -> Option<Length> {
        Some(self.width)
    }

    fn sizes(&mut self) -> Vec<(&'static str, &mut Length)> {
        vec![("width", &mut self.width), ("height", &mut self.height)]
    }
}

fn bordered(ask: &Ask, name: Message, points: &[Point], grown: &[f64], face: &[Point]) -> Part {
    let outline = Outline::solid(grow(&Path::straight(points), grown));
    let mut part = Part::new(name, Stuff::Cloth, ask.cloth, outline);
    part.marks.push(Mark::closed(Meaning::BoardEdge, Path::straight(face)));
    part
}
