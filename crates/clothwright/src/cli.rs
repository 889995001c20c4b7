//! The command line: one match from command to function.

mod books;
mod compare;
mod page;
mod papers;
mod photo;
mod say;
mod strip;

use crate::job_file::{self, MOST_BYTES};
use crate::{DEMO, pack, plan_json};
use clap::{Parser, Subcommand};
pub(crate) use compare::usual_widths;
use documents::Paper;
use indicatif::{ProgressBar, ProgressStyle};
use lay::{Limits, MOMENT, Progress};
use say::{put, say, summary};
use std::collections::BTreeMap;
use std::path::{Path, PathBuf};
use std::process::ExitCode;
use std::sync::atomic::{AtomicBool, Ordering};
use std::time::{Duration, Instant};
use trade::fault::Fault;
use trade::hints::Hint;
use trade::job::Job;
use trade::plan::Plan;
use trade::purse::NEAR_MISSES;

/// Plan an upholstery job, from tape measures to a job pack.
#[derive(Parser)]
#[command(version, about)]
struct Args {
    #[command(subcommand)]
    command: Command,
}

#[derive(Subcommand)]
enum Command {
    /// Plan a job: summary on screen; plan.json, papers, lays and parts in a folder.
    Plan {
        /// The job file.
        job: PathBuf,
        /// Folder for the pack.
        #[arg(long)]
        out: PathBuf,
        #[command(flatten)]
        search: Search,
        /// Folder with page designs that replace built-in ones of the same name.
        #[arg(long)]
        page_designs: Option<PathBuf>,
        /// Print the papers in another unit than the job's: in, mm or cm.
        #[arg(long, value_parser = papers::unit)]
        unit: Option<geometry::Unit>,
        /// Write these papers only: quote, workshop, order, office, workings, care, change-note,
        /// delivery-note, receipt; the first five are the usual ones.
        #[arg(long, value_delimiter = ',', value_parser = papers::named)]
        only: Option<Vec<Paper>>,
        /// Print plan.json on standard output too, and nothing else.
        #[arg(long)]
        json: bool,
    },
    /// Check a job file only: exit 0, or 2 with each fault.
    Check {
        /// The job file.
        job: PathBuf,
        /// Print the faults as one JSON list.
        #[arg(long)]
        json: bool,
    },
    /// Lay a bare strip instance: strip length and density.
    Lay {
        /// The instance file (open nesting format).
        instance: PathBuf,
        #[command(flatten)]
        search: Search,
        /// Print the lay as one JSON value.
        #[arg(long)]
        json: bool,
    },
    /// Compare cloth widths, directions and the other cloths of a job: a table, and comparison.pdf.
    Compare {
        /// The job file.
        job: PathBuf,
        /// Folder for comparison.pdf; without it the table is only shown.
        #[arg(long)]
        out: Option<PathBuf>,
        /// Other widths to try, with their units, commas between: `48 in, 60 in` or `140 cm`.
        #[arg(long)]
        widths: Option<String>,
        #[command(flatten)]
        search: Search,
        /// Print the comparison as one JSON value.
        #[arg(long)]
        json: bool,
    },
    /// Plan the built-in example.
    Demo {
        /// Folder for the pack.
        #[arg(long)]
        out: PathBuf,
        #[command(flatten)]
        search: Search,
        /// Write the example's job file there too, to start one's own from.
        #[arg(long)]
        job: Option<PathBuf>,
    },
    /// Parts at full size, to print, cut out and lay on the cloth.
    Templates {
        /// The job file.
        job: PathBuf,
        /// Folder for templates.pdf, or plotter.pdf and plotter.svg.
        #[arg(long)]
        out: PathBuf,
        /// Tags of the parts, commas between; without them all that are no plain rectangles.
        #[arg(long)]
        parts: Option<String>,
        /// Sheets of the printer: A4 or Letter; the job's unless said.
        #[arg(long, value_parser = papers::paper)]
        paper: Option<documents::full_size::Paper>,
        /// One long sheet for a plotter instead, so wide: `36 in`.
        #[arg(long)]
        roll: Option<String>,
    },
    /// Sheets to take to the customer: what is measured of each kind of piece, in which order.
    Survey {
        /// The PDF.
        #[arg(long)]
        out: PathBuf,
    },
    /// A part's true outline from a photograph with printed sheets round it, as lines of a job file.
    Photo(photo::Asked),
    /// The outline in a DXF or SVG drawing, as lines of a job file.
    Outline {
        /// The drawing.
        drawing: PathBuf,
        /// Lines of a job file for a panel or a shaped cushion.
        #[arg(long)]
        out: PathBuf,
        /// Unit of a DXF drawing that does not tell its own: in, mm or cm.
        #[arg(long, value_parser = papers::unit, default_value = "mm")]
        unit: geometry::Unit,
    },
    /// The sheets that are laid round a part before it is photographed, and how it is done.
    PhotoSheets {
        /// The PDF.
        #[arg(long)]
        out: PathBuf,
        /// Sheets of the printer: A4 or Letter.
        #[arg(long, value_parser = photo::paper, default_value = "A4")]
        paper: ::photo::sheet::Paper,
        /// How many: four for one photograph, more for a part that takes two.
        #[arg(long, default_value_t = 4, value_parser = clap::value_parser!(u8).range(3..=8))]
        count: u8,
    },
    /// The page: enter and plan jobs in a browser, on this machine or in the workroom.
    Serve {
        /// Where to listen.
        #[arg(long, default_value = "127.0.0.1:8080")]
        addr: std::net::SocketAddr,
        /// Folder of the store.
        #[arg(long, default_value = "clothwright-data")]
        data: PathBuf,
        /// Let phones and tablets of the workroom in: listens on the network, asks for a pass phrase.
        #[arg(long)]
        share: bool,
    },
    /// The workroom's books: jobs, invoices, what is owed, orders, stock; payments and hours noted.
    Books {
        #[command(subcommand)]
        what: books::Books,
        /// Folder of the page's store.
        #[arg(long, default_value = "clothwright-data", global = true)]
        data: PathBuf,
        /// Print one JSON list.
        #[arg(long, global = true)]
        json: bool,
    },
    /// Copy the page's store to a file while it is in use.
    Backup {
        /// Folder of the store.
        #[arg(long, default_value = "clothwright-data")]
        data: PathBuf,
        /// The copy; `clothwright restore` puts it back.
        #[arg(long)]
        out: PathBuf,
    },
    /// Put a copy in the place of the page's store, while the page is not running.
    Restore {
        /// The copy that `backup` made.
        copy: PathBuf,
        /// Folder of the store; what lies there is moved aside.
        #[arg(long, default_value = "clothwright-data")]
        data: PathBuf,
    },
    /// Write the built-in page designs to a folder, to change them there.
    PageDesigns {
        /// The folder.
        #[arg(long)]
        out: PathBuf,
    },
}

