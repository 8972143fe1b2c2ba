//! The folder that is served: what a path leads to, and how a file is answered.

use std::collections::HashMap;
use std::fs;
use std::io::{Read as _, Write as _};
use std::net::TcpStream;
use std::path::{Component, Path, PathBuf};
use std::sync::{Arc, Mutex};
use std::time::{Duration, SystemTime};

use anyhow::{Result, anyhow, bail};
use httparse::{EMPTY_HEADER, Request, Status};
use percent_encoding::percent_decode_str;

use super::wire::{CLOSES, has_body, is, is_served, reply};
use crate::budget::gzip;
use crate::bundle::ASSETS;
use crate::policy::{POLICY, policy_of};

/// How long a connection may say nothing.
const PATIENCE: Duration = Duration::from_secs(60);
/// The most bytes and the most lines of a request's head.
const MOST_HEAD: usize = 64 * 1024;
const MOST_HEADERS: usize = 100;

/// A file as it is sent gzipped, and the time of the file it was made from.
type Packed = (SystemTime, Arc<Vec<u8>>);

pub(super) struct Site {
    pub(super) folder: PathBuf,
    pub(super) under: String,
    pub(super) packed: Mutex<HashMap<PathBuf, Packed>>,
}

/// What a path of the site leads to.
#[derive(Debug, PartialEq, Eq)]
enum Leads {
    ToFile(PathBuf),
    Elsewhere(String),
    Nowhere,
}

impl Site {
    fn find(&self, url: &str) -> Leads {
        let path = url.split(['?', '#']).next().unwrap_or_default();
        if format!("{path}/") == self.under {
            return Leads::Elsewhere(self.under.clone());
        }
        let Some(inside) = path.strip_prefix(&self.under) else { return Leads::Nowhere };
        let Ok(inside) = percent_decode_str(inside).decode_utf8() else { return Leads::Nowhere };
        if inside.contains(['\0', '\\']) {
            return Leads::Nowhere;
        }
        let inside = Path::new(&*inside);
        if !inside.components().all(|part| matches!(part, Component::Normal(_))) {
            return Leads::Nowhere;
        }
        let mut file = self.folder.join(inside);
        if file.is_dir() {
            file.push("index.html");
        }
        // Whatever links there are, only what lies in the folder is given out.
        match fs::canonicalize(&file) {
            Ok(real) if real.starts_with(&self.folder) && real.is_file() => Leads::ToFile(real),
            _ => Leads::Nowhere,
        }
    }

    /// Answers the requests of one connection, one after the other.
    pub(super) fn converse(&self, mut stream: &TcpStream) -> Result<()> {
        stream.set_read_timeout(Some(PATIENCE))?;
        stream.set_write_timeout(Some(PATIENCE))?;
        stream.set_nodelay(true)?;
        let mut said = Vec::new();
        let mut more = [0; 4096];
        loop {
            let mut headers = [EMPTY_HEADER; MOST_HEADERS];
            let mut request = Request::new(&mut headers);
            match request.parse(&said)? {
                Status::Complete(head) => {
                    // What else a refused request sends is not read.
                    let last = !is_served(&request)
                        || has_body(request.headers)
                        || is(request.headers, "Connection", "close");
                    stream.write_all(&self.answer(&request)?)?;
                    if last {
                        return Ok(());
                    }
                    said.drain(..head);
                }
                Status::Partial if said.len() < MOST_HEAD => match stream.read(&mut more)? {
                    0 => return Ok(()),
                    count => said.extend(more.iter().take(count)),
                },
                Status::Partial => bail!("the head of a request has no end"),
            }
        }
    }

    fn answer(&self, request: &Request<'_, '_>) -> Result<Vec<u8>> {
        if !is_served(request) {
            return Ok(reply("405 Method Not Allowed", &[CLOSES], b"only GET", false));
        }
        if has_body(request.headers) {
            return Ok(reply("413 Content Too Large", &[CLOSES], b"a request has no body here", false));
        }
        let head_only = request.method == Some("HEAD");
        Ok(match self.find(request.path.unwrap_or_default()) {
            Leads::ToFile(file) => {
                self.file(&file, is(request.headers, "Accept-Encoding", "gzip"), head_only)?
            }
            Leads::Elsewhere(to) => reply("308 Permanent Redirect", &[("Location", &to)], b"", head_only),
            Leads::Nowhere => reply("404 Not Found", &[], b"nothing here", head_only),
        })
    }

    fn file(&self, file: &Path, gzipped: bool, head_only: bool) -> Result<Vec<u8>> {
        let body = if gzipped { self.packed(file)? } else { Arc::new(fs::read(file)?) };
        let policy = policy(file)?;
        let named_by_content = file.starts_with(self.folder.join(ASSETS));
        let mut headers = vec![
            ("Content-Type", media_type(file)),
            (
                "Cache-Control",
                if named_by_content { "public, max-age=31536000, immutable" } else { "no-cache" },
            ),
            ("Vary", "Accept-Encoding"),
            ("X-Content-Type-Options", "nosniff"),
            ("Content-Security-Policy", &policy),
        ];
        if gzipped {
            headers.push(("Content-Encoding", "gzip"));
        }
        Ok(reply("200 OK", &headers, &body, head_only))
    }

