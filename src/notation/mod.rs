//! Text to syntax tree and back: the notation, read without ever failing and without losing a byte.