#[derive(clap::Args, Clone, Copy)]
struct Search {
    /// Search for better lays, at most so long; without it some seconds.
    #[arg(long, value_parser = seconds)]
    seconds: Option<f64>,
    /// Same input and seed, same plan.
    #[arg(long, default_value_t = 1)]
    seed: u64,
}

fn seconds(text: &str) -> Result<f64, String> {
    match text.parse::<f64>() {
        Ok(seconds) if (0.0..=1e6).contains(&seconds) => Ok(seconds),
        _ => Err("a number of seconds from 0 to a million".into()),
    }
}

/// Looks for each second asked for: fewer than a slow machine takes, so that work and not the
/// clock ends the search and the plan can be repeated.
const WORK_PER_SECOND: u64 = 150_000_000;

/// The same for a bare strip, of which one search is made and no paper.
const STRIP_WORK_PER_SECOND: u64 = 350_000_000;

/// How a command failed.
enum Failure {
    /// The input is at fault: told already.
    Input,
    /// Anything else.
    Other(String),
}

/// Set by Ctrl-C: the search stops and keeps its best.
static STOPPED: AtomicBool = AtomicBool::new(false);

/// Set once there is something to keep when Ctrl-C comes: a search under way, or pages being served.
static KEEPS: AtomicBool = AtomicBool::new(false);

