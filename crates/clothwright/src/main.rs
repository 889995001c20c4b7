//! Plans an upholstery job, from tape measures to a job pack.

mod job_file;

fn main() {
    let path = std::env::args().nth(1).unwrap_or_default();
    let text = std::fs::read_to_string(&path).unwrap_or_default();
    let read = job_file::read(&text);
    print!("{}", job_file::show(&path, &text, &read.faults));
    let plan = trade::plan::plan(&read.job, &lay::Limits::work(1, 20000));
    match plan {
        Ok(plan) => println!("{:#?}", plan.price),
        Err(faults) => print!(
            "{}",
            job_file::show(&path, &text, &job_file::place(&text, faults, &read.numbers))
        ),
    }
}
