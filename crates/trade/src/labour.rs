//! Hours: standard minutes for each operation, counted from what was developed.

use crate::class::Class;
use crate::job::Job;
use crate::layers::Layer;
use crate::message::{Message, message};
use crate::money::{cents, decimal};
use crate::operations::Operation;
use crate::part::{CornerHow, Developed, Part, Stuff};
use crate::piece::{Condition, Fixing, PatternRule, Piece};
use geometry::Length;
use rust_decimal::Decimal;

/// Minutes for one operation on all of a developed piece.
#[derive(Clone, Debug, PartialEq)]
pub struct Task {
    /// Index into the developed pieces; `None` for work of the whole job.
    pub developed: Option<usize>,
    /// The piece or work.
    pub piece: String,
    /// The operation.
    pub step: Message,
    /// Minutes for all copies.
    pub minutes: Decimal,
    /// How tax sees it.
    pub class: Class,
    /// Outside usual hours.
    pub night: bool,
    /// What the rate book calls it, and how many or how much of it; nothing for work told in hours.
    pub operation: Option<Operation>,
    /// For all copies.
    pub amount: Decimal,
    /// What it is done for, if that was agreed for the piece: hours are then the workroom's own.
    pub agreed: Option<Decimal>,
}

/// All tasks of a job, in working order.
pub fn labour(job: &Job, developed: &[Developed]) -> Vec<Task> {
    let mut tasks = unpacking(job, developed);
    for (i, piece) in developed.iter().enumerate() {
        let mut own = of_piece(job, i, piece);
        if let Some(price) = job.pieces[piece.piece].price_each {
            agree(&mut own, i, piece, price * Decimal::from(piece.count));
        }
        tasks.extend(own);
    }
    for extra in &job.extra {
        let id = if extra.times == Decimal::ONE { "task-extra" } else { "task-extra-times" };
        let step = message(id).text("what", &extra.what).decimal("times", extra.times);
        let minutes = extra.hours * extra.times * Decimal::from(60);
        let night = extra.night;
        tasks.push(Task { night, ..task(None, &extra.what, step, minutes, extra.class) });
    }
    tasks
}

/// Cloths that come in, each unrolled and looked over once, if some of its pieces are paid by the hour.
fn unpacking(job: &Job, developed: &[Developed]) -> Vec<Task> {
    let is_used = |name: &str| {
        let by_the_hour = |d: &&Developed| {
            let about = &job.pieces[d.piece];
            about.price_each.is_none() && about.hours_each.is_none()
        };
        let parts = developed.iter().filter(by_the_hour).flat_map(|d| &d.parts);
        parts.into_iter().any(|p| p.stuff == Stuff::Cloth && p.material == name)
    };
    let cloths = job.cloths.iter().filter(|cloth| is_used(&cloth.name)).count();
    let unpack = Operation::Unpack;
    let minutes = job.rates.minutes.of(unpack) * number(cloths);
    if minutes <= Decimal::ZERO {
        return Vec::new();
    }
    let what = message(unpack.task());
    let amount = number(cloths);
    let task = task(None, "", what, minutes, unpack.class());
    vec![Task { operation: Some(unpack), amount, ..task }]
}

/// The work on a piece at the price agreed for it: its tasks keep their minutes, shares of the price go by
/// them, the rest of a cent to the last.
fn agree(tasks: &mut Vec<Task>, index: usize, piece: &Developed, price: Decimal) {
    if tasks.is_empty() {
        let agreed = message("task-as-agreed");
        let none = Decimal::ZERO;
        tasks.push(task(Some(index), &piece.label, agreed, none, Class::Application));
    }
    let all: Decimal = tasks.iter().map(|t| t.minutes).sum();
    let mut left = price;
    let last = tasks.len() - 1;
    for (i, task) in tasks.iter_mut().enumerate() {
        let share = match (i == last, all.is_zero()) {
            (true, _) => left,
            (false, true) => Decimal::ZERO,
            (false, false) => cents(price * task.minutes / all),
        };
        task.agreed = Some(share);
        left -= share;
    }
}

fn of_piece(job: &Job, index: usize, piece: &Developed) -> Vec<Task> {
    let about = &job.pieces[piece.piece];
    let count = Decimal::from(piece.count);
    if let Some(hours) = about.hours_each {
        let minutes = (hours * Decimal::from(60) * count).round_dp(2);
        let agreed = message("task-all-work-as-agreed");
        let task = task(Some(index), &piece.label, agreed, minutes, Class::Application);
        return if minutes > Decimal::ZERO { vec![task] } else { Vec::new() };
    }
    let each = |done: &Done| match done.minutes {
        Some(minutes) => minutes,
        None => job.rates.minutes.of(done.operation) * done.amount,
    };
    counted(job, about, piece)
        .into_iter()
        .filter(|done| each(done) > Decimal::ZERO)
        .map(|done| Task {
            operation: Some(done.operation),
            amount: (done.amount * count).round_dp(4),
            ..task(
                Some(index),
                &piece.label,
                message(done.operation.task()),
                (each(&done) * count).round_dp(2),
                done.operation.class(),
            )
        })
        .collect()
}

fn task(
    developed: Option<usize>,
    piece: &str,
    step: Message,
    minutes: Decimal,
    class: Class,
) -> Task {
    Task {
        developed,
        piece: piece.into(),
        step,
        minutes,
        class,
        night: false,
        agreed: None,
        operation: None,
        amount: Decimal::ZERO,
    }
}

/// An operation on one piece.
struct Done {
    operation: Operation,
    /// How many or how much of it.
    amount: Decimal,
    /// Said by the job instead of the rate book.
    minutes: Option<Decimal>,
}

