//! Minutes of operations from what pieces really took.
//!
//! A piece that took `y` minutes had so much of each operation: `y = sum(amount x minutes) + chance`. The
//! minutes are pooled in part towards the rate book: an operation that was seen little stays near its usual
//! minutes, one that was seen often goes where its pieces say. Chance has long tails, so that one piece that
//! went wrong does not move the rest.
//!
//! Source: partial pooling, Gelman and Hill, *Data Analysis Using Regression and Multilevel/Hierarchical
//! Models* (2007), ch. 12; errors after Student's t with weights found again and again, Lange, Little and
//! Taylor, *Robust Statistical Modeling Using the t Distribution*, JASA 84 (1989), whose expected
//! information gives the ranges. From memory.

use nalgebra::{DMatrix, DVector};
use rust_decimal::Decimal;
use rust_decimal::prelude::ToPrimitive;
use std::collections::BTreeMap;
use trade::operations::{Minutes, Operation};

/// One piece that is done: what it was counted at, and what it took.
#[derive(Clone, Debug, PartialEq)]
pub struct Took {
    /// So much of each operation.
    pub amounts: Vec<(Operation, f64)>,
    /// Minutes it took.
    pub minutes: f64,
}

/// What was learned of an operation.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Learned {
    /// Which.
    pub operation: Operation,
    /// Minutes for one in the rate book.
    pub book: f64,
    /// Minutes for one as learned.
    pub minutes: f64,
    /// Four times in five the shop's true minutes lie between these.
    pub range: (f64, f64),
    /// How many pieces had it.
    pub pieces: usize,
}

/// What was learned together.
#[derive(Clone, Debug, PartialEq)]
pub struct Lesson {
    /// Of each operation that was seen.
    pub learned: Vec<Learned>,
    /// How far a piece's hours stay from what is learned, percent either way, four times in five.
    pub spread: f64,
}

/// How far a shop's minutes may be from the rate book, as a share of them, before anything is seen.
const PRIOR: f64 = 0.4;

/// How far a piece may be from its sum, as a share of it, before anything is seen, and how many pieces that
/// guess weighs.
const CHANCE: (f64, f64) = (0.25, 4.0);

/// Degrees of freedom of chance: tails as long as a piece gone wrong in twenty.
const TAILS: f64 = 4.0;

/// Four times in five: the normal distribution's 0.9 quantile.
const FOUR_IN_FIVE: f64 = 1.281_55;

/// The same of chance itself: Student's t with four degrees of freedom, 0.9 quantile.
const FOUR_IN_FIVE_OF_CHANCE: f64 = 1.533_2;

/// Rounds of weighing; it settles in about ten.
const ROUNDS: usize = 40;

/// Minutes learned from pieces that are done, held towards a rate book; nothing from nothing.
pub fn learn(book: &Minutes, took: &[Took]) -> Option<Lesson> {
    let took: Vec<&Took> = took.iter().filter(|took| took.minutes > 0.0).collect();
    let mut seen: BTreeMap<Operation, usize> = BTreeMap::new();
    for one in &took {
        for (operation, amount) in &one.amounts {
            let usual = book.of(*operation).to_f64().unwrap_or(0.0);
            if *amount > 0.0 && usual > 0.0 {
                *seen.entry(*operation).or_default() += 1;
            }
        }
    }
    let operations: Vec<Operation> = seen.keys().copied().collect();
    if operations.is_empty() {
        return None;
    }
    let usual: Vec<f64> = operations.iter().map(|o| book.of(*o).to_f64().unwrap_or(0.0)).collect();
    // Everything in shares of the book's own minutes, so that all unknowns are near one.
    let rows: Vec<(Vec<f64>, f64)> =
        took.iter().filter_map(|one| row(one, &operations, &usual)).collect();
    let fit = Fit::of(&rows, operations.len())?;
    let learned = operations
        .iter()
        .enumerate()
        .map(|(i, operation)| {
            let (share, off) = (fit.shares[i].max(0.0), fit.off[i] * FOUR_IN_FIVE);
            Learned {
                operation: *operation,
                book: usual[i],
                minutes: usual[i] * share,
                range: (usual[i] * (share - off).max(0.0), usual[i] * (share + off)),
                pieces: seen[operation],
            }
        })
        .collect();
    Some(Lesson { learned, spread: fit.chance * FOUR_IN_FIVE_OF_CHANCE * 100.0 })
}

