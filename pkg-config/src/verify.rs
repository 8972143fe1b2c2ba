//! Everything that the continuous integration runs: what is quick first, and what only a larger figure would
//! mend last.

use std::env;
use std::path::PathBuf;
use std::process::Command;
use std::time::Instant;

use anyhow::{Context as _, Result, bail};

use crate::arguments::Address;
use crate::browser::Browser;
use crate::project::Project;
use crate::serve::Server;
use crate::toolchain::{self, Toolchain};
use crate::{browser, budget, bundle, command, dist, engines, licences, npm, tidy, wasm, words};

/// The folder of a host that the page is tested in: it must work in any.
const UNDER: &str = "/some/folder/";

/// Sets up what is missing, then runs every check; stops at the first that fails.
pub(crate) fn verify(project: &Project) -> Result<()> {
    let mut steps = Steps::default();
    let machine = steps.run("set-up", || set_up(project))?;

    steps.run("rules of the repository", || tidy::check(project))?;
    steps.run("licences", || licences::check(project))?;
    steps.run("rustfmt", || cargo(project, &["fmt", "--all", "--check"]))?;
    steps.run("clippy", || {
        cargo(project, &["clippy", "--quiet", "--workspace", "--all-targets", "--", "--deny", "warnings"])
    })?;
    steps.run("rustdoc", || documentation(project))?;
    steps.run("tests, native", || cargo(project, &["test", "--quiet", "--workspace"]))?;
    let engine = steps.run("engine for the browser", || wasm::build(project, &machine.toolchain))?;
    steps.run("page: types, lint, format", || page_sources(project))?;
    let sizes = steps.run("page: build", || dist::build(project, &engine, None))?;
    steps.run("tests, engine in the browser", || engine_in_browser(project, &machine))?;
    steps.run("tests, page in the browser", || page_in_browser(project, &machine))?;
    steps.run("main job in other engines", || other_engines(project))?;
    steps.run("size budgets", || budget::check(&sizes))?;
    steps.report();
    Ok(())
}

/// What the checks need beyond a build.
struct Machine {
    toolchain: Toolchain,
    browser: Browser,
    test_runner: PathBuf,
}

fn set_up(project: &Project) -> Result<Machine> {
    for component in ["fmt", "clippy"] {
        let has = || command::run_quietly(project.cargo().args([component, "--version"])).is_ok();
        if !has() {
            let name = if component == "fmt" { "rustfmt" } else { component };
            println!("installing {name} (rustup)");
            command::run_quietly(Command::new("rustup").args(["component", "add", name])).with_context(
                || format!("`cargo {component}` is missing: type `rustup component add {name}`"),
            )?;
        }
    }
    let toolchain = toolchain::wasm()?;
    npm::install(project, &project.www())?;
    npm::install(project, &project.page_tests())?;
    let browser = browser::find_or_install()?;
    Ok(Machine { toolchain, browser, test_runner: test_runner(project)? })
}

/// wasm-bindgen's test runner, built as `Cargo.lock` says.
fn test_runner(project: &Project) -> Result<PathBuf> {
    let mut build = project.cargo();
    build.args(["build", "--quiet", "--locked", "--package", "meltmargin-test-runner", "--target-dir"]);
    command::run(build.arg(project.target()))?;
    Ok(project.target().join("debug").join(format!("wasm-bindgen-test-runner{}", env::consts::EXE_SUFFIX)))
}

fn cargo(project: &Project, words: &[&str]) -> Result<()> {
    command::run(project.cargo().args(words))
}

fn documentation(project: &Project) -> Result<()> {
    let mut doc = project.cargo();
    doc.args(["doc", "--quiet", "--workspace", "--no-deps", "--document-private-items"]);
    command::run(doc.env("RUSTDOCFLAGS", "--deny warnings"))
}

fn page_sources(project: &Project) -> Result<()> {
    let tool = |name: &str, words: &[&str]| {
        command::run(Command::new(project.npm_program(name)).args(words).current_dir(project.www()))
    };
    words::check(project)?;
    bundle::types(project)?;
    tool("tsc", &["--project", "tsconfig.workers.json"])?;
    tool("tsc", &["--project", "../tests/page/tsconfig.json"])?;
    tool("biome", &["check", "--error-on-warnings", "."])?;
    tool("biome", &["check", "--error-on-warnings", "--config-path=biome.json", "../tests/page"])
}

fn engine_in_browser(project: &Project, machine: &Machine) -> Result<()> {
    let mut test = machine.toolchain.cargo(project, "test");
    // Cargo hands its own `--quiet` on to the runner, which does not know it.
    test.args(["--package", "meltmargin-wasm-tests"]);
    test.env("CARGO_TARGET_WASM32_UNKNOWN_UNKNOWN_RUNNER", &machine.test_runner);
    command::run(test.env("CHROMEDRIVER", &machine.browser.driver))
}

fn page_in_browser(project: &Project, machine: &Machine) -> Result<()> {
    let server = Server::bind(&project.dist(), &Address { port: Some(0), under: UNDER.into() })?;
    let url = server.url();
    server.start();
    let playwright = project.page_tests().join("node_modules/@playwright/test/cli.js");
    let Some(node) = command::find("node") else { bail!("node is not on the search path any more") };
    let mut test = Command::new(node);
    test.arg(playwright).arg("test").current_dir(project.page_tests());
    command::run(test.env("PAGE_URL", url).env("CHROMIUM", &machine.browser.chromium))
}

fn other_engines(project: &Project) -> Result<()> {
    let server = Server::bind(&project.dist(), &Address { port: Some(0), under: UNDER.into() })?;
    let url = server.url();
    server.start();
    engines::main_job(project, &url, &project.dist().join(dist::SINGLE_FILE))
}

/// The steps done so far and how long each took.
#[derive(Default)]
struct Steps {
    done: Vec<(&'static str, f64)>,
}

impl Steps {
    fn run<T>(&mut self, name: &'static str, step: impl FnOnce() -> Result<T>) -> Result<T> {
        println!("== {name}");
        let start = Instant::now();
        let made = step().with_context(|| format!("the check `{name}` failed"))?;
        self.done.push((name, start.elapsed().as_secs_f64()));
        Ok(made)
    }

    fn report(&self) {
        println!("== all is well");
        for (name, seconds) in &self.done {
            println!("  {name:<30}{seconds:>7.1} s");
        }
        println!("  {:<30}{:>7.1} s", "in all", self.done.iter().map(|(_, seconds)| seconds).sum::<f64>());
    }
}
