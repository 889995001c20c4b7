//! Pieces to parts: each piece of a job by its kind, then what all kinds have in common.

use crate::build::cover::Build;
use crate::build::{Ask, Kit, Others, buttons, sections, strips, welt};
use crate::fault::Fault;
use crate::job::Job;
use crate::kinds::Kind;
use crate::layers::Layered;
use crate::material::Direction;
use crate::message::message;
use crate::part::{Developed, Meaning, Motif, Part, Stuff, Turning};
use crate::piece::{Condition, Hand, PatternRule, Piece, WeltGrain};
use crate::rates::Allowances;
use crate::working::{Style, Working};
use geometry::{Length, Point};

/// Develops every piece of a job.
///
/// # Errors
/// All faults of all pieces.
pub fn develop(job: &Job) -> Result<Vec<Developed>, Vec<Fault>> {
    let mut all = Vec::new();
    let mut faults = Vec::new();
    for (i, piece) in job.pieces.iter().enumerate() {
        match develop_piece(job, i, piece) {
            Ok(developed) => all.extend(developed),
            Err(found) => faults.extend(found.into_iter().map(|f| f.about(&piece.name))),
        }
    }
    if faults.is_empty() {
        number(job, &mut all);
        Ok(all)
    } else {
        Err(faults)
    }
}

/// Numbers parts: piece number and letter.
fn number(job: &Job, all: &mut [Developed]) {
    let mut letters = std::collections::BTreeMap::new();
    for developed in all {
        for part in &mut developed.parts {
            let next = letters.entry(developed.piece).or_insert(0_usize);
            part.id = format!("{}{}", job.pieces[developed.piece].number, letter(*next));
            *next += 1;
        }
    }
}

/// A to Z, then AA, AB and so on.
fn letter(n: usize) -> String {
    let mut text = String::new();
    let mut n = n + 1;
    while n > 0 {
        n -= 1;
        text.insert(0, char::from(b'A' + (n % 26) as u8));
        n /= 26;
    }
    text
}

/// One thing to develop: a piece, a section of a run, a panel of a wall.
struct Made {
    label: String,
    kind: Kind,
    count: usize,
    /// How far right of the first its middle stands, for patterns that run through.
    shift: Length,
    /// Finished size, if it is not the board's.
    finished: Option<(Length, Length)>,
    workings: Vec<Working>,
}

impl Made {
    /// The piece itself.
    fn whole(piece: &Piece, kind: Kind) -> Self {
        Self {
            label: piece.name.clone(),
            kind,
            count: piece.count,
            shift: Length::ZERO,
            finished: None,
            workings: Vec::new(),
        }
    }

    fn developed(&self, kit: Kit, piece: usize) -> Developed {
        Developed {
            piece,
            label: self.label.clone(),
            count: self.count,
            finished: self.finished.unwrap_or(kit.finished),
            parts: kit.parts,
            widths: Vec::new(),
            quantities: kit.quantities,
            corners: kit.corners,
            cut_outs: kit.cut_outs,
            outline: kit.outline,
            workings: self.workings.iter().cloned().chain(kit.workings).collect(),
            warnings: kit.warnings,
        }
    }
}

/// What a piece's kind is told; `None` where its cloth is not known, which is told with the whole job.
fn ask<'a>(job: &'a Job, index: usize, piece: &'a Piece) -> Option<Ask<'a>> {
    let cloth = piece.cloth.as_deref().and_then(|name| job.cloth(name))?;
    let (foam, board) = (job.foam_of(piece), job.board_of(piece));
    Some(Ask {
        build: Build {
            foam: foam.map_or(Length::ZERO, |f| f.thickness),
            board: board.map_or(Length::ZERO, |b| b.thickness),
            foam_edge: piece.foam_edge,
            foam_beyond: foam.map_or(Length::ZERO, |_| piece.foam_beyond),
            wrap: if piece.wrap { piece.allowances.wrap_thickness } else { Length::ZERO },
            allowances: &piece.allowances,
            cloth: cloth.thickness,
            style: job.style,
        },
        cloth: &cloth.name,
        under: piece.under_cloth.as_deref(),
        usable: cloth.usable(),
        others: Others {
            boxing: piece.boxing_cloth.as_deref().and_then(|name| job.cloth(name)),
            welt: piece.welt_cloth.as_deref().and_then(|name| job.cloth(name)),
            zip: piece.zip_cloth.as_deref().and_then(|name| job.cloth(name)),
        },
        foam: piece.foam.as_deref().filter(|_| piece.foam_condition == Condition::Renew),
        board: piece.board.as_deref().filter(|_| piece.board_condition == Condition::Renew),
        wrap: piece.wrap,
        grain: piece.welt_grain,
        may_seam: piece.seam_allowed,
        railroads: piece.direction.unwrap_or(cloth.direction) != Direction::UpTheRoll,
        at: format!("piece.{index}"),
    })
}