    fn packed(&self, file: &Path) -> Result<Arc<Vec<u8>>> {
        let changed = fs::metadata(file)?.modified()?;
        let mut known = self.packed.lock().map_err(|_| anyhow!("a thread of the server failed"))?;
        if let Some((time, bytes)) = known.get(file)
            && *time == changed
        {
            return Ok(Arc::clone(bytes));
        }
        let bytes = Arc::new(gzip(&fs::read(file)?)?);
        known.insert(file.to_owned(), (changed, Arc::clone(&bytes)));
        Ok(bytes)
    }
}

/// What a file may do where it is opened: a page what its own tag says, the hosted page's scripts (a worker
/// has no tag) what the hosted page may. Only a header can keep a page out of the frames of others.
fn policy(file: &Path) -> Result<String> {
    let own = if file.extension().is_some_and(|extension| extension == "html") {
        policy_of(&fs::read_to_string(file)?).map(str::to_owned)
    } else {
        None
    };
    Ok(format!("{}; frame-ancestors 'none'", own.as_deref().unwrap_or(POLICY)))
}

fn media_type(file: &Path) -> &'static str {
    match file.extension().and_then(|extension| extension.to_str()) {
        Some("html") => "text/html; charset=utf-8",
        Some("js") => "text/javascript; charset=utf-8",
        Some("css") => "text/css; charset=utf-8",
        Some("wasm") => "application/wasm",
        Some("svg") => "image/svg+xml",
        Some("png") => "image/png",
        Some("webmanifest") => "application/manifest+json",
        Some("json") => "application/json",
        Some("txt") => "text/plain; charset=utf-8",
        _ => "application/octet-stream",
    }
}

#[cfg(test)]
pub(super) mod tests {
    use super::*;
    use crate::policy::policy_tag;

    /// A page and a script to serve, and a secret beside them.
    pub(in crate::serve) fn site(under: &str) -> (tempfile::TempDir, Site) {
        let outside = tempfile::tempdir().unwrap();
        let folder = outside.path().join("dist");
        fs::create_dir_all(folder.join("assets")).unwrap();
        fs::write(outside.path().join("secret"), "s").unwrap();
        let page = format!("{}page", policy_tag("default-src 'none'; img-src 'self'"));
        fs::write(folder.join("index.html"), page).unwrap();
        fs::write(folder.join("assets/a b.js"), "script").unwrap();
        let folder = fs::canonicalize(folder).unwrap();
        (outside, Site { folder, under: under.into(), packed: Mutex::default() })
    }

    #[test]
    fn files_are_found_at_the_root_and_in_a_folder() {
        for under in ["/", "/some/where/"] {
            let (_keep, site) = site(under);
            let file = |path: &str| Leads::ToFile(site.folder.join(path));
            assert_eq!(site.find(under), file("index.html"));
            assert_eq!(site.find(&format!("{under}?q=1")), file("index.html"));
            assert_eq!(site.find(&format!("{under}assets/a%20b.js")), file("assets/a b.js"));
            assert_eq!(site.find(&format!("{under}assets/")), Leads::Nowhere);
        }
        let (_keep, site) = site("/some/where/");
        assert_eq!(site.find("/some/where"), Leads::Elsewhere("/some/where/".into()));
        assert_eq!(site.find("/"), Leads::Nowhere);
    }

    #[test]
    fn nothing_outside_the_folder_is_given_out() {
        let (outside, site) = site("/");
        let absolute = format!("/{}", outside.path().join("secret").display());
        for path in [
            "/../secret",
            "/%2e%2e/secret",
            "/%2E%2E%2Fsecret",
            "/assets/../../secret",
            "/assets/..%5c..%5csecret",
            "/index.html%00",
            "/%",
            "/%zz",
            "/%ff",
            "secret",
            &absolute,
        ] {
            assert_eq!(site.find(path), Leads::Nowhere, "{path}");
        }
    }

    #[cfg(unix)]
    #[test]
    fn a_link_out_of_the_folder_leads_nowhere() {
        let (outside, site) = site("/");
        std::os::unix::fs::symlink(outside.path().join("secret"), site.folder.join("link")).unwrap();
        assert_eq!(site.find("/link"), Leads::Nowhere);
    }

    #[test]
    fn each_file_comes_with_its_policy() {
        let (_keep, site) = site("/");
        let policy = |name: &str| policy(&site.folder.join(name)).unwrap();
        assert_eq!(policy("index.html"), "default-src 'none'; img-src 'self'; frame-ancestors 'none'");
        assert_eq!(policy("assets/a b.js"), format!("{POLICY}; frame-ancestors 'none'"));
        let sent = site.file(&site.folder.join("index.html"), false, true).unwrap();
        let sent = String::from_utf8(sent).unwrap();
        assert!(
            sent.contains("Content-Security-Policy: default-src 'none'; img-src 'self'; frame"),
            "{sent}"
        );
    }
}
