//! What the desk reckons with where the rule has a yard practice of its own: the wait before the reading, HRWR that is mixed
//! in on site. The day of `on_paper.rs`: loading 6 min, check and rinse 5, out 20, back 18, due at 07:00.

use super::day::{figures, lines, loads, scenario};
use super::on_paper::{DAY, changed};
use plantday::engine::Luck;
use plantday::observe::{Log, figure};
use plantday::plant::{Event, Moment, Observer, Plan, World};
use plantday::units::Millis;

/// Twelve minutes at the rack, longer than check and rinse, and 6 in the bay: sent at 06:22, out at 06:40, on site at 07:00.
/// 144 revolutions at 12 rpm are as long. Three minutes are over before check and rinse are: sent at 06:29.
#[test]
fn who_waits_longer_at_the_rack_is_sent_earlier() {
    let after = |practice: &str| {
        let practice = format!("read_after: {practice}, water_by: Nobody");
        loads(&changed(&[("read_after: Minutes(0)", &practice)]))
    };
    let twelve = "W 1 T 06:22 06:28 06:40 07:00 +0 07:00 07:10 07:15\n";
    assert_eq!(after("Minutes(12)"), twelve);
    assert_eq!(after("Revolutions(144)"), twelve);
    assert_eq!(
        after("Minutes(3)"),
        "W 1 T 06:29 06:35 06:40 07:00 +0 07:00 07:10 07:15\n"
    );
}

/// When loads leave the rack and come on site.
#[derive(Default)]
struct Ways(Vec<String>);

impl Observer for Ways {
    fn event(&mut self, at: Millis, event: &Event) {
        match event {
            Event::BayJoined { .. } => self.0.push(format!("sent {at}")),
            Event::SiteReached { .. } => self.0.push(format!("on site {at}")),
            _ => {}
        }
    }
}

/// A look ahead reckons like the desk that it is asked at: before the send time, and while the drum turns at the rack.
#[test]
fn a_fork_sends_as_early() {
    let practice = "read_after: Minutes(12), water_by: Nobody";
    let day = scenario(&changed(&[("read_after: Minutes(0)", practice)]));
    let plan = Plan::new(&day);
    for (hour, expected) in [
        (6.0, &["sent 06:22", "on site 07:00"][..]),
        (6.6, &["on site 07:00"]),
    ] {
        let mut world = World::new(&plan);
        world.run_to(0, Luck::new(1, 0), Millis::from_hours(hour), &mut ());
        let mut fork = World::new(&plan);
        fork.fork(&Moment::new(world), Luck::new(2, 0).fork([1, 2, 3]));
        let mut ways = Ways::default();
        fork.go_on_to(Millis::from_hours(9.0), &mut ways);
        assert_eq!(ways.0, expected);
    }
}

/// The day without mixes, whatever the rule has drivers wait; the log of the desk and every figure.
fn played(practice: &str) -> (String, Vec<u32>) {
    let begins = DAY.find("    // See").expect("the day says where");
    let ends = DAY.find("    rules:").expect("the day has rules");
    let text = format!("{}{}", &DAY[..begins], &DAY[ends..]);
    assert!(!text.contains("mixes"));
    let written = "yard: (read_after: Minutes(0), most_gal_yd3: 20)";
    assert!(text.contains(written));
    let text = text.replace(written, practice);
    let scenario = scenario(&text);
    let plan = Plan::new(&scenario);
    let mut log = Log::with_desk(&scenario);
    World::new(&plan).run(0, Luck::new(1, 0), &mut log);
    let row = figures(&text, &(0..figure::COUNT).collect::<Vec<_>>());
    let bits = row.iter().map(|value| value.to_bits()).collect();
    (log.text().to_owned(), bits)
}

/// Nobody reads a slump that is not described.
#[test]
fn without_mixes_no_practice_changes_anything() {
    let plain = played("");
    assert!(plain.0.contains("06:29"), "{}", plain.0);
    for practice in [
        "yard: (read_after: Minutes(12))",
        "yard: (read_after: Revolutions(500))",
        "yard: (hrwr: OnSite)",
    ] {
        assert_eq!(played(practice), plain, "{practice}");
    }
}

/// Where a rule says nothing of the reading, the desk goes by the minutes that the rack takes, which the usual two are part of:
/// with one, it sends at 06:33, and the truck leaves the rack two minutes after 06:39. Written, the two are reckoned with.
#[test]
fn the_usual_wait_is_part_of_what_the_rack_is_known_to_take() {
    let rack = ("rack: Constant(5)", "rack: Constant(1)");
    let usual = changed(&[rack, ("read_after: Minutes(0)", "water_by: Nobody")]);
    assert_eq!(
        loads(&usual),
        "W 1 T 06:33 06:39 06:41 07:01 +1 07:01 07:11 07:16\n"
    );
    let two = "read_after: Minutes(2), water_by: Nobody";
    let written = changed(&[rack, ("read_after: Minutes(0)", two)]);
    assert_eq!(
        loads(&written),
        "W 1 T 06:32 06:38 06:40 07:00 +0 07:00 07:10 07:15\n"
    );
}

/// No truck may stand on site, so that the stay there and 18 min back must end within the driver's window. HRWR that goes in on
/// site is mixed in for 5 min 50 s from the arrival: leaving at 06:40, on site at 07:00, discharge from 07:05:50 to 07:15:50,
/// chute washed at 07:20:50, home at 07:38:50, which the window from 05:30 to 07:36 bars. With HRWR from the plant it is
/// 07:33. Where positioning takes 8 min, mixing is over before: home at 07:41 either way, within a window to 07:42.
#[test]
fn hrwr_on_site_is_mixed_in_beside_positioning() {
    let day = |hours: &str, position: &str, hrwr: &str| {
        let book = format!("rule_book: DutyWindow(hours: {hours})");
        let position = format!("position: Constant({position})");
        let hrwr = format!("read_after: Minutes(5), water_by: Nobody, hrwr: {hrwr}");
        changed(&[
            ("rule_book: \"none\"", &book),
            ("(name: \"A\")", "(name: \"A\", parking: false)"),
            ("position: Constant(0)", &position),
            ("read_after: Minutes(0)", &hrwr),
        ])
    };
    assert_eq!(
        loads(&day("2.1", "0", "AtPlant")),
        "W 1 T 06:29 06:35 06:40 07:00 +0 07:00 07:10 07:15\n"
    );
    assert_eq!(loads(&day("2.1", "0", "OnSite")), "");
    // 05:30 and 2.15 h are 07:39.
    assert_eq!(
        loads(&day("2.15", "0", "OnSite")),
        "W 1 T 06:29 06:35 06:40 07:00 +0 07:05:50 07:15:50 07:20:50\n"
    );
    for hrwr in ["AtPlant", "OnSite"] {
        assert_eq!(
            loads(&day("2.2", "8", hrwr)),
            "W 1 T 06:29 06:35 06:40 07:00 +0 07:08 07:18 07:23\n"
        );
    }
    // A mix without HRWR has nothing to mix in.
    let plain = day("2.1", "0", "OnSite").replace("hrwr_lb: 3.5384496, ", "");
    assert_eq!(lines(&plain, &["on site"]).lines().count(), 1, "{plain}");
}
