//! Writing the pack whole or not at all.

use documents::File;
use std::io;
use std::path::Path;

/// What belongs to a pack in its folder; anything else there is left alone.
const OURS: [&str; 4] = ["plan.json", "job-pack.pdf", "lays", "parts"];

/// Makes sure, before any work is done, that a folder can be made and written to.
///
/// # Errors
/// What the system says.
pub fn writable(out: &Path) -> io::Result<()> {
    std::fs::create_dir_all(out)?;
    tempfile::tempdir_in(out).map(drop)
}

/// Writes all files beside the old pack, then puts them in its place; if that fails half way the old
/// pack is put back.
///
/// # Errors
/// What the system says.
pub fn write(out: &Path, files: &[File]) -> io::Result<()> {
    std::fs::create_dir_all(out)?;
    let fresh = tempfile::Builder::new().prefix(".new-pack-").tempdir_in(out)?;
    for file in files {
        let path = fresh.path().join(&file.path);
        if let Some(folder) = path.parent() {
            std::fs::create_dir_all(folder)?;
        }
        std::fs::write(&path, &file.bytes)?;
    }
    let old = tempfile::Builder::new().prefix(".old-pack-").tempdir_in(out)?;
    let mut moved = Vec::new();
    let result = OURS.iter().try_for_each(|name| {
        let (here, aside, new) = (out.join(name), old.path().join(name), fresh.path().join(name));
        if here.exists() {
            std::fs::rename(&here, &aside)?;
        }
        moved.push(*name);
        if new.exists() { std::fs::rename(&new, &here) } else { Ok(()) }
    });
    if result.is_err() {
        for name in moved {
            let (here, aside) = (out.join(name), old.path().join(name));
            if aside.exists() {
                let _ = if here.is_dir() {
                    std::fs::remove_dir_all(&here)
                } else {
                    std::fs::remove_file(&here)
                };
                let _ = std::fs::rename(&aside, &here);
            }
        }
    }
    result
}
