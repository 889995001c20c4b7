//! Price: materials with markup or margin, labour, overhead, surcharges, travel, tax, deposit.
//!
//! One calculation; the customer's view and the workroom's view are two readings of its lines.

use crate::job::Job;
use crate::labour::Task;
use crate::message::{Message, message};
use crate::money::{self, cents};
use crate::part::Developed;
use crate::piece::PatternRule;
use crate::rates::Class;
use crate::take_off::{Source, TakeOff};
use rust_decimal::Decimal;

/// One priced line.
#[derive(Clone, Debug, PartialEq)]
pub struct Line {
    /// How tax sees it.
    pub class: Class,
    /// Heading in the customer's view.
    pub group: Group,
    /// What it is.
    pub what: Message,
    /// How the amount came about.
    pub why: Message,
    /// What it costs the shop, if that is known.
    pub cost: Option<Decimal>,
    /// What is charged, before tax.
    pub amount: Decimal,
}

/// Headings of the customer's view.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Group {
    /// Cloth.
    Cloth,
    /// Foam, board, sundries.
    Materials,
    /// Work at the bench and on site, overhead and surcharges on it.
    Labour,
    /// Journeys.
    Travel,
    /// Flat charges.
    Charges,
    /// What makes it up to the minimum.
    Minimum,
}

impl Group {
    /// On the quote.
    pub const fn name(self) -> Message {
        message(match self {
            Self::Cloth => "group-cloth",
            Self::Materials => "group-materials",
            Self::Labour => "group-labour",
            Self::Travel => "group-travel",
            Self::Charges => "group-charges",
            Self::Minimum => "group-minimum",
        })
    }
}

/// The price of a job.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Price {
    /// Lines.
    pub lines: Vec<Line>,
    /// Before tax.
    pub net: Decimal,
    /// Tax by rate: percent, on how much, how much.
    pub taxes: Vec<(Decimal, Decimal, Decimal)>,
    /// All tax.
    pub tax: Decimal,
    /// Rounding of the total.
    pub rounding: Decimal,
    /// To pay.
    pub total: Decimal,
    /// To pay before cloth is ordered.
    pub deposit: Decimal,
    /// How the deposit came about.
    pub deposit_why: Message,
    /// What the shop pays for materials.
    pub material_cost: Decimal,
    /// Hours of labour.
    pub hours: Decimal,
    /// What is left over material cost and travel; labour is the shop's own.
    pub contribution: Decimal,
    /// There is work by the hour and no hourly rate: the lines are right as far as they go, but they make
    /// no total.
    pub no_rate: bool,
}

/// Prices a job.
pub fn price(job: &Job, developed: &[Developed], take_off: &TakeOff, labour: &[Task]) -> Price {
    let mut lines = materials(job, take_off);
    let goods: Decimal = lines.iter().map(|l| l.amount).sum();
    let rates = &job.rates;
    if rates.sundries_percent > Decimal::ZERO {
        lines.push(Line {
            class: Class::Goods,
            group: Group::Materials,
            what: message("price-sundries"),
            why: message("price-percent-of-materials")
                .decimal("percent", rates.sundries_percent)
                .money("of", goods),
            cost: None,
            amount: cents(goods * rates.sundries_percent / Decimal::ONE_HUNDRED),
        });
    }
    lines.extend(work(job, developed, labour));
    if let Some(travel) = &job.travel {
        let distance = travel.journeys * travel.distance;
        lines.push(Line {
            class: Class::Travel,
            group: Group::Travel,
            what: message("price-travel"),
            why: message("price-journeys")
                .decimal("journeys", travel.journeys)
                .decimal("distance", travel.distance)
                .text("unit", &travel.unit)
                .money("rate", rates.travel),
            cost: None,
            amount: cents(distance * rates.travel),
        });
    }
    for charge in &job.charges {
        let why = match charge.times == Decimal::ONE {
            true => message("price-flat"),
            false => {
                message("price-times").decimal("times", charge.times).money("amount", charge.amount)
            }
        };
        lines.push(Line {
            class: charge.class,
            group: Group::Charges,
            what: Message::typed(&charge.what),
            why,
            cost: None,
            amount: cents(charge.amount * charge.times),
        });
    }
    let so_far: Decimal = lines.iter().map(|l| l.amount).sum();
    if so_far < rates.minimum {
        lines.push(Line {
            class: Class::Other,
            group: Group::Minimum,
            what: message("price-minimum"),
            why: message("price-minimum-is").money("minimum", rates.minimum),
            cost: None,
            amount: rates.minimum - so_far,
        });
    }
    total(job, lines, take_off, labour)
}