fn develop_piece(job: &Job, index: usize, piece: &Piece) -> Result<Vec<Developed>, Vec<Fault>> {
    let Some(ask) = ask(job, index, piece) else { return Ok(Vec::new()) };
    let mut warnings = Vec::new();
    let mut result = Vec::new();
    let mut faults = Vec::new();
    for made in made(piece, &ask, &mut warnings)? {
        match made.kind.of().develop(&ask) {
            Ok(kit) => {
                let mut developed = made.developed(kit, index);
                if let Some(wanted) = piece.buttons {
                    let covers = buttons::button_covers(&ask, wanted.ligne, wanted.count);
                    developed.parts.push(covers);
                }
                developed.parts.extend(layer_foams(job, piece));
                finish(piece, &made, &mut developed, &job.style);
                result.push(developed);
            }
            Err(found) => faults.extend(found),
        }
    }
    if let Some(first) = result.first_mut() {
        first.warnings.append(&mut warnings);
    }
    if faults.is_empty() { Ok(result) } else { Err(faults) }
}

/// Foams that lie on a frame as layers.
fn layer_foams(job: &Job, piece: &Piece) -> Vec<Part> {
    let one = |layered: &Layered| {
        let foam = job.foam(layered.foam.as_deref()?)?;
        let (width, depth) = layered.size;
        let outline = strips::rectangle(width, depth);
        let name = message("part-layer-foam");
        let mut part = Part::new(name, Stuff::Foam, &foam.name, outline);
        part.count = layered.count;
        part.explain(Working::grown(message("work-layer-width"), width, &[]).width());
        part.explain(Working::grown(message("work-layer-depth"), depth, &[]).height());
        Some(part)
    };
    piece.layers.iter().filter_map(one).collect()
}

/// Sections of a run, panels of a wall, or the piece itself.
fn made(piece: &Piece, ask: &Ask, warnings: &mut Vec<Fault>) -> Result<Vec<Made>, Vec<Fault>> {
    if let Some(panelled) = piece.kind.of().panels(ask)? {
        warnings.extend(panelled.warnings);
        let one = |panels: crate::kinds::Panels| Made {
            label: format!("{}{}", piece.name, panels.label),
            count: panels.count * piece.count,
            finished: Some(panels.finished),
            workings: panels.workings,
            ..Made::whole(piece, panels.kind)
        };
        return Ok(panelled.panels.into_iter().map(one).collect());
    }
    if piece.run.is_some() {
        return in_run(piece, ask);
    }
    Ok(vec![Made::whole(piece, piece.kind.clone())])
}

/// The sections of a run.
fn in_run(piece: &Piece, ask: &Ask) -> Result<Vec<Made>, Vec<Fault>> {
    let Some(run) = &piece.run else { return Ok(Vec::new()) };
    let sections = sections::sections(run, &piece.allowances, &ask.at)?;
    let runs_through = matches!(piece.pattern, PatternRule::Matched(_));
    let mut all = Vec::new();
    let mut left = Length::ZERO;
    for section in sections {
        let kind = with_width(&piece.kind, section.board);
        let wide = section.board + piece.allowances.build_up * 2;
        let pitch = section.finished + run.joint_gap;
        let one = |place: usize, count: usize, shift: Length, label: String| Made {
            label,
            count,
            shift,
            finished: kind.of().height_in_run().map(|h| (wide, h)),
            workings: if place == 0 || !section.label.is_empty() {
                section.workings.clone()
            } else {
                vec![]
            },
            ..Made::whole(piece, kind.clone())
        };
        if runs_through && section.label.is_empty() {
            // Each section has its own place under the pattern.
            all.extend(section.places.iter().map(|&i| {
                one(i, piece.count, pitch * i as i64, format!("{} section {}", piece.name, i + 1))
            }));
        } else if section.label.is_empty() {
            all.push(one(0, section.places.len() * piece.count, Length::ZERO, piece.name.clone()));
        } else {
            let middle = left + section.finished.share(2);
            all.push(one(0, piece.count, middle, format!("{} {}", piece.name, section.label)));
        }
        left += pitch;
    }
    Ok(all)
}

/// A piece's kind with its width, where a run gives it: that of its first section.
pub fn with_its_width(piece: &Piece) -> Kind {
    let first = piece.run.as_ref().and_then(|run| {
        let sections = sections::sections(run, &piece.allowances, "").ok()?;
        sections.first().map(|section| section.board)
    });
    first.map_or_else(|| piece.kind.clone(), |board| with_width(&piece.kind, board))
}

fn with_width(kind: &Kind, board: Length) -> Kind {
    let mut kind = kind.clone();
    kind.of_mut().set_width(board);
    kind
}

