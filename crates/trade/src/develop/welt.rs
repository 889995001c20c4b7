//! Covered cord: strips and their joins.

use super::Ask;
use super::strips::rectangle;
use crate::kind::WeltGrain;
use crate::part::{Part, Stuff, Turning};
use crate::rates::Allowances;
use crate::working::{Term, Working};
use geometry::Length;

/// Width of a welt strip: `2 n + pi (cord + cloth)`, rounded up to the shop's cutting step.
///
/// Source: circumference of the covered cord plus both allowances, geometry; gives the trade's
/// 1 1/2 in for 5/32 cord and 1/2 in allowances (a working upholsterer's instruction page).
pub fn strip_width(cord: Length, cloth: Length, seam: Length, step: Length) -> Length {
    let round = Length::from_mm((cord + cloth).mm() * std::f64::consts::PI);
    (seam * 2 + round).round_up(step)
}

/// How many strips of `each` make `run`, when every join takes `join`.
///
/// Source: strips = run / width rounded up, an upholsterer's worked example (950 in of welt, 54 in
/// cloth, 1 1/2 in strips: 18 strips, 27 in of cloth); the joins are added here.
pub fn strip_count(run: Length, each: Length, join: Length) -> i64 {
    if run <= each {
        return 1;
    }
    // k strips give k each - (k - 1) join.
    (run - join).steps_up(each - join)
}

/// Width of a strip for two cords side by side, `3 n + 2 pi (cord + cloth)`: both cords wrapped, and the
/// tail that closes the back.
///
/// Source: circumferences of the covered cords, geometry; the trade cuts about 3 in for 5/32 cord and
/// 1/2 in allowances, common practice, no source.
pub fn double_strip_width(cord: Length, cloth: Length, seam: Length, step: Length) -> Length {
    let round = Length::from_mm((cord + cloth).mm() * std::f64::consts::TAU);
    (seam * 3 + round).round_up(step)
}

/// Strips for runs of welt, each with its lap, and their length together.
pub fn strips(ask: &Ask, runs: &[Length]) -> (Vec<Part>, Length) {
    strips_of(ask, runs, false)
}

/// Strips for runs of single or double welt, and their length together.
pub fn strips_of(ask: &Ask, runs: &[Length], double: bool) -> (Vec<Part>, Length) {
    let a = ask.build.allowances;
    let run: Length = runs.iter().copied().sum();
    if run <= Length::ZERO {
        return (Vec::new(), Length::ZERO);
    }
    let width_of = if double { double_strip_width } else { strip_width };
    let width = width_of(a.cord, ask.build.cloth, a.seam, a.cut_step);
    let join = join(a.seam);
    let usable = ask.usable;
    let (each, turns) = match ask.grain {
        WeltGrain::Cross => (usable, vec![0.0, 180.0]),
        WeltGrain::Straight => (Length::from_mm(1500.0).max(usable), vec![90.0, 270.0]),
        // A strip at 45 degrees reaches from selvedge to selvedge: U root 2, less its own width.
        WeltGrain::Bias => (
            Length::from_mm(usable.mm() * std::f64::consts::SQRT_2) - width - Length::from_mm(0.1),
            vec![45.0, 135.0, 225.0, 315.0],
        ),
    };
    // Cloth too narrow to join strips from: one whole strip, which the lay then refuses by name.
    let each = if each <= join * 2 { run } else { each };
    // Equal strips: none is a useless stub, and all are no longer than they must be.
    let count = strip_count(run, each, join);
    let length = Length::from_nm((run + join * (count - 1)).nm().div_euclid(count) + 1);
    let length = length.round_up(a.cut_step).min(each);
    let mut part = Part::new(STRIP, Stuff::Cloth, ask.cloth, rectangle(length, width));
    part.count = count as usize;
    part.turning = Turning::Degrees(turns);
    part.workings = vec![
        Working::new(
            "strip width",
            vec![
                Term::Text(if double { "3 × " } else { "2 × " }),
                Term::Length(a.seam),
                Term::Text(if double { " + 2 × π × (" } else { " + π × (" }),
                Term::Length(a.cord),
                Term::Text(" + "),
                Term::Length(ask.build.cloth),
                Term::Text(")"),
            ],
            width,
        ),
        Working::new("welt for one piece", run_terms(runs), run),
        Working::new(
            "strip length",
            vec![
                Term::Text("("),
                Term::Length(run),
                Term::Text(" + joins "),
                Term::Number((count - 1) as f64),
                Term::Text(" × "),
                Term::Length(join.round_even(Length::from_nm(10_000))),
                Term::Text(") / "),
                Term::Number(count as f64),
            ],
            length,
        ),
    ];
    (vec![part], run)
}

