//! The program: calls `cli` and maps its answer to an exit code.

fn main() {}
