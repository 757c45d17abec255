//! Positions in the lists of a scenario, one type per list so that they cannot be mixed up.

macro_rules! id {
    ($(#[$doc:meta])* $name:ident) => {
        $(#[$doc])*
        #[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
        pub struct $name(pub u32);

        impl $name {
            /// The id of the entry at this position of its list.
            pub fn new(position: usize) -> Self {
                Self(u32::try_from(position).expect("lists are checked to be shorter than 2^32"))
            }

            /// The position in its list.
            #[inline]
            pub fn at(self) -> usize {
                self.0 as usize
            }
        }
    };
}

id!(
    /// A plant: where trucks load.
    PlantId
);
id!(
    /// A mixer truck.
    TruckId
);
id!(
    /// A driver.
    DriverId
);
id!(
    /// An order: one customer's pour.
    OrderId
);
id!(
    /// A point on the map: a plant or a site.
    PlaceId
);
id!(
    /// Where loads of one order are taken: an order at one of its sites, with its outlets and its queue.
    SpotId
);
