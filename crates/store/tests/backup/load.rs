//! A backup while four writers hammer and another attaches files.

use std::io::{BufRead, BufReader};
use std::process::{Child, Command, Stdio};

use sqlx::{ConnectOptions, Connection as _};

use crate::{Place, backup, example, restore, whole};

/// Ended with the test, however that ends.
struct Writer(Child);

impl Drop for Writer {
    fn drop(&mut self) {
        let _ = self.0.kill();
        let _ = self.0.wait();
    }
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn a_backup_under_load_is_one_moment_of_the_record() {
    for work in ["write", "attach"] {
        let place = Place::make();
        let record = place.at("shop.setwright");
        let program = if work == "write" { "hammer" } else { "copyist" };
        let writer = Command::new(example(program))
            .arg(work)
            .arg(&record)
            .arg("7")
            .stdout(Stdio::piped())
            .spawn();
        let mut writer = Writer(writer.expect("a writer"));
        let said = writer.0.stdout.take().expect("its output");
        let mut said = BufReader::new(said).lines().map_while(Result::ok);
        assert_eq!(said.by_ref().take(20).count(), 20, "it is at work");
        let counting = std::thread::spawn(move || said.count());

        let mut made = Vec::new();
        for n in 0..3 {
            let into = place.at(&format!("b{n}"));
            made.push(backup(&record, &into).await.expect("made under load"));
        }
        drop(writer);
        let meanwhile = counting.join().expect("counted");
        assert!(meanwhile > 10, "{work}: it went on writing: {meanwhile}");

        let (end, _) = whole(&record).await;
        let mut last = 0;
        for report in made {
            assert_eq!(report.faults, []);
            let head = &report.manifest.heads[0];
            assert!(head.seq > last && head.seq <= end.seq);
            last = head.seq;
            let other = place.at(&format!("other-{last}.setwright"));
            restore(&report.path, &other, false)
                .await
                .expect("restored");
            let (restored, files) = whole(&other).await;
            assert_eq!((restored.seq, &restored.hash), (head.seq, &head.hash));
            assert_eq!(report.manifest.entries, head.seq);
            let attached = report.manifest.kinds.get("file-attached").copied();
            assert_eq!(files, attached.unwrap_or(0));
            // The hash of the same entry of the record that went on fixes all before it.
            assert_eq!(hash_at(&record, head.seq).await, head.hash);
        }
        if work == "write" {
            assert!(end.seq > last, "the record has grown since");
        }
    }
}

async fn hash_at(record: &std::path::Path, seq: u64) -> String {
    let mut c = sqlx::sqlite::SqliteConnectOptions::new()
        .filename(record)
        .read_only(true)
        .connect()
        .await
        .expect("opens");
    let hash = sqlx::query_scalar("SELECT hash FROM entries WHERE seq = $1")
        .bind(i64::try_from(seq).expect("a number"))
        .fetch_one(&mut c)
        .await;
    c.close().await.expect("closes");
    hash.expect("there is such an entry")
}
