//! How the words of a language lie in one piece: what `build.rs` writes and `catalogue.rs` reads.

/// Behind each message.
pub const BEHIND: &str = "\u{1}";

/// The number of a message, made of its name.
///
/// # Source
/// FNV-1a, 32 bits: Fowler, Noll, Vo, RFC 9923.
pub const fn number(name: &str) -> u32 {
    let name = name.as_bytes();
    let mut number = 0x811c_9dc5_u32;
    let mut at = 0;
    while at < name.len() {
        number = (number ^ name[at] as u32).wrapping_mul(0x0100_0193);
        at += 1;
    }
    number
}
