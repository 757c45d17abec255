//! Roads as a network: first in, first out; quickest legal ways; hills, traffic, bridges, incidents, against published values
//! and by independent arithmetic.

use crate::day;
mod random_network;

use allocation_counter::measure;
use day::{loads, scenario};
use plantday::engine::{Luck, Spread};
use plantday::observe::Figures;
use plantday::plant::{Plan, World};
use plantday::roads::{Belief, Haul, IncidentData, RoadState, Roads, bpr_factor, crawl_mph};
use plantday::units::{Millis, PlaceId};
use proptest::prelude::*;
use random_network::{Random, line, link, random};

const HERE: PlaceId = PlaceId(0);
const THERE: PlaceId = PlaceId(1);
const TEN_MINUTES: Millis = Millis(600_000);

fn minutes(minutes: i64) -> Millis {
    Millis::MINUTE * minutes
}

fn near(found: f64, expected: f64, tolerance: f64) {
    assert!(
        (found - expected).abs() <= tolerance,
        "{found} for {expected} ± {tolerance}"
    );
}

fn state_of(roads: &Roads, seed: u64, days: usize) -> RoadState {
    let mut state = RoadState::default();
    roads.refresh(&mut state, Luck::new(seed, 0), days);
    state
}

/// Bureau of Public Roads, Traffic Assignment Manual (1964), as in FHWA, "Delay-Volume Relations", ch. 4: t = t0 (1 + 0.15
/// (v/c)^4); a 30-minute trip at v/c 1.1 takes 36.58845 min.
#[test]
fn volumes_become_minutes_by_the_bpr_function() {
    near(bpr_factor(0.8), 1.061_44, 1e-9);
    near(bpr_factor(1.0), 1.15, 1e-9);
    near(bpr_factor(1.2), 1.311_04, 1e-9);
    near(30.0 * bpr_factor(1.1), 36.588_45, 1e-9);
    let text = PAPER
        .replace(
            "links: [",
            "profiles: [(name: \"busy\", days: [(volume_over_capacity: [(\"00:00\", 1.1)])])], links: [",
        )
        .replace("miles: 10, mph: 60", "miles: 30, mph: 60, profile: \"busy\"");
    let scenario = scenario(&text);
    let network = scenario.roads.network.expect("a network");
    near(
        network.profiles[0].days[0].factors[0].1,
        36.588_45 / 30.0,
        1e-9,
    );
}

/// Power balance: 375 lb·mph to the hp, 85 % at the wheels, 1 % rolling resistance. At 200 lb/hp 22.77 mph on 6 %, 39.84 on 3 %
/// (computed); within 10 % of the AASHTO green book's curves for that truck: about 37, 30, 25, 22, 19, 17 mph on 3 to 8 % (from
/// memory).
#[test]
fn loaded_trucks_crawl_as_power_and_weight_allow() {
    near(crawl_mph(200.0, 1.0, 0.06), 22.767_857, 1e-6);
    near(crawl_mph(200.0, 1.0, 0.03), 39.843_75, 1e-6);
    for (percent, curve) in (3..).zip([37.0, 30.0, 25.0, 22.0, 19.0, 17.0]) {
        let crawl = crawl_mph(66_500.0, 332.5, f64::from(percent) / 100.0);
        near(crawl / curve, 1.0, 0.1);
    }
    assert_eq!(crawl_mph(66_500.0, 400.0, -0.01), f64::INFINITY);
}

/// One truck over a hill and a bridge. The hill: 5 miles at 60 miles an hour, 9 %: 375 × 0.85 × 400 ÷ (63,750 × 0.10) = 20
/// miles an hour loaded, 15 min; 5 min down. The bridge road: 10 min either way; the bridge is up 06:45 to 07:00. Loading 6,
/// rack 4, discharge 10, chute wash 5.
const PAPER: &str = r#"(
    name: "paper network",
    rule_book: "none",
    company: (promise_horizon_min: 0),
    plants: [(name: "P", hours: [(open: "05:00", close: "17:00")], loading: Constant(6), rack: Constant(4))],
    sites: [(name: "A", at: (6, 8))],
    roads: Network(
        junctions: ["Foot"],
        links: [
            (name: "Hill", from: "P", to: "Foot", miles: 5, mph: 60, grade_percent: 9),
            (name: "Bridge", from: "Foot", to: "A", miles: 10, mph: 60, lifts: [(from: "06:45", to: "07:00")]),
        ],
        truck: (loaded_lb: 63750, hp: 400),
        straight_line_mph: 60,
    ),
    trucks: [(name: "T", home: "P")],
    drivers: [(name: "D", trucks: "T", report: "05:30")],
    orders: [(name: "W", site: "A", first: "07:00", volume_yd3: 30, spacing_min: 75,
        position: Constant(0), discharge_luck: Constant(1), chute_wash: Constant(5))],
    yard: (pre_trip: Constant(15), washout: Constant(12), post_trip: Constant(8)),
    rules: [(name: "R", belief: FreeFlow)],
)"#;

