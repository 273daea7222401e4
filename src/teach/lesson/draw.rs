//! Choices drawn from a seed, the same on every platform and in every version.
//!
//! The seed is scrambled by a mixing step that maps no two seeds to one number (the finaliser of
//! SplitMix64, of shifts and odd multiplications). That number is then read off digit by digit in
//! the radix of each choice. As long as the choices have not used it up, two seeds differ in at
//! least one of them; once they have, further choices come from SplitMix64 started at the seed.

/// Draws choices from a seed.
#[derive(Clone, Debug)]
pub struct Draw {
    rest: u64,
    used: u128,
    state: u64,
}

const STEP: u64 = 0x9e37_79b9_7f4a_7c15;

impl Draw {
    /// Begins at a seed.
    pub const fn new(seed: u64) -> Self {
        Self { rest: mix(seed.wrapping_add(STEP)), used: 1, state: seed }
    }

    /// Draws one of so many, from 0. Of none there is none to draw: it gives 0.
    pub fn below(&mut self, many: usize) -> usize {
        let many = u64::try_from(many).unwrap_or(u64::MAX).max(1);
        let drawn = if self.is_used_up() {
            self.state = self.state.wrapping_add(STEP);
            mix(self.state) % many
        } else {
            let digit = self.rest % many;
            self.rest /= many;
            self.used = self.used.saturating_mul(u128::from(many));
            digit
        };
        usize::try_from(drawn).unwrap_or(0)
    }

    /// Draws one of the things listed.
    pub fn of<T: Copy>(&mut self, things: &[T]) -> T {
        things[self.below(things.len())]
    }

    /// Whether the choices so far tell any two seeds apart.
    pub const fn is_used_up(&self) -> bool {
        self.used > u64::MAX as u128
    }
}

/// Mixes the bits of a number; no two numbers give the same.
const fn mix(mut bits: u64) -> u64 {
    bits = (bits ^ (bits >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
    bits = (bits ^ (bits >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
    bits ^ (bits >> 31)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// First outputs of SplitMix64 from 1234567, as published with the algorithm's reference code.
    #[test]
    fn the_generator_is_the_published_one() {
        let mut state = 1_234_567_u64;
        let mut next = || {
            state = state.wrapping_add(STEP);
            mix(state)
        };
        assert_eq!(next(), 6_457_827_717_110_365_317);
        assert_eq!(next(), 3_203_168_211_198_807_973);
    }

    #[test]
    fn choices_tell_seeds_apart() {
        let choices = |seed: u64| {
            let mut draw = Draw::new(seed);
            let mut all = Vec::new();
            while !draw.is_used_up() {
                all.push(draw.below(7));
            }
            all
        };
        for seed in 0..500 {
            assert_ne!(choices(seed), choices(seed + 1));
            assert_ne!(choices(seed), choices(seed << 40 | 1));
        }
    }
}
