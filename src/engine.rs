//! Calendar, addressed draws and spreads: the machinery of simulation, without a word of the domain.
