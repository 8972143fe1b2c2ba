//! A small server of static files, for this machine only.

use std::collections::HashMap;
use std::fs;
use std::io::{Read as _, Write as _};
use std::net::{TcpListener, TcpStream};
use std::path::{Component, Path, PathBuf};
use std::sync::{Arc, Mutex};
use std::thread;
use std::time::{Duration, SystemTime};

use anyhow::{Context, Result, anyhow, bail};
use httparse::{EMPTY_HEADER, Header, Request, Status};
use percent_encoding::percent_decode_str;

use crate::arguments::Address;
use crate::budget::gzip;
use crate::bundle::ASSETS;
use crate::policy::{POLICY, policy_of};

/// The port that is tried first when none is asked for.
const USUAL_PORT: u16 = 8642;
/// How long a connection may say nothing.
const PATIENCE: Duration = Duration::from_secs(60);
/// The most connections at once, each of which has a thread: several times what a browser opens.
const MOST_CONNECTIONS: usize = 64;
/// The most bytes and the most lines of a request's head.
const MOST_HEAD: usize = 64 * 1024;
const MOST_HEADERS: usize = 100;

/// A folder served under a path of 127.0.0.1.
pub(crate) struct Server {
    listener: TcpListener,
    site: Arc<Site>,
}

impl Server {
    /// Takes the port.
    pub(crate) fn bind(folder: &Path, address: &Address) -> Result<Self> {
        let bind = |port| {
            TcpListener::bind(("127.0.0.1", port)).with_context(|| format!("cannot serve on port {port}"))
        };
        let listener = match address.port {
            Some(port) => bind(port)?,
            None => bind(USUAL_PORT).or_else(|_| bind(0))?,
        };
        let folder = fs::canonicalize(folder)
            .with_context(|| format!("there is no {}: type `cargo page build` first", folder.display()))?;
        let site = Site { folder, under: address.under.clone(), packed: Mutex::default() };
        Ok(Server { listener, site: Arc::new(site) })
    }

    /// Where the page is.
    pub(crate) fn url(&self) -> String {
        let port = self.listener.local_addr().map_or(0, |address| address.port());
        format!("http://127.0.0.1:{port}{}", self.site.under)
    }

    /// Prints the address and serves until the program is stopped.
    pub(crate) fn announce_and_run(self) -> Result<()> {
        println!("{}  (Ctrl+C stops it)", self.url());
        self.run();
        Ok(())
    }

    /// Serves in the background, until the program ends.
    pub(crate) fn start(self) {
        thread::spawn(move || self.run());
    }

    /// A thread for each connection: a browser opens several at once and keeps them, and none may wait for another.
    fn run(&self) {
        // Each open connection holds a reference, and gives it up however its thread ends.
        let open = Arc::new(());
        for mut stream in self.listener.incoming().flatten() {
            if Arc::strong_count(&open) > MOST_CONNECTIONS {
                let busy = reply("503 Service Unavailable", &[CLOSES], b"too many connections", false);
                // Who does not even take this answer is not waited for.
                let _ = stream.set_write_timeout(Some(Duration::from_millis(100)));
                let _ = stream.write_all(&busy);
                continue;
            }
            let (site, counted) = (Arc::clone(&self.site), Arc::clone(&open));
            thread::spawn(move || {
                // A browser that went away before its answer is no matter.
                let _ = site.converse(&stream);
                drop(counted);
            });
        }
    }
}

/// Said with an answer after which nothing more is read.
const CLOSES: (&str, &str) = ("Connection", "close");

/// A file as it is sent gzipped, and the time of the file it was made from.
type Packed = (SystemTime, Arc<Vec<u8>>);

struct Site {
    folder: PathBuf,
    under: String,
    packed: Mutex<HashMap<PathBuf, Packed>>,
}

/// What a path of the site leads to.
#[derive(Debug, PartialEq, Eq)]
enum Found {
    File(PathBuf),
    Redirect(String),
    Nothing,
}

