//! The workroom's books through the page's own routes: they balance to the cent and to the millimetre, by
//! sums kept apart from the program.

use crate::served::{Served, Visitor, between};
use rust_decimal::Decimal;
use std::collections::BTreeMap;

/// So many days from today.
fn day(days: i64) -> String {
    let today = jiff::ZonedDateTime::now().date();
    today.checked_add(jiff::Span::new().days(days)).unwrap().to_string()
}

/// A job whose price is a charge and a little cloth, so that it is planned at once.
fn job(name: &str, charge: &str, tax: &str) -> String {
    format!(
        "[job]\nname = \"{name}\"\nunit = \"mm\"\ncurrency = \"EUR\"\ncountry = \"DE\"\n\
         [shop]\nname = \"Workroom\"\naddress = \"Mill Lane 4\"\ntax_number = \"DE123456789\"\n\
         [customer]\nname = \"Customer of {name}\"\naddress = \"High Street 1\"\n\
         [rates]\nhour = 40\nround_to = 1\n[tax]\nname = \"VAT\"\nrate = {tax}\n[deposit]\npercent = 30\n\
         [[charge]]\nwhat = \"Fitting\"\namount = {charge}\n\
         [[cloth]]\nname = \"Moss\"\nwidth = \"1400\"\nprice = 20\n\
         [[piece]]\nname = \"Seat\"\nkind = \"measured\"\ncloth = \"Moss\"\nwidth = \"600\"\nheight = \"500\"\n"
    )
}

/// SplitMix64: the same year each time (Steele, Lea and Flood 2014, from memory).
struct Chance(u64);

impl Chance {
    fn below(&mut self, n: u64) -> u64 {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        (z ^ (z >> 31)) % n
    }
}

/// Rows of the table for the bookkeeper, by the heads of its columns.
fn table(visitor: &Visitor) -> Vec<BTreeMap<String, String>> {
    let text = visitor.get("/books/invoices.csv").text();
    let mut reader = csv::Reader::from_reader(text.as_bytes());
    let heads = reader.headers().unwrap().clone();
    let row = |record: csv::StringRecord| {
        heads.iter().map(str::to_string).zip(record.iter().map(str::to_string)).collect()
    };
    reader.records().map(|record| row(record.unwrap())).collect()
}

fn sum<'a>(values: impl Iterator<Item = &'a String>) -> Decimal {
    values.map(|v| v.parse::<Decimal>().unwrap()).sum()
}

/// What a screen says is agreed last: the amount before the tag ends.
fn agreed(visitor: &Visitor, job: &str) -> Decimal {
    let screen = visitor.get(&format!("{job}/money")).text();
    let part = screen.split("What was agreed").nth(1).unwrap().split("</ul>").next().unwrap();
    let last = part.rsplit("<span class=\"num\">").next().unwrap();
    amount(last.split('<').next().unwrap())
}

/// `1,530.98 EUR` as a number.
fn amount(text: &str) -> Decimal {
    let plain: String = text.chars().filter(|c| c.is_ascii_digit() || ".-".contains(*c)).collect();
    plain.parse().unwrap_or_else(|_| panic!("{text}"))
}

/// Every electronic invoice against the official rules of EN 16931, by a validator that is not ours.
fn conform(visitor: &Visitor, invoices: i64) {
    let root = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("../..");
    let validator = root.join("target/invoice-check/bin/einvoice");
    if !validator.exists() && std::env::var_os("CLOTHWRIGHT_TEST_INVOICES").is_none() {
        // Installed by `scripts/install-invoice-check`; the test command has it.
        return;
    }
    let folder = tempfile::tempdir().unwrap();
    for number in 1..=invoices {
        let xml = visitor.get(&format!("/invoice/{number}.xml"));
        assert_eq!(xml.code, 200, "{}", xml.text());
        std::fs::write(folder.path().join(format!("{number}.xml")), &xml.body).unwrap();
    }
    let told = std::process::Command::new(validator)
        .args(["validate-batch", "--profile=en16931"])
        .arg(folder.path())
        .output()
        .unwrap();
    assert!(told.status.success(), "{}", String::from_utf8_lossy(&told.stdout));
}

