//! Roads.

use super::Source::{Off, Practice};
use super::defaults;
use crate::engine::Spread;
use crate::roads::RoadTruck;

const TRUCK: RoadTruck = RoadTruck::USUAL;

defaults! {
    TRIP_LUCK: Spread = Spread::Constant(1.0), "roads.luck", "times the usual minutes",
        "trips that take longer or shorter (20% to 35% either way is usual)", Off;
    TRAFFIC: () = (), "roads.traffic", "", "traffic by weekday and hour", Off;
    STRAIGHT_LINE_MPH: f64 = 35.0, "roads.straight_line_mph", "miles an hour",
        "speed that a desk believes which measures on the map", Practice("");
    DAY_LUCK: Spread = Spread::Constant(1.0), "roads.day_luck", "times the usual minutes", "days with more or less traffic in an area", Off;
    GRADE_PERCENT: f64 = 0.0, "roads.links.grade_percent", "%", "grade of a link", Off;
    ROAD_LOADED_LB: f64 = TRUCK.loaded_lb, "roads.truck.loaded_lb", "lb", "loaded truck that climbs a grade",
        Practice("10 yd³ at 4,050 lb on 26,000 lb");
    ROAD_EMPTY_LB: f64 = TRUCK.empty_lb, "roads.truck.empty_lb", "lb", "empty truck that climbs a grade",
        Practice("26,000 to 30,000 lb are usual");
    ROAD_HP: f64 = TRUCK.hp, "roads.truck.hp", "hp", "engine of the truck that climbs a grade", Practice("");
}
