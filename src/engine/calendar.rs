//! What happens next: pending commands in order of time, then class, then the order in which they were scheduled.

use crate::units::Millis;

/// What goes first among commands of the same millisecond: lower classes first. 0 to 3; the model gives them meaning.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Class(pub u8);

const CLASS_BITS: u32 = 2;
const SEQUENCE_BITS: u32 = 30;
const SEQUENCE_END: u32 = 1 << SEQUENCE_BITS;
const TIME_END: u64 = 1 << (64 - CLASS_BITS - SEQUENCE_BITS);
/// Children per node of the heap: four keys are compared within two cache lines and the tree is half as deep as a binary one.
const ARITY: usize = 4;

/// Time (32 bits), class (2), sequence (30) in one number, so that one comparison decides the order.
#[derive(Clone, Copy, Debug)]
struct Entry<C> {
    key: u64,
    command: C,
}

/// Pending commands, earliest first; ties by [`Class`], then first scheduled first.
///
/// Moments run from [`Millis::ZERO`] to just under 2^32 ms (49 days 17 hours). After warm-up it allocates nothing.
///
/// A 4-ary heap. [`pop`](Self::pop) leaves the top as a hole, which the next [`schedule`](Self::schedule) fills on its
/// way down, so the usual pair "take one, schedule one" costs one pass through the heap instead of two.
#[derive(Debug)]
pub struct Calendar<C> {
    entries: Vec<Entry<C>>,
    /// The first entry has been taken and its place not yet filled.
    hole: bool,
    sequence: u32,
    now: Millis,
}

impl<C: Copy> Calendar<C> {
    /// An empty calendar at time zero.
    pub fn new() -> Self {
        Self::with_capacity(0)
    }

    /// An empty calendar with room for `capacity` pending commands.
    pub fn with_capacity(capacity: usize) -> Self {
        Self {
            entries: Vec::with_capacity(capacity),
            hole: false,
            sequence: 0,
            now: Millis::ZERO,
        }
    }

    /// Back to an empty calendar at time zero; keeps its memory.
    pub fn clear(&mut self) {
        self.entries.clear();
        self.hole = false;
        self.sequence = 0;
        self.now = Millis::ZERO;
    }

    /// Lets `command` come up at `at`, after everything already scheduled for the same moment and class.
    ///
    /// # Panics
    /// If `at` lies outside 0 ≤ `at` < 2^32 ms. Scheduling before [`now`](Self::now), or a class above 3, is a bug of
    /// the model, caught in debug builds.
    #[inline]
    pub fn schedule(&mut self, at: Millis, class: Class, command: C) {
        debug_assert!(
            at >= self.now,
            "scheduled at {at}, which is before now, {}",
            self.now
        );
        debug_assert!(class.0 < 1 << CLASS_BITS, "class {} is above 3", class.0);
        let time = at.0 as u64;
        assert!(
            time < TIME_END,
            "a command can be scheduled from 0 to 2^32 ms"
        );
        if self.sequence == SEQUENCE_END {
            self.renumber();
        }
        let order = u64::from(class.0 & 3) << SEQUENCE_BITS | u64::from(self.sequence);
        let entry = Entry {
            key: time << (CLASS_BITS + SEQUENCE_BITS) | order,
            command,
        };
        self.sequence += 1;
        if self.hole {
            self.hole = false;
            self.sink(entry);
        } else {
            self.rise(entry);
        }
    }

    /// Takes the next command and moves [`now`](Self::now) to its time.
    #[inline]
    pub fn pop(&mut self) -> Option<(Millis, C)> {
        if self.hole {
            self.fill_hole();
        }
        let next = *self.entries.first()?;
        self.hole = true;
        self.now = moment(next.key);
        Some((self.now, next.command))
    }

    /// When the next command comes up.
    #[inline]
    pub fn peek_time(&self) -> Option<Millis> {
        let first = if self.hole {
            let children = self.entries.iter().take(ARITY + 1).skip(1);
            children.map(|entry| entry.key).min()?
        } else {
            self.entries.first()?.key
        };
        Some(moment(first))
    }

    /// The time of the command taken last; zero before the first.
    #[inline]
    pub fn now(&self) -> Millis {
        self.now
    }

