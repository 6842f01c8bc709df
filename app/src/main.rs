//! The one binary.

fn main() -> std::process::ExitCode {
    sparkout::cli::run()
}
