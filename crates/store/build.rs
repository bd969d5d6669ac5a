//! The migrations are part of the program: a new file among them makes a new build.

fn main() {
    println!("cargo::rerun-if-changed=migrations");
}