#[test]
fn a_made_up_year_balances() {
    let folder = tempfile::tempdir().unwrap();
    let page = Served::start(folder.path());
    let visitor = Visitor::new(page.address);
    let mut chance = Chance(20_261_127);
    let mut owed: BTreeMap<String, Decimal> = BTreeMap::new();
    let mut agreed_in_all: BTreeMap<String, Decimal> = BTreeMap::new();
    let mut invoices = 0;
    for n in 0..24 {
        let name = format!("Job {n}");
        let charge = format!("{}.{:02}", 50 + chance.below(3000), chance.below(100));
        let tax = ["0", "7", "19", "20"][chance.below(4) as usize];
        let at = visitor.job(&job(&name, &charge, tax)).trim_end_matches("/pieces").to_string();
        let post = |what: &str, fields: &[(&str, &str)]| {
            let answer = visitor.post(&format!("{at}/{what}"), fields);
            assert_eq!(answer.code, 303, "{what}: {}", answer.text());
        };
        post("stage", &[("stage", "quoted")]);
        let mut total = agreed(&visitor, &at);
        let mut paid = Decimal::ZERO;
        let mut left = total;
        let cents = |value: Decimal| value.round_dp(2);
        // Deposits and parts, some of them never.
        for _ in 0..chance.below(3) {
            let part = cents(left * Decimal::new(10 + chance.below(50) as i64, 2));
            post(
                "money/invoice",
                &[("what", "part"), ("due", &day(4)), ("amount", &part.to_string())],
            );
            invoices += 1;
            left -= part;
            if chance.below(4) > 0 {
                post(
                    "money/pay",
                    &[("amount", &part.to_string()), ("day", &day(-7)), ("how", "transfer")],
                );
                paid += part;
            }
        }
        // Work that was found later: accepted, or not.
        if chance.below(2) == 0 {
            let more = Decimal::new(1_000 + chance.below(50_000) as i64, 2);
            let new = charge.parse::<Decimal>().unwrap() + more;
            assert_eq!(visitor.set(&at, "charge.0.amount", &charge, &new.to_string()), "taken");
            post("money/note", &[("words", "rotten rail")]);
            let accepted = chance.below(3) > 0;
            let screen = visitor.get(&format!("{at}/money")).text();
            let note = between(&screen, "/money/answer/", "?").unwrap().to_string();
            let word = if accepted { "yes" } else { "no" };
            post(&format!("money/answer/{note}"), &[("name", "M. Miller"), ("accepted", word)]);
            // Answered once is answered.
            let again = visitor
                .post(&format!("{at}/money/answer/{note}"), &[("name", "x"), ("accepted", "yes")]);
            assert_eq!(again.code, 422);
            if accepted {
                let now = agreed(&visitor, &at);
                assert!(now > total, "{now} after {total}");
                left += now - total;
                total = now;
            }
        }
        post("money/invoice", &[("what", "final"), ("due", &day(-26)), ("amount", "")]);
        invoices += 1;
        // Nothing is left, and nothing is invoiced twice.
        let twice = visitor.post(
            &format!("{at}/money/invoice"),
            &[("what", "final"), ("due", &day(-26)), ("amount", "")],
        );
        assert_eq!(twice.code, 422, "{}", twice.text());
        if chance.below(4) == 0 {
            post(&format!("money/credit/{invoices}"), &[]);
            let again = visitor.post(&format!("{at}/money/credit/{invoices}"), &[]);
            assert_eq!(again.code, 422);
            invoices += 1;
            post("money/invoice", &[("what", "final"), ("due", &day(-17)), ("amount", "")]);
            invoices += 1;
        }
        if chance.below(3) > 0 {
            let most = total - paid;
            let part = cents(most * Decimal::new(20 + chance.below(81) as i64, 2));
            if part > Decimal::ZERO {
                post("money/pay", &[("amount", &part.to_string()), ("day", &day(-2)), ("how", "")]);
                paid += part;
            }
        }
        owed.insert(name.clone(), total - paid);
        agreed_in_all.insert(name, total);
    }
    let rows = table(&visitor);
    // Numbered one after the other.
    let numbers: Vec<i64> = rows.iter().map(|row| row["number"].parse().unwrap()).collect();
    assert_eq!(numbers, (1..=invoices).collect::<Vec<i64>>());
    for (name, total) in &agreed_in_all {
        let own = || rows.iter().filter(|row| row["job"] == *name);
        // Every job's invoices and credits come to what was agreed, and each to its own parts.
        assert_eq!(sum(own().map(|row| &row["total"])), *total, "{name}");
        for row in own() {
            let parts = ["net", "tax", "rounding"].map(|key| row[key].parse::<Decimal>().unwrap());
            assert_eq!(parts.iter().sum::<Decimal>(), row["total"].parse().unwrap());
        }
    }
    // What is owed on the screen is what the sums kept apart say.
    let books = visitor.get("/books").text();
    let shown = between(&books, "<p class=\"figure-price\">", "<").unwrap();
    assert_eq!(amount(shown), owed.values().sum::<Decimal>());
    // The command line, beside the page, says the same.
    let asked = |what: &[&str]| {
        let mut command = std::process::Command::new(env!("CARGO_BIN_EXE_clothwright"));
        let told =
            command.arg("books").args(what).arg("--data").arg(folder.path()).output().unwrap();
        (told.status.code(), String::from_utf8(told.stdout).unwrap())
    };
    let (_, text) = asked(&["owed", "--json"]);
    let rows: Vec<serde_json::Value> = serde_json::from_str(&text).unwrap();
    let said: Decimal =
        rows.iter().map(|r| r["owed"].as_str().unwrap().parse::<Decimal>().unwrap()).sum();
    assert_eq!(said, owed.values().sum::<Decimal>());
    assert_eq!(asked(&["invoices", "--csv"]).1, visitor.get("/books/invoices.csv").text());
    assert_eq!(asked(&["paid", "1", "12.50", "--how", "cash"]).0, Some(0));
    assert!(visitor.get("/job/1/money").text().contains("12.50"));
    assert_eq!(asked(&["paid", "999", "1"]).0, Some(2));
    assert_eq!(asked(&["paid", "1", "much"]).0, Some(2));
    // What has invoices is not deleted; a comma that may mean two things is refused.
    let delete = visitor.post("/job/1/delete", &[("name", "Job 0")]);
    assert_eq!(delete.code, 422, "{}", delete.text());
    for wrong in ["325,81", "1,5", "1.234", "", "12,3456"] {
        let pay = [("amount", wrong), ("day", &day(0)), ("how", "")];
        assert_eq!(visitor.post("/job/1/money/pay", &pay).code, 422, "{wrong}");
    }
    for wrong in ["1900-01-01", "2999-01-01", "yesterday"] {
        let pay = [("amount", "1"), ("day", wrong), ("how", "")];
        assert_eq!(visitor.post("/job/1/money/pay", &pay).code, 422, "{wrong}");
    }
    let pay = [("amount", "-99999"), ("day", &day(0)), ("how", "")];
    assert_eq!(visitor.post("/job/1/money/pay", &pay).code, 422);
    // Electronic and printed ones of the first, and none that is not there.
    let xml = visitor.get("/invoice/1.xml");
    assert_eq!(xml.code, 200, "{}", xml.text());
    assert!(roxmltree::Document::parse(&xml.text()).is_ok());
    conform(&visitor, invoices);
    assert!(visitor.get("/invoice/1.pdf").body.starts_with(b"%PDF"));
    assert_eq!(visitor.get("/invoice/999.pdf").code, 404);
}

