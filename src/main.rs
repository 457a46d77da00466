//! The program: calls `cli` and maps its answer to an exit code.

use std::process::ExitCode;

use mimalloc::MiMalloc;

#[global_allocator]
static ALLOCATOR: MiMalloc = MiMalloc;

fn main() -> ExitCode {
    ExitCode::from(perpend::cli::run(std::env::args_os()).code())
}
