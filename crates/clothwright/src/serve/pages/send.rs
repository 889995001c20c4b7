//! What goes out: the quote for the customer, the workroom's papers, each its own file.

use super::{job_screen, list::STAGES, with_token};
use crate::serve::{Answer, App, Trouble, Visit, page};
use axum::extract::{Extension, Path, State};
use documents::Paper;
use maud::{Markup, html};
use std::sync::Arc;
use trade::price::NO_RATE;

/// Papers for the workroom: what each is called, and what is in it.
const WORKROOM: [(Paper, (&str, &str)); 4] = [
    (Paper::Workshop, ("Workshop", "front sheet, cutting plans, bench sheets, fitting, tags")),
    (Paper::Order, ("Orders", "a sheet for each supplier")),
    (Paper::Workings, ("Workings", "how every size came about")),
    (Paper::Office, ("Costs and hours", "for the office only, never with another paper")),
];

/// Papers for the customer besides the quote.
const CUSTOMER: [(Paper, (&str, &str)); 4] = [
    (Paper::Receipt, ("Receipt", "what was collected")),
    (Paper::ChangeNote, ("Change note", "what is found later, to be agreed")),
    (Paper::Delivery, ("Delivery note", "what is handed over")),
    (Paper::Care, ("Care", "goes with the finished work")),
];

fn list(id: i64, papers: &[(Paper, (&str, &str))]) -> Markup {
    html! {
        ul.papers { @for (paper, (name, what)) in papers {
            li { a.b.small href=(format!("/job/{id}/papers/{}.pdf", paper.name())) data-paper=(paper.name()) { (name) } span.quiet.small { (what) } }
        } }
    }
}

pub async fn show(
    State(app): State<Arc<App>>,
    Extension(visit): Extension<Visit>,
    Path(id): Path<i64>,
) -> Answer {
    let entry = app.store.job(id)?.ok_or(Trouble::Missing)?;
    let (_, sheet) = app.sheet(id).await?;
    let plan = sheet.plan();
    let open = !sheet.faults.is_empty() || plan.is_none();
    let body = html! {
        div.columns {
            section.kraft {
                @match &plan {
                    Some(plan) if !open => {
                        div.slip {
                            p.quiet.small { "Quote" @if !plan.job.number.is_empty() { " " (plan.job.number) } }
                            h2 { (plan.job.name) }
                            p { (plan.job.customer.name) }
                            ul { @for piece in &plan.job.pieces { li { (piece.name) @if piece.count > 1 { " × " (piece.count) } } } }
                            p.figure-price { (plan.price.whole().map_or_else(|| words::of(&plan.job).word(NO_RATE), |total| trade::money::sum(&plan.job.currency, total))) }
                            @if let Some(deposit) = plan.price.first().filter(|d| !d.is_zero()) { p.quiet.small { "deposit " (trade::money::sum(&plan.job.currency, deposit)) } }
                        }
                    }
                    _ => { div.slip { p { "The quote can go out once every piece is measured and nothing is left to put right." } a.b href=(format!("/job/{id}/pieces")) { "To the pieces" } } }
                }
            }
            section.stack {
                h2 { "Send the quote" }
                @if open { p.fault { "Not yet: " a href=(format!("/job/{id}/plan")) { "see what is still to do" } ". Papers are made once it is done, so that none goes out without a piece." } }
                @else { p.quiet { "One file, without any costs. Share it, print it, or save it." } }
                p.row.wrap hidden[open] {
                    a.b.strong #share href=(format!("/job/{id}/papers/quote.pdf")) data-share=(format!("Quote {}", entry.name)) { "Share the quote" }
                    a.b href=(format!("/job/{id}/papers/quote.pdf")) data-paper="quote" { "Open the quote" }
                }
                @if !open && entry.stage == STAGES[0].0 {
                    form method="post" action=(with_token(&visit, &format!("/job/{id}/stage"))) { input type="hidden" name="stage" value="quoted"; button.b.small { "It is sent: mark as quoted" } }
                }
                @if !sheet.standing.borrow().over && !open { p.quiet.small { "The plan is still being made shorter: the price settles when the quote is opened or marked as sent." } }
                h2 { "Workshop" } (list(id, &WORKROOM))
                h2 { "For the customer, later" } (list(id, &CUSTOMER))
                h2 { "Full-size patterns" }
                p { a.b.small href=(format!("/job/{id}/papers/templates.pdf")) { "Patterns on sheets" } " " span.quiet.small { @if let Some(plan) = &plan { (patterns(plan)) } } }
                h2 { "Others" }
                ul.papers {
                    li { a.b.small href=(format!("/job/{id}/papers/comparison.pdf")) { "Cloth comparison" } span.quiet.small { "widths and cloths side by side" } }
                    li { a.b.small href=(format!("/job/{id}/papers/job.toml")) { "Export the job" } span.quiet.small { "to keep, or to plan on the command line" } }
                }
            }
        }
    };
    Ok(page(job_screen(&visit, Some(&entry), "send", "send", &body)))
}

/// How many sheets the patterns take, before they are asked for.
fn patterns(plan: &trade::plan::Plan) -> String {
    let wanted = documents::full_size::wanted(plan, &[]);
    let paper = if plan.job.letter_paper {
        documents::full_size::Paper::LETTER
    } else {
        documents::full_size::Paper::A4
    };
    let sheets: usize =
        wanted.iter().map(|one| documents::full_size::sheets(plan, one, paper).len()).sum();
    format!("{sheets} sheets")
}