    /// Commands pending.
    #[inline]
    pub fn len(&self) -> usize {
        self.entries.len() - usize::from(self.hole)
    }

    /// Whether nothing is pending.
    #[inline]
    pub fn is_empty(&self) -> bool {
        self.len() == 0
    }

    /// Everything pending, in the order in which it would come up. Sorts a copy: for forks and tests, not for the loop.
    pub fn pending(&self) -> Vec<(Millis, Class, C)> {
        let mut entries = self.entries[usize::from(self.hole)..].to_vec();
        entries.sort_unstable_by_key(|entry| entry.key);
        let unpack = |entry: &Entry<C>| {
            let class = (entry.key >> SEQUENCE_BITS) as u8 & 3;
            (moment(entry.key), Class(class), entry.command)
        };
        entries.iter().map(unpack).collect()
    }

    /// Moves the last entry into the hole at the top.
    fn fill_hole(&mut self) {
        self.hole = false;
        let last = self.entries.pop().expect("a hole is an entry");
        if !self.entries.is_empty() {
            self.sink(last);
        }
    }

    /// Puts `entry` at the top, whose own entry is no longer needed, and lets it sink to its level.
    #[inline]
    fn sink(&mut self, entry: Entry<C>) {
        let entries = &mut self.entries[..];
        let mut at = 0;
        loop {
            let first = ARITY * at + 1;
            let (least, key) = match entries.get(first..first + ARITY) {
                Some(children) => {
                    let left = earlier((0, children[0].key), (1, children[1].key));
                    let right = earlier((2, children[2].key), (3, children[3].key));
                    let (child, key) = earlier(left, right);
                    (first + child, key)
                }
                None => {
                    let children = entries.iter().enumerate().skip(first);
                    let keys = children.map(|(child, entry)| (child, entry.key));
                    match keys.min_by_key(|&(_, key)| key) {
                        Some(least) => least,
                        None => break,
                    }
                }
            };
            if entry.key < key {
                break;
            }
            entries[at] = entries[least];
            at = least;
        }
        entries[at] = entry;
    }

    /// Appends `entry` and lets it rise to its level.
    #[inline]
    fn rise(&mut self, entry: Entry<C>) {
        let mut at = self.entries.len();
        self.entries.push(entry);
        let entries = &mut self.entries[..];
        while at > 0 {
            let parent = (at - 1) / ARITY;
            if entries[parent].key < entry.key {
                break;
            }
            entries[at] = entries[parent];
            at = parent;
        }
        entries[at] = entry;
    }

    /// Gives the pending entries the lowest sequence numbers, order kept, so that a run may schedule without end.
    #[cold]
    fn renumber(&mut self) {
        if self.hole {
            self.fill_hole();
        }
        // Sorted entries are a valid heap.
        self.entries.sort_unstable_by_key(|entry| entry.key);
        let pending = u32::try_from(self.entries.len()).ok();
        self.sequence = pending
            .filter(|&count| count < SEQUENCE_END)
            .expect("fewer than 2^30 commands pending at once");
        for (sequence, entry) in (0..).zip(&mut self.entries) {
            entry.key = entry.key >> SEQUENCE_BITS << SEQUENCE_BITS | sequence;
        }
    }
}

impl<C: Copy> Default for Calendar<C> {
    fn default() -> Self {
        Self::new()
    }
}

impl<C: Copy> Clone for Calendar<C> {
    fn clone(&self) -> Self {
        Self {
            entries: self.entries.clone(),
            ..*self
        }
    }

    /// Copies into the memory that this calendar already has.
    fn clone_from(&mut self, source: &Self) {
        self.entries.clone_from(&source.entries);
        self.hole = source.hole;
        self.sequence = source.sequence;
        self.now = source.now;
    }
}

#[inline]
fn moment(key: u64) -> Millis {
    Millis((key >> (CLASS_BITS + SEQUENCE_BITS)) as i64)
}

