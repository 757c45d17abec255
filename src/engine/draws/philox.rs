//! Philox4x64-10: a counter-based generator. Four words out for a counter of four and a key of two.
//!
//! Salmon, Moraes, Dror, Shaw: Parallel random numbers: as easy as 1, 2, 3 (SC'11).

const MULTIPLIERS: [u64; 2] = [0xD2E7_470E_E14C_6C93, 0xCA5A_8263_9512_1157];
/// Golden ratio and √3 − 1: what the key grows by each round.
const WEYL: [u64; 2] = [0x9E37_79B9_7F4A_7C15, 0xBB67_AE85_84CA_A73B];
const ROUNDS: usize = 10;

/// The Philox4x64 block function with 10 rounds.
///
/// Under one key it is a bijection of counters: different counters never give the same four words.
#[inline]
pub fn philox4x64_10(counter: [u64; 4], key: [u64; 2]) -> [u64; 4] {
    let (mut counter, mut key) = (counter, key);
    for _ in 0..ROUNDS {
        let (low0, high0) = multiply(MULTIPLIERS[0], counter[0]);
        let (low1, high1) = multiply(MULTIPLIERS[1], counter[2]);
        counter = [
            high1 ^ counter[1] ^ key[0],
            low1,
            high0 ^ counter[3] ^ key[1],
            low0,
        ];
        key = [key[0].wrapping_add(WEYL[0]), key[1].wrapping_add(WEYL[1])];
    }
    counter
}

/// Low and high word of the product.
#[inline]
fn multiply(a: u64, b: u64) -> (u64, u64) {
    let product = u128::from(a) * u128::from(b);
    (product as u64, (product >> 64) as u64)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The known-answer vectors of the Random123 distribution (D. E. Shaw Research, BSD-3-Clause).
    #[test]
    fn known_answers() {
        let vectors = include_str!("../../../tests/data/philox4x64_vectors.txt");
        let mut checked = 0;
        for line in vectors
            .lines()
            .filter(|line| line.starts_with("philox4x64 10 "))
        {
            let hex = |word| u64::from_str_radix(word, 16).expect("a hexadecimal word");
            let words: Vec<u64> = line.split_whitespace().skip(2).map(hex).collect();
            let counter: [u64; 4] = words[..4].try_into().unwrap();
            let key: [u64; 2] = words[4..6].try_into().unwrap();
            assert_eq!(philox4x64_10(counter, key), words[6..], "{line}");
            checked += 1;
        }
        assert_eq!(checked, 3);
    }
}
