//! Companies of any size whose work grows alike: the text of a scenario.

/// Names of the rules, in the order of the scenario.
pub(crate) const RULES: [&str; 3] = ["home", "lend if it saves", "home early"];

const DAYS: usize = 5;
/// Loads of a truck in a day, and of an order.
const LOADS: usize = 4;
/// Miles from a plant to the next, and to its farthest site along each axis.
const APART: usize = 12;
const FARTHEST: f64 = 8.0;

/// A company: plants in a row, each with trucks and sites of its own.
pub(crate) struct Company {
    /// Trucks, the same number at each plant.
    pub(crate) trucks: usize,
    /// Plants.
    pub(crate) plants: usize,
    /// Whether its roads are a network; else a table of minutes.
    pub(crate) network: bool,
}

/// A site of a plant, as it lies.
struct Site {
    name: String,
    plant: usize,
    east: f64,
    north: f64,
}

impl Site {
    /// Miles by roads that run east and north.
    fn miles_from(&self, plant: usize) -> f64 {
        (self.east - (plant * APART) as f64).abs() + self.north.abs()
    }
}

impl Company {
    /// The text of the scenario.
    pub(crate) fn scenario(&self) -> String {
        let sites = self.sites();
        let roads = match self.network {
            true => self.network(&sites),
            false => self.table(&sites),
        };
        let site = |site: &Site| {
            let Site {
                name, east, north, ..
            } = site;
            format!("(name: {name:?}, at: ({east:.1}, {north:.1}))")
        };
        format!(
            r#"(
    name: "Company",
    period: (first_day: Monday, days: {DAYS}),
    rule_book: "us_property_2020",
    company: (no_load_after_h: 13, promise_horizon_min: 20),
    concrete: (age_limit_min: 120),
    plants: [{plants}],
    sites: [{sites}],
    roads: {roads},
    trucks: [{trucks}],
    drivers: [{drivers}],
    orders: [{orders}],
    rules: [
        (name: "{home}", today: true, belief: FreeFlow, plants: NearestFirst(late_min: 20), lend: Never),
        (name: "{lend}", belief: TimeOfDay(quantile: 0.6), choose: SoonestOnSite, plants: NearestFirst(late_min: 20),
            lend: IfSaves(minutes: 10), gates: [HomeWithin(probability: 0.95)]),
        (name: "{early}", belief: TimeOfDay(quantile: 0.6), choose: SoonestOnSite, plants: NearestFirst(late_min: 20),
            lend: Never, gates: [HomeWithin(probability: 0.95)], shift: Matched(spare: 1), send_home: LongestDay(hold: 1)),
    ],
)"#,
            plants = self.each_plant(|plant| self.plant(plant)),
            sites = joined(sites.iter().map(site)),
            trucks = self.each_plant(|plant| {
                let count = self.trucks_at_plant();
                format!("(name: \"T{plant}.\", count: {count}, home: \"P{plant}\")")
            }),
            drivers = self.each_plant(|plant| {
                let stagger = 180.0 / self.trucks_at_plant() as f64;
                format!(
                    "(name: \"D{plant}.\", trucks: \"T{plant}.\", report: \"05:30\", stagger_min: {stagger:.2}, shift_h: 11)"
                )
            }),
            orders = self.orders(),
            home = RULES[0],
            lend = RULES[1],
            early = RULES[2],
        )
    }

    fn trucks_at_plant(&self) -> usize {
        self.trucks / self.plants
    }

    /// Orders of a plant in a day: as many as it has trucks.
    fn orders_at_plant(&self) -> usize {
        self.trucks_at_plant()
    }

    fn sites_at_plant(&self) -> usize {
        (self.orders_at_plant() / 2).max(2)
    }

    fn each_plant(&self, text: impl Fn(usize) -> String) -> String {
        joined((0..self.plants).map(text))
    }

    /// A bay is busy some seven minutes a load; there are enough for a morning's rush.
    fn plant(&self, plant: usize) -> String {
        let busy = (self.trucks_at_plant() * LOADS * 7) as f64 / 600.0;
        let (bays, east) = ((busy + 0.5).round().max(1.0), plant * APART);
        format!(
            "(name: \"P{plant}\", at: ({east}.0, 0.0), bays: {bays}, \
             loading: PerYard(fixed_min: 1, min_per_yd3: 0.5, luck: Lognormal(mean: 1, cv: 0.25)), rack: Triangular(2, 5, 10), \
             hours: [(open: \"05:00\", close: \"20:00\")])"
        )
    }

    /// Sites lie around their plant, evenly whatever their number: by the fractions of two square roots.
    fn sites(&self) -> Vec<Site> {
        let around = |nth: usize, root: f64| ((nth as f64 * root).fract() * 2.0 - 1.0) * FARTHEST;
        let of_plant = |plant: usize| {
            (0..self.sites_at_plant()).map(move |nth| Site {
                name: format!("S{plant}.{nth}"),
                plant,
                east: (plant * APART) as f64 + around(nth + 1, 2_f64.sqrt()),
                north: around(nth + 1, 3_f64.sqrt()),
            })
        };
        (0..self.plants).flat_map(of_plant).collect()
    }

    fn table(&self, sites: &[Site]) -> String {
        let rows = self.each_plant(|plant| {
            let to_site = |site: &Site| {
                let miles = site.miles_from(plant);
                let (out, back) = (8.0 + 1.6 * miles, 8.0 + 1.5 * miles);
                format!("{:?}: ({out:.0}, {back:.0})", site.name)
            };
            let to_plant = |other: usize| {
                let minutes = (other - plant) * 20;
                format!("\"P{other}\": ({minutes}, {minutes})")
            };
            let others = (plant + 1..self.plants).map(to_plant);
            format!(
                "\"P{plant}\": {{{}}}",
                joined(sites.iter().map(to_site).chain(others))
            )
        });
        format!("(minutes: {{{rows}}}, luck: Lognormal(mean: 1, cv: 0.25))")
    }

    /// A junction near each plant, all in a row, from which a road leads to each site.
    fn network(&self, sites: &[Site]) -> String {
        let to_town = |plant: usize| {
            format!(
                "(from: \"P{plant}\", to: \"J{plant}\", miles: 2, mph: 35, profile: \"town\", \
                 incidents: (per_day: 0.2, minutes: Lognormal(mean: 26, cv: 1), factor: 3))"
            )
        };
        let along = |plant: usize| {
            let next = plant + 1;
            format!(
                "(from: \"J{plant}\", to: \"J{next}\", miles: {APART}, mph: 45, profile: \"town\")"
            )
        };
        let to_site = |site: &Site| {
            let (plant, miles) = (site.plant, site.miles_from(site.plant) + 1.0);
            format!(
                "(from: \"J{plant}\", to: {:?}, miles: {miles:.1}, mph: 30, profile: \"town\")",
                site.name
            )
        };
        let links = (0..self.plants).map(to_town);
        let links = links.chain((1..self.plants).map(|next| along(next - 1)));
        format!(
            r#"Network(
        junctions: [{junctions}],
        links: [{links}],
        profiles: [(name: "town", days: [(days: [Monday, Tuesday, Wednesday, Thursday, Friday],
            factors: [("06:00", 1.1), ("07:00", 1.4), ("09:00", 1.2), ("15:00", 1.4), ("18:00", 1.1)])])],
        truck: (loaded_lb: 66500, empty_lb: 27000, hp: 400),
        day_luck: Lognormal(mean: 1, cv: 0.2),
        luck: Lognormal(mean: 1, cv: 0.2),
    )"#,
            junctions = self.each_plant(|plant| format!("\"J{plant}\"")),
            links = joined(links.chain(sites.iter().map(to_site))),
        )
    }

    /// First loads are due from half past six on, over seven and a half hours.
    fn orders(&self) -> String {
        let (orders, sites) = (self.orders_at_plant(), self.sites_at_plant());
        let order = |day: usize, plant: usize, nth: usize| {
            let site = (nth + day) % sites;
            let due = 390 + 450 * nth / orders / 10 * 10;
            let (hour, minute, volume) = (due / 60, due % 60, LOADS * 10);
            format!(
                "(name: \"O{day}.{plant}.{nth}\", site: \"S{plant}.{site}\", day: {day}, first: \"{hour:02}:{minute:02}\", \
                 volume_yd3: {volume}, spacing_min: 35, outlets: [(rate_yd3_min: 0.5)])"
            )
        };
        let of_plant = |day, plant| (0..orders).map(move |nth| order(day, plant, nth));
        let of_day = |day| (0..self.plants).flat_map(move |plant| of_plant(day, plant));
        joined((1..=DAYS).flat_map(of_day))
    }
}

fn joined(texts: impl Iterator<Item = String>) -> String {
    texts.collect::<Vec<_>>().join(",\n        ")
}
