//! Whether a few rectangles can lie on a length of cloth even if they might be cut into columns that move
//! up and down freely, or into rows that move sideways.
//!
//! At every place across the cloth the heights of the parts there add up to no more than its length: they
//! are tasks that last as long as they are wide and need as much as they are high. If no times can be
//! found for them, no lay is so short. Every schedule can be pushed left until each task starts at the
//! left edge or where another ends, so only those are gone through, with no more cloth lost than the area
//! of the parts leaves; what led nowhere is remembered.
//!
//! Source of the relaxation: Martello, Monaci and Vigo, "An exact approach to the strip-packing problem",
//! INFORMS Journal on Computing 15 (2003), whose parts are cut into slices that stay next to each other.

#![allow(clippy::disallowed_types, reason = "a memory that is only asked, never walked through")]

use std::collections::HashSet;
use std::hash::{DefaultHasher, Hash, Hasher};

/// Like parts: how long they last and how much they need, in each turn.
#[derive(Clone, Debug)]
pub(crate) struct Task {
    pub sizes: Vec<(i64, i64)>,
    pub count: usize,
}

/// What trying came to.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Outcome {
    Never,
    Ever,
    TooMany,
}

struct Trying<'a> {
    tasks: Vec<Task>,
    horizon: i64,
    capacity: i64,
    nodes: u64,
    most: u64,
    stop: &'a (dyn Fn() -> bool + Sync),
    /// As two hashes each: that two agree by chance is less likely than a fault of the machine.
    failed: HashSet<(u64, u64)>,
}

/// So many failures are remembered.
const MOST_FAILED: usize = 3_000_000;

/// Whether the tasks cannot be done up to the horizon with the capacity, true being certain; and how many
/// choices were looked at: about `most` at most, and until `stop`.
pub(crate) fn impossible(
    tasks: &[Task],
    horizon: i64,
    capacity: i64,
    most: u64,
    stop: &(dyn Fn() -> bool + Sync),
) -> (bool, u64) {
    let area = |t: &Task| {
        let least = t.sizes.iter().map(|s| s.0 as i128 * s.1 as i128).min().unwrap_or(0);
        least * t.count as i128
    };
    let spare = i128::from(horizon) * i128::from(capacity) - tasks.iter().map(area).sum::<i128>();
    if spare < 0 {
        return (true, 0);
    }
    let mut tasks = tasks.to_vec();
    // What needs most is hardest to find room for.
    tasks.sort_by_key(|t| std::cmp::Reverse(t.sizes.iter().map(|s| s.1).max()));
    let failed = HashSet::new();
    let mut trying = Trying { tasks, horizon, capacity, nodes: 0, most, stop, failed };
    (trying.from(0, &[], spare) == Outcome::Never, trying.nodes)
}

