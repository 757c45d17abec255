//! What the names of a scenario mean that have no entry in the list of [`defaults`](super::defaults): fields by the blocks that they
//! stand in, and choices.
//!
//! A field that is read and has no line here, and a line of which no field is read, fail a test.

/// Blocks that have fields of another one, which mean the same there.
const BORROWED: [(&str, &str); 9] = [
    ("drawn.", "orders."),
    ("endless.destinations.", "orders."),
    ("endless.", "orders."),
    ("helpers.rule_book", "rule_book"),
    ("drivers.rule_book", "rule_book"),
    ("helpers.", "drivers."),
    ("trucks.breakdowns.", "plants.outages."),
    ("roads.links.lifts.", "roads.links.closed_to_loaded."),
    (
        "roads.links.weigh_station.hours.",
        "roads.links.closed_to_loaded.",
    ),
];

/// What a field is; none: the list of defaults says it.
pub fn meaning(path: &str) -> Option<&'static str> {
    let of = |path: &str| {
        let line = FIELDS.iter().find(|(field, _)| *field == path);
        line.map(|(_, said)| *said)
    };
    same_as(path).find_map(|path| of(&path))
}

/// What a choice of a field does.
pub fn choice_meaning(path: &str, choice: &str) -> Option<&'static str> {
    let of = |path: &str| {
        let mut lines = CHOICES.iter();
        let line = lines.find(|(field, name, _)| *field == path && *name == choice);
        line.map(|(_, _, said)| *said)
    };
    same_as(path).find_map(|path| of(&path))
}

/// A path, and those of other blocks that mean the same.
fn same_as(path: &str) -> impl Iterator<Item = String> {
    let borrowed = BORROWED.iter().filter_map(move |(block, other)| {
        path.strip_prefix(block)
            .map(|field| format!("{other}{field}"))
    });
    std::iter::once(path.to_owned()).chain(borrowed)
}

