//! Steps of kinds that are neither a plain covered board nor a sewn cushion.

use super::covered::{board, corners, edges, padding, stapling, trim};
use super::{BLADE, LIFT, NEEDLE, STAPLER, Step, cut_cloth, step};
use crate::develop::buttoned_back::over_diamond;
use crate::develop::skirt::pleats as pleats_on;
use crate::job::Job;
use crate::kind::{
    Buttoned, Curved, CurvedFaces, CutEdge, CutPiece, Fullness, Headboard, Ottoman, Pleating,
    Skirt, Welt, WeltRuns,
};
use crate::part::Developed;
use crate::piece::{Buttons, Piece};
use crate::working::Style;
use geometry::Length;

const CORD: &str = "Button cord cuts: wear gloves, pull straight, nobody opposite the needle.";

/// Board and foam, as for any covered board.
fn groundwork(job: &Job, about: &Piece, piece: &Developed) -> Vec<Step> {
    let mut steps = vec![board(job, about, piece)];
    if let Some(foam) = job.foam_of(about) {
        steps.push(padding(job, about, piece, &foam.name));
    }
    steps
}

pub fn buttoned_back(job: &Job, about: &Piece, piece: &Developed, back: &Buttoned) -> Vec<Step> {
    let style = &job.style;
    let (line, legs) = stapling(job, piece);
    let one = |size: Length, n: usize| (size - back.border * 2).share(n.max(1) as i64);
    let (wide, high) = (one(back.width, back.across), one(back.height, back.high));
    let cloth =
        |s: Length, across: bool| over_diamond(s, back.depth, back.fullness, across).unwrap_or(s);
    let rule = match back.fullness {
        Fullness::Arc => "the arc over each diamond",
        Fullness::Slant => "straight down to each button",
        Fullness::Depth => "the depth once for each diamond",
        Fullness::TwoDepths => "the depth at each end of a diamond",
        Fullness::Added(..) => "a fixed addition for each diamond",
    };
    // Running distances from the middle: rounded steps would add up to a fault.
    let running = |one: Length, n: usize| {
        let half = one.mm() / 2.0;
        let marks = (0..=n).map(|i| Length::from_mm(half * i as f64));
        marks.map(|l| style.chalk_number(l)).collect::<Vec<_>>().join(", ")
    };
    let grid = |w: Length, h: Length| {
        format!(
            "lines at {} to either side and {} up and down",
            running(w, back.across),
            running(h, back.high)
        )
    };
    let mut steps = vec![board(job, about, piece)];
    steps.push(step(
        "Mark the board",
        format!(
            "Border {} all round. From the middle lines outwards, {}. Buttons stand where the drawing shows them, {} in all. Drill the board at each; lay the foam on, mark the holes through from behind, and punch it before it is glued.",
            style.show(back.border),
            grid(wide, high),
            piece.quantities.buttons
        ),
        &[super::SAW],
    ));
    if let Some(foam) = job.foam_of(about) {
        steps.push(padding(job, about, piece, &foam.name));
    }
    steps.push(step(
        "Try one diamond",
        format!(
            "The rules of the trade differ; these sizes are by {rule}: {} × {} on the board become {} × {} on the cloth. Pull one diamond over scrap foam with a piece of this cloth, {} deep, before cutting; if it is tight or loose, say so in the job and plan again.",
            style.chalk_number(wide),
            style.chalk(high),
            style.chalk_number(cloth(wide, true)),
            style.chalk(cloth(high, false)),
            style.show(back.depth)
        ),
        &[],
    ));
    steps.push(cut_cloth(job, piece));
    steps.push(step(
        "Mark the cloth",
        format!(
            "On its back, from the middle lines outwards, {}. The spaces are wider than on the board: that is the fullness.",
            grid(cloth(wide, true), cloth(high, false))
        ),
        &[],
    ));
    steps.push(step(
        "Buttons",
        format!(
            "{} lignes, on strong cord, never on sewing thread. The buttons nearest the middle first, then their neighbours, row by row outwards: cloth mark on board hole, pull {} down, staple the cord in a zigzag behind. Fold each pleat downwards with the flat of a spatula, so that dust falls out, before the next button.",
            back.ligne,
            style.show(back.depth)
        ),
        &[CORD, STAPLER],
    ));
    steps.push(step(
        "Pleats to the edge",
        "From the outer buttons straight to the edge: pull, fold all pleats of one side the same way, staple the middle one first.".into(),
        &[STAPLER],
    ));
    steps.push(step(
        "Edges",
        format!("Between the pleats outwards from the middles in turns, corners last. Staples {line}.{legs}"),
        &[STAPLER],
    ));
    if let Some(text) = corners(style, &about.allowances, piece) {
        steps.push(step("Corners", text, &[BLADE]));
    }
    steps.push(trim(style, about));
    steps
}

