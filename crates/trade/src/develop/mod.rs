//! Pieces to parts, one file for each kind of piece and for what kinds share.

pub mod block;
pub mod boxed;
pub mod buttoned_back;
pub mod channelled_back;
pub mod corner;
pub mod cover;
pub mod curved_back;
pub mod cushion;
pub mod cut_out;
pub mod cut_pieces;
pub mod headboard;
mod kinds;
pub mod ottoman;
pub mod panel;
pub mod run;
pub mod seam;
pub mod shape;
pub mod skirt;
pub mod strips;
pub mod tapered;
pub mod wall_grid;
pub mod waterfall;
pub mod welt;

use crate::fault::Fault;
use crate::job::Job;
use crate::kind::{Kind, WeltGrain};
use crate::material::Direction;
use crate::panel::PanelShape;
use crate::part::{CornerWork, Developed, Line, Meaning, Motif, Part, Quantities, Stuff, Turning};
use crate::piece::{Condition, Hand, PatternRule, Piece};
use crate::rates::Allowances;
use crate::working::{Style, Working};
use cover::Build;
use geometry::{Length, Point};

/// What a kind's function is told besides its measures.
#[derive(Clone, Debug)]
pub struct Ask<'a> {
    /// Foam, board, allowances, cloth thickness.
    pub build: Build<'a>,
    /// Cloth of the face.
    pub cloth: &'a str,
    /// Cloth of the underside, if another.
    pub under: Option<&'a str>,
    /// Usable width of the face cloth.
    pub usable: Length,
    /// Foam.
    pub foam: Option<&'a str>,
    /// Board.
    pub board: Option<&'a str>,
    /// Wrapped in polyester.
    pub wrap: bool,
    /// Welt strips.
    pub grain: WeltGrain,
    /// A seam may be put where the cloth is too narrow.
    pub may_seam: bool,
    /// Parts may lie with their tops towards a selvedge.
    pub railroads: bool,
    /// Key of the piece in the job file.
    pub at: String,
}

/// A sewn piece developed: parts and what it takes.
pub type Sewn = (Vec<Part>, Quantities);

/// A piece developed that is neither one covered board nor only sewn.
#[derive(Clone, Debug)]
pub struct Kit {
    /// To cut.
    pub parts: Vec<Part>,
    /// What it takes.
    pub quantities: Quantities,
    /// Finished width and height of the face.
    pub finished: (Length, Length),
    /// Numbers worked out before the parts.
    pub workings: Vec<Working>,
    /// Corners to fold.
    pub corners: Vec<CornerWork>,
    /// What the person should know.
    pub warnings: Vec<Fault>,
}

impl Default for Kit {
    fn default() -> Self {
        Self {
            parts: Vec::new(),
            quantities: Quantities::default(),
            finished: (Length::ZERO, Length::ZERO),
            workings: Vec::new(),
            corners: Vec::new(),
            warnings: Vec::new(),
        }
    }
}

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
        number(&mut all);
        Ok(all)
    } else {
        Err(faults)
    }
}

