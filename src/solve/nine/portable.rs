//! Lanes for every machine: the compiler makes of them what it can.

use super::rounds::rounds;

rounds!(inline);

/// Twelve lanes, of which nine are in use: as many as three registers of 128 bits have.
#[derive(Clone, Copy)]
struct Lanes([u32; 12]);

impl Lanes {
    #[inline]
    fn all(bits: u32) -> Lanes {
        Lanes([bits; 12])
    }

    #[inline]
    fn of(places: [u32; 9]) -> Lanes {
        let mut lanes = [0; 12];
        lanes[..9].copy_from_slice(&places);
        Lanes(lanes)
    }

    #[inline]
    fn places(self) -> [u32; 9] {
        std::array::from_fn(|lane| self.0[lane])
    }

    #[inline]
    fn each(self, other: Lanes, join: impl Fn(u32, u32) -> u32) -> Lanes {
        Lanes(std::array::from_fn(|lane| join(self.0[lane], other.0[lane])))
    }

    #[inline]
    fn and(self, other: Lanes) -> Lanes {
        self.each(other, |a, b| a & b)
    }

    #[inline]
    fn or(self, other: Lanes) -> Lanes {
        self.each(other, |a, b| a | b)
    }

    #[inline]
    fn xor(self, other: Lanes) -> Lanes {
        self.each(other, |a, b| a ^ b)
    }

    #[inline]
    fn less(self, other: Lanes) -> Lanes {
        self.each(other, |a, b| a & !b)
    }

    #[inline]
    fn plus(self, other: Lanes) -> Lanes {
        self.each(other, u32::wrapping_add)
    }

    #[inline]
    fn minus(self, other: Lanes) -> Lanes {
        self.each(other, u32::wrapping_sub)
    }

    #[inline]
    fn up<const BY: i32>(self) -> Lanes {
        Lanes(self.0.map(|a| a << BY))
    }

    #[inline]
    fn down<const BY: i32>(self) -> Lanes {
        Lanes(self.0.map(|a| a >> BY))
    }

    /// In every lane, the bits that are in one lane or more, and those that are in two or more.
    #[inline]
    fn once_and_twice(self) -> (Lanes, Lanes) {
        let (once, twice) =
            self.0.iter().fold((0, 0), |(once, twice), own| (once | own, twice | (once & own)));
        (Lanes::all(once), Lanes::all(twice))
    }

    #[inline]
    fn is_empty(self) -> bool {
        self.0.iter().fold(0, |any, own| any | own) == 0
    }
}
