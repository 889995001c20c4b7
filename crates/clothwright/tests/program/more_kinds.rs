//! Ways of making that were added to kinds, each against a source.

use crate::said;
use geometry::Length;
use lay::Limits;
use trade::kinds::buttoned_back::{ButtonPlaces, Fullness, over_diamond, places};
use trade::part::{Developed, Filling};
use trade::plan::{Plan, plan};

fn planned(allowances: &str, piece: &str) -> Plan {
    let text = format!(
        "[job]\nname = \"K\"\nunit = \"in\"\n[allowances]\n{allowances}\n[rates]\nhour = 60\n\
         [[cloth]]\nname = \"C\"\nwidth = \"54\"\nprice = 20\n\
         [[cloth]]\nname = \"Contrast\"\nwidth = \"48\"\nprice = 20\n\
         [[foam]]\nname = \"F\"\nthickness = \"4\"\nfirmness = \"firm\"\nsheet = [{{ length = \"80\", width = \"60\", price = 72 }}]\n\
         [[board]]\nname = \"B\"\nthickness = \"1/2\"\nsheet = [{{ length = \"96\", width = \"48\", price = 50 }}]\n\
         [[piece]]\nname = \"P\"\ncloth = \"C\"\n{piece}\n"
    );
    let read = clothwright::job_file::read(&text);
    assert!(read.faults.is_empty(), "{}", clothwright::job_file::show("job", &text, &read.faults));
    plan(&read.job, &Limits::quick(1)).unwrap()
}

/// Size in inches and how many.
fn part(made: &Developed, name: &str) -> (f64, f64, usize) {
    let part = made.parts.iter().find(|p| said(&p.name) == name);
    let part = part.unwrap_or_else(|| panic!("{name}: {:?}", made.parts));
    (part.size().0.inches(), part.size().1.inches(), part.count)
}

fn near(a: f64, b: f64) -> bool {
    (a - b).abs() < 1e-6
}

#[test]
fn an_envelope_back_is_two_halves() {
    // Better Homes & Gardens, envelope pillow of 18: two backs 18 x (18 + 6) / 2 = 12, seams included.
    let plan = planned(
        "seam = \"1/2\"",
        "kind = \"knife-edge cushion\"\nwidth = \"17\"\nheight = \"17\"\nback = \"envelope\"\noverlap = \"6\"",
    );
    let back = part(&plan.developed[0], "back panel");
    assert!(near(back.0, 18.0) && near(back.1, 12.0) && back.2 == 2, "{back:?}");
    assert_eq!(plan.developed[0].quantities.zip, None);
}

#[test]
fn a_pad_is_larger_than_its_cover_where_that_is_said() {
    // A pillow maker's page: a cover an inch smaller than its pad up to 17 in.
    let plan = planned(
        "",
        "kind = \"knife-edge cushion\"\nwidth = \"16\"\nheight = \"16\"\nfilling_beyond = \"1\"",
    );
    let filling = plan.developed[0].quantities.filling;
    let inch = Length::from_inches;
    assert_eq!(filling, Some(Filling::Inner(inch(17.0), inch(17.0))));
}

#[test]
fn drawn_ends_take_half_the_end_each() {
    // Two household pages: length + D + 1 by round + 1 with seams of 1/2. 36 x 8: 45 x 26 1/8 and a little.
    let plan = planned(
        "seam = \"1/2\"\ncut_step = \"1/16\"",
        "kind = \"bolster\"\nlength = \"36\"\ndiameter = \"8\"\nends = \"drawn\"",
    );
    let made = &plan.developed[0];
    assert_eq!(made.parts.len(), 1);
    let body = part(made, "body");
    assert!(near(body.0, 45.0) && near(body.1, 26.1875), "{body:?}");
}

#[test]
fn a_gathered_skirt_takes_its_fullness() {
    // A home page on dust ruffles: 220 in at two and a half times, and 4 in of seams: 554.
    let plan = planned(
        "seam = \"1/2\"",
        "kind = \"skirt\"\nsides = [\"60\", \"80\", \"80\"]\ndrop = \"14\"\npleats = \"gathered\"\nfullness_percent = 250",
    );
    let (width, _, count) = part(&plan.developed[0], "skirt width");
    // Net of its seams the ring is 550, up to a mark a width.
    let net = (width - 1.0) * count as f64;
    assert!((550.0..551.0).contains(&net), "{net} in {count}");
}

#[test]
fn a_skirt_that_falls_straight_has_a_seam_at_each_corner_and_no_underlay() {
    let plan = planned(
        "seam = \"1/2\"",
        "kind = \"skirt\"\nsides = [\"30\", \"20\"]\ndrop = \"8\"\nhem = \"1\"\npleats = \"none\"",
    );
    let made = &plan.developed[0];
    assert_eq!(made.parts.len(), 2);
    assert!(near(made.parts[0].size().0.inches(), 31.0));
    // 30 + 20 along hem and top, and a seam of 8 + 1 + 1/2 at each of two corners.
    assert!(
        near(made.quantities.seam.inches(), 2.0 * 50.0 + 2.0 * 9.5),
        "{:?}",
        made.quantities.seam
    );
}