/// Runs the command line of this process.
pub fn run() -> ExitCode {
    let args = match Args::try_parse() {
        Ok(args) => args,
        Err(error) => {
            let _ = error.print();
            return if error.use_stderr() { ExitCode::from(2) } else { ExitCode::SUCCESS };
        }
    };
    // Where there is nothing to keep, and at the second time, the program ends at once.
    let _ = ctrlc::set_handler(|| {
        if STOPPED.swap(true, Ordering::SeqCst) || !KEEPS.load(Ordering::SeqCst) {
            std::process::exit(130);
        }
    });
    match command(args.command) {
        Ok(()) => ExitCode::SUCCESS,
        Err(Failure::Input) => ExitCode::from(2),
        Err(Failure::Other(what)) => {
            eprintln!("clothwright: {what}");
            ExitCode::from(1)
        }
    }
}

fn command(command: Command) -> Result<(), Failure> {
    match command {
        Command::Plan { job, out, search, page_designs, unit, only, json } => {
            let text = read_job(&job)?;
            let name = job.display().to_string();
            let wanted = Wanted { designs: page_designs.as_deref(), unit, only };
            plan(&name, &text, &out, search, &wanted, json)
        }
        Command::Check { job, json } => check(&job, json),
        Command::Lay { instance, search, json } => strip::lay_strip(&instance, search, json),
        Command::Compare { job, out, widths, search, json } => {
            compare::compare(&job, out.as_deref(), widths.as_deref(), search, json)
        }
        Command::Demo { out, search, job } => {
            if let Some(path) = job {
                write_new(&path, DEMO.as_bytes())?;
            }
            plan("demo.toml", DEMO, &out, search, &Wanted::default(), false)
        }
        Command::Templates { job, out, parts, paper, roll } => {
            papers::templates(&job, &out, parts.as_deref(), paper, roll.as_deref())
        }
        Command::Survey { out } => papers::survey(&out),
        Command::Photo(asked) => photo::trace(&asked),
        Command::Outline { drawing, out, unit } => photo::drawing(&drawing, &out, unit),
        Command::PhotoSheets { out, paper, count } => {
            photo::sheets(&out, paper, usize::from(count))
        }
        Command::Serve { addr, data, share } => {
            KEEPS.store(true, Ordering::SeqCst);
            page::serve(addr, &data, share)
        }
        Command::Books { what, data, json } => books::books(&what, &data, json),
        Command::Backup { data, out } => {
            crate::serve::backup(&data, &out).map_err(Failure::Other)?;
            say(&format!("{}: the whole store", out.display()));
            Ok(())
        }
        Command::Restore { copy, data } => {
            let aside = crate::serve::restore(&copy, &data).map_err(Failure::Other)?;
            say(&format!("{}: the store is as it was copied", data.display()));
            if let Some(aside) = aside {
                say(&format!("{}: what lay there before", aside.display()));
            }
            Ok(())
        }
        Command::PageDesigns { out } => write_page_designs(&out),
    }
}

fn other(path: &Path, error: &std::io::Error) -> Failure {
    Failure::Other(format!("{}: {error}", path.display()))
}

/// Writes a file that is not there yet.
fn write_new(path: &Path, bytes: &[u8]) -> Result<(), Failure> {
    use std::io::Write;
    let made = std::fs::File::create_new(path);
    let written = made.and_then(|mut file| file.write_all(bytes));
    written.map_err(|e| match e.kind() {
        std::io::ErrorKind::AlreadyExists => Failure::Other(format!(
            "{} exists already; nothing was overwritten: name another file, or move that one",
            path.display()
        )),
        std::io::ErrorKind::NotFound => Failure::Other(format!(
            "{}: there is no such folder; make it first, or name a file in a folder that is there",
            path.display()
        )),
        _ => other(path, &e),
    })
}

/// Reads an input file; what is wrong with it is the input's fault.
fn read_input(path: &Path, most: usize) -> Result<String, Failure> {
    let wrong = |what: String, remedy: &str| {
        eprintln!("error: {}: {what}\n  = do: {remedy}", path.display());
        Failure::Input
    };
    let size = std::fs::metadata(path).map_err(|e| wrong(e.to_string(), "check the path"))?.len();
    if size > most as u64 {
        let shown = format!("{:.1} MB", size as f64 / 1e6);
        return Err(wrong(
            format!("the file has {shown}, more than the {:.0} MB allowed", most as f64 / 1e6),
            "split the job into several files",
        ));
    }
    let bytes = std::fs::read(path).map_err(|e| wrong(e.to_string(), "check the path"))?;
    String::from_utf8(bytes)
        .map_err(|_| wrong("not a text file (UTF-8)".into(), "save it as plain text, UTF-8"))
}

