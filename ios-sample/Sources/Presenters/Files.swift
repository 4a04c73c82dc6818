import Ebbstead
import Foundation

extension EbbsteadCompanion {
    /// Brings in a file and says what came of it. Its local times are understood by `offsets`, those of the wearer's zone.
    func bringIn(_ name: String, _ bytes: Data, _ offsets: [OffsetChange], at now: Moment) -> String {
        let options = ImportOptions(offsets: offsets, unit: nil, timeColumn: nil, glucoseColumn: nil, timeFormat: nil, dryRun: false)
        do {
            return switch try log().importFile(name: name, bytes: bytes, options: options, now: now) {
            case .read(let report): report.lines.joined(separator: "\n")
            case .refused(_, _, _, let text): text
            }
        } catch { return advice(error) }
    }
}
