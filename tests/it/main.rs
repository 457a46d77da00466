//! One integration binary; each module is one behaviour of the whole.
#![cfg(test)]

mod units;
mod yaml;
