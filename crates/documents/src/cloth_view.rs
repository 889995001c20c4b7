//! A cloth's lay as data for the cutting plan.

use crate::sections::{self, Motifs, Section, sections};
use crate::view::{Sheets, part_name};
use crate::{lay_drawing, lay_labels};
use geometry::{Length, Rect};
use lay::{Pattern, Placement, Reason, Stock, Strip};
use serde_json::{Value, json};
use trade::lays::{ClothLay, told};
use trade::material::Direction;
use trade::message::{Between, Message, message};
use trade::part::Part;
use trade::plan::Plan;
use trade::remnants;
use trade::working::Style;
use words::Voice;

/// Words for the way parts lie.
pub const fn way(direction: Direction) -> &'static str {
    match direction {
        Direction::UpTheRoll => "up the roll",
        Direction::Railroaded => "railroaded",
        Direction::Either => "each part whichever way",
    }
}

pub fn cloth(plan: &Plan, lay: &ClothLay, sheets: &mut Sheets) -> Value {
    let cloth = &plan.job.cloths[lay.cloth];
    let style = &plan.job.style;
    let voice = words::of(&plan.job);
    let strips: Vec<Value> =
        lay.answer.lay.strips.iter().map(|s| strip(plan, lay, s, sheets)).collect();
    let compared: Vec<Value> = lay
        .compared
        .iter()
        .map(|c| {
            json!([
                way(c.direction),
                c.length.map_or("does not fit".to_string(), |l| style.chalk(l)),
                c.length.map_or(String::new(), |_| c.purchase.show(cloth.unit)),
            ])
        })
        .collect();
    let pattern = cloth.pattern.as_ref().map(|p| repeat(p, style));
    json!({
        "name": cloth.name, "width": style.show(cloth.width),
        "pattern": pattern, "one_way": cloth.one_way, "direction": way(lay.direction),
        "used": style.cut(lay.answer.lay.new_length()), "buy": lay.purchase.show(cloth.unit),
        "buys": lay.purchase > Length::ZERO,
        "least": style.chalk(lay.answer.bound.length), "proven": lay.answer.proven,
        "least_buy": lay.least_purchase.show(cloth.unit),
        "why": reason(lay, &lay.answer.bound.reason, &voice),
        "forgives": style.show(lay.forgives.round_down(style.mark)),
        "forgives_nothing": lay.forgives.round_down(style.mark) == Length::ZERO,
        "compared": compared,
        "claim": voice.say(&told::claim(&plan.job, lay)),
        "own": told::own_cloth_says(&plan.job, lay).map(|own| voice.say(&own)),
        "strips": strips,
    })
}

/// A pattern's repeats in words.
pub fn repeat(pattern: &Pattern, style: &Style) -> String {
    let repeat = |l: Option<Length>| l.map_or("none".to_string(), |l| style.show(l));
    let drop = if pattern.drop == lay::Drop::Half { ", half-drop" } else { "" };
    format!("repeat {} along, {} across{drop}", repeat(pattern.length), repeat(pattern.width))
}

/// Why no lay can be shorter, in words.
pub fn reason(lay: &ClothLay, reason: &Reason, voice: &Voice) -> String {
    let style = voice.style();
    let name = |item: usize| {
        let part = &lay.parts[item].part;
        format!("{} {}", part.id, voice.say(&part.name))
    };
    let names = |items: &[usize]| {
        let mut list: Vec<String> = items.iter().take(4).map(|&i| name(i)).collect();
        if items.len() > 4 {
            list.push(format!("{} more", items.len() - 4));
        }
        list.join(", ")
    };
    match reason {
        Reason::Area => "all parts together cover as much".into(),
        Reason::Longest { item } => format!("{} alone is as long", name(*item)),
        Reason::Widths => "wide parts leave too little beside them".into(),
        Reason::Follow { items } => {
            format!("{} follow one another, however closely they nest", names(items))
        }
        Reason::Beside { items } => {
            format!("{} end no lower, however they lie beside one another", names(items))
        }
        Reason::Columns => "not even cut into strips would they fit in less".into(),
        Reason::Otherwise => "laid another way, less may do".into(),
        Reason::Tried => "every shorter lay has been tried".into(),
        Reason::Kept => "what is pinned in place ends there".into(),
        Reason::OnHand => "what is on hand may hold everything".into(),
        Reason::Abreast { alone, beside, abreast, repeats } => {
            let mut text = Vec::new();
            if !alone.is_empty() {
                let sum = too_wide(lay, alone, beside).map(|(a, b, usable)| {
                    let number = |length| style.number(length);
                    format!(": {} + {} > {}", number(a), number(b), number(usable))
                });
                let sum = sum.unwrap_or_default();
                text.push(format!("nothing else of these fits beside {}{sum}", names(alone)));
            }
            if !beside.is_empty() {
                text.push(format!("{} lie at most {abreast} abreast", names(beside)));
            }
            if *repeats {
                text.push("each starts on a whole repeat".into());
            }
            text.join("; ")
        }
    }
}

