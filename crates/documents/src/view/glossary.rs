//! Half a page of pictures: what the trade's words mean, and how drawings are marked.

use super::Sheets;
use crate::drawing::{Anchor, Drawing, Ink, Step};
use crate::edge;
use crate::label::{self, PT};
use geometry::{Point, Vector};
use serde_json::{Value, json};
use trade::message::message;
use words::Voice;

const WIDE: f64 = 40.0;
const TALL: f64 = 20.0;

type Draw = fn(&mut Drawing);

/// Words with a picture each; a word's name here is that of its messages.
const WORDS: [(&str, Draw); 12] = [
    ("glossary-welt", welt),
    ("glossary-boxing", boxing),
    ("glossary-turn-under", turn_under),
    ("glossary-relief", relief),
    ("glossary-tuck", tuck),
    ("glossary-rise", rise),
    ("glossary-crown", crown),
    ("glossary-pull", pull),
    ("glossary-railroad", railroad),
    ("glossary-nap", nap),
    ("glossary-half-drop", half_drop),
    ("glossary-motif", motif),
];

/// Every word: its picture, what it is called, what it means.
pub fn words(voice: &Voice, sheets: &mut Sheets) -> Vec<Value> {
    let each = |(name, draw): (&'static str, Draw)| {
        let mut drawing = Drawing::new(WIDE, TALL);
        draw(&mut drawing);
        json!({
            "drawing": sheets.add(&drawing), "word": voice.word(name),
            "means": voice.say(&message(name).part("means")),
        })
    };
    WORDS.into_iter().map(each).collect()
}

/// How drawings are marked: a sample of each line or filling.
pub fn marks(voice: &Voice, sheets: &mut Sheets) -> Vec<Value> {
    let line = |ink: Ink| {
        let mut d = Drawing::new(15.0, 4.5);
        d.stroke(Point::new(0.5, 2.2), Point::new(14.5, 2.2), ink);
        d
    };
    let filled = |fill: fn(&mut Drawing, Point, Point)| {
        let mut d = Drawing::new(15.0, 4.5);
        let (a, b) = (Point::new(0.5, 0.3), Point::new(14.5, 4.2));
        fill(&mut d, a, b);
        d.rect(a, b, Ink::line(0.25));
        d
    };
    let arrow = {
        let mut d = Drawing::new(15.0, 4.5);
        label::arrow(&mut d, Point::new(7.5, 2.2), 0.0, 8.0, PT);
        d
    };
    let number = {
        let mut d = Drawing::new(15.0, 5.5);
        label::ring(&mut d, Point::new(7.5, 2.75), 2.5, PT);
        d.bold(Point::new(7.5, 4.0), 3.5, Anchor::Middle, "7");
        d
    };
    let all = [
        ("mark-cut", line(Ink::line(1.3 * PT))),
        ("mark-across", line(Ink::dashed(1.2 * PT, 7.0 * PT, 2.0 * PT))),
        ("mark-board", line(Ink::dashed(1.1 * PT, 6.0 * PT, 3.0 * PT))),
        ("mark-stitch", line(Ink::dashed(0.9 * PT, 1.5 * PT, 2.5 * PT))),
        ("mark-foam", filled(edge::dots)),
        ("mark-wood", filled(edge::hatch)),
        ("mark-arrow", arrow),
        ("mark-number", number),
    ];
    all.into_iter()
        .map(|(name, d)| json!({ "drawing": sheets.add(&d), "means": voice.word(name) }))
        .collect()
}

fn p(x: f64, y: f64) -> Point {
    Point::new(x, y)
}

fn line(d: &mut Drawing, points: &[(f64, f64)], ink: Ink) {
    let steps = points
        .iter()
        .enumerate()
        .map(|(i, &(x, y))| if i == 0 { Step::Move(p(x, y)) } else { Step::Line(p(x, y)) });
    d.shape(steps.collect(), ink);
}

fn disc(d: &mut Drawing, at: Point, r: f64, ink: Ink) {
    let (a, b) = (at + Vector::new(-r, 0.0), at + Vector::new(r, 0.0));
    d.shape(vec![Step::Move(a), Step::Arc(r, true, b), Step::Arc(r, true, a), Step::Close], ink);
}

fn cloth() -> Ink {
    Ink::line(2.0 * PT)
}

fn thin() -> Ink {
    Ink::line(0.6 * PT)
}

fn welt(d: &mut Drawing) {
    line(d, &[(2.0, 12.0), (20.0, 12.0), (20.0, 19.0)], cloth());
    line(d, &[(38.0, 12.0), (21.0, 12.0), (21.0, 19.0)], cloth());
    disc(d, p(20.5, 8.6), 3.0, cloth());
    disc(d, p(20.5, 8.6), 1.9, Ink::line(0.0).filled(0.0));
}

