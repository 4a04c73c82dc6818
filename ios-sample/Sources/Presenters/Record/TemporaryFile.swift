import Foundation

/// A place for a file, in a folder of its own, that goes as soon as nobody holds this any longer.
final class TemporaryFile: Sendable {
    let url: URL

    init(named name: String, in folder: URL) throws {
        let own = folder.appendingPathComponent(UUID().uuidString, isDirectory: true)
        try FileManager.default.createDirectory(at: own, withIntermediateDirectories: true)
        url = own.appendingPathComponent(name)
    }

    /// A copy of a file the wearer chose.
    convenience init(of chosen: URL, in folder: URL) throws {
        try self.init(named: "other", in: folder)
        #if canImport(Darwin)
        let mayRead = chosen.startAccessingSecurityScopedResource()
        defer { if mayRead { chosen.stopAccessingSecurityScopedResource() } }
        #endif
        try FileManager.default.copyItem(at: chosen, to: url)
    }

    deinit { try? FileManager.default.removeItem(at: url.deletingLastPathComponent()) }

    /// Whether it begins as a file of the age format does (age-encryption.org/v1); which one it is, the core finds out.
    var isSealed: Bool {
        guard let file = try? FileHandle(forReadingFrom: url) else { return false }
        defer { try? file.close() }
        return (try? file.read(upToCount: 19)) == Data("age-encryption.org/".utf8)
    }
}