const FIELDS: [(&str, &str); 266] = [
    ("name", "what answers call the scenario"),
    ("about", "what it is about, in a sentence or two"),
    ("units", "the units that all of it is written and told in"),
    ("currency", "the sign of its money, like \"€\""),
    ("period", "the days that are simulated as one run"),
    (
        "period.first_day",
        "the weekday of the first day, or its date",
    ),
    (
        "period.days",
        "how many days are run straight through midnight",
    ),
    (
        "period.measure",
        "the span that figures are taken of; left out: all of it",
    ),
    (
        "period.measure.from_h",
        "where it begins, in hours since the first midnight",
    ),
    (
        "period.measure.to_h",
        "where it ends, in hours since the first midnight",
    ),
    ("rule_books", "hours-of-service rule books of your own"),
    ("rule_books.name", "its name, for `rule_book`"),
    (
        "rule_books.like",
        "the built-in rule book whose limits hold where this one says nothing",
    ),
    (
        "rule_books.valid_from",
        "the first date on which it is in force",
    ),
    (
        "rule_books.valid_to",
        "the last date on which it is in force",
    ),
    ("rule_books.about", "for whom it is"),
    ("rule_books.driving_h", "driving between two full rests"),
    (
        "rule_books.window_h",
        "time gone by since coming on duty, breaks included, after which nobody drives",
    ),
    (
        "rule_books.on_duty_h",
        "time on duty between two full rests after which nobody drives",
    ),
    (
        "rule_books.rest_h",
        "the unbroken rest that starts these clocks again",
    ),
    (
        "rule_books.break_after_h",
        "hours after which a break must have been taken",
    ),
    ("rule_books.break_min", "how long the break is"),
    ("rule_books.break_by", "which hours lead to the break"),
    (
        "rule_books.work_is_break",
        "work without driving counts as the break",
    ),
    (
        "rule_books.waiting_is_break",
        "waiting on site counts as the break",
    ),
    (
        "rule_books.waiting_is_break_from",
        "the date from which waiting counts so",
    ),
    (
        "rule_books.cycle",
        "hours on duty in so many days, such as \"70/8\"",
    ),
    (
        "rule_books.restart_h",
        "the rest that starts the weekly hours again",
    ),
    (
        "rule_books.restart_nights",
        "nights from 1 to 5 a.m. that this rest must hold",
    ),
    (
        "rule_books.restart_apart_h",
        "time from the beginning of one such rest to that of the next",
    ),
    ("rule_books.day_start", "when the carrier's day begins"),
    (
        "rule_books.long_day_h",
        "the longer window that may be used once a week",
    ),
    (
        "rule_books.ready_mix_vehicles",
        "the trucks are ready-mixed concrete vehicles, for which some limits differ",
    ),
    (
        "rule_books.per_day",
        "driving and on-duty limits hold in each carrier's day as well",
    ),
    (
        "rule_books.short_haul_air_miles",
        "radius of the short-haul exception around the home plant",
    ),
    (
        "rule_books.short_haul_release_h",
        "by when a short-haul driver must be released",
    ),
    (
        "rule_books.short_haul_mixer_release_h",
        "the same for drivers of ready-mixed concrete vehicles",
    ),
    (
        "rule_books.adverse_driving_h",
        "more driving in adverse conditions",
    ),
    (
        "rule_books.adverse_window_h",
        "a longer window in adverse conditions",
    ),
    (
        "rule_books.construction_restart_h",
        "the shorter restart of drivers who haul construction materials",
    ),
    (
        "rule_books.daily_off_h",
        "off duty that every carrier's day must hold",
    ),
    (
        "rule_books.construction_materials",
        "the drivers haul construction materials",
    ),
    (
        "rule_books.riding_is_duty",
        "riding home as a passenger is duty",
    ),
    (
        "rule_books.relieved_waiting_is_duty",
        "waiting while somebody else watches the truck is duty",
    ),
    (
        "rule_book",
        "the hours-of-service rules that drivers are under; left out: a driving window",
    ),
    (
        "rule_book.hours",
        "hours after reporting past which nobody drives",
    ),
    ("company", "the company's own limits and habits"),
    (
        "plants",
        "the plants; the first to be read, as others name them",
    ),
    ("plants.name", "its name, of its own among plants and sites"),
    ("plants.at", "where it lies on the map"),
    ("plants.hours.days", "on which weekdays"),
    ("plants.hours.open", "when it opens"),
    ("plants.hours.close", "when it closes"),
    (
        "plants.loading.fixed_min",
        "minutes of any load, however small",
    ),
    ("plants.loading.min_per_yd3", "minutes more for each yd³"),
    ("plants.mixes", "the mixes that it makes; left out: all"),
    (
        "plants.outages.mean_h_between",
        "mean operating hours from one to the next",
    ),
    ("plants.outages.minutes", "how long one lasts"),
    ("plants.planned_outages", "when it stands still by plan"),
    (
        "plants.planned_outages.day",
        "on which day of the period, by number or date",
    ),
    ("plants.planned_outages.from", "from when"),
    ("plants.planned_outages.to", "until when"),
    ("sites", "the places where concrete is poured"),
    ("sites.name", "its name, of its own among plants and sites"),
    ("sites.at", "where it lies on the map"),
    (
        "roads",
        "the drive between places: minutes, or a network of roads",
    ),
    (
        "roads.minutes",
        "minutes on the empty road from each plant to sites and other plants, out and back if they differ",
    ),
    ("roads.traffic.days", "on which weekdays"),
    (
        "roads.traffic.factors",
        "from each time on, so many times the minutes of the empty road",
    ),
    (
        "roads.junctions",
        "names of junctions beside plants and sites",
    ),
    ("roads.profiles", "how busy roads are by weekday and hour"),
    ("roads.profiles.name", "its name, for `profile` of a link"),
    ("roads.profiles.days", "what holds on which weekdays"),
    ("roads.profiles.days.days", "on which weekdays"),
    (
        "roads.profiles.days.factors",
        "from each time on, so many times the minutes of the empty road",
    ),
    (
        "roads.profiles.days.volume_over_capacity",
        "in place of factors: how full the road is",
    ),
    (
        "roads.links",
        "stretches of road between plants, sites and junctions",
    ),
    (
        "roads.links.name",
        "its name; left out: the names of its ends",
    ),
    ("roads.links.from", "where it begins"),
    ("roads.links.to", "where it ends"),
    ("roads.links.both_ways", "it leads back as well"),
    ("roads.links.miles", "its length"),
    ("roads.links.mph", "speed on the empty road"),
    ("roads.links.profile", "how busy it is; left out: never"),
    (
        "roads.links.profile_back",
        "how busy it is on the way back; left out: as on the way out",
    ),
    (
        "roads.links.area",
        "links of one area have good and bad days together",
    ),
    (
        "roads.links.weight_limit_lb",
        "no heavier truck may take it",
    ),
    (
        "roads.links.closed_to_loaded",
        "when loaded trucks may not enter it",
    ),
    ("roads.links.closed_to_loaded.days", "on which weekdays"),
    ("roads.links.closed_to_loaded.from", "from when"),
    ("roads.links.closed_to_loaded.to", "until when"),
    ("roads.links.lifts", "when a bridge at its near end is up"),
    ("roads.links.weigh_station", "a station that weighs trucks"),
    ("roads.links.weigh_station.hours", "when it is open"),
    ("roads.links.weigh_station.minutes", "what passing it takes"),
    ("roads.links.incidents", "accidents and the like"),
    ("roads.links.incidents.per_day", "how many on average"),
    ("roads.links.incidents.minutes", "how long one lasts"),
    (
        "roads.links.incidents.factor",
        "how much longer the link takes meanwhile",
    ),
    (
        "roads.truck",
        "the truck that grades and weight limits are reckoned for",
    ),
    ("trucks", "the mixer trucks, one by one or in groups"),
    (
        "trucks.name",
        "its name; those of a group have 1, 2 … behind it",
    ),
    ("trucks.count", "how many trucks the group has"),
    ("trucks.home", "its home plant"),
    ("trucks.needs.class", "the least class of license"),
    (
        "trucks.needs.endorsements",
        "endorsements that the license must have",
    ),
    (
        "trucks.needs.bars",
        "restrictions that the license must not have",
    ),
    ("trucks.axles.at_ft", "how far behind the first axle"),
    ("trucks.axles.empty_lb", "what it bears of the empty truck"),
    ("trucks.axles.share", "what it bears of the load"),
    ("drivers", "the drivers, one by one or in groups"),
    (
        "drivers.name",
        "the name; those of a group have 1, 2 … behind it",
    ),
    (
        "drivers.count",
        "how many drivers the group has; left out: as many as its trucks",
    ),
    (
        "drivers.trucks",
        "the truck, or the group of trucks, that is driven",
    ),
    ("drivers.report", "when the shift begins"),
    ("drivers.days", "on which weekdays"),
    (
        "drivers.rule_book",
        "the rules that this driver is under; left out: those of the scenario, of a helper none",
    ),
    ("drivers.endorsements", "endorsements of the license"),
    ("drivers.restrictions", "restrictions of the license"),
    (
        "drivers.history.hours",
        "hours on duty on the days before the period, yesterday first",
    ),
    (
        "drivers.history.released_h_before",
        "hours from the last release to the first midnight",
    ),
    (
        "drivers.history.last_long_day",
        "days since the longer window was last used",
    ),
    (
        "drivers.history.tours_ended_home",
        "whether the last shifts ended at the home plant, the latest first",
    ),
    ("drivers.seniority", "place by seniority, 1 the most senior"),
    ("drivers.pay_per_h", "paid hour; left out: that of `money`"),
    (
        "drivers.guaranteed_h",
        "hours paid for on a day with a tour, at least; left out: those of `money`",
    ),
    (
        "drivers.hauler_per_h",
        "price of an hour of a hired hauler, driver with truck and fuel; left out: an own driver, who earns a wage",
    ),
    ("orders", "the order book"),
    ("orders.name", "its name"),
    ("orders.customer", "who ordered it"),
    (
        "orders.day",
        "on which day of the period, by number or date",
    ),
    ("orders.first", "when its first load is due on site"),
    ("orders.volume_yd3", "how much is ordered"),
    (
        "orders.spacing_min",
        "time between two loads on site; or write `pour_rate_yd3_h`",
    ),
    (
        "orders.pour_rate_yd3_h",
        "how fast the pour goes; in place of `spacing_min`",
    ),
    ("orders.mix", "the mix; left out: \"standard\""),
    (
        "orders.plant",
        "the plant that usually serves it, for `plants: UsualFirst`",
    ),
    (
        "orders.balance_yd3",
        "what its site calls in beyond the volume at the end; left out: as `changes` says",
    ),
    (
        "orders.stabilizer.min",
        "how much longer it keeps the concrete",
    ),
    ("orders.stabilizer.per_yd3", "what it costs"),
    ("orders.site", "where it is poured"),
    (
        "orders.outlets",
        "pumps and chutes that take concrete side by side; left out: one",
    ),
    ("drawn", "orders that are drawn anew for each day"),
    (
        "drawn.name",
        "its name, from which those of its orders are made",
    ),
    ("drawn.per_day", "how many a day has; a spread is rounded"),
    ("drawn.per_day.mean", "how many on average"),
    (
        "drawn.at_most",
        "more of a day are cut off; left out: what nearly no day exceeds",
    ),
    ("drawn.days", "on which weekdays"),
    (
        "drawn.first",
        "the earliest and the latest time at which a first load is due",
    ),
    ("drawn.volume_yd3", "how much one orders, by the half yard"),
    (
        "drawn.most_yd3",
        "larger ones are cut to this; left out: what 1 in 1,000 exceeds",
    ),
    (
        "endless",
        "loads on demand that never end, for tests of the model",
    ),
    ("endless.name", "its name"),
    ("endless.to", "how each load gets its destination"),
    (
        "endless.arrivals",
        "time between two loads; left out: one whenever a truck is free",
    ),
    ("endless.destinations", "where its loads go"),
    ("endless.destinations.share", "its part of the loads"),
    ("changes", "what turns out otherwise on the day"),
    ("weighing", "what trucks really weigh, and weigh stations"),
    (
        "helpers",
        "people on call who can drive a stranded truck home",
    ),
    ("helpers.name", "the name"),
    ("helpers.at", "the plant where the helper waits"),
    ("helpers.from", "on call from"),
    ("helpers.to", "on call until"),
    (
        "concrete",
        "the age limit, the slump rack, and mixes if their concrete is followed",
    ),
    (
        "concrete.mixes",
        "mixes whose slump, water and strength are computed; left out: none are",
    ),
    ("concrete.mixes.name", "its name, for `mix` of orders"),
    ("concrete.mixes.cement_lb", "cement"),
    (
        "concrete.mixes.water_lb",
        "water, that on the aggregates included",
    ),
    (
        "concrete.mixes.fine_lb",
        "fine aggregate; left out: what fills 27 ft³",
    ),
    ("concrete.mixes.coarse_lb", "coarse aggregate"),
    (
        "concrete.mixes.specified_psi",
        "specified strength at 28 days",
    ),
    (
        "concrete.mixes.strength.a_psi",
        "strength at a w/c of 0, by Abrams' law",
    ),
    (
        "concrete.mixes.strength.b",
        "what the strength is divided by for each 1 of w/c",
    ),
    (
        "concrete.mixes.most_wc",
        "the most water by the cement, by weight; left out: no such limit",
    ),
    (
        "concrete.mixes.gravities",
        "specific gravities of its materials",
    ),
    ("concrete.meter", "the slump meter at the rack"),
    (
        "concrete.moisture",
        "water on the aggregates, and how well it is known",
    ),
    ("concrete.temperature.f", "°F all day"),
    ("concrete.temperature.mean_f", "mean of the day"),
    (
        "concrete.temperature.swing_f",
        "how far it rises and falls about the mean",
    ),
    ("concrete.temperature.warmest_h", "the warmest hour"),
    ("concrete.tickets", "how tickets are read"),
    (
        "concrete.corrections",
        "what is done about a load that is too wet",
    ),
    ("concrete.on_site", "tests on site, and what is done there"),
    (
        "concrete.sensitivity",
        "what air and warmth do to slump and strength",
    ),
    ("yard", "what a shift begins and ends with"),
    ("money", "prices and pay"),
    (
        "money.second_overtime.after_h",
        "hours of a day after which it is paid",
    ),
    ("money.second_overtime.factor", "so many times the pay"),
    ("money.night.from", "from when"),
    ("money.night.to", "until when"),
    ("money.night.per_h", "paid on top of the hour"),
    ("money.weekend.days", "on which weekdays"),
    ("money.weekend.factor", "so many times the pay"),
    ("money.revenue", "what customers pay"),
    (
        "money.revenue.prices",
        "sale price by mix, where it differs",
    ),
    ("rules", "the dispatch rules that are compared"),
    ("rules.name", "its name"),
    (
        "rules.today",
        "this is how the plants are dispatched today; the others are set against it",
    ),
    ("rules.about", "how such dispatch works, in a sentence"),
    ("rules.belief", "how long dispatch expects a drive to take"),
    (
        "rules.belief.quantile",
        "the drive time that so many of the hour's trips stay within; left out: the mean",
    ),
    ("rules.send", "when loads are sent"),
    ("rules.early_min", "by how much every load is sent earlier"),
    (
        "rules.bay_wait_min",
        "what is allowed for the wait at the bay",
    ),
    (
        "rules.bay_queue_seen",
        "trucks that are to load before are counted, and allowed for if that is longer",
    ),
    (
        "rules.spacing_factor",
        "the spacing that loads are sent with; due times stay",
    ),
    ("rules.sequence", "which waiting load goes first"),
    ("rules.choose", "which plant and truck a load gets"),
    ("rules.plants", "which plants may serve a load"),
    (
        "rules.plants.late_min",
        "how late the preferred plant must be before others serve",
    ),
    (
        "rules.gates",
        "checks of drivers' hours that a driver must pass to get a load",
    ),
    (
        "rules.gates.hours",
        "hours: since reporting, or left to whoever is held back",
    ),
    ("rules.gates.probability", "how sure it must be"),
    ("rules.gates.minutes", "what must be left"),
    (
        "rules.lend",
        "whether a truck may load at another plant than its own",
    ),
    ("rules.lend.minutes", "what it must save"),
    ("rules.load_size", "how an order is cut into loads"),
    (
        "rules.room_kept_yd3",
        "room kept in every drum for corrections",
    ),
    (
        "rules.weight_margin_lb",
        "weight kept below the legal gross",
    ),
    ("rules.retrieval", "what is done for a stranded driver"),
    (
        "rules.retrieval.not_between",
        "times of day between which nobody sets out",
    ),
    (
        "rules.retrieval.foreseen",
        "help sets out once it is seen that the way home will not fit",
    ),
    (
        "rules.retrieval.waits",
        "the driver waits for a helper who comes on call later, if that is sooner than a rest",
    ),
    (
        "rules.retrieval.own_drivers",
        "free drivers of the home plant help too",
    ),
    ("rules.yard", "slump practice"),
    (
        "rules.yard.warning",
        "which tickets warn that the slump must not be read too early",
    ),
    (
        "rules.yard.read_after",
        "how long the drum turns before the slump is read; left out: the usual two minutes",
    ),
    ("rules.yard.read_after.minutes", "minutes at mixing speed"),
    (
        "rules.yard.read_after.revolutions",
        "revolutions at mixing speed",
    ),
    ("rules.yard.water_by", "who may add water at the plant"),
    (
        "rules.yard.most_gal_yd3",
        "the most water added at the plant",
    ),
    (
        "rules.yard.probe",
        "moisture probes stand in the aggregate bins",
    ),
    (
        "rules.yard.hrwr",
        "where the high-range water reducer goes in",
    ),
    (
        "rules.long_day",
        "drivers use the longer window once a week where their rule book has one",
    ),
    ("rules.shift", "when drivers report"),
    (
        "rules.shift.minutes",
        "time between two reports; left out: evenly over the scheduled ones",
    ),
    ("rules.shift.spare", "drivers beyond the need at each plant"),
    ("rules.send_home", "when drivers without work go home"),
    (
        "rules.send_home.hold",
        "drivers held in reserve at each plant",
    ),
    ("rules.after_discharge", "where an empty truck heads for"),
    (
        "rules.override_gates",
        "when dispatch skips the checks of `gates`; never past a legal limit",
    ),
    ("rules.override_gates.minutes", "how late the load would be"),
    ("rules.override_gates.share", "of loads"),
    (
        "rules.drivers_word",
        "what becomes of a driver's objection that the way home will not fit",
    ),
    (
        "rules.additions",
        "what becomes of orders called in during the day",
    ),
    ("rules.additions.hours", "how far an order may be moved"),
    ("rules.plant_hours", "until when plants stay open"),
    (
        "rules.plant_hours.hours",
        "how long after the posted hours at most",
    ),
    (
        "rules.redirect",
        "what a loaded truck does whose site is not ready",
    ),
    (
        "rules.redirect.wait_min",
        "how long the wait must be expected to last",
    ),
    (
        "worlds",
        "changed worlds in which a decision is tried besides the usual ones",
    ),
    ("worlds.name", "its name"),
    (
        "worlds.change",
        "what is changed; several in a list: all at once",
    ),
    ("worlds.change.times", "so many times what is written"),
    ("worlds.change.more", "by this part more: 0.1 is 10% more"),
    ("worlds.change.less", "by this part less"),
    (
        "worlds.change.share",
        "the share itself, whatever is written",
    ),
    ("worlds.change.min", "the limit"),
    ("worlds.change.of", "which price"),
    (
        "worlds.change.plant",
        "at which plant; of fewer trucks or drivers left out: at each",
    ),
    (
        "worlds.change.day",
        "on which day; left out: the one with the most ordered volume",
    ),
    ("worlds.change.from", "from when; left out: midnight"),
    ("worlds.change.until", "until when; left out: midnight"),
    ("worlds.change.count", "how many"),
];

