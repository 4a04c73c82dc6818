import Ebbstead
import Foundation

extension EbbsteadCompanion {
    /// Takes a file in, and tells what came. A name that ends in `.json` is an HL7 FHIR bundle's, any other a table's of readings, whose
    /// local times are understood by `offsets`, those of the wearer's zone.
    func bringIn(_ name: String, _ bytes: Data, _ offsets: [OffsetChange], at now: Moment) -> Outcome {
        do {
            return try name.lowercased().hasSuffix(".json") ? bundle(name, bytes, now) : table(name, bytes, offsets, now)
        } catch {
            return .failed(advice(error))
        }
    }

    private func table(_ name: String, _ bytes: Data, _ offsets: [OffsetChange], _ now: Moment) throws -> Outcome {
        let options = ImportOptions(
            offsets: offsets, unit: nil, timeColumn: nil, glucoseColumn: nil, timeFormat: nil, onlyLook: false)
        return switch try log().importCsv(name: name, bytes: bytes, options: options, now: now) {
        case .read(let report): taken(name, report.taken, report.findings.map(\.text))
        case .refused(let line, _, let why): .failed("\(name):\(line): \(why)")
        }
    }

    private func bundle(_ name: String, _ bytes: Data, _ now: Moment) throws -> Outcome {
        switch try exchange().importBundle(name: name, bytes: bytes, onlyLook: false, now: now) {
        case .read(let report): taken(name, report.taken, report.findings)
        case .refused(let line, let why): .failed("\(name):\(line): \(why)")
        }
    }

    /// How much was taken, and the first of what was not.
    private func taken(_ name: String, _ count: UInt64, _ findings: [String]) -> Outcome {
        .said((["\(Vocabulary(companion: self)(.kept)): \(name), \(count)"] + findings.prefix(3)).joined(separator: "\n"))
    }
}
