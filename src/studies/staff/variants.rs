//! Staffings with hired haulers or part-timers that the search looks at next.

use super::{PartTime, StaffResult, Staffing, Study};

/// Ways to start and to use overtime that are tried with haulers and part-timers, beside today's.
const WAYS: usize = 1;

impl Study<'_> {
    /// Every head count asked for with each number of haulers, and of part-timers: started and kept on as today, and as in the best of
    /// what has been searched without them.
    pub(super) fn variants(&self, searched: &[StaffResult], today: Staffing) -> Vec<Staffing> {
        let way = |staffing: Staffing| (staffing.starts, staffing.overtime);
        let mut ways = vec![way(today)];
        for at in self.ranked(searched) {
            if ways.len() > WAYS {
                break;
            }
            let found = way(searched[at].staffing);
            if !ways.contains(&found) {
                ways.push(found);
            }
        }
        let mut kinds: Vec<Staffing> = Vec::new();
        if self.question.hauler.is_some() {
            let numbers = self.question.haulers.iter().copied();
            let others = numbers.filter(|haulers| *haulers != today.hired.haulers);
            kinds.extend(others.map(|haulers| self.hired(today, haulers)));
        }
        let (numbers, shift) = &self.question.part_time;
        kinds.extend(
            numbers
                .iter()
                .filter(|drivers| **drivers > 0)
                .map(|drivers| {
                    let part_time = PartTime {
                        drivers: *drivers,
                        shift: *shift,
                    };
                    Staffing { part_time, ..today }
                }),
        );
        let mut all = Vec::new();
        for (starts, overtime) in ways {
            for kind in &kinds {
                for drivers in &self.question.drivers {
                    if kind.part_time.drivers <= *drivers {
                        all.push(Staffing {
                            drivers: *drivers,
                            starts,
                            overtime,
                            ..*kind
                        });
                    }
                }
            }
        }
        all
    }
}
