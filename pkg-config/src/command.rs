//! Running other programs.

use std::ffi::OsStr;
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};

use anyhow::{Context, Result, bail};

/// The command as a person would type it, for messages.
pub(crate) fn shown(command: &Command) -> String {
    let word = |word: &OsStr| {
        let word = word.to_string_lossy();
        if word.len() > 120 { "…".to_owned() } else { word.into_owned() }
    };
    std::iter::once(command.get_program()).chain(command.get_args()).map(word).collect::<Vec<_>>().join(" ")
}

/// Runs it with its output on the terminal; fails when it fails.
pub(crate) fn run(command: &mut Command) -> Result<()> {
    let line = shown(command);
    let status = command.status().with_context(|| format!("could not start `{line}`"))?;
    if !status.success() {
        bail!("`{line}` failed ({status})");
    }
    Ok(())
}

/// Runs it without a word; when it fails, what it said is in the error.
pub(crate) fn run_quietly(command: &mut Command) -> Result<String> {
    let line = shown(command);
    let output =
        command.stdin(Stdio::null()).output().with_context(|| format!("could not start `{line}`"))?;
    if !output.status.success() {
        bail!(
            "`{line}` failed ({})\n{}{}",
            output.status,
            String::from_utf8_lossy(&output.stdout),
            String::from_utf8_lossy(&output.stderr)
        );
    }
    Ok(String::from_utf8_lossy(&output.stdout).into_owned())
}

/// The first program of this name on the search path.
pub(crate) fn find(name: &str) -> Option<PathBuf> {
    let path = std::env::var_os("PATH")?;
    std::env::split_paths(&path).find_map(|folder| executable(&folder.join(name)))
}

fn executable(path: &Path) -> Option<PathBuf> {
    if cfg!(windows) {
        ["exe", "cmd"].iter().map(|kind| path.with_extension(kind)).find(|file| file.is_file())
    } else {
        path.is_file().then(|| path.to_owned())
    }
}
