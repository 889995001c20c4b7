//! Job, customer, shop, allowances, rates, labour, travel, options.

use super::reader::{Sort, Table};
use super::{materials, pieces};
use geometry::{Length, Unit};
use rust_decimal::Decimal;
use trade::job::{Charge, Choice, Customer, ExtraLabour, Job, Relaxation, Shop, Travel};
use trade::money::Uplift;
use trade::operations::{Minutes, Operation};
use trade::places::{self, is_country};
use trade::rates::{Allowances, Class, Deposit, Rates, Tax};
use trade::working::Style;

/// Far above any price.
const MOST_MONEY: i64 = 10_000_000;

/// The whole file.
pub fn job(mut root: Table) -> (Job, Vec<usize>) {
    let mut header = root.table("job");
    let unit = header
        .as_mut()
        .and_then(|t| {
            t.choice(
                "unit",
                &[("in", Unit::Inch), ("mm", Unit::Millimetre), ("cm", Unit::Centimetre)],
            )
        })
        .unwrap_or(Unit::Inch);
    let mut job = empty(unit);
    match header {
        Some(mut t) => {
            job.name = t.text("name");
            job.number = t.text_or_empty("number");
            job.date = t.date("date");
            let days = t.count("valid_days", 0, 3650);
            if let Some(days) = days {
                match job.date.parse::<jiff::civil::Date>() {
                    Ok(date) => {
                        let until = date.checked_add(jiff::Span::new().days(days as i64));
                        job.valid_until = until.map(|d| d.to_string()).unwrap_or_default();
                    }
                    Err(_) => t.wrong(
                        "date",
                        "not-a-date",
                        "`valid_days` counts from `date`, which is not a date",
                        "write the date as 2026-11-25",
                    ),
                }
            }
            job.due = t.date("due");
            job.currency = t.opt_text("currency").unwrap_or_else(|| "USD".into());
            job.style.mark = t
                .opt_length("mark", unit, Sort::Positive)
                .filter(|l| *l > Length::ZERO)
                .unwrap_or(job.style.mark);
            job.letter_paper =
                t.choice("paper", &[("A4", false), ("Letter", true)]).unwrap_or(unit == Unit::Inch);
            job.place_said = t.text_or_empty("place");
            job.place = places::named(&job.place_said);
            job.country = country(&mut t);
            job.assumptions = t.texts("assumptions");
            t.finish();
        }
        None => root.wrong(
            "job",
            "missing",
            "there is no [job] table",
            "start the file with [job], name = \"...\", unit = \"in\" or \"mm\"",
        ),
    }
    if let Some(mut t) = root.table("customer") {
        job.customer = Customer {
            name: t.text_or_empty("name"),
            address: t.text_or_empty("address"),
            contact: t.text_or_empty("contact"),
        };
        t.finish();
    }
    if let Some(mut t) = root.table("shop") {
        job.shop = Shop {
            name: t.text_or_empty("name"),
            address: t.text_or_empty("address"),
            phone: t.text_or_empty("phone"),
            mail: t.text_or_empty("mail"),
            tax_number: t.text_or_empty("tax_number"),
            terms: t.text_or_empty("terms"),
            conditions: t.text_or_empty("conditions"),
        };
        t.finish();
    }
    job.cloths =
        listed(&mut root, "cloth").into_iter().map(|t| materials::cloth(t, unit)).collect();
    job.foams = listed(&mut root, "foam")
        .into_iter()
        .map(|t| materials::sheet_goods(t, unit, false))
        .collect();
    job.boards = listed(&mut root, "board")
        .into_iter()
        .map(|t| materials::sheet_goods(t, unit, true))
        .collect();
    job.sundries =
        listed(&mut root, "sundry").into_iter().map(|t| materials::sundry(t, unit)).collect();
    let usual = Allowances::usual(unit);
    let (allowances, said) = match root.table("allowances") {
        Some(t) => {
            let said = t.keys();
            (allowances(t, unit, &usual), said)
        }
        None => (usual, Vec::new()),
    };
    job.allowances = allowances.clone();
    job.rates = root.table("rates").map(rates).unwrap_or_default();
    if let Some(t) = root.table("tax") {
        job.rates.tax = tax(t);
    }
    if let Some(mut t) = root.table("deposit") {
        job.rates.deposit = Deposit {
            percent: t.percent("percent", 100).unwrap_or_default(),
            at_least_materials: t.flag("at_least_materials", false),
        };
        t.finish();
    }
    let numbers = pieces::all(listed(&mut root, "piece"), unit, &allowances, &mut job.pieces);
    for piece in &mut job.pieces {
        let cloth = job.cloths.iter().find(|cloth| Some(&cloth.name) == piece.cloth.as_ref());
        if let Some(sort) = cloth.and_then(|cloth| cloth.sort) {
            piece.suit(sort, unit, &said);
        }
    }
    job.extra = listed(&mut root, "labour").into_iter().map(labour).collect();
    job.charges = listed(&mut root, "charge").into_iter().map(charge).collect();
    job.travel = root.table("travel").map(|mut t| {
        let travel = Travel {
            journeys: t.decimal("journeys", 0, 1000).unwrap_or(Decimal::ONE),
            distance: t.decimal("distance", 0, 100_000).unwrap_or_default(),
            unit: t
                .opt_text("unit")
                .unwrap_or_else(|| if unit.is_binary() { "miles" } else { "km" }.into()),
        };
        t.finish();
        travel
    });
    for mut t in listed(&mut root, "option") {
        job.choices.push(Choice { name: t.text("name"), swap: t.pairs("swap") });
        t.finish();
    }
    job.relaxations = root.table("near_misses").map(|t| near_misses(t, unit)).unwrap_or_default();
    root.finish();
    (job, numbers)
}

