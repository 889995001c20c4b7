//! How a piece is made, from the old cover to its place: what comes before and after the steps of its kind.

use crate::bench::cautions::{
    CORD, DUST, EYES, HANDS, LIFT, OVERHEAD, PAINT, POWER, SEAM_RIPPER, TENSION,
};
use crate::bench::{Bench, Goods, Step};
use crate::build::buttons;
use crate::job::Job;
use crate::kinds::Kind;
use crate::material::SheetGoods;
use crate::message::{Message, message};
use crate::part::Developed;
use crate::piece::{Buttons, Fixing, Piece};
use crate::places::Place;
use crate::take_off::{legs, screw_advice, screw_range, weight};
use geometry::Length;

/// The steps of a developed piece.
pub fn steps(job: &Job, piece: &Developed) -> Vec<Step> {
    let about = &job.pieces[piece.piece];
    let mut steps = Vec::new();
    if about.strip && job.place.is_some_and(Place::has_air_bags) {
        steps.push(Step::new(message("step-air-bags"), &[]));
    }
    if about.strip {
        steps.push(strip(about));
    }
    let (over, under): (Vec<_>, Vec<_>) = about.layers.iter().partition(|l| l.is_over_cover());
    steps.extend(under.into_iter().map(|layered| layered.step()));
    let legs = legs(job, piece).map(|legs| legs.named(&job.style));
    let mut own = about.kind.of().steps(&bench(job, about, piece, legs.as_ref()));
    // What is put on over the cover comes before the back is closed.
    let last = own.pop_if(|step| step.text.is("step-trim") && !over.is_empty());
    steps.extend(own);
    steps.extend(over.into_iter().map(|layered| layered.step()));
    steps.extend(last);
    if let Some(buttons) = about.buttons {
        steps.push(plain_buttons(buttons));
    }
    steps.extend(fix(job, about, piece));
    steps
}

fn bench<'a>(
    job: &'a Job,
    about: &'a Piece,
    made: &'a Developed,
    legs: Option<&'a Message>,
) -> Bench<'a> {
    let goods = |goods: &'a SheetGoods| Goods { name: &goods.name, thickness: goods.thickness };
    let cloth = about.cloth.as_deref().and_then(|name| job.cloth(name));
    Bench {
        style: job.style,
        made,
        allowances: &about.allowances,
        cloth: cloth.map(|cloth| Goods { name: &cloth.name, thickness: cloth.thickness }),
        sort: cloth.and_then(|cloth| cloth.sort),
        foam: job.foam_of(about).map(goods),
        board: job.board_of(about).map(goods),
        foam_condition: about.foam_condition,
        board_condition: about.board_condition,
        is_wrapped: about.wrap,
        has_dust_cover: about.dust_cover || about.dust_cloth.is_some(),
        pattern: &about.pattern,
        holes: match &about.fixing {
            Some(Fixing::Screws { holes, .. }) => holes,
            _ => &[],
        },
        legs,
    }
}

fn strip(about: &Piece) -> Step {
    let id = if about.kind.is_sewn() { "step-strip-sewn" } else { "step-strip-stapled" };
    let takes_board = about.kind.nature().takes_board;
    let text = message(id).flag("is-found", !about.found.is_empty()).text("found", &about.found);
    match about.kind.is_sewn() {
        true => Step::new(text, &[SEAM_RIPPER, DUST]),
        false => Step::new(text.flag("board", takes_board), &[EYES, HANDS, TENSION, DUST, PAINT]),
    }
}

fn plain_buttons(wanted: Buttons) -> Step {
    let text = message("step-plain-buttons")
        .count("count", wanted.count)
        .count("ligne", wanted.ligne)
        .chalk("across", buttons::across(wanted.ligne));
    Step::new(text, &[CORD])
}

/// More than this one person does not lift alone, kilograms: the lower figure of a health and safety
/// authority's guide for lifting close to the body (HSE INDG143, from memory).
const HEAVY: f64 = 16.0;

fn fix(job: &Job, about: &Piece, piece: &Developed) -> Option<Step> {
    if matches!(about.kind, Kind::SlipSeat(_)) && about.fixing.is_none() {
        return Some(Step::new(message("step-drop-in"), &[]));
    }
    let on_wall = matches!(about.kind, Kind::WallGrid(_))
        || matches!(
            about.fixing,
            Some(Fixing::Clips(_) | Fixing::Cleat | Fixing::Screws { through_face: true, .. })
        );
    let text = match about.fixing.as_ref()? {
        Fixing::Screws { count, gauge, length, through_face, .. } => {
            let (least, most) = screw_range(job, piece)?;
            let id = if *length > most {
                "step-fix-screws-long"
            } else if *length < least {
                "step-fix-screws-short"
            } else {
                "step-fix-screws"
            };
            let way = if *through_face { "screws-through-face" } else { "screws-from-behind" };
            let pierce = if *through_face { message("screws-pierce") } else { Message::nothing() };
            message(id)
                .count("count", *count)
                .count("gauge", *gauge)
                .length("length", *length)
                .said("way", message(way))
                .said("advice", screw_advice(job, piece))
                .said("pierce", pierce)
                .length("most", job.style.fine(most))
        }
        Fixing::Clips(count) => message("step-fix-clips").count("count", *count),
        Fixing::Cleat => message("step-fix-cleat"),
        Fixing::Loose => return None,
    };
    let mut step = Step::new(text, &[]);
    if on_wall {
        step.cautions.push(message(OVERHEAD));
    }
    if !piece.cut_outs.is_empty() {
        step.cautions.push(message(POWER));
    }
    let kilograms = weight(job, piece).piece.unwrap_or(0.0);
    if piece.finished.0 > Length::from_mm(1500.0) || kilograms > HEAVY {
        step.cautions.push(message(LIFT));
    }
    Some(step)
}