fn read_job(path: &Path) -> Result<String, Failure> {
    read_input(path, MOST_BYTES)
}

fn tell(name: &str, text: &str, faults: &[job_file::Placed]) -> Failure {
    eprint!("{}", job_file::show(name, text, faults));
    let n = faults.len();
    eprintln!("{n} fault{} in {name}; nothing was written", if n == 1 { "" } else { "s" });
    Failure::Input
}

/// A plan and its near misses, both within the limits.
fn with_hints(job: &Job, search: Search, limits: &Limits) -> Result<(Plan, Vec<Hint>), Vec<Fault>> {
    let started = Instant::now();
    let asked = search.seconds.filter(|_| trade::hints::are_wanted(job));
    let first = asked.map(|seconds| seconds - NEAR_MISSES.of_seconds(seconds));
    let is_over = |seconds: f64| started.elapsed().as_secs_f64() > seconds;
    let stop = || (limits.stop)() || first.is_some_and(is_over);
    let (work, rest) = match first {
        None => (limits.work, MOMENT / 4),
        Some(_) => {
            let rest = NEAR_MISSES.of(limits.work);
            (limits.work - rest, rest)
        }
    };
    let plan = trade::plan::plan(job, &Limits { work, stop: &stop, ..*limits })?;
    let hints = trade::hints::hints(&plan, &Limits { work: rest, ..*limits });
    Ok((plan, hints))
}

/// How the papers of a plan are wanted.
#[derive(Default)]
struct Wanted<'a> {
    /// A folder of page designs.
    designs: Option<&'a Path>,
    /// In another unit than the job's.
    unit: Option<geometry::Unit>,
    /// These only.
    only: Option<Vec<Paper>>,
}

fn plan(
    name: &str,
    text: &str,
    out: &Path,
    search: Search,
    wanted: &Wanted,
    json: bool,
) -> Result<(), Failure> {
    let mut read = job_file::read(text);
    sound(name, text, &read)?;
    if let Some(unit) = wanted.unit {
        let is_converted = unit != read.job.style.unit;
        read.job.style =
            trade::working::Style { is_converted, ..trade::working::Style::usual(unit) };
    }
    let designs = read_page_designs(wanted.designs)?;
    pack::writable(out).map_err(|e| Failure::Other(format!("{}: {e}", out.display())))?;
    let bar = bar(search.seconds);
    let planned = with_limits(search, &bar, |limits| with_hints(&read.job, search, limits));
    bar.finish_and_clear();
    let (plan, hints) =
        planned.map_err(|faults| tell(name, text, &job_file::place(text, faults, &read)))?;
    let value = plan_json::write(&plan, &hints);
    let mut files =
        vec![documents::File { path: "plan.json".into(), bytes: value.clone().into_bytes() }];
    files.extend(papers::set(&plan, &hints, wanted.only.as_deref(), &designs)?);
    files.extend(documents::lay_files(&plan));
    files.extend(documents::part_files(&plan));
    pack::write(out, &files).map_err(|e| {
        Failure::Other(format!("{}: {e}; the old pack is as it was", out.display()))
    })?;
    if json {
        put(&value);
    } else {
        summary(&plan, &hints, out);
    }
    Ok(())
}

/// Tells of every fault a job has before it is laid.
fn sound(name: &str, text: &str, read: &job_file::Read) -> Result<(), Failure> {
    let mut faults = read.faults.clone();
    faults.extend(checked(text, read));
    if faults.is_empty() { Ok(()) } else { Err(tell(name, text, &faults)) }
}

/// Faults of the whole job, if no piece is missing from it.
fn checked(text: &str, read: &job_file::Read) -> Vec<job_file::Placed> {
    let faults = match trade::plan::check(&read.job) {
        Ok(_) => Vec::new(),
        Err(faults) => faults,
    };
    // A job whose pieces could not be read is not empty.
    let told = !read.faults.is_empty();
    let faults = faults.into_iter().filter(|f| !(told && f.code == "no-pieces")).collect();
    job_file::place(text, faults, read)
}

