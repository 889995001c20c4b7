//! Small jobs solved a second time by trying every place: on a grid of whole units, every part on
//! every cloth in every turn at every place, least purchase first. Shares nothing with the search but
//! the question.
//!
//! Nothing is lost by the grid: if all measures are whole, rounding every place of a lay down keeps
//! parts apart, on the cloth, off flaws and on the repeat (differences within a matched group are
//! whole). So the two answers must buy exactly the same.

use crate::shared::cloth;
use fastrand::Rng;
use geometry::{Length, Polygon, Rect, Spot};
use lay::{Drop, Instance, Item, Limits, OnHand, Pattern, Rule, Stock};

/// One unit of the grid, in nanometres.
const UNIT: i64 = 10_000_000;

fn units(n: i64) -> Length {
    Length::from_nm(n * UNIT)
}

/// One part, one turn: width, height and anchor from the lower left corner, in units.
#[derive(Clone, Copy, PartialEq)]
struct Turned {
    w: i64,
    h: i64,
    anchor: (i64, i64),
    /// How far in flaws may lie, on all sides.
    hidden: i64,
}

struct Part {
    rule: Rule,
    turned: Vec<Turned>,
    /// The same as the part before it: need not be tried on lower places again.
    again: bool,
}

/// A cloth as rows of bits.
struct Grid {
    stock: Stock,
    rows: Vec<u64>,
    flaws: Vec<u64>,
}

struct Exhaustive<'a> {
    instance: &'a Instance,
    parts: Vec<Part>,
    grids: Vec<Grid>,
    phases: Vec<Option<(i64, i64)>>,
    /// Places tried.
    tried: u64,
}

/// A job that takes more is left out: some small ones have very many lays.
const MOST_TRIED: u64 = 20_000_000;

fn whole(nm: i64) -> i64 {
    assert_eq!(nm % UNIT, 0);
    nm / UNIT
}

impl<'a> Exhaustive<'a> {
    /// With so much new cloth.
    fn new(instance: &'a Instance, new: i64) -> Self {
        let mut parts = Vec::new();
        for item in &instance.items {
            let turned: Vec<Turned> = item
                .turns
                .iter()
                .map(|&turn| {
                    let b = item.shape.turned(turn).bounds();
                    let anchor = match item.rule {
                        Rule::Free => Spot::new(0, 0),
                        Rule::Centred(p) | Rule::Matched { anchor: p, .. } => p,
                    };
                    let anchor = anchor.turned(turn);
                    Turned {
                        w: whole(b.width().nm()),
                        h: whole(b.height().nm()),
                        anchor: (whole(anchor.x - b.low.x), whole(anchor.y - b.low.y)),
                        hidden: i64::from(item.face.is_some()),
                    }
                })
                .collect();
            for copy in 0..item.count {
                parts.push(Part { rule: item.rule, turned: turned.clone(), again: copy > 0 });
            }
        }
        let mut grids = Vec::new();
        for (i, hand) in instance.on_hand.iter().enumerate() {
            let mut grid = Grid::new(Stock::OnHand(i), instance, whole(hand.length.nm()));
            for flaw in &hand.flaws {
                let (left, right) = (whole(flaw.low.x), whole(flaw.high.x));
                for y in whole(flaw.low.y)..whole(flaw.high.y).min(grid.rows.len() as i64) {
                    grid.flaws[y as usize] |= bits(left, right - left);
                }
            }
            grids.push(grid);
        }
        grids.push(Grid::new(Stock::New(0), instance, new));
        Self { instance, parts, grids, phases: vec![None; 2], tried: 0 }
    }

    /// Whether all parts from `next` on find a place.
    fn fits(&mut self, next: usize, after: (usize, usize, i64, i64)) -> bool {
        let Some(part) = self.parts.get(next) else { return true };
        let (rule, again) = (part.rule, part.again);
        let after = if again { after } else { (0, 0, 0, 0) };
        for g in after.0..self.grids.len() {
            for t in 0..self.parts[next].turned.len() {
                let turned = self.parts[next].turned[t];
                let rows = self.grids[g].rows.len() as i64;
                for y in 0..=rows - turned.h {
                    for x in 0..=40 - turned.w {
                        if (g, t, y, x) < after && g == after.0 && t == after.1 {
                            continue;
                        }
                        if g == after.0 && t < after.1 {
                            continue;
                        }
                        let group = match self.allowed(rule, g, turned, x, y) {
                            None => continue,
                            Some(group) => group,
                        };
                        self.tried += 1;
                        if self.tried > MOST_TRIED {
                            return true;
                        }
                        if self.grids[g].take(x, y, turned) {
                            if let Some((group, phase)) = group {
                                self.phases[group] = Some(phase);
                            }
                            if self.fits(next + 1, (g, t, y, x)) {
                                return true;
                            }
                            if let Some((group, _)) = group {
                                self.phases[group] = None;
                            }
                            self.grids[g].give(x, y, turned);
                        }
                    }
                }
            }
        }
        false
    }

