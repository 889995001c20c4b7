//! Covered cord by the length.

use super::common::missing;
use super::table::{Key, Nature, Sort, Table, Work};
use super::values::Values;
use super::{Extent, Kind, OfKind};
use crate::bench::cautions::NEEDLE;
use crate::bench::{Bench, Step};
use crate::build::{Ask, Kit, welt};
use crate::fault::Fault;
use crate::message::message;
use crate::part::Quantities;
use geometry::Length;

/// Covered cord.
#[derive(Clone, Debug, PartialEq)]
pub struct WeltRuns {
    /// Each run, finished.
    pub runs: Vec<Length>,
    /// Two cords side by side in one strip.
    pub double: bool,
}

const KEYS: [Key; 2] =
    [Key::optional("runs", Sort::Lengths, "each run, along the seam"), Key::flag("double", false)];

/// What is asked.
pub const TABLE: Table =
    Table { name: "welt", keys: &KEYS, nature: Nature { work: Work::Cut, ..Nature::FILLED }, read };

fn read(values: &mut Values, faults: &mut Vec<Fault>) -> Kind {
    let runs = values.lengths("runs");
    if runs.is_empty() {
        faults.push(missing("runs", message("missing-runs")));
    }
    Kind::WeltRuns(WeltRuns { runs, double: values.flag("double") })
}

impl OfKind for WeltRuns {
    fn table(&self) -> &'static Table {
        &TABLE
    }

    fn develop(&self, ask: &Ask) -> Result<Kit, Vec<Fault>> {
        // Each run starts, ends and laps.
        let lap = ask.build.allowances.welt_lap;
        let runs: Vec<Length> = self.runs.iter().map(|run| *run + lap).collect();
        let (parts, length) = welt::strips_of(ask, &runs, self.double);
        let quantities = Quantities {
            // Two cords go into double welt.
            welt: if self.double { length * 2 } else { length },
            welt_runs: self.runs.len(),
            ..Quantities::default()
        };
        let longest = self.runs.iter().copied().max().unwrap_or_default();
        Ok(Kit::of_sewn((parts, quantities), (longest, ask.build.allowances.cord)))
    }

    fn extent(&self, _: (Length, Length), _: Option<Length>) -> Extent {
        Extent::Runs(self.runs.len(), self.runs.iter().copied().sum())
    }

    fn steps(&self, bench: &Bench) -> Vec<Step> {
        let length = bench.made.quantities.welt;
        let make = if self.double {
            message("step-welt-double").chalk("length", length)
        } else {
            let single = message("step-welt-single").length("cord", bench.allowances.cord);
            single.chalk("length", length)
        };
        vec![bench.cut_cloth(), Step::new(make, &[NEEDLE])]
    }
}
