//! What a site did not need, under the truck's next load: days without luck worked out on paper.
//!
//! One truck. Loading a minute and half a minute a yd³ (10 yd³: 6 min, 8 yd³: 5), rack 4, out 20, discharge a yd³ a minute, chute
//! wash 5, back 18. Each site needs 2 yd³ less of its 10 than were ordered.
//!
//! - W, due at 07:00, is sent at 06:30: at the rack 06:36, on site 07:00. 8 yd³ are placed by 07:08; the truck leaves at 07:13 and
//!   is back at 07:31 with 2 yd³.
//! - X, due at 08:05, is sent at 07:35, when those 2 yd³ are 65 min old. On top of them 8 yd³ are batched: at the rack 07:40, on
//!   site 08:04, a minute before the site takes it. 8 yd³ are placed by 08:13. The oldest of it is 103 min old then.
//! - Home at 08:36, 2 yd³ left: no load comes after it.
//!
//! ASTM C1798 is the specification of such use; it has no limits of age and share. Those here: common practice, no source.

mod computed;
use crate::day;
mod forks;
mod said;

use day::{figures, lines, loads, scenario};
use plantday::concrete::{ReturnedFate, Reuse};
use plantday::engine::Luck;
use plantday::observe::figure;
use plantday::plant::{Event, Observer, Plan, World};
use plantday::units::{Millis, Volume};

const DAY: &str = include_str!("returned_concrete/day.ron");

/// The day with this in its block `concrete`.
fn with(concrete: &str) -> String {
    let limit = if concrete.starts_with("age_limit_min") || concrete.contains("mixes:") {
        ""
    } else {
        "age_limit_min: None, "
    };
    DAY.replace("concrete: ()", &format!("concrete: ({limit}{concrete})"))
}

/// The day with this in `concrete`, and X of another mix, or whatever else is replaced.
fn with_and(concrete: &str, (from, to): (&str, &str)) -> String {
    let text = with(concrete);
    assert!(text.contains(from), "the day has {from:?}");
    text.replace(from, to)
}

/// Batched, placed, dumped, came back, reused, rejected; cost.
fn account(text: &str) -> [f32; 7] {
    let places = [
        figure::BATCHED_YD3,
        figure::PLACED_YD3,
        figure::DUMPED_YD3,
        figure::RETURNED_YD3,
        figure::REUSED_YD3,
        figure::REJECTED,
        figure::COST,
    ];
    let found = figures(text, &places);
    // Batched = placed + dumped + what came back and was not reused.
    assert_eq!(found[0], found[1] + found[2] + found[3]);
    found.try_into().expect("seven figures")
}

/// What became of what came back; ages at the end of discharge, min.
#[derive(Default)]
struct Heard {
    fates: Vec<(f64, ReturnedFate)>,
    ages: Vec<f64>,
}

impl Observer for Heard {
    fn event(&mut self, _: Millis, event: &Event) {
        match *event {
            Event::Returned {
                volume, age, fate, ..
            } => {
                assert_eq!(volume, Volume::from_yd3(2.0));
                self.fates.push((age.minutes(), fate));
            }
            Event::DischargeEnded { age, .. } => self.ages.push(age.minutes()),
            _ => {}
        }
    }
}

fn heard(text: &str) -> Heard {
    let scenario = scenario(text);
    let mut heard = Heard::default();
    World::new(&Plan::new(&scenario)).run(0, Luck::new(1, 0), &mut heard);
    heard
}

/// As it is without the option: each load is batched whole, 4 yd³ are got rid of. 20 × 100 + 4 × 30.
#[test]
fn without_the_option_all_that_comes_back_is_got_rid_of() {
    assert_eq!(
        loads(DAY),
        "\
W 1 T 06:30 06:36 06:40 07:00 +0 07:00 07:08 07:13
X 1 T 07:35 07:41 07:45 08:05 +0 08:05 08:13 08:18
"
    );
    assert_eq!(account(DAY), [20.0, 16.0, 0.0, 4.0, 0.0, 0.0, 2120.0]);
    let Heard { fates, ages } = heard(DAY);
    assert_eq!((fates, ages), (vec![], vec![38.0, 38.0]));
}

/// The next load of the same mix batches less, in less time, and its age runs from the old concrete. 2 yd³ less of material and of
/// disposal: 18 × 100 + 2 × 30.
#[test]
fn young_concrete_stays_under_the_next_load() {
    let text = with("reuse: (age_limit_min: 70)");
    assert_eq!(
        loads(&text),
        "\
W 1 T 06:30 06:36 06:40 07:00 +0 07:00 07:08 07:13
X 1 T 07:35 07:40 07:44 08:04 +0 08:05 08:13 08:18
"
    );
    assert_eq!(account(&text), [18.0, 16.0, 0.0, 2.0, 2.0, 0.0, 1860.0]);
    let Heard { fates, ages } = heard(&text);
    assert_eq!(ages, [38.0, 103.0]);
    // Home at 08:36, 126 min after 06:30.
    assert_eq!(
        fates,
        [(65.0, ReturnedFate::Reused), (126.0, ReturnedFate::NoLoad)]
    );
    assert_eq!(
        lines(&text, &["came back", "loaded"]),
        "\
06:36 T loaded, 10 yd³
07:35 T: 2 yd³ that came back from W stay under the next load, 65 min old
07:40 T loaded, 8 yd³
08:36 T gets rid of 2 yd³ that came back from X, 126 min old: no load comes after it
"
    );
}

