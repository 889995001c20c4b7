//! How a piece is made at the bench: numbered steps with this piece's own numbers, and the cautions
//! that belong to each.
//!
//! Source: working order of covered panels and cushions as upholstery texts and working upholsterers
//! describe it; common practice where no other source stands at the number itself.

mod covered;
mod kinds;
mod sewn;

use crate::develop;
use crate::job::Job;
use crate::kind::Kind;
use crate::part::{Developed, Part, Stuff};
use crate::piece::{Fixing, PatternRule, Piece};
use crate::take_off::{screw_advice, screw_range};
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
    steps.extend(match &about.kind {
        kind if kind.is_sewn() => sewn::steps(job, about, piece),
        Kind::Measured { .. } => vec![cut_cloth(job, piece)],
        Kind::WeltRuns(welt) => kinds::welt(job, about, piece, welt),
        Kind::Skirt(skirt) => kinds::skirt(job, about, piece, skirt),
        Kind::CutPieces(cuts) => kinds::cut_pieces(job, about, piece, cuts),
        Kind::Ottoman(ottoman) => kinds::ottoman(job, about, piece, ottoman),
        Kind::Headboard(headboard) => kinds::headboard(job, about, piece, headboard),
        Kind::CurvedBack(back) => kinds::curved_back(job, about, piece, back),
        Kind::ButtonedBack(back) => kinds::buttoned_back(job, about, piece, back),
        _ => covered::steps(job, about, piece),
    });
    if let Some(buttons) = about.buttons {
        steps.push(kinds::plain_buttons(&job.style, buttons));
    }
    steps.extend(fix(job, about, piece));
    steps
}

fn step(title: &'static str, text: String, cautions: &[&'static str]) -> Step {
    Step { title, text, cautions: cautions.to_vec() }
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
    step("Strip and inspect", text, &[EYES, HANDS, DUST, PAINT])
}

fn named(piece: &Developed, stuff: Stuff) -> Option<&Part> {
    piece.parts.iter().find(|p| p.stuff == stuff)
}

/// A part's size, and what its outline is if that is no rectangle.
fn size(style: &Style, part: &Part) -> String {
    let (w, h) = part.printed_size(style);
    let outer = &part.outline.outer;
    let box_size = format!("{} × {}", style.number(w), style.show(h));
    if part.outline.is_round() {
        let hole = part.outline.holes.first().map_or(String::new(), |hole| {
            let across = style.place(geometry::Outline::solid(hole.clone()).size().0);
            format!(" with a hole {} across in the middle", style.show(across))
        });
        return format!("a circle {} across{hole}", style.show(w));
    }
    if outer.flatten().is_upright_rectangle() || part.stuff == Stuff::Cloth {
        return box_size;
    }
    format!("{box_size} over all, cut to its outline (full-size template {})", part.id)
}

/// All parts of a stuff, with their numbers, if there are several sorts.
fn several(style: &Style, piece: &Developed, stuff: Stuff) -> Option<String> {
    let parts: Vec<&Part> = piece.parts.iter().filter(|p| p.stuff == stuff).collect();
    (parts.len() > 1).then(|| {
        let each =
            parts.iter().map(|p| format!("{} × {} {}, {}", p.count, p.id, p.name, size(style, p)));
        each.collect::<Vec<_>>().join("; ")
    })
}

fn cut_cloth(job: &Job, piece: &Developed) -> Step {
    let style = &job.style;
    let list: Vec<String> = piece
        .parts
        .iter()
        .filter(|p| p.stuff == Stuff::Cloth)
        .map(|p| {
            let joined: Vec<String> = piece
                .widths
                .iter()
                .filter(|w| w.of(&p.id))
                .map(|w| format!("{} × {} ({})", w.count, w.id, size(style, w)))
                .collect();
            if !joined.is_empty() {
                return format!(
                    "{} × {} {} in widths: {}",
                    p.count,
                    p.id,
                    p.name,
                    joined.join(", ")
                );
            }
            let other = Some(&p.material) != job.pieces[piece.piece].cloth.as_ref();
            let from = if other { format!(", of {}", p.material) } else { String::new() };
            format!("{} × {} {} ({}{from})", p.count, p.id, p.name, size(style, p))
        })
        .collect();
    let motif = match job.pieces[piece.piece].pattern {
        PatternRule::Free | PatternRule::Unsaid => "",
        PatternRule::Centred => {
            " A motif stands on the middle of each seen part: the crosses of the cutting plan show where."
        }
        PatternRule::Matched(_) => {
            " The pattern runs on from piece to piece: cut where the crosses of the cutting plan show it, not by eye."
        }
    };
    let seam = style.show(develop::allowances(job, piece).seam);
    let join = if piece.widths.is_empty() {
        String::new()
    } else {
        format!(
            " Join the widths in the order of their numbers, from the left, seam {seam}, before anything else; press the seam open and lay the join where the drawing has it, pattern on pattern."
        )
    };
    step(
        "Cloth",
        format!(
            "From the cutting plan: {}.{motif}{join} Check arrow and face before the first cut; mark name and up arrow on the back.",
            list.join("; ")
        ),
        &[BLADE],
    )
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
