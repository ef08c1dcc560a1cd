//! Each feature, asked for.