/// Everything that is done on one piece, in working order.
fn counted(job: &Job, about: &Piece, piece: &Developed) -> Vec<Done> {
    let mut all: Vec<Done> = Vec::new();
    let mut add = |operation: Operation, amount: Decimal| {
        all.push(Done { operation, amount, minutes: None });
    };
    before_the_cover(about, piece, &mut add);
    cutting(job, about, piece, &mut add);
    sewing(piece, &mut add);
    covering(about, piece, &mut add);
    let layers = about.layers.iter().map(|layered| {
        let (operation, amount) = layered.work();
        Done { operation, amount: decimal(amount), minutes: layered.minutes }
    });
    all.extend(layers);
    all.sort_by_key(|done| done.operation);
    let mut merged: Vec<Done> = Vec::new();
    for done in all {
        match merged.last_mut().filter(|last| last.operation == done.operation) {
            Some(last) if last.minutes.is_none() && done.minutes.is_none() => {
                last.amount += done.amount;
            }
            _ => merged.push(done),
        }
    }
    merged
}

fn metres(length: Length) -> Decimal {
    decimal(length.mm() / 1000.0)
}

fn number(n: usize) -> Decimal {
    Decimal::from(n)
}

/// How many parts of some sort one piece has, counted as they are cut.
fn parts(piece: &Developed, wanted: impl Fn(&Part) -> bool) -> Decimal {
    let some = piece.parts.iter().filter(|p| wanted(p));
    let total: usize = some.map(|p| p.count * p.cut_into).sum();
    number(total) / number(piece.count).max(Decimal::ONE)
}

/// Stripping, mending, board and foam.
fn before_the_cover(about: &Piece, piece: &Developed, add: &mut impl FnMut(Operation, Decimal)) {
    let q = &piece.quantities;
    if about.strip {
        add(Operation::Inspect, Decimal::ONE);
        let line = if q.staple_line > Length::ZERO { q.staple_line } else { perimeter(piece) };
        add(Operation::Strip, metres(line));
    }
    if about.board_condition == Condition::Repair && about.board.is_some() {
        add(Operation::MendBoard, Decimal::ONE);
    }
    add(Operation::Board, parts(piece, |p| p.stuff == Stuff::Board));
    // A layer of foam is counted with the layers.
    let layers: usize =
        about.layers.iter().filter(|l| l.layer == Layer::Foam).map(|l| l.count).sum();
    let foams = parts(piece, |p| p.stuff == Stuff::Foam) - number(layers);
    add(Operation::Foam, foams.max(Decimal::ZERO));
    add(Operation::Glue, decimal(q.glue_mm2 / 1e6));
}

/// Cutting cloth, a part that is joined from widths as its widths.
fn cutting(job: &Job, about: &Piece, piece: &Developed, add: &mut impl FnMut(Operation, Decimal)) {
    let count = number(piece.count).max(Decimal::ONE);
    let is_joined = |p: &&Part| piece.widths.iter().any(|w| w.of(&p.id));
    let joined: usize = piece.parts.iter().filter(is_joined).map(|p| p.count).sum();
    let widths: usize = piece.widths.iter().map(|w| w.count).sum();
    // Each part counts as one cut already.
    let more = number(widths.saturating_sub(joined)) / count;
    let whole = parts(piece, |p| p.stuff == Stuff::Cloth && !p.is_small());
    add(Operation::CutPart, whole + more);
    add(Operation::CutStrip, parts(piece, Part::is_small));
    add(Operation::JoinWidth, more);
    let has_pattern = |p: &Part| job.cloth(&p.material).is_some_and(|c| c.pattern.is_some());
    let is_placed = matches!(about.pattern, PatternRule::Centred | PatternRule::Matched(_));
    if is_placed {
        let seen = |p: &Part| p.stuff == Stuff::Cloth && p.seen && has_pattern(p);
        add(Operation::PlaceOnPattern, parts(piece, seen));
    }
}

fn sewing(piece: &Developed, add: &mut impl FnMut(Operation, Decimal)) {
    let q = &piece.quantities;
    add(Operation::Seam, metres(q.seam));
    add(Operation::Welt, metres(q.welt));
    add(Operation::Zip, number(usize::from(q.zip.is_some())));
    add(Operation::Fill, number(q.fills));
}

fn covering(about: &Piece, piece: &Developed, add: &mut impl FnMut(Operation, Decimal)) {
    let q = &piece.quantities;
    add(Operation::CoverButton, number(q.buttons));
    add(Operation::Channel, number(q.channels));
    add(Operation::Button, number(q.buttons));
    add(Operation::FitCut, number(q.fitted_cuts));
    add(Operation::TackStrip, metres(q.tack_strip));
    add(Operation::Staple, metres(q.staple_line));
    let corners = |round: bool| {
        let wanted = |how: &CornerHow| matches!(how, CornerHow::Rounded { .. }) == round;
        number(piece.corners.iter().filter(|c| wanted(&c.how)).count())
    };
    add(Operation::SquareCorner, corners(false));
    add(Operation::RoundCorner, corners(true));
    add(Operation::FoldedEnd, number(q.folded_ends));
    add(Operation::CutOut, number(piece.cut_outs.len()));
    add(Operation::DustCover, number(usize::from(q.dust_cover_mm2 > 0.0)));
    add(Operation::Pack, number(usize::from(!about.kind.is_cut_only())));
    if matches!(about.fixing, Some(Fixing::Screws { .. } | Fixing::Clips(_) | Fixing::Cleat)) {
        add(Operation::Fit, Decimal::ONE);
    }
}

/// For a sewn piece, once round its face.
fn perimeter(piece: &Developed) -> Length {
    (piece.finished.0 + piece.finished.1) * 2
}

/// Total minutes.
pub fn total(tasks: &[Task]) -> Decimal {
    tasks.iter().map(|t| t.minutes).sum()
}
