//! A Python of the machine with packages from outside, installed for the time of a test. Where Python or a package is
//! missing, the test fails.

use std::path::Path;
use std::process::Command;

pub(crate) struct Python {
    folder: tempfile::TempDir,
}

fn run(command: &mut Command) -> String {
    let output = command.output().unwrap_or_else(|error| panic!("{command:?} cannot be run: {error}"));
    let said = String::from_utf8_lossy(&output.stderr);
    assert!(output.status.success(), "{command:?} failed: {said}");
    String::from_utf8(output.stdout).unwrap()
}

impl Python {
    /// Installs packages, each as `name==version`, into a folder that goes with the value.
    pub(crate) fn with(packages: &[&str]) -> Self {
        let python = Self { folder: tempfile::tempdir().unwrap() };
        run(Command::new("python3").args(["-m", "venv"]).arg(python.folder.path()));
        let install = ["-m", "pip", "install", "--quiet", "--disable-pip-version-check"];
        run(python.command().args(install).args(packages));
        python
    }

    fn command(&self) -> Command {
        Command::new(self.folder.path().join("bin/python"))
    }

    /// What a program prints that is told some folders.
    pub(crate) fn says(&self, program: &str, folders: &[&Path]) -> String {
        run(self.command().args(["-c", program]).args(folders))
    }
}
