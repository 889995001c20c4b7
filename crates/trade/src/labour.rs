//! Hours: standard minutes for each operation, counted from what was developed.

use crate::job::Job;
use crate::message::{Message, message};
use crate::money::{cents, decimal};
use crate::part::{CornerHow, Developed, Part, Stuff};
use crate::piece::{Condition, Fixing};
use crate::rates::Class;
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
    /// What it is done for, if that was agreed for the piece: hours are then the workroom's own.
    pub agreed: Option<Decimal>,
}

/// All tasks of a job, in working order.
pub fn labour(job: &Job, developed: &[Developed]) -> Vec<Task> {
    let mut tasks = Vec::new();
    for (i, piece) in developed.iter().enumerate() {
        let mut own = of_piece(job, i, piece);
        if let Some(price) = job.pieces[piece.piece].price_each {
            agree(&mut own, i, piece, price * Decimal::from(piece.count));
        }
        tasks.extend(own);
    }
    for extra in &job.extra {
        let step =
            message(if extra.times == Decimal::ONE { "task-extra" } else { "task-extra-times" });
        tasks.push(Task {
            developed: None,
            piece: extra.what.clone(),
            step: step.text("what", &extra.what).decimal("times", extra.times),
            minutes: extra.hours * extra.times * Decimal::from(60),
            class: extra.class,
            night: extra.night,
            agreed: None,
        });
    }
    tasks
}

/// The work on a piece at the price agreed for it: its tasks keep their minutes, shares of the price go by
/// them, the rest of a cent to the last.
fn agree(tasks: &mut Vec<Task>, index: usize, piece: &Developed, price: Decimal) {
    if tasks.is_empty() {
        tasks.push(Task {
            developed: Some(index),
            piece: piece.label.clone(),
            step: message("task-as-agreed"),
            minutes: Decimal::ZERO,
            class: Class::Application,
            night: false,
            agreed: None,
        });
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
    let minutes = &job.rates.minutes;
    let count = Decimal::from(piece.count);
    let mut tasks: Vec<Task> = Vec::new();
    let mut add = |step: &'static str, class: Class, each: Decimal| {
        if each > Decimal::ZERO {
            tasks.push(Task {
                developed: Some(index),
                piece: piece.label.clone(),
                step: message(step),
                minutes: (each * count).round_dp(2),
                class,
                night: false,
                agreed: None,
            });
        }
    };
    if let Some(hours) = about.hours_each {
        add("task-all-work-as-agreed", Class::Application, hours * Decimal::from(60));
        return tasks;
    }
    let q = &piece.quantities;
    let metres = |length: Length| decimal(length.mm() / 1000.0);
    let each = |n: usize| Decimal::from(n);
    let some = |wanted: &dyn Fn(&Part) -> bool| {
        let some = piece.parts.iter().filter(|p| wanted(p));
        let total: usize = some.map(|p| p.count * p.cut_into).sum();
        each(total) / count.max(Decimal::ONE)
    };
    let parts = |stuff: Stuff| some(&|p| p.stuff == stuff && !p.is_small());
    let small = some(&Part::is_small);
    // Each part counts as one cut already.
    let joined = piece.parts.iter().filter(|p| piece.widths.iter().any(|w| w.of(&p.id)));
    let counted: usize = joined.map(|p| p.count).sum();
    let cuts: usize = piece.widths.iter().map(|w| w.count).sum();
    let widths = each(cuts.saturating_sub(counted)) / count.max(Decimal::ONE);
    if about.strip {
        add("task-inspect-and-label", Class::Application, minutes.inspect);
        let line = if q.staple_line > Length::ZERO { q.staple_line } else { perimeter(piece) };
        add("task-strip-the-old-cover", Class::Application, minutes.strip_metre * metres(line));
    }
    if about.board_condition == Condition::Repair && about.board.is_some() {
        add("task-mend-the-board", Class::Repair, minutes.board_repair);
    }
    add("task-cut-board", Class::Application, minutes.board * parts(Stuff::Board));
    add("task-cut-foam", Class::Application, minutes.foam * parts(Stuff::Foam));
    add("task-glue", Class::Application, minutes.glue_m2 * decimal(q.glue_mm2 / 1e6));
    add(
        "task-lay-out-and-cut-cloth",
        Class::Fabrication,
        minutes.cut_part * (parts(Stuff::Cloth) + widths) + minutes.cut_strip * small,
    );
    add("task-sew", Class::Fabrication, minutes.seam_metre * metres(q.seam));
    add("task-welt", Class::Fabrication, minutes.welt_metre * metres(q.welt));
    add("task-zip", Class::Fabrication, minutes.zip * each(usize::from(q.zip.is_some())));
    add("task-channels", Class::Application, minutes.channel * each(q.channels));
    add("task-buttons", Class::Application, minutes.button * each(q.buttons));
    add("task-tack-strip", Class::Application, minutes.tack_strip_metre * metres(q.tack_strip));
    add("task-staple", Class::Application, minutes.staple_metre * metres(q.staple_line));
    let corners = |round: bool| {
        let wanted = |how: &CornerHow| matches!(how, CornerHow::Rounded { .. }) == round;
        each(piece.corners.iter().filter(|c| wanted(&c.how)).count())
    };
    add("task-square-corners", Class::Application, minutes.square_corner * corners(false));
    add("task-rounded-corners", Class::Application, minutes.round_corner * corners(true));
    add("task-folded-ends", Class::Application, minutes.folded_end * each(q.folded_ends));
    add("task-cut-outs", Class::Application, minutes.cut_out * each(piece.cut_outs.len()));
    add("task-fill-and-close", Class::Fabrication, minutes.fill * each(q.fills));
    let backs = usize::from(q.dust_cover_mm2 > 0.0);
    add("task-dust-cover", Class::Application, minutes.dust_cover * each(backs));
    if matches!(about.fixing, Some(Fixing::Screws { .. } | Fixing::Clips(_) | Fixing::Cleat)) {
        add("task-refit", Class::Fitting, minutes.fit);
    }
    tasks
}

/// For a sewn piece, once round its face.
fn perimeter(piece: &Developed) -> Length {
    (piece.finished.0 + piece.finished.1) * 2
}

/// Total minutes.
pub fn total(tasks: &[Task]) -> Decimal {
    tasks.iter().map(|t| t.minutes).sum()
}
