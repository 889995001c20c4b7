//! Pieces: what all share, then each kind's own measures.

use super::by_table;
use super::materials::DIRECTIONS;
use super::reader::{Sort, Table};
use super::settings::allowances;
use geometry::{Length, Unit};
use trade::kinds::measured::Measured;
use trade::kinds::table;
use trade::kinds::{Kind, TABLES};
use trade::layers::{self, Layered};
use trade::panel::FoamEdge;
use trade::piece::{Buttons, Condition, Fixing, Hand, PatternRule, Piece, Run, WeltGrain};
use trade::rates::Allowances;

const LAYERS: [table::Key; 1] = [layers::KEY];

/// Most copies of one piece.
const MOST: usize = 20_000;

/// Pieces without a priority come last.
const LAST: usize = 1000;

/// Every `[[piece]]`, those that mirror another after what they mirror; the places in the file of those
/// that could be read.
pub fn all(
    tables: Vec<Table>,
    unit: Unit,
    usual: &Allowances,
    pieces: &mut Vec<Piece>,
) -> Vec<usize> {
    let mut read: Vec<Option<Piece>> = Vec::new();
    let mut images = Vec::new();
    // Pieces that are there, with faults of their own.
    let mut faulty = Vec::new();
    for (i, table) in tables.into_iter().enumerate() {
        if table.has("mirror_of") {
            images.push((i, table));
            read.push(None);
            continue;
        }
        let before = table.faults();
        let (piece, after) = piece(table, unit, usual);
        if after != before {
            faulty.push(piece.name.clone());
        }
        read.push((after == before).then_some(piece));
    }
    for (i, table) in images {
        read[i] = image(table, &read, &faulty);
    }
    for (i, piece) in read.iter_mut().enumerate() {
        if let Some(piece) = piece {
            piece.number = i + 1;
        }
    }
    let numbers = (0..read.len()).filter(|&i| read[i].is_some()).collect();
    pieces.extend(read.into_iter().flatten());
    numbers
}

/// A piece that is the mirror image of another.
fn image(mut t: Table, read: &[Option<Piece>], faulty: &[String]) -> Option<Piece> {
    let before = t.faults();
    let name = t.text("name");
    let _ = t.opt_text("id");
    let of = t.text("mirror_of");
    let place = t.opt_text("place");
    let count = t.count("count", 1, MOST);
    let cloth = t.opt_text("cloth");
    let hours = t.decimal("hours_each", 0, 10_000);
    let priority = t.count("priority", 1, LAST);
    let (note, found) = (t.text_or_empty("note"), t.text_or_empty("found"));
    let source = read.iter().flatten().find(|piece| piece.name == of && piece.name != name);
    let image = source.and_then(Piece::mirrored);
    match (source, &image) {
        (None, _) if of == name => t.wrong(
            "name",
            "mirror-of-itself",
            format!("`{name}` is called like the piece it mirrors"),
            "give the mirror image a name of its own",
        ),
        // Once that piece is mended this one can be judged.
        (None, _) if faulty.contains(&of) => {}
        (None, _) => t.wrong(
            "mirror_of",
            "unknown-piece",
            format!("there is no piece called `{of}` to mirror"),
            "name a piece that is measured itself",
        ),
        (Some(source), _) if source.hand == Hand::Pair => t.wrong(
            "mirror_of",
            "mirror-of-a-pair",
            format!("`{of}` is a pair: it has its mirror images already"),
            "raise its `count`, or measure one piece with hand = \"left\"",
        ),
        (Some(_), None) => t.wrong(
            "mirror_of",
            "cannot-be-mirrored",
            format!("what is measured of `{of}` does not tell its mirror image"),
            "measure this piece itself, with its own kind",
        ),
        _ => {}
    }
    let after = t.faults();
    t.finish();
    let image = image.filter(|_| after == before)?;
    Some(Piece {
        count: count.unwrap_or(image.count),
        place: place.unwrap_or(image.place),
        cloth: cloth.or(image.cloth),
        hours_each: hours.or(image.hours_each),
        priority: priority.unwrap_or(image.priority),
        typed: vec![("mirror image of".into(), of.clone())],
        mirrors: Some(of),
        name,
        note,
        found,
        ..image
    })
}

