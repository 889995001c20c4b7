//! Jobs as they are worked on: an answer at once for every text, then a search in the background that is
//! given up as soon as a newer text comes.

use crate::job_file::{self, Read};
use lay::{Limits, MOMENT, Progress};
use std::collections::{BTreeMap, VecDeque};
use std::sync::atomic::{AtomicBool, AtomicUsize, Ordering};
use std::sync::{Arc, Condvar, Mutex, MutexGuard};
use std::time::{Duration, Instant};
use tokio::sync::{broadcast, watch};
use trade::fault::Fault;
use trade::job::Job;
use trade::plan::Plan;

/// Jobs kept ready; the longest unused is let go.
const MOST_READY: usize = 24;

/// Nobody types on for so long: the search begins.
const PAUSE: Duration = Duration::from_millis(500);

/// The search that follows every change lasts at most so long.
const LONGEST: Duration = Duration::from_secs(20);

/// How a job's search stands.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Standing {
    /// Share of the work done, 0 to 1.
    pub done: f64,
    /// The search is over: the plan is the best there is.
    pub over: bool,
}

/// A job's text, read and planned.
pub struct Sheet {
    /// Which revision.
    pub revision: i64,
    /// As read; pieces with faults are left out.
    pub read: Read,
    /// All faults, each with its key in the file.
    pub faults: Vec<(String, Fault)>,
    /// Marks of the pieces of the text, in order.
    pub marks: Vec<String>,
    /// What is planned: without pieces that do not fit, and materials nobody uses yet.
    whole: Job,
    plan: Mutex<Option<Arc<Plan>>>,
    /// Told whenever the search finds something.
    pub standing: watch::Sender<Standing>,
    stop: AtomicBool,
}

impl Sheet {
    /// Reads and plans a text with first lays only.
    pub fn of(revision: i64, text: &str) -> Self {
        Self::after(revision, text, None)
    }

    /// The same, with the lays of an earlier plan that still hold. What options come to is left to the
    /// search.
    pub fn after(revision: i64, text: &str, earlier: Option<&Plan>) -> Self {
        let read = job_file::read(text);
        let mut faults: Vec<(String, Fault)> =
            read.faults.iter().map(|p| (p.fault.at.clone(), p.fault.clone())).collect();
        let all = super::values::json(&super::values::marked(text));
        let pieces = all["piece"].as_array().map(Vec::as_slice).unwrap_or_default();
        let mark = |piece: &serde_json::Value| piece["id"].as_str().unwrap_or_default().to_string();
        let marks = pieces.iter().map(mark).collect();
        let mut whole = read.job.clone();
        drop_unused(&mut whole, &faults);
        let (plan, found) = planned(&mut whole, &mut read.numbers.clone(), earlier);
        faults.extend(found);
        Self {
            revision,
            read,
            faults,
            marks,
            whole,
            plan: Mutex::new(plan.map(Arc::new)),
            standing: watch::channel(Standing::default()).0,
            stop: AtomicBool::new(false),
        }
    }

    /// The best plan so far; `None` while faults leave none.
    pub fn plan(&self) -> Option<Arc<Plan>> {
        lock(&self.plan).clone()
    }

    /// The plan once its search is over: what is printed or compared is not to rest on first lays.
    pub async fn searched(&self) -> Option<Arc<Plan>> {
        let mut standing = self.standing.subscribe();
        let over = standing.wait_for(|standing| standing.over);
        // A search that a newer text has ended never says so.
        // Others may have their turn first.
        let _ = tokio::time::timeout(LONGEST * 3, over).await;
        self.plan()
    }

    /// Where piece `index` of the file stands among those that could be read.
    pub fn position(&self, index: usize) -> Option<usize> {
        self.read.numbers.iter().position(|n| *n == index)
    }
}