const CHOICES: [(&str, &str, &str); 129] = [
    ("rule_books.break_by", "Driving", "hours of driving"),
    (
        "rule_books.break_by",
        "Elapsed",
        "hours gone by since coming on duty",
    ),
    (
        "rule_book",
        "DutyWindow",
        "nothing but a window after reporting, and the rest between two shifts",
    ),
    ("plants.batcher", "PerBay", "each bay has its own"),
    (
        "plants.batcher",
        "Shared",
        "one serves all bays, one load at a time",
    ),
    (
        "plants.bay_queue",
        "ByRule",
        "as the dispatch rule ranks waiting loads",
    ),
    ("plants.bay_queue", "FirstCome", "first come, first served"),
    ("plants.loading", "PerYard", "minutes by the volume"),
    (
        "plants.loading",
        "PerVolume",
        "the same, by its name where SI is written",
    ),
    ("units", "us", "yd³, lb, miles, °F"),
    ("units", "si", "m³, kg, km, °C"),
    (
        "roads",
        "Network",
        "links between plants, sites and junctions, in place of the table of minutes",
    ),
    ("drivers.class", "Ordinary", "no commercial license"),
    ("drivers.class", "C", "small commercial vehicles"),
    (
        "drivers.class",
        "B",
        "heavy straight vehicles, such as most mixers",
    ),
    ("drivers.class", "A", "heavy combinations"),
    ("trucks.needs.class", "Ordinary", "no commercial license"),
    ("trucks.needs.class", "C", "small commercial vehicles"),
    (
        "trucks.needs.class",
        "B",
        "heavy straight vehicles, such as most mixers",
    ),
    ("trucks.needs.class", "A", "heavy combinations"),
    (
        "drawn.per_day",
        "Poisson",
        "as many as come independently of each other",
    ),
    ("endless.to", "RoundRobin", "each destination in turn"),
    (
        "endless.to",
        "Drawn",
        "drawn for each load, by their shares",
    ),
    (
        "concrete.mixes.strength",
        "AciPlain",
        "by the table of ACI 211.1 for concrete that is not air-entrained",
    ),
    (
        "concrete.mixes.strength",
        "AciAirEntrained",
        "by the table of ACI 211.1 for air-entrained concrete",
    ),
    (
        "concrete.mixes.strength",
        "Abrams",
        "by Abrams' law with your own constants",
    ),
    ("concrete.mixes.hrwr_kind", "Extended", "works 1 to 3 hours"),
    (
        "concrete.mixes.hrwr_kind",
        "Older",
        "works 30 to 60 minutes",
    ),
    ("concrete.temperature", "Steady", "the same all day"),
    (
        "concrete.temperature",
        "Daily",
        "rises and falls over the day",
    ),
    (
        "concrete.corrections.with",
        "CementAndFine",
        "cement and fine aggregate",
    ),
    ("concrete.corrections.with", "CementOnly", "cement alone"),
    (
        "rules.belief",
        "TimeOfDay",
        "what trips of the hour take, on average or within a share of them",
    ),
    ("rules.belief", "FreeFlow", "what the empty road takes"),
    (
        "rules.belief",
        "StraightLine",
        "the distance on the map, without traffic",
    ),
    ("rules.belief", "Live", "what the road takes as it is now"),
    (
        "rules.send",
        "AsOrdered",
        "for the time that the order says, whatever the site does",
    ),
    (
        "rules.send",
        "Paced",
        "not before the site can take the load, as far as dispatch can know",
    ),
    (
        "rules.sequence",
        "EarliestDue",
        "the load that is due first",
    ),
    (
        "rules.sequence",
        "RunningPoursFirst",
        "pours that have begun, then the load that is due first",
    ),
    (
        "rules.sequence",
        "BiggestFirst",
        "the order with the most volume",
    ),
    (
        "rules.choose",
        "Nearest",
        "the plant expected nearest to the site; there the truck soonest at the bay",
    ),
    (
        "rules.choose",
        "LongestIdle",
        "the truck that has stood idle longest",
    ),
    (
        "rules.choose",
        "SoonestOnSite",
        "the plant and truck expected on site first; of those in time, the shortest way",
    ),
    (
        "rules.choose",
        "FewestHours",
        "the driver with the fewest hours since reporting",
    ),
    ("rules.choose", "Seniority", "the most senior driver"),
    (
        "rules.choose",
        "Cheapest",
        "the cheapest in the scenario's money: driving, paid wait, lateness, overtime",
    ),
    ("rules.plants", "Any", "every plant that makes the mix"),
    (
        "rules.plants",
        "NearestFirst",
        "the nearest open plant; others once even a free truck there would come so late",
    ),
    (
        "rules.plants",
        "UsualFirst",
        "so, with the `plant` that the order names in place of the nearest",
    ),
    (
        "rules.gates",
        "LastLoadBy",
        "no load is loaded later than so many hours after the driver reported",
    ),
    (
        "rules.gates",
        "HomeWithin",
        "the driver is expected home within the legal window, so surely",
    ),
    (
        "rules.gates",
        "KeepMinutes",
        "so many minutes are expected to be left on every legal limit when home",
    ),
    (
        "rules.gates",
        "Reserve",
        "one free driver with so many hours left stays at the plant to help others",
    ),
    ("rules.lend", "Never", "only at its home plant"),
    (
        "rules.lend",
        "IfSaves",
        "elsewhere if the load comes so much sooner",
    ),
    ("rules.lend", "Always", "at any plant"),
    (
        "rules.load_size",
        "FullThenRemainder",
        "full loads, then what is left",
    ),
    (
        "rules.load_size",
        "Equal",
        "the same number of loads, all equal",
    ),
    (
        "rules.retrieval",
        "RestOut",
        "the driver takes the legal rest beside the truck and drives it home",
    ),
    (
        "rules.retrieval",
        "Fetch",
        "a helper drives out and brings driver and truck home",
    ),
    (
        "rules.retrieval",
        "FetchDriver",
        "a helper brings the driver home; the truck stays for its next driver",
    ),
    ("rules.yard.warning", "Never", "none"),
    (
        "rules.yard.warning",
        "OnAdmixture",
        "those of mixes with a high-range water reducer",
    ),
    (
        "rules.yard.warning",
        "OnEverything",
        "all, where drivers stop noticing it",
    ),
    ("rules.yard.read_after", "Minutes", "so many minutes"),
    (
        "rules.yard.read_after",
        "Revolutions",
        "so many revolutions",
    ),
    ("rules.yard.water_by", "Driver", "the driver"),
    (
        "rules.yard.water_by",
        "Batcher",
        "the batcher, never beyond the mix's w/c",
    ),
    ("rules.yard.water_by", "Nobody", "nobody"),
    ("rules.yard.hrwr", "AtPlant", "at the bay"),
    (
        "rules.yard.hrwr",
        "OnSite",
        "on site, mixed in before unloading",
    ),
    ("rules.shift", "Rostered", "as scheduled"),
    (
        "rules.shift",
        "Staggered",
        "one after the other from a plant's first report on",
    ),
    (
        "rules.shift",
        "Matched",
        "called in the day before for the orders then on the book",
    ),
    (
        "rules.send_home",
        "ShiftEnd",
        "at the end of the shift, or when no order is left",
    ),
    (
        "rules.send_home",
        "FirstInFirstOut",
        "once not needed, whoever has stood idle longest",
    ),
    (
        "rules.send_home",
        "LongestDay",
        "once not needed, whoever reported first",
    ),
    (
        "rules.send_home",
        "Seniority",
        "once not needed, the least senior",
    ),
    ("rules.after_discharge", "HomePlant", "its home plant"),
    (
        "rules.after_discharge",
        "NearestPlant",
        "the plant expected nearest",
    ),
    (
        "rules.after_discharge",
        "MostWork",
        "the plant with the most volume waiting for each truck",
    ),
    ("rules.override_gates", "Never", "never"),
    (
        "rules.override_gates",
        "IfLate",
        "if the load would come so late even so",
    ),
    ("rules.override_gates", "Share", "for this share of loads"),
    ("rules.drivers_word", "NotAsked", "nobody asks"),
    (
        "rules.drivers_word",
        "Heard",
        "the load goes to somebody else, or waits",
    ),
    (
        "rules.drivers_word",
        "Overruled",
        "the truck is loaded all the same; the driver still stops where the law says",
    ),
    ("rules.additions", "TakeAll", "all are taken"),
    (
        "rules.additions",
        "OnlyIfHolds",
        "taken if there are drivers enough all the while, else refused",
    ),
    (
        "rules.additions",
        "FirstFreeTime",
        "taken for the first time at which there are drivers enough",
    ),
    ("rules.plant_hours", "AsPosted", "as posted"),
    (
        "rules.plant_hours",
        "KeptOpen",
        "kept open, hour by hour, while that saves more than it costs",
    ),
    ("rules.redirect", "Wait", "it waits"),
    (
        "rules.redirect",
        "SameMix",
        "it goes to another order that waits for the same mix",
    ),
    ("worlds.change", "Orders", "how many orders there are"),
    ("worlds.change", "Traffic", "how long trips take"),
    (
        "worlds.change",
        "RoadLuck",
        "how far trips scatter about their mean",
    ),
    ("worlds.change", "Discharge", "how long unloading takes"),
    ("worlds.change", "NotReady", "sites that are not ready"),
    ("worlds.change", "Cancelled", "orders that are canceled"),
    ("worlds.change", "Rain", "days with rain"),
    (
        "worlds.change",
        "Misread",
        "loads misread at the slump rack",
    ),
    ("worlds.change", "NoShows", "drivers who do not come"),
    ("worlds.change", "Absent", "driver days off"),
    ("worlds.change", "Breakdowns", "how often trucks break down"),
    ("worlds.change", "Outages", "how often plants go down"),
    ("worlds.change", "AgeLimit", "the age limit of the concrete"),
    ("worlds.change", "Price", "a price"),
    (
        "worlds.change",
        "PlantDown",
        "a plant stands still for a while",
    ),
    ("worlds.change", "RainyDay", "one more rainy day"),
    (
        "worlds.change",
        "TruckFewer",
        "fewer trucks, with their drivers",
    ),
    ("worlds.change", "DriverFewer", "fewer drivers"),
    ("worlds.change.of", "Lateness", "of late loads"),
    (
        "worlds.change.of",
        "Goodwill",
        "of concrete not delivered and drivers stranded",
    ),
    ("worlds.change.of", "Pay", "of a driver's hour"),
    ("worlds.change.of", "Driving", "of a truck's hour and mile"),
    ("worlds.change.of", "Sale", "of what is sold"),
    ("spreads", "Constant", "always the same"),
    (
        "spreads",
        "Uniform",
        "every value between the two equally likely",
    ),
    (
        "spreads",
        "Triangular",
        "between the ends, most often near the mode",
    ),
    (
        "spreads",
        "Normal",
        "the bell curve about the mean; sd: standard deviation",
    ),
    (
        "spreads",
        "Lognormal",
        "a long tail of large values; cv: standard deviation by mean",
    ),
    ("spreads", "Gamma", "a tail shorter than that of Lognormal"),
    (
        "spreads",
        "Exponential",
        "times between events that come at random",
    ),
    (
        "spreads",
        "Pert",
        "as Triangular, rounder and with less weight on the ends",
    ),
    (
        "spreads",
        "Beta",
        "between the ends, shaped by alpha and beta",
    ),
    (
        "spreads",
        "Weibull",
        "lifetimes: a shape below 1 fails early, above 1 by wear",
    ),
    (
        "spreads",
        "Empirical",
        "values as measured, each equally likely",
    ),
];

