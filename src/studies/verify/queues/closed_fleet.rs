//! A closed fleet as the text of a scenario: trucks that go round between one plant and sites, without clocks, closing hours or orders.

/// Trucks that go round between a plant and one or more sites. All times in minutes.
#[derive(Clone, Debug)]
pub struct Fleet {
    /// How many go round.
    pub trucks: u32,
    /// Bays of the plant.
    pub bays: u32,
    /// Spread of the time in a bay.
    pub loading: &'static str,
    /// The rack as a station of one place; none: no time at the rack.
    pub rack: Option<&'static str>,
    /// Mean minutes out and back.
    pub road: (f64, f64),
    /// Spread of the factor on a trip.
    pub luck: &'static str,
    /// Discharge and outlets of each site, to which loads go with equal chances.
    pub sites: &'static [(&'static str, u32)],
    /// How long each run is; its first tenth is not measured.
    pub days: u32,
}

impl Fleet {
    /// The scenario.
    pub fn text(&self) -> String {
        let Self {
            trucks,
            bays,
            loading,
            road: (out, back),
            luck,
            days,
            ..
        } = self;
        let rack = match self.rack {
            Some(spread) => format!("rack: {spread}, rack_places: 1"),
            None => "rack: Constant(0)".into(),
        };
        let names: Vec<String> = (1..=self.sites.len())
            .map(|n| format!("Site {n}"))
            .collect();
        let sites: String = names
            .iter()
            .map(|name| format!("(name: \"{name}\"), "))
            .collect();
        let roads: String = names
            .iter()
            .map(|name| format!("\"{name}\": ({out}, {back}), "))
            .collect();
        let destinations: String = names
            .iter()
            .zip(self.sites)
            .map(|(name, (discharge, outlets))| {
                let outlets = "(rate_yd3_min: 1), ".repeat(*outlets as usize);
                format!(
                    "(site: \"{name}\", outlets: [{outlets}], position: Constant(0), discharge: {discharge}, \
                     chute_wash: Constant(0)), "
                )
            })
            .collect();
        let hours = days * 24;
        // The first tenth is left out: the fleet starts at the plant all at once.
        let from = f64::from(hours) / 10.0;
        format!(
            r#"(
    name: "closed fleet",
    period: (days: {days}, measure: (from_h: {from}, to_h: {hours})),
    rule_book: "none", concrete: (age_limit_min: None),
    company: (promise_horizon_min: 0),
    plants: [(name: "P", bays: {bays}, bay_queue: FirstCome, loading: {loading}, {rack})],
    sites: [{sites}],
    roads: (minutes: {{ "P": {{ {roads} }} }}, luck: {luck}),
    trucks: [(name: "T", count: {trucks}, home: "P")],
    drivers: [(name: "D", trucks: "T", report: "00:00", shift_h: {hours}, days: [Monday])],
    endless: [(name: "E", to: Drawn, destinations: [{destinations}])],
    yard: (pre_trip: Constant(0), washout: Constant(0), post_trip: Constant(0)),
    rules: [(name: "R", belief: FreeFlow, choose: LongestIdle, early_min: 0, bay_wait_min: 0)],
)"#
        )
    }
}