/// Free flow is 25 min, so the first load leaves at 06:35, is over the hill at 06:50 and waits at the bridge until 07:00. Later
/// loads find it down: 25 min out, 15 back.
#[test]
fn a_bridge_makes_the_load_wait_until_its_lift_ends() {
    assert_eq!(
        loads(PAPER),
        "\
W 1 T 06:25 06:31 06:35 07:10 +10 07:10 07:20 07:25
W 2 T 07:40 07:46 07:50 08:15 +0 08:15 08:25 08:30
W 3 T 08:55 09:01 09:05 09:30 +0 09:30 09:40 09:45
"
    );
}

/// Who knows the lifts reckons 35 min for a trip that begins at 06:35 and sends ten minutes earlier: the truck is over the bridge
/// before the lift and waits on site. Back at 07:40, the next load is in time as before.
#[test]
fn who_knows_the_lifts_sends_before_them() {
    for belief in ["TimeOfDay", "TimeOfDay(quantile: 0.9)", "Live"] {
        let text = PAPER.replace("belief: FreeFlow", &format!("belief: {belief}"));
        assert_eq!(
            loads(&text),
            "\
W 1 T 06:15 06:21 06:25 06:50 +0 07:00 07:10 07:15
W 2 T 07:40 07:46 07:50 08:15 +0 08:15 08:25 08:30
W 3 T 08:55 09:01 09:05 09:30 +0 09:30 09:40 09:45
",
            "{belief}"
        );
    }
}

/// On the map the site is 10 miles away, 10 min at 60 miles an hour; the way over the hill takes 25. Each load is sent 15 min
/// late. The first comes to the bridge at 07:05, after the lift.
#[test]
fn a_desk_that_measures_on_the_map_is_late_by_detour_and_hill() {
    let text = PAPER.replace("belief: FreeFlow", "belief: StraightLine");
    assert_eq!(
        loads(&text),
        "\
W 1 T 06:40 06:46 06:50 07:15 +15 07:15 07:25 07:30
W 2 T 07:55 08:01 08:05 08:30 +15 08:30 08:40 08:45
W 3 T 09:10 09:16 09:20 09:45 +15 09:45 09:55 10:00
"
    );
}

