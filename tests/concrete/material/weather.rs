//! Temperature of air and concrete, and hot weather.

use super::near;
use plantday::concrete::{AirTemperature, HotWeather, concrete_f, day_warmer_f, hot_weather};
use plantday::units::Millis;

#[test]
fn a_day_is_warmest_in_the_afternoon() {
    let day = AirTemperature::Daily {
        mean_f: 70.0,
        swing_f: 10.0,
        warmest_h: 15.0,
    };
    let at = |hours: f64| day.at(Millis::from_hours(hours));
    near(at(15.0), 80.0, 1e-9);
    near(at(3.0), 60.0, 1e-9);
    near(at(9.0), 70.0, 1e-9);
    near(at(39.0), at(15.0), 1e-9);
    // z(0.841345) = 1: one standard deviation warmer, all day.
    let warm = day.warmer(day_warmer_f(4.0, 0.841_344_746));
    near(warm.at(Millis::from_hours(3.0)), 64.0, 1e-4);
    near(AirTemperature::Steady(50.0).at(Millis::HOUR), 50.0, 0.0);
}

/// A. Al-Saleh, Int. J. Structural and Civil Engineering Research 5(1), 2016: 5 °C of air give 2.2 °C of concrete.
#[test]
fn concrete_follows_the_air_by_less_than_half() {
    let rise_c = (concrete_f(79.0, 72.0) - concrete_f(70.0, 72.0)) / 1.8;
    near(rise_c, 2.2, 1e-9);
    near(concrete_f(70.0, 72.0), 72.0, 0.0);
}

/// Limits of ACI 301-20 and ACI 305.1-14.
#[test]
fn hot_weather_asks_for_care() {
    assert_eq!(hot_weather(79.9), HotWeather::Usual);
    assert_eq!(hot_weather(95.0), HotWeather::Caution);
    assert_eq!(hot_weather(95.1), HotWeather::TooHot);
}
