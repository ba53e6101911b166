//! Owns a private sound server without hardware.