/// A flat way round of 20 miles at 60 miles an hour, closed to loaded trucks 06:00 to 07:30. The hill way takes 25 min loaded,
/// the way round 20: the first load, leaving at 06:35, goes over the hill; the second, at 07:55, round it. The way back is
/// always over the hill, 15 min. With a weight limit of 60,000 lb the way round is for empty trucks only.
#[test]
fn loaded_trucks_keep_to_what_is_open_to_them() {
    let round = |more: &str| {
        let link = format!("(name: \"Round\", from: \"P\", to: \"A\", miles: 20, mph: 60{more}),");
        let text = PAPER.replace("(name: \"Hill\"", &format!("{link} (name: \"Hill\""));
        let text = text.replace(", lifts: [(from: \"06:45\", to: \"07:00\")]", "");
        text.replace("FreeFlow", "TimeOfDay")
    };
    let banned = round(", closed_to_loaded: [(from: \"06:00\", to: \"07:30\")]");
    assert_eq!(
        loads(&banned),
        "\
W 1 T 06:25 06:31 06:35 07:00 +0 07:00 07:10 07:15
W 2 T 07:45 07:51 07:55 08:15 +0 08:15 08:25 08:30
W 3 T 09:00 09:06 09:10 09:30 +0 09:30 09:40 09:45
"
    );
    let limited = round(", weight_limit_lb: 60000");
    assert_eq!(
        loads(&limited),
        "\
W 1 T 06:25 06:31 06:35 07:00 +0 07:00 07:10 07:15
W 2 T 07:40 07:46 07:50 08:15 +0 08:15 08:25 08:30
W 3 T 08:55 09:01 09:05 09:30 +0 09:30 09:40 09:45
"
    );
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(48))]

    /// Who departs later never arrives earlier: over one link and over a line of links, with the same luck, whatever the
    /// profiles, day factors, incidents, lifts, bans and weigh stations. Three days and a week's corner are looked at, every
    /// 47 s, and one millisecond after each.
    #[test]
    fn who_departs_later_never_arrives_earlier(seed in any::<u64>(), count in 1_usize..6, u in 0.01_f64..0.99) {
        let data = line(&mut Random::new(seed), count);
        let roads = Roads::network(&data);
        let state = state_of(&roads, seed, 9);
        let live = roads.believe(Belief::Live);
        let usual = roads.believe(Belief::TimeOfDay { quantile: Some(0.8) });
        let noon = roads.at(&state, Millis::HOUR * 12);
        for haul in Haul::BOTH {
            let arrivals = |depart: Millis| [
                depart + noon.trip(HERE, THERE, haul, depart, u),
                depart + noon.believed(usual, HERE, THERE, haul, depart),
                depart + noon.believed(live, HERE, THERE, haul, depart),
            ];
            for span in [(0, 26), (158, 172)] {
                let mut last = [Millis::ZERO; 3];
                let mut depart = Millis::HOUR * span.0;
                while depart < Millis::HOUR * span.1 {
                    for at in [depart, depart + Millis(1)] {
                        let now = arrivals(at);
                        prop_assert!(
                            now.iter().zip(&last).all(|(now, last)| now >= last),
                            "{haul:?} departing {}: {now:?} after {last:?}", at.0
                        );
                        prop_assert!(now.iter().all(|arrival| *arrival >= at));
                        last = now;
                    }
                    depart += Millis(47_000);
                }
            }
        }
    }

    /// At the hour the way taken is the quickest of all simple paths, each driven second by second by arithmetic of its own; in
    /// between it is no quicker than the quickest, and within its weight limits at all times.
    #[test]
    fn the_quickest_legal_way_is_taken(seed in any::<u64>()) {
        let mut data = random(&mut Random::new(seed), 6, 12);
        data.links.iter_mut().for_each(|link| link.weigh_station = None);
        let roads = Roads::network(&data);
        let state = state_of(&roads, seed, 9);
        let usual = roads.believe(Belief::TimeOfDay { quantile: None });
        for haul in Haul::BOTH {
            for depart in (0..24).map(|k| minutes(60 * k * 7)).chain((0..12).map(|k| minutes(37 + 811 * k))) {
                let found = roads.at(&state, depart).believed(usual, HERE, THERE, haul, depart);
                let best = random_network::quickest(&data, haul, depart);
                match best {
                    None => prop_assert_eq!(found, Millis::NEVER),
                    Some(best) if depart.0 % Millis::HOUR.0 == 0 => {
                        prop_assert!((found - best).0.abs() <= 8, "{haul:?} {depart}: {found} for {best}");
                    }
                    Some(best) => prop_assert!(found >= best - Millis(8), "{haul:?} {depart}: {found} below {best}"),
                }
            }
        }
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(48))]

    /// The way taken past weigh stations is the one that is taken where they take no time, and what they take is in its minutes.
    #[test]
    fn no_weigh_station_changes_the_way(seed in any::<u64>()) {
        let data = random(&mut Random::new(seed), 6, 14);
        let mut free = data.clone();
        free.links.iter_mut().for_each(|link| link.weigh_station = None);
        let (roads, other) = (Roads::network(&data), Roads::network(&free));
        let (state, other_state) = (state_of(&roads, seed, 9), state_of(&other, seed, 9));
        let belief = roads.believe(Belief::TimeOfDay { quantile: None });
        for haul in Haul::BOTH {
            for depart in (0..24).map(|k| minutes(53 + 60 * k * 7)) {
                prop_assert_eq!(roads.miles(HERE, THERE, haul, depart), other.miles(HERE, THERE, haul, depart));
                let with = roads.at(&state, depart).believed(belief, HERE, THERE, haul, depart);
                let without = other.at(&other_state, depart).believed(belief, HERE, THERE, haul, depart);
                prop_assert!(with >= without, "{haul:?} {depart}: {with} past the stations, {without} without");
            }
        }
    }

    /// Trips by the usual traffic that are told again are what driving them link by link gives, at every corner of the hour, whatever
    /// was asked before.
    #[test]
    fn what_is_told_again_is_what_driving_gives(seed in any::<u64>(), start in 0..10_080_000_i64, step in 1_000..400_000_i64) {
        let mut data = random(&mut Random::new(seed), 6, 12);
        // with one incident in a thousand years, every answer with what holds the trip up is worked out anew
        data.links[0].incidents = Some(IncidentData { per_day: 1e-6, minutes: Spread::Constant(1.0), factor: 1.5 });
        let roads = Roads::network(&data);
        let state = state_of(&roads, seed, 9);
        for quantile in [None, Some(0.8)] {
            let usual = roads.believe(Belief::TimeOfDay { quantile });
            for depart in (0..800).flat_map(|k| [start + k * step, start + k * step + 1, start + 5_000]) {
                let depart = Millis(depart);
                let now = roads.at(&state, depart);
                for haul in Haul::BOTH {
                    let told = now.believed(usual, HERE, THERE, haul, depart);
                    prop_assert_eq!(told, now.believed_with_delays(usual, HERE, THERE, haul, depart).0, "departing {}", depart);
                }
            }
        }
    }

    /// No trip is believed to take less than the least that is told of it, whenever it begins and whatever is believed; what is told
    /// is no empty promise where nothing but the hour may change.
    #[test]
    fn no_trip_is_believed_shorter_than_the_least_told(seed in any::<u64>()) {
        let data = random(&mut Random::new(seed), 6, 14);
        let roads = Roads::network(&data);
        let state = state_of(&roads, seed, 9);
        let beliefs = [None, Some(0.05), Some(0.5), Some(0.95)].map(|quantile| Belief::TimeOfDay { quantile });
        for belief in beliefs.into_iter().chain([Belief::StraightLine, Belief::FreeFlow, Belief::Live]) {
            let believed = roads.believe(belief);
            for haul in Haul::BOTH {
                let least = roads.at(&state, Millis::ZERO).believed_at_least(believed, HERE, THERE, haul);
                let trips = (0..24 * 7).map(|k| {
                    let depart = minutes(17 + 61 * k);
                    roads.at(&state, depart).believed(believed, HERE, THERE, haul, depart)
                });
                let shortest = trips.min().expect("some");
                prop_assert!(least <= shortest, "{belief:?} {haul:?}: {shortest}, at least {least}");
                if matches!(belief, Belief::StraightLine | Belief::FreeFlow) {
                    prop_assert_eq!(least, shortest);
                }
            }
        }
    }

    /// The way round weigh stations is the way that would be taken if the links with one were not there, and exists where that does:
    /// minutes, beliefs and miles.
    #[test]
    fn the_way_round_is_the_way_without_those_links(seed in any::<u64>(), u in 0.01_f64..0.99) {
        let mut data = random(&mut Random::new(seed), 6, 14);
        data.ways_round = true;
        let mut without = data.clone();
        without.ways_round = false;
        without.links.retain(|link| link.weigh_station.is_none());
        // Luck of incidents and of areas belongs to a link's name or place: none here, so that both networks have the same.
        for data in [&mut data, &mut without] {
            data.links.iter_mut().for_each(|link| link.incidents = None);
        }
        let (roads, other) = (Roads::network(&data), Roads::network(&without));
        let (state, other_state) = (state_of(&roads, seed, 9), state_of(&other, seed, 9));
        let belief = roads.believe(Belief::TimeOfDay { quantile: Some(0.8) });
        for depart in (0..24).map(|k| minutes(53 + 60 * k * 7)) {
            let (now, then) = (roads.at(&state, depart), other.at(&other_state, depart));
            let expected = then.believed(belief, HERE, THERE, Haul::Loaded, depart);
            prop_assert_eq!(now.believed_round(belief, HERE, THERE, depart), expected);
            if expected == Millis::NEVER {
                prop_assert!(!roads.can_go_round(HERE, THERE, depart));
                continue;
            }
            prop_assert_eq!(
                roads.can_go_round(HERE, THERE, depart),
                roads.weighed(HERE, THERE, Haul::Loaded, depart)
            );
            prop_assert_eq!(
                now.trip_round(HERE, THERE, depart, u),
                then.trip(HERE, THERE, Haul::Loaded, depart, u)
            );
            let miles = other.miles(HERE, THERE, Haul::Loaded, depart).expect("a network has miles");
            near(roads.miles_round(HERE, THERE, depart), miles, 1e-9);
        }
    }
}

