//! Rules that no other tool checks.

use std::fs;
use std::process::Command;

use anyhow::{Result, bail};

use crate::command;
use crate::project::Project;

/// What may stand at the top of the repository, besides names that start with a dot.
const TOP: &[&str] = &[
    "Cargo.toml",
    "Cargo.lock",
    "README.md",
    "DEVELOPERS.md",
    "LICENSE",
    "src",
    "www",
    "tests",
    "pkg-config",
];

/// Checks every file that git knows.
pub(crate) fn check(project: &Project) -> Result<()> {
    let listed =
        command::run_quietly(Command::new("git").args(["ls-files", "-z"]).current_dir(project.root()))?;
    let mut faults = Vec::new();
    for name in listed.split_terminator('\0') {
        // A file that is deleted but not yet committed has nothing to say; one that is not text has no lines.
        let text = fs::read_to_string(project.root().join(name)).unwrap_or_default();
        faults.extend(faults_of(name, &text));
    }
    if !faults.is_empty() {
        bail!("{}", faults.join("\n"));
    }
    Ok(())
}

fn faults_of(name: &str, text: &str) -> Vec<String> {
    let mut faults = Vec::new();
    let top = name.split('/').next().unwrap_or(name);
    if !top.starts_with('.') && !TOP.contains(&top) {
        faults.push(format!("{name}: `{top}` does not belong at the top of the repository"));
    }
    // The lock files must work with whatever registry a machine uses.
    if name.ends_with("package-lock.json") && text.contains("\"resolved\"") {
        faults.push(format!(
            "{name}: names a registry; write it with `npm config set omit-lockfile-registry-resolved true`"
        ));
    }
    faults
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn each_rule_finds_its_fault() {
        assert!(faults_of("src/lib.rs", "fn f() {}\n").is_empty());
        assert!(faults_of(".gitignore", "").is_empty());
        assert_eq!(faults_of("notes.txt", "").len(), 1);
        assert_eq!(faults_of("www/package-lock.json", "{\"resolved\": \"there\"}").len(), 1);
    }
}
