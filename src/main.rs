//! The program: command line in, exit code out. All logic is in the library.

fn main() {
    println!("bothhands");
}