/// A `[[piece]]`, and how many faults the file has after it.
fn piece(mut t: Table, unit: Unit, usual: &Allowances) -> (Piece, usize) {
    let name = t.text("name");
    // Tells the page which piece is which; nothing is worked out from it.
    let _ = t.opt_text("id");
    let words: Vec<(&'static str, &'static table::Table)> =
        TABLES.into_iter().map(|table| (table.name, table)).collect();
    let of = t.choice("kind", &words);
    if of.is_none() && !t.has("kind") {
        let all: Vec<&str> = TABLES.iter().map(|table| table.name).collect();
        t.wrong(
            "kind",
            "missing",
            "`kind` is missing",
            format!("add `kind = \"panel\"`; known: {}", all.join(", ")),
        );
    }
    let count = t.count("count", 1, MOST).unwrap_or(1);
    let run = run(&mut t, unit);
    // Its keys cannot be judged without a kind.
    let Some(of) = of else { return (blank(name, usual), t.faults()) };
    let kind = by_table::kind(&mut t, of, unit, run.is_some());
    let takes_run = of.asked(|key| kind.of().said(key)).iter().any(|key| key.is_from_run);
    if run.is_some() && !takes_run {
        t.wrong(
            "run",
            "no-run-here",
            format!("a {} cannot be one of a run", kind.name()),
            "use a panel (rectangle), pad, channelled back or cushion, or give the width itself",
        );
    }
    let conditions =
        [("keep", Condition::Keep), ("repair", Condition::Repair), ("renew", Condition::Renew)];
    let (merged, own_allowances) = match t.table("allowances") {
        Some(own) => {
            let keys = own.keys();
            (allowances(own, unit, usual), keys)
        }
        None => (usual.clone(), Vec::new()),
    };
    let group = t.opt_text("match");
    let rule = t.choice("pattern", &[("free", 0), ("centred", 1)]);
    if group.is_some() && rule.is_some() {
        t.wrong(
            "match",
            "two-pattern-rules",
            "`pattern` and `match` are both given",
            "a piece is free, centred or matched with a group: give one",
        );
    }
    let pattern = match (group, rule) {
        (Some(group), _) => PatternRule::Matched(group),
        (None, Some(1)) => PatternRule::Centred,
        (None, Some(_)) => PatternRule::Free,
        (None, None) => PatternRule::Unsaid,
    };
    let hand = [
        ("neither", Hand::Neither),
        ("left", Hand::Left),
        ("right", Hand::Right),
        ("pair", Hand::Pair),
    ];
    let grain =
        [("cross", WeltGrain::Cross), ("straight", WeltGrain::Straight), ("bias", WeltGrain::Bias)];
    let piece = Piece {
        number: 0,
        place: t.text_or_empty("place"),
        count,
        hand: t.choice("hand", &hand).unwrap_or_default(),
        mirrors: None,
        cloth: t.opt_text("cloth"),
        under_cloth: t.opt_text("under_cloth"),
        boxing_cloth: t.opt_text("boxing_cloth"),
        welt_cloth: t.opt_text("welt_cloth"),
        zip_cloth: t.opt_text("zip_cloth"),
        foam: t.opt_text("foam"),
        board: t.opt_text("board"),
        foam_condition: t.choice("foam_condition", &conditions).unwrap_or_default(),
        board_condition: t.choice("board_condition", &conditions).unwrap_or_default(),
        wrap: t.flag("wrap", false),
        foam_edge: t.choice("foam_edge", &FoamEdge::ALL).unwrap_or(of.nature.foam_edge),
        foam_beyond: t.length_or("foam_beyond", unit, Length::ZERO),
        dust_cover: t.flag("dust_cover", false),
        strip: t.flag("strip", of.nature.had_cover),
        direction: t.choice("direction", &DIRECTIONS),
        boxing_in_step: t.flag("boxing_in_step", false),
        seam_allowed: t.flag("seam_allowed", false),
        halved: t.flag("joined", false),
        welt_grain: t.choice("welt_grain", &grain).unwrap_or_default(),
        allowances: merged,
        own_allowances,
        fixing: t.table("fixing").map(|f| fixing(f, unit)),
        hours_each: t.decimal("hours_each", 0, 10_000),
        price_each: t.decimal("price_each", 0, 10_000_000),
        buttons: t.table("buttons").map(|mut b| {
            let count = b.counted("count", 1, 5000);
            let ligne = b.count("ligne", 10, 200).unwrap_or(30) as u32;
            b.finish();
            Buttons { count, ligne }
        }),
        layers: layers_of(&mut t, of, unit),
        dust_cloth: t.opt_text("dust_cloth"),
        priority: t.count("priority", 1, LAST).unwrap_or(LAST),
        note: t.text_or_empty("note"),
        found: t.text_or_empty("found"),
        typed: t.typed.clone(),
        pattern,
        run,
        kind,
        name,
    };
    let faults_before_finish = t.faults();
    t.finish();
    // Keys that are only unknown do not keep the piece from being checked further.
    (piece, faults_before_finish)
}

