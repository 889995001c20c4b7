//! The screens, one file each.

pub mod assets;
pub mod bench;
pub mod books;
pub mod by_hand;
pub mod change;
pub mod data;
pub mod enter;
pub mod goods;
pub mod hours;
pub mod invoices;
pub mod job;
pub mod kinds;
pub mod list;
pub mod misses;
pub mod money;
pub mod orders;
pub mod outline;
pub mod papers;
pub mod photo;
pub mod plan;
pub mod send;
pub mod shop;
pub mod stock;
pub mod trust;
pub mod versions;

pub use super::fields::capital;

use super::Visit;
use super::store::Entry;
use maud::{DOCTYPE, Markup, html};
use rust_decimal::Decimal;

/// What htmx is told: nothing is evaluated, nothing kept, and refusals are not put into the page.
const HTMX: &str = r#"{"includeIndicatorStyles":false,"allowEval":false,"historyCacheSize":0,"responseHandling":[{"code":"[23]..","swap":true},{"code":"409","swap":true},{"code":"[45]..","swap":false,"error":true}]}"#;

/// Screens of the shop: address and name.
const SHOP: [(&str, &str); 5] = [
    ("/", "Jobs"),
    ("/customers", "Customers"),
    ("/stock", "Stock"),
    ("/books", "Books"),
    ("/shop", "Settings"),
];

/// Steps of a job: the last part of the address, its name, its icon's course.
const STEPS: [(&str, &str, &str); 5] = [
    ("details", "Details", "M4 4H20V20H4ZM8 9H16M8 13H16M8 17H12"),
    ("materials", "Materials", "M4 5H14V20H4ZM14 8H20V20H14M4 9H14"),
    ("pieces", "Pieces", "M4 4H11V11H4ZM13 4H20V9H13ZM13 11H20V20H13ZM4 13H11V20H4Z"),
    ("plan", "Plan", "M3 5H21V19H3ZM3 12H12M12 5V19M12 14H21"),
    ("send", "Send", "M3 11 21 3 14 21 11 13Z"),
];

/// Screens of a job beside its steps.
const ASIDE: [(&str, &str); 5] = [
    ("bench", "Bench"),
    ("goods", "Cloth"),
    ("hours", "Hours"),
    ("money", "Money"),
    ("versions", "History"),
];

/// A value as a bar on a scale whose longest is `most`, with what it is.
pub fn bar_row(words: &str, value: Decimal, most: Decimal, shown: &str, class: &str) -> Markup {
    let share = match most > Decimal::ZERO {
        true => (value.max(Decimal::ZERO) * Decimal::ONE_HUNDRED / most).round_dp(1),
        false => Decimal::ZERO,
    };
    html! {
        div.barrow { span.lab { (words) }
            svg class=(class) viewBox="0 0 100 10" preserveAspectRatio="none" aria-hidden="true" { rect.of width="100" height="10" {} rect.done width=(share) height="10" {} }
            span.num { (shown) } }
    }
}

fn icon(course: &str) -> Markup {
    html! { svg.i viewBox="0 0 24 24" aria-hidden="true" { path d=(course) {} } }
}

/// The mark of the program: a tape on a folded cloth.
fn mark() -> Markup {
    html! {
        svg.logo viewBox="0 0 26 26" aria-hidden="true" {
            path.tape d="M2 4H24V11H2Z" {} path.ticks d="M5 4V8M9 4V7M13 4V8M17 4V7M21 4V8" {}
            path.cloth d="M2 11H24V17L17 24H2Z" {} path.fold d="M24 17H17V24Z" {}
        }
    }
}

/// The frame of every screen.
pub fn frame(visit: &Visit, title: &str, class: &str, body: &Markup) -> Markup {
    let headers = format!("{{\"X-Token\": \"{}\"}}", visit.token);
    let is_app = class.starts_with("app");
    html! {
        (DOCTYPE)
        html lang="en" {
            head {
                meta charset="utf-8";
                meta name="viewport" content="width=device-width, initial-scale=1, viewport-fit=cover";
                meta name="color-scheme" content="light dark";
                meta name="htmx-config" content=(HTMX);
                title { (title) }
                link rel="stylesheet" href="/assets/page.css";
                link rel="icon" href="/assets/icon.svg" type="image/svg+xml";
                link rel="manifest" href="/assets/page.webmanifest";
                @if is_app { script type="module" src="/assets/app.js" {} } @else {
                    script src="/assets/htmx.js" defer {}
                    script src="/assets/page.js" defer {}
                }
                @if class == "planned" { script src="/assets/plan.js" defer {} }
                @if class == "outline-page" { script src="/assets/outline.js" defer {} }
                @if class == "by-hand" { script src="/assets/by-hand.js" defer {} }
            }
            body class=(class) hx-headers=[(!is_app).then_some(&headers)] {
                a.skip href="#main" { "Skip to content" }
                (body)
                p #notice role="status" aria-live="polite" {}
                p.vh #spoken aria-live="polite" {}
            }
        }
    }
}

/// The shop's bar on wide screens.
fn bar(here: &str) -> Markup {
    html! {
        div.bar.only-wide {
            a.mark href="/" { (mark()) "Clothwright" }
            nav aria-label="shop" { @for (to, words) in SHOP { a href=(to) aria-current=[(to == here).then_some("page")] { (words) } } }
            span.st.ok.state-wide {}
        }
    }
}

