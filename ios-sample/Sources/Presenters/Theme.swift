import Ebbstead

/// The inks of a screen. Text keeps a contrast of at least 4.5 to its ground, marks one of 3 (WCAG 2.2, 1.4.3 and 1.4.11, level
/// AA); a test holds all of them to it. No ink means anything by itself: lines differ by their dashes and carry their names,
/// points differ by their shape.
public struct Theme: Equatable, Sendable {
    public var paper: Ink
    public var text: Ink
    public var quiet: Ink
    /// Buttons and what is chosen.
    public var accent: Ink
    public var bandFill: Ink
    public var bandEdge: Ink
    public var low: Ink
    public var high: Ink

    public static let light = Theme(
        paper: Ink(0xFBFAF7), text: Ink(0x1B1B22), quiet: Ink(0x54525E), accent: Ink(0x1F4A73), bandFill: Ink(0xDDE6EF),
        bandEdge: Ink(0x68829C), low: Ink(0x762C67), high: Ink(0x3B5366))
    public static let dark = Theme(
        paper: Ink(0x15151B), text: Ink(0xF2F0EA), quiet: Ink(0xB8B5C1), accent: Ink(0x9CC4EE), bandFill: Ink(0x22384D),
        bandEdge: Ink(0x7396B8), low: Ink(0xE2AAD6), high: Ink(0xA9C0D2))
    /// Warm and dim, for eyes that were asleep.
    public static let night = Theme(
        paper: Ink(0x0A0908), text: Ink(0xC4B69E), quiet: Ink(0xA0937C), accent: Ink(0xE0B98A), bandFill: Ink(0x2A2118),
        bandEdge: Ink(0x8C7557), low: Ink(0xDDB0C8), high: Ink(0xBDB39C))

    public static func of(_ screen: Screen, dark isDark: Bool) -> Theme { screen.isForNight ? night : isDark ? dark : light }

    /// The ink of a mark.
    public func ink(_ role: MarkRole) -> Ink {
        switch role {
        case .scale, .now, .noted: quiet
        case .low: low
        case .high: high
        case .floor, .reading, .meter: text
        case .path, .treated, .hour: accent
        case .past: bandFill
        case .band: bandEdge
        case .hourMedian: paper
        }
    }

    /// What a block of a weight lies on, what is written on it, and how wide its outline is.
    public func look(of weight: Weight) -> (ground: Ink, ink: Ink, outline: Double) {
        switch weight {
        case .solid: (text, paper, 0)
        case .outline: (paper, text, 5)
        case .tint: (bandFill, text, 0)
        case .plain: (paper, text, 0)
        }
    }
}

/// A colour of the sRGB space.
public struct Ink: Equatable, Sendable {
    public var red: Double
    public var green: Double
    public var blue: Double

    /// From the three bytes red, green, blue.
    public init(_ bytes: UInt32) {
        red = Double(bytes >> 16 & 0xFF) / 255
        green = Double(bytes >> 8 & 0xFF) / 255
        blue = Double(bytes & 0xFF) / 255
    }
}