pub fn headboard(job: &Job, about: &Piece, piece: &Developed, headboard: &Headboard) -> Vec<Step> {
    let style = &job.style;
    let a = &about.allowances;
    let (line, legs) = stapling(job, piece);
    let mut steps = groundwork(job, about, piece);
    steps.push(cut_cloth(job, piece));
    steps.push(step(
        "Field",
        format!(
            "Mark the border {} from the edges of the board: its line is where the field ends. Field cloth on by its marks, middle of the top, middle of the bottom, then the sides; staple on the border's side of the line, {} turned in; the bottom goes round the board's edge. Staples {line}.{legs}",
            style.show(headboard.border),
            style.show(a.border_turn)
        ),
        &[STAPLER],
    ));
    steps.push(step(
        "Sew the mitres",
        format!(
            "Top border to both side borders along the slanted ends, seams {}, from the inner corner outwards to the board's back edge and no further, back-tacked at both ends, so that the cloth behind lies flat; press open. Left and right borders are mirror images: lay them out before sewing.",
            style.show(a.seam)
        ),
        &[NEEDLE],
    ));
    steps.push(step(
        "Border",
        "Lay the border face down along the line, mitres on the corners, and staple its inner edge through a card strip, middle of the top first. Glue in the border's foam, turn the cloth over it, and staple behind from the middles outwards; at the mitres the seam runs straight to the board's corner.".into(),
        &[STAPLER],
    ));
    if let Some(wing) = headboard.wing {
        steps.push(step(
            "Wings",
            format!(
                "{} deep, one left, one right, pile the same way up on both: cover the inner face as a panel, bolt the wing on from behind, then close the outer face over tack strip, turned in {} on every side.",
                style.show(wing),
                style.show(a.tack_strip)
            ),
            &[STAPLER, LIFT],
        ));
    }
    if let Some(text) = corners(style, &about.allowances, piece) {
        steps.push(step("Bottom corners", text, &[BLADE]));
    }
    steps.push(trim(style, about));
    steps
}

pub fn curved_back(job: &Job, about: &Piece, piece: &Developed, back: &Curved) -> Vec<Step> {
    let style = &job.style;
    let (line, legs) = stapling(job, piece);
    let mut steps = vec![step(
        "Check the curve",
        format!(
            "Lay a straight edge across the hollow: {} from end to end, {} deep in the middle. If the real back is off by more than a finger, trace a template; it wins over the sum.",
            style.show(back.chord),
            style.show(back.rise)
        ),
        &[],
    )];
    steps.extend(groundwork(job, about, piece));
    steps.push(cut_cloth(job, piece));
    let widths = piece.parts.iter().filter(|p| p.name.contains("width")).count();
    if widths > 1 {
        steps.push(step(
            "Join the widths",
            "Sew the widths top to bottom, pile and pattern running the same way; chalk the middle and the ends of the board on the joined cover.".into(),
            &[NEEDLE],
        ));
    }
    steps.push(match back.faces {
        CurvedFaces::Outside => edges(&line, &legs),
        _ => step(
            "Hollow face",
            format!("Middle of the top, middle of the bottom, then outwards along both by turns, pressing the cloth into the hollow with the hand: it must not bridge. The ends last. Staples {line}.{legs}"),
            &[STAPLER],
        ),
    });
    if let Some(text) = corners(style, &about.allowances, piece) {
        steps.push(step("Corners", text, &[BLADE]));
    }
    if back.faces == CurvedFaces::Both {
        steps.push(step(
            "Outside",
            format!(
                "Over the stapled edges: top edge with a card strip, sides over tack strip, bottom turned in and stapled below; {} is allowed on every side.",
                style.show(about.allowances.tack_strip)
            ),
            &[STAPLER],
        ));
    }
    steps.push(trim(style, about));
    steps
}