/// Numbers parts: piece number and letter.
fn number(all: &mut [Developed]) {
    let mut letters = std::collections::BTreeMap::new();
    for developed in all {
        for part in &mut developed.parts {
            let next = letters.entry(developed.piece).or_insert(0_usize);
            part.id = format!("{}{}", developed.piece + 1, letter(*next));
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

fn develop_piece(job: &Job, index: usize, piece: &Piece) -> Result<Vec<Developed>, Vec<Fault>> {
    let at = format!("piece.{index}");
    let Some(cloth) = piece.cloth.as_deref().and_then(|name| job.cloth(name)) else {
        // Reported with the whole job.
        return Ok(Vec::new());
    };
    let (foam, board) = (job.foam_of(piece), job.board_of(piece));
    let ask = Ask {
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
        foam: piece.foam.as_deref().filter(|_| piece.foam_condition == Condition::Renew),
        board: piece.board.as_deref().filter(|_| piece.board_condition == Condition::Renew),
        wrap: piece.wrap,
        grain: piece.welt_grain,
        may_seam: piece.seam_allowed,
        railroads: piece.direction.unwrap_or(cloth.direction) != Direction::UpTheRoll,
        at: at.clone(),
    };
    let mut warnings = Vec::new();
    let made = made(piece, &ask, &mut warnings)?;
    let mut result = Vec::new();
    let mut faults = Vec::new();
    for made in made {
        match kinds::develop_one(&ask, piece, &made) {
            Ok(mut developed) => {
                developed.piece = index;
                if let Some(buttons) = piece.buttons {
                    let blank = Length::from_mm(f64::from(buttons.ligne) * 0.635 * 2.0);
                    let covers = buttoned_back::button_covers(&ask, blank, buttons.count);
                    developed.parts.push(covers);
                }
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

/// Sections of a run, panels of a wall, or the piece itself.
fn made(piece: &Piece, ask: &Ask, warnings: &mut Vec<Fault>) -> Result<Vec<Made>, Vec<Fault>> {
    let whole = |kind: Kind, count: usize| Made {
        label: piece.name.clone(),
        kind,
        count,
        shift: Length::ZERO,
        finished: None,
        workings: Vec::new(),
    };
    if let Kind::WallGrid(wall) = &piece.kind {
        let grid = wall_grid::develop(wall, &piece.allowances, &ask.at).map_err(|f| vec![f])?;
        for &i in &grid.straddling {
            let clear = wall_grid::clear_columns(wall, 3, 10);
            let list: Vec<String> = clear.iter().map(ToString::to_string).collect();
            let remedy = if list.is_empty() {
                "no number of equal columns from 3 to 10 clears every fitting; move it or use unequal panels".into()
            } else {
                format!("equal columns that clear every fitting, from 3 to 10: {}", list.join(", "))
            };
            warnings.push(Fault::new(
                "fitting-straddles-gap",
                format!("{}.fitting.{i}", ask.at),
                format!(
                    "{} straddles a gap or the margin; no opening is made for it",
                    wall.fittings[i].what
                ),
                remedy,
            ));
        }
        let (w, h) = grid.core;
        let panel = |cut_outs| Kind::Panel {
            shape: PanelShape::Rectangle {
                width: w,
                height: h,
                radii: [Length::ZERO; 4],
                diagonals: vec![],
            },
            notches: vec![],
            sides: vec![],
            cut_outs,
        };
        let plain = wall.columns * wall.rows - grid.pierced.len();
        let mut all = Vec::new();
        if plain > 0 {
            all.push(Made {
                finished: Some(grid.finished),
                workings: grid.workings.clone(),
                ..whole(panel(vec![]), plain * piece.count)
            });
        }
        for ((column, row), cuts) in grid.pierced {
            all.push(Made {
                label: format!("{} column {} row {}", piece.name, column + 1, row + 1),
                finished: Some(grid.finished),
                workings: grid.workings.clone(),
                ..whole(panel(cuts), piece.count)
            });
        }
        return Ok(all);
    }
    let Some(run) = &piece.run else { return Ok(vec![whole(piece.kind.clone(), piece.count)]) };
    let sections =
        run::sections(run, &piece.allowances, &ask.at, &ask.build.style).map_err(|f| vec![f])?;
    let runs_through = matches!(piece.pattern, PatternRule::Matched(_));
    let mut all = Vec::new();
    let mut left = Length::ZERO;
    for section in sections {
        let kind = with_width(&piece.kind, section.board);
        let pitch = section.finished + run.joint_gap;
        let one = |place: usize, count: usize, shift: Length, label: String| Made {
            label,
            kind: kind.clone(),
            count,
            shift,
            finished: height_of(&kind).map(|h| (section.board + piece.allowances.build_up * 2, h)),
            workings: if place == 0 || !section.label.is_empty() {
                section.workings.clone()
            } else {
                vec![]
            },
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
pub fn with_its_width(piece: &Piece, style: &Style) -> Kind {
    let first = piece.run.as_ref().and_then(|run| {
        run::sections(run, &piece.allowances, "", style).ok()?.first().map(|section| section.board)
    });
    first.map_or_else(|| piece.kind.clone(), |board| with_width(&piece.kind, board))
}

fn with_width(kind: &Kind, board: Length) -> Kind {
    let mut kind = kind.clone();
    match &mut kind {
        Kind::Panel { shape: PanelShape::Rectangle { width, .. }, .. }
        | Kind::Pad { width, .. }
        | Kind::KnifeEdge { width, .. }
        | Kind::ChannelledBack { width, .. }
        | Kind::Measured { width, .. } => *width = board,
        Kind::BoxedCushion { front, back, .. } => {
            *front = board;
            *back = board;
        }
        _ => {}
    }
    kind
}

const fn height_of(kind: &Kind) -> Option<Length> {
    match kind {
        Kind::Panel { shape: PanelShape::Rectangle { height, .. }, .. }
        | Kind::Pad { height, .. }
        | Kind::KnifeEdge { height, .. }
        | Kind::ChannelledBack { height, .. }
        | Kind::Measured { height, .. } => Some(*height),
        Kind::BoxedCushion { depth, .. } => Some(*depth),
        _ => None,
    }
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
            let round = piece.kind.is_round();
            let outline = if round {
                geometry::Outline::solid(geometry::Path::circle(wide))
            } else {
                strips::rectangle(wide, high)
            };
            let mut part = Part::new("dust cover", Stuff::Cloth, cloth, outline);
            let across = Working::grown("dust cover, width", w, &[inch]);
            if round {
                part.explain(across.both());
            } else {
                part.explain(across.width());
                part.explain(Working::grown("dust cover, height", h, &[inch]).height());
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
                let mirrored = mirrored(&part);
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
    let Some(top) = parts.iter().find(|part| part.name == "top panel") else { return };
    let Some(line) = top.line(Meaning::Stitch) else { return };
    let (motif, middle, front) = (top.motif.clone(), top.seen_middle(), line.bounds().0.y);
    for part in parts.iter_mut().filter(|p| ["boxing", "boxing, front"].contains(&p.name.as_str()))
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

fn mirrored(part: &Part) -> Part {
    use crate::part::Mark;
    let flip = |p: &Point| Point::new(-p.x, p.y);
    let marks = part
        .marks
        .iter()
        .map(|mark| Mark {
            meaning: mark.meaning,
            line: match &mark.line {
                Line::Open(points) => Line::Open(points.iter().map(flip).collect()),
                Line::Closed(path) => Line::Closed(path.mirrored()),
            },
        })
        .collect();
    let motif = match &part.motif {
        Motif::Free => Motif::Free,
        Motif::Centred(p) => Motif::Centred(flip(p)),
        Motif::Matched(group, p) => Motif::Matched(group.clone(), flip(p)),
    };
    let face = part.face.as_ref().map(geometry::Path::mirrored);
    let outline = part.outline.map(geometry::Path::mirrored);
    Part { outline, marks, motif, face, ..part.clone() }
}

/// The allowances a piece was developed with, for the take-off.
pub fn allowances<'a>(job: &'a Job, developed: &Developed) -> &'a Allowances {
    &job.pieces[developed.piece].allowances
}
