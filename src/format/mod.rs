//! The one written form of a file.
