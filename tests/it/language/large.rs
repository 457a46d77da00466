//! A book far larger than anybody writes.

use std::fmt::Write as _;
use std::sync::Arc;
use std::time::{Duration, Instant};

use perpend::diagnostic::Source;
use perpend::rulebook;

/// How many facts, and how many rules a file holds.
const FACTS: usize = 100;
const A_FILE: usize = 5_000;

/// A book of so many statements, in files as large as one may be.
fn large(statements: usize) -> Vec<Arc<Source>> {
    let mut head = "rulebook \"Large\" edition 1\n\nsource common-practice\n\n".to_owned();
    for fact in 0..FACTS {
        let _ = write!(head, "fact fact-{fact} of zone, yes or no\n  ask \"What of {fact}?\"\n\n");
    }
    let mut files = vec![Source::new("head.rule", head)];
    let rules: Vec<usize> = (0..statements - FACTS - 2).collect();
    for (number, rules) in rules.chunks(A_FILE).enumerate() {
        let mut text = String::new();
        for rule in rules {
            let (one, other) = (rule % FACTS, rule / FACTS % FACTS);
            let _ = write!(
                text,
                "rule situation-{rule}\n  where fact-{one} and not fact-{other}\n  caution \"Mind {rule}.\" for crew\n  \
                 because \"It is so.\"\n  per common-practice\n\n"
            );
        }
        files.push(Source::new(format!("rules-{number}.rule"), text));
    }
    files
}

fn reads_in(statements: usize) -> Duration {
    let files = large(statements);
    let start = Instant::now();
    let (book, found) = rulebook::read(&files);
    let took = start.elapsed();
    let errors = found.iter().filter(|found| found.is_error()).count();
    assert_eq!(errors, 0, "{:?}", found.first());
    assert_eq!(book.unwrap().statement_digests.len(), statements);
    took
}

/// The most memory that this process has held, MiB, where the system tells.
fn most_memory() -> Option<u64> {
    let status = String::from_utf8(std::fs::read("/proc/self/status").ok()?).ok()?;
    let line = status.lines().find(|line| line.starts_with("VmHWM:"))?;
    Some(line.split_whitespace().nth(1)?.parse::<u64>().ok()? / 1024)
}

#[test]
fn a_book_of_two_thousand_statements_is_read() {
    reads_in(2_000);
}

#[test]
#[ignore = "takes a minute or two; .ci/run runs it"]
fn a_book_of_a_hundred_thousand_statements_is_read_in_bounded_time_and_memory() {
    let took = reads_in(100_000);
    assert!(took < Duration::from_mins(5), "{took:?}");
    if let Some(memory) = most_memory() {
        assert!(memory < 2_048, "{memory} MiB");
    }
}
