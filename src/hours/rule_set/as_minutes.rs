//! Spans of time written as minutes.

use crate::units::Millis;
use serde::{Deserialize, Deserializer, Serialize, Serializer};

pub(in crate::hours) fn serialize<S: Serializer>(span: &Millis, to: S) -> Result<S::Ok, S::Error> {
    span.minutes().serialize(to)
}

pub(in crate::hours) fn deserialize<'de, D: Deserializer<'de>>(
    from: D,
) -> Result<Millis, D::Error> {
    let minutes = f64::deserialize(from)?;
    if !(0.0..=1e6).contains(&minutes) {
        return Err(serde::de::Error::custom(
            "expected minutes from 0 to 1,000,000",
        ));
    }
    Ok(Millis::from_minutes(minutes))
}

pub(in crate::hours) mod optional {
    use super::Millis;
    use serde::{Deserialize, Deserializer, Serialize, Serializer};

    pub(in crate::hours) fn serialize<S: Serializer>(
        span: &Option<Millis>,
        to: S,
    ) -> Result<S::Ok, S::Error> {
        span.map(Millis::minutes).serialize(to)
    }

    pub(in crate::hours) fn deserialize<'de, D: Deserializer<'de>>(
        from: D,
    ) -> Result<Option<Millis>, D::Error> {
        #[derive(Deserialize)]
        struct Minutes(#[serde(with = "super")] Millis);
        Ok(Option::<Minutes>::deserialize(from)?.map(|minutes| minutes.0))
    }
}
