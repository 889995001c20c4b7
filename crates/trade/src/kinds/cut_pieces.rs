//! A chair or sofa by its cuts: each measured at its widest and tallest over the padding, and enlarged
//! by what its edges need.

use super::table::{Key, Nature, Sort, Table, words};
use super::values::Values;
use super::{Extent, Kind, Mirrored, OfKind};
use crate::bench::cautions::{BLADE, STAPLER};
use crate::bench::{Bench, Step};
use crate::build::strips::rectangle;
use crate::build::{Ask, Kit};
use crate::fault::Fault;
use crate::message::{Between, Message, message};
use crate::part::{Part, Stuff};
use crate::rates::Allowances;
use crate::working::{Working, of};
use geometry::Length;

/// What happens at an edge of a cut piece.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum CutEdge {
    /// Stapled: the turn-under is added.
    #[default]
    Stapled,
    /// Closed over a tack strip.
    TackStrip,
    /// Sewn: the seam allowance is added.
    Seam,
    /// Out of sight: a pull of cheaper cloth is sewn on.
    Pull,
    /// Nothing is added.
    Bare,
}

/// One cut of a chair or sofa, as it is measured over the padding.
#[derive(Clone, Debug, PartialEq)]
pub struct CutPiece {
    /// `inside back`, `outside arm`.
    pub name: String,
    /// Widest.
    pub width: Length,
    /// Tallest.
    pub height: Length,
    /// For one chair.
    pub count: usize,
    /// Half of them mirrored.
    pub pair: bool,
    /// Bottom, right, top, left.
    pub edges: [CutEdge; 4],
    /// Another cloth than the piece's.
    pub cloth: Option<String>,
    /// Carries the pattern rule of the piece.
    pub shows: bool,
}

/// A chair or sofa piece by piece.
#[derive(Clone, Debug, PartialEq)]
pub struct CutPieces {
    /// As measured.
    pub cuts: Vec<CutPiece>,
}

const SIDES: [&str; 4] = ["bottom", "right", "top", "left"];
const EDGES: [(&str, CutEdge); 5] = [
    ("stapled", CutEdge::Stapled),
    ("tack strip", CutEdge::TackStrip),
    ("seam", CutEdge::Seam),
    ("pull", CutEdge::Pull),
    ("bare", CutEdge::Bare),
];
const EDGE_WORDS: [&str; 5] = words(&EDGES);
const EDGE_KEYS: [Key; 4] = [
    Key::word("bottom", &EDGE_WORDS),
    Key::word("right", &EDGE_WORDS),
    Key::word("top", &EDGE_WORDS),
    Key::word("left", &EDGE_WORDS),
];
const CUT: [Key; 8] = [
    Key::new("name", Sort::Text, ""),
    Key::length("width", ""),
    Key::length("height", ""),
    Key::flag("pair", false),
    Key::optional("count", Sort::Count(1, 100), ""),
    Key::optional("edges", Sort::Table(&EDGE_KEYS), ""),
    Key::optional("cloth", Sort::Text, ""),
    Key::flag("shows", true),
];
const KEYS: [Key; 1] = [Key::optional(
    "cut",
    Sort::Tables(&CUT),
    "each piece at its widest and tallest, over the padding, into the crevice: inside back, outside back, inside arms, outside arms, seat, front, deck",
)];

/// What is asked of a chair or sofa.
pub const TABLE: Table = Table {
    name: "cut pieces",
    keys: &KEYS,
    nature: Nature { takes_foam: false, takes_board: false, ..Nature::BOARD },
    read,
};

fn read(values: &mut Values, faults: &mut Vec<Fault>) -> Kind {
    let list = values.tables("cut");
    if list.is_empty() {
        faults.push(Fault::new(
            "missing",
            "cut",
            message("missing-3"),
            message("missing-3").part("do"),
        ));
    }
    let cuts = list.iter().enumerate().map(|(i, cut)| one(cut, i, faults)).collect();
    Kind::CutPieces(CutPieces { cuts })
}

fn one(said: &Values, number: usize, faults: &mut Vec<Fault>) -> CutPiece {
    let pair = said.flag("pair");
    let count = said.opt_count("count").unwrap_or(if pair { 2 } else { 1 });
    if pair && count % 2 == 1 {
        faults.push(Fault::new(
            "unequal-pair",
            format!("cut.{number}.count"),
            message("unequal-pair").count("count", count),
            message("unequal-pair").part("do"),
        ));
    }
    let edge = |side: &str| {
        said.table("edges").and_then(|edges| edges.choice(side, &EDGES)).unwrap_or_default()
    };
    CutPiece {
        name: said.text("name").unwrap_or_default().to_string(),
        width: said.length("width"),
        height: said.length("height"),
        count,
        pair,
        edges: SIDES.map(edge),
        cloth: said.text("cloth").map(str::to_string),
        shows: said.flag("shows"),
    }
}

