//! Panels in columns and rows on a wall, with sockets and switches that must not straddle a gap.
//!
//! Worked example: wall 4200 x 2400, margin 10, gap 8, 6 x 3: finished 690 x 788.

use super::table::{Key, Nature, Sort, Table};
use super::values::Values;
use super::{Kind, Mirrored, OfKind, Panel, Panelled, Panels};
use crate::bench::cautions::POWER;
use crate::bench::{Bench, Step};
use crate::build::{Ask, Kit};
use crate::fault::Fault;
use crate::message::message;
use crate::panel::{CutOut, PanelShape};
use crate::rates::Allowances;
use crate::working::{Rounding, Working, of};
use geometry::{Length, Path, Vector};

/// Fitting on a wall, placed from the left corner and the floor.
#[derive(Clone, Debug, PartialEq)]
pub struct WallFitting {
    /// What it is.
    pub what: String,
    /// Centre from the left corner of the wall.
    pub x: Length,
    /// Centre from the floor.
    pub y: Length,
    /// Width of the opening.
    pub width: Length,
    /// Height of the opening.
    pub height: Length,
    /// How far its plate covers beyond the opening.
    pub flange: Length,
}

/// Panels in columns and rows on a wall.
#[derive(Clone, Debug, PartialEq)]
pub struct WallGrid {
    /// Width of the wall.
    pub width: Length,
    /// Height of the wall.
    pub height: Length,
    /// Left free all round.
    pub margin: Length,
    /// Between panels.
    pub gap: Length,
    /// Side by side.
    pub columns: usize,
    /// One above the other.
    pub rows: usize,
    /// Sockets, switches, vents.
    pub fittings: Vec<WallFitting>,
}

const FITTING: [Key; 6] = [
    Key::new("what", Sort::Text, ""),
    Key::length("x", ""),
    Key::length("y", ""),
    Key::length("width", ""),
    Key::length("height", ""),
    Key::or_zero("flange", ""),
];
const KEYS: [Key; 7] = [
    Key::length("width", "wall, in three places; the least"),
    Key::length("height", "wall, in three places; the least"),
    Key::or_zero("margin", "left free all round"),
    Key::or_zero("gap", "between panels"),
    Key::new("columns", Sort::Count(1, 200), ""),
    Key::new("rows", Sort::Count(1, 200), ""),
    Key::optional(
        "fitting",
        Sort::Tables(&FITTING),
        "middle of each from the left corner and the floor, its size and its plate",
    ),
];

/// What is asked of a wall of panels.
pub const TABLE: Table = Table { name: "wall grid", keys: &KEYS, nature: Nature::BOARD, read };

fn read(values: &mut Values, _: &mut Vec<Fault>) -> Kind {
    let [width, height, margin, gap] =
        ["width", "height", "margin", "gap"].map(|key| values.length(key));
    let fitting = |f: &Values| WallFitting {
        what: f.text("what").unwrap_or_default().to_string(),
        x: f.length("x"),
        y: f.length("y"),
        width: f.length("width"),
        height: f.length("height"),
        flange: f.length("flange"),
    };
    Kind::WallGrid(WallGrid {
        width,
        height,
        margin,
        gap,
        columns: values.count("columns"),
        rows: values.count("rows"),
        fittings: values.tables("fitting").iter().map(fitting).collect(),
    })
}

