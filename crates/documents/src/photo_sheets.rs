//! The sheets that are laid round a part before it is photographed, and how it is done.

use crate::drawing::{Anchor, Drawing, Ink};
use geometry::{Point, Vector};
use photo::codes;
use photo::sheet::{self, CELL, CROSS, HEIGHT, MARK, Paper, SQUARE, WIDTH};

/// How the sheets are used, then each sheet; `count` of them.
pub fn pages(paper: Paper, count: usize) -> Vec<Drawing> {
    let sheets = (0..count.clamp(1, sheet::SHEETS)).map(|n| one(paper, n));
    std::iter::once(first(paper)).chain(sheets).collect()
}

/// A place of a sheet on its page: from the upper left, down.
fn on_page(paper: Paper, at: Point) -> Point {
    let (width, height) = paper.size();
    Point::new(width / 2.0 + at.x, height / 2.0 - at.y)
}

fn one(paper: Paper, number: usize) -> Drawing {
    let (width, height) = paper.size();
    let mut page = Drawing::new(width, height);
    let black = Ink::line(0.0).filled(0.0);
    let square = |page: &mut Drawing, low: Point, side: f64, ink: Ink| {
        page.rect(low, low + Vector::new(side, side), ink);
    };
    for row in 0..sheet::DOWN {
        for column in (0..sheet::ACROSS).filter(|column| sheet::is_black(row, *column)) {
            let middle = on_page(paper, sheet::middle(row, column));
            square(&mut page, middle + Vector::new(-SQUARE / 2.0, -SQUARE / 2.0), SQUARE, black);
        }
    }
    for (code, middle) in sheet::marks(number) {
        let corner = on_page(paper, middle) + Vector::new(-MARK / 2.0, -MARK / 2.0);
        square(&mut page, corner, MARK, black);
        for row in 0..codes::CELLS {
            for column in 0..codes::CELLS {
                if codes::is_white(code, row, column) {
                    let at = corner + Vector::new(column as f64 * CELL, row as f64 * CELL);
                    // A hair over, so that no line shows between two white cells.
                    square(&mut page, at, CELL + 0.02, Ink::line(0.0).filled(1.0));
                }
            }
        }
    }
    cross(&mut page, on_page(paper, CROSS));
    check_lines(&mut page, paper);
    let top = (height - HEIGHT) / 2.0;
    page.bold(
        Point::new(width / 2.0, top - 3.0),
        6.0,
        Anchor::Middle,
        format!("Sheet {}", number + 1),
    );
    page
}

fn cross(page: &mut Drawing, at: Point) {
    let arm = 3.0;
    page.stroke(at + Vector::new(-arm, 0.0), at + Vector::new(arm, 0.0), Ink::line(0.3));
    page.stroke(at + Vector::new(0.0, -arm), at + Vector::new(0.0, arm), Ink::line(0.3));
}

/// Ticks at the ends of the chessboard, the lengths they should have, and boxes for those they have.
fn check_lines(page: &mut Drawing, paper: Paper) {
    let (half_wide, half_high) = (WIDTH / 2.0, HEIGHT / 2.0);
    let line = |page: &mut Drawing, a: Point, b: Point| {
        page.stroke(on_page(paper, a), on_page(paper, b), Ink::line(0.2));
    };
    let below = -half_high - 2.5;
    line(page, Point::new(-half_wide, below), Point::new(half_wide, below));
    let right = half_wide + 2.5;
    line(page, Point::new(right, -half_high), Point::new(right, half_high));
    for end in [-1.0, 1.0] {
        line(
            page,
            Point::new(end * half_wide, below - 1.2),
            Point::new(end * half_wide, below + 1.2),
        );
        line(
            page,
            Point::new(right - 1.2, end * half_high),
            Point::new(right + 1.2, end * half_high),
        );
    }
    let words = |mm: f64| format!("should be {mm} mm; is ........ mm");
    let at = on_page(paper, Point::new(0.0, below - 4.2));
    page.text(at, 3.2, Anchor::Middle, words(WIDTH));
    let at = on_page(paper, Point::new(right + 4.6, 0.0));
    page.upwards(at, 3.2, Anchor::Middle, words(HEIGHT));
}

/// How to photograph a part, with a picture of it.
fn first(paper: Paper) -> Drawing {
    let (width, height) = paper.size();
    let mut page = Drawing::new(width, height);
    let left = 18.0;
    page.bold(Point::new(left, 26.0), 8.0, Anchor::Start, "An outline from a photograph");
    let steps = [
        "Print at 100 %: no fitting to the page. Measure both check lines of one sheet and write them down.",
        "Lay the part on a floor or table of another colour: a plain cloth under it if they are alike.",
        "Lay four sheets round it, 30 to 80 mm (1 1/4 to 3 in) clear of it, and tape their corners down flat.",
        "Tape from cross to cross: sheet 1 to sheet 2 and sheet 3 to sheet 4, the long ways across.",
        "Measure how thick the part is where its upper edge lies.",
        "Photograph from above, over the middle, phone level, main camera at 1x, no flash, no zoom:",
        "the whole part and all sheets in the picture. Even light; nothing on the edge of the part.",
        "Then on the page: piece, From a photograph. Or: clothwright photo PICTURE --tape 1-2=... --tape 3-4=...",
    ];
    for (i, words) in steps.iter().enumerate() {
        let at = Point::new(left, 38.0 + 7.0 * i as f64);
        // The seventh goes on from the sixth.
        if i != 6 {
            let number = if i < 6 { i + 1 } else { i };
            page.bold(at, 3.8, Anchor::Start, number.to_string());
        }
        page.text(at + Vector::new(7.0, 0.0), 3.5, Anchor::Start, *words);
    }
    page.text(
        Point::new(left, 100.0),
        3.5,
        Anchor::Start,
        "Stand firmly: a step with a rail, not a chair. Check one size of the outline by tape before you cut.",
    );
    picture(&mut page, Point::new(width / 2.0, 185.0));
    page
}

/// A part with four sheets round it and the two tapes.
fn picture(page: &mut Drawing, middle: Point) {
    let at = |x: f64, y: f64| middle + Vector::new(x, y);
    let part = [(-55.0, 22.0), (50.0, 26.0), (58.0, -20.0), (0.0, -28.0), (-52.0, -20.0)];
    let mut steps = vec![crate::drawing::Step::Move(at(part[0].0, part[0].1))];
    steps.extend(part[1..].iter().map(|p| crate::drawing::Step::Line(at(p.0, p.1))));
    steps.push(crate::drawing::Step::Close);
    page.shape(steps, Ink::line(0.5).filled(0.85));
    page.text(at(0.0, -18.0), 4.0, Anchor::Middle, "the part, face up");
    let places = [(-38.0, -52.0), (38.0, 52.0), (38.0, -52.0), (-38.0, 52.0)];
    for (number, (x, y)) in places.iter().enumerate() {
        page.rect(at(x - 22.0, y - 15.0), at(x + 22.0, y + 15.0), Ink::line(0.3).filled(1.0));
        page.bold(at(*x, y + 2.5), 7.0, Anchor::Middle, (number + 1).to_string());
        cross(page, at(*x, y + 12.0 * -y.signum()));
    }
    let tape = Ink::dashed(0.4, 3.0, 1.5);
    page.stroke(at(-38.0, -40.0), at(38.0, 40.0), tape);
    page.stroke(at(38.0, -40.0), at(-38.0, 40.0), tape);
}