#[test]
fn a_length_on_the_shelf_is_offered_taken_and_cut_once() {
    let folder = tempfile::tempdir().unwrap();
    let page = Served::start(folder.path());
    let visitor = Visitor::new(page.address);
    let first = visitor.job(&job("First", "10", "0")).trim_end_matches("/pieces").to_string();
    let second = visitor.job(&job("Second", "10", "0")).trim_end_matches("/pieces").to_string();
    visitor.post("/shop", &[("job.unit", "mm")]);
    let length = [("name", "Moss"), ("width", "1400"), ("length", "550"), ("lot", "7")];
    assert_eq!(visitor.post("/stock", &length).code, 303);
    assert_eq!(
        visitor.post("/stock", &[("name", "Moss"), ("width", "wide"), ("length", "5")]).code,
        422
    );
    let bought = |job: &str| {
        let sheet = visitor.sheet(job);
        sheet["plan"]["buys"][0]["amount"].as_str().unwrap_or("nothing").to_string()
    };
    assert!(bought(&first).contains("0.6") || bought(&first).contains("0.5"), "{}", bought(&first));
    let goods = visitor.get(&format!("{first}/goods")).text();
    assert!(goods.contains("R1") && goods.contains("Offer it"), "{goods}");
    assert_eq!(visitor.post(&format!("{first}/goods/0/take/1"), &[]).code, 303);
    // The plan takes it, and nothing is bought.
    let sheet = visitor.sheet(&first);
    assert_eq!(sheet["values"]["cloth"][0]["on_hand"][0]["id"], "R1");
    let goods = visitor.get(&format!("{first}/goods")).text();
    assert!(
        goods.contains("is used") && goods.contains("all of it comes from what is here"),
        "{goods}"
    );
    // Promised once: another job neither sees it free nor gets it.
    assert!(!visitor.get(&format!("{second}/goods")).text().contains("Offer it"));
    assert_eq!(visitor.post(&format!("{second}/goods/0/take/1"), &[]).code, 422);
    // Given free and taken by the other; cut there it is gone.
    assert_eq!(visitor.post(&format!("{first}/goods/0/free/1"), &[]).code, 303);
    assert!(visitor.sheet(&first)["values"]["cloth"][0]["on_hand"].is_null());
    assert_eq!(visitor.post(&format!("{second}/goods/0/take/1"), &[]).code, 303);
    assert_eq!(visitor.post(&format!("{second}/goods/0/cut/1"), &[]).code, 303);
    assert!(visitor.get("/stock").text().contains("Nothing yet"));
    assert!(visitor.get("/stock/1").text().contains("nothing is left"));
    // Measured again, the job that it is promised to is laid on what is there.
    let third = visitor.job(&job("Third", "10", "0")).trim_end_matches("/pieces").to_string();
    assert_eq!(visitor.post("/stock", &length).code, 303);
    assert_eq!(visitor.post(&format!("{third}/goods/0/take/2"), &[]).code, 303);
    let put = [("length", "200"), ("why", "measured again")];
    assert_eq!(visitor.post("/stock/2/move", &put).code, 303);
    assert_eq!(visitor.sheet(&third)["values"]["cloth"][0]["on_hand"][0]["length"], "200 mm");
    assert!(!visitor.get(&format!("{third}/goods")).text().contains("is used"));
    // Leftovers are real once the job is cut, and once.
    let keep = [("mark", "K1"), ("width", "500 mm"), ("length", "300 mm")];
    visitor.post(&format!("{second}/stage"), &[("stage", "cut")]);
    assert_eq!(visitor.post(&format!("{second}/goods/0/keep"), &keep).code, 303);
    assert_eq!(visitor.post(&format!("{second}/goods/0/keep"), &keep).code, 422);
    // What came is laid again: too short is told as what is still to buy.
    let price = |job: &str| amount(visitor.sheet(job)["plan"]["price"].as_str().unwrap());
    let before = price(&first);
    let came = [("width", "1390"), ("length", "400"), ("lot", "9")];
    assert_eq!(visitor.post(&format!("{first}/goods/0/came"), &came).code, 303);
    let sheet = visitor.sheet(&first);
    assert_eq!(sheet["values"]["cloth"][0]["width"], "1390 mm");
    assert!(sheet["plan"]["buys"][0]["amount"].as_str().is_some(), "{sheet}");
    // What was bought for the job is paid by it, here or still to come.
    assert!(price(&first) >= before, "{} after {before}", price(&first));
    let put = [("length", "0"), ("why", "thrown away")];
    assert_eq!(visitor.post("/stock/4/move", &put).code, 303);
    assert!(visitor.get("/stock/4").text().contains("nothing is left"));
    assert!(visitor.sheet(&first)["values"]["cloth"][0]["on_hand"].is_null());
}

