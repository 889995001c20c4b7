//! How a piece is made at the bench: numbered steps with this piece's own numbers, and the cautions
//! that belong to each.
//!
//! Source: working order of covered panels and cushions as upholstery texts and working upholsterers
//! describe it; common practice where no other source stands at the number itself.

use crate::job::Job;
use crate::part::{CornerHow, Developed, Part, Stuff};
use crate::piece::{Condition, Fixing, Kind, Piece, Welt, ZipSide};
use crate::take_off::{longest_safe_screw, staple_leg};
use crate::working::Style;
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

const EYES: &str = "Wear eye protection: staples and tacks fly.";
const HANDS: &str = "Keep the free hand behind the blade or lifter; collect staples in a tin.";
const DUST: &str = "Wear a dust mask for old filling. Bag mouldy or vermin-ridden filling and bin it; never reuse it.";
const PAINT: &str = "Old paint may hold lead: do not sand it dry.";
const SAW: &str = "Guard on, eyes, ears and dust mask; clamp the board.";
const BLADE: &str = "Cut away from the body; put the knife down closed.";
const GLUE: &str =
    "Ventilate, no flame or spark in the room, follow the adhesive's data sheet and its open time.";
const STAPLER: &str = "Air off before clearing or loading; try the pressure on scrap; keep the other hand clear of the nose.";
const NEEDLE: &str = "Fingers clear of the needle; power off to thread.";
const OVERHEAD: &str =
    "Overhead and wall panels: two people, and a fixing that carries the weight.";
const POWER: &str =
    "Sockets and switches: power off, and a licensed electrician where the law asks for one.";
const LIFT: &str = "Long pieces: two people.";

/// The steps of a developed piece.
pub fn steps(job: &Job, piece: &Developed) -> Vec<Step> {
    let about = &job.pieces[piece.piece];
    let mut steps = Vec::new();
    if about.strip {
        steps.push(strip(about));
    }
    match about.kind {
        Kind::BoxedCushion { .. } | Kind::KnifeEdge { .. } | Kind::Bolster { .. } => {
            steps.extend(sewn(job, about, piece));
        }
        Kind::Measured { .. } => steps.push(cut_cloth(job, piece)),
        _ => steps.extend(covered(job, about, piece)),
    }
    steps.extend(fix(job, about, piece));
    steps
}

fn step(title: &'static str, text: String, cautions: &[&'static str]) -> Step {
    Step { title, text, cautions: cautions.to_vec() }
}

fn strip(about: &Piece) -> Step {
    let mut text = String::from(if is_sewn(&about.kind) {
        "Photograph the piece. Unpick the old cover at its seams, mark each part with name, up arrow and notches, and keep it for the shape. Look the filling over."
    } else {
        "Photograph the piece and every layer as it comes off. Mark the old cover with name, up arrow and fold lines and keep it. Draw every staple; board that holds them with grip is sound."
    });
    if !about.found.is_empty() {
        text.push_str(&format!(" Found at the survey: {}.", about.found));
    }
    text.push_str(" If more is wrong than the quote says: stop, photograph, ask.");
    step("Strip and inspect", text, &[EYES, HANDS, DUST, PAINT])
}

const fn is_sewn(kind: &Kind) -> bool {
    matches!(kind, Kind::BoxedCushion { .. } | Kind::KnifeEdge { .. } | Kind::Bolster { .. })
}

fn named(piece: &Developed, stuff: Stuff) -> Option<&Part> {
    piece.parts.iter().find(|p| p.stuff == stuff)
}

fn size(style: &Style, part: &Part) -> String {
    let (w, h) = part.size();
    format!("{} × {}", style.cut_number(w), style.cut(h))
}

