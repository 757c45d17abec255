//! Replications: the same rows whatever the threads, the range or the moment of interruption.
//! No published source: these are the project's own promises.

use std::num::NonZeroUsize;
use std::sync::atomic::{AtomicBool, AtomicU64, AtomicUsize, Ordering};

use crate::shelf::Memory;
use plantday::Watch;
use plantday::montecarlo::{Besides, Journal, Progress, Rows, Run, Trial, run, run_on};
use std::time::Duration;

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
        Watch::default(),
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
            assert_eq!(all.row(case, replication)[..], expected);
        }
    }
    let column: Vec<f64> = all.values(1, 2).collect();
    assert_eq!(column.len(), 50);
    assert_eq!(column[7], f64::from(all.row(1, 17)[2]));
}

#[test]
fn a_short_run_is_the_beginning_of_a_long_one() {
    let (short, long) = (rows(0..30, 2), rows(0..100, 2));
    for replication in 0..30 {
        for case in 0..3 {
            assert_eq!(short.row(case, replication), long.row(case, replication));
        }
    }
    let trial = Hashes::default();
    let gone_on = run_on(&trial, short, 0..100, None, Run::unkept(), Watch::default());
    assert_eq!(gone_on, long);
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
            Watch::new(&stop_after_twenty, &stop),
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
        Watch::new(&|_| {}, &AtomicBool::new(true)),
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
        Watch {
            progress: &|progress| {
                most.fetch_max(progress.done as usize, Ordering::Relaxed);
            },
            ..Watch::default()
        },
    );
    assert_eq!(most.into_inner(), 40);
}

/// A replication of uneven length in many steps; what workers add up besides is the sum of the first figures.
#[derive(Default)]
struct Stepwise {
    kept: AtomicU64,
}

impl Trial for Stepwise {
    /// What the replication under way comes to.
    type Worker = u64;

    fn worker(&self) -> u64 {
        0
    }

    fn cases(&self) -> usize {
        2
    }

    fn width(&self) -> usize {
        1
    }

    fn run(&self, sum: &mut u64, case: usize, replication: u64, row: &mut [f32]) {
        self.run_in_steps(sum, case, replication, row, &mut |_| true);
    }

    fn run_in_steps(
        &self,
        sum: &mut u64,
        case: usize,
        replication: u64,
        row: &mut [f32],
        step: &mut dyn FnMut(u64) -> bool,
    ) -> bool {
        for done in 0..=(replication * 7 + 3) % 11 {
            std::thread::yield_now();
            if !step(done * 1_000 / 11) {
                return false;
            }
        }
        let figure = replication * 2 + case as u64;
        *sum += figure;
        row[0] = figure as f32;
        true
    }

    fn besides(&self) -> Option<&dyn Besides<u64>> {
        Some(self)
    }
}

impl Besides<u64> for Stepwise {
    fn keep(&self, sum: &mut u64, _: u64) {
        self.kept.fetch_add(std::mem::take(sum), Ordering::Relaxed);
    }

    fn take_over(&self, _: &mut u64) {}

    fn sums(&self) -> Vec<u8> {
        self.kept.load(Ordering::Relaxed).to_le_bytes().into()
    }

    fn add_sums(&self, bytes: &[u8], _: u64) -> Option<()> {
        let more = u64::from_le_bytes(bytes.try_into().ok()?);
        self.kept.fetch_add(more, Ordering::Relaxed);
        Some(())
    }
}

#[test]
fn what_is_broken_off_leaves_no_hole_and_no_trace() {
    for threads in [1, 2, 5] {
        for steps in [1, 20, 50, 171, 500] {
            let (stop, told) = (AtomicBool::new(false), AtomicUsize::new(0));
            let stop_after_steps = |progress: Progress| {
                assert!(progress.under_way <= 1_000 * threads as u64);
                if told.fetch_add(1, Ordering::Relaxed) + 1 >= steps {
                    stop.store(true, Ordering::Relaxed);
                }
            };
            let trial = Stepwise::default();
            let threads = NonZeroUsize::new(threads);
            let stopped = run(
                &trial,
                0..1_000,
                threads,
                Watch::new(&stop_after_steps, &stop),
            );
            let kept = stopped.len() as u64;
            let told = told.into_inner();
            assert!(kept < 1_000 && told >= steps, "{kept} kept, {told} told");
            let all = 0..2 * kept;
            assert_eq!(trial.kept.into_inner(), all.sum::<u64>(), "{kept} kept");
            for replication in 0..kept {
                for case in 0..2 {
                    let figure = (replication * 2 + case as u64) as f32;
                    assert_eq!(stopped.row(case, replication)[..], [figure]);
                }
            }
        }
    }
}

/// As [`Stepwise`], but workers hand over what they have added up when they are asked for it.
#[derive(Default)]
struct HandedOver {
    sum: AtomicU64,
}

impl Trial for HandedOver {
    type Worker = u64;

    fn worker(&self) -> u64 {
        0
    }

    fn cases(&self) -> usize {
        1
    }

    fn width(&self) -> usize {
        1
    }

