//! `meltmargin`: one JSON request a line on standard input, one JSON reply a line on standard output.

use std::io::{self, BufRead, Read as _, Write};
use std::process::ExitCode;

use meltmargin::contract::{LONGEST_LINE, answer_json_line, refuse_long_line};

/// What a shell shows of a program whose reader went away: 128, and 13 for SIGPIPE (POSIX).
const READER_WENT_AWAY: u8 = 141;

fn main() -> ExitCode {
    match answer_lines(&mut io::stdin().lock(), &mut io::BufWriter::new(io::stdout().lock())) {
        Ok(()) => ExitCode::SUCCESS,
        // Such as `meltmargin | head`: whoever read has enough.
        Err(error) if error.kind() == io::ErrorKind::BrokenPipe => ExitCode::from(READER_WENT_AWAY),
        Err(error) => {
            // Where this cannot be told either, the exit code says it.
            let _ = writeln!(io::stderr(), "meltmargin: {error}");
            ExitCode::FAILURE
        }
    }
}

/// What some editors put at the start of a file: it is no part of the first line.
const BYTE_ORDER_MARK: &[u8] = b"\xef\xbb\xbf";

/// Answers every line; of one that is too long, no more than what may be is kept in memory.
fn answer_lines(input: &mut impl BufRead, output: &mut impl Write) -> io::Result<()> {
    let mut line = Vec::new();
    if input.fill_buf()?.starts_with(BYTE_ORDER_MARK) {
        input.consume(BYTE_ORDER_MARK.len());
    }
    loop {
        line.clear();
        let most = LONGEST_LINE as u64 + 1;
        if input.by_ref().take(most).read_until(b'\n', &mut line)? == 0 {
            return Ok(());
        }
        let ended = line.pop_if(|last| *last == b'\n').is_some();
        let reply = if line.len() <= LONGEST_LINE {
            answer_json_line(&line)
        } else {
            if !ended {
                input.skip_until(b'\n')?;
            }
            refuse_long_line()
        };
        output.write_all(reply.as_bytes())?;
        output.write_all(b"\n")?;
        output.flush()?;
    }
}