impl OfKind for WallGrid {
    fn table(&self) -> &'static Table {
        &TABLE
    }

    /// A wall is made of its panels: nothing is left to cut of the wall itself.
    fn develop(&self, _: &Ask) -> Result<Kit, Vec<Fault>> {
        Ok(Kit::default())
    }

    fn panels(&self, ask: &Ask) -> Result<Option<Panelled>, Vec<Fault>> {
        let grid = grid(self, ask.build.allowances, &ask.at)?;
        let panels = |label: String, cut_outs: Vec<CutOut>, count: usize| Panels {
            label,
            kind: Kind::Panel(Panel {
                shape: PanelShape::rectangle(grid.core.0, grid.core.1),
                notches: Vec::new(),
                sides: Vec::new(),
                cut_outs,
            }),
            count,
            finished: grid.finished,
            workings: grid.workings.clone(),
        };
        let mut all = Vec::new();
        let plain = self.columns * self.rows - grid.pierced.len();
        if plain > 0 {
            all.push(panels(String::new(), Vec::new(), plain));
        }
        for ((column, row), cuts) in &grid.pierced {
            let label = format!(" column {} row {}", column + 1, row + 1);
            all.push(panels(label, cuts.clone(), 1));
        }
        let warnings = grid.straddling.iter().map(|&i| self.straddles(ask, i)).collect();
        Ok(Some(Panelled { panels: all, warnings }))
    }

    fn steps(&self, bench: &Bench) -> Vec<Step> {
        bench.covered(Length::ZERO, vec![bench.edges()], &[POWER])
    }

    fn mirrored(&self) -> Mirrored {
        let flip = |f: &WallFitting| WallFitting { x: self.width - f.x, ..f.clone() };
        let fittings = self.fittings.iter().map(flip).collect();
        Mirrored::Other(Kind::WallGrid(Self { fittings, ..self.clone() }))
    }

    fn reach(&self) -> Option<Length> {
        Some(self.width)
    }
}

impl WallGrid {
    fn straddles(&self, ask: &Ask, fitting: usize) -> Fault {
        let clear: Vec<String> =
            clear_columns(self, 3, 10).iter().map(ToString::to_string).collect();
        let remedy = match clear.is_empty() {
            true => message("fitting-straddles-gap").part("none"),
            false => message("fitting-straddles-gap").part("do").text("columns", clear.join(", ")),
        };
        let what = &self.fittings[fitting].what;
        ask.fault(
            "fitting-straddles-gap",
            &format!("fitting.{fitting}"),
            message("fitting-straddles-gap").text("what", what),
            remedy,
        )
    }
}

/// The grid worked out.
#[derive(Clone, Debug, PartialEq)]
pub struct Grid {
    /// Finished, covers on.
    pub finished: (Length, Length),
    /// Of the core or board.
    pub core: (Length, Length),
    /// Panels with openings: column and row from 0 at the bottom left, and their openings in the
    /// core's coordinates.
    pub pierced: Vec<((usize, usize), Vec<CutOut>)>,
    /// Fittings that straddle a gap or the margin.
    pub straddling: Vec<usize>,
    /// Where the numbers come from.
    pub workings: Vec<Working>,
}

/// `finished = (wall - 2 margins - (n - 1) gaps) / n` each way; core = finished less the covers.
///
/// Source: arithmetic.
pub fn grid(wall: &WallGrid, allowances: &Allowances, at: &str) -> Result<Grid, Vec<Fault>> {
    let share = |total: Length, n: usize| {
        (total - wall.margin * 2 - wall.gap * (n as i64 - 1)).share(n.max(1) as i64)
    };
    let finished = (share(wall.width, wall.columns), share(wall.height, wall.rows));
    let core = |l: Length| (l - allowances.build_up * 2).round_down(allowances.board_step);
    let core = (core(finished.0), core(finished.1));
    if core.0 <= Length::ZERO || core.1 <= Length::ZERO {
        return Err(vec![Fault::new(
            "no-room-for-panels",
            format!("{at}.columns"),
            message("no-room-for-panels"),
            message("no-room-for-panels").part("do"),
        )]);
    }
    let mut pierced: Vec<((usize, usize), Vec<CutOut>)> = Vec::new();
    let mut straddling = Vec::new();
    for (i, fitting) in wall.fittings.iter().enumerate() {
        let across =
            place(fitting.x, fitting.width, wall.margin, finished.0, wall.gap, wall.columns);
        let up = place(fitting.y, fitting.height, wall.margin, finished.1, wall.gap, wall.rows);
        match (across, up) {
            (Some((column, x)), Some((row, y))) => {
                // The core starts inside the finished edge by the cover on that side.
                let inset = (finished.0 - core.0).share(2);
                let raise = (finished.1 - core.1).share(2);
                let cut = opening(fitting, x - inset, y - raise);
                match pierced.iter_mut().find(|p| p.0 == (column, row)) {
                    Some(panel) => panel.1.push(cut),
                    None => pierced.push(((column, row), vec![cut])),
                }
            }
            _ => straddling.push(i),
        }
    }
    pierced.sort_by_key(|p| (p.0.1, p.0.0));
    let working = |what: &'static str, total: Length, n: usize| {
        let left = of(total) - 2 * of(wall.margin) - (n as i64 - 1) * of(wall.gap);
        Working::of(message(what), left / n as i64)
    };
    let less = |what: &'static str, from: Length| {
        Working::of(message(what), of(from) - 2 * of(allowances.build_up))
            .round(Rounding::Down(allowances.board_step))
    };
    let workings = vec![
        working("work-finished-width", wall.width, wall.columns),
        working("work-finished-height", wall.height, wall.rows),
        less("work-core-width", finished.0),
        less("work-core-height", finished.1),
    ];
    Ok(Grid { finished, core, pierced, straddling, workings })
}