/// What an edge adds.
///
/// Source: stapled edges 50 to 75 mm, tack strip 25, seam 12, a hidden part replaced by a pull of
/// cheaper cloth sewn on: common practice, no source; all are settings.
const fn added(edge: CutEdge, a: &Allowances) -> Length {
    match edge {
        CutEdge::Stapled => a.turn_under,
        CutEdge::TackStrip => a.tack_strip,
        CutEdge::Seam | CutEdge::Pull => a.seam,
        CutEdge::Bare => Length::ZERO,
    }
}

impl OfKind for CutPieces {
    fn table(&self) -> &'static Table {
        &TABLE
    }

    /// Develops every cut, and the pulls sewn to them.
    fn develop(&self, ask: &Ask) -> Result<Kit, Vec<Fault>> {
        let a = ask.build.allowances;
        let first = self.cuts.first().map_or((Length::ZERO, Length::ZERO), |c| (c.width, c.height));
        let mut kit = Kit { finished: first, ..Kit::default() };
        for cut in &self.cuts {
            let [bottom, right, top, left] = cut.edges.map(|edge| {
                added(edge, a) + if edge == CutEdge::Stapled { a.trim } else { Length::ZERO }
            });
            let size = (cut.width + left + right, cut.height + bottom + top);
            let material = cut.cloth.as_deref().unwrap_or(ask.cloth);
            let mut part = Part::new(
                Message::typed(&cut.name),
                Stuff::Cloth,
                material,
                rectangle(size.0, size.1),
            );
            part.seen = cut.shows;
            let (x, y) = (left.mm(), bottom.mm());
            let seen = rectangle(cut.width, cut.height).outer;
            part.face = Some(seen.moved(geometry::Vector::new(x, y)));
            let sum = |from: Length, low: Length, high: Length, what: &'static str| {
                Working::of(message(what).text("name", &cut.name), of(from) + of(low) + of(high))
            };
            part.explain(sum(cut.width, left, right, "work-of-cut-width").width());
            part.explain(sum(cut.height, bottom, top, "work-of-cut-height").height());
            let copies = cut.count as i64;
            for (i, edge) in cut.edges.iter().enumerate() {
                let long = if i % 2 == 0 { cut.width } else { cut.height };
                let q = &mut kit.quantities;
                match edge {
                    CutEdge::Stapled => q.staple_line += long * copies,
                    CutEdge::TackStrip => q.tack_strip += long * copies,
                    // A seam has two sides, each of them entered with its own cut.
                    CutEdge::Seam => q.seam += (long * copies).share(2),
                    CutEdge::Pull => q.seam += long * copies,
                    CutEdge::Bare => {}
                }
                if *edge == CutEdge::Pull {
                    let cloth = ask.under.unwrap_or(ask.cloth);
                    let outline = rectangle(long + a.seam * 2, a.pull + a.seam);
                    let name = message("part-pull-for").text("cut", &cut.name);
                    let mut pull = Part::new(name, Stuff::Cloth, cloth, outline);
                    pull.count = cut.count;
                    pull.explain(
                        Working::grown(message("work-pull-length"), long, &[a.seam]).width(),
                    );
                    pull.explain(
                        Working::of(message("work-pull-height"), of(a.pull) + of(a.seam)).height(),
                    );
                    kit.parts.push(pull);
                }
            }
            if cut.pair {
                let mut other = part.clone();
                (part.hand, other.hand) = (Some("left"), Some("right"));
                part.count = cut.count.div_ceil(2);
                other.count = cut.count / 2;
                kit.parts.push(part);
                kit.parts.push(other);
            } else {
                part.count = cut.count;
                kit.parts.push(part);
            }
        }
        kit.quantities.fitted_cuts = self.fitted();
        // Cuts first, pulls after them.
        kit.parts.sort_by_key(|p| p.name.is("part-pull-for"));
        Ok(kit)
    }

    fn steps(&self, bench: &Bench) -> Vec<Step> {
        let strip = bench.allowances.tack_strip;
        let (inside, outside) = self.in_order();
        let cover = message("step-cuts-cover").count("known", inside.len());
        let cover = cover.list("inside", inside, Between::Comma).said("staples", bench.staples());
        let close = message("step-cuts-close").count("known", outside.len());
        let close = close.list("outside", outside, Between::Comma).length("strip", strip);
        vec![
            bench.cut_cloth(),
            Step::new(self.edge_list(), &[]),
            bench.sew(message("sew-cuts")),
            Step::new(cover, &[STAPLER, BLADE]),
            Step::new(close, &[STAPLER]),
            bench.trim(),
        ]
    }

    fn extent(&self, _: (Length, Length), _: Option<Length>) -> Extent {
        Extent::Cuts(self.cuts.iter().map(|cut| cut.count).sum())
    }

    fn mirrored(&self) -> Mirrored {
        let cuts = self.cuts.iter().map(|cut| {
            let [bottom, right, top, left] = cut.edges;
            CutPiece { edges: [bottom, left, top, right], ..cut.clone() }
        });
        Mirrored::Other(Kind::CutPieces(Self { cuts: cuts.collect() }))
    }

    fn cloths(&mut self) -> Vec<(String, &mut String)> {
        let cuts = self.cuts.iter_mut().enumerate();
        cuts.filter_map(|(i, cut)| Some((format!("cut.{i}.cloth"), cut.cloth.as_mut()?))).collect()
    }
}