fn covered(job: &Job, about: &Piece, piece: &Developed) -> Vec<Step> {
    let style = &job.style;
    let a = &about.allowances;
    let mut steps = vec![board(job, about, piece)];
    if let Some(foam) = job.foam_of(about) {
        steps.push(padding(job, about, piece, &foam.name));
    }
    steps.push(cut_cloth(job, piece));
    let legs = job.board_of(about).map(|b| {
        let cloth = about.cloth.as_deref().and_then(|n| job.cloth(n));
        let (least, most) = staple_leg(cloth.map_or(Length::ZERO, |c| c.thickness), b.thickness);
        let (least, most) = (least.round_up(style.mark), most.round_down(style.mark));
        if least < most {
            format!(
                " Leg from {} to {}, or it shows or does not hold.",
                style.number(least),
                style.show(most)
            )
        } else {
            format!(" Leg of {}, or it shows or does not hold.", style.show(most))
        }
    });
    let legs = legs.unwrap_or_default();
    let line = format!(
        "{} in from the edge, at most {} apart, {} at corners",
        style.show(a.staple_inset),
        style.show(a.staple_spacing),
        style.show(a.corner_spacing)
    );
    match about.kind {
        Kind::Pad { .. } => {
            steps.push(step(
                "Long edges first",
                format!("Face down, cloth centred on the block by its marks. Middle of one long edge, then the other, outwards in turns to {} short of the ends. Staples {line}.{legs} Turn it over and look before going on.", style.show(a.fold_relief * 2)),
                &[STAPLER],
            ));
            steps.push(step(
                "Fold the ends",
                format!("Cut the relief squares: {} out from the board and stopping {} short of the block's top. Fold each end like a parcel, the fold away from where it is looked at, pull square, staple.", style.show(a.fold_relief), style.show(a.fold_relief)),
                &[BLADE, STAPLER],
            ));
        }
        Kind::ChannelledBack { channels, .. } => {
            let pitch = piece.parts.first().map_or(String::new(), |_| {
                let (w, _) = piece.finished;
                style.chalk(w.share(channels.max(1) as i64))
            });
            steps.push(step(
                "Channels",
                format!("Mark the middle, then {channels} channels from the middle outwards, {pitch} each on the board; both end channels alike. Fix each valley from the middle outwards, filling the channels as you go."),
                &[STAPLER],
            ));
            steps.push(edges(&line, &legs));
        }
        _ => steps.push(edges(&line, &legs)),
    }
    if let Some(text) = corners(style, piece) {
        steps.push(step("Corners", text, &[BLADE]));
    }
    for cut in &piece.cut_outs {
        let opening = format!("{} × {}", style.chalk_number(cut.size.0), style.chalk(cut.size.1));
        let how = match cut.nicks {
            None => format!(
                "cut an X from the middle, stopping {} short of each corner; flaps are {} long",
                style.show(a.cut_out_stop),
                style.chalk(cut.flap)
            ),
            Some(count) => format!(
                "cut {count} nicks all round, stopping {} short of the edge",
                style.show(a.cut_out_stop)
            ),
        };
        steps.push(step(
            "Cut-out",
            format!("For {}: opening {opening}, middle {} from the left and {} from the bottom of the board, seen from the face (mirrored when it lies face down). With the cover tight, {how}; turn in and staple or glue behind.", cut.what, style.chalk_number(Length::from_mm(cut.centre.x)), style.chalk(Length::from_mm(cut.centre.y))),
            &[BLADE],
        ));
    }
    let dust = if about.dust_cover {
        " Dust cover on, turned in, over the raw edges; open the screw holes through it."
    } else {
        ""
    };
    steps.push(step(
        "Trim",
        format!(
            "Drive proud staples home. Trim the cloth beyond the staples to about {}.{dust}",
            style.show(a.pleat)
        ),
        &[BLADE],
    ));
    steps
}

fn edges(line: &str, legs: &str) -> Step {
    step(
        "Centre and edges",
        format!(
            "Face down, marks on marks. One staple in the middle of each of two opposite sides, then of the other two; look at the face. Then outwards from the middles in turns towards the corners, corners last. Staples {line}.{legs}"
        ),
        &[STAPLER],
    )
}