#[test]
fn rows_of_ten_and_nine_buttons_make_thirty_eight() {
    // A headboard described on a home page: rows of 10, 9, 10, 9, together 38.
    let spots = places(9, 3, ButtonPlaces::Corners, true);
    let in_row = |row: f64| spots.iter().filter(|s| near(s.1, row)).count();
    assert_eq!([0.0, 0.5, 1.0, 1.5].map(in_row), [10, 9, 10, 9]);
    assert_eq!(spots.len(), 38);
    let plan = planned(
        "",
        "kind = \"buttoned back\"\nfoam = \"F\"\nboard = \"B\"\nwidth = \"30\"\nheight = \"24\"\nborder = \"3\"\nacross = 9\nhigh = 1\nhalf_row = true\n\
         buttons_at = \"corners\"\ndepth = \"1\"",
    );
    assert_eq!(plan.developed[0].quantities.buttons, 38);
}

#[test]
fn squares_and_float_buttons() {
    // A grid of 4 x 3 squares: 5 x 4 buttons with the edge, 3 x 2 without (counting).
    assert_eq!(places(4, 6, ButtonPlaces::Squares, true).len(), 20);
    assert_eq!(places(4, 6, ButtonPlaces::Squares, false).len(), 6);
    // A float button takes no cloth: the cover is that of a plain panel.
    let s = Length::from_inches(5.0);
    assert_eq!(over_diamond(s, Length::from_inches(2.0), Fullness::Flat, true), Some(s));
    let float = planned(
        "",
        "kind = \"buttoned back\"\nfoam = \"F\"\nboard = \"B\"\nwidth = \"30\"\nheight = \"20\"\nborder = \"4\"\nacross = 4\nhigh = 3\nbuttons_at = \"squares\"\nfullness = \"none\"\ndepth = \"1/4\"",
    );
    let plain = planned(
        "",
        "kind = \"panel\"\nfoam = \"F\"\nboard = \"B\"\nshape = \"rectangle\"\nwidth = \"30\"\nheight = \"20\"",
    );
    let cover = |plan: &Plan| part(&plan.developed[0], "cover");
    assert_eq!((cover(&float).0, cover(&float).1), (cover(&plain).0, cover(&plain).1));
}

#[test]
fn boxing_welt_and_zip_strip_come_out_of_their_own_cloth() {
    let plan = planned(
        "",
        "kind = \"boxed cushion\"\nfoam = \"F\"\nwidth = \"24\"\ndepth = \"24\"\nwelt = \"one\"\nboxing_cloth = \"Contrast\"\nwelt_cloth = \"Contrast\"\nzip_cloth = \"Contrast\"",
    );
    let made = &plan.developed[0];
    for part in made.parts.iter().filter(|p| p.stuff == trade::part::Stuff::Cloth) {
        let is_face = ["top panel", "bottom panel"].contains(&said(&part.name).as_str());
        assert_eq!(part.material == "C", is_face, "{}", said(&part.name));
        // Nothing is wider than the cloth that it comes out of.
        let usable = if is_face { 54.0 } else { 48.0 };
        assert!(part.size().0.inches().min(part.size().1.inches()) <= usable);
    }
    assert_eq!(plan.lays.cloths.len(), 2);
}

#[test]
fn a_choice_changes_the_other_cloths_too() {
    let text = "[job]\nname = \"K\"\nunit = \"in\"\n[rates]\nhour = 60\n\
         [[cloth]]\nname = \"C\"\nwidth = \"54\"\nprice = 20\n[[cloth]]\nname = \"D\"\nwidth = \"54\"\nprice = 30\n\
         [[foam]]\nname = \"F\"\nthickness = \"4\"\nfirmness = \"firm\"\nsheet = [{ length = \"80\", width = \"60\", price = 72 }]\n\
         [[option]]\nname = \"In D\"\nswap = { C = \"D\" }\n\
         [[piece]]\nname = \"P\"\nkind = \"boxed cushion\"\ncloth = \"C\"\nboxing_cloth = \"C\"\nfoam = \"F\"\nwidth = \"24\"\ndepth = \"24\"\n";
    let read = clothwright::job_file::read(text);
    assert!(read.faults.is_empty());
    let plan = plan(&read.job, &Limits::quick(1)).unwrap();
    let other = &plan.choices[0].1;
    assert_eq!(other.job.pieces[0].boxing_cloth.as_deref(), Some("D"));
    assert_eq!(other.lays.cloths.len(), 1);
}