fn blank(name: String, usual: &Allowances) -> Piece {
    Piece {
        number: 0,
        name,
        place: String::new(),
        kind: Kind::Measured(Measured { width: Length::ZERO, height: Length::ZERO }),
        count: 1,
        hand: Hand::Neither,
        mirrors: None,
        run: None,
        cloth: None,
        under_cloth: None,
        boxing_cloth: None,
        welt_cloth: None,
        zip_cloth: None,
        foam: None,
        board: None,
        foam_condition: Condition::Keep,
        board_condition: Condition::Keep,
        wrap: false,
        foam_edge: FoamEdge::Square,
        foam_beyond: Length::ZERO,
        dust_cover: false,
        strip: false,
        direction: None,
        pattern: PatternRule::Free,
        boxing_in_step: false,
        seam_allowed: false,
        halved: false,
        welt_grain: WeltGrain::Cross,
        allowances: usual.clone(),
        own_allowances: Vec::new(),
        fixing: None,
        hours_each: None,
        price_each: None,
        buttons: None,
        layers: Vec::new(),
        dust_cloth: None,
        priority: LAST,
        note: String::new(),
        found: String::new(),
        typed: Vec::new(),
    }
}

/// Layers of what is stapled; a sewn cover has none.
fn layers_of(t: &mut Table, of: &table::Table, unit: Unit) -> Vec<Layered> {
    if of.nature.work != table::Work::Stapled {
        if t.has(layers::KEY.name) {
            t.wrong(
                layers::KEY.name,
                "no-layers-here",
                format!("a {} has no layers under its cover", of.name),
                "layers belong to what is stapled to a frame or board; take `layer` out",
            );
        }
        return Vec::new();
    }
    let values = by_table::values(t, &LAYERS, unit, false);
    let mut faults = Vec::new();
    let read = layers::read(&values, &mut faults);
    faults.into_iter().for_each(|fault| t.fault(fault));
    read
}

fn run(t: &mut Table, unit: Unit) -> Option<Run> {
    let mut r = t.table("run")?;
    let measured = r.lengths("measured", unit, Sort::Positive);
    let sections = if measured.is_empty() {
        r.counted("sections", 1, 500)
    } else {
        r.count("sections", 1, 500).unwrap_or(measured.len())
    };
    if !measured.is_empty() && sections != measured.len() {
        r.wrong(
            "sections",
            "sections-miscounted",
            format!("{sections} sections but {} measured", measured.len()),
            "leave `sections` out when each is measured",
        );
    }
    let run = Run {
        length: r.length("length", unit),
        sections,
        end_gap: r.length_or("end_gap", unit, Length::ZERO),
        joint_gap: r.length_or("joint_gap", unit, Length::ZERO),
        measured,
    };
    t.typed.extend(r.finish().into_iter().map(|(key, text)| (format!("run {key}"), text)));
    Some(run)
}

fn fixing(mut f: Table, unit: Unit) -> Fixing {
    #[derive(Clone, Copy)]
    enum By {
        Screws,
        Clips,
        Cleat,
        Loose,
    }
    let by =
        [("screws", By::Screws), ("clips", By::Clips), ("cleat", By::Cleat), ("loose", By::Loose)];
    let by = f.choice("by", &by);
    if by.is_none() && !f.has("by") {
        f.wrong(
            "by",
            "missing",
            "`by` is missing",
            "say by = \"screws\", \"clips\", \"cleat\" or \"loose\"",
        );
    }
    let fixing = match by {
        Some(By::Screws) => Fixing::Screws {
            count: f.counted("count", 1, 500),
            gauge: f.count("gauge", 0, 30).unwrap_or(8) as u32,
            length: f.length("length", unit),
            through_face: f.flag("through_face", false),
            into: f.length("into", unit),
            holes: f
                .tables("hole")
                .into_iter()
                .map(|mut h| {
                    let at = (h.length("x", unit), h.length("y", unit));
                    h.finish();
                    at
                })
                .collect(),
        },
        Some(By::Clips) => Fixing::Clips(f.counted("count", 1, 500)),
        Some(By::Cleat) => Fixing::Cleat,
        _ => Fixing::Loose,
    };
    f.finish();
    fixing
}
