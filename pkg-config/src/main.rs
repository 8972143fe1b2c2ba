//! Builds, checks and serves the page, and sets up what a fresh machine lacks for it.
//!
//! `cargo page` builds everything into `dist/` and serves it; `cargo page build` only builds; `cargo verify`
//! runs what the continuous integration runs. The aliases are in `.cargo/config.toml`.

mod arguments;
mod browser;
mod budget;
mod bundle;
mod command;
mod dist;
mod engines;
mod hosted;
mod html;
mod licences;
mod npm;
mod policy;
mod project;
mod serve;
mod single_file;
mod stamp;
mod system;
mod tidy;
mod toolchain;
mod verify;
mod wasm;
mod words;

use std::process::ExitCode;

use anyhow::Result;

use arguments::Task;
use project::Project;

fn main() -> ExitCode {
    match run() {
        Ok(()) => ExitCode::SUCCESS,
        Err(error) => {
            eprintln!("error: {error:#}");
            ExitCode::FAILURE
        }
    }
}

fn run() -> Result<()> {
    let task = arguments::parse(std::env::args().skip(1))?;
    let project = Project::locate()?;
    match task {
        Task::Help => print!("{}", arguments::HELP),
        Task::Build(hosted_at) => budget::check(&build(&project, hosted_at.as_deref())?)?,
        Task::Page(address) => {
            // What is too large is said, and can still be looked at; `cargo page build` and `cargo verify`
            // refuse it.
            if let Err(error) = budget::check(&build(&project, None)?) {
                eprintln!("warning: {error:#}");
            }
            serve::Server::bind(&project.dist(), &address)?.announce_and_run()?;
        }
        Task::Serve(address) => serve::Server::bind(&project.dist(), &address)?.announce_and_run()?,
        Task::Words => words::check(&project)?,
        Task::Verify => verify::verify(&project)?,
    }
    Ok(())
}

/// Builds `dist/`.
fn build(project: &Project, hosted_at: Option<&str>) -> Result<budget::Sizes> {
    let toolchain = toolchain::wasm()?;
    npm::install(project, &project.www())?;
    let engine = wasm::build(project, &toolchain)?;
    dist::build(project, &engine, hosted_at)
}
