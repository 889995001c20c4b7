//! The whole job as read, with names resolved.

use crate::fault::Fault;
use crate::material::{Cloth, SheetGoods, Stuff, Sundry};
use crate::message::message;
use crate::piece::{Hand, Piece};
use crate::places::Place;
use crate::rates::{Allowances, Class, Rates};
use crate::working::Style;
use geometry::Length;
use rust_decimal::Decimal;
use std::collections::BTreeMap;

/// Work that belongs to no single piece.
#[derive(Clone, Debug, PartialEq)]
pub struct ExtraLabour {
    /// What it is.
    pub what: String,
    /// Hours each time.
    pub hours: Decimal,
    /// How many times.
    pub times: Decimal,
    /// Outside usual hours.
    pub night: bool,
    /// How tax sees it.
    pub class: Class,
}

/// A flat charge that belongs to no hour and no material.
#[derive(Clone, Debug, PartialEq)]
pub struct Charge {
    /// What it is.
    pub what: String,
    /// How much each time, before tax.
    pub amount: Decimal,
    /// How many times.
    pub times: Decimal,
    /// How tax sees it.
    pub class: Class,
}

/// Journeys.
#[derive(Clone, Debug, PartialEq)]
pub struct Travel {
    /// How many journeys.
    pub journeys: Decimal,
    /// Miles or kilometres there and back.
    pub distance: Decimal,
    /// `miles` or `km`, for the line's words.
    pub unit: String,
}

/// A choice put to the customer: the same job in other cloth.
#[derive(Clone, Debug, PartialEq)]
pub struct Choice {
    /// What it is called on the quote.
    pub name: String,
    /// From cloth to cloth.
    pub swap: Vec<(String, String)>,
}

/// Something small the shop is ready to give up if that lets less cloth be bought.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Relaxation {
    /// So much less turn-under.
    TurnUnder(Length),
    /// So much less seam allowance.
    Seam(Length),
    /// So much less lost at the ends of a length.
    Trim(Length),
    /// So much more between the sections of a run.
    JointGap(Length),
    /// One measure of one piece so much less.
    Size(Length),
    /// Plain cloth may lie either way.
    Railroad,
    /// One piece's covers joined down the middle, the seam where it shows least.
    HiddenSeam,
    /// Two cloths of the job change places.
    SwapCloths,
}

/// For whom and when.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Customer {
    /// Name.
    pub name: String,
    /// Address or place.
    pub address: String,
    /// Phone or mail.
    pub contact: String,
}

/// Who makes it.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Shop {
    /// Name.
    pub name: String,
    /// Address, phone.
    pub address: String,
    /// Telephone.
    pub phone: String,
    /// Mail.
    pub mail: String,
    /// Number at the tax office.
    pub tax_number: String,
    /// Printed under every quote.
    pub terms: String,
    /// Terms in full, on a page of their own.
    pub conditions: String,
}

/// A job.
#[derive(Clone, Debug, PartialEq)]
pub struct Job {
    /// What the job is called.
    pub name: String,
    /// Number or code.
    pub number: String,
    /// As printed; the core knows no today.
    pub date: String,
    /// The quote holds until then, as printed.
    pub valid_until: String,
    /// Wanted by, as printed.
    pub due: String,
    /// Currency sign or code.
    pub currency: String,
    /// How lengths are written.
    pub style: Style,
    /// Paper of the pack.
    pub letter_paper: bool,
    /// Where the work goes, if that is one of the places that are known.
    pub place: Option<Place>,
    /// The same as it was said.
    pub place_said: String,
    /// Its country by its ISO 3166 letters; empty if that was not said.
    pub country: String,
    /// What the quote takes for granted.
    pub assumptions: Vec<String>,
    /// Customer.
    pub customer: Customer,
    /// Shop.
    pub shop: Shop,
    /// Cloths.
    pub cloths: Vec<Cloth>,
    /// Foams.
    pub foams: Vec<SheetGoods>,
    /// Boards.
    pub boards: Vec<SheetGoods>,
    /// Sundries.
    pub sundries: Vec<Sundry>,
    /// The shop's allowances.
    pub allowances: Allowances,
    /// Money.
    pub rates: Rates,
    /// Flat charges.
    pub charges: Vec<Charge>,
    /// Pieces.
    pub pieces: Vec<Piece>,
    /// Extra work.
    pub extra: Vec<ExtraLabour>,
    /// Journeys.
    pub travel: Option<Travel>,
    /// Choices for the customer.
    pub choices: Vec<Choice>,
    /// What near misses may give up.
    pub relaxations: Vec<Relaxation>,
}

