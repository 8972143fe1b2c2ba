//! A small server of static files, for this machine only.

mod site;
mod wire;

use std::fs;
use std::io::Write as _;
use std::net::TcpListener;
use std::path::Path;
use std::sync::{Arc, Mutex};
use std::thread;
use std::time::Duration;

use anyhow::{Context, Result};

use self::site::Site;
use self::wire::{CLOSES, reply};
use crate::arguments::Address;

/// The port that is tried first when none is asked for.
const USUAL_PORT: u16 = 8642;
/// The most connections at once, each of which has a thread: several times what a browser opens.
const MOST_CONNECTIONS: usize = 64;

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

    /// A thread for each connection: a browser opens several at once and keeps them, and none may wait for
    /// another.
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

#[cfg(test)]
mod tests {
    use super::*;
    use std::io::Read as _;
    use std::net::TcpStream;

    use super::site::tests::site;

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