/// The widths of the narrowest part that lies alone and of the narrowest other, and the usable width they
/// exceed; `None` if it takes more than their widths to see that they do not lie side by side.
fn too_wide(lay: &ClothLay, alone: &[usize], beside: &[usize]) -> Option<(Length, Length, Length)> {
    let across = |item: usize| {
        let item = &lay.instance.items[item];
        item.turns.iter().map(|&turn| item.shape.turned(turn).bounds().width()).min()
    };
    let first = alone.iter().copied().min_by_key(|&item| across(item))?;
    let again = lay.instance.items[first].count > 1;
    let others = alone.iter().chain(beside).copied().filter(|&item| again || item != first);
    let (a, b) = (across(first)?, others.filter_map(across).min()?);
    let usable = lay.instance.buying.right - lay.instance.buying.left;
    (a + b > usable).then_some((a, b, usable))
}

fn strip(plan: &Plan, lay: &ClothLay, strip: &Strip, sheets: &mut Sheets) -> Value {
    let style = &plan.job.style;
    let voice = words::of(&plan.job);
    let all = sections(plan, lay, strip);
    let (one_in, rows) = lay_drawing::rows(plan, lay, strip, &all);
    let table = Table::new(plan, lay, strip, &all);
    let rows: Vec<Value> = rows
        .into_iter()
        .map(|row| {
            let drawing = sheets.add(&row.drawing);
            // A section that goes on over two rows is told under the first.
            let told = row.sections.filter(|n| all[*n].from.mm() >= row.from - 1e-6);
            match &table.motifs {
                Some(motifs) => {
                    let sections: Vec<Value> = told.map(|n| table.on_motifs(motifs, n)).collect();
                    json!({ "drawing": drawing, "sections": sections })
                }
                None => {
                    let mut lines: Vec<Value> = told.flat_map(|n| table.lines(n)).collect();
                    let right = lines.split_off(lines.len().div_ceil(2));
                    json!({ "drawing": drawing, "left": lines, "right": right })
                }
            }
        })
        .collect();
    let title = match strip.stock {
        Stock::New(0) => message("plan-new-cloth"),
        Stock::New(i) => message("plan-new-length").count("number", i + 1),
        Stock::OnHand(i) => {
            let hand = &lay.instance.on_hand[i];
            message("plan-on-hand").text("name", &hand.name).length("length", hand.length)
        }
    };
    let kept: Vec<Value> = remnants::kept(lay)
        .iter()
        .filter(|k| lay.answer.lay.strips[k.strip].stock == strip.stock)
        .map(|k| {
            let from = Length::from_nm(k.place.low.y);
            let section = all.iter().rposition(|s| s.from <= style.place(from)).unwrap_or(0);
            let size = |l: Length| style.number(l.round_down(style.mark));
            json!({
                "id": k.id, "section": format!("S{}", section + 1),
                "size": format!("{} × {}", size(k.place.height()), size(k.place.width())),
            })
        })
        .collect();
    let pinned: Vec<&str> = strip
        .placements
        .iter()
        .filter(|p| lay.instance.pinned(strip.stock, p))
        .map(|p| lay.parts[p.item].part.id.as_str())
        .collect();
    let (left, right) = lay.instance.usable(strip.stock);
    json!({
        "title": voice.say(&title), "usable": style.show(right - left), "scale": scale(one_in),
        "face_down": plan.job.cloths[lay.cloth].chalk_back, "count": strip.placements.len(),
        "start": table.start(), "is_patterned": table.motifs.is_some(),
        "rows": rows, "kept": kept, "pinned": pinned.join(", "),
        "flaws": lay.instance.flaws(strip.stock).len(), "used": style.chalk(strip.length),
        "parts": table.parts(),
    })
}

/// What the table under a row says.
struct Table<'a> {
    plan: &'a Plan,
    lay: &'a ClothLay,
    strip: &'a Strip,
    sections: &'a [Section],
    rows: Vec<CutRow>,
    boxes: Vec<Rect>,
    motifs: Option<Motifs>,
    voice: Voice<'static>,
}