/// An incident that is there is known, one that will come is not: 20 minutes of road, incidents of exactly 30 minutes that make
/// it four times longer. Ten minutes in, 20 are still to come: they are worth 5, and the other 15 follow: 35.
#[test]
fn live_conditions_are_those_of_now() {
    let mut data = line(&mut Random::new(1), 0);
    data.links = vec![link("Road", 0, 1, 20.0)];
    data.links[0].incidents = Some(plantday::roads::IncidentData {
        per_day: 2.0,
        minutes: Spread::Constant(30.0),
        factor: 4.0,
    });
    let roads = Roads::network(&data);
    let state = state_of(&roads, 3, 9);
    let live = roads.believe(Belief::Live);
    let single: Vec<_> = state
        .incidents(0)
        .iter()
        .filter(|(start, end)| *end - *start == minutes(30))
        .collect();
    assert!(single.len() >= 3, "nine days have some incidents");
    for (start, end) in single {
        let believed = |now: Millis, depart: Millis| {
            roads
                .at(&state, now)
                .believed(live, HERE, THERE, Haul::Empty, depart)
        };
        let at = *start + TEN_MINUTES;
        near(believed(at, at).minutes(), 35.0, 1e-4);
        near(believed(*start - Millis(1), *start).minutes(), 20.0, 1e-4);
        near(believed(*end, *end).minutes(), 20.0, 1e-4);
        let trip = roads
            .at(&state, at)
            .trip(HERE, THERE, Haul::Empty, *start, 0.5);
        near(trip.minutes(), 42.5, 1e-4);
    }
}

