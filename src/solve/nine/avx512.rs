//! Lanes in one register of 512 bits.

use std::arch::x86_64::{
    __m512i, _mm256_extract_epi32, _mm512_add_epi32, _mm512_and_si512, _mm512_andnot_si512,
    _mm512_castsi512_si256, _mm512_extracti64x4_epi64, _mm512_or_si512, _mm512_set1_epi32, _mm512_setr_epi32,
    _mm512_shuffle_epi32, _mm512_shuffle_i64x2, _mm512_slli_epi32, _mm512_srli_epi32, _mm512_sub_epi32,
    _mm512_test_epi32_mask, _mm512_xor_si512,
};

use super::rounds::rounds;

rounds!(target_feature(enable = "avx512f"));

#[derive(Clone, Copy)]
struct Lanes(__m512i);

impl Lanes {
    #[target_feature(enable = "avx512f")]
    fn all(bits: u32) -> Lanes {
        Lanes(_mm512_set1_epi32(bits.cast_signed()))
    }

    #[target_feature(enable = "avx512f")]
    fn of(places: [u32; 9]) -> Lanes {
        let p = places.map(u32::cast_signed);
        Lanes(_mm512_setr_epi32(p[0], p[1], p[2], p[3], p[4], p[5], p[6], p[7], p[8], 0, 0, 0, 0, 0, 0, 0))
    }

    #[target_feature(enable = "avx512f")]
    fn places(self) -> [u32; 9] {
        let (low, high) = (_mm512_castsi512_si256(self.0), _mm512_extracti64x4_epi64::<1>(self.0));
        [
            _mm256_extract_epi32::<0>(low),
            _mm256_extract_epi32::<1>(low),
            _mm256_extract_epi32::<2>(low),
            _mm256_extract_epi32::<3>(low),
            _mm256_extract_epi32::<4>(low),
            _mm256_extract_epi32::<5>(low),
            _mm256_extract_epi32::<6>(low),
            _mm256_extract_epi32::<7>(low),
            _mm256_extract_epi32::<0>(high),
        ]
        .map(i32::cast_unsigned)
    }

    #[target_feature(enable = "avx512f")]
    fn and(self, other: Lanes) -> Lanes {
        Lanes(_mm512_and_si512(self.0, other.0))
    }

    #[target_feature(enable = "avx512f")]
    fn or(self, other: Lanes) -> Lanes {
        Lanes(_mm512_or_si512(self.0, other.0))
    }

    #[target_feature(enable = "avx512f")]
    fn xor(self, other: Lanes) -> Lanes {
        Lanes(_mm512_xor_si512(self.0, other.0))
    }

    #[target_feature(enable = "avx512f")]
    fn less(self, other: Lanes) -> Lanes {
        Lanes(_mm512_andnot_si512(other.0, self.0))
    }

    #[target_feature(enable = "avx512f")]
    fn plus(self, other: Lanes) -> Lanes {
        Lanes(_mm512_add_epi32(self.0, other.0))
    }

    #[target_feature(enable = "avx512f")]
    fn minus(self, other: Lanes) -> Lanes {
        Lanes(_mm512_sub_epi32(self.0, other.0))
    }

    #[target_feature(enable = "avx512f")]
    fn up<const BY: u32>(self) -> Lanes {
        Lanes(_mm512_slli_epi32::<BY>(self.0))
    }

    #[target_feature(enable = "avx512f")]
    fn down<const BY: u32>(self) -> Lanes {
        Lanes(_mm512_srli_epi32::<BY>(self.0))
    }

    /// In every lane, the bits that are in one lane or more, and those that are in two or more.
    #[target_feature(enable = "avx512f")]
    fn once_and_twice(self) -> (Lanes, Lanes) {
        let (once, twice) = (self, Lanes::all(0));
        // Lanes apart by eight, by four, by two and by one join.
        let (once, twice) = join(once, twice, |all| _mm512_shuffle_i64x2::<0b01_00_11_10>(all, all));
        let (once, twice) = join(once, twice, |all| _mm512_shuffle_i64x2::<0b10_11_00_01>(all, all));
        let (once, twice) = join(once, twice, |all| _mm512_shuffle_epi32::<0b01_00_11_10>(all));
        join(once, twice, |all| _mm512_shuffle_epi32::<0b10_11_00_01>(all))
    }

    #[target_feature(enable = "avx512f")]
    fn is_empty(self) -> bool {
        _mm512_test_epi32_mask(self.0, self.0) == 0
    }
}

/// The counts of a lane and of the one that `far` brings to it, taken together.
#[target_feature(enable = "avx512f")]
fn join(once: Lanes, twice: Lanes, far: impl Fn(__m512i) -> __m512i) -> (Lanes, Lanes) {
    let (far_once, far_twice) = (Lanes(far(once.0)), Lanes(far(twice.0)));
    (once.or(far_once), twice.or(far_twice).or(once.and(far_once)))
}
