//! More time, or less asked for, never buys more: over random jobs of all rules of cloth.

use crate::random_jobs;
use crate::said;
use geometry::Length;
use lay::Limits;
use proptest::prelude::*;
use rust_decimal::Decimal;
use trade::job::Job;
use trade::plan::{Plan, plan};

fn read(text: &str) -> Job {
    let read = clothwright::job_file::read(text);
    assert!(read.faults.is_empty(), "{}", clothwright::job_file::show("job", text, &read.faults));
    read.job
}

/// What is bought of each cloth.
fn bought(plan: &Plan) -> Vec<Length> {
    plan.lays.cloths.iter().map(|lay| lay.purchase).collect()
}

/// Panels, some of them held to motifs whose start is not known, and welt.
fn patterned(pieces: &[(u32, u32, u32, bool)], length: u32, trim: u32, welt: u32) -> String {
    let mut text = format!(
        "[job]\nname = \"P\"\nunit = \"in\"\n[rates]\nhour = 50\n\
         [[cloth]]\nname = \"C\"\nwidth = \"54\"\nprice = 20\nstep = \"1/4 yd\"\ntrim = \"{trim}\"\ndirection = \"either\"\n\
         repeat = {{ length = \"{length}\", width = \"13 1/2\" }}\n"
    );
    for (i, (w, h, n, centred)) in pieces.iter().enumerate() {
        let rule = if *centred || i == 0 { "centred" } else { "free" };
        text += &format!(
            "[[piece]]\nname = \"P{i}\"\nkind = \"measured\"\ncloth = \"C\"\nwidth = \"{w}\"\nheight = \"{h}\"\ncount = {n}\npattern = \"{rule}\"\n"
        );
    }
    if welt > 0 {
        text += &format!(
            "[[piece]]\nname = \"W\"\nkind = \"welt\"\ncloth = \"C\"\nruns = [\"{welt}\"]\n"
        );
    }
    text
}

/// Welt in longer strips may take more cloth and still cost less with its cutting and joining.
fn never_more(job: &Job, works: &[u64]) -> Result<(), TestCaseError> {
    let mut before: Option<(Vec<Length>, Decimal)> = None;
    for &work in works {
        let Ok(plan) = plan(job, &Limits::work(1, work)) else { return Ok(()) };
        let now = (bought(&plan), plan.price.net);
        if let Some(before) = &before {
            let more = now.0.iter().zip(&before.0).any(|(now, before)| now > before);
            prop_assert!(!more || now.1 <= before.1, "{now:?} with {work}, {before:?} before");
        }
        before = Some(now);
    }
    Ok(())
}

/// What lies on a further length lies on the same length at the end of the longest.
fn short_by_no_more(pieces: &[(u32, u32, u32)], lengths: &[u32]) -> Result<(), TestCaseError> {
    let mut text = String::from(
        "[job]\nname = \"O\"\nunit = \"in\"\n[rates]\nhour = 50\n\
         [[cloth]]\nname = \"C\"\nwidth = \"54\"\nprice = 0\nstep = \"1 in\"\ntrim = \"0\"\n\
         customers_own = true\ndirection = \"either\"\n",
    );
    for (i, length) in lengths.iter().enumerate() {
        text += &format!("[[cloth.on_hand]]\nid = \"L{i}\"\nlength = \"{length}\"\n");
    }
    for (i, (w, h, n)) in pieces.iter().enumerate() {
        text += &format!(
            "[[piece]]\nname = \"P{i}\"\nkind = \"measured\"\ncloth = \"C\"\nwidth = \"{w}\"\nheight = \"{h}\"\ncount = {n}\n"
        );
    }
    let Ok(plan) = plan(&read(&text), &Limits::work(1, 6_000_000)) else { return Ok(()) };
    let own = plan.lays.cloths[0].own.as_ref().unwrap();
    prop_assert!(own.short <= own.missing_at_least, "{own:?}");
    prop_assert!(own.short_at_least <= own.short, "{own:?}");
    Ok(())
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(12))]

    #[test]
    fn more_work_never_buys_more(text in random_jobs::job()) {
        never_more(&read(&text), &[0, 1_000_000, 6_000_000, 26_000_000])?;
    }

    #[test]
    fn more_work_never_buys_more_of_a_pattern_that_starts_anywhere(
        pieces in proptest::collection::vec((8_u32..26, 8_u32..26, 1_u32..4, any::<bool>()), 1..5),
        length in 9_u32..30,
        welt in prop_oneof![Just(0_u32), 60_u32..400],
    ) {
        let text = patterned(&pieces, length, 0, welt);
        never_more(&read(&text), &[0, 1_000_000, 6_000_000, 26_000_000])?;
    }

    #[test]
    fn for_every_start_a_lay_for_one_and_a_repeat_is_enough(
        pieces in proptest::collection::vec((8_u32..26, 8_u32..26, 1_u32..4, any::<bool>()), 1..5),
        length in 9_u32..30,
        starts in proptest::collection::vec(0.0_f64..1.0, 4),
    ) {
        // A lay for one start moved up by less than a repeat serves any other.
        let text = patterned(&pieces, length, 0, 0);
        let limits = Limits::work(1, 26_000_000);
        let Ok(any) = plan(&read(&text), &limits) else { return Ok(()) };
        let repeat = Length::from_inches(f64::from(length));
        for start in starts {
            let known = format!("{:.3}", start * f64::from(length));
            let known = text.replace("repeat = {", &format!("repeat = {{ first_along = \"{known}\","));
            let known = plan(&read(&known), &limits).unwrap();
            let lay = &known.lays.cloths[0];
            let enough = lay.instance.buying.purchase(lay.answer.lay.new_length() + repeat);
            prop_assert!(bought(&any)[0] <= enough, "{:?} and {enough:?}", bought(&any));
        }
    }

    #[test]
    fn own_cloth_is_short_by_no_more_than_what_makes_it_up(
        pieces in proptest::collection::vec((8_u32..30, 8_u32..30, 1_u32..4), 1..6),
        lengths in proptest::collection::vec(10_u32..60, 1..3),
    ) {
        short_by_no_more(&pieces, &lengths)?;
    }

    #[test]
    fn what_asks_for_less_never_buys_more_than_before(
        pieces in proptest::collection::vec((8_u32..26, 8_u32..26, 1_u32..4, any::<bool>()), 1..5),
        length in 9_u32..30,
        trim in 1_u32..4,
    ) {
        let limits = Limits::work(1, 6_000_000);
        let Ok(base) = plan(&read(&patterned(&pieces, length, trim, 0)), &limits) else { return Ok(()) };
        let less = read(&patterned(&pieces, length, trim - 1, 0));
        // Even with hardly any work.
        for work in [0, 100_000] {
            let limits = Limits::work(2, work);
            let again = trade::plan::plan_again(&less, &limits, Some(&base)).unwrap();
            prop_assert!(bought(&again)[0] <= bought(&base)[0]);
        }
    }
}

