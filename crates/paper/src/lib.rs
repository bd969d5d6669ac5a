//! paper