/// Two capitals, as countries are written.
fn country(t: &mut Table) -> String {
    let country = t.text_or_empty("country").trim().to_uppercase();
    if !country.is_empty() && !is_country(&country) {
        t.wrong(
            "country",
            "not-a-country",
            format!("`{country}` is no country's two letters"),
            "write them as on parcels: GB, US, DE",
        );
    }
    country
}

/// The tables of a list, not more than a job may have.
fn listed<'a>(root: &mut Table<'a>, list: &'static str) -> Vec<Table<'a>> {
    let mut all = root.tables(list);
    let most = super::most_of(list);
    if all.len() > most {
        root.wrong(
            list,
            "too-many",
            format!("the job has {} of `{list}`, more than {most}", all.len()),
            "divide it into several jobs",
        );
        all.truncate(most);
    }
    all
}

fn near_misses(mut t: Table, unit: Unit) -> Vec<Relaxation> {
    let mut length = |key| t.opt_length(key, unit, Sort::Positive).filter(|l| *l > Length::ZERO);
    let lengths = [
        length("turn_under").map(Relaxation::TurnUnder),
        length("seam").map(Relaxation::Seam),
        length("trim").map(Relaxation::Trim),
        length("joint_gap").map(Relaxation::JointGap),
        length("size").map(Relaxation::Size),
    ];
    let mut all: Vec<Relaxation> = lengths.into_iter().flatten().collect();
    if t.flag("railroad", false) {
        all.push(Relaxation::Railroad);
    }
    if t.flag("hidden_seam", false) {
        all.push(Relaxation::HiddenSeam);
    }
    if t.flag("swap_cloths", false) {
        all.push(Relaxation::SwapCloths);
    }
    t.finish();
    all
}

fn empty(unit: Unit) -> Job {
    Job {
        name: String::new(),
        number: String::new(),
        date: String::new(),
        valid_until: String::new(),
        due: String::new(),
        currency: String::new(),
        style: Style::usual(unit),
        letter_paper: unit == Unit::Inch,
        place: None,
        place_said: String::new(),
        country: String::new(),
        assumptions: Vec::new(),
        customer: Customer::default(),
        shop: Shop::default(),
        cloths: Vec::new(),
        foams: Vec::new(),
        boards: Vec::new(),
        sundries: Vec::new(),
        allowances: Allowances::usual(unit),
        rates: Rates::default(),
        charges: Vec::new(),
        pieces: Vec::new(),
        extra: Vec::new(),
        travel: None,
        choices: Vec::new(),
        relaxations: Vec::new(),
    }
}

/// Allowances given, others as they were.
pub fn allowances(mut t: Table, unit: Unit, usual: &Allowances) -> Allowances {
    let mut a = usual.clone();
    for key in Allowances::KEYS {
        let before = *a.value(key);
        *a.value(key) = t.length_or(key, unit, before);
    }
    let u = usual;
    // These are divided by: nought would have no end.
    for (key, length, usual) in [
        ("pleat", &mut a.pleat, u.pleat),
        ("cut_step", &mut a.cut_step, u.cut_step),
        ("board_step", &mut a.board_step, u.board_step),
        ("staple_spacing", &mut a.staple_spacing, u.staple_spacing),
        ("corner_spacing", &mut a.corner_spacing, u.corner_spacing),
    ] {
        if *length <= Length::ZERO {
            t.wrong(key, "zero-length", format!("`{key}` is zero"), "enter a length above 0");
            *length = usual;
        }
    }
    t.finish();
    a
}

