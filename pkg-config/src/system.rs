//! What machine this is, and installing its own packages on the one kind where that is done for people.

use std::fs;
use std::process::Command;

use anyhow::{Context as _, Result, bail};

use crate::command;

/// Whether this is Debian itself, whose package names are known here. Its derivatives name them differently.
pub(crate) fn is_debian() -> bool {
    fs::read_to_string("/etc/os-release").is_ok_and(|text| says_debian(&text))
}

fn says_debian(os_release: &str) -> bool {
    os_release.lines().any(|line| line == "ID=debian" || line == "ID=\"debian\"")
}

/// Whether all these Debian packages are installed.
pub(crate) fn apt_has(packages: &[&str]) -> bool {
    let mut ask = Command::new("dpkg-query");
    ask.args(["--show", "--showformat=${db:Status-Status}\\n"]).args(packages);
    command::run_quietly(&mut ask).is_ok_and(|said| said.lines().all(|status| status == "installed"))
}

fn is_root() -> bool {
    command::run_quietly(Command::new("id").arg("-u")).is_ok_and(|id| id.trim() == "0")
}

/// Installs Debian packages, saying so in a line; without root, stops with the command to type.
pub(crate) fn apt_install(packages: &[&str], why: &str) -> Result<()> {
    let names = packages.join(" ");
    if !is_root() {
        bail!(
            "{why} needs Debian packages, and installing them needs root. Type this, then run again:\n  \
             sudo apt-get update && sudo apt-get install -y --no-install-recommends {names}"
        );
    }
    println!("installing {names} (apt), for {why}");
    let apt = || {
        let mut apt = Command::new("apt-get");
        apt.env("DEBIAN_FRONTEND", "noninteractive");
        apt
    };
    command::run_quietly(apt().arg("update"))?;
    command::run_quietly(apt().args(["install", "-y", "--no-install-recommends"]).args(packages))
        .with_context(|| format!("could not install {names}"))?;
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::says_debian;

    #[test]
    fn only_debian_is_debian() {
        assert!(says_debian("PRETTY_NAME=\"Debian GNU/Linux 12 (bookworm)\"\nID=debian\n"));
        assert!(says_debian("ID=\"debian\"\n"));
        assert!(!says_debian("ID=ubuntu\nID_LIKE=debian\n"));
        assert!(!says_debian(""));
    }
}
