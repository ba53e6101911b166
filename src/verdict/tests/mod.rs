//! Tests of the whole judgement, on an invented part.

mod fixture;
mod live;
mod promises;
