//! Reads the data files, refuses what does not hold together, and writes them as Rust tables: a bad figure
//! stops the build, and the engine itself reads no files.

mod data;
mod tables;
mod widths;

use std::{env, error::Error, fs, path::Path, process::ExitCode};

fn main() -> ExitCode {
    println!("cargo::rerun-if-changed=src/substances");
    println!("cargo::rerun-if-changed=src/surety/data");
    match write() {
        Ok(()) => ExitCode::SUCCESS,
        Err(error) => {
            println!("cargo::error={error}");
            ExitCode::FAILURE
        }
    }
}

fn write() -> Result<(), Box<dyn Error>> {
    let data = data::Data::read(&Path::new(env!("CARGO_MANIFEST_DIR")).join("src/substances/data"))?;
    let out = env::var("OUT_DIR")?;
    fs::write(Path::new(&out).join("tables.rs"), tables::written(&data))?;
    let surety = Path::new(env!("CARGO_MANIFEST_DIR")).join("src/surety/data");
    fs::write(Path::new(&out).join("widths.rs"), widths::written(&surety, &data)?)?;
    Ok(())
}
