//! The calculations against general-purpose numerical libraries: `crosscheck/crosscheck.py` draws, they compute.
#![allow(clippy::expect_used)]

use std::path::Path;
use std::process::Command;

#[test]
fn general_purpose_libraries_agree() {
    let script = Path::new(concat!(env!("CARGO_MANIFEST_DIR"), "/../tests/crosscheck/crosscheck.py"));
    // Beside the build, where tests/run.sh installs it.
    let python = Path::new(env!("CARGO_TARGET_TMPDIR")).with_file_name("crosscheck").join("bin/python");
    assert!(
        python.exists(),
        "{} is missing: tests/run.sh installs SciPy and others there, which this check needs",
        python.display()
    );
    let output = Command::new(&python)
        .arg("-B")
        .arg(script)
        .arg(env!("CARGO_BIN_EXE_sparkout"))
        .output()
        .expect("Python starts");
    let told = String::from_utf8_lossy(&output.stdout);
    let errors = String::from_utf8_lossy(&output.stderr);
    assert!(output.status.success(), "{told}{errors}");
    // An empty run would agree as well.
    assert!(told.lines().filter(|line| line.starts_with("ok ")).count() >= 20, "{told}");
}