fn check(path: &Path, json: bool) -> Result<(), Failure> {
    let text = read_job(path)?;
    let name = path.display().to_string();
    let read = job_file::read(&text);
    let mut faults = read.faults.clone();
    faults.extend(checked(&text, &read));
    if faults.is_empty() {
        // What only shows when it is laid: too wide, too long, no place on the pattern.
        if let Err(found) = trade::plan::plan(&read.job, &Limits::quick(1)) {
            faults.extend(job_file::place(&text, found, &read));
        }
    }
    if json {
        say(&plan_json::faults(&name, &text, &faults));
        return if faults.is_empty() { Ok(()) } else { Err(Failure::Input) };
    }
    if !faults.is_empty() {
        return Err(tell(&name, &text, &faults));
    }
    say(&format!(
        "{name}: no faults, {} pieces",
        read.job.pieces.iter().map(|p| p.count).sum::<usize>()
    ));
    Ok(())
}

/// Runs a search of a job with the limits asked for.
fn with_limits<T>(search: Search, bar: &ProgressBar, run: impl FnOnce(&Limits) -> T) -> T {
    within(search, WORK_PER_SECOND, bar, run)
}

/// Work first, the clock beside it, Ctrl-C at any time.
fn within<T>(
    search: Search,
    per_second: u64,
    bar: &ProgressBar,
    run: impl FnOnce(&Limits) -> T,
) -> T {
    KEEPS.store(true, Ordering::SeqCst);
    let work = search.seconds.map_or(MOMENT, |s| (s * per_second as f64) as u64);
    // Without --seconds the clock only guards against a job that takes minutes.
    let allowed = Duration::from_secs_f64(search.seconds.unwrap_or(60.0));
    let started = Instant::now();
    let stop = || STOPPED.load(Ordering::Relaxed) || started.elapsed() > allowed;
    let clock = || match search.seconds {
        Some(_) => (started.elapsed().as_secs_f64() * per_second as f64) as u64,
        None => 0,
    };
    let progress = |p: Progress| {
        bar.set_position((p.done * 1000.0) as u64);
        bar.set_message(format!(
            "best {} (at least {})",
            p.length.show(geometry::Unit::Metre),
            p.least.show(geometry::Unit::Metre)
        ));
    };
    run(&Limits {
        clock: &clock,
        stop: &stop,
        progress: &progress,
        ..Limits::work(search.seed, work)
    })
}

fn bar(seconds: Option<f64>) -> ProgressBar {
    if seconds.is_none() {
        return ProgressBar::hidden();
    }
    let bar = ProgressBar::new(1000);
    if let Ok(style) = ProgressStyle::with_template("laying {bar:30} {elapsed} {msg}") {
        bar.set_style(style);
    }
    bar.enable_steady_tick(Duration::from_millis(200));
    bar
}

fn read_page_designs(folder: Option<&Path>) -> Result<BTreeMap<String, String>, Failure> {
    let mut found = BTreeMap::new();
    let Some(folder) = folder else { return Ok(found) };
    if !folder.is_dir() {
        return Err(Failure::Other(format!(
            "{} is not a folder of page designs",
            folder.display()
        )));
    }
    for name in documents::page_design_names() {
        let path = folder.join(name);
        if path.exists() {
            found.insert(
                name.to_string(),
                std::fs::read_to_string(&path).map_err(|e| other(&path, &e))?,
            );
        }
    }
    Ok(found)
}

fn write_page_designs(out: &Path) -> Result<(), Failure> {
    std::fs::create_dir_all(out).map_err(|e| other(out, &e))?;
    for name in documents::page_design_names() {
        let path = out.join(name);
        if path.exists() {
            return Err(Failure::Other(format!(
                "{} exists already; nothing was overwritten",
                path.display()
            )));
        }
        std::fs::write(&path, documents::page_design(name).unwrap_or_default())
            .map_err(|e| other(&path, &e))?;
    }
    say(&format!(
        "{}: change what you like and plan with --page-designs {}",
        out.display(),
        out.display()
    ));
    Ok(())
}
