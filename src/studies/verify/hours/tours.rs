//! Exceptions that a whole tour is judged for: short haul, and the once-a-week long day.

use super::log::at;
use super::{Case, Sheet};
use crate::hours::{ShortHaulDay, TourRecord, air_miles, is_short_haul, window_of_tour};

/// Whether a day is short haul, and how far it went in air miles.
pub(super) fn short_haul(case: &Case<'_>, sheet: &mut Sheet) {
    let (inputs, expected) = (&case.json["inputs"], case.expected());
    let miles = inputs["max_distance_statute_miles"].as_f64();
    let day = ShortHaulDay {
        on_duty: at(&inputs["on_duty_min"]),
        released: at(&inputs["release_min"]),
        driving: at(&inputs["driving_min"]),
        farthest_statute_miles: miles.expect("miles"),
        returned: inputs["returned"] == true,
        rest_before: at(&inputs["rest_before_min"]),
        ready_mix_vehicle: inputs["ready_mix_vehicle"] == true,
    };
    let exception = case.rules.short_haul.as_ref().expect("a short-haul book");
    let qualifies = is_short_haul(&case.rules, exception, &day);
    sheet.yes(
        "the day is short haul",
        qualifies,
        expected["qualifies"] == true,
    );
    let needed = expected["record_of_duty_status_required"] == true;
    sheet.yes("a log is needed", !qualifies, needed);
    if let Some(miles) = expected["max_distance_air_miles"].as_f64() {
        let found = air_miles(day.farthest_statute_miles);
        sheet.near("farthest, air miles", found, miles, 0.01);
    }
}

/// Whether the long day may be used, and until when one may drive.
pub(super) fn long_day(case: &Case<'_>, sheet: &mut Sheet) {
    let (rules, inputs, expected) = (&case.rules, &case.json["inputs"], case.expected());
    let homes = inputs["last_five_tours_released_at_normal_location"].as_array();
    let mut record = TourRecord::default();
    let today = 30;
    let used = inputs["days_since_last_use"].as_i64();
    for home in homes.expect("five tours") {
        record.released(*home == true, used.map(|ago| today - ago));
    }
    if inputs["restart_34h_since_last_use"] == true {
        record.restarted();
    }
    let window = window_of_tour(
        rules,
        record.may_use_long_day(today),
        inputs["returned_to_normal_location_today"] == true,
        at(&inputs["on_duty_min"]),
        at(&inputs["release_min"]),
    );
    let window = window.expect("the book has a window");
    let usual = rules.window.as_ref().expect("a window").length;
    sheet.yes(
        "the long day may be used",
        window > usual,
        expected["eligible"] == true,
    );
    let last = at(&inputs["on_duty_min"]) + window;
    let wanted = at(&expected["last_drive_min"]);
    sheet.words("may drive until", last.to_string(), wanted.to_string());
}