/// Names of cuts in the order in which a chair is covered, by the words that tell them; `true` for what goes
/// on outside, when all inside is on. Outside wings and outside arms go on before the outside back, inside
/// wings with the inside back. Source: the order in which texts strip a chair, reversed; common practice.
const ORDER: [(&[&str], bool); 14] = [
    (&["deck"], false),
    (&["platform"], false),
    (&["lip"], false),
    (&["front", "border"], false),
    (&["seat"], false),
    (&["inside", "arm"], false),
    (&["inside", "wing"], false),
    (&["inside", "back"], false),
    (&["outside", "wing"], true),
    (&["outside", "arm"], true),
    (&["facing"], true),
    (&["arm", "front"], true),
    (&["outside", "back"], true),
    (&["skirt"], true),
];

/// A cut's place in that order, and whether it goes on outside; nothing for a name that is not known.
fn place_in_order(name: &str) -> Option<(usize, bool)> {
    let name = name.to_lowercase();
    // `arm front` is no front border.
    let is_facing = name.contains("arm") && name.contains("front");
    let at = match is_facing {
        true => ORDER.iter().position(|(words, _)| *words == ["arm", "front"]),
        false => ORDER.iter().position(|(words, _)| words.iter().all(|word| name.contains(word))),
    }
    .or_else(|| (name.contains("front") && !is_facing).then_some(3))?;
    Some((at, ORDER[at].1))
}

/// The words by which a cut is known: where on a chair it is.
pub fn words_of(name: &str) -> Option<&'static [&'static str]> {
    place_in_order(name).map(|(at, _)| ORDER[at].0)
}

impl CutPieces {
    /// The cuts in the order in which they go on: inside, and outside. What is not known by its name goes
    /// on inside, after what is.
    fn in_order(&self) -> (Vec<Message>, Vec<Message>) {
        let mut cuts: Vec<(usize, bool, &str)> = self
            .cuts
            .iter()
            .map(|cut| {
                let (at, outside) = place_in_order(&cut.name).unwrap_or((ORDER.len(), false));
                (at, outside, cut.name.as_str())
            })
            .collect();
        cuts.sort_by_key(|(at, ..)| *at);
        let named = |wanted: bool| {
            let some = cuts.iter().filter(|(_, outside, _)| *outside == wanted);
            some.map(|(.., name)| Message::typed(*name)).collect()
        };
        (named(false), named(true))
    }

    /// Cuts that are pulled through a frame, and cut to fit round its posts and rails.
    fn fitted(&self) -> usize {
        let is_fitted = |cut: &&CutPiece| match place_in_order(&cut.name) {
            Some((_, outside)) => !outside,
            None => cut.edges.iter().filter(|edge| **edge == CutEdge::Stapled).count() > 1,
        };
        self.cuts.iter().filter(is_fitted).map(|cut| cut.count).sum()
    }

    /// What happens at the edges of each cut that are not plainly stapled.
    fn edge_list(&self) -> Message {
        let word = |edge: &CutEdge| match edge {
            CutEdge::Stapled => None,
            CutEdge::TackStrip => Some("tack-strip"),
            CutEdge::Seam => Some("seam"),
            CutEdge::Pull => Some("pull"),
            CutEdge::Bare => Some("bare"),
        };
        let each = self.cuts.iter().map(|cut| {
            let sides = SIDES.iter().zip(&cut.edges);
            let edges: Vec<Message> = sides
                .filter_map(|(side, edge)| {
                    Some(message("edge-of").text("side", *side).text("edge", word(edge)?))
                })
                .collect();
            if edges.is_empty() {
                message("cut-edges-stapled").text("name", &cut.name)
            } else {
                let named = message("cut-edges").text("name", &cut.name);
                named.list("edges", edges, Between::Comma)
            }
        });
        message("step-cuts-edges").list("list", each.collect(), Between::Semicolon)
    }
}