#[test]
fn whole_pieces_and_the_rest_are_a_lay_of_everything_too() {
    // A random case in which dividing found less than laying everything at once had.
    let pieces = [(8, 29, 2), (15, 19, 2), (11, 16, 3), (12, 28, 2), (10, 23, 3)];
    short_by_no_more(&pieces, &[20, 12]).unwrap();
}

#[test]
fn a_near_miss_is_what_taking_it_does() {
    let text = clothwright::KINDS
        .replace("[near_misses]", "[near_misses]\nseam = \"1/8\"\nsize = \"1/2\"");
    let text = if text.contains("[near_misses]") {
        text
    } else {
        format!("{text}\n[near_misses]\nturn_under = \"1/2\"\nseam = \"1/8\"\nsize = \"1/2\"\n")
    };
    let job = read(&text);
    let limits = Limits::work(1, 20_000_000);
    let base = plan(&job, &limits).unwrap();
    for hint in trade::hints::hints(&base, &limits) {
        // The job with those values is the one that was priced.
        let taken = trade::hints::changed(&job, &hint.changes);
        let again = trade::plan::plan_again(&taken, &limits, Some(&base)).unwrap();
        assert!(again.price.net <= base.price.net, "{}", crate::said(&hint.what));
        assert!(!hint.changes.is_empty() && !hint.effect(&job).is_empty());
    }
}

#[test]
fn fronts_a_little_narrower_save_a_sheet() {
    // Five fronts 410 on sheets 1200 wide: two abreast; 400 would lie three abreast (arithmetic): a third
    // fewer sheets, and the near miss names the measure.
    let text = "[job]\nname = \"Fronts\"\nunit = \"mm\"\n[rates]\nhour = 40\n\
         [[cloth]]\nname = \"C\"\nwidth = \"1400\"\nprice = 20\ndirection = \"either\"\n\
         [[foam]]\nname = \"F\"\nthickness = \"50\"\nfirmness = \"firm\"\nsheet = [{ length = \"2000\", width = \"1200\", price = 56.50 }]\n\
         [[piece]]\nname = \"Front\"\nkind = \"panel\"\ncloth = \"C\"\nfoam = \"F\"\nwidth = \"1900\"\nheight = \"410\"\ncount = 6\n\
         [near_misses]\nsize = \"10\"\n";
    let job = read(text);
    let limits = Limits::work(1, 4_000_000);
    let base = plan(&job, &limits).unwrap();
    assert_eq!(base.lays.sheets[0].cutting.sheets.len(), 3);
    let hints = trade::hints::hints(&base, &limits);
    let hint = hints
        .iter()
        .find(|h| said(&h.what).contains("height"))
        .unwrap_or_else(|| panic!("{hints:?}"));
    assert_eq!(hint.sheets, [("F".to_string(), 3, 2)]);
    assert!(hint.saves >= "56.50".parse().unwrap(), "{}", hint.saves);
}