pub fn ottoman(job: &Job, about: &Piece, piece: &Developed, ottoman: &Ottoman) -> Vec<Step> {
    let style = &job.style;
    let a = &about.allowances;
    let (line, legs) = stapling(job, piece);
    let mut steps = vec![step(
        "Frame",
        "The frame under the top is kept: shake it, glue what is loose, see that its lower edge holds staples. The board below is its top.".into(),
        &[],
    )];
    steps.extend(groundwork(job, about, piece));
    steps.push(cut_cloth(job, piece));
    if ottoman.welt != Welt::None {
        steps.push(welt_step(style, piece, "Sew it round the top along the stitch line"));
    }
    let how = match (ottoman.depth, ottoman.wrapped) {
        (None, _) => {
            "Band to a ring, quarter marks on band and disc; sew the ring to the disc, clipping its allowance all round. The band's joins go to the sides, or to the back if there is one."
        }
        (Some(_), true) => {
            "Ends to the front, top and back in one: from the middle of the top both ways, the cloth clipped to the seam at the two top corners. The pattern stands on its head on the back: that side goes to the wall."
        }
        (Some(_), false) => {
            "Sides to a ring at the four upright seams, then the ring to the top, seam on corner. Left, right, front and back keep their arrows up."
        }
    };
    steps.push(step("Sew", format!("Seams {}. {how}", style.show(a.seam)), &[NEEDLE]));
    steps.push(step(
        "Pull on",
        format!(
            "Cover over the filled frame like a cap, seams straight on the edges, the allowance turned downwards. Staple under the frame: middle of each side first, then outwards, corners last. Staples {line}.{legs}"
        ),
        &[STAPLER],
    ));
    steps.push(trim(style, about));
    steps
}

pub fn skirt(job: &Job, about: &Piece, piece: &Developed, skirt: &Skirt) -> Vec<Step> {
    let style = &job.style;
    let a = &about.allowances;
    let mut steps = vec![cut_cloth(job, piece)];
    let hem = if skirt.lined {
        "Fold each along its length, right sides in, sew both ends shut, turn: the fold is the hem."
            .to_string()
    } else {
        format!("Turn up the hem, {}, and stitch it.", style.show(skirt.hem))
    };
    let join = match skirt.pleats {
        Pleating::Even { .. } => {
            "Join the widths to a ring, pattern running on; joins will lie inside pleats. "
        }
        Pleating::Corners { .. } => "Join lengths of one side only where the plan says so. ",
    };
    steps.push(step("Join and hem", format!("{join}{hem}"), &[NEEDLE]));
    let pleats = match skirt.pleats {
        Pleating::Even { spacing, depth } => format!(
            "Whole pleats on each side: {}. {} lies folded behind each face; for box pleats fold away from its middle, for inverted ones towards it. Joins go inside pleats. Pin, measure each side, press under a cloth, stitch along the top.",
            skirt
                .sides
                .iter()
                .zip(pleats_on(&skirt.sides, spacing))
                .map(|(side, n)| format!(
                    "{n} of {} on {}",
                    style.chalk(side.share(n)),
                    style.show(*side)
                ))
                .collect::<Vec<_>>()
                .join(", "),
            style.show(depth * 2)
        ),
        Pleating::Corners { fold } => format!(
            "Fold back {} at each end of every side; bring two ends together at each corner and lay an underlay behind them, its middle on the corner. Stitch along the top.",
            style.show(fold)
        ),
    };
    steps.push(step("Pleat", pleats, &[NEEDLE]));
    steps.push(step(
        "Hang",
        format!(
            "Chalk a level line all round, a finger's breadth and {} above the floor. Face down with a card strip along the line, middle of the front first, corners on corners; it then clears the floor by that finger. Seam allowance {}.",
            style.show(skirt.drop),
            style.show(a.seam)
        ),
        &[STAPLER],
    ));
    steps
}

