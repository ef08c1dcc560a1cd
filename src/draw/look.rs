//! How things look that the notation leaves to the printer.

use serde::Deserialize;
use std::fmt;
use std::str::FromStr;

/// How things look that the notation leaves to the printer.
#[derive(Clone, Copy, PartialEq, Eq, Default, Debug)]
pub struct Look {
    /// What a shaded cell looks like.
    pub shade: Shade,
    /// What a ring looks like.
    pub ring: Ring,
}

/// What a shaded cell looks like.
#[derive(Deserialize, Clone, Copy, PartialEq, Eq, Default, Debug)]
#[serde(rename_all = "kebab-case")]
pub enum Shade {
    /// Slanting lines.
    #[default]
    Lines,
    /// Light grey.
    Grey,
}

/// What a ring looks like.
#[derive(Deserialize, Clone, Copy, PartialEq, Eq, Default, Debug)]
#[serde(rename_all = "kebab-case")]
pub enum Ring {
    /// A circle.
    #[default]
    Circle,
    /// A square with round corners.
    Square,
}

/// How wide a picture is: a number and a unit of length, as SVG has them.
#[derive(Clone, PartialEq, Debug)]
pub struct Length {
    number: f32,
    unit: &'static str,
}

impl Length {
    /// So much of it.
    pub(super) fn part(&self, part: f32) -> Length {
        Length { number: (self.number * part * 100.0).round() / 100.0, unit: self.unit }
    }
}

/// A text is no length.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct LengthError;

impl fmt::Display for LengthError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(
            "a width is a number from 1 to 10000, in px or with mm, cm, in or pt behind it, such as `90mm`",
        )
    }
}

impl std::error::Error for LengthError {}

impl fmt::Display for Length {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}{}", self.number, self.unit)
    }
}

impl FromStr for Length {
    type Err = LengthError;

    fn from_str(text: &str) -> Result<Length, LengthError> {
        let figures = text.trim_end_matches(|c: char| c.is_ascii_alphabetic());
        let unit = ["px", "mm", "cm", "in", "pt"].into_iter().find(|unit| *unit == &text[figures.len()..]);
        let unit = if figures.len() == text.len() { "px" } else { unit.ok_or(LengthError)? };
        let plain = figures.bytes().all(|byte| byte.is_ascii_digit() || byte == b'.');
        let number: f32 = figures.parse().ok().filter(|_| plain).ok_or(LengthError)?;
        if (1.0..=10_000.0).contains(&number) { Ok(Length { number, unit }) } else { Err(LengthError) }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn widths_are_read_and_written() {
        for (text, written) in [("480", "480px"), ("90mm", "90mm"), ("3.5in", "3.5in"), ("007px", "7px")] {
            assert_eq!(text.parse::<Length>().unwrap().to_string(), written);
        }
        for wrong in ["", "mm", "0", "-3", "1e3", "inf", "nan", "4 mm", "4em", "20000", "1.2.3", "４"] {
            assert_eq!(wrong.parse::<Length>(), Err(LengthError), "{wrong}");
        }
    }
}