    /// Whether a place keeps to the pattern; with the phase it sets, if it is its group's first.
    #[allow(clippy::type_complexity)] // Nothing, or perhaps a phase.
    fn allowed(
        &self,
        rule: Rule,
        g: usize,
        turned: Turned,
        x: i64,
        y: i64,
    ) -> Option<Option<(usize, (i64, i64))>> {
        let Some(pattern) = &self.instance.pattern else { return Some(None) };
        let motif = self.instance.motif(self.grids[g].stock);
        let here = (x + turned.anchor.0 - whole(motif.x), y + turned.anchor.1 - whole(motif.y));
        match rule {
            Rule::Free => Some(None),
            Rule::Centred(_) => on_lattice(pattern, here).then_some(None),
            Rule::Matched { group, .. } => match self.phases[group] {
                Some((px, py)) => on_lattice(pattern, (here.0 - px, here.1 - py)).then_some(None),
                None => Some(Some((group, here))),
            },
        }
    }
}

/// Written from the definition: whole repeats across, and along, half a repeat more in every second
/// column of a half-drop.
fn on_lattice(pattern: &Pattern, (x, y): (i64, i64)) -> bool {
    let column = match pattern.width {
        None => 0,
        Some(w) if x % whole(w.nm()) == 0 => x / whole(w.nm()),
        Some(_) => return false,
    };
    let Some(length) = pattern.length.map(|l| whole(l.nm())) else { return true };
    let half = pattern.drop == Drop::Half && pattern.width.is_some() && column % 2 != 0;
    let y = if half { y - length / 2 } else { y };
    y % length == 0
}

fn bits(x: i64, w: i64) -> u64 {
    ((1_u64 << w) - 1) << x
}

impl Grid {
    fn new(stock: Stock, instance: &Instance, length: i64) -> Self {
        let (left, right) = instance.usable(stock);
        let free = bits(whole(left.nm()), whole((right - left).nm()));
        Self { stock, rows: vec![!free; length as usize], flaws: vec![0; length as usize] }
    }

    fn take(&mut self, x: i64, y: i64, part: Turned) -> bool {
        let face = (y + part.hidden)..(y + part.h - part.hidden);
        let face_mask = bits(x + part.hidden, part.w - 2 * part.hidden);
        if self.flaws[face.start as usize..face.end as usize].iter().any(|row| row & face_mask != 0)
        {
            return false;
        }
        let rows = &mut self.rows[y as usize..(y + part.h) as usize];
        let mask = bits(x, part.w);
        if rows.iter().any(|row| row & mask != 0) {
            return false;
        }
        rows.iter_mut().for_each(|row| *row |= mask);
        true
    }

    fn give(&mut self, x: i64, y: i64, part: Turned) {
        let mask = bits(x, part.w);
        self.rows[y as usize..(y + part.h) as usize].iter_mut().for_each(|row| *row &= !mask);
    }
}

/// The least purchase, by trying everything; `None` if that would take too long.
fn least_purchase(instance: &Instance) -> Option<Length> {
    let mut tried = 0;
    for new in 0.. {
        let mut all = Exhaustive::new(instance, new);
        let fits = all.fits(0, (0, 0, 0, 0));
        tried += all.tried;
        if tried > MOST_TRIED {
            return None;
        }
        if fits {
            return Some(instance.buying.purchase(units(new)));
        }
    }
    None
}