/// 65 minutes are within a limit of 65, and beyond one of 64: then the day is as without the option, to the last figure.
#[test]
fn too_old_concrete_is_got_rid_of() {
    assert_eq!(account(&with("reuse: (age_limit_min: 65)"))[4], 2.0);
    let old = with("reuse: (age_limit_min: 64)");
    assert_eq!(heard(&old).fates[0], (65.0, ReturnedFate::TooOld));
    the_same_figures(&old, DAY);
    assert_eq!(
        lines(&old, &["too old"]),
        "07:35 T gets rid of 2 yd³ that came back from W, 65 min old: too old for the next load\n"
    );
}

#[test]
fn another_mix_goes_into_an_empty_drum() {
    let other = ("name: \"X\",", "name: \"X\", mix: \"grout\",");
    let text = with_and("reuse: (age_limit_min: 70)", other);
    assert_eq!(heard(&text).fates[0], (65.0, ReturnedFate::OtherMix));
    the_same_figures(&text, &DAY.replace(other.0, other.1));
}

/// 2 yd³ are a fifth of 10: a share of 0.2 lets them in, a share of 0.19 does not.
#[test]
fn too_much_concrete_is_got_rid_of() {
    let share = |share| with(&format!("reuse: (age_limit_min: 70, share: {share})"));
    assert_eq!(account(&share("0.2"))[4], 2.0);
    assert_eq!(heard(&share("0.19")).fates[0].1, ReturnedFate::TooMuch);
    the_same_figures(&share("0.19"), DAY);
}

/// 90 min to the end of discharge. Without the old concrete X would have 40; with it 08:15 − 06:30 = 105: the site turns it away at
/// 08:05, all 10 yd³ are dumped, and nothing of that is reused. The truck is back at 08:23, empty at 08:38, and X is made again
/// whole: on site at 09:08.
#[test]
fn the_age_limit_turns_away_a_load_because_of_the_old_concrete_under_it() {
    let text = with("age_limit_min: 90, reuse: (age_limit_min: 70)");
    assert_eq!(
        lines(&text, &["rejected", "emptied", "loaded", "came back"]),
        "\
06:36 T loaded, 10 yd³
07:35 T: 2 yd³ that came back from W stay under the next load, 65 min old
07:40 T loaded, 8 yd³
08:05 T rejected, 10 yd³ too old
08:38 T emptied
08:44 T loaded, 10 yd³
09:39 T gets rid of 2 yd³ that came back from X, 61 min old: no load comes after it
"
    );
    // 28 × 100 of material, 10 × 40 of the load dumped, 2 × 30 of what came back.
    assert_eq!(account(&text), [28.0, 16.0, 10.0, 2.0, 2.0, 1.0, 3260.0]);
    assert_eq!(account(&with("age_limit_min: 90"))[5], 0.0);
}

/// A third load, sent at 08:40. What comes back from X was batched at 07:35 for the most part, 65 min before, but the oldest of it
/// at 06:30.
#[test]
fn concrete_that_comes_back_twice_is_as_old_as_its_oldest() {
    let third = (
        "orders: [",
        "orders: [(name: \"Y\", site: \"A\", first: \"09:10\", volume_yd3: 10, spacing_min: 30, position: Constant(0), \
         discharge_luck: Constant(1), chute_wash: Constant(5)),",
    );
    let text = with_and("reuse: (age_limit_min: 70)", third);
    let fates = heard(&text).fates;
    assert_eq!(fates[0], (65.0, ReturnedFate::Reused));
    assert_eq!(fates[1], (130.0, ReturnedFate::TooOld));
    // An allowance of 130 min reuses it again.
    let text = with_and("reuse: (age_limit_min: 130)", third);
    assert_eq!(heard(&text).fates[1], (130.0, ReturnedFate::Reused));
    assert_eq!(account(&text)[..5], [26.0, 24.0, 0.0, 2.0, 4.0]);
}

/// What is decided at the plant where the next load is made goes by three limits, in this order.
#[test]
fn the_limits_one_by_one() {
    let reuse = Reuse {
        age_limit: Millis::from_minutes(45.0),
        share: 0.5,
    };
    let minute = Millis::MINUTE;
    let yd3 = Volume::from_yd3;
    let fate = |mix, min, back, load| reuse.fate(mix, minute * min, yd3(back), yd3(load));
    use ReturnedFate::{OtherMix, Reused, TooMuch, TooOld};
    assert_eq!(fate(true, 45, 5.0, 10.0), Reused);
    assert_eq!(fate(false, 45, 5.0, 10.0), OtherMix);
    assert_eq!(fate(true, 46, 5.0, 10.0), TooOld);
    assert_eq!(fate(true, 45, 5.001, 10.0), TooMuch);
    assert_eq!(fate(true, 45, 2.0, 3.0), TooMuch);
    assert_eq!(Reuse::USUAL, reuse);
}

/// Figure by figure, blanks included.
#[track_caller]
fn the_same_figures(one: &str, other: &str) {
    let all: Vec<usize> = (0..figure::COUNT).collect();
    let bits = |text: &str| -> Vec<u32> {
        let row = figures(text, &all);
        row.into_iter().map(f32::to_bits).collect()
    };
    assert_eq!(bits(one), bits(other));
}
