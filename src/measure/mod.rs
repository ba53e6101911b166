//! Owns measuring the ears: clips whose words are known, spoiled as a workshop spoils them, and what came of them.

pub mod spoil;
