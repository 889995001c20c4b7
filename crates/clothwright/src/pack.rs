//! Writing the pack whole or not at all, and nothing of anyone else's away.

use documents::File;
use std::collections::BTreeSet;
use std::io;
use std::path::{Path, PathBuf};

/// The list of a pack's files, in its folder: only these are replaced by the next pack.
const LIST: &str = "pack-files.txt";

/// What a pack written before there was a list held.
const BEFORE_LISTS: [&str; 2] = ["plan.json", "job-pack.pdf"];

/// Makes sure, before any work is done, that a folder can be made and written to.
///
/// # Errors
/// What the system says.
pub fn writable(out: &Path) -> io::Result<()> {
    std::fs::create_dir_all(out)?;
    tempfile::tempdir_in(out).map(drop)
}

/// Files of the pack that lies in a folder.
fn listed(out: &Path) -> io::Result<BTreeSet<String>> {
    match std::fs::read_to_string(out.join(LIST)) {
        Ok(list) => Ok(list.lines().filter(|line| is_inside(line)).map(str::to_string).collect()),
        Err(e) if e.kind() == io::ErrorKind::NotFound && out.join("plan.json").exists() => {
            let mut found: BTreeSet<String> = BEFORE_LISTS.map(str::to_string).into();
            for folder in ["lays", "parts"] {
                let Ok(entries) = std::fs::read_dir(out.join(folder)) else { continue };
                for entry in entries {
                    let name = entry?.file_name();
                    if let Some(name) = name.to_str().filter(|name| is_drawing(folder, name)) {
                        found.insert(format!("{folder}/{name}"));
                    }
                }
            }
            Ok(found)
        }
        Err(e) if e.kind() == io::ErrorKind::NotFound => Ok(BTreeSet::new()),
        Err(e) => Err(e),
    }
}

/// Whether a path of a list stays in its folder.
fn is_inside(path: &str) -> bool {
    let plain = |part: std::path::Component| matches!(part, std::path::Component::Normal(_));
    !path.is_empty() && Path::new(path).components().all(plain)
}

/// Whether a file is named as packs before lists named their drawings: `fern-1.svg`, `3A.dxf`.
fn is_drawing(folder: &str, name: &str) -> bool {
    let Some((stem, "svg" | "dxf")) = name.rsplit_once('.') else { return false };
    match folder {
        "lays" => {
            let stem = stem.strip_suffix("-cutter").unwrap_or(stem);
            stem.rsplit_once('-').is_some_and(|(_, n)| n.parse::<usize>().is_ok())
        }
        _ => {
            let letters = stem.trim_start_matches(|c: char| c.is_ascii_digit());
            letters != stem && letters.starts_with(|c: char| c.is_ascii_uppercase())
        }
    }
}

/// Writes all files beside the old pack, then puts them in the place of the old pack's own; if that fails half
/// way the old pack is put back. A file of someone else's in the way is left, and nothing is written.
///
/// # Errors
/// What the system says, or which file is in the way.
pub fn write(out: &Path, files: &[File]) -> io::Result<()> {
    std::fs::create_dir_all(out)?;
    let old_files = listed(out)?;
    let in_the_way =
        files.iter().find(|f| !old_files.contains(&f.path) && out.join(&f.path).exists());
    if let Some(file) = in_the_way {
        let what = format!("{} is no file of a pack, and is not overwritten; move it", file.path);
        return Err(io::Error::new(io::ErrorKind::AlreadyExists, what));
    }
    let fresh = tempfile::Builder::new().prefix(".new-pack-").tempdir_in(out)?;
    let mut list = String::new();
    for file in files {
        let path = fresh.path().join(&file.path);
        if let Some(folder) = path.parent() {
            std::fs::create_dir_all(folder)?;
        }
        std::fs::write(&path, &file.bytes)?;
        list += &file.path;
        list.push('\n');
    }
    std::fs::write(fresh.path().join(LIST), list)?;
    let old = tempfile::Builder::new().prefix(".old-pack-").tempdir_in(out)?;
    let mut moves = Moves::default();
    let result = swap(out, old.path(), fresh.path(), &old_files, files, &mut moves);
    if result.is_err() {
        moves.undo();
    }
    result
}

/// Files moved so far, in order.
#[derive(Default)]
struct Moves(Vec<(PathBuf, PathBuf)>);

impl Moves {
    fn make(&mut self, from: PathBuf, to: PathBuf) -> io::Result<()> {
        if let Some(folder) = to.parent() {
            std::fs::create_dir_all(folder)?;
        }
        std::fs::rename(&from, &to)?;
        self.0.push((from, to));
        Ok(())
    }

    fn undo(self) {
        for (from, to) in self.0.into_iter().rev() {
            let _ = std::fs::rename(to, from);
        }
    }
}

fn swap(
    out: &Path,
    old: &Path,
    fresh: &Path,
    old_files: &BTreeSet<String>,
    files: &[File],
    moves: &mut Moves,
) -> io::Result<()> {
    for path in old_files.iter().map(String::as_str).chain([LIST]) {
        let here = out.join(path);
        if here.symlink_metadata().is_ok() {
            moves.make(here, old.join(path))?;
        }
    }
    for path in files.iter().map(|file| file.path.as_str()).chain([LIST]) {
        moves.make(fresh.join(path), out.join(path))?;
    }
    for folder in ["lays", "parts"] {
        // Gone if nothing of anyone's is left in it.
        let _ = std::fs::remove_dir(out.join(folder));
    }
    Ok(())
}
