//! Open work laid into the hours there are: by due date, the earliest first, one bench after the other.
//!
//! Source: on one machine the earliest due date first makes the greatest lateness least, Jackson (1955); from
//! memory.

use jiff::civil::{Date, Weekday};
use jiff::{Span, ToSpan};

/// A job that is still to be done.
#[derive(Clone, Debug, PartialEq)]
pub struct Work {
    /// Its number.
    pub job: i64,
    /// Promised for; nothing if no day was said.
    pub due: Option<Date>,
    /// Not before this day: cloth that is still to come.
    pub from: Option<Date>,
    /// Hours that are left.
    pub hours: f64,
}

/// When it is worked on.
#[derive(Clone, Debug, PartialEq)]
pub struct Slot {
    /// Its number.
    pub job: i64,
    /// First day.
    pub begins: Date,
    /// Last day.
    pub ends: Date,
    /// Days late; nothing if it is in time or no day was promised.
    pub late: i32,
}

/// Hours of a week at all benches together, Monday first.
pub type Week = [f64; 7];

/// Looked so far ahead.
const HORIZON: i32 = 730;

/// Lays the work into the hours, from a day on; what does not fit within two years is left out.
pub fn schedule(work: &[Work], week: &Week, today: Date) -> Vec<Slot> {
    let mut order: Vec<&Work> = work.iter().collect();
    let last = Date::MAX;
    order.sort_by_key(|w| (w.due.unwrap_or(last), w.job));
    let mut free: Vec<f64> = (0..HORIZON).map(|n| hours_of(week, day(today, n))).collect();
    order.into_iter().filter_map(|work| lay(work, &mut free, today)).collect()
}

fn day(today: Date, n: i32) -> Date {
    let span: Span = n.days();
    today.checked_add(span).unwrap_or(Date::MAX)
}

fn hours_of(week: &Week, day: Date) -> f64 {
    let at = match day.weekday() {
        Weekday::Monday => 0,
        Weekday::Tuesday => 1,
        Weekday::Wednesday => 2,
        Weekday::Thursday => 3,
        Weekday::Friday => 4,
        Weekday::Saturday => 5,
        Weekday::Sunday => 6,
    };
    week[at].max(0.0)
}

fn lay(work: &Work, free: &mut [f64], today: Date) -> Option<Slot> {
    let mut left = work.hours.max(0.0);
    let mut begins = None;
    for (n, hours) in free.iter_mut().enumerate() {
        let date = day(today, n as i32);
        if work.from.is_some_and(|from| date < from) || (*hours <= 0.0 && left > 0.0) {
            continue;
        }
        begins = begins.or(Some(date));
        let taken = left.min(*hours);
        *hours -= taken;
        left -= taken;
        if left <= 1e-9 {
            let late = work.due.map_or(0, |due| due.until(date).map_or(0, |s| s.get_days()));
            return Some(Slot { job: work.job, begins: begins?, ends: date, late: late.max(0) });
        }
    }
    None
}

#[cfg(test)]
mod tests {
    use super::*;
    use jiff::civil::date;
    use proptest::prelude::*;

    const WEEK: Week = [8.0, 8.0, 8.0, 8.0, 6.0, 0.0, 0.0];

    fn work(job: i64, due: Option<Date>, hours: f64) -> Work {
        Work { job, due, from: None, hours }
    }

    #[test]
    fn the_earliest_due_date_comes_first_and_weekends_are_free() {
        // Friday 27 November 2026: 6 h, then 8 h on Monday.
        let friday = date(2026, 11, 27);
        let all = [
            work(1, Some(date(2026, 12, 4)), 8.0),
            work(2, Some(date(2026, 11, 27)), 8.0),
            work(3, None, 1.0),
        ];
        let slots = schedule(&all, &WEEK, friday);
        assert_eq!((slots[0].job, slots[0].begins, slots[0].ends), (2, friday, date(2026, 11, 30)));
        assert_eq!(slots[0].late, 3);
        assert_eq!((slots[1].job, slots[1].ends, slots[1].late), (1, date(2026, 12, 1), 0));
        assert_eq!((slots[2].job, slots[2].ends), (3, date(2026, 12, 1)));
    }

    proptest! {
        /// Jackson's rule: no other order of two jobs makes the greater of their latenesses less.
        #[test]
        fn swapping_two_jobs_helps_nobody(a in 1.0_f64..40.0, b in 1.0_f64..40.0, da in 1_i32..30, db in 1_i32..30) {
            let today = date(2026, 11, 30);
            let (due_a, due_b) = (day(today, da), day(today, db));
            let greatest = |slots: &[Slot]| slots.iter().map(|s| s.late).max();
            let all = [work(1, Some(due_a), a), work(2, Some(due_b), b)];
            let best = greatest(&schedule(&all, &WEEK, today));
            // The other order, laid by hand: due dates told the other way round, lateness by the true ones.
            let mut free: Vec<f64> = (0..HORIZON).map(|n| hours_of(&WEEK, day(today, n))).collect();
            let (first, second) = if (due_a, 1) <= (due_b, 2) { (&all[1], &all[0]) } else { (&all[0], &all[1]) };
            let other: Vec<Slot> = [first, second].into_iter().filter_map(|w| lay(w, &mut free, today)).collect();
            prop_assert!(best <= greatest(&other));
        }

        #[test]
        fn no_day_is_worked_longer_than_it_has(hours in proptest::collection::vec(0.5_f64..30.0, 1..8)) {
            let today = date(2026, 11, 30);
            let all: Vec<Work> = hours.iter().enumerate().map(|(i, h)| work(i as i64, None, *h)).collect();
            let slots = schedule(&all, &WEEK, today);
            let last = slots.iter().map(|s| s.ends).max().unwrap_or(today);
            let days = today.until(last).map_or(0, |s| s.get_days());
            let there: f64 = (0..=days).map(|n| hours_of(&WEEK, day(today, n))).sum();
            prop_assert!(hours.iter().sum::<f64>() <= there + 1e-6);
            prop_assert_eq!(slots.len(), hours.len());
        }
    }
}