/// Each operation's share of what the book gives a piece, and what it took as a share of the same.
fn row(took: &Took, operations: &[Operation], usual: &[f64]) -> Option<(Vec<f64>, f64)> {
    let mut minutes = vec![0.0; operations.len()];
    for (operation, amount) in &took.amounts {
        if let Some(i) = operations.iter().position(|o| o == operation) {
            minutes[i] += amount.max(0.0) * usual[i];
        }
    }
    let whole: f64 = minutes.iter().sum();
    (whole > 0.0).then(|| (minutes.iter().map(|m| m / whole).collect(), took.minutes / whole))
}

/// Shares of the book's minutes, how far each may be off, and how far a piece is by chance.
struct Fit {
    shares: Vec<f64>,
    off: Vec<f64>,
    chance: f64,
}

impl Fit {
    fn of(rows: &[(Vec<f64>, f64)], n: usize) -> Option<Self> {
        let held = 1.0 / (PRIOR * PRIOR);
        let mut shares = DVector::from_element(n, 1.0);
        let mut chance = CHANCE.0;
        for _ in 0..ROUNDS {
            let mut matrix = DMatrix::from_diagonal_element(n, n, held);
            let mut right = DVector::from_element(n, held);
            let mut squares = CHANCE.1 * CHANCE.0 * CHANCE.0;
            for (parts, took) in rows {
                let parts = DVector::from_column_slice(parts);
                let off = took - parts.dot(&shares);
                let weight = (TAILS + 1.0) / (TAILS + off * off / (chance * chance));
                squares += weight * off * off;
                let precise = weight / (chance * chance);
                matrix += precise * &parts * parts.transpose();
                right += precise * *took * &parts;
            }
            shares = matrix.cholesky()?.solve(&right);
            chance = (squares / (CHANCE.1 + rows.len() as f64)).sqrt().max(0.01);
        }
        let expected = (TAILS + 1.0) / (TAILS + 3.0) / (chance * chance);
        let mut matrix = DMatrix::from_diagonal_element(n, n, held);
        for (parts, _) in rows {
            let parts = DVector::from_column_slice(parts);
            matrix += expected * &parts * parts.transpose();
        }
        let spread = matrix.cholesky()?.inverse();
        let off = (0..n).map(|i| spread[(i, i)].max(0.0).sqrt()).collect();
        Some(Self { shares: shares.iter().copied().collect(), off, chance })
    }
}

