//! Lanes in registers of 256 bits: eight digits in the first, the ninth in the second.

use std::arch::x86_64::{
    __m256i, _mm256_add_epi32, _mm256_and_si256, _mm256_andnot_si256, _mm256_extract_epi32, _mm256_or_si256,
    _mm256_permute2x128_si256, _mm256_set1_epi32, _mm256_setr_epi32, _mm256_shuffle_epi32, _mm256_slli_epi32,
    _mm256_srli_epi32, _mm256_sub_epi32, _mm256_testz_si256, _mm256_xor_si256,
};

use super::rounds::rounds;

rounds!(target_feature(enable = "avx2"));

#[derive(Clone, Copy)]
struct Lanes(__m256i, __m256i);

impl Lanes {
    #[target_feature(enable = "avx2")]
    fn all(bits: u32) -> Lanes {
        let all = _mm256_set1_epi32(bits.cast_signed());
        Lanes(all, all)
    }

    #[target_feature(enable = "avx2")]
    fn of(places: [u32; 9]) -> Lanes {
        let p = places.map(u32::cast_signed);
        Lanes(
            _mm256_setr_epi32(p[0], p[1], p[2], p[3], p[4], p[5], p[6], p[7]),
            _mm256_setr_epi32(p[8], 0, 0, 0, 0, 0, 0, 0),
        )
    }

    #[target_feature(enable = "avx2")]
    fn places(self) -> [u32; 9] {
        [
            _mm256_extract_epi32::<0>(self.0),
            _mm256_extract_epi32::<1>(self.0),
            _mm256_extract_epi32::<2>(self.0),
            _mm256_extract_epi32::<3>(self.0),
            _mm256_extract_epi32::<4>(self.0),
            _mm256_extract_epi32::<5>(self.0),
            _mm256_extract_epi32::<6>(self.0),
            _mm256_extract_epi32::<7>(self.0),
            _mm256_extract_epi32::<0>(self.1),
        ]
        .map(i32::cast_unsigned)
    }

    #[target_feature(enable = "avx2")]
    fn and(self, other: Lanes) -> Lanes {
        Lanes(_mm256_and_si256(self.0, other.0), _mm256_and_si256(self.1, other.1))
    }

    #[target_feature(enable = "avx2")]
    fn or(self, other: Lanes) -> Lanes {
        Lanes(_mm256_or_si256(self.0, other.0), _mm256_or_si256(self.1, other.1))
    }

    #[target_feature(enable = "avx2")]
    fn xor(self, other: Lanes) -> Lanes {
        Lanes(_mm256_xor_si256(self.0, other.0), _mm256_xor_si256(self.1, other.1))
    }

    #[target_feature(enable = "avx2")]
    fn less(self, other: Lanes) -> Lanes {
        Lanes(_mm256_andnot_si256(other.0, self.0), _mm256_andnot_si256(other.1, self.1))
    }

    #[target_feature(enable = "avx2")]
    fn plus(self, other: Lanes) -> Lanes {
        Lanes(_mm256_add_epi32(self.0, other.0), _mm256_add_epi32(self.1, other.1))
    }

    #[target_feature(enable = "avx2")]
    fn minus(self, other: Lanes) -> Lanes {
        Lanes(_mm256_sub_epi32(self.0, other.0), _mm256_sub_epi32(self.1, other.1))
    }

    #[target_feature(enable = "avx2")]
    fn up<const BY: i32>(self) -> Lanes {
        Lanes(_mm256_slli_epi32::<BY>(self.0), _mm256_slli_epi32::<BY>(self.1))
    }

    #[target_feature(enable = "avx2")]
    fn down<const BY: i32>(self) -> Lanes {
        Lanes(_mm256_srli_epi32::<BY>(self.0), _mm256_srli_epi32::<BY>(self.1))
    }

    /// In every lane, the bits that are in one lane or more, and those that are in two or more.
    #[target_feature(enable = "avx2")]
    fn once_and_twice(self) -> (Lanes, Lanes) {
        let (once, twice) = (_mm256_or_si256(self.0, self.1), _mm256_and_si256(self.0, self.1));
        // Lanes apart by four, by two and by one join.
        let (once, twice) = join(once, twice, |all| _mm256_permute2x128_si256::<1>(all, all));
        let (once, twice) = join(once, twice, |all| _mm256_shuffle_epi32::<0b01_00_11_10>(all));
        let (once, twice) = join(once, twice, |all| _mm256_shuffle_epi32::<0b10_11_00_01>(all));
        (Lanes(once, once), Lanes(twice, twice))
    }

    #[target_feature(enable = "avx2")]
    fn is_empty(self) -> bool {
        let any = _mm256_or_si256(self.0, self.1);
        _mm256_testz_si256(any, any) == 1
    }
}

/// The counts of a lane and of the one that `far` brings to it, taken together.
#[target_feature(enable = "avx2")]
fn join(once: __m256i, twice: __m256i, far: impl Fn(__m256i) -> __m256i) -> (__m256i, __m256i) {
    let (far_once, far_twice) = (far(once), far(twice));
    let both = _mm256_and_si256(once, far_once);
    (_mm256_or_si256(once, far_once), _mm256_or_si256(_mm256_or_si256(twice, far_twice), both))
}