fn boxing(d: &mut Drawing) {
    line(d, &[(4.0, 7.0), (13.0, 2.0), (36.0, 2.0), (27.0, 7.0), (4.0, 7.0)], thin());
    d.rect(p(4.0, 7.0), p(27.0, 17.0), Ink::line(1.3 * PT).filled(0.85));
    line(
        d,
        &[(27.0, 7.0), (36.0, 2.0), (36.0, 12.0), (27.0, 17.0)],
        Ink::line(1.3 * PT).filled(0.85),
    );
}

fn turn_under(d: &mut Drawing) {
    edge::dots(d, p(2.0, 4.0), p(28.0, 10.0));
    edge::hatch(d, p(2.0, 10.0), p(28.0, 14.0));
    line(d, &[(2.0, 4.0), (28.5, 4.0), (28.5, 14.6), (12.0, 14.6)], cloth());
    d.stroke(p(12.0, 17.5), p(28.5, 17.5), thin());
    for x in [12.0, 28.5] {
        d.stroke(p(x, 16.5), p(x, 18.5), thin());
    }
}

fn relief(d: &mut Drawing) {
    line(
        d,
        &[(4.0, 2.0), (30.0, 2.0), (30.0, 12.0), (22.0, 12.0), (22.0, 19.0), (4.0, 19.0)],
        Ink::line(1.3 * PT),
    );
    d.rect(p(22.0, 12.0), p(30.0, 19.0), Ink::dashed(0.9 * PT, 5.0 * PT, 3.0 * PT).filled(0.8));
}

fn tuck(d: &mut Drawing) {
    edge::dots(d, p(2.0, 10.0), p(38.0, 18.0));
    d.shape(
        vec![
            Step::Move(p(2.0, 10.0)),
            Step::Arc(16.0, true, p(19.6, 10.0)),
            Step::Line(p(19.8, 16.5)),
            Step::Line(p(20.2, 16.5)),
            Step::Line(p(20.4, 10.0)),
            Step::Arc(16.0, true, p(38.0, 10.0)),
        ],
        cloth(),
    );
}

fn rise(d: &mut Drawing) {
    d.shape(vec![Step::Move(p(4.0, 15.0)), Step::Arc(19.0, true, p(36.0, 15.0))], cloth());
    d.stroke(p(4.0, 15.0), p(36.0, 15.0), thin());
    d.stroke(p(20.0, 15.0), p(20.0, 6.5), thin());
    for y in [6.3, 15.0] {
        d.stroke(p(19.0, y), p(21.0, y), thin());
    }
}

fn crown(d: &mut Drawing) {
    edge::hatch(d, p(4.0, 14.0), p(36.0, 17.0));
    d.shape(
        vec![
            Step::Move(p(4.0, 14.0)),
            Step::Line(p(4.0, 10.0)),
            Step::Arc(34.0, true, p(36.0, 10.0)),
            Step::Line(p(36.0, 14.0)),
        ],
        cloth(),
    );
}

fn pull(d: &mut Drawing) {
    d.rect(p(4.0, 3.0), p(22.0, 17.0), Ink::line(1.3 * PT));
    d.rect(p(22.0, 3.0), p(36.0, 17.0), Ink::line(0.9 * PT).filled(0.85));
    d.stroke(p(22.0, 3.0), p(22.0, 17.0), Ink::dashed(0.9 * PT, 1.5 * PT, 2.5 * PT));
}

fn roll(d: &mut Drawing) {
    d.rect(p(2.0, 4.0), p(34.0, 17.0), thin());
    disc(d, p(36.0, 6.0), 2.2, thin());
    disc(d, p(36.0, 6.0), 0.8, thin());
}

fn railroad(d: &mut Drawing) {
    roll(d);
    d.rect(p(6.0, 6.0), p(28.0, 15.0), Ink::line(1.3 * PT));
    label::arrow(d, p(17.0, 10.5), 90.0, 6.5, PT);
}

fn nap(d: &mut Drawing) {
    line(d, &[(4.0, 15.0), (36.0, 15.0)], cloth());
    for i in 0..11 {
        let x = 5.0 + 2.9 * f64::from(i);
        d.stroke(p(x, 14.6), p(x + 2.6, 10.5), thin());
    }
    label::arrow(d, p(20.0, 5.5), 0.0, 9.0, PT);
}

fn half_drop(d: &mut Drawing) {
    for i in 0..4 {
        let x = 6.0 + 9.0 * f64::from(i);
        for j in 0..2 {
            let y = 5.0 + 8.0 * f64::from(j) + if i % 2 == 1 { 4.0 } else { 0.0 };
            edge::diamond(d, p(x, y), 1.4, Ink::line(0.0).filled(0.0));
        }
    }
}

fn motif(d: &mut Drawing) {
    d.rect(p(8.0, 2.5), p(32.0, 17.5), Ink::line(1.3 * PT));
    edge::diamond(d, p(20.0, 10.0), 1.6, Ink::line(0.0).filled(0.0));
    for y in [2.5, 17.5] {
        d.stroke(p(20.0, y - 1.0), p(20.0, y + 1.0), thin());
    }
}
