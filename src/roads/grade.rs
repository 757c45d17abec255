//! How a truck's weight and power tell on the road.

/// Whether a truck runs full or empty.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Haul {
    /// With a load of concrete.
    Loaded,
    /// Without one.
    Empty,
}

impl Haul {
    /// Both.
    pub const BOTH: [Self; 2] = [Self::Loaded, Self::Empty];
}

/// The truck that the network is measured for.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct RoadTruck {
    /// Gross weight with a full load, lb, more than 0.
    pub loaded_lb: f64,
    /// Empty weight, lb, more than 0.
    pub empty_lb: f64,
    /// Engine power, hp, more than 0.
    pub hp: f64,
}

impl RoadTruck {
    /// A ten-yard mixer of 400 hp: 10 yd³ at 4,050 lb on 26,000 lb.
    pub const USUAL: Self = Self {
        loaded_lb: 66_500.0,
        empty_lb: 26_000.0,
        hp: 400.0,
    };

    /// Gross weight, lb.
    pub fn weight_lb(&self, haul: Haul) -> f64 {
        match haul {
            Haul::Loaded => self.loaded_lb,
            Haul::Empty => self.empty_lb,
        }
    }

    /// Miles an hour on a road of this grade (0.06 for 6 %, negative downhill) where the free flow is `mph`.
    pub fn speed_mph(&self, haul: Haul, mph: f64, grade: f64) -> f64 {
        mph.min(crawl_mph(self.weight_lb(haul), self.hp, grade))
    }
}

/// The speed, miles an hour, that a truck keeps on a long grade: v = 375 × 0.85 × hp ÷ (W (G + 0.01)), the balance of power
/// at the wheels (375 lb·mph to the hp, 85 % of the engine's) against grade and a rolling resistance of 1 %, without air
/// drag. Infinite where the road falls by 1 % or more. It gives what the design curves of the AASHTO green book end in (200
/// lb/hp, within 10 %).
pub fn crawl_mph(weight_lb: f64, hp: f64, grade: f64) -> f64 {
    let resistance = grade + 0.01;
    if resistance <= 0.0 {
        return f64::INFINITY;
    }
    375.0 * 0.85 * hp / (weight_lb * resistance)
}

/// How many times longer a road takes at this volume ÷ capacity than empty: 1 + 0.15 (v/c)⁴, the volume-delay function of
/// the Bureau of Public Roads (Traffic Assignment Manual, 1964; FHWA, "Delay-Volume Relations", ch. 4).
pub fn bpr_factor(volume_over_capacity: f64) -> f64 {
    let square = volume_over_capacity * volume_over_capacity;
    1.0 + 0.15 * square * square
}
