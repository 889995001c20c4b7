//! Bad measures of every kind: a clear fault with a remedy, never a panic.

use clothwright::job_file;

const HEAD: &str = r#"
[job]
name = "Test"
unit = "in"
[[cloth]]
name = "Plain"
width = "54"
price = 20
[[foam]]
name = "Four"
thickness = "4"
firmness = "30"
sheet = [{ length = "80", width = "60", price = 10 }]
[[board]]
name = "Half"
thickness = "1/2"
sheet = [{ length = "96", width = "48", price = 10 }]
[[piece]]
name = "P"
cloth = "Plain"
foam = "Four"
board = "Half"
"#;

/// Codes of the faults of a piece.
fn found(lines: &str) -> Vec<String> {
    let read = job_file::read(&format!("{HEAD}{lines}"));
    let mut faults: Vec<_> = read.faults.iter().map(|p| p.fault.clone()).collect();
    if faults.is_empty()
        && let Err(more) = trade::plan::plan(&read.job, &lay::Limits::quick(1))
    {
        faults.extend(more);
    }
    for fault in &faults {
        assert!(!fault.remedy.is_empty() && !fault.what.is_empty(), "{fault:?}");
    }
    faults.iter().map(|f| f.code.to_string()).collect()
}

#[test]
fn bad_measures_of_every_kind_are_named() {
    let cushion = "kind = \"shaped cushion\"\n";
    for (lines, want) in [
        ("kind = \"pad\"\nwidth = \"10\"\nheight = \"10\"\ncrown = \"6\"", "crown-too-high"),
        ("kind = \"slip seat\"\nfront = \"18\"\ndepth = \"16\"\ncrown = \"9\"", "crown-too-high"),
        (
            &format!(
                "{cushion}shape = \"tee\"\nwidth = \"20\"\nbody = \"20\"\ndepth = \"20\"\near = \"5\""
            ),
            "ears-without-room",
        ),
        (
            &format!(
                "{cushion}shape = \"ell\"\nwidth = \"20\"\nbody = \"15\"\ndepth = \"20\"\near = \"20\""
            ),
            "ears-without-room",
        ),
        (
            &format!(
                "{cushion}shape = \"tee\"\nwidth = \"20\"\nbody = \"18\"\ndepth = \"20\"\near = \"5\"\nradius = \"4\""
            ),
            "radius-too-large",
        ),
        (&format!("{cushion}shape = \"ring\"\ndiameter = \"10\"\ninner = \"12\""), "hole-outside"),
        (
            &format!("{cushion}shape = \"disc\"\ndiameter = \"10\"\nzip_side = \"north\""),
            "unknown-side",
        ),
        (&format!("{cushion}shape = \"sides\"\nsides = [\"10\", \"10\"]"), "few-corners"),
        (
            &format!("{cushion}shape = \"sides\"\nsides = [\"10\", \"10\", \"10\", \"10\"]"),
            "outline-not-fixed",
        ),
        (
            &format!(
                "{cushion}shape = \"sides\"\nsides = [\"10\", \"10\", \"10\", \"10\"]\nacross = [{{ from = 1, to = 9, length = \"14\" }}]"
            ),
            "no-such-corner",
        ),
        (
            &format!(
                "{cushion}shape = \"sides\"\nsides = [\"10\", \"10\", \"10\", \"10\"]\nacross = [{{ from = 1, to = 3, length = \"40\" }}]"
            ),
            "measures-contradict",
        ),
        (
            &format!(
                "{cushion}shape = \"offsets\"\nbase = \"20\"\noffset = [{{ at = \"0\", up = \"5\" }}]"
            ),
            "few-corners",
        ),
        (
            &format!(
                "{cushion}shape = \"offsets\"\nbase = \"20\"\noffset = [{{ at = \"12\", up = \"5\" }}, {{ at = \"4\", up = \"5\" }}]"
            ),
            "offset-outside",
        ),
        (
            "kind = \"wedge cushion\"\nwidth = \"20\"\ndepth = \"20\"\nfront = \"1\"\nback = \"6\"",
            "foam-too-thin",
        ),
        (
            "kind = \"wedge cushion\"\nwidth = \"20\"\ndepth = \"20\"\nfront = \"0\"\nback = \"3\"",
            "zero-length",
        ),
        ("kind = \"sloped cushion\"\nwidth = \"20\"\ndepth = \"20\"", "lean-not-said"),
        (
            "kind = \"sloped cushion\"\nwidth = \"20\"\ndepth = \"20\"\nangle = 10\nbottom = \"19\"",
            "lean-not-said",
        ),
        ("kind = \"sloped cushion\"\nwidth = \"20\"\ndepth = \"10\"\nangle = 80", "lean-too-great"),
        ("kind = \"sloped cushion\"\nwidth = \"20\"\ndepth = \"10\"\nangle = 95", "out-of-range"),
        ("kind = \"waterfall cushion\"\nwidth = \"20\"\ndepth = \"1\"", "front-too-thick"),
        (
            "kind = \"tapered bolster\"\nlength = \"1/4\"\nlarge = \"20\"\nsmall = \"0\"",
            "taper-too-flat",
        ),
        (
            "kind = \"ottoman\"\nshape = \"round\"\ndiameter = \"20\"\nheight = \"10\"\ncut = \"wrapped\"",
            "round-and-wrapped",
        ),
        (
            "kind = \"curved back\"\nchord = \"40\"\nrise = \"25\"\nheight = \"20\"",
            "rise-too-great",
        ),
        ("kind = \"curved back\"\nchord = \"6\"\nrise = \"3\"\nheight = \"20\"", "curve-too-tight"),
        (
            "kind = \"headboard\"\nwidth = \"20\"\nheight = \"40\"\nborder = \"10\"",
            "border-too-wide",
        ),
        (
            "kind = \"buttoned back\"\nwidth = \"20\"\nheight = \"20\"\nborder = \"10\"\nacross = 2\nhigh = 2",
            "border-too-wide",
        ),
        (
            "kind = \"buttoned back\"\nwidth = \"20\"\nheight = \"20\"\nacross = 10\nhigh = 2\ndepth = \"3\"",
            "buttons-too-deep",
        ),
        (
            "kind = \"buttoned back\"\nwidth = \"20\"\nheight = \"20\"\nacross = 2\nhigh = 2\nfullness = \"added\"",
            "missing",
        ),
        (
            "kind = \"buttoned back\"\nwidth = \"20\"\nheight = \"20\"\nacross = 2\nhigh = 2\nadded = [\"1\", \"1\"]",
            "added-unused",
        ),
        (
            "kind = \"channelled back\"\nwidth = \"20\"\nheight = \"20\"\nchannels = 5\ncentre = \"valley\"",
            "channels-off-centre",
        ),
        (
            "kind = \"channelled back\"\nwidth = \"20\"\nheight = \"20\"\nchannels = 5\nloft = \"3\"",
            "loft-too-high",
        ),
        ("kind = \"skirt\"\ndrop = \"7\"\npleats = \"box\"\nspacing = \"3\"", "missing"),
        ("kind = \"skirt\"\nsides = [\"20\"]\ndrop = \"7\"", "missing"),
        ("kind = \"cut pieces\"", "missing"),
        (
            "kind = \"cut pieces\"\ncut = [{ name = \"arm\", width = \"9\", height = \"9\", pair = true, count = 3 }]",
            "unequal-pair",
        ),
        (
            "kind = \"cut pieces\"\ncut = [{ name = \"arm\", width = \"9\", height = \"9\", cloth = \"Velour\" }]",
            "unknown-cloth",
        ),
        ("kind = \"welt\"", "missing"),
        (
            "kind = \"measured\"\nwidth = \"9\"\nheight = \"9\"\ndust_cloth = \"Velour\"",
            "unknown-cloth",
        ),
    ] {
        assert!(
            found(lines).iter().any(|code| code == want),
            "{lines}\n{:?} for {want}",
            found(lines)
        );
    }
}

#[test]
fn absurd_measures_of_every_kind_never_panic() {
    let every = include_str!("../../demo/kinds.toml");
    for (from, to) in [
        ("\"1\"", "\"0\""),
        ("\"4\"", "\"90 m\""),
        ("\"24\"", "\"1/64\""),
        ("\"20\"", "\"0.1 mm\""),
        ("= 4\n", "= 90\n"),
        ("\"2\"", "\"99 m\""),
        ("width = \"54\"", "width = \"1/2\""),
        ("width = \"54\"", "width = \"1\""),
        ("thickness = \"1\"", "thickness = \"50\""),
        ("cloth = \"Plain\"", "cloth = \"Leaf\"\npattern = \"centred\""),
    ] {
        let text = every.replace(from, to);
        let read = job_file::read(&text);
        // Either a plan or faults with remedies; both will do, a panic will not.
        if let Err(faults) = trade::plan::plan(&read.job, &lay::Limits::quick(1)) {
            assert!(faults.iter().all(|f| !f.remedy.is_empty()));
        }
    }
}
