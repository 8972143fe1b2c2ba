//! The command line.

use anyhow::{Context, Result, bail};

/// Said by `--help`.
pub(crate) const HELP: &str = "\
cargo page [--port N] [--under /folder/]   build all into dist/ and serve it on 127.0.0.1
cargo page build [--hosted-at URL]         build all into dist/ and check the size budgets; with the address of the
                                           host, previews of its link have a picture, and the single file leads there
cargo page serve [--port N] [--under /f/]  serve dist/ as it is
cargo page words                           check www/words/, and write the type of its messages
cargo verify                               everything that the continuous integration runs
";

/// What was asked for.
#[derive(Debug, PartialEq, Eq)]
pub(crate) enum Task {
    /// Build, then serve.
    Page(Address),
    /// Build only, for this address of the host if it was said.
    Build(Option<String>),
    /// Serve what was built before.
    Serve(Address),
    /// Check how things are said.
    Words,
    /// Run every check.
    Verify,
    /// Say how it is used.
    Help,
}

/// Where to serve, always on 127.0.0.1.
#[derive(Debug, PartialEq, Eq)]
pub(crate) struct Address {
    /// The port asked for, 0 for any free one; without one, the usual port or, when that is taken, any.
    pub(crate) port: Option<u16>,
    /// The folder of the host that the page appears in: `/` or `/some/where/`.
    pub(crate) under: String,
}

/// Reads the words after the program's name.
pub(crate) fn parse(words: impl IntoIterator<Item = String>) -> Result<Task> {
    let mut words = words.into_iter().peekable();
    match words.next().as_deref() {
        Some("verify") => end(words, Task::Verify),
        Some("page") => match words.peek().map(String::as_str) {
            Some("build") => Ok(Task::Build(hosted_at(words.skip(1))?)),
            Some("words") => end(words.skip(1), Task::Words),
            Some("serve") => Ok(Task::Serve(address(words.skip(1))?)),
            Some("--help" | "-h" | "help") => Ok(Task::Help),
            _ => Ok(Task::Page(address(words)?)),
        },
        None | Some("--help" | "-h" | "help") => Ok(Task::Help),
        Some(other) => bail!("there is no task `{other}`\n{HELP}"),
    }
}

fn end<T>(mut words: impl Iterator<Item = String>, task: T) -> Result<T> {
    match words.next() {
        None => Ok(task),
        Some(word) => bail!("`{word}` is not understood here\n{HELP}"),
    }
}

fn hosted_at(mut words: impl Iterator<Item = String>) -> Result<Option<String>> {
    match words.next().as_deref() {
        None => return Ok(None),
        Some("--hosted-at") => {}
        Some(word) => bail!("`{word}` is not understood here\n{HELP}"),
    }
    let url = words.next().context("`--hosted-at` needs a value")?;
    let plain = url.bytes().all(|byte| byte.is_ascii_graphic() && !b"\"'<>?#&`\\".contains(&byte));
    let rest = url.strip_prefix("https://").or_else(|| url.strip_prefix("http://"));
    if !plain || rest.is_none_or(|rest| rest.trim_matches('/').is_empty()) {
        bail!("`{url}` is not the address of a folder: give it like https://example.org/butter/");
    }
    end(words, Some(format!("{}/", url.trim_end_matches('/'))))
}

fn address(mut words: impl Iterator<Item = String>) -> Result<Address> {
    let mut address = Address { port: None, under: "/".into() };
    while let Some(word) = words.next() {
        let mut value = || words.next().with_context(|| format!("`{word}` needs a value"));
        match word.as_str() {
            "--port" => {
                let port = value()?;
                address.port =
                    Some(port.parse().with_context(|| format!("`{port}` is not a port: 0 to 65535"))?);
            }
            "--under" => {
                let folder = value()?;
                let inside = folder.trim_matches('/');
                address.under = if inside.is_empty() { "/".into() } else { format!("/{inside}/") };
            }
            _ => bail!("`{word}` is not understood here\n{HELP}"),
        }
    }
    Ok(address)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn task(line: &str) -> Result<Task> {
        parse(line.split_whitespace().map(str::to_owned))
    }

    #[test]
    fn the_aliases_mean_what_the_readme_says() {
        let usual = || Address { port: None, under: "/".into() };
        assert_eq!(task("page").unwrap(), Task::Page(usual()));
        assert_eq!(task("page build").unwrap(), Task::Build(None));
        for url in ["https://a.example/b", "https://a.example/b/"] {
            let built = task(&format!("page build --hosted-at {url}")).unwrap();
            assert_eq!(built, Task::Build(Some("https://a.example/b/".into())));
        }
        assert_eq!(task("page words").unwrap(), Task::Words);
        assert_eq!(task("verify").unwrap(), Task::Verify);
        assert_eq!(task("page serve").unwrap(), Task::Serve(usual()));
        assert_eq!(
            task("page --port 0 --under a/b").unwrap(),
            Task::Page(Address { port: Some(0), under: "/a/b/".into() })
        );
    }

    #[test]
    fn what_is_not_understood_is_refused_by_name() {
        for line in [
            "page biuld",
            "verify --fast",
            "page --port",
            "page --port 70000",
            "page build --hosted-at ftp://a/",
            "page build --hosted-at https://a/\"b",
            "page build --hosted-at https://a/ b",
            "pages",
        ] {
            let said = format!("{:#}", task(line).unwrap_err());
            let culprit = line.split_whitespace().last().unwrap();
            assert!(said.contains(culprit), "{line}: {said}");
        }
    }
}