fn board(job: &Job, about: &Piece, piece: &Developed) -> Step {
    let style = &job.style;
    let thickness = job
        .board_of(about)
        .map_or(String::new(), |b| format!("{} {}", b.name, style.show(b.thickness)));
    let text = match (about.board_condition, named(piece, Stuff::Board)) {
        (Condition::Renew, Some(part)) => {
            let shape = if piece.outline.is_empty() {
                format!("Cut {} from {thickness}; check the diagonals.", size(style, part))
            } else {
                format!(
                    "Cut from {thickness} to its outline: {}; {} over all.",
                    piece.outline,
                    size(style, part)
                )
            };
            let cloth = about.cloth.as_deref().and_then(|n| job.cloth(n));
            let twice = cloth.map_or(Length::ZERO, |c| c.thickness * 4);
            let holes: Vec<String> = piece
                .cut_outs
                .iter()
                .map(|c| {
                    format!(
                        "{} {} × {}",
                        c.what,
                        style.cut_number(c.size.0 + twice),
                        style.cut(c.size.1 + twice)
                    )
                })
                .collect();
            let holes = if holes.is_empty() {
                String::new()
            } else {
                format!(" Openings in the board, larger by two thicknesses of cloth all round: {}.", holes.join(", "))
            };
            format!("{shape} Ease the edges so that they do not cut the cloth.{holes} Mark the middle of every side on face and back.")
        }
        (Condition::Repair, _) => "Mend the board: glue and clamp, fill old holes where staples must hold. Mark the middle of every side.".into(),
        _ => "Keep the board: pull what is left of old staples, ease the edges, mark the middle of every side on face and back.".into(),
    };
    step("Board", text, &[SAW])
}

fn padding(job: &Job, about: &Piece, piece: &Developed, name: &str) -> Step {
    let style = &job.style;
    let wrap = if about.wrap { " Wrap it in polyester, no glue on the face." } else { "" };
    let text = match (about.foam_condition, named(piece, Stuff::Foam)) {
        (Condition::Renew, Some(part)) => format!(
            "Cut foam {name}, {}{}. Write on its back edge only. Spread glue on both surfaces, foam and board, wait until dry to the touch, set it down square: there is no second try.{wrap}",
            size(style, part),
            if piece.cut_outs.is_empty() { "" } else { ", with the same openings as the board" }
        ),
        (Condition::Repair, _) => {
            format!("Patch the foam {name} with the same grade, level.{wrap}")
        }
        _ => format!("Keep the foam if it springs back and does not crumble.{wrap}"),
    };
    step("Foam", text, &[BLADE, GLUE])
}

fn cut_cloth(job: &Job, piece: &Developed) -> Step {
    let style = &job.style;
    let list: Vec<String> = piece
        .parts
        .iter()
        .filter(|p| p.stuff == Stuff::Cloth)
        .map(|p| format!("{} × {} {} ({})", p.count, p.id, p.name, size(style, p)))
        .collect();
    step(
        "Cloth",
        format!(
            "From the cutting plan: {}. Check arrow and face before the first cut; mark name and up arrow on the back.",
            list.join("; ")
        ),
        &[BLADE],
    )
}

fn corners(style: &Style, piece: &Developed) -> Option<String> {
    let mut square = 0;
    let mut inside = 0;
    let mut rounded: Vec<(Length, Length, i64, usize)> = Vec::new();
    for corner in &piece.corners {
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
        text.push(format!("{square} square: cut both slits in line with the board's edges, stopping short of the corner as drawn; fold one side flat, lay the other over it in a line at the corner, staple."));
    }
    for (radius, excess, pleats, count) in rounded {
        text.push(format!(
            "{count} rounded, radius {}: {} to lose in {pleats} even pleats, fanned from the middle of the corner outwards; cut away the bulk as drawn.",
            style.chalk(radius),
            style.chalk(excess)
        ));
    }
    if inside > 0 {
        text.push(format!("{inside} inside: glue the facing in first, one slit towards the corner, never to it in one go, turn both sides in."));
    }
    (!text.is_empty()).then(|| text.join(" "))
}