/// What all kinds have in common: counts, hands, directions, pattern, dust cover.
fn finish(piece: &Piece, made: &Made, developed: &mut Developed, style: &Style) {
    let (w, h) = developed.finished;
    if piece.dust_cover || piece.dust_cloth.is_some() {
        // An inch all round to turn in: common practice, no source.
        let inch = Length::from_inches(1.0);
        let (wide, high) = (w + inch * 2, h + inch * 2);
        developed.quantities.dust_cover_mm2 = wide.mm() * high.mm();
        if let Some(cloth) = &piece.dust_cloth {
            let round = piece.kind.of().is_round();
            let outline = if round {
                geometry::Outline::solid(geometry::Path::circle(wide))
            } else {
                strips::rectangle(wide, high)
            };
            let mut part = Part::new(message("part-dust-cover"), Stuff::Cloth, cloth, outline);
            let across = Working::grown(message("work-dust-cover-width"), w, &[inch]);
            if round {
                part.explain(across.both());
            } else {
                part.explain(across.width());
                part.explain(
                    Working::grown(message("work-dust-cover-height"), h, &[inch]).height(),
                );
            }
            developed.parts.push(part);
        }
    }
    if let Some(buttons) = piece.buttons {
        developed.quantities.buttons += buttons.count;
    }
    if piece.wrap && developed.quantities.wrap_mm2 == 0.0 {
        developed.quantities.wrap_mm2 = w.mm() * h.mm();
    }
    if made.kind.of().is_round()
        && developed.quantities.welt > Length::ZERO
        && piece.welt_grain == WeltGrain::Cross
    {
        // Cut on the bias it lies round a curve. Source: a workroom's page on welt for round cushions.
        let what = message("welt-on-a-curve");
        let remedy = message("welt-on-a-curve").part("do");
        developed.warnings.push(Fault::new("welt-on-a-curve", "piece", what, remedy));
    }
    for warning in &mut developed.warnings {
        warning.about.clone_from(&developed.label);
        if warning.at.is_empty() {
            warning.at = "piece".into();
        }
    }
    for part in &mut developed.parts {
        if part.stuff != Stuff::Cloth {
            continue;
        }
        part.may_seam |= piece.seam_allowed;
        if part.turning == Turning::Direction(None) {
            part.turning = Turning::Direction(piece.direction);
        }
        if part.seen {
            let face = part.seen_middle();
            part.motif = match &piece.pattern {
                PatternRule::Free | PatternRule::Unsaid => Motif::Free,
                PatternRule::Centred => Motif::Centred(face),
                // The pattern stands still while the face moves right: the anchor moves left.
                PatternRule::Matched(group) => {
                    Motif::Matched(group.clone(), Point::new(face.x - made.shift.mm(), face.y))
                }
            };
        }
    }
    if piece.boxing_in_step {
        boxing_in_step(&mut developed.parts, piece.allowances.seam);
    }
    let parts = std::mem::take(&mut developed.parts);
    for mut part in parts {
        if part.strips.is_some() {
            // Cut for all pieces of the line together, whichever hand they are.
            developed.parts.push(welt::divided(part, developed.count));
            continue;
        }
        if part.stuff == Stuff::Cloth {
            part = part.chalked(style);
        }
        let each = part.count;
        part.count = (each * developed.count).div_ceil(part.from_one);
        match piece.hand {
            Hand::Neither => {}
            Hand::Left => part.hand = Some("left"),
            Hand::Right => part.hand = Some("right"),
            Hand::Pair => {
                let half = developed.count / 2;
                let mirrored = part.mirrored();
                let left = Part { count: each * half, hand: Some("left"), ..part };
                developed.parts.push(left);
                developed.parts.push(Part { count: each * half, hand: Some("right"), ..mirrored });
                continue;
            }
        }
        developed.parts.push(part);
    }
}

/// The pattern of a cushion's top goes on over its front edge and down the boxing: laid flat the boxing
/// hangs below the top's front seam, its middle on the middle of the front, and keeps the top's motif.
fn boxing_in_step(parts: &mut [Part], seam: Length) {
    let Some(top) = parts.iter().find(|part| part.name.is("part-top-panel")) else { return };
    let Some(line) = top.line(Meaning::Stitch) else { return };
    let (motif, middle, front) = (top.motif.clone(), top.seen_middle(), line.bounds().0.y);
    for part in
        parts.iter_mut().filter(|p| p.name.is("part-boxing") || p.name.is("part-boxing-front"))
    {
        let (w, h) = part.size();
        // How far the top's own motif point lies from the middle of its face.
        let hung = |p: Point| {
            let up = (h - seam).mm() + middle.y - front;
            Point::new(w.mm() / 2.0 + p.x - middle.x, up + p.y - middle.y)
        };
        part.motif = match &motif {
            Motif::Free => Motif::Free,
            Motif::Centred(p) => Motif::Centred(hung(*p)),
            Motif::Matched(group, p) => Motif::Matched(group.clone(), hung(*p)),
        };
    }
}

/// The allowances a piece was developed with, for the take-off.
pub fn allowances<'a>(job: &'a Job, developed: &Developed) -> &'a Allowances {
    &job.pieces[developed.piece].allowances
}