/// The share of time with an incident is that of an M/G/∞ queue not being empty, 1 − e^(−load) (any textbook of queues; load =
/// rate × mean length, whatever the spread); day factors have the mean of their spread, are shared in an area and differ
/// between days and areas.
#[test]
fn incidents_and_days_are_as_often_as_they_say() {
    let mut data = line(&mut Random::new(1), 0);
    data.links = vec![link("Road", 0, 1, 10.0), link("Back", 1, 0, 10.0)];
    data.links[0].incidents = Some(plantday::roads::IncidentData {
        per_day: 18.0,
        minutes: Spread::Lognormal {
            mean: 40.0,
            cv: 0.8,
        },
        factor: 3.0,
    });
    data.areas = vec!["north".into(), "south".into()];
    data.day_luck = Spread::Lognormal { mean: 1.1, cv: 0.2 };
    data.links[1].area = Some(1);
    let roads = Roads::network(&data);
    let mut state = RoadState::default();
    let mut shares = Vec::new();
    let mut factors = Vec::new();
    for replication in 0..400 {
        roads.refresh(&mut state, Luck::new(5, replication), 6);
        let (from, to) = (Millis::DAY, Millis::DAY * 6);
        let busy: i64 = state
            .incidents(0)
            .iter()
            .map(|(start, end)| ((*end).min(to) - (*start).max(from)).0.max(0))
            .sum();
        shares.push(busy as f64 / (to - from).0 as f64);
        for day in 0..6 {
            let depart = Millis::midnight(day) + minutes(60);
            let back = roads
                .at(&state, depart)
                .trip(THERE, HERE, Haul::Empty, depart, 0.5);
            factors.push(back.minutes() / 10.0);
        }
    }
    agrees(&shares, 1.0 - (-0.5_f64).exp());
    agrees(&factors, 1.1);
    assert!(
        factors.windows(2).all(|pair| pair[0] != pair[1]),
        "each day has its own"
    );
    // The belief of the hour holds the mean of incidents: 1 + (3 − 1) × 0.3935.
    let usual = roads.believe(Belief::TimeOfDay { quantile: None });
    let believed =
        roads
            .at(&state, Millis::ZERO)
            .believed(usual, HERE, THERE, Haul::Empty, Millis::ZERO);
    near(
        believed.minutes(),
        10.0 * 1.1 * (1.0 + 2.0 * 0.393_469),
        1e-3,
    );
}