fn materials(job: &Job, take_off: &TakeOff) -> Vec<Line> {
    let rates = &job.rates;
    take_off
        .lines
        .iter()
        .filter(|line| line.cost > Decimal::ZERO)
        .map(|line| {
            let uplift = match line.source {
                Source::Cloth(i) => job.cloths[i].uplift.unwrap_or(rates.cloth),
                Source::Foam(i) => job.foams[i].uplift.unwrap_or(rates.foam),
                Source::Board(i) => job.boards[i].uplift.unwrap_or(rates.board),
                Source::Sundry(_) | Source::Unpriced => rates.sundries,
            };
            let group = if matches!(line.source, Source::Cloth(_)) {
                Group::Cloth
            } else {
                Group::Materials
            };
            Line {
                class: Class::Goods,
                group,
                what: line.item.clone(),
                why: message("price-cost")
                    .decimal("quantity", line.quantity)
                    .said("unit", line.unit.clone())
                    .money("cost", line.cost)
                    .said("uplift", uplift.show()),
                cost: Some(cents(line.cost)),
                amount: cents(uplift.price(line.cost)),
            }
        })
        .collect()
}

/// Labour by class, overhead and surcharges.
fn work(job: &Job, developed: &[Developed], labour: &[Task]) -> Vec<Line> {
    let rates = &job.rates;
    let hour = rates.hour.unwrap_or_default();
    let mut lines = Vec::new();
    for class in Class::ALL {
        for night in [false, true] {
            let minutes: Decimal = labour
                .iter()
                .filter(|t| t.class == class && t.night == night && t.agreed.is_none())
                .map(|t| t.minutes)
                .sum();
            if minutes.is_zero() {
                continue;
            }
            // What is printed is what is multiplied.
            let hours = (minutes / Decimal::from(60)).round_dp(2);
            let factor = if night { rates.night_factor } else { Decimal::ONE };
            let why = message(if night { "price-hours-night" } else { "price-hours" })
                .decimal("hours", hours)
                .money("rate", hour)
                .decimal("factor", factor);
            lines.push(Line {
                class,
                group: Group::Labour,
                what: message("price-work").said("work", work_name(class)).flag("night", night),
                why,
                cost: None,
                amount: cents(hours * hour * factor),
            });
        }
    }
    let mut agreed: Vec<(usize, Class, &str, Decimal)> = Vec::new();
    for task in labour {
        let (Some(share), Some(piece)) = (task.agreed, task.developed) else { continue };
        match agreed.iter_mut().find(|a| (a.0, a.1) == (piece, task.class)) {
            Some(line) => line.3 += share,
            None => agreed.push((piece, task.class, &task.piece, share)),
        }
    }
    lines.extend(agreed.into_iter().map(|(_, class, piece, amount)| Line {
        class,
        group: Group::Labour,
        what: message("price-work-on").said("work", work_name(class)).text("piece", piece),
        why: message("price-agreed"),
        cost: None,
        amount,
    }));
    let base: Decimal = lines.iter().map(|l| l.amount).sum();
    let mut add = |what: &'static str, percent: Decimal, of: Decimal| {
        if percent > Decimal::ZERO && of > Decimal::ZERO {
            lines.push(Line {
                class: Class::Other,
                group: Group::Labour,
                what: message(what),
                why: message(what).part("why").decimal("percent", percent).money("of", of),
                cost: None,
                amount: cents(of * percent / Decimal::ONE_HUNDRED),
            });
        }
    };
    let about = |task: &Task| task.developed.map(|i| &job.pieces[developed[i].piece]);
    let cloth_of =
        |task: &Task| about(task).and_then(|p| p.cloth.as_deref()).and_then(|name| job.cloth(name));
    let labour_on = |wanted: &dyn Fn(&Task) -> bool| {
        let wanted = || labour.iter().filter(|t| wanted(t));
        let minutes: Decimal = wanted().filter(|t| t.agreed.is_none()).map(|t| t.minutes).sum();
        let agreed: Decimal = wanted().filter_map(|t| t.agreed).sum();
        agreed + cents(minutes / Decimal::from(60) * hour)
    };
    let on_own = labour_on(&|t| cloth_of(t).is_some_and(|c| c.customers_own));
    add("price-own-cloth", rates.own_cloth_percent, on_own);
    let on_pattern = labour_on(&|t| {
        about(t).is_some_and(|p| !matches!(p.pattern, PatternRule::Free | PatternRule::Unsaid))
            && cloth_of(t).is_some_and(|c| c.pattern.is_some())
    });
    add("price-pattern", rates.pattern_percent, on_pattern);
    add("price-overhead", rates.overhead_percent, base);
    lines
}