/// Markup or margin under a key's stem; both is a fault.
pub fn uplift(t: &mut Table, markup: &'static str, margin: &'static str) -> Option<Uplift> {
    let on_cost = t.percent(markup, 1000);
    let on_price = t.percent(margin, 99);
    if on_cost.is_some() && on_price.is_some() {
        t.wrong(
            margin,
            "markup-and-margin",
            format!("`{markup}` and `{margin}` are both given"),
            "give one: markup is percent of the cost, margin is percent of the price",
        );
    }
    on_cost.map(Uplift::Markup).or(on_price.map(Uplift::Margin))
}

fn rates(mut t: Table) -> Rates {
    let usual = Rates::default();
    let money = |t: &mut Table, key, otherwise| t.decimal(key, 0, MOST_MONEY).unwrap_or(otherwise);
    let rates = Rates {
        hour: t.decimal("hour", 0, MOST_MONEY),
        cloth: uplift(&mut t, "cloth_markup", "cloth_margin").unwrap_or(usual.cloth),
        foam: uplift(&mut t, "foam_markup", "foam_margin").unwrap_or(usual.foam),
        board: uplift(&mut t, "board_markup", "board_margin").unwrap_or(usual.board),
        sundries: uplift(&mut t, "sundries_markup", "sundries_margin").unwrap_or(usual.sundries),
        sundries_percent: t.percent("sundries_percent", 100).unwrap_or_default(),
        overhead_percent: t.percent("overhead_percent", 1000).unwrap_or_default(),
        minimum: money(&mut t, "minimum", usual.minimum),
        own_cloth_percent: t.percent("own_cloth_percent", 1000).unwrap_or_default(),
        pattern_percent: t.percent("pattern_percent", 1000).unwrap_or_default(),
        night_factor: t.decimal("night_factor", 1, 10).unwrap_or(Decimal::ONE),
        travel: money(&mut t, "travel", usual.travel),
        round_to: t.decimal("round_to", 0, 1000).unwrap_or(usual.round_to),
        spread_percent: t.percent("spread_percent", 100).unwrap_or(usual.spread_percent),
        spread_jobs: t.count("spread_jobs", 0, 100_000).unwrap_or(0),
        minutes: t.table("minutes").map(minutes).unwrap_or_default(),
        tax: Tax::default(),
        deposit: Deposit::default(),
    };
    t.finish();
    rates
}

fn minutes(mut t: Table) -> Minutes {
    let mut minutes = Minutes::default();
    for operation in Operation::all() {
        if let Some(said) = t.decimal(operation.key(), 0, 10_000) {
            minutes.set(operation, said);
        }
    }
    t.finish();
    minutes
}

fn tax(mut t: Table) -> Tax {
    let mut rate = |key| match t.decimal(key, 0, MOST_MONEY) {
        Some(percent) if percent > Decimal::ONE_HUNDRED => {
            t.wrong(
                key,
                "tax-over-100",
                format!("a tax of {percent} %"),
                "the rate is in percent, at most 100",
            );
            None
        }
        other => other,
    };
    let whole = rate("rate").unwrap_or_default();
    let classes =
        Class::ALL.iter().filter_map(|&class| rate(class.name()).map(|p| (class, p))).collect();
    let tax =
        Tax { name: t.opt_text("name").unwrap_or_else(|| "tax".into()), rate: whole, classes };
    t.finish();
    tax
}

fn charge(mut t: Table) -> Charge {
    let what = t.text("what");
    let amount = t.decimal("amount", 0, MOST_MONEY);
    if amount.is_none() && !t.has("amount") {
        t.wrong("amount", "missing", "`amount` is missing", "add `amount = 45.00`, before tax");
    }
    let words: Vec<(&'static str, Class)> = Class::ALL.iter().map(|c| (c.name(), *c)).collect();
    let charge = Charge {
        what,
        amount: amount.unwrap_or_default(),
        times: t.decimal("times", 0, 10_000).unwrap_or(Decimal::ONE),
        class: t.choice("class", &words).unwrap_or(Class::Other),
    };
    t.finish();
    charge
}

fn labour(mut t: Table) -> ExtraLabour {
    let what = t.text("what");
    let hours = t.decimal("hours", 0, 100_000);
    if hours.is_none() && !t.has("hours") {
        t.wrong("hours", "missing", "`hours` is missing", "add `hours = 1.5`");
    }
    let words: Vec<(&'static str, Class)> = Class::ALL.iter().map(|c| (c.name(), *c)).collect();
    let extra = ExtraLabour {
        what,
        hours: hours.unwrap_or_default(),
        times: t.decimal("times", 0, 10_000).unwrap_or(Decimal::ONE),
        night: t.flag("night", false),
        class: t.choice("class", &words).unwrap_or(Class::Application),
    };
    t.finish();
    extra
}