/// Materials that are not filled in and that no piece uses take no price from the rest.
fn drop_unused(job: &mut Job, faults: &[(String, Fault)]) {
    let is_faulty = |list: &str| faults.iter().any(|(at, _)| at.starts_with(list));
    let mut names = std::collections::BTreeSet::new();
    for mut piece in job.pieces.clone() {
        names.extend(piece.kind.of_mut().cloths().into_iter().map(|(_, name)| name.clone()));
        names.extend(piece.other_cloths().into_iter().filter_map(|(_, name)| name.clone()));
        names.extend([piece.cloth, piece.foam, piece.board].into_iter().flatten());
        names.extend(piece.layers.into_iter().filter_map(|layered| layered.foam));
    }
    let used = |name: &str| names.contains(name);
    if is_faulty("cloth.") {
        job.cloths.retain(|cloth| used(&cloth.name));
    }
    if is_faulty("foam.") {
        job.foams.retain(|foam| used(&foam.name));
    }
    if is_faulty("board.") {
        job.boards.retain(|board| used(&board.name));
    }
}

/// First lays of a job; a piece that cannot be planned is left out of it and told, so that the rest has
/// its plan and its price. `numbers` are the places of the pieces in the file.
fn planned(
    job: &mut Job,
    numbers: &mut Vec<usize>,
    earlier: Option<&Plan>,
) -> (Option<Plan>, Vec<(String, Fault)>) {
    let mut told = Vec::new();
    loop {
        let mut alone = job.clone();
        alone.choices.clear();
        let found = match trade::plan::plan_again(&alone, &Limits::quick(1), earlier) {
            Ok(plan) => return (Some(plan), told),
            Err(found) => found,
        };
        // Of a job just begun nothing is wrong yet.
        let found = found.into_iter().filter(|f| f.code != "no-pieces");
        let mut out: Vec<usize> = Vec::new();
        for fault in found {
            let index = fault.at.strip_prefix("piece.").and_then(|rest| rest.split('.').next());
            out.extend(index.and_then(|i| i.parse::<usize>().ok()));
            told.push((in_file(&fault.at, numbers), fault));
        }
        out.sort_unstable();
        out.dedup();
        out.retain(|i| *i < job.pieces.len());
        if out.is_empty() || out.len() == job.pieces.len() {
            return (None, told);
        }
        for i in out.into_iter().rev() {
            job.pieces.remove(i);
            numbers.remove(i);
        }
    }
}

/// A key of the job as planned, as it is in the file, where pieces with faults count too.
fn in_file(at: &str, numbers: &[usize]) -> String {
    let mut parts: Vec<String> = at.split('.').map(str::to_string).collect();
    if let [list, index, ..] = &mut parts[..]
        && list == "piece"
        && let Some(number) = index.parse::<usize>().ok().and_then(|i| numbers.get(i))
    {
        *index = number.to_string();
    }
    parts.join(".")
}

fn lock<T>(mutex: &Mutex<T>) -> MutexGuard<'_, T> {
    mutex.lock().unwrap_or_else(std::sync::PoisonError::into_inner)
}

/// All jobs that are worked on.
pub struct Engine {
    ready: Mutex<BTreeMap<i64, (Arc<Sheet>, Instant)>>,
    /// Rings for every newer text: job and revision.
    rings: broadcast::Sender<(i64, i64)>,
    searches: Arc<Searches>,
}

impl Default for Engine {
    fn default() -> Self {
        let searches = Arc::new(Searches::default());
        for _ in 0..SEARCHING {
            let all = searches.clone();
            std::thread::spawn(move || all.work());
        }
        Self { ready: Mutex::default(), rings: broadcast::channel(256).0, searches }
    }
}

impl Engine {
    /// Hears of newer texts: job and revision.
    pub fn bell(&self) -> broadcast::Receiver<(i64, i64)> {
        self.rings.subscribe()
    }

    /// The sheet of a job's newest text; a new one starts its search and ends the older one's.
    pub fn sheet(&self, job: i64, revision: i64, text: &str) -> Arc<Sheet> {
        if let Some((sheet, used)) = lock(&self.ready).get_mut(&job)
            && sheet.revision == revision
        {
            *used = Instant::now();
            return sheet.clone();
        }
        let before = lock(&self.ready).get(&job).map(|(sheet, _)| sheet.clone());
        let earlier = before.as_ref().and_then(|sheet| sheet.plan());
        // Only what a finished search found is as good as a search.
        let searched = before.filter(|sheet| sheet.standing.borrow().over).and_then(|s| s.plan());
        let sheet = {
            let _first = self.searches.hold();
            Arc::new(Sheet::after(revision, text, earlier.as_deref()))
        };
        let mut ready = lock(&self.ready);
        if let Some((newer, _)) = ready.get(&job).filter(|(there, _)| there.revision >= revision) {
            return newer.clone();
        }
        if let Some((old, _)) = ready.insert(job, (sheet.clone(), Instant::now())) {
            old.stop.store(true, Ordering::Relaxed);
        }
        while ready.len() > MOST_READY {
            let oldest = ready.iter().min_by_key(|(_, (_, used))| *used).map(|(id, _)| *id);
            if let Some((old, _)) = oldest.and_then(|id| ready.remove(&id)) {
                old.stop.store(true, Ordering::Relaxed);
            }
        }
        drop(ready);
        let _ = self.rings.send((job, revision));
        self.searches.add(sheet.clone(), searched);
        sheet
    }
}