/// Minutes as they are written into a rate book: to a tenth.
pub fn written(minutes: f64) -> Decimal {
    Decimal::from_f64_retain(minutes).unwrap_or_default().round_dp(1).normalize()
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A small generator of chance: SplitMix64 (Steele, Lea and Flood 2014, from memory).
    struct Chance(u64);

    impl Chance {
        fn unit(&mut self) -> f64 {
            self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
            let mut z = self.0;
            z = (z ^ (z >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
            z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
            ((z ^ (z >> 31)) >> 11) as f64 / (1_u64 << 53) as f64
        }

        /// Box and Muller.
        fn normal(&mut self) -> f64 {
            let (a, b) = (self.unit().max(1e-12), self.unit());
            (-2.0 * libm::log(a)).sqrt() * libm::cos(std::f64::consts::TAU * b)
        }
    }

    const OPERATIONS: [Operation; 10] = [
        Operation::Strip,
        Operation::CutPart,
        Operation::Seam,
        Operation::Welt,
        Operation::Zip,
        Operation::Staple,
        Operation::SquareCorner,
        Operation::Fill,
        Operation::Foam,
        Operation::Board,
    ];

    /// A shop whose true minutes are known, and `n` pieces that it made.
    fn shop(seed: u64, n: usize, off: f64) -> (Vec<f64>, Vec<Took>) {
        let mut chance = Chance(seed);
        let book = Minutes::default();
        let usual: Vec<f64> =
            OPERATIONS.iter().map(|o| book.of(*o).to_f64().unwrap_or(1.0)).collect();
        let truth: Vec<f64> = usual.iter().map(|u| u * libm::exp(off * chance.normal())).collect();
        let pieces = (0..n).map(|_| {
            let mut amounts = Vec::new();
            let mut minutes = 0.0;
            for (i, operation) in OPERATIONS.iter().enumerate() {
                if chance.unit() < 0.55 {
                    let amount = 0.5 + 6.0 * chance.unit();
                    minutes += amount * truth[i];
                    amounts.push((*operation, amount));
                }
            }
            // One in twenty goes wrong.
            let wrong = if chance.unit() < 0.05 { 2.0 } else { 1.0 };
            let minutes = minutes * (1.0 + 0.15 * chance.normal()).max(0.3) * wrong;
            Took { amounts, minutes }
        });
        let pieces = pieces.collect();
        (truth, pieces)
    }

    /// How many of the ranges hold the truth, of how many; mean error learned and of the book.
    fn judged(seeds: std::ops::Range<u64>, n: usize, off: f64) -> (f64, f64, f64) {
        let (mut held, mut all, mut learned_off, mut book_off) = (0.0, 0.0, 0.0, 0.0);
        for seed in seeds {
            let (truth, took) = shop(seed, n, off);
            let Some(lesson) = learn(&Minutes::default(), &took) else { continue };
            for learned in &lesson.learned {
                let Some(i) = OPERATIONS.iter().position(|o| *o == learned.operation) else {
                    continue;
                };
                let (low, high) = learned.range;
                held += f64::from(u8::from((low..=high).contains(&truth[i])));
                all += 1.0;
                learned_off += (learned.minutes / truth[i] - 1.0).abs();
                book_off += (learned.book / truth[i] - 1.0).abs();
            }
        }
        (held / all, learned_off / all, book_off / all)
    }

    #[test]
    fn ranges_hold_as_often_as_they_say_and_learning_helps() {
        // Seeds that nothing was tuned on; few pieces and many, shops near the book and far from it.
        for (n, off) in [(12, 0.25), (60, 0.25), (60, 0.4), (200, 0.3)] {
            let (held, learned, book) = judged(9_000..9_060, n, off);
            assert!((0.72..0.95).contains(&held), "{n} pieces, {off}: {held}");
            assert!(learned < book, "{n} pieces, {off}: {learned} against {book}");
        }
        let (_, few, _) = judged(9_000..9_060, 12, 0.3);
        let (_, many, _) = judged(9_000..9_060, 200, 0.3);
        assert!(many < 0.6 * few, "{many} after {few}");
    }

    #[test]
    fn one_piece_gone_wrong_moves_little() {
        let (_, mut took) = shop(77, 40, 0.2);
        let before =
            learn(&Minutes::default(), &took).map(|lesson| lesson.learned).unwrap_or_default();
        took[3].minutes *= 10.0;
        let after =
            learn(&Minutes::default(), &took).map(|lesson| lesson.learned).unwrap_or_default();
        for (a, b) in before.iter().zip(&after) {
            assert!((a.minutes / b.minutes - 1.0).abs() < 0.15, "{a:?} {b:?}");
        }
    }

    #[test]
    fn nothing_is_learned_from_nothing() {
        assert_eq!(learn(&Minutes::default(), &[]), None);
        let empty = Took { amounts: vec![], minutes: 30.0 };
        assert_eq!(learn(&Minutes::default(), &[empty]), None);
    }
}
