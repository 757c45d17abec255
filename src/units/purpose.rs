//! What random numbers are drawn for: the one list, which every room that draws uses.

/// What a draw is for: part of the address of a random number.
///
/// Two kinds of draws with one number would be the same luck; the compiler refuses two variants with one number. A number is
/// never changed nor used again: changing it changes everybody's results.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
#[repr(u32)]
pub enum Purpose {
    /// An attempt at a load: its stages, trips and site time.
    Load = 1,
    /// A driver's day: whether the driver comes.
    DriverDay = 2,
    /// An empty trip of a truck.
    EmptyTrip = 3,
    /// The arrival of a load of a stream.
    Arrival = 4,
    /// The reading at the rack of an attempt at a load.
    Reading = 5,
    /// An order: whether it takes place, whether its site is ready.
    Order = 6,
    /// A day: its weather.
    Weather = 7,
    /// An outage of a plant.
    Outage = 8,
    /// A breakdown of a truck.
    Breakdown = 9,
    /// A truck's day: what it weighs beyond the books.
    TruckDay = 10,
    /// A load that is found heavy.
    FoundHeavy = 11,
    /// Whether a driver is off on a day, as planned.
    DayOff = 12,
    /// Whether a driver's seat is empty.
    EmptySeat = 13,
    /// How bad an area's roads are on a day.
    RoadDay = 20,
    /// A link's incidents on a day.
    Incidents = 21,
    /// Whether the rule's gates are overridden for an attempt at a load.
    Override = 30,
    /// The way of a load from a site to another.
    Redirect = 31,
    /// How many orders of a list a day has.
    OrdersOfDay = 40,
    /// When an order of a list is due, and how large it is.
    DrawnOrder = 41,
    /// Whether an attempt at a load goes round a weigh station.
    GoesRound = 44,
    /// The batching of an attempt at a load, and what the site makes of it.
    Batch = 50,
    /// One stay at the rack of an attempt at a load.
    RackStay = 51,
    /// A day: the level of its air temperature.
    AirTemperature = 52,
    /// Whether a site waives the age limit for an attempt at a load.
    AgeWaiver = 53,
    /// The car that fetches a driver or drives one out.
    Car = 60,
    /// What only a look ahead draws.
    Fork = 90,
    /// What is asked about when looks ahead are held against what came.
    Calibration = 91,
    /// The orders in which decisions are added to a rule.
    AddedDecisions = 92,
    /// What is assumed of an input in a drawn world.
    AssumedInput = 93,
    /// Tickets drawn again from what was found of them.
    TicketsAgain = 94,
    /// Logs of duty on which both forms of the clocks are held against each other.
    CheckedLog = 95,
}