/// Within 3.5 standard errors.
fn agrees(values: &[f64], expected: f64) {
    let n = values.len() as f64;
    let mean = values.iter().sum::<f64>() / n;
    let variance = values.iter().map(|x| (x - mean) * (x - mean)).sum::<f64>() / (n - 1.0);
    let error = (variance / n).sqrt();
    assert!(
        (mean - expected).abs() <= 3.5 * error,
        "{mean} ± {error} for {expected}"
    );
}

/// Luck hangs on names: a link more, listed first, leaves the days of all others as they were.
#[test]
fn a_new_link_shakes_nobody_else() {
    let mut data = random(&mut Random::new(8), 6, 12);
    for link in &mut data.links {
        link.incidents = Some(plantday::roads::IncidentData {
            per_day: 3.0,
            minutes: Spread::Exponential { mean: 20.0 },
            factor: 2.0,
        });
    }
    let before = state_of(&Roads::network(&data), 4, 5);
    let mut more = link("New road", 2, 3, 5.0);
    more.incidents = data.links[0].incidents.clone();
    data.links.insert(0, more);
    let after = state_of(&Roads::network(&data), 4, 5);
    for position in 1..data.links.len() {
        assert_eq!(before.incidents(position - 1), after.incidents(position));
    }
    assert_ne!(after.incidents(0), after.incidents(1));
}

/// A weigh station of 4 minutes, open to 14:00: who comes then loses them, who comes just after closing waits for what stands
/// there, who comes later drives by.
#[test]
fn a_weigh_station_costs_its_minutes_while_it_is_open() {
    let text = PAPER.replace(
        "lifts: [(from: \"06:45\", to: \"07:00\")]",
        "weigh_station: (hours: [(from: \"06:00\", to: \"14:00\")], minutes: 4)",
    );
    let plan = Plan::new(&scenario(&text));
    let state = RoadState::default();
    for (depart, expected) in [(345, 10), (350, 14), (829, 14), (832, 12), (840, 10)] {
        let trip = plan.roads().at(&state, Millis::ZERO).trip(
            THERE,
            HERE,
            Haul::Empty,
            minutes(depart + 10),
            0.5,
        );
        assert_eq!(trip, minutes(expected + 5), "{depart}");
    }
}

#[test]
fn the_second_run_over_a_network_allocates_nothing() {
    let text = PAPER
        .replace("mph: 60, lifts", "mph: 60, area: \"east\", incidents: (per_day: 20, minutes: Lognormal(mean: 20, cv: 1), factor: 2), lifts")
        .replace("truck: (", "day_luck: Lognormal(mean: 1, cv: 0.2), luck: Lognormal(mean: 1, cv: 0.1), truck: (")
        .replace("belief: FreeFlow", "belief: Live");
    let scenario = scenario(&text);
    let plan = Plan::new(&scenario);
    let mut world = World::new(&plan);
    let mut figures = Figures::new(&plan, &scenario.money);
    let mut play = |replication| {
        figures.begin();
        world.run(0, Luck::new(1, replication), &mut figures);
    };
    assert!(
        measure(|| play(7)).count_total > 0,
        "the first run makes room"
    );
    play(8);
    assert_eq!(measure(|| play(7)).count_total, 0);
}