/// What happens at the edges of each cut that are not plainly stapled.
fn edge_list(cuts: &[CutPiece]) -> String {
    let word = |edge: &CutEdge| match edge {
        CutEdge::Stapled => None,
        CutEdge::TackStrip => Some("over tack strip"),
        CutEdge::Seam => Some("sewn"),
        CutEdge::Pull => Some("pull sewn on"),
        CutEdge::Bare => Some("as cut"),
    };
    let each = cuts.iter().map(|cut| {
        let edges: Vec<String> = ["bottom", "right", "top", "left"]
            .iter()
            .zip(&cut.edges)
            .filter_map(|(side, edge)| Some(format!("{side} {}", word(edge)?)))
            .collect();
        let edges = if edges.is_empty() { "all stapled".into() } else { edges.join(", ") };
        format!("{}: {edges}", cut.name)
    });
    format!(
        "Seen from the face, edges not named are stapled. {}.",
        each.collect::<Vec<_>>().join("; ")
    )
}

pub fn cut_pieces(job: &Job, about: &Piece, piece: &Developed, cuts: &[CutPiece]) -> Vec<Step> {
    let style = &job.style;
    let a = &about.allowances;
    let (line, legs) = stapling(job, piece);
    vec![
        cut_cloth(job, piece),
        step("Edges", edge_list(cuts), &[]),
        step(
            "Sew",
            format!(
                "Seams {}. Pulls of cheaper cloth to the hidden edges first; then facings and borders to their neighbours, notches on notches, left and right laid out as mirror images before the first stitch.",
                style.show(a.seam)
            ),
            &[NEEDLE],
        ),
        step(
            "Cover",
            format!(
                "In this order: deck and front, seat, inside arms, inside back, wings; then outside arms, outside back; last what hides the edges. Each piece: middle on middle, temporary staples in the middle of opposite sides, pull the pulls through, look from where it will be seen, then outwards. Cut towards a post or rail stopping a finger short, then a Y; never to it in one go. Staples {line}.{legs}"
            ),
            &[STAPLER, BLADE],
        ),
        step(
            "Close",
            format!(
                "Outside arms and back: top edge over a card strip, front edges over tack strip ({} is allowed), bottom under the rail.",
                style.show(a.tack_strip)
            ),
            &[STAPLER],
        ),
        trim(style, about),
    ]
}

pub fn welt(job: &Job, about: &Piece, piece: &Developed, runs: &WeltRuns) -> Vec<Step> {
    let style = &job.style;
    let a = &about.allowances;
    let make = if runs.double {
        format!(
            "Join the strips on the slant. Wrap the first cord, stitch close; lay the second beside it, roll the strip over it and stitch between the two through all layers; trim the tail behind. {} of cord in all. Glue it over staples and raw edges, joins where they are least seen.",
            style.chalk(piece.quantities.welt)
        )
    } else {
        format!(
            "Join the strips on the slant, seams opened. Wrap the cord {} thick and stitch close; {} in all.",
            style.show(a.cord),
            style.chalk(piece.quantities.welt)
        )
    };
    vec![cut_cloth(job, piece), step("Welt", make, &[NEEDLE])]
}

fn welt_step(style: &Style, piece: &Developed, how: &str) -> Step {
    let text = format!(
        "Join the strips on the slant; {} of covered cord. {how}, start away from the front, clip at corners.",
        style.chalk(piece.quantities.welt)
    );
    step("Welt", text, &[NEEDLE])
}

pub fn plain_buttons(style: &Style, buttons: Buttons) -> Step {
    let across = Length::from_mm(f64::from(buttons.ligne) * 0.635);
    step(
        "Cover buttons",
        format!(
            "{} of {} lignes ({} across): cut each disc twice as wide, press, and tie them through with button cord; through a cushion each needs a plain one on the other side.",
            buttons.count,
            buttons.ligne,
            style.chalk(across)
        ),
        &[CORD],
    )
}