impl<'a> Table<'a> {
    fn new(plan: &'a Plan, lay: &'a ClothLay, strip: &'a Strip, sections: &'a [Section]) -> Self {
        let motifs = Motifs::of(lay, strip);
        // Where only strips are free of it, the pattern still tells the place of all others.
        let is_held = |p: &Placement| lay_labels::held_place(p, &lay.parts[p.item].part).is_some();
        let motifs = motifs.filter(|_| strip.placements.iter().any(is_held));
        Self {
            plan,
            lay,
            strip,
            sections,
            rows: cut_rows(plan, lay, strip),
            boxes: sections::boxes(lay, strip),
            motifs,
            voice: words::of(&plan.job),
        }
    }

    /// The number of a section's first part in the order of cuts.
    fn first(&self, section: usize) -> usize {
        1 + self.sections[..section].iter().flat_map(|s| &s.groups).map(Vec::len).sum::<usize>()
    }

    fn part(&self, index: usize) -> &Part {
        &self.lay.parts[self.strip.placements[index].item].part
    }

    /// How the cut end is squared on a pattern.
    fn start(&self) -> Option<String> {
        let (ahead, odd) = self.motifs.as_ref()?.first_ahead();
        let ahead = self.plan.job.style.place(ahead);
        let text = message("plan-start").number("ahead", ahead);
        Some(self.voice.say(&text.text("columns", columns_word(odd))))
    }

    /// A section of a patterned cloth: how long, where the next cut is, on which motif each part lies.
    fn on_motifs(&self, motifs: &Motifs, number: usize) -> Value {
        let section = &self.sections[number];
        let style = &self.plan.job.style;
        let mut order = self.first(number);
        let mut parts = Vec::new();
        for group in &section.groups {
            let placement = &self.strip.placements[group[0]];
            let part = self.part(group[0]);
            let n = numbers(order, group.len());
            order += group.len();
            let place = lay_labels::held_place(placement, part);
            let at = match place.and_then(|place| Some((place, motifs.by(place, section)?))) {
                Some((place, motif)) => {
                    let told = motifs.tell(section, place, motif);
                    let id = if told.column == 0 { "plan-on-row" } else { "plan-on-motif" };
                    message(id).count("column", told.column).count("nth", told.nth)
                }
                None => {
                    let row = &self.rows[group[0]];
                    message("plan-from-cut")
                        .number("along", row.from_end.0 - section.from)
                        .number("across", row.from_side.0)
                }
            };
            parts.push(json!({ "n": n, "id": part.id, "at": self.voice.say(&at) }));
        }
        let is_last = number + 1 == self.sections.len();
        let cut = if is_last {
            self.voice.word("plan-end")
        } else {
            let (past, odd) = motifs.cut(section.to);
            let text = message("plan-cut-past").number("past", style.place(past));
            self.voice.say(&text.text("columns", columns_word(odd)))
        };
        json!({ "flag": format!("S{}", number + 1), "long": style.number(section.to - section.from), "cut": cut, "parts": parts })
    }

    /// A section of plain cloth: its head, then a line for each part or group.
    fn lines(&self, number: usize) -> Vec<Value> {
        let section = &self.sections[number];
        let style = &self.plan.job.style;
        let long = style.number(section.to - section.from);
        let is_last = number + 1 == self.sections.len();
        let id = if is_last { "plan-rest" } else { "plan-section" };
        let head = self.voice.say(&message(id).text("long", long));
        let mut lines = vec![json!({ "flag": format!("S{}", number + 1), "head": head })];
        let mut order = self.first(number);
        let mut zero = section.from;
        for group in &section.groups {
            let at = style.place(Length::from_nm(self.boxes[group[0]].low.y));
            let from = section.zero(at);
            if from != zero && section.zeros.contains(&from) {
                let text = message("plan-new-zero").number("at", from - section.from);
                lines.push(json!({ "flag": "0", "head": self.voice.say(&text) }));
            }
            zero = from;
            let part = self.part(group[0]);
            let row = &self.rows[group[0]];
            let (along, across) = lay_labels::as_it_lies(part, row.turn, style);
            let hand = part.hand.map(|hand| if hand == "left" { "L" } else { "R" });
            lines.push(json!({
                "n": numbers(order, group.len()), "id": part.id, "hand": hand,
                "top": lay_labels::has_top(part).then(|| self.arrow(row.turn)),
                "size": format!("{} × {}", style.number(along), style.number(across)),
                "from": style.number(row.from_end.0 - from), "side": style.number(row.from_side.0),
            }));
            order += group.len();
        }
        lines
    }

