//! Outermost tests.