    fn run(&self, sum: &mut u64, _: usize, replication: u64, row: &mut [f32]) {
        std::thread::sleep(Duration::from_micros(200));
        *sum += replication;
        row[0] = replication as f32;
    }

    fn besides(&self) -> Option<&dyn Besides<u64>> {
        Some(self)
    }
}

impl Besides<u64> for HandedOver {
    fn take_over(&self, sum: &mut u64) {
        self.sum.fetch_add(std::mem::take(sum), Ordering::Relaxed);
    }

    fn sums(&self) -> Vec<u8> {
        self.sum.load(Ordering::Relaxed).to_le_bytes().into()
    }

    fn add_sums(&self, bytes: &[u8], _: u64) -> Option<()> {
        let more = u64::from_le_bytes(bytes.try_into().ok()?);
        self.sum.fetch_add(more, Ordering::Relaxed);
        Some(())
    }
}

/// A study of three runs, of which the third is as long as the second tells; and what they have added up.
fn three_runs(threads: usize, watch: Watch<'_>) -> (Vec<Rows>, Vec<u64>) {
    let trials = [(); 3].map(|()| HandedOver::default());
    let threads = NonZeroUsize::new(threads);
    let mut all = Vec::new();
    let mut next = 0..60;
    for trial in &trials {
        let rows = run(trial, next.clone(), threads, watch);
        next = next.end..next.end + 1 + rows.values(0, 0).sum::<f64>() as u64 % 50;
        all.push(rows);
    }
    let sums = trials.map(|trial| trial.sum.into_inner());
    (all, sums.to_vec())
}

/// Each time that something is kept a kill may follow.
#[test]
fn runs_go_on_from_wherever_they_were_kept() {
    let never = AtomicBool::new(false);
    let whole = three_runs(2, Watch::default());
    for (rows, sum) in whole.0.iter().zip(&whole.1) {
        assert_eq!(rows.values(0, 0).sum::<f64>(), *sum as f64);
    }
    for threads in [1, 2, 7] {
        let shelf = Memory::default();
        let journal = Journal::new(&shelf, Duration::ZERO, &never);
        let watch = Watch::default().keeping(Some(&journal));
        assert_eq!(three_runs(threads, watch), whole);
        let times = shelf.times();
        assert!(times.len() > 6, "kept {} times", times.len());
        assert_eq!(times.last().map(|time| time.len()), Some(3));
        for time in times {
            let count = time.len() as u64;
            let shelf = Memory::of(time);
            let journal = Journal::new(&shelf, Duration::from_secs(3_600), &never);
            let watch = Watch::default().keeping(Some(&journal));
            assert_eq!(three_runs(3, watch), whole);
            assert_eq!(shelf.taken_up(), count);
        }
    }
}

#[test]
fn what_is_done_at_once_is_not_kept() {
    let never = AtomicBool::new(false);
    let shelf = Memory::default();
    let journal = Journal::new(&shelf, Duration::from_secs(3_600), &never);
    three_runs(2, Watch::default().keeping(Some(&journal)));
    assert!(shelf.times().is_empty(), "it takes no hour");
}

/// Whoever stops it has what was done kept, of the runs that were finished as well, and nothing of those that come after.
#[test]
fn a_stopped_study_keeps_what_it_has_done() {
    for most in [10, 70] {
        let (stop, told) = (AtomicBool::new(false), AtomicUsize::new(0));
        let progress = |_| {
            if told.fetch_add(1, Ordering::Relaxed) + 1 >= most {
                stop.store(true, Ordering::Relaxed);
            }
        };
        let shelf = Memory::default();
        let journal = Journal::new(&shelf, Duration::from_secs(3_600), &stop);
        let watch = Watch::new(&progress, &stop).keeping(Some(&journal));
        let (rows, _) = three_runs(2, watch);
        // Another, which somebody makes to sum up.
        run(&HandedOver::default(), 0..5, None, watch.to_the_end());
        journal.keep_all();
        let done = rows.iter().filter(|rows| !rows.is_empty()).count();
        let time = shelf.times().pop().expect("it is kept");
        assert_eq!(time.keys().copied().collect::<Vec<u64>>(), [1, 2][..done]);
    }
}

/// What is of another run, or damaged, is told and made again; the others are taken up.
#[test]
fn what_was_kept_of_another_run_is_made_again() {
    let never = AtomicBool::new(false);
    let whole = three_runs(2, Watch::default());
    let shelf = Memory::default();
    let journal = Journal::new(&shelf, Duration::ZERO, &never);
    let keeping = Watch::default().keeping(Some(&journal));
    three_runs(2, keeping);
    let standing = shelf.times().pop().expect("it is kept");
    let of_another = standing[&1].clone();
    let mut damaged = standing[&2].clone();
    let middle = damaged.len() / 2;
    damaged[middle] ^= 1;
    for useless in [of_another, damaged] {
        let mut standing = standing.clone();
        standing.insert(2, useless);
        let shelf = Memory::of(standing);
        let journal = Journal::new(&shelf, Duration::from_secs(3_600), &never);
        let watch = Watch::default().keeping(Some(&journal));
        assert_eq!(three_runs(3, watch), whole);
        assert_eq!((shelf.refused(), shelf.taken_up()), (vec![2], 2));
    }
}
