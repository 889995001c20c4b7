//! How a piece is made, from the old cover to its place: what comes before and after the steps of its kind.

use crate::bench::cautions::{CORD, DUST, EYES, HANDS, LIFT, OVERHEAD, PAINT, POWER};
use crate::bench::{Bench, Goods, Step};
use crate::build::buttons;
use crate::job::Job;
use crate::kinds::Kind;
use crate::material::SheetGoods;
use crate::part::Developed;
use crate::piece::{Buttons, Fixing, Piece};
use crate::take_off::{legs, screw_advice, screw_range};
use crate::working::Style;
use geometry::Length;

/// The steps of a developed piece.
pub fn steps(job: &Job, piece: &Developed) -> Vec<Step> {
    let about = &job.pieces[piece.piece];
    let mut steps = Vec::new();
    if about.strip {
        steps.push(strip(about));
    }
    let legs = legs(job, piece)
        .map_or(String::new(), |legs| format!(" Staples: {}.", legs.named(&job.style)));
    steps.extend(about.kind.of().steps(&bench(job, about, piece, &legs)));
    if let Some(buttons) = about.buttons {
        steps.push(plain_buttons(&job.style, buttons));
    }
    steps.extend(fix(job, about, piece));
    steps
}

fn bench<'a>(job: &'a Job, about: &'a Piece, made: &'a Developed, legs: &'a str) -> Bench<'a> {
    let goods = |goods: &'a SheetGoods| Goods { name: &goods.name, thickness: goods.thickness };
    let cloth = about.cloth.as_deref().and_then(|name| job.cloth(name));
    Bench {
        style: job.style,
        made,
        allowances: &about.allowances,
        cloth: cloth.map(|cloth| Goods { name: &cloth.name, thickness: cloth.thickness }),
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
    let mut text = String::from(if about.kind.is_sewn() {
        "Photograph the piece. Unpick the old cover at its seams, mark each part with name, up arrow and notches, and keep it for the shape. Look the filling over."
    } else {
        "Photograph the piece and every layer as it comes off. Mark the old cover with name, up arrow and fold lines and keep it. Draw every staple; board that holds them with grip is sound."
    });
    if !about.found.is_empty() {
        text.push_str(&format!(" Found at the survey: {}.", about.found));
    }
    text.push_str(" If more is wrong than the quote says: stop, photograph, ask.");
    Step::new("Strip and inspect", text, &[EYES, HANDS, DUST, PAINT])
}

fn plain_buttons(style: &Style, wanted: Buttons) -> Step {
    Step::new(
        "Cover buttons",
        format!(
            "{} of {} lignes ({} across): cut each disc twice as wide, press, and tie them through with button cord; through a cushion each needs a plain one on the other side.",
            wanted.count,
            wanted.ligne,
            style.chalk(buttons::across(wanted.ligne))
        ),
        &[CORD],
    )
}

fn fix(job: &Job, about: &Piece, piece: &Developed) -> Option<Step> {
    let style = &job.style;
    if matches!(about.kind, Kind::SlipSeat(_)) && about.fixing.is_none() {
        let text = "Drop it into its rails: it must go in by hand and sit level, with room for the cloth all round.";
        return Some(Step::new("Fit", text, &[]));
    }
    let on_wall = matches!(about.kind, Kind::WallGrid(_))
        || matches!(
            about.fixing,
            Some(Fixing::Clips(_) | Fixing::Cleat | Fixing::Screws { through_face: true, .. })
        );
    let text = match about.fixing.as_ref()? {
        Fixing::Screws { count, gauge, length, through_face, .. } => {
            let way =
                if *through_face { "through the face, each with a cap" } else { "from behind" };
            let (least, most) = screw_range(job, piece)?;
            let pierce = if *through_face {
                " Pierce the cloth with an awl at each hole first, or the screw winds it up."
            } else {
                ""
            };
            let advice = screw_advice(job, piece);
            let own = style.show(*length);
            if *length > most {
                format!(
                    "{count} screws No. {gauge} {way}. NOT the {own} ones of the job: they come through, or all but. Use {advice}.{pierce}"
                )
            } else if *length < least {
                format!(
                    "{count} screws No. {gauge} {way}. The {own} ones of the job hardly bite. Use {advice}.{pierce}"
                )
            } else {
                format!(
                    "{count} screws No. {gauge} × {own} {way}.{pierce} Try one against the stack first: over {} it comes through.",
                    style.show(style.fine(most))
                )
            }
        }
        Fixing::Clips(count) => format!("{count} clips; push home with the flat of both hands."),
        Fixing::Cleat => {
            "Hang it on its cleat; see that it sits home along the whole length.".into()
        }
        Fixing::Loose => return None,
    };
    let mut step = Step::new("Fix", format!("{} — {text}", piece.label), &[]);
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
