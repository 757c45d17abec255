//! The shuttle day as somebody in a hurry would write it: one loop, one heap, one `match`.

use super::fast_random::Xoshiro;
use rand_distr::{Distribution, Gamma, LogNormal};
use std::cmp::Ordering;
use std::collections::{BinaryHeap, VecDeque};

const TRUCKS: usize = 40;
const BAYS: usize = 2;
const SITES: usize = 6;

#[derive(Clone, Copy)]
enum Kind {
    Ready,
    Loaded,
    Checked,
    OnSite,
    Unloaded,
    Washed,
}

struct Next {
    at: f64,
    sequence: u64,
    kind: Kind,
    truck: usize,
}

impl PartialEq for Next {
    fn eq(&self, other: &Self) -> bool {
        self.cmp(other).is_eq()
    }
}

impl Eq for Next {}

impl PartialOrd for Next {
    fn partial_cmp(&self, other: &Self) -> Option<Ordering> {
        Some(self.cmp(other))
    }
}

impl Ord for Next {
    /// The standard heap has the largest on top: the earliest is the largest.
    fn cmp(&self, other: &Self) -> Ordering {
        other
            .at
            .total_cmp(&self.at)
            .then(other.sequence.cmp(&self.sequence))
    }
}

/// What a day came to.
pub(crate) struct Day {
    pub(crate) loads: u64,
    pub(crate) commands: u64,
}

pub(crate) struct Shuttle {
    loading: LogNormal<f64>,
    out: LogNormal<f64>,
    back: LogNormal<f64>,
    unload: Gamma<f64>,
    heap: BinaryHeap<Next>,
    bay_queue: VecDeque<usize>,
    site_queue: Vec<VecDeque<usize>>,
}

impl Shuttle {
    pub(crate) fn new() -> Self {
        let lognormal = |mean: f64, cv: f64| {
            LogNormal::from_mean_cv(mean, cv).expect("mean and cv are positive")
        };
        Self {
            loading: lognormal(6.0, 0.3),
            out: lognormal(25.0, 0.3),
            back: lognormal(22.0, 0.3),
            unload: Gamma::new(4.0, 3.0).expect("shape and scale are positive"), // mean 12, cv 0.5
            heap: BinaryHeap::new(),
            bay_queue: VecDeque::new(),
            site_queue: vec![VecDeque::new(); SITES],
        }
    }

    pub(crate) fn day(&mut self, seed: u64) -> Day {
        let mut random = Xoshiro::new(seed);
        let mut sequence = 0;
        let mut loads = 0;
        let mut bays_free = BAYS;
        let mut site_free = [true; SITES];
        let mut site_of = [0; TRUCKS];
        let mut next_site = 0;
        self.heap.clear();
        let push = |heap: &mut BinaryHeap<Next>, sequence: &mut u64, at, kind, truck| {
            *sequence += 1;
            heap.push(Next {
                at,
                sequence: *sequence,
                kind,
                truck,
            });
        };
        for truck in 0..TRUCKS {
            push(
                &mut self.heap,
                &mut sequence,
                2.0 * truck as f64,
                Kind::Ready,
                truck,
            );
        }
        while let Some(Next {
            at, kind, truck, ..
        }) = self.heap.pop()
        {
            match kind {
                Kind::Ready => {
                    if at - 2.0 * truck as f64 >= 660.0 {
                        continue;
                    }
                    site_of[truck] = next_site;
                    next_site = (next_site + 1) % SITES;
                    if bays_free > 0 {
                        bays_free -= 1;
                        let took = self.loading.sample(&mut random);
                        push(
                            &mut self.heap,
                            &mut sequence,
                            at + took,
                            Kind::Loaded,
                            truck,
                        );
                    } else {
                        self.bay_queue.push_back(truck);
                    }
                }
                Kind::Loaded => {
                    push(
                        &mut self.heap,
                        &mut sequence,
                        at + 4.0,
                        Kind::Checked,
                        truck,
                    );
                    if let Some(next) = self.bay_queue.pop_front() {
                        let took = self.loading.sample(&mut random);
                        push(&mut self.heap, &mut sequence, at + took, Kind::Loaded, next);
                    } else {
                        bays_free += 1;
                    }
                }
                Kind::Checked => {
                    let took = self.out.sample(&mut random);
                    push(
                        &mut self.heap,
                        &mut sequence,
                        at + took,
                        Kind::OnSite,
                        truck,
                    );
                }
                Kind::OnSite => {
                    let site = site_of[truck];
                    if site_free[site] {
                        site_free[site] = false;
                        let took = self.unload.sample(&mut random);
                        push(
                            &mut self.heap,
                            &mut sequence,
                            at + took,
                            Kind::Unloaded,
                            truck,
                        );
                    } else {
                        self.site_queue[site].push_back(truck);
                    }
                }
                Kind::Unloaded => {
                    loads += 1;
                    push(&mut self.heap, &mut sequence, at + 6.0, Kind::Washed, truck);
                    let site = site_of[truck];
                    if let Some(next) = self.site_queue[site].pop_front() {
                        let took = self.unload.sample(&mut random);
                        push(
                            &mut self.heap,
                            &mut sequence,
                            at + took,
                            Kind::Unloaded,
                            next,
                        );
                    } else {
                        site_free[site] = true;
                    }
                }
                Kind::Washed => {
                    let took = self.back.sample(&mut random);
                    push(&mut self.heap, &mut sequence, at + took, Kind::Ready, truck);
                }
            }
        }
        // Everything pushed has been popped.
        Day {
            loads,
            commands: sequence,
        }
    }
}
