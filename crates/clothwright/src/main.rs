//! Plans an upholstery job, from tape measures to a job pack.

fn main() -> std::process::ExitCode {
    clothwright::cli::run()
}
