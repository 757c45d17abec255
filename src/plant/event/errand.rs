//! What a drive is for.

/// What a drive is for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Errand {
    /// Out to a site with a load.
    Out,
    /// Back from a site to the truck's home.
    Home,
    /// Back from a site to another plant, as the rule says.
    OtherPlant,
    /// Empty to the plant where the truck loads.
    ToLoad,
}
