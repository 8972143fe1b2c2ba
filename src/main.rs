//! `meltmargin`: one JSON request a line on standard input, one JSON reply a line on standard output.

use std::io::{self, BufRead, Write};

fn main() -> io::Result<()> {
    let mut output = io::BufWriter::new(io::stdout().lock());
    for line in io::stdin().lock().split(b'\n') {
        let line = line?;
        output.write_all(meltmargin::contract::answer_json_line(&line).as_bytes())?;
        output.write_all(b"\n")?;
        output.flush()?;
    }
    Ok(())
}