    fn arrow(&self, turn: f64) -> &'static str {
        let down = self.plan.job.cloths[self.lay.cloth].chalk_back;
        lay_labels::arrow_sign(if down { -turn } else { turn })
    }

    /// Each sort of part on this length once: what it is, how large, how it sits on the pattern.
    fn parts(&self) -> Vec<Value> {
        let style = &self.plan.job.style;
        let mut told: Vec<(usize, String, Value)> = Vec::new();
        let mut rows: Vec<Value> = Vec::new();
        for (index, placement) in self.strip.placements.iter().enumerate() {
            let laid = &self.lay.parts[placement.item];
            let on = self.motifs.as_ref().and_then(|motifs| {
                let place = lay_labels::held_place(placement, &laid.part)?;
                let section = self.sections.iter().find(|s| s.parts().any(|i| i == index))?;
                let motif = motifs.by(place, section)?;
                let at = |mm: i64| style.place(Length::from_nm(mm.abs()));
                Some(self.voice.say(&sits(place, motif, &at)))
            });
            let on = on.unwrap_or_default();
            if told.iter().any(|(item, said, _)| (*item, said) == (placement.item, &on)) {
                continue;
            }
            told.push((placement.item, on.clone(), Value::Null));
            let (along, across) = lay_labels::as_it_lies(&laid.part, placement.turn, style);
            let here = self.strip.placements.iter().filter(|p| p.item == placement.item).count();
            rows.push(json!({
                "id": laid.part.id, "name": part_name(&self.voice, &laid.part), "count": here,
                "piece": self.plan.developed[laid.developed].label,
                "size": format!("{} × {}", style.number(along), style.number(across)),
                "on": on, "outline": self.voice.say(&laid.part.outline_told(style)),
            }));
        }
        rows.sort_by_key(|row| row["id"].as_str().map(natural).unwrap_or_default());
        rows
    }
}

/// A tag so that 10A comes after 9A.
fn natural(tag: &str) -> (usize, String) {
    let digits: String = tag.chars().take_while(char::is_ascii_digit).collect();
    (digits.parse().unwrap_or(0), tag[digits.len()..].to_string())
}

/// How a part's middle lies to its motif.
fn sits(place: geometry::Spot, motif: geometry::Spot, at: &dyn Fn(i64) -> Length) -> Message {
    let (x, y) = (place.x - motif.x, place.y - motif.y);
    let (right, beyond) = (at(x), at(y));
    if right == Length::ZERO && beyond == Length::ZERO {
        return message("sits-on-motif");
    }
    let mut parts = Vec::new();
    if right > Length::ZERO {
        parts.push(message(if x > 0 { "sits-right" } else { "sits-left" }).number("by", right));
    }
    if beyond > Length::ZERO {
        parts.push(message(if y > 0 { "sits-beyond" } else { "sits-short" }).number("by", beyond));
    }
    message("sits-off-motif").list("list", parts, Between::Comma)
}

/// `7`, or `15–24`.
fn numbers(first: usize, count: usize) -> String {
    if count == 1 { first.to_string() } else { format!("{first}–{}", first + count - 1) }
}

const fn columns_word(odd: Option<bool>) -> &'static str {
    match odd {
        None => "all",
        Some(true) => "odd",
        Some(false) => "even",
    }
}

/// One cut as the order of cuts prints it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct CutRow {
    /// Index of the part in its lay.
    pub item: usize,
    /// Degrees it is turned on the roll.
    pub turn: f64,
    /// Near and far mark from the cut end.
    pub from_end: (Length, Length),
    /// Near and far mark from the selvedge that is counted from.
    pub from_side: (Length, Length),
}

/// The cuts of a length in their order; far mark less near mark is the part's printed size.
pub fn cut_rows(plan: &Plan, lay: &ClothLay, strip: &Strip) -> Vec<CutRow> {
    let style = &plan.job.style;
    let stretch =
        |low: i64, high: i64| style.stretch(Length::from_nm(low), Length::from_nm(high - low));
    let row = |p: &Placement| {
        let bounds = lay.instance.items[p.item].shape.turned(p.turn).bounds().moved(p.at);
        let (low, high) = sections::from_side(plan, lay, strip, &bounds);
        CutRow {
            item: p.item,
            turn: p.turn,
            from_end: stretch(bounds.low.y, bounds.high.y),
            from_side: stretch(low, high),
        }
    };
    strip.placements.iter().map(row).collect()
}

pub fn scale(one_in: f64) -> String {
    if one_in == one_in.trunc() { format!("1 : {one_in:.0}") } else { format!("1 : {one_in}") }
}