impl Trying<'_> {
    /// Whether what is left can be done from a time on, with these ends and needs under way.
    fn from(&mut self, now: i64, under_way: &[(i64, i64)], spare: i128) -> Outcome {
        if self.tasks.iter().all(|task| task.count == 0) {
            return Outcome::Ever;
        }
        let key = self.key(now, under_way);
        if self.failed.contains(&key) {
            return Outcome::Never;
        }
        let used = under_way.iter().map(|task| task.1).sum::<i64>();
        let outcome = self.starting(now, under_way, &mut Vec::new(), 0, used, spare);
        if outcome == Outcome::Never && self.failed.len() < MOST_FAILED {
            self.failed.insert(key);
        }
        outcome
    }

    /// The same, once it is settled how many of the tasks before `first` start now.
    fn starting(
        &mut self,
        now: i64,
        under_way: &[(i64, i64)],
        started: &mut Vec<(i64, i64)>,
        first: usize,
        used: i64,
        spare: i128,
    ) -> Outcome {
        self.nodes += 1;
        if self.nodes > self.most || (self.nodes.is_multiple_of(4096) && (self.stop)()) {
            self.nodes = self.most + 1;
            return Outcome::TooMany;
        }
        // Those that start are a list of kinds and turns that never goes back, so that each set is met once.
        let choices: usize = self.tasks.iter().map(|t| t.sizes.len()).sum();
        for choice in first..choices {
            let (task, size) = self.choice(choice);
            let (lasts, needs) = size;
            let fits = now + lasts <= self.horizon && used + needs <= self.capacity;
            if self.tasks[task].count == 0 || !fits {
                continue;
            }
            self.tasks[task].count -= 1;
            started.push((now + lasts, needs));
            let outcome = self.starting(now, under_way, started, choice, used + needs, spare);
            started.pop();
            self.tasks[task].count += 1;
            if outcome != Outcome::Never {
                return outcome;
            }
        }
        let Some(next) = under_way.iter().chain(started.iter()).map(|task| task.0).min() else {
            return Outcome::Never;
        };
        let lost = i128::from(next - now) * i128::from(self.capacity - used);
        if lost > spare {
            return Outcome::Never;
        }
        let mut left: Vec<(i64, i64)> =
            under_way.iter().chain(started.iter()).copied().filter(|task| task.0 > next).collect();
        left.sort_unstable();
        self.from(next, &left, spare - lost)
    }

    fn choice(&self, mut choice: usize) -> (usize, (i64, i64)) {
        for (i, task) in self.tasks.iter().enumerate() {
            match task.sizes.get(choice) {
                Some(&size) => return (i, size),
                None => choice -= task.sizes.len(),
            }
        }
        (0, (i64::MAX / 2, i64::MAX / 2))
    }

    fn key(&self, now: i64, under_way: &[(i64, i64)]) -> (u64, u64) {
        let hash = |seed: u64| {
            let mut hasher = DefaultHasher::new();
            (seed, now, under_way).hash(&mut hasher);
            for task in &self.tasks {
                task.count.hash(&mut hasher);
            }
            hasher.finish()
        };
        (hash(1), hash(2))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn task(lasts: i64, needs: i64, count: usize) -> Task {
        Task { sizes: vec![(lasts, needs)], count }
    }

    fn never(tasks: &[Task], horizon: i64, capacity: i64, most: u64) -> bool {
        impossible(tasks, horizon, capacity, most, &|| false).0
    }

    #[test]
    fn three_that_need_more_than_half_follow_one_another() {
        let tasks = [task(4, 6, 3)];
        assert!(never(&tasks, 11, 10, 1000));
        assert!(!never(&tasks, 12, 10, 1000));
        // Stopped: nothing is certain.
        assert!(!never(&tasks, 11, 10, 0));
        // On their sides two lie beside each other.
        let turning = [Task { sizes: vec![(4, 6), (6, 4)], count: 3 }];
        assert!(!never(&turning, 11, 10, 1000));
    }

    /// Whether tasks can be done at whole times, by trying all.
    fn fits(tasks: &[(i64, i64)], horizon: usize, capacity: i64, used: &mut [i64]) -> bool {
        let Some((&(lasts, needs), rest)) = tasks.split_first() else { return true };
        (0..=horizon as i64 - lasts).any(|start| {
            let span = start as usize..(start + lasts) as usize;
            used[span.clone()].iter_mut().for_each(|u| *u += needs);
            let may = used[span.clone()].iter().all(|&u| u <= capacity)
                && fits(rest, horizon, capacity, used);
            used[span].iter_mut().for_each(|u| *u -= needs);
            may
        })
    }

    proptest! {
        #[test]
        fn what_is_impossible_is_what_no_times_allow(
            sizes in proptest::collection::vec((1_i64..6, 1_i64..6, 1_usize..3), 1..4),
            horizon in 5_usize..9,
            capacity in 5_i64..10,
        ) {
            let tasks: Vec<Task> = sizes.iter().map(|&(w, h, n)| task(w, h, n)).collect();
            let all: Vec<(i64, i64)> =
                sizes.iter().flat_map(|&(w, h, n)| std::iter::repeat_n((w, h), n)).collect();
            let never = never(&tasks, horizon as i64, capacity, 10_000_000);
            prop_assert_eq!(never, !fits(&all, horizon, capacity, &mut vec![0; horizon]));
        }
    }
}
