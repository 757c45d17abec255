//! Replications: the same rows whatever the threads, the range or the moment of interruption.
//! No published source: these are the project's own promises.

use std::num::NonZeroUsize;
use std::sync::atomic::{AtomicBool, AtomicUsize, Ordering};

use plantday::montecarlo::{Progress, Rows, Trial, run};

/// Rows that look random but are a function of case and replication; a replication takes uneven time.
#[derive(Default)]
struct Hashes {
    workers: AtomicUsize,
}

impl Trial for Hashes {
    type Worker = u64;

    fn worker(&self) -> u64 {
        self.workers.fetch_add(1, Ordering::Relaxed);
        0
    }

    fn cases(&self) -> usize {
        3
    }

    fn width(&self) -> usize {
        4
    }

    fn run(&self, used: &mut u64, case: usize, replication: u64, row: &mut [f32]) {
        *used += 1;
        let mut state = replication * 3 + case as u64;
        for _ in 0..=(replication % 7) * 500 {
            state = state
                .wrapping_mul(6_364_136_223_846_793_005)
                .wrapping_add(1_442_695_040_888_963_407);
        }
        for (column, figure) in row.iter_mut().enumerate() {
            *figure = (state >> (8 * column)) as u16 as f32;
        }
    }
}

fn rows(replications: std::ops::Range<u64>, threads: usize) -> Rows {
    let trial = Hashes::default();
    let rows = run(
        &trial,
        replications,
        NonZeroUsize::new(threads),
        &|_| {},
        &AtomicBool::new(false),
    );
    assert!(trial.workers.into_inner() <= threads.max(1));
    rows
}

#[test]
fn any_number_of_threads_gives_the_same_rows() {
    let one = rows(0..100, 1);
    assert_eq!(one.len(), 100);
    assert_eq!(one, rows(0..100, 2));
    assert_eq!(one, rows(0..100, 5));
}

#[test]
fn each_row_is_its_own_case_and_replication() {
    let all = rows(10..60, 3);
    let trial = Hashes::default();
    for replication in 10..60 {
        for case in 0..3 {
            let mut expected = [0.0; 4];
            trial.run(&mut 0, case, replication, &mut expected);
            assert_eq!(all.row(case, replication), expected);
        }
    }
    let column: Vec<f64> = all.values(1, 2).collect();
    assert_eq!(column.len(), 50);
    assert_eq!(column[7], f64::from(all.row(1, 17)[2]));
}

#[test]
fn a_short_run_is_the_beginning_of_a_long_one() {
    let (mut short, long) = (rows(0..30, 2), rows(0..100, 2));
    for replication in 0..30 {
        for case in 0..3 {
            assert_eq!(short.row(case, replication), long.row(case, replication));
        }
    }
    short.extend(rows(30..100, 2));
    assert_eq!(short, long);
}

#[test]
fn a_stopped_run_keeps_the_first_replications_without_a_hole() {
    for threads in [1, 2, 5] {
        let stop = AtomicBool::new(false);
        let stop_after_twenty = |progress: Progress| {
            assert_eq!(progress.total, 1000);
            if progress.done >= 20 {
                stop.store(true, Ordering::Relaxed);
            }
        };
        let stopped = run(
            &Hashes::default(),
            0..1000,
            NonZeroUsize::new(threads),
            &stop_after_twenty,
            &stop,
        );
        let kept = stopped.len();
        assert!((20..20 + threads).contains(&kept), "{kept} with {threads}");
        assert_eq!(stopped, rows(0..kept as u64, 1));
    }
}

#[test]
fn nothing_asked_or_stopped_at_once_is_an_empty_run() {
    assert!(rows(5..5, 2).is_empty());
    let stopped = run(
        &Hashes::default(),
        0..10,
        None,
        &|_| {},
        &AtomicBool::new(true),
    );
    assert!(stopped.is_empty());
    assert_eq!(stopped.replications(), 0..0);
    assert_eq!(stopped.values(0, 0).len(), 0);
}

#[test]
fn progress_reaches_the_total() {
    let most = AtomicUsize::new(0);
    run(
        &Hashes::default(),
        0..40,
        NonZeroUsize::new(2),
        &|progress| {
            most.fetch_max(progress.done as usize, Ordering::Relaxed);
        },
        &AtomicBool::new(false),
    );
    assert_eq!(most.into_inner(), 40);
}
