//! The same day with the concrete in the drum computed.
//!
//! The mix has 589.68 lb of cement and 312 lb of water a yd³ and 6 in of slump at the bay, nobody adds water, and at 70 °F half an
//! hour of agitation takes a gallon a yd³. Down to 3½ in an inch is 0.798843 gal (mixing-water table of ACI 211.1). The drum turns
//! at 2 rpm all the time.
//!
//! - W leaves the bay at 06:36 and is looked at at 07:00: 24 min, 0.8 gal less: 6 − 1.001 = 4.999 in. 8 of its 10 yd³ are placed.
//! - The 2 yd³ left have been turned for 64 min when X leaves the bay at 07:40: 2.133 gal less, 128 revolutions. With 8 fresh yd³
//!   that is 0.2 × 2.133 = 0.427 less. At 08:05, 25 min later: 6 − (0.427 + 0.833) ÷ 0.798843 = 4.42 in, 178 revolutions of the
//!   oldest.

use super::day::{figures, scenario};
use super::{account, with};
use plantday::engine::Luck;
use plantday::observe::figure;
use plantday::plant::{Components, Event, MaterialStep, Observer, Plan, World};
use plantday::units::Millis;

const MIX: &str = "mixes: [(name: \"standard\", cement_lb: 589.68, water_lb: 312, coarse_lb: 1672.32, slump_in: 5, yard_slump_in: 6, \
                   slump_tolerance_in: 1.5, specified_psi: 3000)], meter: (sd_in: 0), moisture: (fine_sd: 0, coarse_sd: 0), \
                   on_site: (tested: 0, by_eye_in: 11, air_sd: 0, wrong_mix: 0, retemper: false)";

fn day(more: &str) -> String {
    with(&format!("{MIX}, {more}")).replace(
        "belief: FreeFlow",
        "belief: FreeFlow, yard: (read_after: Minutes(0), water_by: Nobody)",
    )
}

#[derive(Default)]
struct Steps(Vec<(String, String, MaterialStep)>);

impl Observer for Steps {
    fn event(&mut self, at: Millis, event: &Event) {
        if let Event::Material { order, step, .. } = *event {
            let order = ["W", "X"][order.at()];
            self.0.push((at.to_string(), order.into(), step));
        }
    }
}

fn steps(text: &str) -> Vec<(String, String, MaterialStep)> {
    let scenario = scenario(text);
    let mut steps = Steps::default();
    World::new(&Plan::new(&scenario)).run(0, Luck::new(1, 0), &mut steps);
    steps.0
}

#[track_caller]
fn near(found: f32, expected: f64, slack: f64) {
    assert!(
        (f64::from(found) - expected).abs() <= slack,
        "{found} for {expected}"
    );
}

/// So many yd³ of the mix: cement and water to a tenth of a pound.
#[track_caller]
fn is_yd3_of_the_mix(Components(lb): Components, yd3: f64) {
    near(lb[0], 589.68 * yd3, 0.1);
    near(lb[2], 312.0 * yd3, 0.1);
}

#[test]
fn what_is_left_in_the_drum_ages_on_under_the_next_load() {
    let text = day("age_limit_min: 120, reuse: (age_limit_min: 70)");
    let steps = steps(&text);
    let when: Vec<String> = steps
        .iter()
        .map(|(at, order, _)| format!("{at} {order}"))
        .collect();
    assert_eq!(
        when,
        [
            "06:36 W", "06:40 W", "07:00 W", "07:08 W", "07:40 X", "07:40 X", "07:44 X", "08:05 X",
            "08:13 X", "08:36 X"
        ]
    );
    use MaterialStep::{Batched, Dumped, Placed, Read, Tested, Under};
    let steps: Vec<MaterialStep> = steps.into_iter().map(|(_, _, step)| step).collect();
    let [
        Batched(first),
        Read { .. },
        Tested { slump_in: of_w, .. },
        Placed(placed_w),
        Under(under),
        Batched(fresh),
        Read { .. },
        Tested { slump_in: of_x, .. },
        Placed(placed_x),
        Dumped(left),
    ] = steps[..]
    else {
        panic!("{steps:?}");
    };
    is_yd3_of_the_mix(first, 10.0);
    is_yd3_of_the_mix(placed_w, 8.0);
    is_yd3_of_the_mix(under, 2.0);
    is_yd3_of_the_mix(fresh, 8.0);
    is_yd3_of_the_mix(placed_x, 8.0);
    is_yd3_of_the_mix(left, 2.0);
    // Component by component: batched = placed + got rid of, over the day.
    for component in 0..6 {
        let came_in = first.0[component] + fresh.0[component];
        let gone = placed_w.0[component] + placed_x.0[component] + left.0[component];
        near(came_in, f64::from(gone), 0.02);
        let stayed = first.0[component] - placed_w.0[component];
        near(stayed, f64::from(under.0[component]), 0.02);
    }
    near(of_w, 6.0 - 0.8 / 0.798_843, 0.002);
    near(
        of_x,
        6.0 - (0.2 * 64.0 / 30.0 + 25.0 / 30.0) / 0.798_843,
        0.002,
    );
    assert_eq!(account(&text), [18.0, 16.0, 0.0, 2.0, 2.0, 0.0, 1860.0]);
}

/// 65 min are too old for 64: dumped when the next load is begun, and X is all fresh: 24 min after the bay it has 4.999 in as W has.
#[test]
fn what_is_too_old_is_dumped_before_the_next_load() {
    let steps = steps(&day("age_limit_min: 120, reuse: (age_limit_min: 64)"));
    let (at, order, MaterialStep::Dumped(dumped)) = &steps[4] else {
        panic!("{steps:?}");
    };
    assert_eq!((at.as_str(), order.as_str()), ("07:35", "W"));
    is_yd3_of_the_mix(*dumped, 2.0);
    let MaterialStep::Batched(fresh) = steps[5].2 else {
        panic!("{steps:?}");
    };
    is_yd3_of_the_mix(fresh, 10.0);
    let MaterialStep::Tested { slump_in, .. } = steps[7].2 else {
        panic!("{steps:?}");
    };
    near(slump_in, 4.999, 0.002);
}

/// Age and revolutions are those of the oldest concrete: 105 min at the end of an ordinary discharge, 178 revolutions.
#[test]
fn the_oldest_concrete_decides_on_site() {
    let old = |limits: &str| {
        let text = day(&format!("{limits}, reuse: (age_limit_min: 70)"));
        figures(&text, &[figure::OLD, figure::REUSED_YD3])
    };
    assert_eq!(old("age_limit_min: 104"), [1.0, 2.0]);
    assert_eq!(old("age_limit_min: 105"), [0.0, 2.0]);
    assert_eq!(old("age_limit_min: 120, revolution_limit: 177"), [1.0, 2.0]);
    assert_eq!(old("age_limit_min: 120, revolution_limit: 179"), [0.0, 2.0]);
}
