//! Knowing by content what need not be done again.

use std::fs;
use std::path::{Path, PathBuf};

use anyhow::{Context, Result};
use sha2::{Digest as _, Sha256};

use crate::project::Project;

/// Gathers what a step depends on into one digest.
#[derive(Default)]
pub(crate) struct Inputs {
    digest: Sha256,
}

impl Inputs {
    /// A piece of text, such as a version or an option.
    pub(crate) fn text(mut self, text: &str) -> Self {
        self.digest.update((text.len() as u64).to_le_bytes());
        self.digest.update(text);
        self
    }

    /// The content of a file; a missing one differs from an empty one.
    pub(crate) fn file(self, path: &Path) -> Self {
        match fs::read(path) {
            Ok(bytes) => {
                let mut with = self.text("file");
                with.digest.update((bytes.len() as u64).to_le_bytes());
                with.digest.update(&bytes);
                with
            }
            Err(_) => self.text("missing"),
        }
    }

    /// Names and contents of all files under a folder, but for those in folders of these names.
    pub(crate) fn folder(self, folder: &Path, except: &[&str]) -> Result<Self> {
        Ok(files_under(folder, except)?.iter().fold(self, |inputs, file| {
            let name = file.strip_prefix(folder).unwrap_or(file);
            inputs.text(&name.to_string_lossy()).file(file)
        }))
    }

    /// The digest in hexadecimal.
    pub(crate) fn digest(self) -> String {
        hex(&self.digest.finalize())
    }
}

/// All files under a folder in order, but for those in folders of these names.
pub(crate) fn files_under(folder: &Path, except: &[&str]) -> Result<Vec<PathBuf>> {
    let mut files = Vec::new();
    list(folder, except, &mut files)?;
    files.sort();
    Ok(files)
}

fn list(folder: &Path, except: &[&str], files: &mut Vec<PathBuf>) -> Result<()> {
    for entry in fs::read_dir(folder).with_context(|| format!("cannot list {}", folder.display()))? {
        let entry = entry?;
        if except.iter().any(|name| entry.file_name() == *name) {
            continue;
        }
        if entry.file_type()?.is_dir() {
            list(&entry.path(), except, files)?;
        } else {
            files.push(entry.path());
        }
    }
    Ok(())
}

fn hex(bytes: &[u8]) -> String {
    bytes.iter().map(|byte| format!("{byte:02x}")).collect()
}

/// A short name for this content, for the names of files that never change once delivered.
pub(crate) fn content_name(bytes: &[u8]) -> String {
    hex(&Sha256::digest(bytes))[..10].to_owned()
}

/// The record that a step was done for certain inputs.
pub(crate) struct Stamp {
    path: PathBuf,
    digest: String,
}

impl Stamp {
    /// The record of this step, kept in the project's `target`.
    pub(crate) fn new(project: &Project, step: &str, inputs: Inputs) -> Self {
        Stamp::at(project.work().join("stamps").join(step), inputs)
    }

    /// The record of a step, kept beside what it made.
    pub(crate) fn at(path: PathBuf, inputs: Inputs) -> Self {
        Stamp { path, digest: inputs.digest() }
    }

    /// Whether the step was done for these inputs and all it made is still there.
    pub(crate) fn holds(&self, made: &[PathBuf]) -> bool {
        fs::read_to_string(&self.path).is_ok_and(|text| text == self.digest)
            && made.iter().all(|path| path.exists())
    }

    /// Records that the step is done.
    pub(crate) fn set(&self) -> Result<()> {
        if let Some(folder) = self.path.parent() {
            fs::create_dir_all(folder)?;
        }
        fs::write(&self.path, &self.digest).with_context(|| format!("cannot write {}", self.path.display()))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn digest(folder: &Path) -> String {
        Inputs::default().folder(folder, &["node_modules"]).unwrap().digest()
    }

    #[test]
    fn any_change_of_name_or_content_changes_the_digest() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path();
        fs::create_dir(path.join("src")).unwrap();
        fs::write(path.join("src/a"), "one").unwrap();
        let first = digest(path);
        assert_eq!(first, digest(path));

        fs::write(path.join("src/a"), "two").unwrap();
        let changed = digest(path);
        assert_ne!(first, changed);

        fs::rename(path.join("src/a"), path.join("src/b")).unwrap();
        let renamed = digest(path);
        assert_ne!(changed, renamed);

        fs::create_dir(path.join("node_modules")).unwrap();
        fs::write(path.join("node_modules/x"), "not ours").unwrap();
        assert_eq!(renamed, digest(path));
    }

    #[test]
    fn pieces_do_not_run_together() {
        let one = Inputs::default().text("ab").text("c").digest();
        let other = Inputs::default().text("a").text("bc").digest();
        assert_ne!(one, other);
    }

    #[test]
    fn a_stamp_holds_until_its_inputs_change_or_its_output_goes() {
        let folder = tempfile::tempdir().unwrap();
        let project = Project::at(folder.path());
        let made = folder.path().join("made");
        fs::write(&made, "").unwrap();
        let stamp = || Stamp::new(&project, "step", Inputs::default().text("inputs"));
        let made = [made];
        assert!(!stamp().holds(&made));
        stamp().set().unwrap();
        assert!(stamp().holds(&made));
        assert!(!Stamp::new(&project, "step", Inputs::default().text("others")).holds(&made));
        fs::remove_file(&made[0]).unwrap();
        assert!(!stamp().holds(&made));
    }

    #[test]
    fn the_content_name_is_the_start_of_its_sha_256() {
        // FIPS 180-4 example "abc".
        assert_eq!(content_name(b"abc"), "ba7816bf8f");
    }
}
