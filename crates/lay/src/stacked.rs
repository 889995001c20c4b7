//! Where a lay of rectangles can end at all.

use crate::Instance;
use crate::form::Form;
use crate::ground::{Demands, Ground};
use geometry::Length;

/// The least total of some parts' lengths that is not below `least`: where all parts are upright
/// rectangles on plain cloth, no lay need end elsewhere.
///
/// Source: parts pushed down rest on one another, so every top is such a total; the normal patterns of
/// Herz, "Recursive computational procedure for two-dimensional stock cutting", IBM Journal of Research
/// and Development 16 (1972). Totals are found on a grid of the greatest common divisor.
pub(crate) fn stacked(instance: &Instance, least: Length) -> Option<Length> {
    if !takes(instance) {
        return None;
    }
    let width = Ground::new_cloth(instance).width();
    let mut heights: Vec<(Vec<i64>, usize)> = Vec::new();
    let mut grid = 0_i64;
    for item in &instance.items {
        let forms = Form::all(item, 0, None);
        let mut own = Vec::new();
        for form in forms.iter().filter(|form| form.bounds.width().nm() <= width) {
            if !form.upright {
                return None;
            }
            own.push(form.bounds.height().nm());
            grid = gcd(grid, form.bounds.height().nm());
        }
        heights.push((own, item.count));
    }
    if grid == 0 {
        return None;
    }
    let longest: i128 = heights
        .iter()
        .map(|(own, n)| i128::from(*own.iter().max().unwrap_or(&0)) * *n as i128)
        .sum();
    let step = Length::from_nm(grid);
    let first = least.steps_up(step);
    let on_grid =
        heights.into_iter().map(|(own, n)| (own.into_iter().map(|h| h / grid).collect(), n));
    let limit = i64::try_from(longest / i128::from(grid)).unwrap_or(i64::MAX);
    match totals(on_grid, limit) {
        Some(reached) => {
            reached.into_iter().find(|&total| first <= total).map(|total| step * total)
        }
        // Whole steps of the grid at least.
        None => Some(step * first),
    }
}

/// Whether parts are free to be pushed down until they rest on one another.
fn takes(instance: &Instance) -> bool {
    let Demands { on_hand, pins, closed, held, .. } = Demands::of(instance);
    !(on_hand || pins || closed || held)
}

/// Totals of sizes up to a limit, in steps of a grid, rising, with so many copies of each in any of its
/// turns; `None` if they are too many to work with.
pub(crate) fn totals(
    sizes: impl Iterator<Item = (Vec<i64>, usize)>,
    limit: i64,
) -> Option<Vec<i64>> {
    let cells = usize::try_from(limit).ok()?.checked_add(1)?;
    let sizes: Vec<(Vec<i64>, usize)> = sizes.collect();
    let parts: usize = sizes.iter().map(|(_, n)| n).sum();
    if cells.saturating_mul(parts) > MOST_CELLS {
        return None;
    }
    let mut reached = vec![false; cells];
    reached[0] = true;
    for (own, count) in sizes {
        for _ in 0..count {
            for to in (0..cells).rev() {
                let from = |s: &i64| to.checked_sub(*s as usize);
                reached[to] |= own.iter().filter_map(from).any(|from| reached[from]);
            }
        }
    }
    Some((0..cells).filter(|&i| reached[i]).map(|i| i as i64).collect())
}

/// Work allowed for finding totals.
const MOST_CELLS: usize = 20_000_000;

/// Greatest common divisor.
pub(crate) const fn gcd(a: i64, b: i64) -> i64 {
    if b == 0 { a } else { gcd(b, a % b) }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn totals_are_those_of_some_of_the_parts() {
        // A 3 twice and a 5 or 4, as it is turned: 8 is 3 + 5, 9 is not met.
        let sizes = || [(vec![3], 2), (vec![5, 4], 1)].into_iter();
        assert_eq!(totals(sizes(), 20), Some(vec![0, 3, 4, 5, 6, 7, 8, 10, 11]));
        assert_eq!(totals(sizes(), 6), Some(vec![0, 3, 4, 5, 6]));
        assert_eq!(totals(sizes(), i64::MAX), None);
        assert_eq!((gcd(0, 12), gcd(18, 12)), (12, 6));
    }
}