/// More copies than this are refused: the lay would take minutes.
pub const MOST_COPIES: usize = 20_000;

impl Job {
    /// The cloth of a name.
    pub fn cloth(&self, name: &str) -> Option<&Cloth> {
        self.cloths.iter().find(|c| c.name == name)
    }

    /// The foam of a name.
    pub fn foam(&self, name: &str) -> Option<&SheetGoods> {
        self.foams.iter().find(|f| f.name == name)
    }

    /// The board of a name.
    pub fn board(&self, name: &str) -> Option<&SheetGoods> {
        self.boards.iter().find(|b| b.name == name)
    }

    /// Foam or board by its place in the job.
    pub fn goods(&self, stuff: Stuff, index: usize) -> &SheetGoods {
        match stuff {
            Stuff::Foam => &self.foams[index],
            _ => &self.boards[index],
        }
    }

    /// Foam of a piece.
    pub fn foam_of(&self, piece: &Piece) -> Option<&SheetGoods> {
        piece.foam.as_deref().and_then(|name| self.foam(name))
    }

    /// Board of a piece.
    pub fn board_of(&self, piece: &Piece) -> Option<&SheetGoods> {
        piece.board.as_deref().and_then(|name| self.board(name))
    }

    /// The job with some cloths swapped for others.
    #[must_use]
    pub fn with(&self, choice: &Choice) -> Self {
        let mut job = self.clone();
        for piece in &mut job.pieces {
            let mut own: Vec<&mut String> = piece.cloth.iter_mut().collect();
            own.extend(piece.kind.of_mut().cloths().into_iter().map(|(_, name)| name));
            swap(own, choice);
            swap(piece.other_cloths().into_iter().filter_map(|(_, name)| name.as_mut()), choice);
        }
        job.choices.clear();
        job.relaxations.clear();
        job
    }

    /// Faults that need the whole job to be seen: names, counts, references.
    pub fn faults(&self) -> Vec<Fault> {
        let mut faults = Vec::new();
        twice(&mut faults, "cloth", self.cloths.iter().map(|x| x.name.as_str()));
        twice(&mut faults, "foam", self.foams.iter().map(|x| x.name.as_str()));
        twice(&mut faults, "board", self.boards.iter().map(|x| x.name.as_str()));
        twice(&mut faults, "piece", self.pieces.iter().map(|x| x.name.as_str()));
        for (i, cloth) in self.cloths.iter().enumerate() {
            if cloth.usable() <= Length::ZERO {
                faults.push(
                    Fault::new(
                        "no-usable-width",
                        format!("cloth.{i}.width"),
                        message("no-usable-width").text("name", &cloth.name),
                        message("no-usable-width").part("do"),
                    )
                    .about(&cloth.name),
                );
            }
        }
        for (i, piece) in self.pieces.iter().enumerate() {
            self.check_piece(i, piece, &mut faults);
        }
        for (i, choice) in self.choices.iter().enumerate() {
            for (from, to) in &choice.swap {
                for name in [from, to] {
                    if self.cloth(name).is_none() {
                        faults.push(unknown(
                            "cloth",
                            name,
                            format!("option.{i}.swap"),
                            self.cloths.iter().map(|c| &c.name),
                        ));
                    }
                }
            }
        }
        let copies: usize = self.pieces.iter().map(|p| p.count).sum();
        if copies > MOST_COPIES {
            faults.push(Fault::new(
                "too-many-pieces",
                "piece",
                message("too-many-pieces").count("copies", copies),
                message("too-many-pieces").part("do").count("most-copies", MOST_COPIES),
            ));
        }
        if self.pieces.is_empty() {
            faults.push(Fault::new(
                "no-pieces",
                "piece",
                message("no-pieces"),
                message("no-pieces").part("do"),
            ));
        }
        faults
    }

