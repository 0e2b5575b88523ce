//! For benchmarks: the program as it is shipped, serving a file or a database.

#![allow(dead_code, reason = "each benchmark uses what it needs")]

use std::io::{BufRead, BufReader};
use std::path::Path;
use std::process::{Child, Command, Stdio};

/// The program, serving. It ends with the value.
pub(crate) struct Program {
    pub(crate) child: Child,
    pub(crate) port: u16,
}

impl Program {
    /// Serves this file or database on a free port of this machine.
    pub(crate) fn start(data: &str) -> Self {
        Self::start_other(Path::new(env!("CARGO_BIN_EXE_witnessmark")), data)
    }

    /// The same with the program that lies there, such as an older one.
    pub(crate) fn start_other(program: &Path, data: &str) -> Self {
        let mut child = Command::new(program)
            .args(["serve", "--data", data, "--listen", "127.0.0.1:0"])
            .stdout(Stdio::piped())
            .spawn()
            .unwrap();
        let mut said = BufReader::new(child.stdout.take().unwrap()).lines().map_while(Result::ok);
        let port = said
            .find_map(|line| line.split("http://127.0.0.1:").nth(1)?.split('/').next()?.parse().ok())
            .expect("it says where it serves");
        Self { child, port }
    }
}

impl Drop for Program {
    fn drop(&mut self) {
        let _ = self.child.kill();
        let _ = self.child.wait();
    }
}