const fn work_name(class: Class) -> Message {
    message(match class {
        Class::Goods => "work-goods",
        Class::Fabrication => "work-fabrication",
        Class::Application => "work-application",
        Class::Repair => "work-repair",
        Class::Fitting => "work-fitting",
        Class::Travel => "work-travel",
        Class::Other => "work-other",
    })
}

/// Tax is rounded once for each rate, halves up; then the total to the shop's step.
///
/// Source: tax on the taxable subtotal rounded once to the cent; practice, from memory.
fn total(job: &Job, lines: Vec<Line>, take_off: &TakeOff, labour: &[Task]) -> Price {
    let rates = &job.rates;
    let net: Decimal = lines.iter().map(|l| l.amount).sum();
    let mut taxes: Vec<(Decimal, Decimal, Decimal)> = Vec::new();
    for line in &lines {
        let rate = rates.tax.rate(line.class);
        match taxes.iter_mut().find(|t| t.0 == rate) {
            Some(tax) => tax.1 += line.amount,
            None => taxes.push((rate, line.amount, Decimal::ZERO)),
        }
    }
    taxes.sort_by_key(|t| std::cmp::Reverse(t.0));
    for tax in &mut taxes {
        tax.2 = cents(tax.1 * tax.0 / Decimal::ONE_HUNDRED);
    }
    taxes.retain(|t| t.0 > Decimal::ZERO);
    let tax: Decimal = taxes.iter().map(|t| t.2).sum();
    let exact = net + tax;
    let total = money::to_step(exact, rates.round_to);
    let material_cost = cents(take_off.lines.iter().map(|l| l.cost).sum());
    let by_percent = cents(total * rates.deposit.percent / Decimal::ONE_HUNDRED);
    let at_least = rates.deposit.at_least_materials && material_cost > by_percent;
    let (deposit, deposit_why) = if at_least {
        (material_cost, message("deposit-materials"))
    } else {
        (by_percent, message("deposit-percent").decimal("percent", rates.deposit.percent))
    };
    Price {
        net,
        taxes,
        tax,
        rounding: total - exact,
        total,
        deposit: deposit.min(total),
        deposit_why,
        material_cost,
        hours: crate::labour::total(labour) / Decimal::from(60),
        contribution: net - material_cost,
        no_rate: rates.hour.is_none()
            && labour.iter().any(|t| t.agreed.is_none() && t.minutes > Decimal::ZERO),
        lines,
    }
}

/// What stands in place of a total where work has no price.
pub const NO_RATE: &str = "no-hourly-rate";

impl Price {
    /// To pay, if everything in it has a price.
    pub fn whole(&self) -> Option<Decimal> {
        (!self.no_rate).then_some(self.total)
    }

    /// To pay before cloth is ordered, if there is a total.
    pub fn first(&self) -> Option<Decimal> {
        (!self.no_rate).then_some(self.deposit)
    }

    /// Sum of each heading of the customer's view, in order.
    pub fn groups(&self) -> Vec<(Group, Decimal)> {
        let mut groups: Vec<(Group, Decimal)> = Vec::new();
        for line in &self.lines {
            match groups.iter_mut().find(|g| g.0 == line.group) {
                Some(group) => group.1 += line.amount,
                None => groups.push((line.group, line.amount)),
            }
        }
        groups.sort_by_key(|g| g.0);
        groups
    }
}