#[cfg(test)]
mod tests {
    use super::super::decode;
    use super::super::outline::Takes;
    use super::super::read::outline;
    use super::*;
    use std::collections::BTreeSet;

    /// Choices with the path of their field.
    fn choices<'a>(path: &str, takes: &'a Takes, found: &mut Vec<(String, &'a str)>) {
        for choice in &takes.choices {
            found.push((path.to_owned(), choice.name));
            choices(path, &choice.inside, found);
        }
        for field in &takes.fields {
            choices(&field.path, &field.takes, found);
        }
        for choice in &takes.choices {
            for field in &choice.inside.fields {
                choices(&field.path, &field.takes, found);
            }
        }
    }

    #[test]
    fn every_field_that_is_read_is_explained_and_no_other() {
        let scenario = outline();
        let fields = scenario.all_fields();
        let mut paths = BTreeSet::new();
        for field in &fields {
            paths.insert(field.path.as_str());
            let entry = field.left_out.entry().map(|entry| entry.about());
            let said = meaning(&field.path).or(entry.map(|about| about.name));
            assert!(said.is_some_and(|said| !said.is_empty()), "{}", field.path);
            // A default says where it is written.
            if let Some(about) = entry {
                let mut same = same_as(&field.path);
                let written = about.path.trim_start_matches("scenario.");
                assert!(
                    same.any(|path| path == written),
                    "{} has the default of {}",
                    field.path,
                    about.path
                );
            }
        }
        assert!(paths.len() > 300, "only {} fields", paths.len());
        for (at, (path, _)) in FIELDS.iter().enumerate() {
            assert!(paths.contains(path), "nobody reads {path}");
            assert!(
                FIELDS[..at].iter().all(|(other, _)| other != path),
                "{path} stands twice"
            );
        }
    }

    #[test]
    fn every_choice_is_explained_and_no_other() {
        let scenario = outline();
        let spreads = decode::kinds();
        let mut found = Vec::new();
        choices("", &scenario, &mut found);
        choices("spreads", &spreads, &mut found);
        for (path, choice) in &found {
            let is_day = choice.ends_with("day") && !choice.starts_with("Rainy");
            assert!(
                is_day || choice_meaning(path, choice).is_some(),
                "{choice} of {path}"
            );
        }
        for (path, choice, _) in CHOICES {
            let is_read = found.iter().any(|(at, name)| at == path && *name == choice);
            assert!(is_read, "{choice} of {path} is not read");
        }
    }

    /// Every default of the list has a field that says it.
    #[test]
    fn every_default_is_told_with_its_field() {
        let scenario = outline();
        let fields = scenario.all_fields();
        for entry in super::super::defaults::all() {
            let path = entry.about().path.trim_start_matches("scenario.");
            assert!(
                fields.iter().any(|field| field.path == path),
                "{path} is no field"
            );
        }
    }
}
