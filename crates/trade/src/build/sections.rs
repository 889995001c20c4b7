//! Sections along a wall: each gets its share of the run, its board what the covers leave.

use crate::fault::Fault;
use crate::message::message;
use crate::rates::Allowances;
use crate::wanted::Run;
use crate::working::{Rounding, Working, of};
use geometry::Length;

/// One kind of section of a run.
#[derive(Clone, Debug, PartialEq)]
pub struct Section {
    /// `section 2` when they differ.
    pub label: String,
    /// Which places along the wall, from 0.
    pub places: Vec<usize>,
    /// Finished, covers on.
    pub finished: Length,
    /// Of the board.
    pub board: Length,
    /// Where the numbers come from.
    pub workings: Vec<Working>,
}

/// Sections of a run, all alike or as measured.
///
/// ```text
/// finished = (run - 2 end gaps - (n - 1) joint gaps) / n,   board = finished - 2 build-up
/// ```
///
/// The board is rounded down to the shop's step: a board too wide does not go in, one a millimetre
/// narrow does.
///
/// Source: arithmetic; common practice, no source, for the gaps.
pub fn sections(run: &Run, allowances: &Allowances, at: &str) -> Result<Vec<Section>, Vec<Fault>> {
    let n = run.sections as i64;
    let gaps = run.end_gap * 2 + run.joint_gap * (n - 1);
    let build_up = allowances.build_up;
    let board = |finished: Length| (finished - build_up * 2).round_down(allowances.board_step);
    let board_working = |finished: Length| {
        Working::of(message("work-board"), of(finished) - 2 * of(build_up))
            .round(Rounding::Down(allowances.board_step))
    };
    if run.measured.is_empty() {
        let finished = (run.length - gaps).share(n.max(1));
        if board(finished) <= Length::ZERO {
            return Err(vec![Fault::new(
                "no-room-for-sections",
                format!("{at}.run"),
                message("no-room-for-sections").count("n", n),
                message("no-room-for-sections").part("do"),
            )]);
        }
        let left = of(run.length) - 2 * of(run.end_gap) - (n - 1) * of(run.joint_gap);
        let finished_working = Working::of(message("work-finished-section"), left / n);
        return Ok(vec![Section {
            label: String::new(),
            places: (0..run.sections).collect(),
            finished,
            board: board(finished),
            workings: vec![finished_working, board_working(finished)],
        }]);
    }
    let sum: Length = run.measured.iter().copied().sum::<Length>() + gaps;
    // A tape leaves about a millimetre open at each section.
    let slack = Length::from_nm(1_600_000) * n;
    if (sum - run.length).abs() > slack {
        return Err(vec![Fault::new(
            "sections-do-not-add-up",
            format!("{at}.run.sections"),
            message("sections-do-not-add-up").length("sum", sum).length("length", run.length),
            message("sections-do-not-add-up").part("do"),
        )]);
    }
    Ok(run
        .measured
        .iter()
        .enumerate()
        .map(|(i, &finished)| Section {
            label: format!("section {}", i + 1),
            places: vec![i],
            finished,
            board: board(finished),
            workings: vec![board_working(finished)],
        })
        .collect())
}
