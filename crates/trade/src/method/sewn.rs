//! Sewn and filled covers: cushions and bolsters.

use super::{BLADE, NEEDLE, Step, cut_cloth, named, size, step};
use crate::job::Job;
use crate::kind::{Kind, Shaped, Sloped, Tapered, Waterfall, Wedge, Welt, ZipSide};
use crate::panel::PanelShape;
use crate::part::{Developed, Stuff};
use crate::piece::Piece;

pub fn steps(job: &Job, about: &Piece, piece: &Developed) -> Vec<Step> {
    let style = &job.style;
    let a = &about.allowances;
    let q = &piece.quantities;
    let mut steps = vec![cut_cloth(job, piece)];
    let (welt, zip_side) = match &about.kind {
        Kind::BoxedCushion { welt, zip, .. } => (*welt, Some(zip)),
        Kind::KnifeEdge { welt, .. } | Kind::Bolster { welt, .. } => (*welt, None),
        Kind::ShapedCushion(Shaped { welt, zip, .. }) => (*welt, zip.map(|_| &ZipSide::Back)),
        Kind::WedgeCushion(Wedge { welt, zip, .. })
        | Kind::SlopedCushion(Sloped { welt, zip, .. })
        | Kind::WaterfallCushion(Waterfall { welt, zip, .. }) => {
            (*welt, zip.then_some(&ZipSide::Back))
        }
        Kind::TaperedBolster(Tapered { welt, .. }) => (*welt, None),
        _ => (Welt::None, None),
    };
    let round = about.kind.is_round()
        || matches!(about.kind, Kind::Bolster { .. } | Kind::TaperedBolster(_));
    if welt != Welt::None {
        steps.push(step(
            "Welt",
            format!(
                "Join the strips on the slant; {} of covered cord for each piece, in {} run{}. Sew it to the face along the stitch line, start away from the front, {}.",
                style.chalk(q.welt),
                q.welt_runs,
                if q.welt_runs == 1 { "" } else { "s" },
                if round { "clip its allowance all round" } else { "clip at corners" }
            ),
            &[NEEDLE],
        ));
    }
    if let Some(zip) = q.zip {
        let halves = if zip_side.is_some_and(|z| *z != ZipSide::None) {
            "Turn each half of the zip strip under, sew the halves to"
        } else {
            match about.kind {
                Kind::Bolster { .. } | Kind::TaperedBolster(_) => {
                    "Leave the seam along the body open from end to end, so that the form goes in; sew in"
                }
                _ => "Leave the opening in the middle of the lower edge, sew in",
            }
        };
        steps.push(step(
            "Zip",
            format!("{halves} a zip of {}; pull hidden at one end.", style.chalk(zip)),
            &[NEEDLE],
        ));
    }
    let lengths =
        piece.parts.iter().find(|p| p.name == "boxing").map_or(1, |p| p.count / piece.count.max(1));
    let joins = if piece.parts.iter().any(|p| p.name == "boxing, front") {
        "Join the boxing's sides to its front, right to the right; the joins lie at the front corners. ".to_string()
    } else if lengths > 1 {
        format!(
            "Join the boxing's {lengths} lengths; set the middle of the middle one on the middle of the front, so that no join lies there. "
        )
    } else {
        String::new()
    };
    let body = match about.kind {
        Kind::BoxedCushion { .. } => format!(
            "Seams {}. {joins}Boxing to the top panel from the middle of the front outwards, notches at every corner; lap its ends over the zip strip. Then the bottom panel, the zip open, corner notches straight above each other or it twists.",
            style.show(a.seam)
        ),
        Kind::ShapedCushion(ref shaped) => {
            let inside = if matches!(shaped.shape, PanelShape::Tee { .. }) {
                "; clip the boxing's allowance at the inside corners before turning them"
            } else {
                "; clip its allowance every hand's width round a curve"
            };
            let hole = if matches!(shaped.shape, PanelShape::Ring { .. }) {
                "The hole's boxing to a ring, then to the top panel's hole and to the bottom panel's. "
            } else {
                ""
            };
            format!(
                "Seams {}. {hole}{joins}Boxing to the top panel from the middle of the front outwards, notches on notches{inside}. Then the bottom panel, the zip open, notches straight above each other or it twists.",
                style.show(a.seam)
            )
        }
        Kind::WedgeCushion(_) => format!(
            "Seams {}. Boxing front, sides and zip strip to a ring: each side's tall end to the thick end. Ring to the top panel, corners on corners; then the bottom panel, the zip open.",
            style.show(a.seam)
        ),
        Kind::SlopedCushion(_) => format!(
            "Seams {}. Boxing to a ring, then to the top panel: the top is the larger face. The bottom panel last, zip open; its leaning edge is the shorter. Mark the inside of the leaning boxing.",
            style.show(a.seam)
        ),
        Kind::WaterfallCushion(w) if !w.round => format!(
            "Seams {}. {} to the two back edges of the main panel first, so that it becomes a ring. Then the ends, corners on the fold marks, the allowance clipped at each corner; the top is the edge marked with the arrow's head.{}",
            style.show(a.seam),
            if w.zip { "Zip strip" } else { "Back strip" },
            if w.zip {
                ""
            } else {
                " Leave most of the lower back seam open for the foam and close it by hand."
            }
        ),
        Kind::WaterfallCushion(_) => format!(
            "Seams {}. Zip strip to the two back edges of the main panel first, so that it becomes a ring. Then the ends, from the middle of the front both ways: notches at twelve, three and six o'clock on the main panel's, its allowance clipped round the front; the top is the edge marked with the arrow's head.",
            style.show(a.seam)
        ),
        Kind::TaperedBolster(_) => format!(
            "Seams {}. Body to a cone, clip both curved edges, sew in the larger end, then the smaller, quarter marks on quarter marks.",
            style.show(a.seam)
        ),
        Kind::Bolster { .. } => format!(
            "Seams {}. Body to a tube, clip its ends, sew in the discs with quarter marks on quarter marks.",
            style.show(a.seam)
        ),
        _ => format!(
            "Seams {}. Faces together, tapering the corners in a little so that they do not make ears; zip open.",
            style.show(a.seam)
        ),
    };
    steps.push(step("Sew", body, &[NEEDLE]));
    let foam = match named(piece, Stuff::Foam) {
        Some(part) => format!("Cut the foam ({}): {}. ", part.material, size(style, part)),
        None if about.foam.is_some() => "Foam is kept. ".into(),
        None => String::new(),
    };
    let wrap = if about.wrap { "Wrap in polyester. " } else { "" };
    let foam = match about.kind {
        Kind::WedgeCushion(wedge) if named(piece, Stuff::Foam).is_some() => {
            let two = piece.parts.iter().any(|p| p.stuff == Stuff::Foam && p.from_one == 2);
            format!(
                "{foam}Mark {} at the front and {} at the back and saw between the lines{}. ",
                style.show(wedge.front),
                style.show(wedge.back),
                if two { ": one cut gives two wedges" } else { "" }
            )
        }
        Kind::SlopedCushion(_) if named(piece, Stuff::Foam).is_some() => {
            format!("{foam}Saw the leaning side to the bottom panel's size below. ")
        }
        Kind::ShapedCushion(ref shaped) if matches!(shaped.shape, PanelShape::Ring { .. }) => {
            format!(
                "{foam}Slit the foam ring once, thread it round, glue the slit when it lies right. "
            )
        }
        Kind::KnifeEdge { width, height, .. } if about.foam.is_none() => format!(
            "Filling: an inner cushion {} × {} or a little larger. ",
            style.number(width),
            style.show(height)
        ),
        Kind::WaterfallCushion(w) if w.round && named(piece, Stuff::Foam).is_some() => {
            format!("{foam}Round the front to the end's curve. ")
        }
        Kind::TaperedBolster(b) if about.foam.is_none() => format!(
            "Filling: a roll {} across at one end, {} at the other, {} long. ",
            style.show(b.large.max(b.small)),
            style.show(b.large.min(b.small)),
            style.show(b.length)
        ),
        Kind::Bolster { length, diameter, .. } if about.foam.is_none() => format!(
            "Filling: a roll {} across and {} long. ",
            style.show(diameter),
            style.show(length)
        ),
        _ => foam,
    };
    steps.push(step("Fill and close", format!("{foam}{wrap}Fold it in, work it into the corners, close, and look at it from where it will be seen."), &[BLADE]));
    steps
}
