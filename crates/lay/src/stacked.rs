//! Where a lay of rectangles can end at all.

use crate::form::Form;
use crate::{Instance, Rule};
use geometry::Length;

/// The least total of some parts' lengths that is not below `least`: where all parts are upright
/// rectangles on plain cloth, no lay need end elsewhere.
///
/// Source: parts pushed down rest on one another, so every top is such a total; the normal patterns of
/// Herz, "Recursive computational procedure for two-dimensional stock cutting", IBM Journal of Research
/// and Development 16 (1972). Totals are found on a grid of the greatest common divisor.
pub(crate) fn stacked(instance: &Instance, least: Length) -> Option<Length> {
    let plain = instance.pattern.is_none() || instance.items.iter().all(|i| i.rule == Rule::Free);
    if !plain || !instance.on_hand.is_empty() {
        return None;
    }
    let width = instance.buying.right - instance.buying.left;
    let mut heights: Vec<(Vec<i64>, usize)> = Vec::new();
    let mut grid = 0_i64;
    for item in &instance.items {
        let forms = Form::all(item, 0);
        let mut own = Vec::new();
        for form in forms.iter().filter(|form| form.bounds.width() <= width) {
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
    let longest: i64 =
        heights.iter().map(|(own, n)| own.iter().max().unwrap_or(&0) * *n as i64).sum();
    let cells = usize::try_from(longest / grid + 1).ok()?;
    let parts: usize = heights.iter().map(|(_, n)| n).sum();
    if cells.saturating_mul(parts) > MOST_CELLS {
        // Whole steps of the grid at least.
        let steps = least.steps_up(Length::from_nm(grid));
        return Some(Length::from_nm(grid) * steps);
    }
    let mut reached = vec![false; cells];
    reached[0] = true;
    for (own, count) in heights {
        for _ in 0..count {
            for to in (0..cells).rev() {
                let from = |h: &i64| to.checked_sub((h / grid) as usize);
                reached[to] |= own.iter().filter_map(from).any(|from| reached[from]);
            }
        }
    }
    let first = usize::try_from(least.steps_up(Length::from_nm(grid))).ok()?;
    let at = (first..cells).find(|&i| reached[i])?;
    Some(Length::from_nm(grid * at as i64))
}

/// Work allowed for finding totals.
const MOST_CELLS: usize = 20_000_000;

const fn gcd(a: i64, b: i64) -> i64 {
    if b == 0 { a } else { gcd(b, a % b) }
}