    fn check_piece(&self, i: usize, piece: &Piece, faults: &mut Vec<Fault>) {
        let at = |key: &str| format!("piece.{i}.{key}");
        match &piece.cloth {
            None => faults.push(
                Fault::new(
                    "no-cloth",
                    format!("piece.{i}"),
                    message("no-cloth").text("name", &piece.name),
                    message("no-cloth").part("do"),
                )
                .about(&piece.name),
            ),
            Some(name) if self.cloth(name).is_none() => {
                faults.push(unknown(
                    "cloth",
                    name,
                    at("cloth"),
                    self.cloths.iter().map(|c| &c.name),
                ));
            }
            Some(_) => {}
        }
        let (mut own, mut kind) = (piece.clone(), piece.kind.clone());
        let mut named: Vec<(String, &String)> = Vec::new();
        for (key, name) in own.other_cloths() {
            named.extend(name.as_ref().map(|name| (at(key), name)));
        }
        named.extend(kind.of_mut().cloths().into_iter().map(|(key, name)| (at(&key), &*name)));
        for (key, name) in named {
            if self.cloth(name).is_none() {
                faults.push(unknown("cloth", name, key, self.cloths.iter().map(|c| &c.name)));
            }
        }
        if let Some(name) = &piece.foam
            && self.foam(name).is_none()
        {
            faults.push(unknown("foam", name, at("foam"), self.foams.iter().map(|f| &f.name)));
        }
        for layered in &piece.layers {
            if let Some(name) = &layered.foam
                && self.foam(name).is_none()
            {
                let known = self.foams.iter().map(|f| &f.name);
                faults.push(unknown(
                    "foam",
                    name,
                    at(&format!("layer.{}.foam", layered.number)),
                    known,
                ));
            }
        }
        if let Some(name) = &piece.board
            && self.board(name).is_none()
        {
            faults.push(unknown("board", name, at("board"), self.boards.iter().map(|b| &b.name)));
        }
        if piece.hand == Hand::Pair && piece.count % 2 == 1 {
            faults.push(
                Fault::new(
                    "unequal-pair",
                    at("count"),
                    message("unequal-pair-2").text("name", &piece.name).count("count", piece.count),
                    message("unequal-pair-2").part("do"),
                )
                .about(&piece.name),
            );
        }
    }
}

/// Cloths named in a choice take its other ones.
fn swap<'a>(names: impl IntoIterator<Item = &'a mut String>, choice: &Choice) {
    for name in names {
        if let Some((_, to)) = choice.swap.iter().find(|(from, _)| from == name) {
            to.clone_into(name);
        }
    }
}

fn twice<'a>(faults: &mut Vec<Fault>, list: &str, names: impl Iterator<Item = &'a str>) {
    let mut seen = BTreeMap::new();
    for (i, name) in names.enumerate() {
        if let Some(first) = seen.insert(name, i) {
            faults.push(
                Fault::new(
                    "same-name",
                    format!("{list}.{i}.name"),
                    message("same-name")
                        .text("list", list)
                        .count("first", first + 1)
                        .count("i", i + 1)
                        .text("name", name),
                    message("same-name").part("do"),
                )
                .about(name),
            );
        }
    }
}

/// A name that is not in a list, with those that are.
pub fn unknown<'a>(
    what: &str,
    name: &str,
    at: String,
    known: impl Iterator<Item = &'a String>,
) -> Fault {
    let known: Vec<&str> = known.map(String::as_str).collect();
    let remedy = match known.is_empty() {
        true => message("unknown-name").part("none").text("list", what),
        false => message("unknown-name").part("do").text("known", known.join(", ")),
    };
    let code = match what {
        "foam" => "unknown-foam",
        "board" => "unknown-board",
        _ => "unknown-cloth",
    };
    let what = message("unknown-name").text("list", what).text("name", name);
    Fault::new(code, at, what, remedy).about(name)
}