#[test]
fn hours_noted_teach_the_rate_book() {
    let folder = tempfile::tempdir().unwrap();
    let page = Served::start(folder.path());
    let visitor = Visitor::new(page.address);
    assert!(visitor.get("/books").text().contains("Nothing yet"));
    // Twelve pieces that took twice the book's minutes.
    for n in 0..12 {
        let at =
            visitor.job(&job(&format!("J{n}"), "10", "0")).trim_end_matches("/pieces").to_string();
        let screen = visitor.get(&format!("{at}/hours")).text();
        assert!(screen.contains("Seat"), "{screen}");
        let noted = [
            ("piece", "Seat"),
            ("time", "0:14"),
            ("operation", ""),
            ("day", &day(0)),
            ("who", "B"),
        ];
        assert_eq!(visitor.post(&format!("{at}/hours"), &noted).code, 303);
        let wrong = [("piece", "Seat"), ("time", "soon"), ("day", &day(0))];
        assert_eq!(visitor.post(&format!("{at}/hours"), &wrong).code, 422);
        assert_eq!(visitor.post(&format!("{at}/hours/done"), &[("piece", "Seat")]).code, 303);
        assert_eq!(visitor.post(&format!("{at}/hours/done"), &[("piece", "No such")]).code, 422);
    }
    let books = visitor.get("/books").text();
    assert!(books.contains("Range") && books.contains("Take it"), "{books}");
    let accept = [("operation", "strip_metre")];
    assert_eq!(visitor.post("/books/accept", &accept).code, 404, "nothing was stripped");
    assert_eq!(visitor.post("/books/accept", &[("operation", "cut_part")]).code, 303);
    // A new job starts from it.
    let shop = visitor.get("/shop").text();
    assert!(shop.contains("cut_part"), "{shop}");
    assert!(shop.contains("spread_jobs = 12"));
}