/// Written so that it compiles to conditional moves: which child is earliest cannot be predicted.
#[inline]
fn earlier(a: (usize, u64), b: (usize, u64)) -> (usize, u64) {
    if b.1 < a.1 { b } else { a }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn drain<C: Copy>(calendar: &mut Calendar<C>) -> Vec<(i64, C)> {
        std::iter::from_fn(|| calendar.pop().map(|(at, command)| (at.0, command))).collect()
    }

    #[test]
    fn time_then_class_then_first_scheduled_first() {
        let mut calendar = Calendar::new();
        let scheduled = [
            (5, 3, "ask"),
            (5, 0, "finish 1"),
            (4, 2, "report"),
            (5, 0, "finish 2"),
            (5, 1, "arrive"),
            (0, 3, "start"),
            (5, 0, "finish 3"),
        ];
        for (at, class, command) in scheduled {
            calendar.schedule(Millis(at), Class(class), command);
        }
        assert_eq!(calendar.peek_time(), Some(Millis(0)));
        let order: Vec<_> = calendar.pending().iter().map(|entry| entry.2).collect();
        let expected = [
            "start", "report", "finish 1", "finish 2", "finish 3", "arrive", "ask",
        ];
        assert_eq!(order, expected);
        let popped: Vec<_> = drain(&mut calendar).iter().map(|entry| entry.1).collect();
        assert_eq!(popped, expected);
        assert!(calendar.is_empty() && calendar.pop().is_none());
        assert_eq!(calendar.now(), Millis(5));
    }

    #[test]
    fn clearing_goes_back_to_time_zero() {
        let mut calendar = Calendar::with_capacity(2);
        calendar.schedule(Millis(9), Class(0), 'a');
        calendar.pop();
        calendar.clear();
        assert_eq!((calendar.len(), calendar.now()), (0, Millis::ZERO));
        calendar.schedule(Millis(1), Class(0), 'b');
        assert_eq!(calendar.pop(), Some((Millis(1), 'b')));
    }

    #[test]
    fn the_last_moment_fits_and_the_one_after_is_refused() {
        let mut calendar = Calendar::new();
        let last = Millis((1 << 32) - 1);
        calendar.schedule(last, Class(3), ());
        assert_eq!(calendar.pop(), Some((last, ())));
        let beyond = std::panic::catch_unwind(move || {
            calendar.schedule(Millis(1 << 32), Class(0), ());
        });
        assert!(beyond.is_err());
    }

    #[test]
    fn running_out_of_sequence_numbers_keeps_the_order() {
        let mut calendar = Calendar::new();
        calendar.sequence = SEQUENCE_END - 5;
        for command in 0..5 {
            calendar.schedule(Millis(7), Class(1), command);
        }
        assert_eq!(calendar.pop(), Some((Millis(7), 0)));
        for command in 5..8 {
            calendar.schedule(Millis(7), Class(1), command);
        }
        assert!(calendar.sequence < 10, "numbers start again");
        let order: Vec<_> = drain(&mut calendar).iter().map(|entry| entry.1).collect();
        assert_eq!(order, [1, 2, 3, 4, 5, 6, 7]);
    }

    proptest! {
        /// Against a list kept sorted by (time, class, order of scheduling), with takes and copies in between.
        #[test]
        fn agrees_with_a_sorted_list(steps in prop::collection::vec((0_i64..40, 0_u8..4, 0_u8..5), 1..400)) {
            let mut calendar = Calendar::new();
            let mut list: Vec<(i64, u8, usize)> = Vec::new();
            for (number, (delay, class, action)) in steps.into_iter().enumerate() {
                if action < 2 {
                    let expected = (!list.is_empty()).then(|| list.remove(0));
                    let popped = calendar.pop();
                    prop_assert_eq!(popped, expected.map(|entry| (Millis(entry.0), entry.2)));
                } else {
                    let at = calendar.now().0 + delay;
                    calendar.schedule(Millis(at), Class(class), number);
                    list.push((at, class, number));
                    list.sort();
                }
                if action == 4 {
                    let mut copy = Calendar::new();
                    copy.clone_from(&calendar);
                    calendar = copy;
                }
                prop_assert_eq!(calendar.len(), list.len());
                prop_assert_eq!(calendar.peek_time(), list.first().map(|entry| Millis(entry.0)));
            }
            let rest: Vec<_> = list.iter().map(|entry| (entry.0, entry.2)).collect();
            prop_assert_eq!(drain(&mut calendar), rest);
        }
    }
}