/// Each problem at its place, with the nearest name.
#[test]
fn what_is_wrong_in_a_network_is_said_at_its_place() {
    for (from, to, words) in [
        (
            "from: \"Foot\"",
            "from: \"Fot\"",
            &[
                "there is no plant, site or junction \"Fot\"",
                "nearest: [\"\\\"Foot",
            ][..],
        ),
        (
            "roads: Network(",
            "roads: Netwrk(",
            &["unknown form of roads `Netwrk`", "nearest: [\"Network\"]"],
        ),
        (
            "junctions: [\"Foot\"]",
            "junctions: [\"Foot\", \"A\"]",
            &["\"A\" exists already"],
        ),
        (
            "to: \"A\", miles: 10",
            "to: \"Foot\", miles: 10",
            &["from \"Foot\" to itself"],
        ),
        (
            "miles: 10, mph: 60",
            "miles: 10, mph: 60, both_ways: false",
            &["no legal way leads an empty truck from \"A\" to \"P\""],
        ),
        (
            "miles: 10, mph: 60",
            "miles: 10, mph: 60, weight_limit_lb: 50000",
            &["no legal way leads a loaded truck from \"P\" to \"A\""],
        ),
        (
            "miles: 10, mph: 60",
            "miles: 10, mph: 60, profile: \"rush\"",
            &["there is no congestion profile \"rush\""],
        ),
        (
            "(from: \"06:45\", to: \"07:00\")",
            "(from: \"06:45\", to: \"06:00\")",
            &["end before they begin"],
        ),
        (
            "name: \"Bridge\"",
            "name: \"Hill\"",
            &["the link \"Hill\" exists already"],
        ),
        (
            "mph: 60, lifts",
            "mph: 60, lift",
            &["unknown field `lift`", "nearest: [\"lifts\"]"],
        ),
    ] {
        assert!(PAPER.contains(from), "{from}");
        let faults = match plantday::scenario::parse("paper.ron", &PAPER.replace(from, to)) {
            Ok(_) => panic!("{to} is taken"),
            Err(faults) => faults.problems,
        };
        let nearest = faults.iter().filter_map(|fault| fault.suggestion.as_ref());
        let nearest: Vec<&str> = nearest.map(|nearest| nearest.text.as_str()).collect();
        let faults = format!("{} (nearest: {nearest:?})", faults[0].title);
        for word in words {
            assert!(faults.contains(word), "{to}: {faults}");
        }
    }
}

/// A road of 10 miles with a weigh station of 3 minutes, open from 06:00 to 18:00, and one of 12 miles beside it, both at 60 miles an
/// hour. Every truck stands in the station: 13 min, which the desk and the driver who know the hours reckon with. Without the road
/// beside it the day is the same; with a closed station it takes 10.
#[test]
fn nobody_goes_round_a_weigh_station_for_its_minutes() {
    let text = PAPER
        .replace(
            "(name: \"Bridge\", from: \"Foot\", to: \"A\", miles: 10, mph: 60, lifts: [(from: \"06:45\", to: \"07:00\")]),",
            "(name: \"Scale road\", from: \"Foot\", to: \"A\", miles: 10, mph: 60, \
             weigh_station: (hours: [(from: \"06:00\", to: \"18:00\")], minutes: 3)), \
             (name: \"Old road\", from: \"Foot\", to: \"A\", miles: 12, mph: 60),",
        )
        .replace("FreeFlow", "TimeOfDay");
    let alone = text.replace(
        " (name: \"Old road\", from: \"Foot\", to: \"A\", miles: 12, mph: 60),",
        "",
    );
    assert_ne!(text, alone);
    // 15 min up the hill, 13 to the site; 13 and 5 back.
    let day = "\
W 1 T 06:22 06:28 06:32 07:00 +0 07:00 07:10 07:15
W 2 T 07:37 07:43 07:47 08:15 +0 08:15 08:25 08:30
W 3 T 08:52 08:58 09:02 09:30 +0 09:30 09:40 09:45
";
    assert_eq!(loads(&text), day);
    assert_eq!(loads(&alone), day);
    let closed = loads(&text.replace(
        "from: \"06:00\", to: \"18:00\"",
        "from: \"18:00\", to: \"19:00\"",
    ));
    assert!(
        closed.starts_with("W 1 T 06:25 06:31 06:35 07:00 +0"),
        "{closed}"
    );
    // What the other road would spare is said: 12 min instead of 13.
    let spared = |text: &str| {
        let plan = Plan::new(&scenario(text));
        plan.roads().most_spared_round(HERE, [THERE].into_iter())
    };
    assert_eq!(spared(&text), Some((THERE, minutes(1))));
    assert_eq!(spared(&alone), None);
    assert_eq!(spared(&text.replace("minutes: 3", "minutes: 2")), None);
}