#[test]
fn nothing_acknowledged_is_lost_when_the_program_is_killed() {
    let folder = tempfile::tempdir().unwrap();
    let mut page = Served::start(folder.path());
    let mut visitor = Visitor::new(page.address);
    let at = visitor.job(&job("Kill", "500", "20")).trim_end_matches("/pieces").to_string();
    assert_eq!(visitor.post(&format!("{at}/stage"), &[("stage", "quoted")]).code, 303);
    let (mut paid, mut sure) = (0_i64, 0_i64);
    for round in 0..12 {
        let writer = visitor.clone();
        let to = format!("{at}/money/pay");
        let thread = std::thread::spawn(move || {
            let (mut sent, mut answered) = (0, 0);
            for _ in 0..40 {
                sent += 1;
                let one = [("amount", "1.00"), ("day", &day(0)), ("how", "")];
                match writer.try_post(&to, &one) {
                    Ok(answer) if answer.code == 303 => answered += 1,
                    _ => break,
                }
            }
            (sent, answered)
        });
        std::thread::sleep(std::time::Duration::from_millis(20 + 17 * round));
        page.kill();
        let (sent, answered) = thread.join().unwrap();
        paid += sent;
        sure += answered;
        page = Served::start(folder.path());
        visitor = Visitor::new(page.address);
        let screen = visitor.get(&format!("{at}/money")).text();
        let counted = screen.split("Payments").nth(1).unwrap().matches("<li>").count() as i64;
        assert!((sure..=paid).contains(&counted), "{counted}: {sure} to {paid}");
    }
}

#[test]
fn what_jobs_need_is_ordered_once_and_comes_in_parts() {
    let folder = tempfile::tempdir().unwrap();
    let page = Served::start(folder.path());
    let visitor = Visitor::new(page.address);
    for name in ["First", "Second"] {
        let text = job(name, "10", "0").replace("price = 20", "price = 20\nsupplier = \"Mill\"");
        let at = visitor.job(&text).trim_end_matches("/pieces").to_string();
        assert_eq!(visitor.post(&format!("{at}/stage"), &[("stage", "quoted")]).code, 303);
    }
    let screen = visitor.get("/orders").text();
    assert!(
        screen.contains("To order: Mill") && screen.contains("First") && screen.contains("Second"),
        "{screen}"
    );
    let send = [("supplier", "Mill"), ("due", &day(7))];
    // Nothing chosen is nothing ordered.
    assert_eq!(visitor.post("/orders", &send).code, 422);
    let due = day(7);
    let send =
        [("supplier", "Mill"), ("due", due.as_str()), ("line 1 Moss", "on"), ("line 2 Moss", "on")];
    assert_eq!(visitor.post("/orders", &send).code, 303);
    // A job that has all it needs ordered is ordered.
    assert!(visitor.get("/").text().contains("Cut"), "{}", visitor.get("/").text());
    // Ordered is ordered.
    assert_eq!(visitor.post("/orders", &send).code, 422);
    let text = visitor.get("/orders/1.txt").text();
    assert!(text.starts_with("Order 1\nTo: Mill") && text.matches("Moss").count() == 2, "{text}");
    let quantity: Decimal =
        text.lines().nth(5).unwrap().split(' ').next().unwrap().parse().unwrap();
    let part = (quantity / Decimal::TWO).to_string();
    assert_eq!(visitor.post("/orders/1/0", &[("quantity", &part)]).code, 303);
    assert_eq!(visitor.post("/orders/1/0", &[("quantity", "-1")]).code, 422);
    assert_eq!(visitor.post("/orders/1/0", &[("quantity", "many")]).code, 422);
    assert_eq!(visitor.post("/orders/1/0", &[("quantity", &part)]).code, 303);
    assert_eq!(visitor.post("/orders/1/1", &[("quantity", &quantity.to_string())]).code, 303);
    let screen = visitor.get("/orders").text();
    assert!(screen.contains("Here") && !screen.contains("Still to come"), "{screen}");
    assert_eq!(visitor.post("/orders/1/7", &[("quantity", "1")]).code, 404);
}