impl Site {
    fn find(&self, url: &str) -> Found {
        let path = url.split(['?', '#']).next().unwrap_or_default();
        if format!("{path}/") == self.under {
            return Found::Redirect(self.under.clone());
        }
        let Some(inside) = path.strip_prefix(&self.under) else { return Found::Nothing };
        let Ok(inside) = percent_decode_str(inside).decode_utf8() else { return Found::Nothing };
        if inside.contains(['\0', '\\']) {
            return Found::Nothing;
        }
        let inside = Path::new(&*inside);
        if !inside.components().all(|part| matches!(part, Component::Normal(_))) {
            return Found::Nothing;
        }
        let mut file = self.folder.join(inside);
        if file.is_dir() {
            file.push("index.html");
        }
        // Whatever links there are, only what lies in the folder is given out.
        match fs::canonicalize(&file) {
            Ok(real) if real.starts_with(&self.folder) && real.is_file() => Found::File(real),
            _ => Found::Nothing,
        }
    }

    /// Answers the requests of one connection, one after the other.
    fn converse(&self, mut stream: &TcpStream) -> Result<()> {
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
            Found::File(file) => {
                self.file(&file, is(request.headers, "Accept-Encoding", "gzip"), head_only)?
            }
            Found::Redirect(to) => reply("308 Permanent Redirect", &[("Location", &to)], b"", head_only),
            Found::Nothing => reply("404 Not Found", &[], b"nothing here", head_only),
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

/// Whether a request only asks for something.
fn is_served(request: &Request<'_, '_>) -> bool {
    matches!(request.method, Some("GET" | "HEAD"))
}

/// Whether a body follows the head of a request.
fn has_body(headers: &[Header<'_>]) -> bool {
    headers.iter().any(|header| {
        header.name.eq_ignore_ascii_case("Transfer-Encoding")
            || (header.name.eq_ignore_ascii_case("Content-Length") && header.value != b"0")
    })
}

/// What a file may do where it is opened: a page what its own tag says, the hosted page's scripts (a worker has no tag) what
/// the hosted page may. Only a header can keep a page out of the frames of others.
fn policy(file: &Path) -> Result<String> {
    let own = if file.extension().is_some_and(|extension| extension == "html") {
        policy_of(&fs::read_to_string(file)?).map(str::to_owned)
    } else {
        None
    };
    Ok(format!("{}; frame-ancestors 'none'", own.as_deref().unwrap_or(POLICY)))
}

/// A reply as it goes over the wire.
fn reply(status: &str, headers: &[(&str, &str)], body: &[u8], head_only: bool) -> Vec<u8> {
    let mut head = format!("HTTP/1.1 {status}\r\nContent-Length: {}\r\n", body.len());
    for (name, value) in headers {
        head.extend([name, ": ", value, "\r\n"]);
    }
    head.push_str("\r\n");
    let body = if head_only { &[][..] } else { body };
    [head.as_bytes(), body].concat()
}

/// Whether a header holds this word.
fn is(headers: &[Header<'_>], name: &str, word: &str) -> bool {
    headers.iter().any(|header| {
        header.name.eq_ignore_ascii_case(name)
            && String::from_utf8_lossy(header.value).to_ascii_lowercase().contains(word)
    })
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
mod tests {
    use super::*;
    use crate::policy::policy_tag;

    fn site(under: &str) -> (tempfile::TempDir, Site) {
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
            let file = |path: &str| Found::File(site.folder.join(path));
            assert_eq!(site.find(under), file("index.html"));
            assert_eq!(site.find(&format!("{under}?q=1")), file("index.html"));
            assert_eq!(site.find(&format!("{under}assets/a%20b.js")), file("assets/a b.js"));
            assert_eq!(site.find(&format!("{under}assets/")), Found::Nothing);
        }
        let (_keep, site) = site("/some/where/");
        assert_eq!(site.find("/some/where"), Found::Redirect("/some/where/".into()));
        assert_eq!(site.find("/"), Found::Nothing);
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
            assert_eq!(site.find(path), Found::Nothing, "{path}");
        }
    }

    #[cfg(unix)]
    #[test]
    fn a_link_out_of_the_folder_leads_nowhere() {
        let (outside, site) = site("/");
        std::os::unix::fs::symlink(outside.path().join("secret"), site.folder.join("link")).unwrap();
        assert_eq!(site.find("/link"), Found::Nothing);
    }

    #[test]
    fn a_request_over_the_wire_is_answered() {
        let (_keep, site) = site("/x/");
        let address = Address { port: Some(0), under: "/x/".into() };
        let server = Server::bind(&site.folder, &address).unwrap();
        let host = server.listener.local_addr().unwrap();
        server.start();
        let ask = |head: &str| {
            let mut stream = std::net::TcpStream::connect(host).unwrap();
            write!(stream, "{head}\r\nHost: here\r\nConnection: close\r\n\r\n").unwrap();
            let mut reply = String::new();
            stream.read_to_string(&mut reply).unwrap();
            reply
        };
        let page = ask("GET /x/ HTTP/1.1");
        assert!(page.starts_with("HTTP/1.1 200") && page.ends_with("page"), "{page}");
        assert!(page.contains("Content-Type: text/html; charset=utf-8"), "{page}");
        let script = ask("GET /x/assets/a%20b.js HTTP/1.1");
        assert!(script.contains("immutable") && script.contains("text/javascript"), "{script}");
        assert!(ask("GET /x/../secret HTTP/1.1").starts_with("HTTP/1.1 404"));
        assert!(ask("POST /x/ HTTP/1.1").starts_with("HTTP/1.1 405"));
        assert!(!ask("HEAD /x/ HTTP/1.1").ends_with("page"));

        // What follows a refused request, its body perhaps, is no request.
        for refused in [
            "POST /x/ HTTP/1.1\r\nHost: here",
            "GET /x/ HTTP/1.1\r\nHost: here\r\nContent-Length: 38",
            "GET /x/ HTTP/1.1\r\nHost: here\r\nTransfer-Encoding: chunked",
        ] {
            let mut stream = TcpStream::connect(host).unwrap();
            write!(stream, "{refused}\r\n\r\nGET /x/ HTTP/1.1\r\nHost: here\r\n\r\n").unwrap();
            let mut reply = Vec::new();
            // Closed with words unread, it may be reset after the answer.
            let _ = stream.read_to_end(&mut reply);
            let reply = String::from_utf8(reply).unwrap();
            assert!(reply.starts_with("HTTP/1.1 4"), "{refused}: {reply}");
            assert!(!reply.contains("200 OK"), "{refused}: {reply}");
        }
        assert!(ask("GET /x/ HTTP/1.1\r\nContent-Length: 4").starts_with("HTTP/1.1 413"));
        assert!(ask("GET /x/ HTTP/1.1\r\nContent-Length: 0").starts_with("HTTP/1.1 200"));

        // Connections that say nothing hold nobody up, and one may ask again.
        let idle: Vec<_> = (0..40).map(|_| TcpStream::connect(host).unwrap()).collect();
        let mut stream = idle.last().unwrap();
        for _ in 0..2 {
            write!(stream, "GET /x/ HTTP/1.1\r\nHost: here\r\n\r\n").unwrap();
            let mut reply = Vec::new();
            while !reply.ends_with(b"page") {
                let mut byte = [0];
                stream.read_exact(&mut byte).unwrap();
                reply.extend(byte);
            }
        }
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

    #[test]
    fn one_connection_too_many_is_told_and_the_next_served_once_others_end() {
        let (_keep, site) = site("/");
        let server = Server::bind(&site.folder, &Address { port: Some(0), under: "/".into() }).unwrap();
        let host = server.listener.local_addr().unwrap();
        server.start();
        let ask = || {
            let mut stream = TcpStream::connect(host).unwrap();
            let _ = write!(stream, "GET / HTTP/1.1\r\nHost: here\r\nConnection: close\r\n\r\n");
            let mut reply = Vec::new();
            let _ = stream.read_to_end(&mut reply);
            String::from_utf8(reply).unwrap()
        };
        let mut idle: Vec<_> = (0..MOST_CONNECTIONS).map(|_| TcpStream::connect(host).unwrap()).collect();
        let mut refused = TcpStream::connect(host).unwrap();
        let mut reply = String::new();
        refused.read_to_string(&mut reply).unwrap();
        assert!(reply.starts_with("HTTP/1.1 503"), "{reply}");
        idle.clear();
        let served = (0..100).any(|_| {
            thread::sleep(Duration::from_millis(20));
            ask().starts_with("HTTP/1.1 200")
        });
        assert!(served);
    }
}