/// Jobs searched at once; the others wait for their turn.
const SEARCHING: usize = 2;

/// A search that has others go first looks again after so long.
const GLANCE: Duration = Duration::from_millis(2);

/// A search to be made.
struct Wanted {
    sheet: Arc<Sheet>,
    earlier: Option<Arc<Plan>>,
    /// Not before: someone may type on.
    due: Instant,
}

/// Searches in turn, which stand still while an answer is worked out that somebody waits for.
#[derive(Default)]
struct Searches {
    wanted: Mutex<VecDeque<Wanted>>,
    bell: Condvar,
    /// First lays under way.
    firsts: AtomicUsize,
}

/// A first lay under way.
struct Held<'a>(&'a AtomicUsize);

impl Drop for Held<'_> {
    fn drop(&mut self) {
        self.0.fetch_sub(1, Ordering::Relaxed);
    }
}

impl Searches {
    /// Searches stand still until the value is dropped.
    fn hold(&self) -> Held<'_> {
        self.firsts.fetch_add(1, Ordering::Relaxed);
        Held(&self.firsts)
    }

    fn add(&self, sheet: Arc<Sheet>, earlier: Option<Arc<Plan>>) {
        if sheet.plan().is_none() {
            sheet.standing.send_replace(Standing { over: true, done: 1.0 });
            return;
        }
        let mut wanted = lock(&self.wanted);
        // Of a job only the newest text is searched.
        wanted.retain(|one| !one.sheet.stop.load(Ordering::Relaxed));
        wanted.push_back(Wanted { sheet, earlier, due: Instant::now() + PAUSE });
        self.bell.notify_one();
    }

    fn next(&self) -> Wanted {
        let mut wanted = lock(&self.wanted);
        loop {
            match wanted.pop_front() {
                Some(one) => return one,
                None => {
                    wanted =
                        self.bell.wait(wanted).unwrap_or_else(std::sync::PoisonError::into_inner);
                }
            }
        }
    }

    /// Makes one search after another, on threads of their own: those of first lays are never kept busy.
    fn work(&self) {
        let threads = rayon::ThreadPoolBuilder::new().build();
        loop {
            let one = self.next();
            std::thread::sleep(one.due.saturating_duration_since(Instant::now()));
            match &threads {
                Ok(threads) => threads.install(|| self.search(&one)),
                Err(_) => self.search(&one),
            }
        }
    }

    /// The sheet's plan becomes what is found.
    fn search(&self, one: &Wanted) {
        let sheet = &one.sheet;
        let started = Instant::now();
        let stop = || {
            while self.firsts.load(Ordering::Relaxed) > 0 && started.elapsed() < LONGEST {
                std::thread::sleep(GLANCE);
            }
            sheet.stop.load(Ordering::Relaxed) || started.elapsed() > LONGEST
        };
        if sheet.stop.load(Ordering::Relaxed) {
            return;
        }
        let progress = |p: Progress| {
            sheet.standing.send_replace(Standing { done: p.done, over: false });
        };
        let limits = Limits { stop: &stop, progress: &progress, ..Limits::work(1, MOMENT) };
        // Lays that were searched before are not searched again.
        let earlier = one.earlier.as_ref().filter(|_| sheet.whole.choices.is_empty());
        let found = trade::plan::plan_again(&sheet.whole, &limits, earlier.map(AsRef::as_ref));
        if sheet.stop.load(Ordering::Relaxed) {
            return;
        }
        if let Ok(plan) = found {
            *lock(&sheet.plan) = Some(Arc::new(plan));
        }
        sheet.standing.send_modify(|s| {
            s.done = 1.0;
            s.over = true;
        });
    }
}
