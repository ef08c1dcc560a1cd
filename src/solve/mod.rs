//! Exact search: how many solutions a puzzle has, and which.
