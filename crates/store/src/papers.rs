//! The papers of certificates: kept with the files as they were issued, until a name on them is erased.

use shop::entry::{Body, PersonKey};

use crate::error::StoreError;
use crate::people;
use crate::sqlite::Connection;
use crate::stored::StoredEntry;

/// One that was kept.
struct Paper {
    /// Hash of its bytes.
    sha256: String,
    /// Number of the certificate.
    number: String,
    /// The customer, and who signed.
    names: Vec<PersonKey>,
}

/// Hash and name of every paper that is to be there.
pub(crate) async fn kept(c: &mut Connection) -> Result<Vec<(String, String)>, StoreError> {
    let known = people::names(c).await?;
    let all = all(c).await?.into_iter();
    let whole = all.filter(|paper| paper.names.iter().all(|key| known.contains_key(key)));
    Ok(whole.map(|paper| (paper.sha256, paper.number)).collect())
}

/// Hashes of the papers on which the name of `person` stands. One that somebody attached to a job is a file of that
/// job, and stays as any other.
pub(crate) async fn naming(
    c: &mut Connection,
    person: &PersonKey,
) -> Result<Vec<String>, StoreError> {
    let all = all(c).await?.into_iter();
    let mut naming = Vec::new();
    for paper in all.filter(|paper| paper.names.contains(person)) {
        let attached: i64 = sqlx::query_scalar(
            "SELECT count(*) FROM entries WHERE kind = 'file-attached' AND instr(body, $1) > 0",
        )
        .bind(&paper.sha256)
        .fetch_one(&mut *c)
        .await?;
        if attached == 0 {
            naming.push(paper.sha256);
        }
    }
    Ok(naming)
}

/// Whether any entry names the file with this hash.
pub(crate) async fn is_named(c: &mut Connection, sha256: &str) -> Result<bool, StoreError> {
    let named = "SELECT EXISTS (SELECT 1 FROM entries WHERE instr(body, $1) > 0)";
    let named: bool = sqlx::query_scalar(named).bind(sha256).fetch_one(c).await?;
    Ok(named)
}

async fn all(c: &mut Connection) -> Result<Vec<Paper>, StoreError> {
    let rows: Vec<StoredEntry> =
        sqlx::query_as("SELECT * FROM entries WHERE kind = $1 ORDER BY origin, seq")
            .bind("certificate-issued")
            .fetch_all(&mut *c)
            .await?;
    let mut papers = Vec::new();
    for row in rows {
        // An entry that does not read is told by the walk along the chain.
        let Ok(Body::CertificateIssued(issued)) = row.read().map(|entry| entry.body) else {
            continue;
        };
        let Some(sha256) = issued.paper else {
            continue;
        };
        let mut names = vec![issued.author];
        names.extend(issued.approver);
        names.extend(customer(c, &row.subject).await?);
        papers.push(Paper {
            sha256,
            number: issued.number,
            names,
        });
    }
    Ok(papers)
}

/// Whose tool the job is about.
async fn customer(c: &mut Connection, job: &str) -> Result<Option<PersonKey>, StoreError> {
    let row: Option<StoredEntry> =
        sqlx::query_as("SELECT * FROM entries WHERE subject = $1 AND kind = $2 LIMIT 1")
            .bind(job)
            .bind("received")
            .fetch_optional(c)
            .await?;
    let body = row.and_then(|row| row.read().ok()).map(|entry| entry.body);
    Ok(match body {
        Some(Body::Received(received)) => Some(received.customer),
        _ => None,
    })
}