fn sewn(job: &Job, about: &Piece, piece: &Developed) -> Vec<Step> {
    let style = &job.style;
    let a = &about.allowances;
    let q = &piece.quantities;
    let mut steps = vec![cut_cloth(job, piece)];
    let (welt, zip_side) = match about.kind {
        Kind::BoxedCushion { welt, zip, .. } => (welt, Some(zip)),
        Kind::KnifeEdge { welt, .. } | Kind::Bolster { welt, .. } => (welt, None),
        _ => (Welt::None, None),
    };
    if welt != Welt::None {
        steps.push(step(
            "Welt",
            format!(
                "Join the strips on the slant; {} of covered cord for each piece, in {} run{}. Sew it to the face along the stitch line, start away from the front, {}.",
                style.chalk(q.welt),
                q.welt_runs,
                if q.welt_runs == 1 { "" } else { "s" },
                if matches!(about.kind, Kind::Bolster { .. }) { "clip its allowance all round" } else { "clip at corners" }
            ),
            &[NEEDLE],
        ));
    }
    if let Some(zip) = q.zip {
        let halves = if zip_side.is_some_and(|z| z != ZipSide::None) {
            "Turn each half of the zip strip under, sew the halves to"
        } else {
            "Leave the opening, sew in"
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
        "Join the boxing's two sides to its front; the joins lie at the front corners. ".to_string()
    } else if lengths > 1 {
        format!(
            "Join the boxing's {lengths} lengths; set the middle of one on the middle of the front, so that the joins fall at the sides or back, never in front. "
        )
    } else {
        String::new()
    };
    let body = match about.kind {
        Kind::BoxedCushion { .. } => format!(
            "Seams {}. {joins}Boxing to the top panel from the middle of the front outwards, notches at every corner; lap its ends over the zip strip. Then the bottom panel, the zip open, corner notches straight above each other or it twists.",
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
        Some(part) => format!("Cut foam {}, {}. ", part.material, size(style, part)),
        None if about.foam.is_some() => "Foam is kept. ".into(),
        None => String::new(),
    };
    let wrap = if about.wrap { "Wrap in polyester. " } else { "" };
    let foam = match about.kind {
        Kind::Bolster { length, diameter, .. } if about.foam.is_none() => format!(
            "Filling: a roll {} across and {} long, not in the shopping list. ",
            style.show(diameter),
            style.show(length)
        ),
        _ => foam,
    };
    steps.push(step("Fill and close", format!("{foam}{wrap}Fold it in, work it into the corners, close, and look at it from where it will be seen."), &[BLADE]));
    steps
}

fn fix(job: &Job, about: &Piece, piece: &Developed) -> Option<Step> {
    let style = &job.style;
    if matches!(about.kind, Kind::SlipSeat { .. }) && about.fixing.is_none() {
        let text = "Drop it into its rails: it must go in by hand and sit level, with room for the cloth all round.";
        return Some(step("Fit", text.into(), &[]));
    }
    let on_wall = matches!(about.kind, Kind::WallGrid(_))
        || matches!(
            about.fixing,
            Some(Fixing::Clips(_) | Fixing::Cleat | Fixing::Screws { through_face: true, .. })
        );
    let text = match about.fixing.as_ref()? {
        Fixing::Screws { count, gauge, length, through_face, into } => {
            let board = job.board_of(about).map_or(Length::ZERO, |b| b.thickness);
            let way =
                if *through_face { "through the face, each with a cap" } else { "from behind" };
            let most = longest_safe_screw(board + *into).round_down(style.mark);
            if *length > most {
                format!(
                    "{count} screws No. {gauge} {way}. NOT the {} ones of the job: they come through. At most {}.",
                    style.show(*length),
                    style.show(most)
                )
            } else {
                format!(
                    "{count} screws No. {gauge} × {} {way}. Try one against the stack first: over {} it comes through.",
                    style.show(*length),
                    style.show(most)
                )
            }
        }
        Fixing::Clips(count) => format!("{count} clips; push home with the flat of both hands."),
        Fixing::Cleat => {
            "Hang it on its cleat; see that it sits home along the whole length.".into()
        }
        Fixing::Loose => return None,
    };
    let mut step = step("Fix", format!("{} — {text}", piece.label), &[]);
    if on_wall {
        step.cautions.push(OVERHEAD);
    }
    if !piece.cut_outs.is_empty() {
        step.cautions.push(POWER);
    }
    if piece.finished.0 > Length::from_mm(1500.0) {
        step.cautions.push(LIFT);
    }
    Some(step)
}