fn small_job(random: &mut Rng) -> Instance {
    let width = random.i64(4..8);
    let kinds = random.usize(2..5);
    let patterned = random.u8(0..3) > 0;
    let items: Vec<Item> = (0..kinds)
        .map(|_| {
            let (w, h) = (random.i64(1..=width.min(4)), random.i64(1..5));
            let anchor = Spot::new(random.i64(0..=w) * UNIT, random.i64(0..=h) * UNIT);
            Item {
                name: "part".into(),
                shape: Polygon::rectangle(units(w), units(h)),
                count: if random.u8(0..4) == 0 { 2 } else { 1 },
                turns: if random.bool() { vec![0.0] } else { vec![0.0, 180.0] },
                rule: match random.u8(0..4) {
                    0 => Rule::Centred(anchor),
                    1 => Rule::Matched { group: random.usize(0..2), anchor },
                    _ => Rule::Free,
                },
                exact: false,
                face: (w > 2 && h > 2 && random.bool()).then(|| {
                    Polygon::rectangle(units(w - 2), units(h - 2)).moved(Spot::new(UNIT, UNIT))
                }),
            }
        })
        .collect();
    let mut job = cloth(units(width), items);
    if random.bool() {
        job.buying.step = units(random.i64(1..3));
    }
    if patterned {
        let length = random.i64(1..3) * 2;
        job.pattern = Some(Pattern {
            length: (random.u8(0..5) > 0).then(|| units(length)),
            width: (random.u8(0..3) == 0).then(|| units(random.i64(1..4))),
            drop: if random.bool() { Drop::Half } else { Drop::Straight },
            origin: Spot::new(random.i64(0..3) * UNIT, random.i64(0..2) * UNIT),
        });
        if let Some(p) = &mut job.pattern
            && p.length.is_none()
            && p.width.is_none()
        {
            p.length = Some(units(length));
        }
    }
    for i in 0..random.usize(0..3) {
        let length = random.i64(2..5);
        let flaws = (0..random.usize(0..3))
            .map(|_| {
                let (x, y) = (random.i64(0..width), random.i64(0..length));
                Rect {
                    low: Spot::new(x * UNIT, y * UNIT),
                    high: Spot::new((x + 1) * UNIT, (y + 1) * UNIT),
                }
            })
            .collect();
        job.on_hand.push(OnHand {
            name: format!("remnant {i}"),
            left: Length::ZERO,
            right: units(width - random.i64(0..2)),
            length: units(length),
            flaws,
            origin: None,
        });
    }
    job
}

#[test]
fn the_search_buys_what_trying_everything_buys() {
    let mut random = Rng::with_seed(7);
    let (mut compared, mut longer, mut stepped) = (0, Vec::new(), 0);
    let limits = Limits::work(1, 3_000_000);
    while compared < 600 {
        let job = small_job(&mut random);
        let Ok(answer) = lay::lay(&job, &limits) else { continue };
        assert_eq!(lay::verify(&job, &answer.lay), []);
        let Some(least) = least_purchase(&job) else { continue };
        let found = answer.lay.purchase(&job.buying);
        assert!(
            found >= least,
            "case {compared}: {found} cannot be, {least} is the least: {job:?}"
        );
        let bound = job.buying.purchase(answer.bound.length);
        assert!(bound <= least, "case {compared}: bound {bound} over {least}: {job:?}");
        assert!(!answer.proven || found == least);
        // What is on sale next to the least can never be shown to be needed.
        assert_eq!(lay::no_less(&job, least + job.buying.step, &limits), None, "{job:?}");
        stepped += usize::from(lay::no_less(&job, least, &limits).is_some());
        if found > least {
            longer.push((compared, found, least, job));
        }
        compared += 1;
    }
    assert!(stepped > 100, "only {stepped} of {compared} shown from step to step");
    assert!(longer.is_empty(), "{} of {compared} buy too much, e.g. {:?}", longer.len(), longer[0]);
}

#[test]
fn what_fits_no_cloth_is_refused_by_trying_everything_too() {
    let mut random = Rng::with_seed(11);
    let mut refused = 0;
    for _ in 0..2000 {
        let job = small_job(&mut random);
        if let Err(item) = lay::lay(&job, &Limits::quick(1)) {
            refused += 1;
            // On its own, or with its group, it has no place however long the cloth.
            let rule = job.items[item].rule;
            let mut alone = job.clone();
            alone.items = match rule {
                Rule::Matched { group, .. } => job
                    .items
                    .iter()
                    .filter(|i| matches!(i.rule, Rule::Matched { group: g, .. } if g == group))
                    .map(|i| Item { count: 1, ..i.clone() })
                    .collect(),
                _ => vec![Item { count: 1, ..job.items[item].clone() }],
            };
            assert!(!Exhaustive::new(&alone, 24).fits(0, (0, 0, 0, 0)), "{job:?}");
        }
    }
    assert!(refused > 5, "only {refused} were refused");
}
