//! The program as a user starts it, on a store that a test keeps.

use std::io::{BufRead, BufReader};
use std::path::{Path, PathBuf};
use std::process::{Child, Command, Output, Stdio};

pub const BINARY: &str = env!("CARGO_BIN_EXE_setwright");

/// A running server; it is killed with the test.
pub struct Program {
    child: Child,
    /// `127.0.0.1:PORT`.
    pub address: String,
    pub store: PathBuf,
    _folder: Option<tempfile::TempDir>,
}

impl Program {
    /// An empty shop with the demo's sheets.
    pub fn start() -> Self {
        let folder = tempfile::tempdir().expect("a folder");
        let store = folder.path().join("shop.setwright");
        let sheets = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../sheets/demo");
        let paths = [
            "models",
            "fasteners",
            "nose-sets",
            "gauges",
            "rigs",
            "faults.toml",
            "shop.toml",
        ];
        let paths: Vec<PathBuf> = paths.iter().map(|p| sheets.join(p)).collect();
        let mut load = vec!["sheets".into(), "load".into(), "--by".into(), "Ansa".into()];
        load.extend(paths.iter().map(|p| p.as_os_str().to_owned()));
        load.extend(["--store".into(), store.clone().into_os_string()]);
        let loaded = Command::new(BINARY).args(load).output().expect("runs");
        assert!(loaded.status.success(), "{}", text(&loaded));
        let mut program = Self::serve(&store, "");
        program._folder = Some(folder);
        program
    }

    /// Serves `store`; `limits` goes before the program in a shell, such as `ulimit -f 100;`.
    pub fn serve(store: &Path, limits: &str) -> Self {
        Self::serve_with(store, limits, &[])
    }

    /// The same with more options.
    pub fn serve_with(store: &Path, limits: &str, options: &[&str]) -> Self {
        let mut command = Command::new("bash");
        let script = format!("{limits} exec \"$0\" serve --port 0 --store \"$@\"");
        command
            .args(["-c", &script, BINARY])
            .arg(store)
            .args(options);
        let mut child = command.stdout(Stdio::piped()).spawn().expect("starts");
        let stdout = child.stdout.take().expect("piped");
        let mut lines = BufReader::new(stdout).lines().map_while(Result::ok);
        let address = lines.find_map(|line| {
            let at = line.find("http://")? + "http://".len();
            let rest = line[at..].split('/').next()?;
            Some(rest.to_owned())
        });
        // Keeps the pipe open: a program that cannot print would stop.
        std::thread::spawn(move || lines.for_each(drop));
        Self {
            child,
            address: address.expect("the program says its address"),
            store: store.to_owned(),
            _folder: None,
        }
    }

    /// The same server, holding on to the folder of an earlier one.
    pub fn adopt(mut self, earlier: &mut Self) -> Self {
        self._folder = earlier._folder.take();
        self
    }

    /// The most memory that it has held so far, MB.
    pub fn peak_mb(&self) -> f64 {
        peak_mb(self.child.id())
    }

    /// SIGKILL: no chance to tidy up.
    pub fn kill(&mut self) {
        self.child.kill().expect("kills");
        self.child.wait().expect("ends");
    }
}

impl Drop for Program {
    fn drop(&mut self) {
        self.child.kill().ok();
        self.child.wait().ok();
    }
}

/// The most memory that a process has held so far, MB, as Linux tells it.
pub fn peak_mb(process: u32) -> f64 {
    let told = std::fs::read_to_string(format!("/proc/{process}/status")).expect("it runs");
    let peak = told.lines().find_map(|line| line.strip_prefix("VmHWM:"));
    let kb = peak.and_then(|rest| rest.split_whitespace().next());
    kb.and_then(|kb| kb.parse::<f64>().ok()).expect("a number") / 1000.0
}

/// `setwright ARGUMENTS --store STORE`.
pub fn run(arguments: &[&str], store: &Path) -> Output {
    let mut command = Command::new(BINARY);
    command.args(arguments).arg("--store").arg(store);
    command.output().expect("runs")
}

pub fn text(output: &Output) -> String {
    let both = [output.stdout.as_slice(), &output.stderr].concat();
    String::from_utf8_lossy(&both).into_owned()
}