fn run_terms(runs: &[Length]) -> Vec<Term> {
    let tenth = super::boxed::TENTH;
    if runs.iter().all(|r| *r == runs[0]) {
        let one = Term::Length(runs[0].round_even(tenth));
        return vec![Term::Number(runs.len() as f64), Term::Text(" × "), one];
    }
    let mut terms = Vec::new();
    for (i, run) in runs.iter().enumerate() {
        if i > 0 {
            terms.push(Term::Text(" + "));
        }
        terms.push(Term::Length(run.round_even(tenth)));
    }
    terms
}

/// What two strips joined on the slant lose: twice the allowance times the root of two.
fn join(seam: Length) -> Length {
    Length::from_mm(seam.mm() * 2.0 * std::f64::consts::SQRT_2)
}

/// Welt strips each cut in two, with one more join: shorter ones may lie in what other parts leave.
/// `None` for another part, or if the halves would be all joins.
pub fn halved(part: &Part, allowances: &Allowances) -> Option<Part> {
    let (length, width) = part.size();
    if part.name != STRIP {
        return None;
    }
    let join = join(allowances.seam);
    let half = (length + join).share(2).round_up(allowances.cut_step);
    if half < LEAST_STRIP {
        return None;
    }
    let mut part = Part { outline: rectangle(half, width), count: part.count * 2, ..part.clone() };
    part.marks.clear();
    part.workings.push(Working::new(
        "cut in two, to lie in what others leave",
        vec![
            Term::Text("("),
            Term::Length(length),
            Term::Text(" + join "),
            Term::Length(join.round_even(Length::from_nm(10_000))),
            Term::Text(") / 2"),
        ],
        half,
    ));
    Some(part)
}

/// What strips of welt are called.
const STRIP: &str = "welt strip";

/// Shorter strips are not worth their joins. Common practice, no source.
const LEAST_STRIP: Length = Length::from_nm(450_000_000);

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn two_halves_joined_are_the_strip() {
        let mm = Length::from_mm;
        let allowances = Allowances {
            seam: mm(12.0),
            cut_step: mm(1.0),
            ..Allowances::usual(geometry::Unit::Millimetre)
        };
        let mut strip = Part::new(STRIP, Stuff::Cloth, "C", rectangle(mm(1300.0), mm(37.0)));
        strip.count = 3;
        let half = halved(&strip, &allowances).unwrap();
        // 12 mm allowances on the slant: 33.9 lost, so (1300 + 33.9) / 2 = 667 cut.
        assert_eq!((half.size(), half.count), ((mm(667.0), mm(37.0)), 6));
        assert!(half.size().0 * 2 - join(mm(12.0)) >= mm(1300.0));
        assert_eq!(halved(&half, &allowances), None);
        assert_eq!(halved(&Part { name: "cover".into(), ..strip }, &allowances), None);
    }

    #[test]
    fn strip_width_is_the_trades_inch_and_a_half() {
        // 5/32 in cord, 1/2 in allowances: 1.49, cut 1 1/2 (working upholsterer's page).
        let inch = Length::from_inches;
        let exact = strip_width(inch(0.15625), Length::ZERO, inch(0.5), Length::from_nm(1));
        assert!((exact.inches() - 1.4909).abs() < 5e-5);
        let cut = strip_width(inch(0.15625), Length::ZERO, inch(0.5), inch(0.0625));
        assert_eq!(cut, inch(1.5));
        // 4 mm cord, 12 mm allowances: 36.6 mm.
        let mm = Length::from_mm;
        let metric = strip_width(mm(4.0), Length::ZERO, mm(12.0), Length::from_nm(1));
        assert!((metric.mm() - 36.6).abs() < 0.05);
    }

    #[test]
    fn welt_yield_is_the_forums_worked_example() {
        // 950 in, 54 in cloth, 1 1/2 in strips: 17.6, so 18 strips, 27 in of cloth; joins included
        // it is still 18.
        let inch = Length::from_inches;
        assert_eq!(strip_count(inch(950.0), inch(54.0), Length::ZERO), 18);
        assert_eq!(strip_count(inch(950.0), inch(54.0), inch(0.707)), 18);
        assert_eq!(inch(1.5) * 18, inch(27.0));
        assert_eq!(strip_count(inch(54.0), inch(54.0), inch(1.0)), 1);
        assert_eq!(strip_count(inch(54.1), inch(54.0), inch(1.0)), 2);
    }
}
