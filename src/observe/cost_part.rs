//! The parts of what a period costs, and the kind of money that each is.

/// Kinds of money, which are never added up unsaid.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum MoneyKind {
    /// Really paid: wages with their taxes, fuel and wear, material, disposal, beds, hired help, fines.
    Cash,
    /// The sale price of what customers ordered and nobody placed. Its material was never paid for, so that with the cash saved what is
    /// left is the contribution.
    LostSales,
    /// Trouble at the prices that the scenario puts on it: nobody pays them out.
    Trouble,
    /// Hours of trucks that are owned anyway: no rule saves them, only whoever gives up a truck.
    Capacity,
}

impl MoneyKind {
    /// The kind in plain words.
    pub fn words(self) -> &'static str {
        match self {
            Self::Cash => "cash paid",
            Self::LostSales => "lost sales",
            Self::Trouble => "priced trouble",
            Self::Capacity => "truck hours",
        }
    }
}

/// Declares the parts once: each with the kind of money and the plain words for it.
macro_rules! parts {
    ($($(#[$doc:meta])* $name:ident, $kind:ident, $words:literal;)*) => {
        /// Parts of the cost.
        #[derive(Clone, Copy, Debug, PartialEq, Eq)]
        pub enum CostPart { $($(#[$doc])* $name),* }

        impl CostPart {
            /// All parts, in the order of their positions.
            pub const ALL: [Self; [$(Self::$name as usize),*].len()] = [$(Self::$name),*];

            /// What kind of money it is.
            pub fn kind(self) -> MoneyKind {
                match self { $(Self::$name => MoneyKind::$kind),* }
            }

            /// Whether it is listed among the parts: always, but hired haulers only where there are some.
            pub fn is_listed(self, cost: f64) -> bool {
                self != Self::Haulers || cost != 0.0
            }

            /// The part in plain words.
            pub fn words(self) -> &'static str {
                match self { $(Self::$name => $words),* }
            }
        }
    };
}

parts! {
    /// Regular hours.
    Pay, Cash, "regular pay";
    /// Overtime hours.
    Overtime, Cash, "overtime";
    /// Hours paid and not worked: short shifts, guaranteed hours, show-up pay.
    Unworked, Cash, "paid, not worked";
    /// The employer's taxes on all of them.
    PayrollTax, Cash, "payroll taxes";
    /// Driven hours and miles: fuel, tires, wear.
    Driving, Cash, "fuel and wear";
    /// Hours of trucks with a driver on duty.
    TruckHours, Capacity, "truck hours";
    /// Crews of the plants.
    Crews, Cash, "plant crews";
    /// Material.
    Material, Cash, "material";
    /// Dumped concrete, and drums of trucks that have broken down: stabilized, emptied beside the road or chipped out.
    Dumped, Cash, "dumped concrete";
    /// Volume ordered and never placed.
    LostSales, LostSales, "lost sales";
    /// Late loads.
    Late, Trouble, "late loads";
    /// Pauses of pours beyond what is tolerated.
    Gaps, Trouble, "gaps in pours";
    /// Pours begun and not finished.
    BrokenPours, Trouble, "pours broken off";
    /// Undelivered volume: goodwill.
    Undelivered, Trouble, "undelivered";
    /// Orders taken for a later time than asked for.
    Moved, Trouble, "orders moved";
    /// Loads below the strength specified.
    Weak, Trouble, "loads below strength";
    /// Trucks that wait on the street for a full site.
    Outside, Trouble, "trucks waiting outside";
    /// Stranded drivers: trouble and goodwill.
    Stranded, Trouble, "stranded drivers";
    /// Helpers with their cars.
    Helpers, Cash, "hired help";
    /// Beds for drivers who rest out.
    Lodging, Cash, "lodging";
    /// Washouts of drums.
    Washouts, Cash, "washouts";
    /// Pumps and crews that stand on site and wait.
    Standby, Trouble, "pumps and crews waiting";
    /// Trucks found heavy at a weigh station.
    Fines, Cash, "fines";
    /// Hired haulers: driver, truck and fuel by the hour.
    Haulers, Cash, "hired haulers";
}
