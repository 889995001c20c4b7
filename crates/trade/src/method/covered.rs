//! Boards with foam and cloth stapled on the back: panels, pads, seats, channelled backs, wall panels.

use super::{BLADE, GLUE, NEEDLE, SAW, STAPLER, Step, cut_cloth, named, size, step};
use crate::job::Job;
use crate::kind::Kind;
use crate::part::{CornerHow, Developed, Stuff};
use crate::piece::{Condition, Fixing, Piece};
use crate::rates::Allowances;
use crate::take_off::legs;
use crate::working::Style;
use geometry::Length;

pub fn steps(job: &Job, about: &Piece, piece: &Developed) -> Vec<Step> {
    let style = &job.style;
    let a = &about.allowances;
    let mut steps = vec![board(job, about, piece)];
    if let Some(foam) = job.foam_of(about) {
        steps.push(padding(job, about, piece, &foam.name));
    }
    steps.push(cut_cloth(job, piece));
    let (line, legs) = stapling(job, piece);
    match about.kind {
        Kind::Pad { .. } => {
            steps.push(step(
                "Long edges first",
                format!("Face down, cloth centred on the block by its marks. Middle of one long edge, then the other, outwards in turns to {} short of the ends. Staples {line}.{legs} Turn it over and look before going on.", style.show(a.fold_relief * 2)),
                &[STAPLER],
            ));
            steps.push(step(
                "Fold the ends",
                format!("Cut the relief squares as drawn: {} out from the board and stopping {} short of the block's top. Fold each end like a parcel, the fold away from where it is looked at, pull square, staple.", style.show(a.fold_relief), style.show(a.fold_relief)),
                &[BLADE, STAPLER],
            ));
        }
        Kind::ChannelledBack { channels, level, strips, loft, .. } => {
            let divided = if level { piece.finished.1 } else { piece.finished.0 };
            let pitch = style.chalk(divided.share(channels.max(1) as i64));
            let centre = if channels % 2 == 1 {
                "a channel stands on the middle"
            } else {
                "a valley stands on the middle"
            };
            let way = if level { " level" } else { "" };
            let foam = job.foam_of(about).map_or(Length::ZERO, |f| f.thickness);
            let slit = if foam == Length::ZERO {
                String::new()
            } else if loft < foam {
                format!(
                    "Slit the foam along each valley {} deep, no deeper: the cloth is cut for that. ",
                    style.show(loft)
                )
            } else {
                "Slit the foam along each valley down to the board. ".to_string()
            };
            let hold = if loft < foam {
                "glue its edges together round the tuck, or stitch it through to the backing"
            } else {
                "staple it to the board through a strip of card"
            };
            let fill = if loft > foam {
                format!(
                    "; fill each channel with wadding, {} deep over the foam, before the next is closed",
                    style.show(loft - foam)
                )
            } else {
                String::new()
            };
            let make = if strips {
                format!(
                    "{slit}Sew the strips together, the end channels outermost; lay each seam into its valley from the middle outwards and {hold}{fill}."
                )
            } else {
                format!(
                    "{slit}Mark the same valleys on the back of the cloth at their wider spacing, as drawn, from its middle outwards; where the cover is joined, the joins are valleys. Push the cloth's mark into each valley from the middle outwards and {hold}{fill}."
                )
            };
            steps.push(step(
                "Channels",
                format!("Mark the middle of the board, then {channels}{way} channels from the middle outwards, {pitch} each on the board; {centre}, both end channels alike. {make}"),
                &[STAPLER, NEEDLE],
            ));
            steps.push(edges(&line, &legs));
        }
        _ => steps.push(edges(&line, &legs)),
    }
    if let Some(text) = corners(style, a, piece) {
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
        let short = cut.nicks.is_none()
            && cut.flap
                < a.cut_out_turn
                    + job.foam_of(about).map_or(Length::ZERO, |f| f.thickness)
                    + job.board_of(about).map_or(Length::ZERO, |b| b.thickness);
        let behind = if short {
            "the flaps are too short to be stapled behind: glue them to the inside of the hole"
        } else {
            "turn in and staple or glue behind"
        };
        let cautions: &[&'static str] =
            if matches!(about.kind, Kind::WallGrid(_)) { &[BLADE, super::POWER] } else { &[BLADE] };
        steps.push(step(
            "Cut-out",
            format!("For {}: opening {opening}, middle {} from the left and {} from the bottom of the board, seen from the face (mirrored when it lies face down). With the cover tight, {how}; {behind}.", cut.what, style.chalk_number(Length::from_mm(cut.centre.x)), style.chalk(Length::from_mm(cut.centre.y))),
            cautions,
        ));
    }
    steps.push(trim(style, about));
    steps
}

/// Proud staples home, surplus off, back closed.
pub fn trim(style: &Style, about: &Piece) -> Step {
    let dust = if about.dust_cover || about.dust_cloth.is_some() {
        " Dust cover on, turned in, over the raw edges; open the screw holes through it."
    } else {
        ""
    };
    step(
        "Trim",
        format!(
            "Drive proud staples home. Trim the cloth beyond the staples to about {}.{dust}",
            style.show(about.allowances.pleat)
        ),
        &[BLADE],
    )
}

/// How staples are set, and which leg holds without coming through.
pub fn stapling(job: &Job, piece: &Developed) -> (String, String) {
    let style = &job.style;
    let a = &job.pieces[piece.piece].allowances;
    let legs =
        legs(job, piece).map_or(String::new(), |legs| format!(" Staples: {}.", legs.named(style)));
    let line = format!(
        "{} from the edge, at most {} apart, {} at corners",
        style.show(a.staple_inset),
        style.show(a.staple_spacing),
        style.show(a.corner_spacing)
    );
    (line, legs)
}

pub fn edges(line: &str, legs: &str) -> Step {
    step(
        "Centre and edges",
        format!(
            "Face down, marks on marks. One staple in the middle of each of two opposite sides, then of the other two; look at the face. Then outwards from the middles in turns towards the corners, corners last. Staples {line}.{legs}"
        ),
        &[STAPLER],
    )
}

pub fn board(job: &Job, about: &Piece, piece: &Developed) -> Step {
    let style = &job.style;
    let thickness = job
        .board_of(about)
        .map_or(String::new(), |b| format!("{} ({} thick)", b.name, style.show(b.thickness)));
    let text = match (about.board_condition, named(piece, Stuff::Board)) {
        (Condition::Renew, Some(part)) => {
            let plain = part.outline.outer.flatten().is_upright_rectangle();
            let shape = if let Some(list) = super::several(style, piece, Stuff::Board) {
                format!("Cut from {thickness}: {list}. Check the diagonals.")
            } else if piece.outline.is_empty() && plain {
                format!("Cut {} from {thickness}; check the diagonals.", size(style, part))
            } else if piece.outline.is_empty() {
                format!("Cut {} from {thickness}.", size(style, part))
            } else {
                format!(
                    "Cut from {thickness} to its outline: {}; {} {} over all (full-size template {}).",
                    piece.outline,
                    part.printed(style),
                    style.unit.sign(),
                    part.id
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
            let drill = match &about.fixing {
                Some(Fixing::Screws { holes, .. }) if !holes.is_empty() => {
                    let each: Vec<String> = holes
                        .iter()
                        .map(|(x, y)| format!("{}, {}", style.chalk_number(*x), style.chalk_number(*y)))
                        .collect();
                    format!(" Drill for the screws, from the left and bottom edges in the face view: {}.", each.join("; "))
                }
                _ => String::new(),
            };
            format!("{shape} Ease the edges so that they do not cut the cloth.{holes}{drill} Mark the middle of every side on face and back.")
        }
        (Condition::Repair, _) => "Mend the board: glue and clamp, fill old holes where staples must hold. Mark the middle of every side.".into(),
        _ => "Keep the board: pull what is left of old staples, ease the edges, mark the middle of every side on face and back.".into(),
    };
    step("Board", text, &[SAW])
}

pub fn padding(job: &Job, about: &Piece, piece: &Developed, name: &str) -> Step {
    let style = &job.style;
    let wrap = if about.wrap { " Wrap it in polyester, no glue on the face." } else { "" };
    let text = match (about.foam_condition, named(piece, Stuff::Foam)) {
        (Condition::Renew, Some(part)) => format!(
            "Cut the foam ({name}): {}{}. Write on its back edge only. Spread glue on both surfaces, foam and board, wait until dry to the touch, set it down square: there is no second try.{wrap}",
            super::several(style, piece, Stuff::Foam).unwrap_or_else(|| size(style, part)),
            if piece.cut_outs.is_empty() { "" } else { ", with the same openings as the board" }
        ),
        (Condition::Repair, _) => {
            format!("Patch the foam {name} with the same grade, level.{wrap}")
        }
        _ => format!("Keep the foam if it springs back and does not crumble.{wrap}"),
    };
    let crown = match about.kind {
        Kind::Pad { crown, .. } | Kind::SlipSeat { crown, .. } if crown > Length::ZERO => format!(
            " Build the middle up by {} with smaller pieces of foam or wadding under the top, feathered out to the edges.",
            style.show(crown)
        ),
        _ => String::new(),
    };
    step("Foam", text + &crown, &[BLADE, GLUE])
}

pub fn corners(style: &Style, a: &Allowances, piece: &Developed) -> Option<String> {
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
        text.push(format!("{square} square: pull the corner's point over and staple it; cut both slits in line with the board's edges, stopping short of the corner as drawn, where board and foam are thick behind the back edge, so that none shows down the side; fold one side flat, lay the other over it in a line at the corner, staple."));
    }
    for (radius, excess, pleats, count) in rounded {
        if radius == Length::ZERO {
            text.push(format!(
                "{count} wide-angled: no slit; {} to lose in {pleats} pleat{} at the corner.",
                style.chalk(excess),
                if pleats == 1 { "" } else { "s" }
            ));
            continue;
        }
        text.push(format!(
            "{count} rounded, radius {}: {} to lose in {pleats} even pleats, fanned from the middle of the corner outwards; cut away the bulk as drawn.{}",
            style.chalk(radius),
            style.chalk(excess),
            if (radius - a.staple_inset).mm() * std::f64::consts::FRAC_PI_2 < a.pleat.mm() * pleats as f64 / 2.0 {
                " On the back they crowd to a point: lay them over one another towards the middle, two deep ones do as well."
            } else {
                ""
            }
        ));
    }
    if inside > 0 {
        text.push(format!("{inside} inside: glue the facing in first, one slit towards the corner, never to it in one go, turn both sides in."));
    }
    (!text.is_empty()).then(|| text.join(" "))
}
