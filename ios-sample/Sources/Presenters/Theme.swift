import Ebbstead

/// The core's inks of a screen. No ink means anything by itself: lines differ by their dashes and carry their names, points differ by
/// their shape.
public struct Theme: Equatable, Sendable {
    public let paper, text, quiet, bandFill, bandEdge, line: Ink
    /// Buttons and what is chosen.
    public let accent: Ink

    public static let light = Theme(.day)
    public static let dark = Theme(.dark)
    public static let night = Theme(.night)

    init(_ light: Light) {
        let core = inks(light: light)
        (paper, text, quiet, accent) = (Ink(core.ground), Ink(core.ink), Ink(core.quiet), Ink(core.water))
        (bandFill, bandEdge, line) = (Ink(core.tint), Ink(core.edge), Ink(core.shore))
    }

    public static func of(_ screen: Screen, dark isDark: Bool) -> Theme { screen.isForNight ? night : isDark ? dark : light }

    /// The ink of a mark.
    public func ink(_ role: MarkRole) -> Ink {
        switch role {
        case .scale, .now, .noted: quiet
        case .low, .high: line
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