/// A screen of the shop: list of jobs, customers, settings.
pub fn shop_screen(visit: &Visit, title: &str, here: &str, class: &str, body: &Markup) -> Markup {
    let tabs = [
        ("/", "Jobs", "M6 3H18V21H6ZM9 8H15M9 12H15M9 16H13"),
        (
            "/customers",
            "Customers",
            "M9 5a3.5 3.5 0 1 0 .01 0M2 20C2 15 5 13 9 13S16 15 16 20ZM16 6a3 3 0 1 1 .01 5M18 13C21 14 22 16 22 20H19",
        ),
        (
            "/stock",
            "Stock",
            "M4 4H20V9H4ZM4 10H20V15H4ZM4 16H20V21H4ZM7 6.5H10M7 12.5H10M7 18.5H10",
        ),
        ("/books", "Books", "M5 3H19V21H5ZM9 7H15M9 11H15M9 15H12"),
        ("/shop", "Settings", "M4 7H20M4 12H20M4 17H20M9 5V9M15 10V14M7 15V19"),
    ];
    let whole = html! {
        (bar(here))
        header.top.only-small { a.mark.grow href="/" { (mark()) (title) } }
        main #main { h1.only-wide { (title) } (body) }
        nav.foot.tabs.only-small aria-label="shop" {
            @for (to, words, course) in tabs { a href=(to) aria-current=[(to == here).then_some("page")] { (icon(course)) (words) } }
        }
    };
    frame(visit, &format!("{title} — Clothwright"), class, &whole)
}

/// The frame of a job's screens: shop's bar, the job's head, its steps; on a phone one row of tabs. What
/// depends on the job is filled in by the page's script where `job` is none.
pub fn job_screen(
    visit: &Visit,
    job: Option<&Entry>,
    step: &str,
    class: &str,
    body: &Markup,
) -> Markup {
    let to =
        |step: &str| job.map_or_else(|| "/".to_string(), |job| format!("/job/{}/{step}", job.id));
    let link = |step: &'static str, words: &str, course: &str, here: bool| {
        html! { a href=(to(step)) data-step=[job.is_none().then_some(step)] aria-current=[here.then_some("page")] { (icon(course)) (words) } }
    };
    let name = job.map_or("", |job| job.name.as_str());
    let about = job.map(|job| [job.customer.clone(), list::due_in_words(job)]).unwrap_or_default();
    let about: Vec<String> = about.into_iter().filter(|words| !words.is_empty()).collect();
    let whole = html! {
        (bar("/"))
        header.top.only-small #top {
            @if job.is_some() {
                a.b.round href="/" aria-label="all jobs" { (icon("M15 4 7 12 15 20")) }
                h1.grow.one { (name) }
                details.menu { summary.b.round aria-label="more" { (icon("M5 11h2v2H5zM11 11h2v2h-2zM17 11h2v2h-2z")) }
                    div.sheet { @for (s, words) in ASIDE { a href=(to(s)) { (words) } }
                        @if let Some(job) = job { form method="post" action=(with_token(visit, &format!("/job/{}/undo", job.id))) { button.plain { "Undo" } } } } }
            }
        }
        div.jobhead.only-wide {
            div.row.between { div { p.title #job-title { (name) } p.quiet.small #job-about { (about.join(" · ")) } } div #progress-place {} }
            nav.steps aria-label="steps of the job" {
                @for (s, words, course) in STEPS { (link(s, if s == "plan" { "Plan & price" } else { words }, course, s == step)) }
                span.grow {}
                @for (s, words) in ASIDE { a data-step=[job.is_none().then_some(s)] href=(to(s)) aria-current=[(s == step).then_some("page")] { (words) } }
                @if job.is_none() { button.plain #undo type="button" { "Undo" } }
                @if let Some(job) = job { form.inline method="post" action=(with_token(visit, &format!("/job/{}/undo", job.id))) { button.plain { "Undo" } } }
            }
        }
        div.band.wait #away hidden {}
        @if class.starts_with("app") {
            div.desk { main #main {} aside #docket.only-wide.sheet aria-label="price" {} }
        } @else { main #main class=(class) data-job=[job.map(|job| job.id)] { (body) } }
        div.foot.only-small {
            @if job.is_none() { a.docketline #docket-line data-step="plan" href="#" {} }
            nav.tabs aria-label="steps of the job" { @for (s, words, course) in STEPS { (link(s, words, course, s == step)) } }
        }
    };
    let title =
        if name.is_empty() { "Clothwright".into() } else { format!("{name} — Clothwright") };
    frame(visit, &title, class, &whole)
}

/// The head of a screen: where one is, and the way back.
pub fn head(title: &str, back: Option<(&str, &str)>, more: &Markup) -> Markup {
    html! {
        header.top.all {
            @if let Some((to, words)) = back { a.b.round href=(to) aria-label=(words) { (icon("M15 4 7 12 15 20")) } }
            h1.grow.one { (title) }
            (more)
        }
    }
}

/// Something that could not be done, in words.
pub fn told(visit: &Visit, words: &str, from: Option<&str>) -> Markup {
    let body = html! {
        (head("Not done", Some(("/", "jobs")), &html! {}))
        main #main.narrow {
            p.fault role="alert" { (words) }
            p.hint { "Nothing was changed. Go back in the browser to what you had typed" @if let Some(from) = from { ", or " a href=(from) { "open that screen anew" } } "." }
        }
    };
    frame(visit, "Not done — Clothwright", "told", &body)
}

/// A form's address with the token every change must show.
pub fn with_token(visit: &Visit, to: &str) -> String {
    format!("{to}?token={}", visit.token)
}
