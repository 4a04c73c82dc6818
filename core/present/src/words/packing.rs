//! How the words of all languages lie in one piece: what `build.rs` writes and `catalogue.rs` reads.

/// Between what two languages say of a message.
pub const BETWEEN: char = '\u{1}';
/// Behind what the last one says.
pub const BEHIND: char = '\u{2}';

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

/// What stands for that name among the words: a name in Fluent begins with a letter.
pub fn id(number: u32) -> String {
    format!("m{number:08x}")
}
