//! Rules that no other tool checks.

use std::collections::{BTreeMap, BTreeSet};
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

/// How wide a comment may be: prose is read in lines shorter than those of code. rustfmt leaves comments
/// alone.
const COMMENT_COLUMNS: usize = 110;

/// Checks every file that git knows.
pub(crate) fn check(project: &Project) -> Result<()> {
    let listed =
        command::run_quietly(Command::new("git").args(["ls-files", "-z"]).current_dir(project.root()))?;
    let mut faults = Vec::new();
    let mut imports = BTreeMap::new();
    for name in listed.split_terminator('\0') {
        // A file that is deleted but not yet committed has nothing to say; one that is not text has no lines.
        let text = fs::read_to_string(project.root().join(name)).unwrap_or_default();
        faults.extend(faults_of(name, &text));
        if name.starts_with("www/src/") && name.ends_with(".ts") {
            imports.insert(name.to_owned(), imported(name, &text));
        }
    }
    for (what, imports) in [("files", &imports), ("rooms", &rooms(&imports))] {
        let circle = in_circles(imports);
        if !circle.is_empty() {
            faults.push(format!(
                "these {what} import each other in a circle, or lie between two: {}",
                circle.join(", ")
            ));
        }
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
    if name.ends_with(".rs") {
        let long = |(at, line): (usize, &str)| {
            let wide = line.trim_start().starts_with("//") && line.chars().count() > COMMENT_COLUMNS;
            wide.then(|| format!("{name}:{}: a comment wider than {COMMENT_COLUMNS} columns", at + 1))
        };
        faults.extend(text.lines().enumerate().filter_map(long));
    }
    faults
}

/// The files of the page's script that one of them imports from.
fn imported(name: &str, text: &str) -> BTreeSet<String> {
    let quoted = text.split("from \"").skip(1).filter_map(|rest| rest.split('"').next());
    let relative = quoted.filter(|path| path.starts_with('.') && path.ends_with(".js"));
    relative
        .map(|path| {
            let mut parts: Vec<&str> = name.split('/').collect();
            parts.pop();
            for part in path.trim_end_matches(".js").split('/') {
                match part {
                    "." => {}
                    ".." => drop(parts.pop()),
                    _ => parts.push(part),
                }
            }
            format!("{}.ts", parts.join("/"))
        })
        .collect()
}

/// The room of the page's script that a file stands in: the folder of its feature, the parts that all draw
/// with, or the file itself.
fn room_of(name: &str) -> &str {
    let below = if name.contains("src/features/") { 2 } else { usize::from(name.contains("src/parts/")) };
    let folder = name.find("src/").map_or(0, |at| at + "src/".len());
    let end = name[folder..].match_indices('/').nth(below.max(1) - 1).map(|(at, _)| folder + at);
    end.filter(|_| below > 0).map_or(name, |end| &name[..end])
}

/// Which room imports from which other.
fn rooms(imports: &BTreeMap<String, BTreeSet<String>>) -> BTreeMap<String, BTreeSet<String>> {
    let mut rooms: BTreeMap<String, BTreeSet<String>> = BTreeMap::new();
    for (name, others) in imports {
        let room = room_of(name);
        let others = others.iter().map(|other| room_of(other)).filter(|other| *other != room);
        rooms.entry(room.to_owned()).or_default().extend(others.map(str::to_owned));
    }
    rooms
}

/// What is left once every file is taken away that imports nothing of what is left, or that nothing of it
/// imports.
fn in_circles(imports: &BTreeMap<String, BTreeSet<String>>) -> Vec<&str> {
    let mut left: BTreeSet<&str> = imports.keys().map(String::as_str).collect();
    loop {
        let stays = |name: &&str| {
            let imports_one = imports[*name].iter().any(|other| left.contains(other.as_str()));
            imports_one && left.iter().any(|other| imports[*other].contains(*name))
        };
        let next: BTreeSet<&str> = left.iter().copied().filter(stays).collect();
        if next.len() == left.len() {
            return left.into_iter().collect();
        }
        left = next;
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_circle_of_files_is_found() {
        let files = |texts: &[(&str, &str)]| -> BTreeMap<String, BTreeSet<String>> {
            texts.iter().map(|(name, text)| ((*name).to_owned(), imported(name, text))).collect()
        };
        let view = ("src/rework/view.ts", "import { at } from \"../bench/state.js\";");
        let main = ("src/main.ts", "import { view } from \"./rework/view.js\";");
        let state = ("src/bench/state.ts", "import { html } from \"lit\";");
        assert!(in_circles(&files(&[main, view, state])).is_empty());
        let state = ("src/bench/state.ts", "import type { View } from \"../rework/view.js\";");
        assert_eq!(in_circles(&files(&[main, view, state])), ["src/bench/state.ts", "src/rework/view.ts"]);
    }

    #[test]
    fn a_circle_of_rooms_is_found() {
        let files = |texts: &[(&str, &str)]| -> BTreeMap<String, BTreeSet<String>> {
            texts.iter().map(|(name, text)| ((*name).to_owned(), imported(name, text))).collect()
        };
        let view = ("src/features/rework/view.ts", "import { box } from \"../../parts/box.js\";");
        let find = ("src/features/rework/find.ts", "import { ask } from \"../bench/own/ask.js\";");
        let ask = ("src/features/bench/own/ask.ts", "import { Bench } from \"../../../bench.js\";");
        let parts = ("src/parts/box.ts", "");
        let bench = ("src/bench.ts", "");
        let all = rooms(&files(&[view, find, ask, parts, bench]));
        let names: Vec<&str> = all.keys().map(String::as_str).collect();
        assert_eq!(names, ["src/bench.ts", "src/features/bench", "src/features/rework", "src/parts"]);
        assert!(in_circles(&all).is_empty());
        let ask = ("src/features/bench/own/ask.ts", "import { view } from \"../../rework/view.js\";");
        let files = files(&[view, find, ask, parts, bench]);
        assert!(in_circles(&files).is_empty());
        assert_eq!(in_circles(&rooms(&files)), ["src/features/bench", "src/features/rework"]);
    }

    #[test]
    fn each_rule_finds_its_fault() {
        assert!(faults_of("src/lib.rs", "fn f() {}\n").is_empty());
        assert!(faults_of(".gitignore", "").is_empty());
        assert_eq!(faults_of("notes.txt", "").len(), 1);
        assert_eq!(faults_of("www/package-lock.json", "{\"resolved\": \"there\"}").len(), 1);
        let comment = |words: usize| format!("    // {}\n", "word ".repeat(words).trim_end());
        assert!(faults_of("src/lib.rs", &comment(20)).is_empty());
        assert_eq!(faults_of("src/lib.rs", &comment(21)).len(), 1);
    }
}