/// Which panel an opening lies in along one direction, and where its low edge is from the panel's
/// finished edge; `None` if it straddles.
fn place(
    centre: Length,
    size: Length,
    margin: Length,
    finished: Length,
    gap: Length,
    count: usize,
) -> Option<(usize, Length)> {
    let low = centre - size.share(2);
    (0..count).find_map(|i| {
        let start = margin + (finished + gap) * i as i64;
        (start <= low && low + size <= start + finished).then(|| (i, low - start))
    })
}

fn opening(fitting: &WallFitting, x: Length, y: Length) -> CutOut {
    let (w, h) = (fitting.width.mm(), fitting.height.mm());
    let points = [(0.0, 0.0), (w, 0.0), (w, h), (0.0, h)].map(|(a, b)| geometry::Point::new(a, b));
    CutOut {
        what: fitting.what.clone(),
        shape: Path::straight(&points).moved(Vector::new(x.mm(), y.mm())),
        flange: fitting.flange,
    }
}

/// Numbers of equal columns from `from` to `to` for which no fitting straddles.
pub fn clear_columns(wall: &WallGrid, from: usize, to: usize) -> Vec<usize> {
    let clears = |columns: &usize| {
        let finished = (wall.width - wall.margin * 2 - wall.gap * (*columns as i64 - 1))
            .share(*columns as i64);
        wall.fittings
            .iter()
            .all(|f| place(f.x, f.width, wall.margin, finished, wall.gap, *columns).is_some())
    };
    (from..=to).filter(clears).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_office_wall_and_the_switch_that_straddles() {
        // Arithmetic, checked by hand: 4200 x 2400, margin 10, gap 8, 6 x 3: finished 690 x 788,
        // core 688 x 786. Socket A lies in column 2, row 1 at 267, 245; B in column 4 at 271; data
        // in column 5 at 303; the switch straddles columns 5 and 6. 3 and 9 columns clear all.
        let mm = Length::from_mm;
        let fitting = |what: &str, x: f64, y: f64, w: f64| WallFitting {
            what: what.into(),
            x: mm(x),
            y: mm(y),
            width: mm(w),
            height: mm(90.0),
            flange: Length::ZERO,
        };
        let wall = WallGrid {
            width: mm(4200.0),
            height: mm(2400.0),
            margin: mm(10.0),
            gap: mm(8.0),
            columns: 6,
            rows: 3,
            fittings: vec![
                fitting("socket A", 1050.0, 300.0, 150.0),
                fitting("socket B", 2450.0, 300.0, 150.0),
                fitting("data", 3150.0, 300.0, 90.0),
                fitting("switch", 3480.0, 1100.0, 90.0),
            ],
        };
        let mut allowances = Allowances::usual(geometry::Unit::Millimetre);
        allowances.build_up = mm(1.0);
        let grid = grid(&wall, &allowances, "piece.0").unwrap();
        assert_eq!(grid.finished, (mm(690.0), mm(788.0)));
        assert_eq!(grid.core, (mm(688.0), mm(786.0)));
        assert_eq!(grid.straddling, [3]);
        let found: Vec<((usize, usize), f64, f64)> = grid
            .pierced
            .iter()
            .map(|(at, cuts)| {
                let low = cuts[0].shape.bounds().0;
                // Measured from the finished edge: one cover more than from the core.
                (*at, low.x + 1.0, low.y + 1.0)
            })
            .collect();
        let want = [((1, 0), 267.0, 245.0), ((3, 0), 271.0, 245.0), ((4, 0), 303.0, 245.0)];
        assert_eq!(found, want);
        assert_eq!(clear_columns(&wall, 3, 10), [3, 9]);
    }
}
