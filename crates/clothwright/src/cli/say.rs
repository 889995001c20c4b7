//! What a person is told on the screen.

use std::path::Path;
use trade::hints::Hint;
use trade::job::Job;
use trade::lays::told;
use trade::plan::Plan;
use trade::price::{NO_RATE, Price};

/// A line, if anybody still reads: a reader that has seen enough is no fault.
pub(super) fn say(line: &str) {
    put(&format!("{line}\n"));
}

/// The same without an end of line.
pub(super) fn put(text: &str) {
    use std::io::Write;
    let _ = std::io::stdout().lock().write_all(text.as_bytes());
}

/// What a person wants to know first.
pub(super) fn summary(plan: &Plan, hints: &[Hint], out: &Path) {
    let job = &plan.job;
    let voice = words::of(job);
    say(&job.name);
    for lay in &plan.lays.cloths {
        let cloth = &job.cloths[lay.cloth];
        match told::own_cloth_says(job, lay) {
            Some(own) => say(&format!("  {}: {}", cloth.name, voice.say(&own))),
            None => say(&format!(
                "  {}: buy {} (lay {}; {})",
                cloth.name,
                lay.purchase.show(cloth.unit),
                job.style.cut(lay.answer.lay.new_length()),
                voice.say(&told::claim(job, lay))
            )),
        }
    }
    for lay in &plan.lays.sheets {
        let goods = if lay.stuff == trade::part::Stuff::Foam {
            &job.foams[lay.material]
        } else {
            &job.boards[lay.material]
        };
        let n = lay.cutting.sheets.len();
        say(&format!("  {}: {n} sheet{}", goods.name, if n == 1 { "" } else { "s" }));
    }
    let price = &plan.price;
    let total = |price: &Price| match price.whole() {
        Some(total) => format!("{} {}", job.currency, trade::money::show(total)),
        None => voice.word(NO_RATE).to_lowercase(),
    };
    let deposit = price.first().map(|d| format!(" with tax, deposit {}", trade::money::show(d)));
    say(&format!("  {:.1} h; {}{}", price.hours, total(price), deposit.unwrap_or_default()));
    for (choice, other) in &plan.choices {
        say(&format!("  option {}: {}", choice.name, total(&other.price)));
    }
    for hint in hints {
        say(&format!("  near miss: {}", near_miss(job, hint)));
    }
    for warning in plan.warnings() {
        let (what, remedy) = (voice.say(&warning.what), voice.say(&warning.remedy));
        say(&format!("  watch: {}: {what}; {remedy}", warning.about));
    }
    say(&format!("pack: {}", out.display()));
}

/// A near miss in a line.
fn near_miss(job: &Job, hint: &Hint) -> String {
    let voice = words::of(job);
    let mut text = format!("{}: {}", voice.say(&hint.what), voice.say(&hint.effect(job)));
    if !hint.saves.is_zero() {
        let saves = trade::money::show(hint.saves);
        text += &format!("; saves {} {saves} before tax", job.currency);
    }
    if !hint.gives_up.is_empty() {
        text += &format!("; {}", voice.say(&hint.gives_up));
    }
    text
}
